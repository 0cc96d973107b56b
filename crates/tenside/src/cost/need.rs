//! What planned batches need, and what of it the stock covers.

use std::sync::Arc;

use indexmap::IndexMap;

use super::stock::{Stock, StockLot};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{Formula, Line};
use crate::material::Material;
use crate::number::{Date, Exact, Mass};

/// A batch that is to be made: of what, how much is weighed in, and when.
///
/// ```
/// use tenside::cost::PlannedBatch;
/// use tenside::prelude::*;
/// let shelf = Catalogue::starter();
/// let clay = Formula::new("Clay", vec![Line::new("kaolin", shelf.material("kaolin")?.clone(), Ppm::WHOLE)?])?;
/// let batch = PlannedBatch::new(clay.clone(), "2 kg".parse()?)?.on("2026-12-01".parse()?);
/// assert!(PlannedBatch::new(clay, "0 g".parse()?).is_err());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedBatch {
    formula: Formula,
    charged: Mass,
    on: Option<Date>,
}

getters!(PlannedBatch {
    /// The formula.
    formula: &Formula,
    /// What is weighed in.
    charged: &Mass,
});

impl PlannedBatch {
    /// A batch of a formula.
    ///
    /// # Errors
    /// No mass at all.
    pub fn new(formula: Formula, charged: Mass) -> Result<Self, Error> {
        if charged.grams().is_zero() {
            let fault = Fault::new(FaultKind::OutOfRange, "the batch is 0").at(format!("{:?}", formula.title()));
            return Err(fault.value("0 g").allowed("above 0 g, to a hundred tonnes").into());
        }
        Ok(PlannedBatch { formula, charged, on: None })
    }

    /// That is made on a day: only what may be used on it counts as stock.
    #[must_use]
    pub fn on(mut self, day: Date) -> Self {
        self.on = Some(day);
        self
    }

    /// The day, if stated.
    #[must_use]
    pub fn day(&self) -> Option<Date> {
        self.on
    }
}

/// What one gram of a formula takes of each raw material. A premix that is `known` is taken as such, any other as its
/// parts.
pub(super) fn shares(formula: &Formula, known: &dyn Fn(&str) -> bool) -> IndexMap<String, (Arc<Material>, Exact)> {
    let mut shares = IndexMap::new();
    // A premix within a premix stands before its parts; each is looked at once for each way to it.
    let mut open: Vec<(Arc<Material>, Exact)> =
        formula.lines().iter().rev().map(|line| (Arc::clone(line.material()), line.percent().share())).collect();
    while let Some((material, share)) = open.pop() {
        let parts = material.composition().parts();
        if share.is_zero() {
            continue;
        }
        if parts.is_empty() || known(material.id()) {
            let entry = shares.entry(material.id().to_string()).or_insert_with(|| (Arc::clone(&material), Exact::ZERO));
            entry.1 += &share;
            continue;
        }
        open.extend(parts.iter().rev().map(|(part, of_whole)| (Arc::clone(part), &share * of_whole.share())));
    }
    shares
}

/// What a raw material is needed for all batches together.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Needed {
    pub(super) material: Arc<Material>,
    pub(super) grams: Exact,
    pub(super) from_stock: Exact,
}

impl Needed {
    /// What the stock does not cover.
    pub(super) fn short(&self) -> Exact {
        &self.grams - &self.from_stock
    }

    pub(super) fn is_premix(&self) -> bool {
        !self.material.composition().parts().is_empty()
    }
}

/// What batches need by raw material, in the order in which they first name it, with what the stock covers, of parts of
/// premixes too, of which it may be nothing; and of each lot what is taken. What the lots of a premix do not cover is
/// needed of the premix where it is taken `as_such`, else of its parts.
///
/// Batches are served in the order of their days and take the lots that are to be used first: what a lot cannot be used
/// for any more, no later batch could use either, so no other order uses more of the stock.
pub(super) fn needs(
    batches: &[PlannedBatch],
    stock: Option<&Stock>,
    as_such: &dyn Fn(&str) -> bool,
) -> Result<(IndexMap<String, Needed>, Vec<Exact>), Error> {
    let lots = stock.map_or(&[][..], Stock::lots);
    let mut first_used: Vec<usize> = (0..lots.len()).collect();
    first_used.sort_by_key(|lot| (lots[*lot].use_by().is_none(), lots[*lot].use_by()));
    let taken = vec![Exact::ZERO; lots.len()];
    let mut served = Served { lots, first_used, as_such, needed: IndexMap::new(), taken, faults: Vec::new() };
    let lines = |batch: &PlannedBatch| -> Vec<(Arc<Material>, Exact)> {
        let of = |line: &Line| (Arc::clone(line.material()), line.percent().share() * batch.charged.grams());
        batch.formula.lines().iter().filter(|line| !line.percent().is_zero()).map(of).collect()
    };
    // In the order in which the batches were given.
    for (material, _) in batches.iter().flat_map(lines) {
        list(&material, &mut served.needed);
    }
    let mut by_day: Vec<&PlannedBatch> = batches.iter().collect();
    by_day.sort_by_key(|batch| (batch.on.is_none(), batch.on));
    for batch in by_day {
        for (material, grams) in lines(batch) {
            served.serve(batch, &material, grams);
        }
    }
    let Served { needed, taken, faults, .. } = served;
    Error::check(faults, (needed, taken))
}

/// Lists a material, and what it may be made of, with nothing needed yet.
fn list(material: &Arc<Material>, into: &mut IndexMap<String, Needed>) {
    let none = || Needed { material: Arc::clone(material), grams: Exact::ZERO, from_stock: Exact::ZERO };
    into.entry(material.id().to_string()).or_insert_with(none);
    material.composition().parts().iter().for_each(|(part, _)| list(part, into));
}

/// Needs while batch after batch is served from the stock.
struct Served<'a> {
    lots: &'a [StockLot],
    first_used: Vec<usize>,
    as_such: &'a dyn Fn(&str) -> bool,
    needed: IndexMap<String, Needed>,
    taken: Vec<Exact>,
    faults: Vec<Fault>,
}

impl Served<'_> {
    fn serve(&mut self, batch: &PlannedBatch, material: &Arc<Material>, grams: Exact) {
        let mut missing = grams;
        for &lot in &self.first_used {
            let stored = &self.lots[lot];
            if stored.material() != material.id() {
                continue;
            }
            match stored.is_usable(batch.on) {
                Ok(true) => {
                    let used = missing.clone().min(stored.left().grams() - &self.taken[lot]);
                    self.taken[lot] += &used;
                    missing -= &used;
                    if let Some(need) = self.needed.get_mut(material.id()) {
                        need.from_stock += &used;
                        need.grams += &used;
                    }
                }
                Ok(false) => {}
                Err(error) => {
                    let faults = error.within(&format!("{:?}", batch.formula.title())).into_faults();
                    let new: Vec<Fault> = faults.into_iter().filter(|fault| !self.faults.contains(fault)).collect();
                    self.faults.extend(new);
                }
            }
        }
        let parts = material.composition().parts();
        if parts.is_empty() || (self.as_such)(material.id()) {
            if let Some(need) = self.needed.get_mut(material.id()) {
                need.grams += &missing;
            }
        } else if missing.is_positive() {
            parts.iter().for_each(|(part, of_whole)| self.serve(batch, part, &missing * of_whole.share()));
        }
    }
}
