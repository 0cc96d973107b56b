"""The measures, ready made: what can be asked of a formula, targeted, limited or minimised.

>>> import tenside as td
>>> from tenside import measure as m
>>> m.water.within(phase="liquid")
measure.water.within(phase='liquid')
"""

from __future__ import annotations

from tenside._native import Basis, Interval, Measure, Measured

# Every script imports this: what only annotations name, it does not wait for.
TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from typing import SupportsFloat

    from tenside.words import Attribute, Class, Form

__all__ = [
    "Basis",
    "Interval",
    "Measure",
    "Measured",
    "active_matter",
    "active_moles",
    "active_of_class",
    "active_with_soap",
    "amphoteric_active",
    "anionic_active",
    "anionic_charge",
    "as_supplied",
    "attribute",
    "bound_water",
    "cationic_charge",
    "cationic_surfactant",
    "charge_ratio",
    "class_",
    "constituent",
    "cost",
    "form",
    "material",
    "natural_origin",
    "nonionic_active",
    "score",
    "soap",
    "solids",
    "substance",
    "substance_sum",
    "unspecified",
    "water",
]

active_matter = Measure("active-matter")
"""Percent of what counts as active."""
anionic_active = Measure("anionic-active")
"""Percent of anionic active."""
amphoteric_active = Measure("amphoteric-active")
"""Percent of amphoteric active."""
nonionic_active = Measure("nonionic-active")
"""Percent of nonionic active."""
cationic_surfactant = Measure("class", "cationic-surfactant")
"""Percent of cationic surfactant, whether or not it counts as active."""
soap = Measure("class", "soap")
"""Percent of soap: alkali and amine salts of fatty acids. It washes as surfactants do, yet `active_matter`, `anionic_active` and
`active_moles` leave it out, and the permanent charge does too."""
active_with_soap = active_matter + soap
"""Percent of surfactant with soap counted as one: `active_matter` and `soap` together."""
water = Measure("water")
"""Percent of water listed as a constituent."""
bound_water = Measure("bound-water")
"""Percent of water held by starches, clays and hydrates and not listed as water."""
solids = Measure("solids")
"""Percent left when water and volatile constituents are gone."""
as_supplied = Measure("as-supplied")
"""Percent of raw material as supplied; useful within a scope."""
cost = Measure("cost")
"""Cost of the raw materials per kilogram."""
anionic_charge = Measure("anionic-charge")
"""Negative charge of permanent ions, mmol per gram."""
cationic_charge = Measure("cationic-charge")
"""Positive charge of permanent ions, mmol per gram."""
charge_ratio = cationic_charge.per(anionic_charge)
"""Cationic over anionic permanent charge, mol per mol."""
active_moles = Measure("active-moles")
"""Amount of active substance, mmol per gram."""
natural_origin = Measure("natural-origin")
"""Percent of natural origin, water included, in the sense of ISO 16128-2 (from memory)."""
unspecified = Measure("unspecified")
"""Percent that the suppliers do not name."""


def _sum(content: str, names: str | Iterable[str]) -> Measure:
    """The measure of one name, or the sum of those of several."""
    if isinstance(names, str):
        return Measure(content, names)
    return Measure("sum", terms=[(Measure(content, name), 1) for name in names])


def constituent(name: str) -> Measure:
    """Percent of one constituent, as an ingredient.

    >>> from tenside import measure as m
    >>> m.constituent("GLYCERIN").name
    'GLYCERIN'
    """
    return Measure("constituent", name)


def substance(name: str) -> Measure:
    """Percent of one substance, as an ingredient and contained in ingredients: an allergen in essential oils."""
    return Measure("substance", name)


def class_(name: Class | Iterable[Class]) -> Measure:
    """Percent of the constituents of one class: "wax", "fatty-alcohol"; of several, their sum."""
    return _sum("class", name)


def active_of_class(name: Class | Iterable[Class]) -> Measure:
    """Percent of what counts as active in one class, or in several together."""
    return _sum("active-of-class", name)


def attribute(name: Attribute | Iterable[Attribute]) -> Measure:
    """Percent of raw materials that have an attribute: "sulfate", "palm", "animal", "silicone", "ethoxylated". Of several attributes their
    sum, in which a raw material that has two counts twice."""
    return _sum("attribute", name)


def form(name: Form | Iterable[Form]) -> Measure:
    """Percent of raw materials of one form, as supplied, or of several together: "powder", "liquid".

    >>> from tenside import measure as m
    >>> m.form(["liquid", "oil"]) == m.form("liquid") + m.form("oil")
    True
    """
    return _sum("form", name)


def material(identifier: str) -> Measure:
    """Percent of one raw material, as supplied, over all its lines."""
    return Measure("material", identifier)


def score(
    name: str, scores: Mapping[str, SupportsFloat | str], *, default: SupportsFloat | str | None = None
) -> Measure:
    """A score of your own: the mean of what each raw material is given, weighted by mass.

    `default` is what every other raw material is given; without one, a raw material without a score makes the measure unknown.

    >>> from tenside import measure as m
    >>> m.score("slip", {"kaolin": 3})
    measure.score('slip', {'kaolin': '3'})
    """
    return Measure("score", name, scores=scores, default=default)


def substance_sum(
    name: str,
    factors: Mapping[str, SupportsFloat | str | tuple],
    classes: Mapping[str, SupportsFloat | str | tuple] | None = None,
) -> Measure:
    """Percent of several substances by INCI name, each by a factor: a preservative and its salts counted as the acid.

    A factor is a number of parts, or what the substance counts as: that molar mass in g/mol, how many molecules of it one molecule holds,
    and the substance's own molar mass (or None) for catalogues that state none. `classes` count every ingredient of a class.
    Contained substances count with the ingredients that hold them.

    >>> import tenside as td
    >>> from tenside import measure as m
    >>> acid = m.substance_sum("benzoic acid", {"BENZOIC ACID": 1, "SODIUM BENZOATE": ("122.122", 1, "144.103")})
    >>> bar = td.Formula("Bar", {"sodium-benzoate": "0.5", "kaolin": "99.5"}, td.Catalogue.starter())
    >>> print(bar.measure(acid).text())
    0.42 (0.41 to 0.43) %
    """
    return Measure("substance-sum", name, factors=factors, classes=classes)
