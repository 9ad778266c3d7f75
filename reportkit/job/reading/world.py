"""Words of the outside world that a job may hold: a language, a locale, a clock."""

from __future__ import annotations

import zoneinfo


def base_language(tag: str) -> str:
    """Return the language of a tag such as ``es-MX``."""
    return tag.replace("-", "_").split("_")[0].lower()


def is_locale(text: str) -> bool:
    """Return whether a text is a language, or a language and country, of the locale data."""
    from babel import Locale, UnknownLocaleError

    try:
        Locale.parse(text.replace("-", "_"))
    except (UnknownLocaleError, ValueError, TypeError):
        return False
    return True


def is_clock(name: str) -> bool:
    """Return whether a text is a zone of the time zone database."""
    try:
        zoneinfo.ZoneInfo(name)
    except (KeyError, ValueError, OSError):  # unknown, malformed, or the name of a folder
        return False
    return True
