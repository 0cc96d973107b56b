"""Where a slider goes: from a lowest to a highest value in whole steps, every place an exact decimal."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from tenside._native import Interval

MOST_PLACES = 10_000


@dataclass(frozen=True)
class Track:
    """The places of a slider."""

    low: Fraction
    step: Fraction
    last: int
    """The last place, counted from 0."""

    @property
    def high(self) -> Fraction:
        """The value of the last place."""
        return self.value(self.last)

    def value(self, place: int) -> Fraction:
        """The value of a place."""
        return self.low + place * self.step

    def nearest(self, value: Fraction) -> int:
        """The place nearest to a value on the track."""
        return min(max(round((value - self.low) / self.step), 0), self.last)

    def reaching(self, value: Fraction) -> Track:
        """The track made longer, in the same steps, until the value is on it; in wider ones where it would get too many places."""
        if self.low <= value <= self.high:
            return self
        below = max(0, -((value - self.low) // self.step))
        low = self.low - below * self.step
        last = max(self.last + below, -((low - value) // self.step))
        widened = -(-last // MOST_PLACES)
        return Track(low, self.step * widened, -(-last // widened))


def usual(value: Fraction, unit: str) -> Track:
    """Up to about twice the value, in about two hundred steps; of percentages no further than 100."""
    digit, power = _round_number(2 * abs(value) if value else Fraction(10))
    if unit.startswith("%") and digit * power > 100:
        digit, power = 1, Fraction(100)
    whole, step = digit * power, digit * power / (100 if digit == 5 else 200)
    # A part of nothing is no part.
    low = step if unit == "parts" else -whole if value < 0 else Fraction(0)
    return Track(low, step, int((whole - low) / step)).reaching(value)


def stated(range_of: Any, what: str) -> Track:
    """The track that somebody stated as lowest value, highest value and step."""
    if not isinstance(range_of, Sequence) or isinstance(range_of, (str, bytes)) or len(range_of) != 3:
        raise TypeError(
            f"where the slider of {what!r} goes is said by three numbers: lowest, highest, step (found {type(range_of).__name__})"
        )
    low, high, step = (_exact(each) for each in range_of)
    if step <= 0 or high <= low:
        raise ValueError(
            f"the slider of {what!r} goes from a lower to a higher value in steps above 0 (found {low} to {high} in steps of {step})"
        )
    places = (high - low) / step
    if places > MOST_PLACES:
        raise ValueError(
            f"the slider of {what!r} would have {int(places)} places; allowed: {MOST_PLACES}; take wider steps"
        )
    if places.denominator != 1:
        raise ValueError(
            f"the slider of {what!r} does not reach {high} from {low} in steps of {step}; take an end that it reaches"
        )
    return Track(low, step, int(places))


def _exact(value: Any) -> Fraction:
    """A number as the library reads it everywhere."""
    typical = Interval(value).typical
    if typical is None:
        raise TypeError("where a slider goes is said by three numbers (found None)")
    return typical


def _round_number(value: Fraction) -> tuple[int, Fraction]:
    """The least of 1, 2, 5, 10, 20 and so on that is not below the value, as a digit and a power of ten."""
    power = Fraction(1)
    while power >= value:
        power /= 10
    while 10 * power < value:
        power *= 10
    return next((digit, power) if digit < 10 else (1, 10 * power) for digit in (1, 2, 5, 10) if power * digit >= value)
