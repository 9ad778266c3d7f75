"""The catalogue of sentences: everything a document may say, found in the code, and its translations.

``python -m reportkit.documents.language.catalogue`` collects every sentence, brings the catalogues below
``reportkit/locale`` up to date and compiles them; with a language's code behind it begins that language.
Sentences are found in five ways: the literal of a call that translates (``words``, ``told``); the texts given
to records of the lower rows (a finding, a reason, a default); tables of names in the sections; the tables
listed in `tables`, whose rows are chosen while a job runs; and the Markdown of the notebooks among the
templates. What is said in none of these ways stays English; a test looks for it.
"""

from __future__ import annotations

import ast
import datetime as dt
import json
import sys
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from string import Formatter
from typing import Any, get_args

from reportkit.base.translatable import Translatable
from reportkit.documents.language.formats import RATES
from reportkit.documents.language.markdown import sentences as in_markdown
from reportkit.documents.layouts.templates import template_folder
from reportkit.job import model
from reportkit.job.model.languages import DOMAIN, LOCALE_DIR, SOURCE, languages
from reportkit.job.reading import defaults
from reportkit.physics.glass import breakage, claims, edge, lite, questions
from reportkit.physics.room import envelope
from reportkit.study import advice, cautions, screening, unknowns
from reportkit.work import labour, materials, pieces
from reportkit.work.defaults import MARKS

PACKAGE = Path(__file__).parents[2]

#: Calls whose first argument is a sentence.
SAYING = ("words", "raw", "said", "translatable")

#: Calls that make a record of the lower rows, and which of their arguments are sentences.
RECORDS: dict[str, tuple[int, ...]] = {
    "Finding": (1, 2, 3),
    "Reason": (1,),
    "Uncertain": (6,),
    "Default": (4,),
    "_u": (4,),
    "note": (1, 2, 3),
    "Assumption": (2, 3),
}

#: Where modules hold tables of sentences under names in capitals.
TABLES = ("documents/sections", "documents/language/names.py", "documents/frame.py", "documents/cutlist.py")

#: Fields of the job file whose words a document shows, and the records whose words stand in sentences.
CHOICES = {
    "LiteSpec": ("glass", "strength"),
    "GapSpec": ("gas",),
    "FilmSpec": ("film_class",),
    "Body": ("mass", "walls", "roof", "leakage", "use"),
    "Fitting": ("method", "fitter"),
    "Pane": ("edge", "frame"),
    "WeatherChoice": ("use",),
}
SPOKEN = ("LiteSpec", "FilmSpec")


def literals(node: ast.expr) -> Iterator[str]:
    """Return the texts an expression can be, as far as they stand in the code."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.IfExp):
        yield from literals(node.body)
        yield from literals(node.orelse)


def called(node: ast.Call) -> str:
    """Return the last part of the name of what is called."""
    function = node.func
    return function.attr if isinstance(function, ast.Attribute) else getattr(function, "id", "")


def modules() -> Iterator[tuple[str, ast.Module]]:
    """Return every module's path within the package and its code."""
    for path in sorted(PACKAGE.rglob("*.py")):
        yield path.relative_to(PACKAGE).as_posix(), ast.parse(path.read_text(encoding="utf-8"))


def in_code() -> Iterator[tuple[str | tuple[str, str], str]]:
    """Return every sentence that stands in the code, one with two forms as a pair, and where it stands."""
    for where, tree in modules():
        lower = not where.startswith("documents/")
        for node in ast.walk(tree):
            if isinstance(node, ast.Call):
                yield from ((text, where) for text in _of_call(node, lower))
        if where.startswith(TABLES):
            for node in tree.body:
                yield from ((text, where) for text in _of_table(node))


def _of_call(node: ast.Call, lower: bool) -> Iterator[str | tuple[str, str]]:
    name = called(node)
    if name in SAYING and node.args:
        yield from literals(node.args[0])
    elif name == "many" and len(node.args) > 1:
        yield from zip(literals(node.args[0]), literals(node.args[1]), strict=True)
    elif lower and name in RECORDS:
        for place in RECORDS[name]:
            if place < len(node.args):
                yield from literals(node.args[place])


def _of_table(node: ast.stmt) -> Iterator[str]:
    targets = node.targets if isinstance(node, ast.Assign) else [getattr(node, "target", None)]
    value = getattr(node, "value", None)
    if isinstance(value, ast.Dict) and any(isinstance(one, ast.Name) and one.id.isupper() for one in targets):
        for entry in value.values:
            yield from literals(entry)


