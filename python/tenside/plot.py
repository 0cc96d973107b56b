"""Pictures of formulas (extra ``plot``: matplotlib).

Colours are the eight of Okabe and Ito, told apart with all common kinds of colour vision (M. Okabe and K. Ito, 2008; from memory);
past eight the same colours come back with hatching.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from tenside._native import Adjustment, Answer, Conflict, Formula, Measure, Titration

_COLOURS = ("#0072B2", "#E69F00", "#009E73", "#CC79A7", "#56B4E9", "#D55E00", "#F0E442", "#999999")
_HATCHES = ("", "///", "...", "xxx")


def _style(index: int) -> dict[str, Any]:
    return {"facecolor": _COLOURS[index % 8], "hatch": _HATCHES[index // 8 % 4], "edgecolor": "white", "linewidth": 0.6}


def _axes(ax: Any, size: tuple[float, float]) -> Any:
    if ax is not None:
        return ax
    try:
        import matplotlib.pyplot as plt
    except ImportError as error:
        raise ImportError("pictures need matplotlib: install tenside with the extra `plot`") from error
    return plt.subplots(figsize=size, layout="constrained")[1]


def composition(formulas: Mapping[str, Formula], *, ax: Any = None) -> Any:
    """Formulas side by side, one bar each, their lines in percent as supplied; gives the matplotlib axes.

    >>> import tenside as td
    >>> from tenside import plot
    >>> answer = td.Brief("Plain bar", td.Catalogue.starter()).fix("sci-powder", 60).qs("kaolin").solve()
    >>> axes = plot.composition({"first": answer.formula})
    >>> axes.get_xlabel()
    '% w/w as supplied'
    """
    if not formulas:
        raise ValueError("there is no formula to show")
    names = list(dict.fromkeys(line.name for formula in formulas.values() for line in formula.lines))
    ax = _axes(ax, (9, 1.6 + 0.6 * len(formulas)))
    for row, formula in enumerate(formulas.values()):
        start = 0.0
        for line in formula.lines:
            width = float(line.percent)
            ax.barh(row, width, left=start, height=0.7, **_style(names.index(line.name)))
            if width >= 4:
                ax.text(start + width / 2, row, f"{width:.1f}", ha="center", va="center", fontsize=8)
            start += width
    ax.set_yticks(range(len(formulas)), list(formulas))
    ax.invert_yaxis()
    ax.set_xlim(0, 100)
    ax.set_xlabel("% w/w as supplied")
    _legend(ax, names, below=0.6 / (1 + len(formulas)))
    return ax


def course(values: Sequence[float], outcomes: Sequence[Answer | Conflict], measure: Measure, *, label: str, ax: Any = None) -> Any:
    """How the best recipe changes along a series of answers: lines stacked in percent, the measure as a black line on the right.

    Where a brief could not be answered the picture has a gap. Gives the axes of the stack.

    >>> import tenside as td
    >>> from tenside import measure as m, plot
    >>> brief = td.Brief("Wash", td.Catalogue.starter()).free("capb-30").qs("water")
    >>> targets = [5, 10, 15, 40]
    >>> outcomes = [brief.target(m.active_matter, target).try_solve() for target in targets]
    >>> plot.course(targets, outcomes, m.water, label="active matter, %").get_xlabel()
    'active matter, %'
    """
    if not values or len(values) != len(outcomes):
        raise ValueError("values and outcomes are as many, and at least one")
    answered = [(value, outcome.formula) for value, outcome in zip(values, outcomes) if isinstance(outcome, Answer)]
    names = list(dict.fromkeys(line.name for _, formula in answered for line in formula.lines))
    ax = _axes(ax, (9, 4.6))
    gap = float("nan")
    stack: list[list[float]] = [[] for _ in names]
    heights: list[float] = []
    for outcome in outcomes:
        formula = outcome.formula if isinstance(outcome, Answer) else None
        for name, series in zip(names, stack):
            series.append(gap if formula is None else next((float(line.percent) for line in formula.lines if line.name == name), 0.0))
        heights.append(gap if formula is None else float(formula.measure(measure)))
    base = [0.0] * len(values)
    for index, series in enumerate(stack):
        top = [low + high for low, high in zip(base, series)]
        ax.fill_between(values, base, top, **_style(index))
        base = top
    ax.set_ylim(0, 100)
    ax.set_xlabel(label)
    ax.set_ylabel("% w/w as supplied")
    ax.margins(x=0)
    right = ax.twinx()
    right.plot(values, heights, color="black", linewidth=2, marker="o", markersize=3)
    unit = answered[0][1].measure(measure).unit if answered else ""
    right.set_ylabel(f"{measure.name}, {unit} (black line)")
    _legend(ax, names, below=0.16)
    return ax


def titration(trial: Titration, *, target: float, plan: Adjustment | None = None, ax: Any = None) -> Any:
    """A trial titration, a target pH, and between which amounts of the reagent it is surely reached; gives the matplotlib axes.

    With a plan, its readings stand in the picture where the batch has come to, scaled to the sample that was titrated.

    >>> import tenside as td
    >>> from tenside import plot
    >>> acid = td.Catalogue.starter().material("citric-acid-50")
    >>> trial = td.Titration([("0 g", 8), ("1 g", 6), ("2 g", 5)], sample="100 g", reagent=acid, dilution="1+9")
    >>> axes = plot.titration(trial, target=5.5, plan=trial.adjust("2 kg", td.Reading(8, dilution="1+9"), target=5.5))
    >>> axes.get_xlabel()
    'citric-acid-50 added to 100 g of product, g'
    """
    dose = trial.grams_at(target)
    ax = _axes(ax, (7, 3.8))
    if dose.low is not None and dose.high is not None:
        ax.axvspan(float(dose.low), float(dose.high), color=_COLOURS[4], alpha=0.3, label=f"surely within: {float(dose.low):.2f} to {float(dose.high):.2f} g")
    ax.axhline(target, color="#777777", linestyle="--", label=f"target pH {target:g}")
    ax.plot([float(added) for added, _ in trial.points], [float(ph) for _, ph in trial.points], "o-", color="black", label="trial")
    ax.plot([float(dose.typical)], [target], "D", color=_COLOURS[5], markersize=8, label=f"by interpolation {float(dose.typical):.2f} g")
    if plan is not None:
        readings = [plan.start, *(portion.reading for portion in plan.portions)]
        scale = float(trial.sample / plan.batch)
        added = [0.0]
        for portion in plan.portions:
            added.append(added[-1] + float(portion.added) * scale)
        begun = float(trial.grams_at(plan.start.value).typical)
        ax.plot([begun + grams for grams in added], [float(reading.value) for reading in readings], "s", color=_COLOURS[0], markersize=8, label="batch, as read")
    ax.set_xlabel(f"{trial.reagent.id} added to {float(trial.sample):g} g of product, g")
    ax.set_ylabel(f"pH, read at {trial.dilution} by mass")
    ax.legend(frameon=False, fontsize=9)
    return ax


def _legend(ax: Any, names: Sequence[str], below: float) -> None:
    from matplotlib.patches import Patch

    patches = [Patch(label=name, **_style(index)) for index, name in enumerate(names)]
    ax.legend(handles=patches, loc="upper center", bbox_to_anchor=(0.5, -below), ncols=4, fontsize=8, frameon=False)
