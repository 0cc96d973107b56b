"""Documents in files. The suffix says the notation: `.toml` or `.json`.

>>> import pathlib, tempfile
>>> import tenside as td
>>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
>>> with tempfile.TemporaryDirectory() as folder:
...     path = pathlib.Path(folder) / "clay.toml"
...     td.write(clay, path)
...     td.read_formula(path) == clay
True
"""

from __future__ import annotations

import os
import pathlib

from tenside._native import Brief, Catalogue, Draft, Formula, RuleList
from tenside.errors import Fault, Unsupported

__all__ = ["read_brief", "read_catalogue", "read_catalogue_csv", "read_draft", "read_formula", "read_rules", "write"]


def read_catalogue(path: str | os.PathLike[str]) -> Catalogue:
    """Reads a catalogue file."""
    text, is_toml = _read(path)
    return Catalogue.read_toml(text) if is_toml else Catalogue.read_json(text)


def read_catalogue_csv(
    materials: str | os.PathLike[str],
    constituents: str | os.PathLike[str],
    *,
    delimiter: str | None = None,
    decimal_comma: bool = False,
    source: str | None = None,
) -> Catalogue:
    """Reads a catalogue from two CSV files in UTF-8, as exported from a spreadsheet; see `Catalogue.read_csv`."""
    texts = [pathlib.Path(path).read_text(encoding="utf-8") for path in (materials, constituents)]
    return Catalogue.read_csv(*texts, delimiter=delimiter, decimal_comma=decimal_comma, source=source)


def read_draft(path: str | os.PathLike[str]) -> Draft:
    """Reads a draft file."""
    text, is_toml = _read(path)
    return Draft.from_toml(text) if is_toml else Draft.from_json(text)


def read_formula(path: str | os.PathLike[str]) -> Formula:
    """Reads a formula file."""
    text, is_toml = _read(path)
    return Formula.from_toml(text) if is_toml else Formula.from_json(text)


def read_brief(path: str | os.PathLike[str], catalogue: Catalogue | None = None) -> Brief:
    """Reads a brief file; what it does not embed is looked up in the catalogue."""
    text, is_toml = _read(path)
    return Brief.from_toml(text, catalogue) if is_toml else Brief.from_json(text, catalogue)


def read_rules(path: str | os.PathLike[str]) -> RuleList:
    """Reads a file of rules."""
    text, is_toml = _read(path)
    return RuleList.from_toml(text) if is_toml else RuleList.from_json(text)


def write(document: Brief | Catalogue | Draft | Formula | RuleList, path: str | os.PathLike[str]) -> None:
    """Writes a brief, a catalogue, a draft, a formula or a list of rules to a file."""
    text = document.to_toml() if _is_toml(path) else document.to_json()
    pathlib.Path(path).write_text(text, encoding="utf-8", newline="\n")


def _read(path: str | os.PathLike[str]) -> tuple[str, bool]:
    is_toml = _is_toml(path)
    return pathlib.Path(path).read_text(encoding="utf-8-sig"), is_toml


def _is_toml(path: str | os.PathLike[str]) -> bool:
    suffix = pathlib.Path(path).suffix.lower()
    if suffix not in (".toml", ".json"):
        fault = Fault("unsupported", os.fspath(path), None, "unknown kind of file", repr(suffix), ".toml or .json")
        raise Unsupported(f"{os.fspath(path)}: unknown kind of file (found {suffix!r}); allowed: .toml or .json", [fault])
    return suffix == ".toml"
