//! The best mix of products from a limited stock.

use std::sync::Arc;

use indexmap::IndexMap;
use tenside_lp::mixed::{Limits, MixedProgram, Tree};
use tenside_lp::{Column, Program, Row, dot};

use super::from_stock::{as_such, other_lots, past_use, usable};
use super::need::shares;
use super::offer::{amount, counted};
use super::stock::Stock;
use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};
use crate::formula::Formula;
use crate::number::ToExact;
use crate::number::{Date, Exact, Mass, MassUnit};
use crate::watch::{Watch, Watched};

/// The usual limit of a search, in linear programs.
pub const USUAL_NODES: usize = 4000;

/// A product that could be made: whole pieces of a formula, each worth something.
///
/// ```
/// use tenside::cost::PlannedProduct;
/// use tenside::prelude::*;
/// let shelf = Catalogue::starter();
/// let clay = Formula::new("Clay", vec![Line::new("kaolin", shelf.material("kaolin")?.clone(), Ppm::WHOLE)?])?;
/// let product = PlannedProduct::new(clay, "66 g".parse()?, "2.40")?.at_most(100)?;
/// assert_eq!(product.most(), Some(100));
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedProduct {
    formula: Formula,
    charged: Mass,
    value: Exact,
    most: Option<u32>,
}

getters!(PlannedProduct {
    /// The formula.
    formula: &Formula,
    /// What is weighed in for one.
    charged: &Mass,
    /// What one is worth.
    value: &Exact,
    /// How many can be sold, if that is limited.
    most: Option<u32>,
});

impl PlannedProduct {
    /// Pieces (bars, or whole batches) for each of which so much is weighed in, and which are worth so much: what each
    /// of them earns beyond what it costs to make.
    ///
    /// # Errors
    /// Pieces of nothing, and a negative value.
    pub fn new(formula: Formula, charged: Mass, value: impl ToExact) -> Result<Self, Error> {
        let place = format!("{:?}", formula.title());
        if charged.grams().is_zero() {
            return Err(Fault::new(FaultKind::OutOfRange, "a piece of nothing")
                .at(place)
                .value("0 g")
                .allowed("above 0 g")
                .into());
        }
        let value = amount(value, &place)?;
        Ok(PlannedProduct { formula, charged, value, most: None })
    }

    /// Of which no more can be sold.
    ///
    /// # Errors
    /// None, and more than ten million.
    pub fn at_most(mut self, pieces: u32) -> Result<Self, Error> {
        Quantity::Bars
            .check(&Exact::from(pieces))
            .map_err(|error| error.within(&format!("{:?}", self.formula.title())))?;
        self.most = Some(pieces);
        Ok(self)
    }
}

/// What a product comes to in a mix.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct MixRow {
    /// The title of its formula.
    pub product: String,
    /// How many pieces.
    pub pieces: u64,
    /// What they are worth together.
    pub value: Exact,
}

/// What a raw material comes to in a mix.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct MixMaterial {
    /// The raw material's id.
    pub material: String,
    /// What may be used of it on the day.
    pub usable: Mass,
    /// What is used.
    pub used: Mass,
    /// What is left.
    pub left: Mass,
}

/// The products of a stock that are worth the most together.
#[derive(Clone, Debug, PartialEq)]
pub struct ProductMix {
    pub(super) stock: Stock,
    pub(super) products: Vec<PlannedProduct>,
    pub(super) on: Option<Date>,
    pub(super) limit: usize,
    rows: Vec<MixRow>,
    materials: Vec<MixMaterial>,
    value: Exact,
    bound: Exact,
    tree: Tree,
}

/// The question as a program: a column a product, a row a raw material.
struct Question {
    mixed: MixedProgram,
    materials: Vec<(String, Exact, Vec<Exact>)>,
}

