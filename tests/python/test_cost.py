"""Money from Python: offers, costings, prices, purchases, stock and mixes. Everything offered is invented."""

import datetime
import pickle
from fractions import Fraction

import polars
import pytest
import tenside as td
from tenside import measure as m

CATALOGUE = td.Catalogue.starter()
NORTH = td.cost.Supplier(
    "Depot North",
    [
        td.cost.Pack("SCI powder", "1 kg", 9, breaks={5: "8.10"}),
        td.cost.Pack("kaolin", "500 g", "2.20"),
        td.cost.Pack("cetyl-alcohol", "250 g", 3),
    ],
    currency="EUR",
    freight="8.90",
    free_from=150,
    tax=19,
)
WEST = td.cost.Supplier("Depot West", [td.cost.Pack("kaolin", "5 lb", "7.50")], currency="USD", freight=4, tax=0)
OFFERS = td.cost.Offers([NORTH, WEST], CATALOGUE, currency="EUR", rates={"USD": "0.92"})
BAR = td.Formula("Bar", {"sci-powder": 60, "cetyl-alcohol": 5, "kaolin": 35}, CATALOGUE)


def test_offers_price_briefs_and_formulas():
    prices = OFFERS.price_list()
    assert len(prices) == 3 and prices.currency == "EUR"
    brief = td.Brief("Bar", CATALOGUE, prices=prices).between("sci-powder", 40, 70).qs("kaolin")
    assert brief.at_least(m.active_matter, 40).minimise(m.cost).solve().objective > 0
    frame = polars.DataFrame(OFFERS.packs)
    assert frame.columns == ["supplier", "material", "grams", "from_packs", "price", "per_kilogram"]
    assert frame.filter(polars.col("supplier") == "Depot West")["price"][0] == pytest.approx(6.9)
    with pytest.raises(td.errors.Contradiction, match="state what one USD is in EUR"):
        td.cost.Offers([WEST], currency="EUR")
    with pytest.raises(td.errors.UnknownName, match='did you mean "kaolin"'):
        td.cost.Offers([td.cost.Supplier("Near", [td.cost.Pack("kaoline", "1 kg", 2)])])
    with pytest.raises(td.errors.OutOfRange, match="a pack holds nothing"):
        td.cost.Pack("kaolin", "0 g", 2)


def test_a_costing_is_a_table_a_page_and_exact():
    bar = BAR.with_prices({"sci-powder": 9, "cetyl-alcohol": "6.50", "kaolin": "2.20"}, currency="EUR")
    costing = bar.costing(
        "2 kg",
        bars=30,
        washes=60,
        process_loss=4,
        per_bar={"wrapper": "0.12"},
        per_batch={"labour": 18},
        percent_of_direct_costs={"overhead": 10},
    )
    assert costing.total == Fraction("38.049") and costing.per_bar == Fraction("1.2683")
    assert costing.total == costing.raw_materials + sum(extra.cost for extra in costing.extras)
    assert sum(costing.phases.values()) == sum(line.cost for line in costing.lines) == costing.raw_materials
    assert polars.DataFrame(costing)["material"].to_list() == ["sci-powder", "cetyl-alcohol", "kaolin"]
    assert "38.05" in str(costing) and "38.05" in costing.page.markdown() and "38.05" in costing._repr_html_()
    with pytest.raises(td.errors.Missing, match="no prices"):
        BAR.costing("2 kg")
    with pytest.raises(td.errors.NotKnown, match="cetyl-alcohol"):
        BAR.with_prices({"sci-powder": 9, "kaolin": 2}).costing("2 kg")
    for needs_bars in ({"per_bar": {"wrapper": 1}}, {"washes": 50}):
        with pytest.raises(td.errors.Missing, match="how many bars"):
            bar.costing("2 kg", **needs_bars)


