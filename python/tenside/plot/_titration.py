"""A trial titration, its target, and the batch that follows it."""

from __future__ import annotations

from typing import Any

from tenside._native import Adjustment, Titration
from tenside.plot._style import COLOURS, FAINT, axes, picture


@picture
def titration(trial: Titration, *, target: float, plan: Adjustment | None = None, ax: Any = None) -> Any:
    """A trial titration, a target pH, and between which amounts of the reagent it is surely reached; gives the matplotlib axes.

    With a plan, its readings stand in the picture where the batch has come to, scaled to the sample that was titrated.

    >>> import tenside as td
    >>> from tenside import plot
    >>> acid = td.Catalogue.starter().material("citric-acid-50")
    >>> trial = td.ph.Titration([("0 g", 8), ("1 g", 6), ("2 g", 5)], sample="100 g", reagent=acid, dilution="1+9")
    >>> picture = plot.titration(trial, target=5.5, plan=trial.adjust("2 kg", td.Reading(8, dilution="1+9"), target=5.5))
    >>> picture.get_xlabel()
    'citric-acid-50 added to 100 g of product, g'
    """
    dose = trial.grams_at(target)
    ax = axes(ax, (7, 3.8))
    if dose.low is not None and dose.high is not None:
        ax.axvspan(
            float(dose.low),
            float(dose.high),
            color=COLOURS[4],
            alpha=0.3,
            label=f"surely within: {float(dose.low):.2f} to {float(dose.high):.2f} g",
        )
    ax.axhline(target, color=FAINT, linestyle="--", label=f"target pH {target:g}")
    ax.plot(
        [float(added) for added, _ in trial.points],
        [float(ph) for _, ph in trial.points],
        "o-",
        color="black",
        label="trial",
    )
    ax.plot([float(dose)], [target], "D", color=COLOURS[5], markersize=8, label=f"by interpolation {float(dose):.2f} g")
    if plan is not None:
        readings = [plan.start, *(portion.reading for portion in plan.portions)]
        scale = float(trial.sample / plan.batch)
        added = [0.0]
        for portion in plan.portions:
            added.append(added[-1] + float(portion.added) * scale)
        begun = float(trial.grams_at(plan.start.value))
        ax.plot(
            [begun + grams for grams in added],
            [float(reading.value) for reading in readings],
            "s",
            color=COLOURS[0],
            markersize=8,
            label="batch, as read",
        )
    ax.set_xlabel(f"{trial.reagent.id} added to {float(trial.sample):g} g of product, g")
    ax.set_ylabel(f"pH, read at {trial.dilution} by mass")
    ax.legend(frameon=False, fontsize=9)
    return ax
