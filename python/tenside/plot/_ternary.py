"""A map of a measure over three surfactants that share a split."""

from __future__ import annotations

from collections.abc import Mapping
from reprlib import repr as brief_repr
from textwrap import wrap
from typing import Any

from tenside._native import Measure, SweepTable
from tenside.plot._style import (
    INK,
    MAP,
    PALE,
    axes,
    below,
    counted,
    feasible,
    heading,
    label,
    no_formula,
    numbers,
    picture,
    plain,
)

_MOST_DOTS = 120
# Letters in a line of a corner's name: longer ones would leave the figure.
_CORNER = 20
# A region below this share of the triangle has no room for numbers on its lines; the bar beside it has them.
_ROOM = 0.3
# Below this share of itself, differences of a measure are those of percentages rounded to 0.0001.
_SAME = 1e-4


@picture
def ternary(
    table: SweepTable,
    column: str | Measure,
    *,
    split: str | None = None,
    at: Mapping[str, float | str] | None = None,
    ax: Any = None,
) -> Any:
    """A column over the shares of three surfactants in their split, as colour with contour lines; each corner is one surfactant alone.

    The sweep has the split's `lattice` as an axis. Its other axes stand still: `at` says at which value, by the names of their columns.
    Where there is no formula the ground is hatched, up to the nearest points of the lattice that have one, since nothing is known between
    them. Points with a formula are dots, where there are not too many. `split` is needed where two splits have a lattice; `ax` has
    projection="ternary" (mpltern) with ternary_sum=100. Gives the axes.

    >>> import tenside as td
    >>> from tenside import measure as m, plot
    >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 1, "scs-needles": 1, "capb-30": 1}, by="active", name="wash")
    >>> brief = brief.qs("kaolin").target(m.active_matter, 40).at_most(m.water, 30)
    >>> axes = brief.sweep(td.lattice("wash", 20)).ternary(m.water)
    >>> axes.get_tlabel()
    'sci-powder,\\n% of wash'
    """
    import numpy as np

    name = table.column_name(column)
    split, shares = _shares(table, split)
    rows = _rows(table, list(shares), at or {})
    points = np.array([numbers(table, share)[rows] for share in shares]).T
    values, has = numbers(table, name)[rows], feasible(table)[rows]
    triangles, steps = _triangles(points)
    ax = axes(ax, (7.0, 5.2), "ternary", ternary_sum=100.0)
    places = points / 100.0 @ ax.corners_data
    handles = [_ground(ax, has)] if not has.all() else []
    known = has & ~np.isnan(values)
    whole = triangles[known[triangles].all(axis=1)]
    if len(whole) and np.ptp(values[known]) > _SAME * np.abs(values[known]).max():
        _colour(ax, places, whole, steps**2, values, label(table, name))
    elif len(whole):
        text = f"{label(table, name)}\neverywhere {values[known][0]:.4g}, within 0.01 %"
        ax.text(*points[known].mean(axis=0), text, ha="center", va="center", fontsize=9, color=INK)
    lone = known.copy()
    lone[whole.ravel()] = False
    dotted = known if known.sum() <= _MOST_DOTS else lone
    text = "formula" if dotted is known else "formula without such neighbours"
    if dotted.any():
        text = f"{text} ({counted(dotted, 'point', 'points')})"
        handles += ax.plot(*points[dotted].T, ".", color=INK, markersize=2.5, alpha=0.7, zorder=4, label=text, clip_on=False)
    unknown = has & ~known
    if unknown.any():
        text = f"formula, but no value ({counted(unknown, 'point', 'points')})"
        handles += ax.plot(*points[unknown].T, "x", color=INK, markersize=4, zorder=4, label=text, clip_on=False)
    for share, say in zip(shares.values(), (ax.set_tlabel, ax.set_llabel, ax.set_rlabel)):
        say(plain("\n".join(wrap(f"{share},", _CORNER) + wrap(f"% of {split}", _CORNER))), color=INK, fontsize=9)
    for axis in (ax.taxis, ax.laxis, ax.raxis):
        axis.set_label_rotation_mode("horizontal")
    ax.tick_params(labelsize=8, colors=INK)
    for spine in ax.spines.values():
        spine.set_color(INK)
    where = "".join(f"\n{axis.removeprefix('axis.')}: {value}" for axis, value in (at or {}).items())
    heading(ax, f"{table.sweep.brief.title}, lattice of {steps} steps{where}")
    if handles:
        below(ax, handles, inches=0.75)
    return ax


