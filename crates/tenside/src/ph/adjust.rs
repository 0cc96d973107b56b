//! Bringing a batch from a measured pH to a target, or into a range: the dose with its interval, in portions with a
//! reading between.
//!
//! `dose = (g(target) - g(reading)) * batch / sample`, with `g` the grams of the trial titration over its pH. The
//! target of a range is the pH in it that is nearest to the reading, so that the dose is the least that leads into it,
//! and nothing from inside it. Of what is missing, half of the typical dose is added at a time, or the low end of the
//! interval where that is more: as much as the trial shows not to be too much.

use rust_decimal::Decimal;

use super::Titration;
use super::table::Table;
use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{Formula, Line};
use crate::material::Material;
use crate::number::{Exact, Interval, Mass, MassUnit, Ppm, ToExact, apportion_to};
use crate::reading::Reading;
use crate::render::{Alignment, Page, Part, Table as Rows};

/// One portion, as it was weighed in, and what was read after it.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Portion {
    /// What was added.
    pub added: Mass,
    /// The reading after it, at the dilution of the trial.
    pub reading: Reading,
}

/// How a batch is brought to a pH. Immutable: each portion gives a new one.
///
/// ```
/// use tenside::catalogue::Catalogue;
/// use tenside::formula::{Formula, Line};
/// use tenside::number::Ppm;
/// use tenside::ph::Titration;
/// use tenside::reading::Reading;
/// let catalogue = Catalogue::starter();
/// let points = [("0 g", "7.9"), ("0.2 g", "6.8"), ("0.4 g", "5.9"), ("0.6 g", "5.2"), ("0.8 g", "4.7")];
/// let points = points.map(|(grams, ph)| (grams.parse().unwrap(), ph));
/// let trial = Titration::new("100 g".parse()?, catalogue.material("citric-acid-50")?.clone(), "1+9".parse()?, points)?;
/// let read = |ph: &str| Reading::ph(ph, "1+9".parse()?);
/// let plan = trial.adjust("2 kg".parse()?, read("7.9")?, 5.5)?;
/// assert_eq!(plan.remaining()?.text(1), "10.1 (8.0 to 12.0)");
/// let division = "0.1 g".parse()?;
/// assert_eq!(plan.next_portion(&division)?, Some("8 g".parse()?));
/// let plan = plan.with_portion("8 g".parse()?, read("5.85")?)?;
/// assert_eq!(plan.next_portion(&division)?, Some("0.9 g".parse()?));
/// // What went in enters the formula.
/// let line = |id: &str, percent: &str| Line::new(id, catalogue.material(id)?.clone(), Ppm::from_percent(percent)?);
/// let bar = Formula::new("Bar", vec![line("sci-powder", "60")?, line("kaolin", "40")?])?;
/// assert_eq!(plan.formula(&bar)?.line("citric-acid-50")?.percent().to_string(), "0.3984");
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Adjustment {
    titration: Titration,
    batch: Mass,
    start: Reading,
    /// What is wanted; one pH where both are the same.
    low: Decimal,
    high: Decimal,
    portions: Vec<Portion>,
}

impl Titration {
    /// How a batch is brought from a measured pH to a target with what was titrated.
    ///
    /// # Errors
    /// No batch, a reading at another dilution than the trial's, and a pH or target that the titration does not reach
    /// or moves away from.
    pub fn adjust(&self, batch: Mass, measured: Reading, target: impl ToExact) -> Result<Adjustment, Error> {
        let target = Quantity::Ph.decimal(target)?;
        self.adjust_into(batch, measured, target, target)
    }

