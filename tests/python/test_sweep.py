"""Sweeps: axes and columns, every determined point against numpy, rows against solving them alone, hand-over without a copy."""

import copy
import pickle
import random
import signal
import sys
import threading
import time
from fractions import Fraction

import numpy as np
import pytest
import tenside as td
from tenside import measure as m

PRICES = {"sci-powder": 5.2, "scs-needles": 3.8, "capb-30": 1.9, "kaolin": 1.1, "cetyl-alcohol": 4.1, "panthenol": 23}
WASH = {"sci-powder": 14, "scs-needles": 5, "capb-30": 1}


def bar():
    """A bar that its equations determine."""
    brief = td.Brief("Bar", td.Catalogue.starter(), prices=PRICES, currency="EUR").split(WASH, by="active", name="wash")
    brief = brief.fix("panthenol", 1.5).fix("cetyl-alcohol", 4).qs("kaolin")
    return brief.target(m.active_matter, 58).at_most(m.water, 9).minimise(m.cost)


def free_bar():
    """The same with something left to choose."""
    return bar().change_line("cetyl-alcohol", low=3, high=6)


def typical(material, measure):
    """What a raw material alone has of a measure."""
    prices = {"prices": PRICES} if measure == m.cost else {}
    return td.Formula(material, {material: 100}, td.Catalogue.starter(), **prices).measure(measure).value.typical


def test_the_sketch_of_the_design_works():
    table = bar().sweep(td.axis("wash.capb-30", np.linspace(0.5, 4, 15)), td.axis(m.active_matter, range(50, 63)))
    assert len(table) == 15 * 13
    front = table.pareto(minimise=[m.cost, m.water])
    assert 0 < len(front) < len(table)
    assert front.answer(0).verify()
    frame = table.to_polars()
    assert frame.columns == table.columns
    assert frame["axis.wash.capb-30"][13] == 0.75


def test_every_determined_point_against_numpy():
    needles, betaine, targets = np.linspace(2, 8, 61), np.linspace(1, 6, 101), np.linspace(45, 60, 16)
    table = bar().sweep(
        td.axis("target.active-matter", targets), td.axis("wash.scs-needles", needles), td.axis("wash.capb-30", betaine)
    )
    frame = table.to_polars()
    assert len(frame) == 61 * 101 * 16
    target, second, third = (values.ravel() for values in np.meshgrid(targets, needles, betaine, indexing="ij"))
    parts = {"sci-powder": np.full_like(second, 14.0), "scs-needles": second, "capb-30": third}
    others = {"panthenol": 1.5, "cetyl-alcohol": 4.0}
    percents = {
        line: part / sum(parts.values()) * target / float(typical(line, m.active_matter)) * 100
        for line, part in parts.items()
    }
    percents |= {line: np.full_like(second, percent) for line, percent in others.items()}
    percents["kaolin"] = 100 - sum(percents.values())
    water = sum(percent * float(typical(line, m.water)) / 100 for line, percent in percents.items())
    cost = sum(percent * PRICES[line] / 100 for line, percent in percents.items())
    feasible = (percents["kaolin"] >= -1e-12) & (water <= 9 + 1e-12)
    assert 5_000 < feasible.sum() < len(frame) - 5_000
    assert np.array_equal(frame["feasible"].to_numpy(), feasible)
    for line, percent in percents.items():
        assert np.abs(frame[f"line.{line}"].to_numpy()[feasible] - percent[feasible]).max() < 1e-11
        assert frame[f"line.{line}"].null_count() == (~feasible).sum()
    assert np.abs(frame["water"].to_numpy()[feasible] - water[feasible]).max() < 1e-11
    assert np.abs(frame["cost"].to_numpy()[feasible] - cost[feasible]).max() < 1e-11
    assert np.array_equal(frame["cost"].to_numpy()[feasible], frame["objective"].to_numpy()[feasible])


