"""What is checked with HiGHS of a conflict and of an answer's ranges."""

from __future__ import annotations

import dataclasses
import random
from collections.abc import Callable
from fractions import Fraction

import tenside as td
from oracle_model import (
    ACTIVE,
    HUNDRED,
    Asked,
    Case,
    Key,
    Row,
    Split,
    Tally,
    answer_of,
    costs_of,
    dot,
    feasible,
    highs,
    keyed_rows,
    split_rows,
    total,
)

HAIR = Fraction(1, 10_000)
"""How far short of a relaxation is a hair, in parts of the limit (of 1 where it is smaller)."""

BEYOND = Fraction(1, 50)
"""How far beyond the end of a range is just beyond it, in parts of the end (of 1 where it is smaller)."""


def key_of(case: Case, constraint: td.brief.Constraint) -> Key | None:
    """The row or line of the case that a constraint is; None where it has none."""
    if constraint.kind == "line":
        place = int(constraint.name.removeprefix("m"))
        fixed = case.box[place][0] == case.box[place][1]
        return ("line", place) if constraint.index == place and (constraint.end == "both" or not fixed) else None
    if constraint.kind == "split" and case.split is not None and constraint.name == "wash":
        return ("split", [f"m{line}" for line, _ in case.split.parts].index(constraint.member))
    else:
        key = ("asked", constraint.index, constraint.end)
        if constraint.kind != "requirement" or case.asked[constraint.index].name != constraint.name:
            return None
    return key if key in keyed_rows(case) else None


def rows_of(case: Case, keep: Callable[[Key], bool]) -> list[Row]:
    """The rows of what is kept; members of the split keep the ratio among themselves."""
    rows = [row for key, row in keyed_rows(case).items() if key[0] != "split" and keep(key)]
    return rows + split_rows(
        case, [place for place in range(len(case.split.parts) if case.split else 0) if keep(("split", place))]
    )


def only(case: Case, members: tuple[Key, ...]) -> bool:
    """Whether HiGHS finds a point that meets the members alone."""
    rows = rows_of(case, lambda key: key in members)
    columns = [ends if ("line", index) in members else (Fraction(0), HUNDRED) for index, ends in enumerate(case.box)]
    return feasible(case, rows, columns)


def leaving_out(case: Case, *members: Key) -> bool:
    rows = rows_of(case, lambda key: key not in members)
    columns = [(Fraction(0), HUNDRED) if ("line", index) in members else ends for index, ends in enumerate(case.box)]
    return feasible(case, rows, columns)


def has_a_value(case: Case, member: Key) -> bool:
    """Whether some formula of the case without the member has a value for what it limits: a denominator above 0, of a split what a part may be."""
    if member[0] == "line":
        return leaving_out(case, member)
    rows = rows_of(case, lambda key: key != member)
    if member[0] == "split":
        assert case.split is not None
        (first, first_part), (other, _) = case.split.parts[int(member[1] == 0)], case.split.parts[member[1]]
        active = case.share(*ACTIVE)
        bottom = tuple(share if index == first else Fraction(0) for index, share in enumerate(active))
        for part, low, high in ((Fraction(1, 1000), Fraction(0), None), (Fraction(1_000_000), None, Fraction(0))):
            row = [Fraction(0)] * len(case.shelf)
            row[other] += active[other] * first_part
            row[first] -= active[first] * part
            rows.append((row, low, high))
    else:
        bottom = case.asked[member[1]].bottom or (Fraction(1),) * len(case.shelf)
    most = highs([-value for value in bottom], list(case.box), [total(case), *rows]).objective
    return most is not None and most < -1e-7


def is_irreducible(case: Case, members: tuple[Key, ...]) -> bool:
    return not only(case, members) and all(only(case, members[:at] + members[at + 1 :]) for at in range(len(members)))


def moved(case: Case, member: Key, limit: Fraction, to: Fraction) -> Case:
    """The case with one limit of a member at another value; a line's percentage stays between 0 and 100."""
    if member[0] == "line":
        low, high = case.box[member[1]]
        if low == high:
            ends = (to, to) if 0 <= to <= HUNDRED else (HUNDRED, Fraction(0))
        else:
            ends = (max(to, Fraction(0)), high) if limit == low else (low, min(to, HUNDRED))
        return case.change(box=(*case.box[: member[1]], ends, *case.box[member[1] + 1 :]))
    if member[0] == "split":
        assert case.split is not None
        parts = list(case.split.parts)
        parts[member[1]] = (parts[member[1]][0], to)
        return case.change(split=Split(tuple(parts)))
    asked = case.asked[member[1]]
    ends = {"both": {"low": to, "high": to}, "low": {"low": to}, "high": {"high": to}}[member[2]]
    changed = type(asked)(**{**{name: getattr(asked, name) for name in asked.__dataclass_fields__}, **ends})
    return case.change(asked=(*case.asked[: member[1]], changed, *case.asked[member[1] + 1 :]))


def is_feasible(case: Case) -> bool:
    return feasible(case, list(keyed_rows(case).values()), list(case.box))


