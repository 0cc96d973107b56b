"""Values travel to other processes and come back equal."""

import copy
import multiprocessing
import pickle
from fractions import Fraction

import pytest
import tenside as td
from tenside import measure as m
from values import CATALOGUE, WALKED, brief, choosing, records, values


def test_every_class_was_walked():
    classes = {each for each in vars(td._native).values() if isinstance(each, type)}
    assert {each.__name__ for each in classes - set(WALKED)} == set()


@pytest.mark.parametrize("kind", sorted(WALKED, key=lambda kind: kind.__qualname__), ids=lambda kind: kind.__name__)
def test_every_class_is_copied_and_comes_back_equal(kind):
    for value in WALKED[kind]:
        for again in [pickle.loads(pickle.dumps(value)), copy.copy(value), copy.deepcopy([value])[0]]:
            assert type(again) is kind and repr(again) == repr(value)
            if kind is td.sweep.SweepTable:
                assert all(again.column(name) == value.column(name) for name in value.columns)
            elif kind.__eq__ is not object.__eq__:
                assert again == value
            if kind.__hash__ not in (None, object.__hash__):
                assert hash(again) == hash(value)


class Wrong:
    """Pickled as what another version of the library could have made of a brief that has a formula."""

    def __init__(self, call, *arguments):
        self.call = (call, arguments)

    def __reduce__(self):
        return self.call


def test_a_conflict_comes_back_as_one_or_not_at_all():
    with pytest.raises(td.errors.Contradiction, match="a conflict was pickled, and here its brief has a formula"):
        pickle.loads(pickle.dumps(Wrong(td.solve.Conflict._of, brief())))
    for steps in [None, td.solve.Steps(0.5)]:
        with pytest.raises(td.errors.Contradiction, match="an outcome without formula was pickled"):
            pickle.loads(pickle.dumps(Wrong(td.solve.Unmet._of, choosing(), steps, 500)))
    with pytest.raises(td.errors.Unanswerable):
        pickle.loads(pickle.dumps(Wrong(td.Brief.solve, td.Brief("Not full", CATALOGUE).fix("kaolin", 60))))


def test_a_sweep_longer_than_len_can_say_says_so():
    brief = (
        td.Brief("Wash", CATALOGUE)
        .split({"sci-powder": 1, "capb-30": 1}, by="active", name="wash")
        .fix("panthenol", 1)
        .fix("glycerin-99-5", 1)
        .qs("kaolin")
    )
    brief = brief.target(m.active_matter, 20)
    axes = [
        td.axis(name, [Fraction(n, 1_000) for n in range(1, 55_501)])
        for name in ["wash.capb-30", "panthenol", "glycerin-99-5", "target.active-matter"]
    ]
    assert len(td.Sweep(brief, *axes[:3])) == 55_500**3
    sweep = td.Sweep(brief, *axes)
    with pytest.raises(td.errors.OutOfRange, match=r"more rows than len\(\) can return \(found 9487940062500000000\)"):
        len(sweep)


@pytest.mark.parametrize("rows", records(), ids=lambda rows: type(rows[0]).__name__ if rows else "none")
def test_records_travel(rows):
    assert rows and pickle.loads(pickle.dumps(rows)) == rows
    assert all(copy.copy(row) is row and copy.deepcopy(row) is row for row in rows)


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