@pytest.mark.parametrize("brief", [bar, free_bar])
def test_rows_agree_with_solving_them_alone(brief):
    axes = [
        td.axis("wash.capb-30", np.linspace(0.5, 8, 31)),
        td.axis("price.kaolin", [1, 2.5]),
        td.axis(m.active_matter, range(50, 70)),
    ]
    table = brief().sweep(*axes)
    rows = random.Random(4).sample(range(len(table)), 60)
    seen = set()
    for row in rows:
        outcome, cells = table.outcome(row), table.row(row)
        seen.add(cells["feasible"])
        assert cells["feasible"] == isinstance(outcome, td.solve.Answer)
        if not cells["feasible"]:
            assert cells["line.kaolin"] is None and cells["binding"] is None
            assert table.read_conflict(cells["conflict"])
            with pytest.raises(td.errors.Unanswerable):
                table.answer(row)
            continue
        assert cells["conflict"] is None
        for line, exact in outcome.exact.items():
            assert cells[f"line.{line}"] == float(exact)
        for line, percent in outcome.formula.percentages.items():
            assert abs(cells[f"line.{line}"] - float(percent)) <= 4e-4
        assert cells["objective"] == float(outcome.objective)
    assert seen == {True, False}


def test_what_is_swept_keeps_the_name_that_it_was_given():
    brief = bar().require(m.water, at_most=9, name="cap")
    table = brief.sweep(td.axis("at-most.cap", [0.5, 9]))
    assert "cap (at most the value swept)" in table.read_conflict(table.column("conflict")[0])


def test_codes_are_read_in_words():
    table = bar().sweep(td.axis("at-most.water", [0.5, 9]))
    assert table.column("feasible") == [False, True]
    named = table.read_conflict(table.column("conflict")[0])
    assert len(named) == len(table.outcome(0).members) and "water at most the value swept" in named
    edge = free_bar().sweep(td.axis("wash.capb-30", [1]))
    assert edge.read_binding(edge.column("binding")[0]) == ["cetyl-alcohol at its lowest"]


def test_raw_materials_moisture_shares_and_lattices():
    catalogue = td.Catalogue.starter()
    plain = td.Brief("Bar", catalogue).split(WASH, by="active", name="wash").qs("kaolin").target(m.active_matter, 40)
    brief = plain.at_least(m.active_matter, 42, basis=td.finished(moisture=3))
    table = brief.sweep(
        td.axis("material.capb-30", ["capb-30", catalogue.material("coco-glucoside-50")]),
        td.axis("moisture", [1, 2.5]),
        td.lattice("wash", 20),
    )
    assert len(table) == 2 * 2 * 231
    assert (
        table.column("axis.material.capb-30")[0] == "capb-30"
        and table.column("axis.material.capb-30")[-1] == "coco-glucoside-50"
    )
    shares = [table.column(f"axis.share.wash.{line}") for line in WASH]
    assert all(sum(point) == pytest.approx(100) for point in zip(*shares))
    polars = table.to_polars()
    assert polars["axis.material.capb-30"].cast(str).n_unique() == 2
    for row in random.Random(2).sample(range(len(table)), 30):
        assert isinstance(table.outcome(row), td.solve.Answer) == table.row(row)["feasible"]
    by_share = plain.sweep(td.axis("share.wash.capb-30", [0, 5, 100]))
    assert by_share.row(1)["line.capb-30"] == pytest.approx(
        0.05 * 40 / float(typical("capb-30", m.active_matter)) * 100, abs=1e-4
    )


def test_what_a_table_says_of_itself():
    pyarrow = pytest.importorskip("pyarrow")
    table = bar().sweep(
        td.axis("wash.capb-30", [1, 2]), measures=[m.solids, (m.active_matter, td.finished(moisture=2))]
    )
    schema = pyarrow.table(table).schema
    assert schema.field("line.kaolin").metadata == {b"unit": b"% w/w"}
    assert schema.field("cost").metadata == {b"unit": b"EUR per kg"}
    assert not schema.field("axis.wash.capb-30").nullable and schema.field("line.kaolin").nullable
    assert b"to the nearest double" in schema.metadata[b"tenside.exactness"]
    assert "active matter, finished at 2 % residual moisture" in table.columns
    assert table.sweep.units[table.columns.index("solids")] == "%"
    assert pyarrow.schema(table) == schema
    assert repr(table) == '<SweepTable of "Bar": 2 rows, 16 columns>'


