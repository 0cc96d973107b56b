//! What is in stock, how many bars it is good for, and the best mix of products from it.

use std::sync::Arc;

use indexmap::IndexMap;
use pyo3::prelude::*;
use pyo3::types::PyType;
use tenside::cost::USUAL_NODES;

use crate::convert::column::batch_of;
use crate::convert::failure::Outcome;
use crate::convert::input::{AMass, Day, Number, Several};
use crate::convert::output::{Fraction, Keywords, repr};
use crate::convert::page::Page;
use crate::convert::pickled::Reduced;
use crate::convert::running::watched;
use crate::convert::table::Rows;
use crate::formula::Formula;
use crate::material::catalogue::Catalogue;
use crate::material::prices::PriceList;

/// What is left of a lot of a raw material: the name of the lot, what a kilogram of it cost, and the last day on which
/// it is used (that of its expiry, or that before it is to be tested again).
///
/// >>> td.cost.StockLot("kaolin", "1.2 kg", lot="K-7", price="4.40", use_by="2027-01-31").value
/// Fraction(132, 25)
#[pyclass(frozen, eq, from_py_object, module = "tenside.cost")]
#[derive(Clone, PartialEq)]
pub(crate) struct StockLot(pub(crate) tenside::cost::StockLot);

value!(StockLot, |it| (it.material(), it.name(), it.left()));

row!(StockLot {
    material: String = |it| it.material(),
    lot: Option<String> = |it| it.lot(),
    grams: Fraction = |it| it.grams(),
    price: Option<Fraction> = |it| it.price(),
    value: Option<Fraction> = |it| it.value(),
    use_by: Option<String> = |it| it.use_by(),
});

getters!(StockLot {
    /// The raw material.
    material: String = |it| it.material().to_string();
    /// Grams left.
    grams: Fraction = |it| Fraction(it.left().grams().clone());
    /// The name of the lot, if stated.
    lot: Option<String> = |it| it.name().map(str::to_string);
    /// What a kilogram of it cost, if stated.
    price: Option<Fraction> = |it| it.price().cloned().map(Fraction);
    /// The last day on which it is used, if stated.
    use_by: Option<String> = |it| it.use_by().map(|day| day.to_string());
    /// What is left of it is worth at cost, if that is stated.
    value: Option<Fraction> = |it| it.value().map(Fraction);
});

#[pymethods]
impl StockLot {
    #[new]
    #[pyo3(signature = (material, left, *, lot=None, price=None, use_by=None))]
    fn new(
        material: &str,
        left: AMass,
        lot: Option<&str>,
        price: Option<Number>,
        use_by: Option<Day>,
    ) -> Outcome<Self> {
        let mut stocked = tenside::cost::StockLot::new(material, left.0)?;
        if let Some(lot) = lot {
            stocked = stocked.named(lot)?;
        }
        if let Some(price) = price {
            stocked = stocked.at_cost(price.0)?;
        }
        Ok(StockLot(match use_by {
            Some(day) => stocked.to_be_used_by(day.0),
            None => stocked,
        }))
    }

    fn __getnewargs_ex__<'py>(slf: &Bound<'py, Self>) -> PyResult<((String, String), Keywords<'py>)> {
        let keywords =
            ["lot", "price", "use_by"].iter().map(|name| Ok((*name, slf.getattr(*name)?))).collect::<PyResult<_>>()?;
        Ok(((slf.get().material(), slf.get().0.left().to_string()), keywords))
    }

    fn __repr__(slf: &Bound<'_, Self>) -> PyResult<String> {
        repr(slf, &["material", "grams", "lot", "price", "use_by"])
    }
}

/// What is in stock, valued in a currency. Raw materials are looked up by id or name in the catalogue, by default the
/// starter catalogue.
///
/// >>> lots = [td.cost.StockLot("kaolin", "1 kg", price=4), td.cost.StockLot("kaolin", "3 kg", price=5), td.cost.StockLot("SCI powder", "500 g")]
/// >>> stock = td.cost.Stock(lots, currency="EUR")
/// >>> stock.value, stock.price_list()["kaolin"], [lot.material for lot in stock.without_cost]
/// (Fraction(19, 1), Decimal('4.75'), ['sci-powder'])
#[pyclass(frozen, eq, from_py_object, module = "tenside.cost")]
#[derive(Clone, PartialEq)]
pub(crate) struct Stock(pub(crate) tenside::cost::Stock);

