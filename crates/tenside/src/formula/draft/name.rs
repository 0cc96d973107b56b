//! Which raw material, and which lot of it, a line means.

use std::sync::Arc;

use super::amount::{Content, read, shown};
use super::measured::has_mass;
use super::row::Asker;
use super::{Answer, Choice, DraftLine, LineRole, QuestionKind};
use crate::catalogue::{Catalogue, Why};
use crate::document::fold;
use crate::material::Material;
use crate::substance::Class;

/// Most raw materials offered for one name.
const MOST_CANDIDATES: usize = 12;
/// Most words of an amount that are tried as the end of the name before it.
const MOST_NAME_WORDS: usize = 3;
/// Longest piece of a name that is compared with the catalogue's.
const MOST_NAME_CHARACTERS: usize = 80;

/// Looks the names of lines up.
pub(super) struct Names<'d> {
    pub(super) catalogue: &'d Catalogue,
}

impl<'d> Names<'d> {
    /// The raw material a line means, where that is certain; else a question is asked, and `possible` holds what it
    /// could mean.
    pub(super) fn material(
        &self,
        asker: &mut Asker<'d>,
        line: &DraftLine,
        number: usize,
        possible: &mut Vec<&'d Arc<Material>>,
    ) -> Option<Arc<Material>> {
        if let Some(chosen) = line.chosen_material() {
            let Some(material) = self.catalogue.find(chosen) else {
                self.unknown(asker, line, number, chosen);
                return None;
            };
            possible.push(material);
            return self.of_lot(asker, line, number, possible);
        }
        self.ask_whether_the_amount_is_part_of_the_name(asker, line, number);
        let item = line.current_item();
        *possible = self.catalogue.meant(&item);
        if line.lot().is_some() && !line.has_accepted(QuestionKind::UnknownLot) && !possible.is_empty() {
            return self.of_lot(asker, line, number, possible);
        }
        let (message, kind) = match possible.as_slice() {
            [one] => return Some(Arc::clone(one)),
            [] => {
                let (plain, base) = without_percentages(&item);
                if !base.is_empty() && base != item {
                    *possible = self.of_any_strength(&plain, &base);
                }
                if possible.is_empty() {
                    self.unknown(asker, line, number, if base.is_empty() { &item } else { &base });
                    return None;
                }
                (
                    "the percentage in the name looks like a strength; which raw material is it?",
                    QuestionKind::FigureInName,
                )
            }
            _ => ("the name could mean several raw materials", QuestionKind::AmbiguousMaterial),
        };
        let mut choices = offered(possible);
        let place = if kind == QuestionKind::FigureInName { 0 } else { choices.len() };
        choices.insert(place, leave_open(number));
        asker.about(number, kind, message, shown(&item), "the id of one raw material", choices);
        None
    }

    /// The lot that a line names, of what its name could mean.
    fn of_lot(
        &self,
        asker: &mut Asker<'d>,
        line: &DraftLine,
        number: usize,
        possible: &mut Vec<&'d Arc<Material>>,
    ) -> Option<Arc<Material>> {
        let typical = || if let [one] = possible.as_slice() { Some(Arc::clone(one)) } else { None };
        let Some(name) = line.lot().filter(|_| !line.has_accepted(QuestionKind::UnknownLot)) else { return typical() };
        let lot = self.catalogue.lots().find(|lot| lot.id() == name);
        let of = lot.and_then(|lot| Some((lot, *possible.iter().find(|material| material.id() == lot.material())?)));
        let message = match (lot, of) {
            (Some(_), Some((lot, material))) => match material.with_lot(lot) {
                Ok((of_lot, _)) => {
                    *possible = vec![material];
                    return Some(Arc::new(of_lot));
                }
                Err(error) => error.faults().first().map(|fault| fault.message.clone()).unwrap_or_default(),
            },
            (Some(lot), None) => format!("the lot is one of {}", lot.material()),
            (None, _) => "the catalogue has no lot of this name".to_string(),
        };
        let mut choices =
            vec![Choice::new("leave it open: add the lot to the catalogue (with_lot)", Answer::LeaveOpen)];
        let known = self
            .catalogue
            .lots()
            .filter(|lot| possible.iter().any(|material| material.id() == lot.material()))
            .take(MOST_CANDIDATES);
        choices.extend(known.map(|lot| {
            Choice::new(format!("lot {} of {}", lot.id(), lot.material()), Answer::Lot(lot.id().to_string()))
        }));
        choices.push(Choice::new("count it with the typical values of the raw material", Answer::Accept));
        asker.about(
            number,
            QuestionKind::UnknownLot,
            &message,
            shown(name),
            "a lot of the raw material that the catalogue has",
            choices,
        );
        None
    }