def test_a_costing_of_a_batch_takes_what_the_batch_says():
    clay = td.Formula("Clay", {"kaolin": 100}, CATALOGUE, prices={"kaolin": 2}, currency="EUR")
    batch = clay.batch(bars=24, net="60 g", process_loss=4, readability="0.1 g")
    costing = clay.costing(batch)
    assert (costing.bars, costing.charged, costing.lost) == (24, 1500, Fraction(12, 100))
    assert clay.costing(batch, bars=20, process_loss=5).lost == Fraction(15, 100)
    assert clay.costing(batch, bars=20).bars == 20
    assert clay.costing(clay.batch(mass="1 kg", readability="0.1 g")).lost is None
    # With other prices it is a batch of it still, with other lines it is not.
    assert clay.with_prices({"kaolin": 3}, currency="EUR").costing(batch).lost == Fraction(18, 100)
    other = td.Formula("Water", {"water": 100}, CATALOGUE, prices={"water": 1}, currency="EUR")
    with pytest.raises(td.errors.Contradiction, match='another formula.*"Clay".*"Water"'):
        other.costing(batch)


def test_what_is_not_bought_needs_no_price():
    zero = td.Formula("Zero", {"kaolin": 100, "panthenol": 0}, CATALOGUE, prices={"kaolin": 2}, currency="EUR")
    assert zero.measure(m.cost).value.typical == zero.costing("1 kg").total == 2
    assert [line.material for line in zero.costing("1 kg").lines] == ["kaolin"]


def test_a_late_lot_is_said_with_the_day_of_the_batch():
    clay = td.Formula("Clay", {"kaolin": 100}, CATALOGUE)
    stock = td.cost.Stock([td.cost.StockLot("kaolin", "1 kg", lot="A", use_by="2026-12-05")])
    offers = td.cost.Offers([td.cost.Supplier("Near", [td.cost.Pack("kaolin", "1 kg", 5)], tax=0, freight=0)])
    planned = [td.cost.PlannedBatch(clay, "1 kg", on=f"2026-12-{day}") for day in ("03", "10")]
    notes = td.cost.purchase(planned, offers, stock=stock).notes
    assert notes == ['lot "A" of "kaolin" is to be used by 2026-12-05, so it is none for "Clay" on 2026-12-10']


def test_one_is_said_in_the_singular():
    clay = td.Formula("Clay", {"kaolin": 100}, CATALOGUE, prices={"kaolin": 2}, currency="EUR")
    page = clay.costing("1 kg", bars=1, washes=1).page.text()
    assert "each of 1 bar " in page and "each of 1 wash " in page
    stock = td.cost.Stock([td.cost.StockLot("kaolin", "100 g")])
    assert "enough for 1 bar;" in clay.bars_from_stock(stock, "66 g").page.text()
    assert "enough for 0 bars;" in clay.bars_from_stock(stock, "660 g").page.text()


