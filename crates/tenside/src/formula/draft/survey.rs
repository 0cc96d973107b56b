//! Goes over the lines of a draft and asks what cannot be known from what is written.

use std::collections::HashMap;
use std::sync::Arc;

use super::amount::{AMOUNTS, Content, ESTIMATED, UNWEIGHED, read, shown};
use super::figure::Mark;
use super::left_over::{LeftInName, left_in_name};
use super::name::{Names, has_amount};
use super::pair;
use super::row::{Asker, Counted, Entry, Pair, Row};
use super::sentence::ask_about_sentences;
use super::split::has_two_amounts;
use super::total::{self, Share};
use super::{Amount, AmountUnit, Answer, Choice, Draft, DraftLine, FigureUnit, LineRole, Question, QuestionKind};
use crate::bounds::Quantity;
use crate::catalogue::Catalogue;
use crate::document::check_name;
use crate::material::{Form, Material};
use crate::number::{Active, Exact, MassUnit, VolumeUnit};
use crate::substance::Class;

/// Mass of a drop, in thousandths of a gram (common practice, no source).
const DROP_THOUSANDTHS: (i64, i64) = (25, 50);

/// What was found out about a draft: its open questions, or the shares of its lines.
pub(super) struct Survey {
    pub(super) questions: Vec<Question>,
    /// Complete only where no question is open.
    pub(super) shares: Vec<Share>,
    /// The raw materials that are certain, by the numbers of their lines.
    pub(super) materials: HashMap<usize, Arc<Material>>,
    /// What came of comparing totals, and at what density a volume was taken, by the numbers of the lines.
    pub(super) remarks: HashMap<usize, String>,
}

impl Draft {
    /// Every question that is open, by line, then those about the recipe as a whole. A question that hangs on the
    /// answer to another (the density of a material that is not known yet) follows once that is given.
    #[must_use]
    pub fn questions(&self, catalogue: &Catalogue) -> Vec<Question> {
        survey(self, catalogue).questions
    }
}

pub(super) fn survey(draft: &Draft, catalogue: &Catalogue) -> Survey {
    let contents: Vec<Content> =
        draft.lines.iter().map(|line| read(line.amount().unwrap_or_default()).content).collect();
    let decimal_commas = contents.iter().any(|content| matches!(content, Content::Amount { mark: Mark::Comma, .. }));
    let decimal_points =
        contents.iter().any(|content| matches!(content, Content::Amount { mark: Mark::Point, thousands: None, .. }));
    let mut lines = LineSurvey {
        asker: Asker { draft, questions: Vec::new() },
        names: Names { catalogue },
        decimal_commas,
        decimal_points,
        remarks: HashMap::new(),
    };
    let mut rows: Vec<Row<'_>> = Vec::with_capacity(draft.lines.len());
    for (line, number) in
        draft.lines.iter().zip(1..).filter(|(line, _)| line.role() == LineRole::Material && !line.is_dropped())
    {
        let row = lines.row(line, number, rows.len());
        rows.push(row);
    }
    let (mut asker, mut remarks) = (lines.asker, lines.remarks);
    find_duplicates(&mut rows, &mut asker);
    ask_about_sentences(&rows, catalogue, &mut asker);
    pair::settle(&mut rows, draft.batch(), &mut asker);
    let (shares, totals) = total::shares(draft, &rows, &mut asker);
    let mut questions = asker.questions;
    let in_percent = in_percent(draft, &rows);
    questions.iter_mut().for_each(|question| question.in_percent = in_percent);
    questions.sort_by_key(|question| question.id.line.unwrap_or(usize::MAX));
    let materials = rows.into_iter().filter_map(|row| Some((row.number, row.material?))).collect();
    remarks.extend(totals);
    Survey { questions, shares: shares.unwrap_or_default(), materials, remarks }
}

