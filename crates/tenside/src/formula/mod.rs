//! A formula: lines of raw materials in phases whose percentages sum to exactly 100.
//!
//! # Why
//! - A descending INCI list gives at most 1/k for the k-th of n names, but never less than 1 % (below that the
//!   order is free, so that the hundred-and-first can still be just under 1 %), and at least 1/n for the first if n
//!   is below 100.
//! - An interval takes two lines of one raw material as two drums, and an end counts as stated only if no unstated
//!   range end was decisive.

mod difference;
mod document;
mod draft;
mod expansion;
#[cfg(feature = "history")]
mod history;
mod line;
mod parent;
mod phase;
mod purpose;

use std::sync::Arc;

pub use difference::{Difference, DifferenceDocument, DifferenceRow, Presence};
pub use document::FormulaDocument;
pub(crate) use document::read_formula;
pub use draft::{
    Amount, AmountUnit, Answer, Choice, Departure, Draft, DraftDocument, DraftLine, FigureUnit, LineRole, Question,
    QuestionId, QuestionKind, Settled,
};
pub use expansion::Expanded;
#[cfg(feature = "history")]
pub use history::{HistoryEntry, Traceable, history};
pub use line::Line;
pub use parent::{Parent, Relation};
pub use phase::Phase;
pub(crate) use phase::{PhaseDocument, USUAL_ORDER, order_phases, read_phase};
pub use purpose::Purpose;

use crate::bounds::Quantity;
use crate::catalogue::PriceList;
use crate::document::{check_name, unknown_name};
use crate::error::{Error, Fault, FaultKind};
use crate::material::{Composition, Form, Material, check_distinct};
use crate::number::{Exact, Ppm};

/// A formula on the grid of whole ppm. It carries just the materials and lots it uses. Values are immutable.
///
/// ```
/// use tenside::catalogue::Catalogue;
/// use tenside::formula::{Formula, Line};
/// use tenside::number::Ppm;
/// let catalogue = Catalogue::starter();
/// let line = |id: &str, percent: &str| Line::new(id, catalogue.material(id)?.clone(), Ppm::from_percent(percent)?);
/// let formula = Formula::new("Plain bar", vec![line("sci-powder", "60")?, line("cetyl-alcohol", "15")?, line("kaolin", "25")?])?;
/// assert_eq!(formula.lines().iter().map(|line| line.percent().parts()).sum::<u32>(), 1_000_000);
/// assert!(Formula::new("Not full", vec![line("kaolin", "99.5")?]).is_err());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Formula(Arc<Contents>);

#[derive(Clone, Debug, PartialEq)]
struct Contents {
    title: String,
    phases: Vec<Phase>,
    lines: Vec<Line>,
    prices: Option<Arc<PriceList>>,
    parent: Option<Arc<Parent>>,
}

/// What is wrong where lines do not sum to 100 %.
fn no_whole(lines: &[Line]) -> Option<Fault> {
    let sum: u64 = lines.iter().map(|line| u64::from(line.percent().parts())).sum();
    (sum != u64::from(Ppm::WHOLE.parts())).then(|| {
        Fault::new(FaultKind::Contradiction, "the percentages do not sum to 100")
            .value(Exact::ratio(i64::try_from(sum).unwrap_or(i64::MAX), 10_000))
            .allowed("exactly 100 % w/w")
            .remedy("correct a line, or read the recipe as a draft and normalise it")
    })
}

impl Formula {
    /// A formula of these lines.
    ///
    /// # Errors
    /// A bad title, no line, lines of the same name, materials of the same id with different values, percentages that
    /// do not sum to 100.
    pub fn new(title: &str, lines: Vec<Line>) -> Result<Self, Error> {
        let title = check_name(title)?;
        Quantity::Lines.check(&Exact::from(u32::try_from(lines.len().max(1)).unwrap_or(u32::MAX)))?;
        let mut faults =
            check_distinct(lines.iter().map(Line::material)).err().map_or_else(Vec::new, Error::into_faults);
        for (index, line) in lines.iter().enumerate() {
            if lines[..index].iter().any(|earlier| earlier.name() == line.name()) {
                let remedy = "give one of them a name of its own";
                faults.push(
                    Fault::new(FaultKind::Duplicate, "two lines have the same name")
                        .value(format!("{:?}", line.name()))
                        .remedy(remedy),
                );
            }
        }
        faults.extend(no_whole(&lines));
        Error::check(faults, ())?;
        let phases = order_phases(&[], lines.iter().map(Line::phase));
        Ok(Formula(Arc::new(Contents { title, phases, lines, prices: None, parent: None })))
    }

    /// A formula of what was checked where it comes from, but for its sum.
    pub(crate) fn of_checked(
        title: &str,
        lines: Vec<Line>,
        phases: Vec<Phase>,
        prices: Option<Arc<PriceList>>,
    ) -> Result<Self, Error> {
        Error::check(no_whole(&lines).into_iter().collect(), ())?;
        Ok(Formula(Arc::new(Contents { title: title.to_string(), phases, lines, prices, parent: None })))
    }

