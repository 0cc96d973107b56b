"""Builds the guide: `python python/docs/build.py FOLDER` writes sources and pages under that folder, with the package that is installed.

The sources are copied, and beside them stand the pages that are made of code and data: what is generated is never kept in the project.
"""

import pathlib
import shutil
import sys

from sphinx.cmd.build import build_main

import api
import formats
import law
import shelf

DOCS = pathlib.Path(__file__).resolve().parent
PROJECT = DOCS.parents[1]


def sources(folder: pathlib.Path) -> None:
    """Everything that Sphinx reads: the pages of this folder, the notebooks, and what is generated."""
    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(DOCS, folder, ignore=shutil.ignore_patterns("*.py", "__pycache__", "requirements.txt"))
    shutil.copy(DOCS / "conf.py", folder)
    shutil.copytree(
        PROJECT / "notebooks",
        folder / "notebooks",
        dirs_exist_ok=True,
        ignore=shutil.ignore_patterns(".ipynb_checkpoints"),
    )
    for part in (api, formats, law, shelf):
        for name, text in part.pages().items():
            page = folder / name
            page.parent.mkdir(parents=True, exist_ok=True)
            page.write_text(text, encoding="utf-8")


def main() -> int:
    folder = pathlib.Path(sys.argv[1])
    sources(folder / "source")
    shutil.rmtree(folder / "html", ignore_errors=True)
    # A warning is a failure, a name that leads nowhere is a warning, and all of them are said.
    strict = ["--fail-on-warning", "--keep-going", "--nitpicky", "--quiet"]
    return build_main(
        ["-b", "html", *strict, "-d", str(folder / "doctrees"), str(folder / "source"), str(folder / "html")]
    )


if __name__ == "__main__":
    sys.exit(main())
