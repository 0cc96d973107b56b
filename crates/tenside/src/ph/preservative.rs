//! How much of an acid preservative is undissociated at a pH: an upper bound of what can act.
//!
//! `undissociated = total * f`, with the total as acid (a salt counts as its acid by molar masses) and `f` the share of
//! the form with every proton on, by the constants at 25 °C and no ionic strength. Salts in the water only lower it.

use std::collections::HashSet;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::Acid;
use super::table::Table;
use crate::bounds::Quantity;
use crate::document::{fold, named_enum, unknown_name};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::Formula;
use crate::number::{Exact, Interval, ToExact};
use crate::reading::Reading;
use crate::render::{Alignment, Page, Part, Table as Rows};
use crate::substance::SubstanceTable;

/// Why the share is an upper bound.
pub const UPPER_BOUND: &str = "An upper bound: micelles, fats and scent take up undissociated acid, salts lower it, \
                               and the water of a bar is not that of its dispersion.";

named_enum! {
    /// How an upper bound stands to a threshold.
    Standing "standing" {
        /// Even the upper bound is below the threshold, whatever the compositions inside their stated ranges.
        Below = "below",
        /// The upper bound is below the threshold for typical compositions; a range is not stated, or reaches it.
        TypicallyBelow = "typically-below",
        /// The upper bound is not below the threshold. That shows no effect.
        NotBelow = "not-below",
    }
}

impl Standing {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Standing::Below => "below, even at most",
            Standing::TypicallyBelow => "below, typically",
            Standing::NotBelow => "not below at most; no proof of effect",
        }
    }
}

/// An acid preservative of a formula at a pH.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Undissociated {
    /// The acid.
    pub acid: Arc<Acid>,
    /// The substances that bring it, by INCI name.
    pub brought_by: Vec<String>,
    /// All of it, as acid, percent of the product as charged.
    pub total: Interval,
    /// The undissociated share of it, 0 to 1.
    pub fraction: f64,
    /// The undissociated acid, percent of the product as charged: an upper bound of what can act.
    pub at_most: Interval,
    /// The threshold that was set for it, percent of the product.
    pub threshold: Option<Decimal>,
}

impl Undissociated {
    /// How the upper bound stands to the threshold, where one was set.
    #[must_use]
    pub fn standing(&self) -> Option<Standing> {
        let threshold = Exact::from(self.threshold?);
        Some(match &self.at_most.high {
            Some(high) if *high < threshold => Standing::Below,
            _ if self.at_most.typical.as_ref().is_some_and(|typical| *typical < threshold) => Standing::TypicallyBelow,
            _ => Standing::NotBelow,
        })
    }
}

/// The acid preservatives of a formula at a reading.
#[derive(Clone, Debug, PartialEq)]
pub struct PreservativeState {
    title: String,
    reading: Reading,
    rows: Vec<Undissociated>,
}

impl Formula {
    /// How much of its acid preservatives is undissociated at a reading.
    ///
    /// ```
    /// use tenside::catalogue::Catalogue;
    /// use tenside::formula::{Formula, Line};
    /// use tenside::number::Ppm;
    /// use tenside::ph::Standing;
    /// use tenside::reading::Reading;
    /// let catalogue = Catalogue::starter();
    /// let line = |id: &str, percent: &str| Line::new(id, catalogue.material(id)?.clone(), Ppm::from_percent(percent)?);
    /// let bar = Formula::new("Bar", vec![line("sci-powder", "99.5")?, line("sodium-benzoate", "0.5")?])?;
    /// let reading = Reading::ph(5.5, "1+9".parse()?)?;
    /// let state = bar.preservatives_at(&reading)?.with_thresholds([("benzoic acid", 0.05)])?;
    /// let benzoic = &state.rows()[0];
    /// assert!((benzoic.fraction - 0.048).abs() < 0.001);
    /// assert_eq!(benzoic.standing(), Some(Standing::Below));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A preservative salt of unknown molar mass or composition.
    pub fn preservatives_at(&self, reading: &Reading) -> Result<PreservativeState, Error> {
        let substances = SubstanceTable::starter();
        let ph = Exact::from(reading.value()).to_f64();
        let mut rows: Vec<Undissociated> = Vec::new();
        for expanded in self.expand() {
            let Some(brought) = Table::starter().brought(expanded.substance.inci()) else { continue };
            for (acid, units) in brought.acids.iter().filter(|(acid, _)| acid.is_preservative()) {
                let not_known = |what: &str| {
                    let fault = Fault::new(FaultKind::NotKnown, format!("{what} of a preservative is not known"))
                        .value(expanded.substance.inci());
                    fault.at(format!("line {:?}", expanded.lines.join(", ")))
                };
                let percent = &expanded.percent;
                percent.typical.as_ref().ok_or_else(|| not_known("the typical share"))?;
                let salt = expanded.substance.molar_mass().ok_or_else(|| not_known("the molar mass"))?.typical();
                let parent =
                    acid.parent().and_then(|inci| substances.find(inci)).and_then(|parent| parent.molar_mass());
                let parent = parent.ok_or_else(|| not_known("the molar mass of the acid"))?.typical();
                let as_acid = Exact::from_shortest(*units)? * Exact::from(parent) / Exact::from(salt);
                let total = scaled(percent, &as_acid);
                match rows.iter_mut().find(|row| row.acid.name() == acid.name()) {
                    Some(row) => {
                        row.total = sum(&row.total, &total);
                        row.brought_by.push(expanded.substance.inci().to_string());
                    }
                    None => rows.push(Undissociated {
                        acid: Arc::clone(acid),
                        brought_by: vec![expanded.substance.inci().to_string()],
                        at_most: total.clone(),
                        total,
                        fraction: acid.undissociated(ph)?,
                        threshold: None,
                    }),
                }
            }
        }
        for row in &mut rows {
            row.at_most = scaled(&row.total, &Exact::from_shortest(row.fraction)?);
        }
        Ok(PreservativeState { title: self.title().to_string(), reading: reading.clone(), rows })
    }
}

