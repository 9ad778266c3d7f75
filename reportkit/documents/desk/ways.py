"""Ways to choose from, put together and named at the table: kept in the job, priced, and taken out again."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from typing import TYPE_CHECKING, Any

import ipywidgets
from pydantic import ValidationError

from reportkit.base.errors import InputError
from reportkit.documents.blocks import Paragraph
from reportkit.documents.desk.answers import as_html
from reportkit.documents.desk.controls import WIDE, note, press, said, show, slip, text, title
from reportkit.documents.language.faults import error_in_words
from reportkit.documents.runs import strong
from reportkit.job import Choice, drop_way, keep_way
from reportkit.job.model import Alternative
from reportkit.study.ways import MOST

if TYPE_CHECKING:
    from pathlib import Path

    from reportkit.documents.page import Page
    from reportkit.job import Job

FilmByPane = tuple[str | None, ...]


class KeptWays:
    """The ways that stand in the job beside what is offered, and what keeps one more.

    Parameters
    ----------
    folder
        The job's folder.
    page
        The reader's words and names.
    read
        Returns the job as its files stand now, its panes those of the films by pane.
    wanted
        Returns the films that the controls name; raises `InputError` where they cannot be read.
    offered
        Returns the films on the panes of what the job offers as its files stand.
    taken
        Puts a way into the controls; raises `InputError` where that cannot be.
    placed
        Returns, of films wanted on the panes, those that can go there; None where one is not known here.
    price
        Returns what films on the panes cost [currency]; None where they cannot be cut.

    Attributes
    ----------
    name, keep
        The name to give, and the button.
    rows, takes, drops
        A line and two buttons for each way kept.
    box
        All of it.
    """

    def __init__(
        self,
        folder: Path,
        page: Page,
        *,
        read: Callable[[], Job],
        wanted: Callable[[], Choice],
        offered: Callable[[Job], FilmByPane],
        taken: Callable[[Alternative], None],
        placed: Callable[[FilmByPane], FilmByPane | None],
        price: Callable[[FilmByPane], Decimal | None],
    ) -> None:
        self._folder, self._page = folder, page
        self._read, self._wanted, self._offered = read, wanted, offered
        self._taken, self._placed, self._price = taken, placed, price
        words = page.words
        self.name = text(words("Name of this way"))
        self.name.placeholder = words("Such as: Cooler bedroom")
        self.keep = press(words("Keep as a way to choose"))
        self.message = ipywidgets.HTML(layout=WIDE)
        self.message.add_class("desk-message")
        self.rows = [ipywidgets.HTML(layout=WIDE) for _ in range(MOST - 1)]
        self.takes = [press(words("Take this")) for _ in self.rows]
        self.drops = [press(words("Remove")) for _ in self.rows]
        parts = zip(self.rows, self.takes, self.drops, strict=True)
        lines = [ipywidgets.Box(line) for line in parts]
        for line in lines:
            line.add_class("desk-way")
        self._lines = lines
        self._kept: tuple[Alternative, ...] = ()
        self.keep.on_click(self._keep)
        for at, (take, drop) in enumerate(zip(self.takes, self.drops, strict=True)):
            take.on_click(lambda _, at=at: self._take(at))
            drop.on_click(lambda _, at=at: self._drop(at))
        self.box = ipywidgets.VBox(
            [title(words("Ways to choose from")), *lines, self.name, self.keep, self.message]
        )
        self._show(read())

    def _show(self, job: Job) -> None:
        self._kept = job.alternatives[: MOST - 1]
        for at, line in enumerate(self._lines):
            show(line, at < len(self._kept))
        for way, row, take, drop in zip(self._kept, self.rows, self.takes, self.drops, strict=False):
            row.value = as_html([Paragraph([strong(f"{way.name}: "), self._told(job, way)])])
            take.tooltip = self._page.words("Take {name}", name=way.name)
            drop.tooltip = self._page.words("Remove {name}", name=way.name)

    def _told(self, job: Job, way: Alternative) -> str:
        """Return the films of a way and its price."""
        films = self._on(way, job)
        if films is None:
            return self._page.words("films that came into the job since")
        named = ", ".join(self._page.film(film) for film in dict.fromkeys(films) if film)
        price = self._price(films)
        return named if price is None else f"{named}, {self._page.fmt.money(price)}"

    def _keep(self, _: Any) -> None:
        words, name = self._page.words, self.name.value.strip()
        if not name:
            self._say(words("Not kept yet: give this way a name."))
            return
        try:
            try:
                way = Alternative(name=name, films=self._wanted())
            except ValidationError as error:
                raise InputError(slip(error)) from error
            job = self._read()
            others = [other for other in job.alternatives if other.name.strip() != name]
            films = self._on(way, job)
            twin = next((other.name for other in others if self._on(other, job) == films), None)
            if films == self._offered(job):
                self._say(words("Not kept: this is what is offered already."))
            elif twin is not None:
                self._say(words("Not kept: {name} has the same films.", name=twin))
            elif len(others) >= MOST - 1:
                self._say(words("Not kept: two stand beside what is offered already. Remove one first."))
            else:
                path = keep_way(self._folder, way)
                self._changed(words("{name} is kept in {file}.", name=name, file=path.name))
                self.name.value = ""
        except InputError as error:
            self._say(
                words(
                    "Not kept, the job would hold a mistake: {mistake}", mistake=error_in_words(error, words)
                )
            )

    def _take(self, at: int) -> None:
        words, way = self._page.words, self._kept[at]
        try:
            self._taken(way)
            self._say(words("The controls say {name} now: keep it, or change it.", name=way.name))
        except InputError as error:
            self._say(error_in_words(error, words))

    def _drop(self, at: int) -> None:
        words, name = self._page.words, self._kept[at].name
        try:
            path = drop_way(self._folder, name)
            self._changed(words("{name} is taken out of {file}.", name=name, file=path.name))
        except InputError as error:
            self._say(
                words(
                    "Not kept, the job would hold a mistake: {mistake}", mistake=error_in_words(error, words)
                )
            )

    def _changed(self, what: str) -> None:
        self._show(self._read())
        then = self._page.words("The next proposal prints what stands here.")
        self._say(f"{what} {then}")

    def _say(self, what: str) -> None:
        self.message.value = said([note(what)])

    def _on(self, way: Alternative, job: Job) -> FilmByPane | None:
        """Return the film on each pane as the way puts it, where it can go."""
        return self._placed(tuple(way.film_on(pane) for pane in job.panes))