shown!(Stock, |it| it.0.page());
value!(Stock, |it| (it.currency(), it.lots().len()));

arrow!(Stock, |it, _py| batch_of(it.lots())?);

document!(Stock, |it| &it.0, back by tenside::cost::Stock, pickled otherwise);

getters!(Stock {
    /// The currency that it is valued in.
    currency: String = |it| it.currency().to_string();
    /// The lots, in the order given.
    lots: Rows<StockLot> = |it| it.lots().iter().cloned().map(StockLot).collect();
    /// What is left is worth at cost, without lots whose cost is not stated.
    value: Fraction = |it| Fraction(it.value());
    /// The lots whose cost is not stated.
    without_cost: Rows<StockLot> = |it| it.without_cost().into_iter().cloned().map(StockLot).collect();
    /// What is left of each lot, and what it is worth.
    page: Page = |it| Page(it.page());
});

fn stock(lots: Vec<StockLot>, currency: &str) -> Outcome<tenside::cost::Stock> {
    let empty = tenside::cost::Stock::new(currency)?;
    Ok(lots.into_iter().try_fold(empty, |stock, lot| stock.with_lot(lot.0))?)
}

#[pymethods]
impl Stock {
    #[new]
    #[pyo3(signature = (lots, catalogue=None, *, currency="currency"))]
    fn new(lots: Several<StockLot>, catalogue: Option<&Catalogue>, currency: &str) -> Outcome<Self> {
        Ok(Stock(stock(lots.0, currency)?.with_ids_of(&Catalogue::or_starter(catalogue).0)?))
    }

    /// The prices per kilogram of the stock at cost, as `prices=` of briefs and formulas takes them: of each raw
    /// material the mean over its lots by mass, rounded to the sixth decimal place. A raw material of which a lot has
    /// no stated cost has none.
    fn price_list(&self) -> Outcome<PriceList> {
        Ok(PriceList(Arc::new(self.0.price_list()?)))
    }

    /// The mix of `products` that are worth the most together, made on a day from what may be used on it: whole pieces,
    /// exact. Searches in up to so many linear programs (`nodes`) and about so many `seconds`; at either end it gives
    /// the best found, with `bound` and `gap`.
    ///
    /// >>> cat = td.Catalogue.starter()
    /// >>> rich = td.cost.PlannedProduct(td.Formula("Rich", {"sci-powder": 80, "kaolin": 20}, cat), "100 g", 3)
    /// >>> plain = td.cost.PlannedProduct(td.Formula("Plain", {"sci-powder": 40, "kaolin": 60}, cat), "100 g", 2)
    /// >>> mix = td.cost.Stock([td.cost.StockLot("sci-powder", "1 kg"), td.cost.StockLot("kaolin", "1 kg")]).best_mix([rich, plain])
    /// >>> {row.product: row.pieces for row in mix.rows}, mix.is_best
    /// ({'Rich': 5, 'Plain': 15}, True)
    #[pyo3(signature = (products, *, on=None, nodes=None, seconds=None))]
    fn best_mix(
        &self,
        py: Python<'_>,
        products: Several<PlannedProduct>,
        on: Option<Day>,
        nodes: Option<usize>,
        seconds: Option<Number>,
    ) -> Outcome<ProductMix> {
        let products: Vec<_> = products.0.into_iter().map(|product| product.0).collect();
        let (day, nodes) = (on.map(|day| day.0), nodes.unwrap_or(USUAL_NODES));
        Ok(ProductMix(watched(py, seconds.as_ref(), |watch| self.0.best_mix_watched(&products, day, nodes, watch))?))
    }

    /// The ids are those of some catalogue already, and are not looked up again.
    #[classmethod]
    fn _of(_class: &Bound<'_, PyType>, lots: Vec<StockLot>, currency: &str) -> Outcome<Self> {
        Ok(Stock(stock(lots, currency)?))
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> Outcome<Reduced<'py>> {
        let lots: Vec<StockLot> = self.0.lots().iter().cloned().map(StockLot).collect();
        Ok((py.get_type::<Stock>().getattr("_of")?, (lots, self.currency()).into_pyobject(py)?))
    }

    fn __repr__(&self) -> String {
        format!("<Stock of {} lots in {}>", self.0.lots().len(), self.0.currency())
    }
}

