//! How far an answer holds: for every limit its shadow price and the range in which that price holds, for every price
//! the range in which the recipe stays the same.
//!
//! With `v(t)` the best cost when a limit is moved by `t`, and `s` the slope that the proof's multipliers give, duality
//! says `v(t) >= v(0) + s t` for every `t` (the multipliers stay a lower bound; `v` is convex). It is `v(0) + s t` just
//! where some point meets the moved limit and has, beside it, whatever has a multiplier at its end (complementary
//! slackness). Of those points, the least and the greatest value of the limited quantity are the ends of the range:
//!
//! ```text
//! least and greatest of a_i . x     over x in all ranges but the moved end, with every other multiplier that is not 0 at its end
//! ```
//!
//! A price moves the costs `c` by `t w` instead. The exact solution `x*` stays best as long as no point is cheaper:
//!
//! ```text
//! t  <-  c . (x - x*) / w . (x* - x)     x the cheapest point at t, beginning beyond what a price may be, until x* is as cheap
//! ```
//!
//! which are Dinkelbach's steps for the least of that ratio (W. Dinkelbach, Management Science 13, 1967). A limit on the
//! cost itself moves with the price; as long as `x*` keeps it, it refuses only what is dearer than `x*`, so that all it
//! does is to end the range where `x*` does not. Source of the rest: linear programming duality, as in V. Chvatal,
//! Linear Programming, 1983, chapters 5 and 10 (both from memory).
//!
//! # Why
//! - How far an answer holds needs no basis: under degeneracy the range of a basis would be narrower than that of the
//!   value. Where the optimum leaves no choice of its basis both are the same, and the basis answers (`ranging.rs`).
//!   Otherwise a program in `x` alone, whose columns have both ends, is one that the search takes; with the move as a
//!   free column beside them it went to the exact simplex method, which took twenty times as long.

use indexmap::IndexMap;
use tenside_lp::{Column, Halt, Optimum, Outcome, Program, dot, solve_watched};

use super::constraint::{Constraint, End, Limit};
use super::member::{members, row_of, words};
use super::objective::{is_constant, sign, worse_by};
use super::parametric::Interval;
use super::program::{RowName, RowUnit, currency};
use super::proof::multiplier;
use super::ranging::OwnBasis;
use super::sides::sides;
use super::{Answer, BriefProgram};
use crate::bounds::Quantity;
use crate::brief::{Brief, BriefLine, Objective, Role};
use crate::catalogue::PriceList;
use crate::error::{Error, Fault, FaultKind};
use crate::material::Material;
use crate::measure::{Basis, Content, Measure};
use crate::number::{Exact, Ppm};
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
    /// The currency.
    pub currency: String,
    /// The lowest price; `None` where there is no lowest among the prices that may be.
    pub from: Option<Exact>,
    /// The highest price; `None` where there is no highest among the prices that may be.
    pub to: Option<Exact>,
}

/// From where to where something holds; what is shown lies inside.
pub(super) fn span(from: &Option<Exact>, to: &Option<Exact>, unit: &str, no_end: &str) -> String {
    let unit = if unit.is_empty() { String::new() } else { format!(" {unit}") };
    match (from, to) {
        (Some(from), Some(to)) => format!("from {} to {}{unit}", from.ceiling_text(4), to.floor_text(4)),
        (Some(from), None) => format!("from {}{unit} on", from.ceiling_text(4)),
        (None, Some(to)) => format!("up to {}{unit}", to.floor_text(4)),
        (None, None) => no_end.to_string(),
    }
}

impl LimitRange {
    /// A sentence: `active matter at 56 %: one more % costs 0.1045 EUR per kg, valid from 52.1000 to 58.4000 %`; of an
    /// objective that is no cost `one more % raises water by 0.3000 %`.
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
        format!(
            "{}: one more {unit} {change}, valid {}",
            self.words,
            span(&self.from, &self.to, &self.unit, "everywhere")
        )
    }
}

impl PriceRange {
    /// A sentence: `sci-powder at 6.4 EUR per kg: the same recipe from 5.91 to 8.02 EUR per kg`.
    #[must_use]
    pub fn sentence(&self) -> String {
        let unit = format!("{} per kg", self.currency);
        let range = span(&self.from, &self.to, &unit, "at any price");
        format!("{} at {} {unit}: the same recipe {range}", self.material, self.price)
    }
}

