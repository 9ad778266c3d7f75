"""Exporters for nbconvert: one for each document and format.

``jupyter nbconvert --to reportkit-proposal-pdf NAME.ipynb`` writes ``NAME.proposal.pdf``, and so on: each
has its own ending, or two would overwrite each other. An exporter needs nothing but an executed notebook,
and the same notebook always gives the same bytes.
"""

from __future__ import annotations

import mimetypes
from typing import Any, ClassVar

from nbconvert.exporters.exporter import Exporter
from traitlets import Bool, Unicode

from reportkit.documents.layouts import html, pdf
from reportkit.documents.layouts.assemble import FOR_CLIENT, Assembled, Kind, assemble
from reportkit.documents.layouts.clean import Cleaned, clean, indented
from reportkit.documents.layouts.pdf import Attachment
from reportkit.documents.layouts.shared import shared

#: Media types of what a job folder holds, so that they do not depend on the machine's own list.
_TYPES = {
    ".csv": "text/csv",
    ".json": "application/json",
    ".yaml": "application/yaml",
    ".yml": "application/yaml",
    ".md": "text/markdown",
    ".txt": "text/plain",
    ".epw": "text/plain",
    ".tm2": "text/plain",
    ".png": "image/png",
    ".jpg": "image/jpeg",
    ".jpeg": "image/jpeg",
    ".pdf": "application/pdf",
    ".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}


class DocumentExporter(Exporter):
    """Base of them all: collects one kind of document from a notebook."""

    kind: ClassVar[Kind] = "proposal"

    run = Unicode("", help="Number of the run, printed in the footer.").tag(config=True)

    def assembled(self, nb: Any, resources: Any, **kw: Any) -> tuple[Assembled, Cleaned, Any]:
        """Return the document, the cleaned notebook, and nbconvert's resources."""
        notebook = nb if isinstance(nb, Cleaned) else clean(nb)
        document = assemble(notebook, self.kind, run=self.run)
        # not the base's own method: it copies, preprocesses and validates what is never shown
        return document, notebook, self._init_resources(resources)


class HTMLExporter(DocumentExporter):
    """A document as one HTML file."""

    output_mimetype = "text/html"
    static = Bool(False, help="Leave out scripts and interactive pictures.").tag(config=True)

    def _file_extension_default(self) -> str:
        return f".{self.kind}.html"

    # nbconvert's own subclasses return their output here too, whatever the base class declares
    def from_notebook_node(self, nb: Any, resources: Any = None, **kw: Any) -> tuple[Any, Any]:
        """Return the page and nbconvert's resources."""
        document, _, resources = self.assembled(nb, resources, **kw)
        return html.document(document.page, static=self.static), resources


class PDFExporter(DocumentExporter):
    """A document as a PDF with what its reader may have beside it."""

    output_mimetype = "application/pdf"

    def _file_extension_default(self) -> str:
        return f".{self.kind}.pdf"

    # nbconvert's own subclasses return their output here too, whatever the base class declares
    def from_notebook_node(self, nb: Any, resources: Any = None, **kw: Any) -> tuple[Any, Any]:
        """Return the PDF and nbconvert's resources."""
        document, notebook, resources = self.assembled(nb, resources, **kw)
        return pdf.document(document.page, attachments(document, notebook)), resources


def attachments(document: Assembled, notebook: Cleaned) -> list[Attachment]:
    """Return what a PDF carries, by who reads it.

    The fitting sheet carries ``results.json``, ``inputs/…`` and ``reasoning.ipynb``; the client's documents
    carry ``results.json`` with what concerns the client alone; labels carry nothing.

    Parameters
    ----------
    document
        The document.
    notebook
        The cleaned notebook.
    """
    texts, kind = document.page["words"], document.page["kind"]
    if kind == "labels":
        return []
    results = shared(document.results) if kind in FOR_CLIENT else document.results
    about = texts["attachment_shared" if kind in FOR_CLIENT else "attachment_results"]
    made = [Attachment("results.json", indented(results, 2), "application/json", "data", about)]
    if kind in FOR_CLIENT:
        return made
    made.append(
        Attachment(
            "reasoning.ipynb",
            notebook.file,
            "application/x-ipynb+json",
            "supplement",
            texts["attachment_notebook"],
        )
    )
    for name, content in sorted(document.inputs.items()):
        ending = name[name.rfind(".") :].lower() if "." in name else ""
        mime = _TYPES.get(ending) or mimetypes.MimeTypes().guess_type(name)[0] or "application/octet-stream"
        made.append(Attachment(f"inputs/{name}", content, mime, "source", texts["attachment_input"]))
    return made


class ProposalHTML(HTMLExporter):
    """The client's proposal as HTML."""

    kind = "proposal"


class ProposalPDF(PDFExporter):
    """The client's proposal as PDF."""

    kind = "proposal"


class BasisHTML(HTMLExporter):
    """The reasons and numbers behind the proposal as HTML."""

    kind = "basis"


class BasisPDF(PDFExporter):
    """The reasons and numbers behind the proposal as PDF."""

    kind = "basis"


class LettersPDF(PDFExporter):
    """The letters to whoever decides, one a page, as PDF."""

    kind = "letters"


class FittingHTML(HTMLExporter):
    """The fitting sheet as HTML."""

    kind = "fitting"


class FittingPDF(PDFExporter):
    """The fitting sheet as PDF."""

    kind = "fitting"


class LabelsPDF(PDFExporter):
    """Labels for the pieces, on sheets of labels, as PDF."""

    kind = "labels"


class ReviewHTML(HTMLExporter):
    """What was found after the work as HTML."""

    kind = "review"


class ReviewPDF(PDFExporter):
    """What was found after the work as PDF."""

    kind = "review"


#: Every document by its file name; which of them a run writes is the pipeline's to say.
BY_FILE: dict[str, type[DocumentExporter]] = {
    "proposal.html": ProposalHTML,
    "proposal.pdf": ProposalPDF,
    "basis.html": BasisHTML,
    "basis.pdf": BasisPDF,
    "letters.pdf": LettersPDF,
    "fitting.html": FittingHTML,
    "fitting.pdf": FittingPDF,
    "labels.pdf": LabelsPDF,
    "review.html": ReviewHTML,
    "review.pdf": ReviewPDF,
}
