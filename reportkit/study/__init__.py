"""The chain from a job to its findings, computed once, stage by stage, when first asked for."""

from reportkit.study.study import Study

__all__ = ["Study"]
