"""The Python blocks of the README run in order, in one namespace, and print what stands under them."""

import difflib

from printed import readme_outputs


def test_the_readme_prints_what_it_says(project):
    text = (project / "README.md").read_text(encoding="utf-8")
    blocks = list(readme_outputs(text))
    assert blocks, "the README has no Python block"
    assert any(printed for _, printed in blocks), "no block prints anything"
    for block, printed in blocks:
        assert "<built-in method" not in printed and "object at 0x" not in printed, printed
        stored = (block["output"] or "").splitlines()
        difference = list(difflib.unified_diff(stored, printed.rstrip().splitlines(), "stands in the README", "is printed", lineterm=""))
        assert not difference, "\n".join([*difference, "", "`cargo xtask printed` stores what is printed"])
