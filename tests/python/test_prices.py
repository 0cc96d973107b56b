"""Price lists come from documents, sheets, mappings and frames of any library, and are given where prices are asked for."""

import json
import pickle
from decimal import Decimal
from fractions import Fraction

import jsonschema
import numpy
import pandas
import polars
import pyarrow
import pytest
import tenside as td
from tenside import measure as m
from tenside import schema

CATALOGUE = td.Catalogue.starter()
COLUMNS = {"material": ["kaolin", "SCI powder"], "price_per_kg": [1.9, 6.4], "currency": ["EUR", "EUR"]}
LIST = td.PriceList({"kaolin": 1.9, "sci-powder": "6.4"}, currency="EUR")


@pytest.mark.parametrize("frame", [pandas.DataFrame, polars.DataFrame, pyarrow.table])
def test_a_frame_of_any_library_is_read(frame):
    assert td.PriceList(frame(COLUMNS)) == LIST
    unstated = {name: cells for name, cells in COLUMNS.items() if name != "currency"}
    assert td.PriceList(frame(unstated), currency="EUR") == LIST
    with pytest.raises(td.errors.Contradiction, match="two currencies"):
        td.PriceList(frame(COLUMNS), currency="USD")
    with pytest.raises(td.errors.Missing, match="price_per_kg"):
        td.PriceList(frame({"material": ["kaolin"], "price": [1]}), currency="EUR")
    with pytest.raises(td.errors.Missing, match="without a currency"):
        td.PriceList(frame(unstated))


@pytest.mark.parametrize("price", [1.9, "1.9", Decimal("1.9"), Fraction(19, 10), numpy.float32(1.9)])
def test_numbers_of_every_kind_are_prices(price):
    assert td.PriceList({"kaolin": price}, currency="EUR")["kaolin"] == Decimal("1.9")


def test_every_fault_is_told_at_once():
    frame = pandas.DataFrame(
        {
            "material": ["kaoline", "kaolin", "sci-powder", "sci-powder"],
            "price_per_kg": [1, -1, float("nan"), None],
            "currency": "EUR",
        }
    )
    with pytest.raises(td.TensideError) as caught:
        td.PriceList(frame)
    assert [fault.position for fault in caught.value.faults] == [(1, 1), (2, 2), (3, 2), (4, 2)]


def test_it_goes_through_every_notation_and_a_pickle():
    for text in (LIST.to_toml(), LIST.to_json()):
        assert td.read(text) == LIST
    assert td.PriceList.from_csv(LIST.to_csv()) == LIST == pickle.loads(pickle.dumps(LIST))
    jsonschema.Draft202012Validator(json.loads(schema.text("prices"))).validate(LIST.to_dict())
    assert dict(LIST) == dict(LIST.items()) == dict(zip(LIST.keys(), LIST.values()))
    assert polars.DataFrame(LIST).rows() == [("kaolin", 1.9, "EUR"), ("sci-powder", 6.4, "EUR")]
    assert "kaolin" in LIST and "water" not in LIST
    with pytest.raises(td.errors.UnknownName):
        LIST["water"]


def test_files(tmp_path):
    td.write(LIST, tmp_path / "prices.toml")
    td.write(LIST, tmp_path / "prices.json")
    assert td.read_prices(tmp_path / "prices.toml") == td.read_prices(tmp_path / "prices.json") == LIST
    (tmp_path / "prices.csv").write_text("material;price_per_kg\nkaolin;1,90\nSCI powder;6,4\n", encoding="utf-8")
    assert td.read_prices_csv(tmp_path / "prices.csv", CATALOGUE, currency="EUR", decimal_comma=True) == LIST


def test_briefs_and_formulas_take_it_with_its_currency():
    brief = td.Brief("Bar", CATALOGUE, prices=LIST).between("sci-powder", 40, 60).qs("kaolin").minimise(m.cost)
    assert brief.currency == "EUR" and brief == brief.with_prices(LIST) == brief.with_prices(LIST, currency="EUR")
    assert brief.solve().objective_unit == "EUR per kg"
    formula = td.Formula("Clay", {"kaolin": 100}, CATALOGUE, prices=LIST)
    assert formula == formula.with_prices(LIST) and formula.currency == "EUR"
    for wrong in (lambda: brief.with_prices(LIST, currency="USD"), lambda: formula.with_prices(LIST, currency="USD")):
        with pytest.raises(td.errors.Contradiction, match="another one beside it"):
            wrong()
