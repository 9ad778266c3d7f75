"""Sentences that remember how they were made, and quantities that know their unit."""

import copy
import pickle

import pytest

from reportkit.base.translatable import Quantity, translatable
from reportkit.documents.language.formats import Formats
from reportkit.documents.language.words import Words


def test_a_quantity_carries_its_unit_into_the_text() -> None:
    """In English and SI, as stored; a told unit is a unit, too."""
    assert (
        translatable("{a:.0f} and {b:.1f}", a=Quantity(31.4, "K"), b=Quantity(2, translatable("mm")))
        == "31 K and 2.0 mm"
    )


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
        (Quantity(6, translatable("mm")), ".0f", "6\u00a0mm", "6\u00a0mm"),
        (Quantity(60, "°"), ".3g", "60°", "60°"),
        (Quantity(0.5, "lux"), ".1f", "0.5\u00a0lux", "0,5\u00a0lux"),
    ],
)
def test_a_quantity_is_said_in_the_readers_units(value: Quantity, spec: str, us: str, metric: str) -> None:
    """Converted where the reader's unit differs (NIST SP 811, from memory); glass stays in millimetres."""
    sentence = translatable(f"{{x:{spec}}}", x=value)
    assert Words("en", Formats("en_US", units="us", currency="USD")).said(sentence) == us
    assert Words("en", Formats("de_DE", units="metric", currency="EUR")).said(sentence) == metric


@pytest.mark.parametrize(
    ("value", "limit", "spec", "si", "us", "metric"),
    [
        (30.2, 30, "K", "30.2 K of 30.0 K", "54.4\u00a0°F of 54.0\u00a0°F", "30,2\u00a0°C of 30,0\u00a0°C"),
        # 30.4 K is 54.72 °F: apart in whole degrees of one scale and not of the other
        (30.4, 30, "K", "30.4 K of 30.0 K", "55\u00a0°F of 54\u00a0°F", "30,4\u00a0°C of 30,0\u00a0°C"),
        (
            30.01,
            30,
            "K",
            "30.01 K of 30.00 K",
            "54.02\u00a0°F of 54.00\u00a0°F",
            "30,01\u00a0°C of 30,00\u00a0°C",
        ),
        (34, 30, "K", "34 K of 30 K", "61\u00a0°F of 54\u00a0°F", "34\u00a0°C of 30\u00a0°C"),
        (30, 30, "K", "30 K of 30 K", "54\u00a0°F of 54\u00a0°F", "30\u00a0°C of 30\u00a0°C"),
        (60.4, 60, "%", "60.4 % of 60.0 %", "60.4\u00a0% of 60.0\u00a0%", "60,4\u00a0% of 60,0\u00a0%"),
    ],
)
def test_a_value_over_its_limit_looks_it(value, limit, spec, si, us, metric) -> None:
    """As many digits as tell the two apart, in the reader's own units (by hand: a kelvin is 1.8 °F)."""
    sentence = translatable(
        "{a:.0f} of {b:.0f}", a=Quantity(value, spec, limit), b=Quantity(limit, spec, value)
    )
    assert sentence == si
    assert Words("en", Formats("en_US", units="us", currency="USD")).said(sentence) == us
    assert Words("en", Formats("de_DE", units="metric", currency="EUR")).said(sentence) == metric


def test_an_area_over_the_charts_limit_looks_it() -> None:
    """2.501 of 2.5 m² are 26.920 of 26.910 ft²: with one digit, as areas have, both are 26.9."""
    sentence = translatable("{a:.4g} of {b:.4g}", a=Quantity(2.501, "m²", 2.5), b=Quantity(2.5, "m²", 2.501))
    assert sentence == "2.501 m² of 2.5 m²"
    assert Words("en", Formats("en_US", units="us", currency="USD")).said(sentence) == (
        "26.92\u00a0ft² of 26.91\u00a0ft²"
    )


def test_sentences_survive_copies() -> None:
    """Copied or stored, a sentence keeps its template, its values and their units."""
    made = translatable("{a:.1f}", a=Quantity(1.5, "K", 1.49))
    for again in (copy.deepcopy(made), pickle.loads(pickle.dumps(made))):
        assert again == made
        assert again.template == "{a:.1f}"  # type: ignore[attr-defined]  # told sentences have one
        assert again.values["a"].beside == 1.49  # type: ignore[attr-defined]
        assert again.values["a"].unit == "K"  # type: ignore[attr-defined]
