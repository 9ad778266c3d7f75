"""The catalogues: nothing a document says is left out, and a job in Spanish reads Spanish throughout."""

import ast
import copy
import functools
import gettext
import json
import pickle
import re
import shutil
import string
from pathlib import Path

import paper
import pytest

from reportkit.base.errors import JobError
from reportkit.base.languages import languages
from reportkit.base.translatable import Translatable, joined, translatable
from reportkit.documents.blocks import plain
from reportkit.documents.frame import FRAME_WORDS
from reportkit.documents.language import catalogue, words
from reportkit.documents.language.formats import Formats
from reportkit.documents.language.words import Words
from reportkit.documents.layouts import pdf
from reportkit.documents.layouts.finish import Finisher
from reportkit.documents.sections import SECTIONS
from reportkit.findings.result import as_json
from reportkit.job.writing.copies import photos_of
from reportkit.study import Study

JOBS = Path(__file__).parents[2] / "jobs"
DEMOS = ["corner-shop", "harbour-house", "hill-studio"]
TRANSLATED = [name for name in languages() if name != "en"]

#: Keys of blocks that hold no words for a reader.
SILENT = {"plotly", "data", "id", "kind", "type", "style", "role", "marker", "align", "content", "emphasis"}
SILENT |= {"key", "width", "media_type", "source", "decimal_mark"}


def texts_in(value):
    """Return every text for a reader in plain blocks, the words drawn in pictures among them."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for key, entry in value.items():
            if key == "svg" and entry:
                yield " ".join(re.findall(r"<text[^>]*>([^<]*)</text>", entry))
            elif key not in SILENT:
                yield from texts_in(entry)
    elif isinstance(value, list):
        for entry in value:
            yield from texts_in(entry)


def blocks_of(page, names=tuple(SECTIONS)):
    """Return the blocks of some parts of a page, by part."""
    return {name: [plain(block) for block in SECTIONS[name](page)] for name in names}


def fields_in(template):
    """Return the names a template is filled with and how each is formatted, sorted."""
    return sorted((name, spec) for _, name, spec, _ in string.Formatter().parse(template) if name)


class Marked(gettext.NullTranslations):
    """A language that puts every sentence of the catalogue in marks: what is not in it stands out."""

    def __init__(self):
        super().__init__()
        self.known = set(catalogue.sentences())

    def gettext(self, message):
        """Return the sentence in marks."""
        return f"«{message}»" if message in self.known else message

    def ngettext(self, msgid1, msgid2, n):
        """Return one of the two forms in marks."""
        return f"«{msgid1 if n == 1 else msgid2}»"


class Long(gettext.NullTranslations):
    """A language in which every sentence is at least 40 % longer, as German can be."""

    def gettext(self, message):
        """Return the sentence with words added to it until it is long enough."""
        more = -(-len(message) * 2 // 5)
        return message + " " + "o".join(["länge"] * (1 + more // 6))[:more]

    def ngettext(self, msgid1, msgid2, n):
        """Return one of the two forms, longer."""
        return self.gettext(msgid1 if n == 1 else msgid2)


@pytest.fixture(scope="module", autouse=True)
def _the_code_is_read_once():
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(catalogue, "sentences", functools.cache(catalogue.sentences))
        yield


@pytest.fixture
def speaking(monkeypatch):
    """Return a function that has all documents written in a made-up language."""
    return lambda language: monkeypatch.setattr(words, "_catalogue", lambda tag: language)


@pytest.fixture
def page_of(page_of, study_of):
    """Return a function from a demo job's name to its page for a reader of some language and country."""

    def page(name, language="en", locale="en_IE"):
        study = study_of(name)
        job = study.job.model_copy(update={"language": language, "locale": locale})
        return page_of(study, photos_of(study.loaded), job=job)

    return page


@pytest.mark.parametrize("language", TRANSLATED)
def test_every_sentence_has_a_translation(language):
    """A catalogue holds each sentence found in the code, filled in, and none that has gone."""
    made = {message.id: message for message in catalogue.read(language) if message.id}
    found = catalogue.sentences()
    assert sorted(map(str, found.keys() - made.keys())) == [], (
        "run python -m reportkit.documents.language.catalogue"
    )
    assert sorted(map(str, made.keys() - found.keys())) == [], (
        "run python -m reportkit.documents.language.catalogue"
    )
    empty = [str(key) for key, message in made.items() if not all(_forms(message.string))]
    assert empty == []
    assert not any(message.fuzzy for message in made.values())


