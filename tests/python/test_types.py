"""What README, guide and notebooks show has no fault for mypy, strictly, and for pyright; both know a wrong word."""

import json
import pathlib
import shutil
import subprocess
import sys

import nbformat
import pytest
import tenside
from printed import BLOCK, NOTEBOOKS, PAGES

# What a page says besides code does not matter to pyright: an expression alone shows itself in a notebook.
PYRIGHT = {"typeCheckingMode": "standard", "reportUnusedExpression": False, "reportMissingModuleSource": False}


def code_of(path):
    """The code of a page or notebook as one module, the lines of a page where they stand on it."""
    if path.suffix == ".ipynb":
        cells = nbformat.read(path, as_version=4).cells
        return "\n".join(cell.source for cell in cells if cell.cell_type == "code") + "\n"
    text = path.read_text(encoding="utf-8")
    lines = []
    for block in BLOCK.finditer(text):
        start = text.count("\n", 0, block.start("code"))
        lines += [""] * (start - len(lines)) + block["code"].splitlines()
    return "\n".join(lines) + "\n"


def checked(folder, tool, *files):
    """What a checker of types says of files beside a copy of the package."""
    shutil.copytree(
        pathlib.Path(tenside.__file__).parent,
        folder / "tenside",
        ignore=shutil.ignore_patterns("__pycache__", "*.so", "*.pyd"),
    )
    (folder / "pyrightconfig.json").write_text(json.dumps(PYRIGHT), encoding="utf-8")
    call = {
        "mypy": ["mypy", "--strict", "--no-incremental", "--follow-imports=silent", "--disable-error-code=import-untyped"],
        "pyright": ["basedpyright", "--pythonpath", sys.executable],
    }[tool]
    command = [sys.executable, "-m", *call, *files]
    return subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)


@pytest.mark.parametrize("tool", ["mypy", "pyright"])
def test_what_is_shown_has_no_fault_for_a_checker_of_types(tmp_path, tool):
    names = []
    for path in (*PAGES, *NOTEBOOKS):
        if code := code_of(path).strip():
            names.append(f"of_{path.stem.replace('-', '_')}.py")
            (tmp_path / names[-1]).write_text(code_of(path), encoding="utf-8")
    assert len(set(names)) == len(names)
    found = checked(tmp_path, tool, *names)
    assert found.returncode == 0, found.stdout + found.stderr


RIGHT = """import tenside as td
from tenside.words import Market, Severity, Use

catalogue = td.Catalogue.starter()
market: Market = "EU"
uses: list[Use] = ["shampoo-bar", "body"]
product = td.Product(market=market, use=uses, on="2026-11-24")
gravest: Severity | None = td.Formula("Clay", {"kaolin": 100}, catalogue).review(product).gravest
brief = td.Brief("Wash", catalogue).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").without("palm")
outcome: td.solve.Answer | td.solve.Conflict = brief.try_solve()
"""
WRONG = {
    "market": 'td.Product(market="UE", use="shampoo-bar", on="2026-11-24")',
    "use": 'td.Product(market="EU", use="shampoobar", on="2026-11-24")',
    "one of several uses": 'td.Product(market="EU", use=["shampoo-bar", "bodi"], on="2026-11-24")',
    "split basis": 'brief.split({"kaolin": 1, "water": 1}, by="volume", name="clay")',
    "attribute": 'brief.without("palms")',
    "what is compared with": 'product.market == "UK"',
    "comparison": 'td.Sweep(brief).stream(only=[("water", "=<", 9)])',
    "class of a measure": 'td.measure.class_("waxes")',
    "name at the top": "td.Answer",
    "name in a room": "td.solve.Batch",
}
# By their own choice: pyright compares a word with another word of the same type without a word.
NOT_SEEN = {"mypy": set(), "pyright": {"what is compared with"}}


@pytest.mark.parametrize("tool", ["mypy", "pyright"])
def test_a_checker_of_types_knows_the_words(tmp_path, tool):
    (tmp_path / "right.py").write_text(RIGHT, encoding="utf-8")
    (tmp_path / "wrong.py").write_text(RIGHT + "\n".join(WRONG.values()) + "\n", encoding="utf-8")
    found = checked(tmp_path, tool, "right.py", "wrong.py").stdout
    first = RIGHT.count("\n") + 1
    seen = {what for at, what in enumerate(WRONG) if f"wrong.py:{first + at}:" in found}
    assert "right.py:" not in found, found
    assert seen == set(WRONG) - NOT_SEEN[tool], found
