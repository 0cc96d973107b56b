"""Tables handed over to the libraries that a script has: polars, pyarrow, pandas; files written through them.

None of them is needed to install or to sweep. Files are there whole or not at all (`tenside.atomic`).
"""

from __future__ import annotations

import importlib
from collections.abc import Callable
from typing import Any, BinaryIO

from tenside import atomic
from tenside._native import Sweep, SweepTable

__all__ = ["columns_of", "front", "to_pandas", "to_polars", "to_pyarrow", "write_csv", "write_parquet"]


def _library(name: str, what: str) -> Any:
    try:
        return importlib.import_module(name)
    except ImportError as error:
        raise ImportError(
            f"{what} needs {name}, which is not installed; install it, or take another way out of the table"
        ) from error


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


def columns_of(table: Any) -> dict[str, list[Any]]:
    """The columns of anything that hands over Arrow, by name, through pyarrow."""
    return _library("pyarrow", "reading an Arrow table").table(table).to_pydict()


def write_parquet(table: SweepTable, path: atomic.Path) -> None:
    """A Parquet file, by pyarrow, which keeps units and legends, else by polars."""
    with atomic.replacing(path) as file:
        _writer(
            lambda: _library("pyarrow.parquet", "a Parquet file").write_table(to_pyarrow(table), file),
            lambda: _polars_parquet(table, file),
            "a Parquet file",
        )


def write_csv(table: SweepTable, path: atomic.Path) -> None:
    """A CSV file with a line of names, by pyarrow, else by polars; what is missing is an empty cell.

    A name that a spreadsheet would take for a formula stands behind an apostrophe, as in `Catalogue.to_csv`.
    """
    with atomic.replacing(path) as file:
        _writer(
            lambda: _library("pyarrow.csv", "a CSV file").write_csv(_plain(to_pyarrow(table)), file),
            lambda: _guarded(to_polars(table)).write_csv(file),
            "a CSV file",
        )


def _polars_parquet(table: SweepTable, file: BinaryIO) -> None:
    frame = to_polars(table)
    try:
        frame.write_parquet(file)
    except _library("polars.exceptions", "a Parquet file").PolarsError as error:
        # A full disk is told as a fault of the file's form.
        raise OSError(f"the Parquet file could not be written ({error})") from error


def _plain(table: Any) -> Any:
    """Words as text, since the writer knows no lists of words."""
    pyarrow = _library("pyarrow", "a CSV file")
    fields = [
        pyarrow.field(field.name, pyarrow.string()) if pyarrow.types.is_dictionary(field.type) else field
        for field in table.schema
    ]
    table = table.cast(pyarrow.schema(fields))
    return table.rename_columns([_guard(name) for name in table.column_names])


def _guarded(frame: Any) -> Any:
    return frame.rename({name: _guard(name) for name in frame.columns})


def _guard(name: str) -> str:
    return "'" + name if name.lstrip("'")[:1] in tuple("=+-@\uff1d\uff0b\uff0d\uff20") else name


def _writer(by_pyarrow: Callable[[], None], by_polars: Callable[[], None], what: str) -> None:
    try:
        by_pyarrow()
    except ImportError as missing:
        try:
            by_polars()
        except ImportError:
            raise ImportError(
                f"{what} needs pyarrow or polars, and neither is installed; install one of them"
            ) from missing
