"""The pictures of README.md, drawn from a demo job; run as a script, it draws them anew.

Texts say how wide they are, so that they fit on a machine without the documents' typeface.
"""

from pathlib import Path

from reportkit.documents import figures
from reportkit.documents.layouts.html import scoped
from reportkit.documents.page import Page
from reportkit.findings.findings import Findings
from reportkit.study import Study

ROOT = Path(__file__).parents[1]
FOLDER = ROOT / "jobs" / "pictures"
JOB = ROOT / "jobs" / "corner-shop"


def drawn(study):
    """Return the pictures of a study's findings by their file names: the title, and the SVG."""
    page = Page(Findings(study))
    shown = {
        "heat.svg": figures.elevation(page.findings, page.fmt, page.words)[0],
        "rolls.svg": figures.roll_layout(page.findings, page.fmt, page.words)[0],
    }
    return {name: (figure.title, scoped(figure.svg, "", figure.title)) for name, figure in shown.items()}


if __name__ == "__main__":
    for name, (_, svg) in drawn(Study.open(JOB)).items():
        (FOLDER / name).write_text(svg + "\n", encoding="utf-8", newline="\n")