@pytest.fixture(scope="module")
def all_answered():
    """A table without a gap, of which every column of numbers is there."""
    table = (
        bar()
        .drop_requirement("water at most 9 %")
        .sweep(td.axis("wash.scs-needles", td.linspace(1, 3, 100)), td.axis("wash.capb-30", td.linspace(1, 3, 100)))
    )
    assert all(table.column("feasible"))
    return table


def test_no_library_copies(all_answered):
    duckdb, pandas = pytest.importorskip("duckdb"), pytest.importorskip("pandas")
    polars, pyarrow = pytest.importorskip("polars"), pytest.importorskip("pyarrow")
    arrow = all_answered.to_pyarrow()
    assert [len(column.chunks) for column in arrow.columns] == [1] * arrow.num_columns
    # Asked twice, the same memory: it is the table's own.
    again = pyarrow.table(all_answered)
    frame, pandas_frame = all_answered.to_polars(), all_answered.to_pandas()
    connection = duckdb.connect()
    for name in ["axis.wash.capb-30", "line.kaolin", "cost"]:
        chunk = arrow[name].chunk(0)
        address = chunk.buffers()[1].address
        assert again[name].chunk(0).buffers()[1].address == address
        assert frame[name].to_numpy(allow_copy=False).__array_interface__["data"][0] == address
        assert chunk.to_numpy(zero_copy_only=True).__array_interface__["data"][0] == address
        assert pandas_frame[name].array.__arrow_array__().chunk(0).buffers()[1].address == address
    # DuckDB scans the stream that it is given; it hands on no addresses of its own, but finds every value in the
    # table's memory.
    found = connection.sql('select count(*), sum("line.kaolin"), max(cost) from all_answered').fetchall()[0]
    assert found[0] == len(all_answered)
    assert found[1] == pytest.approx(sum(all_answered.column("line.kaolin")))
    assert found[2] == max(all_answered.column(m.cost))
    assert isinstance(pandas_frame["cost"].dtype, pandas.ArrowDtype)
    assert isinstance(frame, polars.DataFrame)


def test_the_numbers_outlive_the_table():
    polars = pytest.importorskip("polars")
    frame = polars.DataFrame(bar().sweep(td.axis("wash.capb-30", [1, 2])))
    assert frame["line.capb-30"].to_list() == bar().sweep(td.axis("wash.capb-30", [1, 2])).column("line.capb-30")


@pytest.mark.parametrize(
    "stopped",
    [OSError(28, "No space left on device"), KeyboardInterrupt("No space left, says the hand on the keyboard")],
)
@pytest.mark.parametrize(("method", "suffix"), [("write_parquet", "parquet"), ("write_csv", "csv")])
def test_files_are_whole_or_not_there(all_answered, tmp_path, monkeypatch, method, suffix, stopped):
    polars = pytest.importorskip("polars")
    path = tmp_path / f"sweep.{suffix}"
    getattr(all_answered, method)(path)
    back = polars.read_parquet(path) if suffix == "parquet" else polars.read_csv(path, infer_schema_length=None)
    assert back["line.kaolin"].to_list() == all_answered.column("line.kaolin")
    before = path.read_bytes()

    import pyarrow.csv
    import pyarrow.parquet

    def full(table, file):
        file.write(b"half")
        raise stopped

    monkeypatch.setattr(pyarrow.parquet, "write_table", full)
    monkeypatch.setattr(pyarrow.csv, "write_csv", full)
    with pytest.raises(type(stopped), match="No space left"):
        getattr(all_answered, method)(path)
    assert path.read_bytes() == before
    assert [file.name for file in tmp_path.iterdir()] == [path.name]


def test_libraries_that_are_missing_are_named(all_answered, tmp_path, monkeypatch):
    for library in ["polars", "pyarrow", "pyarrow.parquet", "pyarrow.csv", "pandas"]:
        monkeypatch.setitem(sys.modules, library, None)
    with pytest.raises(ImportError, match="a polars data frame needs polars, which is not installed"):
        all_answered.to_polars()
    with pytest.raises(ImportError, match="neither is installed"):
        all_answered.write_parquet(tmp_path / "sweep.parquet")
    assert list(tmp_path.iterdir()) == []


