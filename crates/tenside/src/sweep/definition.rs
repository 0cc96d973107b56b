//! A sweep: a brief, the axes along which it is turned, and the columns that are wanted.

use std::ops::Range;
use std::sync::Arc;

use super::axis::Axis;
use super::column::{Column, ReviewCode};
use super::legend::Legend;
#[cfg(feature = "trial")]
use super::micelles::SweptMicelles;
use super::points::Points;
use super::review::SweptReview;
use super::spelling::Varied;
use crate::brief::{Brief, Objective};
use crate::document::unknown_name;
use crate::error::{Error, Fault, FaultKind};
use crate::measure::{Basis, Measure};
#[cfg(feature = "trial")]
use crate::reading::Dilution;
use crate::rule::{Product, RuleBook, Severity};
use crate::solve::{Answer, Outcome, rows, weights_as_far_as_known};
#[cfg(feature = "trial")]
use crate::trial::MixedMicelles;
use crate::watch::{Watch, Watched};

/// Many formulas at once: one for every combination of the axes' values, the last axis fastest. Without axes it is the
/// brief alone.
///
/// ```
/// use tenside::brief::{Brief, SplitBasis};
/// use tenside::catalogue::Catalogue;
/// use tenside::measure::Measure;
/// use tenside::sweep::{Axis, Sweep, Varied, Values};
/// let brief = Brief::new("Bar", &Catalogue::starter())?
///     .split("wash", SplitBasis::Active, [("sci-powder", 14), ("capb-30", 1)])?
///     .fix("panthenol", "1.5")?
///     .qs("kaolin")?
///     .target(Measure::active_matter(), 50)?
///     .at_most(Measure::water(), 20)?;
/// let parts = Values::linspace(1, 4, 7, 0.5)?;
/// let target = Values::new(40..50)?;
/// let sweep = Sweep::new(&brief, vec![
///     Varied::named(&brief, "wash.capb-30")?.over(parts)?,
///     Varied::of_measure(&brief, &Measure::active_matter())?.over(target)?,
/// ])?;
/// let table = sweep.table()?;
/// assert_eq!(table.rows(), 70);
/// let row = 33;
/// let answer = sweep.answer(row)?;
/// let kaolin = table.numbers("line.kaolin")?.get(33).unwrap();
/// assert_eq!(answer.exact_percent("kaolin").unwrap().to_f64(), kaolin);
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Sweep {
    points: Points,
    columns: Vec<Column>,
    names: Vec<String>,
    binding: Legend,
    conflict: Legend,
    review: Option<Arc<SweptReview>>,
    #[cfg(feature = "trial")]
    micelles: Option<Arc<SweptMicelles>>,
}

impl Sweep {
    /// The same sweep, watched: whatever is worked out of it ends early where the watch says so, and the watch hears
    /// how many rows are done.
    #[must_use]
    pub fn watched_by(mut self, watch: Arc<dyn Watch>) -> Self {
        self.points.brief = self.points.brief.watched_by(watch);
        self
    }

    pub(super) fn watched(&self) -> &Watched {
        self.brief().watched()
    }

    /// The measure that stands in a column.
    pub(super) fn measure_in<'a>(&'a self, column: &'a Column) -> Option<(&'a Measure, &'a Basis)> {
        match column {
            Column::Measure(measure, basis) => Some((measure, basis)),
            Column::Objective => measured(self.brief()),
            _ => None,
        }
    }

    pub(super) fn unwatched(&self) -> Self {
        let points = Points { brief: self.brief().unwatched(), ..self.points.clone() };
        Sweep { points, ..self.clone() }
    }
}

/// The measure that a brief's objective is, if it is one.
pub(super) fn measured(brief: &Brief) -> Option<(&Measure, &Basis)> {
    match brief.objective() {
        Some(Objective::Measure { measure, basis, .. }) => Some((measure, basis)),
        _ => None,
    }
}

impl Axis {
    /// Values for one number of a brief, spelt as documents and Python spell it.
    ///
    /// ```
    /// use tenside::prelude::*;
    /// let brief = Brief::new("Wash", &Catalogue::starter())?
    ///     .split("wash", SplitBasis::Active, [("sci-powder", 14), ("capb-30", 1)])?
    ///     .qs("kaolin")?
    ///     .target(Measure::active_matter(), 50)?;
    /// let parts = Axis::new(&brief, "wash.capb-30", Values::new(1..=5)?)?;
    /// assert_eq!(Sweep::new(&brief, vec![parts])?.rows(), 5);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A word that is no number of the brief, or could mean several.
    pub fn new(brief: &Brief, what: &str, values: super::Values) -> Result<Self, Error> {
        Varied::named(brief, what)?.over(values)
    }
}

