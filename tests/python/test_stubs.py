"""Stub and compiled module know the same names and signatures, and the check of that notices a missing name."""

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


def test_a_name_missing_from_the_stub_is_all_that_differs(tmp_path):
    package = tmp_path / "tenside"
    shutil.copytree(pathlib.Path(tenside.__file__).parent, package, ignore=shutil.ignore_patterns("__pycache__"))
    stub = package / "_native.pyi"
    shortened, name = without_a_method(stub.read_text(encoding="utf-8"))
    stub.write_text(shortened, encoding="utf-8")
    environment = {**os.environ, "MYPYPATH": str(tmp_path), "PYTHONPATH": str(tmp_path)}
    allowed = pathlib.Path(__file__).with_name("stubtest.txt")
    command = [sys.executable, "-m", "mypy.stubtest", "tenside", "--allowlist", str(allowed)]
    outcome = subprocess.run(command, cwd=tmp_path, env=environment, capture_output=True, text=True, check=False)
    differences = [line for line in outcome.stdout.splitlines() if line.startswith("error: ")]
    assert differences == [f"error: tenside._native.{name} is not present in stub"], outcome.stdout + outcome.stderr
