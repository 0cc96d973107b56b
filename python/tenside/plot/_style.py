"""What all pictures have in common: axes, colours, lettering, and how columns of a table come to them."""

from __future__ import annotations

import functools
import importlib
import inspect
from collections.abc import Callable, Mapping, Sequence
from types import NoneType, UnionType
from typing import Any, ParamSpec, Union, get_args, get_origin, get_type_hints

from tenside._native import SweepTable

_Parameters = ParamSpec("_Parameters")

COLOURS = ("#0072B2", "#E69F00", "#009E73", "#CC79A7", "#56B4E9", "#D55E00", "#F0E442", "#999999")
HATCHES = ("", "///", "...", "xxx")
INK = "#333333"
FAINT = "#999999"
PALE = "#BBBBBB"
GROUND = "#F0F0F0"
MAP = "cividis"
# Dots to the inch of a new figure: its smallest lettering is still read on a screen.
DOTS = 110


def picture(draw: Callable[_Parameters, Any]) -> Callable[_Parameters, Any]:
    """Has an argument of another class than the picture states refused, as the compiled half does, before anything is drawn."""
    signature, hints = inspect.signature(draw), get_type_hints(draw)

    @functools.wraps(draw)
    def refusing(*arguments: _Parameters.args, **keywords: _Parameters.kwargs) -> Any:
        for name, value in signature.bind(*arguments, **keywords).arguments.items():
            _check(name, value, hints[name])
        return draw(*arguments, **keywords)

    return refusing


def _check(name: str, value: Any, hint: Any) -> None:
    """Refuses a value that is of no class of its hint; what is made of numbers and names is left to whoever reads it."""
    if hint is not str and "tenside" not in str(hint):
        return
    holder = get_origin(hint)
    classes = tuple(get_origin(kind) or kind for kind in (get_args(hint) if holder in (Union, UnionType) else (hint,)))
    if not isinstance(value, classes):
        names = " or ".join("None" if kind is NoneType else repr(kind.__name__) for kind in classes)
        raise TypeError(f"argument {name!r}: {type(value).__name__!r} object is not an instance of {names}")
    if holder in (Mapping, Sequence):
        for each in value.values() if holder is Mapping else value:
            _check(name, each, get_args(hint)[-1])


def filled(index: int) -> dict[str, Any]:
    """How the so-manyth area is filled."""
    return {"facecolor": COLOURS[index % 8], "hatch": HATCHES[index // 8 % 4], "edgecolor": "white", "linewidth": 0.6}


def lettering(index: int) -> str:
    """The colour of letters on it: of the eight only the first is dark."""
    return "white" if index % 8 == 0 else INK


def graded(count: int) -> list[Any]:
    """So many colours from dark to light, for groups that have an order."""
    from matplotlib import colormaps

    return [colormaps[MAP](0.05 + 0.85 * index / max(1, count - 1)) for index in range(count)]


def no_formula() -> dict[str, Any]:
    """How a place without a formula is filled, in every picture."""
    return {"facecolor": GROUND, "hatch": "////", "edgecolor": PALE, "linewidth": 0.0}


def axes(ax: Any, size: tuple[float, float], projection: str | None = None, **keywords: Any) -> Any:
    """The axes that are given, or those of a new figure."""
    if ax is not None:
        found = getattr(ax, "name", None)
        if projection is not None and found != projection:
            raise ValueError(f"the picture needs axes with projection={projection!r} (found {found!r})")
        return ax
    try:
        import matplotlib.pyplot as plt

        if projection == "ternary":
            # It brings the projection.
            importlib.import_module("mpltern")
    except ImportError as error:
        raise ImportError(f"pictures need {error.name}: install tenside with the extra `plot`") from error
    if projection is None:
        return plt.figure(figsize=size, dpi=DOTS, layout="constrained").add_subplot()
    # The layout engine does not see what stands outside a triangle.
    return plt.figure(figsize=size, dpi=DOTS).add_axes((0.24, 0.2, 0.6, 0.64), projection=projection, **keywords)


def calm(ax: Any, title: str) -> None:
    """The look of the pictures of sweeps."""
    ax.spines[["top", "right"]].set_visible(False)
    ax.spines[["left", "bottom"]].set_color(PALE)
    ax.tick_params(colors=INK, labelsize=9, length=3)
    ax.xaxis.label.set_color(INK)
    ax.yaxis.label.set_color(INK)
    heading(ax, title)


def heading(ax: Any, title: str) -> None:
    """What the picture is of, small and on the left."""
    ax.set_title(plain(title), loc="left", fontsize=10, color=INK)


def plain(text: str) -> str:
    """Words of a user as they are: matplotlib would set what stands between two dollar signs as a formula."""
    return text.replace("$", r"\$")


def label(table: SweepTable, name: str) -> str:
    """A column as an axis says it: without its family, with its unit."""
    unit = table.sweep.units[table.columns.index(name)]
    short = name.removeprefix("line.").removeprefix("axis.")
    return plain(f"{short}, {unit}" if unit else short)


def numbers(table: SweepTable, name: str) -> Any:
    """A column as numpy floats; not-a-number where there is nothing."""
    import numpy as np

    cells = table.column(name)
    if any(isinstance(cell, (bool, str)) for cell in cells[:1]) or name in ("binding", "conflict"):
        raise ValueError(f"the column {name!r} holds no numbers that could be drawn")
    return np.array([np.nan if cell is None else cell for cell in cells], dtype=float)


def feasible(table: SweepTable) -> Any:
    """Which rows have a formula."""
    import numpy as np

    if "feasible" not in table.columns:
        raise ValueError("the picture needs the column 'feasible', which the sweep was asked to leave out")
    return np.array(table.column("feasible"), dtype=bool)


def counted(those: Any, one: str, many: str) -> str:
    """How many of an array of flags are true: "1 row", "2 rows"."""
    count = int(those.sum())
    return f"{count} {one if count == 1 else many}"


def short(value: float) -> str:
    """A number for a scale."""
    return f"{value:.4g}"


def left_out(has: Any, shown: Any) -> list[Any]:
    """What the legend says of rows that are not in the picture: those without a formula, and those that have one but lack a value."""
    from matplotlib.lines import Line2D

    reasons = [(~has, "without formula"), (has & ~shown, "without a value")]
    texts = [f"left out: {counted(those, 'row', 'rows')} {why}" for those, why in reasons if those.any()]
    return [Line2D([], [], linestyle="none", label=text) for text in texts]


def below(ax: Any, handles: list[Any], columns: int = 2, inches: float = 0.55) -> None:
    """The legend so many inches under the axes, where it hides nothing, however a layout moves them."""
    from matplotlib.transforms import offset_copy

    ax.legend(
        handles=handles,
        loc="upper center",
        bbox_to_anchor=(0.5, 0.0),
        bbox_transform=offset_copy(ax.transAxes, fig=ax.figure, y=-inches, units="inches"),
        ncols=min(columns, len(handles)),
        frameon=False,
        fontsize=8.5,
        labelcolor=INK,
    )
