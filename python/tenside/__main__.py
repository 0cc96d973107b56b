"""`python -m tenside check FILE...`: reads documents, prints every fault, and says by its exit status whether there was one.

The status is 0 if every file was read, 1 if one was not, 2 if the call itself was wrong. Materials that a document only names are looked
up in the starter catalogue; `--catalogue FILE` names another one. A result is read only where asking its question again gives what it says.
"""

from __future__ import annotations

import argparse
import sys

from tenside.errors import TensideError
from tenside.files import read_catalogue, read_document


def _check(paths: list[str], catalogue_path: str | None) -> int:
    try:
        catalogue = read_catalogue(catalogue_path) if catalogue_path else None
    except (TensideError, OSError) as error:
        print(f"{catalogue_path}: {error}", file=sys.stderr)
        return 2
    status = 0
    for path in paths:
        try:
            document = read_document(path, catalogue)
        except TensideError as error:
            status = 1
            print("\n".join(f"{path}: {fault}" for fault in error.faults))
        except OSError as error:
            status = 1
            print(f"{path}: {error.strerror or error}")
        else:
            print(f"{path}: read without a fault ({type(document).__name__})")
    return status


def main(arguments: list[str] | None = None) -> int:
    """What the command line asks for; gives the exit status."""
    parser = argparse.ArgumentParser(
        prog="python -m tenside", description="Reads documents and says what is wrong with them."
    )
    commands = parser.add_subparsers(dest="command", required=True)
    check = commands.add_parser("check", help="read documents and print every fault")
    check.add_argument(
        "--catalogue",
        metavar="FILE",
        help="the catalogue of materials that documents only name (default: the starter catalogue)",
    )
    check.add_argument("files", nargs="+", metavar="FILE", help="a .toml or .json document of any kind")
    given = parser.parse_args(arguments)
    return _check(given.files, given.catalogue)


if __name__ == "__main__":
    sys.exit(main())
