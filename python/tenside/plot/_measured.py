"""What a model says beside what was measured."""

from __future__ import annotations

from typing import Any

from tenside._native import FittedModel
from tenside.plot._style import COLOURS, FAINT, axes, below, calm, picture, plain


@picture
def measured(model: FittedModel, *, ax: Any = None) -> Any:
    """Fitted over measured values, and what the model says of each run when fitted without it: far apart, it follows single runs.

    Gives the axes.

    >>> import tenside as td
    >>> from tenside import plot
    >>> runs = [td.trial.TrialRun(str(n), {"sci-powder": 100 - k, "kaolin": k}, {"hardness": y}) for n, (k, y) in enumerate([(20, 30), (50, 46), (80, 42), (100, 30)])]
    >>> plot.measured(td.trial.TrialLog("Kaolin", {"hardness": "N"}, runs).fit("hardness")).get_xlabel()
    'measured hardness, N'
    """
    ax = axes(ax, (5.6, 5.2))
    runs = model.runs
    without = [
        (run.measured, run.measured - run.residual / (1 - run.leverage))
        for run in runs
        # A run of a whole plot is not left out alone.
        if run.leverage < 1 - 1e-10 and model.whole_plot_ratio is None
    ]
    ends = [value for run in runs for value in (run.measured, run.fitted)] + [value for _, value in without]
    ax.plot([min(ends), max(ends)], [min(ends), max(ends)], "-", color=FAINT, linewidth=1)
    handles = ax.plot(
        [run.measured for run in runs],
        [run.fitted for run in runs],
        "o",
        color=COLOURS[0],
        markeredgecolor="white",
        markersize=7,
        label="fitted",
    )
    label = "fitted without the run" + (
        f" (left out: {len(runs) - len(without)} that alone decide a term)" if len(without) < len(runs) else ""
    )
    if model.whole_plot_ratio is None:
        handles += ax.plot(
            [x for x, _ in without], [y for _, y in without], "x", color=COLOURS[5], markersize=6, label=label
        )
    ax.set_xlabel(plain(f"measured {model.response.heading}"))
    ax.set_ylabel(plain(f"by the model, {model.response.unit}"))
    predicted = "none" if model.predicted is None else f"{model.predicted:.3f}"
    calm(ax, f"{model.log.title}: {model.model} model\nR-squared {model.r_squared:.3f}, predicted {predicted}")
    below(ax, handles, columns=2)
    return ax
