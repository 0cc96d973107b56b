//! Reviews as documents, and back.

use super::{Finding, Review, Unchecked};
use crate::catalogue::Catalogue;
use crate::document::{IntervalDocument, Notation, Number, form, forms, restore, written};
use crate::error::Error;
use crate::formula::{FormulaDocument, read_formula};
use crate::number::Interval;
use crate::rule::{
    Bound, Certainty, ProductDocument, RuleBook, RuleList, Search, Severity, Status, StatusKind, Value, read_product,
};

form! {
    /// One finding.
    FindingDocument of Finding, |it| {
        /// The stable name: that of the rule.
        slug: String = it.slug().to_string(),
        /// How grave it is.
        severity: Severity = it.severity(),
        /// How certain it is.
        certainty: Certainty = it.certainty(),
        /// Why it is less grave than its rule, with the way out.
        caveat: Option<String> = it.caveat(),
        /// The later day from which it holds.
        begins: Option<String> = it.begins().map(|day| day.to_string()),
        /// What it is about, in words.
        title: String = it.rule().title().to_string(),
        /// The lines it is about; none where it is about the whole.
        lines: Vec<String> = it.lines().to_vec(),
        /// The number that was compared or is shown; null where there is none or it is not known.
        value: Option<IntervalDocument> = match it.value() {
            Some(Value::Interval(value, _)) => Some(value.into()),
            Some(Value::Number(value, _)) => Some((&Interval::point(value.clone())).into()),
            _ => None,
        },
        /// How the limit is to be read.
        bound: Option<Bound> = it.limit().map(|(bound, _)| *bound),
        /// The limit that is not kept.
        limit: Option<Number> = it.limit().map(|(_, limit)| limit.into()),
        /// On which basis a measure was judged.
        basis: Option<String> = it.basis().map(ToString::to_string),
        /// Value and limit in words.
        numbers: Option<String> = it.numbers(),
        /// Words that are due on the label, or their sense.
        label: Option<String> = it.label().map(str::to_string),
        /// Who says so, and how that is known.
        source: String = it.rule().marked_source(),
        /// The finding in sentences.
        sentence: String = it.sentence(),
    }
}

form! {
    /// Something that could not be checked.
    UncheckedDocument of Unchecked, |it| {
        /// The rule's stable name.
        slug: String = it.slug().to_string(),
        /// The lines it could not be asked of; none where it is the rule as a whole.
        lines: Vec<String> = it.lines().to_vec(),
        /// What and why.
        sentence: String = it.sentence(),
    }
}

written! {
    /// A list of rules that a review compared with.
    struct ListUsedDocument {
        /// Its stable name.
        id: String,
        /// Its title, source and the day of its text.
        heading: String,
    }
}

impl From<&RuleList> for ListUsedDocument {
    fn from(list: &RuleList) -> Self {
        ListUsedDocument { id: list.id().to_string(), heading: list.heading() }
    }
}

form! {
    /// What a market's law is known to say of a substance. That nothing was found is no clearance.
    StatusDocument of Status, |it| {
        /// Its INCI name.
        name: String,
        /// The gravest that an entry does with it; null where no entry speaks of it.
        kind: Option<StatusKind> = it.gravest(),
        /// How it was looked up where nothing was found; null where entries speak, and where nobody looked.
        searched: Option<Search> = it.searched.as_ref().map(|(search, ..)| *search),
        /// Whether nobody looked.
        is_not_looked_up: bool = it.is_not_looked_up(),
        /// What is known of it.
        sentence: String = it.sentence(),
    }
}

form! {
    /// A formula compared with rules. It never approves.
    ReviewDocument of Review as "review/1", |it, materials| {
        /// The formula.
        formula: FormulaDocument = FormulaDocument::of(it.formula(), materials),
        /// What is stated of the product.
        product: ProductDocument,
        /// Whether the formula rests on values of the starter catalogue.
        is_draft: bool,
        /// The lists used.
        lists: Vec<ListUsedDocument> = it.lists().iter().map(|list| list.as_ref().into()).collect(),
        /// The number of checks made.
        checks: usize,
        /// Checks that found nothing although a range end that could change that is not stated.
        open_checks: usize,
        /// The findings, gravest first.
        findings: Vec<FindingDocument> = forms(it.findings()),
        /// What could not be checked.
        unchecked: Vec<UncheckedDocument> = forms(it.unchecked()),
        /// What the market's law is known to say of each substance.
        statuses: Vec<StatusDocument> = forms(&it.statuses()),
        /// What the lists do not cover.
        not_covered: Vec<String> = it.not_covered().map(str::to_string).collect(),
        /// How many checks were made and what they found.
        summary: String,
    }
}

impl Review {
    /// Reads a review back. It is believed where reviewing its formula again, with the rules of this book, gives just
    /// what it says; see [`crate::document::ResultDocument`].
    ///
    /// # Errors
    /// Every fault of the formula and product with line and column; else everything that is not what comes of them.
    pub fn read(text: &str, notation: Notation, catalogue: &Catalogue, book: &RuleBook) -> Result<Self, Error> {
        restore(text, notation, &["formula", "product"], |view| {
            let formula = view.needed("formula", |view| view.table("formula", |view| read_formula(view, catalogue)));
            let product = view.needed("product", |view| view.table("product", read_product));
            view.accept("formula", formula?.review(book, &product?))
        })
    }
}