impl Varied {
    /// An axis that takes these values.
    ///
    /// # Errors
    /// A split and a raw material, which take no numbers.
    pub fn over(self, values: super::Values) -> Result<Axis, Error> {
        match self {
            Varied::Parameter(parameter) => Ok(Axis::Parameter(parameter, values)),
            Varied::Share { split, line } => Ok(Axis::Share { split, line, values }),
            Varied::Moisture => Ok(Axis::Moisture(values)),
            Varied::Split(_) => Err(self
                .unsupported("a split as a whole takes a lattice")
                .remedy("state the lattice's steps, or turn one member")
                .into()),
            Varied::Material(_) => {
                Err(self.unsupported("the raw material of a line takes raw materials").remedy("give their ids").into())
            }
        }
    }

    /// The fault of what is no split and was given a lattice.
    #[must_use]
    pub fn no_lattice(&self) -> Fault {
        self.unsupported("only a split as a whole takes a lattice").remedy("name the split alone")
    }

    /// The fault of what is no line's raw material and was given raw materials.
    #[must_use]
    pub fn no_materials(&self) -> Fault {
        self.unsupported("only the raw material of a line takes raw materials")
    }
}

getters!(Sweep {
    /// Its columns.
    columns: &[Column],
    /// The names of its columns.
    names: &[String],
});

impl Sweep {
    /// A sweep with the columns that are there unless others are chosen: the axes, the lines, the measures that the
    /// brief's requirements and objective name, the objective, feasibility, what binds and what conflicts.
    ///
    /// # Errors
    /// A brief that cannot be asked; axes that name what it does not have; two axes on the same thing; ends that cross;
    /// measures whose weights are not known.
    pub fn new(brief: &Brief, axes: Vec<Axis>) -> Result<Self, Error> {
        rows(brief)?;
        let points = Points::new(brief, axes)?;
        let axes = &points.axes;
        let (binding, conflict) = (Legend::of_binding(brief, axes), Legend::of_conflict(brief, axes));
        let mut columns = Vec::new();
        for (axis, known) in axes.iter().enumerate() {
            let members = if let Axis::Lattice { lattice, .. } = known { lattice.members() } else { 1 };
            columns.extend((0..members).map(|member| Column::Axis { axis, member }));
        }
        columns.extend((0..brief.lines().len()).map(Column::Line));
        let required = brief.requirements().iter().map(|known| (known.measure(), known.basis()));
        for (measure, basis) in required.chain(measured(brief)) {
            let column = Column::Measure(measure.clone(), basis.clone());
            if !columns.contains(&column) && weights_as_far_as_known(brief, measure, basis).is_ok() {
                columns.push(column);
            }
        }
        columns.extend(brief.objective().map(|_| Column::Objective));
        columns.push(Column::Feasible);
        columns.extend(binding.fits().then_some(Column::Binding));
        columns.extend(conflict.fits().then_some(Column::Conflict));
        let sweep = Sweep {
            points,
            columns: Vec::new(),
            names: Vec::new(),
            binding,
            conflict,
            review: None,
            #[cfg(feature = "trial")]
            micelles: None,
        };
        sweep.with(columns)
    }

    /// With these columns after those that are there.
    fn with(mut self, columns: impl IntoIterator<Item = Column>) -> Result<Self, Error> {
        for column in columns {
            let name = column.name(self.brief(), self.axes());
            if self.names.contains(&name) {
                return Err(Fault::new(FaultKind::Duplicate, "two columns have the same name")
                    .value(format!("{name:?}"))
                    .into());
            }
            if let Column::Measure(measure, basis) = &column {
                weights_as_far_as_known(&self.brief_at(0)?, measure, basis)
                    .map_err(|error| error.within(&format!("column {name:?}")))?;
            }
            self.columns.push(column);
            self.names.push(name);
        }
        Ok(self)
    }

    /// With one more measure as a column; one that is there already is no second column.
    ///
    /// # Errors
    /// A measure whose weights are not known, or without meaning on the basis.
    pub fn with_measure(self, measure: &Measure, basis: &Basis) -> Result<Self, Error> {
        let column = Some(Column::Measure(measure.clone(), basis.clone()));
        let added = column.filter(|column| !self.columns.contains(column));
        self.with(added)
    }

