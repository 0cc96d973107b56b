"""What the explorer shows besides the pages of results: the bar of a composition, and what was kept side by side. HTML, everything escaped."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from html import escape

from tenside._native import Answer, Basis, Brief, Conflict, DifferenceLine, Measured
from tenside.explorer._number import Number, text
from tenside.plot._style import COLOURS

INK, PAPER = "#1b1b1b", "#ffffff"
# On these of the eight, white letters are read better than dark ones.
_DARK = ("#0072B2", "#D55E00")
# Narrower pieces have no room for letters; the list under the bar names all of them.
_NARROWEST_NAMED = 9

STYLE = """<style>
.tenside-explorer { font-family: system-ui, sans-serif; overflow: hidden }
.tenside-explorer .widget-html, .tenside-explorer .widget-html-content { line-height: 1.35; overflow: visible; height: auto }
.tenside-explorer .widget-html-content { white-space: normal }
.tenside-explorer button { height: auto; min-height: 2rem; padding: .25rem .8rem; line-height: 1.35; white-space: normal; text-align: left }
.tenside-explorer .tenside-ways button { background: #fff3cd; color: #4d3b00; border-left: 4px solid #b58900 }
.tenside-explorer .tenside-ways button::before { content: "\\2192\\00a0" }
.tenside-explorer table.tenside-kept { border-collapse: collapse }
.tenside-explorer table.tenside-kept :is(td, th) { padding: .15rem .8rem .15rem 0; border-bottom: 1px solid #e3e8ea; text-align: right; white-space: nowrap }
.tenside-explorer table.tenside-kept :is(td, th):first-child { text-align: left }
.tenside-explorer table.tenside-kept th { vertical-align: bottom }
.tenside-explorer table.tenside-kept small { color: #5a5a5a }
</style>"""


def bar(exact: Mapping[str, Fraction]) -> str:
    """A composition as one bar, a piece for each line, and under it the list of all of them."""
    pieces, names = [], []
    for index, (line, share) in enumerate(exact.items()):
        fill, letters = _fill(index)
        shown = percent(share)
        name = escape(line)
        if share > 0:
            inside = f"{name}<br>{shown}" if share >= _NARROWEST_NAMED else ""
            pieces.append(
                f'<div title="{name}: {shown} %" style="width: {float(share):.4f}%; {fill}; color: {letters}; overflow: hidden; white-space: nowrap; '
                f"text-overflow: ellipsis; font-size: 12px; line-height: 1.25; padding: 4px 0; text-align: center; box-sizing: border-box; "
                f'border-right: 1px solid {PAPER}">{inside}</div>'
            )
        names.append(
            f'<span style="display: inline-block; margin-right: 1.1rem; white-space: nowrap"><span style="display: inline-block; width: .8em; '
            f'height: .8em; margin-right: .35em; {fill}"></span>{name} {shown}</span>'
        )
    described = escape(", ".join(f"{line} {percent(share)} %" for line, share in exact.items()), quote=True)
    return (
        f'<div role="img" aria-label="composition in % w/w: {described}" style="display: flex; width: 100%; height: 42px; border-radius: 4px; '
        f'overflow: hidden">{"".join(pieces)}</div>'
        f'<div style="margin-top: .35rem; font-size: 12px"><span style="margin-right: .6rem">% w/w</span>{"".join(names)}</div>'
    )


def percent(share: Fraction) -> str:
    """A percentage with two decimals; one that is there and would be shown as nothing, as less than the least."""
    shown = f"{float(share):.2f}"
    return "under 0.01" if shown == "0.00" and share else shown


def message(words: str) -> str:
    """What was not taken, and why."""
    return f'<p role="alert" style="margin: .3rem 0; padding: .3rem .6rem; background: #fde8e0; color: #6b2400; border-left: 4px solid #d55e00">{escape(words)}</p>'


def heading(words: str) -> str:
    """A small heading."""
    return f'<h3 style="margin: .5rem 0 .2rem; color: #2b6f77">{escape(words)}</h3>'


def kept(
    variants: Mapping[str, Answer],
    now: Answer | Conflict,
    numbers: Sequence[tuple[Number, str]],
    bases: Sequence[Basis],
) -> str:
    """Variants side by side, the present one last, each with its difference to the first that was kept."""
    shown: dict[str, Answer | None] = {**variants}
    present = "now"
    while present in shown:
        present += " "
    shown[present] = now if isinstance(now, Answer) and now.grid_refusal is None else None
    first = next(iter(variants.values()))
    head = "".join(f"<th>{escape(name)}</th>" for name in shown)
    columns = [now.brief if answer is None else answer.brief for answer in shown.values()]
    rows = [
        _row(f"{number.label(first.brief)}{f', {unit}' if unit else ''}", [_asked(brief, number) for brief in columns])
        for number, unit in numbers
    ]
    rows += [_section("lines, % w/w, and the difference to the first", len(shown))]
    changes = [
        None if answer is None else {row.name: row for row in first.formula.difference(answer.formula).lines}
        for answer in shown.values()
    ]
    lines = dict.fromkeys(name for change in changes if change is not None for name in change)
    for name in lines:
        cells = [
            "no formula" if change is None else _changed(change.get(name), index > 0)
            for index, change in enumerate(changes)
        ]
        rows.append(_row(name, cells))
    for basis in bases or [Basis()]:
        rows.append(_section(f"measures, {basis}, and the difference of typical values to the first", len(shown)))
        readings = [
            None if answer is None else {read.measure.name: read for read in answer.formula.measures(basis)}
            for answer in shown.values()
        ]
        for name in dict.fromkeys(name for reading in readings if reading is not None for name in reading):
            those = [None if reading is None else reading.get(name) for reading in readings]
            rows.append(
                _row(
                    name,
                    [
                        _read(reading, those[0]) if answer is not None else "no formula"
                        for reading, answer in zip(those, shown.values(), strict=True)
                    ],
                )
            )
    return f'<div style="overflow-x: auto"><table class="tenside-kept"><thead><tr><th></th>{head}</tr></thead><tbody>{"".join(rows)}</tbody></table></div>'


def _row(name: str, cells: Sequence[str]) -> str:
    """A row; the cells are escaped already."""
    return f"<tr><td>{escape(name)}</td>{''.join(f'<td>{cell}</td>' for cell in cells)}</tr>"


def _section(words: str, columns: int) -> str:
    return (
        f'<tr><td colspan="{columns + 1}" style="padding-top: .6rem; color: #2b6f77"><b>{escape(words)}</b></td></tr>'
    )


def _asked(brief: Brief, number: Number) -> str:
    value = number.value(brief)
    # A fixed line that was given a range has no such number.
    return "–" if value is None else escape(text(value))


def _read(reading: Measured | None, first: Measured | None) -> str:
    if reading is None:
        return "–"
    now, before = (
        each.value.typical if each is not None and each.value is not None else None for each in (reading, first)
    )
    return escape(reading.text()) + ("" if now is None or before is None else _difference(now - before))


def _difference(change: Fraction) -> str:
    """A difference behind a value: nothing where there is none, four decimals where two would say nothing."""
    if not change:
        return ""
    amount = abs(float(change))
    shown = f"{float(change):+.{2 if amount >= 0.005 else 4}f}" if amount >= 0.00005 else "by under 0.0001"
    return f" <small>{shown}</small>"


def _changed(row: DifferenceLine | None, with_change: bool) -> str:
    if row is None or row.after is None:
        return "–"
    return percent(row.after) + (_difference(row.change) if with_change and row.change is not None else "")


def _fill(index: int) -> tuple[str, str]:
    """How the so-manyth piece is filled, and the colour of letters on it; past the eight colours, striped."""
    colour = COLOURS[index % len(COLOURS)]
    letters = PAPER if colour in _DARK else INK
    turn = index // len(COLOURS)
    if turn == 0:
        return f"background: {colour}", letters
    angle = (45, 135, 0)[(turn - 1) % 3]
    return f"background: repeating-linear-gradient({angle}deg, {colour} 0 6px, {PAPER} 6px 8px)", INK
