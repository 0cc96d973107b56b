//! How far an answer holds: for every limit its shadow price and the range in which that price holds, for every price the range in which
//! the recipe stays the same.
//!
//! With `v(t)` the best cost when a limit is moved by `t`, and `s` the slope that the proof's multipliers give, duality says
//! `v(t) >= v(0) + s t` for every `t` (the multipliers stay a lower bound; `v` is convex). So the range in which `v(t) = v(0) + s t` is
//!
//! ```text
//! { t : some x meets the moved requirements with c . x <= v(0) + s t }
//! ```
//!
//! which is an interval, and its ends are two linear programs in `(x, t)`. A price moves the costs instead: the exact solution stays best
//! as long as some multipliers fit it (complementary slackness), again two linear programs, in the multipliers and the price.
//! Source: linear programming duality, as in V. Chvatal, Linear Programming, 1983, chapters 5 and 10 (from memory).
//!
//! # Why
//! - How far an answer holds needs no basis: the range of a limit is two linear programs, that of a price two more
//!   by complementary slackness. Under degeneracy the range of a basis would be narrower than that of the value.

use indexmap::IndexMap;
use tenside_lp::{Column, Optimum, Outcome, Program, Row, solve_watched};

use super::constraint::{Constraint, End};
use super::member::{Member, members, words};
use super::program::{RowName, sides};
use super::{Answer, BriefProgram};
use crate::bounds::Quantity;
use crate::brief::{Brief, Direction, Objective, Role};
use crate::catalogue::PriceList;
use crate::error::{Error, Fault, FaultKind};
use crate::measure::Content;
use crate::number::Exact;
use crate::watch::Watched;

/// A limit of the brief: what one more unit of it does to the objective, and from where to where that holds.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct LimitRange {
    /// What it is about.
    pub constraint: Constraint,
    /// The limit, in the words of the brief.
    pub words: String,
    /// Its value.
    pub value: Exact,
    /// Its unit.
    pub unit: String,
    /// What the objective is about: `cost`, `water`.
    pub objective: String,
    /// Change of the objective for one more unit of the limit.
    pub price: Exact,
    /// The objective's unit.
    pub price_unit: String,
    /// The lowest value for which that holds; absent where there is no lowest.
    pub from: Option<Exact>,
    /// The highest value for which that holds; absent where there is no highest.
    pub to: Option<Exact>,
}

/// A raw material's price and the range in which the recipe stays the same.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct PriceRange {
    /// The material's id.
    pub material: String,
    /// Its price per kilogram.
    pub price: Exact,
    /// The lowest price; `None` where there is no lowest among the prices that may be.
    pub from: Option<Exact>,
    /// The highest price; `None` where there is no highest among the prices that may be.
    pub to: Option<Exact>,
}

fn span(from: &Option<Exact>, to: &Option<Exact>, unit: &str, no_end: &str) -> String {
    let unit = if unit.is_empty() { String::new() } else { format!(" {unit}") };
    match (from, to) {
        (Some(from), Some(to)) => format!("from {} to {}{unit}", from.rounded_text(4), to.rounded_text(4)),
        (Some(from), None) => format!("from {}{unit} on", from.rounded_text(4)),
        (None, Some(to)) => format!("up to {}{unit}", to.rounded_text(4)),
        (None, None) => no_end.to_string(),
    }
}

impl LimitRange {
    /// A sentence: `active matter at 56 %: one more % costs 0.1045 EUR per kg, valid from 52.1000 to 58.4000 %`; of an objective that is no cost
    /// `one more % raises water by 0.3000 %`.
    #[must_use]
    pub fn sentence(&self) -> String {
        let up = self.price.is_positive();
        // A small price is not shown as nothing.
        let digits = if self.price.abs() < Exact::ratio(1, 100) { 8 } else { 4 };
        let price = format!("{} {}", self.price.abs().rounded_text(digits), self.price_unit);
        let change = match self.objective.as_str() {
            _ if self.price.is_zero() => "changes nothing".to_string(),
            "cost" => format!("{} {price}", if up { "costs" } else { "saves" }),
            other => format!("{} {other} by {price}", if up { "raises" } else { "lowers" }),
        };
        let unit = if self.unit.is_empty() { "unit" } else { &self.unit };
        format!("{}: one more {unit} {change}, valid {}", self.words, span(&self.from, &self.to, &self.unit, "everywhere"))
    }
}