    /// With what a review says of every row, as codes: a bit for every rule at least as grave as `least` that could
    /// have a finding with these raw materials, and for every line outside its use levels. They say what
    /// [`crate::formula::Formula::review`] says of the formula that [`Sweep::answer`] gives for the row. The product is
    /// as stated, whatever moisture is swept.
    ///
    /// ```
    /// use tenside::brief::{Brief, SplitBasis};
    /// use tenside::catalogue::Catalogue;
    /// use tenside::formula::Purpose;
    /// use tenside::rule::{Market, Product, RuleBook, Severity, Use};
    /// use tenside::sweep::{Sweep, Varied, Values};
    /// let brief = Brief::new("Soothing", &Catalogue::starter())?.fix("sodium-benzoate", 1)?.qs("glycerin-99-5")?;
    /// let brief = brief.with_purposes("sodium-benzoate", &[Purpose::Preservative])?;
    /// let benzoate = Values::new([0.5, 2.5, 4.0])?;
    /// let product = Product::new(Market::Eu, &[Use::ShampooBar], "2026-11-24".parse()?)?;
    /// let sweep = Sweep::new(&brief, vec![Varied::named(&brief, "sodium-benzoate")?.over(benzoate)?])?
    ///     .with_review(RuleBook::starter(), &product, Severity::Error)?;
    /// let table = sweep.table()?;
    /// let legend = sweep.findings_legend().unwrap();
    /// let found: Vec<Vec<&str>> = table.codes("findings")?.iter().map(|code| legend.read(*code)).collect();
    /// assert_eq!(found, [vec![], vec![], vec!["annex-v-1-rinse-off"]]);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A sweep that has a review already, more rules than a code has bits, and what [`crate::rule::Judge::new`]
    /// refuses.
    pub fn with_review(mut self, book: &RuleBook, product: &Product, least: Severity) -> Result<Self, Error> {
        if self.review.is_some() {
            return Err(Fault::new(FaultKind::Duplicate, "the sweep has a review already")
                .remedy("sweep once for each product")
                .into());
        }
        let review = SweptReview::new(&self.points, book, product, least)?;
        let fits = review.levels.fits();
        self.review = Some(Arc::new(review));
        let codes = ReviewCode::ALL.into_iter().filter(|code| *code != ReviewCode::UseLevels || fits);
        self.with(codes.map(Column::Review))
    }

    /// With the mixed micelles of every row's surfactants at a dilution with water by mass: their critical micelle
    /// concentration, each one's mole share of the micelles, and what of each is single. Of `mixture` the names (INCI
    /// names), critical concentrations and interactions count; the parts are each row's own. A cell is null where the
    /// row holds an active substance that is not among them or of which the molar mass or the typical share is not
    /// known.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// use tenside::sweep::{Sweep, Varied, Values};
    /// use tenside::trial::MixedMicelles;
    /// let brief = Brief::new("Bar", &Catalogue::starter())?.fix("sci-powder", 50)?.qs("kaolin")?;
    /// // Invented.
    /// let mixture = MixedMicelles::new([("SODIUM COCOYL ISETHIONATE", 1, 4)])?;
    /// let shares = Values::new([20, 50])?;
    /// let sweep = Sweep::new(&brief, vec![Varied::named(&brief, "sci-powder")?.over(shares)?])?;
    /// let table = sweep.with_micelles(&mixture, "1+99".parse()?)?.table()?;
    /// assert_eq!(table.numbers("micelles.cmc")?.get(1), Some(4.0));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A sweep that has them already, and a surfactant that no raw material of the sweep holds.
    #[cfg(feature = "trial")]
    pub fn with_micelles(mut self, mixture: &MixedMicelles, dilution: Dilution) -> Result<Self, Error> {
        if self.micelles.is_some() {
            return Err(Fault::new(FaultKind::Duplicate, "the sweep has mixed micelles already")
                .remedy("sweep once for each dilution")
                .into());
        }
        let micelles = SweptMicelles::new(&self.points, mixture, dilution)?;
        let columns = micelles.columns();
        self.micelles = Some(Arc::new(micelles));
        self.with(columns.into_iter().map(Column::Micelle))
    }

    /// With these columns alone, in this order, by name.
    ///
    /// # Errors
    /// An unknown name, one that stands twice, codes of more limits than they tell apart.
    pub fn with_columns(mut self, names: &[&str]) -> Result<Self, Error> {
        let mut columns = Vec::new();
        for name in names {
            let has_no_code = !self.names.iter().any(|known| known == name)
                && (matches!(*name, "binding" | "conflict")
                    || *name == ReviewCode::UseLevels.name() && self.review.is_some());
            if has_no_code {
                return Err(Fault::new(FaultKind::Unsupported, "the brief has more limits than a code tells apart")
                    .at(format!("column {name:?}"))
                    .allowed(format!("up to {} limits", super::legend::MOST_LIMITS))
                    .remedy("ask for the rows that are of interest as answers")
                    .into());
            }
            columns.push(self.columns[self.column(name)?].clone());
        }
        (self.columns, self.names) = (Vec::new(), Vec::new());
        self.with(columns)
    }

