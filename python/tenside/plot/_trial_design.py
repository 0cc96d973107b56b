"""Where the runs of a trial lie."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tenside._native import Brief, TrialLog
from tenside.plot._mixture import allowed, corners, draw_runs, fractions
from tenside.plot._style import COLOURS, INK, axes, below, calm, heading, picture, plain


@picture
def trial_design(
    log: TrialLog, *, components: Sequence[str] | None = None, brief: Brief | None = None, ax: Any = None
) -> Any:
    """The runs as they were made: three components in a triangle, with what a `brief` allows outlined; any other number side by side, a line a run.

    `components` are by default the lines that were varied. `ax` has projection="ternary" (mpltern) with ternary_sum=100 for three components. Gives the axes.

    >>> import tenside as td
    >>> from tenside import plot
    >>> runs = [td.trial.TrialRun(str(n), {"sci-powder": 100 - k, "kaolin": k}, {"hardness": 40 + k}) for n, k in enumerate([20, 40, 60])]
    >>> plot.trial_design(td.trial.TrialLog("Kaolin", {"hardness": "N"}, runs)).get_ylabel()
    '% of components'
    """
    names = log.varied if components is None else components
    if not names:
        raise ValueError("no line differs enough between runs to count as varied; name components=")
    for name in names:
        if name not in log.lines:
            raise ValueError(f"the log has no line {name!r}; it has {', '.join(log.lines)}")
    names = list(names)
    points = fractions(log, names)
    if len(names) == 3:
        own = ax is None
        ax = axes(ax, (7.8, 5.6), "ternary", ternary_sum=100.0)
        if own:
            # Nothing stands beside it but the names of its corners.
            ax.set_position((0.26, 0.2, 0.48, 0.54))
        handles = []
        if brief is not None:
            outline = allowed(brief, names)
            around = outline[[*range(len(outline)), 0]]
            handles += ax.plot(
                *(100 * around).T, "-", color=INK, linewidth=1.4, zorder=4, label="what the brief allows", clip_on=False
            )
        handles += draw_runs(ax, points)
        corners(ax, names)
        heading(ax, f"{log.title}: the runs as they were made")
        below(ax, handles, inches=0.85)
        return ax
    if brief is not None:
        raise ValueError(f"what a brief allows is shown for three components (found {len(names)})")
    ax = axes(ax, (max(5.0, 1.3 * len(names)), 4.2))
    for point in points:
        ax.plot(range(len(names)), 100 * point, "-o", color=COLOURS[0], alpha=0.45, linewidth=1, markersize=4)
    ax.set_xticks(range(len(names)), [plain(name) for name in names], rotation=20, ha="right")
    ax.set_ylabel("% of components")
    calm(ax, f"{log.title}: the runs as they were made, a line each ({len(points)})")
    return ax
