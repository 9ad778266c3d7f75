"""Controls and answers side by side: a change of film, pane, set point, tariff or budget is answered at once.

Everything typed here is read by the rules of the job file, so a decimal comma or a temperature with its
unit works, and a slip is answered with the same words. "Keep this" adds the decision to the job's log.
"""

from __future__ import annotations

import datetime as dt
from typing import Any

import ipywidgets
from pydantic import ValidationError

from reportkit.base.errors import InputError
from reportkit.documents.blocks import Paragraph
from reportkit.documents.desk.answers import as_html, cut_plan, looks, numbers, style
from reportkit.documents.page import Page
from reportkit.documents.sections.shaped import box_and_shape
from reportkit.findings.findings import Findings
from reportkit.job import Decision, keep
from reportkit.job.model import BARE
from reportkit.job.writing.decisions import degrees
from reportkit.study import Study
from reportkit.study.whatif import Changed, WhatIf

LABEL = {"description_width": "9rem"}
WIDE = {"width": "100%"}


class Desk:
    """Controls over a study, shown by ending a cell with one.

    Parameters
    ----------
    study
        The study of the job as it stands.

    Attributes
    ----------
    room, films, panes, reasons, set_point, rate, budget, override, who, note, button
        The controls: ``films`` by face, ``panes`` (in or out) and ``reasons`` (why out) by pane.
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
        self._quiet = False
        self.study: Changed = self._what_if.study(self._start)
        self._controls()
        self._arrange()
        self._watch()
        self._room_changed(None)

    # -- controls

    def _controls(self) -> None:
        words, job, start = self.page.words, self._job, self._start
        rooms = [room.id for room in job.rooms if any(pane.room == room.id for pane in job.panes)]
        self.room = ipywidgets.Dropdown(
            options=[(self.page.room(name), name) for name in rooms],
            value=job.complaint.room if job.complaint.room in rooms else rooms[0],
            description=words("Room"),
            style=LABEL,
            layout=WIDE,
        )
        named = [(self.page.film(name), name) for name in self.study.films]
        self.films: dict[str, Any] = {
            face: ipywidgets.Dropdown(
                options=[*named, (words("bare glass"), BARE)],
                value=film,
                description=self.page.face(face),
                style=LABEL,
                layout=WIDE,
            )
            for face, film in start.films.faces.items()
            if any(pane.face == face for pane in job.panes)
        }
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
            self.reasons[pane.id] = self._text("", start.panes_out.get(pane.id, ""))
            self.reasons[pane.id].layout.width = "calc(100% - 1.5rem)"
            self.reasons[pane.id].placeholder = words("Why is {pane} left out?", pane=pane.id)
        self.set_point = self._text(words("Cooling set point"), "")
        money = self.page.fmt.currency
        budget = start.budget if start.budget is not None else job.limits.budget
        self.rate = self._text(words("Electricity, {unit}", unit=f"{money}/kWh"), start.electricity_rate)
        self.rate.placeholder = words("the job's own tariff")
        self.budget = self._text(words("Budget, {unit}", unit=money), budget)
        self.override = self._text(words("Why another film"), start.overrides)
        self.override.placeholder = words("The reason for not taking what is recommended")
        self.who = self._text(words("Who decides"), start.who)
        self.note = self._text(words("Note"), start.note)
        self.button = ipywidgets.Button(description=words("Keep this"), button_style="primary")
        self.numbers, self.looks, self.plan, self.message, self.advice = (
            ipywidgets.HTML(layout=WIDE) for _ in range(5)
        )
        self.message.add_class("desk-message")
        self.numbers.add_class("desk-numbers")
        self.looks.add_class("desk-looks")

    def _text(self, label: str, value: Any) -> Any:
        return ipywidgets.Text(
            value="" if value is None else str(value),
            description=label,
            continuous_update=False,
            style=LABEL,
            layout=WIDE,
        )

    def _arrange(self) -> None:
        words = self.page.words
        rows = [part for name in self.panes for part in (self.panes[name], self.reasons[name])]
        panes = ipywidgets.VBox(rows, layout={"max_height": "19rem", "overflow": "auto", "flex": "0 0 auto"})
        left = ipywidgets.VBox(
            [
                self.room,
                *self.films.values(),
                self.advice,
                self.set_point,
                self.rate,
                self.budget,
                _title(words("Panes that get film")),
                panes,
                _title(words("The decision")),
                self.override,
                self.who,
                self.note,
                self.button,
                self.message,
            ],
            layout={"width": "24rem", "flex": "0 0 24rem", "padding": "0 1rem 0 0"},
        )
        right = ipywidgets.VBox(
            [
                self.numbers,
                _title(words("How it looks")),
                self.looks,
                _title(words("The cut plan")),
                self.plan,
            ],
            layout={"flex": "1 1 30rem", "min_width": "0"},
        )
        own = ipywidgets.HTML(style(), layout={"display": "none"})
        self.box = ipywidgets.Box([own, left, right], layout={"display": "flex", "flex_flow": "row wrap"})
        self.box.add_class("desk")

    def _watch(self) -> None:
        self.room.observe(self._room_changed, "value")
        self.set_point.observe(self._set_point_changed, "value")
        for control in (*self.films.values(), *self.panes.values(), self.rate, self.budget):
            control.observe(self._changed, "value")
        for control in (*self.reasons.values(), self.override):
            control.observe(self._said, "value")
        self.button.on_click(self._keep)

    # -- what is said

    def typed(self) -> dict[str, Any]:
        """Return what the controls say, as a person would type it in the log."""
        faces = {face: control.value for face, control in self.films.items()}
        start = self._start.films
        return {
            "date": _today(),
            "who": self.who.value,
            "films": {"faces": {**start.faces, **faces}, "panes": dict(start.panes)},
            "panes_out": {
                name: self.reasons[name].value for name, control in self.panes.items() if not control.value
            },
            "overrides": self.override.value,
            "set_points": {room: text for room, text in self._set_points.items() if text.strip()},
            "electricity_rate": self.rate.value.strip() or None,
            "budget": self.budget.value.strip() or None,
            "note": self.note.value,
        }

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
            raise InputError(_slip(error)) from error

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
        self._quiet = False
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
            parts = (numbers(page, self.room.value, decision.budget), looks(page), cut_plan(page))
        except InputError as error:
            self._say(str(error))
            return
        self._say("")
        self.study, self.page = study, page
        for shown, blocks in zip((self.numbers, self.looks, self.plan), parts, strict=True):
            shown.value = as_html(blocks)
        self._ask(decision)

    def _said(self, _: Any) -> None:
        try:
            self._ask(self.decision())
        except InputError as error:
            self._say(str(error))

    def _ask(self, decision: Decision) -> None:
        """Show a line for each reason that is asked for, and hide the others."""
        words = self.page.words
        for name, control in self.reasons.items():
            _show(control, not self.panes[name].value)
        overrides = self._what_if.overrides(decision)
        _show(self.override, overrides)
        best = self.page.option(self._what_if.recommended)
        self.advice.value = as_html([_note(words("Recommended: {film}.", film=best))])

    def _say(self, text: str) -> None:
        self.message.value = as_html([_note(text)]) if text else ""

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
            self._say(str(error))
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


def _note(text: str) -> Any:

    return Paragraph(text)


def _title(text: str) -> Any:
    label = ipywidgets.Label(value=text, style={"font_weight": "bold"})
    label.layout.margin = "0.8rem 0 0 0"
    return label


def _show(control: Any, wanted: bool) -> None:
    control.layout.display = None if wanted else "none"


def _slip(error: ValidationError) -> str:
    """Return the first slip as field, rule and mend."""
    first = error.errors(include_url=False)[0]
    context = first.get("ctx") or {}
    field = " ".join(str(part).replace("_", " ") for part in first["loc"])
    rule = str(context.get("rule") or context.get("error") or first["msg"])
    hint = f"; {context['hint']}" if context.get("hint") else ""
    return f"{field}: {rule}{hint}"
