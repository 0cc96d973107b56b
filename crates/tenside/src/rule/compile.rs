//! The rules that concern a product made into rows, conditions and subjects.

use std::sync::Arc;

use super::compare::Truth;
use super::each::CompiledEach;
use super::prepared::Plan;
use super::{
    Bound, Certainty, Condition, Fact, JudgedOn, Limit, LimitValue, Measurand, OneScent, Placing, Product, ProductForm,
    Rule, ScentLimit, Varied,
};
use crate::measure::{Basis, Content, Measure};
use crate::number::{Date, Exact};

const AS_CHARGED: usize = 0;

/// What a rule's measure is on one basis against one limit.
pub(super) struct JudgedRow {
    pub(super) row: usize,
    pub(super) basis: usize,
    pub(super) bound: Bound,
    pub(super) limit: Exact,
    pub(super) most: Certainty,
    /// Judged only where drying can reach the stated moisture.
    pub(super) finished: bool,
    /// Bone-dry, as a bound that nobody sells.
    pub(super) bound_only: bool,
}

pub(super) enum CompiledCondition {
    Row {
        rows: [usize; 2],
        bound: Bound,
        measure: usize,
    },
    Fact(Fact, Limit, bool),
    Truth(Truth),
    Stated(Fact, bool),
    /// The limit is a fact that is not stated.
    Unstated(Fact),
}

/// A limit that is not stated as one number.
pub(super) struct Unstated {
    pub(super) fact: Fact,
    /// Raw materials that have one of their own, by id, with their rows.
    pub(super) own: Vec<OwnLimit>,
}

/// The limit of one raw material, as supplied.
pub(super) struct OwnLimit {
    pub(super) id: String,
    pub(super) measure: usize,
    pub(super) rows: Vec<JudgedRow>,
}

pub(super) enum CompiledSubject {
    Rows { measure: usize, rows: Vec<JudgedRow>, unstated: Option<Unstated> },
    Shown { measure: Measure, numerator: usize, denominator: Option<usize> },
    Fact(Fact, Vec<Limit>),
    Each(CompiledEach),
    Conditions,
}

pub(super) struct CompiledRule {
    pub(super) rule: Arc<Rule>,
    pub(super) most: Certainty,
    pub(super) when: Vec<CompiledCondition>,
    pub(super) subject: CompiledSubject,
    /// The later day from which it holds; none where it holds already.
    pub(super) begins: Option<Date>,
    /// Measures with their rows: where nobody brings anything to any of the rows of one of them, nothing is found.
    pub(super) quiet: Vec<(usize, Vec<usize>)>,
}

pub(super) struct Compiler<'a> {
    pub(super) product: &'a Product,
    pub(super) plan: Plan,
    pub(super) finished: Option<usize>,
    pub(super) bone_dry: usize,
    pub(super) water_row: Option<usize>,
}

impl<'a> Compiler<'a> {
    pub(super) fn new(product: &'a Product) -> Self {
        let mut plan = Plan { bases: vec![Basis::AsCharged], ..Plan::default() };
        let finished = product.moisture().filter(|moisture| moisture.is_positive()).map(|moisture| {
            plan.bases.push(Basis::Finished(moisture.clone()));
            plan.bases.len() - 1
        });
        plan.bases.push(Basis::Finished(Exact::ZERO));
        let bone_dry = plan.bases.len() - 1;
        // A product stated to be bone-dry is judged so; it is then no mere bound.
        let finished = finished.or_else(|| product.moisture().map(|_| bone_dry));
        let water_row = product.moisture().map(|moisture| plan.row(&Measure::water(), AS_CHARGED, moisture));
        Compiler { product, plan, finished, bone_dry, water_row }
    }