def test_more_on_offer_or_in_stock_costs_no_more():
    premix = td.Formula("Pre", {"sodium-benzoate": 10, "glycerin-99-5": 90}, CATALOGUE).to_material("pre", form="liquid")
    catalogue = CATALOGUE.with_material(premix)
    bar = td.Formula("Bar", {"pre": 50, "kaolin": 50}, catalogue)
    parts = ("glycerin-99-5", "sodium-benzoate", "kaolin")
    packs, planned = [td.cost.Pack(part, "1 kg", 1) for part in parts], [td.cost.PlannedBatch(bar, "1 kg")]

    def bought(packs, *lots):
        offers = td.cost.Offers([td.cost.Supplier("Near", packs, tax=0, freight=0)], catalogue)
        return td.cost.purchase(planned, offers, stock=td.cost.Stock(lots, catalogue))

    made = bought(packs)
    assert made.is_cheapest and made.total == 3
    for price, total in ((100, 3), ("0.5", Fraction(3, 2))):
        offered = bought([*packs, td.cost.Pack("pre", "1 kg", price)])
        assert offered.total == total and not offered.is_cheapest and offered.bound == 1
        assert '"pre" can be had as such and made of its parts' in offered.notes[0]
    assert bought(packs, td.cost.StockLot("pre", "0 g")).total == 3
    some = bought(packs, td.cost.StockLot("pre", "200 g"))
    assert some.is_cheapest and 'the premix "pre" is taken as such' in some.notes[0]
    assert {row.material: row.needed for row in some.materials} == {
        "pre": 200, "sodium-benzoate": 30, "glycerin-99-5": 270, "kaolin": 500
    }  # fmt: skip
    lots = [td.cost.StockLot(part, "5 kg") for part in parts]
    for more in ([], [td.cost.StockLot("pre", "0 g")]):
        assert bar.bars_from_stock(td.cost.Stock(lots + more, catalogue), "100 g").bars == 100
    # A premix that is made may need another that is on offer, and dearer than its parts.
    inner = td.Formula("W", {"sci-powder": 80, "kaolin": 20}, CATALOGUE).to_material("inner", form="powder")
    both = CATALOGUE.with_material(inner)
    both = both.with_material(td.Formula("M", {"inner": 50, "cetyl-alcohol": 50}, both).to_material("outer", form="powder"))
    prices = {"sci-powder": 9, "kaolin": 2, "glycerin-99-5": 3, "cetyl-alcohol": 4, "inner": 20, "outer": 50}
    planned_both = [td.cost.PlannedBatch(td.Formula("Bar", {"outer": 90, "glycerin-99-5": 10}, both), "10 kg")]
    for left_out in ("outer", None):
        packs = [td.cost.Pack(name, "1 kg", price) for name, price in prices.items() if name != left_out]
        offers = td.cost.Offers([td.cost.Supplier("Near", packs, tax=0, freight=0)], both)
        assert td.cost.purchase(planned_both, offers).total == 61, left_out
    # What the stock covers is bought too where it saves freight.
    half = td.Formula("B", {"sci-powder": 60, "kaolin": 40}, CATALOGUE)
    packs = [td.cost.Pack("sci-powder", "2 kg", 10), td.cost.Pack("sci-powder", "250 g", "3.625"), td.cost.Pack("kaolin", "1 kg", 5)]
    offers = td.cost.Offers([td.cost.Supplier("S", packs, freight=8, free_from=15, tax=0)])
    for grams in ("399 g", "400 g", "2 kg"):
        stock = td.cost.Stock([td.cost.StockLot("kaolin", grams)])
        found = td.cost.purchase([td.cost.PlannedBatch(half, "1 kg")], offers, stock=stock)
        assert found.total == 15 and found.is_cheapest, grams


def test_prices_from_margin_and_markup_are_two_things():
    assert round(td.cost.price_from_margin(1, 35), 2) == Fraction("1.54") and td.cost.price_from_markup(1, 35) == Fraction("1.35")
    with pytest.raises(td.errors.OutOfRange, match="price_from_markup"):
        td.cost.price_from_margin(1, 100)
    with pytest.raises(td.errors.Contradiction, match="no number of them pays"):
        td.cost.break_even(1, 1, 1)


def test_changed_prices_are_a_table():
    clay = td.Formula("Clay", {"kaolin": 100}, CATALOGUE, prices={"kaolin": 2}, currency="EUR")
    bar = BAR.with_prices({"sci-powder": 9, "cetyl-alcohol": 6, "kaolin": 2}, currency="EUR")
    table = td.cost.price_effects([bar, clay], {"kaolin": "2.5"})
    assert [row.difference for row in table] == [Fraction("0.175"), Fraction("0.5")]
    assert "Changed prices" in table.page.text() and polars.DataFrame(table)["percent"][1] == 25
    with pytest.raises(td.errors.UnknownName, match="kaolin"):
        td.cost.price_effects([bar], {"kaolinn": 2})


