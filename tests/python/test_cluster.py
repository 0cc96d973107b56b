"""Sweeps over several processes: the same bits as one machine gives, and a killed worker loses nothing."""

import os
import pathlib
import pickle
import random
import signal
import sys
import threading
import time

import numpy as np
import pytest
import tenside as td
from distributed import Client, LocalCluster
from tenside import cluster
from tenside import measure as m

PRICES = {"sci-powder": 5.2, "scs-needles": 3.8, "capb-30": 1.9, "kaolin": 1.1, "cetyl-alcohol": 4.1}
WANTED = {
    "only": [(m.water, "<", 8.5), ("cost", "<=", 4)],
    "best": (20, m.cost),
    "minimise": [m.water],
    "maximise": "line.sci-powder",
    "histograms": {m.water: (2, 9, 14)},
    "summaries": [m.cost, m.water],
}


def bar():
    brief = td.Brief("Bar", td.Catalogue.starter(), prices=PRICES, currency="EUR").split(
        {"sci-powder": 14, "scs-needles": 5, "capb-30": 1}, by="active", name="wash"
    )
    return brief.fix("cetyl-alcohol", 4).qs("kaolin").target(m.active_matter, 58).at_most(m.water, 9).minimise(m.cost)


def determined(side=300):
    """Some million rows of a determined brief."""
    axes = [("target.active-matter", 45, 60, 16), ("wash.scs-needles", 2, 8, side), ("wash.capb-30", 1, 6, side)]
    return td.Sweep(bar(), *(td.axis(name, td.linspace(low, high, count)) for name, low, high, count in axes))


def solved():
    """Rows that leave something to choose, with a raw material exchanged."""
    exchanged = td.axis("material.capb-30", ["capb-30", "coco-glucoside-50"])
    brief = td.Brief("Bar", td.Catalogue.starter(), prices={**PRICES, "coco-glucoside-50": 3}, currency="EUR").split(
        {"sci-powder": 14, "scs-needles": 5, "capb-30": 1}, by="active", name="wash"
    )
    brief = (
        brief.between("cetyl-alcohol", 3, 6)
        .qs("kaolin")
        .target(m.active_matter, 52)
        .at_most(m.water, 9)
        .minimise(m.cost)
    )
    return td.Sweep(
        brief, exchanged, td.axis("wash.capb-30", td.linspace(0.5, 8, 16)), td.axis(m.active_matter, range(44, 64))
    )


@pytest.fixture(scope="module")
def client(tmp_path_factory):
    """Three worker processes of one thread, each started anew by its nurse when it dies."""
    folder = tmp_path_factory.mktemp("workers")
    with LocalCluster(
        n_workers=3, threads_per_worker=1, processes=True, dashboard_address=None, local_directory=str(folder)
    ) as local:
        with Client(local) as client:
            yield client


@pytest.mark.parametrize("sweep", [determined(60), solved()], ids=["determined", "solved"])
def test_parts_join_in_any_order_and_through_pickles(sweep):
    whole = sweep.stream(**WANTED)
    assert 0 < whole.kept < whole.feasible < whole.rows and len(whole.best) == 20 and len(whole.front) > 1
    for count in [1, 2, 13]:
        pieces = pickle.loads(pickle.dumps(sweep.parts(count)))
        assert pieces == sweep.parts(count) and [
            row for piece in pieces for row in (piece.rows[0], piece.rows[-1] + 1)
        ][1:-1:2] == [piece.rows[-1] + 1 for piece in pieces[:-1]]
        seen = [piece.stream(**WANTED) for piece in pieces]
        random.Random(count).shuffle(seen)
        carried = pickle.loads(pickle.dumps(seen))
        assert carried == seen
        assert sweep.join(carried) == whole
    # Summaries along axes are sums of many numbers; they are the same to the last bit.
    assert [summary.mean for summary in sweep.join(carried).summaries] == [summary.mean for summary in whole.summaries]


def test_a_part_as_a_table_is_that_piece_of_the_whole():
    sweep = solved()
    whole = sweep.table()
    for piece in sweep.parts(7):
        table = piece.table()
        assert table.rows == list(piece.rows) and len(table) == len(piece)
        kept = slice(piece.rows[0], piece.rows[-1] + 1)
        for name in whole.columns:
            assert table.column(name) == whole.column(name)[kept], name
        back = pickle.loads(pickle.dumps(table))
        assert back.rows == table.rows and back.column("objective") == table.column("objective")
        front = table.pareto(minimise=[m.cost, m.water])
        again = pickle.loads(pickle.dumps(front))
        assert (again.rows, again.front_of) == (front.rows, (["cost", "water"], []))
        assert set(front.rows) <= set(piece.rows)


