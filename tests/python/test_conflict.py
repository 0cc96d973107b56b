"""What a conflict says of itself, in words and as data."""

import copy
import pickle
from fractions import Fraction

import pytest
import tenside as td
from tenside import measure as m

CATALOGUE = td.Catalogue.starter()
PRICES = {"sci-powder": 6, "scs-powder": 5, "capb-30": 3, "kaolin": 1}


def brief(title, **keywords):
    return td.Brief(title, CATALOGUE, **keywords)


def strong():
    return brief("Too strong").between("capb-30", 0, 50).qs("water").at_least(m.active_matter, 18)


def test_members_are_data_too():
    conflict = strong().try_solve()
    assert conflict.members == ["active matter at least 18 %", "line capb-30 between 0 and 50 %"]
    asked, line = conflict.constraints
    assert (asked.kind, asked.name, asked.index, asked.end) == ("requirement", "active matter at least 18 %", 0, "low")
    assert (line.kind, line.name, line.index, line.end) == ("line", "capb-30", 0, "high")
    assert strong().drop_requirement(asked) == strong().drop_requirement(asked.name)
    with pytest.raises(td.errors.Unsupported):
        strong().drop_requirement(line)
    assert [change.constraint for change in conflict.relaxations()] == conflict.constraints


def test_a_split_and_its_member_are_named():
    held = brief("Two to three").fix("sci-powder", 20).between("capb-30", 0, 10).qs("kaolin")
    conflict = held.split({"sci-powder": 2, "capb-30": 3}, by="weight", name="wash").try_solve()
    assert [(one.kind, one.name, one.member, one.end) for one in conflict.constraints] == [
        ("split", "wash", "sci-powder", "both"),
        ("split", "wash", "capb-30", "both"),
        ("line", "sci-powder", None, "both"),
        ("line", "capb-30", None, "high"),
    ]


def test_kept_water_alone_is_named():
    dry = (
        brief("Too dry").free("sodium-chloride").qs("kaolin").at_least(m.as_supplied, 1, basis=td.finished(moisture=30))
    )
    conflict = dry.try_solve()
    assert conflict.members == ["water as charged at least the 30 % that the finished product keeps"]
    (water,) = conflict.constraints
    assert (water.kind, water.name, water.moisture) == ("water-to-keep", None, 30)
    assert conflict.relaxations() == [None]
    assert conflict.correction_set() == [water]


def test_both_ends_of_one_requirement_are_told_apart():
    asked = (
        brief("Sure")
        .free("sci-powder")
        .qs("kaolin")
        .within(m.active_matter, 29, 30, for_every_composition=True, name="cleansing")
    )
    conflict = asked.try_solve()
    limits = "cleansing (active matter between 29 and 30 %, for every composition)"
    assert conflict.members == [f"low end of {limits}", f"high end of {limits}"]
    assert [one.end for one in conflict.constraints] == ["low", "high"]


def test_what_binds_and_what_moves_is_data_too():
    wash = (
        brief("Wash", prices={"capb-30": 3, "water": 0})
        .between("capb-30", 0, 60)
        .qs("water")
        .at_least(m.active_matter, 12)
        .minimise(m.cost)
    )
    answer = wash.solve()
    assert [(one.constraint.kind, one.constraint.end, one.side) for one in answer.binding] == [
        ("requirement", "low", "at-lowest")
    ]
    limits = {
        (limit.constraint.kind, limit.constraint.name, limit.constraint.end): limit for limit in answer.limit_ranges()
    }
    assert set(limits) == {
        ("requirement", "active matter at least 12 %", "low"),
        ("line", "capb-30", "low"),
        ("line", "capb-30", "high"),
    }
    assert limits["requirement", "active matter at least 12 %", "low"].price == Fraction(1, 10)


def test_what_travels_comes_back_the_same():
    answer = (
        brief("Wash", prices={"capb-30": 3, "water": 0})
        .free("capb-30")
        .qs("water")
        .at_least(m.active_matter, 12)
        .minimise(m.cost)
        .solve()
    )
    conflict = strong().try_solve()
    for value in [
        *conflict.constraints,
        *conflict.relaxations(),
        *answer.binding,
        *answer.limit_ranges(),
        *answer.price_ranges(),
    ]:
        again = pickle.loads(pickle.dumps(value))
        assert again == value and hash(again) == hash(value) and repr(again) == repr(value)
        assert copy.deepcopy(value) == value


