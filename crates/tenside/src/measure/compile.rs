//! Measures made into terms: for each line, what each constituent of its raw material brings to numerator and denominator.

use std::sync::Arc;

use super::content::Weight;
use super::extreme::{Leaf, LeafRow, greatest};
use super::names::{Names, Resolved};
use super::{Basis, Content, Measure, Scope};
use crate::catalogue::PriceList;
use crate::error::{Error, Fault, FaultKind};
use crate::formula::Line;
use crate::material::{Constituent, Footing, Material};
use crate::number::{Exact, Ppm};

/// A line as a measure sees it, of a formula or of a brief.
#[derive(Clone, Copy)]
pub(crate) struct LineView<'a> {
    pub(crate) name: &'a str,
    pub(crate) material: &'a Arc<Material>,
    pub(crate) phase: &'a str,
    pub(crate) groups: &'a [String],
}

impl<'a> LineView<'a> {
    pub(crate) fn of(line: &'a Line) -> Self {
        LineView { name: line.name(), material: line.material(), phase: line.phase(), groups: line.groups() }
    }
}

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

/// Numerator and denominator of one line.
pub(crate) struct LineTerms {
    pub(crate) numerator: Vec<Leaf>,
    pub(crate) denominator: Vec<Leaf>,
}

/// What `factor N - value D` of one line can be over its compositions; a bound where not stated.
pub(crate) struct Ends {
    pub(crate) least: Exact,
    pub(crate) least_footing: Footing,
    /// `None` if it is not known.
    pub(crate) typical: Option<Exact>,
    pub(crate) greatest: Exact,
    pub(crate) greatest_footing: Footing,
}

impl LineTerms {
    /// True where the line brings nothing to the numerator and, of a ratio, nothing to the denominator.
    pub(crate) fn is_blank(&self, ratio: bool) -> bool {
        let nothing = |leaves: &[Leaf]| leaves.iter().flat_map(|leaf| &leaf.rows).all(|row| row.weight.is_nothing());
        nothing(&self.numerator) && (!ratio || nothing(&self.denominator))
    }

    /// The ends of `factor N - value D`.
    pub(crate) fn ends(&self, factor: &Exact, value: &Exact) -> Ends {
        let typical = || Some(factor * sum_typical(&self.numerator)? - value * sum_typical(&self.denominator)?);
        let (least, least_footing) = extreme(&self.numerator, &self.denominator, factor, value, false);
        let (greatest, greatest_footing) = extreme(&self.numerator, &self.denominator, factor, value, true);
        Ends { least, least_footing, typical: typical(), greatest, greatest_footing }
    }

    /// The ends of the denominator.
    pub(crate) fn denominator_ends(&self) -> Ends {
        let (least, least_footing) = extreme(&self.denominator, &self.denominator, &Exact::ONE, &Exact::ZERO, false);
        let (greatest, greatest_footing) = extreme(&self.denominator, &self.denominator, &Exact::ONE, &Exact::ZERO, true);
        Ends { least, least_footing, typical: sum_typical(&self.denominator), greatest, greatest_footing }
    }

    /// Why its typical value is not known, if it is not; `line` is its name.
    pub(crate) fn why_no_typical(&self, line: &str) -> Option<Fault> {
        let mut leaves = self.numerator.iter().chain(&self.denominator);
        leaves.find_map(|leaf| {
            leaf.rows.iter().filter(|row| !row.weight.is_typically_nothing()).find_map(|row| match (&row.weight.typical, &row.typical) {
                (None, Some(share)) if share.is_zero() => None,
                (None, _) => Some(left_open(&leaf.material).at(format!("line {line:?}"))),
                (Some(_), None) => Some(bounded_only().at(format!("line {line:?}"))),
                (Some(_), Some(_)) => None,
            })
        })
    }
}

fn extreme(above: &[Leaf], below: &[Leaf], factor: &Exact, value: &Exact, upwards: bool) -> (Exact, Footing) {
    let (mut sum, mut footing) = (Exact::ZERO, Footing::Stated);
    for (above, below) in above.iter().zip(below) {
        let found = greatest(above, below, factor, value, upwards);
        sum += found.value;
        footing = footing.min(found.footing);
    }
    (sum, footing)
}

fn left_open(material: &str) -> Fault {
    Fault::new(FaultKind::NotKnown, "how much of it the raw material holds is not known")
        .value(format!("{material:?}"))
        .remedy("state its share under contained, or ask for the requirement to hold for every composition")
}

fn bounded_only() -> Fault {
    Fault::new(FaultKind::NotKnown, "a composition is bounded only; it has no typical values")
        .remedy("state typical shares, or ask for the requirement to hold for every composition")
}

/// A measure compiled for some lines.
pub(crate) struct Compiled {
    pub(crate) factor: Exact,
    pub(crate) lines: Vec<Result<LineTerms, Vec<Fault>>>,
}