fn scaled(interval: &Interval, factor: &Exact) -> Interval {
    let scaled = |value: &Exact| value * factor;
    interval.map(scaled)
}

fn sum(left: &Interval, right: &Interval) -> Interval {
    let ends = |left: &Option<Exact>, right: &Option<Exact>| {
        left.as_ref().zip(right.as_ref()).map(|(left, right)| left + right)
    };
    Interval {
        low: ends(&left.low, &right.low),
        typical: ends(&left.typical, &right.typical),
        high: ends(&left.high, &right.high),
    }
}

getters!(PreservativeState {
    /// The reading.
    reading: &Reading,
    /// The acid preservatives, the most first as the formula lists them.
    rows: &[Undissociated],
});

impl PreservativeState {
    /// With thresholds in percent of the product that the user sets by acid.
    ///
    /// # Errors
    /// A threshold for what is no acid preservative or out of range, one that stands twice.
    pub fn with_thresholds<N: AsRef<str>, P: ToExact>(
        mut self,
        thresholds: impl IntoIterator<Item = (N, P)>,
    ) -> Result<Self, Error> {
        let known = || Table::starter().acids().iter().filter(|acid| acid.is_preservative()).map(|acid| acid.name());
        let (mut faults, mut set) = (Vec::new(), HashSet::new());
        for (name, value) in thresholds {
            // There are a dozen acids: past a hundred faults nothing new is told.
            if faults.len() >= 100 {
                break;
            }
            let name = name.as_ref();
            if !known().any(|acid| fold(acid) == fold(name)) {
                faults.push(
                    unknown_name("acid preservative", name, known())
                        .at("thresholds")
                        .allowed(known().collect::<Vec<_>>().join(", ")),
                );
            }
            if !set.insert(fold(name)) {
                faults.push(
                    Fault::new(FaultKind::Duplicate, "a threshold is set twice")
                        .at("thresholds")
                        .value(format!("{name:?}")),
                );
            }
            match Quantity::Percent.decimal(value) {
                Ok(threshold) => {
                    let rows = self.rows.iter_mut().filter(|row| fold(row.acid.name()) == fold(name));
                    rows.for_each(|row| row.threshold = Some(threshold));
                }
                Err(error) => faults.extend(error.within(&format!("thresholds, {name:?}")).into_faults()),
            }
        }
        Error::check(faults, self)
    }

    /// The same for people.
    #[must_use]
    pub fn page(&self) -> Page {
        let mut table = Rows::new(&[
            ("acid", Alignment::Left),
            ("from", Alignment::Left),
            ("% as acid", Alignment::Right),
            ("% of it undissociated", Alignment::Right),
            ("% undissociated, at most", Alignment::Right),
            ("threshold", Alignment::Right),
            ("", Alignment::Left),
        ]);
        for row in &self.rows {
            table.push([
                row.acid.name().to_string(),
                row.brought_by.join(", "),
                row.total.text(3),
                format!("{:.2}", 100.0 * row.fraction),
                row.at_most.text(4),
                row.threshold.map_or_else(|| "none set".to_string(), |threshold| threshold.to_string()),
                row.standing().map_or("", Standing::words).to_string(),
            ]);
        }
        let page =
            Page::new(&format!("{}: acid preservatives", self.title)).with(Part::Text(format!("At {}.", self.reading)));
        if self.rows.is_empty() {
            return page.with(Part::Text(
                "There is no acid preservative among the constituents; that says nothing of preservation.".to_string(),
            ));
        }
        page.section("Undissociated acid", Part::Table(table)).with(Part::Text(UPPER_BOUND.to_string()))
    }
}
