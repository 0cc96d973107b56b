//! Many records: which batches a lot went into.

use super::BatchRecord;
use crate::document::shown;
use crate::error::{Error, Fault, FaultKind};
use crate::formula::Line;
use crate::number::{Date, Mass, MassUnit};

/// So much of a lot in a batch.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct LotInBatch {
    /// The lot.
    pub lot: String,
    /// The raw material.
    pub material: String,
    /// The batch number.
    pub batch: Option<String>,
    /// The day of the batch.
    pub date: Option<Date>,
    /// The product.
    pub product: String,
    /// The line.
    pub line: String,
    /// How much of the lot is in the batch; for a lot in a premix its part of the premix.
    pub mass: Mass,
    /// False where the batch is recorded as planned only, and not as made.
    pub is_made: bool,
}

/// A set of records.
///
/// ```
/// use std::sync::Arc;
/// use tenside::batch::{BatchRecord, BatchSize, Records, Scales};
/// use tenside::catalogue::Catalogue;
/// use tenside::formula::{Formula, Line};
/// use tenside::material::{Certificate, Lot};
/// use tenside::number::Ppm;
/// let lot = Arc::new(Lot::new("K-9", "kaolin", Certificate::default())?);
/// let clay = Arc::new(Catalogue::starter().material("kaolin")?.with_lot(&lot)?.0);
/// let formula = Formula::new("Clay", vec![Line::new("clay", clay, Ppm::WHOLE)?])?;
/// let batch = formula.batch(BatchSize::of_mass("200 g".parse()?)?, Scales::new("1 g".parse()?)?)?.numbered("7")?;
/// let records = Records::new(vec![BatchRecord::new(&batch)])?;
/// assert_eq!(records.batches_using("K-9")[0].batch.as_deref(), Some("7"));
/// assert!(records.batches_using("K-8").is_empty());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Records(Vec<BatchRecord>);

impl Records {
    /// These records, in the order given.
    ///
    /// # Errors
    /// Two records of one batch number.
    pub fn new(records: Vec<BatchRecord>) -> Result<Self, Error> {
        let mut numbers: Vec<&str> = Vec::new();
        let mut faults = Vec::new();
        for (place, record) in records.iter().enumerate() {
            let Some(number) = record.batch().number() else { continue };
            if numbers.contains(&number) {
                let fault = Fault::new(FaultKind::Duplicate, "two records have the same batch number")
                    .at(format!("record {}", place + 1));
                faults.push(fault.value(shown(number)).remedy("keep the one that holds, or correct a number"));
            }
            numbers.push(number);
        }
        Error::check(faults, ())?;
        Ok(Records(records))
    }

    /// The records.
    #[must_use]
    pub fn records(&self) -> &[BatchRecord] {
        &self.0
    }

    /// Every lot in every batch, lots in premixes included.
    #[must_use]
    pub fn lot_uses(&self) -> Vec<LotInBatch> {
        self.0.iter().flat_map(uses).collect()
    }

    /// The batches that a lot went into, as made where that is recorded.
    #[must_use]
    pub fn batches_using(&self, lot: &str) -> Vec<LotInBatch> {
        self.0.iter().flat_map(uses).filter(|found| found.lot == lot).collect()
    }
}

fn uses(record: &BatchRecord) -> Vec<LotInBatch> {
    let planned = |line: &Line| {
        record
            .batch()
            .weighings()
            .iter()
            .find(|weighing| weighing.line().name() == line.name())
            .map(|weighing| weighing.rounded().clone())
    };
    let masses: Vec<(&Line, Mass)> = match record.made() {
        Some(made) => made.lines().iter().map(|line| (line.line(), line.mass().clone())).collect(),
        None => record.lines().iter().filter_map(|line| Some((line, planned(line)?))).collect(),
    };
    let mut found: Vec<LotInBatch> = Vec::new();
    for (line, mass) in masses.iter().filter(|(_, mass)| !mass.grams().is_zero()) {
        let whole = line.material().lot().map(|lot| (lot, line.material().id(), mass.clone()));
        let is_premix = !line.material().leaves().iter().any(|(leaf, _)| std::ptr::eq(*leaf, line.material().as_ref()));
        let parts = line.material().leaves().into_iter().filter(|_| is_premix).filter_map(|(leaf, share)| {
            let mass = Mass::new(&(mass.grams() * share), MassUnit::Gram).ok()?;
            Some((leaf.lot()?, leaf.id(), mass))
        });
        for (lot, material, mass) in whole.into_iter().chain(parts) {
            found.push(LotInBatch {
                lot: lot.id().to_string(),
                material: material.to_string(),
                batch: record.batch().number().map(str::to_string),
                date: record.batch().date(),
                product: record.batch().formula().title().to_string(),
                line: line.name().to_string(),
                mass,
                is_made: record.made().is_some(),
            });
        }
    }
    found
}
