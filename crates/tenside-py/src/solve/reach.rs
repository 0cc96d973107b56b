//! How far measures and lines can go.

use indexmap::IndexMap;
use pyo3::prelude::*;

use crate::brief::Brief;
use crate::convert::failure::Outcome;
use crate::convert::input::Number;
use crate::convert::output::Fraction;
use crate::convert::running::watched;
use crate::measure::AMeasure;
use crate::measure::basis::Basis;
use crate::solve::conflict::or_unanswerable;
record! {
    "tenside.brief",
    /// How far a measure can go; an end is None if there is none: a ratio's denominator is 0, or can come as near to it
    /// as one likes.
    Reach of tenside::solve::Reach, |reach| {
        /// The lowest attainable value.
        lowest: Option<Fraction> = reach.lowest.map(Fraction),
        /// The highest attainable value.
        highest: Option<Fraction> = reach.highest.map(Fraction),
        /// Its unit.
        unit: String = reach.unit,
    }
}

#[pymethods]
impl Reach {
    fn __str__(&self) -> String {
        // What is shown can be reached.
        let lowest = self.lowest.as_ref().map_or("no lowest".to_string(), |end| end.0.ceiling_text(4));
        let highest = self.highest.as_ref().map_or("no highest".to_string(), |end| end.0.floor_text(4));
        let unit = if self.unit.is_empty() { String::new() } else { format!(" {}", self.unit) };
        format!("{lowest} to {highest}{unit}")
    }
}

#[pymethods]
impl Brief {
    /// The lowest and highest value a measure can have under this brief, exact, whatever its objective.
    /// `basis` is what it is counted on, as charged unless stated.
    ///
    /// >>> reach = td.Brief("Two", td.Catalogue.starter()).between("capb-30", 10, 50).qs("water").reach(td.measure.active_matter)
    /// >>> reach
    /// Reach(lowest=Fraction(3, 1), highest=Fraction(15, 1), unit='%')
    /// >>> print(reach)
    /// 3.0000 to 15.0000 %
    #[pyo3(signature = (measure, basis=None))]
    fn reach(&self, py: Python<'_>, measure: AMeasure, basis: Option<Basis>) -> Outcome<Reach> {
        let basis = basis.map_or_else(Default::default, |basis| basis.0);
        let reach = watched(py, None, |watch| self.0.clone().watched_by(watch).reach(&measure.0, &basis));
        Ok(Reach::from(or_unanswerable(py, reach)?))
    }

    /// The lowest and highest percentage of each line among the formulas whose objective is at most `extra` worse than
    /// the best.
    ///
    /// >>> brief = td.Brief("Two", td.Catalogue.starter(), prices={"capb-30": 3, "water": 0}).between("capb-30", 10, 50).qs("water")
    /// >>> brief.minimise(td.measure.cost).line_ranges_within("0.3")["capb-30"]
    /// (Fraction(10, 1), Fraction(20, 1))
    fn line_ranges_within(&self, py: Python<'_>, extra: Number) -> Outcome<IndexMap<String, (Fraction, Fraction)>> {
        let ranges = watched(py, None, |watch| self.0.clone().watched_by(watch).line_ranges_within(&extra.0));
        let ranges = or_unanswerable(py, ranges)?;
        Ok(ranges.into_iter().map(|(line, lowest, highest)| (line, (Fraction(lowest), Fraction(highest)))).collect())
    }
}
