//! What goes on the label: the list of ingredients, the scent constituents named in it, the net content, and what else
//! a label needs.
//!
//! It says what it knows and how well; it gives no legal opinion. The rules of a market stand in `data/label`, each
//! with its source.
//!
//! # Why
//! - A label works in whole parts over one common denominator (`number/grains.rs`): an amount is a product of
//!   shares in whole ppm, so that nothing is reduced before somebody asks for a percentage. In one run: the
//!   European label of fifteen lines with its scent constituents and questions 32 µs, the American one 20 µs,
//!   taking the same formula apart with fractions 35 µs.
//! - A position is certain if no pair could change places end against end. Ingredients of one raw material are
//!   taken to vary freely, so that "not certain" may be too careful and "certain" never is (tested by drawing
//!   compositions). Only a supplier's descending list is used to tell two of its own ingredients apart.
//! - What is sold is judged: scent constituents against the product at the moisture as sold. If none is stated,
//!   bone-dry is the upper bound, so that it can make a constituent "possible", never "certain"; what is sold by volume
//!   is judged as charged. Volatile scent is taken to stay. "Below" is what ranges, declarations and complete lists
//!   leave; what nobody says of an open ingredient is unknown and asked about.
//! - The European rules start on 16 August 2023 here; an earlier day is refused instead of answered by later rules.
//!   Exactly 1 % is ordered in the Union ("less than 1 %" is free) and free in the United States ("not more than 1
//!   percent"; from memory). A grouped botanical stands beside its ingredient's name, with a question which of the
//!   two the list shows: no source seen says.
//! - Known limits: 21 CFR 701.3(f), 701.13 and Article 19(1)(g), (2) to (5) are from memory, and so are the members
//!   of the scent entries and most color additives; the American rule on scent allergens is "pending" as of the
//!   Unified Agenda of spring 2025; soap is listed as charged, and salts formed in the product are asked about, not
//!   worked out.

mod check;
mod content;
mod declaration;
mod document;
mod entry;
mod item;
mod list;
mod market;
mod net;
mod page;
mod question;
mod request;
mod rules;
mod scent;
mod survey;

pub use crate::rule::{Market, Placing};
pub use check::LabelCheck;
pub use declaration::ScentDeclaration;
pub use document::LabelDocument;
pub use entry::ScentEntry;
pub use item::{ItemClass, LabelItem, LeftOut};
pub use market::{Contact, ScentNames};
pub use net::{NetContent, NetQuantity};
pub use question::{LabelQuestion, QuestionTopic};
pub use request::LabelRequest;
pub use scent::{KeepsOff, ScentAnswer, ScentReport, ScentRow};

use crate::document::{fold, unknown_name};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::Formula;
use crate::number::{Exact, FixedPoint, Interval, Ppm};
use content::{Amount, Content, Ingredients, Named, Share};
use list::List;
use rules::rules;
use scent::Drying;

/// A label's content for one market and day. Values are immutable.
///
/// ```
/// use tenside::catalogue::Catalogue;
/// use tenside::formula::{Formula, Line};
/// use tenside::label::{LabelRequest, Market, ScentAnswer};
/// use tenside::number::Ppm;
/// let catalogue = Catalogue::starter();
/// let line = |id: &str, percent: &str| Line::new(id, catalogue.material(id)?.clone(), Ppm::from_percent(percent)?);
/// let formula = Formula::new("Plain bar", vec![line("kaolin", "80")?, line("cetyl-alcohol", "19.4")?, line("lavender-oil", "0.6")?])?;
/// let label = formula.label(&LabelRequest::new(Market::Eu, "2026-11-24".parse()?))?;
/// assert!(label.ingredients().starts_with("KAOLIN, CETYL ALCOHOL, "));
/// assert_eq!(label.scent().answer("linalool")?, Some(ScentAnswer::Certain));
/// assert_eq!(label.scent().answer("geraniol")?, Some(ScentAnswer::Unknown));
/// assert!(label.is_draft());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    formula: Formula,
    request: LabelRequest,
    rests_on_starter: bool,
    items: Vec<LabelItem>,
    finished: Option<Vec<String>>,
    left_out: Vec<LeftOut>,
    nameless: Interval,
    scent: ScentReport,
    net: Option<NetContent>,
    questions: Vec<LabelQuestion>,
    checks: Vec<LabelCheck>,
}

