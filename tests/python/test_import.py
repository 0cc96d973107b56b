"""What a script waits for when it imports the package."""

import pathlib
import subprocess
import sys

import tenside

BROUGHT = "before = set(sys.modules); import tenside, tenside.measure; print(*sorted(set(sys.modules) - before))"


def test_an_import_brings_the_compiled_half_and_nothing_else():
    """A module of Python's own that takes as long as all the rest would be noticed here, on a slow machine too."""
    place = pathlib.Path(tenside.__file__).parents[1]
    command = [sys.executable, "-S", "-c", f"import sys; sys.path.insert(0, {str(place)!r}); {BROUGHT}"]
    found = subprocess.run(command, capture_output=True, text=True, check=True).stdout.split()
    assert found == ["__future__", "tenside", "tenside._native", "tenside.measure"]


def test_everything_at_the_top_is_listed_and_there():
    assert all(hasattr(tenside, name) for name in dir(tenside))
    assert set(tenside.__all__) <= set(dir(tenside))
    assert {"solve", "errors", "measure"} <= set(dir(tenside))
