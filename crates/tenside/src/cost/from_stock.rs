//! How many bars the stock is good for, and what runs out first.

use indexmap::IndexSet;

use super::need::shares;
use super::stock::Stock;
use crate::error::{Error, Fault, FaultKind};
use crate::formula::Formula;
use crate::material::Material;
use crate::number::{Date, Exact, Mass, MassUnit};

/// What the stock gives of one raw material.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct MaterialInStock {
    /// The raw material's id.
    pub material: String,
    /// What may be used of it on the day.
    pub usable: Mass,
    /// What one bar takes of it.
    pub per_bar: Mass,
    /// For how many bars it would be enough alone.
    pub bars: u64,
    /// What of it is left when as many bars are made as all of them allow.
    pub left: Mass,
}

/// How many bars of a formula the stock is good for.
#[derive(Clone, Debug, PartialEq)]
pub struct BarsFromStock {
    pub(super) formula: Formula,
    pub(super) stock: Stock,
    pub(super) charged: Mass,
    pub(super) on: Option<Date>,
    bars: u64,
    materials: Vec<MaterialInStock>,
}

/// What may be used of a raw material on a day.
pub(super) fn usable(stock: &Stock, material: &str, on: Option<Date>) -> Result<Exact, Error> {
    let mut sum = Exact::ZERO;
    for lot in stock.lots().iter().filter(|lot| lot.material() == material) {
        if lot.is_usable(on)? {
            sum += lot.left().grams();
        }
    }
    Ok(sum)
}

/// True of a material that is or holds one of that id.
fn holds(material: &Material, id: &str) -> bool {
    material.id() == id || material.composition().parts().iter().any(|(part, _)| holds(part, id))
}

/// The lots that are there, belong to these formulas and may not be used on a day, in words.
pub(super) fn past_use<'a>(
    stock: &Stock,
    on: Option<Date>,
    formulas: impl Iterator<Item = &'a Formula> + Clone,
) -> Vec<String> {
    let lines = || formulas.clone().flat_map(Formula::lines).filter(|line| !line.percent().is_zero());
    let past = stock.lots().iter().filter(|lot| {
        lot.is_usable(on).is_ok_and(|usable| !usable) && lines().any(|line| holds(line.material(), lot.material()))
    });
    past.map(|lot| {
        format!(
            "{} is to be used by {} and is left out",
            lot.words(),
            lot.use_by().map_or_else(String::new, |day| day.to_string())
        )
    })
    .collect()
}

/// The premixes that are taken as such since some of them is in stock, in words.
pub(super) fn as_such<'a>(stock: &Stock, on: Option<Date>, formulas: impl Iterator<Item = &'a Formula>) -> Vec<String> {
    let taken = formulas.flat_map(|formula| shares(formula, &|id| stock.has(id, on)));
    let premixes = taken.filter(|(_, (material, _))| !material.composition().parts().is_empty());
    let names: IndexSet<String> = premixes.map(|(id, _)| id).collect();
    let note =
        |id: String| format!("the premix {id:?} is in stock and taken as such: more of it could be made of its parts");
    names.into_iter().map(note).collect()
}

/// The lots that are counted for lines of another lot, in words: what they hold is not what the formula was worked out
/// with.
pub(super) fn other_lots<'a>(stock: &Stock, formulas: impl Iterator<Item = &'a Formula>) -> Vec<String> {
    let mut notes = Vec::new();
    for formula in formulas {
        let ofs = formula.lines().iter().filter_map(|line| Some((line.material(), line.material().lot()?)));
        for (material, lot) in ofs {
            let others = stock
                .lots()
                .iter()
                .filter(|other| other.material() == material.id() && other.name().is_none_or(|name| name != lot.id()));
            notes.extend(others.map(|other| {
                format!(
                    "{:?} was worked out with lot {:?}, and {} counts as well",
                    formula.title(),
                    lot.id(),
                    other.words()
                )
            }));
        }
    }
    notes
}

