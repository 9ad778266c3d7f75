"""The business's own numbers in a job, changed to ones that nothing else could come to, and a search."""

import io
import re

from reportkit.documents.layouts.assemble import FOR_CLIENT

#: What it pays for an hour, a roll, a metre, a blade; its margin.
PRIVATE = {
    "labour_per_hour": "57.13",
    "margin_percent": "31.7",
    "soap_per_litre": "7.77",
    "blade_each": "13.97",
}
NUMBER = r"\d+(?:[.,]\d+)?"
ROLL, METRE = "1317.31", "53.91"
ELSEWHERE = "Another Client of Ours"
#: Words that no paper for the client says of its own price.
WORDS = re.compile(
    r"margin|mark-?up|labour_per_hour|margin_percent|price_per_m|supplier|our cost", re.IGNORECASE
)


def marked(text):
    """Return a file of a job or of the shared folder with the private numbers, and another client, in it."""
    for name, value in PRIVATE.items():
        text = re.sub(rf"(?m)(\b{name}: ){NUMBER}", rf"\g<1>{value}", text)
    text = re.sub(rf'(\bprice_per_m: )"?{NUMBER}"?', rf"\g<1>{METRE}", text)
    text = re.sub(rf"(\bprice_per_ft: ){NUMBER}", r"\g<1>16.43", text)
    text = re.sub(rf"(?m)(length: [^}}]+?, price: ){NUMBER}", rf"\g<1>{ROLL}", text)
    return f"# {ELSEWHERE}\n{text}"


def told(path):
    """Return all that a file tells: its text; of a PDF also its metadata and what is attached."""
    import pikepdf
    import pypdfium2

    data = path.read_bytes()
    if path.suffix == ".html":
        return data.decode("utf-8")
    with pypdfium2.PdfDocument(data) as file:
        parts = [page.get_textpage().get_text_bounded() for page in file]
    with pikepdf.open(io.BytesIO(data)) as file:
        parts += [str(value) for value in file.docinfo.values()]
        parts.append(file.Root.Metadata.read_bytes().decode("utf-8"))
        for name, one in file.attachments.items():
            parts += [name, one.description, one.get_file().read_bytes().decode("utf-8", "replace")]
    return "\n".join(parts)


def pattern(value):
    """Return a pattern for a number by itself, whichever mark its language has."""
    return re.compile(rf"(?<![\d.,]){re.escape(value).replace(re.escape('.'), '[.,]')}(?![\d])")


def numbers_of(run):
    """Return the private numbers that a run's inputs hold."""
    inputs = "".join(path.read_text("utf-8") for path in (run / "inputs").rglob("*.yaml"))
    return [value for value in (*PRIVATE.values(), ROLL, METRE) if value in inputs]


def leaks(run):
    """Return what of the business, of another client or of the machine stands in a client's file, by file."""
    found = []
    for path in (path for path in sorted(run.iterdir()) if path.stem in FOR_CLIENT):
        text = told(path)
        visible = re.sub(r"<(script|style).*?</\1>", "", text, flags=re.DOTALL)
        found += [(path.name, value) for value in numbers_of(run) if pattern(value).search(text)]
        found += [(path.name, word[0]) for word in WORDS.finditer(visible)]
        found += [(path.name, one) for one in (ELSEWHERE, str(run.parents[1]), "/tmp/") if one in visible]
    return found
