"""The families of random cases: each makes the case of a number, the same one every time."""

from __future__ import annotations

import random
from fractions import Fraction

import tenside as td
from oracle_mixed import Rounding
from oracle_model import (
    ACTIVE,
    HUNDRED,
    Asked,
    Case,
    Split,
    brief_of,
    dot,
    highs,
    keyed_rows,
    random_measure,
    random_point,
    random_shelf,
    total,
)
from tenside import measure as m


def tenths(rng: random.Random, least: int, greatest: int) -> Fraction:
    return Fraction(rng.randint(least, greatest), 10)


def random_objective(rng: random.Random, case: Case, *words: str) -> Case:
    """With one of these objectives; a ratio only where its denominator stays above 0."""
    case = case.change(objective=rng.choice(words))
    if case.objective == "ratio":
        columns = [(Fraction(0) if line in case.absent else low, high) for line, (low, high) in enumerate(case.box)]
        least = highs(case.share(*ACTIVE), columns, [total(case), *keyed_rows(case).values()]).objective
        if least is not None and least < 1:
            return case.change(objective="cost")
    return case


def with_split(rng: random.Random, case: Case, members: int) -> Case:
    """With the first lines that bring active matter in a ratio."""
    able = [index for index, share in enumerate(case.share(*ACTIVE)) if share > 0][:members]
    if len(able) < members:
        return case
    return case.change(split=Split(tuple((index, Fraction(rng.randint(1, 9))) for index in able)))


def plain(seed: str) -> Case:
    """Small, with limits from anywhere."""
    rng = random.Random(seed)
    count = rng.randint(3, 15)
    box = []
    for _ in range(count):
        role = rng.random()
        if role < 0.2:
            value = tenths(rng, 0, 120)
            box.append((value, value))
        elif role < 0.7:
            low = tenths(rng, 0, 100)
            box.append((low, min(low + tenths(rng, 1, 500), HUNDRED)))
        else:
            box.append((Fraction(0), HUNDRED))
    prices = tuple(Fraction(rng.randint(10, 900), 100) for _ in range(count))
    case = Case(random_shelf(rng, count), prices, tuple(box), base=random_point(rng, count))
    asked = []
    for index in range(rng.randint(0, 4)):
        measure, top, bottom = random_measure(rng, case)
        value = tenths(rng, 1, 40) if bottom else tenths(rng, 0, 300)
        low, high = rng.choice(
            [(value, None), (None, value), (None, value), (value, value), (value, value + tenths(rng, 1, 100))]
        )
        asked.append(Asked(f"r{index}", measure, top, bottom, low, high))
    case = case.change(asked=tuple(asked))
    case = with_split(rng, case, rng.choice([2, 2, 3])) if rng.random() < 0.4 else case
    return random_objective(rng, case, "cost", "cost", "active", "none", "change", "ratio")


def around(
    rng: random.Random, case: Case, point: tuple[Fraction, ...], requirements: int, over: float
) -> tuple[Asked, ...]:
    """Requirements that a point meets with some room, each with a chance of being asked for beyond it."""
    asked = []
    for index in range(requirements):
        measure, top, bottom = random_measure(rng, case)
        below = dot(bottom, point) if bottom else Fraction(1)
        if below == 0:
            continue
        value = dot(top, point) / below
        room = Fraction(rng.randint(0, 40), 200) * max(value, Fraction(1)) * (-1 if rng.random() < over else 1)
        low, high = rng.choice([(value - room, None), (None, value + room), (value - room, value + abs(room))])
        low, high = [
            None if end is None else max(Fraction(0), Fraction(round(end * 1000), 1000)) for end in (low, high)
        ]
        if low is not None and high is not None and low > high:
            low = None
        asked.append(Asked(f"r{index}", measure, top, bottom, low, high))
    return tuple(asked)


def sized(seed: str) -> Case:
    """Up to 40 lines and 24 requirements around a point, some of them beyond it."""
    rng = random.Random(seed)
    count = rng.randint(8, 40)
    point = random_point(rng, count)
    box = []
    for percent in point:
        role = rng.random()
        low, high = max(Fraction(0), percent - tenths(rng, 0, 60)), min(HUNDRED, percent + tenths(rng, 1, 200))
        box.append((percent, percent) if role < 0.15 else (low, high) if role < 0.75 else (Fraction(0), HUNDRED))
    prices = tuple(Fraction(rng.randint(10, 4000), 100) for _ in range(count))
    case = Case(random_shelf(rng, count), prices, tuple(box), base=random_point(rng, count))
    case = case.change(asked=around(rng, case, point, rng.randint(3, 24), rng.choice([0, 0, 0.05, 0.3])))
    case = with_split(rng, case, rng.choice([2, 3])) if rng.random() < 0.15 else case
    return random_objective(rng, case, "cost", "cost", "active", "none", "change", "ratio")


