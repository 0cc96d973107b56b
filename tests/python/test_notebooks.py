"""Every notebook runs from top to bottom, in an empty folder of its own, and shows what is stored in it."""

import difflib

import nbformat
import pytest
from printed import NOTEBOOKS, executed, shown


@pytest.mark.parametrize("path", NOTEBOOKS, ids=[path.stem for path in NOTEBOOKS])
def test_a_notebook_shows_what_is_stored(path):
    stored, now = nbformat.read(path, as_version=4), executed(path)
    wrong = []
    for place, (before, after) in enumerate(zip(stored.cells, now.cells)):
        if before.cell_type == "code" and shown(before) != shown(after):
            lines = [
                [f"{kind}: {line}" for kind, data in shown(cell) for line in str(data).splitlines()]
                for cell in (before, after)
            ]
            wrong += difflib.unified_diff(*lines, f"cell {place}, stored", f"cell {place}, now", lineterm="", n=1)
    assert not wrong, "\n".join([*wrong, "", "`cargo xtask printed` stores what is shown"])


@pytest.mark.parametrize("path", NOTEBOOKS, ids=[path.stem for path in NOTEBOOKS])
def test_a_notebook_is_stored_with_its_outputs(path):
    cells = [cell for cell in nbformat.read(path, as_version=4).cells if cell.cell_type == "code"]
    assert sum(bool(cell.outputs) for cell in cells) >= len(cells) / 2
    pictures = [size for cell in cells for kind, size in shown(cell) if kind == "image/png"]
    # At 110 dots to the inch the smallest of them, a map cut to what is drawn, is some 600 wide; at 60 dots nobody
    # could read it.
    assert all(width >= 560 for width, _ in pictures), pictures


@pytest.mark.parametrize("path", NOTEBOOKS, ids=[path.stem for path in NOTEBOOKS])
def test_no_line_of_code_runs_out_of_its_cell(path):
    cells = [cell for cell in nbformat.read(path, as_version=4).cells if cell.cell_type == "code"]
    assert [line for cell in cells for line in cell.source.splitlines() if len(line) > 100] == []
