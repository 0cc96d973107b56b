//! One formula on its way through the rules.

use std::collections::HashSet;
use std::sync::Arc;

use super::{Round, brings};
use crate::error::{Error, Fault};
use crate::material::Material;
use crate::measure::{Basis, Measure, Names};
use crate::number::Exact;
use crate::rule::compare::Truth;
use crate::rule::compile::{CompiledCondition, CompiledRule, CompiledSubject, JudgedRow, OwnLimit, Unstated};
use crate::rule::each::check;
use crate::rule::sums::{Portion, Sums};
use crate::rule::verdict::{Judged, Value, Verdict, WhyUnchecked};
use crate::rule::{Caveat, Fact, Limit, LimitValue, Severity, Varied};

impl Round<'_> {
    /// True where nobody brings anything to what the rule weighs or asks for: one check that finds nothing.
    pub(super) fn is_quiet(&self, compiled: &CompiledRule) -> bool {
        compiled
            .quiet
            .iter()
            .any(|(measure, rows)| rows.iter().all(|row| self.sums.is_blank(*row)) && self.unknown(*measure).is_none())
    }

    pub(super) fn rule(&self, compiled: &CompiledRule) -> Result<Judged, Error> {
        let mut judged = Judged::blank(&compiled.rule);
        if self.is_quiet(compiled) {
            judged.checks = 1;
            return Ok(judged);
        }
        let mut truth = Truth::from(compiled.most);
        let mut unchecked = None;
        for condition in &compiled.when {
            match self.condition(condition) {
                Ok(found) => truth = truth.min(found),
                Err(why) => unchecked = Some(why),
            }
        }
        if truth == Truth::No {
            judged.checks = 1;
            return Ok(judged);
        }
        if unchecked.is_some() {
            judged.unchecked = unchecked;
            return Ok(judged);
        }
        match &compiled.subject {
            CompiledSubject::Each(each) => {
                if let Some(most) = truth.certainty() {
                    let (checked, settled) =
                        check(each, &compiled.rule, self.formula, self.each, &self.chosen.product, most);
                    self.settled.set(self.settled.get() && settled);
                    judged = checked;
                }
            }
            CompiledSubject::Rows { measure, rows, unstated } => {
                self.rows(&mut judged, truth, *measure, rows, unstated.as_ref())?
            }
            CompiledSubject::Shown { measure, numerator, denominator } => {
                judged.checks = 1;
                judged.open = truth == Truth::Open;
                if let Some(certainty) = truth.certainty() {
                    let value = if self.shows { Some(self.shown(measure, *numerator, *denominator)?) } else { None };
                    judged.found.push(Verdict {
                        basis: Some(Basis::AsCharged),
                        value,
                        ..Verdict::plain(&compiled.rule, certainty)
                    });
                }
            }
            CompiledSubject::Fact(fact, limits) => self.fact(&mut judged, truth, *fact, limits),
            CompiledSubject::Conditions => {
                judged.checks = 1;
                judged.open = truth == Truth::Open;
                if let Some(certainty) = truth.certainty() {
                    judged.found.push(Verdict::plain(&compiled.rule, certainty));
                }
            }
        }
        if let Some(day) = compiled.begins {
            judged.found.iter_mut().for_each(|verdict| verdict.milder(Severity::Warning, Caveat::Begins(day)));
        }
        Ok(judged)
    }

    /// A measure as charged. Where no raw material brings something to both sides of a ratio they reach their ends
    /// independently.
    fn shown(&self, measure: &Measure, numerator: usize, denominator: Option<usize>) -> Result<Value, Error> {
        let of_row = |row: usize| self.chosen.plan.rows[row].measure;
        let mut unknown: Vec<Fault> = self.unknown(of_row(numerator)).unwrap_or_default();
        for fault in denominator.and_then(|row| self.unknown(of_row(row))).unwrap_or_default() {
            if !unknown.contains(&fault) {
                unknown.push(fault);
            }
        }
        if !unknown.is_empty() {
            return Ok(Value::NotKnown(unknown));
        }
        let found = match denominator {
            None => self.sums.value(numerator),
            Some(row) => {
                let factor = |row: usize| self.chosen.plan.measures[of_row(row)].measure.factor();
                let scale = measure.factor() * factor(row) / factor(numerator);
                self.sums.ratio(numerator, row).map(|ratio| ratio.map(|value| value * &scale))
            }
        };
        if let Some(value) = found {
            return Ok(Value::Interval(value, measure.unit(None)));
        }
        let measured = self.formula.measure_named(measure, &Basis::AsCharged, Names::Anything)?;
        Ok(measured
            .value
            .map_or_else(|| Value::NotKnown(measured.why_not), |value| Value::Interval(value, measured.unit)))
    }

    fn condition(&self, condition: &CompiledCondition) -> Result<Truth, WhyUnchecked> {
        let product = &self.chosen.product;
        match condition {
            CompiledCondition::Row { rows, bound, measure } => match self.unknown(*measure) {
                Some(faults) => Err(WhyUnchecked::NotKnown(faults)),
                None => Ok(self.sums.compared(if self.dries { rows[0] } else { rows[1] }).keeps(*bound)),
            },
            CompiledCondition::Fact(fact, limit, or_not_stated) => {
                let Some(value) = product.fact(*fact, self.formula) else {
                    return if *or_not_stated { Ok(Truth::Certain) } else { Err(WhyUnchecked::NotStated(*fact)) };
                };
                Ok(Truth::of(self.limit(limit).is_some_and(|limit_value| limit.bound.holds(value.cmp(&limit_value)))))
            }
            CompiledCondition::Truth(truth) => Ok(*truth),
            CompiledCondition::Unstated(fact) => Err(WhyUnchecked::NotStated(*fact)),
            CompiledCondition::Stated(fact, stated) => {
                Ok(Truth::of(product.fact(*fact, self.formula).is_some() == *stated))
            }
        }
    }

    fn limit(&self, limit: &Limit) -> Option<Exact> {
        match &limit.value {
            LimitValue::Number(value) => Some(value.clone()),
            LimitValue::Stated(fact) => self.chosen.product.fact(*fact, self.formula),
        }
    }

    fn fact(&self, judged: &mut Judged, truth: Truth, fact: Fact, limits: &[Limit]) {
        let Some(value) = self.chosen.product.fact(fact, self.formula) else {
            judged.unchecked = Some(WhyUnchecked::NotStated(fact));
            return;
        };
        judged.checks = 1;
        let broken = limits.iter().find_map(|limit| {
            let number = self.limit(limit)?;
            (!limit.bound.holds(value.cmp(&number))).then_some((limit.bound, number))
        });
        let Some(limit) = broken else { return };
        judged.open = truth == Truth::Open;
        if let Some(certainty) = truth.certainty() {
            let unit = if fact == Fact::PhaseTemperature { "°C" } else { "" };
            let plain = Verdict::plain(&judged.rule, certainty);
            judged.found.push(Verdict { value: Some(Value::Number(value, unit)), limit: Some(limit), ..plain });
        }
    }

    fn rows(
        &self,
        judged: &mut Judged,
        truth: Truth,
        measure: usize,
        rows: &[JudgedRow],
        unstated: Option<&Unstated>,
    ) -> Result<(), Error> {
        if let Some(faults) = self.unknown(measure) {
            judged.unchecked = Some(WhyUnchecked::NotKnown(faults));
            return Ok(());
        }
        if let Some(unstated) = unstated {
            return self.own_limits(judged, truth, measure, unstated);
        }
        judged.checks = 1;
        let rule = Arc::clone(&judged.rule);
        let Some(purpose) = rule.purpose() else {
            return self.compare(judged, truth, (measure, rows), &self.sums, &|_| true);
        };
        // Lines that are there for something else do not count.
        let is_for = |at: usize| self.lines[at].purposes().contains(&purpose);
        let is_open = |at: usize| self.lines[at].purposes().is_empty();
        self.compare_counting(judged, truth, (measure, rows), &is_for)?;
        if let (true, Some(most)) = (judged.found.is_empty(), rule.purpose_not_stated()) {
            self.compare_counting(judged, truth, (measure, rows), &|at| is_for(at) || is_open(at))?;
            judged.found.iter_mut().for_each(|verdict| verdict.milder(most, Caveat::PurposeNotStated(purpose)));
        }
        Ok(())
    }

    /// Raw materials against limits of their own; without any of the others there is nothing that a limit could be
    /// asked for.
    fn own_limits(&self, judged: &mut Judged, truth: Truth, measure: usize, unstated: &Unstated) -> Result<(), Error> {
        let mut without = Vec::new();
        for (line, portion) in self.lines.iter().zip(self.portions) {
            if self.brings(portion, measure) && self.brings_beside(line.material(), measure, &unstated.own)? {
                without.push(line.name());
            }
        }
        match (without.is_empty(), unstated.own.is_empty()) {
            (true, true) => judged.checks = 1,
            (true, false) => {}
            (false, true) => judged.unchecked = Some(WhyUnchecked::NotStated(unstated.fact)),
            (false, false) => without
                .into_iter()
                .for_each(|line| judged.add_unchecked_line(line, WhyUnchecked::NotStated(unstated.fact))),
        }
        for own in &unstated.own {
            if let Some(faults) = self.unknown(own.measure) {
                judged.unchecked = Some(WhyUnchecked::NotKnown(faults));
                continue;
            }
            judged.checks += 1;
            self.compare(judged, truth, (own.measure, &own.rows), &self.sums, &|_| true)?;
        }
        Ok(())
    }

    /// Whether a raw material, or a part of a premix, that has no limit of its own brings something.
    fn brings_beside(&self, material: &Arc<Material>, measure: usize, own: &[OwnLimit]) -> Result<bool, Error> {
        let (mut pending, mut seen) = (vec![material], HashSet::new());
        while let Some(material) = pending.pop() {
            if own.iter().any(|own| own.id == material.id()) || !seen.insert(Arc::as_ptr(material)) {
                continue;
            }
            match material.composition().parts() {
                [] if brings(self.chosen, &*self.chosen.prepared(material)?, measure) => return Ok(true),
                parts => pending.extend(parts.iter().map(|(part, _)| part)),
            }
        }
        Ok(false)
    }

    /// With some of the lines only.
    fn compare_counting(
        &self,
        judged: &mut Judged,
        truth: Truth,
        (measure, rows): (usize, &[JudgedRow]),
        counts: &dyn Fn(usize) -> bool,
    ) -> Result<(), Error> {
        // What counts is told quickly, what is brought is looked up.
        let mut lines = 0..self.lines.len();
        if !lines.clone().any(|at| counts(at) && self.brings_to_rows(at, rows)) {
            return Ok(());
        }
        if lines.all(|at| counts(at) || !self.brings_to_rows(at, rows)) {
            return self.compare(judged, truth, (measure, rows), &self.sums, counts);
        }
        let sums = Sums::counting(&self.chosen.plan, self.portions, counts);
        self.compare(judged, truth, (measure, rows), &sums, counts)?;
        self.settled.set(self.settled.get() && sums.are_settled());
        Ok(())
    }

    fn compare(
        &self,
        judged: &mut Judged,
        truth: Truth,
        (measure, rows): (usize, &[JudgedRow]),
        sums: &Sums<'_>,
        counts: &dyn Fn(usize) -> bool,
    ) -> Result<(), Error> {
        let mut worst: Option<(Truth, &JudgedRow)> = None;
        for row in rows {
            if row.finished && !self.dries {
                judged.unchecked = Some(WhyUnchecked::MoistureAboveWater);
                continue;
            }
            // What nobody brings has the value 0 on every basis; a ratio without denominator has none.
            if self.chosen.plan.measures[measure].measure.is_ratio() && sums.is_blank(row.row) {
                continue;
            }
            let found = sums.compared(row.row).breaks(row.bound).min(Truth::from(row.most)).min(truth);
            judged.open |= found == Truth::Open;
            if found.certainty().is_some() && worst.is_none_or(|(known, _)| found > known) {
                worst = Some((found, row));
            }
        }
        let Some((certainty, row)) = worst.and_then(|(truth, row)| Some((truth.certainty()?, row))) else {
            return Ok(());
        };
        judged.open = false;
        let mut verdict = Verdict::plain(&judged.rule, certainty);
        verdict.measure = self.own_measure(judged, measure);
        if row.bound_only {
            verdict.milder(Severity::Question, Caveat::BoneDry);
        }
        if self.shows {
            self.show(&mut verdict, measure, row, sums, counts)?;
        }
        judged.found.push(verdict);
        Ok(())
    }

    /// Puts the numbers into a verdict.
    fn show(
        &self,
        verdict: &mut Verdict,
        measure: usize,
        row: &JudgedRow,
        sums: &Sums<'_>,
        counts: &dyn Fn(usize) -> bool,
    ) -> Result<(), Error> {
        let basis = self.chosen.plan.bases[row.basis].clone();
        let asked = &self.chosen.plan.measures[measure].measure;
        let counts_all =
            (0..self.lines.len()).all(|at| counts(at) || !self.brings_to_rows(at, std::slice::from_ref(row)));
        verdict.value =
            match sums.value(row.row) {
                Some(value) => Some(Value::Interval(value, asked.unit(None))),
                None if counts_all => {
                    let measured = self.formula.measure_named(asked, &basis, Names::Anything)?;
                    Some(measured.value.map_or_else(
                        || Value::NotKnown(measured.why_not),
                        |value| Value::Interval(value, measured.unit),
                    ))
                }
                None => None,
            };
        let brings = self
            .lines
            .iter()
            .zip(self.portions)
            .enumerate()
            .filter(|(at, (_, portion))| counts(*at) && self.brings(portion, measure));
        let (mut lines, mut found): (Vec<String>, Vec<&str>) = (Vec::new(), Vec::new());
        for (_, (line, portion)) in brings {
            lines.push(line.name().to_string());
            for name in portion.prepared.counted.iter().filter(|(of, _)| *of == measure).flat_map(|(_, names)| names) {
                if !found.contains(&name.as_str()) {
                    found.push(name);
                }
            }
        }
        verdict.lines = lines;
        verdict.remark = (!found.is_empty()).then(|| format!("Counted: {}", found.join(", ")));
        verdict.basis = Some(basis);
        verdict.limit = Some((row.bound, row.limit.clone()));
        Ok(())
    }

    /// What a limit of its own is about.
    fn own_measure(&self, judged: &Judged, measure: usize) -> Option<Measure> {
        let asked = &self.chosen.plan.measures[measure].measure;
        let is_of_rule = matches!(judged.rule.subject(), Varied::Measure(measurand, _) if measurand.measure == *asked);
        (!is_of_rule).then(|| asked.clone())
    }

    fn brings_to_rows(&self, at: usize, rows: &[JudgedRow]) -> bool {
        rows.iter().any(|row| self.portions[at].prepared.entry(row.row).is_some())
    }

    fn brings(&self, portion: &Portion<'_>, measure: usize) -> bool {
        brings(self.chosen, portion.prepared, measure)
    }

    /// Why a measure is not known, if a line makes it so.
    fn unknown(&self, measure: usize) -> Option<Vec<Fault>> {
        if !self.knows_too_little {
            return None;
        }
        let mut faults: Vec<Fault> = Vec::new();
        let known_too_little =
            self.portions.iter().flat_map(|portion| &portion.prepared.unknown).chain(&self.strangers);
        for fault in known_too_little.filter(|(at, _)| *at == measure).flat_map(|(_, faults)| faults) {
            if !faults.contains(fault) {
                faults.push(fault.clone());
            }
        }
        (!faults.is_empty()).then_some(faults)
    }
}