/// Do the lines count in percent rather than in masses?
fn in_percent(draft: &Draft, rows: &[Row<'_>]) -> bool {
    let of = |counted: Counted| rows.iter().filter(|row| row.counted == Some(counted)).count();
    let bare = of(Counted::Bare);
    let grams = draft.figures == Some(FigureUnit::Gram);
    let masses = of(Counted::Mass) + if grams { bare } else { 0 };
    masses < of(Counted::Percent) + if grams { 0 } else { bare }
}

fn find_duplicates(rows: &mut [Row<'_>], asker: &mut Asker<'_>) {
    let mut first_of: HashMap<(String, Option<String>), usize> = HashMap::new();
    for index in 0..rows.len() {
        // Two lots of a raw material are two lines.
        let lot = |material: &Arc<Material>| material.lot().map(|lot| lot.id().to_string());
        let Some(id) = rows[index].material.as_ref().map(|material| (material.id().to_string(), lot(material))) else {
            continue;
        };
        let (number, line) = (rows[index].number, rows[index].line);
        let Some(&first) = first_of.get(&id) else {
            first_of.insert(id, index);
            continue;
        };
        if line.answers.merged {
            rows[index].head = first;
        } else if line.has_accepted(QuestionKind::SameMaterialTwice) || line.answers.name.is_some() {
            // Kept apart.
        } else if asker.draft.merge_duplicates {
            rows[index].head = first;
        } else {
            let earlier = rows[first].number;
            let choices = vec![
                Choice::new(format!("add it to line {earlier}"), Answer::Merge),
                Choice::new("keep both as lines with names of their own", Answer::Accept),
            ];
            let message = format!("the same raw material stands in line {earlier}");
            asker.about(
                number,
                QuestionKind::SameMaterialTwice,
                &message,
                id.0,
                "one line, or lines with names of their own",
                choices,
            );
        }
    }
}

/// Asks about lines one by one.
struct LineSurvey<'d> {
    asker: Asker<'d>,
    names: Names<'d>,
    /// Whether a figure of the recipe has a decimal comma.
    decimal_commas: bool,
    /// Whether a figure of it has a point that can only be a decimal one.
    decimal_points: bool,
    remarks: HashMap<usize, String>,
}

impl<'d> LineSurvey<'d> {
    fn row(&mut self, line: &'d DraftLine, number: usize, index: usize) -> Row<'d> {
        let mut row = Row {
            number,
            line,
            material: None,
            possible: Vec::new(),
            counted: None,
            entry: None,
            stays: false,
            unit: None,
            pair: None,
            fill_to: None,
            head: index,
        };
        if self.is_unreadable(line, number) {
            return row;
        }
        if line.is_method_only()
            && line.written().is_some()
            && !has_amount(line)
            && !line.has_accepted(QuestionKind::MethodOnly)
        {
            // A step of the method: what it names is asked for only if it counts.
            self.stays(line, number);
            return row;
        }
        row.material = self.names.material(&mut self.asker, line, number, &mut row.possible);
        row.stays = self.stays(line, number);
        let entry = self.amount(&mut row);
        row.entry = entry.filter(|_| row.stays);
        let filler = row
            .material
            .as_ref()
            .filter(|material| row.counted == Some(Counted::Fill) && material.main_class() != Class::Water);
        if let Some(material) = filler.filter(|_| !line.has_accepted(QuestionKind::QsNotWater)) {
            let choices = vec![Choice::new(format!("yes, {} fills to 100", material.id()), Answer::Accept)];
            let message = "the line that fills to 100 is not water; is that meant?";
            let allowed = "water as a rule; another filler, such as a clay, if it is meant";
            self.asker.about(number, QuestionKind::QsNotWater, message, material.id().to_string(), allowed, choices);
        }
        row
    }

    /// A line that is no raw material with an amount; what it is, is asked.
    fn is_unreadable(&mut self, line: &DraftLine, number: usize) -> bool {
        let item = line.current_item();
        let own = line.answers.item.is_some() || line.answers.material.is_some();
        let pasted = line.written().is_some() && !own && !line.is_method_only();
        let html = item
            .match_indices('<')
            .any(|(at, _)| item[at + 1..].starts_with(|c: char| c.is_ascii_alphabetic() || matches!(c, '/' | '!')));
        if let Some(left) = self.left_in_name(line, &item) {
            let message = "two figures stand in the line; which one is the amount?";
            let rewritten = left.figures.map(|amount| {
                let label = format!("{}, {amount}", shown(&left.name));
                Choice::new(label, Answer::Rewrite { item: left.name.clone(), amount })
            });
            let choices = rewritten.into_iter().chain([Choice::new("leave the line out", Answer::Drop)]).collect();
            let found = shown(line.written().unwrap_or(&item));
            self.asker.about(number, QuestionKind::UnreadableLine, message, found, "one amount", choices);
            return true;
        }
        let (message, remark) = if line.answers.material.is_none() && check_name(&item).is_err() {
            ("the line is not understood; what should it say?", false)
        } else if html && !own {
            ("the line holds HTML, not a name; paste what the page shows", false)
        } else if line.current_amount().is_empty() && !own && has_two_amounts(&item) {
            ("the line is not understood; what should it say?", false)
        } else if pasted && !has_amount(line) && self.is_before_a_figure(&item) {
            ("the line names a raw material, and its amount is not understood; what is it?", false)
        } else if pasted && !has_amount(line) && self.names.catalogue.meant(&item).is_empty() {
            ("the line has no amount and names no raw material of the catalogue; what is it?", true)
        } else if pasted && self.figure_alone(line, number) && self.names.is_unheard_of(&item) {
            ("the figure has no unit and the line names no raw material of the catalogue; what is it?", true)
        } else {
            return false;
        };
        let found = shown(line.written().unwrap_or(&item));
        let allowed = "a readable name of a raw material (1 to 200 characters) and one amount";
        let mut choices = vec![Choice::new("leave the line out", Answer::Drop)];
        if remark {
            choices.insert(0, Choice::new("it is a remark", Answer::ReadAs(LineRole::Comment)));
            choices
                .insert(1, Choice::new("it is the heading of the phase below it", Answer::ReadAs(LineRole::Heading)));
        }
        self.asker.about(number, QuestionKind::UnreadableLine, message, found, allowed, choices);
        true
    }

    /// Does a name that the catalogue knows stand before a figure: `kaolin 60 gr`?
    fn is_before_a_figure(&self, item: &str) -> bool {
        let words: Vec<&str> = item.split_whitespace().collect();
        let known = |words: &[&str]| !self.names.catalogue.meant(&words.join(" ")).is_empty();
        let figure = words.iter().position(|word| word.starts_with(|c: char| c.is_ascii_digit()));
        figure.is_some_and(|at| known(&words[..at]) && !known(&words))
    }

    /// A figure that would be lost with the name, once a raw material is chosen for the line.
    fn left_in_name(&self, line: &DraftLine, item: &str) -> Option<LeftInName> {
        let answered = line.answers.item.is_some() || line.answers.amount.is_some();
        let (written, amount) = (line.written().filter(|_| !answered)?, line.amount()?);
        left_in_name(written, item, amount).filter(|left| left.is_signed || self.names.catalogue.meant(item).is_empty())
    }

    /// Does the first line with an amount give a figure without a unit, and all the others have one? So do titles.
    fn figure_alone(&self, line: &DraftLine, number: usize) -> bool {
        let unitless = |line: &DraftLine| {
            let content = read(line.current_amount()).content;
            matches!(content, Content::Amount { amount: Amount::Of { unit: AmountUnit::Unstated, .. }, .. })
        };
        let materials = self.asker.draft.lines.iter().zip(1..);
        let mut others = materials.filter(|(other, at)| {
            *at != number && other.role() == LineRole::Material && !other.is_dropped() && has_amount(other)
        });
        unitless(line) && others.clone().next().is_some() && others.all(|(other, at)| at > number && !unitless(other))
    }

    /// Does the line belong to the recipe?
    fn stays(&mut self, line: &DraftLine, number: usize) -> bool {
        let method = line.is_method_only() && !line.has_accepted(QuestionKind::MethodOnly);
        let optional = line.says_optional() && !line.has_accepted(QuestionKind::OptionalLine);
        let leave_out = || Choice::new("leave the line out", Answer::Drop);
        if method {
            let mut choices = vec![leave_out()];
            if matches!(read(line.current_amount()).content, Content::Amount { .. }) {
                choices
                    .insert(0, Choice::new(format!("count it with {}", shown(line.current_amount())), Answer::Accept));
            }
            let message = "the line stands in the method but not in the list; does it count?";
            self.asker.about(number, QuestionKind::MethodOnly, message, shown(line.current_amount()), AMOUNTS, choices);
        }
        if optional {
            let choices = vec![Choice::new("keep it", Answer::Accept), leave_out()];
            let message = "the line is optional; is it part of this formula?";
            self.asker.about(number, QuestionKind::OptionalLine, message, shown(line.item()), "in or out", choices);
        }
        !method && !optional
    }

    fn amount(&mut self, row: &mut Row<'_>) -> Option<Entry> {
        let (line, number) = (row.line, row.number);
        let text = line.current_amount();
        let content = read(text).content;
        row.counted = counted(&content);
        let amount = match content {
            Content::Nothing => {
                // A line of the method is asked for its amount there.
                if !line.is_method_only() || line.has_accepted(QuestionKind::MethodOnly) {
                    self.asker.about(
                        number,
                        QuestionKind::AmountMissing,
                        "the line has no amount",
                        "nothing".to_string(),
                        AMOUNTS,
                        Vec::new(),
                    );
                }
                return None;
            }
            Content::NotUnderstood(reason) => {
                self.asker.about(number, QuestionKind::AmountUnreadable, reason, shown(text), AMOUNTS, Vec::new());
                return None;
            }
            Content::Unweighed => {
                self.asker.about(number, QuestionKind::AmountUnreadable, UNWEIGHED, shown(text), AMOUNTS, Vec::new());
                return None;
            }
            Content::Loosely { amount, reason } => {
                let amount = amount.to_string();
                let take = if reason == ESTIMATED { "take the estimate of" } else { "take" };
                let choices = vec![Choice::new(format!("{take} {amount}"), Answer::Amount(amount))];
                self.asker.about(number, QuestionKind::Approximate, reason, shown(text), "one figure", choices);
                return None;
            }
            Content::Both { mass, percent } => {
                row.pair = Pair::of(mass, percent);
                return None;
            }
            Content::OutOfRange { allowed } => {
                self.asker.about(
                    number,
                    QuestionKind::AmountOutOfRange,
                    "the amount is out of range",
                    shown(text),
                    allowed,
                    Vec::new(),
                );
                return None;
            }
            Content::TwoWays { decimal, thousands } => {
                self.decimal_mark(number, text, &decimal, &thousands);
                return None;
            }
            // An answer is written with a decimal point whatever the recipe does.
            Content::Amount { amount, mark: Mark::Point, thousands: Some(thousands) }
                if self.may_be_thousands(&amount) && line.answers.amount.is_none() =>
            {
                self.decimal_mark(number, text, &amount, &thousands);
                return None;
            }
            Content::Amount { amount, .. } => amount,
        };
        match amount {
            Amount::Fill { to } => {
                row.fill_to = to;
                Some(Entry::Fill)
            }
            Amount::Range { low, high, unit, active } => {
                let middle = (&low + &high) / Exact::from(2);
                let choices = [low, middle, high].map(|value| {
                    let amount = Amount::Of { value, unit, active }.to_string();
                    Choice::new(amount.clone(), Answer::Amount(amount))
                });
                self.asker.about(
                    number,
                    QuestionKind::Range,
                    "the amount is a range; which figure is it?",
                    shown(text),
                    "one figure",
                    choices.to_vec(),
                );
                None
            }
            Amount::Of { value, unit, active } => {
                row.unit = Some(unit);
                self.figure(row, value, unit, active)
            }
        }
    }

    fn decimal_mark(&mut self, number: usize, text: &str, decimal: &Amount, thousands: &Amount) {
        let choices =
            [decimal, thousands].map(|amount| Choice::new(amount.to_string(), Answer::Amount(amount.to_string())));
        let message = "the mark before three digits may part decimals or thousands";
        self.asker.about(
            number,
            QuestionKind::DecimalMark,
            message,
            shown(text),
            "a figure that reads in one way",
            choices.to_vec(),
        );
    }

    fn figure(&mut self, row: &Row<'_>, value: Exact, unit: AmountUnit, active: bool) -> Option<Entry> {
        let number = row.number;
        match unit {
            AmountUnit::Percent if active => self.as_supplied(row, &value, Counted::Percent),
            AmountUnit::Percent => Some(Entry::Percent(value)),
            AmountUnit::Unstated => Some(Entry::Bare(value)),
            AmountUnit::Mass(unit) => {
                let grams = &value * unit.grams();
                let liquid = row.possible.iter().any(|material| matches!(material.form(), Form::Liquid | Form::Oil));
                if unit == MassUnit::Ounce && liquid && !row.line.has_accepted(QuestionKind::Ounce) {
                    let fluid = format!("{value} fl oz");
                    let choices = vec![
                        Choice::new(format!("ounces by weight: {grams} g"), Answer::Accept),
                        Choice::new(format!("fluid ounces: {fluid}"), Answer::Amount(fluid)),
                    ];
                    let message = "ounces of a liquid may be a mass or fluid ounces";
                    self.asker.about(
                        number,
                        QuestionKind::Ounce,
                        message,
                        format!("{value} oz"),
                        "oz (a mass) or fl oz (a volume)",
                        choices,
                    );
                    return None;
                }
                if active { self.as_supplied(row, &grams, Counted::Mass) } else { Some(Entry::Grams(grams)) }
            }
            AmountUnit::Volume(unit) => self.volume(row, &value, unit),
            AmountUnit::Drop => {
                self.ask_about_drops(number, &value);
                None
            }
        }
    }

    /// Whether a point before three digits may part thousands: where decimals have a comma, and of a mass or volume
    /// also where no other figure says that they have a point.
    fn may_be_thousands(&self, amount: &Amount) -> bool {
        let is_measured = matches!(amount, Amount::Of { unit: AmountUnit::Mass(_) | AmountUnit::Volume(_), .. });
        self.decimal_commas || (is_measured && !self.decimal_points)
    }

    /// A volume as a mass, by the density of what flows. The density of a solid is not that of a spoonful of its powder
    /// or flakes.
    fn volume(&mut self, row: &Row<'_>, value: &Exact, unit: VolumeUnit) -> Option<Entry> {
        let millilitres = value * unit.millilitres();
        let material = row.material.as_deref()?;
        let flows = matches!(material.form(), Form::Liquid | Form::Oil | Form::Paste);
        let Some(density) = material.density().filter(|_| flows) else {
            let message = if flows {
                "a volume of a material whose density is not stated"
            } else {
                "a volume of a solid, which packs as it will"
            };
            let found = format!("{value} {unit} ({millilitres} ml)");
            self.asker.about(
                row.number,
                QuestionKind::VolumeWithoutDensity,
                message,
                found,
                "a mass or percentage: weigh it once",
                Vec::new(),
            );
            return None;
        };
        let grams = millilitres * Exact::from(density);
        self.remarks.insert(row.number, format!("taken as {} g, at {density} g/mL", grams.rounded_text(2)));
        self.asker.mass_in_range(row.number, &grams, format!("{value} {unit}")).then_some(Entry::Grams(grams))
    }

    fn ask_about_drops(&mut self, number: usize, value: &Exact) {
        let grams = |thousandths: i64| value * Exact::ratio(thousandths, 1000);
        let (low, high) = (grams(DROP_THOUSANDTHS.0), grams(DROP_THOUSANDTHS.1));
        if !self.asker.mass_in_range(number, &high, format!("{value} drops")) {
            return;
        }
        let found = format!("{value} drops, {low} to {high} g");
        let middle = (&low + &high) / Exact::from(2);
        let choices =
            [low, middle, high].map(|grams| Choice::new(format!("{grams} g"), Answer::Amount(format!("{grams} g"))));
        let message = "a drop is no certain mass (0.025 to 0.05 g, common practice, no source)";
        self.asker.about(number, QuestionKind::Drops, message, found, "a mass or percentage", choices.to_vec());
    }

    /// How much of the raw material brings so much active, in percent or grams.
    fn as_supplied(&mut self, row: &Row<'_>, active: &Exact, counted: Counted) -> Option<Entry> {
        let material = row.material.as_deref()?;
        let percent = counted == Counted::Percent;
        let supplied = material.active().and_then(|strength| {
            if percent {
                return Active::new(active.clone())?.as_supplied(&strength).map(|supplied| supplied.percent().clone());
            }
            // A mass has no whole to be a percentage of; the percentage that brings 1 % is also the grams that bring 1
            // g.
            let grams = active * Active::new(Exact::ONE)?.as_supplied(&strength)?.percent();
            Quantity::Mass.check(&grams).map(|()| grams)
        });
        let unit = if percent { "%" } else { "g" };
        let (allowed, choices) = match supplied {
            Ok(value) if row.line.has_accepted(QuestionKind::ActiveFigure) => {
                return Some(if percent { Entry::Percent(value) } else { Entry::Grams(value) });
            }
            Ok(value) => {
                let label = format!("{value} {unit} of {} as supplied", material.id());
                (format!("as supplied: {value} {unit}"), vec![Choice::new(label, Answer::Accept)])
            }
            Err(error) => {
                let why: Vec<&str> = error.faults().iter().map(|fault| fault.message.as_str()).collect();
                (format!("an amount as supplied ({})", why.join("; ")), Vec::new())
            }
        };
        let message = "the amount counts active matter; formulas count raw materials as supplied";
        self.asker.about(
            row.number,
            QuestionKind::ActiveFigure,
            message,
            format!("{active} {unit} active"),
            allowed,
            choices,
        );
        None
    }
}

fn counted(content: &Content) -> Option<Counted> {
    let of = |amount: &Amount| match amount {
        Amount::Fill { .. } => Counted::Fill,
        Amount::Of { unit, .. } | Amount::Range { unit, .. } => match unit {
            AmountUnit::Percent => Counted::Percent,
            AmountUnit::Unstated => Counted::Bare,
            AmountUnit::Mass(_) | AmountUnit::Volume(_) | AmountUnit::Drop => Counted::Mass,
        },
    };
    match content {
        Content::Amount { amount, .. } | Content::TwoWays { decimal: amount, .. } | Content::Loosely { amount, .. } => {
            Some(of(amount))
        }
        // What is given both ways counts as is settled with the other lines.
        Content::Both { .. }
        | Content::Nothing
        | Content::OutOfRange { .. }
        | Content::Unweighed
        | Content::NotUnderstood(_) => None,
    }
}