def test_the_objectives_finished_basis_keeps_its_water():
    lines = (
        brief("Strong", prices=PRICES)
        .between("sci-powder", 0, 60)
        .between("scs-powder", 0, 40)
        .between("capb-30", 0, 20)
        .qs("kaolin")
    )

    def asking(active):
        return (
            lines.at_least(m.active_matter, active, name="strong")
            .minimise(m.cost, basis=td.finished(moisture=5))
            .try_solve()
        )

    change = asking(90).relaxations()[0]
    assert change.to < 85
    assert isinstance(asking(change.to), td.solve.Answer) and isinstance(asking(change.to + Fraction(1, 10**9)), td.solve.Conflict)
    dry = brief("Dry", prices=PRICES).between("sci-powder", 20, 60).between("capb-30", 0, 20).qs("kaolin")
    dry = dry.at_most(m.water, 3).minimise(m.cost, basis=td.finished(moisture=5)).try_solve()
    assert dry.relaxations()[0].sentence == "raise water at most 3 % to 5 % or more"
    assert "NO CHANGE OF ONE LIMIT WOULD DO" not in str(dry)


def test_what_one_value_alone_meets_is_said_exactly():
    two = brief("Two").split({"sci-powder": 3, "capb-30": 1}, by="active", name="wash")
    change = two.target(m.active_matter, 50).try_solve().relaxations()[2]
    assert change.sentence == "raise active matter at 50 % to exactly 1680/29 % (about 57.93 %)"
    assert change.to == change.until == Fraction(1680, 29)
    assert isinstance(two.target(m.active_matter, "1680/29").try_solve(), td.solve.Answer)
    assert isinstance(two.target(m.active_matter, "57.9311").try_solve(), td.solve.Conflict)


def test_no_part_of_nothing_is_offered():
    asked = (
        brief("Out").fix("sci-powder", 20).split({"sci-powder": 3, "capb-30": 1}, by="mole", name="wash").qs("kaolin")
    )
    conflict = asked.in_stock("sci-powder", "kaolin").try_solve()
    of_sci, of_capb, stock, line = conflict.relaxations()
    # Without the split there is no betaine at all, which is no part.
    assert of_sci is None and of_capb is None and [one.kind for one in conflict.constraints[:2]] == ["split", "split"]
    assert stock.to > 0 and line.sentence == "lower line sci-powder fixed at 20 % to 0 %"
    assert [one.kind for one in conflict.correction_set()] == ["split"]


def test_where_no_single_change_would_do_the_page_says_what_to_leave_out():
    twice = brief("Twice").between("capb-30", 0, 50).between("kaolin", 0, 20).qs("water")
    conflict = twice.at_least(m.active_matter, 18).at_least(m.material("kaolin"), 30).try_solve()
    assert not any(conflict.relaxations())
    text = str(conflict)
    assert (
        "WITHOUT ALL OF THESE THERE WOULD BE A FORMULA\n\n- active matter at least 18 %\n- raw material kaolin at least 30 %"
        in text
    ), text
    rest = twice.at_least(m.active_matter, 18).at_least(m.material("kaolin"), 30)
    for constraint in conflict.correction_set():
        rest = rest.drop_requirement(constraint)
    assert isinstance(rest.try_solve(), td.solve.Answer)


def test_every_call_that_needs_an_answer_raises_the_conflict():
    table = strong().sweep(td.axis("highest.capb-30", [50]))
    calls = (
        strong().solve,
        lambda: strong().reach(m.water),
        lambda: strong().samples(5, seed=1),
        lambda: strong().corners(5),
        lambda: strong().minimise(m.water).line_ranges_within(1),
        lambda: table.answer(0),
        lambda: table.sweep.answer(0),
    )
    for call in calls:
        with pytest.raises(td.errors.Unanswerable) as caught:
            call()
        assert caught.value.conflict.verify() and caught.value.faults[0].kind == "unanswerable"
        assert caught.value.conflict.members == strong().try_solve().members


def test_a_range_of_a_part_or_a_price_has_no_end_that_cannot_be():
    bar = (
        brief("Powders", prices={"kaolin": 1, "corn-starch": 2, "water": 0})
        .between("kaolin", 0, 10)
        .between("corn-starch", 0, 30)
    )
    answer = (
        bar.split({"kaolin": 1, "corn-starch": 1}, by="weight", name="powders").qs("water").minimise(m.water).solve()
    )
    ends = [(found.what, found.low, found.high) for found in answer.ratio_ranges()]
    assert ("powders.corn-starch", None, 3) in ends
    # All members at 0: the structure stays wherever the parts go.
    nothing = (
        bar.split({"kaolin": 1, "corn-starch": 1}, by="weight", name="powders").qs("water").maximise(m.water).solve()
    )
    for found in nothing.ratio_ranges():
        assert (found.low is None or found.low >= Fraction(1, 1000)) and "-" not in found.sentence.replace(
            "corn-starch", ""
        )
