"""Exact numbers as they come out, formatted on every Python as its newest does."""

import fractions
import pickle
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

import tenside as td
from tenside.number import Fraction

WHOLE = st.integers(-(10**30), 10**30)


def test_what_comes_out_formats():
    bar = td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, td.Catalogue.starter())
    typical = bar.measure(td.measure.active_matter).value.typical
    assert (
        type(typical) is Fraction and f"{typical:.2f}" == "50.40" == typical.text() and f"{typical:8.1f}" == "    50.4"
    )
    assert typical == fractions.Fraction(252, 5) and hash(typical) == hash(fractions.Fraction(252, 5))
    assert pickle.loads(pickle.dumps(typical)) == typical and f"{typical}" == "252/5"


@given(WHOLE, st.integers(1, 10**30), st.integers(0, 12))
def test_the_nearest_decimal_with_ties_to_even(numerator, denominator, places):
    value = fractions.Fraction(numerator, denominator)
    shown = fractions.Fraction(Fraction(value).text(places))
    unit = fractions.Fraction(1, 10**places)
    assert abs(shown - value) <= unit / 2
    if abs(shown - value) == unit / 2:
        assert (shown / unit) % 2 == 0


@pytest.mark.parametrize(
    ("value", "places", "text"),
    [
        ("0.5", 0, "0"),
        ("1.5", 0, "2"),
        ("-0.005", 2, "-0.00"),
        ("2.675", 2, "2.68"),
        ("1e-20", 25, "0.0000000000000000000100000"),
    ],
)
def test_ties_and_long_ones(value, places, text):
    assert Fraction(Decimal(value)).text(places) == text


def test_a_format_that_is_none_is_refused():
    with pytest.raises(ValueError):
        f"{Fraction(1, 3):.2q}"
