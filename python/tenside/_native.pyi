"""
The compiled half of the package `tenside`.
"""

from typing import Final, final

__all__ = ["__version__", "Exact"]

__version__: Final[str]
"""
The version of the library.
"""

@final
class Exact:
    """
    An exact rational number.

    >>> td.Exact("0.125")
    Exact("0.125")
    >>> str(td.Exact("1/3"))
    '1/3'
    """
    def __eq__(self, value: object, /) -> bool: ...
    def __ge__(self, value: object, /) -> bool: ...
    def __gt__(self, value: object, /) -> bool: ...
    def __hash__(self, /) -> int: ...
    def __le__(self, value: object, /) -> bool: ...
    def __lt__(self, value: object, /) -> bool: ...
    def __ne__(self, value: object, /) -> bool: ...
    def __new__(cls, /, text: str) -> Exact: ...
    def __repr__(self, /) -> str: ...
    def __str__(self, /) -> str: ...
    def is_whole(self, /) -> bool:
        """
        True where the value is a whole number.

        >>> td.Exact("6/3").is_whole()
        True
        """
