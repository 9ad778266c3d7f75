"""The findings of one job, a record for each section, made when it is first asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import cached_property
from typing import TYPE_CHECKING, Any, Final, Generic, Literal, TypeVar, overload

from pydantic import Field, TypeAdapter, create_model

from reportkit.findings.advice import fill_choice, fill_which_panes
from reportkit.findings.basis import fill_assumptions, fill_cautions
from reportkit.findings.claims import fill_claim_limits, fill_claims
from reportkit.findings.glare import fill_sun_in_view
from reportkit.findings.glass import fill_glazings, fill_panes
from reportkit.findings.offer import fill_cutting, fill_labour, fill_materials, fill_pieces, fill_price
from reportkit.findings.options import fill_options
from reportkit.findings.readings import fill_readings
from reportkit.findings.result import as_json
from reportkit.findings.revision import fill_revision
from reportkit.findings.rooms import fill_by_window, fill_rooms
from reportkit.findings.schedule import fill_schedule
from reportkit.findings.screening import fill_letters, fill_screens
from reportkit.findings.spectra import fill_spectra
from reportkit.findings.sun import fill_bad_day, fill_faces, fill_weather
from reportkit.findings.views import fill_views
from reportkit.findings.ways import fill_ways

if TYPE_CHECKING:
    from reportkit.job.model import Job
    from reportkit.study import Study

#: Rises when a key goes or changes its meaning, not when one is added. In 3 `seam` of a piece in the cut plan
#: holds two numbers, part and parts, where it was the text "1 of 2".
SCHEMA_VERSION: Final = 4

T = TypeVar("T")


class Section(Generic[T]):
    """A section of the findings, made by a function of the study when first asked for, and kept."""

    def __init__(self, fill: Callable[[Study], T]) -> None:
        """Keep the function that fills the section."""
        self.fill = fill
        self.__doc__ = fill.__doc__

    def __set_name__(self, owner: type, name: str) -> None:
        """Learn the section's name."""
        self.name = name

    @overload
    def __get__(self, findings: None, owner: type) -> Section[T]: ...
    @overload
    def __get__(self, findings: Findings, owner: type) -> T: ...
    def __get__(self, findings: Findings | None, owner: type) -> Section[T] | T:
        """Return the section's records."""
        if findings is None:
            return self
        made = findings.made(self)
        findings.__dict__[self.name] = made  # found before this descriptor from now on
        return made

    @property
    def type(self) -> Any:
        """What the section holds, by what its function returns."""
        # the function's parameters are named for type checkers alone, so only its return is looked at
        return eval(self.fill.__annotations__["return"], self.fill.__globals__)


class Findings:
    """What a study found, section by section: the fields of results.json.

    Parameters
    ----------
    study
        The study whose findings these are.
    """

    def __init__(self, study: Study) -> None:
        self.study = study

    def made(self, section: Section[T]) -> T:
        """Return a section, made from the study."""
        return section.fill(self.study)

    @cached_property
    def job(self) -> Job:
        """The job as read."""
        return self.study.job

    choice = Section(fill_choice)
    assumptions = Section(fill_assumptions)
    weather = Section(fill_weather)
    faces = Section(fill_faces)
    glazings = Section(fill_glazings)
    claims = Section(fill_claims)
    claim_limits = Section(fill_claim_limits)
    spectra = Section(fill_spectra)
    panes = Section(fill_panes)
    which_panes = Section(fill_which_panes)
    screens = Section(fill_screens)
    letters = Section(fill_letters)
    options = Section(fill_options)
    ways = Section(fill_ways)
    rooms = Section(fill_rooms)
    by_window = Section(fill_by_window)
    sun_in_view = Section(fill_sun_in_view)
    bad_day = Section(fill_bad_day)
    views = Section(fill_views)
    pieces = Section(fill_pieces)
    cutting = Section(fill_cutting)
    materials = Section(fill_materials)
    labour = Section(fill_labour)
    schedule = Section(fill_schedule)
    price = Section(fill_price)
    cautions = Section(fill_cautions)
    readings = Section(fill_readings)
    revision = Section(fill_revision)


class StoredFindings(Findings):
    """Findings read back from results.json; sentences that a study told are plain English then.

    Parameters
    ----------
    job
        The job as read.
    data
        The data of results.json.

    Raises
    ------
    pydantic.ValidationError
        When a section is first asked for whose data do not fit its records.
    """

    def __init__(self, job: Job, data: Mapping[str, Any]) -> None:
        self.__dict__["job"] = job  # found before the cached property
        self._data = data

    def made(self, section: Section[T]) -> T:
        """Return a section, made from the data."""
        records: TypeAdapter[T] = TypeAdapter(section.type)
        return records.validate_python(self._data[section.name])


def sections() -> dict[str, Section[Any]]:
    """Return the sections by name, in their order."""
    return {name: entry for name, entry in vars(Findings).items() if isinstance(entry, Section)}


class Results(Mapping[str, Any]):
    """Findings as the data of results.json, section by section.

    Parameters
    ----------
    source
        The findings, or the study whose findings these are.
    """

    def __init__(self, source: Findings | Study) -> None:
        self.findings = source if isinstance(source, Findings) else Findings(source)
        self._made: dict[str, Any] = {"schema": SCHEMA_VERSION}

    def __getitem__(self, section: str) -> Any:
        """Return a section; raises KeyError for an unknown one."""
        if section not in self._made:
            if section != "job" and section not in sections():
                raise KeyError(section)
            self._made[section] = as_json(getattr(self.findings, section))
        return self._made[section]

    def __iter__(self) -> Iterator[str]:
        """Go through the names of the sections in their order."""
        return iter(("schema", "job", *sections()))

    def __len__(self) -> int:
        """Return how many sections there are."""
        return 2 + len(sections())


def results_schema() -> dict[str, Any]:
    """Return the schema of results.json (JSON Schema 2020-12), made from the records."""
    fields: dict[str, Any] = {name: (entry.type, ...) for name, entry in sections().items()}
    fields |= {"version": (Literal[SCHEMA_VERSION], Field(alias="schema")), "job": (dict[str, Any], ...)}
    model = create_model("Results of one job", **fields)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **model.model_json_schema(mode="serialization"),
    }
