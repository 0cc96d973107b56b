"""A brief explored live in a notebook (extra ``explore``: ipywidgets): sliders on its numbers, and the answer under them after every move.

The state is a brief, which can be taken out at any time (`Explorer.brief`); nothing is worked out here that the brief does not work out.
Numbers are exact decimals: a slider counts whole steps, and its place is written as text. A value outside what has a formula is no fault: the
page then shows what cannot hold together, and every change that would do is a button.

>>> import tenside as td
>>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
>>> explorer = td.explore(brief.target(td.measure.active_matter, 50), ["wash", "target.active-matter"])
>>> explorer.set("target.active-matter", "52.5")
>>> explorer.brief.requirements[0].name
'active matter at 52.5 %'
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from tenside._native import Basis, Brief, Measure
from tenside.explorer._explorer import Explorer

if TYPE_CHECKING:
    from typing import SupportsFloat

__all__ = ["Explorer", "explore"]


def explore(
    brief: Brief,
    numbers: str
    | Measure
    | Iterable[str | Measure]
    | Mapping[str, tuple[SupportsFloat | str, SupportsFloat | str, SupportsFloat | str]]
    | None = None,
    *,
    bases: Iterable[Basis] = (),
) -> Explorer:
    """Sliders on numbers of a brief; under them, solved anew after every move, the recipe, its measures with intervals, and what binds.

    `numbers` are spelt as for `axis`, or measures that a requirement limits; the name of a split stands for all its parts, which stand in one
    frame, each with its share of the whole. A mapping says where each slider goes: `{"target.active-matter": (50, 62, 0.5)}` is from 50 to 62
    in steps of 0.5. By default they are the parts of every split and what the requirements ask for, or else the numbers of the lines. The page
    shows the measures on these `bases`, by default as charged.

    A brief with choices is refused; make them first (`Brief.with_present`). Needs ipywidgets: the extra `explore`.

    >>> brief = td.Brief("Plain bar", td.Catalogue.starter()).fix("sci-powder", 60).between("cetyl-alcohol", 3, 6).qs("kaolin")
    >>> td.explore(brief, {"sci-powder": (50, 70, "0.5")})
    <Explorer of "Plain bar": 1 number, a formula>
    """
    return Explorer(brief, numbers, bases=bases)