def test_columns_are_named_or_measures():
    parts = td.axis("wash.capb-30", [1, 2])
    table = bar().sweep(parts, columns=[m.solids, "line.kaolin", m.cost])
    assert table.columns == ["solids", "line.kaolin", "cost"]
    whole = bar().sweep(parts, measures=m.solids)
    assert all(list(table.column(name)) == list(whole.column(name)) for name in table.columns)
    assert bar().sweep(parts, columns=m.cost).columns == ["cost"]
    sweep = td.Sweep(bar(), parts, columns=[m.solids])
    assert pickle.loads(pickle.dumps(sweep)) == sweep
    with pytest.raises(td.errors.UnknownName, match="unknown column"):
        bar().sweep(parts, columns=["line.talc"])


def test_streams_see_what_tables_hold():
    polars = pytest.importorskip("polars")
    axes = [td.axis("target.active-matter", td.linspace(45, 60, 31)), td.axis("wash.capb-30", td.linspace(1, 6, 101))]
    frame = bar().sweep(*axes).to_polars().with_row_index("row")
    sweep = td.Sweep(bar(), *axes)
    seen = sweep.stream(
        only=[(m.water, "<", 8.5), ("cost", "<=", 4)],
        best=(10, m.cost),
        minimise=[m.water],
        maximise=["line.sci-powder"],
        histograms={m.water: (2, 9, 7)},
        summaries=[m.cost],
    )
    kept = frame.filter(polars.col("feasible") & (polars.col("water") < 8.5) & (polars.col("cost") <= 4))
    assert (seen.rows, seen.feasible, seen.kept) == (len(frame), frame["feasible"].sum(), len(kept))
    assert 0 < seen.kept < seen.feasible < seen.rows
    assert [best.row for best in seen.best] == kept.sort("cost", "row")["row"].to_list()[:10]
    assert seen.best[0].values["cost"] == kept["cost"].min()
    assert sum(seen.histograms[0].counts) + seen.histograms[0].below + seen.histograms[0].above == seen.kept
    # Front by brute force.
    water, powder = kept["water"].to_numpy(), kept["line.sci-powder"].to_numpy()
    beaten = (
        (water[:, None] >= water)
        & (powder[:, None] <= powder)
        & ((water[:, None] > water) | (powder[:, None] < powder))
    ).any(axis=1)
    assert {front.row for front in seen.front} <= set(kept["row"].to_numpy()[~beaten].tolist())
    assert {(front.values["water"], front.values["line.sci-powder"]) for front in seen.front} == set(
        zip(water[~beaten].tolist(), powder[~beaten].tolist())
    )
    along = [summary for summary in seen.summaries if summary.axis == "axis.target.active-matter"]
    assert len(along) == 31 and sum(summary.rows for summary in along) == seen.kept
    picked = sweep.pick([front.row for front in seen.front])
    assert picked.column("water") == [front.values["water"] for front in seen.front]


