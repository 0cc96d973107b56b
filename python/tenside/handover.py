"""Tables handed over to the libraries that a script has: polars, pyarrow, pandas; files written through them.

None of them is needed to install or to sweep. A file is written under another name beside its own and renamed when it is whole, so that a
full disk or Ctrl-C leaves no half of one.
"""

from __future__ import annotations

import contextlib
import importlib
import os
import pathlib
import secrets
from collections.abc import Callable, Iterator
from typing import Any

from tenside._native import Sweep, SweepTable

__all__ = ["front", "to_pandas", "to_polars", "to_pyarrow", "write_csv", "write_parquet"]


def _library(name: str, what: str) -> Any:
    try:
        return importlib.import_module(name)
    except ImportError as error:
        raise ImportError(f"{what} needs {name}, which is not installed; install it, or take another way out of the table") from error


def front(sweep: Sweep, rows: list[int], minimise: list[str], maximise: list[str]) -> SweepTable:
    """The rows of a front that was pickled, as that front again."""
    return sweep.pick(rows).pareto(minimise=minimise, maximise=maximise)


def to_polars(table: SweepTable) -> Any:
    """A polars data frame over the same memory."""
    return _library("polars", "a polars data frame").DataFrame(table)


def to_pyarrow(table: SweepTable) -> Any:
    """A pyarrow table over the same memory."""
    return _library("pyarrow", "a pyarrow table").table(table)


def to_pandas(table: SweepTable) -> Any:
    """A pandas data frame over the same memory: its columns stay Arrow's, so that what is missing stays missing."""
    pandas = _library("pandas", "a pandas data frame")
    return to_pyarrow(table).to_pandas(types_mapper=pandas.ArrowDtype)


def write_parquet(table: SweepTable, path: str | os.PathLike[str]) -> None:
    """A Parquet file, by pyarrow, which keeps units and legends, else by polars."""
    with _whole(path) as draft:
        _writer(
            lambda: _library("pyarrow.parquet", "a Parquet file").write_table(to_pyarrow(table), draft),
            lambda: _polars_parquet(table, draft),
            "a Parquet file",
        )


def write_csv(table: SweepTable, path: str | os.PathLike[str]) -> None:
    """A CSV file with a line of names, by pyarrow, else by polars; what is missing is an empty cell."""
    with _whole(path) as draft:
        _writer(
            lambda: _library("pyarrow.csv", "a CSV file").write_csv(_plain(to_pyarrow(table)), draft),
            lambda: to_polars(table).write_csv(draft),
            "a CSV file",
        )


def _polars_parquet(table: SweepTable, path: str) -> None:
    frame = to_polars(table)
    try:
        frame.write_parquet(path)
    except _library("polars.exceptions", "a Parquet file").PolarsError as error:
        # A full disk is told as a fault of the file's form.
        raise OSError(f"the Parquet file could not be written ({error})") from error


def _plain(table: Any) -> Any:
    """Words as text, since the writer knows no lists of words."""
    pyarrow = _library("pyarrow", "a CSV file")
    fields = [pyarrow.field(field.name, pyarrow.string()) if pyarrow.types.is_dictionary(field.type) else field for field in table.schema]
    return table.cast(pyarrow.schema(fields))


def _writer(by_pyarrow: Callable[[], None], by_polars: Callable[[], None], what: str) -> None:
    try:
        by_pyarrow()
    except ImportError as missing:
        try:
            by_polars()
        except ImportError:
            raise ImportError(f"{what} needs pyarrow or polars, and neither is installed; install one of them") from missing


@contextlib.contextmanager
def _whole(path: str | os.PathLike[str]) -> Iterator[str]:
    """A file beside the one that is meant, which takes its place at the end and is gone after any failure."""
    # Through links, and never in the place of a device or a pipe.
    target = pathlib.Path(os.path.realpath(path))
    if target.exists() and not target.is_file():
        raise OSError(f"{os.fspath(path)} is no file that could be written anew; name a plain file")
    draft = str(target.with_name(f".{target.name}.{secrets.token_hex(6)}.part"))
    try:
        yield draft
        os.replace(draft, target)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(draft)
        raise