    /// How a batch is brought from a measured pH into a range by the least dose, to the end of it that is nearer. A pH
    /// inside needs none.
    ///
    /// ```
    /// use tenside::catalogue::Catalogue;
    /// use tenside::ph::Titration;
    /// use tenside::reading::Reading;
    /// let points = [("0 g", "7.9"), ("0.2 g", "6.8"), ("0.4 g", "5.9"), ("0.6 g", "5.2"), ("0.8 g", "4.7")];
    /// let points = points.map(|(grams, ph)| (grams.parse().unwrap(), ph));
    /// let acid = Catalogue::starter().material("citric-acid-50")?.clone();
    /// let trial = Titration::new("100 g".parse()?, acid, "1+9".parse()?, points)?;
    /// let plan = |ph: &str| trial.adjust_into("2 kg".parse()?, Reading::ph(ph, "1+9".parse()?)?, 4.8, 5.2);
    /// assert_eq!(plan("7.9")?.target().to_string(), "5.2");
    /// assert_eq!(plan("7.9")?.remaining()?.text(1), "12.0 (8.0 to 16.0)");
    /// assert_eq!(plan("5")?.remaining()?.text(1), "0.0");
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A range whose low end is above its high end, no batch, a reading at another dilution than the trial's, and a pH
    /// or nearer end that the titration does not reach or moves away from.
    pub fn adjust_into(
        &self,
        batch: Mass,
        measured: Reading,
        low: impl ToExact,
        high: impl ToExact,
    ) -> Result<Adjustment, Error> {
        let (low, high) = (Quantity::Ph.decimal(low)?, Quantity::Ph.decimal(high)?);
        if low > high {
            return Err(Fault::new(FaultKind::Contradiction, "the low end is above the high end")
                .at("target")
                .value(format!("pH {low} to {high}"))
                .into());
        }
        if batch.grams().is_zero() {
            return Err(Fault::new(FaultKind::OutOfRange, "the batch to adjust has no mass")
                .value("0 g")
                .allowed("above 0 g")
                .into());
        }
        self.check_dilution(&measured)?;
        let adjustment =
            Adjustment { titration: self.clone(), batch, start: measured, low, high, portions: Vec::new() };
        adjustment.remaining()?;
        Ok(adjustment)
    }

    fn check_dilution(&self, reading: &Reading) -> Result<(), Error> {
        if self.dilution().is_same(&reading.dilution()) {
            return Ok(());
        }
        let fault = Fault::new(FaultKind::Contradiction, "the reading is at another dilution than the trial titration")
            .at("reading");
        let fault = fault.value(reading.dilution()).allowed(self.dilution().to_string());
        Err(fault.remedy("read again at the dilution of the trial").into())
    }
}

getters!(Adjustment {
    /// The trial.
    titration: &Titration,
    /// The mass of product before anything was added.
    batch: &Mass,
    /// The first reading.
    start: &Reading,
    /// What went in so far.
    portions: &[Portion],
});

impl Adjustment {
    /// The pH wanted; of a range the one in it that is nearest to the last reading, to which the least dose leads.
    #[must_use]
    pub fn target(&self) -> Decimal {
        // The ends are in order.
        self.reading().value().clamp(self.low, self.high)
    }

    /// The ends of the range that is wanted; nothing where one pH is.
    #[must_use]
    pub fn range(&self) -> Option<(Decimal, Decimal)> {
        (self.low < self.high).then_some((self.low, self.high))
    }

    /// The range, where one is wanted and the last reading lies inside it.
    fn held(&self) -> Option<(Decimal, Decimal)> {
        self.range().filter(|_| self.reading().value() == self.target())
    }

    /// The pH or range that is wanted, in words.
    #[must_use]
    pub fn wanted(&self) -> String {
        self.range().map_or_else(|| self.low.to_string(), |(low, high)| format!("{low} to {high}"))
    }

    /// The last reading.
    #[must_use]
    pub fn reading(&self) -> &Reading {
        self.portions.last().map_or(&self.start, |portion| &portion.reading)
    }

    /// All that went in so far.
    ///
    /// # Errors
    /// More than a hundred tonnes.
    pub fn added(&self) -> Result<Mass, Error> {
        Mass::new(self.portions.iter().map(|portion| portion.added.grams()).sum::<Exact>(), MassUnit::Gram)
    }

    /// True if the last reading is within what a reading may be off by of the target, or lies inside the range.
    #[must_use]
    pub fn is_reached(&self) -> bool {
        (self.reading().value() - self.target()).abs() <= self.titration.uncertainty()
    }

    /// True if the last reading lies past the target, further than a reading may be off by: nothing of this can be
    /// taken out again.
    #[must_use]
    pub fn is_overshot(&self) -> bool {
        let reading = self.reading().value();
        let past = if self.titration.lowers() { self.low - reading } else { reading - self.high };
        past > self.titration.uncertainty()
    }

    /// The grams still missing, going by the last reading; none where that lies inside the range.
    ///
    /// # Errors
    /// A last reading that the titration does not reach, and one past the target.
    pub fn remaining(&self) -> Result<Interval, Error> {
        if self.held().is_some() {
            return Ok(Interval::point(Exact::ZERO));
        }
        let scale = self.batch.grams() / self.titration.sample().grams();
        Ok(self.titration.grams_between(self.reading().value(), self.target())?.map(|grams| grams * &scale))
    }