    pub(super) fn rule(&mut self, rule: &Arc<Rule>) -> Option<CompiledRule> {
        let product = self.product;
        let in_market = rule.markets().is_empty() || rule.markets().contains(&product.market());
        if !in_market || !rule.lasts_to(product.on()) {
            return None;
        }
        let (by_day, begins) = self.standing(rule);
        let by_use = product.concerned_by(rule.uses())?;
        let by_placing = match (rule.placing(), product.placing()) {
            (Some(wanted), Some(stated)) if wanted != stated => return None,
            (Some(_), None) => Certainty::Possible,
            _ => Certainty::Certain,
        };
        let when = rule.when().iter().map(|condition| self.condition(condition)).collect();
        let subject = match rule.subject() {
            Varied::Measure(measurand, limits) if limits.is_empty() => self.shown(&measurand.measure),
            Varied::Measure(measurand, limits) => self.rows(measurand, limits),
            Varied::Fact(fact, limits) => CompiledSubject::Fact(*fact, limits.clone()),
            Varied::Each(check) => CompiledSubject::Each(CompiledEach::new(check)),
            Varied::Conditions => CompiledSubject::Conditions,
        };
        let most = by_use.min(by_placing).min(by_day);
        let mut compiled = CompiledRule { rule: Arc::clone(rule), most, when, subject, begins, quiet: Vec::new() };
        compiled.quiet = self.quiet(&compiled);
        Some(compiled)
    }

    /// How certain it is that a rule holds already, or the later day on which it begins.
    fn standing(&self, rule: &Rule) -> (Certainty, Option<Date>) {
        let product = self.product;
        let waits = |placing: Placing| rule.begins(placing).filter(|day| *day > product.on());
        match product.placing() {
            Some(placing) => (Certainty::Certain, waits(placing)),
            None => match (waits(Placing::Placed), waits(Placing::MadeAvailable)) {
                (Some(day), _) => (Certainty::Certain, Some(day)),
                (None, Some(_)) => (Certainty::Possible, None),
                (None, None) => (Certainty::Certain, None),
            },
        }
    }

    fn quiet(&self, compiled: &CompiledRule) -> Vec<(usize, Vec<usize>)> {
        let is_plain = |measure: usize| !self.plan.measures[measure].measure.is_ratio();
        let mut quiet = Vec::new();
        if let CompiledSubject::Rows { measure, rows, unstated: None } = &compiled.subject
            && is_plain(*measure)
            && rows.iter().all(|row| row.bound == Bound::AtMost && !row.limit.is_negative())
        {
            quiet.push((*measure, rows.iter().map(|row| row.row).collect()));
        }
        for condition in &compiled.when {
            if let CompiledCondition::Row { rows, bound: Bound::Above, measure } = condition
                && is_plain(*measure)
                && rows.iter().all(|row| !self.plan.rows[*row].limit.is_negative())
            {
                quiet.push((*measure, rows.to_vec()));
            }
        }
        quiet
    }

    fn shown(&mut self, measure: &Measure) -> CompiledSubject {
        let mut side = |side: &Measure| self.plan.row(side, AS_CHARGED, &Exact::ZERO);
        let numerator = side(&measure.clone().per(&Measure::as_supplied()));
        let denominator = measure.is_ratio().then(|| side(&measure.denominator_over_the_whole()));
        CompiledSubject::Shown { measure: measure.clone(), numerator, denominator }
    }

    fn rows(&mut self, measurand: &Measurand, limits: &[Limit]) -> CompiledSubject {
        let measure = &measurand.measure;
        let mut rows = Vec::new();
        let mut unstated = None;
        for limit in limits {
            let value = match self.number(limit) {
                Ok(value) => value,
                Err(fact) => {
                    // Whether there is anything that the limit could be asked for.
                    self.plan.row(measure, AS_CHARGED, &Exact::ZERO);
                    unstated = Some(Unstated { fact, own: self.own_limits(fact, limit.bound, measurand.judged_on) });
                    continue;
                }
            };
            rows.extend(self.judged_rows(measure, measurand.judged_on, limit.bound, &value));
        }
        CompiledSubject::Rows { measure: self.plan.measure(measure), rows, unstated }
    }

