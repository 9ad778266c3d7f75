"""The findings of one job as plain data: what results.json holds and every document is written from."""

from reportkit.results.mapping import Results
from reportkit.results.schema import SCHEMA_VERSION, results_schema

__all__ = ["SCHEMA_VERSION", "Results", "results_schema"]