impl Formula {
    /// How many bars the stock is good for if so much is weighed in for each, on a day. A premix of which something
    /// usable is in stock is taken as such, and a note says so, since more of it could be made of its parts; any other
    /// is taken as its parts. A raw material that is not in stock allows no bar.
    ///
    /// ```
    /// use tenside::cost::{Stock, StockLot};
    /// use tenside::prelude::*;
    /// let shelf = Catalogue::starter();
    /// let line = |id: &str, percent: &str| Line::new(id, shelf.material(id)?.clone(), Ppm::from_percent(percent)?);
    /// let bar = Formula::new("Plain bar", vec![line("sci-powder", "60")?, line("kaolin", "40")?])?;
    /// let lot = |id: &str, left: &str| StockLot::new(id, left.parse()?);
    /// let stock = Stock::new("EUR")?.with_lot(lot("sci-powder", "1 kg")?)?.with_lot(lot("kaolin", "1 kg")?)?;
    /// let bars = bar.bars_from_stock(&stock, &"66 g".parse()?, None)?;
    /// assert_eq!((bars.bars(), bars.runs_out_first()), (25, vec!["sci-powder"]));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// Bars of nothing, and a lot with a last day where no day is stated.
    pub fn bars_from_stock(&self, stock: &Stock, charged: &Mass, on: Option<Date>) -> Result<BarsFromStock, Error> {
        if charged.grams().is_zero() {
            let fault = Fault::new(FaultKind::OutOfRange, "a bar of nothing").value("0 g").allowed("above 0 g");
            return Err(fault.remedy("state what is weighed in for one bar").into());
        }
        let mut materials = Vec::new();
        for (material, (_, share)) in shares(self, &|id| stock.has(id, on)) {
            let (usable, per_bar) = (usable(stock, &material, on)?, share * charged.grams());
            // Every share is above 0.
            let bars = usable.checked_div(&per_bar).map_or(0, |bars| bars.floor_i64().unwrap_or(i64::MAX));
            let usable =
                Mass::new(&usable, MassUnit::Gram).map_err(|error| error.within(&format!("stock of {material:?}")))?;
            materials.push(MaterialInStock {
                material,
                left: usable.clone(),
                usable,
                per_bar: Mass::new(&per_bar, MassUnit::Gram)?,
                bars: u64::try_from(bars).unwrap_or(0),
            });
        }
        let bars = materials.iter().map(|material| material.bars).min().unwrap_or(0);
        let count: Exact = bars.to_string().parse()?;
        for material in &mut materials {
            material.left = Mass::new(&(material.usable.grams() - material.per_bar.grams() * &count), MassUnit::Gram)?;
        }
        Ok(BarsFromStock { formula: self.clone(), stock: stock.clone(), charged: charged.clone(), on, bars, materials })
    }
}

getters!(BarsFromStock {
    /// The formula.
    formula: &Formula,
    /// How many bars.
    bars: u64,
    /// Every raw material, in the order of the formula.
    materials: &[MaterialInStock],
});

impl BarsFromStock {
    /// What is too little for one bar more.
    #[must_use]
    pub fn runs_out_first(&self) -> Vec<&str> {
        self.materials
            .iter()
            .filter(|material| material.bars == self.bars)
            .map(|material| material.material.as_str())
            .collect()
    }

    /// What to know: lots that could not be used, premixes that are taken as such, lots that stand for another one, and
    /// raw materials of which nothing is in stock.
    #[must_use]
    pub fn notes(&self) -> Vec<String> {
        let mut notes = past_use(&self.stock, self.on, std::iter::once(&self.formula));
        notes.extend(as_such(&self.stock, self.on, std::iter::once(&self.formula)));
        notes.extend(other_lots(&self.stock, std::iter::once(&self.formula)));
        let none = self.materials.iter().filter(|material| !self.stock.names(&material.material));
        notes.extend(none.map(|material| format!("{:?} is not in stock", material.material)));
        notes
    }
}
