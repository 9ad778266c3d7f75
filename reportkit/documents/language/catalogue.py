"""The catalogue of sentences: everything a document may say, found in the code, and its translations.

``python -m reportkit.documents.language.catalogue`` collects every sentence, brings the catalogues below
``reportkit/locale`` up to date and compiles them; with a language's code behind it begins that language.
Babel finds the sentences in the code: the text of a call that translates (``words``, ``translatable``) and
what is marked as ``english`` where it stands in a table or a record. The Markdown of the notebooks among the
templates is read beside it, and the names put together from the keys of a job file or of the glass's tables
are made from those keys. What is said in none of these ways stays English; a test looks for it.
"""

from __future__ import annotations

import contextlib
import datetime as dt
import io
import json
import sys
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from string import Formatter
from typing import Any

from reportkit.base.languages import DOMAIN, LOCALE_DIR, SOURCE, languages
from reportkit.documents.language.markdown import sentences as in_markdown
from reportkit.documents.layouts.templates import template_folder
from reportkit.job import model
from reportkit.job.model.about import fields_of_choice
from reportkit.job.writing.starter import questions
from reportkit.physics.glass import lite

PACKAGE = Path(__file__).parents[2]

#: Calls whose first argument is a sentence, and the one whose first two are its forms.
KEYWORDS = {"words": None, "translatable": None, "english": None, "many": (1, 2)}

#: Records whose words stand in sentences, too.
SPOKEN = (model.LiteSpec, model.FilmSpec)

#: Names of values as the calculation puts them together from band, side and quantity.
BANDS = ("solar", "visible", "near-infrared", "ultraviolet")
QUANTITIES = ("{} transmittance", "glass-side {} reflectance", "film-side {} reflectance")
PLAIN = ("transmittance", "glass-side reflectance", "film-side reflectance")


def in_code() -> Iterator[tuple[str | tuple[str, ...], str]]:
    """Return every sentence that stands in the code, one with two forms as a pair, and where it stands."""
    from babel.messages.extract import extract_from_dir

    # Babel complains of any f-string within such a call, also where it is a value and no sentence
    with contextlib.redirect_stderr(io.StringIO()):
        for where, _, text, _, _ in extract_from_dir(PACKAGE, [("**.py", "python")], keywords=KEYWORDS):
            yield text, Path(where).as_posix()


def from_keys() -> Iterator[tuple[str, str]]:
    """Return the names made from keys of the job file and of the glass's tables, and where they are made."""
    for record, name, taken in fields_of_choice(model.Job, model.Pane, model.Reading):
        for value in taken:
            yield value, "job/model"
            if record in SPOKEN:  # glass and the classes of film stand in sentences, too
                yield value.replace("_", " "), "job/model"
            if name == "glass":
                yield value.replace("_", "-"), "physics/glass/lite.py"
    for name in lite.COATINGS:
        yield name.replace("_", " "), "physics/glass/lite.py"
    for text in (*BANDS, *PLAIN, *(quantity.format(band) for quantity in QUANTITIES for band in BANDS)):
        yield text, "physics/glass/film.py"


def in_templates() -> Iterator[tuple[str, str]]:
    """Return every sentence in the Markdown of the notebooks among the templates, and where it stands."""
    for path in sorted(template_folder().glob("*.ipynb")):
        notebook = json.loads(path.read_text(encoding="utf-8"))
        yield from ((text, f"templates/{path.name}") for text in in_markdown(notebook))


def in_starter() -> Iterator[tuple[str, str]]:
    """Return the questions and samples of a new job, and where they stand."""
    yield from ((text, "job/writing/starter_files/short.yaml") for text in questions())


def sentences() -> dict[str | tuple[str, ...], list[str]]:
    """Return every sentence a document may say, and the modules it stands in.

    Returns
    -------
    dict
        A pair where one and more of something are said differently.
    """
    modules: dict[str | tuple[str, ...], list[str]] = {}
    for text, where in (*in_code(), *from_keys(), *in_templates(), *in_starter()):
        # a sentence has a letter; a value alone is the same in every language
        if isinstance(text, tuple) or any(sign.isalpha() for sign in _bare(text)):
            places = modules.setdefault(text, [])
            places += [] if where in places else [where]
    return modules


def _bare(text: str) -> str:
    """Return a template without its ``{names}``."""
    return "".join(part for part, *_ in Formatter().parse(text))


def template() -> Any:
    """Return the catalogue of all sentences without a translation."""
    from babel.messages.catalog import Catalog

    made = Catalog(domain=DOMAIN, **_header())
    for text, places in sorted(sentences().items(), key=lambda pair: str(pair[0])):
        made.add(text, locations=[(place, 0) for place in places], flags=_flags(text))
    return made


def _flags(text: str | tuple[str, ...]) -> Iterable[str]:
    return ("python-brace-format",) if "{" in str(text) else ()


def _header() -> Mapping[str, Any]:
    day = dt.datetime(2020, 1, 1, tzinfo=dt.UTC)  # the same sentences give the same file on any day
    return {
        "project": DOMAIN,
        "version": "1",
        "msgid_bugs_address": "",
        "last_translator": DOMAIN,
        "language_team": DOMAIN,
        "header_comment": "# Sentences of the documents.",
        "creation_date": day,
        "revision_date": day,
        "fuzzy": False,
    }


def paths(language: str) -> tuple[Path, Path]:
    """Return the catalogue of a language as text and compiled."""
    folder = LOCALE_DIR / language / "LC_MESSAGES"
    return folder / f"{DOMAIN}.po", folder / f"{DOMAIN}.mo"


def read(language: str) -> Any:
    """Return a language's catalogue as it stands."""
    from babel.messages.pofile import read_po

    with paths(language)[0].open(encoding="utf-8") as file:
        return read_po(file, locale=language, domain=DOMAIN)


def refresh(language: str) -> list[str]:
    """Bring a language's catalogue up to date and compile it; return the sentences without a translation.

    The forms of plurals stay those the catalogue was begun with: Babel's own table changes with its version.
    """
    from babel.messages.catalog import Catalog
    from babel.messages.mofile import write_mo
    from babel.messages.pofile import write_po

    text, compiled = paths(language)
    text.parent.mkdir(parents=True, exist_ok=True)
    known = read(language) if text.exists() else Catalog(locale=language, domain=DOMAIN)
    made = Catalog(locale=language, domain=DOMAIN, **_header())
    forms = f"nplurals={known.num_plurals}; plural={known.plural_expr};"
    made.mime_headers = [("Plural-Forms", forms)]
    missing = []
    for message in template():
        if not message.id:
            continue
        old = known.get(message.id)
        made.add(message.id, old.string if old else None, message.locations, message.flags)
        if not old or not all((old.string,) if isinstance(old.string, str) else old.string or ("",)):
            missing.append(str(message.id))
    with text.open("wb") as file:
        write_po(file, made, width=110, include_lineno=False, sort_output=True)
    with compiled.open("wb") as file:
        write_mo(file, made)
    return missing


def main(chosen: list[str]) -> None:
    """Refresh the catalogues of some languages, or of all that have one."""
    for language in chosen or [name for name in languages() if name != SOURCE]:
        missing = refresh(language)
        lines = "".join(f"\n  {text}" for text in missing)
        sys.stdout.write(f"{language}: {len(missing)} sentences without a translation{lines}\n")


if __name__ == "__main__":
    main(sys.argv[1:])
