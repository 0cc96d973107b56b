//! What holds an answer where it is.

use tenside_lp::{Outcome, dot};

use super::constraint::{Constraint, End, Limit, limit};
use super::program::BriefProgram;
use super::proof::{Proof, multiplier};
use crate::brief::{Brief, Role};
use crate::document::named_enum;
use crate::number::Exact;

named_enum! {
    /// Which end binds.
    Side "side" {
        /// The value stands at its lowest allowed.
        AtLowest = "at-lowest",
        /// The value stands at its highest allowed.
        AtHighest = "at-highest",
        /// The value is fixed.
        Fixed = "fixed",
    }
}

/// A requirement or range that the exact solution meets exactly.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Binding {
    /// What it is about.
    pub constraint: Constraint,
    /// In the words of the brief.
    pub words: String,
    /// Which end.
    pub side: Side,
    /// True where the proof uses it: without it the objective could be better.
    pub decisive: bool,
}

/// Where a point stands: at which ends of lines that are not fixed, then at which ends of rows, each with its column or
/// row, numbered as in [`tenside_lp::Basis`].
pub(super) fn standing(brief: &Brief, program: &BriefProgram, point: &[Exact]) -> Vec<(usize, Limit, Side)> {
    let mut found = Vec::new();
    for (index, (line, value)) in brief.lines().iter().zip(point).enumerate() {
        let (low, high) = line.role().range();
        let ends = [(low, Limit::Low(index), Side::AtLowest), (high, Limit::High(index), Side::AtHighest)];
        let at = ends.into_iter().filter(|(end, ..)| !matches!(line.role(), Role::Fixed(_)) && *value == end.percent());
        found.extend(at.map(|(_, limit, side)| (index, limit, side)));
    }
    for (row, (name, asked)) in program.named_rows().enumerate() {
        let Some(limit) = limit(name) else { continue };
        let activity = Some(dot(&asked.coefficients, point));
        let side = match (asked.low == activity, asked.high == activity) {
            (true, true) => Side::Fixed,
            (true, false) => Side::AtLowest,
            (false, true) => Side::AtHighest,
            (false, false) => continue,
        };
        found.push((program.program().columns().len() + row, limit, side));
    }
    found
}

/// The requirements and ranges that bind, the brief's own order; fixed lines and the sum to 100 always bind and are
/// left out.
pub(super) fn bindings(brief: &Brief, proof: &Proof) -> Vec<Binding> {
    let Outcome::Optimal(optimum) = proof.outcome() else { return Vec::new() };
    let program = proof.program();
    let mut found = standing(brief, program, &optimum.values);
    // Of a range of one value the low end is told.
    found.dedup_by_key(|(variable, ..)| *variable);
    let binding = |(variable, limit, side): (usize, Limit, Side)| {
        let words = match limit {
            Limit::Low(line) | Limit::High(line) => {
                let line = &brief.lines()[line];
                format!("line {}, {}", line.name(), line.role().words())
            }
            _ => program.names()[variable - program.program().columns().len()].words().to_string(),
        };
        let decisive = !multiplier(optimum, variable).is_zero();
        Some(Binding { constraint: Constraint::of_limit(brief, limit, End::Both)?, words, side, decisive })
    };
    found.into_iter().filter_map(binding).collect()
}
