"""Every public table as a data frame of polars, pyarrow, pandas and DuckDB."""

import pickle

import duckdb
import pandas as pd
import polars as pl
import pyarrow as pa
import pytest
import tenside as td
import values
from tenside import measure as m

CATALOGUE = td.Catalogue.starter()
PRICES = {"sci-powder": 6.4, "capb-30": 2.9, "cetyl-alcohol": 4.8, "kaolin": 1.9, "lavender-oil": 60}


def brief():
    wash = td.Brief("Wash", CATALOGUE, prices=PRICES, currency="EUR").split(
        {"sci-powder": 14, "capb-30": 1}, by="active", name="wash"
    )
    wash = (
        wash.between("cetyl-alcohol", 3, 6)
        .fix("lavender-oil", 0.6)
        .qs("kaolin")
        .target(m.active_matter, 50)
        .at_most(m.water, 9)
    )
    return wash.minimise(m.cost)


ANSWER = brief().solve()
FORMULA = ANSWER.formula
REVIEW = FORMULA.review(market="EU", use="shampoo-bar", on="2026-11-24")
LABEL = FORMULA.label(market="EU", on="2026-11-24", net="60 g")
BATCH = FORMULA.batch(mass="200 g", bars=3, readability="0.1 g")
CONFLICT = (
    td.Brief("Too strong", CATALOGUE).between("capb-30", 0, 50).qs("water").at_least(m.active_matter, 18).try_solve()
)
DRAFT = td.Draft.from_text("Pasted bar", "sci-powder 60 %\ncetyl alcohol: 10-15 %\nkaolin 25 %")
LOT = td.Lot("W-27", "capb-30", active=29.1, method="titrated")
READING = td.Reading(5.5, dilution="1+9")
SUBSTITUTION = FORMULA.substitute("capb-30", "coco-glucoside-50", keep=[m.active_matter])

MADE = BATCH.as_made({"kaolin": "52 g"}, added={"citric-acid-50": "0.4 g"}, pressed="180 g")
RESCUE = brief().rescue(MADE, readability="0.1 g")
DESIGN = (
    td.Brief("Trial", CATALOGUE)
    .between("sci-powder", 40, 70)
    .between("cetyl-alcohol", 3, 12)
    .qs("kaolin")
    .design("d-optimal", runs=5, seed=1)
)
RECORD = td.batch.BatchRecord(
    MADE,
    steps=FORMULA.usual_steps("solid"),
    tests=[td.batch.ProductTest("pH", at_least=5, at_most=6)],
    readings={"pH": [5.5, 6.1]},
)
LOTTED = td.Formula(
    "Lotted", [td.Line(CATALOGUE.material("capb-30").with_lot(LOT), 30), td.Line(CATALOGUE.material("kaolin"), 70)]
)
RECORDS = td.batch.Records([RECORD, td.batch.BatchRecord(LOTTED.batch(mass="1 kg", readability="1 g", number="8"))])

PRICED = FORMULA.with_prices(PRICES, currency="EUR")
OFFERS = td.cost.Offers(
    [
        td.cost.Supplier(
            "Near",
            [td.cost.Pack(name, "300 g", price, breaks={3: 1}) for name, price in PRICES.items()],
            currency="EUR",
            freight=3,
        )
    ],
    CATALOGUE,
    currency="EUR",
)
STOCK = td.cost.Stock(
    [td.cost.StockLot(name, "200 g", lot="A", price=price, use_by="2027-01-31") for name, price in PRICES.items()],
    CATALOGUE,
    currency="EUR",
)
COSTING = PRICED.costing("2 kg", bars=30, per_bar={"wrapper": 0.12})
PURCHASE = td.cost.purchase([td.cost.PlannedBatch(FORMULA, "2 kg", on="2026-12-01")], OFFERS, stock=STOCK)
BARS = FORMULA.bars_from_stock(STOCK, "66 g", on="2026-12-01")
MIX = STOCK.best_mix([td.cost.PlannedProduct(FORMULA, "66 g", "2.40")], on="2026-12-01")

LOG, *_, MICELLES = values.trial()
MODEL = LOG.fit("hardness")