def test_bad_input_is_named_with_the_way_out():
    brief = bar()
    cases = [
        (td.errors.UnknownName, lambda: brief.sweep(td.axis("wash.capb", [1])), 'did you mean "wash.capb-30"'),
        (td.errors.Missing, lambda: brief.sweep(td.axis("wash.capb-30", [])), "without values"),
        (td.errors.Missing, lambda: brief.sweep(td.axis(m.active_matter, range(62, 50))), r"range\(50, 63\)"),
        (td.errors.NotANumber, lambda: td.axis("wash.capb-30", [float("nan")]), "finite"),
        (td.errors.NotANumber, lambda: td.linspace(1, float("nan"), 5), "finite"),
        (td.errors.NotANumber, lambda: td.geomspace(1, float("inf"), 5), "finite"),
        (td.errors.Contradiction, lambda: td.linspace(4, 1, 5), "lower end first"),
        (td.errors.Contradiction, lambda: td.geomspace(4, 1, 5), "lower end first"),
        (td.errors.OutOfRange, lambda: brief.sweep(td.lattice("wash", 0)), "steps"),
        (
            td.errors.Duplicate,
            lambda: brief.sweep(td.axis("wash.capb-30", [1]), td.axis("capb-30", [2])),
            "two axes vary the same thing",
        ),
        (td.errors.AmbiguousName, lambda: brief.fix("water", 1).sweep(td.axis("water", [1])), '"fix.water" or "at-most.water'),
        (td.errors.UnknownName, lambda: brief.sweep(td.axis(m.solids, [1])), "no requirement limits the measure"),
        (td.errors.Unsupported, lambda: brief.sweep(td.axis("wash", [1])), "lattice"),
        (td.errors.Unsupported, lambda: brief.sweep(td.lattice("moisture", 5)), "only a split"),
        (td.errors.UnknownName, lambda: brief.sweep(columns=["cost", "csot"]), "did you mean"),
        (td.errors.OutOfRange, lambda: brief.sweep().row(1), "no such row"),
        (td.errors.Missing, lambda: brief.sweep().pareto(), "minimise, maximise or both"),
        (td.errors.UnknownName, lambda: td.Sweep(brief).stream(only=[("cost", "=", 1)]), "<, <=, >, >="),
        (td.errors.NotANumber, lambda: td.Sweep(brief).stream(only=[("cost", "<", float("nan"))]), "finite"),
        (td.errors.OutOfRange, lambda: td.Sweep(brief).stream(histograms={"cost": (0, float("nan"), 5)}), "ascending order"),
        (td.errors.OutOfRange, lambda: td.Sweep(brief).stream(histograms={"cost": (5, 1, 5)}), "ascending order"),
        (td.errors.OutOfRange, lambda: td.Sweep(brief).pick([1]), "no such row"),
    ]
    for kind, call, says in cases:
        with pytest.raises(kind, match=says):
            call()
    with pytest.raises(TypeError):
        brief.sweep("wash.capb-30")


def test_axes_of_a_single_value_are_the_brief_with_that_value():
    table = bar().sweep(td.axis("wash.capb-30", [0.75]), td.axis(m.active_matter, [50]), td.axis("price.kaolin", [1.5]))
    assert len(table) == 1
    alone = table.brief(0)
    assert alone.splits[0].parts[2][1] == Fraction(3, 4)
    assert (
        table.row(0)["cost"] == alone.sweep().row(0)["cost"] == pytest.approx(float(alone.solve().objective), abs=1e-3)
    )
    assert td.linspace(3, 3, 1) == [3]


def test_a_table_too_large_is_refused_with_its_size():
    many = [f"{1 + index / 10_000:.4f}" for index in range(10_000)]
    sweep = td.Sweep(bar(), *(td.axis(f"wash.{line}", many) for line in WASH))
    assert len(sweep) == 10**12
    with pytest.raises(td.errors.OutOfRange, match=r"1000000000000 rows.*GiB.*stream"):
        sweep.table()


def test_an_axis_along_which_nothing_is_possible():
    table = bar().sweep(td.axis("at-most.water", [0.1, 0.2, 0.3]))
    assert not any(table.column("feasible"))
    assert len(table.pareto(minimise="cost")) == 0
    assert table.to_polars()["line.kaolin"].null_count() == 3


def test_values_are_kept_copied_and_pickled():
    axes = [
        td.axis("wash.capb-30", [0.5, 1]),
        td.axis(m.active_matter, [50, 51]),
        td.lattice("wash", 4),
        td.axis("material.capb-30", ["capb-30"]),
    ]
    assert pickle.loads(pickle.dumps(axes)) == axes
    assert eval(repr(axes[0]), vars(td._native)) == axes[0] and eval(repr(axes[2]), vars(td._native)) == axes[2]
    sweep = td.Sweep(
        bar(),
        *axes[:2],
        measures=[m.solids, (m.water, td.finished(moisture=1))],
        columns=["solids", "line.kaolin", "feasible"],
    )
    assert pickle.loads(pickle.dumps(sweep)) == sweep == copy.deepcopy(sweep)
    table = sweep.table()
    for kept in [table, table.pareto(minimise="line.kaolin")]:
        back = pickle.loads(pickle.dumps(kept))
        assert back.rows == kept.rows and all(back.column(name) == kept.column(name) for name in kept.columns)


