"""Exact numbers against the rational numbers of Python's own library."""

import random
from fractions import Fraction

import pytest
import tenside
from hypothesis import given, strategies


@given(strategies.decimals(allow_nan=False, allow_infinity=False, places=9, min_value=-(10**9), max_value=10**9))
def test_a_decimal_is_read_exactly(value):
    assert Fraction(str(tenside.Exact(str(value)))) == Fraction(value)


@pytest.mark.oracle
def test_fractions_agree_with_python(oracle_cases):
    draw = random.Random(20261124)
    for _ in range(oracle_cases):
        left, right = (Fraction(draw.randrange(-(10**12), 10**12), draw.randrange(1, 10**6)) for _ in range(2))
        read = tenside.Exact(str(left)), tenside.Exact(str(right))
        assert Fraction(str(read[0])) == left
        assert (read[0] < read[1], read[0] == read[1]) == (left < right, left == right)


@pytest.mark.parametrize("text", ["", "nan", "inf", "1e400", "1/0", "twelve", "1\x00"])
def test_what_is_no_number_is_refused(text):
    with pytest.raises(ValueError, match="number|denominator|fraction"):
        tenside.Exact(text)
