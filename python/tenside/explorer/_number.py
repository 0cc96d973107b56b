"""One number of a brief: how it is found again after the brief has changed, and what it is called."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from tenside._native import Basis, Brief, BriefRequirement, Measure, Sweep, axis
from tenside.errors import TensideError

ENDS = {
    "fix": "fixed",
    "lowest": "lowest",
    "highest": "highest",
    "target": "target",
    "at-least": "at least",
    "at-most": "at most",
}
_ROLES = {"fix": "fixed", "lowest": "between", "highest": "between"}


@dataclass(frozen=True)
class Number:
    """One number of a brief."""

    kind: str
    """"part", "price", or the first word of its spelling."""
    name: str
    """The line or raw material; of a requirement nothing."""
    split: str = ""
    """The split, of a part."""
    index: int = -1
    """The requirement's place in the brief, which stays while its name, which says its value, changes."""

    def spelling(self, brief: Brief) -> str:
        """How it is written in this brief."""
        if self.kind == "part":
            return f"{self.split}.{self.name}"
        name = self.name if self.index < 0 else brief.requirements[self.index].name
        return f"{self.kind}.{name}"

    def value(self, brief: Brief) -> Fraction | None:
        """Its value; None if the brief has no such number: of a fixed line that was given a range."""
        if self.kind == "part":
            split = next((split for split in brief.splits if split.name == self.split), None)
            return dict(split.parts).get(self.name) if split is not None else None
        if self.kind == "price":
            price = (brief.prices or {}).get(self.name)
            return None if price is None else Fraction(price)
        if self.index >= 0:
            requirement = brief.requirements[self.index]
            return _end(requirement, self.kind)
        line = next(
            (line for line in brief.lines if line.name == self.name and line.role.startswith(_ROLES[self.kind])), None
        )
        if line is None:
            return None
        return Fraction(line.high if self.kind == "highest" else line.low)

    def label(self, brief: Brief) -> str:
        """What it is called beside its slider."""
        if self.kind == "part":
            return self.name
        if self.index < 0:
            return f"price of {self.name}" if self.kind == "price" else f"{self.name}, {ENDS[self.kind]}"
        requirement = brief.requirements[self.index]
        basis = "" if requirement.basis == Basis() else f", {requirement.basis}"
        return f"{requirement.measure.name}, {ENDS[self.kind]}{basis}"


def ends(requirement: BriefRequirement) -> list[str]:
    """Which numbers a requirement has."""
    if requirement.low == requirement.high:
        return ["target"]
    return [end for end, value in (("at-least", requirement.low), ("at-most", requirement.high)) if value is not None]


def word_and_unit(brief: Brief, what: str | Measure) -> tuple[str, str]:
    """The spelling of a number that does not change with its value, and its unit."""
    sweep = Sweep(brief, axis(what, [brief.parameter_value(what)]))
    return sweep.columns[0].removeprefix("axis."), sweep.units[0]


def parts(brief: Brief) -> dict[str, Number]:
    """The parts of all splits by their spelling."""
    return _by_spelling(
        brief, [Number("part", line, split=split.name) for split in brief.splits for line, _ in split.parts]
    )


def of_lines(brief: Brief) -> dict[str, Number]:
    """The fixed percentages and the ends of ranges by their spelling."""
    found = []
    for line in brief.lines:
        if line.role.startswith("fixed"):
            found.append(Number("fix", line.name))
        elif line.role.startswith("between"):
            found += [Number("lowest", line.name), Number("highest", line.name)]
    return _by_spelling(brief, found)


def prices(brief: Brief) -> dict[str, Number]:
    """The prices by their spelling."""
    return _by_spelling(brief, [Number("price", material) for material in brief.prices or {}])


def of_requirements(brief: Brief) -> list[Number]:
    """What the requirements ask for."""
    return [
        Number(end, "", index=index)
        for index, requirement in enumerate(brief.requirements)
        for end in ends(requirement)
    ]


def _turned(brief: Brief, what: str | Measure) -> Number:
    """The requirement's number that a word turns: the one that differs once it is turned."""
    value = brief.parameter_value(what)
    for other in (value / 2, 2 * value, value + 1, value - 1):
        try:
            changed = brief.with_parameter(what, other).requirements
        except TensideError:
            # No value for this number; another one is.
            continue
        for index, (before, after) in enumerate(zip(brief.requirements, changed, strict=True)):
            kinds = [kind for kind in ends(before) if _end(before, kind) != _end(after, kind)]
            if kinds:
                return Number(kinds[0], "", index=index)
    raise LookupError(f"nothing of the brief changes with {str(what)!r:.200}; name another number")


def _end(requirement: BriefRequirement, kind: str) -> Fraction | None:
    return requirement.high if kind == "at-most" else requirement.low


def find(brief: Brief, what: str | Measure) -> list[Number]:
    """The numbers that a word stands for: the parts of a split, or one number.

    A word that names nothing, or more than one number of another kind, is refused by the brief.
    """
    if isinstance(what, str):
        split = next((split for split in brief.splits if split.name == what), None)
        if split is not None:
            return [Number("part", line, split=split.name) for line, _ in split.parts]
    word, _ = word_and_unit(brief, what)
    plain = parts(brief) | of_lines(brief) | prices(brief)
    return [plain[word] if word in plain else _turned(brief, what)]


def usual(brief: Brief) -> list[Number]:
    """What is explored where nobody says what: splits and requirements, else lines."""
    return [*parts(brief).values(), *of_requirements(brief)] or [*of_lines(brief).values()]


def text(value: Fraction) -> str:
    """A number as it is typed: a decimal, or a fraction where no decimal is exact."""
    left, digits = value.denominator, 0
    for prime in (2, 5):
        power = 0
        while left % prime == 0:
            left //= prime
            power += 1
        digits = max(digits, power)
    if left != 1:
        return str(value)
    whole = str(abs(value.numerator) * 10**digits // value.denominator).rjust(digits + 1, "0")
    sign = "-" if value < 0 else ""
    return f"{sign}{whole[: len(whole) - digits]}" + (f".{whole[len(whole) - digits :]}" if digits else "")


def _by_spelling(brief: Brief, found: list[Number]) -> dict[str, Number]:
    return {each.spelling(brief): each for each in found}
