//! Measures made into terms: for each line, what each constituent of its raw material brings to numerator and denominator.

use std::sync::Arc;

use super::content::Weight;
use super::extreme::{Leaf, LeafRow, greatest};
use super::{Basis, Content, Measure, Scope};
use crate::catalogue::PriceList;
use crate::error::{Fault, FaultKind};
use crate::material::Material;
use crate::number::Exact;

/// A line as a measure sees it, of a formula or of a brief.
#[derive(Clone, Copy)]
pub(crate) struct LineView<'a> {
    pub(crate) name: &'a str,
    pub(crate) material: &'a Arc<Material>,
    pub(crate) phase: &'a str,
    pub(crate) groups: &'a [String],
}

/// What a measure may need besides the lines.
#[derive(Clone, Copy, Default)]
pub(crate) struct Facts<'a> {
    pub(crate) prices: Option<&'a PriceList>,
}

/// Which end of a value is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Sense {
    AtMost,
    AtLeast,
}

/// Which compositions a requirement is compiled for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum View {
    /// The typical ones.
    Typical,
    /// Every composition inside the stated ranges.
    EveryComposition,
}

/// Numerator and denominator of one line.
pub(crate) struct LineTerms {
    pub(crate) numerator: Vec<Leaf>,
    pub(crate) denominator: Vec<Leaf>,
}

/// What `factor N - value D` of one line can be over its compositions; a bound where not stated.
pub(crate) struct Ends {
    pub(crate) least: Exact,
    pub(crate) least_stated: bool,
    /// Nothing for a composition of bounds only.
    pub(crate) typical: Option<Exact>,
    pub(crate) greatest: Exact,
    pub(crate) greatest_stated: bool,
}

impl LineTerms {
    /// True where the line brings nothing to the numerator and, of a ratio, nothing to the denominator.
    pub(crate) fn is_blank(&self, ratio: bool) -> bool {
        let nothing = |leaves: &[Leaf]| {
            let is_zero = |end: &Option<Exact>| end.as_ref().is_some_and(Exact::is_zero);
            leaves.iter().flat_map(|leaf| &leaf.rows).all(|row| is_zero(&row.weight.low) && row.weight.typical.is_zero() && is_zero(&row.weight.high))
        };
        nothing(&self.numerator) && (!ratio || nothing(&self.denominator))
    }

    /// The ends of `factor N - value D`.
    pub(crate) fn ends(&self, factor: &Exact, value: &Exact) -> Ends {
        let typical = || Some(factor * sum_typical(&self.numerator)? - value * sum_typical(&self.denominator)?);
        let (least, least_stated) = extreme(&self.numerator, &self.denominator, factor, value, false);
        let (greatest, greatest_stated) = extreme(&self.numerator, &self.denominator, factor, value, true);
        Ends { least, least_stated, typical: typical(), greatest, greatest_stated }
    }

    /// The ends of the denominator.
    pub(crate) fn denominator_ends(&self) -> Ends {
        let (least, least_stated) = extreme(&self.denominator, &self.denominator, &Exact::ONE, &Exact::ZERO, false);
        let (greatest, greatest_stated) = extreme(&self.denominator, &self.denominator, &Exact::ONE, &Exact::ZERO, true);
        Ends { least, least_stated, typical: sum_typical(&self.denominator), greatest, greatest_stated }
    }
}

fn extreme(above: &[Leaf], below: &[Leaf], factor: &Exact, value: &Exact, upwards: bool) -> (Exact, bool) {
    let (mut sum, mut stated) = (Exact::ZERO, true);
    for (above, below) in above.iter().zip(below) {
        let found = greatest(above, below, factor, value, upwards);
        sum += found.value;
        stated &= found.stated;
    }
    (sum, stated)
}

/// A measure compiled for some lines.
pub(crate) struct Compiled {
    pub(crate) factor: Exact,
    pub(crate) lines: Vec<Result<LineTerms, Vec<Fault>>>,
}

