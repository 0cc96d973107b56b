"""Files of documents: whole or as they were, under any name, and read in the encoding they are in or refused."""

import codecs
import os
import pathlib
import signal
import stat
import subprocess
import sys
import textwrap
import time

import pytest
import tenside as td
from tenside import atomic
from tenside import measure as m

CATALOGUE = td.Catalogue.starter()
KAOLIN = td.Catalogue().with_material(CATALOGUE.material("kaolin"))
BRIEF = td.Brief("Palmölseife", CATALOGUE).qs("kaolin")
DOCUMENTS = [
    (BRIEF, td.read_brief),
    (KAOLIN, td.read_catalogue),
    (td.Draft("Half-written", [("kaolin", "10-15 %"), ("Rosemary oil", None)]), td.read_draft),
    (td.Formula("Clay", {"kaolin": 100}, CATALOGUE), td.read_formula),
    (td.review.RuleList.starter()[0], td.read_rules),
]
UNIX = pytest.mark.skipif(os.name != "posix", reason="the system has no such modes or names")


def names(folder):
    return sorted(os.listdir(folder))


FULL_DISK = """
    import resource, sys
    import tenside as td

    path = sys.argv[1]
    catalogue = td.Catalogue.starter()
    # No file grows past this, as on a disk with so much left.
    resource.setrlimit(resource.RLIMIT_FSIZE, (100_000, 100_000))
    try:
        td.write(catalogue, path)
    except OSError as error:
        print("refused:", error)
    else:
        print("written")
"""


@UNIX
@pytest.mark.parametrize("suffix", ["toml", "json"])
def test_a_full_disk_leaves_the_old_document(tmp_path, suffix):
    path = tmp_path / f"catalogue.{suffix}"
    command = [sys.executable, "-c", textwrap.dedent(FULL_DISK), str(path)]
    first = subprocess.run(command, capture_output=True, text=True, check=True, timeout=120)
    assert first.stdout.startswith("refused:"), first.stdout + first.stderr
    assert names(tmp_path) == []
    td.write(KAOLIN, path)
    second = subprocess.run(command, capture_output=True, text=True, check=True, timeout=120)
    assert second.stdout.startswith("refused:"), second.stdout + second.stderr
    assert names(tmp_path) == [path.name] and td.read_catalogue(path) == KAOLIN


WRITES = """
    import sys
    import tenside as td

    small = td.Catalogue().with_material(td.Catalogue.starter().material("kaolin"))
    large = td.Catalogue.starter()
    print("ready", flush=True)
    while True:
        td.write(small, sys.argv[1])
        td.write(large, sys.argv[1])
"""


