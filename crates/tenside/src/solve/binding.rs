//! What holds an answer where it is.

use tenside_lp::{Outcome, dot};

use super::constraint::{Constraint, End, limit};
use super::proof::Proof;
use crate::brief::{Brief, Role};
use crate::document::named_enum;

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

/// The requirements and ranges that bind, the brief's own order; fixed lines and the sum to 100 always bind and are
/// left out.
pub(super) fn bindings(brief: &Brief, proof: &Proof) -> Vec<Binding> {
    let Outcome::Optimal(optimum) = proof.outcome() else { return Vec::new() };
    let mut found = Vec::new();
    for (index, line) in brief.lines().iter().enumerate() {
        let (low, high) = line.role().range();
        let value = &optimum.values[index];
        let side = match line.role() {
            Role::Fixed(_) => continue,
            _ if *value == low.percent() => Side::AtLowest,
            _ if *value == high.percent() => Side::AtHighest,
            _ => continue,
        };
        let words = format!("line {}, {}", line.name(), line.role().words());
        let end = if side == Side::AtLowest { End::Low } else { End::High };
        let constraint = Constraint::line(brief, index, end);
        found.push(Binding { constraint, words, side, decisive: !optimum.reduced_costs[index].is_zero() });
    }
    for ((name, row), multiplier) in proof.program().named_rows().zip(&optimum.row_multipliers) {
        let constraint = limit(name).and_then(|limit| Constraint::of_limit(brief, limit, End::Both));
        let Some(constraint) = constraint else { continue };
        let activity = dot(&row.coefficients, &optimum.values);
        let (at_low, at_high) = (row.low.as_ref() == Some(&activity), row.high.as_ref() == Some(&activity));
        let side = match (at_low, at_high) {
            (true, true) => Side::Fixed,
            (true, false) => Side::AtLowest,
            (false, true) => Side::AtHighest,
            (false, false) => continue,
        };
        found.push(Binding { constraint, words: name.words().to_string(), side, decisive: !multiplier.is_zero() });
    }
    found
}
