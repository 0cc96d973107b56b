"""How bars come to their final weights."""

from __future__ import annotations

from typing import Any

from tenside._native import DryingCurve
from tenside.plot._style import COLOURS, FAINT, INK, axes, below, calm, picture, plain

#: Bars that are told apart: one a colour.
MOST = 8


@picture
def drying(curve: DryingCurve, *, tolerance: float | None = None, confidence: float = 95, ax: Any = None) -> Any:
    """Weigh-ins, the fitted curve of each bar and where a weigh-in lies with that confidence; gives the matplotlib axes.

    With a tolerance in percent, the day by which each bar is surely so near to its final weight stands in the picture. Of more than eight
    bars the first eight are shown, and the legend says so.

    >>> import tenside as td
    >>> from tenside import plot
    >>> masses = ["70.0 g", "68.2 g", "67.1 g", "66.3 g", "65.9 g", "65.6 g", "65.4 g"]
    >>> plot.drying(td.batch.DryingCurve({"first": list(enumerate(masses))}, readability="0.1 g"), tolerance=0.5).get_xlabel()
    'day'
    """
    ax = axes(ax, (7, 4.4))
    days = curve.curve(121, confidence=confidence)
    ready = (
        {bar.name: bar.sure_day for bar in curve.ready(tolerance=tolerance, confidence=confidence)}
        if tolerance is not None
        else {}
    )
    handles = []
    for index, bar in enumerate(curve.bars[:MOST]):
        colour = COLOURS[index]
        row = [day for day in days if day.name == bar.name]
        ax.fill_between(
            [day.day for day in row],
            [day.low for day in row],
            [day.high for day in row],
            color=colour,
            alpha=0.18,
            linewidth=0,
        )
        ax.plot([day.day for day in row], [day.mass for day in row], color=colour)
        ax.axhline(bar.plateau, color=colour, linestyle=":", linewidth=1)
        weighed = curve.weigh_ins[bar.name]
        label = f"{plain(bar.name)}: comes to {bar.plateau:.2f} ± {bar.plateau_error:.2f} g"
        handles += ax.plot(
            [float(day) for day, _ in weighed],
            [float(mass) for _, mass in weighed],
            "o",
            color=colour,
            markersize=5,
            label=label,
        )
    if ready:
        last = max(ready.values())
        text = f"surely within {tolerance:g} % by day {last:.1f}, {confidence:g} % confidence"
        handles.append(ax.axvline(last, color=INK, linestyle="--", linewidth=1, label=text))
    if len(curve.bars) > MOST:
        handles += ax.plot([], [], linestyle="none", color=FAINT, label=f"left out: {len(curve.bars) - MOST} bars")
    ax.set_xlabel("day")
    ax.set_ylabel("weight of a bar, g")
    loss, error = curve.loss
    calm(
        ax,
        f"drying: loss {loss:.2f} ± {error:.2f} %, half of the rest in {curve.half_time[0]:.1f} days (± standard error); bands {confidence:g} %",
    )
    below(ax, handles, columns=2)
    return ax
