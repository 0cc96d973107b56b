//! Rules chosen and compiled once for a product, and formulas judged by them.

use std::cell::Cell;
use std::collections::HashSet;
use std::sync::{Arc, PoisonError, RwLock, Weak};

use super::compare::Truth;
use super::compile::{CompiledCondition, CompiledRule, CompiledSubject, Compiler, JudgedRow, OwnLimit, Unstated};
use super::each::{EachFacts, LineFacts, check};
use super::prepared::{Plan, Prepared};
use super::sums::{Portion, Sums};
use super::verdict::{Judged, Value, Verdict, WhyUnchecked};
use super::{Bound, Caveat, Fact, Limit, LimitValue, Product, Rule, RuleBook, RuleList, Severity, Varied};
use crate::document::unknown_name;
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{Formula, Line};
use crate::material::Material;
use crate::measure::{Basis, LineView, Measure, Names};
use crate::number::{Date, Exact};

/// The rules that concern a product, and formulas judged by them.
///
/// The rules are compiled when a book is first asked for them for a product, and a raw material is taken apart when it
/// is first met; both are kept, the one with the book and the other with the raw material.
///
/// ```
/// use tenside::catalogue::Catalogue;
/// use tenside::formula::{Formula, Line};
/// use tenside::number::Ppm;
/// use tenside::rule::{Judge, Market, Product, RuleBook, Use};
/// let catalogue = Catalogue::starter();
/// let line = |id: &str, percent: &str| Line::new(id, catalogue.material(id)?.clone(), Ppm::from_percent_text(percent)?);
/// let formula = Formula::new("Soothing", vec![line("sodium-benzoate", "3.5")?, line("kaolin", "96.5")?])?;
/// let product = Product::new(Market::Eu, &[Use::ShampooBar], "2026-11-24".parse()?)?;
/// let judge = Judge::new(RuleBook::starter(), product, formula.lines().iter().map(Line::material))?;
/// let judged = judge.judge_one("annex-v-1-rinse-off", &formula)?;
/// assert_eq!(judged.found[0].certainty.words(), "certain");
/// # Ok::<(), tenside::Error>(())
/// ```
pub struct Judge {
    chosen: Arc<Chosen>,
    /// The raw materials it was made for.
    prepared: Vec<Arc<Prepared>>,
}

/// The rules of a book that concern a product, compiled.
struct Chosen {
    product: Product,
    lists: Vec<Arc<RuleList>>,
    rules: Vec<CompiledRule>,
    /// Those that begin on a later day.
    ahead: Vec<CompiledRule>,
    plan: Plan,
    /// Water as charged less the stated moisture, where one is stated.
    water_row: Option<usize>,
    /// Measures that name what the embedded data does not know, by their places in the plan.
    strangers: Vec<usize>,
}

/// The products for which rules were compiled last, with their rules.
#[derive(Default)]
struct LastChosen(RwLock<Vec<Arc<Chosen>>>);

/// A raw material taken apart for the rules that met it last.
#[derive(Default)]
struct LastPrepared(RwLock<Vec<(Weak<Chosen>, Arc<Prepared>)>>);

/// How many of the last are kept of each.
const MOST_KEPT: usize = 8;

/// A list whose text is of a later day says nothing of an earlier one.
fn later_text(list: &RuleList, on: Date) -> Option<Fault> {
    let text = list.consolidated().filter(|text| *text > on)?;
    let fault = Fault::new(FaultKind::OutOfRange, format!("the list {:?} is of a later text than that day", list.id()))
        .at("on")
        .value(on);
    Some(fault.allowed(format!("{text} or later")).remedy("review for a later day, or leave the list out"))
}

impl Chosen {
    fn new(book: &RuleBook, product: &Product) -> Result<Self, Error> {
        let mut compiler = Compiler::new(product);
        let mut lists = Vec::new();
        let (mut rules, mut ahead) = (Vec::new(), Vec::new());
        for list in book.lists() {
            let before = rules.len();
            for compiled in book.rules_of(list).filter_map(|rule| compiler.rule(rule)) {
                if compiled.begins.is_some() { ahead.push(compiled) } else { rules.push(compiled) }
            }
            let concerned = list.markets().is_empty() || list.markets().contains(&product.market());
            if concerned || rules.len() > before {
                lists.push(Arc::clone(list));
            }
        }
        Error::check(lists.iter().filter_map(|list| later_text(list, product.on())).collect(), ())?;
        let Compiler { plan, water_row, .. } = compiler;
        let is_strange = |at: &usize| plan.measures[*at].measure.check_names(Names::OfLines, &[]).is_err();
        let strangers = (0..plan.measures.len()).filter(is_strange).collect();
        Ok(Chosen { product: product.clone(), lists, rules, ahead, plan, water_row, strangers })
    }

    /// Every rule, those that begin on a later day last.
    fn all(&self) -> impl Iterator<Item = &CompiledRule> {
        self.rules.iter().chain(&self.ahead)
    }

