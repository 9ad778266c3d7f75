"""The desk: a study with controls beside it, opened in JupyterLab with the client at the table.

`Desk` is the only name needed: show one in a cell. Numbers come from ``reportkit.study.whatif`` through the
results; what is decided goes to the job's log by ``reportkit.job.keep``.
"""

from reportkit.documents.desk.desk import Desk

__all__ = ["Desk"]
