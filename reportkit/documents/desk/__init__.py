"""The desk: a study with controls beside it, opened as a page or in JupyterLab with the client at the table.

`opened` is the only name needed: show what it returns in a cell. Numbers come from ``reportkit.study.whatif``
through the results; what is decided goes to the job's log by ``reportkit.job.keep``, ways to choose from by
``reportkit.job.keep_way``.
"""

from reportkit.documents.desk.desk import Desk, opened

__all__ = ["Desk", "opened"]