    /// The rules of a book for a product: those compiled before, or new ones.
    fn of(book: &RuleBook, product: &Product) -> Result<Arc<Self>, Error> {
        let kept = &book.shelf().of::<LastChosen>().0;
        if let Some(known) =
            kept.read().unwrap_or_else(PoisonError::into_inner).iter().find(|chosen| chosen.product == *product)
        {
            return Ok(Arc::clone(known));
        }
        let chosen = Arc::new(Chosen::new(book, product)?);
        let mut kept = kept.write().unwrap_or_else(PoisonError::into_inner);
        kept.truncate(MOST_KEPT - 1);
        kept.insert(0, Arc::clone(&chosen));
        Ok(chosen)
    }

    /// A raw material taken apart: as it is kept with it, or anew.
    fn prepared(self: &Arc<Self>, material: &Arc<Material>) -> Result<Arc<Prepared>, Error> {
        let kept = &material.shelf().of::<LastPrepared>().0;
        let is_own = |(chosen, _): &&(Weak<Chosen>, Arc<Prepared>)| std::ptr::eq(chosen.as_ptr(), Arc::as_ptr(self));
        if let Some((_, known)) = kept.read().unwrap_or_else(PoisonError::into_inner).iter().find(is_own) {
            return Ok(Arc::clone(known));
        }
        let prepared = Arc::new(self.plan.prepare(material, EachFacts::of(material, &self.product))?);
        let mut kept = kept.write().unwrap_or_else(PoisonError::into_inner);
        kept.retain(|(chosen, _)| chosen.strong_count() > 0);
        kept.truncate(MOST_KEPT - 1);
        kept.insert(0, (Arc::downgrade(self), Arc::clone(&prepared)));
        Ok(prepared)
    }
}

impl Judge {
    /// The rules of a book that concern a product, and the raw materials to be judged, which are taken apart right
    /// away.
    ///
    /// # Errors
    /// A day before the text of a list, and a measure that has no meaning on a basis that a rule asks for.
    pub fn new<'m>(
        book: &RuleBook,
        product: Product,
        materials: impl IntoIterator<Item = &'m Arc<Material>>,
    ) -> Result<Self, Error> {
        let chosen = Chosen::of(book, &product)?;
        let prepared = materials.into_iter().map(|material| chosen.prepared(material)).collect::<Result<_, Error>>()?;
        Ok(Judge { chosen, prepared })
    }

    /// The product.
    #[must_use]
    pub fn product(&self) -> &Product {
        &self.chosen.product
    }

    /// The lists that concern it.
    #[must_use]
    pub fn lists(&self) -> &[Arc<RuleList>] {
        &self.chosen.lists
    }

    /// The rules that concern it, in the order of the lists.
    pub fn rules(&self) -> impl Iterator<Item = &Arc<Rule>> {
        self.chosen.rules.iter().map(|compiled| &compiled.rule)
    }

    /// Every rule on a formula; those that begin on a later day stand last.
    ///
    /// # Errors
    /// What reading a measure refuses.
    pub fn judge(&self, formula: &Formula) -> Result<Vec<Judged>, Error> {
        self.over(formula, None, |round| self.chosen.all().map(|rule| round.rule(rule)).collect())
    }

    /// Every rule on a formula: the number of those that nothing in it concerns, and what the others say.
    pub(crate) fn judge_concerned(&self, formula: &Formula) -> Result<(usize, Vec<Judged>), Error> {
        self.over(formula, None, |round| {
            let mut quiet = 0;
            let mut judged = Vec::new();
            for rule in self.chosen.all() {
                if round.is_quiet(rule) {
                    quiet += 1;
                } else {
                    judged.push(round.rule(rule)?);
                }
            }
            Ok((quiet, judged))
        })
    }

    /// Some rules, by their places, on a formula of these shares instead of its own, without the numbers that findings
    /// show. Each share may be off by some ppm (its second number) as long as the whole is the whole; nothing where
    /// what is found could then be something else.
    ///
    /// # Errors
    /// As [`Judge::judge`].
    pub(crate) fn judge_near(
        &self,
        formula: &Formula,
        shares: &[(u32, u32)],
        rules: &[usize],
    ) -> Result<Option<Vec<Judged>>, Error> {
        // Whether a line is there at all.
        if shares.iter().any(|(parts, room)| parts <= room && *room > 0) {
            return Ok(None);
        }
        self.over(formula, Some(shares), |round| {
            let judged = rules
                .iter()
                .map(|rule| round.rule(&self.chosen.rules[*rule]))
                .collect::<Result<Vec<Judged>, Error>>()?;
            Ok((round.settled.get() && round.sums.are_settled()).then_some(judged))
        })
    }

    /// False for a rule of which no raw material that it was made for brings what it limits.
    pub(crate) fn can_find(&self, slug: &str) -> bool {
        let chosen = &self.chosen;
        let Some(compiled) = chosen.rules.iter().find(|compiled| compiled.rule.slug() == slug) else { return false };
        let CompiledSubject::Rows { measure, rows, unstated } = &compiled.subject else { return true };
        let nothing_keeps = rows.iter().all(|row| row.bound == Bound::AtMost && !row.limit.is_negative());
        let brings = |prepared: &Prepared, measure: usize| {
            prepared.unknown.iter().any(|(at, _)| *at == measure) || brings(chosen, prepared, measure)
        };
        let own = || unstated.iter().flat_map(|unstated| &unstated.own);
        !nothing_keeps
            || self
                .prepared
                .iter()
                .any(|prepared| brings(prepared, *measure) || own().any(|own| brings(prepared, own.measure)))
    }

    /// One rule on a formula.
    ///
    /// # Errors
    /// A name that no rule concerning the product has.
    pub fn judge_one(&self, slug: &str, formula: &Formula) -> Result<Judged, Error> {
        let find = || self.chosen.rules.iter().find(|compiled| compiled.rule.slug() == slug);
        let rule = find().ok_or_else(|| unknown_name("rule", slug, self.rules().map(|rule| rule.slug())))?;
        self.over(formula, None, |round| round.rule(rule))
    }

    fn over<T>(
        &self,
        formula: &Formula,
        shares: Option<&[(u32, u32)]>,
        run: impl FnOnce(&Round<'_>) -> Result<T, Error>,
    ) -> Result<T, Error> {
        let (near, chosen) = (shares.is_some(), &self.chosen);
        let share = |place: usize, line: &Line| {
            shares.and_then(|shares| shares.get(place).copied()).unwrap_or((line.percent().parts(), 0))
        };
        let shared = formula.lines().iter().enumerate().map(|(place, line)| (line, share(place, line)));
        let (lines, shares): (Vec<&Line>, Vec<(u32, u32)>) = shared.filter(|(_, (parts, _))| *parts > 0).unzip();
        let prepared = lines.iter().map(|line| chosen.prepared(line.material())).collect::<Result<Vec<_>, Error>>()?;
        let portions: Vec<Portion<'_>> = shares
            .iter()
            .zip(&prepared)
            .map(|((ppm, room), prepared)| Portion { ppm: *ppm, room: *room, prepared })
            .collect();
        let each: Vec<LineFacts<'_>> = lines
            .iter()
            .zip(&portions)
            .map(|(line, portion)| LineFacts {
                line,
                parts: portion.ppm,
                room: portion.room,
                each: &portion.prepared.each,
            })
            .collect();
        let sums = Sums::new(&chosen.plan, &portions);
        let dries = chosen.water_row.is_none_or(|row| sums.compared(row).typical.is_none_or(std::cmp::Ordering::is_ge));
        // What none of these raw materials knows either is no name: a rule about it would never find anything.
        let views: Vec<LineView<'_>> = lines.iter().map(|line| LineView::of(line)).collect();
        let strange = |at: &usize| {
            Some((*at, chosen.plan.measures[*at].measure.check_names(Names::OfLines, &views).err()?.into_faults()))
        };
        let strangers: Vec<(usize, Vec<Fault>)> = chosen.strangers.iter().filter_map(strange).collect();
        let knows_too_little =
            !strangers.is_empty() || portions.iter().any(|portion| !portion.prepared.unknown.is_empty());
        let settled = Cell::new(true);
        run(&Round {
            chosen,
            formula,
            lines: &lines,
            portions: &portions,
            each: &each,
            sums,
            dries,
            knows_too_little,
            strangers,
            settled,
            shows: !near,
        })
    }
}

