"""A tornado chart: what moves a measure most when one thing is turned at a time."""

from __future__ import annotations

from collections.abc import Mapping
from reprlib import repr as brief_repr
from typing import Any

from tenside._native import Brief, Measure, Sweep, axis
from tenside.plot._style import COLOURS, FAINT, INK, axes, below, calm, label, no_formula, picture, plain, short


@picture
def tornado(brief: Brief, measure: Measure, ends: Mapping[str | Measure, tuple[Any, Any]], *, ax: Any = None) -> Any:
    """What moves a measure most: each thing named in `ends` is turned to its two values, everything else as the brief has it, and the brief
    answered anew. The widest bar stands on top.

    What can be turned, and how it is spelt, is what `td.axis` takes. An end at which there is no formula has no bar; a hatched mark says so.
    Gives the matplotlib axes.

    >>> import tenside as td
    >>> from tenside import measure as m, plot
    >>> prices = {"sci-powder": 6, "capb-30": 3, "kaolin": 1}
    >>> brief = td.Brief("Wash", td.Catalogue.starter(), prices=prices).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash")
    >>> brief = brief.qs("kaolin").target(m.active_matter, 50)
    >>> axes = plot.tornado(brief, m.cost, {"price.kaolin": (0.5, 2), "price.sci-powder": (5, 7), m.active_matter: (48, 52)})
    >>> [text.get_text().split(",")[0] for text in axes.get_yticklabels()]
    ['price.sci-powder', 'price.kaolin', 'target.active-matter']
    """
    if not ends:
        raise ValueError("there is nothing to turn; name at least one axis with its two values")
    now = Sweep(brief, measures=[measure]).table()
    base = now.column(measure)[0]
    if base is None:
        reason = (
            "; ".join(now.read_conflict(now.column("conflict")[0]))
            if not now.column("feasible")[0]
            else f"it has no {measure.name}"
        )
        raise ValueError(f"the brief as it is has no bar to start from: {reason}")
    bars = sorted((_bar(brief, measure, what, pair) for what, pair in ends.items()), key=lambda bar: -_reach(bar, base))
    ax = axes(ax, (7.2, 1.5 + 0.55 * len(bars)))
    reach = max(_reach(bar, base) for bar in bars) or abs(base) * 0.01 or 1.0
    for row, (_, pair, values) in enumerate(bars):
        sides = _sides(values, base)
        for index, (end, value) in enumerate(zip(pair, values)):
            outward = sides[index]
            if value is None:
                ax.barh(
                    row, outward * reach * 0.08, left=base, height=0.5, zorder=2, **{**no_formula(), "edgecolor": FAINT}
                )
            else:
                # Two bars on the same side lie one in the other.
                same = values[1 - index] is not None and sides[0] == sides[1]
                thin = same and abs(value - base) < abs(values[1 - index] - base)
                ax.barh(
                    row,
                    value - base,
                    left=base,
                    height=0.28 if thin else 0.62,
                    color=COLOURS[index],
                    zorder=3 if thin else 2,
                )
        _ends(ax, row, pair, values, sides, base, reach)
    ax.axvline(base, color=INK, linewidth=1.0, zorder=4)
    ax.set_yticks(range(len(bars)), [text for text, _, _ in bars])
    ax.set_ylim(len(bars) - 0.5, -0.5)
    ax.set_xlabel(label(now, now.column_name(measure)))
    ax.margins(x=0.16)
    calm(ax, f"{brief.title}: one thing turned at a time")
    ax.spines["left"].set_visible(False)
    ax.tick_params(axis="y", length=0)
    _legend(ax, base, any(value is None for _, _, values in bars for value in values))
    return ax


def _bar(
    brief: Brief, measure: Measure, what: str | Measure, pair: tuple[Any, Any]
) -> tuple[str, tuple[str, str], list[float | None]]:
    """What is turned, its two values as words, and the measure at each."""
    if len(pair) != 2:
        raise ValueError(f"{brief_repr(what)} takes two values, the lower first (found {len(pair)})")
    table = Sweep(brief, axis(what, pair), measures=[measure]).table()
    name = table.columns[0]
    first, second = (plain(cell) if isinstance(cell, str) else short(cell) for cell in table.column(name))
    return label(table, name), (first, second), table.column(measure)


def _reach(bar: tuple[str, tuple[str, str], list[float | None]], base: float) -> float:
    known = [value for value in bar[2] if value is not None] + [base]
    return max(known) - min(known)


def _sides(values: list[float | None], base: float) -> list[int]:
    """To which side each end goes; one without a value goes where the other does not."""
    sides = [0 if value is None or value == base else (1 if value > base else -1) for value in values]
    return [side or (-sides[1 - index] or (1 if index else -1)) for index, side in enumerate(sides)]


def _ends(
    ax: Any, row: int, pair: tuple[str, str], values: list[float | None], sides: list[int], base: float, reach: float
) -> None:
    """The value turned to, written beside the end of its bar; two on the same side share one text."""
    texts: dict[int, list[tuple[float, str]]] = {}
    for end, value, side in zip(pair, values, sides):
        far = base + side * reach * 0.08 if value is None else value
        texts.setdefault(side, []).append((far, f"{end}: no formula" if value is None else end))
    for side, ends in texts.items():
        ends.sort(key=lambda end: abs(end[0] - base))
        ax.annotate(
            " | ".join(text for _, text in (ends if side > 0 else ends[::-1])),
            (ends[-1][0], row),
            xytext=(4 * side, 0),
            textcoords="offset points",
            ha="left" if side > 0 else "right",
            va="center",
            fontsize=8,
            color=INK,
        )


def _legend(ax: Any, base: float, gaps: bool) -> None:
    from matplotlib.lines import Line2D
    from matplotlib.patches import Patch

    handles: list[Any] = [
        Patch(color=COLOURS[0], label="at the first value"),
        Patch(color=COLOURS[1], label="at the second value"),
    ]
    handles.append(Line2D([], [], color=INK, linewidth=1.0, label=f"the brief as it is: {short(base)}"))
    if gaps:
        handles.append(Patch(label="no formula there", **{**no_formula(), "edgecolor": FAINT}))
    below(ax, handles)
