"""Faults of a job in the reader's language.

A fault is told in English where it is found. Its sentences stand in the catalogues by their templates, as
those of the documents do; here a finished sentence is known again by its template, and what fills it is put
into the other language's. One that no catalogue has stays English: no fault is lost for want of a word.
"""

from __future__ import annotations

import dataclasses
import re
from functools import cache
from string import Formatter

from reportkit.base.errors import Fault
from reportkit.base.translatable import english
from reportkit.base.visible import visible
from reportkit.documents.language.words import Words
from reportkit.job.model.languages import SOURCE

#: Marks between sentences of one hint.
_JOINTS = re.compile(r"(; |: |(?<=\?) )")
#: Two words in a row: prose, which a name or a number with its unit is not.
_PROSE = re.compile(r"[a-z]{3,} [a-z]{2,}")


def in_language(fault: Fault, language: str) -> str:
    """Return a fault as it is printed, ``file:line field: ...``, in a language.

    Parameters
    ----------
    fault
        The fault, in English.
    language
        A language there is a catalogue for; another leaves it English.
    """
    words = Words(language)
    if words.language == SOURCE:
        return str(fault)
    parts = [None if text is None else said(text, words) for text in (fault.rule, fault.hint)]
    plain = dataclasses.replace(fault, rule=parts[0] or "", hint=parts[1], found=None)
    if fault.found is None:
        return str(plain)
    told = words.raw(english('found "{found}"')).format(found=fault.found)
    bare = dataclasses.replace(plain, hint=None)
    return visible(" ".join(f"{bare} ({told}){f'; {plain.hint}' if plain.hint else ''}".split()))


def said(text: str, words: Words) -> str:
    """Return a finished English sentence in another language; sentences with ``;`` between each by itself."""
    whole = _said(text, words)
    if whole is not None:
        return whole
    return "".join(_said(part, words) or part for part in _JOINTS.split(text))


def _said(text: str, words: Words) -> str | None:
    """Return one sentence in another language, None where no template of it is known."""
    known = _prose(text, words)
    if known != text:
        return known
    for pattern, template in _patterns(words.language):
        found = pattern.fullmatch(text)
        if found and not any(_english(value, words) for value in found.groupdict().values()):
            told = Formatter().parse(words.raw(template))
            return "".join(
                literal + (_prose(found[name], words) if name else "") for literal, name, *_ in told
            )
    return None


def _english(value: str, words: Words) -> bool:
    """Return whether a value is words of ours without a translation, and not a name or a number."""
    return bool(_PROSE.search(value)) and words.raw(value) == value


def _prose(text: str, words: Words) -> str:
    """Return what is said in several words in another language; one word is a name of the person's own."""
    return words.raw(text) if " " in text else text


@cache
def _patterns(language: str) -> tuple[tuple[re.Pattern[str], str], ...]:
    """Return the templates with names in a catalogue as patterns, the longest first."""
    found = []
    for template in Words(language).templates():
        pattern, own = "", 0
        seen: set[str] = set()
        for literal, name, *_ in Formatter().parse(template):
            pattern += re.escape(literal)
            own += len(literal)
            if name is not None:
                pattern += f"(?P={name})" if name in seen else f"(?P<{name}>.+)"
                seen.add(name)
        found.append((own, re.compile(pattern, re.DOTALL), template))
    return tuple(
        (pattern, template) for own, pattern, template in sorted(found, key=lambda each: -each[0]) if own > 5
    )