impl Answer {
    /// For every end of a requirement and of a line's range: its shadow price and where that holds. Requirements on
    /// ratios with a varying denominator, on every composition, and splits are left out, since moving them is not
    /// linear.
    ///
    /// ```
    /// use std::sync::Arc;
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::{Catalogue, PriceList};
    /// use tenside::measure::Measure;
    /// use tenside::number::Exact;
    /// let prices = PriceList::new("EUR", [("capb-30", 3), ("water", 0)])?;
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
        let (optimum, measure, _) = self.linear_objective()?;
        let (brief, program) = (self.brief(), self.proof().program());
        let cheapest = Cheapest::of(program.program(), optimum);
        let range = |end: MovableLimit| {
            brief.watched().check()?;
            let slope = end.slope(optimum);
            let reach = |upwards: bool| end.reach(program.program(), &cheapest, &slope, upwards, brief.watched());
            let (from, to) =
                (reach(false)?.map(|least| &end.value + least), reach(true)?.map(|most| &end.value + most));
            Ok(LimitRange {
                constraint: end.constraint,
                words: end.words,
                value: end.value,
                unit: end.unit,
                objective: measure.name(),
                price: slope * sign(brief),
                price_unit: measure.unit(currency(brief)),
                from,
                to,
            })
        };
        movable(brief, program).into_iter().map(range).collect()
    }

    /// For every priced raw material of the brief, the prices between which the exact solution stays best and keeps
    /// limits on the cost that is minimised or maximised.
    ///
    /// # Errors
    /// An answer to a brief whose objective is not the cost over a constant denominator, and one with a requirement that
    /// rests on prices in another way: what it allows moves with them.
    pub fn price_ranges(&self) -> Result<Vec<PriceRange>, Error> {
        let (optimum, measure, basis) = self.linear_objective()?;
        let brief = self.brief();
        let prices = brief.prices().ok_or_else(not_linear)?;
        if measure.numerator().iter().any(|term| term.content != Content::Cost) {
            let fault = Fault::new(FaultKind::Unsupported, "the objective does not rest on prices")
                .value(measure.name())
                .remedy("minimise the cost, or sweep the price where a requirement rests on it");
            return Err(fault.into());
        }
        let mut program = self.proof().program().program().clone();
        let leeway = self.leeway(&mut program)?;
        let mut ids: IndexMap<&str, Exact> = IndexMap::new();
        for line in brief.lines() {
            for (material, _) in std::iter::once((line.material().as_ref(), Exact::ONE)).chain(line.material().leaves())
            {
                if let Some(price) = prices.get(material.id()) {
                    ids.insert(material.id(), price.into());
                }
            }
        }
        let (lowest, highest) = Quantity::Price.range();
        let (lowest, highest) = (Exact::from(lowest), Exact::from(highest));
        let costs: Vec<Exact> = program.columns().iter().map(|column| column.cost.clone()).collect();
        let own = OwnBasis::by_ends(&program, optimum);
        // A line's cost is the sum of its priced parts, each by its share, times what its row shows for one a kilogram.
        let ones = PriceList::new(prices.currency(), prices.iter().map(|(known, _)| (known, 1)))?;
        let (of_ones, denominator) = sides(&brief.clone().priced_by(ones.into()), measure, basis)?;
        let scale = sign(brief) / (&denominator[0] * Exact::hundred());
        let mut ranges = Vec::new();
        for (id, price) in ids {
            brief.watched().check()?;
            let is_it =
                |part: &Material| prices.get(part.id()).map(|_| if part.id() == id { Exact::ONE } else { Exact::ZERO });
            let weight = |(line, of_one): (&BriefLine, &Exact)| {
                let share = line.material().stated_or_of_parts(is_it, |_| not_linear())?;
                Ok(if share.is_zero() { share } else { share * of_one * &scale })
            };
            let weights = brief.lines().iter().zip(&*of_ones).map(weight).collect::<Result<Vec<Exact>, Error>>()?;
            let mut changes = match &own {
                Some(own) => own.cost_changes(&weights),
                None => {
                    let mut change = |beyond: Exact| {
                        price_reach(&mut program, &costs, optimum, &weights, beyond - &price, brief.watched())
                    };
                    Interval { from: change(&lowest - Exact::ONE)?, to: change(&highest + Exact::ONE)? }
                }
            };
            // The recipe itself grows worse by this for one more of the price.
            let rate = dot(&weights, &optimum.values);
            if let Some(most) = leeway.as_ref().and_then(|leeway| leeway.checked_div(&rate)) {
                if rate.is_negative() { changes.not_below(most) } else { changes.not_above(most) }
            }
            let Interval { from, to } = changes.moved_by(&price);
            // Beyond what a price may be there is no end to speak of.
            let (from, to) = (from.filter(|from| *from >= lowest), to.filter(|to| *to <= highest));
            let currency = prices.currency().to_string();
            ranges.push(PriceRange { material: id.to_string(), from, to, price, currency });
        }
        Ok(ranges)
    }

    /// How much worse the objective may be by the limits on it, whose rows are loosened: they take away nothing that is
    /// better than the recipe, and end a range where they take away the recipe itself.
    fn leeway(&self, program: &mut Program) -> Result<Option<Exact>, Error> {
        let brief = self.brief();
        let (_, measure, basis) = self.linear_objective()?;
        let value = self.objective().ok_or_else(not_linear)?;
        let mut leeway: Option<Exact> = None;
        for (place, requirement) in brief.requirements().iter().enumerate() {
            if !requirement.measure().is_priced() {
                continue;
            }
            let (better, worse) = match sign(brief).is_positive() {
                true => (requirement.low(), requirement.high()),
                false => (requirement.high(), requirement.low()),
            };
            let is_on_it = requirement.measure() == measure
                && requirement.basis() == basis
                && !requirement.is_for_every_composition()
                && better.is_none();
            let Some(worse) = worse.filter(|_| is_on_it) else {
                let message = "a requirement rests on prices, so that what it allows moves with them";
                return Err(Fault::new(FaultKind::Unsupported, message)
                    .value(format!("{:?}", requirement.name()))
                    .remedy("sweep the price, or drop the requirement")
                    .into());
            };
            leeway = leeway.into_iter().chain([worse_by(brief, worse, value)]).min();
            let names = self.proof().program().names();
            program.change(
                |_, _| {},
                |row, limits| {
                    if matches!(&names[row], RowName::Requirement { index, .. } if *index == place) {
                        (limits.low, limits.high) = (None, None);
                    }
                },
            );
        }
        Ok(leeway)
    }

    /// The optimum, and the measure that is the objective with its basis.
    fn linear_objective(&self) -> Result<(&Optimum, &Measure, &Basis), Error> {
        let (Some(Objective::Measure { measure, basis, .. }), None, Some(optimum)) =
            (self.brief().objective(), self.proof().denominator(), self.proof().outcome().optimum())
        else {
            return Err(not_linear());
        };
        Ok((optimum, measure, basis))
    }
}

