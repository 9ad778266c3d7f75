"""The panes in or out, each with its reason; one of a row of several can be left out on its own."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from typing import TYPE_CHECKING, Any

import ipywidgets

from reportkit.documents.blocks import Block, Paragraph
from reportkit.documents.desk.answers import as_html
from reportkit.documents.desk.controls import WIDE, choose, show, text
from reportkit.documents.runs import strong
from reportkit.documents.sections.shaped import box_and_shape
from reportkit.job.model.singled import numbered

if TYPE_CHECKING:
    from collections.abc import Mapping

    from reportkit.documents.page import Page
    from reportkit.job import Pane


class PaneList:
    """A line to tick for each row of panes, and for each pane that stands for itself.

    Parameters
    ----------
    page
        The reader's words and names.
    panes
        The panes of the job.
    out
        The reason for each pane that is out, by its name.
    lapsed
        Panes that were decided on and are no longer there.
    changed, said
        Called after a pane went in or out, and after a reason was typed.
    single
        Makes one of a row of several a pane of its own and returns the panes then.

    Attributes
    ----------
    ticks, reasons
        In or out, and why out, by the pane's name.
    apart
        The list to choose one of a row of several from, by the row's name.
    told, box
        What is said above them, and all of it.
    """

    def __init__(
        self,
        page: Page,
        panes: Sequence[Pane],
        out: Mapping[str, str],
        *,
        lapsed: Sequence[str],
        changed: Callable[[Any], None],
        said: Callable[[Any], None],
        single: Callable[[str], Sequence[Pane]],
    ) -> None:
        self._page, self._changed, self._said, self._single = page, changed, said, single
        self.ticks: dict[str, Any] = {}
        self.reasons: dict[str, Any] = {}
        self.apart: dict[str, Any] = {}
        self._panes: tuple[Pane, ...] = ()
        self.told = ipywidgets.HTML(as_html(self._about(panes, lapsed)), layout=WIDE)
        self.box = ipywidgets.VBox()
        self._list(panes, out)

    def place(self, panes: Sequence[Pane], out: Mapping[str, str]) -> None:
        """Put those panes out that have a reason, and all others in."""
        self._list(panes, out)
        for name, tick in self.ticks.items():
            tick.value = name not in out
            if name in out:
                self.reasons[name].value = out[name]

    def tell_bare(self, names: Collection[str]) -> None:
        """Say at the panes that are in which of them stay bare all the same."""
        for pane in self._panes:
            tick = self.ticks[pane.id]
            bare = f" · {self._page.words('stays bare')}" if tick.value and pane.id in names else ""
            tick.description = self._told_of(pane) + bare

    def out(self) -> dict[str, str]:
        """Return the reason for each pane that is out, empty where none is typed."""
        return {name: self.reasons[name].value for name, tick in self.ticks.items() if not tick.value}

    def inside(self) -> tuple[Pane, ...]:
        """Return the panes that are in."""
        return tuple(pane for pane in self._panes if self.ticks[pane.id].value)

    def ask(self) -> None:
        """Show a line for the reason of each pane that is out, and for one more only at a row that is in."""
        for name, tick in self.ticks.items():
            show(self.reasons[name], not tick.value)
            if name in self.apart:
                show(self.apart[name], tick.value)

    def _about(self, panes: Sequence[Pane], lapsed: Sequence[str]) -> list[Block]:
        words, told = self._page.words, list[Block]()
        if lapsed:
            gone = words(
                "No longer in the survey, so what was decided of it does not apply: {panes}.",
                panes=", ".join(dict.fromkeys(lapsed)),
            )
            told.append(Paragraph([strong(gone)]))
        several = next((pane.row for pane in panes if pane.quantity > 1), None)
        if several:
            one = words("{pane}.1 is the first of {pane} from the left, seen from outside.", pane=several)
            told.append(Paragraph(one, role="note"))
        return told

    def _list(self, panes: Sequence[Pane], out: Mapping[str, str]) -> None:
        """Make a line for each pane that has none yet, and put all of them in order."""
        words, lines = self._page.words, [self.told]
        self._panes = tuple(panes)
        for kept in (self.ticks, self.reasons, self.apart):
            for name in kept.keys() - {pane.id for pane in panes}:
                kept.pop(name).close()
        for pane in panes:
            if pane.id not in self.ticks:
                tick = ipywidgets.Checkbox(value=pane.id not in out, indent=False, layout=WIDE)
                tick.observe(self._changed, "value")
                asked = words("Why is {pane} left out?", pane=pane.id)
                self.ticks[pane.id], self.reasons[pane.id] = tick, text(asked, out.get(pane.id, ""))
                self.reasons[pane.id].observe(self._said, "value")
            self.ticks[pane.id].description = self._told_of(pane)
            lines += [self.ticks[pane.id], self.reasons[pane.id]]
            if pane.quantity > 1:
                lines.append(self._one_of(pane))
            elif pane.id in self.apart:
                self.apart.pop(pane.id).close()
        self.ticks = {pane.id: self.ticks[pane.id] for pane in panes}
        self.box.children = tuple(lines)
        self.ask()

    def _told_of(self, pane: Pane) -> str:
        kind = None if pane.shape is None else pane.shape.kind
        size = box_and_shape(self._page, pane.width, pane.height, kind)
        count = f" ×{pane.quantity}" if pane.quantity > 1 else ""
        return f"{pane.id}{count} · {self._page.room(pane.room)} · {size}"

    def _one_of(self, pane: Pane) -> Any:
        """Return the list to choose one of a row of several from, without those that stand for themselves."""
        taken = {one.number for one in self._panes if one.row == pane.id and one.number}
        ones = numbered(pane.id, pane.quantity + len(taken))
        options = [(self._page.words("all stay in"), "")]
        options += [(name, name) for number, name in ones if number not in taken]
        if pane.id not in self.apart:
            self.apart[pane.id] = choose(
                self._page.words("Leave out one of {pane}", pane=pane.id), options, ""
            )
            self.apart[pane.id].observe(self._take_apart, "value")
        else:
            self.apart[pane.id].options = options
        return self.apart[pane.id]

    def _take_apart(self, change: Any) -> None:
        name = change["new"]
        if not name:
            return
        self._list(self._single(name), {name: ""})
        self._changed(change)