impl Compiled {
    /// Compiles for these lines; a line whose weights are not known carries the reasons.
    pub(crate) fn new(measure: &Measure, basis: &Basis, lines: &[LineView<'_>], facts: &Facts<'_>) -> Result<Self, Error> {
        check(measure, basis, lines)?;
        let ((numerator, numerator_scope), (denominator, denominator_scope)) = (measure.numerator(), measure.denominator());
        let (above, below) = (facts.names.resolve(numerator, lines)?, facts.names.resolve(denominator, lines)?);
        let compiled = lines
            .iter()
            .map(|line| {
                let side = |content, resolved, scope| Side::new(content, resolved, scope, basis, line, facts)?.leaves(line.material);
                match (side(numerator, &above, numerator_scope), side(denominator, &below, denominator_scope)) {
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
        keep_new(&mut faults, self.lines.iter().filter_map(|line| line.as_ref().err()).flatten().cloned());
        faults
    }

    /// The coefficient of each line in `factor N - value D` at the worst of its compositions: the greatest where the sum is to be at most
    /// 0, the least where it is to be at least 0.
    pub(crate) fn worst_coefficients(&self, value: &Exact, sense: Sense) -> Result<Vec<Exact>, Vec<Fault>> {
        let unknowns = self.unknowns();
        if !unknowns.is_empty() {
            return Err(unknowns);
        }
        self.lines.iter().flatten().map(|line| self.worst_coefficient(line, value, sense)).collect()
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

    fn worst_coefficient(&self, line: &LineTerms, value: &Exact, sense: Sense) -> Result<Exact, Vec<Fault>> {
        let mut sum = Exact::ZERO;
        for (above, below) in line.numerator.iter().zip(&line.denominator) {
            let extreme = greatest(above, below, &self.factor, value, sense == Sense::AtMost);
            if extreme.footing == Footing::NotStated {
                let reason = Fault::new(FaultKind::NotKnown, "not every range that the requirement rests on is stated").value(format!("{:?}", above.material));
                return Err(vec![reason.remedy("state low and high of its constituents")]);
            }
            sum += extreme.value;
        }
        Ok(sum)
    }
}

pub(super) fn sum_typical(leaves: &[Leaf]) -> Option<Exact> {
    let mut sum = Exact::ZERO;
    for leaf in leaves {
        // A weight of nothing counts nothing, whatever the share, and so does nothing of an unknown weight.
        for row in leaf.rows.iter().filter(|row| !row.weight.is_typically_nothing()) {
            match (&row.typical, &row.weight.typical) {
                (Some(share), None) if share.is_zero() => {}
                (Some(share), Some(weight)) => sum += share * weight * &leaf.share,
                _ => return None,
            }
        }
    }
    Some(sum)
}

/// One side of a measure, as it weighs what is in one line.
struct Side<'a, 'c> {
    content: &'a Resolved<'c>,
    /// The weight of everything in it, where the content does not look into compositions.
    whole: Option<Exact>,
    /// The residual water that everything but water carries after drying, in the content's weight.
    residual: Option<Exact>,
}

impl<'a, 'c> Side<'a, 'c> {
    fn new(content: &Content, resolved: &'a Resolved<'c>, scope: &Scope, basis: &Basis, line: &LineView<'_>, facts: &Facts<'_>) -> Result<Self, Vec<Fault>> {
        let inside = scope.holds(line);
        let whole = if inside { content.of_material(line.material, facts).transpose().map_err(Error::into_faults)? } else { Some(Exact::ZERO) };
        let residual = basis.residual_water().filter(|_| inside && !content.ignores_drying());
        let residual = residual.map(|residual| residual * content.of_water().unwrap_or_default());
        Ok(Side { content: resolved, whole, residual })
    }

    fn weight(&self, leaf: &Material, row: &Constituent) -> Result<Weight, Error> {
        let weight = match &self.whole {
            Some(weight) => Weight::certain(weight.clone()),
            None => self.content.of_constituent(leaf, row)?,
        };
        Ok(match &self.residual {
            Some(residual) => dried(weight, row.substance().is_water(), residual),
            None => weight,
        })
    }

    /// With the ranges of the compositions.
    fn leaves(&self, material: &Material) -> Result<Vec<Leaf>, Vec<Fault>> {
        let mut faults = Vec::new();
        let leaves = material
            .leaves()
            .into_iter()
            .map(|(leaf, share)| {
                let rows = leaf.composition().constituents().iter().map(|row| LeafRow {
                    low: row.low().map(|end| end.share()),
                    typical: row.share().map(|share| share.share()),
                    high: row.high().map(|end| end.share()),
                    weight: self.weight(leaf, row).unwrap_or_else(|error| {
                        faults.extend(error.into_faults());
                        Weight::certain(Exact::ZERO)
                    }),
                });
                Leaf { material: leaf.id().to_string(), share, rows: rows.collect() }
            })
            .collect();
        if faults.is_empty() { Ok(leaves) } else { Err(faults) }
    }

    /// What typical compositions bring, or why that is not known.
    fn typical(&self, material: &Material) -> Result<Result<Exact, Fault>, Vec<Fault>> {
        // Where nothing counts, the composition does not matter.
        if self.residual.is_none() && self.whole.as_ref().is_some_and(Exact::is_zero) {
            return Ok(Ok(Exact::ZERO));
        }
        let (mut sum, mut faults) = (Ok(Exact::ZERO), Vec::new());
        for (leaf, part) in material.leaves() {
            // Most weights are 0 or 1: their shares are added as whole parts.
            let (mut ones, mut others) = (0u32, Exact::ZERO);
            for row in leaf.composition().constituents() {
                match self.weight(leaf, row) {
                    Err(error) => faults.extend(error.into_faults()),
                    Ok(weight) if weight.is_typically_nothing() => {}
                    Ok(weight) => match (row.share(), weight.typical) {
                        (Some(share), Some(weight)) if weight == Exact::ONE => ones += share.parts(),
                        (Some(share), Some(weight)) => others += share.share() * weight,
                        (Some(share), None) if share.is_zero() => {}
                        (_, None) => sum = Err(left_open(leaf.id())),
                        (None, Some(_)) => sum = Err(bounded_only()),
                    },
                }
            }
            let mut leaf = Exact::ratio(i64::from(ones), i64::from(Ppm::WHOLE.parts()));
            if !others.is_zero() {
                leaf += others;
            }
            if part != Exact::ONE {
                leaf *= &part;
            }
            sum = sum.map(|sum| if sum.is_zero() { leaf } else { sum + leaf });
        }
        if faults.is_empty() { Ok(sum) } else { Err(faults) }
    }
}

/// `factor N` and `D` of each line for typical compositions.
pub(crate) struct TypicalSides {
    pub(crate) numerator: Vec<Exact>,
    pub(crate) denominator: Vec<Exact>,
    /// Lines of which one of the two is not known, and stands as 0, with the reason.
    pub(crate) not_known: Vec<(usize, Fault)>,
}

/// What typical compositions bring: what [`Compiled`] gives for them, without the ranges.
pub(crate) fn typical_sides(measure: &Measure, basis: &Basis, lines: &[LineView<'_>], facts: &Facts<'_>) -> Result<TypicalSides, Vec<Fault>> {
    check(measure, basis, lines).map_err(Error::into_faults)?;
    let ((above, above_scope), (below, below_scope)) = (measure.numerator(), measure.denominator());
    let resolved = |content| facts.names.resolve(content, lines).map_err(Error::into_faults);
    let (resolved_above, resolved_below) = (resolved(above)?, resolved(below)?);
    let factor = measure.factor();
    let mut sides = TypicalSides { numerator: Vec::with_capacity(lines.len()), denominator: Vec::with_capacity(lines.len()), not_known: Vec::new() };
    let mut unknowns = Vec::new();
    for (index, line) in lines.iter().enumerate() {
        let typical = |content, resolved, scope| Side::new(content, resolved, scope, basis, line, facts)?.typical(line.material);
        match (typical(above, &resolved_above, above_scope), typical(below, &resolved_below, below_scope)) {
            (Ok(above), Ok(below)) => {
                let mut known = |side: Result<Exact, Fault>| {
                    side.unwrap_or_else(|fault| {
                        sides.not_known.push((index, fault.at(format!("line {:?}", line.name))));
                        Exact::ZERO
                    })
                };
                let (above, below) = (known(above), known(below));
                sides.numerator.push(if above.is_zero() { above } else { &factor * above });
                sides.denominator.push(below);
            }
            (above, below) => keep_new(&mut unknowns, above.err().into_iter().chain(below.err()).flatten()),
        }
    }
    if unknowns.is_empty() { Ok(sides) } else { Err(unknowns) }
}

fn keep_new(known: &mut Vec<Fault>, faults: impl Iterator<Item = Fault>) {
    for fault in faults {
        if !known.contains(&fault) {
            known.push(fault);
        }
    }
}

/// That the scopes name what there is, and that the basis has a meaning for what is counted.
fn check(measure: &Measure, basis: &Basis, lines: &[LineView<'_>]) -> Result<(), Error> {
    let ((numerator, numerator_scope), (denominator, denominator_scope)) = (measure.numerator(), measure.denominator());
    numerator_scope.check(lines)?;
    denominator_scope.check(lines)?;
    match [numerator, denominator].into_iter().find(|content| *basis != Basis::AsCharged && content.of_water().is_none()) {
        Some(content) => Err(Fault::new(FaultKind::Unsupported, "this measure has a meaning as charged only").value(content.name()).into()),
        None => Ok(()),
    }
}

/// After drying, water itself weighs nothing and everything else carries its part of the residual water:
/// with `s_w` the share of water, `c_w mu / (1 - mu) (1 - s_w)` is spread over the other shares, which sum to `1 - s_w`.
fn dried(weight: Weight, is_water: bool, residual: &Exact) -> Weight {
    if is_water {
        return Weight::certain(Exact::ZERO);
    }
    Weight { least: weight.least + residual, typical: weight.typical.map(|typical| typical + residual), greatest: weight.greatest + residual, ..weight }
}
