"""A cut plan by itself as text, as a picture and as a page."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from reportkit.report.blocks import Bullets, Column, Heading, Paragraph, Section, Table, plain
from reportkit.report.figures import roll_layout
from reportkit.report.formats import Formats
from reportkit.report.record import FRAME_WORDS
from reportkit.report.words import Words
from reportkit.study.cutting import CutAlone


class CutSheet:
    """A cut plan to be shown.

    Parameters
    ----------
    made
        The plan.
    units
        ``us`` or ``metric``.
    """

    def __init__(self, made: CutAlone, *, units: str) -> None:
        self.made = made
        self.fmt = Formats(
            "en-US" if units == "us" else "en", units="us" if units == "us" else "metric", currency="XXX"
        )
        self.words = Words("en")
        self.results: Mapping[str, Any] = {
            "cutting": made.plan.to_json_dict(),
            "job": {"films": [], "rooms": []},
        }

    def lines(self) -> list[str]:
        """Return the plan as lines of text: what to buy, what to cut in which order, what is left."""
        cutting, length = self.results["cutting"], self.fmt.length_mm
        found = [f"Buy for {_money(cutting['price'])}:"]
        found += [f"  {text}" for text in self.shopping()]
        found.append(cutting["verdict"])
        for number, roll in enumerate(cutting["rolls"], start=1):
            found += [
                "",
                f"Roll {number}, {length(roll['width_mm'])} wide. Cut in this order, from the free end:",
            ]
            for index, strip in enumerate(roll["strips"], start=1):
                end = strip["y_mm"] + strip["length_mm"]
                found.append(
                    f"  strip {index}: cut across at {length(end)}, strip {length(strip['length_mm'])} long"
                )
                found += [f"      {self._piece(piece)}" for piece in strip["pieces"]]
            found.append(f"  left on the roll: {length(roll['left_mm'])}")
        bought, waste = (
            self.fmt.area(cutting["bought_m2"], 2),
            self.fmt.percent(cutting["waste_fraction"], 1),
        )
        found += ["", f"Film bought {bought}, waste {waste}."]
        found += [
            f"Worth keeping: roll {rest['roll']}, {self.fmt.size_mm(rest['width_mm'], rest['length_mm'])}."
            for rest in cutting["offcuts"]
        ]
        found += [self._other(entry) for entry in self.made.alternatives]
        return [line.replace("\u00a0", " ") for line in [*found, *cutting["notes"]]]

    def shopping(self) -> list[str]:
        """Return what to buy, equal rolls together."""
        counted: dict[tuple[float, float, str], int] = {}
        for roll in self.results["cutting"]["rolls"]:
            key = (roll["width_mm"], roll["length_mm"], roll["price"])
            counted[key] = counted.get(key, 0) + 1
        wide, long = self.fmt.length_mm, self.fmt.distance_m
        return [
            f"{count} x {wide(width)} wide, {long(length / 1000, 2)} long, {_money(price)} each"
            for (width, length, price), count in counted.items()
        ]

    def _piece(self, piece: Mapping[str, Any]) -> str:
        size = self.fmt.size_mm(piece["width_mm"], piece["length_mm"])
        at = f"from {self.fmt.length_mm(piece['x_mm'])}"
        marks = [
            *(["turned"] if piece["turned"] else []),
            *([f"seam part {piece['seam']}"] if piece["seam"] else []),
        ]
        return ", ".join([f"{piece['pane']}: {size} (across x along) {at}", *marks])

    def _other(self, entry: Any) -> str:
        extra = Decimal(entry.extra)
        more = f"{_money(str(extra))} more" if extra >= 0 else f"{_money(str(-extra))} less"
        names = {
            "next_mix": "The next cheapest mix",
            "one_width": "One roll width only",
            "no_groups": "Without view groups",
        }
        return f"{names[entry.kind]} ({entry.label}): {_money(str(entry.price))}, {more}."

    def drawings(self) -> list[str]:
        """Return the layout to scale, one SVG for some forty pieces."""
        return [figure.svg for figure in roll_layout(self.results, self.fmt, self.words)]

    def page(self) -> str:
        """Return the plan as one HTML page with its drawings."""
        from reportkit.report import html
        from reportkit.report.assemble import Finisher

        cutting = self.results["cutting"]
        rows = [
            [
                f"{number}.{index}",
                self.fmt.length_mm(strip["y_mm"] + strip["length_mm"]),
                ", ".join(self._piece(piece) for piece in strip["pieces"]),
            ]
            for number, roll in enumerate(cutting["rolls"], start=1)
            for index, strip in enumerate(roll["strips"], start=1)
        ]
        section = Section(
            "cut",
            [
                Heading("Buy", level=1),
                Bullets(self.shopping()),
                Paragraph(cutting["verdict"]),
                Heading("The rolls", level=1),
                *roll_layout(self.results, self.fmt, self.words),
                Heading("In this order", level=1),
                Table(
                    [
                        Column("strip", "Roll and strip"),
                        Column("at", "Cut across at", align="right"),
                        Column("pieces", "Pieces"),
                    ],
                    rows,
                    caption="Every crosscut, counted from the free end of its roll",
                ),
                *[Paragraph(self._other(entry)) for entry in self.made.alternatives],
            ],
        )
        page = {
            "kind": "fitting",
            "title": f"Cut plan for {self.made.source.file}",
            "subtitle": f"{_money(cutting['price'])}",
            "lang": self.fmt.language,
            "paper": self.fmt.paper,
            "footer": self.made.source.file,
            "date": "",
            "timestamp": 0,
            "author": "",
            "addressee": [],
            "words": FRAME_WORDS,
            "blocks": Finisher(self.fmt.decimal_mark).finish([plain(block) for block in section]),
        }
        return html.document(page, static=True)


def _money(amount: str) -> str:
    """Return an amount as typed rolls have it: no currency is known."""
    return f"{Decimal(amount):.2f}"