def _forms(text):
    return [text] if isinstance(text, str) else list(text)


@pytest.mark.parametrize("language", TRANSLATED)
def test_a_translation_is_filled_with_the_same_values(language):
    """Names in braces, and the format of each, are those of the English sentence, in every form."""
    assert len(catalogue.read(language)) > 500
    for message in catalogue.read(language):
        for one, other in zip(_forms(message.id), _forms(message.string), strict=True):
            if one:
                assert fields_in(other) == fields_in(one), one


@pytest.mark.parametrize("forms", [2, 3])
def test_a_refreshed_catalogue_keeps_its_forms_of_plurals(forms, tmp_path, monkeypatch):
    """Whatever Babel's own table holds, no form is added without words and none is dropped.

    Spanish has two forms in gettext's manual and three in newer CLDR tables (from memory of both).
    """
    rule = {2: "n != 1", 3: "n == 1 ? 0 : n != 0 && n % 1000000 == 0 ? 1 : 2"}[forms]
    monkeypatch.setattr(catalogue, "LOCALE_DIR", tmp_path)
    text, _ = catalogue.paths("es")
    text.parent.mkdir(parents=True)
    said = "".join(f'msgstr[{form}] "{{n}} paños {form}"\n' for form in range(forms))
    header = f'msgid ""\nmsgstr ""\n"Plural-Forms: nplurals={forms}; plural={rule};\\n"\n\n'
    text.write_text(f'{header}msgid "{{n}} pane"\nmsgid_plural "{{n}} panes"\n{said}', encoding="utf-8")
    for _ in range(2):
        assert str(("{n} pane", "{n} panes")) not in catalogue.refresh("es")
        assert len(catalogue.read("es").get("{n} pane").string) == forms
    assert (
        gettext.translation("reportkit", tmp_path, ["es"])
        .ngettext("{n} pane", "{n} panes", 5)
        .endswith(f"{forms - 1}")
    )


@pytest.mark.parametrize("language", TRANSLATED)
def test_the_compiled_catalogue_says_what_the_text_says(language):
    """What ships is compiled from what is read and mended (GNU gettext's MO format, read by Python's own)."""
    with catalogue.paths(language)[1].open("rb") as file:
        compiled = gettext.GNUTranslations(file)
    assert len(catalogue.read(language)) > 500
    for message in catalogue.read(language):
        if isinstance(message.id, str):
            assert not message.id or compiled.gettext(message.id) == message.string
        else:
            said = [compiled.ngettext(*message.id, number) for number in (1, 2)]
            assert said == list(message.string)