TABLES = {
    "search": CATALOGUE.search("betaine"),
    "filter": CATALOGUE.filter(form="powder", without="sulfate"),
    "forms": td.material.forms(),
    "faults of a table": td.Catalogue.check_table({"name": ["Clay", "Oil"], "form": ["powdr", "oil"]}),
    "terms of a model": MODEL.terms,
    "runs of a model": MODEL.runs,
    "analysis of variance": MODEL.anova,
    "models tried": LOG.best_model("hardness").candidates,
    "ranks": LOG.ranks("slip").blends,
    "dispersed surfactants": MICELLES.dispersed,
    "lines as made": MADE.lines,
    "additions": RESCUE.additions,
    "runs of a design": DESIGN.runs,
    "shortfalls": MADE.missed(brief()),
    "steps": RECORD.steps,
    "test results": RECORD.results,
    "record notes": RECORD.notes,
    "lot uses": RECORDS.lot_uses,
    "trials of a dough": FORMULA.dough([(LOTTED, "crumbles")]).trials,
    "pack prices": OFFERS.packs,
    "line costs": COSTING.lines,
    "costs beside": COSTING.extras,
    "orders": PURCHASE.orders,
    "bought": PURCHASE.materials,
    "lots used": PURCHASE.lots,
    "lots": STOCK.lots,
    "raw materials in stock": BARS.materials,
    "products of a mix": MIX.rows,
    "raw materials of a mix": MIX.materials,
    "changed prices": td.cost.price_effects([PRICED], {"kaolin": 3}),
    "measures": FORMULA.measures(),
    "expansion": FORMULA.expand(),
    "formula lines": FORMULA.lines,
    "phases": FORMULA.phases,
    "brief lines": brief().lines,
    "requirements": brief().requirements,
    "splits": brief().splits,
    "binding": ANSWER.binding,
    "departures": ANSWER.departures,
    "limit ranges": ANSWER.limit_ranges(),
    "price ranges": ANSWER.price_ranges(),
    "ratio ranges": ANSWER.ratio_ranges(),
    "proof rows": ANSWER.proof.rows,
    "constraints": CONFLICT.constraints,
    "findings": REVIEW.findings,
    "unchecked": REVIEW.unchecked,
    "rules": REVIEW.lists[0].rules,
    "label items": LABEL.items,
    "left out": LABEL.left_out,
    "scents": LABEL.scents,
    "questions of a label": LABEL.questions,
    "checks of a label": LABEL.checks,
    "weighings": BATCH.weighings,
    "notes": BATCH.notes,
    "difference": FORMULA.difference(SUBSTITUTION.after).lines,
    "constituents that differ": FORMULA.difference(SUBSTITUTION.after).constituents,
    "candidates": FORMULA.candidates("capb-30", keep=m.active_matter, catalogue=CATALOGUE).ranked,
    "passed over": FORMULA.candidates("capb-30", keep=m.active_matter, catalogue=CATALOGUE).passed_over,
    "kept": SUBSTITUTION.kept,
    "changes": SUBSTITUTION.changes,
    "catalogue": CATALOGUE.materials(),
    "substances": CATALOGUE.substances(),
    "constituents": CATALOGUE.material("capb-30").constituents,
    "use levels": CATALOGUE.material("sci-powder").use_levels,
    "lots": CATALOGUE.with_lot(LOT).lots(),
    "certificate": CATALOGUE.material("capb-30").lot_changes(LOT),
    "pH ranges": FORMULA.ph_window().rows,
    "preservatives": FORMULA.preservatives_at(READING),
    "draft lines": DRAFT.lines,
    "questions of a draft": DRAFT.questions(CATALOGUE),
    "product types": td.exposure.product_types(),
    **{
        f"measured {index}": table
        for index, table in enumerate(values.measured_records())
        if isinstance(table, td.document.Table)
    },
}
PORTIONS, WEIGHABLE = (
    next(value for value in values.measured() if isinstance(value, kind)) for kind in (td.batch.Portions, td.batch.Weighable)
)

#: What is handed over as the table that it is about.
RESULTS = {
    "catalogue": (CATALOGUE, CATALOGUE.materials()),
    "formula": (FORMULA, FORMULA.lines),
    "batch": (BATCH, BATCH.weighings),
    "portions": (PORTIONS, PORTIONS.rows),
    "weighable": (WEIGHABLE, WEIGHABLE.rows),
    "review": (REVIEW, REVIEW.findings),
    "label": (LABEL, LABEL.items),
    "difference": (FORMULA.difference(SUBSTITUTION.after), TABLES["difference"]),
    "candidates": (FORMULA.candidates("capb-30", keep=m.active_matter, catalogue=CATALOGUE), TABLES["candidates"]),
}


@pytest.mark.parametrize("name", TABLES)
def test_every_library_takes_it(name):
    table = TABLES[name]
    frame = pl.DataFrame(table)
    arrow = pa.table(table)
    assert frame.height == arrow.num_rows == len(table)
    assert frame.columns == arrow.column_names == table.columns
    assert len(table.columns) > 1
    pandas = table.to_pandas()
    assert isinstance(pandas, pd.DataFrame) and list(pandas.columns) == table.columns and len(pandas) == len(table)
    assert table.to_polars().equals(frame)
    assert table.to_pyarrow().equals(arrow)
    rows = table
    assert duckdb.sql("select count(*) from rows").limit(1).fetchall() == [(len(table),)]
    for column in table.columns:
        assert table.column(column) == arrow.column(column).to_pylist(), column


