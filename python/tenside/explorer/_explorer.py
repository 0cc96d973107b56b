"""The explorer: its state is a brief, and its page is what the brief answers."""

from __future__ import annotations

import importlib
import itertools
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from tenside._native import Answer, Basis, Brief, Conflict, Measure, Relaxation
from tenside.errors import Fault, TensideError, of_faults
from tenside.explorer import _number, _shown, _track, _way_out
from tenside.explorer._control import Control
from tenside.explorer._number import Number

if TYPE_CHECKING:
    from typing import SupportsFloat

MOST_NUMBERS = 60
MOST_KEPT = 12
# As many as a page takes.
MOST_BASES = 20
LONGEST_NAME = 60
# As many in a row as there is room for.
_SIDE_BY_SIDE = {"display": "flex", "flex_flow": "row wrap", "width": "100%"}


class Explorer:
    """A brief with sliders on its numbers; it shows itself in a notebook. Made by `explore`.

    >>> brief = td.Brief("Wash", td.Catalogue.starter()).between("capb-30", 0, 50).qs("water").at_least(td.measure.active_matter, 12)
    >>> explorer = td.explore(brief)
    >>> explorer.keep("mild")
    >>> explorer.set("at-least.active-matter", 18)
    >>> for way in explorer.ways_out: print(way.sentence)
    lower active matter at least 18 % to 15 % or less
    raise line capb-30 between 0 and 50 % to 60 % or more
    >>> explorer.take(explorer.ways_out[1])
    >>> explorer.outcome.exact["capb-30"], list(explorer.kept)
    (Fraction(60, 1), ['mild'])
    """

    def __init__(
        self,
        brief: Brief,
        numbers: str | Measure | Iterable[str | Measure] | Mapping[str, Any] | None = None,
        *,
        bases: Iterable[Basis] = (),
    ) -> None:
        if not isinstance(brief, Brief):
            raise TypeError(f"what is explored is a Brief (found {type(brief).__name__})")
        self._library = _library()
        self._given, self._brief = brief, brief
        self._bases = _checked(bases)
        self._outcome = brief.try_solve()
        self._kept: dict[str, Answer] = {}
        self._ways: list[Relaxation] = []
        self._controls: dict[Number, Control] = {}
        self._build()
        for number, track in _chosen(brief, numbers):
            self._add(number, track)
        self._arrange()
        self._draw()

    def __repr__(self) -> str:
        count, found = len(self._controls), "a formula" if isinstance(self._outcome, Answer) else "no formula"
        return f'<Explorer of "{self._brief.title}": {count} {"number" if count == 1 else "numbers"}, {found}>'

    def _repr_mimebundle_(self, **keywords: Any) -> Any:
        return {**self.widget._repr_mimebundle_(**keywords), "text/plain": repr(self)}

    @property
    def brief(self) -> Brief:
        """The state: the brief as the sliders stand."""
        return self._brief

    @property
    def outcome(self) -> Answer | Conflict:
        """What the brief answers: the Answer, or the Conflict."""
        return self._outcome

    @property
    def kept(self) -> dict[str, Answer]:
        """The answers that were kept, by name."""
        return dict(self._kept)

    @property
    def ways_out(self) -> list[Relaxation]:
        """Every change of one number that would make the brief answerable; none where it has a formula."""
        return list(self._ways)

    @property
    def numbers(self) -> list[str]:
        """The numbers that have a slider, spelt as for `axis`."""
        return [control.word for control in self._controls.values()]

    def control(self, what: str | Measure) -> Control:
        """The slider and the field of a number."""
        found = _number.find(self._brief, what)
        if len(found) != 1 or found[0] not in self._controls:
            raise LookupError(f"there is no slider for {str(what)!r:.200}; there are {', '.join(self.numbers)}")
        return self._controls[found[0]]

    def set(self, what: str | Measure, value: SupportsFloat | str) -> None:
        """Moves a number, with a slider or without one. A value that the brief refuses is raised, and changes nothing."""
        self._turn(self._brief.with_parameter(what, value))

    def take(self, way: Relaxation) -> None:
        """Takes one of the `ways_out`; a number that has no slider yet gets one, so that nothing is changed out of sight."""
        if way not in self._ways:
            raise LookupError("this is none of the changes that would do now; take one of `ways_out`")
        brief = way.taken(self._brief)
        self._turn(brief, _way_out.changed(brief, way.constraint))

    def keep(self, name: str | None = None) -> None:
        """Keeps the present answer under a name, beside those that were kept; a conflict is not kept."""
        if name is not None and not isinstance(name, str):
            raise TypeError(f"a name is text (found {type(name).__name__})")
        called = (name or "").strip() or next(
            each for each in (f"variant {count}" for count in range(1, MOST_KEPT + 2)) if each not in self._kept
        )
        if called in self._kept:
            raise _refused(
                "duplicate", f"there is a variant {called!r} already", "give it another name, or drop that one"
            )
        if len(called) > LONGEST_NAME:
            raise _refused(
                "out-of-range",
                f"the name is {len(called)} characters long; allowed: {LONGEST_NAME}",
                "take a shorter one",
            )
        if len(self._kept) == MOST_KEPT:
            raise _refused(
                "out-of-range",
                f"{MOST_KEPT} variants are kept, and no more fit side by side",
                "drop one first: `drop(name)`",
            )
        if not isinstance(self._outcome, Answer):
            raise _refused("contradiction", "there is no formula to keep", "take a way out first")
        if self._outcome.grid_refusal is not None:
            raise _refused(
                "contradiction",
                f"there is no formula that could be weighed: {self._outcome.grid_refusal.sentence}",
                "move a number first",
            )
        self._kept[called] = self._outcome
        self._draw_kept()

    def drop(self, name: str) -> None:
        """No longer keeps the variant of that `name`."""
        if name not in self._kept:
            raise LookupError(f"there is no variant {name!r:.200}; there are: {', '.join(self._kept) or 'none'}")
        del self._kept[name]
        self._draw_kept()

    def reset(self) -> None:
        """Back to the brief that was given; what was kept stays."""
        self._turn(self._given)

    def _build(self) -> None:
        """The page, empty."""
        library = self._library
        self._message, self._bar, self._page, self._heading, self._table = (
            library.HTML(layout={"margin": "0 0 .4rem"}) for _ in range(5)
        )
        self._sliders = library.Box(layout=_SIDE_BY_SIDE)
        self._way_buttons: list[Any] = []
        self._way_box = library.VBox(layout={"align_items": "flex-start", "margin": "0 0 .6rem"})
        self._way_box.add_class("tenside-ways")
        self._name = library.Text(placeholder="name of this one", layout={"width": "12rem"})
        keep = library.Button(description="keep this one", button_style="primary", layout={"width": "auto"})
        reset = library.Button(description="back to the brief given", layout={"width": "auto"})
        keep.on_click(lambda _: self._from_page(self._keep_named))
        reset.on_click(lambda _: self._from_page(self.reset))
        row = library.HBox([self._name, keep, reset], layout={"flex_flow": "row wrap", "align_items": "center"})
        style = library.HTML(_shown.STYLE, layout={"display": "none"})
        self._page.layout.flex, self._table.layout.flex = "1 1 38rem", "1 1 auto"
        self._page.layout.margin = "0 1.5rem .4rem 0"
        # A box may be no wider than its page, so that wide tables scroll in themselves.
        self._page.layout.min_width = self._table.layout.min_width = "0"
        self._page.layout.max_width = self._table.layout.max_width = "100%"
        sheets = library.Box([self._page, self._table], layout=_SIDE_BY_SIDE)
        parts = [style, self._sliders, row, self._message, self._bar, self._heading, self._way_box, sheets]
        self.widget = library.VBox(parts, layout={"width": "100%"})
        self.widget.add_class("tenside-explorer")

    def _keep_named(self) -> None:
        self.keep(self._name.value)
        self._name.value = ""

    def _add(self, number: Number, track: _track.Track | None) -> None:
        spelling = number.spelling(self._brief)
        word, unit = _number.word_and_unit(self._brief, spelling)
        value = number.value(self._brief)
        if value is None:
            raise LookupError(f"the brief has no number {spelling!r:.200}")
        track = (track or _track.usual(value, unit)).reaching(value)
        self._controls[number] = Control(self._library, number, word, unit, track, self._moved)

    def _arrange(self) -> None:
        """The parts of a split stand together in one frame."""
        library, boxes, frames = self._library, [], {}
        by = {split.name: split.by for split in self._brief.splits}
        for number, control in self._controls.items():
            if number.kind != "part":
                boxes.append(control.widget)
                continue
            if number.split not in frames:
                title = library.HTML(
                    _shown.heading(f"{number.split}, parts by {by[number.split]}"), layout={"margin": "0"}
                )
                frames[number.split] = library.Box(layout=_SIDE_BY_SIDE)
                frame = {
                    "border": "1px solid #c9d4d6",
                    "padding": "0 .6rem .2rem",
                    "margin": "0 0 .5rem 0",
                    "width": "100%",
                }
                boxes.append(library.VBox([title, frames[number.split]], layout=frame))
            frames[number.split].children += (control.widget,)
        self._sliders.children = boxes

    def _moved(self, control: Control, value: str) -> None:
        self._from_page(lambda: self.set(control.number.spelling(self._brief), value))

    def _from_page(self, work: Any) -> None:
        """What somebody did on the page: a refusal is told there."""
        try:
            work()
        except (TensideError, LookupError, ValueError) as error:
            self._message.value = _shown.message(f"not taken: {error}. Below still stands what was there before.")

    def _turn(self, brief: Brief, changed: Iterable[Number] = ()) -> None:
        """The one way to another state."""
        outcome = brief.try_solve()
        self._brief, self._outcome = brief, outcome
        gone = [number for number in self._controls if number.value(brief) is None]
        new = [number for number in changed if number not in self._controls]
        for number in gone:
            self._controls.pop(number).widget.close()
        for number in new:
            self._add(number, None)
        if gone or new:
            self._arrange()
        self._draw()

    def _draw(self) -> None:
        """The whole page as the brief stands."""
        outcome = self._outcome
        self._message.value = ""
        for control in self._controls.values():
            control.show(self._brief, outcome)
        if isinstance(outcome, Answer):
            self._ways = []
            self._bar.value, self._heading.value = _shown.bar(outcome.exact), ""
            self._page.value = outcome.page(*self._bases).html()
        else:
            self._ways = [way for way in outcome.relaxations() if way is not None]
            self._bar.value = ""
            self._heading.value = _shown.heading(
                "No formula. Take a way out:" if self._ways else "No formula, and no change of one number gives one."
            )
            self._page.value = outcome._repr_html_()
        self._draw_ways()
        self._draw_kept()

    def _draw_ways(self) -> None:
        """A button for each way out; buttons are used again, since every new one stays in the page's memory."""
        while len(self._way_buttons) < len(self._ways):
            button = self._library.Button(layout={"width": "auto", "max_width": "100%"})
            index = len(self._way_buttons)
            button.on_click(lambda _, index=index: self._from_page(lambda: self.take(self._ways[index])))
            self._way_buttons.append(button)
        for button, way in zip(self._way_buttons, self._ways, strict=False):
            button.description = button.tooltip = way.sentence
        self._way_box.children = tuple(self._way_buttons[: len(self._ways)])

    def _draw_kept(self) -> None:
        if not self._kept:
            self._table.value = ""
            return
        numbers = [(number, control.unit) for number, control in self._controls.items()]
        self._table.value = _shown.heading("Kept, side by side") + _shown.kept(
            self._kept, self._outcome, numbers, self._bases
        )


