"""What the tests against HiGHS (PyPI: highspy) share: invented shelves and briefs as plain data, the brief of a case for the library, and
the same case as a program for HiGHS, modelled from the compositions and not from the library's own rows.
"""

from __future__ import annotations

import dataclasses
import math
import random
from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

import highspy
import numpy as np
import tenside as td
from tenside import measure as m

HUNDRED = Fraction(100)
ACTIVE = ("OLEFIN A", "SULFATE D", "BETAINE B", "GLUCOSIDE G")
INCI = (*ACTIVE, "WATER", "SALT S", "SALT T", "CLAY C", "WAX W", "OIL O")
CLASS = (
    "anionic-surfactant",
    "anionic-surfactant",
    "amphoteric-surfactant",
    "nonionic-surfactant",
    "",
    "salt",
    "salt",
    "clay",
    "wax",
    "oil-or-butter",
)


@dataclass(frozen=True)
class Asked:
    """`low <= top . x / bottom . x <= high`; without `bottom` over the mass of the formula, in percent of it."""

    name: str
    measure: td.measure.Measure
    top: tuple[Fraction, ...]
    bottom: tuple[Fraction, ...] | None
    low: Fraction | None
    high: Fraction | None


@dataclass(frozen=True)
class Split:
    """Lines in a ratio by active matter; the first two, or three."""

    parts: tuple[tuple[int, Fraction], ...]


@dataclass(frozen=True)
class Case:
    """A shelf, a brief over it, and what it asks for, as plain data."""

    shelf: tuple[tuple[Fraction, ...], ...]
    price: tuple[Fraction, ...]
    box: tuple[tuple[Fraction, Fraction], ...]
    asked: tuple[Asked, ...] = ()
    split: Split | None = None
    objective: str = "cost"
    base: tuple[Fraction, ...] = ()
    absent: frozenset[int] = field(default_factory=frozenset)
    groups: tuple[tuple[tuple[int, ...], int], ...] = ()
    ratio: Fraction = Fraction(0)
    """For the objective water per active matter: the least of `water - ratio * active` is 0 just where the ratio is the least there is."""

    def change(self, **fields: Any) -> Case:
        return dataclasses.replace(self, **fields)

    def share(self, *kinds: str) -> tuple[Fraction, ...]:
        """What each line brings of these constituents, as a part of itself."""
        return tuple(sum((row[INCI.index(kind)] for kind in kinds), Fraction(0)) / 100 for row in self.shelf)


def random_shelf(rng: random.Random, count: int) -> tuple[tuple[Fraction, ...], ...]:
    """Compositions of two to five constituents in steps of half a percent."""
    shelf = []
    for _ in range(count):
        kinds = rng.sample(range(len(INCI)), rng.randint(2, 5))
        cuts = sorted(rng.sample(range(1, 200), len(kinds) - 1))
        row = [Fraction(0)] * len(INCI)
        for kind, start, end in zip(kinds, [0, *cuts], [*cuts, 200]):
            row[kind] = Fraction(end - start, 2)
        shelf.append(tuple(row))
    return tuple(shelf)


def random_point(rng: random.Random, count: int) -> tuple[Fraction, ...]:
    """Percentages in steps of 0.1 that sum to 100."""
    cuts = sorted(rng.choices(range(1001), k=count - 1))
    return tuple(Fraction(end - start, 10) for start, end in zip([0, *cuts], [*cuts, 1000]))