def _shares(table: SweepTable, split: str | None) -> tuple[str, dict[str, str]]:
    """The split, and the columns of its three shares with the line each is of."""
    found: dict[str, dict[str, str]] = {}
    for known in table.sweep.brief.splits:
        columns = {f"axis.share.{known.name}.{line}": line for line, _ in known.parts}
        if all(column in table.columns for column in columns):
            found[known.name] = columns
    wanted = found if split is None else {name: columns for name, columns in found.items() if name == split}
    if len(wanted) != 1:
        among = ", ".join(repr(name) for name in found) or "none"
        asked = f"asked for: {'any' if split is None else brief_repr(split)}; splits with a lattice: {among}"
        raise ValueError(f"a map needs the lattice of one split as an axis ({asked}); add td.lattice, or say split=")
    (name, columns), *_ = wanted.items()
    if len(columns) != 3:
        raise ValueError(f"a map shows three surfactants; split {name!r} has {len(columns)}")
    return name, columns


def _rows(table: SweepTable, shares: list[str], at: Mapping[str, float | str]) -> Any:
    """The rows at the values that other axes stand still at."""
    import numpy as np

    if not isinstance(at, Mapping):
        raise TypeError(f"at= is a mapping of axis columns to values (found {type(at).__name__})")
    others = [name for name in table.columns if name.startswith("axis.") and name not in shares]
    if strange := [name for name in at if name not in others]:
        besides = ", ".join(others) or "none"
        raise ValueError(f"no axis has the column {brief_repr(strange[0])}; besides the map there are: {besides}")
    kept = np.ones(len(table), dtype=bool)
    for name in others:
        cells = table.column(name)
        if name not in at:
            if len(set(cells)) > 1:
                raise ValueError(f"the column {name!r} takes several values; say at={{{name!r}: ...}} with one of them")
            continue
        wanted = at[name]
        here = np.array(
            [
                cell == wanted if isinstance(cell, str) else bool(np.isclose(cell, float(wanted), rtol=1e-12, atol=0))
                for cell in cells
            ]
        )
        if not here.any():
            some = ", ".join(str(value) for value in list(dict.fromkeys(cells))[:8])
            raise ValueError(f"{name!r} is nowhere {brief_repr(wanted)}; it takes {some}")
        kept &= here
    return np.flatnonzero(kept)


def _triangles(points: Any) -> tuple[Any, int]:
    """The small triangles of a whole lattice as places of their corners, and how many steps it has."""
    import numpy as np

    steps = len(np.unique(points[:, 0])) - 1
    if steps < 1 or len(points) != (steps + 1) * (steps + 2) // 2:
        raise ValueError(
            f"a map needs every point of the lattice once (found {len(points)} rows); take it from the whole table"
        )
    grid = np.rint(points * steps / 100.0).astype(int)
    place = {(first, second): index for index, (first, second, _) in enumerate(grid.tolist())}
    upright = [(place[i, j], place[i + 1, j], place[i, j + 1]) for i in range(steps) for j in range(steps - i)]
    hanging = [
        (place[i + 1, j], place[i + 1, j + 1], place[i, j + 1]) for i in range(steps - 1) for j in range(steps - 1 - i)
    ]
    return np.array(upright + hanging), steps


def _ground(ax: Any, has: Any) -> Any:
    from matplotlib.patches import Patch, Polygon

    ax.add_patch(Polygon(ax.corners_data, closed=True, zorder=0.5, **no_formula()))
    return Patch(label=f"no formula ({(~has).sum()} of {len(has)} points)", **no_formula())


def _colour(ax: Any, places: Any, triangles: Any, whole: int, values: Any, text: str) -> None:
    import numpy as np
    from matplotlib.axes import Axes
    from matplotlib.patheffects import withStroke
    from matplotlib.ticker import MaxNLocator
    from matplotlib.tri import Triangulation

    used, corners = np.unique(triangles, return_inverse=True)
    mesh = Triangulation(places[used, 0], places[used, 1], corners.reshape(-1, 3))
    heights = values[used]
    levels = MaxNLocator(nbins=7).tick_values(heights.min(), heights.max())
    # A mesh that is given is drawn by the plain methods: the ternary ones would make another of their own.
    areas = Axes.tricontourf(ax, mesh, heights, levels=levels, cmap=MAP, zorder=1)
    lines = Axes.tricontour(ax, mesh, heights, levels=levels, colors="white", linewidths=0.9, zorder=2)
    if len(triangles) >= _ROOM * whole:
        for height in ax.clabel(lines, fontsize=8, inline=True, fmt="%.4g"):
            # Light with a dark edge: it is read on every colour of the map.
            height.set_path_effects([withStroke(linewidth=2, foreground=INK)])
    bar = ax.figure.colorbar(areas, ax=ax, shrink=0.72, anchor=(0.0, 0.85), pad=0.16)
    bar.set_label(text, color=INK, fontsize=9)
    bar.outline.set_edgecolor(PALE)
    bar.ax.tick_params(labelsize=8, colors=INK)
