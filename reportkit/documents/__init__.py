"""Documents: what the report says as data, and the forms it takes (HTML, PDF, JupyterLab).

The model is in `blocks`, `runs` and `record`; `formats` writes numbers as a reader expects them; `style`
and `fonts` hold the one visual language; `exporters` turn an executed notebook into documents. Computes no
physics.
"""

from reportkit.documents.blocks import (
    Block,
    Bullets,
    Caution,
    Column,
    Columns,
    Fact,
    Facts,
    Figure,
    Group,
    Heading,
    PageBreak,
    Paragraph,
    Picture,
    Row,
    Section,
    Signature,
    Steps,
    Table,
)
from reportkit.documents.language.formats import Formats
from reportkit.documents.layouts.shown import BLOCKS_MIME
from reportkit.documents.record import RECORD_MIME, DocumentInfo, Record
from reportkit.documents.runs import Run, emphasis, strong, verdict

__all__ = [
    "BLOCKS_MIME",
    "RECORD_MIME",
    "Block",
    "Bullets",
    "Caution",
    "Column",
    "Columns",
    "DocumentInfo",
    "Fact",
    "Facts",
    "Figure",
    "Formats",
    "Group",
    "Heading",
    "PageBreak",
    "Paragraph",
    "Picture",
    "Record",
    "Row",
    "Run",
    "Section",
    "Signature",
    "Steps",
    "Table",
    "emphasis",
    "strong",
    "verdict",
]
