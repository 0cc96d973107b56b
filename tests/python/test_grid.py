"""Formulas of whole 0.0001 %: where nothing but whole parts is in the way there is one, or what leaves no room is named. One value for every
composition."""

from fractions import Fraction

import pytest
import tenside as td
from tenside import measure as m


STARTER = td.Catalogue.starter()


@pytest.fixture
def clay():
    """Two washes in a ratio, one with a range of its own, filled with clay."""
    brief = (
        td.Brief("Clay is out", STARTER)
        .qs("kaolin")
        .between("stearic-acid", 0, 47)
        .free("coco-glucoside-50")
        .between("capb-30", 3, 22)
    )
    return brief.split({"coco-glucoside-50": 15, "capb-30": 2.1}, by="active", name="wash")


@pytest.mark.parametrize("held", ["out of stock", "at most none of it", "without what it brings"])
def test_a_filler_that_is_held_at_nothing_takes_no_rest(clay, held):
    if held == "out of stock":
        brief = clay.in_stock("stearic-acid", "coco-glucoside-50", "capb-30")
    elif held == "at most none of it":
        brief = clay.at_most(m.material("kaolin"), 0)
    else:
        brief = clay.at_most(m.constituent("KAOLIN"), 0)
    answer = brief.solve()
    assert answer.grid_refusal is None and answer.verify()
    assert {line.name: Fraction(line.percent) for line in answer.formula.lines}["kaolin"] == 0
    [departure] = answer.departures
    assert departure.words.startswith("split wash") and abs(departure.departure) <= departure.bound < Fraction(
        1, 10_000
    )


def test_two_limits_that_ask_for_one_value_give_as_a_target_does():
    brief = td.Brief("Wet", STARTER).qs("kaolin").free("coco-glucoside-50").free("capb-30")
    answer = brief.at_least(m.water, "22.175", name="floor").at_most(m.water, "22.175", name="cap").solve()
    assert answer.verify()
    [departure] = answer.departures
    assert departure.words in ("floor", "cap")
    water = answer.formula.measure(m.water).value.typical
    assert departure.departure == water - Fraction("22.175") and abs(departure.departure) <= departure.bound


def test_a_refusal_names_what_leaves_no_room_and_the_way_out():
    brief = (
        td.Brief("Narrow", STARTER)
        .free("water")
        .qs("kaolin")
        .at_least(m.water, "33.33331")
        .at_most(m.water, "33.33339")
    )
    answer = brief.at_most(m.active_matter, 50).solve()
    assert answer.verify() and answer.grid_refusal.proved
    assert answer.grid_refusal.requirements == ["water at least 33.33331 %", "water at most 33.33339 %"]
    with pytest.raises(td.errors.Contradiction) as raised:
        answer.formula
    message = str(raised.value)
    assert answer.grid_refusal.sentence in message
    with pytest.raises(td.errors.Contradiction):
        answer.notes  # noqa: B018
    for part in (
        "no formula of whole 0.0001 % meets every requirement",
        "these leave no room together: water at least 33.33331 %; water at most 33.33339 %",
    ):
        assert part in message
    assert "found" not in message and "loosen one of them by 0.001" in message
    assert brief.drop_requirement("water at most 33.33339 %").at_most(m.water, "33.3335").solve().formula


def test_one_value_for_every_composition_is_told_to_need_a_range():
    brief = (
        td.Brief("Robust", STARTER)
        .between("sci-powder", 20, 70)
        .qs("kaolin")
        .require(m.active_matter, equal=40, for_every_composition=True)
    )
    conflict = brief.try_solve()
    assert len(set(conflict.members)) == len(conflict.members)
    assert conflict.sentence.endswith("one value for every composition needs a range: use within or at_least")
    with pytest.raises(td.errors.Unanswerable, match="use within or at_least"):
        brief.solve()