fn not_linear() -> Error {
    Fault::new(
        FaultKind::Unsupported,
        "how far an answer holds is calculated for objectives that are a measure over a constant denominator",
    )
    .remedy("minimise or maximise a measure of the formula as charged")
    .into()
}

/// The change of a price, towards `beyond`, up to which the exact solution stays best; `None` if it does so even there.
/// The costs of `program` are left as they were tried last.
fn price_reach(
    program: &mut Program,
    costs: &[Exact],
    optimum: &Optimum,
    weights: &[Exact],
    beyond: Exact,
    watched: &Watched,
) -> Result<Option<Exact>, Error> {
    let (best, weight) = (dot(costs, &optimum.values), dot(weights, &optimum.values));
    let mut change = beyond.clone();
    loop {
        program.change(|index, column| column.cost = &costs[index] + &change * &weights[index], |_, _| {});
        let Outcome::Optimal(found) = solve_watched(program, &[], watched)? else { return Err(not_linear()) };
        if found.objective == &best + &change * &weight {
            return Ok((change != beyond).then_some(change));
        }
        // What is cheaper at this change differs in weight, since it is no cheaper without any.
        change = (dot(costs, &found.values) - &best)
            .checked_div(&(&weight - dot(weights, &found.values)))
            .ok_or_else(not_linear)?;
    }
}

/// The points of least cost.
pub(super) enum Cheapest {
    /// One alone, of this basis.
    One(OwnBasis),
    /// All of this program: what has a multiplier stands at its end, and nothing costs.
    Any(Program),
}

impl Cheapest {
    pub(super) fn of(program: &Program, optimum: &Optimum) -> Self {
        OwnBasis::by_multipliers(program, optimum).map_or_else(|| Cheapest::any(program, optimum), Cheapest::One)
    }

    pub(super) fn any(program: &Program, optimum: &Optimum) -> Self {
        let stand = |low: &mut Option<Exact>, high: &mut Option<Exact>, multiplier: &Exact| {
            if multiplier.is_positive() {
                high.clone_from(low);
            } else if multiplier.is_negative() {
                low.clone_from(high);
            }
        };
        let mut face = program.clone();
        face.change(
            |index, column| {
                stand(&mut column.low, &mut column.high, &optimum.reduced_costs[index]);
                column.cost = Exact::ZERO;
            },
            |index, row| stand(&mut row.low, &mut row.high, &optimum.row_multipliers[index]),
        );
        Cheapest::Any(face)
    }
}

/// A limit that can be moved.
pub(super) struct MovableLimit {
    /// Which column or row it is an end of, numbered as in [`tenside_lp::Basis`].
    pub(super) variable: usize,
    pub(super) constraint: Constraint,
    pub(super) words: String,
    pub(super) value: Exact,
    pub(super) unit: String,
    /// By how much the row's limit moves with one unit of the user's.
    pub(super) scale: Exact,
}

