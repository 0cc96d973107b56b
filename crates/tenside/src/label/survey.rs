//! What a person has to settle, found by walking over what a label rests on.

use std::collections::HashMap;

use indexmap::IndexMap;

use super::content::{Amount, Content, Ingredients, Named, is_scent};
use super::list::List;
use super::rules::{Rules, is_us_colour, rules};
use super::{
    ItemClass, LabelCheck, LabelItem, LabelQuestion, LabelRequest, Market, NetQuantity, QuestionTopic, ScentAnswer,
    ScentEntry, ScentReport,
};
use crate::document::fold;
use crate::material::Declaration;
use crate::number::{Exact, Interval};
use crate::substance::Class;

/// The most names that a sentence lists.
const MOST_LISTED: usize = 12;

/// A label's foundations.
pub(super) struct Survey<'l, 'f> {
    pub(super) content: &'l Content<'f>,
    pub(super) ingredients: &'l Ingredients<'f>,
    pub(super) scent: &'l ScentReport,
    pub(super) request: &'l LabelRequest,
}

impl Survey<'_, '_> {
    /// The questions, those about the list first.
    pub(super) fn questions(&self) -> Vec<LabelQuestion> {
        let mut questions = self.declarations();
        questions.extend(self.unnamed());
        questions.extend(self.without_typical());
        questions.extend(self.colours());
        questions.extend(self.scents());
        questions.extend(self.reactions());
        questions.extend(self.dried_net());
        questions.extend(self.borderline());
        questions
    }

    /// What else the market's label needs, as far as it applies.
    pub(super) fn checks(&self) -> Vec<LabelCheck> {
        let by_volume = self.request.net.as_ref().is_some_and(|net| net.volume().is_some());
        let applies = |when: &str| match when {
            "naked" => self.request.naked,
            "scalp-active" => self.has(Class::ScalpActive),
            "by-volume" => by_volume,
            "not-by-volume" => !by_volume,
            _ => true,
        };
        let checks = rules(self.request.market).checks.iter().filter(|check| applies(&check.when));
        checks.map(|check| LabelCheck { slug: &check.slug, text: &check.text, source: &check.source }).collect()
    }

    /// All the nameless remainders.
    pub(super) fn nameless(&self) -> Interval {
        let mut sum = Amount::nothing();
        self.ingredients.nameless.iter().for_each(|(_, amount)| sum.add(amount));
        sum.percent(&self.content.whole())
    }

    /// Does an ingredient of that class go on the list?
    fn has(&self, class: Class) -> bool {
        let rows = self.content.parts.iter().flat_map(|part| part.material.composition().constituents());
        rows.filter(|row| row.declaration() != Declaration::NotDeclared).any(|row| row.substance().class() == class)
    }

    /// The question with the raw materials it concerns, and the lines in which they are, as bought or in a premix.
    fn about(&self, mut question: LabelQuestion, materials: &[String]) -> LabelQuestion {
        for part in &self.content.parts {
            if materials.iter().any(|id| id == part.material.id() || id == part.line.material().id()) {
                push_new(&mut question.lines, part.line.name());
            }
        }
        question.materials = materials.to_vec();
        question
    }

    /// The question with an ingredient, and the lines and raw materials that bring it.
    fn about_ingredient(&self, question: LabelQuestion, row: &Named<'_>) -> LabelQuestion {
        let mut question = question.about_ingredients([row.name]);
        for (part, _) in &row.from {
            let part = &self.content.parts[*part];
            push_new(&mut question.lines, part.line.name());
            push_new(&mut question.materials, part.material.id());
        }
        question
    }

    fn declarations(&self) -> Vec<LabelQuestion> {
        let ask = |(name, part): &(&str, usize)| {
            let part = &self.content.parts[*part];
            let material = part.material.id();
            let sentence = format!("ask the supplier of {material} whether {name} is declared as an ingredient");
            let mut question = LabelQuestion::new(QuestionTopic::Declaration, sentence).about_ingredients([*name]);
            question.lines.push(part.line.name().to_string());
            question.materials.push(material.to_string());
            question
        };
        self.ingredients.to_ask.iter().map(ask).chain(self.undeclared()).collect()
    }

