"""One number of a brief: how it is found again after the brief has changed, and what it is called."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from tenside._native import Basis, Brief, BriefRequirement, Measure, Sweep, axis

ENDS = {"fix": "fixed", "lowest": "lowest", "highest": "highest", "target": "target", "at-least": "at least", "at-most": "at most"}
_OF_REQUIREMENTS = ("target", "at-least", "at-most")


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
    return _by_spelling(brief, [Number("part", line, split=split.name) for split in brief.splits for line, _ in split.parts])


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


def of_requirements(brief: Brief) -> dict[str, Number]:
    """What the requirements ask for, by the spelling that stays when the value changes."""
    found = [Number(end, "", index=index) for index, requirement in enumerate(brief.requirements) for end in ends(requirement)]
    words: dict[str, Number] = {}
    # Both ends of one requirement are no two axes of one sweep.
    for those in ([each for each in found if each.kind != "at-most"], [each for each in found if each.kind == "at-most"]):
        spellings = [each.spelling(brief) for each in those]
        sweep = Sweep(brief, *(axis(spelling, [brief.parameter_value(spelling)]) for spelling in spellings))
        words |= {column.removeprefix("axis."): each for column, each in zip(sweep.columns, those, strict=False)}
    return words


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
    return [plain[word] if word in plain else of_requirements(brief)[word]]


def usual(brief: Brief) -> list[Number]:
    """What is explored where nobody says what: splits and requirements, else lines."""
    return [*parts(brief).values(), *of_requirements(brief).values()] or [*of_lines(brief).values()]


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