record! {
    "tenside.cost",
    /// What the stock gives of one raw material.
    MaterialInStock of &tenside::cost::MaterialInStock, |material| {
        /// The raw material.
        material: String = material.material.clone(),
        /// Grams that may be used on the day.
        usable: Fraction = Fraction(material.usable.grams().clone()),
        /// Grams that one bar takes.
        per_bar: Fraction = Fraction(material.per_bar.grams().clone()),
        /// For how many bars it would be enough alone.
        bars: u64 = material.bars,
        /// Grams left when as many bars are made as all of them allow.
        left: Fraction = Fraction(material.left.grams().clone()),
    }
}

/// How many bars of a formula the stock is good for.
///
/// >>> bar = td.Formula("Plain bar", {"sci-powder": 60, "kaolin": 40}, td.Catalogue.starter())
/// >>> bars = bar.bars_from_stock(td.cost.Stock([td.cost.StockLot("sci-powder", "1 kg"), td.cost.StockLot("kaolin", "1 kg")]), "66 g")
/// >>> bars.bars, bars.runs_out_first
/// (25, ['sci-powder'])
#[pyclass(frozen, eq, module = "tenside.cost")]
#[derive(Clone, PartialEq)]
pub(crate) struct BarsFromStock(pub(crate) tenside::cost::BarsFromStock);

shown!(BarsFromStock, |it| it.0.page());
value!(BarsFromStock, |it| (it.formula().title(), it.bars()));

arrow!(BarsFromStock, |it, _py| batch_of(it.materials())?);

document!(BarsFromStock, |it| &it.0, back by tenside::cost::BarsFromStock);

getters!(BarsFromStock {
    /// The formula.
    formula: Formula = |it| Formula(it.formula().clone());
    /// How many bars.
    bars: u64 = |it| it.bars();
    /// What is too little for one bar more.
    runs_out_first: Vec<String> = |it| it.runs_out_first().into_iter().map(str::to_string).collect();
    /// Every raw material, in the order of the formula.
    materials: Rows<MaterialInStock> = |it| it.materials().iter().map(MaterialInStock::from).collect();
    /// What to know: lots that could not be used, and raw materials of which nothing is in stock.
    notes: Vec<String> = |it| it.notes();
    /// How many bars, and what each raw material allows.
    page: Page = |it| Page(it.page());
});

#[pymethods]
impl BarsFromStock {
    fn __repr__(&self) -> String {
        format!("<BarsFromStock: {} of {:?}>", self.0.bars(), self.0.formula().title())
    }
}

#[pymethods]
impl Formula {
    /// How many bars the `stock` is good for if a `mass` is weighed in for each, `on` a day. A premix of which something
    /// usable is in stock is taken as such, and a note says so, since more of it could be made of its parts; any other is
    /// taken as its parts. A raw material that is not in stock allows no bar.
    #[pyo3(signature = (stock, mass, *, on=None))]
    fn bars_from_stock(&self, stock: &Stock, mass: AMass, on: Option<Day>) -> Outcome<BarsFromStock> {
        Ok(BarsFromStock(self.0.bars_from_stock(&stock.0, &mass.0, on.map(|day| day.0))?))
    }
}

/// A product that could be made: pieces (bars, or whole batches) of a formula, for each of which a `mass` is weighed
/// in, and which are worth a `value`: what each of them earns beyond what it costs to make. No more than `most` can be
/// sold.
///
/// >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
/// >>> td.cost.PlannedProduct(clay, "66 g", "2.40", most=100)
/// PlannedProduct(formula="Clay", grams=66, value=2.4, most=100)
#[pyclass(frozen, eq, from_py_object, module = "tenside.cost")]
#[derive(Clone, PartialEq)]
pub(crate) struct PlannedProduct(pub(crate) tenside::cost::PlannedProduct);

value!(PlannedProduct, |it| it.formula().title());

getters!(PlannedProduct {
    /// The formula.
    formula: Formula = |it| Formula(it.formula().clone());
    /// Grams weighed in for one piece.
    grams: Fraction = |it| Fraction(it.charged().grams().clone());
    /// What one is worth.
    value: Fraction = |it| Fraction(it.value().clone());
    /// How many can be sold, if that is limited.
    most: Option<u32> = |it| it.most();
});