    /// What no supplier declares although there is more of it than of what stands in free order.
    fn undeclared(&self) -> impl Iterator<Item = LabelQuestion> {
        let boundary = self.content.share(rules(self.request.market).boundary.parts());
        let is_much = move |row: &&Named<'_>| {
            !row.is_water && row.amount.typical.as_ref().is_some_and(|typical| *typical > boundary)
        };
        self.ingredients.left_out.iter().filter(is_much).map(|row| {
            let share = row.amount.percent(&self.content.whole()).text(2);
            let sentence = format!(
                "{} is {share} % of the formula, and its suppliers do not declare it: ask them whether it is an \
                 ingredient",
                row.name
            );
            self.about_ingredient(LabelQuestion::open(QuestionTopic::Declaration, sentence), row)
        })
    }

    fn unnamed(&self) -> Option<LabelQuestion> {
        let mut materials: Vec<String> = Vec::new();
        for (part, _) in self.ingredients.nameless.iter().filter(|(_, amount)| !amount.high.is_zero()) {
            push_new(&mut materials, self.content.parts[*part].material.id());
        }
        let share = self.nameless().text(2);
        let sentence = || {
            format!(
                "{share} % of the formula comes without a name from {}: get their full lists of ingredients",
                short(&materials)
            )
        };
        (!materials.is_empty()).then(|| self.about(LabelQuestion::new(QuestionTopic::Unnamed, sentence()), &materials))
    }

    fn without_typical(&self) -> Vec<LabelQuestion> {
        let bounded = self.content.parts.iter().filter(|part| !part.material.composition().has_typical());
        bounded
            .map(|part| {
                let sentence = format!(
                    "{} has bounds only, and its ingredients are ranked by the middle of them: get typical shares",
                    part.material.id()
                );
                self.about(LabelQuestion::new(QuestionTopic::NoTypical, sentence), &[part.material.id().to_string()])
            })
            .collect()
    }

    fn colours(&self) -> Vec<LabelQuestion> {
        let colours = self.ingredients.named.iter().filter(|row| row.is_colour);
        match self.request.market {
            Market::Eu => colours
                .filter(|row| !row.name.starts_with("CI "))
                .map(|row| {
                    let sentence =
                        format!("{} is a colourant without a colour index number here: look up its name", row.name);
                    self.about_ingredient(LabelQuestion::open(QuestionTopic::Colour, sentence), row)
                })
                .collect(),
            Market::Us => colours
                .filter(|row| !is_us_colour(row.name))
                .map(|row| {
                    let sentence = format!(
                        "{} is not among the color additives carried here: look up whether it is listed, and its name",
                        row.name
                    );
                    self.about_ingredient(LabelQuestion::new(QuestionTopic::Colour, sentence), row)
                })
                .collect(),
        }
    }

    fn scents(&self) -> Vec<LabelQuestion> {
        let mut questions = Vec::new();
        if self.scent.threshold.is_none() {
            let sentence = format!("naming scent constituents one by one: {}; {}", self.scent.state, self.scent.source);
            return vec![LabelQuestion::open(QuestionTopic::ScentUnknown, sentence)];
        }
        for row in self.scent.rows.iter().filter(|row| row.required && row.answer == ScentAnswer::Possible) {
            let (name, materials) = (row.entry.name(), row.materials.join(", "));
            let listed = if row.is_listed() {
                "it is listed, being typically above"
            } else {
                "it is not listed, being typically not above"
            };
            let basis = self.scent.basis();
            let sentence = format!(
                "{name} can exceed its threshold: {listed} (judged {basis}); a declaration or certificate for \
                 {materials} settles it"
            );
            let question =
                LabelQuestion::new(QuestionTopic::ScentPossible, sentence).about_entries([row.entry.number()]);
            questions.push(self.about(question.about_ingredients([name]), &row.materials));
        }
        let unknown = self.scent.unknown_entries();
        if !unknown.is_empty() {
            let mut sentence = format!(
                "of {} of the {} scent constituents not enough is known",
                unknown.len(),
                ScentEntry::all().len()
            );
            if !self.scent.to_ask.is_empty() {
                sentence.push_str(&format!("; get the allergen declaration of {}", short(&self.scent.to_ask)));
            }
            let question = LabelQuestion::new(QuestionTopic::ScentUnknown, sentence).about_entries(unknown);
            questions.push(self.about(question, &self.scent.to_ask));
        }
        questions.extend(self.two_names());
        questions
    }

    /// An ingredient whose entry goes by another name stands in the list twice.
    fn two_names(&self) -> Vec<LabelQuestion> {
        let mut questions = Vec::new();
        for row in self.ingredients.named.iter().filter(|row| !is_mixture_name(row.name)) {
            let substance = row
                .from
                .first()
                .map(|(part, at)| &self.content.parts[*part].material.composition().constituents()[*at]);
            let Some(substance) = substance.map(|row| row.substance().as_ref()).filter(|substance| is_scent(substance))
            else {
                continue;
            };
            for place in ScentEntry::places_of(substance) {
                let entry = &ScentEntry::all()[place];
                let is_listed = self.scent.rows.iter().any(|row| row.entry == entry && row.is_listed());
                if is_listed && fold(entry.name()) != fold(row.name) {
                    let sentence = format!(
                        "{} is listed once, as {} of entry {}: have it settled that this is the name",
                        row.name,
                        entry.name(),
                        entry.number()
                    );
                    let question = self.about_ingredient(LabelQuestion::new(QuestionTopic::EntryName, sentence), row);
                    questions
                        .push(question.about_ingredients([row.name, entry.name()]).about_entries([entry.number()]));
                }
            }
        }
        questions
    }

    fn reactions(&self) -> Option<LabelQuestion> {
        let acid = self.has(Class::FattyAcid) || self.has(Class::Acid);
        (acid && self.has(Class::Alkali)).then(|| {
            let sentence = "acid and alkali are charged together: have it settled whether they are listed as added or \
                            as the salt they form";
            let question = LabelQuestion::open(QuestionTopic::Reaction, sentence.to_string());
            self.about_classes(question, &[Class::FattyAcid, Class::Acid, Class::Alkali])
        })
    }

    /// What is pressed to the net content weighs less when it is sold.
    fn dried_net(&self) -> Option<LabelQuestion> {
        let (net, moisture) = (self.request.net.as_ref()?, self.request.moisture.as_ref()?);
        let mut water = Amount::nothing();
        self.ingredients
            .named
            .iter()
            .chain(&self.ingredients.left_out)
            .filter(|row| row.is_water)
            .for_each(|row| water.add(&row.amount));
        let charged = water.typical?.percent_of(&self.content.whole());
        let left = (Exact::hundred() - &charged)
            .checked_div(&(Exact::hundred() - moisture))
            .filter(|left| *left < Exact::ONE)?;
        let charged = charged.rounded_text(1);
        let sentence = match net {
            NetQuantity::Mass(mass) => format!(
                "a bar pressed to {net} with {charged} % of water weighs about {} g when it has dried to {moisture} %: the \
                 net content is that of the product as sold",
                (mass.grams() * &left).rounded_text(1)
            ),
            NetQuantity::Volume(_) => format!(
                "of {net} with {charged} % of water less is left when it has dried to {moisture} %, how much is not \
                 known: the net content is that of the product as sold"
            ),
        };
        Some(LabelQuestion::open(QuestionTopic::Drying, sentence))
    }

    fn borderline(&self) -> Option<LabelQuestion> {
        self.has(Class::ScalpActive).then(|| {
            let sentence = "a substance acting on the scalp is in it: with a claim to match it may be more than a \
                            cosmetic, with other labelling";
            self.about_classes(
                LabelQuestion::open(QuestionTopic::Borderline, sentence.to_string()),
                &[Class::ScalpActive],
            )
        })
    }

    /// The question with every ingredient of those classes, and what brings it.
    fn about_classes(&self, mut question: LabelQuestion, classes: &[Class]) -> LabelQuestion {
        for row in &self.ingredients.named {
            for (part, at) in &row.from {
                let part = &self.content.parts[*part];
                if part
                    .material
                    .composition()
                    .constituents()
                    .get(*at)
                    .is_some_and(|row| classes.contains(&row.substance().class()))
                {
                    push_new(&mut question.ingredients, row.name);
                    push_new(&mut question.lines, part.line.name());
                    push_new(&mut question.materials, part.material.id());
                }
            }
        }
        question
    }
}

