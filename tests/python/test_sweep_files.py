"""Files of sweeps on a disk that is full, and in places where no file can be: nothing half-made is left."""

import os
import subprocess
import sys
import textwrap

import pytest
import tenside as td
from tenside import measure as m

resource = pytest.importorskip("resource", reason="the system has no limits to set")

SCRIPT = """
    import pathlib, resource, sys
    import tenside as td
    from tenside import measure as m

    method, path, library = sys.argv[1:]
    if library == "polars":
        for name in ["pyarrow", "pyarrow.parquet", "pyarrow.csv"]:
            sys.modules[name] = None
    brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
    table = brief.target(m.active_matter, 50).sweep(td.axis("wash.capb-30", td.linspace(1, 9, 20_000)), measures=[m.water, m.solids])
    # No file grows past this, as on a disk with so much left.
    resource.setrlimit(resource.RLIMIT_FSIZE, (100_000, 100_000))
    try:
        getattr(table, method)(path)
    except OSError as error:
        print("refused:", type(error).__mro__[-3].__name__, error)
    else:
        print("written", pathlib.Path(path).stat().st_size)
"""


@pytest.mark.parametrize("library", ["pyarrow", "polars"])
@pytest.mark.parametrize("method", ["write_parquet", "write_csv"])
def test_a_full_disk_leaves_what_was_there(tmp_path, method, library):
    path = tmp_path / "sweep.file"
    command = [sys.executable, "-c", textwrap.dedent(SCRIPT), method, str(path), library]
    first = subprocess.run(command, capture_output=True, text=True, check=True, timeout=120)
    assert first.stdout.startswith("refused:"), first.stdout + first.stderr
    assert list(tmp_path.iterdir()) == []
    path.write_bytes(b"what was there")
    second = subprocess.run(command, capture_output=True, text=True, check=True, timeout=120)
    assert second.stdout.startswith("refused:"), second.stdout + second.stderr
    assert [file.name for file in tmp_path.iterdir()] == [path.name] and path.read_bytes() == b"what was there"


@pytest.fixture(scope="module")
def table():
    brief = (
        td.Brief("Wash", td.Catalogue.starter())
        .split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash")
        .qs("kaolin")
    )
    return brief.target(m.active_matter, 50).sweep(td.axis("wash.capb-30", [1, 2]))


def test_a_device_and_a_folder_are_no_files(table, tmp_path):
    # Its own name, since a device that was replaced would be missing afterwards.
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    for place in [pipe, tmp_path]:
        with pytest.raises(OSError, match="no file that could be written anew"):
            table.write_csv(place)
    assert pipe.is_fifo() and [file.name for file in tmp_path.iterdir()] == ["pipe"]
    with pytest.raises(OSError):
        table.write_csv(tmp_path / "nowhere" / "sweep.csv")


def test_a_link_stays_a_link(table, tmp_path):
    real, link = tmp_path / "real.csv", tmp_path / "link.csv"
    link.symlink_to(real)
    table.write_csv(link)
    assert link.is_symlink() and real.read_text().startswith('"axis.wash.capb-30"')