impl Question {
    fn new(stock: &Stock, products: &[PlannedProduct], on: Option<Date>) -> Result<Self, Error> {
        if products.is_empty() {
            return Err(Fault::new(FaultKind::Missing, "no product is planned")
                .at("products")
                .remedy("say what could be made")
                .into());
        }
        Quantity::Planned.check(&counted(products.len()))?;
        for (index, product) in products.iter().enumerate() {
            if products[..index].iter().any(|other| other.formula.title() == product.formula.title()) {
                let fault = Fault::new(FaultKind::Duplicate, "two products have the same title")
                    .value(format!("{:?}", product.formula.title()));
                return Err(fault.remedy("give one of the formulas another title").into());
            }
        }
        let mut uses: IndexMap<String, Vec<Exact>> = IndexMap::new();
        for (index, product) in products.iter().enumerate() {
            for (material, (_, share)) in shares(&product.formula, &|id| stock.has(id, on)) {
                uses.entry(material).or_insert_with(|| vec![Exact::ZERO; products.len()])[index] =
                    share * product.charged.grams();
            }
        }
        let mut materials = Vec::new();
        for (material, uses) in uses {
            materials.push((material.clone(), usable(stock, &material, on)?, uses));
        }
        let column = |(index, product): (usize, &PlannedProduct)| {
            // What the stock allows of it alone: a formula takes something of at least one raw material.
            let alone = materials
                .iter()
                .filter_map(|(_, usable, uses)| usable.checked_div(&uses[index]))
                .min()
                .unwrap_or_default();
            let most = product.most.map_or_else(|| alone.clone(), |most| alone.clone().min(Exact::from(most)));
            Column { low: Some(Exact::ZERO), high: Some(most.floor_to(&Exact::ONE)), cost: -&product.value }
        };
        let columns = products.iter().enumerate().map(column).collect();
        let rows = materials
            .iter()
            .map(|(_, usable, uses)| Row { coefficients: uses.clone(), low: None, high: Some(usable.clone()) })
            .collect();
        let mixed =
            MixedProgram::new(Program::new(columns, rows)?, products.len(), vec![Some(Exact::ONE); products.len()])?;
        Ok(Question { mixed, materials })
    }
}

impl Stock {
    /// The mix of products that are worth the most together, of what may be used on a day; in up to so many linear
    /// programs, after which it gives the best found and how much better another could be.
    ///
    /// ```
    /// use tenside::cost::{PlannedProduct, Stock, StockLot};
    /// use tenside::prelude::*;
    /// let shelf = Catalogue::starter();
    /// let line = |id: &str, percent: &str| Line::new(id, shelf.material(id)?.clone(), Ppm::from_percent(percent)?);
    /// let rich = Formula::new("Rich", vec![line("sci-powder", "80")?, line("kaolin", "20")?])?;
    /// let plain = Formula::new("Plain", vec![line("sci-powder", "40")?, line("kaolin", "60")?])?;
    /// let lot = |id: &str, left: &str| StockLot::new(id, left.parse()?);
    /// let stock = Stock::new("EUR")?.with_lot(lot("sci-powder", "1 kg")?)?.with_lot(lot("kaolin", "1 kg")?)?;
    /// let products = [PlannedProduct::new(rich, "100 g".parse()?, 3)?, PlannedProduct::new(plain, "100 g".parse()?, 2)?];
    /// let mix = stock.best_mix(&products, None, 1000)?;
    /// assert_eq!((mix.rows()[0].pieces, mix.rows()[1].pieces, mix.value().to_string()), (5, 15, "45".to_string()));
    /// assert!(mix.is_best());
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// No product, two of the same title, no linear program at all, and a lot with a last day where no day is stated.
    pub fn best_mix(&self, products: &[PlannedProduct], on: Option<Date>, nodes: usize) -> Result<ProductMix, Error> {
        self.mix(products, on, nodes, &Watched::default())
    }

    /// As [`Stock::best_mix`], watched by someone who may stop it.
    ///
    /// # Errors
    /// Those of [`Stock::best_mix`], and stopped work.
    pub fn best_mix_watched(
        &self,
        products: &[PlannedProduct],
        on: Option<Date>,
        nodes: usize,
        watch: Arc<dyn Watch>,
    ) -> Result<ProductMix, Error> {
        self.mix(products, on, nodes, &Watched::by(watch))
    }