    fn judged_rows(&mut self, measure: &Measure, judged_on: JudgedOn, bound: Bound, value: &Exact) -> Vec<JudgedRow> {
        let bases = self.bases(measure, judged_on).into_iter();
        let row = |(basis, most, finished)| {
            let row = self.plan.row(measure, basis, value);
            JudgedRow {
                row,
                basis,
                bound,
                limit: value.clone(),
                most,
                finished,
                bound_only: most == Certainty::Possible,
            }
        };
        bases.map(row).collect()
    }

    /// The limits that are stated of single raw materials.
    fn own_limits(&mut self, fact: Fact, bound: Bound, judged_on: JudgedOn) -> Vec<OwnLimit> {
        let product = self.product;
        let limits = product.scent_limit().filter(|_| fact == Fact::ScentLimit).map_or(&[][..], ScentLimit::each);
        let own = |one: &OneScent| {
            let measure = Measure::of(Content::Material(one.scent.clone()));
            let rows = self.judged_rows(&measure, judged_on, bound, &one.percent);
            OwnLimit { id: one.scent.clone(), measure: self.plan.measure(&measure), rows }
        };
        limits.iter().map(own).collect()
    }

    /// The bases a measure is judged on, each with the most certain that a finding can be.
    fn bases(&self, measure: &Measure, judged_on: JudgedOn) -> Vec<(usize, Certainty, bool)> {
        let dries = !measure.is_ratio() && measure.numerator().iter().all(|term| term.content.of_water().is_some());
        let charged = (AS_CHARGED, Certainty::Certain, false);
        match (judged_on, self.finished) {
            (JudgedOn::EveryBasis, finished) if dries => {
                // Where the moisture is stated nothing else is sold; a liquid does not dry.
                let is_solid = self.product.form() == Some(ProductForm::Solid);
                let bone_dry = (finished.is_none() && is_solid).then_some((self.bone_dry, Certainty::Possible, false));
                let finished = finished.map(|finished| (finished, Certainty::Certain, true));
                std::iter::once(charged).chain(finished).chain(bone_dry).collect()
            }
            (JudgedOn::FinishedIfStated, Some(finished)) if dries => vec![(finished, Certainty::Certain, true)],
            _ => vec![charged],
        }
    }

    fn condition(&mut self, condition: &Condition) -> CompiledCondition {
        match condition {
            Condition::Measure(measurand, limit) => {
                let value = match self.number(limit) {
                    Ok(value) => value,
                    Err(fact) => return CompiledCondition::Unstated(fact),
                };
                let bases = self.bases(&measurand.measure, measurand.judged_on);
                let basis = bases.first().map_or(AS_CHARGED, |(basis, ..)| *basis);
                let rows = [
                    self.plan.row(&measurand.measure, basis, &value),
                    self.plan.row(&measurand.measure, AS_CHARGED, &value),
                ];
                CompiledCondition::Row { rows, bound: limit.bound, measure: self.plan.measure(&measurand.measure) }
            }
            Condition::Fact(fact, limit, or_not_stated) => {
                CompiledCondition::Fact(*fact, limit.clone(), *or_not_stated)
            }
            Condition::Kept(storage) => CompiledCondition::Truth(match self.product.storage() {
                Some(stated) => Truth::of(stated == *storage),
                None => Truth::Possible,
            }),
            Condition::Form(form) => CompiledCondition::Truth(match self.product.form() {
                Some(stated) => Truth::of(stated == *form),
                None => Truth::Possible,
            }),
            Condition::Stated(fact, stated) => CompiledCondition::Stated(*fact, *stated),
        }
    }

    /// The limit as a number, or the fact that would have to be stated for it.
    fn number(&self, limit: &Limit) -> Result<Exact, Fact> {
        match &limit.value {
            LimitValue::Number(value) => Ok(value.clone()),
            LimitValue::Stated(fact) => self.product.own_fact(*fact).ok_or(*fact),
        }
    }
}
