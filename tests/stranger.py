"""What a stranger to the trade would not know on a page: units, codes of panes, words of the trade."""

import re
from pathlib import Path

UNITS = re.compile(r"\d\s?(k?Wh?|Btu(/h)?|lx|fc|W/m²|kg|K)\b")
#: Words that a stranger to the trade knows, by language; read and kept by hand.
PLAIN = {
    "en": Path(__file__).parent / "documents" / "plain_words.txt",
    "es": Path(__file__).parent / "documents" / "plain_words_es.txt",
}


def typed(job):
    """Return everything a person typed that may stand on a page: names, the complaint."""
    named = [*job.films, *job.rooms, *job.faces, *job.glazings]
    return [*(one.name for one in named if one.name), job.complaint.text, job.prices.tax.name]


def strange(said, job):
    """Return the units, bare codes and words in a text that a stranger would not know, but those typed."""
    for room in job.rooms:  # a code is known where its room stands beside it
        said = re.sub(rf"{re.escape(' '.join((room.name or room.id).split()))} \([^()]*\)", " ", said)
    said = re.sub(r"°[CF]\b", " ", said)
    for name in sorted(typed(job), key=len, reverse=True):
        said = said.replace(" ".join(name.split()), " ")
    plain = set(PLAIN[job.language].read_text("utf-8").split())
    words = re.findall(r"[^\W\d_]+(?:['’][^\W\d_]+)*", said.lower())
    codes = {pane.id for pane in job.panes} & set(re.findall(r"\b\w+\b", said))
    units = {found[0] for found in UNITS.finditer(said)}
    return sorted(units | codes | (set(words) - plain))
