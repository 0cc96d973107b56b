//! The findings of a review as columns of a sweep: codes, a bit for every rule or use level.
//!
//! What a row says is what a review of its grid formula says, the one that [`Sweep::answer`](super::Sweep::answer) gives. Where rounding the
//! row's percentages gives that formula for certain (`review/rounding.rs`) and no verdict could be another within the
//! rounding, the percentages are judged, in microseconds. Where one could, as at a limit that is met exactly, the row
//! is solved, put on the grid, and the formula itself is judged.
//!
//! Rules that begin on a later day have no column.
//!
//! # Why
//! - The exact solution would be the wrong thing to judge: rounding can break a limit that it meets with equality.

mod rounding;

use std::sync::Arc;

use super::axis::Axis;
use super::column::CODES;
use super::fill::Batch;
use super::legend::Legend;
use super::points::Points;
use rounding::Rounding;

use crate::brief::{Brief, BriefLine, Role};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{Formula, Line};
use crate::number::Ppm;
use crate::rule::{Certainty, Each, Judge, Product, RuleBook, Severity, Varied};

/// The codes of one row; nothing where no formula of whole ppm was found.
pub(super) type RowCodes = Option<[u64; CODES]>;

/// A review of every row: its rules compiled for all raw materials of the sweep.
pub(super) struct SweptReview {
    judge: Judge,
    least: Severity,
    /// The rules that are asked, by their places.
    query: Vec<usize>,
    /// What each of them is in the codes.
    meanings: Vec<Meaning>,
    pub(super) rules: Legend,
    pub(super) levels: Legend,
}

/// What a rule is in the codes.
struct Meaning {
    /// Its bit among the rules, if it is grave enough.
    bit: Option<usize>,
    /// Whether it is about use levels: 0 for above, 1 for below.
    side: Option<usize>,
}

impl std::fmt::Debug for SweptReview {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter
            .debug_struct("SweptReview")
            .field("product", self.judge.product())
            .field("least", &self.least)
            .finish_non_exhaustive()
    }
}

impl PartialEq for SweptReview {
    fn eq(&self, other: &Self) -> bool {
        self.judge.product() == other.judge.product()
            && self.judge.lists() == other.judge.lists()
            && self.least == other.least
    }
}

impl SweptReview {
    pub(super) fn new(points: &Points, book: &RuleBook, product: &Product, least: Severity) -> Result<Self, Error> {
        let exchanged = points
            .axes
            .iter()
            .flat_map(|axis| if let Axis::Material { materials, .. } = axis { materials.as_slice() } else { &[] });
        let materials = points.brief.lines().iter().map(BriefLine::material).chain(exchanged);
        let judge = Judge::new(book, product.clone(), materials)?;
        let (mut words, mut query, mut meanings) = (Vec::new(), Vec::new(), Vec::new());
        for (place, rule) in judge.rules().enumerate() {
            let counts = rule.severity() <= least && judge.can_find(rule.slug());
            let side = match rule.subject() {
                Varied::Each(check) => {
                    [Each::UseLevelHigh, Each::UseLevelLow].iter().position(|known| *known == check.check)
                }
                _ => None,
            };
            if counts || side.is_some() {
                query.push(place);
                meanings.push(Meaning { bit: counts.then_some(words.len()), side });
            }
            words.extend(counts.then(|| rule.slug().to_string()));
        }
        let rules = Legend::of_words(words);
        if !rules.fits() {
            return Err(Fault::new(
                FaultKind::Unsupported,
                "more rules concern these raw materials than a code tells apart",
            )
            .value(rules.words().len())
            .allowed(format!("up to {} rules", super::legend::MOST_LIMITS))
            .remedy("leave out the less grave ones, or use lists of fewer rules")
            .into());
        }
        let names = points.brief.lines().iter().map(BriefLine::name);
        let levels = Legend::of_words(
            names
                .flat_map(|name| [format!("{name} above its use level"), format!("{name} below its use level")])
                .collect(),
        );
        Ok(SweptReview { judge, least, query, meanings, rules, levels })
    }

