"""Bands across parallel scales: what goes with what over many formulas."""

from __future__ import annotations

import operator
from collections.abc import Iterable
from typing import Any

from tenside._native import Measure, SweepTable
from tenside.plot._style import (
    INK,
    PALE,
    axes,
    below,
    calm,
    counted,
    feasible,
    graded,
    label,
    left_out,
    numbers,
    picture,
    short,
)

_INNER = (0.1, 0.9)


@picture
def bands(table: SweepTable, columns: Iterable[str | Measure], *, groups: int = 3, ax: Any = None) -> Any:
    """Rows in so many groups by their values of the first column, each drawn as a band over a scale for every column: the middle four fifths
    of the group, with its median as a line.

    Groups are of as even a size as values that are equal allow. Rows without a formula, or without a value in one of the columns, are left
    out, and the legend says how many. Gives the matplotlib axes.

    >>> import tenside as td
    >>> from tenside import measure as m, plot
    >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
    >>> table = brief.target(m.active_matter, 50).sweep(td.axis("wash.capb-30", range(1, 31)), measures=[m.water])
    >>> axes = plot.bands(table, [m.water, "line.capb-30", "line.kaolin"])
    >>> [text.get_text() for text in axes.get_xticklabels()]
    ['water,\\n%', 'capb-30,\\n% w/w', 'kaolin,\\n% w/w']
    """
    import numpy as np

    if isinstance(columns, (str, Measure)):
        columns = [columns]
    names, groups = [table.column_name(column) for column in columns], operator.index(groups)
    if len(names) < 2 or groups < 1:
        raise ValueError(
            f"bands go over two columns or more, in one group or more (found {len(names)} columns, {groups} groups)"
        )
    cells = np.array([numbers(table, name) for name in names])
    has = feasible(table)
    shown = has & ~np.isnan(cells).any(axis=0)
    if not shown.any():
        raise ValueError("no row has a formula and a value in every one of these columns, so there is nothing to draw")
    cells = cells[:, shown]
    ax = axes(ax, (1.6 + 1.5 * len(names), 4.2))
    low, high = cells.min(axis=1, keepdims=True), cells.max(axis=1, keepdims=True)
    width = np.where(high > low, high - low, 1.0)
    # A column that is everywhere the same stands in the middle of its scale.
    scaled = np.where(high > low, (cells - low) / width, 0.5)
    places = np.arange(len(names))
    edges = np.unique(np.quantile(cells[0], np.linspace(0, 1, groups + 1)[1:-1]))
    group = np.searchsorted(edges, cells[0], side="left")
    found = np.unique(group)
    handles = []
    for index, colour in zip(found, graded(len(found))):
        here = group == index
        bottom, middle, top = np.quantile(scaled[:, here], [_INNER[0], 0.5, _INNER[1]], axis=1)
        ax.fill_between(places, bottom, top, color=colour, alpha=0.35, linewidth=0, zorder=2)
        span = f"{short(cells[0][here].min())} to {short(cells[0][here].max())}"
        text = f"{label(table, names[0])}: {span} ({counted(here, 'row', 'rows')})"
        handles += ax.plot(places, middle, color=colour, linewidth=1.8, marker="o", markersize=4, zorder=3, label=text)
    for place in places:
        ax.vlines(place, 0, 1, color=PALE, linewidth=1.0, zorder=1)
        ends = (
            [(0.5, low[place, 0])] if high[place, 0] == low[place, 0] else [(0.0, low[place, 0]), (1.0, high[place, 0])]
        )
        for height, value in ends:
            away, side = (-4, "top") if height == 0 else (4, "bottom")
            ax.annotate(
                short(value),
                (place, height),
                (0, away),
                textcoords="offset points",
                ha="center",
                va=side,
                fontsize=8,
                color=INK,
            )
    ax.set_xticks(places, [label(table, name).replace(", ", ",\n") for name in names])
    ax.set_yticks([])
    ax.set_xlim(-0.35, len(names) - 0.65)
    ax.set_ylim(-0.12, 1.14)
    calm(ax, f"{table.sweep.brief.title}: middle four fifths and median")
    ax.spines[["left", "bottom"]].set_visible(False)
    ax.tick_params(axis="x", length=0)
    below(ax, handles + left_out(has, shown), columns=1)
    return ax
