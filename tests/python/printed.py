"""What README, guide and notebooks print: run again, compared with what is stored, or stored anew.

`python tests/python/printed.py` stores it; the tests compare.
"""

import contextlib
import io
import os
import pathlib
import re
import struct
import tempfile
from base64 import b64decode

import nbclient
import nbformat

PROJECT = pathlib.Path(__file__).resolve().parents[2]
NOTEBOOKS = sorted((PROJECT / "notebooks").glob("*.ipynb"))
# Whatever has blocks of Python with what they print under them.
PAGES = [PROJECT / "README.md", *sorted((PROJECT / "python/docs").rglob("*.md"))]
# A block of Python, and the block of text under it, which is what it prints.
BLOCK = re.compile(r"^```python\n(?P<code>.*?)^```\n(?:\n```text\n(?P<output>.*?)^```\n)?", re.DOTALL | re.MULTILINE)


def outputs(path):
    """Each Python block of a page as a match, with what it prints; all in one namespace, and in an empty folder of their own."""
    text = path.read_text(encoding="utf-8")
    namespace, found, before = {"__name__": path.stem}, [], os.getcwd()
    with tempfile.TemporaryDirectory() as folder:
        os.chdir(folder)
        try:
            for block in BLOCK.finditer(text):
                line = text.count("\n", 0, block.start("code"))
                printed = io.StringIO()
                with contextlib.redirect_stdout(printed):
                    exec(compile("\n" * line + block["code"], path.name, "exec"), namespace)
                found.append((block, printed.getvalue()))
        finally:
            os.chdir(before)
    return found


def anew(path):
    """A page with what its blocks print now."""
    text = path.read_text(encoding="utf-8")
    parts, end = [], 0
    for block, printed in outputs(path):
        under = f"\n```text\n{printed.rstrip()}\n```\n" if printed else ""
        parts += [text[end : block.start()], f"```python\n{block['code']}```\n", under]
        end = block.end()
    return "".join([*parts, text[end:]])


def executed(path):
    """A notebook, run in an empty folder of its own."""
    notebook = nbformat.read(path, as_version=4)
    nbformat.validate(notebook)
    with tempfile.TemporaryDirectory() as folder:
        nbclient.NotebookClient(
            notebook, timeout=300, kernel_name="python3", resources={"metadata": {"path": folder}}
        ).execute()
    return notebook


def shown(cell):
    """The outputs of a cell as they are compared: text as it is, of a picture its kind and its size in pixels."""
    found = []
    for output in cell.get("outputs", []):
        if output.output_type == "stream":
            # How a stream is cut into pieces is chance.
            if found and found[-1][0] == output.name:
                found[-1] = (output.name, found[-1][1] + output.text)
            else:
                found.append((output.name, output.text))
            continue
        assert output.output_type != "error", output
        for kind, data in sorted(output.data.items()):
            found.append((kind, size_of(data) if kind == "image/png" else data))
    return found


def size_of(picture):
    """Width and height of a PNG."""
    return struct.unpack(">II", b64decode(picture)[16:24])


def store():
    for page in PAGES:
        page.write_text(anew(page), encoding="utf-8")
    for path in NOTEBOOKS:
        stored, now = nbformat.read(path, as_version=4), executed(path)
        for before, after in zip(stored.cells, now.cells):
            after.metadata.pop("execution", None)
            # A picture that looks the same is left as it is: its bytes differ from machine to machine.
            if before.cell_type == "code" and before.outputs and shown(before) == shown(after):
                after.outputs = before.outputs
        now.metadata = stored.metadata
        nbformat.write(now, path)
        print(path.relative_to(PROJECT))


if __name__ == "__main__":
    store()