def large():
    """A sweep that takes long: what is to hold for every composition has a worst one for each value, so every point is solved by itself."""
    bar = free_bar().at_most(m.water, 30, for_every_composition=True, name="dry")
    return td.Sweep(
        bar, td.axis("wash.capb-30", range(1, 1001)), td.axis("at-most.dry", [20 + step / 100 for step in range(1000)])
    )


def huge():
    """A sweep that takes long because it has more than ten thousand million points; few are solved."""
    return td.Sweep(
        free_bar(), td.axis("wash.capb-30", range(1, 150_001)), td.axis("wash.scs-needles", range(1, 150_001))
    )


@pytest.mark.alone
def test_progress_is_told_and_may_be_refused():
    told = []
    sweep = td.Sweep(bar(), td.axis("wash.capb-30", range(1, 200)))
    assert len(sweep.table(progress=lambda done, total: told.append((done, total)))) == 199
    assert told[-1] == (199, 199)
    assert len(sweep.table(progress=True)) == 199

    def refuses(done, total):
        raise RuntimeError(f"enough at {done} of {total}")

    start = time.perf_counter()
    with pytest.raises(RuntimeError, match="enough at"):
        large().table(progress=refuses)
    assert time.perf_counter() - start < 2


@pytest.mark.alone
@pytest.mark.parametrize(
    "work",
    [
        lambda: large().table(),
        lambda: large().stream(best=(1, "objective")),
        lambda: huge().stream(best=(1, "objective")),
        lambda: free_bar().samples(10_000_000, seed=1),
    ],
)
def test_an_interrupt_stops_the_work_soon(work):
    pressed = []

    def press():
        time.sleep(0.5)
        pressed.append(time.perf_counter())
        signal.raise_signal(signal.SIGINT)

    thread = threading.Thread(target=press)
    thread.start()
    with pytest.raises(KeyboardInterrupt):
        work()
    late = time.perf_counter() - pressed[0]
    thread.join()
    # A tenth of a second is the aim; a busy machine gets some more.
    assert late < 0.5, late


@pytest.mark.alone
def test_other_threads_run_meanwhile():
    counted = []
    stop = threading.Event()

    def count():
        while not stop.is_set():
            counted.append(time.perf_counter())
            time.sleep(0.001)

    thread = threading.Thread(target=count)
    thread.start()
    start = time.perf_counter()
    free_bar().samples(100_000, seed=3)
    end = time.perf_counter()
    stop.set()
    thread.join()
    assert sum(start < moment < end for moment in counted) > 5


def test_samples_and_corners():
    brief = td.Brief("Powders", td.Catalogue.starter()).between("kaolin", 0, 50).free("corn-starch").qs("sci-powder")
    samples = brief.samples(20_000, seed=8)
    lines = np.array([samples.lines[line] for line in ["kaolin", "corn-starch", "sci-powder"]])
    assert np.abs(lines.sum(axis=0) - 100).max() < 1e-10
    # A triangle cut at half height: the mean of the part below the cut is 2/9 of the height.
    assert lines[0].mean() == pytest.approx(100 * 2 / 9, abs=0.5)
    assert brief.samples(3, seed=8) == brief.samples(3, seed=8) != brief.samples(3, seed=9)
    corners = brief.corners()
    assert corners.complete and len(corners.formulas) == 4
    assert {"kaolin": Fraction(50), "corn-starch": Fraction(50), "sci-powder": Fraction(0)} in corners.formulas
    with pytest.raises(td.errors.Unanswerable, match="water at least 90 %"):
        brief.at_least(m.water, 90).samples(3, seed=1)


def test_a_table_of_starter_values_is_marked_as_a_draft():
    brief = td.Brief("Half", td.Catalogue.starter()).fix("sci-powder", 50).qs("kaolin")
    assert str(brief.sweep(td.axis("fix.sci-powder", [40, 50]))).count("DRAFT") == 1
    own = td.Catalogue().with_material(td.Material("clay", "Clay", "powder", {"KAOLIN": 100}))
    own = own.with_material(td.Material("talc", "Talc", "powder", {"TALC": 100}))
    brief = td.Brief("Half", own).fix("talc", 50).qs("clay")
    assert "DRAFT" not in str(brief.sweep(td.axis("fix.talc", [40, 50])))