impl Compiled {
    /// Compiles for these lines; a line whose weights are not known carries the reasons.
    pub(crate) fn new(measure: &Measure, basis: &Basis, lines: &[LineView<'_>], facts: &Facts<'_>) -> Result<Self, crate::Error> {
        let (numerator, numerator_scope) = measure.numerator();
        let (denominator, denominator_scope) = measure.denominator();
        numerator_scope.check(lines)?;
        denominator_scope.check(lines)?;
        if *basis != Basis::AsCharged
            && let Some(content) = [numerator, denominator].into_iter().find(|content| content.of_water().is_none())
        {
            return Err(Fault::new(FaultKind::Unsupported, "this measure has a meaning as charged only").value(content.name()).into());
        }
        let compiled = lines
            .iter()
            .map(|line| {
                let (above, below) = (side(numerator, numerator_scope, basis, line, facts), side(denominator, denominator_scope, basis, line, facts));
                match (above, below) {
                    (Ok(numerator), Ok(denominator)) => Ok(LineTerms { numerator, denominator }),
                    (above, below) => Err(above.err().into_iter().chain(below.err()).flatten().collect()),
                }
            })
            .collect();
        Ok(Compiled { factor: measure.factor(), lines: compiled })
    }

    /// The reasons why some line's weights are not known.
    pub(crate) fn unknowns(&self) -> Vec<Fault> {
        let mut faults: Vec<Fault> = Vec::new();
        for fault in self.lines.iter().filter_map(|line| line.as_ref().err()).flatten() {
            if !faults.contains(fault) {
                faults.push(fault.clone());
            }
        }
        faults
    }

    /// The coefficient of each line in `factor N - value D`, such that the sum at most (or at least) 0 says what the requirement says.
    pub(crate) fn coefficients(&self, value: &Exact, sense: Sense, view: View) -> Result<Vec<Exact>, Vec<Fault>> {
        let unknowns = self.unknowns();
        if !unknowns.is_empty() {
            return Err(unknowns);
        }
        let mut coefficients = Vec::with_capacity(self.lines.len());
        for line in self.lines.iter().flatten() {
            coefficients.push(self.coefficient(line, value, sense, view)?);
        }
        Ok(coefficients)
    }

    /// `factor N` and `D` of lines at these percentages, at the compositions for which `factor N - value D` is greatest (or least).
    pub(crate) fn worst(&self, percents: &[Exact], value: &Exact, sense: Sense) -> (Exact, Exact) {
        let (mut numerator, mut denominator) = (Exact::ZERO, Exact::ZERO);
        for (line, percent) in self.lines.iter().zip(percents).filter(|(_, percent)| !percent.is_zero()) {
            for (above, below) in line.iter().flat_map(|line| line.numerator.iter().zip(&line.denominator)) {
                let (above, below) = greatest(above, below, &self.factor, value, sense == Sense::AtMost).parts;
                numerator += above * &self.factor * percent;
                denominator += below * percent;
            }
        }
        (numerator, denominator)
    }

    fn coefficient(&self, line: &LineTerms, value: &Exact, sense: Sense, view: View) -> Result<Exact, Vec<Fault>> {
        let no_typical = || {
            vec![
                Fault::new(FaultKind::NotKnown, "a composition is bounded only; it has no typical values")
                    .remedy("state typical shares, or ask for the requirement to hold for every composition"),
            ]
        };
        match view {
            View::Typical => {
                let (above, below) = (sum_typical(&line.numerator), sum_typical(&line.denominator));
                Ok(&self.factor * above.ok_or_else(no_typical)? - value * below.ok_or_else(no_typical)?)
            }
            View::EveryComposition => {
                let upwards = sense == Sense::AtMost;
                let mut sum = Exact::ZERO;
                for (above, below) in line.numerator.iter().zip(&line.denominator) {
                    let extreme = greatest(above, below, &self.factor, value, upwards);
                    if !extreme.stated {
                        let reason =
                            Fault::new(FaultKind::NotKnown, "not every range that the requirement rests on is stated").value(format!("{:?}", above.material));
                        return Err(vec![reason.remedy("state low and high of its constituents")]);
                    }
                    sum += extreme.value;
                }
                Ok(sum)
            }
        }
    }
}

pub(super) fn sum_typical(leaves: &[Leaf]) -> Option<Exact> {
    let mut sum = Exact::ZERO;
    for leaf in leaves {
        for row in &leaf.rows {
            // A weight of nothing counts nothing, whatever the share.
            if !row.weight.typical.is_zero() {
                sum += row.typical.clone()? * &row.weight.typical * &leaf.share;
            }
        }
    }
    Some(sum)
}

fn side(content: &Content, scope: &Scope, basis: &Basis, line: &LineView<'_>, facts: &Facts<'_>) -> Result<Vec<Leaf>, Vec<Fault>> {
    let inside = scope.holds(line);
    let whole = if inside { content.of_material(line.material, facts).transpose().map_err(crate::Error::into_faults)? } else { Some(Exact::ZERO) };
    let residual = basis.residual_water().filter(|_| inside && !content.ignores_drying());
    let water = content.of_water().unwrap_or_default();
    let mut faults = Vec::new();
    let leaves = line
        .material
        .leaves()
        .into_iter()
        .map(|(leaf, share)| {
            let rows = leaf.composition().constituents().iter().map(|row| {
                let weight = match &whole {
                    Some(weight) => Weight::certain(weight.clone()),
                    None => content.of_constituent(leaf, row).unwrap_or_else(|error| {
                        faults.extend(error.into_faults());
                        Weight::certain(Exact::ZERO)
                    }),
                };
                let weight = match &residual {
                    Some(residual) => dried(weight, row.substance().is_water(), &(residual * &water)),
                    None => weight,
                };
                LeafRow {
                    low: row.low().map(|end| end.share()),
                    typical: row.share().map(|share| share.share()),
                    high: row.high().map(|end| end.share()),
                    weight,
                }
            });
            Leaf { material: leaf.id().to_string(), share, rows: rows.collect() }
        })
        .collect();
    if faults.is_empty() { Ok(leaves) } else { Err(faults) }
}

/// After drying, water itself weighs nothing and everything else carries its part of the residual water:
/// with `s_w` the share of water, `c_w mu / (1 - mu) (1 - s_w)` is spread over the other shares, which sum to `1 - s_w`.
fn dried(weight: Weight, is_water: bool, residual: &Exact) -> Weight {
    if is_water {
        return Weight::certain(Exact::ZERO);
    }
    Weight { low: weight.low.map(|end| end + residual), typical: weight.typical + residual, high: weight.high.map(|end| end + residual) }
}