def check_conflict(case: Case, conflict: td.solve.Conflict, tally: Tally) -> None:
    """That the members cannot hold together and can without any one; each member's least relaxation, just at it and a hair short of it; and
    that what is said to be left out does, and nothing of it for nothing."""
    chosen = tuple(key_of(case, constraint) for constraint in conflict.constraints)
    tally.agrees(
        chosen and None not in chosen and len(chosen) == len(conflict.members),
        f"a member is not known: {conflict.members}",
    )
    if None in chosen:
        return
    tally.count("conflicts checked irreducible")
    irreducible = is_irreducible(case, chosen)
    tally.agrees(irreducible, f"not irreducible: {conflict.members}")
    if not irreducible:
        return
    relaxations = conflict.relaxations()
    for member, change in zip(chosen, relaxations):
        if change is None:
            tally.count("members that alone would not do")
            tally.agrees(
                not has_a_value(case, member), f"leaving out {member} alone would do, and no relaxation is stated"
            )
            continue
        tally.count("relaxations")
        tally.agrees(
            is_feasible(moved(case, member, change.limit, change.to)), f"{change.sentence}: not feasible at {change.to}"
        )
        hair = HAIR * max(Fraction(1), abs(change.to)) * (1 if change.limit > change.to else -1)
        if abs(change.limit - change.to) > abs(hair):
            short = change.to + hair
            tally.agrees(
                not is_feasible(moved(case, member, change.limit, short)), f"{change.sentence}: {float(short)} would do"
            )
    left_out = [key_of(case, constraint) for constraint in conflict.correction_set()]
    tally.count("correction sets")
    tally.agrees(leaving_out(case, *left_out), f"there is no formula without {left_out}")
    for member in left_out:
        tally.agrees(
            not leaving_out(case, *(other for other in left_out if other != member)),
            f"{member} is left out for nothing",
        )


def check_limits(rng: random.Random, case: Case, answer: td.solve.Answer, tally: Tally, most: int) -> None:
    """Shadow prices and their ranges: just inside the best cost moves as the price says, just outside it no longer does."""
    sign = -1 if case.objective == "active" else 1
    assert answer.objective is not None
    ranges = answer.limit_ranges()
    for limit in rng.sample(list(ranges), min(most, len(ranges))):
        key = (
            key_of(case, limit.constraint)
            if limit.constraint.kind == "requirement"
            else ("line", limit.constraint.index)
        )
        tally.agrees(key is not None, f"a limit is not known: {limit.words}")
        if key is None:
            continue
        tally.count("limit ranges")
        low_end = limit.constraint.end != "high"

        def cost(value: Fraction) -> float | None:
            case_there = moved_end(case, key, low_end, value, limit.value)
            return answer_of(case_there).objective

        def said(value: Fraction) -> float:
            return sign * float(answer.objective + limit.price * (value - limit.value))

        room = 1e-7 * max(1.0, abs(said(limit.value)))
        for end, way in ((limit.low, -1), (limit.high, 1)):
            inside = limit.value + way * 5 if end is None else limit.value + (end - limit.value) * Fraction(999, 1000)
            found_cost = cost(inside)
            tally.agrees(
                found_cost is not None and abs(found_cost - said(inside)) <= room,
                f"{limit.sentence}: at {float(inside)} HiGHS says {found_cost}, the price {said(inside)}",
            )
            if end is None:
                continue
            outside = end + way * BEYOND * max(Fraction(1), abs(end))
            there = cost(outside)
            tally.agrees(
                there is None or there > said(outside) + room / 50,
                f"{limit.sentence}: beyond {float(end)} the price still holds for HiGHS",
            )


def moved_end(case: Case, member: Key, low_end: bool, to: Fraction, limit: Fraction) -> Case:
    if member[0] == "line" and case.box[member[1]][0] != case.box[member[1]][1]:
        low, high = case.box[member[1]]
        return moved(case, member, low if low_end else high, to)
    return moved(case, member, limit, to)


def asked_of_cost(case: Case) -> list[Asked]:
    """The limits on the cost, which move with prices."""
    return [asked for asked in case.asked if asked.measure == td.measure.cost]


def check_prices(rng: random.Random, case: Case, answer: td.solve.Answer, tally: Tally, most: int) -> None:
    """Between the prices stated the exact solution costs what HiGHS says is least, just beyond them HiGHS finds a cheaper one or a limit on the cost is broken."""
    exact = list(answer.exact.values())
    if any(asked.low is not None for asked in asked_of_cost(case)):
        try:
            answer.price_ranges()
        except td.errors.Unsupported:
            tally.count("price ranges refused")
        else:
            tally.agrees(False, "price ranges in spite of a least cost")
        return
    ranges = answer.price_ranges()
    for price in rng.sample(list(ranges), min(most, len(ranges))):
        line = int(price.material.removeprefix("m"))
        tally.count("price ranges")

        def less(value: Fraction) -> float:
            """By how much HiGHS is below the exact solution at another price."""
            prices = (*case.price[:line], value, *case.price[line + 1 :])
            top = tuple(price / 100 for price in prices)
            if any(dot(top, exact) > asked.high for asked in asked_of_cost(case)):
                return float("inf")
            asked = tuple(
                dataclasses.replace(one, top=top) if one.measure == td.measure.cost else one for one in case.asked
            )
            there = case.change(price=prices, asked=asked)
            solved = answer_of(there)
            assert solved.objective is not None
            return float(sum((a * b for a, b in zip(costs_of(there), exact)), Fraction(0))) - solved.objective

        room = 1e-7 * max(1.0, abs(float(answer.objective or 0)))
        for end, way in ((price.low, -1), (price.high, 1)):
            free = price.price + 5 if way > 0 else price.price / 2
            inside = free if end is None else price.price + (end - price.price) * Fraction(999, 1000)
            tally.agrees(
                abs(less(inside)) <= room, f"{price.sentence}: at {float(inside)} HiGHS is {less(inside)} below"
            )
            if end is None:
                continue
            outside = end + way * BEYOND * max(Fraction(1), abs(end))
            tally.agrees(less(outside) > room / 50, f"{price.sentence}: beyond {float(end)} it is still best for HiGHS")