impl Formula {
    /// The label of this formula.
    ///
    /// # Errors
    /// A date before the rules carried here, a nanomaterial or a declaration of something that the formula does not
    /// have, and a moisture above the water charged.
    pub fn label(&self, request: &LabelRequest) -> Result<Label, Error> {
        let rule = rules(request.market);
        if request.on < rule.scent.applies_from {
            return Err(Fault::new(FaultKind::OutOfRange, "the rules carried here do not reach back to that day")
                .at("on")
                .value(request.on)
                .allowed(format!("{} or later", rule.scent.applies_from))
                .into());
        }
        let content = Content::of(self);
        let ingredients = Ingredients::of(&content, request);
        check_nano(&ingredients, request)?;
        let whole = content.whole();
        let water = water(&ingredients);
        if let Some(moisture) = &request.moisture {
            check_moisture(&water, moisture, &whole)?;
        }
        check_prohibited(request)?;
        let (scent, amounts) = scent::report(
            &content,
            &Drying::new(&water, &whole, request.moisture.as_ref(), request.is_liquid()),
            request,
        )?;
        let survey = survey::Survey { content: &content, ingredients: &ingredients, scent: &scent, request };
        let mut questions = survey.questions();
        let checks = survey.checks();
        let left_out = ingredients
            .left_out
            .iter()
            .map(|row| LeftOut { inci: row.inci.join(", "), share: Share::new(row.amount.clone(), &content) })
            .collect();
        let nameless = survey.nameless();
        let mut named = ingredients.named;
        under_entries(&mut named, &scent, &content);
        named.extend(contained(&named, &scent, amounts));
        let list = List::of(&content, named, &water, request);
        questions.extend(survey::positions(&list, rule));
        Ok(Label {
            formula: self.clone(),
            request: request.clone(),
            rests_on_starter: self.is_draft(),
            items: list.items,
            finished: list.finished,
            left_out,
            nameless,
            net: request.net.as_ref().map(|net| NetContent::new(net, request.market)),
            scent,
            questions,
            checks,
        })
    }
}

/// Every water of the formula, declared or not: all of it can dry.
fn water(ingredients: &Ingredients<'_>) -> Amount {
    let mut water = Amount::nothing();
    ingredients
        .named
        .iter()
        .chain(&ingredients.left_out)
        .filter(|row| row.is_water)
        .for_each(|row| water.add(&row.amount));
    water
}

fn check_moisture(water: &Amount, moisture: &Exact, whole: &FixedPoint) -> Result<(), Error> {
    let charged = water.typical.as_ref().map(|typical| typical.percent_of(whole));
    match charged.filter(|charged| charged < moisture) {
        Some(charged) => Err(Fault::new(FaultKind::OutOfRange, "the finished moisture is above the water charged")
            .at("residual moisture")
            .value(format!("{moisture} %"))
            .allowed(format!("0 to {} %", charged.floor_text(4)))
            .remedy("state a lower residual moisture")
            .into()),
        None => Ok(()),
    }
}

/// What must not be in any product of the market is no scent to be named.
fn check_prohibited(request: &LabelRequest) -> Result<(), Error> {
    let held = request.declarations.iter().filter(|_| request.market == Market::Eu).flat_map(|declaration| {
        declaration
            .prohibited()
            .filter(|(_, high)| !high.is_zero())
            .map(move |(name, high)| (declaration.material(), name, high))
    });
    let fault = |(material, name, high): (&str, &str, Ppm)| {
        let remedy = "use a scent without it; where the certificate says none, state 0";
        Fault::new(FaultKind::Contradiction, format!("{name} is prohibited in the EU"))
            .at(format!("declaration of {material:?}"))
            .value(format!("up to {high} %"))
            .remedy(remedy)
    };
    Error::check(held.map(fault).collect(), ())
}

