//! A measure made into rows: one for each line.

use std::sync::Arc;

use super::names::Names;
use super::row::{Known, Row, Sides};
use super::view::LineView;
use super::weighing::Weighing;
use super::{Basis, Measure, Term};
use crate::catalogue::PriceList;
use crate::error::{Error, Fault, FaultKind};
use crate::material::Footing;
use crate::number::Exact;

/// What a measure may need besides the lines.
#[derive(Clone, Copy, Default)]
pub(crate) struct Facts<'a> {
    pub(crate) prices: Option<&'a PriceList>,
    pub(crate) names: Names<'a>,
}

/// Which end of a value is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Sense {
    AtMost,
    AtLeast,
}

/// A measure compiled for some lines. Its value is `sum x_j n_j / sum x_j d_j`, the factor of the measure being in the
/// `n_j`.
pub(crate) struct Compiled {
    lines: Vec<Arc<Known>>,
}

impl Compiled {
    /// Compiles for these lines; a line whose weights are not known carries the reasons.
    pub(crate) fn new(
        measure: &Measure,
        basis: &Basis,
        lines: &[LineView<'_>],
        facts: &Facts<'_>,
    ) -> Result<Self, Error> {
        check(measure, basis, lines)?;
        let residual = basis.residual_water();
        let resolve = |terms: &[Term]| {
            terms.iter().map(|term| facts.names.resolve(&term.content, lines)).collect::<Result<Vec<_>, Error>>()
        };
        let (above, below) = (resolve(measure.numerator())?, resolve(measure.denominator())?);
        let factor = measure.factor();
        // Rules keep what they make of rows themselves.
        let keep = !matches!(facts.names, Names::Anything);
        // Lines that stand in the same scopes are weighed alike.
        let mut known: Vec<(Vec<bool>, Sides)> = Vec::new();
        let compiled = lines.iter().map(|line| {
            let holds = measure.terms().map(|term| term.scope.holds(line));
            let place = known.iter().position(|(inside, _)| holds.clone().eq(inside.iter().copied()));
            let place = place.unwrap_or_else(|| {
                let inside: Vec<bool> = holds.collect();
                let weighing = |terms: &[Term], resolved: &[_], inside: &[bool], factor: &Exact| Weighing {
                    terms: terms
                        .iter()
                        .zip(resolved)
                        .zip(inside)
                        .filter(|(_, inside)| **inside)
                        .map(|((term, resolved), _)| (&term.factor * factor, Clone::clone(resolved)))
                        .collect(),
                    residual: residual.clone(),
                    counts_bound_water: basis.counts_bound_water(),
                };
                let (of_above, of_below) = inside.split_at(above.len());
                let above = weighing(measure.numerator(), &above, of_above, &factor);
                let sides = Sides::new(above, weighing(measure.denominator(), &below, of_below, &Exact::ONE));
                known.push((inside, sides));
                known.len() - 1
            });
            known[place].1.row(line.material, facts.prices, keep)
        });
        Ok(Compiled { lines: compiled.collect() })
    }

    /// The rows of the lines, or why one has none.
    pub(crate) fn lines(&self) -> impl Iterator<Item = &Known> {
        self.lines.iter().map(AsRef::as_ref)
    }

    /// The rows of the lines that have one.
    pub(crate) fn rows(&self) -> impl Iterator<Item = &Row> {
        self.lines().flatten()
    }

    /// The reasons why some line's weights are not known.
    pub(crate) fn unknowns(&self) -> Vec<Fault> {
        let mut faults: Vec<Fault> = Vec::new();
        for fault in self.lines().filter_map(|line| line.as_ref().err()).flatten() {
            if !faults.contains(fault) {
                faults.push(fault.clone());
            }
        }
        faults
    }

    /// The coefficient of each line in `N - value D` at the worst of its compositions: the greatest where the sum is to
    /// be at most 0, the least where it is to be at least 0.
    pub(crate) fn worst_coefficients(&self, value: &Exact, sense: Sense) -> Result<Vec<Exact>, Vec<Fault>> {
        let unknowns = self.unknowns();
        if !unknowns.is_empty() {
            return Err(unknowns);
        }
        let upwards = sense == Sense::AtMost;
        self.rows()
            .map(|row| {
                let worst = row.extreme(value, upwards);
                if worst.footing == Footing::NotStated {
                    let material = row.rests_on_unstated(value, upwards).unwrap_or_default();
                    let reason =
                        Fault::new(FaultKind::NotKnown, "not every range that the requirement rests on is stated")
                            .value(format!("{material:?}"));
                    return Err(vec![reason.remedy("state low and high of its constituents")]);
                }
                Ok(worst.difference(value))
            })
            .collect()
    }

    /// `N` and `D` of lines at these percentages, at the compositions for which `N - value D` is greatest (or least).
    pub(crate) fn worst(&self, percents: &[Exact], value: &Exact, sense: Sense) -> (Exact, Exact) {
        let (mut numerator, mut denominator) = (Exact::ZERO, Exact::ZERO);
        for (line, percent) in self.lines().zip(percents).filter(|(_, percent)| !percent.is_zero()) {
            if let Ok(row) = line {
                let [above, below] = row.extreme(value, sense == Sense::AtMost).parts;
                numerator += above * percent;
                denominator += below * percent;
            }
        }
        (numerator, denominator)
    }
}

/// `N` and `D` of each line for typical compositions.
pub(crate) struct TypicalSides {
    pub(crate) numerator: Arc<[Exact]>,
    pub(crate) denominator: Arc<[Exact]>,
    /// Lines of which one of the two is not known, and stands as 0, with the reason.
    pub(crate) not_known: Vec<(usize, Fault)>,
}

/// What typical compositions bring: what [`Compiled`] gives for them, without the ranges. A denominator that can be
/// negative is refused: to multiply by it would turn a limit round.
pub(crate) fn typical_sides(
    measure: &Measure,
    basis: &Basis,
    lines: &[LineView<'_>],
    facts: &Facts<'_>,
) -> Result<TypicalSides, Vec<Fault>> {
    if basis.counts_bound_water() {
        let fault =
            Fault::new(FaultKind::Unsupported, "bound water is counted where a formula is measured, not asked for");
        return Err(vec![fault.value(basis).remedy("ask at a residual moisture without it")]);
    }
    let compiled = Compiled::new(measure, basis, lines, facts).map_err(Error::into_faults)?;
    let unknowns = compiled.unknowns();
    if !unknowns.is_empty() {
        return Err(unknowns);
    }
    let is_below_zero = |row: &Row| match row.denominator() {
        Some(same) => same.exact().is_negative(),
        None => row.least_denominator().is_negative(),
    };
    if compiled.rows().any(is_below_zero) {
        let fault = Fault::new(FaultKind::Unsupported, "a denominator that can be negative has no meaning in a ratio");
        return Err(vec![fault.value(measure.name())]);
    }
    let mut not_known = Vec::new();
    let typical = compiled.rows().zip(lines).enumerate().map(|(index, (row, line))| {
        let [above, below] = row.typical().map(|side| match side {
            Ok(part) => part.exact().clone(),
            Err(fault) => {
                not_known.push((index, fault.clone().at(format!("line {:?}", line.name))));
                Exact::ZERO
            }
        });
        (above, below)
    });
    let (numerator, denominator): (Vec<Exact>, Vec<Exact>) = typical.unzip();
    Ok(TypicalSides { numerator: numerator.into(), denominator: denominator.into(), not_known })
}

/// That the scopes name what there is, and that the basis has a meaning for what is counted.
fn check(measure: &Measure, basis: &Basis, lines: &[LineView<'_>]) -> Result<(), Error> {
    for term in measure.terms() {
        term.scope.check(lines)?;
    }
    match measure.terms().find(|term| *basis != Basis::AsCharged && term.content.of_water().is_none()) {
        Some(term) => Err(Fault::new(FaultKind::Unsupported, "this measure has a meaning as charged only")
            .value(term.content.name())
            .into()),
        None => Ok(()),
    }
}