    /// With these phases first, in this order; phases that only lines name follow.
    ///
    /// # Errors
    /// A phase that stands twice, and more than a thousand.
    pub fn with_phases(mut self, phases: &[Phase]) -> Result<Self, Error> {
        Quantity::Phases.check(&Exact::from(u32::try_from(phases.len()).unwrap_or(u32::MAX)))?;
        for (index, phase) in phases.iter().enumerate() {
            if phases[..index].iter().any(|earlier| earlier.name() == phase.name()) {
                return Err(Fault::new(FaultKind::Duplicate, "a phase occurs twice")
                    .value(format!("{:?}", phase.name()))
                    .into());
            }
        }
        let phases = order_phases(phases, self.lines().iter().map(Line::phase));
        Arc::make_mut(&mut self.0).phases = phases;
        Ok(self)
    }

    /// With a price list, so that cost can be read off it.
    #[must_use]
    pub fn with_prices(mut self, prices: Option<Arc<PriceList>>) -> Self {
        Arc::make_mut(&mut self.0).prices = prices;
        self
    }

    /// With what it came from stated.
    #[must_use]
    pub fn with_parent(mut self, parent: Option<Parent>) -> Self {
        Arc::make_mut(&mut self.0).parent = parent.map(Arc::new);
        self
    }

    /// With another title.
    ///
    /// # Errors
    /// A bad title.
    pub fn with_title(mut self, title: &str) -> Result<Self, Error> {
        Arc::make_mut(&mut self.0).title = check_name(title)?;
        Ok(self)
    }

    /// Its title.
    #[must_use]
    pub fn title(&self) -> &str {
        &self.0.title
    }

    /// What it came from, if it says so.
    #[must_use]
    pub fn parent(&self) -> Option<&Parent> {
        self.0.parent.as_deref()
    }

    /// Its phases, in working order.
    #[must_use]
    pub fn phases(&self) -> &[Phase] {
        &self.0.phases
    }

    /// Its lines, in the order given.
    #[must_use]
    pub fn lines(&self) -> &[Line] {
        &self.0.lines
    }

    /// The line of that name.
    ///
    /// # Errors
    /// An unknown name, with the nearest known one.
    pub fn line(&self, name: &str) -> Result<&Line, Error> {
        self.lines()
            .iter()
            .find(|line| line.name() == name)
            .ok_or_else(|| unknown_name("line", name, self.lines().iter().map(Line::name)).into())
    }

    /// With what a line is there for stated, all of it; nothing takes a statement back.
    ///
    /// # Errors
    /// An unknown line.
    pub fn with_purposes(mut self, line: &str, purposes: &[Purpose]) -> Result<Self, Error> {
        self.line(line)?;
        let lines = Arc::make_mut(&mut self.0).lines.iter_mut().filter(|known| known.name() == line);
        lines.for_each(|known| *known = known.clone().for_purposes(purposes));
        Ok(self)
    }

    /// The price list it was given.
    #[must_use]
    pub fn prices(&self) -> Option<&Arc<PriceList>> {
        self.0.prices.as_ref()
    }

    /// True where it rests on starter values.
    #[must_use]
    pub fn is_draft(&self) -> bool {
        self.lines().iter().any(|line| line.material().is_starter())
    }

    /// The line that takes rounding rests: the q.s. line, else the largest line that is neither fixed nor dosed with
    /// care (preservative, acid, scent and the like), else the largest.
    #[must_use]
    pub fn absorber(&self) -> usize {
        absorber(self.lines())
    }

    /// This formula as a raw material of another: a premix.
    ///
    /// ```
    /// use tenside::catalogue::Catalogue;
    /// use tenside::formula::{Formula, Line};
    /// use tenside::material::Form;
    /// use tenside::number::Ppm;
    /// let catalogue = Catalogue::starter();
    /// let line = |id: &str, percent: &str| Line::new(id, catalogue.material(id)?.clone(), Ppm::from_percent(percent)?);
    /// let base = Formula::new("Wash powder", vec![line("sci-powder", "80")?, line("kaolin", "20")?])?;
    /// let premix = base.to_material("wash-powder", Form::Powder)?;
    /// assert_eq!(premix.leaves().len(), 2);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A bad id.
    pub fn to_material(&self, id: &str, form: Form) -> Result<Material, Error> {
        let mut parts: Vec<(Arc<Material>, Ppm)> = Vec::new();
        for line in self.lines().iter().filter(|line| !line.percent().is_zero()) {
            match parts.iter_mut().find(|(material, _)| material == line.material()) {
                Some((_, share)) => *share = Ppm::from_parts(share.parts() + line.percent().parts())?,
                None => parts.push((Arc::clone(line.material()), line.percent())),
            }
        }
        Material::new(id, self.title(), form, Composition::premix(parts)?)
    }
}

/// See [`Formula::absorber`].
pub(crate) fn absorber(lines: &[Line]) -> usize {
    let largest = |keep: &dyn Fn(&Line) -> bool| {
        let mut best: Option<usize> = None;
        for (index, line) in lines.iter().enumerate().filter(|(_, line)| keep(line)) {
            if best.is_none_or(|best| line.percent() > lines[best].percent()) {
                best = Some(index);
            }
        }
        best
    };
    largest(&|line: &Line| line.is_qs())
        .or_else(|| largest(&|line: &Line| !line.is_fixed() && !line.material().main_class().is_dosed_with_care()))
        .or_else(|| largest(&|line: &Line| !line.material().main_class().is_dosed_with_care()))
        .or_else(|| largest(&|_: &Line| true))
        .unwrap_or(0)
}
