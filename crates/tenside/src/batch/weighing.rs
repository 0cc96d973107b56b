//! Rounding a batch to what scales can show, without changing its sum.
//!
//! The rule is that of [`crate::number::apportion_to`], with a division of its own for every line: each line to its
//! nearest division (half-way to even), one line takes the rest. Where that line's scale is too coarse for the last bit
//! of the rest, the largest line on the finest scale takes that bit, if its own error stays within what is tolerated;
//! else the batch weighs that bit more or less.

use crate::error::{Error, Fault, FaultKind};
use crate::formula::Line;
use crate::number::{Exact, HalfWay, Mass, MassUnit};
use crate::substance::Class;

/// One line to weigh.
#[derive(Clone, Debug, PartialEq)]
pub struct Weighing {
    line: Line,
    division: Mass,
    exact: Mass,
    rounded: Mass,
    takes_rest: bool,
}

getters!(Weighing {
    /// The line of the formula.
    line: &Line,
    /// One division of its scale.
    division: &Mass,
    /// The mass that the percentage asks for.
    exact: &Mass,
    /// The mass to weigh: whole divisions of its scale.
    rounded: &Mass,
    /// True for a line that takes rounding rests of the others.
    takes_rest: bool,
});

impl Weighing {
    /// The name on the sheet: that of the material, with the line's own where it has one.
    #[must_use]
    pub fn label(&self) -> String {
        let (line, material) = (self.line.name(), self.line.material());
        if line == material.id() { material.name().to_string() } else { format!("{line} ({})", material.name()) }
    }

    /// Rounded less exact mass, in grams.
    #[must_use]
    pub fn error_grams(&self) -> Exact {
        self.rounded.grams() - self.exact.grams()
    }

    /// The rounding error in percent of the line itself.
    #[must_use]
    pub fn error_percent(&self) -> Exact {
        self.error_grams() / self.exact.grams() * Exact::hundred()
    }

    /// Half a division in percent of the line: the largest error that rounding it can make.
    #[must_use]
    pub fn error_bound_percent(&self) -> Exact {
        self.division.grams() / self.exact.grams() * Exact::from(50)
    }
}

/// What rounding led to.
pub(super) struct WeighOut {
    /// In the order given.
    pub(super) weighings: Vec<Weighing>,
    /// The line that takes the rest, if one may.
    pub(super) absorber: Option<usize>,
    /// The line that takes the last bit of it, where another has to, and the bit in grams.
    pub(super) passed_on: Option<(usize, Exact)>,
}

/// Rounds `lines` (each with its scale's division, none at 0 %) to whole divisions; their sum is `target` unless nobody
/// may take the rest.
pub(super) fn weigh_out(
    lines: Vec<(Line, Mass)>,
    target: &Mass,
    usual_absorber: &str,
    tolerated: &Exact,
) -> Result<WeighOut, Error> {
    let mut weighings = lines
        .into_iter()
        .map(|(line, division)| {
            let exact = Mass::new(&(target.grams() * line.percent().share()), MassUnit::Gram)?;
            let rounded = Mass::new(exact.grams().rounded_to(division.grams(), HalfWay::ToEven), MassUnit::Gram)?;
            Ok(Weighing { line, division, exact, rounded, takes_rest: false })
        })
        .collect::<Result<Vec<_>, Error>>()?;
    let absorber = absorber(&weighings, usual_absorber);
    if let Some(index) = absorber {
        let wanted = weighings[index].rounded.grams() + rest(&weighings, target);
        let rounded = wanted.rounded_to(weighings[index].division.grams(), HalfWay::ToEven);
        if rounded.is_negative() {
            return Err(Fault::new(
                FaultKind::Contradiction,
                "the line that takes the rounding rest would fall below 0",
            )
            .at(format!("line {:?}", weighings[index].line.name()))
            .value(format!("{rounded} g"))
            .allowed("0 g or more")
            .remedy("weigh on a finer scale or make a larger batch")
            .into());
        }
        weighings[index].rounded = Mass::new(&rounded, MassUnit::Gram)?;
        weighings[index].takes_rest = true;
    }
    let last_bit = rest(&weighings, target);
    let mut passed_on = None;
    if let Some(index) = finest(&weighings, absorber).filter(|_| !last_bit.is_zero()) {
        let weighing = &mut weighings[index];
        let rounded = weighing.rounded.grams() + &last_bit;
        let weighable = (&rounded / weighing.division.grams()).is_whole() && !rounded.is_negative();
        if weighable && (&rounded - weighing.exact.grams()).abs() <= weighing.exact.grams() * tolerated {
            weighing.rounded = Mass::new(&rounded, MassUnit::Gram)?;
            weighing.takes_rest = true;
            passed_on = Some((index, last_bit));
        }
    }
    Ok(WeighOut { weighings, absorber, passed_on })
}

/// What is missing to the target, in grams.
fn rest(weighings: &[Weighing], target: &Mass) -> Exact {
    target.grams() - weighings.iter().map(|weighing| weighing.rounded.grams()).sum::<Exact>()
}

/// The lines of a phase as they go into one vessel: water before what may only be added to it.
pub(super) fn in_working_order(lines: &[Weighing]) -> Vec<&Weighing> {
    let mut ordered: Vec<&Weighing> = lines.iter().collect();
    if lines.iter().any(|weighing| weighing.line.material().is_corrosive()) {
        ordered.sort_by_key(|weighing| weighing.line.material().main_class() != Class::Water);
    }
    ordered
}

fn is_dosed_with_care(weighing: &Weighing) -> bool {
    weighing.line.material().main_class().is_dosed_with_care()
}

/// The largest of the lines kept; the earlier of equal ones.
fn largest(weighings: &[Weighing], keep: impl Fn(usize, &Weighing) -> bool) -> Option<usize> {
    let mut best: Option<usize> = None;
    for (index, weighing) in weighings.iter().enumerate().filter(|(index, weighing)| keep(*index, weighing)) {
        if best.is_none_or(|best| weighing.exact > weighings[best].exact) {
            best = Some(index);
        }
    }
    best
}

/// The formula's own choice, unless it is a preservative, acid, scent or the like: those never take a rest.
fn absorber(weighings: &[Weighing], usual: &str) -> Option<usize> {
    largest(weighings, |_, weighing| weighing.line.name() == usual && !is_dosed_with_care(weighing))
        .or_else(|| largest(weighings, |_, weighing| !weighing.line.is_fixed() && !is_dosed_with_care(weighing)))
        .or_else(|| largest(weighings, |_, weighing| !is_dosed_with_care(weighing)))
}

/// The largest line on the finest scale that may take the last bit of a rest.
fn finest(weighings: &[Weighing], absorber: Option<usize>) -> Option<usize> {
    let division = weighings.iter().map(|weighing| &weighing.division).min()?.clone();
    largest(weighings, |index, weighing| {
        weighing.division == division && Some(index) != absorber && !is_dosed_with_care(weighing)
    })
}