    /// Does the catalogue know nothing that the name could mean?
    pub(super) fn is_unheard_of(&self, item: &str) -> bool {
        let near: String = item.chars().take(MOST_NAME_CHARACTERS).collect();
        self.catalogue.meant(item).is_empty() && self.catalogue.suggestions(&near).is_empty()
    }

    fn unknown(&self, asker: &mut Asker<'d>, line: &DraftLine, number: usize, name: &str) {
        let near: String = name.chars().take(MOST_NAME_CHARACTERS).collect();
        let mut choices = vec![leave_open(number)];
        for suggestion in self.catalogue.suggestions(&near) {
            let why = match &suggestion.why {
                Why::Holds(name) => format!("a guess: {} is one of its names", shown(name)),
                Why::Spelt(name) => format!("a guess by spelling: {}", shown(name)),
                Why::Beside(remark) => format!("if {} is a remark", shown(remark)),
                Why::Called(own) => format!("if {} is what its supplier calls it", shown(own)),
                Why::Part(name) => format!("a guess: {} has this word", shown(name)),
            };
            let material = suggestion.material;
            let label = format!("{} ({}); {why}", material.id(), material.name());
            choices.push(Choice::new(label, Answer::Material(material.id().to_string())));
        }
        choices.push(Choice::new("leave the line out", Answer::Drop));
        let weighed = line.written().is_some() && line.amount().is_some_and(has_mass);
        if weighed && number == 1 && choices.len() == 2 {
            choices.push(Choice::new("it states the mass of the whole", Answer::ReadAs(LineRole::Total)));
        }
        let message = "the catalogue has no raw material of this name";
        asker.about(
            number,
            QuestionKind::UnknownMaterial,
            message,
            shown(name),
            "the id of a raw material in the catalogue",
            choices,
        );
    }

    /// In a pasted line, "lactic acid 80 %" and "polysorbate 20" may be a name without an amount.
    fn ask_whether_the_amount_is_part_of_the_name(&self, asker: &mut Asker<'d>, line: &DraftLine, number: usize) {
        let (Some(amount), false) = (line.amount(), line.has_accepted(QuestionKind::FigureInName)) else { return };
        if line.written().is_none() || line.answers.amount.is_some() || line.answers.item.is_some() {
            return;
        }
        // A dash, a colon or a cell parts a name from an amount; blanks, commas and brackets may stand within a name.
        let written = line.written().unwrap_or_default();
        let apart = |c: char| c.is_whitespace() || matches!(c, '(' | '[' | ',');
        let parted =
            written.rfind(amount).zip(written.find(line.item())).filter(|(at, start)| *at >= start + line.item().len());
        if parted
            .is_some_and(|(at, start)| written[start + line.item().len()..at].chars().any(|c| !apart(c) || c == '\t'))
        {
            return;
        }
        let mut name = line.current_item();
        for word in amount.split_whitespace().take(MOST_NAME_WORDS) {
            name = format!("{name} {word}");
            let whole = self.catalogue.candidates(&without_percentages(&name).0);
            // "polysorbate 20,5" may be two cells.
            let before = name
                .rsplit_once(',')
                .filter(|_| word.contains(','))
                .map(|(before, _)| self.catalogue.candidates(before))
                .unwrap_or_default();
            if let [one] = [whole, before].concat().as_slice() {
                let choices = vec![Choice::new(format!("no, {} is the amount", shown(amount)), Answer::Accept)];
                let message = format!("the figure could belong to the name of {}; is it the amount?", one.id());
                let allowed = "the amount, or the line rewritten with name and amount";
                asker.about(number, QuestionKind::FigureInName, &message, shown(amount), allowed, choices);
                return;
            }
        }
    }

