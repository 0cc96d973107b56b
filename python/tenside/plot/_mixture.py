"""What the pictures of trials have in common: three components as a triangle, what a brief allows of them, the runs."""

from __future__ import annotations

from collections.abc import Mapping
from textwrap import wrap
from typing import Any

from tenside._native import Brief, Corners, TrialLog
from tenside.plot._style import INK, counted, plain

#: Letters in a line of a corner's name: longer ones would leave the figure.
CORNER = 20
#: Corners of a brief that are looked at.
MOST_CORNERS = 2000
RUNS = "#D55E00"


def fractions(log: TrialLog, components: list[str]) -> Any:
    """The fractions of the components in each run, a row a run; not-a-number where it has none of them."""
    import numpy as np

    parts = np.array([[float(run.made[component]) for component in components] for run in log.runs])
    sums = parts.sum(axis=1, keepdims=True)
    return np.divide(parts, sums, out=np.full_like(parts, np.nan), where=sums > 0)


def corners(ax: Any, names: list[str], of: str = "components") -> None:
    """Names of three corners, whole, with their unit."""
    for name, say in zip(names, (ax.set_tlabel, ax.set_llabel, ax.set_rlabel)):
        say(plain("\n".join([*wrap(name, CORNER), f"% of {of}"])), color=INK, fontsize=9)
    for axis in (ax.taxis, ax.laxis, ax.raxis):
        axis.set_label_rotation_mode("horizontal")
    ax.tick_params(labelsize=8, colors=INK)
    for spine in ax.spines.values():
        spine.set_color(INK)


def allowed(brief: Brief, components: list[str], held: Mapping[str, float] | None = None) -> Any:
    """The outline of what a brief allows of three components, where others are held at fractions of all components."""
    import numpy as np

    if missing := [name for name in [*components, *(held or {})] if name not in [line.name for line in brief.lines]]:
        raise ValueError(
            f"the brief has no line {missing[0]!r}; its lines are {', '.join(line.name for line in brief.lines)}"
        )
    found = _corners(brief)
    if held:
        sums = [sum(formula[name] for name in [*components, *held]) for formula in found.formulas]
        if min(sums) != max(sums):
            raise ValueError(
                "what the brief allows is shown where the components are the same share of every formula "
                f"(found {float(min(sums)):g} to {float(max(sums)):g} %)"
            )
        for name, share in held.items():
            brief = brief.change_line(name, fix=round(float(share) * float(sums[0]), 4))
        found = _corners(brief)
    parts = np.array([[float(formula[name]) for name in components] for formula in found.formulas])
    whole = parts.sum(axis=1, keepdims=True)
    points = parts[whole[:, 0] > 0] / whole[whole[:, 0] > 0]
    return _hull(points)


def _corners(brief: Brief) -> Corners:
    found = brief.corners(MOST_CORNERS)
    if not found.complete:
        raise ValueError(f"the brief has more than {MOST_CORNERS} corners; fix some of its lines")
    return found


def _hull(points: Any) -> Any:
    """The convex hull of points of a triangle (A. M. Andrew, Information Processing Letters 9, 1979, 216-219; from memory)."""
    import numpy as np

    points = np.unique(points.round(12), axis=0)
    if len(points) < 3:
        return points

    def half(ordered: Any) -> list[Any]:
        chain: list[Any] = []
        for point in ordered:
            while len(chain) > 1 and _turn(chain[-2], chain[-1], point) <= 1e-15:
                chain.pop()
            chain.append(point)
        return chain[:-1]

    return np.array(half(points) + half(points[::-1]))


def _turn(first: Any, second: Any, third: Any) -> float:
    return (second[0] - first[0]) * (third[1] - first[1]) - (second[1] - first[1]) * (third[0] - first[0])


def draw_runs(ax: Any, points: Any) -> list[Any]:
    """Runs as dots, with how many there are where several lie together."""
    import numpy as np

    known = points[~np.isnan(points).any(axis=1)]
    places, counts = np.unique(known.round(4), axis=0, return_counts=True)
    label = counted(np.ones(len(known), dtype=bool), "run, as made", "runs, as made")
    if (counts > 1).any():
        label += "; numbers: runs in one place"
    handles = ax.plot(
        *(100 * places).T, "o", color=RUNS, markeredgecolor="white", markersize=7, zorder=6, label=label, clip_on=False
    )
    for place, count in zip(places, counts):
        if count > 1:
            x, y = place @ ax.corners_data
            ax.annotate(str(count), (x, y), xytext=(6, 6), textcoords="offset points", fontsize=8, color=INK, zorder=7)
    return handles
