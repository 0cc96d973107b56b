"""Documents in files. The suffix says the notation: `.toml` or `.json`.

Files are written whole or not at all (`tenside.atomic`). They are UTF-8; a byte order mark may say UTF-8, UTF-16 or UTF-32. A file in any
other encoding is refused rather than read with wrong letters: a damaged name is not found again.

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

import codecs
import os
from typing import get_args, TypeAlias

from tenside import atomic
from tenside._native import (
    Adjustment,
    Answer,
    BarsFromStock,
    Batch,
    BatchRecord,
    BestOnModel,
    Brief,
    Catalogue,
    Chosen,
    Conflict,
    Costing,
    Design,
    Difference,
    Draft,
    DryingCurve,
    Exposure,
    FittedModel,
    Formula,
    FormulaMicelles,
    Label,
    Made,
    MixedMicelles,
    ModelChoice,
    MostDesirable,
    MouldedBar,
    Offers,
    Portions,
    PriceList,
    ProductMix,
    Purchase,
    Rescue,
    Review,
    Rounded,
    RuleList,
    Stock,
    Substitution,
    TargetFill,
    Titration,
    TrialLog,
    Unmet,
    UseUp,
    Weighable,
    WeightTest,
    Weights,
    read,
)
from tenside.atomic import Path, shown
from tenside.errors import Fault, SyntaxFault, TensideError, Unsupported
from tenside.words import Delimiter, FaultKind

__all__ = [
    "read_brief",
    "read_catalogue",
    "read_catalogue_csv",
    "read_document",
    "read_draft",
    "read_formula",
    "read_prices",
    "read_prices_csv",
    "read_rules",
    "write",
]

Document: TypeAlias = (
    Adjustment
    | Answer
    | BarsFromStock
    | Batch
    | BatchRecord
    | BestOnModel
    | Brief
    | Catalogue
    | Chosen
    | Conflict
    | Costing
    | Design
    | Draft
    | DryingCurve
    | Exposure
    | FittedModel
    | Formula
    | FormulaMicelles
    | Label
    | Made
    | MixedMicelles
    | ModelChoice
    | MostDesirable
    | MouldedBar
    | Offers
    | Portions
    | PriceList
    | ProductMix
    | Purchase
    | Rescue
    | Review
    | Rounded
    | RuleList
    | Stock
    | TargetFill
    | Titration
    | TrialLog
    | Unmet
    | UseUp
    | Weighable
    | WeightTest
    | Weights
)
"""What a document can be read as."""

_WRITTEN = (*get_args(Document), Difference, Substitution)


def read_catalogue(path: Path) -> Catalogue:
    """Reads a catalogue file."""
    text, is_toml = _read(path)
    return Catalogue.from_toml(text) if is_toml else Catalogue.from_json(text)


def read_catalogue_csv(
    materials: Path,
    constituents: Path,
    names: Path | None = None,
    *,
    delimiter: Delimiter | None = None,
    decimal_comma: bool = False,
    source: str | None = None,
) -> Catalogue:
    """Reads a catalogue from two or three CSV files, as exported from a spreadsheet; see `Catalogue.from_csv`."""
    texts = [
        _text(path, 'export it again as "CSV UTF-8"') for path in (materials, constituents, names) if path is not None
    ]
    return Catalogue.from_csv(*texts, delimiter=delimiter, decimal_comma=decimal_comma, source=source)


def read_draft(path: Path) -> Draft:
    """Reads a draft file."""
    text, is_toml = _read(path)
    return Draft.from_toml(text) if is_toml else Draft.from_json(text)


def read_formula(path: Path) -> Formula:
    """Reads a formula file."""
    text, is_toml = _read(path)
    return Formula.from_toml(text) if is_toml else Formula.from_json(text)


def read_brief(path: Path, catalogue: Catalogue | None = None) -> Brief:
    """Reads a brief file; what it does not embed is looked up in the catalogue."""
    text, is_toml = _read(path)
    return Brief.from_toml(text, catalogue) if is_toml else Brief.from_json(text, catalogue)


def read_prices(path: Path, catalogue: Catalogue | None = None) -> PriceList:
    """Reads a file of prices; names are looked up in the catalogue, by default the starter catalogue."""
    text, is_toml = _read(path)
    return PriceList.from_toml(text, catalogue) if is_toml else PriceList.from_json(text, catalogue)


def read_prices_csv(
    path: Path,
    catalogue: Catalogue | None = None,
    *,
    currency: str | None = None,
    delimiter: Delimiter | None = None,
    decimal_comma: bool = False,
) -> PriceList:
    """Reads prices from a CSV file, as exported from a spreadsheet; see `PriceList.from_csv`."""
    text = _text(path, 'export it again as "CSV UTF-8"')
    return PriceList.from_csv(text, catalogue, currency=currency, delimiter=delimiter, decimal_comma=decimal_comma)


def read_rules(path: Path) -> RuleList:
    """Reads a file of rules."""
    text, is_toml = _read(path)
    return RuleList.from_toml(text) if is_toml else RuleList.from_json(text)


def read_document(path: Path, catalogue: Catalogue | None = None) -> Document:
    """Reads a document file of any kind by what it says that it is; see `tenside.read`."""
    return read(_read(path)[0], catalogue)


def write(document: Document | Difference | Substitution, path: Path) -> None:
    """Writes a document to a file, whole or not at all: a brief, a catalogue, a draft, a formula, a list of prices or rules, or a result."""
    if not isinstance(document, _WRITTEN):
        found = type(document).__name__
        raise TypeError(
            f"a brief, catalogue, draft, formula, list of prices or rules, or result is written (found {found})"
        )
    text = document.to_toml() if _is_toml(path) else document.to_json()
    with atomic.replacing(path) as file:
        file.write(text.encode("utf-8"))


def _read(path: Path) -> tuple[str, bool]:
    is_toml = _is_toml(path)
    return _text(path, "save it again as UTF-8"), is_toml


def _is_toml(path: Path) -> bool:
    suffix = os.path.splitext(shown(path))[1].lower()
    if suffix not in (".toml", ".json"):
        raise _refused(
            Unsupported, "unsupported", path, None, "unknown kind of file", repr(suffix), allowed=".toml or .json"
        )
    return suffix == ".toml"


_MARKS = [
    # UTF-32 first: its mark begins with that of UTF-16.
    (codecs.BOM_UTF32_LE, "utf-32-le"),
    (codecs.BOM_UTF32_BE, "utf-32-be"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
    (codecs.BOM_UTF8, "utf-8"),
]


def _text(path: Path, remedy: str) -> str:
    """The text of a file in the encoding that its byte order mark says, else in UTF-8."""
    # A number would be taken for a file that is open already.
    with open(os.fspath(path), "rb") as file:
        content = file.read()
    mark, encoding = next(((mark, encoding) for mark, encoding in _MARKS if content.startswith(mark)), (b"", "utf-8"))
    content = content[len(mark) :]
    if encoding == "utf-8" and content.count(0) * 4 > len(content):
        found = "bytes of value 0, as in UTF-16 without a byte order mark"
        raise _refused(
            SyntaxFault,
            "syntax",
            path,
            _place(content, content.index(b"\0")),
            "a file is not UTF-8",
            found,
            remedy=remedy,
        )
    try:
        return content.decode(encoding)
    except UnicodeDecodeError as error:
        if mark:
            message, found = (
                f"a file is not {encoding.upper()}, as its byte order mark says",
                f"byte {content[error.start]:#04x}",
            )
        else:
            message, found = "a file is not UTF-8", f"byte {content[error.start]:#04x}, {_likely(content, error.start)}"
        raise _refused(
            SyntaxFault, "syntax", path, None if mark else _place(content, error.start), message, found, remedy=remedy
        ) from None


_WORD_ENDS = [b" ", b"\t", b"\n", b"\r", b",", b";", b'"', b"'"]


def _place(content: bytes, at: int) -> tuple[int, int]:
    """Line and column, from 1."""
    before = content[:at].decode("utf-8", "replace")
    return before.count("\n") + 1, len(before) - before.rfind("\n")


def _likely(content: bytes, at: int) -> str:
    """Which encoding it seems to be, with the word at that place as it would read."""
    try:
        content.decode("cp1252")
    except UnicodeDecodeError:
        return "in no encoding that could be told"
    start = max(content.rfind(mark, 0, at) for mark in _WORD_ENDS) + 1
    end = min((found for mark in _WORD_ENDS if (found := content.find(mark, at)) >= 0), default=len(content))
    word = content[max(start, at - 20) : min(end, at + 20)].decode("cp1252")
    return f"which reads {word!r} in Windows-1252 (cp1252, nearly Latin-1), the likely encoding"


def _refused(
    kind: type[TensideError],
    slug: FaultKind,
    path: Path,
    position: tuple[int, int] | None,
    message: str,
    value: str,
    *,
    allowed: str | None = None,
    remedy: str | None = None,
) -> TensideError:
    place = shown(path)
    where = f"{place}, line {position[0]}, column {position[1]}" if position else place
    text = (
        f"{where}: {message} (found {value})"
        + (f"; allowed: {allowed}" if allowed else "")
        + (f"; {remedy}" if remedy else "")
    )
    return kind(text, [Fault(slug, place, position, message, value, allowed, remedy, text=text)])
