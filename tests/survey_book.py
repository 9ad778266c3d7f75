"""A new job whose survey is a workbook, for tests of the survey's form."""

from reportkit.job import write_starter
from reportkit.job.reading.survey import read_rows
from reportkit.job.reading.yamltree import read_tree
from reportkit.job.writing.form import Form, workbook


def starter_with_survey_book(folder, units):
    """Write the full starter with its survey as windows.xlsx, and return the files' paths."""
    job, survey = write_starter(folder, units=units)
    tree, _ = read_tree("job.yaml", job.read_text("utf-8"))
    rows, _ = read_rows("windows.csv", survey.read_text("utf-8"))
    survey.unlink()
    book = folder / "windows.xlsx"
    book.write_bytes(workbook(Form.of(tree.value, {}, rows)))
    return job, book
