//! Is it within the lists, will it hold? A formula compared with rules of published sources and of the trade.
//!
//! A review says what it compared, how certain each finding is and where a person must look. It never approves: with no
//! finding it says how many checks found none, what was not checked and what is not covered.
//!
//! # Why
//! - One cause, one finding: pH windows leave acid preservatives to the rules about their useful pH; handling is one
//!   line, since the batch sheet says how. `undissociated_percent` stands in `rule`, since the rooms of this floor do
//!   not know each other.
//! - What is known of each substance is worked out when it is asked for, not with every review.
//! - Known limits: half of the US colours are from memory and so no errors; EU Annex IV was seen in a database only;
//!   a corrigendum of 26 June 2026 to the regulation was not seen.

mod document;
mod finding;
mod page;
mod unchecked;

use std::sync::Arc;

pub use document::ReviewDocument;
pub use finding::Finding;
pub use unchecked::Unchecked;

use crate::error::Error;
use crate::formula::{Formula, Line};
use crate::material::Material;
use crate::number::Interval;
use crate::rule::{Certainty, Judge, Product, RuleBook, RuleList, Severity, Status, StatusIndex, Value};

/// A formula compared with rules. Values are immutable.
///
/// ```
/// use tenside::catalogue::Catalogue;
/// use tenside::formula::{Formula, Line};
/// use tenside::number::Ppm;
/// use tenside::rule::{Market, Product, RuleBook, Use};
/// let catalogue = Catalogue::starter();
/// let line = |id: &str, percent: &str| Line::new(id, catalogue.material(id)?.clone(), Ppm::from_percent(percent)?);
/// let formula = Formula::new("Soothing", vec![line("sodium-benzoate", "3.5")?, line("glycerin-99-5", "96.5")?])?;
/// let product = Product::new(Market::Eu, &[Use::ShampooBar], "2026-11-24".parse()?)?;
/// let review = formula.review(RuleBook::starter(), &product)?;
/// assert!(review.findings().iter().any(|finding| finding.slug() == "annex-v-1-rinse-off"));
/// assert!(review.page().text(100).contains("as of 2026-05-18"));
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Review {
    formula: Formula,
    draft: bool,
    asked: Arc<Asked>,
    checks: usize,
    open: usize,
    findings: Vec<Finding>,
    unchecked: Vec<Unchecked>,
}

/// What is the same for every formula reviewed together.
#[derive(Debug, PartialEq)]
struct Asked {
    product: Product,
    lists: Vec<Arc<RuleList>>,
    statuses: Arc<StatusIndex>,
}

/// What one rule says of one formula: a column of a sweep.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Flag {
    /// How certain the gravest finding is; `None` if there is none.
    pub certainty: Option<Certainty>,
    /// The value it was found with, where it is a number.
    pub value: Option<Interval>,
    /// False if the rule could not be asked.
    pub checked: bool,
}

/// Rules compiled once for a product and some raw materials, to review many formulas.
///
/// ```
/// use tenside::catalogue::Catalogue;
/// use tenside::formula::{Formula, Line};
/// use tenside::number::Ppm;
/// use tenside::review::Reviewer;
/// use tenside::rule::{Certainty, Market, Product, RuleBook, Use};
/// let catalogue = Catalogue::starter();
/// let product = Product::new(Market::Eu, &[Use::ShampooBar], "2026-11-24".parse()?)?;
/// let few = ["sodium-benzoate", "glycerin-99-5"].map(|id| catalogue.material(id).cloned());
/// let few = few.into_iter().collect::<Result<Vec<_>, _>>()?;
/// let reviewer = Reviewer::new(RuleBook::starter(), product, &few)?;
/// let share = |benzoate: &str, rest: &str| {
///     let line = |index: usize, percent: &str| Line::new(few[index].id(), few[index].clone(), Ppm::from_percent(percent)?);
///     Formula::new("Soothing", vec![line(0, benzoate)?, line(1, rest)?])
/// };
/// let flag = |formula: &Formula| reviewer.flag("annex-v-1-rinse-off", formula);
/// assert_eq!(flag(&share("2.9", "97.1")?)?.certainty, None);
/// assert_eq!(flag(&share("3.5", "96.5")?)?.certainty, Some(Certainty::Certain));
/// # Ok::<(), tenside::Error>(())
/// ```
pub struct Reviewer {
    judge: Judge,
    asked: Arc<Asked>,
}