@pytest.mark.parametrize("name", RESULTS)
def test_a_result_is_handed_over_as_its_table(name):
    result, table = RESULTS[name]
    assert pl.DataFrame(result).equals(pl.DataFrame(table))
    assert pa.table(result).equals(result.to_pyarrow())
    assert list(result.to_pandas().columns) == table.columns
    assert duckdb.sql("select count(*) from result").limit(1).fetchall() == [(len(table),)]


def test_samples_and_corners():
    samples = brief().samples(20, seed=1)
    frame = pl.DataFrame(samples)
    assert frame.to_dict(as_series=False) == samples.lines
    corners = brief().corners(20)
    assert pa.table(corners).to_pylist() == [
        {line: float(percent) for line, percent in corner.items()} for corner in corners.formulas
    ]
    assert duckdb.sql("select count(*) from corners").limit(1).fetchall() == [(len(corners.formulas),)]
    assert len(samples.to_pandas()) == 20


@pytest.mark.parametrize("name", TABLES)
def test_a_table_is_its_rows(name):
    table = TABLES[name]
    rows = list(table)
    assert table == rows == list(table[:]) and table == tuple(rows)
    assert len(table[1:]) == max(len(rows) - 1, 0)
    if rows:
        assert table[0] == rows[0] and table[-1] == rows[-1]
        assert rows[0] in table
    with pytest.raises(IndexError):
        table[len(rows)]
    again = pickle.loads(pickle.dumps(table))
    assert again == table and again.columns == table.columns and repr(again) == repr(table)
    assert "<" in table._repr_html_() and str(table)


def test_the_memory_is_taken_as_it_is():
    weighings = BATCH.weighings
    first, second = pa.table(weighings), pl.DataFrame(weighings)
    address = first.column("rounded").chunk(0).buffers()[1].address
    assert second["rounded"].to_numpy(allow_copy=False).__array_interface__["data"][0] == address
    assert weighings.to_pandas()["rounded"].array.__arrow_array__().chunk(0).buffers()[1].address == address


def test_values_are_those_of_the_records():
    table = FORMULA.expand()
    frame = table.to_polars()
    for row, percent, low, high in zip(table, frame["percent"], frame["percent.low"], frame["percent.high"]):
        for number, end in [(percent, row.percent.typical), (low, row.percent.low), (high, row.percent.high)]:
            assert number == (None if end is None else float(end))
    assert frame["lines"].to_list() == [row.lines for row in table]
    binding = ANSWER.binding
    assert binding.column("constraint.kind") == [one.constraint.kind for one in binding]
    assert binding.column("decisive") == [one.decisive for one in binding]


def test_an_empty_table_has_its_columns():
    empty = td.Formula("Clay", {"kaolin": 100}, CATALOGUE).batch(mass="200 g", readability="0.1 g").notes
    assert len(empty) == 0 and empty == []
    assert empty.columns == ["kind", "line", "sentence"]
    assert pl.DataFrame(empty).columns == empty.columns


def test_a_table_is_headed_by_what_its_rows_are():
    cautions = td.material.cautions()
    assert str(cautions).splitlines()[0] == f"Listed word, rows: {len(cautions)}"


def test_an_unknown_column_is_refused():
    with pytest.raises(td.errors.UnknownName, match="percent"):
        FORMULA.lines.column("percents")


@pytest.mark.parametrize(
    ("method", "library"), [("to_polars", "polars"), ("to_pyarrow", "pyarrow"), ("to_pandas", "pandas")]
)
def test_a_library_that_is_not_there_is_named(monkeypatch, method, library):
    monkeypatch.setitem(__import__("sys").modules, library, None)
    with pytest.raises(ImportError, match=f"needs {library}, which is not installed"):
        getattr(FORMULA.lines, method)()


def test_a_recall_is_one_line_of_sql():
    def record(number, lot):
        line = td.Line(td.Catalogue.starter().material("capb-30").with_lot(lot), 100)
        return td.batch.BatchRecord(td.Formula("Wash", [line]).batch(mass="200 g", readability="1 g", number=number))

    lots = [td.Lot(name, "capb-30", active=29.1, method="titrated") for name in ("W-27", "W-28")]
    records = td.batch.Records([record("7", lots[0]), record("8", lots[1]), record("9", lots[0])])
    uses = records.lot_uses
    found = duckdb.sql("select batch from uses where lot = 'W-27' order by batch").fetchall()
    assert found == [("7",), ("9",)] and [use.batch for use in records.batches_using("W-27")] == ["7", "9"]


def test_a_table_of_records_inside_records_can_be_read():
    shown = str(CATALOGUE.material("capb-30").constituents)
    lines = shown.splitlines()
    assert all(len(line) <= 100 for line in lines), shown
    named = [line.split(None, 1) for line in lines if line.startswith("substance.inci")]
    assert named == [["substance.inci", row.substance.inci] for row in CATALOGUE.material("capb-30").constituents]
    # No cell is broken to a few letters a line.
    assert len(lines) < 40 * len(named), shown
