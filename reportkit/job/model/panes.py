"""The survey's panes, each as its row tells it, and who measured them."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, Literal

from pydantic import Field, PrivateAttr, model_validator

from reportkit.base.outline import Outline
from reportkit.job.model.about import about
from reportkit.job.model.corners import SAMPLE, PhotoCorners
from reportkit.job.model.shapes import ShapeTyped
from reportkit.job.model.typed import (
    Across,
    Day,
    Diagonal,
    Id,
    NearGlass,
    Number,
    PaneSide,
    Record,
    Text,
    Whole,
    broken,
)


class Survey(Record):
    """Who measured the panes, and when."""

    measured_by: Annotated[Text, about("who measured", "Ana Example")] = ""
    measured_on: Annotated[Day | None, about("the day it was measured", "2026-02-20")] = None


class Pane(Record):
    """One row of the survey: a pane, or several alike."""

    id: Annotated[Id, about("short name of the pane, or of several alike", "S1")]
    room: Annotated[Id, about("the room it is in", "kitchen")]
    face: Annotated[Id, about("the face it is on", "south")]
    glazing: Annotated[Id, about("what it is glazed with", "double")]
    quantity: Annotated[Whole, Field(ge=1, le=500), about("how many alike", "2")] = 1
    widths: Annotated[
        tuple[PaneSide, ...],
        Field(min_length=1, max_length=3),
        about(
            "width of the glass in sight, read at up to three places (width, width_2, width_3)", "35 5/8 in"
        ),
    ]
    heights: Annotated[
        tuple[PaneSide, ...],
        Field(min_length=1, max_length=3),
        about("height, read at up to three places (height, height_2, height_3)", "1200 mm"),
    ]
    shape: Annotated[
        ShapeTyped,
        about(
            "what it is if no rectangle, in the box that width and height measure: arch with its rise, half round, "
            "circle, oval, triangle with its tip from the left, trapezoid with its left & right side, polygon with "
            "its corners, across x up from the lower left, as polygon 0 x 0 & 1200 x 0 & 900 x 800",
            "arch 300 mm",
        ),
    ] = None
    diagonals: Annotated[
        tuple[Diagonal, ...],
        Field(max_length=2),
        about(
            "both diagonals (diagonal_1, diagonal_2); they show a crooked pane or a misread side", "1495 mm"
        ),
    ] = ()
    sill: Annotated[NearGlass | None, about("height of the glass's foot above the floor", "900 mm")] = None
    overhang: Annotated[
        NearGlass, about("how far an awning, roof or balcony stands out above the pane", "600 mm")
    ] = Fraction(0)
    overhang_above: Annotated[NearGlass, about("from the head of the glass up to the overhang", "150 mm")] = (
        Fraction(0)
    )
    left_fin: Annotated[
        NearGlass, about("how far a wall or fin stands out, on the left seen from outside", "300 mm")
    ] = Fraction(0)
    left_fin_away: Annotated[NearGlass, about("from the glass's edge to that fin", "50 mm")] = Fraction(0)
    right_fin: Annotated[NearGlass, about("the same on the right, seen from outside", "300 mm")] = Fraction(0)
    right_fin_away: Annotated[NearGlass, about("from the glass's edge to that fin", "50 mm")] = Fraction(0)
    reveal: Annotated[NearGlass, about("how deep the glass sits behind the face of the wall", "90 mm")] = (
        Fraction(0)
    )
    horizon: Annotated[Id | None, about("the skyline before this pane, if not that of its face", "hill")] = (
        None
    )
    view_group: Annotated[
        str,
        about("panes with the same word are seen together: one batch of film, one direction", "shopfront"),
    ] = ""
    seam: Annotated[
        Across,
        about(
            "where the film's butt seam goes if no roll is wide enough: from the left edge of the glass, seen from outside; several with & between",
            "600 & 1200",
        ),
    ] = ()
    mullion: Annotated[
        Across, about("uprights in line with which a seam would show least, told in the same way", "900")
    ] = ()
    frame: Annotated[
        Literal["metal", "plastic", "timber", "putty"], about("metal, plastic, timber or putty", "metal")
    ] = "metal"
    access: Annotated[
        Literal["floor", "step_ladder", "tower"], about("floor, step_ladder or tower", "floor")
    ] = "floor"
    old_film: Annotated[bool, about("yes where old film must come off", "no")] = False
    escape: Annotated[bool, about("yes for a window that people are to escape through", "no")] = False
    collector: Annotated[
        bool, about("yes where it serves a solar collector or a room heated by the winter sun: no film", "no")
    ] = False
    opens: Annotated[
        bool | None,
        about("no where it is fixed or stays shut; left out: taken to be opened, as yes is", "yes"),
    ] = None
    opens_percent: Annotated[
        Annotated[Number, Field(gt=0, le=100)] | None,
        about(
            "free opening as a share of the glass: tilted some 10, slid 50, swung 90; left out: 10 to 60",
            "50",
        ),
    ] = None
    edge: Annotated[
        Literal["cut", "worked", "damaged"],
        about("edge of the glass: cut (ordinary), worked (ground or polished) or damaged", "cut"),
    ] = "cut"
    shadow: Annotated[
        Literal["none", "still", "moving", "narrow"],
        about(
            "a shadow on part of the pane that no other column tells: none, still, moving or narrow", "none"
        ),
    ] = "none"
    blind: Annotated[bool, about("yes if a blind or curtain hangs inside, close to the glass", "no")] = False
    heater: Annotated[bool, about("yes if a heater or blown air is close to the glass", "no")] = False
    dark_frame: Annotated[bool, about("yes if the frame is dark", "no")] = False
    fogged: Annotated[bool, about("yes if a sealed unit is fogged inside", "no")] = False
    plastic: Annotated[bool, about("yes if the pane is acrylic or polycarbonate, not glass", "no")] = False
    part_covered: Annotated[
        bool,
        about(
            "yes if film is to cover, or can cover, part of the pane only: refused, it heats that part alone",
            "no",
        ),
    ] = False
    film: Annotated[str | None, about("a film for this pane alone, or none", "none")] = None
    photo: Annotated[
        Text,
        about("a photo of the pane, as its file in the job's folder (jpg, png or heic)", "photos/S1.jpg"),
    ] = ""
    photo_corners: Annotated[
        PhotoCorners,
        about(
            "where the glass lies in that photo, so that film can be drawn on it: four corners from the upper left "
            "clockwise, each across x down in percent of the photo; of several panes alike one after the other",
            SAMPLE,
        ),
    ] = ()
    photo_from: Annotated[
        Literal["inside", "outside"], about("where that photo was taken: inside or outside", "inside")
    ] = "inside"
    note: Annotated[Text, about("anything worth knowing", "scratch at the left")] = ""
    _row: str = PrivateAttr(default="")
    _number: int = PrivateAttr(default=0)

    def single(self, number: int) -> Pane:
        """Return one of a row of several as a pane of its own: ``L1.2`` of row ``L1``."""
        made = self.model_copy(update={"id": f"{self.id}.{number}", "quantity": 1})
        made._row, made._number = self.id, number
        return made

    def whole(self, quantity: int) -> Pane:
        """Return the row of so many panes that it is one of, or what is left of."""
        made = self.model_copy(update={"id": self.row, "quantity": quantity})
        made._row, made._number = "", 0
        return made

    @property
    def row(self) -> str:
        """The row of the survey that tells it: its own id, or that of the row it is singled out of."""
        return self._row or self.id

    @property
    def number(self) -> int:
        """Which one of its row it is where it is singled out, from the left as seen from outside; else 0."""
        return self._number

    @model_validator(mode="after")
    def _corners_have_a_photo(self) -> Pane:
        if self.photo_corners and not self.photo:
            raise broken("must be given with photo_corners", "photo")
        return self

    @property
    def width(self) -> Fraction:
        """Smallest width read [mm]: it decides the finished size."""
        return min(self.widths)

    @property
    def height(self) -> Fraction:
        """Smallest height read [mm]."""
        return min(self.heights)

    @property
    def widest(self) -> Fraction:
        """Largest width read [mm]: it decides the blank that is cut."""
        return max(self.widths)

    @property
    def tallest(self) -> Fraction:
        """Largest height read [mm]."""
        return max(self.heights)

    @property
    def outline(self) -> Outline | None:
        """Its outline in the box of the smallest readings, seen from outside [mm]; None for a rectangle."""
        return None if self.shape is None else self.shape.outline(self.width, self.height)

    @property
    def area(self) -> Fraction:
        """Area of the glass in sight [mm2]; exact for a rectangle."""
        outline = self.outline
        return self.width * self.height if outline is None else Fraction(outline.area)

    @property
    def area_mm2(self) -> float:
        """The same as a float [mm2]."""
        return float(self.area)

    @property
    def fill(self) -> float:
        """Share of its box that is glass [1]; 1 for a rectangle."""
        return 1.0 if self.shape is None else self.area_mm2 / float(self.width * self.height)

    @property
    def out_of_square(self) -> bool:
        """Whether the diagonals differ by more than 6 mm (common practice, no source)."""
        return len(self.diagonals) == 2 and abs(self.diagonals[0] - self.diagonals[1]) > 6