impl Reviewer {
    /// Rules of a book for a product, compiled for some raw materials. Formulas of others are reviewed as well, more
    /// slowly.
    ///
    /// # Errors
    /// A day before the text of a list, and a measure that has no meaning on a basis that a rule asks for.
    pub fn new<'m>(
        book: &RuleBook,
        product: Product,
        materials: impl IntoIterator<Item = &'m Arc<Material>>,
    ) -> Result<Self, Error> {
        let judge = Judge::new(book, product, materials)?;
        let asked = Arc::new(Asked {
            product: judge.product().clone(),
            lists: judge.lists().to_vec(),
            statuses: Arc::clone(book.statuses()),
        });
        Ok(Reviewer { judge, asked })
    }

    /// Reviews a formula.
    ///
    /// # Errors
    /// What reading a measure refuses.
    pub fn review(&self, formula: &Formula) -> Result<Review, Error> {
        let mut review = Review {
            formula: formula.clone(),
            draft: formula.is_draft(),
            asked: Arc::clone(&self.asked),
            checks: 0,
            open: 0,
            findings: Vec::new(),
            unchecked: Vec::new(),
        };
        let (quiet, concerned) = self.judge.judge_concerned(formula)?;
        review.checks = quiet;
        for judged in concerned {
            review.checks += judged.checks;
            review.open += usize::from(judged.open);
            if let Some(why) = judged.unchecked {
                review.unchecked.push(Unchecked { rule: Arc::clone(&judged.rule), why, lines: judged.unchecked_lines });
            }
            review
                .findings
                .extend(judged.found.into_iter().map(|verdict| Finding::new(Arc::clone(&judged.rule), verdict)));
        }
        review.findings.sort_by_key(|finding| (finding.severity(), std::cmp::Reverse(finding.certainty())));
        Ok(review)
    }

    /// One rule on one formula.
    ///
    /// # Errors
    /// A name that no rule concerning the product has.
    pub fn flag(&self, slug: &str, formula: &Formula) -> Result<Flag, Error> {
        let judged = self.judge.judge_one(slug, formula)?;
        let checked = judged.unchecked.is_none() || judged.checks > 0;
        let gravest = judged.found.into_iter().max_by_key(|verdict| verdict.certainty);
        let certainty = gravest.as_ref().map(|verdict| verdict.certainty);
        let value = match gravest.and_then(|verdict| verdict.value) {
            Some(Value::Interval(value, _)) => Some(value),
            Some(Value::Number(value, _)) => Some(Interval::point(value)),
            _ => None,
        };
        Ok(Flag { certainty, value, checked })
    }

    /// The names of the rules that concern the product.
    pub fn slugs(&self) -> impl Iterator<Item = &str> {
        self.judge.rules().map(|rule| rule.slug())
    }
}

getters!(Review {
    /// The formula.
    formula: &Formula,
    /// The number of checks made.
    checks: usize,
    /// The findings, gravest first.
    findings: &[Finding],
    /// What could not be checked.
    unchecked: &[Unchecked],
});

impl Review {
    /// The title of the formula.
    #[must_use]
    pub fn title(&self) -> &str {
        self.formula.title()
    }

    /// True if the formula rests on starter values.
    #[must_use]
    pub fn is_draft(&self) -> bool {
        self.draft
    }

    /// The product as it was stated.
    #[must_use]
    pub fn product(&self) -> &Product {
        &self.asked.product
    }

    /// The lists used.
    #[must_use]
    pub fn lists(&self) -> &[Arc<RuleList>] {
        &self.asked.lists
    }

    /// Checks that found nothing for typical compositions although a range end that could change that is not stated.
    #[must_use]
    pub fn open_checks(&self) -> usize {
        self.open
    }

    /// The gravest severity found.
    #[must_use]
    pub fn gravest(&self) -> Option<Severity> {
        self.findings.iter().map(Finding::severity).min()
    }

    /// What the market's law is known to say of each substance in the formula, those contained in others included, the
    /// gravest first.
    #[must_use]
    pub fn statuses(&self) -> Vec<Status> {
        let mut names: Vec<String> = Vec::new();
        let lines = self.formula.lines().iter().filter(|line| !line.percent().is_zero());
        for leaf in lines.flat_map(|line| line.material().leaves()).map(|(leaf, _)| leaf) {
            let rows = leaf.composition().constituents().iter().map(|row| row.substance());
            let contained = leaf.contained().iter().map(|part| part.substance());
            for substance in rows.chain(contained).filter(|substance| !substance.is_unspecified()) {
                for name in substance.embedded_names() {
                    if !names.contains(&name) {
                        names.push(name);
                    }
                }
            }
        }
        let market = self.product().market();
        let mut statuses: Vec<Status> = names.iter().map(|name| self.asked.statuses.of(market, name)).collect();
        statuses.sort_by_key(|status| (status.gravest().is_none(), status.gravest(), !status.is_not_looked_up()));
        statuses
    }

    /// What the lists do not cover, each once.
    pub fn not_covered(&self) -> impl Iterator<Item = &str> {
        let lists = self.lists();
        lists.iter().enumerate().flat_map(move |(at, list)| {
            let is_new = move |text: &&String| !lists[..at].iter().any(|earlier| earlier.not_covered().contains(*text));
            list.not_covered().iter().filter(is_new).map(String::as_str)
        })
    }

    /// How many checks were made and what they found, in a sentence. Nothing in it approves.
    #[must_use]
    pub fn summary(&self) -> String {
        let checks = if self.checks == 1 { "1 check".to_string() } else { format!("{} checks", self.checks) };
        let found = match self.findings.len() {
            0 => format!("no finding among these {checks}"),
            1 => format!("1 finding among {checks}"),
            many => format!("{many} findings among {checks}"),
        };
        let open = match self.open {
            0 => String::new(),
            open => format!(
                "; {open} of them rest on typical values, since range ends are not stated or remainders not named"
            ),
        };
        let unchecked = match self.unchecked.len() {
            0 => String::new(),
            many => format!("; {many} could not be checked in whole or in part"),
        };
        format!("{found}{open}{unchecked}")
    }
}

impl Formula {
    /// This formula compared with the rules of a book; for many formulas compile a [`Reviewer`] once.
    ///
    /// # Errors
    /// What [`Reviewer::new`] and [`Reviewer::review`] refuse.
    pub fn review(&self, book: &RuleBook, product: &Product) -> Result<Review, Error> {
        Reviewer::new(book, product.clone(), self.lines().iter().map(Line::material))?.review(self)
    }
}
