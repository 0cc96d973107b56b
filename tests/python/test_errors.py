"""Exceptions carry what went wrong as data."""

import pathlib
import pickle
from typing import get_args

import pytest
import tenside as td
from tenside import errors
from tenside import measure as m

CATALOGUE = td.Catalogue.starter()


def test_every_kind_of_fault_has_an_exception():
    assert set(errors.BY_KIND) == set(get_args(td.words.FaultKind))
    for kind in errors.BY_KIND.values():
        assert issubclass(kind, td.TensideError)
        assert getattr(td.errors, kind.__name__) is kind


def test_a_fault_has_place_value_range_and_way_out():
    with pytest.raises(td.errors.UnknownName) as caught:
        CATALOGUE.material("kaolinn")
    (fault,) = caught.value.faults
    assert (fault.kind, fault.value, fault.remedy) == ("unknown-name", '"kaolinn"', 'did you mean "kaolin"?')
    assert str(fault) == str(caught.value)
    with pytest.raises(td.errors.OutOfRange) as caught:
        td.Brief("Out", CATALOGUE).fix("kaolin", 101)
    assert caught.value.faults[0].allowed == "0 to 100 % w/w"
    assert isinstance(caught.value, ValueError)


def test_a_reader_reports_everything_at_once_with_its_position():
    text = 'tenside = "brief/1"\ntitle = ""\n[[line]]\nmaterial = "kaolinn"\nfix = 101\ncolour = "white"\n'
    with pytest.raises(td.TensideError) as caught:
        td.Brief.from_toml(text, CATALOGUE)
    assert type(caught.value) is td.TensideError
    kinds = {fault.kind for fault in caught.value.faults}
    assert {"out-of-range", "unknown-key"} <= kinds
    assert len(caught.value.faults) >= 3
    assert (5, 7) in {fault.position for fault in caught.value.faults}


@pytest.mark.parametrize(
    ("call", "kind"),
    [
        (lambda: td.Catalogue.from_toml("tenside = "), td.errors.SyntaxFault),
        (lambda: td.Catalogue.from_json("[" * 100_000), td.errors.SyntaxFault),
        (lambda: td.Catalogue.from_json('{"tenside": "catalogue/1", "colour": 1}'), td.errors.SyntaxFault),
        (lambda: CATALOGUE.material("SCS"), td.errors.AmbiguousName),
        (lambda: td.measure.Basis(100), td.errors.OutOfRange),
        (lambda: td.Brief("", CATALOGUE), td.errors.OutOfRange),
        (lambda: td.Brief("Twice", CATALOGUE).qs("kaolin").qs("water"), td.errors.Duplicate),
        (lambda: td.Brief("Twice", CATALOGUE).free("kaolin").free("kaolin"), td.errors.Duplicate),
        (lambda: td.Brief("One", CATALOGUE).split({"sci-powder": 1}, by="weight", name="wash"), td.errors.OutOfRange),
        (
            lambda: td.Brief("Zero", CATALOGUE).split({"sci-powder": 1, "kaolin": 0}, by="weight", name="wash"),
            td.errors.OutOfRange,
        ),
        (
            lambda: td.Brief("By", CATALOGUE).split({"sci-powder": 1, "kaolin": 1}, by="volume", name="wash"),
            td.errors.UnknownName,
        ),
        (
            lambda: td.Brief("Inert", CATALOGUE).split({"sci-powder": 1, "kaolin": 1}, by="active", name="wash"),
            td.errors.Contradiction,
        ),
        (lambda: td.Brief("Nothing", CATALOGUE).solve(), td.TensideError),
        (
            lambda: td.Brief("Where", CATALOGUE).qs("kaolin").target(m.water.within(phase="moon"), 1).solve(),
            td.errors.UnknownName,
        ),
        (lambda: td.measure.Interval(1, low=2), td.errors.Contradiction),
        (lambda: td.measure.Measure("score", "slip"), td.errors.Missing),
        (lambda: td.measure.Measure("water", scores={"kaolin": 1}), td.errors.Unsupported),
        (lambda: td.measure.Measure("wetness"), td.errors.UnknownName),
        (lambda: td.read_catalogue("catalogue.xlsx"), td.errors.Unsupported),
    ],
)
def test_each_fault_raises_its_exception(call, kind):
    with pytest.raises(kind) as caught:
        call()
    assert caught.value.faults
    assert str(caught.value)


def test_a_premix_loop_is_named():
    material = (
        '[[material]]\nid = "{0}"\nname = "{0}"\nform = "powder"\npremix = [{{ material = "{1}", percent = 100 }}]\n'
    )
    text = (
        'tenside = "catalogue/1"\nsource = "invented"\n' + material.format("one", "two") + material.format("two", "one")
    )
    with pytest.raises(td.errors.PremixLoop) as caught:
        td.Catalogue.from_toml(text)
    assert ">" in caught.value.faults[0].value


def test_exceptions_are_pickled_whole():
    with pytest.raises(td.errors.UnknownName) as caught:
        CATALOGUE.material("kaolinn")
    again = pickle.loads(pickle.dumps(caught.value))
    assert type(again) is td.errors.UnknownName
    assert (str(again), again.faults) == (str(caught.value), caught.value.faults)
    with pytest.raises(td.errors.Unanswerable) as caught:
        td.Brief("Not full", CATALOGUE).fix("kaolin", 60).solve()
    again = pickle.loads(pickle.dumps(caught.value))
    assert again.conflict == caught.value.conflict
    assert again.conflict.verify()


@pytest.mark.parametrize("name", ["a\x00b", "a\u202eb", "a\u200fb", "\ud800", "", " ", "x" * 201])
def test_names_that_mislead_are_refused(name):
    with pytest.raises((td.errors.OutOfRange, UnicodeEncodeError)):
        td.Brief(name, CATALOGUE)
    with pytest.raises((td.errors.OutOfRange, UnicodeEncodeError)):
        td.Brief("Bar", CATALOGUE).line(name, "kaolin")


def test_a_file_that_is_not_there_is_pythons_own_error(tmp_path: pathlib.Path):
    with pytest.raises(FileNotFoundError):
        td.read_brief(tmp_path / "absent.toml")