def units(unit: str) -> tuple[str, ...]:
    """Return how a unit of the tables of defaults is written, for either reader."""
    return RATES[unit][:2] if unit in RATES else (unit,)


def tables() -> Iterator[tuple[Iterable[str], str]]:
    """Return the texts of tables in the lower rows, and the module each table stands in."""
    for rule in cautions.RULES:
        yield (rule.advice.what, rule.advice.why, rule.advice.who, rule.advice.source), "study/cautions.py"
    yield (rule.text for rule in advice.RULES.values()), "study/advice.py"
    yield (screening.COLLECTOR, *(season[0] for season in screening.SEASONS)), "study/screening.py"
    yield breakage.AUTHORITY, "physics/glass/breakage.py"
    yield (*(name.replace("_", " ") for name in lite.COATINGS), "coated", "low-iron"), "physics/glass/lite.py"
    yield (day.name for day in edge.SCENARIOS), "physics/glass/edge.py"
    yield claims.CONDITIONS.values(), "physics/glass/claims.py"
    yield questions.WORDS.values(), "physics/glass/questions.py"
    yield MARKS.values(), "work/defaults.py"
    yield (defaults.COMMON, defaults.PROGRAM), "job/reading/defaults.py"
    for known in (defaults._HEAT, defaults._COOLING, defaults._HEATING, defaults._MONEY):
        for pair in known.values():
            yield pair, "job/reading/defaults.py"
    for module, rows in (
        ("labour", labour.DEFAULTS),
        ("materials", materials.DEFAULTS),
        ("pieces", pieces.DEFAULTS),
    ):
        for row in rows.values():
            yield (row.why, *units(row.unit)), f"work/{module}.py"
    uncertain = [*unknowns.COMMON, *(row for rows in unknowns.YEARS.values() for row in rows)]
    for group in (envelope.WALL_U, envelope.ROOF_U, envelope.AIR_CHANGE, envelope.INTERNAL):
        uncertain += group.values()
    for entry in uncertain:
        yield (entry.why, *units(entry.unit)), "physics/room/envelope.py"
    yield (*units("%/yr"), "given by the job", "given by the job, within a tenth"), "study/unknowns.py"
    yield ("assumed", "given by the job"), "findings/basis.py"
    for record, names in CHOICES.items():
        for name in names:
            values = get_args(getattr(model, record).model_fields[name].annotation)
            yield values, "job/model"
            # glass and the classes of film stand in sentences, too
            yield (value.replace("_", " ") for value in values if record in SPOKEN), "job/model"


def in_templates() -> Iterator[tuple[str, str]]:
    """Return every sentence in the Markdown of the notebooks among the templates, and where it stands."""
    for path in sorted(template_folder().glob("*.ipynb")):
        notebook = json.loads(path.read_text(encoding="utf-8"))
        yield from ((text, f"templates/{path.name}") for text in in_markdown(notebook))


#: Names of values as the calculation puts them together from band, side and quantity.
BANDS = ("solar", "visible", "near-infrared", "ultraviolet")
QUANTITIES = ("{} transmittance", "glass-side {} reflectance", "film-side {} reflectance")
PLAIN = ("transmittance", "glass-side reflectance", "film-side reflectance")


def sentences() -> dict[str | tuple[str, str], list[str]]:
    """Return every sentence a document may say, and the modules it stands in.

    Returns
    -------
    dict
        A pair where one and more of something are said differently.
    """
    found: dict[str | tuple[str, str], list[str]] = {}

    def add(text: str | tuple[str, str], where: str) -> None:
        text = text.template if isinstance(text, Translatable) else text
        # a sentence has a letter; a value alone is the same in every language
        if isinstance(text, tuple) or any(sign.isalpha() for sign in _bare(text)):
            places = found.setdefault(text, [])
            places += [] if where in places else [where]

    for text, where in (*in_code(), *in_templates()):
        add(text, where)
    for texts, where in tables():
        for text in texts:
            add(text, where)
    for text in (*BANDS, *PLAIN, *(quantity.format(band) for quantity in QUANTITIES for band in BANDS)):
        add(text, "physics/glass/film.py")
    return found


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


def _flags(text: str | tuple[str, str]) -> Iterable[str]:
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
