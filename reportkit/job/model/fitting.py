"""How the film is cut and fitted, and when."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import AfterValidator, Field, model_validator

from reportkit.base.translatable import translatable
from reportkit.job.model.about import about
from reportkit.job.model.typed import Clock, Day, Length, Number, PaneSide, Record, Whole, between, broken

#: How many labels a sheet has, by paper: three across and ten down on Letter, three and seven on A4.
LABELS: dict[str, int] = {"letter": 30, "a4": 21}

#: Minutes that somebody's own records give.
Own = Annotated[Number, Field(gt=0, le=480)]


class OwnMinutes(Record):
    """The fitter's own minutes by kind of pane; what slows the work still multiplies them."""

    plain: Annotated[
        Own | None, about("an ordinary pane of 1 to 1.5 m2 (11 to 16 ft2), preparation included", "22")
    ] = None
    large: Annotated[Own | None, about("a pane over 2.5 m2 (27 ft2): two people, by the clock", "35")] = None
    divided: Annotated[Own | None, about("a small pane of a divided window", "9")] = None
    old_film_per_m2: Annotated[
        Own | None, about("taking old film off 1 m2 (11 ft2), of all people together", "15")
    ] = None
    set_up: Annotated[Own | None, about("carrying in, covering floors, clearing away", "40")] = None


class Fitting(Record):
    """How the film will be cut and fitted."""

    method: Annotated[
        Literal["cut_to_size", "trim_on_glass"],
        about("trim_on_glass (cut a larger blank) or cut_to_size (on the table)", "trim_on_glass"),
    ] = "trim_on_glass"
    edge_gap: Annotated[
        Annotated[Length, AfterValidator(between(0, 10))] | None,
        about("bare glass left at each edge", "1.5 mm"),
    ] = None
    edge_gap_safety: Annotated[
        Annotated[Length, AfterValidator(between(0, 10))] | None,
        about(
            "the same for film of 200 µm and more; left out: edge_gap if given, else twice the usual", "3 mm"
        ),
    ] = None
    trim_allowance: Annotated[
        Annotated[Length, AfterValidator(between(0, 150))] | None,
        about("extra film on each side of a blank", "12 mm"),
    ] = None
    table: Annotated[
        Annotated[Length, AfterValidator(between(300, 20_000))] | None,
        about("length of the cutting table", "2440 mm"),
    ] = None
    stages: Annotated[Whole, Field(ge=2, le=3), about("2 (across, then along) or 3 (one more trim)", "2")] = 2
    fitter: Annotated[Literal["trained", "first_timer"], about("trained or first_timer", "trained")] = (
        "trained"
    )
    crew: Annotated[
        Annotated[Whole, Field(ge=1, le=20)] | None,
        about("people on site; two come at least where a pane takes two", "2"),
    ] = None
    minutes: Annotated[OwnMinutes, about("your own minutes by kind of pane", "plain: 22")] = OwnMinutes()
    spare: Annotated[bool, about("yes to cut a spare of the largest pane", "no")] = False
    date: Annotated[Day | None, about("day of the work", "2026-05-04")] = None
    start: Annotated[Clock, about("when work starts on the day, on the 24-hour clock", "08:00")] = "08:00"
    finish: Annotated[Clock, about("when it ends", "17:00")] = "17:00"
    first_label: Annotated[
        Whole,
        Field(ge=1, le=LABELS["letter"]),
        about(
            "the label of the sheet to begin at where the first ones are used, counted along the rows from the upper left",
            "1",
        ),
    ] = 1
    keep_offcut: Annotated[
        tuple[PaneSide, PaneSide] | None,
        about("width and length from which an off-cut is worth keeping", "[400 mm, 600 mm]"),
    ] = None

    @model_validator(mode="after")
    def _day_has_hours(self) -> Fitting:
        if self.finish <= self.start:
            raise broken(
                translatable("must be later than start ({start})", start=self.start),
                "finish",
                found=self.finish,
            )
        return self
