"""What more or less of each component does to a fitted property."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tenside._native import FittedModel
from tenside.plot._mixture import fractions
from tenside.plot._style import COLOURS, FAINT, axes, below, calm, picture, plain

#: Components that are told apart: one a colour.
MOST = 8


@picture
def trace(
    model: FittedModel,
    *,
    reference: Mapping[str, float] | None = None,
    settings: Mapping[str, float] | None = None,
    ax: Any = None,
) -> Any:
    """The property as each component is raised or lowered from a reference mixture, the others keeping their ratio (Cox's direction).

    `reference` is the fraction of each component, by default the mean of the runs; `settings` are those of process variables. Each line goes as far as runs do.
    D. R. Cox, Biometrika 58, 1971, 155-159 (from memory). Gives the axes.

    >>> import tenside as td
    >>> from tenside import plot
    >>> runs = [td.trial.TrialRun(str(n), {"sci-powder": 100 - k, "kaolin": k}, {"hardness": y}) for n, (k, y) in enumerate([(20, 30), (50, 46), (80, 42), (100, 30)])]
    >>> plot.trace(td.trial.TrialLog("Kaolin", {"hardness": "N"}, runs).fit("hardness")).get_ylabel()
    'hardness, N'
    """
    import numpy as np

    names = list(model.components)
    made = fractions(model.log, names)
    made = made[~np.isnan(made).any(axis=1)]
    if reference is None:
        start = made.mean(axis=0)
    else:
        if len(reference) != len(names) or set(reference) != set(names):
            raise ValueError(f"a reference has a fraction for each component: {', '.join(names)}")
        start = np.array([float(reference[name]) for name in names])
        if abs(start.sum() - 1) > 1e-6 or (start < 0).any():
            raise ValueError(f"the fractions of a reference sum to 1 (found {start.sum():g})")
    ax = axes(ax, (7, 4.4))
    handles = []
    for index, name in enumerate(names[:MOST]):
        low, high = min(made[:, index].min(), start[index]), max(made[:, index].max(), start[index])
        if start[index] >= 1 or high - low < 1e-9:
            continue
        moved = np.linspace(low, high, 81)
        mixtures = start * ((1 - moved) / (1 - start[index]))[:, None]
        mixtures[:, index] = moved
        values = model.values_at(mixtures.tolist(), settings=settings)
        style = "-" if index % 2 == 0 else "--"
        handles += ax.plot(
            100 * (moved - start[index]),
            values,
            style,
            color=COLOURS[index],
            linewidth=1.8,
            label=plain(f"{name}, from {100 * start[index]:.1f} %"),
        )
    ax.axvline(0, color=FAINT, linewidth=0.8, linestyle=":")
    if len(names) > MOST:
        handles += ax.plot([], [], linestyle="none", label=f"left out: {len(names) - MOST} components")
    ax.set_xlabel("change of a component, % of components, the others keeping their ratio")
    ax.set_ylabel(plain(model.response.heading))
    calm(
        ax,
        f"{model.log.title}: {model.model} model, residual deviation {model.residual_deviation:.3g} {model.response.unit}",
    )
    below(ax, handles, columns=2)
    return ax