impl PriceRange {
    /// A sentence: `sci-powder at 6.4 per kg: the same recipe from 5.91 to 8.02 per kg`.
    #[must_use]
    pub fn sentence(&self) -> String {
        format!("{} at {} per kg: the same recipe {}", self.material, self.price, span(&self.from, &self.to, "per kg", "at any price"))
    }
}

impl Answer {
    /// For every end of a requirement and of a line's range: its shadow price and where that holds. Requirements on ratios with a
    /// varying denominator, on every composition, and splits are left out, since moving them is not linear.
    ///
    /// ```
    /// use std::sync::Arc;
    /// use rust_decimal::Decimal;
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::{Catalogue, PriceList};
    /// use tenside::measure::Measure;
    /// use tenside::number::Exact;
    /// let prices = PriceList::new("EUR", [("capb-30".to_string(), Decimal::from(3)), ("water".to_string(), Decimal::ZERO)])?;
    /// let brief = Brief::new("Wash", &Catalogue::starter())?.with_prices(&prices)?.free("capb-30")?.qs("water")?;
    /// let answer = brief.at_least(Measure::active_matter(), 12)?.minimise(Measure::cost()).solve()?;
    /// let limit = &answer.limit_ranges()?[0];
    /// assert_eq!(limit.price, Exact::ratio(1, 10));   // 1 % active is 3.33 % of the solution at 3 EUR/kg
    /// assert_eq!((limit.from.clone(), limit.to.clone()), (Some(Exact::ZERO), Some(Exact::from(30))));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// An answer to a brief whose objective is no measure over a constant denominator.
    pub fn limit_ranges(&self) -> Result<Vec<LimitRange>, Error> {
        let (optimum, sign, price_unit) = self.linear_objective()?;
        let objective = match self.brief().objective() {
            Some(Objective::Measure { measure, .. }) => measure.name(),
            _ => return Err(not_linear()),
        };
        let (brief, program) = (self.brief(), self.proof().program());
        let mut ranges = Vec::new();
        for member in members(brief, program) {
            for end in ends(brief, program, member) {
                let slope = end.slope(optimum);
                let reach = |upwards: bool| end.reach(program, optimum, &slope, upwards, brief.watched());
                let (from, to) = (reach(false)?.map(|least| &end.value + least), reach(true)?.map(|most| &end.value + most));
                let price = &slope * &sign;
                let unit = end.unit.clone();
                let (objective, price_unit) = (objective.clone(), price_unit.clone());
                let Some(constraint) = end.constraint(brief, program) else { continue };
                ranges.push(LimitRange {
                    constraint,
                    words: end.words(brief, program, member),
                    value: end.value,
                    unit,
                    objective,
                    price,
                    price_unit,
                    from,
                    to,
                });
            }
        }
        Ok(ranges)
    }

    /// For every priced raw material of the brief, the prices between which the exact solution stays best.
    ///
    /// # Errors
    /// An answer to a brief whose objective is not the cost over a constant denominator.
    pub fn price_ranges(&self) -> Result<Vec<PriceRange>, Error> {
        let (optimum, sign, _) = self.linear_objective()?;
        let brief = self.brief();
        let (Some(prices), Some(Objective::Measure { measure, basis, .. })) = (brief.prices(), brief.objective()) else { return Err(not_linear()) };
        if measure.numerator().iter().any(|term| term.content != Content::Cost) {
            return Err(not_linear());
        }
        let mut ids: IndexMap<&str, Exact> = IndexMap::new();
        for line in brief.lines() {
            for (material, _) in std::iter::once((line.material().as_ref(), Exact::ONE)).chain(line.material().leaves()) {
                if let Some(price) = prices.get(material.id()) {
                    ids.insert(material.id(), price.into());
                }
            }
        }
        let mut ranges = Vec::new();
        for (id, price) in ids {
            let alone = PriceList::new(prices.currency(), prices.iter().map(|(known, _)| (known.to_string(), i64::from(known == id).into())))?;
            let (numerator, denominator) = sides(&brief.clone().priced_by(alone.into()), measure, basis)?;
            let scale = &sign / (&denominator[0] * Exact::hundred());
            let weights: Vec<Exact> = numerator.iter().map(|value| value * &scale).collect();
            // Beyond what a price may be there is no end to speak of.
            let (lowest, highest) = Quantity::Price.range();
            let end = |upwards: bool| -> Result<Option<Exact>, Error> { Ok(self.price_reach(optimum, &weights, upwards)?.map(|change| &price + change)) };
            let from = end(false)?.filter(|from| *from >= Exact::from(lowest));
            let to = end(true)?.filter(|to| *to <= Exact::from(highest));
            ranges.push(PriceRange { material: id.to_string(), from, to, price });
        }
        Ok(ranges)
    }

