"""The Python blocks of the README run in order, in one namespace."""

import re


def test_the_readme_runs(project):
    text = (project / "README.md").read_text(encoding="utf-8")
    blocks = list(re.finditer(r"^```python\n(.*?)^```", text, re.DOTALL | re.MULTILINE))
    assert blocks, "the README has no Python block"
    namespace = {"__name__": "readme"}
    for block in blocks:
        line = text.count("\n", 0, block.start(1))
        exec(compile("\n" * line + block.group(1), "README.md", "exec"), namespace)
