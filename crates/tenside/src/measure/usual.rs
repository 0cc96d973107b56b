//! The measures that a formulator looks at first, and readings as a table.

use super::{Basis, Measure, Measured};
use crate::error::Error;
use crate::formula::Formula;
use crate::render::{Alignment, Table};

impl Measure {
    /// The measures of the usual table, in its order.
    #[must_use]
    pub fn usual() -> Vec<Measure> {
        vec![
            Measure::active_matter(),
            Measure::anionic_active(),
            Measure::amphoteric_active(),
            Measure::nonionic_active(),
            Measure::cationic_surfactant(),
            Measure::charge_ratio(),
            Measure::water(),
            Measure::bound_water(),
            Measure::solids(),
            Measure::natural_origin(),
            Measure::unspecified(),
            Measure::cost(),
        ]
    }

    /// Whether the measure has a meaning on the basis: drying changes nothing that is counted apart from mass.
    #[must_use]
    pub fn has_meaning_on(&self, basis: &Basis) -> bool {
        *basis == Basis::AsCharged || [self.numerator().0, self.denominator().0].iter().all(|content| content.of_water().is_some())
    }
}

impl Formula {
    /// Reads the usual measures; those without meaning on the basis are left out.
    ///
    /// ```
    /// use tenside::catalogue::Catalogue;
    /// use tenside::formula::{Formula, Line};
    /// use tenside::measure::{Basis, Measured};
    /// use tenside::number::{Exact, Ppm};
    /// let clay = Line::new("kaolin", Catalogue::starter().material("kaolin")?.clone(), Ppm::WHOLE)?;
    /// let formula = Formula::new("Clay alone", vec![clay])?;
    /// let as_charged = formula.measures(&Basis::AsCharged)?;
    /// assert!(Measured::table(&as_charged).text(80).contains("active matter"));
    /// assert!(formula.measures(&Basis::finished(Exact::from(0))?)?.len() < as_charged.len());
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// None for a valid formula and basis.
    pub fn measures(&self, basis: &Basis) -> Result<Vec<Measured>, Error> {
        Measure::usual().iter().filter(|measure| measure.has_meaning_on(basis)).map(|measure| self.measure(measure, basis)).collect()
    }
}

impl Measured {
    /// Readings in the order given: value with interval, unit, and why there is none or what was left out.
    #[must_use]
    pub fn table(readings: &[Measured]) -> Table {
        let mut table = Table::new(&[("measure", Alignment::Left), ("value", Alignment::Right), ("unit", Alignment::Left), ("note", Alignment::Left)]);
        for reading in readings {
            let value = reading.value.as_ref().map_or_else(|| "not known".to_string(), |value| value.text(2));
            table.push([reading.measure.name(), value, reading.unit.clone(), reading.note()]);
        }
        if let Some(reading) = readings.first() {
            table.footer.push(vec![reading.basis.to_string()]);
        }
        table
    }

    /// Why there is no value, each reason once with what it is about, and what was left out.
    fn note(&self) -> String {
        let mut reasons: Vec<(&str, Vec<&str>)> = Vec::new();
        for fault in &self.why_not {
            let about = fault.value.as_deref().unwrap_or_default();
            match reasons.iter_mut().find(|(message, _)| *message == fault.message) {
                Some((_, values)) => values.push(about),
                None => reasons.push((&fault.message, vec![about])),
            }
        }
        let reasons = reasons.into_iter().map(|(message, values)| format!("{message}: {}", values.join(", ")).trim_end_matches(": ").to_string());
        reasons.chain(self.notes.iter().cloned()).collect::<Vec<_>>().join("; ")
    }
}
