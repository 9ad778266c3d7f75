"""A cut plan by itself as text, as a picture and as a page."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from decimal import Decimal
from itertools import accumulate
from typing import TYPE_CHECKING

from reportkit.base.languages import SOURCE
from reportkit.base.translatable import english
from reportkit.cutting.seams import part_widths
from reportkit.documents.blocks import Bullets, Column, Heading, Paragraph, Section, Table, plain
from reportkit.documents.figures.roll_labels import marks_of
from reportkit.documents.figures.roll_layout import cut_plan
from reportkit.documents.frame import frame_words
from reportkit.documents.language.formats import Formats
from reportkit.documents.language.words import Words
from reportkit.documents.layouts import html
from reportkit.documents.layouts.finish import Finisher
from reportkit.findings.cutting import planned
from reportkit.study.cutting import CutAlone

if TYPE_CHECKING:
    from reportkit.cutting import Alternative
    from reportkit.documents.blocks import Figure
    from reportkit.findings.cutting import PlacedPiece, RollFound

#: What else one could buy, by the kind of alternative.
OTHERS: dict[str, str] = {
    "next_mix": english("The next cheapest mix ({rolls}): {price}, {difference}."),
    "one_width": english("One roll width only ({rolls}): {price}, {difference}."),
    "no_groups": english(
        "Without view groups, so that shade may differ side by side: {price}, {difference}."
    ),
}


class CutSheet:
    """A cut plan to be shown.

    Parameters
    ----------
    made
        The plan.
    units
        ``us`` or ``metric``.
    language
        Language of the words, a code of `reportkit.base.languages.languages`. Numbers follow it, but for
        US units, which come with the numbers of the US.
    """

    def __init__(self, made: CutAlone, *, units: str, language: str = SOURCE) -> None:
        self.made = made
        self.fmt = Formats(
            "en-US" if units == "us" else language,
            units="us" if units == "us" else "metric",
            currency="XXX",
            language=language,
        )
        self.words = Words(language, self.fmt)
        self.plan = planned(made.plan)

    def lines(self) -> list[str]:
        """Return the plan as lines of text: what to buy, what to cut in which order, what is left."""
        plan, words, length = self.plan, self.words, self.fmt.length_mm
        lines = [words("Buy for {price}:", price=self._money(plan.price))]
        lines += [f"  {text}" for text in self.shopping(plan.rolls)]
        lines.append(words.said(plan.verdict))
        for number, roll in enumerate(plan.rolls, start=1):
            head = words(
                "Roll {number}, {width} wide. Cut in this order, from the free end:",
                number=number,
                width=length(roll.width_mm),
            )
            lines += ["", head]
            for index, strip in enumerate(roll.strips, start=1):
                told = words(
                    "strip {number}: cut across at {end}, strip {length} long",
                    number=index,
                    end=length(strip.y_mm + strip.length_mm),
                    length=length(strip.length_mm),
                )
                lines += [f"  {told}", *(f"      {self._piece(piece)}" for piece in strip.pieces)]
            lines.append("  " + words("left on the roll: {length}", length=length(roll.left_mm)))
        bought = words(
            "Film bought {area}, waste {waste}.",
            area=self.fmt.area(plan.bought_m2, 2),
            waste=self.fmt.percent(plan.lost_fraction, 1),
        )
        lines += ["", bought]
        for rest in plan.offcuts:
            size = self.fmt.size_mm(rest.width_mm, rest.length_mm)
            lines.append(words("Worth keeping: roll {roll}, {size}.", roll=rest.roll, size=size))
        lines += [self._other(entry) for entry in self.made.alternatives]
        lines += self.notes()
        return [line.replace("\u00a0", " ") for line in lines]

    def shopping(self, rolls: Sequence[RollFound]) -> list[str]:
        """Return what to buy, equal rolls together."""
        counted = Counter((roll.width_mm, roll.length_mm, roll.price) for roll in rolls)
        return [
            self.words(
                "{count} x {width} wide, {length} long, {price} each",
                count=count,
                width=self.fmt.length_mm(width),
                length=self.fmt.distance_m(length / 1000, 2),
                price=self._money(price),
            )
            for (width, length, price), count in counted.items()
        ]

    def notes(self) -> list[str]:
        """Return where pieces wider than any roll are joined, and the plan's own notes."""
        joined = [
            self.words(
                "{pane} is wider than any roll: butt seam at {places} from the left edge of the piece.",
                pane=pane,
                places=", ".join(self.fmt.length_mm(edge) for edge in accumulate(widths[:-1])),
            )
            for pane, widths in part_widths(self.made.plan.pieces).items()
        ]
        return joined + [self.words.said(note) for note in self.plan.notes]

    def _piece(self, piece: PlacedPiece) -> str:
        told = self.words(
            "{pane}: {size} (across x along) from {position}",
            pane=piece.pane,
            size=self.fmt.size_mm(piece.width_mm, piece.length_mm),
            position=self.fmt.length_mm(piece.x_mm),
        )
        return ", ".join([told, *marks_of(piece, self.fmt, self.words)])

    def _other(self, entry: Alternative) -> str:
        more = self.words("{price} more", price=self._money(entry.extra))
        less = self.words("{price} less", price=self._money(-entry.extra))
        return self.words(
            OTHERS[entry.kind],
            rolls="; ".join(self.shopping(planned(entry.plan).rolls)),
            price=self._money(entry.price),
            difference=more if entry.extra >= 0 else less,
        )

    def _money(self, amount: Decimal) -> str:
        """Return an amount as typed rolls have it: no currency is known."""
        return f"{amount:.2f}".replace(".", self.fmt.decimal_mark)

    def drawings(self) -> list[str]:
        """Return the layout to scale, one SVG for some forty pieces."""
        return [figure.svg for figure in self._figures()]

    def _figures(self) -> list[Figure]:
        return cut_plan(self.plan, {}, self.fmt, self.words)

    def page(self) -> str:
        """Return the plan as one HTML page with its drawings."""

        plan, words = self.plan, self.words
        rows = [
            [
                f"{number}.{index}",
                self.fmt.length_mm(strip.y_mm + strip.length_mm),
                ", ".join(self._piece(piece) for piece in strip.pieces),
            ]
            for number, roll in enumerate(plan.rolls, start=1)
            for index, strip in enumerate(roll.strips, start=1)
        ]
        section = Section(
            "cut",
            [
                Heading(words("Buy"), level=1),
                Bullets(self.shopping(plan.rolls)),
                Paragraph(words.said(plan.verdict)),
                Heading(words("The rolls"), level=1),
                *self._figures(),
                Heading(words("In this order"), level=1),
                Table(
                    [
                        Column("strip", words("Roll and strip")),
                        Column("at", words("Cut across at"), align="right"),
                        Column("pieces", words("Pieces")),
                    ],
                    rows,
                    caption=words("Every crosscut, counted from the free end of its roll"),
                ),
                *[Paragraph(self._other(entry)) for entry in self.made.alternatives],
                *[Paragraph(note, role="note") for note in self.notes()],
            ],
        )
        page = {
            "kind": "fitting",
            "title": words("Cut plan for {file}", file=self.made.source.file),
            "subtitle": self._money(plan.price),
            "lang": self.fmt.language,
            "paper": self.fmt.paper,
            "footer": self.made.source.file,
            "date": "",
            "timestamp": 0,
            "author": "",
            "addressee": [],
            "words": frame_words(words),
            "blocks": Finisher(self.fmt.decimal_mark).finish([plain(block) for block in section]),
        }
        return html.document(page, static=True)
