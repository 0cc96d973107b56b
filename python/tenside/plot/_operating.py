"""How often batches that are filled to a mean are accepted."""

from __future__ import annotations

from typing import Any

from tenside._native import TargetFill
from tenside.plot._style import COLOURS, FAINT, axes, below, calm, picture


@picture
def operating_curve(target: TargetFill, *, points: int = 201, ax: Any = None) -> Any:
    """The operating curve of a market's test: how often batches are accepted, by the mean they are filled to; gives the matplotlib axes.

    The band reaches from how often all checks hold together at least to how often at most.

    >>> import tenside as td
    >>> from tenside import plot
    >>> target = td.batch.TargetFill("60 g", market="EU", bars=240, standard_deviation="0.8 g", probability=99, drying_loss=4)
    >>> plot.operating_curve(target).get_xlabel()
    'mean as it is weighed, g'
    """
    curve = target.curve(points)
    fill = curve.column("fill")
    percent = {name: [100 * rate for rate in curve.column(name)] for name in ("mean", "short", "at_least", "at_most")}
    ax = axes(ax, (7, 4.2))
    handles = [
        ax.fill_between(
            fill,
            percent["at_least"],
            percent["at_most"],
            color=COLOURS[4],
            alpha=0.45,
            linewidth=0,
            label="all checks, at least to at most",
        ),
        *ax.plot(fill, percent["at_least"], color="black", linewidth=1.8, label="all checks, at least"),
        *ax.plot(fill, percent["mean"], color=COLOURS[0], linestyle="--", label="mean of the sample"),
        *ax.plot(fill, percent["short"], color=COLOURS[5], linestyle=":", linewidth=2, label="number of short bars"),
    ]
    nominal = float(target.nominal) / (1 - float(target.drying_loss) / 100)
    loss = f", {float(target.drying_loss):g} % before drying" if target.drying_loss else ""
    handles.append(ax.axvline(nominal, color=FAINT, linestyle="--", label=f"nominal {float(target.nominal):g} g{loss}"))
    reached = [float(target.fill)], [100 * target.rates.at_least]
    handles += ax.plot(
        *reached,
        "D",
        color=COLOURS[5],
        markersize=8,
        label=f"fill {float(target.fill):.2f} g: at least {100 * target.rates.at_least:.1f} %",
    )
    ax.set_xlabel("mean as it is weighed, g")
    ax.set_ylabel("batches accepted, %")
    ax.set_ylim(-2, 102)
    calm(
        ax,
        f"{float(target.nominal):g} g in the {target.market}, batches of {target.bars}, standard deviation {float(target.standard_deviation):g} g",
    )
    below(ax, handles, columns=3)
    return ax