#[pymethods]
impl PlannedProduct {
    #[new]
    #[pyo3(signature = (formula, mass, value, *, most=None))]
    fn new(formula: &Formula, mass: AMass, value: Number, most: Option<u32>) -> Outcome<Self> {
        let product = tenside::cost::PlannedProduct::new(formula.0.clone(), mass.0, value.0)?;
        Ok(PlannedProduct(match most {
            Some(most) => product.at_most(most)?,
            None => product,
        }))
    }

    fn __getnewargs_ex__<'py>(&self, py: Python<'py>) -> PyResult<((Formula, String, Fraction), Keywords<'py>)> {
        let keywords = IndexMap::from([("most", self.most().into_pyobject(py)?.into_any())]);
        Ok(((self.formula(), self.0.charged().to_string(), self.value()), keywords))
    }

    fn __repr__(&self) -> String {
        let most = self.0.most().map_or_else(String::new, |most| format!(", most={most}"));
        format!(
            "PlannedProduct(formula={:?}, grams={}, value={}{most})",
            self.0.formula().title(),
            self.0.charged().grams(),
            self.0.value()
        )
    }
}

record! {
    "tenside.cost",
    /// What a product comes to in a mix.
    MixRow of &tenside::cost::MixRow, |row| {
        /// The title of its formula.
        product: String = row.product.clone(),
        /// How many pieces.
        pieces: u64 = row.pieces,
        /// What they are worth together.
        value: Fraction = Fraction(row.value.clone()),
    }
}

record! {
    "tenside.cost",
    /// What a raw material comes to in a mix.
    MixMaterial of &tenside::cost::MixMaterial, |material| {
        /// The raw material.
        material: String = material.material.clone(),
        /// Grams that may be used on the day.
        usable: Fraction = Fraction(material.usable.grams().clone()),
        /// Grams used.
        used: Fraction = Fraction(material.used.grams().clone()),
        /// Grams left.
        left: Fraction = Fraction(material.left.grams().clone()),
    }
}

/// The products of a stock that are worth the most together, or the best mix that a search found.
///
/// >>> clay = td.cost.PlannedProduct(td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter()), "66 g", "2.40")
/// >>> mix = td.cost.Stock([td.cost.StockLot("kaolin", "1 kg")], currency="EUR").best_mix([clay])
/// >>> mix.rows[0].pieces, mix.value, mix.verify()
/// (15, Fraction(36, 1), True)
#[pyclass(frozen, eq, module = "tenside.cost")]
#[derive(Clone, PartialEq)]
pub(crate) struct ProductMix(pub(crate) tenside::cost::ProductMix);

shown!(ProductMix, |it| it.0.page());
value!(ProductMix, |it| (it.currency(), it.value()));

arrow!(ProductMix, |it, _py| batch_of(it.rows())?);

document!(ProductMix, |it| &it.0, back watched by tenside::cost::ProductMix);

getters!(ProductMix {
    /// The currency of the values.
    currency: String = |it| it.currency().to_string();
    /// Each product, in the order given.
    rows: Rows<MixRow> = |it| it.rows().iter().map(MixRow::from).collect();
    /// Each raw material, in the order in which products first take it.
    materials: Rows<MixMaterial> = |it| it.materials().iter().map(MixMaterial::from).collect();
    /// What they are worth together.
    value: Fraction = |it| Fraction(it.value().clone());
    /// No mix is worth more that takes the premixes in stock as such; the notes name those.
    bound: Fraction = |it| Fraction(it.bound().clone());
    /// By how much another could be worth more: 0 where none is.
    gap: Fraction = |it| Fraction(it.gap());
    /// True if no such mix is worth more, as `bound` says.
    is_best: bool = |it| it.is_best();
    /// How many linear programs it took.
    nodes: usize = |it| it.nodes();
    /// How many it might have taken; where the clock ended it, how many that were.
    node_limit: usize = |it| it.node_limit();
    /// What to know: lots that could not be used, raw materials of which nothing is in stock, and whether it is proved.
    notes: Vec<String> = |it| it.notes();
    /// How many of each product, and what becomes of the stock.
    page: Page = |it| Page(it.page());
});

#[pymethods]
impl ProductMix {
    /// Checks the proof without the search. True, or Contradiction with what does not hold.
    fn verify(&self, py: Python<'_>) -> Outcome<bool> {
        py.detach(|| self.0.verify())?;
        Ok(true)
    }

    fn __repr__(&self) -> String {
        format!(
            "<ProductMix of {} products, {} {}>",
            self.0.rows().len(),
            self.0.value().rounded_text(2),
            self.0.currency()
        )
    }
}