def test_what_does_not_cover_the_sweep_is_refused():
    sweep = determined(60)
    first, second, third = (piece.stream(**WANTED) for piece in sweep.parts(3))
    with pytest.raises(td.errors.Contradiction, match="some rows are in no part.*19200 to before 38400"):
        sweep.join([third, first])
    with pytest.raises(td.errors.Contradiction, match="rows that two parts have"):
        sweep.join([first, second, second, third])
    with pytest.raises(td.errors.Contradiction, match="in no part"):
        sweep.join([])
    other = sweep.parts(3)[1].stream(best=(1, m.cost))
    with pytest.raises(td.errors.Contradiction, match="for another query.*19200"):
        sweep.join([first, other, third])
    with pytest.raises(td.errors.Contradiction, match="another sweep"):
        determined(61).join([first, second, third])
    with pytest.raises(td.errors.OutOfRange, match="1 to 1000000 parts"):
        sweep.parts(0)
    for first, end in [(5, 5), (0, len(sweep) + 1)]:
        with pytest.raises(td.errors.OutOfRange, match="no such rows"):
            td.sweep.SweepPart(sweep, first, end)


@pytest.mark.parametrize("sweep", [determined(), solved()], ids=["determined", "solved"])
def test_streaming_over_processes_equals_one_machine(client, sweep):
    told = []
    # A callback that cannot be pickled: it stays here.
    lock = threading.Lock()

    def report(done, total):
        with lock:
            told.append((done, total, os.getpid()))

    with pytest.raises(TypeError):
        pickle.dumps(lock)
    assert cluster.stream(client, sweep, parts=10, progress=report, **WANTED) == sweep.stream(**WANTED)
    assert len(told) == 10 and told[-1] == (len(sweep), len(sweep), os.getpid()) and sorted(told) == told
    assert cluster.stream(client, sweep, **WANTED) == sweep.stream(**WANTED)


def test_files_over_processes_hold_the_table_of_one_machine(client, tmp_path):
    pyarrow = pytest.importorskip("pyarrow.parquet")
    sweep = solved()
    paths = cluster.write_parquet(client, sweep, tmp_path / "deep" / "sweep", parts=11)
    assert [path.name for path in paths] == [f"part-{index:02}.parquet" for index in range(11)]
    assert sorted(os.listdir(tmp_path / "deep")) == ["sweep"] and sorted(os.listdir(tmp_path / "deep" / "sweep")) == [
        path.name for path in paths
    ]
    import pyarrow as arrow

    found = arrow.concat_tables([pyarrow.read_table(path) for path in paths], promote_options="default")
    expected = sweep.table().to_pyarrow()
    assert found.schema.metadata == expected.schema.metadata
    for name in expected.column_names:
        one, other = found[name].combine_chunks(), expected[name].combine_chunks()
        if arrow.types.is_dictionary(one.type):
            one, other = one.cast(arrow.string()), other.cast(arrow.string())
        if arrow.types.is_floating(one.type):
            # Equal floats could still differ in their bits.
            bits = [
                np.where(column.is_valid(), column.to_numpy(zero_copy_only=False), 0.0).view(np.uint64)
                for column in (one, other)
            ]
            assert np.array_equal(*bits), name
        assert one.equals(other), name
    with pytest.raises(FileExistsError, match="is there already"):
        cluster.write_parquet(client, sweep, tmp_path / "deep" / "sweep")