    /// The optimum, the sign that turns its cost into the user's objective, and the objective's unit.
    fn linear_objective(&self) -> Result<(&Optimum, Exact, String), Error> {
        let Some(Objective::Measure { direction, measure, .. }) = self.brief().objective() else { return Err(not_linear()) };
        if self.proof().denominator().is_some() {
            return Err(not_linear());
        }
        let sign = if *direction == Direction::Minimise { Exact::ONE } else { Exact::from(-1) };
        let optimum = self.proof().outcome().optimum().ok_or_else(not_linear)?;
        Ok((optimum, sign, measure.unit(self.brief().prices().map(|prices| prices.currency()))))
    }

    /// The greatest (or least) change of a price for which some multipliers still fit the exact solution. Columns: the multipliers, then
    /// the change; rows: one for each line.
    fn price_reach(&self, optimum: &Optimum, weights: &[Exact], upwards: bool) -> Result<Option<Exact>, Error> {
        let program = self.proof().program().program();
        let side = |at_low: bool, at_high: bool| match (at_low, at_high) {
            (true, true) => (None, None),
            (true, false) => (Some(Exact::ZERO), None),
            (false, true) => (None, Some(Exact::ZERO)),
            (false, false) => (Some(Exact::ZERO), Some(Exact::ZERO)),
        };
        let mut columns: Vec<Column> = program
            .rows()
            .iter()
            .map(|row| {
                let activity: Exact = row.coefficients.iter().zip(&optimum.values).map(|(coefficient, value)| coefficient * value).sum();
                let (low, high) = side(row.low.as_ref() == Some(&activity), row.high.as_ref() == Some(&activity));
                Column { low, high, cost: Exact::ZERO }
            })
            .collect();
        columns.push(Column { low: None, high: None, cost: if upwards { Exact::from(-1) } else { Exact::ONE } });
        let rows = program.columns().iter().enumerate().map(|(index, column)| {
            let value = &optimum.values[index];
            // The reduced cost c + change w - y A is at least 0 at a low end, at most 0 at a high end, 0 between.
            let (low, high) = side(column.low.as_ref() == Some(value), column.high.as_ref() == Some(value));
            let mut coefficients: Vec<Exact> = program.rows().iter().map(|row| -&row.coefficients[index]).collect();
            coefficients.push(weights.get(index).cloned().unwrap_or_default());
            Row { coefficients, low: low.map(|end| end - &column.cost), high: high.map(|end| end - &column.cost) }
        });
        let program = Program::new(columns, rows.collect())?;
        Ok(last_column(&solve_watched(&program, &[], self.brief().watched())?))
    }
}

fn not_linear() -> Error {
    Fault::new(FaultKind::Unsupported, "how far an answer holds is calculated for objectives that are a measure over a constant denominator")
        .remedy("minimise or maximise a measure of the formula as charged")
        .into()
}

/// The last column's value at the optimum; nothing where it has no end.
fn last_column(outcome: &Outcome) -> Option<Exact> {
    outcome.optimum().and_then(|optimum| optimum.values.last().cloned())
}

/// A limit that can be moved.
pub(super) struct MovableLimit {
    pub(super) member: Member,
    pub(super) moved: End,
    pub(super) value: Exact,
    pub(super) unit: String,
    /// By how much the row's limit moves with one unit of the user's.
    pub(super) scale: Exact,
}