def nearest(seed: str) -> Case:
    """As the plain ones, for the formula nearest to a base by least squares."""
    return plain(seed).change(objective="squares")


def degenerate(seed: str) -> Case:
    """Repeated requirements, twins of equal cost and composition, held lines that meet a requirement with equality."""
    rng = random.Random(seed)
    count = rng.randint(4, 16)
    shelf = list(random_shelf(rng, count))
    prices = [Fraction(rng.randint(1, 3)) for _ in range(count)]
    for _ in range(rng.randint(1, 3)):
        twin, other = rng.sample(range(count), 2)
        shelf[twin], prices[twin] = shelf[other], prices[other]
    point = list(random_point(rng, count))
    box = []
    for percent in point:
        role = rng.random()
        wide = (max(Fraction(0), percent - tenths(rng, 0, 1) * 50), min(HUNDRED, percent + tenths(rng, 0, 1) * 100))
        box.append((percent, percent) if role < 0.35 else wide if role < 0.7 else (Fraction(0), HUNDRED))
    case = Case(tuple(shelf), tuple(prices), tuple(box), base=tuple(point))
    held = [index for index, (low, high) in enumerate(box) if low == high]
    asked: list[Asked] = []
    for index in range(rng.randint(2, 7)):
        measure, top, bottom = random_measure(rng, case)
        if rng.random() < 0.3 and held:
            lines = rng.sample(held, rng.randint(1, len(held)))
            measure, bottom = m.as_supplied.contributed_by(lines=[f"m{line}" for line in lines]), None
            top = tuple(Fraction(int(line in lines)) for line in range(count))
        below = dot(bottom, point) if bottom else Fraction(1)
        if below == 0:
            continue
        value = dot(top, point) / below
        pushed = Fraction(rng.choice([-1, 1]), 2) if rng.random() < 0.12 else Fraction(0)
        value = max(Fraction(0), value + pushed)
        low, high = rng.choice([(value, None), (None, value), (value, value)])
        asked.append(Asked(f"r{index}", measure, top, bottom, low, high))
        if rng.random() < 0.4:
            asked.append(Asked(f"r{index} again", measure, top, bottom, low, high))
    return random_objective(rng, case.change(asked=tuple(asked)), "cost", "cost", "active", "none", "change", "ratio")


def infeasible(seed: str) -> Case:
    """Around a point, then a measure asked for beyond what HiGHS says the rest can reach."""
    rng = random.Random(seed)
    count = rng.randint(4, 24)
    point = random_point(rng, count)
    box = []
    for percent in point:
        low, high = max(Fraction(0), percent - tenths(rng, 0, 60)), min(HUNDRED, percent + tenths(rng, 1, 150))
        role = rng.random()
        box.append((percent, percent) if role < 0.1 else (low, high) if role < 0.8 else (Fraction(0), HUNDRED))
    prices = tuple(Fraction(rng.randint(10, 900), 100) for _ in range(count))
    case = Case(random_shelf(rng, count), prices, tuple(box), base=point)
    case = case.change(asked=around(rng, case, point, rng.randint(1, 12), 0))
    bottom: tuple[Fraction, ...] | None = ()
    while bottom is not None:
        measure, top, bottom = random_measure(rng, case)
    beyond = tenths(rng, 1, 60)

    def reach(sign: int) -> Fraction:
        reached = highs(
            [sign * value for value in top], list(case.box), [total(case), *keyed_rows(case).values()]
        ).objective
        assert reached is not None, "the point meets it"
        return Fraction(round(sign * reached * 10), 10)

    least = reach(1) - beyond
    low, high = (None, least) if least >= 0 and rng.random() < 0.5 else (reach(-1) + beyond, None)
    return case.change(asked=(*case.asked, Asked("beyond", measure, top, bottom, low, high)))