    /// The codes of a formula of these shares; nothing where their room could change them.
    fn codes(&self, formula: &Formula, shares: &[(u32, u32)]) -> Result<RowCodes, Error> {
        let Some(judged) = self.judge.judge_near(formula, shares, &self.query)? else { return Ok(None) };
        let mut codes = [0; CODES];
        for (judged, Meaning { bit, side }) in judged.iter().zip(&self.meanings) {
            if let Some(side) = side.filter(|_| self.levels.fits()) {
                for name in judged.found.iter().flat_map(|verdict| &verdict.lines) {
                    let line = formula.lines().iter().position(|line| line.name() == name);
                    codes[3] |= line.map_or(0, |line| 1 << (2 * line + side));
                }
            }
            let Some(bit) = bit else { continue };
            // A purpose that is not stated, for one, makes a finding less grave than its rule.
            let grave = || judged.found.iter().filter(|verdict| verdict.severity <= self.least);
            codes[0] |= u64::from(grave().next().is_some()) << bit;
            codes[1] |= u64::from(grave().any(|verdict| verdict.certainty == Certainty::Certain)) << bit;
            codes[2] |= u64::from(judged.unchecked.is_some()) << bit;
        }
        Ok(Some(codes))
    }
}

/// What rows of the same raw materials, prices and moisture have in common.
struct Common {
    /// The places on the axes that turn those.
    places: Vec<usize>,
    /// The formula with everything in its first line.
    formula: Formula,
    rounding: Rounding,
}

/// What a thread keeps while it reviews rows.
#[derive(Default)]
pub(super) struct Reviewing {
    common: Option<Common>,
    shares: Vec<(u32, u32)>,
}

impl Reviewing {
    /// The codes of a row of a batch that has a formula.
    pub(super) fn row(
        &mut self,
        points: &Points,
        review: &SweptReview,
        batch: &Batch,
        place: usize,
    ) -> Result<RowCodes, Error> {
        let row = batch.first + place as u64;
        let places = points.places(row);
        let turning: Vec<usize> =
            points.axes.iter().zip(&places).filter(|(axis, _)| axis.turns_weights()).map(|(_, place)| *place).collect();
        let common = match self.common.take() {
            Some(common) if common.places == turning => common,
            _ => {
                let (rounding, brief) = Rounding::new(points, &places)?;
                Common { places: turning, formula: template(&brief)?, rounding }
            }
        };
        let common = self.common.insert(common);
        read(&points.brief, batch, place, &mut self.shares);
        if common.rounding.is_plain(&places, &self.shares)
            && let Some(codes) = review.codes(&common.formula, &self.shares)?
        {
            return Ok(Some(codes));
        }
        let answer = points.brief_of(row)?.without_absent_members()?.solve()?;
        let Ok(formula) = answer.formula() else { return Ok(None) };
        let shares: Vec<(u32, u32)> = formula.lines().iter().map(|line| (line.percent().parts(), 0)).collect();
        review.codes(formula, &shares)
    }
}

/// The row's shares in whole ppm, with the room of each.
fn read(brief: &Brief, batch: &Batch, place: usize, shares: &mut Vec<(u32, u32)>) {
    let room = u32::try_from(brief.lines().len()).unwrap_or(u32::MAX);
    shares.clear();
    for (line, percents) in brief.lines().iter().zip(&batch.numbers) {
        let parts = (percents.at(place) * f64::from(Ppm::WHOLE.parts()) / 100.0).round();
        // Between 0 and a million.
        shares.push((parts as u32, if matches!(line.role(), Role::Fixed(_)) { 0 } else { room }));
    }
    // Rounding leaves some ppm of the whole over or short; the largest line that has room takes them.
    let sum: i64 = shares.iter().map(|(parts, _)| i64::from(*parts)).sum();
    let largest = shares.iter_mut().filter(|(_, room)| *room > 0).max_by_key(|(parts, _)| *parts);
    if let Some((parts, _)) = largest {
        *parts = u32::try_from(i64::from(*parts) + i64::from(Ppm::WHOLE.parts()) - sum).unwrap_or(0);
    }
}

/// The formula of a brief with everything in its first line: names, raw materials and phases.
fn template(brief: &Brief) -> Result<Formula, Error> {
    let share = |place: usize| if place == 0 { Ppm::WHOLE } else { Ppm::ZERO };
    let line = |(place, line): (usize, &BriefLine)| -> Result<Line, Error> {
        let built = Line::new(line.name(), Arc::clone(line.material()), share(place))?.in_phase(line.phase())?;
        Ok(built.for_purposes(line.purposes()))
    };
    let lines = brief.lines().iter().enumerate().map(line).collect::<Result<Vec<_>, Error>>()?;
    Formula::new(brief.title(), lines)?.with_phases(&brief.phases())
}
