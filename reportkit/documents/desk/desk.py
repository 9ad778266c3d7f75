"""Controls and answers side by side: a change of film, pane, set point, tariff or budget is answered at once.

Everything typed here is read by the rules of the job file, so a decimal comma or a temperature with its
unit works, and a slip is answered with the same words. "Keep this" adds the decision to the job's log; what
the controls say may also be kept under a name, as a way to choose from.
"""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

import ipywidgets
from pydantic import ValidationError

from reportkit.base.errors import InputError
from reportkit.documents.desk.answers import as_html, cut_plan, looks, numbers, remarks, style
from reportkit.documents.desk.controls import WIDE, choose, note, press, said, show, slip, text, title
from reportkit.documents.desk.ways import KeptWays
from reportkit.documents.language.faults import error_in_words, words_of
from reportkit.documents.page import Page
from reportkit.documents.sections.shaped import box_and_shape
from reportkit.findings.findings import Findings
from reportkit.job import Choice, Decision, Job, keep
from reportkit.job.model import BARE
from reportkit.job.reading.spoken import spoken
from reportkit.job.writing.decisions import degrees
from reportkit.study import Study
from reportkit.study.whatif import Changed, WhatIf


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
    room, films, in_room, panes, reasons, set_point, rate, budget, override, who, note, button
        The controls: ``films`` by face, ``in_room`` for the panes of the room looked at, ``panes`` (in or
        out) and ``reasons`` (why out) by pane.
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
        self._room_films = self._start_in_rooms()
        self._quiet = False
        self.study: Changed = self._what_if.study(self._start)
        self._controls()
        self.ways = KeptWays(
            study.loaded.folder,
            self.page,
            wanted=self._choice,
            offered=self._offered,
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
        self.panes: dict[str, Any] = {}
        self.reasons: dict[str, Any] = {}
        for pane in job.panes:
            kind = None if pane.shape is None else pane.shape.kind
            size = box_and_shape(self.page, pane.width, pane.height, kind)
            count = f" ×{pane.quantity}" if pane.quantity > 1 else ""
            self.panes[pane.id] = ipywidgets.Checkbox(
                value=pane.id not in start.panes_out,
                description=f"{pane.id}{count} · {self.page.room(pane.room)} · {size}",
                indent=False,
                layout=WIDE,
            )
            asked = words("Why is {pane} left out?", pane=pane.id)
            self.reasons[pane.id] = text(asked, start.panes_out.get(pane.id, ""))
        self.set_point = text(words("Cooling set point"), "")
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
        panes = [part for name in self.panes for part in (self.panes[name], self.reasons[name])]
        films = [title(words("Film")), *self.films.values(), self.in_room, self.advice]
        counted = [title(words("Counted with")), self.set_point, self.rate, self.budget]
        decision = [self.override, self.who, self.note, self.button, self.message]
        parts = [
            *(self.room, *films, *counted),
            *(title(words("Panes that get film")), *panes),
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
        for control in (*self.films.values(), *self.panes.values(), self.rate, self.budget):
            control.observe(self._changed, "value")
        for control in (*self.reasons.values(), self.override):
            control.observe(self._said, "value")
        self.button.on_click(self._keep)

    # -- what is said

    def typed(self) -> dict[str, Any]:
        """Return what the controls say, as a person would type it in the log."""
        faces = {face: control.value for face, control in self.films.items()}
        return {
            "date": _today(),
            "who": self.who.value,
            "films": {"faces": {**self._start.films.faces, **faces}, "panes": self._by_pane()},
            "panes_out": {
                name: self.reasons[name].value for name, control in self.panes.items() if not control.value
            },
            "overrides": self.override.value,
            "set_points": {room: text for room, text in self._set_points.items() if text.strip()},
            "electricity_rate": self.rate.value.strip() or None,
            "budget": self.budget.value.strip() or None,
            "note": self.note.value,
        }

    def _by_pane(self) -> dict[str, str]:
        """Return the film of each pane in which has one of its own: of its room, or as the talk started."""
        before = self._start.films.panes
        panes = [pane for pane in self._job.panes if self.panes[pane.id].value]
        own = {pane.id: self._room_films.get(pane.room, before.get(pane.id)) for pane in panes}
        return {name: film for name, film in own.items() if film}

    def _start_in_rooms(self) -> dict[str, str]:
        """Return the film of each room all of whose panes start with one and the same of their own."""
        found: dict[str, set[str | None]] = {}
        for pane in self._job.panes:
            if pane.id not in self._start.panes_out:
                found.setdefault(pane.room, set()).add(self._start.films.panes.get(pane.id))
        return {room: film for room, (film, *more) in found.items() if film and not more}

    def _choice(self) -> Choice:
        """Return the films that the controls name, panes that are out as bare ones."""
        decision = self.decision()
        out = dict.fromkeys(decision.panes_out, BARE)
        return decision.films.model_copy(update={"panes": {**decision.films.panes, **out}})

    def _offered(self, job: Job) -> tuple[str | None, ...]:
        """Return the films of what the job offers, as its files stand now."""
        decided = job.decisions[-1:] or [self._what_if.start(_today())]
        return self._what_if.study(decided[-1]).chosen.film_by_pane

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
        """Show the chosen room's set point; rooms whose cooling is not described have none."""
        room = next(entry for entry in self._job.rooms if entry.id == self.room.value)
        cooling = room.heat.cooling if room.heat else None
        self._quiet = True
        own = "" if cooling is None else degrees(cooling.set_point, self._job.units)
        self.set_point.value = self._set_points.get(room.id, own)
        self.set_point.disabled = cooling is None
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
        self._ask(decision)

    def _said(self, _: Any) -> None:
        try:
            self._ask(self.decision())
        except InputError as error:
            self._say(error_in_words(error, self.page.words))

    def _ask(self, decision: Decision) -> None:
        """Show a line for each reason that is asked for, and hide the others."""
        words = self.page.words
        for name, control in self.reasons.items():
            show(control, not self.panes[name].value)
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
            path = keep(self.study.loaded.folder, decision, units=self._job.units)
        except InputError as error:
            self._say(error_in_words(error, self.page.words))
            return
        self._say(
            words(
                "Kept in {file}, dated {date}. The next reportkit make follows it.",
                file=path.name,
                date=self.page.fmt.date(decision.date),
            )
        )

    def _repr_mimebundle_(self, **options: Any) -> Any:
        return self.box._repr_mimebundle_(**options)


def _today() -> dt.date:
    return dt.date.today()
