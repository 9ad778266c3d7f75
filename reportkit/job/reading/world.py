"""Words of the outside world that a job may hold: a currency, a country, a language, a locale, a clock."""

from __future__ import annotations

import zoneinfo

from reportkit.base.languages import languages
from reportkit.base.translatable import translatable
from reportkit.job.reading.messages import did_you_mean
from reportkit.job.reading.rules import Rules


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


def check(rules: Rules) -> None:
    """Report a currency, language, locale or clock that does not exist."""
    currency = rules.raw.get("currency")
    if isinstance(currency, str) and len(currency) == 3 and currency.isascii() and currency.isupper():
        from babel.core import get_global

        known = get_global("all_currencies")
        if currency not in known:
            hint = translatable("such as USD, EUR or GBP")
            rules.fault(
                ("currency",),
                translatable("must be a currency's three-letter code (ISO 4217)"),
                currency,
                hint,
            )
    country = rules.group("building").get("country")
    if isinstance(country, str) and len(country) == 2 and country.isascii() and country.isupper():
        from babel import Locale

        if country not in Locale("en").territories or country in ("EU", "EZ", "UN", "ZZ"):
            hint = translatable("such as US, IE or NZ")
            rule = translatable("must be a country's two-letter code (ISO 3166-1)")
            rules.fault(("building", "country"), rule, country, hint)
    for name in ("language", "locale"):
        text = rules.raw.get(name)
        if isinstance(text, str) and not is_locale(text):
            what = (
                translatable("a language's code")
                if name == "language"
                else translatable("a language and country")
            )
            hint = translatable("such as en") if name == "language" else translatable("such as en_US")
            rules.fault(
                (name,), translatable("must be {what} known to the locale data (CLDR)", what=what), text, hint
            )
        elif name == "language" and isinstance(text, str) and base_language(text) not in languages():
            rule = translatable(
                "must be a language there is a catalogue of sentences for ({names})",
                names=", ".join(languages()),
            )
            hint = translatable("write the documents in one of these; numbers and dates follow locale")
            rules.fault((name,), rule, text, hint)
    clock = rules.group("site").get("clock")
    if isinstance(clock, str) and not is_clock(clock):
        hint = did_you_mean(
            clock, sorted(zoneinfo.available_timezones()), translatable("such as Europe/Lisbon; some are")
        )
        rules.fault(
            ("site", "clock"), translatable("must be a zone of the IANA time zone database"), clock, hint
        )
