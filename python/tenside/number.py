"""Exact numbers as they come out: fractions that can be formatted."""

from __future__ import annotations

import fractions
import sys
from decimal import Context, Decimal

__all__ = ["Fraction"]


class Fraction(fractions.Fraction):
    """An exact number: a `fractions.Fraction` that takes a format on every Python, and gives its text with so many decimal places.

    >>> import tenside as td
    >>> water = td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, td.Catalogue.starter()).measure(td.measure.water).value.typical
    >>> water, f"{water:.2f}", water.text(3), float(water)
    (Fraction(3, 5), '0.60', '0.600', 0.6)
    """

    __slots__ = ()

    def text(self, places: int = 2) -> str:
        """With so many decimal `places`, rounded to the nearest, a tie to the even digit.

        >>> from tenside.number import Fraction
        >>> Fraction(2, 3).text(4), Fraction(-5, 2).text(0)
        ('0.6667', '-2')
        """
        return format(self, f".{places}f")

    if sys.version_info < (3, 12):

        def __format__(self, spec: str) -> str:
            """As `format` does it for decimals; without a format as a fraction."""
            if not spec:
                return str(self)
            # A tie ends within so many digits; what does not end is no tie.
            digits = 60 + len(str(self.numerator)) + len(str(self.denominator))
            return format(Context(prec=digits).divide(Decimal(self.numerator), Decimal(self.denominator)), spec)
