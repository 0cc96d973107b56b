"""A progress bar for long work, where tqdm is there."""

from __future__ import annotations

import importlib
from collections.abc import Callable

__all__ = ["bar"]


def bar(total: int) -> Callable[[int, int], None] | None:
    """What long work calls with rows done and rows in all; None, and no bar, without tqdm.

    >>> from tenside import progress
    >>> callback = progress.bar(10)
    >>> callback is None or callback(10, 10) is None
    True
    """
    try:
        library = importlib.import_module("tqdm.auto")
    except ImportError:
        return None
    shown = library.tqdm(total=total, unit="row", unit_scale=True)

    def report(done: int, total: int) -> None:
        shown.update(done - shown.n)
        if done >= total:
            shown.close()

    return report