/// One formula on its way through the rules.
struct Round<'a> {
    chosen: &'a Arc<Chosen>,
    formula: &'a Formula,
    lines: &'a [&'a Line],
    portions: &'a [Portion<'a>],
    each: &'a [LineFacts<'a>],
    sums: Sums<'a>,
    /// False where the stated moisture is above the water charged.
    dries: bool,
    /// True where some measure is not known of some line.
    knows_too_little: bool,
    /// Measures of which a name is not known, with the reasons.
    strangers: Vec<(usize, Vec<Fault>)>,
    /// False once a check of raw materials could come out otherwise for shares within their room.
    settled: Cell<bool>,
    /// Whether findings show their numbers.
    shows: bool,
}

impl Round<'_> {
    /// True where nobody brings anything to what the rule weighs or asks for: one check that finds nothing.
    fn is_quiet(&self, compiled: &CompiledRule) -> bool {
        compiled
            .quiet
            .iter()
            .any(|(measure, rows)| rows.iter().all(|row| self.sums.is_blank(*row)) && self.unknown(*measure).is_none())
    }

    fn rule(&self, compiled: &CompiledRule) -> Result<Judged, Error> {
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
        let brought: Vec<usize> = (0..self.lines.len()).filter(|at| self.brings_to_rows(*at, rows)).collect();
        if !brought.iter().any(|at| counts(*at)) {
            return Ok(());
        }
        if brought.iter().all(|at| counts(*at)) {
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

/// True if a raw material is known to bring something to a measure, or leaves that open.
fn brings(chosen: &Chosen, prepared: &Prepared, measure: usize) -> bool {
    prepared.entries.iter().any(|entry| chosen.plan.rows[entry.row].measure == measure && entry.brings())
}
