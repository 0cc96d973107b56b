"""A day is a `datetime.date` or text, wherever one is asked for."""

import datetime

import pytest
import tenside as td

CATALOGUE = td.Catalogue.starter()
BAR = td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, CATALOGUE)
TAKING = {
    "review": lambda day: BAR.review(market="EU", use="shampoo-bar", on=day),
    "label": lambda day: BAR.label(market="EU", on=day),
    "batch": lambda day: BAR.batch(mass="1 kg", readability="1 g", date=day),
    "product": lambda day: td.Product(market="EU", use="shampoo-bar", on=day),
    "reviewer": lambda day: td.review.Reviewer(CATALOGUE, market="EU", use="shampoo-bar", on=day).review(BAR),
    "lot": lambda day: td.Lot("W-27", "capb-30", active=29, method="titrated", retest=day),
    "reading": lambda day: td.Reading(5.6, dilution="1+9", on=day),
}


@pytest.mark.parametrize("taking", TAKING.values(), ids=TAKING)
def test_a_date_is_the_day_it_writes(taking):
    class Later(datetime.date):
        pass

    written = taking("2026-11-24")
    for day in [datetime.date(2026, 11, 24), Later(2026, 11, 24), datetime.datetime(2026, 11, 24, 23, 59).date()]:
        assert taking(day) == written
    for unset in [None] if taking in (TAKING["batch"], TAKING["lot"], TAKING["reading"]) else []:
        assert taking(unset) != written


@pytest.mark.parametrize("taking", TAKING.values(), ids=TAKING)
def test_what_is_no_day_is_refused_in_words(taking):
    pandas = pytest.importorskip("pandas")
    for moment in [
        datetime.datetime(2026, 11, 24),
        datetime.datetime(2026, 11, 24, tzinfo=datetime.timezone.utc),
        pandas.Timestamp("2026-11-24"),
    ]:
        with pytest.raises(
            TypeError, match=r"a day has no time of day \(found 2026-11-24 00:00:00.*\); write .date\(\) behind it"
        ):
            taking(moment)
    for wrong in [20261124, 1.5, b"2026-11-24", datetime.time(1), ["2026-11-24"]]:
        with pytest.raises(TypeError, match="a day is a datetime.date, or text"):
            taking(wrong)
    for text in ["24.11.2026", "2026-02-30", "2026-11-24T00:00:00", ""]:
        with pytest.raises(td.errors.OutOfRange, match="not a calendar date"):
            taking(text)
