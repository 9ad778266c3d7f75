"""Chooses, cuts, prices and reports solar-control window film, one job folder at a time."""

__version__ = "0.1.0"
