"""Sentences that remember how they were made, and quantities that know their unit."""

import copy
import pickle

import pytest

from reportkit.report.formats import Formats
from reportkit.report.words import Words
from reportkit.told import Quantity, told


def test_a_quantity_carries_its_unit_into_the_text() -> None:
    """In English and SI, as stored; a told unit is a unit, too."""
    assert told("{a:.0f} and {b:.1f}", a=Quantity(31.4, "K"), b=Quantity(2, told("mm"))) == "31 K and 2.0 mm"


@pytest.mark.parametrize(
    ("value", "spec", "us", "metric"),
    [
        (Quantity(30, "K"), ".0f", "54\u00a0°F", "30\u00a0°C"),
        (Quantity(26, "°C"), ".0f", "79\u00a0°F", "26\u00a0°C"),
        (Quantity(2540, "mm"), ".0f", "100\u00a0in", "2540\u00a0mm"),
        (Quantity(203.2, "µm"), ".0f", "8.0\u00a0mil", "203\u00a0µm"),
        (Quantity(2.5, "m²"), ".3g", "26.9\u00a0ft²", "2,5\u00a0m²"),
        (Quantity(1500, "m"), ".4g", "4,921\u00a0ft", "1.500\u00a0m"),
        (Quantity(5.7, "W/m²K"), ".2f", "1.00\u00a0Btu/h·ft²·°F", "5,70\u00a0W/m²·K"),
        (Quantity(6, told("mm")), ".0f", "6\u00a0mm", "6\u00a0mm"),
        (Quantity(60, "°"), ".3g", "60°", "60°"),
        (Quantity(0.5, "lux"), ".1f", "0.5\u00a0lux", "0,5\u00a0lux"),
    ],
)
def test_a_quantity_is_said_in_the_readers_units(value: Quantity, spec: str, us: str, metric: str) -> None:
    """Converted where the reader's unit differs (NIST SP 811, from memory); glass stays in millimetres."""
    sentence = told(f"{{x:{spec}}}", x=value)
    assert Words("en", Formats("en_US", units="us", currency="USD")).said(sentence) == us
    assert Words("en", Formats("de_DE", units="metric", currency="EUR")).said(sentence) == metric


def test_sentences_survive_copies() -> None:
    """Copied or stored, a sentence keeps its template, its values and their units."""
    made = told("{a:.1f}", a=Quantity(1.5, "K"))
    for again in (copy.deepcopy(made), pickle.loads(pickle.dumps(made))):
        assert again == made
        assert again.template == "{a:.1f}"  # type: ignore[attr-defined]  # told sentences have one
        assert again.values["a"].unit == "K"  # type: ignore[attr-defined]
