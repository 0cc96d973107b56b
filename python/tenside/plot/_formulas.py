"""Pictures of formulas: bars side by side, and how a recipe changes along a series of answers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from tenside._native import Answer, Conflict, Formula, Measure
from tenside.plot._style import axes, below, filled, lettering, picture, plain


@picture
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
    ax = axes(ax, (9, 1.6 + 0.6 * len(formulas)))
    for row, formula in enumerate(formulas.values()):
        start = 0.0
        for line in formula.lines:
            width = float(line.percent)
            ax.barh(row, width, left=start, height=0.7, **filled(names.index(line.name)))
            if width >= 4:
                letters = lettering(names.index(line.name))
                ax.text(start + width / 2, row, f"{width:.1f}", ha="center", va="center", fontsize=9, color=letters)
            start += width
    ax.set_yticks(range(len(formulas)), [plain(name) for name in formulas])
    ax.invert_yaxis()
    ax.set_xlim(0, 100)
    ax.set_xlabel("% w/w as supplied")
    _legend(ax, names)
    return ax


@picture
def course(
    values: Sequence[float], outcomes: Sequence[Answer | Conflict], measure: Measure, *, label: str, ax: Any = None
) -> Any:
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
    ax = axes(ax, (9, 4.6))
    gap = float("nan")
    stack: list[list[float]] = [[] for _ in names]
    heights: list[float] = []
    for outcome in outcomes:
        formula = outcome.formula if isinstance(outcome, Answer) else None
        for name, series in zip(names, stack):
            series.append(
                gap
                if formula is None
                else next((float(line.percent) for line in formula.lines if line.name == name), 0.0)
            )
        heights.append(gap if formula is None else float(formula.measure(measure)))
    base = [0.0] * len(values)
    for index, series in enumerate(stack):
        top = [low + high for low, high in zip(base, series)]
        ax.fill_between(values, base, top, **filled(index))
        base = top
    ax.set_ylim(0, 100)
    ax.set_xlabel(plain(label))
    ax.set_ylabel("% w/w as supplied")
    ax.margins(x=0)
    right = ax.twinx()
    right.plot(values, heights, color="black", linewidth=2, marker="o", markersize=3)
    unit = answered[0][1].measure(measure).unit if answered else ""
    right.set_ylabel(plain(f"{measure.name}, {unit} (black line)"))
    _legend(ax, names)
    return ax


def _legend(ax: Any, names: Sequence[str]) -> None:
    from matplotlib.patches import Patch

    below(ax, [Patch(label=plain(name), **filled(index)) for index, name in enumerate(names)], columns=4)