def random_measure(
    rng: random.Random, case: Case
) -> tuple[td.measure.Measure, tuple[Fraction, ...], tuple[Fraction, ...] | None]:
    """A measure with what each line brings to its two sides."""
    count = len(case.shelf)
    kind = rng.choice(["constituent", "constituent", "active", "water", "scoped", "lines", "cost", "ratio"])
    one = rng.choice(INCI)
    some = sorted(rng.sample(range(count), rng.randint(1, max(1, count // 3))))
    names = [f"m{index}" for index in some]
    inside = [Fraction(int(index in some)) for index in range(count)]
    if kind == "active":
        return m.active_matter, case.share(*ACTIVE), None
    if kind == "water":
        return m.water, case.share("WATER"), None
    if kind == "scoped":
        return (
            m.active_matter.contributed_by(lines=names),
            tuple(a * b for a, b in zip(inside, case.share(*ACTIVE))),
            None,
        )
    if kind == "lines":
        return m.as_supplied.contributed_by(lines=names), tuple(inside), None
    if kind == "cost":
        return m.cost, tuple(price / 100 for price in case.price), None
    if kind == "ratio":
        return m.water.per(m.active_matter), case.share("WATER"), case.share(*ACTIVE)
    return m.constituent(one), case.share(one), None


def dot(left: Sequence[Fraction], right: Sequence[Fraction]) -> Fraction:
    return sum((a * b for a, b in zip(left, right)), Fraction(0))


def catalogue_of(case: Case) -> td.Catalogue:
    text = 'tenside = "catalogue/1"\nsource = "invented for this test"\n'
    for inci, kind in zip(INCI, CLASS):
        if kind:
            active = "counts_as_active = true\n" if inci in ACTIVE else ""
            text += f'[[substance]]\ninci = "{inci}"\nclass = "{kind}"\n{active}'
    for index, shares in enumerate(case.shelf):
        constituents = ", ".join(
            f'{{ inci = "{inci}", typical = {float(value)} }}' for inci, value in zip(INCI, shares) if value
        )
        text += f'[[material]]\nid = "m{index}"\nname = "material {index}"\nform = "powder"\nconstituents = [{constituents}]\n'
    return td.Catalogue.from_toml(text)


def brief_of(case: Case) -> td.Brief:
    catalogue = catalogue_of(case)
    brief = td.Brief("random", catalogue, prices={f"m{i}": p for i, p in enumerate(case.price)}, currency="coin")
    for index, (low, high) in enumerate(case.box):
        if index in case.absent:
            brief = brief.absent_or_between(f"m{index}", low, high)
        elif (low, high) == (0, 100):
            brief = brief.free(f"m{index}")
        elif low == high:
            brief = brief.fix(f"m{index}", low)
        else:
            brief = brief.between(f"m{index}", low, high)
    if case.split is not None:
        brief = brief.split({f"m{index}": part for index, part in case.split.parts}, by="active", name="wash")
    for asked in case.asked:
        if asked.low == asked.high:
            brief = brief.require(asked.measure, equal=asked.low, name=asked.name)
        else:
            brief = brief.require(asked.measure, at_least=asked.low, at_most=asked.high, name=asked.name)
    for number, (lines, most) in enumerate(case.groups):
        brief = brief.group(f"group {number}", [f"m{index}" for index in lines]).at_most_of(f"group {number}", most)
    if case.objective == "cost":
        return brief.minimise(m.cost)
    if case.objective == "active":
        return brief.maximise(m.active_matter)
    if case.objective == "ratio":
        return brief.minimise(m.water.per(m.active_matter))
    if case.objective in ("change", "squares"):
        lines = [td.Line(catalogue.material(f"m{index}"), percent) for index, percent in enumerate(case.base)]
        base = td.Formula("base", lines)
        return brief.least_change_from(base) if case.objective == "change" else brief.least_squares_from(base)
    return brief


Row = tuple[list[Fraction], "Fraction | None", "Fraction | None"]
Key = tuple[Any, ...]


def keyed_rows(case: Case) -> dict[Key, Row]:
    """Every row but the sum to 100, by what it is: a requirement's end, or a further member of the split."""
    rows: dict[Key, Row] = {}
    for index, asked in enumerate(case.asked):
        top = list(asked.top)
        if asked.bottom is None:
            if asked.low == asked.high:
                rows["asked", index, "both"] = (top, asked.low, asked.high)
                continue
            if asked.low is not None:
                rows["asked", index, "low"] = (top, asked.low, None)
            if asked.high is not None:
                rows["asked", index, "high"] = (top, None, asked.high)
            continue
        less = [
            [above - limit * below for above, below in zip(top, asked.bottom)] if limit is not None else None
            for limit in (asked.low, asked.high)
        ]
        if asked.low == asked.high and less[0] is not None:
            rows["asked", index, "both"] = (less[0], Fraction(0), Fraction(0))
            continue
        if less[0] is not None:
            rows["asked", index, "low"] = (less[0], Fraction(0), None)
        if less[1] is not None:
            rows["asked", index, "high"] = (less[1], None, Fraction(0))
    if case.split is not None:
        places = range(len(case.split.parts))
        rows.update({("split", place): row for place, row in zip(places[1:], split_rows(case, places))})
    return rows


def split_rows(case: Case, places: Sequence[int]) -> list[Row]:
    """Members of the split, by their places, in their ratio: each further one beside the first of them."""
    if case.split is None or not places:
        return []
    active = case.share(*ACTIVE)
    first, first_part = case.split.parts[places[0]]
    rows: list[Row] = []
    for line, part in (case.split.parts[place] for place in places[1:]):
        coefficients = [Fraction(0)] * len(case.shelf)
        coefficients[line] += active[line] * first_part
        coefficients[first] -= active[first] * part
        rows.append((coefficients, Fraction(0), Fraction(0)))
    return rows


def total(case: Case) -> Row:
    return [Fraction(1)] * len(case.shelf), HUNDRED, HUNDRED


def costs_of(case: Case) -> list[Fraction]:
    """What is minimised, for objectives that are linear in the lines; of squares, what is linear in them."""
    if case.objective == "ratio":
        return [water - case.ratio * active for water, active in zip(case.share("WATER"), case.share(*ACTIVE))]
    if case.objective == "squares":
        return [-2 * percent for percent in case.base]
    if case.objective == "active":
        return [-share for share in case.share(*ACTIVE)]
    if case.objective == "cost":
        return [price / 100 for price in case.price]
    return [Fraction(0)] * len(case.shelf)


_SOLVER = highspy.Highs()
for _option, _value in {
    "output_flag": False,
    "threads": 1,
    "primal_feasibility_tolerance": 1e-9,
    "dual_feasibility_tolerance": 1e-9,
    "mip_feasibility_tolerance": 1e-9,
    "mip_rel_gap": 0.0,
    "mip_abs_gap": 1e-9,
}.items():
    _SOLVER.setOptionValue(_option, _value)


@dataclass(frozen=True)
class Solved:
    """What HiGHS says: the least cost and a point, or neither where there is no point."""

    objective: float | None
    point: list[float]

    @property
    def feasible(self) -> bool:
        return self.objective is not None


def highs(
    costs: Sequence[Fraction],
    columns: Sequence[tuple[Fraction, Fraction | None]],
    rows: Sequence[Row],
    whole: frozenset[int] = frozenset(),
    squares: bool = False,
) -> Solved:
    """The least cost, HiGHS minimising in floats with tolerances of 1e-9; `whole` columns take whole numbers, `squares` adds those of all."""
    if any(low is not None and high is not None and low > high for low, high in columns):
        return Solved(None, [])
    infinity = highspy.kHighsInf
    program = highspy.HighsLp()
    program.num_col_, program.num_row_ = len(columns), len(rows)
    program.col_cost_ = np.array([float(cost) for cost in costs])
    program.col_lower_ = np.array([float(low) for low, _ in columns])
    program.col_upper_ = np.array([infinity if high is None else float(high) for _, high in columns])
    program.row_lower_ = np.array([-infinity if low is None else float(low) for _, low, _ in rows])
    program.row_upper_ = np.array([infinity if high is None else float(high) for _, _, high in rows])
    entries = [
        [(index, float(value)) for index, value in enumerate(coefficients) if value] for coefficients, _, _ in rows
    ]
    program.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    program.a_matrix_.start_ = np.cumsum([0, *(len(row) for row in entries)], dtype=np.int32)
    program.a_matrix_.index_ = np.array([index for row in entries for index, _ in row], dtype=np.int32)
    program.a_matrix_.value_ = np.array([value for row in entries for _, value in row])
    if whole:
        kinds = (highspy.HighsVarType.kContinuous, highspy.HighsVarType.kInteger)
        program.integrality_ = [kinds[index in whole] for index in range(len(columns))]
    _SOLVER.clearModel()
    assert _SOLVER.passModel(program) != highspy.HighsStatus.kError
    if squares:
        hessian = highspy.HighsHessian()
        hessian.dim_ = len(columns)
        hessian.format_ = highspy.HessianFormat.kTriangular
        hessian.start_ = np.arange(len(columns) + 1, dtype=np.int32)
        hessian.index_ = np.arange(len(columns), dtype=np.int32)
        hessian.value_ = np.full(len(columns), 2.0)
        assert _SOLVER.passHessian(hessian) != highspy.HighsStatus.kError
    _SOLVER.run()
    status = _SOLVER.getModelStatus()
    if status == highspy.HighsModelStatus.kOptimal:
        return Solved(_SOLVER.getInfo().objective_function_value, list(_SOLVER.getSolution().col_value))
    # Every column that is not a distance has both ends, so what is not optimal is infeasible.
    assert status in (highspy.HighsModelStatus.kInfeasible, highspy.HighsModelStatus.kUnboundedOrInfeasible), status
    return Solved(None, [])


def answer_of(case: Case) -> Solved:
    """The case without steps and choices."""
    count = len(case.shelf)
    rows = [total(case), *keyed_rows(case).values()]
    columns: list[tuple[Fraction, Fraction | None]] = list(case.box)
    costs = costs_of(case)

    def near(form: Sequence[Fraction], column: int, middle: Fraction, width: Fraction) -> None:
        """The column is at least as much as the form is from the middle, in widths."""
        for sign in (1, -1):
            coefficients = [sign * value for value in form] + [Fraction(0)] * (column - count + 1)
            coefficients[column] = -width
            rows.append((coefficients, None, sign * middle))

    if case.objective == "change":
        for index, percent in enumerate(case.base):
            columns.append((Fraction(0), None))
            costs.append(Fraction(1))
            near([Fraction(int(other == index)) for other in range(count)], count + index, percent, Fraction(1))
    elif case.objective == "none":
        columns.append((Fraction(0), None))
        costs.append(Fraction(1))
        for form, middle, width in written_ranges(case):
            near(form, count, middle, width)
    return highs(costs, columns, rows, squares=case.objective == "squares")


def written_ranges(case: Case) -> list[tuple[list[Fraction], Fraction, Fraction]]:
    """The ranges whose middles an answer without objective is near to: form, middle and half-width."""
    count = len(case.shelf)
    ranges = []
    for index, (low, high) in enumerate(case.box):
        if low < high and (low, high) != (0, 100):
            ranges.append(
                ([Fraction(int(other == index)) for other in range(count)], (low + high) / 2, (high - low) / 2)
            )
    for asked in case.asked:
        if asked.low is not None and asked.high is not None and asked.low < asked.high and asked.bottom is None:
            ranges.append((list(asked.top), (asked.low + asked.high) / 2, (asked.high - asked.low) / 2))
    return ranges


def feasible(case: Case, rows: Sequence[Row], columns: Sequence[tuple[Fraction, Fraction]]) -> bool:
    """Whether HiGHS finds a point of these rows and columns."""
    return highs([Fraction(0)] * len(columns), columns, [total(case), *rows]).feasible


def in_whole_numbers(row: Row) -> Row:
    """The row times what makes every number of it whole: then whole columns miss it by 1 or not at all."""
    coefficients, low, high = row
    scale = math.lcm(*(value.denominator for value in (*coefficients, low, high) if value is not None))
    return (
        [value * scale for value in coefficients],
        None if low is None else low * scale,
        None if high is None else high * scale,
    )


class Tally:
    """The counts of a family, and what did not agree with how to make it again."""

    def __init__(self, family: str) -> None:
        self.family = family
        self.counts: dict[str, int] = {}
        self.mismatches: list[str] = []
        self.seed = ""

    def count(self, what: str) -> None:
        self.counts[what] = self.counts.get(what, 0) + 1

    def agrees(self, holds: object, what: str) -> None:
        """Counts a check; what does not hold is kept."""
        self.count("checks")
        if not holds:
            self.mismatches.append(f"{self.family} {self.seed}: {what}")

    def close(self) -> None:
        counts = ", ".join(f"{number} {what}" for what, number in self.counts.items())
        print(f"{self.family}: {counts}, {len(self.mismatches)} mismatches")
        assert not self.mismatches, self.mismatches[:20]