fn ends(brief: &Brief, program: &BriefProgram, member: Member) -> Vec<MovableLimit> {
    match member {
        Member::Line(index) => {
            let end = |moved: End, value: Exact| MovableLimit { member, moved, value, unit: "%".to_string(), scale: Exact::ONE };
            match brief.lines()[index].role() {
                Role::Fixed(percent) => vec![end(End::Both, percent.percent())],
                Role::Between(low, high) => vec![end(End::Low, low.percent()), end(End::High, high.percent())],
                _ => Vec::new(),
            }
        }
        Member::Row(row) => {
            let RowName::Requirement { index, upper, .. } = &program.names()[row] else { return Vec::new() };
            let requirement = &brief.requirements()[*index];
            let divisor = &program.units()[row].divisor;
            let constant = divisor.windows(2).all(|pair| pair[0] == pair[1]);
            if requirement.is_for_every_composition() || !constant {
                return Vec::new();
            }
            let (value, moved) = match (requirement.low(), requirement.high()) {
                (Some(low), Some(high)) if low == high => (low.clone(), End::Both),
                (_, Some(high)) if *upper => (high.clone(), End::High),
                (Some(low), _) => (low.clone(), End::Low),
                _ => return Vec::new(),
            };
            vec![MovableLimit { member, moved, value, unit: program.units()[row].unit.clone(), scale: &divisor[0] * Exact::hundred() }]
        }
    }
}

impl MovableLimit {
    fn constraint(&self, brief: &Brief, program: &BriefProgram) -> Option<Constraint> {
        match self.member {
            Member::Row(row) => Constraint::of_row(brief, &program.names()[row]),
            Member::Line(line) => Some(Constraint::line(brief, line, self.moved)),
        }
    }

    fn words(&self, brief: &Brief, program: &BriefProgram, member: Member) -> String {
        match (member, self.moved) {
            (Member::Line(_), End::Low) => format!("low end of {}", words(brief, program, member)),
            (Member::Line(_), End::High) => format!("high end of {}", words(brief, program, member)),
            _ => words(brief, program, member),
        }
    }

    /// Change of the cost for one more unit, as the multipliers say. A multiplier above 0 belongs to the low end, one below to the high end.
    pub(super) fn slope(&self, optimum: &Optimum) -> Exact {
        let multiplier = match self.member {
            Member::Row(row) => &optimum.row_multipliers[row],
            Member::Line(line) => &optimum.reduced_costs[line],
        };
        let acts = match self.moved {
            End::Low => multiplier.is_positive(),
            End::High => multiplier.is_negative(),
            End::Both => true,
        };
        if acts { multiplier * &self.scale } else { Exact::ZERO }
    }

    /// The greatest (or least) move for which the best cost is `v(0) + slope t`; nothing where there is no such end.
    pub(super) fn reach(&self, program: &BriefProgram, optimum: &Optimum, slope: &Exact, upwards: bool, watched: &Watched) -> Result<Option<Exact>, Error> {
        let linear = program.program();
        let count = linear.columns().len();
        let mut columns: Vec<Column> = linear.columns().iter().map(|column| Column { cost: Exact::ZERO, ..column.clone() }).collect();
        let mut rows: Vec<Row> = linear.rows().to_vec();
        rows.iter_mut().for_each(|row| row.coefficients.push(Exact::ZERO));
        let (target, scale) = match self.member {
            Member::Row(row) => (row, self.scale.clone()),
            Member::Line(line) => {
                let mut coefficients = vec![Exact::ZERO; count + 1];
                coefficients[line] = Exact::ONE;
                let column = &mut columns[line];
                let (low, high) = (column.low.replace(Exact::ZERO), column.high.replace(Exact::hundred()));
                rows.push(Row { coefficients, low, high });
                (rows.len() - 1, Exact::ONE)
            }
        };
        match self.moved {
            End::Both => rows[target].coefficients[count] = -scale,
            moved => {
                // The other end stays: the row is split in two.
                let mut other = rows[target].clone();
                rows[target].coefficients[count] = -scale;
                let fixed = if moved == End::Low { (None, other.high.take()) } else { (other.low.take(), None) };
                if moved == End::Low {
                    rows[target].high = None
                } else {
                    rows[target].low = None
                }
                (other.low, other.high) = fixed;
                rows.push(other);
            }
        }
        let mut best: Vec<Exact> = linear.columns().iter().map(|column| column.cost.clone()).collect();
        best.push(-slope);
        rows.push(Row { coefficients: best, low: None, high: Some(optimum.objective.clone()) });
        columns.push(Column { low: None, high: None, cost: if upwards { Exact::from(-1) } else { Exact::ONE } });
        Ok(last_column(&solve_watched(&Program::new(columns, rows)?, &[], watched)?))
    }
}