    /// Its brief.
    #[must_use]
    pub fn brief(&self) -> &Brief {
        &self.points.brief
    }

    /// Its axes, the fastest last.
    #[must_use]
    pub fn axes(&self) -> &[Axis] {
        &self.points.axes
    }

    /// The units of its columns; empty where there is none.
    #[must_use]
    pub fn units(&self) -> Vec<String> {
        self.columns.iter().map(|column| column.unit(self.brief(), self.axes())).collect()
    }

    /// The place of a column.
    ///
    /// # Errors
    /// An unknown name.
    pub fn column(&self, name: &str) -> Result<usize, Error> {
        let place = self.names.iter().position(|known| known == name);
        place.ok_or_else(|| {
            unknown_name("column", name, self.names.iter().map(String::as_str)).allowed(self.names.join(", ")).into()
        })
    }

    /// The name of a measure's column.
    #[must_use]
    pub fn name_of(&self, measure: &Measure, basis: &Basis) -> String {
        Column::Measure(measure.clone(), basis.clone()).name(self.brief(), self.axes())
    }

    /// The name of an axis' column; of a lattice, of its first.
    #[must_use]
    pub fn axis_name(&self, axis: usize) -> String {
        Column::Axis { axis, member: 0 }.name(self.brief(), self.axes())
    }

    /// How many formulas.
    #[must_use]
    pub fn rows(&self) -> u64 {
        self.points.count
    }

    /// What the bits of the column `binding` stand for.
    #[must_use]
    pub fn binding_legend(&self) -> &Legend {
        &self.binding
    }

    /// What the bits of the column `conflict` stand for.
    #[must_use]
    pub fn conflict_legend(&self) -> &Legend {
        &self.conflict
    }

    /// What the bits of the columns `findings`, `findings.certain` and `findings.unchecked` stand for, names of rules;
    /// nothing without a review.
    #[must_use]
    pub fn findings_legend(&self) -> Option<&Legend> {
        self.review().map(|review| &review.rules)
    }

    /// What the bits of the column `use-levels` stand for; nothing without a review.
    #[must_use]
    pub fn use_levels_legend(&self) -> Option<&Legend> {
        self.review().map(|review| &review.levels)
    }

    /// The brief and its axes.
    pub(super) fn points(&self) -> &Points {
        &self.points
    }

    pub(super) fn review(&self) -> Option<&SweptReview> {
        self.review.as_deref()
    }

    #[cfg(feature = "trial")]
    pub(super) fn micelles(&self) -> Option<&SweptMicelles> {
        self.micelles.as_deref()
    }

    /// The place on each axis of a row.
    #[must_use]
    pub fn places(&self, row: u64) -> Vec<usize> {
        self.points.places(row)
    }

    /// The brief of a row.
    ///
    /// # Errors
    /// A row past the last, values that are none together.
    pub fn brief_at(&self, row: u64) -> Result<Brief, Error> {
        if row >= self.rows() {
            return Err(self.no_row(row).into());
        }
        self.points.brief_of(row)?.without_absent_members()
    }

    pub(super) fn check_rows(&self, rows: &Range<u64>) -> Result<(), Error> {
        if rows.start > rows.end || rows.end > self.rows() {
            return Err(self.no_row(format!("{} to {}", rows.start, rows.end)).into());
        }
        Ok(())
    }

    pub(super) fn no_row(&self, row: impl std::fmt::Display) -> Fault {
        Fault::new(FaultKind::OutOfRange, "the sweep has no such row")
            .value(row)
            .allowed(format!("0 to {}", self.rows().saturating_sub(1)))
    }

    /// The exact answer of a row, with its proof and its grid formula.
    ///
    /// # Errors
    /// As [`Sweep::brief_at`]; a row without formula, with its conflict in words.
    pub fn answer(&self, row: u64) -> Result<Answer, Error> {
        self.brief_at(row)?.solve()
    }

    /// What a row comes to: the answer or the conflict.
    ///
    /// # Errors
    /// As [`Sweep::brief_at`].
    pub fn outcome(&self, row: u64) -> Result<Outcome, Error> {
        self.brief_at(row)?.try_solve()
    }
}
