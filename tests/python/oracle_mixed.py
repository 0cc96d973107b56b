"""Steps and choices as a mixed-integer program for HiGHS, and what forbids a formula taken apart."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

import tenside as td
from oracle_model import HUNDRED, Case, Row, Solved, costs_of, highs, in_whole_numbers, keyed_rows, total


@dataclass(frozen=True)
class Rounding:
    """Steps, and what becomes of splits and targets, as plain data."""

    every: Fraction
    lines: dict[int, Fraction]
    within: dict[str, Fraction]
    giving_up: tuple[str, ...]

    def steps(self, nodes: int) -> td.solve.Steps:
        lines = {f"m{index}": step for index, step in self.lines.items()}
        return td.solve.Steps(self.every, lines=lines, within=self.within, giving_up=self.giving_up, nodes=nodes)

    def of(self, line: int) -> Fraction:
        return self.lines.get(line, self.every)


def loosened(case: Case, rounding: Rounding) -> list[Row]:
    """The rows, equations within their tolerances and without those given up."""
    rows: list[Row] = []
    for key, row in keyed_rows(case).items():
        if key[-1] != "both" and key[0] != "split":
            rows.append(row)
            continue
        name = "wash" if key[0] == "split" else case.asked[key[1]].name
        room = rounding.within.get(name, Fraction(0))
        if name in rounding.giving_up:
            continue
        coefficients, low, high = row
        if key[0] == "split":
            assert case.split is not None
            room *= case.split.parts[0][1]
        elif (bottom := case.asked[key[1]].bottom) is not None:
            rows.append(([value + room * below for value, below in zip(coefficients, bottom)], Fraction(0), None))
            rows.append(([value - room * below for value, below in zip(coefficients, bottom)], None, Fraction(0)))
            continue
        assert low is not None and high is not None
        rows.append((coefficients, low - room, high + room))
    return rows


def best_mixed(case: Case, rounding: Rounding | None) -> Solved:
    """The least cost with steps and choices, HiGHS minimising over whole numbers of steps and switches of lines that may be absent."""
    count = len(case.shelf)
    steps = [Fraction(1) if rounding is None else rounding.of(line) for line in range(count)]
    asked = list(keyed_rows(case).values()) if rounding is None else loosened(case, rounding)
    switched = sorted({*case.absent, *(line for lines, _ in case.groups for line in lines)})
    switch = {line: count + place for place, line in enumerate(switched)}
    width = count + len(switched)
    columns = [
        (Fraction(0), high / step) if line in case.absent else (low / step, high / step)
        for line, ((low, high), step) in enumerate(zip(case.box, steps))
    ]
    columns += [(Fraction(0), Fraction(1))] * len(switched)
    rows = [
        ([value * step for value, step in zip(row, steps)] + [Fraction(0)] * len(switched), low, high)
        for row, low, high in [total(case), *asked]
    ]
    for line, column in switch.items():
        low, high = case.box[line]
        for limit, ends in [
            (high, (None, Fraction(0))),
            (low if line in case.absent else Fraction(0), (Fraction(0), None)),
        ]:
            coefficients = [Fraction(0)] * width
            coefficients[line], coefficients[column] = steps[line], -limit
            rows.append((coefficients, *ends))
    for lines, most in case.groups:
        rows.append(
            (
                [Fraction(int(column in {switch[line] for line in lines})) for column in range(width)],
                None,
                Fraction(most),
            )
        )
    costs = [cost * step for cost, step in zip(costs_of(case), steps)] + [Fraction(0)] * len(switched)
    whole = frozenset(range(count if rounding is None else 0, width))
    if rounding is not None:
        rows = [in_whole_numbers(row) for row in rows]
    return highs(costs, columns, rows, whole)


def parts_of(case: Case) -> dict[str, tuple[str, int]]:
    """Everything that a brief with choices asks for and that may be named as forbidding a formula, by its words."""
    parts: dict[str, tuple[str, int]] = {}
    for index, line in enumerate(td_lines(case)):
        if line is not None:
            parts[f"line m{index}, {line}"] = ("line", index)
    for number, (_, most) in enumerate(case.groups):
        parts[f"at most {most} of group {number}"] = ("group", number)
    for index, asked in enumerate(case.asked):
        parts[asked.name] = ("asked", index)
    if case.split is not None:
        parts["split wash"] = ("split", 0)
    return parts


def td_lines(case: Case) -> Iterable[str | None]:
    def shown(value: Fraction) -> str:
        return f"{float(value):g}"

    for index, (low, high) in enumerate(case.box):
        if index in case.absent:
            yield f"absent or between {shown(low)} and {shown(high)} %"
        elif (low, high) == (0, 100):
            yield None
        else:
            yield f"fixed at {shown(low)} %" if low == high else f"between {shown(low)} and {shown(high)} %"


def without(case: Case, parts: Iterable[tuple[str, int]]) -> Case:
    """The case without these parts; a line without its range is free."""
    gone = set(parts)
    return case.change(
        box=tuple((Fraction(0), HUNDRED) if ("line", index) in gone else ends for index, ends in enumerate(case.box)),
        absent=frozenset(index for index in case.absent if ("line", index) not in gone),
        groups=tuple(group for number, group in enumerate(case.groups) if ("group", number) not in gone),
        asked=tuple(asked for index, asked in enumerate(case.asked) if ("asked", index) not in gone),
        split=None if ("split", 0) in gone else case.split,
    )
