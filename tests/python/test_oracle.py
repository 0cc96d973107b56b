"""Random briefs against HiGHS (PyPI: highspy), modelled from the compositions and not from the library's own rows.

Status and objective are compared, every proof is verified, every one-sided requirement is calculated again in fractions on the grid formula,
every conflict is taken apart, and ranges are tried just inside and just outside. Every family prints its counts.
"""

import random
from fractions import Fraction

import oracle_families as families
import oracle_grid
import pytest
import tenside as td
from oracle_checks import asked_of_cost, check_conflict, check_limits, check_prices
from oracle_mixed import best_mixed, parts_of, without
from oracle_model import Tally, answer_of, brief_of, dot, written_ranges
from oracle_ratios import check_ratios, structure_of
from oracle_rescue import least_total

pytestmark = pytest.mark.oracle

NODES = 3000
"""How many linear programs a search with steps or choices may solve here."""


def cases(oracle_cases, tally, parts, of=100):
    """The seeds of a family, its share of all cases."""
    for number in range(max(1, oracle_cases * parts // of)):
        tally.seed = f"{tally.family}-{number}"
        yield tally.seed


@pytest.mark.parametrize(
    ("family", "parts"), [("plain", 25), ("sized", 10), ("degenerate", 20), ("infeasible", 10), ("nearest", 5)]
)
def test_linear_briefs_agree_with_highs(oracle_cases, family, parts):
    tally = Tally(family)
    for seed in cases(oracle_cases, tally, parts):
        case = getattr(families, family)(seed)
        outcome = brief_of(case).try_solve()
        solved = answer_of(case)
        tally.agrees(outcome.verify(), "not verified")
        tally.agrees(
            isinstance(outcome, td.solve.Answer) == solved.feasible, f"status: HiGHS says feasible is {solved.feasible}"
        )
        if isinstance(outcome, td.solve.Answer) != solved.feasible:
            continue
        if isinstance(outcome, td.solve.Conflict):
            tally.count("conflicts")
            check_conflict(case, outcome, tally)
            continue
        tally.count("answered")
        check_objective(case, outcome, solved.objective, tally)
        check_grid(case, outcome, tally)
        if case.objective in ("cost", "active"):
            rng = random.Random(seed)
            check_limits(rng, case, outcome, tally, 3)
            check_ratios(case, outcome, tally)
            if case.objective == "cost":
                check_prices(rng, case, outcome, tally, 2)
    counts = tally.counts
    for what in ("conflicts",) if family == "infeasible" else ("answered", "conflicts"):
        assert counts.get(what, 0) * 10 >= counts.get("answered", 0) + counts.get("conflicts", 0), (what, counts)
    assert family != "plain" or counts.get("ratio ranges", 0) * 40 >= counts["answered"], counts
    tally.close()


def check_objective(case, answer, theirs, tally):
    """The objective at the exact solution; a ratio is least where no formula has less water than the ratio times its active matter."""
    exact = list(answer.exact.values())
    if case.objective == "none":
        ours = max(
            (abs(dot(form, exact) - middle) / width for form, middle, width in written_ranges(case)),
            default=Fraction(0),
        )
    elif case.objective == "ratio":
        ours, theirs = Fraction(0), answer_of(case.change(ratio=answer.objective)).objective
    elif case.objective == "squares":
        ours = answer.objective - dot(case.base, case.base)
    else:
        ours = -answer.objective if case.objective == "active" else answer.objective
    tally.count(f"by {case.objective}")
    # HiGHS solves squares to a looser tolerance than linear programs.
    room = 1e-5 if case.objective == "squares" else 1e-7
    tally.agrees(
        abs(float(ours) - theirs) <= room * max(1.0, abs(theirs)), f"objective {float(ours)}, HiGHS says {theirs}"
    )


def check_grid(case, answer, tally):
    """The formula of whole parts meets the case; where there is none, that is proved and HiGHS finds none either."""
    exact = list(answer.exact.values())
    if answer.grid_refusal is None:
        tally.agrees(
            oracle_grid.holds(case, exact, [Fraction(line.percent) for line in answer.formula.lines]),
            "the grid formula does not meet the brief",
        )
        return
    tally.count("without a grid formula")
    tally.agrees(
        answer.grid_refusal.proved and answer.grid_refusal.requirements,
        "no grid formula was found, and none is refused by proof",
    )
    found = oracle_grid.whole_formula(case, exact)
    tally.agrees(found is None, f"no grid formula, and HiGHS finds {found}")


def test_formulas_of_whole_parts_at_the_end_of_a_reach_agree_with_highs(oracle_cases):
    """Limits at the exact end of what can be reached, and lines held at nothing: no room in some direction."""
    tally = Tally("edges")
    for seed in cases(oracle_cases, tally, 30):
        case = families.edges(seed)
        outcome = brief_of(case).try_solve()
        if isinstance(outcome, td.solve.Conflict):
            tally.count("conflicts")
            continue
        tally.count("answered")
        tally.agrees(outcome.verify(), "not verified")
        check_grid(case, outcome, tally)
    assert tally.counts["answered"] > 20 and tally.counts["without a grid formula"] > 0, tally.counts
    tally.close()


def compare(case, rounding, ours, tally):
    """A search with steps or choices against HiGHS as a mixed-integer solver."""
    by_ratio = case.objective == "ratio" and not isinstance(ours, td.solve.Unmet)
    solved = best_mixed(case.change(ratio=ours.objective) if by_ratio else case, rounding)
    if isinstance(ours, td.solve.Unmet):
        if not ours.is_proved:
            tally.count("cut off without a formula")
            return
        tally.count("unmet")
        tally.agrees(ours.verify(), "not verified")
        tally.agrees(not solved.feasible, f"unmet, and HiGHS finds {solved.objective}")
        check_unmet(case, rounding, ours, tally)
        return
    tally.count("answered")
    tally.agrees(ours.verify(), "not verified")
    tally.agrees(solved.feasible, "answered, and HiGHS finds no formula")
    if not solved.feasible:
        return
    if by_ratio:
        tally.count("by ratio")
        tally.agrees(
            not ours.is_best or abs(solved.objective) <= 1e-6,
            f"ratio {float(ours.objective)}, HiGHS is {solved.objective} below",
        )
        return
    sign = -1 if case.objective == "active" else 1
    value, bound = sign * float(ours.objective), sign * float(ours.bound)
    room = 1e-6 * max(1.0, abs(value))
    if ours.is_best:
        tally.agrees(abs(value - solved.objective) <= room, f"objective {value}, HiGHS says {solved.objective}")
    else:
        tally.count("cut off with a bound")
        tally.agrees(
            bound - room <= solved.objective <= value + room,
            f"between {bound} and {value}, HiGHS says {solved.objective}",
        )


def check_unmet(case, rounding, unmet, tally):
    """What is named has no formula, and has one without any part of it."""
    parts = parts_of(case)
    named = [parts.get(words) for words in unmet.requirements]
    tally.agrees(None not in named, f"not known: {unmet.requirements}")
    if None in named or not unmet.is_irreducible:
        tally.count("unmet that may name too much")
        return
    tally.count("unmet checked irreducible")
    alone = without(case, [part for part in parts.values() if part not in named])
    tally.agrees(
        not best_mixed(alone.change(objective="none"), rounding).feasible,
        f"what is named has a formula: {unmet.requirements}",
    )
    kept = list(parts_of(alone).values())
    for part in kept:
        tally.agrees(
            best_mixed(without(alone, [part]).change(objective="none"), rounding).feasible,
            f"{part} is named for nothing: {unmet.requirements}",
        )


def test_choices_agree_with_highs(oracle_cases):
    tally = Tally("choices")
    for seed in cases(oracle_cases, tally, 15):
        case = families.choices(seed)
        outcome = brief_of(case).try_choose(nodes=NODES)
        compare(case, None, outcome, tally)
        if isinstance(outcome, td.solve.Chosen):
            present = {int(name.removeprefix("m")) for name in outcome.present}
            tally.agrees(
                all(len(present & set(lines)) <= most for lines, most in case.groups), "more than allowed of a group"
            )
            doses = [
                percent == 0 or percent >= case.box[line][0]
                for line, percent in enumerate(outcome.exact.values())
                if line in case.absent
            ]
            tally.agrees(all(doses), "a dose below the least")
    assert tally.counts["answered"] > 0 and tally.counts["unmet"] > 0, tally.counts
    tally.close()


def test_rounded_recipes_agree_with_highs(oracle_cases):
    tally = Tally("rounded")
    for seed in cases(oracle_cases, tally, 15):
        case, rounding = families.rounded(seed)
        outcome = brief_of(case).try_solve_rounded(rounding.steps(NODES))
        compare(case, rounding, outcome, tally)
        if isinstance(outcome, td.solve.Rounded):
            multiples = [
                (Fraction(line.percent) / rounding.of(index)).denominator == 1
                for index, line in enumerate(outcome.formula.lines)
            ]
            tally.agrees(all(multiples), "off its step")
    assert tally.counts["answered"] > 0 and tally.counts["unmet"] > 0, tally.counts
    tally.close()


class Altered:
    """A value with some of its attributes replaced."""

    def __init__(self, value, /, **attributes):
        self._original, self._attributes = value, attributes

    def __getattr__(self, name):
        return self._attributes[name] if name in self._attributes else getattr(self._original, name)


def first(family, kind, fits=lambda case, outcome: True):
    for number in range(1000):
        case = getattr(families, family)(f"noticed-{number}")
        outcome = brief_of(case).try_solve()
        if isinstance(outcome, kind) and fits(case, outcome):
            return case, outcome
    raise AssertionError(f"no such case of {family}")


def noticed(check, *arguments):
    tally = Tally("altered")
    check(*arguments, tally)
    return bool(tally.mismatches)


def test_the_checks_notice_a_wrong_conflict():
    case, conflict = first(
        "infeasible",
        td.solve.Conflict,
        lambda case, it: len(it.members) > 1 and any(it.relaxations()) and len(it.correction_set()) > 0,
    )
    relaxations = conflict.relaxations()
    assert not noticed(check_conflict, case, conflict)
    assert noticed(
        check_conflict, case, Altered(conflict, members=conflict.members[1:], constraints=conflict.constraints[1:])
    )
    # An untouched line or requirement among the members.
    named = [constraint.name for constraint in conflict.constraints]
    place = next(place for place, (low, high) in enumerate(case.box) if low < high and f"m{place}" not in named)
    surplus = Altered(conflict.constraints[0], kind="line", name=f"m{place}", index=place, end="low")
    surplus = Altered(
        conflict,
        members=[*conflict.members, "surplus"],
        constraints=[*conflict.constraints, surplus],
        relaxations=lambda: [*relaxations, None],
    )
    assert noticed(check_conflict, case, surplus)
    assert noticed(check_conflict, case, Altered(conflict, relaxations=lambda: [None] * len(relaxations)))
    for part in (Fraction(9, 10), Fraction(11, 10)):
        other = [
            change and Altered(change, to=change.limit + (change.to - change.limit) * part) for change in relaxations
        ]
        assert noticed(check_conflict, case, Altered(conflict, relaxations=lambda other=other: other)), part
    assert noticed(check_conflict, case, Altered(conflict, correction_set=list))
    assert noticed(
        check_conflict,
        case,
        Altered(conflict, correction_set=lambda: [*conflict.constraints, *conflict.correction_set()]),
    )


def test_the_checks_notice_a_wrong_range():
    def ended(answer):
        limits = answer.limit_ranges()
        return [
            limit
            for limit in limits
            if limit.price and limit.low is not None and limit.high is not None and limit.low < limit.value < limit.high
        ]

    case, answer = first(
        "plain",
        td.solve.Answer,
        lambda case, it: (
            case.objective == "cost"
            and not asked_of_cost(case)
            and ended(it)
            and any(price.low for price in it.price_ranges())
        ),
    )
    limit = ended(answer)[0]
    price = next(price for price in answer.price_ranges() if price.low)
    rng = random.Random(1)

    def limits(**attributes):
        altered = [Altered(limit, **attributes)]
        return noticed(lambda tally: check_limits(rng, case, Altered(answer, limit_ranges=lambda: altered), tally, 1))

    assert not limits()
    assert limits(price=limit.price * Fraction(101, 100))
    assert limits(low=limit.low - 1) and limits(high=limit.high + 1)
    assert limits(low=(limit.low + limit.value) / 2) and limits(high=(limit.high + limit.value) / 2)

    def prices(**attributes):
        altered = [Altered(price, **attributes)]
        return noticed(lambda tally: check_prices(rng, case, Altered(answer, price_ranges=lambda: altered), tally, 1))

    assert not prices()
    assert prices(low=price.low - 1) and prices(low=(price.low + price.price) / 2)


def test_the_checks_notice_a_wrong_ratio_range():
    def ended(case, answer):
        exact = list(answer.exact.values())
        if case.objective != "cost" or sum(map(len, structure_of(case, exact))) != len(exact):
            return []
        return [
            found
            for found in answer.ratio_ranges()
            if found.high is not None and 0 < (found.low or 0) < found.value < found.high
        ]

    case, answer = first("plain", td.solve.Answer, ended)
    part = ended(case, answer)[0]

    def ratios(**attributes):
        altered = Altered(answer, ratio_ranges=lambda: [Altered(part, **attributes)])
        return noticed(check_ratios, case, altered)

    assert not ratios()
    assert ratios(value=part.value + 1)
    assert ratios(high=part.high * 2) and ratios(high=(part.high + part.value) / 2)
    assert ratios(low=part.low / 2) and ratios(low=(part.low + part.value) / 2)


def test_the_checks_notice_a_wrong_objective():
    case, answer = first("plain", td.solve.Answer, lambda case, it: case.objective == "cost")
    assert not noticed(check_objective, case, answer, answer_of(case).objective)
    assert noticed(
        check_objective,
        case,
        Altered(answer, objective=answer.objective * Fraction(10001, 10000)),
        answer_of(case).objective,
    )


def test_the_checks_notice_a_wrong_choice():
    outcomes = [
        (case, brief_of(case).try_choose(nodes=NODES))
        for case in map(families.choices, (f"noticed-{number}" for number in range(20)))
    ]
    case, choice = next(
        (case, outcome) for case, outcome in outcomes if isinstance(outcome, td.solve.Chosen) and case.objective == "cost"
    )
    impossible, unmet = next((case, outcome) for case, outcome in outcomes if isinstance(outcome, td.solve.Unmet))
    dearer = Altered(choice, objective=choice.objective * Fraction(1001, 1000))
    assert not noticed(compare, case, None, choice) and not noticed(compare, impossible, None, unmet)
    assert noticed(compare, case, None, dearer)
    assert noticed(compare, case, None, unmet) and noticed(compare, impossible, None, choice)


def test_rescues_agree_with_highs(oracle_cases):
    """A bowl near an answer, with one line overdosed or left out, or any bowl: whether it can be brought back, and the least total."""
    tally = Tally("rescue")
    for seed in cases(oracle_cases, tally, 100):
        case = families.plain(seed)
        rng = random.Random(f"rescue {seed}")
        brief = brief_of(case)
        outcome = brief.try_solve()
        if isinstance(outcome, td.solve.Answer) and rng.random() < 0.8:
            bowl = [2 * value for value in outcome.exact.values()]
            bowl[rng.randrange(len(bowl))] *= Fraction(rng.choice([0, 90, 105, 110, 130, 200]), 100)
        else:
            bowl = [Fraction(rng.choice([0, rng.randint(1, 1000)]), 10) for _ in case.shelf]
        if not any(bowl):
            continue
        names = [line.name for line in brief.lines]
        # A mass is typed in decimals: what is solved is what is typed.
        bowl = [Fraction(round(grams * 1000), 1000) for grams in bowl]
        if not any(bowl):
            continue
        rescue = brief.rescue({name: f"{float(grams):.3f} g" for name, grams in zip(names, bowl)})
        solved = least_total(case, bowl)
        tally.count(rescue.verdict)
        tally.agrees(
            (rescue.verdict == "rescued") == solved.feasible,
            f"{rescue.verdict}, HiGHS says feasible is {solved.feasible}",
        )
        if rescue.verdict == "rescued" and solved.objective is not None:
            tally.agrees(
                abs(float(rescue.total) - solved.objective) <= 1e-6 * solved.objective,
                f"{float(rescue.total)} against {solved.objective}",
            )
            tally.agrees(rescue.answer.verify(), "not verified")
            added = {each.line: each.exact for each in rescue.additions}
            together = [grams + added.get(name, 0) for name, grams in zip(names, bowl)]
            tally.agrees(sum(together) == rescue.total, "the masses are not the total")
            percent = [grams / rescue.total * 100 for grams in together]
            tally.agrees(
                all(low <= value <= high for value, (low, high) in zip(percent, case.box)), "a range does not hold"
            )
        elif rescue.verdict == "throw-away" and rescue.conflict is not None:
            tally.agrees(rescue.conflict.verify(), "conflict not verified")
    assert all(tally.counts.get(what, 0) >= oracle_cases // 20 for what in ("rescued", "throw-away")), tally.counts
    tally.close()