    /// Raw materials that the name with its strength means, then those that begin with the name without it.
    fn of_any_strength(&self, plain: &str, base: &str) -> Vec<&'d Arc<Material>> {
        let catalogue = self.catalogue;
        let folded = fold(base);
        let begins = |material: &&Arc<Material>| {
            fold(material.id()).starts_with(&folded) || fold(material.name()).starts_with(&folded)
        };
        let mut meant: Vec<&Arc<Material>> = Vec::new();
        for material in catalogue
            .candidates(plain)
            .into_iter()
            .chain(catalogue.meant(base))
            .chain(catalogue.materials().filter(begins))
        {
            if !meant.iter().any(|known| known.id() == material.id()) {
                meant.push(material);
            }
        }
        meant.truncate(MOST_CANDIDATES);
        meant
    }
}

/// Does the amount of the line say anything at all?
pub(super) fn has_amount(line: &DraftLine) -> bool {
    read(line.current_amount()).content != Content::Nothing
}

fn leave_open(number: usize) -> Choice {
    Choice::new(
        format!("none of these: leave it open, add it to the catalogue, then choose({number}, its id)"),
        Answer::LeaveOpen,
    )
}

/// Raw materials as choices.
pub(super) fn offered(materials: &[&Arc<Material>]) -> Vec<Choice> {
    materials
        .iter()
        .map(|material| {
            let label = format!("{} ({}){}", material.id(), material.name(), only_boosts(material));
            Choice::new(label, Answer::Material(material.id().to_string()))
        })
        .collect()
}

/// What to know of a raw material that is sold beside preservatives and holds none.
fn only_boosts(material: &Material) -> &'static str {
    let holds = |class| material.names_class(class);
    if holds(Class::PreservativeBooster) && !holds(Class::Preservative) {
        "; it boosts preservatives and holds none"
    } else {
        ""
    }
}

/// The name with its percent signs taken out, and without the figures before them.
fn without_percentages(item: &str) -> (String, String) {
    let plain = item.replace(['%', '\u{FF05}'], " ");
    let mut base: Vec<&str> = Vec::new();
    for word in item.split_whitespace() {
        let Some(at) = word.find(['%', '\u{FF05}']) else {
            base.push(word);
            continue;
        };
        let numeric =
            |text: &str| !text.is_empty() && text.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | ','));
        if at == 0 && base.last().is_some_and(|last| numeric(last)) {
            base.pop();
        } else if !numeric(&word[..at]) && at > 0 {
            base.push(&word[..at]);
        }
    }
    let joined = base.join(" ");
    (plain.split_whitespace().collect::<Vec<_>>().join(" "), joined.trim_end_matches(',').to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strengths_are_told_from_names() {
        for (item, plain, base) in [
            ("citric acid 50 %", "citric acid 50", "citric acid"),
            ("Lactic acid, 80%", "Lactic acid, 80", "Lactic acid"),
            ("30 % betaine", "30 betaine", "betaine"),
            ("kaolin", "kaolin", "kaolin"),
            ("%", "", ""),
            ("a% b", "a b", "a b"),
        ] {
            assert_eq!(without_percentages(item), (plain.to_string(), base.to_string()), "{item}");
        }
    }
}
