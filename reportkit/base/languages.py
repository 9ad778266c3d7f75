"""The languages documents can be written in: English, and every one that ships a catalogue of sentences."""

from __future__ import annotations

import gettext
from functools import cache
from pathlib import Path

LOCALE_DIR = Path(__file__).parents[1] / "locale"
DOMAIN = "reportkit"
SOURCE = "en"


def languages() -> tuple[str, ...]:
    """Return the codes of the languages, English first."""
    codes = {path.parent.parent.name for path in LOCALE_DIR.glob(f"*/LC_MESSAGES/{DOMAIN}.mo")}
    return (SOURCE, *sorted(codes - {SOURCE}))


@cache
def catalogue(language: str) -> gettext.NullTranslations:
    """Return the sentences of a language; those of English are as they stand."""
    return gettext.translation(DOMAIN, LOCALE_DIR, [language], fallback=language == SOURCE)
