//! What stands at a reading: the pH ranges of raw materials, and undissociated preservatives.

use pyo3::prelude::*;
use rust_decimal::Decimal;
use tenside::ph::Standing;

use crate::convert::failure::Outcome;
use crate::convert::input::{ByName, numbers};
use crate::convert::interval::Interval;
use crate::convert::page::{Page, WIDTH};
use crate::convert::pickled::{Call, Reduced};
use crate::convert::table::Rows;
use crate::convert::word::Word;
use crate::formula::Formula;
use crate::formula::reading::Reading;

record! {
    "tenside.ph",
    /// The pH range of one raw material.
    PhWindowRow of &tenside::ph::WindowRow, |row| {
        /// The line that brings it.
        line: String = row.line.clone(),
        /// The raw material, by name.
        material: String = row.material.clone(),
        /// Lowest pH.
        low: Decimal = row.low,
        /// Highest pH.
        high: Decimal = row.high,
        /// Who says so.
        source: String = row.source.clone(),
    }
}

record! {
    "tenside.ph",
    /// How far a reading is inside one range; below 0 where it is outside.
    PhDistance of tenside::ph::Distance, |distance| {
        /// The range.
        row: PhWindowRow = PhWindowRow::from(&distance.row),
        /// The reading less the low edge.
        above_low: Decimal = distance.above_low,
        /// The high edge less the reading.
        below_high: Decimal = distance.below_high,
        /// True if the reading is inside.
        is_inside: bool = distance.is_inside(),
    }
}

record! {
    "tenside.ph",
    /// An acid preservative at a reading.
    Undissociated of &tenside::ph::Undissociated, |row| {
        /// The acid.
        acid: String = row.acid.name().to_string(),
        /// The substances that bring it, by INCI name.
        brought_by: Vec<String> = row.brought_by.clone(),
        /// All of it, as acid, percent of the product as charged.
        total: Interval = Interval(row.total.clone()),
        /// The undissociated share of it, 0 to 1.
        fraction: f64 = row.fraction,
        /// The undissociated acid, percent of the product as charged: an upper bound of what can act.
        at_most: Interval = Interval(row.at_most.clone()),
        /// The threshold that was set for it.
        threshold: Option<Decimal> = row.threshold,
        /// How the upper bound stands to the threshold; None without one.
        standing: Option<Word<Standing>> = row.standing().map(Word),
    }
}

/// The pH ranges of a formula's raw materials together. What states no range sets no edge, and is named.
///
/// >>> bar = td.Formula("Bar", {"sci-powder": 98, "sodium-benzoate": 1, "calcium-carbonate": 1}, td.Catalogue.starter())
/// >>> window = bar.ph_window()
/// >>> window.range, [row.line for row in window.clash]
/// (None, ['calcium-carbonate', 'sodium-benzoate'])
#[pyclass(frozen, eq, module = "tenside.ph")]
#[derive(Clone)]
pub(crate) struct PhWindow(pub(crate) tenside::ph::PhWindow, pub(crate) Call);

impl PartialEq for PhWindow {
    fn eq(&self, other: &Self) -> bool {
        self.0 == other.0
    }
}

shown!(PhWindow, |it| it.0.page(None));
value!(PhWindow, |it| it.range().map(|(low, high)| (low.to_string(), high.to_string())));

getters!(PhWindow {
    /// The ranges, in the order of the lines.
    rows: Rows<PhWindowRow> = |it| it.rows().iter().map(PhWindowRow::from).collect();
    /// The raw materials that state no range.
    unstated: Vec<String> = |it| it.unstated().to_vec();
    /// Low and high edge; None if no material states a range, or no pH suits all.
    range: Option<(Decimal, Decimal)> = |it| it.range();
    /// The pair that leaves no pH for all: the one whose range begins highest, and the one whose range ends lowest.
    clash: Option<(PhWindowRow, PhWindowRow)> = |it| it.clash().map(|(low, high)| (PhWindowRow::from(low), PhWindowRow::from(high)));
});

#[pymethods]
impl PhWindow {
    /// How far a reading is from every edge.
    ///
    /// >>> bar = td.Formula("Bar", {"sci-powder": 99, "sodium-benzoate": 1}, td.Catalogue.starter())
    /// >>> [(far.row.line, str(far.below_high)) for far in bar.ph_window().distances(td.Reading("5.8", dilution="1+9")) if not far.is_inside]
    /// [('sodium-benzoate', '-0.3')]
    fn distances(&self, reading: Reading) -> Rows<PhDistance> {
        self.0.distances(&reading.0).into_iter().map(PhDistance::from).collect()
    }

    /// The ranges for people, with a reading where there is one.
    #[pyo3(signature = (reading=None))]
    fn page(&self, reading: Option<Reading>) -> Page {
        Page(self.0.page(reading.as_ref().map(|reading| &reading.0)))
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Reduced<'py>> {
        self.1.reduced(py)
    }

    fn __repr__(&self) -> String {
        self.0.page(None).text(WIDTH)
    }
}

#[pymethods]
impl Formula {
    /// The pH ranges of its raw materials together.
    ///
    /// >>> bar = td.Formula("Bar", {"sci-powder": 99, "sodium-benzoate": 1}, td.Catalogue.starter())
    /// >>> bar.ph_window().range
    /// (Decimal('5'), Decimal('5.5'))
    fn ph_window(&self) -> PhWindow {
        PhWindow(self.0.ph_window(), Call::new(self.clone(), "ph_window"))
    }

    /// How much of its acid preservatives is undissociated at a reading: an upper bound, against thresholds in percent
    /// of the product that you set by acid.
    ///
    /// >>> bar = td.Formula("Bar", {"sci-powder": 99.5, "sodium-benzoate": 0.5}, td.Catalogue.starter())
    /// >>> rows = bar.preservatives_at(td.Reading(5.5, dilution="1+9"), thresholds={"benzoic acid": 0.05})
    /// >>> rows[0].acid, round(rows[0].fraction, 3), rows[0].standing
    /// ('benzoic acid', 0.048, 'below')
    #[pyo3(signature = (reading, *, thresholds=None))]
    fn preservatives_at(&self, reading: Reading, thresholds: Option<ByName>) -> Outcome<Rows<Undissociated>> {
        let state = self.0.preservatives_at(&reading.0)?.with_thresholds(numbers(thresholds))?;
        let page = state.page();
        Ok(state.rows().iter().map(Undissociated::from).collect::<Rows<_>>().shown(move || Ok(page.clone())))
    }
}
