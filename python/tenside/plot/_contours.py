"""A fitted property over three components."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from tenside._native import Brief, FittedModel
from tenside.plot._mixture import allowed, corners, draw_runs, fractions
from tenside.plot._style import GROUND, INK, MAP, PALE, axes, below, heading, picture, plain

_STEPS = 60


@picture
def contours(
    model: FittedModel,
    *,
    components: Sequence[str] | None = None,
    at: Mapping[str, float] | None = None,
    settings: Mapping[str, float] | None = None,
    brief: Brief | None = None,
    ax: Any = None,
) -> Any:
    """A fitted property over three components, as colour with contour lines; with a `brief`, what it allows is outlined.

    The colours tell apart what the brief allows, where the components that are not shown stand still; the rest is faded.

    A model of more than three components needs three of them as `components`, and in `at` the fraction of each of the others, from 0 to 1. `settings` are
    those of process variables. Runs are shown where the others stand as they say, within 0.02. `ax` has projection="ternary" (mpltern) with
    ternary_sum=100. Gives the axes.

    >>> import tenside as td
    >>> from tenside import plot
    >>> blends = [(100, 0, 0, 11), (100, 0, 0, 12.4), (50, 50, 0, 15), (0, 100, 0, 9), (0, 50, 50, 10), (0, 0, 100, 16), (50, 0, 50, 17), (50, 0, 50, 16.4)]
    >>> runs = [td.trial.TrialRun(str(n), {"sci-powder": a, "scs-needles": b, "kaolin": c}, {"hardness": y}) for n, (a, b, c, y) in enumerate(blends)]
    >>> axes = plot.contours(td.trial.TrialLog("Three", {"hardness": "N"}, runs).fit("hardness"))
    >>> axes.get_tlabel()
    'sci-powder\\n% of components'
    """
    import numpy as np

    shown = model.components if components is None else components
    if len(shown) != 3 or len(set(shown)) != 3:
        raise ValueError(
            f"a map shows three components (found {len(shown)}); name three of {', '.join(model.components)}"
        )
    shown, held = list(shown), dict(at or {})
    others = [name for name in model.components if name not in shown]
    if strange := [name for name in [*shown, *held] if name not in model.components]:
        raise ValueError(f"the model has no component {strange[0]!r}; it has {', '.join(model.components)}")
    if missing := [name for name in others if name not in held]:
        raise ValueError(f"say at={{{missing[0]!r}: ...}}, the fraction at which it stands still")
    left = 1 - sum(float(held[name]) for name in others)
    if not 0 < left <= 1:
        raise ValueError(f"the components that stand still leave {left:g} of the whole for the three that are shown")

    grid = np.array([(i, j, _STEPS - i - j) for i in range(_STEPS + 1) for j in range(_STEPS + 1 - i)]) / _STEPS
    mixtures = np.array(
        [
            grid[:, shown.index(name)] * left if name in shown else np.full(len(grid), float(held[name]))
            for name in model.components
        ]
    ).T
    mixtures /= mixtures.sum(axis=1, keepdims=True)
    values = np.array(model.values_at(mixtures.tolist(), settings=settings))
    ax = axes(ax, (7.2, 5.6), "ternary", ternary_sum=100.0)
    outline = allowed(brief, shown, {name: float(held[name]) for name in others}) if brief is not None else None
    _colour(ax, grid, values, model.response.heading, outline)
    handles = [] if outline is None else _outlined(ax, outline)
    made = fractions(model.log, list(model.components))
    near = np.ones(len(made), dtype=bool)
    for name in others:
        near &= np.abs(made[:, model.components.index(name)] - float(held[name])) < 0.02
    points = made[near][:, [model.components.index(name) for name in shown]]
    points = points / points.sum(axis=1, keepdims=True)
    if len(points):
        handles += draw_runs(ax, points)
    corners(ax, shown)
    deviation = f"residual deviation {model.residual_deviation:.3g} {model.response.unit}"
    where = "".join(f"\n{name} at {100 * float(held[name]):g} %" for name in others) + "".join(
        f"\n{name}: {value}" for name, value in (settings or {}).items()
    )
    heading(ax, f"{model.log.title}: {model.response.heading}\n{model.model} model, {deviation}{where}")
    if handles:
        below(ax, handles, inches=0.85)
    return ax


def _colour(ax: Any, grid: Any, values: Any, text: str, outline: Any) -> None:
    import numpy as np
    from matplotlib.axes import Axes
    from matplotlib.patches import PathPatch, Polygon
    from matplotlib.path import Path
    from matplotlib.patheffects import withStroke
    from matplotlib.ticker import MaxNLocator
    from matplotlib.tri import Triangulation

    places = grid @ ax.corners_data
    mesh = Triangulation(places[:, 0], places[:, 1])
    # Where a brief is shown, the colours tell apart what it allows; beyond them the ends go on.
    shown = values
    if outline is not None and len(outline) > 2:
        inside = Path(outline @ ax.corners_data).contains_points(places, radius=1e-9)
        shown = values[inside] if inside.sum() > 2 else values
    levels = MaxNLocator(nbins=8).tick_values(shown.min(), shown.max())
    if np.ptp(values) <= 1e-9 * np.abs(values).max():
        raise ValueError("the model says the same of every mixture")
    extend = "both" if shown is not values else "neither"
    areas = Axes.tricontourf(ax, mesh, values, levels=levels, cmap=MAP, zorder=1, extend=extend)
    lines = Axes.tricontour(ax, mesh, values, levels=levels, colors="white", linewidths=0.9, zorder=2)
    for height in ax.clabel(lines, fontsize=8, inline=True, fmt="%.4g"):
        height.set_path_effects([withStroke(linewidth=2, foreground=INK)])
    if outline is not None and len(outline) > 2:
        whole, inner = ax.corners_data, outline @ ax.corners_data
        # The triangle with a hole: what the brief does not allow.
        if _signed(whole) * _signed(inner) > 0:
            inner = inner[::-1]
        rings = np.concatenate([whole, whole[:1], inner, inner[:1]])
        codes = [
            Path.MOVETO,
            *[Path.LINETO] * (len(whole) - 1),
            Path.CLOSEPOLY,
            Path.MOVETO,
            *[Path.LINETO] * (len(inner) - 1),
            Path.CLOSEPOLY,
        ]
        ax.add_patch(PathPatch(Path(rings, codes), facecolor=GROUND, edgecolor="none", alpha=0.78, zorder=3))
        ax.add_patch(Polygon(inner, closed=True, fill=False, edgecolor=INK, linewidth=1.4, zorder=4))
    bar = ax.figure.colorbar(areas, ax=ax, shrink=0.72, anchor=(0.0, 0.85), pad=0.16)
    bar.set_label(plain(text), color=INK, fontsize=9)
    bar.outline.set_edgecolor(PALE)
    bar.ax.tick_params(labelsize=8, colors=INK)


def _signed(ring: Any) -> float:
    import numpy as np

    x, y = ring[:, 0], ring[:, 1]
    return float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))


def _outlined(ax: Any, outline: Any) -> list[Any]:
    from matplotlib.lines import Line2D

    if len(outline) < 3:
        ax.plot(*(100 * outline).T, "-", color=INK, linewidth=1.4, zorder=4)
    return [Line2D([], [], color=INK, linewidth=1.4, label="what the brief allows")]