def edges(seed: str) -> Case:
    """Around a point, with measures asked for at the exact end of what the rest can reach, or with a line held at nothing."""
    rng = random.Random(seed)
    count = rng.randint(3, 12)
    point = random_point(rng, count)
    box = []
    for percent in point:
        low, high = max(Fraction(0), percent - tenths(rng, 0, 60)), min(HUNDRED, percent + tenths(rng, 1, 200))
        role = rng.random()
        box.append((percent, percent) if role < 0.15 else (low, high) if role < 0.75 else (Fraction(0), HUNDRED))
    prices = tuple(Fraction(rng.randint(10, 900), 100) for _ in range(count))
    case = Case(random_shelf(rng, count), prices, tuple(box), base=random_point(rng, count))
    case = case.change(asked=around(rng, case, point, rng.randint(0, 3), 0))
    case = with_split(rng, case, rng.choice([2, 3])) if rng.random() < 0.4 else case
    case = random_objective(rng, case, "cost", "active", "none")
    if rng.random() < 0.2:
        line = rng.randrange(count)
        top = tuple(Fraction(int(other == line)) for other in range(count))
        held = Asked("none of it", m.as_supplied.contributed_by(lines=[f"m{line}"]), top, None, None, Fraction(0))
        ends = tuple(
            (Fraction(0), high) if other == line else (low, high) for other, (low, high) in enumerate(case.box)
        )
        return case.change(box=ends, asked=(*case.asked, held))
    for place in range(rng.randint(1, 2)):
        measure, top, bottom = random_measure(rng, case)
        brief = brief_of(case)
        if bottom is not None or isinstance(brief.try_solve(), td.solve.Conflict):
            continue
        reach = brief.reach(measure)
        low, high = rng.choice([(None, reach.lowest), (reach.highest, None)])
        case = case.change(asked=(*case.asked, Asked(f"end {place}", measure, top, None, low, high)))
    return case


def choices(seed: str, lines: tuple[int, int] = (4, 14)) -> Case:
    """Lines that are absent or at least a dose, and groups of which only some may be present."""
    rng = random.Random(seed)
    count = rng.randint(*lines)
    point = random_point(rng, count)
    box, absent = [], set()
    for index, percent in enumerate(point):
        role = rng.random()
        low, high = max(Fraction(0), percent - tenths(rng, 0, 80)), min(HUNDRED, percent + tenths(rng, 1, 300))
        if role < 0.45:
            absent.add(index)
            low = tenths(rng, 5, 120)
            high = min(HUNDRED, low + tenths(rng, 10, 300))
        elif role < 0.55:
            low = high = percent
        elif role > 0.85:
            low, high = Fraction(0), HUNDRED
        box.append((low, high))
    prices = tuple(Fraction(rng.randint(10, 900), 100) for _ in range(count))
    case = Case(random_shelf(rng, count), prices, tuple(box), absent=frozenset(absent))
    groups = []
    for _ in range(rng.randint(0, 2)):
        members = tuple(sorted(rng.sample(range(count), rng.randint(2, max(2, count // 2)))))
        groups.append((members, rng.randint(1, len(members) - 1)))
    case = case.change(groups=tuple(groups), asked=around(rng, case, point, rng.randint(0, 4), rng.choice([0, 0.2])))
    return random_objective(rng, case, "cost", "cost", "active", "ratio")


def rounded(seed: str) -> tuple[Case, Rounding]:
    """A small brief with steps; splits and targets exact, within a tolerance or given up; some with choices."""
    rng = random.Random(seed)
    every = Fraction(rng.choice(["0.5", "0.5", "1", "2", "2.5", "5"]))
    if rng.random() < 0.3:
        case = choices(seed, (3, 6))
    else:
        count = rng.randint(3, 6)
        point = random_point(rng, count)
        box = []
        for percent in point:
            role = rng.random()
            low, high = max(Fraction(0), percent - tenths(rng, 0, 80)), min(HUNDRED, percent + tenths(rng, 1, 300))
            held = every * round(percent / every) if rng.random() < 0.8 else percent
            box.append((held, held) if role < 0.2 else (low, high) if role < 0.8 else (Fraction(0), HUNDRED))
        prices = tuple(Fraction(rng.randint(10, 900), 100) for _ in range(count))
        case = Case(random_shelf(rng, count), prices, tuple(box))
        case = case.change(asked=around(rng, case, point, rng.randint(0, 3), rng.choice([0, 0.1])))
        if rng.random() < 0.4:
            measure, top, bottom = random_measure(rng, case)
            if bottom is None:
                value = Fraction(round(dot(top, point) * 10), 10)
                case = case.change(asked=(*case.asked, Asked("target", measure, top, None, value, value)))
        if rng.random() < 0.3:
            case = with_split(rng, case, 2)
        case = random_objective(rng, case, "cost", "cost", "active")
    lines = {
        index: Fraction(rng.choice(["0.1", "0.25", "0.5"])) for index in range(len(case.shelf)) if rng.random() < 0.15
    }
    within, giving_up = {}, []
    for name in [asked.name for asked in case.asked if asked.low == asked.high] + (["wash"] if case.split else []):
        choice = rng.random()
        if choice < 0.6:
            within[name] = tenths(rng, 1, 20)
        elif choice < 0.75:
            giving_up.append(name)
    return case, Rounding(every, lines, within, tuple(giving_up))