def test_a_purchase_is_a_shopping_list():
    stock = td.cost.Stock(
        [td.cost.StockLot("kaolin", "300 g", lot="K-7", use_by=datetime.date(2026, 12, 10))], CATALOGUE, currency="EUR"
    )
    planned = [
        td.cost.PlannedBatch(BAR, "2 kg", on="2026-12-01"),
        td.cost.PlannedBatch(BAR.with_title("Later"), "1 kg", on="2026-12-24"),
    ]
    bought = td.cost.purchase(planned, OFFERS, stock=stock)
    assert bought.is_cheapest and bought.gap == 0 and sum(order.counted for order in bought.orders) == bought.total
    assert [(lot.lot, lot.taken, lot.left) for lot in bought.lots] == [("K-7", 300, 0)]
    needs = {row.material: (row.needed, row.from_stock) for row in bought.materials}
    assert needs == {"sci-powder": (1800, 0), "cetyl-alcohol": (150, 0), "kaolin": (1050, 300)}
    text = bought.page.text()
    assert all(
        said in text
        for said in ("Shopping list", "DEPOT NORTH", "freight", "left over, g", "Bar, 2000.00 g on 2026-12-01")
    )
    assert polars.DataFrame(bought.orders)["supplier"].to_list() == [order.supplier for order in bought.orders]
    cut = td.cost.purchase(planned, OFFERS, stock=stock, steps=1)
    assert not cut.is_cheapest and cut.bound <= bought.total <= cut.total and "not proved" in cut.notes[0]
    with pytest.raises(td.errors.Missing, match="state the day"):
        td.cost.purchase([td.cost.PlannedBatch(BAR, "2 kg")], OFFERS, stock=stock)
    with pytest.raises(td.errors.NotKnown, match="nobody offers it"):
        td.cost.purchase([td.cost.PlannedBatch(BAR, "2 kg")], td.cost.Offers([WEST], CATALOGUE, currency="USD"))


def test_the_stock_says_what_it_is_good_for():
    stock = td.cost.Stock(
        [
            td.cost.StockLot("SCI powder", "1 kg", price=9),
            td.cost.StockLot("cetyl-alcohol", "66 g"),
            td.cost.StockLot("kaolin", "600 g", price=2),
        ],
        CATALOGUE,
    )
    assert stock.value == Fraction("10.2") and polars.DataFrame(stock)["value"].to_list() == [9, None, 1.2]
    bars = BAR.bars_from_stock(stock, "66 g")
    assert (bars.bars, bars.runs_out_first) == (20, ["cetyl-alcohol"])
    assert polars.DataFrame(bars)["bars"].to_list() == [25, 20, 25]
    mix = stock.best_mix(
        [
            td.cost.PlannedProduct(BAR, "66 g", "2.40"),
            td.cost.PlannedProduct(td.Formula("Clay", {"kaolin": 100}, CATALOGUE), "50 g", 1, most=3),
        ]
    )
    assert {row.product: row.pieces for row in mix.rows} == {"Bar": 20, "Clay": 2} and mix.verify()
    assert mix.value == mix.bound == 50 and "Best mix" in str(mix)


def test_a_brief_takes_no_more_than_there_is():
    brief = (
        td.Brief("Bar", CATALOGUE)
        .between("sci-powder", 10, 90)
        .between("kaolin", 0, 90)
        .between("corn-starch", 0, 90)
        .maximise(m.active_matter)
    )
    stocked = brief.in_stock("kaolin", amounts={"sci-powder": "900 g"}, batch="2 kg")
    assert stocked.solve().exact == {"sci-powder": 45, "kaolin": 55, "corn-starch": 0}
    with pytest.raises(td.errors.Missing, match="go together"):
        brief.in_stock("kaolin", batch="2 kg")


def test_a_search_that_the_clock_ended_comes_back():
    bought = td.cost.purchase([td.cost.PlannedBatch(BAR, "2 kg")], OFFERS, seconds=0)
    assert not bought.is_cheapest and "the search ended after" in str(bought)
    assert td.read(bought.to_json(), CATALOGUE) == bought == pickle.loads(pickle.dumps(bought))
    lots = [td.cost.StockLot(material, "601 g") for material in ("sci-powder", "cetyl-alcohol", "kaolin")]
    products = [
        td.cost.PlannedProduct(BAR, "66 g", "2.40"),
        td.cost.PlannedProduct(td.Formula("Clay", {"kaolin": 90, "sci-powder": 10}, CATALOGUE), "50 g", 1),
    ]
    mix = td.cost.Stock(lots, CATALOGUE).best_mix(products, seconds=0)
    assert mix.value < mix.bound
    assert td.read(mix.to_json(), CATALOGUE) == mix == pickle.loads(pickle.dumps(mix))
