"""What is raised, and what went wrong as data.

Every exception is a `TensideError` with its `faults`; a reader reports every fault of a document at once.

>>> import tenside as td
>>> try:
...     td.measure.Basis(120)
... except td.errors.OutOfRange as error:
...     print(error.faults[0].value, "|", error.faults[0].allowed)
120 | 0 to 99.9 % of the finished product
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from tenside._native import Conflict, Unmet
    from tenside.words import FaultKind

__all__ = [
    "AmbiguousName",
    "Contradiction",
    "Duplicate",
    "Fault",
    "Missing",
    "NoFormula",
    "NoMemory",
    "NotANumber",
    "NotKnown",
    "OpenQuestion",
    "OutOfRange",
    "PremixLoop",
    "Stopped",
    "SyntaxFault",
    "TensideError",
    "Unanswerable",
    "UnknownName",
    "Unsupported",
]


@dataclass(frozen=True)
class Fault:
    """One fault: what is wrong, where, with which value, what would be allowed, and the way out."""

    kind: FaultKind
    """The stable name of its kind: "out-of-range", "unknown-name"."""
    place: str
    """Where it is, in the words of the document or call. May be empty."""
    position: tuple[int, int] | None
    """Line and column of the text read, both from 1."""
    message: str
    """What is wrong, without value, range and way out."""
    value: str | None = None
    """The value found."""
    allowed: str | None = None
    """The values that would be allowed, with unit."""
    remedy: str | None = None
    """The way out."""
    file: str | None = None
    """Which of several texts read together it is in: "materials", "constituents" or "names" of a catalogue in CSV."""
    text: str = ""
    """All of it in one line."""

    def __str__(self) -> str:
        return self.text or self.message


class TensideError(Exception):
    """The base of all; itself raised where the faults are of several kinds."""

    faults: list[Fault]

    def __init__(self, message: str, faults: Sequence[Fault] = ()) -> None:
        super().__init__(message)
        self.faults = list(faults)

    def __reduce__(self) -> tuple[Any, ...]:
        return type(self), (str(self), self.faults)


class OutOfRange(TensideError, ValueError):
    """A value lies outside the range its quantity allows."""


class NotANumber(TensideError, ValueError):
    """Text or a float that is no finite number."""


class SyntaxFault(TensideError, ValueError):
    """Text that is not well-formed, or has keys that the format does not know."""


class UnknownName(TensideError, LookupError):
    """A material, substance, lot, line, phase, measure or word that nobody defined."""


class AmbiguousName(TensideError, LookupError):
    """A name that could mean several things."""


class Duplicate(TensideError, ValueError):
    """Something stands twice that may stand once."""


class Missing(TensideError, ValueError):
    """Something needed is absent."""


class Contradiction(TensideError, ValueError):
    """Two statements that cannot both hold."""


class PremixLoop(TensideError, ValueError):
    """A premix that contains itself."""


class NotKnown(TensideError):
    """A value that would be needed is not known, and is not guessed."""


class OpenQuestion(TensideError):
    """A question of a draft that a person has to answer."""


class Unsupported(TensideError):
    """Something that cannot be asked of this call."""


class Stopped(TensideError):
    """Work that was stopped by whoever watched it; Ctrl-C raises KeyboardInterrupt instead."""


class NoMemory(TensideError, MemoryError):
    """A result that the machine has no memory for."""


class Unanswerable(TensideError):
    """No formula meets the brief.

    >>> import tenside as td
    >>> brief = td.Brief("Not full", td.Catalogue.starter()).fix("kaolin", 60)
    >>> try:
    ...     brief.solve()
    ... except td.errors.Unanswerable as error:
    ...     error.conflict.verify()
    True
    """

    conflict: Conflict
    """What cannot hold together, with its proof."""

    def __init__(self, conflict: Conflict) -> None:
        fault = Fault("unanswerable", "", None, conflict.sentence, remedy="loosen one of them")
        super().__init__(conflict.sentence, [fault])
        self.conflict = conflict

    def __reduce__(self) -> tuple[Any, ...]:
        return type(self), (self.conflict,)

    def _repr_html_(self) -> str:
        return self.conflict._repr_html_()


class NoFormula(TensideError):
    """No formula is on the steps or makes the choices, or none was found.

    >>> import tenside as td
    >>> brief = td.Brief("Plain", td.Catalogue.starter()).fix("citric-acid-50", "0.3").qs("kaolin")
    >>> try:
    ...     brief.solve_rounded(0.5)
    ... except td.errors.NoFormula as error:
    ...     error.unmet.finer_step
    Fraction(1, 10)
    """

    unmet: Unmet
    """What forbids one together, and which finer step would do."""

    def __init__(self, unmet: Unmet) -> None:
        fault = Fault("contradiction", "", None, unmet.sentence, remedy=unmet.remedy)
        super().__init__(unmet.sentence, [fault])
        self.unmet = unmet

    def __reduce__(self) -> tuple[Any, ...]:
        return type(self), (self.unmet,)

    def _repr_html_(self) -> str:
        return self.unmet._repr_html_()


BY_KIND: dict[FaultKind, type[TensideError]] = {
    "out-of-range": OutOfRange,
    "not-a-number": NotANumber,
    "syntax": SyntaxFault,
    "unknown-key": SyntaxFault,
    "unknown-name": UnknownName,
    "ambiguous-name": AmbiguousName,
    "duplicate": Duplicate,
    "missing": Missing,
    "contradiction": Contradiction,
    "unanswerable": TensideError,
    "loop": PremixLoop,
    "not-known": NotKnown,
    "question": OpenQuestion,
    "unsupported": Unsupported,
    "stopped": Stopped,
    "no-memory": NoMemory,
}
"""The exception of each kind of fault. What is unanswerable is raised as `Unanswerable`, made of its conflict."""


def of_faults(message: str, faults: Sequence[Fault]) -> TensideError:
    """The exception for these faults: that of their kind, or `TensideError` for several kinds."""
    kinds = {BY_KIND.get(fault.kind, TensideError) for fault in faults}
    kind = kinds.pop() if len(kinds) == 1 else TensideError
    return kind(message, faults)
