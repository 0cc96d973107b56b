"""One number of a brief on the page: its name, a slider, a field to type in, its unit, and how far the recipe keeps its structure."""

from __future__ import annotations

from collections.abc import Callable
from html import escape
from typing import Any

from tenside._native import Answer, Brief, Conflict
from tenside.errors import TensideError
from tenside.explorer._number import Number, text
from tenside.explorer._track import Track

_FAINT = "color: #5a5a5a; font-size: 12px"


class Control:
    """A number's slider and field. The slider counts whole steps; what it stands for is written in the field, exactly."""

    def __init__(
        self, library: Any, number: Number, word: str, unit: str, track: Track, moved: Callable[[Control, str], None]
    ) -> None:
        self.number, self.word, self.unit, self.track = number, word, unit, track
        self._moved, self._quiet = moved, False
        self.slider = library.IntSlider(
            min=0, max=track.last, readout=False, layout={"flex": "1 1 6rem", "min_width": "4rem", "width": "auto"}
        )
        self.field = library.Text(continuous_update=False, layout={"width": "5rem", "flex": "0 0 auto"})
        self._name = library.HTML(layout={"flex": "0 1 9rem", "width": "9rem", "min_width": "4.5rem", "margin": "0"})
        self._unit = library.HTML(layout={"flex": "0 0 7.4rem", "width": "7.4rem", "margin": "0 0 0 .3rem"})
        self._hint = library.HTML(layout={"margin": "0"})
        row = library.HBox(
            [self._name, self.slider, self.field, self._unit], layout={"align_items": "center", "overflow": "visible"}
        )
        self.widget = library.VBox(
            [row, self._hint],
            layout={"flex": "1 1 27rem", "max_width": "34rem", "margin": "0 1rem .3rem 0", "overflow": "visible"},
        )
        self.slider.observe(lambda change: self._said(text(self.track.value(change["new"]))), "value")
        self.field.observe(lambda change: self._said(change["new"]), "value")

    def _said(self, value: str) -> None:
        if not self._quiet:
            self._moved(self, value.strip())

    def show(self, brief: Brief, outcome: Answer | Conflict) -> None:
        """Shows the number as it stands in this brief; nothing is taken for a move."""
        spelling = self.number.spelling(brief)
        value = self.number.value(brief)
        if value is None:
            return
        label = self.number.label(brief)
        self._quiet = True
        try:
            track = self.track.reaching(value)
            if track != self.track:
                self.track, self.slider.max = track, track.last
            self.slider.value = track.nearest(value)
            self.field.value = text(value)
            self.slider.tooltip = (
                f"{label}: {text(track.low)} to {text(track.high)} {self.unit} in steps of {text(track.step)}"
            )
            self._name.value = f'<span style="line-height: 1.2">{escape(label)}</span>'
            self._unit.value = f"<span>{escape(self.unit)}{self._share(brief)}</span>"
            self._hint.value = f'<div style="{_FAINT}; margin: -4px 0 0">{escape(_structure(outcome, spelling))}</div>'
        finally:
            self._quiet = False

    def _share(self, brief: Brief) -> str:
        """What a part is of the whole of its split."""
        if self.number.kind != "part":
            return ""
        parts = next(split.parts for split in brief.splits if split.name == self.number.split)
        whole = sum(part for _, part in parts)
        return f" = {float(100 * dict(parts)[self.number.name] / whole):.2f} %"


def _structure(outcome: Answer | Conflict, spelling: str) -> str:
    """From where to where the recipe keeps its structure, in the library's words."""
    if not isinstance(outcome, Answer):
        return ""
    try:
        found = outcome.parameter_range(spelling)
    except TensideError:
        # Of an objective that has no such ranges.
        return ""
    return found.sentence.rpartition(": ")[2] if found is not None else ""
