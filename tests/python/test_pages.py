"""The Python blocks of README and guide run page by page, in one namespace a page, and print what stands under them."""

import difflib
import re

import pytest
from printed import BLOCK, PAGES, PROJECT, outputs

WITH_CODE = [path for path in PAGES if "```python" in path.read_text(encoding="utf-8")]
CELL = re.compile(r"^```\{code-cell\} ipython3\n(?P<code>.*?)^```", re.DOTALL | re.MULTILINE)


@pytest.mark.parametrize("path", WITH_CODE, ids=lambda path: str(path.relative_to(PROJECT)))
def test_a_page_prints_what_it_says(path):
    blocks = outputs(path)
    assert any(printed for _, printed in blocks), "no block prints anything"
    for block, printed in blocks:
        assert "<built-in method" not in printed and "object at 0x" not in printed, printed
        stored = (block["output"] or "").splitlines()
        difference = list(
            difflib.unified_diff(stored, printed.rstrip().splitlines(), "stands there", "is printed", lineterm="")
        )
        assert not difference, "\n".join([*difference, "", "`cargo xtask printed` stores what is printed"])


def test_sixteen_questions_are_answered():
    how_tos = [path for path in WITH_CODE if path.parent.name == "how-to"]
    assert len(how_tos) == 16
    assert [path.name for path in how_tos if not path.read_text(encoding="utf-8").splitlines()[0].endswith("?")] == []


def test_no_line_of_code_runs_out_of_the_guide():
    blocks = [found["code"] for path in WITH_CODE[1:] for found in BLOCK.finditer(path.read_text(encoding="utf-8"))]
    assert [line for code in blocks for line in code.splitlines() if len(line) > 100] == []


def test_the_pictures_of_the_guide_are_drawn():
    """The gallery is run by the build alone, which draws it anew; here its code runs."""
    pyplot = pytest.importorskip("matplotlib.pyplot")
    from tenside import plot

    pyplot.switch_backend("agg")
    pyplot.close("all")
    text = (PROJECT / "python/docs/gallery.md").read_text(encoding="utf-8")
    namespace = {}
    for cell in CELL.finditer(text):
        exec(compile(cell["code"], "gallery.md", "exec"), namespace)
    assert len(pyplot.get_fignums()) == len(plot.__all__)
    assert [name for name in plot.__all__ if f"~tenside.plot.{name}`" not in text] == []
    pyplot.close("all")
