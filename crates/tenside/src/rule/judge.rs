//! Rules chosen and compiled once for a product, and formulas judged by them.

mod round;

use std::cell::Cell;
use std::sync::{Arc, PoisonError, RwLock, Weak};

use super::compile::{CompiledRule, CompiledSubject, Compiler};
use super::each::{EachFacts, LineFacts};
use super::prepared::{Plan, Prepared};
use super::sums::{Portion, Sums};
use super::verdict::Judged;
use super::{Bound, Product, Rule, RuleBook, RuleList};
use crate::document::unknown_name;
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{Formula, Line};
use crate::material::Material;
use crate::measure::{LineView, Names};
use crate::number::Date;

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
/// let line = |id: &str, percent: &str| Line::new(id, catalogue.material(id)?.clone(), Ppm::from_percent(percent)?);
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

/// True if a raw material is known to bring something to a measure, or leaves that open.
fn brings(chosen: &Chosen, prepared: &Prepared, measure: usize) -> bool {
    prepared.entries.iter().any(|entry| chosen.plan.rows[entry.row].measure == measure && entry.brings())
}
