"""The check of the stubs notices a missing name."""

import ast
import os
import pathlib
import shutil
import subprocess
import sys

import tenside


def without_a_method(text):
    """The stub without the first public method in it, and that method's name."""
    stub = ast.parse(text)
    for kind in (node for node in stub.body if isinstance(node, ast.ClassDef)):
        for method in kind.body:
            if isinstance(method, ast.FunctionDef) and not method.name.startswith("_") and not method.decorator_list:
                kind.body.remove(method)
                return ast.unparse(stub), f"{kind.name}.{method.name}"
    raise AssertionError("no class of the stub has a public method")


def test_a_name_missing_from_the_stubs_is_noticed(tmp_path):
    package = tmp_path / "tenside"
    shutil.copytree(pathlib.Path(tenside.__file__).parent, package, ignore=shutil.ignore_patterns("__pycache__"))
    stub = package / "_native.pyi"
    shortened, name = without_a_method(stub.read_text(encoding="utf-8"))
    stub.write_text(shortened, encoding="utf-8")
    environment = {**os.environ, "MYPYPATH": str(tmp_path), "PYTHONPATH": str(tmp_path)}
    allowed = pathlib.Path(__file__).with_name("stubtest.txt")
    command = [sys.executable, "-m", "mypy.stubtest", "tenside", "--allowlist", str(allowed)]
    outcome = subprocess.run(command, cwd=tmp_path, env=environment, capture_output=True, text=True, check=False)
    assert outcome.returncode != 0
    assert f"tenside._native.{name} is not present in stub" in outcome.stdout


RIGHT = """import tenside as td
from tenside.words import Market, Severity, Use

catalogue = td.Catalogue.starter()
market: Market = "EU"
uses: list[Use] = ["shampoo-bar", "body"]
product = td.Product(market=market, use=uses, on="2026-11-24")
gravest: Severity | None = td.Formula("Clay", {"kaolin": 100}, catalogue).review(product).gravest
brief = td.Brief("Wash", catalogue).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").without("palm")
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
}


def test_a_checker_of_types_knows_the_words(tmp_path):
    shutil.copytree(
        pathlib.Path(tenside.__file__).parent,
        tmp_path / "tenside",
        ignore=shutil.ignore_patterns("__pycache__", "*.so", "*.pyd"),
    )
    (tmp_path / "right.py").write_text(RIGHT, encoding="utf-8")
    (tmp_path / "wrong.py").write_text(RIGHT + "\n".join(WRONG.values()) + "\n", encoding="utf-8")
    command = [
        sys.executable,
        "-m",
        "mypy",
        "--strict",
        "--no-incremental",
        "--follow-imports=silent",
        "right.py",
        "wrong.py",
    ]
    found = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, check=False).stdout
    lines = {int(line.split(":")[1]) for line in found.splitlines() if line.startswith("wrong.py:")}
    assert "right.py" not in found, found
    assert lines == set(range(RIGHT.count("\n") + 1, RIGHT.count("\n") + 1 + len(WRONG))), found
