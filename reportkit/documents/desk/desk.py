"""Controls and answers side by side: a change of film, pane, set point, tariff or budget is answered at once.

Everything typed here is read by the rules of the job file, so a decimal comma or a temperature with its
unit works, and a slip is answered with the same words. "Keep this" adds the decision to the job's log; what
the controls say may also be kept under a name, as a way to choose from.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Mapping
from pathlib import Path
from typing import Any

import ipywidgets
from pydantic import ValidationError

from reportkit.base.errors import InputError
from reportkit.documents.desk.answers import as_html, cut_plan, looks, numbers, remarks, style
from reportkit.documents.desk.controls import WIDE, choose, note, press, said, show, slip, text, title
from reportkit.documents.desk.panes import PaneList
from reportkit.documents.desk.ways import KeptWays
from reportkit.documents.language.faults import error_in_words, words_of
from reportkit.documents.page import Page
from reportkit.findings.findings import Findings
from reportkit.job import Choice, Decision, Job, Pane, keep, load_job
from reportkit.job.model import BARE, Alternative
from reportkit.job.model.decided import lapsed, lapsed_in
from reportkit.job.reading.spoken import spoken
from reportkit.job.writing.decisions import degrees
from reportkit.study import Study
from reportkit.study.whatif import BY_JOB, FOR_BUDGET, Changed, WhatIf

#: Reasons that are ours to translate; what a person typed is not.
OURS = (BY_JOB, FOR_BUDGET)


def opened(job_dir: Path | str) -> Any:
    """Return the desk of a job, or what is wrong with the job, to be shown in a cell."""
    try:
        return Desk(Study.open(job_dir))
    except InputError as error:
        told = error_in_words(error, words_of(spoken(Path(job_dir))))
        return ipywidgets.HTML(said([note(line) for line in told.splitlines()]))


class Desk:
    """Controls over a study, shown by ending a cell with one.

    Parameters
    ----------
    study
        The study of the job as it stands.

    Attributes
    ----------
    room, films, in_room, set_point, rate, budget, override, who, note, button
        The controls: ``films`` by face, ``in_room`` for the panes of the room looked at.
    pane_list
        Which panes are in, and why others are out.
    ways
        The ways to choose from that stand in the job.
    study
        The study of what the controls say, after the last change that could be read.
    """

    def __init__(self, study: Study) -> None:
        self._what_if = WhatIf(study)
        self._job = study.job
        self.page = Page(Findings(study))
        self._start = self._what_if.start(_today())
        self._set_points = {
            room: degrees(value, self._job.units) for room, value in self._start.set_points.items()
        }
        self._own_films = dict(self._start.films.panes)
        self._room_films = self._in_rooms(self._own_films, self._start.panes_out)
        self._quiet = False
        self.study: Changed = self._what_if.study(self._start)
        self._controls()
        self.ways = KeptWays(
            study.loaded.folder,
            self.page,
            read=self._read,
            wanted=self._choice,
            offered=self._offered,
            taken=self._take,
            placed=self._placed,
            price=lambda films: self.study.quick_offer(films).total,
        )
        self._arrange()
        self._watch()
        self._room_changed(None)

    # -- controls

    def _controls(self) -> None:
        words, job, start = self.page.words, self._job, self._start
        rooms = [room.id for room in job.rooms if any(pane.room == room.id for pane in job.panes)]
        complained = job.complaint.room if job.complaint.room in rooms else rooms[0]
        self.room = choose(words("Room"), [(self.page.room(name), name) for name in rooms], complained)
        named = [(self.page.film(name), name) for name in self.study.films]
        named.append((words("bare glass"), BARE))
        self.films: dict[str, Any] = {
            face: choose(self.page.face(face), named, film)
            for face, film in start.films.faces.items()
            if any(pane.face == face for pane in job.panes)
        }
        self.in_room = choose("", [(words("as on each face"), ""), *named], "")
        self.pane_list = PaneList(
            self.page,
            job.panes,
            {name: words(why) if why in OURS else why for name, why in start.panes_out.items()},
            lapsed=(*lapsed(job), *(name for way in job.alternatives for name in lapsed_in(job, way))),
            changed=self._changed,
            said=self._said,
            single=self._single,
        )
        self.set_point = text(words("Thermostat, for cooling"), "")
        money = self.page.fmt.currency
        budget = start.budget if start.budget is not None else job.limits.budget
        self.rate = text(words("Electricity, {unit}", unit=f"{money}/kWh"), start.electricity_rate)
        self.rate.placeholder = words("the job's own tariff")
        self.budget = text(words("Budget, {unit}", unit=money), budget)
        self.override = text(words("Why another film"), start.overrides)
        self.who = text(words("Who decides"), start.who)
        self.note = text(words("Note"), start.note)
        self.button = press(words("Keep this"))
        self.button.add_class("desk-main")
        self.numbers, self.remarks, self.looks, self.plan, self.message, self.advice = (
            ipywidgets.HTML(layout=WIDE) for _ in range(6)
        )
        self.message.add_class("desk-message")
        self.numbers.add_class("desk-numbers")
        self.looks.add_class("desk-looks")

    def _arrange(self) -> None:
        words = self.page.words
        films = [title(words("Film")), *self.films.values(), self.in_room, self.advice]
        counted = [title(words("Counted with")), self.set_point, self.rate, self.budget]
        decision = [self.override, self.who, self.note, self.button, self.message]
        parts = [
            *(self.room, *films, *counted),
            *(title(words("Panes that get film")), self.pane_list.box),
            *(title(words("The decision")), *decision),
            self.ways.box,
        ]
        looks, plan = title(words("How it looks")), title(words("The cut plan"))
        asked = ipywidgets.VBox(parts)
        answers = ipywidgets.VBox([self.numbers, self.remarks, looks, self.looks])
        cutting = ipywidgets.VBox([plan, self.plan])
        asked.add_class("desk-asked")
        answers.add_class("desk-answers")
        cutting.add_class("desk-cutting")
        own = ipywidgets.HTML(style(), layout={"display": "none"})
        self.box = ipywidgets.Box([own, asked, answers, cutting])
        self.box.add_class("desk")

    def _watch(self) -> None:
        self.room.observe(self._room_changed, "value")
        self.set_point.observe(self._set_point_changed, "value")
        self.in_room.observe(self._in_room_changed, "value")
        for control in (*self.films.values(), self.rate, self.budget):
            control.observe(self._changed, "value")
        self.override.observe(self._said, "value")
        self.button.on_click(self._keep)

    @property
    def panes(self) -> dict[str, Any]:
        """In or out, by the pane's name."""
        return self.pane_list.ticks

    @property
    def reasons(self) -> dict[str, Any]:
        """Why a pane is out, by its name."""
        return self.pane_list.reasons

    @property
    def apart(self) -> dict[str, Any]:
        """Which one of a row of several is to stand for itself, by the row's name."""
        return self.pane_list.apart

    def _single(self, name: str) -> tuple[Pane, ...]:
        """Make one of a row of several a pane of its own."""
        self._what_if.single([name])
        return self._what_if.base.job.panes

    # -- what is said

    def typed(self) -> dict[str, Any]:
        """Return what the controls say, as a person would type it in the log."""
        faces = {face: control.value for face, control in self.films.items()}
        return {
            "date": _today(),
            "who": self.who.value,
            "films": {"faces": {**self._start.films.faces, **faces}, "panes": self._by_pane()},
            "panes_out": self.pane_list.out(),
            "overrides": self.override.value,
            "set_points": {room: text for room, text in self._set_points.items() if text.strip()},
            "electricity_rate": self.rate.value.strip() or None,
            "budget": self.budget.value.strip() or None,
            "note": self.note.value,
        }

    def _by_pane(self) -> dict[str, str]:
        """Return the film of each pane in which has one of its own: of its room, or as the talk started.

        What is said of its row holds for one of several: it has one of its own where it gets another.
        """
        before, out = self._own_films, self.pane_list.out()
        films: dict[str, str] = {}
        for pane in self.pane_list.inside():
            own = before.get(pane.id, before.get(pane.row))
            film = self._room_films.get(pane.room, own)
            if pane.number and pane.row in out:
                film = film or self.films[pane.face].value
            if film and film != films.get(pane.row):
                films[pane.id] = film
        return films

    def _in_rooms(self, films: Mapping[str, str], out: Collection[str]) -> dict[str, str]:
        """Return the film of each room whose panes, those out apart, have one and the same of their own."""
        in_room: dict[str, set[str | None]] = {}
        for pane in self._what_if.base.job.panes:
            if pane.id not in out:
                in_room.setdefault(pane.room, set()).add(films.get(pane.id))
        return {room: film for room, (film, *more) in in_room.items() if film and not more}

    def _choice(self) -> Choice:
        """Return the films that the controls name, panes that are out as bare ones."""
        decision = self.decision()
        out = dict.fromkeys(decision.panes_out, BARE)
        return decision.films.model_copy(update={"panes": {**decision.films.panes, **out}})

    def _read(self) -> Job:
        """Return the job as its files stand now, with the same panes standing for themselves as here."""
        job = self._what_if.in_parts(load_job(self.study.loaded.folder).job)
        read, here = (
            [(pane.id, pane.quantity) for pane in one.panes] for one in (job, self._what_if.base.job)
        )
        if read != here:
            raise InputError(self.page.words("The files of this job have changed: load this page again."))
        return job

    def _offered(self, job: Job) -> tuple[str | None, ...]:
        """Return the films of what the job offers, as its files stand now."""
        decided = job.decisions[-1:] or [self._what_if.start(_today())]
        return self._what_if.study(decided[-1]).chosen.film_by_pane

    def _take(self, way: Alternative) -> None:
        """Make the controls say what a way does."""
        panes, films = self._read().panes, way.films
        faces = {face: films.faces.get(face, films.job) or BARE for face in self.films}
        own = {pane.id: way.film_on(pane) or BARE for pane in panes}
        named = {pane.id for pane in panes if {pane.id, pane.row} & films.panes.keys()}
        other = {
            pane.id: own[pane.id] for pane in panes if pane.id in named or own[pane.id] != faces[pane.face]
        }
        if not {*faces.values(), *other.values()} <= {BARE, *self.study.films}:
            raise InputError(self.page.words("films that came into the job since"))
        why = self.page.words("not part of {name}", name=way.name)
        self._quiet = True
        for face, control in self.films.items():
            control.value = faces[face]
        out = {name: why for name, film in other.items() if film == BARE}
        self.pane_list.place(panes, out)
        self._own_films = {name: film for name, film in other.items() if film != BARE}
        self._room_films = self._in_rooms(self._own_films, out)
        self.in_room.value = self._room_films.get(self.room.value, "")
        self._quiet = False
        self.update()

    def _placed(self, wanted: tuple[str | None, ...]) -> tuple[str | None, ...] | None:
        """Return films on the panes they can go on; None where one came into the job since."""
        known = all(film is None or film in self.study.films for film in wanted)
        return self.study.placed(wanted) if known else None

    def decision(self) -> Decision:
        """Return what the controls say, read by the rules of the job file.

        Raises
        ------
        InputError
            In the words of the first slip, where something typed cannot be read.
        """
        units = "in" if self._job.units == "us" else "mm"
        try:
            return Decision.model_validate(self.typed(), context={"default_length": units})
        except ValidationError as error:
            raise InputError(slip(error)) from error

    # -- answers

    def _changed(self, _: Any) -> None:
        if not self._quiet:
            self.update()

    def _room_changed(self, _: Any) -> None:
        """Show the chosen room's set point, and no line for one where the room's cooling is not described."""
        room = next(entry for entry in self._job.rooms if entry.id == self.room.value)
        cooling = room.heat.cooling if room.heat else None
        self._quiet = True
        own = "" if cooling is None else degrees(cooling.set_point, self._job.units)
        self.set_point.value = self._set_points.get(room.id, own)
        show(self.set_point, cooling is not None)
        self.in_room.description = self.page.words("All of {room}", room=self.page.room(room.id))
        self.in_room.value = self._room_films.get(room.id, "")
        self._quiet = False
        self.update()

    def _in_room_changed(self, _: Any) -> None:
        if not self._quiet:
            self._room_films[self.room.value] = self.in_room.value
            self.update()

    def _set_point_changed(self, _: Any) -> None:
        if not self._quiet:
            self._set_points[self.room.value] = self.set_point.value
            self.update()

    def update(self) -> None:
        """Work out and show what the controls say; where something cannot be read, or cut, say so."""
        try:
            decision = self.decision()
            study = self._what_if.study(decision, room=self.room.value)
            page = Page(Findings(study))
            room = self.room.value
            parts = (numbers(page, room, decision.budget), remarks(page), looks(page), cut_plan(page))
        except InputError as error:
            self._say(error_in_words(error, self.page.words))
            return
        self._say("")
        self.study, self.page = study, page
        places = (self.numbers, self.remarks, self.looks, self.plan)
        for shown, blocks in zip(places, parts, strict=True):
            shown.value = as_html(blocks)
        placed = zip(study.job.panes, study.chosen.film_by_pane, strict=True)
        self.pane_list.tell_bare({pane.id for pane, film in placed if film is None})
        self._ask(decision)

    def _said(self, _: Any) -> None:
        if self._quiet:
            return
        try:
            self._ask(self.decision())
        except InputError as error:
            self._say(error_in_words(error, self.page.words))

    def _ask(self, decision: Decision) -> None:
        """Show a line for each reason that is asked for, and hide the others."""
        words = self.page.words
        self.pane_list.ask()
        overrides = self._what_if.overrides(decision)
        show(self.override, overrides)
        best = self.page.option(self._what_if.recommended)
        self.advice.value = as_html([note(words("Recommended: {film}.", film=best))])

    def _say(self, text: str) -> None:
        self.message.value = said([note(text)]) if text else ""

    # -- keeping

    def _keep(self, _: Any) -> None:
        words = self.page.words
        try:
            decision = self.decision()
            lacking = self._what_if.unexplained(decision)
            if lacking:
                self._ask(decision)
                panes = [name for name in lacking if name != "overrides"]
                asked = [words("why {pane} is left out", pane=name) for name in panes]
                if "overrides" in lacking:
                    asked.append(words("why the recommended film is not taken"))
                self._say(words("Not kept yet: say {what}.", what="; ".join(asked)))
                return
            self._what_if.study(decision).offer  # noqa: B018 -- refuses films that cannot be cut
            self._read()
            path = keep(self.study.loaded.folder, decision, units=self._job.units)
        except InputError as error:
            self._say(error_in_words(error, self.page.words))
            return
        self._say(
            words(
                "Kept in {file}, dated {date}. The next proposal follows it.",
                file=path.name,
                date=self.page.fmt.date(decision.date),
            )
        )

    def _repr_mimebundle_(self, **options: Any) -> Any:
        return self.box._repr_mimebundle_(**options)


def _today() -> dt.date:
    return dt.date.today()