@UNIX
def test_ctrl_c_leaves_one_of_the_two_documents_and_nothing_else(tmp_path):
    path = tmp_path / "catalogue.json"
    for pause in [0.0, 0.05, 0.11, 0.18, 0.26, 0.35]:
        child = subprocess.Popen(
            [sys.executable, "-c", textwrap.dedent(WRITES), str(path)],
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        assert child.stdout.readline() == "ready\n"
        time.sleep(pause)
        child.send_signal(signal.SIGINT)
        errors = child.communicate(timeout=60)[1]
        assert "KeyboardInterrupt" in errors and child.returncode != 0
        assert set(names(tmp_path)) <= {path.name}
        if path.exists():
            assert td.read_catalogue(path) in (KAOLIN, CATALOGUE)


@pytest.mark.parametrize(
    "stopped", [OSError(28, "No space left on device"), KeyboardInterrupt("No space left, says a hand")]
)
@pytest.mark.parametrize("moment", ["fsync", "replace"])
def test_a_write_that_is_stopped_leaves_what_was_there(tmp_path, monkeypatch, stopped, moment):
    path = tmp_path / "clay.toml"
    td.write(KAOLIN, path)

    def stop(*_):
        raise stopped

    monkeypatch.setattr(os, moment, stop)
    with pytest.raises(type(stopped), match="No space left"):
        td.write(CATALOGUE, path)
    monkeypatch.undo()
    assert names(tmp_path) == [path.name] and td.read_catalogue(path) == KAOLIN


@pytest.fixture(scope="module")
def table():
    brief = td.Brief("Wash", CATALOGUE).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
    return brief.target(m.active_matter, 50).sweep(td.axis("wash.capb-30", [1, 2]))


def writers(table):
    return [
        ("x.toml", lambda path: td.write(KAOLIN, path)),
        ("x.csv", table.write_csv),
        ("x.parquet", table.write_parquet),
    ]


@UNIX
def test_what_is_written_over_keeps_its_mode(tmp_path, table):
    pytest.importorskip("pyarrow")
    for name, write in writers(table):
        path = tmp_path / name
        for mode in [0o600, 0o640, 0o664, 0o755]:
            path.write_bytes(b"before")
            path.chmod(mode)
            write(path)
            assert stat.S_IMODE(path.stat().st_mode) == mode and path.read_bytes() != b"before"
        path.unlink()
        plain = tmp_path / "plain"
        plain.write_bytes(b"")
        write(path)
        assert path.stat().st_mode == plain.stat().st_mode


@UNIX
def test_a_file_that_may_not_be_written_is_not_replaced(tmp_path, monkeypatch, table):
    pytest.importorskip("pyarrow")
    # The tests may be run by one who may write everything.
    monkeypatch.setattr(os, "access", lambda path, mode: False)
    for name, write in writers(table):
        path = tmp_path / name
        path.write_bytes(b"before")
        with pytest.raises(PermissionError, match="may not be written"):
            write(path)
        assert path.read_bytes() == b"before"
    assert names(tmp_path) == ["x.csv", "x.parquet", "x.toml"]


@UNIX
def test_links_stay_links_and_no_device_is_replaced(tmp_path):
    real, link, dangling = tmp_path / "real.toml", tmp_path / "link.toml", tmp_path / "dangling.toml"
    td.write(KAOLIN, real)
    link.symlink_to(real)
    td.write(CATALOGUE, link)
    assert link.is_symlink() and td.read_catalogue(real) == CATALOGUE
    dangling.symlink_to(tmp_path / "made.toml")
    td.write(KAOLIN, dangling)
    assert dangling.is_symlink() and td.read_catalogue(tmp_path / "made.toml") == KAOLIN
    loop, pipe = tmp_path / "loop.toml", tmp_path / "pipe.toml"
    loop.symlink_to(loop)
    os.mkfifo(pipe)
    for place in [loop, pipe, tmp_path / "nowhere" / "x.toml"]:
        with pytest.raises(OSError):
            td.write(KAOLIN, place)
    assert pipe.is_fifo() and names(tmp_path) == [
        "dangling.toml",
        "link.toml",
        "loop.toml",
        "made.toml",
        "pipe.toml",
        "real.toml",
    ]


@UNIX
@pytest.mark.parametrize("name", [b"caf\xe9", "sch\u00f6n".encode(), b"x" * 245])
def test_every_name_of_a_file_will_do(tmp_path, table, name):
    pytest.importorskip("pyarrow")
    folder = os.fsencode(tmp_path) + b"/" + name
    os.mkdir(folder)
    for document, read in DOCUMENTS:
        for suffix in [b".toml", b".json"]:
            path = folder + b"/" + name + suffix
            for given in [path, os.fsdecode(path), pathlib.Path(os.fsdecode(path))]:
                td.write(document, given)
                assert read(given) == document
                os.unlink(path)
    sheets = [folder + b"/" + name + b".csv", folder + b"/x.csv", folder + b"/y.csv"]
    for path, text in zip(sheets, KAOLIN.to_csv()):
        with open(path, "wb") as file:
            file.write(text.encode())
    assert td.read_catalogue_csv(*sheets) == KAOLIN
    for path in sheets:
        os.unlink(path)
    for write in [table.write_csv, table.write_parquet]:
        for given in [sheets[0], os.fsdecode(sheets[0]), pathlib.Path(os.fsdecode(sheets[0]))]:
            write(given)
            assert os.listdir(folder) == [name + b".csv"]
            os.unlink(sheets[0])
    with pytest.raises(td.errors.Unsupported, match="unknown kind of file") as caught:
        td.write(KAOLIN, folder + b"/" + name + b".txt")
    str(caught.value).encode()


TEXT = BRIEF.to_toml()


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16-le", "utf-16-be", "utf-32-le", "utf-32-be"])
def test_a_byte_order_mark_decides(tmp_path, encoding):
    path = tmp_path / "x.toml"
    path.write_bytes("\ufeff".encode(encoding) + TEXT.encode(encoding))
    assert td.read_brief(path) == BRIEF
    whole = path.read_bytes()
    path.write_bytes(whole[:-1] + b"\xff" if encoding == "utf-8" else whole[:-1])
    with pytest.raises(td.errors.SyntaxFault, match="as its byte order mark says"):
        td.read_brief(path)


@pytest.mark.parametrize("suffix", ["toml", "json"])
@pytest.mark.parametrize(
    ("encoding", "found"),
    [
        ("cp1252", "'Palmölseife' in Windows-1252"),
        ("latin-1", "cp1252"),
        ("utf-16-le", "UTF-16 without"),
        ("utf-16-be", "UTF-16 without"),
    ],
)
def test_another_encoding_is_refused_with_file_place_and_way_out(tmp_path, suffix, encoding, found):
    text = TEXT if suffix == "toml" else BRIEF.to_json()
    path = tmp_path / f"x.{suffix}"
    path.write_bytes(text.encode(encoding))
    for read in [td.read_brief, td.read_catalogue, td.read_draft, td.read_formula, td.read_rules]:
        with pytest.raises(td.errors.SyntaxFault) as caught:
            read(path)
        fault = caught.value.faults[0]
        assert (
            fault.place == str(path)
            and found in fault.value
            and "UTF-8" in fault.remedy
            and str(path) in str(caught.value)
        )
        if encoding in ("cp1252", "latin-1"):
            line = next(line for line in text.splitlines() if "ö" in line)
            assert fault.position == (text.splitlines().index(line) + 1, line.index("ö") + 1)


def test_a_sheet_in_another_encoding_is_refused_as_well(tmp_path):
    materials = "id;name;form;source\r\nhouse-glycerin;Glyzerin für Seife;liquid;invented\r\n"
    constituents = "material;constituent;typical\r\nhouse-glycerin;GLYCERIN;99,5\r\nhouse-glycerin;WATER;0,5\r\n"
    paths = [tmp_path / "materials.csv", tmp_path / "constituents.csv"]
    for encoding, mark in [("utf-8", b""), ("utf-8", codecs.BOM_UTF8), ("utf-16-le", codecs.BOM_UTF16_LE)]:
        for path, text in zip(paths, [materials, constituents]):
            path.write_bytes(mark + text.encode(encoding))
        assert td.read_catalogue_csv(*paths, decimal_comma=True).material("house-glycerin").name == "Glyzerin für Seife"
    paths[0].write_bytes(materials.encode("cp1252"))
    with pytest.raises(
        td.errors.SyntaxFault,
        match="materials.csv, line 2, column 26: .*byte 0xfc, which reads 'für' in Windows-1252 .*\"CSV UTF-8\"",
    ):
        td.read_catalogue_csv(*paths, decimal_comma=True)


def test_bytes_that_are_no_text_are_refused(tmp_path):
    path = tmp_path / "x.toml"
    for content in [
        b"\xff",
        b"a = '\x81'",
        b"\xc3",
        os.urandom(4096),
        bytes(range(256)) * 9,
        b"\xff\xfe\x00",
        b"\0" * 50,
    ]:
        path.write_bytes(content)
        with pytest.raises(td.TensideError):
            td.read_catalogue(path)


def test_a_path_is_shown_so_that_it_can_be_printed():
    assert atomic.shown(b"caf\xe9.toml") == "caf\\xe9.toml" and atomic.shown("sch\u00f6n") == "schön"
