"""What the openings are filled with: sheets of glass, the gaps between them, a coating if any.

Glazings stand in ``job.yaml`` or, for many jobs, in ``_shared``. Percentages stay percentages here.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import AfterValidator, Field, model_validator

from reportkit.base.translatable import translatable
from reportkit.job.model.about import about
from reportkit.job.model.spectra import LiteSpectrum
from reportkit.job.model.typed import Id, Length, Number, Record, Text, Whole, between, broken

GlassKind = Literal["clear", "low_iron", "grey", "bronze", "green", "blue"]


Strength = Literal["annealed", "heat_strengthened", "tempered", "laminated", "wired", "patterned"]


class LiteSpec(Record):
    """One sheet of glass in a glazing, outside first."""

    thickness_mm: Annotated[
        Number,
        Field(ge=1.5, le=30),
        about("thickness of this sheet of glass; of laminated glass with what joins it", "4"),
    ]
    glass: Annotated[GlassKind, about("clear, low_iron, grey, bronze, green or blue", "clear")] = "clear"
    strength: Annotated[
        Strength,
        about(
            "annealed, heat_strengthened, tempered, laminated, wired or patterned (frosted, obscured)",
            "annealed",
        ),
    ] = "annealed"
    textured: Annotated[
        Literal["front", "back"] | None,
        about(
            "the rough face, front (outside) or back: film does not stick to it; patterned glass has one, other glass "
            "may; where it is left out of patterned glass, no film is planned on it",
            "back",
        ),
    ] = None

    spectrum: Annotated[
        LiteSpectrum | None,
        about("this sheet measured by wavelength, in place of typical glass", "file: grey-6.csv"),
    ] = None

    @property
    def rough_untold(self) -> bool:
        """Whether one of its faces is rough and nobody told which."""
        return self.strength == "patterned" and self.textured is None

    @property
    def rough_faces(self) -> tuple[str, ...]:
        """The face with a pattern rolled into it, or both where nobody told which it is."""
        return ("front", "back") if self.rough_untold else () if self.textured is None else (self.textured,)

    @model_validator(mode="after")
    def _thick_enough(self) -> LiteSpec:
        if self.strength == "laminated" and self.thickness_mm < 3:
            raise broken(
                translatable("must be at least 3 mm for laminated glass: two sheets and what joins them"),
                "thickness_mm",
                found=f"{self.thickness_mm:g}",
                hint=translatable("give the thickness of the whole pane"),
            )
        return self


class GapSpec(Record):
    """The space between two sheets of a sealed unit."""

    width_mm: Annotated[Number, Field(ge=3, le=40), about("width of the space between two sheets", "16")]
    gas: Annotated[Literal["air", "argon", "krypton"], about("air, argon or krypton", "argon")] = "air"
    fill_percent: Annotated[
        Number, Field(gt=0, le=100), about("share of the gap that the gas fills, the rest is air", "90")
    ] = 100.0


class CoatingSpec(Record):
    """A factory coating, on a surface counted from outside."""

    kind: Annotated[
        Literal["hard_low_e", "soft_low_e", "solar_control_low_e"],
        about("hard_low_e, soft_low_e or solar_control_low_e", "soft_low_e"),
    ]
    surface: Annotated[Whole, Field(ge=1, le=6), about("which surface is coated, 1 outermost", "3")]


class FrameSpec(Record):
    """What holds the glass, where better numbers are known than those usual for its material."""

    width: Annotated[
        Annotated[Length, AfterValidator(between(0, 400))] | None,
        about(
            "how wide the frame faces, from the glass to the wall; half of a bar between two panes", "70 mm"
        ),
    ] = None
    u_w_m2k: Annotated[
        Annotated[Number, Field(gt=0, le=12)] | None,
        about("U of the frame alone, if known; left out: by the frame in the survey", "1.6"),
    ] = None
    spacer_w_mk: Annotated[
        Annotated[Number, Field(ge=0, le=0.5)] | None,
        about("heat lost along the edge of a sealed unit, if known", "0.06"),
    ] = None


Share = Annotated[Number, Field(gt=0, lt=1)]


class KnownSpec(Record):
    """What the maker or a label states of the bare glass, at its centre: not of the whole window."""

    conditions: Annotated[
        Literal["nfrc", "en"] | None,
        about("the conditions of its U and shgc; left out: the job's rating", "en"),
    ] = None
    u_w_m2k: Annotated[
        Annotated[Number, Field(gt=0, le=7)] | None, about("U at the centre of the glass", "1.1")
    ] = None
    shgc: Annotated[Share | None, about("sun's heat in, SHGC or g", "0.62")] = None
    visible_transmittance_percent: Annotated[
        Annotated[Number, Field(gt=0, lt=100)] | None, about("share of daylight that passes", "80")
    ] = None
    solar_transmittance_percent: Annotated[
        Annotated[Number, Field(gt=0, lt=100)] | None, about("share of the sun's energy that passes", "54")
    ] = None
    emissivity: Annotated[
        Share | None,
        about("emissivity of the coated face; of two, that of the first and of another of its kind", "0.03"),
    ] = None


class GlazingSpec(Record):
    """What fills the opening: one to three sheets, the gaps between, one or two coatings if any."""

    id: Annotated[Id, about("short name used in the survey", "double")]
    name: Annotated[Text, about("name for the reader", "Clear sealed unit")] = ""
    lites: Annotated[
        tuple[LiteSpec, ...],
        Field(min_length=1, max_length=3),
        about("the sheets of glass, outside first", "- thickness_mm: 4"),
    ]
    gaps: Annotated[
        tuple[GapSpec, ...], about("the spaces between the sheets, one fewer than sheets", "- width_mm: 16")
    ] = ()
    coating: Annotated[
        CoatingSpec | None, about("the factory coating, if there is one", "kind: soft_low_e")
    ] = None
    second_coating: Annotated[
        CoatingSpec | None,
        about(
            "another in the same unit, as three sheets often have on surfaces 2 and 5",
            "{kind: soft_low_e, surface: 5}",
        ),
    ] = None
    frame: Annotated[
        FrameSpec, about("the frame round it: it loses heat from the room beside the glass", "width: 70 mm")
    ] = FrameSpec()
    known: Annotated[
        KnownSpec | None,
        about("the maker's numbers where they are at hand: typical glass is bent to them", "u_w_m2k: 1.1"),
    ] = None
    year: Annotated[
        Annotated[Whole, Field(ge=1800, le=2200)] | None,
        about("year it was made; old edges break sooner", "1998"),
    ] = None
    note: Annotated[Text, about("anything worth knowing", "fogged at the foot")] = ""

    @model_validator(mode="after")
    def _fits_together(self) -> GlazingSpec:
        if len(self.gaps) != len(self.lites) - 1:
            raise broken(
                translatable("must have one gap fewer than there are sheets of glass"),
                "gaps",
                found=translatable("{lites} sheets, {gaps} gaps", lites=len(self.lites), gaps=len(self.gaps)),
            )
        if self.frame.spacer_w_mk is not None and not self.gaps:
            raise broken(
                translatable("must be left out for single glass: only sealed units have spacers"),
                "frame",
                "spacer_w_mk",
                found=f"{self.frame.spacer_w_mk:g}",
            )
        if self.known and self.known.emissivity is not None and not self.coating:
            raise broken(
                translatable("must be left out where no face is coated"),
                "known",
                "emissivity",
                found=f"{self.known.emissivity:g}",
                hint=translatable("name the coating and its surface"),
            )
        if self.known and any(lite.spectrum for lite in self.lites):
            for name in ("shgc", "visible_transmittance_percent", "solar_transmittance_percent"):
                if (value := getattr(self.known, name)) is not None:
                    raise broken(
                        translatable(
                            "must be left out where a sheet is measured by wavelength: its file says more"
                        ),
                        "known",
                        name,
                        found=f"{value:g}",
                    )
        if self.second_coating and not self.coating:
            raise broken(
                translatable("must stand beside a coating: one alone is the coating"), "second_coating"
            )
        for name, one in (("coating", self.coating), ("second_coating", self.second_coating)):
            if one is not None:
                self._on_a_face(name, one)
        self._on_two_faces()
        return self

    @property
    def coatings(self) -> tuple[CoatingSpec, ...]:
        """Every coating of the unit."""
        return tuple(one for one in (self.coating, self.second_coating) if one is not None)

    def _on_a_face(self, name: str, coating: CoatingSpec) -> None:
        last = 2 * len(self.lites)
        surface = str(coating.surface)
        if coating.surface > last:
            raise broken(
                translatable("must be one of 1 to {last}, counted from outside", last=last),
                name,
                "surface",
                found=surface,
            )
        if coating.kind != "hard_low_e" and coating.surface in (1, last):
            raise broken(
                translatable("must lie inside a sealed unit: a soft coating does not live on an open face"),
                name,
                "surface",
                found=surface,
                hint=translatable("only hard_low_e can be on an open face"),
            )
        lite, back = divmod(coating.surface - 1, 2)
        if ("back" if back else "front") in self.lites[lite].rough_faces:
            raise broken(
                translatable("must not be a textured face: coatings are put on flat glass"),
                name,
                "surface",
                found=surface,
                hint=translatable(
                    "read the surface again, or give the right textured of sheet {number}", number=lite + 1
                ),
            )

    def _on_two_faces(self) -> None:
        if len(self.coatings) < 2:
            return
        first, second = (coating.surface for coating in self.coatings)
        if first == second:
            raise broken(
                translatable("must be another than the first coating's"),
                "second_coating",
                "surface",
                found=str(second),
            )
        lite = (first - 1) // 2
        if lite == (second - 1) // 2 and self.lites[lite].spectrum:
            raise broken(
                translatable(
                    "must be on another sheet: one measured by wavelength tells one coating from the glass, not two"
                ),
                "second_coating",
                "surface",
                found=str(second),
            )