    /// The next portion, in whole divisions of the scale, rounded down: half of what is typically missing, or the low
    /// end of it where that is more. `None` if the target is reached or less than a division is missing.
    ///
    /// # Errors
    /// As for [`Adjustment::remaining`], and a scale without division.
    pub fn next_portion(&self, division: &Mass) -> Result<Option<Mass>, Error> {
        check_division(division)?;
        if self.is_reached() {
            return Ok(None);
        }
        let missing = self.remaining()?;
        let unknown = || Fault::new(FaultKind::NotKnown, "how much is typically missing is not known");
        let typical = missing.typical.ok_or_else(unknown)?;
        let half = &typical / Exact::from(2);
        let portion = missing.low.map_or(half.clone(), |low| low.max(half)).floor_to(division.grams());
        let portion = if portion.is_zero() { typical.floor_to(division.grams()) } else { portion };
        if portion.is_zero() { Ok(None) } else { Mass::new(&portion, MassUnit::Gram).map(Some) }
    }

    /// With a portion as it was weighed in, and the reading after it.
    ///
    /// # Errors
    /// A portion of nothing, and a reading at another dilution than the trial's.
    pub fn with_portion(mut self, added: Mass, reading: Reading) -> Result<Self, Error> {
        if added.grams().is_zero() {
            return Err(Fault::new(FaultKind::OutOfRange, "a portion has no mass")
                .value("0 g")
                .allowed("above 0 g")
                .into());
        }
        self.titration.check_dilution(&reading)?;
        self.portions.push(Portion { added, reading });
        self.added()?;
        Ok(self)
    }

    /// The formula with every portion in it; see [`Formula::with_addition`].
    ///
    /// # Errors
    /// As for [`Formula::with_addition`].
    pub fn formula(&self, formula: &Formula) -> Result<Formula, Error> {
        match self.portions.is_empty() {
            true => Ok(formula.clone()),
            false => formula.added(self.titration.reagent(), &self.added()?, &self.batch, "pH"),
        }
    }

    /// What to know: the ceiling for pH adjusters, a calculated trial, and the cautions of the raw material.
    #[must_use]
    pub fn notes(&self) -> Vec<String> {
        let reagent = self.titration.reagent();
        let mut notes = Vec::new();
        if self.is_overshot() {
            notes.push(format!(
                "the reading of {} is past the target: titrate back with what moves the pH the other way",
                self.reading().value()
            ));
        }
        notes.extend(self.landing());
        for (leaf, _) in reagent.leaves() {
            for row in leaf.composition().constituents() {
                let ceiling = Table::starter().brought(row.substance().inci()).and_then(|brought| brought.ceiling);
                if let Some(ceiling) = ceiling.filter(|ceiling| Exact::from(self.high).to_f64() >= *ceiling) {
                    let name = row.substance().inci();
                    notes.push(format!(
                        "{name} as a pH adjuster is allowed below pH {ceiling} in the European Union (Annex III, as \
                         stored; look up the consolidated text)"
                    ));
                }
            }
        }
        if self.titration.is_calculated() {
            notes.push(
                "the trial is calculated by a model from typical compositions, not measured: keep the portions small"
                    .to_string(),
            );
        }
        notes.push(
            "add it in portions, mix well, wait, and read each time at the same dilution; what is added too much \
             stays in"
                .to_string(),
        );
        let (name, stated) = (reagent.name(), reagent.cautions());
        notes.extend(stated.iter().map(|caution| format!("{name}: {}", caution.advice())));
        let unstated = reagent.unstated_cautions().into_iter();
        notes.extend(unstated.map(|(caution, why)| format!("{name} ({why}): {}", caution.advice())));
        if stated.is_empty() {
            notes.push(format!("{name}: no caution is stated; that is unknown, not none"));
        }
        notes.push(
            "the safety data sheet, local rules and a qualified safety assessor come before this page".to_string(),
        );
        notes
    }

    /// Where in the range the batch stands, or comes to.
    fn landing(&self) -> Option<String> {
        let (low, high) = self.range()?;
        if self.held().is_some() {
            let reading = self.reading().value();
            return Some(format!("the reading of {reading} lies inside {low} to {high}: nothing has to be added"));
        }
        let end = if self.titration.lowers() { "high" } else { "low" };
        (!self.is_reached() && !self.is_overshot()).then(|| {
            format!(
                "what is missing is the least that leads inside {low} to {high}: to its {end} end, pH {}",
                self.target()
            )
        })
    }