/// Every limit of a brief that can be moved, rows first.
pub(super) fn movable(brief: &Brief, program: &BriefProgram) -> Vec<MovableLimit> {
    let mut found = Vec::new();
    for member in members(brief, program) {
        let words = words(brief, program, member);
        match (member, row_of(program, member)) {
            (Limit::Line(index), _) => {
                let end = |moved: End, which: &str, value: Ppm| MovableLimit {
                    variable: index,
                    constraint: Constraint::line(brief, index, moved),
                    words: format!("{which}{words}"),
                    value: value.percent(),
                    unit: "%".to_string(),
                    scale: Exact::ONE,
                };
                match *brief.lines()[index].role() {
                    Role::Fixed(percent) => found.push(end(End::Both, "", percent)),
                    Role::Between(low, high) => {
                        found.extend([end(End::Low, "low end of ", low), end(End::High, "high end of ", high)]);
                    }
                    _ => {}
                }
            }
            (Limit::Requirement { index, upper }, Some(row)) => {
                let requirement = &brief.requirements()[index];
                let RowUnit { divisor, unit } = &program.units()[row];
                // Of what no line brings anything to there is no value that a limit could move.
                let constant = is_constant(divisor) && !divisor[0].is_zero();
                if requirement.is_for_every_composition() || !constant {
                    continue;
                }
                let constraint = Constraint::requirement(brief, index, upper);
                let value = if constraint.end() == End::High { requirement.high() } else { requirement.low() };
                found.extend(value.map(|value| MovableLimit {
                    variable: program.program().columns().len() + row,
                    constraint,
                    words,
                    value: value.clone(),
                    unit: unit.clone(),
                    scale: &divisor[0] * Exact::hundred(),
                }));
            }
            _ => {}
        }
    }
    found
}

impl MovableLimit {
    /// Change of the cost for one more unit, as the multipliers say. A multiplier above 0 belongs to the low end, one
    /// below to the high end.
    pub(super) fn slope(&self, optimum: &Optimum) -> Exact {
        let multiplier = multiplier(optimum, self.variable);
        let acts = match self.constraint.end() {
            End::Low => multiplier.is_positive(),
            End::High => multiplier.is_negative(),
            End::Both => true,
        };
        if acts { multiplier * &self.scale } else { Exact::ZERO }
    }

    /// The greatest (or least) move for which the best cost is `v(0) + slope t`; `None` if there is no such end.
    pub(super) fn reach(
        &self,
        program: &Program,
        cheapest: &Cheapest,
        slope: &Exact,
        upwards: bool,
        watched: &Watched,
    ) -> Result<Option<Exact>, Error> {
        let moved = self.constraint.end();
        let loosens = moved == if upwards { End::High } else { End::Low };
        if loosens && slope.is_zero() {
            return Ok(None);
        }
        let row = self.variable.checked_sub(program.columns().len());
        // Without the end that moves; a line stays a percentage.
        let (low, high, [lowest, highest]) = match row {
            Some(row) => (&program.rows()[row].low, &program.rows()[row].high, [None, None]),
            None => {
                let Column { low, high, .. } = &program.columns()[self.variable];
                (low, high, [Some(Exact::ZERO), Some(Exact::hundred())])
            }
        };
        let Some(before) = (if moved == End::High { high } else { low }) else { return Ok(None) };
        let (low, high) = match moved {
            End::Low => (lowest, high.clone()),
            End::High => (low.clone(), highest),
            End::Both => (lowest, highest),
        };
        let grows = upwards == self.scale.is_positive();
        let furthest = match cheapest {
            // An end that costs nothing moves to what the point has; one that costs takes the point with it.
            Cheapest::One(basis) if slope.is_zero() => Some(basis.activity(self.variable)),
            Cheapest::One(basis) => {
                let room = basis.room(self.variable, grows);
                let moved = room.map(|room| if grows { before + room } else { before - room });
                if grows { moved.into_iter().chain(high).min() } else { moved.into_iter().chain(low).max() }
            }
            Cheapest::Any(face) => {
                let side = if grows { Exact::from(-1) } else { Exact::ONE };
                let mut moving = face.clone();
                moving.change(
                    |index, column| match row {
                        Some(row) => column.cost = &program.rows()[row].coefficients[index] * &side,
                        None if index == self.variable => {
                            *column = Column { low: low.clone(), high: high.clone(), cost: side.clone() };
                        }
                        None => {}
                    },
                    |index, limits| {
                        if row == Some(index) {
                            (limits.low, limits.high) = (low.clone(), high.clone());
                        }
                    },
                );
                solve_watched(&moving, &[], watched)?.optimum().map(|optimum| &optimum.objective * &side)
            }
        };
        Ok(furthest.map(|furthest| (furthest - before) / &self.scale))
    }
}