def _library() -> Any:
    try:
        return importlib.import_module("ipywidgets")
    except ImportError as error:
        raise ImportError("exploring a brief needs ipywidgets: install tenside with the extra `explore`") from error


def _chosen(brief: Brief, numbers: Any) -> list[tuple[Number, _track.Track | None]]:
    """The numbers that get a slider, and where it goes if that is stated."""
    chosen: dict[Number, _track.Track | None] = {}
    if numbers is None:
        chosen = dict.fromkeys(_number.usual(brief))
    else:
        for what in _words(numbers):
            track = _track.stated(numbers[what], f"{str(what):.80}") if isinstance(numbers, Mapping) else None
            for number in _number.find(brief, what):
                if number in chosen:
                    raise _refused(
                        "duplicate", f"the number {number.spelling(brief)!r} would get two sliders", "name it once"
                    )
                chosen[number] = track
            if len(chosen) > MOST_NUMBERS:
                break
    if not chosen:
        raise _refused(
            "missing",
            "there is no number that could be moved",
            "name one, of a brief with a split, a requirement or a fixed line",
        )
    if len(chosen) > MOST_NUMBERS:
        raise _refused("out-of-range", f"there would be more than {MOST_NUMBERS} sliders", "name those that matter")
    return list(chosen.items())


def _checked(bases: Iterable[Basis]) -> tuple[Basis, ...]:
    found = tuple(itertools.islice(bases, MOST_BASES + 1))
    wrong = next((each for each in found if not isinstance(each, Basis)), None)
    if wrong is not None:
        raise TypeError(f"the measures are shown on bases (found {type(wrong).__name__})")
    if len(found) > MOST_BASES:
        raise _refused("out-of-range", f"there are more than {MOST_BASES} bases", "take fewer")
    return found


def _words(numbers: Any) -> Iterable[str | Measure]:
    words = [numbers] if isinstance(numbers, (str, Measure)) else numbers
    if not isinstance(words, Iterable):
        raise TypeError(f"numbers are words or measures (found {type(numbers).__name__})")
    for what in words:
        if not isinstance(what, (str, Measure)):
            raise TypeError(f"a number is named by a word or a measure (found {type(what).__name__})")
        yield what


def _refused(kind: Any, words: str, remedy: str) -> TensideError:
    text = f"{words}; {remedy}"
    return of_faults(text, [Fault(kind, "", None, words, remedy=remedy, text=text)])