    /// The plan for people: what is missing, what went in, what to know. Where nothing can be said of what is missing,
    /// it says why.
    ///
    /// # Errors
    /// A scale without division.
    pub fn page(&self, division: &Mass) -> Result<Page, Error> {
        check_division(division)?;
        let reagent = self.titration.reagent();
        let mut rows = Rows::new(&[
            ("portion", Alignment::Right),
            ("grams", Alignment::Right),
            ("read after it", Alignment::Left),
        ]);
        rows.push(["0".to_string(), "-".to_string(), self.start.to_string()]);
        for (index, portion) in self.portions.iter().enumerate() {
            rows.push([(index + 1).to_string(), portion.added.grams().rounded_text(3), portion.reading.to_string()]);
        }
        let state = if self.is_reached() {
            "The target is reached, within what a reading may be off by.".to_string()
        } else if self.is_overshot() {
            "The pH is past the target.".to_string()
        } else {
            match (self.remaining(), self.next_portion(division)) {
                (Ok(missing), Ok(Some(next))) => {
                    format!(
                        "Still missing: {} g of {}. Next portion: {} g, then read.",
                        missing.text(2),
                        reagent.name(),
                        next.grams()
                    )
                }
                (Ok(missing), Ok(None)) => {
                    format!("Still missing: {} g of {}, less than the scale shows.", missing.text(2), reagent.name())
                }
                (Err(error), _) | (_, Err(error)) => format!("What is missing cannot be said: {error}"),
            }
        };
        Ok(Page::new(&format!("To pH {} with {}", self.wanted(), reagent.name()))
            .with(Part::Text(state))
            .with(Part::Table(rows))
            .section("To know about it", Part::List(self.notes())))
    }
}

fn check_division(division: &Mass) -> Result<(), Error> {
    if division.grams().is_zero() {
        return Err(Fault::new(FaultKind::OutOfRange, "a scale division is nothing")
            .value("0 g")
            .allowed("above 0 g")
            .into());
    }
    Ok(())
}

impl Formula {
    /// The formula of a batch to which so much of a raw material was added: each line in proportion, on the grid of
    /// 0.0001 % with the rest to the line that takes rests, so that each is off by at most half a step and that line by
    /// half a step for each other. An addition of a material that has a line already goes to that line; where only the
    /// name is taken, as by another lot, the new line says "(added)".
    ///
    /// # Errors
    /// No batch, and an addition too small for the grid.
    pub fn with_addition(
        &self,
        material: &std::sync::Arc<Material>,
        added: &Mass,
        batch: &Mass,
    ) -> Result<Formula, Error> {
        self.added(material, added, batch, "added")
    }

    /// As [`Formula::with_addition`]; `why` it was added tells the new line from those of the same name.
    fn added(
        &self,
        material: &std::sync::Arc<Material>,
        added: &Mass,
        batch: &Mass,
        why: &str,
    ) -> Result<Formula, Error> {
        if batch.grams().is_zero() {
            return Err(Fault::new(FaultKind::OutOfRange, "the batch that is added to has no mass")
                .value("0 g")
                .allowed("above 0 g")
                .into());
        }
        let parts_of = |grams: Exact| grams / (batch.grams() + added.grams()) * Exact::from(Ppm::WHOLE.parts());
        let share = parts_of(added.grams().clone());
        if share < Exact::ratio(1, 2) {
            let fault = Fault::new(FaultKind::OutOfRange, "an addition is too small for the grid of a formula")
                .value(format!("{} g", added.grams()));
            return Err(fault.allowed("at least 0.00005 % of the batch").into());
        }
        let mut shares: Vec<Exact> =
            self.lines().iter().map(|line| parts_of(batch.grams() * line.percent().share())).collect();
        let mut lines = self.lines().to_vec();
        match lines.iter().position(|line| line.material() == material) {
            Some(at) => shares[at] = &shares[at] + share,
            None => {
                let is_taken = |name: &str| lines.iter().any(|line| line.name() == name);
                let names = std::iter::once(material.id().to_string()).chain([format!("{} ({why})", material.id())]);
                let mut names = names.chain((2u32..).map(|count| format!("{} ({why} {count})", material.id())));
                let name = names.find(|name| !is_taken(name)).unwrap_or_default();
                lines.push(Line::new(&name, std::sync::Arc::clone(material), Ppm::ZERO)?);
                shares.push(share);
            }
        }
        let units = apportion_to(&shares, i64::from(Ppm::WHOLE.parts()), self.absorber())?.units;
        let lines = lines.into_iter().zip(units).map(|(line, parts)| {
            let parts =
                u32::try_from(parts).map_err(|_| Fault::new(FaultKind::OutOfRange, "a line would fall below 0"))?;
            Ok(line.with_percent(Ppm::from_parts(parts)?))
        });
        let lines = lines.collect::<Result<Vec<Line>, Error>>()?;
        Ok(Formula::new(self.title(), lines)?.with_phases(self.phases())?.with_prices(self.prices().cloned()))
    }
}