fn push_new(names: &mut Vec<String>, name: &str) {
    if !names.iter().any(|known| known == name) {
        names.push(name.to_string());
    }
}

pub(super) fn is_mixture_name(name: &str) -> bool {
    matches!(name, "PARFUM" | "AROMA" | "FRAGRANCE" | "FLAVOR")
}

/// The first names, and how many more.
fn short(names: &[String]) -> String {
    let shown = names.iter().take(MOST_LISTED).map(String::as_str).collect::<Vec<_>>().join(", ");
    if names.len() > MOST_LISTED { format!("{shown} and {} more", names.len() - MOST_LISTED) } else { shown }
}

/// What the finished list leaves open.
pub(super) fn positions(list: &List, rule: &Rules) -> Vec<LabelQuestion> {
    let mut questions = Vec::new();
    if list.finished.is_some() {
        let sentence = format!(
            "the order as charged and the order as sold differ, both are shown; {}: have one chosen",
            rule.water_question
        );
        let names = list.items.iter().filter(|item| item.class == ItemClass::Ordered).map(|item| item.name.as_str());
        questions.push(LabelQuestion::new(QuestionTopic::Drying, sentence).about_ingredients(names));
    }
    let open: Vec<&LabelItem> = list.items.iter().filter(|item| !item.is_certain).collect();
    for group in groups(&open) {
        let Some(first) = group.first() else { continue };
        let mut names: Vec<String> = Vec::new();
        let (mut settled_by, mut lines, mut entries) = (Vec::new(), Vec::new(), Vec::new());
        for item in &group {
            push_new(&mut names, &item.name);
            item.settled_by.iter().for_each(|line| push_new(&mut settled_by, line));
            item.lines.iter().for_each(|line| push_new(&mut lines, line));
            entries.extend(item.entry);
        }
        let what = match (group.as_slice(), first.class) {
            ([one], ItemClass::Ordered) => format!("{} could fall below the boundary of the order", one.name),
            ([one], _) => format!("{} could reach the boundary of the order", one.name),
            ([one, other], _) => format!("{} could change places with {}", one.name, other.name),
            _ => format!("the order among {} is not certain", short(&names)),
        };
        let way_out = if settled_by.is_empty() {
            String::new()
        } else {
            format!("; ranges or certificates for {} settle it", short(&settled_by))
        };
        let mut question =
            LabelQuestion::open(QuestionTopic::Position, format!("{what}{way_out}")).about_ingredients(names);
        question.lines = if settled_by.is_empty() { lines } else { settled_by };
        question.entries = entries;
        questions.push(question);
    }
    questions
}

/// The items by who could change places with whom, directly or by way of others, in the order of the list.
fn groups<'a>(items: &[&'a LabelItem]) -> Vec<Vec<&'a LabelItem>> {
    let place: HashMap<&str, usize> =
        items.iter().enumerate().map(|(place, item)| (item.name.as_str(), place)).collect();
    // Each leads to one before it in its group, the first of a group to itself.
    let mut leads_to: Vec<usize> = (0..items.len()).collect();
    let first = |leads_to: &[usize], mut at: usize| {
        while leads_to[at] != at {
            at = leads_to[at];
        }
        at
    };
    for (at, item) in items.iter().enumerate() {
        for other in item.may_change_with.iter().filter_map(|rival| place.get(rival.as_str())) {
            let (one, two) = (first(&leads_to, at), first(&leads_to, *other));
            leads_to[one.max(two)] = one.min(two);
        }
    }
    let mut groups: IndexMap<usize, Vec<&LabelItem>> = IndexMap::new();
    for (at, item) in items.iter().enumerate() {
        groups.entry(first(&leads_to, at)).or_default().push(item);
    }
    groups.into_values().collect()
}
