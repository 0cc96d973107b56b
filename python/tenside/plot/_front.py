"""A Pareto front as a scatter of two measures."""

from __future__ import annotations

from typing import Any

from tenside._native import SweepTable
from tenside.plot._style import (
    COLOURS,
    FAINT,
    GROUND,
    INK,
    axes,
    below,
    calm,
    counted,
    feasible,
    label,
    left_out,
    numbers,
    picture,
)

_MOST_NUMBERED = 12
# Above so many, marks run into one another and the stair alone is clearer.
_MOST_MARKED = 80


@picture
def front(table: SweepTable, *, among: SweepTable | None = None, ax: Any = None) -> Any:
    """The front that `table` is, by its two columns, as a stair: what lies behind it, some row of the front is better than.

    `among` is the table that it is the front of; its rows with a formula are shown as pale dots. A front of few rows is numbered by the
    places in its table, so that `front.answer(place)` solves the one that is picked. Gives the matplotlib axes.

    >>> import tenside as td
    >>> from tenside import measure as m, plot
    >>> prices = {"sci-powder": 6, "capb-30": 3, "kaolin": 1}
    >>> brief = td.Brief("Wash", td.Catalogue.starter(), prices=prices, currency="EUR").qs("kaolin").target(m.active_matter, 50)
    >>> brief = brief.split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").minimise(m.cost)
    >>> table = brief.sweep(td.axis("wash.capb-30", [1, 2, 4, 8]), measures=[m.water])
    >>> axes = table.pareto(minimise=[m.cost, m.water]).plot(among=table)
    >>> axes.get_xlabel()
    'cost, EUR per kg (less is better)'
    """
    import numpy as np

    minimised, maximised = table.front_of
    ranked = [*minimised, *maximised]
    if len(ranked) != 2:
        raise ValueError(
            f"a scatter shows a front by two columns (found {len(ranked)}); make one by table.pareto(minimise=[...], maximise=[...])"
        )
    across, up = (numbers(table, name) for name in ranked)
    ax = axes(ax, (6.4, 4.4))
    handles = []
    if among is not None:
        at = [numbers(among, name) for name in ranked]
        has = feasible(among)
        shown = has & ~np.isnan(at[0]) & ~np.isnan(at[1])
        text = f"all {counted(shown, 'row', 'rows')}"
        handles += ax.plot(
            at[0][shown],
            at[1][shown],
            ".",
            color=FAINT,
            markersize=4,
            zorder=2,
            rasterized=shown.sum() > 5000,
            label=text,
        )
        handles += left_out(has, shown)
    order = np.argsort(across, kind="stable")
    step = "post" if ranked[0] in minimised else "pre"
    text = f"front, {counted(~np.isnan(across), 'row', 'rows')}"
    mark = "o" if len(table) <= _MOST_MARKED else ""
    stair = ax.step(
        across[order],
        up[order],
        where=step,
        color=COLOURS[0],
        linewidth=1.4,
        marker=mark,
        markersize=5,
        zorder=3,
        label=text,
    )
    if len(table) <= _MOST_NUMBERED:
        for place, point in enumerate(zip(across, up)):
            ax.annotate(str(place), point, xytext=(5, 4), textcoords="offset points", fontsize=8, color=INK)
    for name, say in zip(ranked, (ax.set_xlabel, ax.set_ylabel)):
        say(f"{label(table, name)} ({'less' if name in minimised else 'more'} is better)")
    ax.margins(0.06)
    ax.set_axisbelow(True)
    ax.grid(color=GROUND)
    calm(ax, table.sweep.brief.title)
    below(ax, stair + handles)
    return ax