fn check_nano(ingredients: &Ingredients<'_>, request: &LabelRequest) -> Result<(), Error> {
    let known = || ingredients.named.iter().flat_map(|row| &row.inci).copied();
    let unknown = request.nano.iter().filter(|nano| !known().any(|inci| fold(inci) == fold(nano)));
    Error::check(unknown.map(|nano| unknown_name("ingredient of this formula", nano, known()).at("nano")).collect(), ())
}

/// An oil whose entry is due stands under the name of the entry, once.
fn under_entries(named: &mut Vec<Named<'_>>, scent: &ScentReport, content: &Content<'_>) {
    let entry_of = |row: &Named<'_>| {
        let (part, at) = row.from.first()?;
        let substance = content.parts[*part].material.composition().constituents()[*at].substance();
        let is_own = content::is_scent(substance) && row.inci.len() == 1 && !substance.is_scent_mixture();
        let places = if is_own { ScentEntry::places_of(substance) } else { Vec::new() };
        let listed = |place: &&usize| {
            scent.rows.iter().any(|row| row.is_listed() && std::ptr::eq(row.entry, &ScentEntry::all()[**place]))
        };
        places
            .iter()
            .find(listed)
            .map(|place| ScentEntry::all()[*place].name())
            .filter(|name| !name.eq_ignore_ascii_case(row.name))
    };
    for row in named.iter_mut() {
        if let Some(name) = entry_of(row).filter(|_| !survey::is_mixture_name(row.name)) {
            row.name = name;
        }
    }
    let mut kept: Vec<Named<'_>> = Vec::with_capacity(named.len());
    for row in named.drain(..) {
        match kept.iter_mut().find(|known| known.name == row.name) {
            Some(known) => {
                known.amount.add(&row.amount);
                known.from.extend(row.from);
                known.inci.extend(row.inci);
            }
            None => kept.push(row),
        }
    }
    *named = kept;
}

/// What is named besides the ingredients because it is contained in them; what stands in the list by that name already
/// is not repeated.
fn contained(named: &[Named<'_>], scent: &ScentReport, amounts: Vec<Amount>) -> Vec<Named<'static>> {
    let rows = scent.rows.iter().zip(amounts).filter(|(row, _)| {
        row.is_listed() && !named.iter().any(|known| known.name.eq_ignore_ascii_case(row.entry.name()))
    });
    rows.map(|(row, amount)| Named {
        name: row.entry.name(),
        inci: vec![row.entry.name()],
        amount,
        is_colour: false,
        is_water: false,
        from: Vec::new(),
        entry: Some(row.entry.number()),
    })
    .collect()
}

getters!(Label {
    /// What was asked for.
    request: &LabelRequest,
    /// The formula.
    formula: &Formula,
    /// The names of the list, in its order, with what they rest on.
    items: &[LabelItem],
    /// What suppliers do not declare and so is not listed.
    left_out: &[LeftOut],
    /// Percent that suppliers do not name at all, as charged; without a typical value if a composition has no typical
    /// shares.
    nameless: &Interval,
    /// The scent constituents.
    scent: &ScentReport,
    /// The net content, where it was stated.
    net: Option<&NetContent>,
    /// What a person has to settle.
    questions: &[LabelQuestion],
    /// What else a label needs; a checklist, no legal opinion.
    checks: &[LabelCheck],
});

impl Label {
    /// The title of the formula.
    #[must_use]
    pub fn title(&self) -> &str {
        self.formula.title()
    }

    /// The list as it is printed, without its heading.
    #[must_use]
    pub fn ingredients(&self) -> String {
        self.items.iter().map(|item| item.name.as_str()).collect::<Vec<_>>().join(", ")
    }

    /// The list in the order of the product as sold, where a moisture was stated and that order is another.
    #[must_use]
    pub fn ingredients_as_sold(&self) -> Option<String> {
        self.finished.as_ref().map(|names| names.join(", "))
    }

    /// True while a question keeps it a draft, or it rests on starter values.
    #[must_use]
    pub fn is_draft(&self) -> bool {
        self.rests_on_starter || self.questions.iter().any(|question| question.keeps_draft)
    }
}