def calls(folder=Path(catalogue.PACKAGE), names=("words", "translatable", "english", "many")):
    """Return every call of some names in the modules below a folder, and where it stands."""
    for path in sorted(folder.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            function = node.func if isinstance(node, ast.Call) else None
            if getattr(function, "attr", getattr(function, "id", "")) in names and node.args:
                yield node, f"{path.relative_to(catalogue.PACKAGE).as_posix()}:{node.lineno}"


def test_no_sentence_of_the_code_is_overlooked():
    """Babel reads tokens and passes over a call deep within another: Python's own parser sees them all."""
    known = set(catalogue.sentences())
    found = list(calls())
    assert len(found) > 500
    for node, where in found:
        forms = [arg.value for arg in node.args[:2] if isinstance(arg, ast.Constant)]
        many = ast.unparse(node.func).endswith("many")
        if forms and any(sign.isalpha() for sign in re.sub(r"{[^}]*}", "", forms[0])):
            said = tuple(forms) if many else forms[0]
            assert said in known, f"{where}: lift this call out of the one around it: {said}"


def test_what_is_translated_is_a_sentence_in_the_code_or_in_a_table():
    """Every call that translates names its sentence, or takes it from a table of sentences or a record."""
    records = re.compile(r"\.(what|why|who|rule|verdict|about|gas|glass|strength)\b")
    tables = re.compile(r"^[A-Z][A-Z_]*(\[|\.get)|\b[A-Z][A-Z_]+\[")
    checked = 0
    for node, where in calls(catalogue.PACKAGE / "documents" / "sections", ("words", "raw", "many")):
        said = ast.unparse(node.args[0])
        if isinstance(node.args[0], ast.Constant) or "english(" in said:
            continue
        checked += 1
        known = tables.search(said) or records.search(said)
        module = where.split("/")[-1].split(":")[0]
        assert known or said in LOOPED.get(module, ()), f"{where}: {said}"
    assert checked > 20


#: Names that a loop or a choice gives a sentence of a table, by module.
LOOPED = {
    "choice.py": ("sentence",),
    "price.py": ("unit",),
}


@pytest.mark.parametrize("name", DEMOS)
def test_no_word_reaches_a_document_untranslated(name, page_of, speaking):
    """With every sentence in marks, nothing outside the marks is a word but names, dates and units."""
    speaking(Marked())
    page = page_of(name)
    typed = {text for text in texts_in(as_json(page.job)) if len(text) > 2}
    typed |= {page.findings.weather.place, page.findings.weather.clock} | {page.job.client.contact}
    names = sorted(typed, key=len, reverse=True)
    calendar = {page.fmt.month(n, short=short) for n in range(1, 13) for short in (True, False)}
    calendar |= {"Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"}
    left = {}
    for part, blocks in blocks_of(page).items():
        for text in texts_in(json.loads(json.dumps(blocks))):
            rest = _outside(text)
            for known in names:
                rest = rest.replace(known, " ")
            found = set(re.findall(r"[A-Za-z]{4,}", rest)) - calendar
            if found:
                left[part, text] = found
    assert left == {}


def _outside(text):
    before = None
    while before != text:
        before, text = text, re.sub(r"«[^«»]*»", " ", text)
    return text


@pytest.mark.parametrize("name", DEMOS)
def test_a_spanish_document_holds_no_english_sentence(name, page_of):
    """No sentence of the code stands in the Spanish parts, while the English ones are full of them."""
    page = page_of(name, "es", "es_ES")
    typed = [text for text in texts_in(as_json(page.job)) if len(text) > 12]
    english = [
        re.compile(r"\b" + ".+?".join(re.escape(part) for part in parts) + r"(?!\w)")
        for parts in (_parts(message.id) for message in catalogue.read("es") if message.id != message.string)
        if parts
    ]

    def found(blocks):
        for text in texts_in(blocks):
            own = functools.reduce(lambda rest, known: rest.replace(known, " "), typed, text)
            yield from (sentence.pattern for sentence in english if sentence.search(own))

    assert len(set(found(blocks_of(page_of(name), ["summary", "cautions"])))) > 5
    left = {part: list(found(blocks)) for part, blocks in blocks_of(page).items()}
    assert not any(left.values()), left


def _parts(text):
    """Return what stands between the values of a sentence, if that is long enough to be one."""
    whole = text if isinstance(text, str) else text[1]
    parts = [part for part, *_ in string.Formatter().parse(whole) if len(part.split()) > 1]
    return parts if sum(len(part.split()) for part in parts) > 3 else []


def test_a_spanish_reader_finds_their_own_numbers_and_dates(page_of):
    """Spain writes 1234,5 with a comma and the month's name in lower case; Mexico a point (CLDR)."""
    page = page_of("corner-shop", "es", "es_ES")
    assert page.fmt.number(12345.6, 1) == "12.345,6"
    assert page.fmt.month(8, short=False) == "agosto"
    assert page.fmt.language == "es-ES"
    mexican = page_of("corner-shop", "es", "es_MX")
    assert mexican.fmt.number(12345.6, 1) == "12,345.6"
    shown = " ".join(texts_in([plain(block) for block in SECTIONS["summary"](page)]))
    assert re.search(r"\d,\d\s?%|\d\s%", shown) and not re.search(r"\d%", shown)


#: Units that a US reader does not use, wherever they stand.
METRIC = re.compile(
    r"(?<![^\W\d])(?<!\.)(?:K|mm|cm|m|km|°C|m²|m2|W/m²|kWh/m²|L|ml|kg|µm|lux|lx)(?![^\W\d]|[²\d/])"
)

#: Glass and its gaps go by whole millimetres in the US, too (nominal thickness of ASTM C1036, from memory).
NOMINAL = re.compile(r"\b\d+\smm (?:de )?(?=clear|incoloro|argon|argón)|vidrio incoloro de \d+\smm")


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_us_reader_finds_no_metric_unit_but_the_thickness_of_glass(language, page_of):
    """No part of the US job holds one, in texts, tables or pictures; the metric job is full of them."""
    typed = [text for text in texts_in(as_json(page_of("corner-shop").job)) if len(text) > 12]

    def found(page):
        for name, blocks in blocks_of(page).items():
            for text in texts_in(json.loads(json.dumps(blocks))):
                own = functools.reduce(lambda rest, known: rest.replace(known, " "), typed, text)
                own = NOMINAL.sub(" ", own)
                yield from ((name, text) for _ in METRIC.finditer(own))

    assert len(list(found(page_of("harbour-house", language, "es_ES")))) > 50
    assert list(found(page_of("corner-shop", language, "en_US"))) == []


def test_months_never_mix_with_sentences_of_another_language():
    """Where words and numbers come from two locales, the words of dates go with the sentences."""
    german = Formats("de_DE", units="metric", currency="EUR", language="en")
    assert (german.month(10, short=False), german.number(1234.5, 1)) == ("October", "1.234,5")
    assert german.language == "en-DE"
    assert german.in_units("us").month(10, short=False) == "October"
    # CLDR has no Spanish as written in Germany: the words are plain Spanish, the numbers still German
    spanish = Formats("de_DE", units="metric", currency="EUR", language="es")
    assert (spanish.month(10, short=False), spanish.decimal_mark, spanish.language) == ("octubre", ",", "es")


def test_a_language_without_a_catalogue_is_english_in_its_dates_too(page_of):
    """Sentences fall back to English, and months with them."""
    page = page_of("harbour-house", "fi", "fi_FI")
    assert page.words("Film") == "Film"
    assert page.months([10, 3]) == "October to March"
    assert page.fmt.decimal_mark == ","


def test_a_told_sentence_is_said_again_in_another_language():
    """Sentences within sentences change language, numbers their marks; a name stays as typed."""
    face = translatable("face {face} (the room side) of the glass", face=2)
    said = translatable("{where} is textured: film does not stick to it", where=face)
    assert said == "face 2 (the room side) of the glass is textured: film does not stick to it"
    named = translatable("not given for {panes}", panes="a {b}")
    numbers = Formats("es_ES", units="metric", currency="EUR")
    spanish = Words("es", numbers)
    assert (
        spanish(said)
        == spanish.said(said)
        == "la cara 2 del vidrio (la que da a la habitación) tiene textura: la lámina no se adhiere"
    )
    assert spanish(named) == "no indicado para a {b}"
    gap = translatable(
        "Not proved cheapest: at most {gap:.1%} above the least possible price for {kind} cuts.",
        gap=0.0125,
        kind=translatable("two-stage"),
    )
    assert "1,3\u00a0%" in spanish.said(gap) and "dos etapas" in spanish.said(gap)
    assert "1.3%" in Words("en", Formats("en_US", units="us", currency="USD")).said(gap)
    assert spanish.said(joined("; ", [translatable("wind speed"), "x"])) == "velocidad del viento; x"


def test_a_told_sentence_is_plain_text_everywhere_else():
    """It equals its English, stores as such in JSON, and survives copying and another process."""
    said = translatable(
        "{quantity}: {hours} hours filled from their neighbours", quantity=translatable("dew point"), hours=3
    )
    assert json.loads(json.dumps([said])) == ["dew point: 3 hours filled from their neighbours"]
    for twin in (copy.deepcopy(said), pickle.loads(pickle.dumps(said))):
        assert isinstance(twin, Translatable)
        assert (twin, twin.template, twin.values) == (said, said.template, said.values)


def test_what_a_person_typed_is_neither_looked_up_nor_filled(results_of):
    """A film called like a sentence with braces goes through as typed."""
    spanish = Words("es")
    assert spanish("Recommended: {film}.", film="Glass {why}") == "Recomendado: Glass {why}."
    assert spanish.said("a note {nobody} knows") == "a note {nobody} knows"


def test_plural_forms_follow_the_number():
    """One pane, two panes, in Spanish (plural rule of CLDR: one for 1, other else)."""
    spanish = Words("es")
    assert [spanish.many("{n} pane", "{n} panes", n) for n in (1, 2, 0)] == ["1 paño", "2 paños", "0 paños"]


def pages_of(page, names):
    """Return the text of every page of a PDF of some parts."""
    made = {
        "kind": "proposal",
        "title": page.words("Proposal: {title}", title=page.job.title),
        "subtitle": "",
        "lang": page.fmt.language,
        "paper": page.paper,
        "footer": "Job, run 0001",
        "date": "x",
        "timestamp": 1_700_000_000,
        "author": "Example",
        "addressee": ["Somebody"],
        "words": {name: page.words.raw(text) for name, text in FRAME_WORDS.items()},
        "blocks": Finisher(page.fmt.decimal_mark).finish(
            [block for blocks in blocks_of(page, names).values() for block in blocks]
        ),
    }
    return paper.pages(pdf.document(made))


def _letters(text):
    return re.sub(r"[\W_]+", "", text).lower()


PARTS = {
    "proposal": (
        "summary",
        "sun",
        "glass",
        "options",
        "rooms",
        "worth",
        "panes",
        "verdicts",
        "choice",
        "price",
    ),
    "fitting": ("work", "kit", "cutting", "aftercare"),
}


@pytest.mark.parametrize("kind", PARTS)
def test_longer_words_are_not_cut_off(kind, page_of, speaking):
    """With every sentence 40 % longer the PDF is whole: every word of its texts and tables is there."""
    short = pages_of(page_of("corner-shop"), PARTS[kind])
    speaking(Long())
    page = page_of("corner-shop")
    long = pages_of(page, PARTS[kind])
    assert len(short) <= len(long) <= 2 * len(short)
    printed = _letters(" ".join(long))
    for part, blocks in blocks_of(page, PARTS[kind]).items():
        for block in blocks:
            for text in texts_in({key: value for key, value in block.items() if key not in ("svg", "alt")}):
                lost = [word for word in text.split() if _letters(word) not in printed]
                assert lost == [], (part, text)


@pytest.mark.parametrize("kind", PARTS)
def test_spanish_takes_about_the_room_of_english(kind, page_of):
    """The Spanish PDF has at most two pages more, and its frame is Spanish, too."""
    english = pages_of(page_of("corner-shop"), PARTS[kind])
    spanish = pages_of(page_of("corner-shop", "es", "es_ES"), PARTS[kind])
    assert len(english) <= len(spanish) <= len(english) + 2
    assert f"página 1 de {len(spanish)}" in spanish[0]


def test_a_job_can_ask_for_spanish(tmp_path):
    """``language: es`` is read, and numbers follow the language where no locale is given."""
    home = shutil.copytree(JOBS / "_shared", tmp_path / "_shared").parent
    skip = shutil.ignore_patterns("runs", "*.ipynb")
    folder = shutil.copytree(JOBS / "corner-shop", home / "corner-shop", ignore=skip)
    text = (folder / "job.yaml").read_text(encoding="utf-8")
    spanish = re.sub(r"(?m)^locale:.*\n", "", re.sub(r"(?m)^language: en\b", "language: es", text))
    (folder / "job.yaml").write_text(spanish, encoding="utf-8")
    job = Study.open(folder).loaded.job
    assert (job.language, job.locale) == ("es", "es")
    (folder / "job.yaml").write_text(spanish.replace("language: es", "language: fi"), encoding="utf-8")
    with pytest.raises(JobError, match=r"language.*\(en, es\)"):
        Study.open(folder)


def test_spanish_says_what_is_meant() -> None:
    """A ladder's slope is no count, and the client told of a trouble rather than asked a question."""
    words = Words("es")
    ladder = words(
        "One in four, three points of contact. "
        "Two hands on a sheet of film is not ladder work: use a platform."
    )
    assert "cuatro de alto por uno de base" in ladder
    assert "Una de cada cuatro" not in ladder
    assert words("What you asked") == "Lo que nos contó"
