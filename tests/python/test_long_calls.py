"""Calls that take long: Ctrl-C ends them at once, another thread goes on meanwhile, and a search ends when its seconds are over."""

import pathlib
import sys
import time

import pytest
import tenside as td
from tenside import measure as m

sys.path.insert(0, str(pathlib.Path(__file__).parent))
import long_calls  # noqa: E402

# On an idle machine it is a fiftieth of a second.
SOON = 1.0


@pytest.mark.parametrize(
    "name",
    [
        "try_choose, 60 lines, no limit",
        "try_solve_rounded, 40 lines",
        "solve, 350 lines, no objective",
        "least squares, 300 lines",
        "limit_ranges, 300 lines",
        "line_ranges_within, 300 lines",
        "candidates, 300 lines",
    ],
)
def test_ctrl_c_ends_it(name):
    ended, took, waited = long_calls.interrupted(name, 0.3)
    assert ended == "interrupted"
    assert took < SOON
    assert waited < SOON


def test_a_search_ends_when_its_seconds_are_over():
    brief = long_calls.choosing(60, 6)
    start = time.monotonic()
    tried = brief.try_choose(nodes=10**9, seconds=0.3)
    assert 0.2 < time.monotonic() - start < 5
    assert tried.nodes > 1
    if isinstance(tried, td.Chosen):
        assert tried.gap > 0 and tried.verify()
    else:
        assert not tried.is_proved and "there may be one" in tried.sentence
    unmet = long_calls.stepping(40).try_solve_rounded(td.Steps(1, nodes=10**9), seconds="0.3")
    assert not unmet.is_proved and unmet.nodes > 1
    with pytest.raises(td.NoFormula, match="there may be one"):
        long_calls.stepping(40).solve_rounded(td.Steps(1, nodes=10**9), seconds=0)
    with pytest.raises(td.OutOfRange, match="time limit of a search out of range .found -1.; allowed: 0 to 1000000000 s"):
        brief.try_choose(seconds=-1)


def test_enough_seconds_change_nothing():
    brief = td.Brief("One of two", td.Catalogue.starter()).between("sci-powder", 20, 60).qs("kaolin").absent_or_between("capb-30", 10, 20)
    brief = brief.at_least(m.active_matter, 40).minimise(m.water)
    assert brief.choose(seconds=1000) == brief.choose()
    assert brief.solve_rounded(0.5, seconds=1000) == brief.solve_rounded(0.5)
