"""Trials: designs, logs, fitted models, mixed micelles; and the next best trial.

`next_trial` (extra ``trials``: scikit-learn) says where a Gaussian process of the results so far expects the most
improvement. A polynomial says what is known of the region as a whole; a Gaussian process follows the results more closely and says where nothing is known yet. Candidates are drawn
evenly from what a brief allows, so that every one of them can be made. What it proposes is a batch to make, not a result.

D. R. Jones, M. Schonlau and W. J. Welch, Journal of Global Optimization 13, 1998, 455-492 (from memory). The process is scikit-learn's.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from tenside._native import (
    AliasedTerm,
    AnovaRow,
    BestOnModel,
    Brief,
    BriefRegion,
    Design,
    DesignedRun,
    Desirability,
    DesiredResponse,
    Dispersed,
    FittedModel,
    FittedRun,
    FittedTerm,
    Formula,
    FormulaMicelles,
    InteractionPair,
    LackOfFit,
    Line,
    MicelleInteraction,
    MixedMicelles,
    MixedSurfactant,
    ModelCandidate,
    ModelChoice,
    MostDesirable,
    Prediction,
    RankSummary,
    RankedBlend,
    Response,
    Table,
    TrialLog,
    TrialRun,
)
from tenside.words import Direction

__all__ = [
    "AliasedTerm",
    "AnovaRow",
    "BestOnModel",
    "BriefRegion",
    "Design",
    "DesignedRun",
    "Desirability",
    "DesiredResponse",
    "Dispersed",
    "FittedModel",
    "FittedRun",
    "FittedTerm",
    "FormulaMicelles",
    "InteractionPair",
    "LackOfFit",
    "MicelleInteraction",
    "MixedMicelles",
    "MixedSurfactant",
    "ModelCandidate",
    "ModelChoice",
    "MostDesirable",
    "Prediction",
    "Proposal",
    "RankSummary",
    "RankedBlend",
    "Response",
    "TrialLog",
    "TrialRun",
    "next_trial",
]


@dataclass(frozen=True)
class Proposal:
    """A batch to make next."""

    #: The formula, on the grid and inside the brief.
    formula: Formula
    #: The property, with its unit.
    response: str
    #: What the process expects there, and its standard deviation, both in the unit of the property.
    expected: float
    deviation: float
    #: By how much the batch is expected to be better than the best so far, in the unit of the property; 0 where it is worse.
    improvement: float
    #: What the process says of the best batch so far.
    best: float
    #: The fitted kernel, in words of scikit-learn.
    kernel: str
    #: Candidates that were looked at.
    candidates: int


def next_trial(
    log: TrialLog,
    response: str,
    brief: Brief,
    *,
    direction: Direction = "maximise",
    components: Sequence[str] | None = None,
    candidates: int = 1000,
    seed: int = 1,
) -> Proposal:
    """The formula of a `brief` with the greatest expected improvement of a property, `response`, by the results in a `log`.

    `direction` says whether much or little is wanted; `components` are the lines that the process looks at, by default those that were varied; `candidates`
    formulas are drawn with the `seed`: the same seed gives the same proposal.

    >>> import tenside as td
    >>> from tenside import trial
    >>> results = [(20, 30.1), (35, 41), (60, 46.0), (80, 41.8), (95, 30.2)]
    >>> runs = [td.trial.TrialRun(str(n), {"sci-powder": 100 - k, "kaolin": k}, {"hardness": y}) for n, (k, y) in enumerate(results)]
    >>> brief = td.Brief("Hard", td.Catalogue.starter()).between("kaolin", 20, 95).qs("sci-powder")
    >>> proposal = trial.next_trial(td.trial.TrialLog("Kaolin", {"hardness": "N"}, runs), "hardness", brief)
    >>> 40 < float(proposal.formula.line("kaolin").percent) < 75, proposal.improvement >= 0
    (True, True)
    """
    kinds = {
        "log": (log, TrialLog),
        "response": (response, str),
        "brief": (brief, Brief),
        "direction": (direction, str),
        "seed": (seed, int),
    }
    for what, (value, kind) in {**kinds, "candidates": (candidates, int)}.items():
        if not isinstance(value, kind):
            raise TypeError(f"{what} is a {kind.__name__} (found a {type(value).__name__})")
    if not 0 <= seed < 2**32:
        raise ValueError(f"seed is from 0 to 4294967295 (found {_shown(seed)})")
    import numpy as np

    try:
        from sklearn.exceptions import ConvergenceWarning  # type: ignore[import-untyped]
        from sklearn.gaussian_process import GaussianProcessRegressor  # type: ignore[import-untyped]
        from sklearn.gaussian_process.kernels import ConstantKernel, Matern, WhiteKernel  # type: ignore[import-untyped]
    except ImportError as error:
        raise ImportError(f"proposals need {error.name}: install tenside with the extra `trials`") from error
    import warnings

    if direction not in ("maximise", "minimise"):
        raise ValueError(f"direction is 'maximise' or 'minimise' (found {_shown(direction)})")
    known = [one for one in log.responses if one.name == response]
    if not known:
        raise ValueError(
            f"the log has no property {_shown(response)}; it has {', '.join(one.name for one in log.responses)}"
        )
    names = list(components) if components is not None else list(log.varied)
    both = set(log.lines) & {line.name for line in brief.lines}
    if strange := [name for name in names if not isinstance(name, str) or name not in both]:
        raise ValueError(f"{_shown(strange[0])} is not a line of both the log and the brief")
    if len(set(names)) < len(names):
        raise ValueError("a component is named twice; name each once")
    used = [run for run in log.runs if response in run.results]
    if len(used) < 3 or len({run.results[response] for run in used}) < 2:
        raise ValueError(
            f"a process needs three results that are not all alike (found {len(used)}); press and measure more bars first"
        )
    sign = 1.0 if direction == "maximise" else -1.0
    points = _fractions([[float(run.made[name]) for name in names] for run in used])
    values = np.array([sign * float(run.results[response]) for run in used])
    # Shares of a few percent and of half the formula count alike.
    spread = np.where(np.ptp(points, axis=0) > 0, np.ptp(points, axis=0), 1.0)
    kernel = ConstantKernel(1.0, (1e-2, 1e3)) * Matern(np.ones(len(names)), (1e-1, 1e2), nu=2.5) + WhiteKernel(
        0.05, (1e-6, 1e1)
    )
    process = GaussianProcessRegressor(kernel, normalize_y=True, n_restarts_optimizer=4, random_state=seed)
    with warnings.catch_warnings():
        # A length at its end says that the component does next to nothing.
        warnings.simplefilter("ignore", ConvergenceWarning)
        process.fit(points / spread, values)
    drawn = brief.samples(candidates, seed=seed).lines
    mixtures = _fractions(np.array([drawn[name] for name in names]).T)
    expected, deviation = process.predict(mixtures / spread, return_std=True)
    # The white part is the error of a result, which no batch improves on.
    noise = float(process.kernel_.k2.noise_level) * float(np.std(values)) ** 2
    deviation = np.sqrt(np.maximum(deviation**2 - noise, 0.0))
    best = float(process.predict(points / spread).max())
    improvement = np.array([_improvement(mean - best, error) for mean, error in zip(expected, deviation)])
    chosen = int(improvement.argmax())
    formula = _on_grid(brief, {line: values_[chosen] for line, values_ in drawn.items()})
    return Proposal(
        formula=formula,
        response=known[0].heading,
        expected=sign * float(expected[chosen]),
        deviation=float(deviation[chosen]),
        improvement=float(improvement[chosen]),
        best=sign * best,
        kernel=str(process.kernel_),
        candidates=len(mixtures),
    )


def _shown(value: object) -> str:
    """As it stands in a message: of something long its beginning."""
    written = repr(value)
    return written if len(written) <= 80 else f"{written[:80]}..."


def _fractions(parts: Any) -> Any:
    import numpy as np

    array = np.asarray(parts, dtype=float)
    sums = array.sum(axis=1, keepdims=True)
    if (sums <= 0).any():
        raise ValueError("a run or a formula has none of the components")
    return array / sums


def _improvement(above: float, deviation: float) -> float:
    """``(mu - best) Phi(z) + sigma phi(z)`` with ``z = (mu - best) / sigma``."""
    if deviation <= 0:
        return max(above, 0.0)
    z = above / deviation
    return above * 0.5 * math.erfc(-z / math.sqrt(2)) + deviation * math.exp(-z * z / 2) / math.sqrt(2 * math.pi)


def _on_grid(brief: Brief, percents: dict[str, float]) -> Formula:
    """The formula of the brief that is nearest to a sample."""
    from decimal import Decimal

    lines: Table = brief.lines
    rounded = {line.name: Decimal(str(round(percents[line.name], 2))) for line in lines}
    largest = max(rounded, key=lambda name: rounded[name])
    rounded[largest] += 100 - sum(rounded.values())
    near = Formula(brief.title, [Line(line.material, rounded[line.name], name=line.name) for line in lines])
    return brief.least_change_from(near).solve().formula
