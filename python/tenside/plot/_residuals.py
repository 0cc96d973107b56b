"""What a model leaves of each result."""

from __future__ import annotations

from typing import Any

from tenside._native import FittedModel
from tenside.plot._style import COLOURS, FAINT, axes, calm, picture, plain

#: Residuals beyond so many of their standard errors are named.
FAR = 2.0


@picture
def residuals(model: FittedModel, *, ax: Any = None) -> Any:
    """Studentised residuals over fitted values: no pattern is good. Runs beyond two standard errors are named; one in twenty is expected there.

    Gives the axes.

    >>> import tenside as td
    >>> from tenside import plot
    >>> runs = [td.trial.TrialRun(str(n), {"sci-powder": 100 - k, "kaolin": k}, {"hardness": y}) for n, (k, y) in enumerate([(20, 30), (50, 46), (80, 42), (100, 30)])]
    >>> plot.residuals(td.trial.TrialLog("Kaolin", {"hardness": "N"}, runs).fit("hardness")).get_xlabel()
    'fitted hardness, N'
    """
    ax = axes(ax, (6.4, 4.2))
    known = [run for run in model.runs if run.studentised is not None]
    ax.axhline(0, color=FAINT, linewidth=1)
    for edge in (-FAR, FAR):
        ax.axhline(edge, color=FAINT, linewidth=0.8, linestyle="--")
    ax.plot(
        [run.fitted for run in known],
        [run.studentised for run in known],
        "o",
        color=COLOURS[0],
        markeredgecolor="white",
        markersize=7,
    )
    for run in known:
        if run.studentised is not None and abs(run.studentised) > FAR:
            ax.annotate(
                plain(run.run), (run.fitted, run.studentised), xytext=(6, 4), textcoords="offset points", fontsize=8
            )
    ax.set_xlabel(plain(f"fitted {model.response.heading}"))
    ax.set_ylabel("residual over its standard error")
    without = len(model.runs) - len(known)
    calm(
        ax,
        f"{model.log.title}: {model.model} model"
        + (f"; left out: {without} runs that alone decide a term" if without else ""),
    )
    ax.margins(0.08)
    return ax