class Killer:
    """Kills a worker that has work in hand, once the first part is back."""

    def __init__(self, client):
        self.client, self.pids, self.victim, self.held = client, client.run(os.getpid), None, 0

    def __call__(self, done, total):
        if self.victim is not None or done == total:
            return
        held = {address: keys for address, keys in self.client.processing().items() if keys}
        address = max(held, key=lambda address: len(held[address]))
        self.victim, self.held = self.pids[address], len(held[address])
        os.kill(self.victim, signal.SIGKILL)

    def check(self):
        """It was killed while it held parts, and what runs now are others."""
        assert self.victim is not None and self.held > 0
        deadline = time.monotonic() + 30
        while self.victim in self.client.run(os.getpid, on_error="ignore").values():
            assert time.monotonic() < deadline
            time.sleep(0.1)
        self.client.wait_for_workers(3, timeout=30)


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="the system cannot kill a process outright")
def test_a_killed_worker_loses_nothing(client, tmp_path):
    arrow = pytest.importorskip("pyarrow.parquet")
    sweep = determined(1200)
    killer = Killer(client)
    assert cluster.stream(client, sweep, parts=60, progress=killer, **WANTED) == sweep.stream(**WANTED)
    killer.check()
    sweep = determined(100)
    killer = Killer(client)
    paths = cluster.write_parquet(client, sweep, tmp_path / "sweep", parts=40, progress=killer)
    killer.check()
    assert sorted(os.listdir(tmp_path)) == ["sweep"] and sorted(os.listdir(tmp_path / "sweep")) == [
        path.name for path in paths
    ]
    whole = sweep.table()
    for name in ["line.kaolin", "objective", "conflict"]:
        assert [
            cell for path in paths for cell in arrow.read_table(path, columns=[name])[name].to_pylist()
        ] == whole.column(name)


def test_what_goes_wrong_leaves_nothing(client, tmp_path):
    sweep = solved()

    # Ctrl-C comes to the caller's process in the same place.
    for kind in [RuntimeError, KeyboardInterrupt]:

        def refuses(done, total, kind=kind):
            raise kind(f"enough at {done}")

        with pytest.raises(kind, match="enough at"):
            cluster.write_parquet(client, sweep, tmp_path / "sweep", parts=8, progress=refuses)
        with pytest.raises(kind, match="enough at"):
            cluster.stream(client, sweep, parts=8, progress=refuses, **WANTED)
    with pytest.raises(td.errors.OutOfRange, match="too large to keep"):
        cluster.write_parquet(client, determined(40), tmp_path / "sweep", parts=1, max_gib=0)
    with pytest.raises(td.errors.UnknownName, match="did you mean"):
        cluster.stream(client, sweep, best=(1, "csot"))
    with pytest.raises(TypeError, match="rows done and rows in all"):
        cluster.stream(client, sweep, progress="yes", best=(1, m.cost))
    with pytest.raises(TypeError):
        cluster.stream(client, sweep, bets=(1, m.cost))
    with pytest.raises(TypeError, match="dask.distributed client .found NoneType"):
        cluster.stream(None, sweep)
    assert list(tmp_path.iterdir()) == []
    assert cluster.stream(client, sweep, **WANTED) == sweep.stream(**WANTED)


def test_a_full_disk_of_a_worker_leaves_nothing(client, tmp_path):
    resource = pytest.importorskip("resource", reason="the system has no limits to set")

    def grown_to(most):
        resource.setrlimit(resource.RLIMIT_FSIZE, (most, resource.getrlimit(resource.RLIMIT_FSIZE)[1]))

    client.run(grown_to, 50_000)
    try:
        with pytest.raises(OSError, match="File too large"):
            cluster.write_parquet(client, determined(100), tmp_path / "sweep", parts=9)
    finally:
        client.run(grown_to, resource.getrlimit(resource.RLIMIT_FSIZE)[0])
    assert list(tmp_path.iterdir()) == []
    assert len(cluster.write_parquet(client, determined(40), tmp_path / "sweep", parts=5)) == 5


def test_a_folder_that_workers_do_not_find_and_another_version_are_named(client, tmp_path, monkeypatch):
    sweep = solved()
    gone = pathlib.Path.mkdir
    monkeypatch.setattr(
        pathlib.Path, "mkdir", lambda self, **keywords: None if self.name.endswith(".part") else gone(self, **keywords)
    )
    with pytest.raises(FileNotFoundError, match="all workers reach"):
        cluster.write_parquet(client, sweep, tmp_path / "sweep")
    monkeypatch.setattr(cluster, "__version__", "0.0.0")
    with pytest.raises(RuntimeError, match="and the sweep comes from 0.0.0; install the same on both"):
        cluster.stream(client, sweep)


def test_a_missing_extra_is_said_in_a_sentence(monkeypatch):
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(ImportError, match="install tenside with the extra `cluster`"):
        cluster.stream(None, solved())