    fn mix(
        &self,
        products: &[PlannedProduct],
        on: Option<Date>,
        nodes: usize,
        watch: &Watched,
    ) -> Result<ProductMix, Error> {
        if nodes == 0 {
            return Err(Fault::new(FaultKind::OutOfRange, "a search of no linear program finds nothing")
                .value(0)
                .allowed("at least 1")
                .into());
        }
        let Question { mixed, materials } = Question::new(self, products, on)?;
        let found = mixed.search(Limits { nodes, any: false, halt: watch })?;
        // Where the watch ended the search, asked again with this limit it ends there too.
        let limit = if found.complete { nodes } else { nodes.min(found.tree.nodes()) };
        // Nothing of anything is a mix too, and the search may end before it finds another.
        let counts = found.best.unwrap_or_else(|| vec![Exact::ZERO; products.len()]);
        let value = dot(products.iter().map(|product| &product.value), &counts);
        let bound = if found.complete {
            value.clone()
        } else {
            found.tree.bound().map_or_else(|| value.clone(), |least| -least)
        };
        let row = |(product, count): (&PlannedProduct, &Exact)| MixRow {
            product: product.formula.title().to_string(),
            pieces: count.to_whole().and_then(|count| u64::try_from(count).ok()).unwrap_or(0),
            value: &product.value * count,
        };
        let rows = products.iter().zip(&counts).map(row).collect();
        let material = |(material, usable, uses): &(String, Exact, Vec<Exact>)| {
            let mass = |grams: &Exact| {
                Mass::new(grams, MassUnit::Gram).map_err(|error| error.within(&format!("stock of {material:?}")))
            };
            let used: Exact = uses.iter().zip(&counts).map(|(each, count)| each * count).sum();
            Ok(MixMaterial {
                material: material.clone(),
                usable: mass(usable)?,
                used: mass(&used)?,
                left: mass(&(usable - &used))?,
            })
        };
        let materials = materials.iter().map(material).collect::<Result<_, Error>>()?;
        Ok(ProductMix {
            stock: self.clone(),
            products: products.to_vec(),
            on,
            limit,
            rows,
            materials,
            value,
            bound,
            tree: found.tree,
        })
    }
}

getters!(ProductMix {
    /// Each product, in the order given.
    rows: &[MixRow],
    /// Each raw material, in the order in which products first take it.
    materials: &[MixMaterial],
    /// What they are worth together.
    value: &Exact,
    /// No mix is worth more that takes the premixes in stock as such; the notes name those.
    bound: &Exact,
});

impl ProductMix {
    /// The currency of the values.
    #[must_use]
    pub fn currency(&self) -> &str {
        self.stock.currency()
    }

    /// By how much another could be worth more: 0 where none is.
    #[must_use]
    pub fn gap(&self) -> Exact {
        &self.bound - &self.value
    }

    /// True where no such mix is worth more, as [`ProductMix::bound`] says.
    #[must_use]
    pub fn is_best(&self) -> bool {
        self.bound == self.value
    }

    /// How many linear programs it took.
    #[must_use]
    pub fn nodes(&self) -> usize {
        self.tree.nodes()
    }

    /// How many it might have taken; where its watch ended it, how many that were.
    #[must_use]
    pub fn node_limit(&self) -> usize {
        self.limit
    }

    /// Checks the proof without the search: every leaf of its tree by its certificate, and that they leave nothing
    /// better possible than the bound.
    ///
    /// # Errors
    /// What does not hold.
    pub fn verify(&self) -> Result<(), Error> {
        let fails = |what: &str| Err(Fault::new(FaultKind::Contradiction, what).at("mix").into());
        let Question { mixed, .. } = Question::new(&self.stock, &self.products, self.on)?;
        let least = mixed.verify(&self.tree, &Watched::default())?;
        if least.is_some_and(|least| -least > self.bound) {
            return fails("the tree leaves a better mix possible than the bound says");
        }
        if self.materials.iter().any(|material| material.used > material.usable) || self.value > self.bound {
            return fails("the mix takes more than there is, or is worth more than the bound");
        }
        Ok(())
    }

    /// What to know: lots that could not be used, lots that stand for another one, raw materials of which nothing is in
    /// stock, and whether it is proved.
    #[must_use]
    pub fn notes(&self) -> Vec<String> {
        let mut notes = Vec::new();
        if !self.is_best() {
            let more = self.gap().rounded_text(2);
            notes.push(format!(
                "not proved: the search ended, and another mix could be worth up to {more} {} more",
                self.currency()
            ));
        }
        let formulas = || self.products.iter().map(PlannedProduct::formula);
        notes.extend(past_use(&self.stock, self.on, formulas()));
        notes.extend(as_such(&self.stock, self.on, formulas()));
        notes.extend(other_lots(&self.stock, formulas()));
        let none = self.materials.iter().filter(|material| !self.stock.names(&material.material));
        notes.extend(none.map(|material| format!("{:?} is not in stock", material.material)));
        notes
    }
}
