"""One raw material in place of another, as a script sees it."""

import pickle
from fractions import Fraction

import pytest
import tenside as td
from tenside import measure as m

CATALOGUE = td.Catalogue.starter()
BAR = td.Formula("Bar", {"sci-powder": 40, "stearic-acid": 20, "cetyl-alcohol": 5, "kaolin": 35}, CATALOGUE)
KEEP = [m.active_matter, m.class_("fatty-acid")]


def test_as_a_script_would_write_it():
    wash = td.Formula("Wash", {"capb-30": 20, "glycerin-99-5": 5, "water": 75}, CATALOGUE)
    substitution = wash.substitute("capb-30", "coco-glucoside-50", keep=[m.active_matter])
    assert substitution.is_exact and substitution.verify() and substitution.total_departure == 0
    assert substitution.line == "capb-30" and substitution.new_line == "coco-glucoside-50"
    assert substitution.replacement == CATALOGUE.material("coco-glucoside-50")
    assert substitution.exact["coco-glucoside-50"] == substitution.needed == Fraction(20 * 30, 51)
    kept = substitution.kept[0]
    assert kept.is_exact and kept.before == 6 and abs(kept.after - 6) < Fraction(1, 10_000)
    assert [change.line for change in substitution.changes] == ["water"]
    assert substitution.disturbance == substitution.changes[0].after - 75
    assert "not in foam, feel or pH" in substitution.sentence and "not in foam, feel or pH" in str(substitution)
    assert substitution.difference().before == "Wash"


def test_noodles_for_powder_lower_the_stearic_acid():
    substitution = BAR.substitute("sci-powder", CATALOGUE.material("sci-noodles"), KEEP)
    assert substitution.is_exact and substitution.verify()
    assert substitution.after.percentages["stearic-acid"] < 20
    for measure, kept in zip(KEEP, substitution.kept):
        assert abs(BAR.measure(measure).value.typical - substitution.after.measure(measure).value.typical) < Fraction(
            1, 10_000
        )
        assert kept.measure == measure


def test_what_cannot_be_done_is_said_plainly():
    held = [
        td.Line(
            line.material, line.percent, fixed=line.name in ("stearic-acid", "cetyl-alcohol"), qs=line.name == "kaolin"
        )
        for line in BAR.lines
    ]
    strong = td.Formula("Strong", [held[0], *held[1:]])
    substitution = strong.substitute("sci-powder", "sci-noodles", keep=KEEP)
    assert not substitution.is_exact and substitution.total_departure > 0 and substitution.verify()
    assert "cannot be done exactly" in substitution.sentence
    assert [change.line for change in substitution.would_have_to_give] == ["stearic-acid"]
    whole = td.Formula("Whole", {"sci-powder": 95, "kaolin": 5}, CATALOGUE).substitute(
        "sci-powder", "sci-noodles", keep=m.active_matter
    )
    assert whole.needed == Fraction(95 * 84, 65) > 100
    assert whole.would_have_to_give == [] and "no change of the other lines would do" in whole.sentence


def test_candidates_match_before_they_are_ranked():
    candidates = BAR.candidates("sci-powder", KEEP)
    assert candidates.line == "sci-powder"
    forms = {candidate.material.form for candidate in candidates.ranked}
    assert forms <= {CATALOGUE.material("sci-powder").form}
    departures = [candidate.substitution.total_departure for candidate in candidates.ranked]
    assert departures == sorted(departures)
    assert any(passed.material == "sci-noodles" for passed in candidates.passed_over)
    assert all(passed.reasons for passed in candidates.passed_over)
    assert "equal in what was kept, not in foam, feel or pH" in candidates.page().text(200)
    assert "<table" in candidates._repr_html_() and repr(candidates).startswith("<Candidates")
    alone = BAR.candidates("sci-powder", KEEP, td.Catalogue())
    assert alone.ranked == [] and alone != candidates
    again = pickle.loads(pickle.dumps(candidates))
    assert again == candidates and hash(again) == hash(candidates)


def test_what_makes_no_sense_is_refused():
    with pytest.raises(td.errors.UnknownName):
        BAR.substitute("sci", "sci-noodles", keep=[m.active_matter])
    with pytest.raises(td.errors.UnknownName):
        BAR.substitute("sci-powder", "sci-noodles", keep=[m.active_matter], catalogue=td.Catalogue())
    with pytest.raises(td.errors.Contradiction, match="itself"):
        BAR.substitute("sci-powder", "sci-powder", keep=[])
    with pytest.raises(td.errors.AmbiguousName, match="measure.active_matter"):
        BAR.substitute("sci-powder", "sci-noodles", keep="active_matter")
    with pytest.raises(td.TensideError):
        BAR.substitute("sci-powder", "sci-noodles", keep=[m.cost])
