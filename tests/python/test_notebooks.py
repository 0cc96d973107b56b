"""Every notebook runs from top to bottom without an error, in an empty folder of its own."""

import pathlib

import nbclient
import nbformat
import pytest

NOTEBOOKS = sorted((pathlib.Path(__file__).resolve().parents[2] / "notebooks").glob("*.ipynb"))


@pytest.mark.parametrize("path", NOTEBOOKS, ids=[path.stem for path in NOTEBOOKS])
def test_a_notebook_runs(path, tmp_path):
    notebook = nbformat.read(path, as_version=4)
    nbformat.validate(notebook)
    nbclient.NotebookClient(notebook, timeout=300, kernel_name="python3", resources={"metadata": {"path": str(tmp_path)}}).execute()
