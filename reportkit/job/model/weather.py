"""Which weather a job is computed with."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from reportkit.base.translatable import translatable
from reportkit.job.model.about import about
from reportkit.job.model.quantities import Celsius, DaySun, Kelvin
from reportkit.job.model.typed import Record, Text, broken


class Normals(Record):
    """Monthly means from any public table, January to December."""

    mean_c: Annotated[
        tuple[Annotated[Celsius, Field(ge=-75, le=45)], ...],
        Field(min_length=12, max_length=12),
        about(
            "mean temperature of each month, January first; °C, or each as 39 F",
            "[4.1, 4.8, 7.0, 9.9, 13.1, 16.2, 18.4, 18.1, 15.3, 11.4, 7.2, 4.7]",
        ),
    ]
    daily_range_k: Annotated[
        tuple[Annotated[Kelvin, Field(ge=0, le=40)], ...],
        Field(min_length=12, max_length=12),
        about(
            "mean daily highest less mean daily lowest, each month; K, or each as 9 F",
            "[5, 6, 7, 8, 9, 9, 9, 9, 8, 7, 6, 5]",
        ),
    ]
    sun_kwh_m2_day: Annotated[
        tuple[Annotated[DaySun, Field(ge=0, le=12)], ...],
        Field(min_length=12, max_length=12),
        about(
            "sun on level ground a day, each month; kWh/m2, or each as 1330 Btu/ft2 or 15.1 MJ/m2",
            "[0.7, 1.3, 2.4, 3.8, 4.9, 5.2, 5.0, 4.2, 3.0, 1.7, 0.9, 0.6]",
        ),
    ]
    source: Annotated[Text, about("where the table is from", "Example almanac 2020")]


class WeatherChoice(Record):
    """Which weather the job is computed with."""

    use: Annotated[
        Literal["shipped", "file", "pvgis", "normals", "clear_days"],
        about(
            "shipped, file, pvgis (one download), normals (monthly means) or clear_days (no weather, no bills)",
            "shipped",
        ),
    ] = "clear_days"
    name: Annotated[str | None, about("for shipped: miami, greensboro or sand point", "miami")] = None
    file: Annotated[
        str | None, about("for file: the weather file's path in the job's folder", "weather.epw")
    ] = None
    normals: Annotated[
        Normals | None, about("for normals: twelve months from a public table", "source: Example almanac")
    ] = None

    @model_validator(mode="after")
    def _complete(self) -> WeatherChoice:
        if self.use == "shipped" and not self.name:
            raise broken(
                translatable("must be given when use is shipped"),
                "name",
                hint=translatable("such as name: miami"),
            )
        if self.use == "normals" and not self.normals:
            raise broken(
                translatable("must be given when use is normals"),
                "normals",
                hint=translatable("twelve months of three numbers"),
            )
        if self.use == "file" and not self.file:
            raise broken(
                translatable("must be given when use is file"),
                "file",
                hint=translatable("such as file: weather.epw"),
            )
        return self
