"""Values travel to other processes and come back equal."""

import copy
import multiprocessing
import pickle
from fractions import Fraction

import pytest
import tenside as td
from tenside import measure as m

CATALOGUE = td.Catalogue.starter().with_lot(td.Lot("W-27", "capb-30", active=29.1, method="titrated", salt="5.25"))


def brief():
    return (
        td.Brief("Wash", CATALOGUE, prices={"capb-30": 2.9, "kaolin": 1.9, "sci-powder": 6.4})
        .line("wash", "capb-30", lot="W-27", low=0, high=60)
        .between("sci-powder", 10, 60)
        .qs("kaolin")
        .target(m.active_matter, "100/3")
        .minimise(m.cost)
    )


def choosing():
    brief = td.Brief("Either", CATALOGUE).between("sci-powder", 20, 60).absent_or_between("capb-30", 10, 20).free("glycerin-99-5").qs("kaolin")
    return brief.group("liquids", ["capb-30", "glycerin-99-5"]).at_most_of("liquids", 1).at_least(m.active_matter, 40).minimise(m.water)


def values():
    premix = td.Formula("Wash powder", {"sci-powder": 80, "kaolin": 20}, CATALOGUE).to_material("wash-powder", form="powder")
    answer = brief().solve()
    return [
        CATALOGUE,
        td.Catalogue.starter(),
        td.Catalogue(),
        CATALOGUE.material("kaolin"),
        CATALOGUE.material("capb-30").with_lot(CATALOGUE.lot("W-27")),
        premix,
        CATALOGUE.lot("W-27"),
        brief(),
        answer,
        answer.formula,
        td.Draft("Half-written", [("kaolin", "10-15 %"), ("Rosemary oil", None)]).set_amount(1, "12 %").drop_line(2),
        td.Brief("Not full", CATALOGUE).fix("kaolin", 60).try_solve(),
        choosing(),
        choosing().choose(nodes=500),
        choosing().at_least(m.active_matter, 70).try_choose(nodes=700),
        td.Steps(0.5, lines={"kaolin": "0.1"}, within={"a": "1/3"}, giving_up=["b"], half_a_step=True, nodes=77),
        choosing().solve_rounded(td.Steps(0.5, lines={"kaolin": 0.1})),
        brief().try_solve_rounded(0.5),
        answer.formula.substitute("wash", "coco-glucoside-50", keep=[m.active_matter, m.water]),
        answer.formula.candidates("wash", m.active_matter, CATALOGUE),
        m.water,
        m.cost.contributed_by(lines=["a"]).per(m.score("slip", {"kaolin": "2.5"}).contributed_by(phase="p")),
        m.active_matter.within(group="g"),
        td.as_charged,
        td.finished(moisture="1/3"),
        td.Interval(Fraction(1, 3), high=1),
        td.Reading(5.6, dilution="1+9", on="2026-11-24"),
        td.ScentDeclaration("lavender-oil", "invented", {"LINALOOL": (30, 36), "5989-27-5": 0.4}, reporting=0.01),
    ]


@pytest.mark.parametrize("value", values(), ids=lambda value: type(value).__name__)
@pytest.mark.parametrize("protocol", range(2, pickle.HIGHEST_PROTOCOL + 1))
def test_pickled_values_come_back_equal(value, protocol):
    again = pickle.loads(pickle.dumps(value, protocol))
    assert again == value
    assert hash(again) == hash(value)
    assert type(again) is type(value)


@pytest.mark.parametrize("value", values(), ids=lambda value: type(value).__name__)
def test_an_immutable_value_is_its_own_copy(value):
    assert copy.copy(value) is value
    assert copy.deepcopy([value])[0] is value


def test_a_brief_can_be_changed_after_its_journey():
    again = pickle.loads(pickle.dumps(brief()))
    assert again.fix("panthenol", 1).lines[-1].material == CATALOGUE.material("panthenol")


def test_the_starter_catalogue_travels_by_name():
    assert len(pickle.dumps(td.Catalogue.starter())) < 200


def test_another_process_gets_the_same_answer():
    with multiprocessing.get_context("spawn").Pool(1) as pool:
        assert pool.apply(td.Brief.solve, (brief(),)) == brief().solve()


def test_nothing_can_be_set():
    for value in values():
        with pytest.raises(AttributeError):
            value.title = "other"
