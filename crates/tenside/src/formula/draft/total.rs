//! From the amounts of lines to shares of the whole, with the questions that only all the lines together raise.

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use super::amount::{LONGEST_AMOUNT, shown};
use super::row::{Asker, Counted, Entry, Row};
use super::stated::{Stated, Sums, compare, stated};
use super::words::words;
use super::{Amount, AmountUnit, Answer, Choice, Draft, FigureUnit, QuestionKind};
use crate::bounds::Quantity;
use crate::material::Material;
use crate::number::Exact;
use crate::substance::Class;

/// A line of the formula to be, with its exact percentage.
#[derive(Clone, Debug)]
pub(super) struct Share {
    pub(super) name: String,
    pub(super) material: Arc<Material>,
    pub(super) phase: Option<String>,
    pub(super) percent: Exact,
    pub(super) qs: bool,
}

/// The shares, where the lines' amounts are known and nothing about the whole is left to ask; and what came of
/// comparing stated totals.
pub(super) fn shares(
    draft: &Draft,
    rows: &[Row<'_>],
    asker: &mut Asker<'_>,
) -> (Option<Vec<Share>>, HashMap<usize, String>) {
    let stated = stated(draft, asker);
    let units = units(draft, rows, &stated, asker);
    let single_fill = ask_about_several_fills(rows, asker);
    let mut totals = HashMap::new();
    let shares = units.and_then(|units| {
        let Some((percent, grams)) = sums(rows, &units) else {
            ask_about_early_total(draft, rows, &units, asker);
            return None;
        };
        totals = compare(&stated, rows, &Sums { percent: &percent, grams: &grams, batch: units.batch.as_ref() }, asker);
        let percentages = percentages(draft, rows, &units, grams, asker)?;
        if !single_fill {
            return None;
        }
        let whole = whole(draft, rows, percentages, &stated, asker)?;
        if ask_about_what_the_grid_loses(rows, &whole, asker) {
            return None;
        }
        name(rows, whole)
    });
    (shares, totals)
}

/// Percentages that come to more than 100 before every amount is known.
fn ask_about_early_total(draft: &Draft, rows: &[Row<'_>], units: &Units, asker: &mut Asker<'_>) {
    let known =
        rows.iter().filter(|row| !row.line.says_optional()).filter_map(|row| match (row.entry.as_ref()?, units.bare) {
            (Entry::Percent(value), _) | (Entry::Bare(value), FigureUnit::Percent) => Some(value),
            _ => None,
        });
    let total: Exact = known.sum();
    let masses = rows.iter().any(|row| row.counted == Some(Counted::Mass));
    if masses || draft.normalise || total <= Exact::hundred() {
        return;
    }
    let choices = vec![Choice::new("scale every line to a total of 100", Answer::Normalise)];
    let message = "the total is above 100 before every amount is known";
    asker.overall(QuestionKind::TotalNotHundred, message, format!("{total} % so far"), "exactly 100 % w/w", choices);
}

/// What bare numbers count, and the mass that masses are shares of.
struct Units {
    bare: FigureUnit,
    batch: Option<Exact>,
}

fn units(draft: &Draft, rows: &[Row<'_>], totals: &[Stated], asker: &mut Asker<'_>) -> Option<Units> {
    let counts = |counted: Counted| rows.iter().any(|row| row.counted == Some(counted));
    let fill_to_mass = |row: &Row<'_>| matches!(row.fill_to, Some((_, AmountUnit::Mass(_) | AmountUnit::Volume(_))));
    let masses = counts(Counted::Mass) || rows.iter().any(fill_to_mass);
    let bare = counts(Counted::Bare);
    let mut settled = true;
    let figures = draft.figures.or_else(|| as_the_total(rows, totals));
    if bare && masses && figures.is_none() {
        let without: Vec<String> =
            rows.iter().filter(|row| row.counted == Some(Counted::Bare)).map(|row| row.number.to_string()).collect();
        let choices = vec![
            Choice::new("they are percentages", Answer::Unit(FigureUnit::Percent)),
            Choice::new("they are grams", Answer::Unit(FigureUnit::Gram)),
        ];
        let found = format!("no unit in line {}", without.join(", "));
        asker.overall(
            QuestionKind::UnitMissing,
            "figures without a unit stand beside masses or volumes",
            found,
            "percentages or grams",
            choices,
        );
        settled = false;
    }
    let bare_unit = figures.unwrap_or(FigureUnit::Percent);
    let grams = masses || (bare && bare_unit == FigureUnit::Gram);
    let percents = counts(Counted::Percent) || (bare && bare_unit == FigureUnit::Percent);
    // A stated fill target in grams is the batch, unless an answer gave another.
    let stated = rows.iter().find_map(|row| match &row.fill_to {
        Some((value, AmountUnit::Mass(unit))) => Some(value * unit.grams()),
        Some((value, AmountUnit::Unstated)) if draft.figures == Some(FigureUnit::Gram) => Some(value.clone()),
        _ => None,
    });
    // So is a stated total, where masses are not shares of their own sum.
    let shared = percents || counts(Counted::Fill);
    let stated = stated.or_else(|| totals.iter().find_map(Stated::grams).filter(|_| shared));
    let batch = draft.batch.as_ref().map(|batch| batch.grams().clone()).or(stated).filter(is_batch);
    settled &= ask_about_targets(rows, batch.as_ref(), grams, asker);
    let units = Units { bare: bare_unit, batch };
    if settled && grams && units.batch.is_none() {
        settled = ask_for_batch(rows, &units, percents, asker);
    }
    settled.then_some(units)
}

/// Bare figures that come to a total with a unit of mass are masses.
fn as_the_total(rows: &[Row<'_>], totals: &[Stated]) -> Option<FigureUnit> {
    let figures: Option<Vec<&Exact>> = rows
        .iter()
        .map(|row| match &row.entry {
            Some(Entry::Bare(value)) => Some(value),
            _ => None,
        })
        .collect();
    let sum: Exact = figures?.into_iter().sum();
    totals.iter().any(|total| total.grams().as_ref() == Some(&sum)).then_some(FigureUnit::Gram)
}

/// Can a batch weigh so many grams?
fn is_batch(grams: &Exact) -> bool {
    grams.is_positive() && Quantity::Mass.check(grams).is_ok()
}

/// Fill lines that fill to something other than the whole.
fn ask_about_targets(rows: &[Row<'_>], batch: Option<&Exact>, grams: bool, asker: &mut Asker<'_>) -> bool {
    let mut settled = true;
    for row in rows {
        let Some((value, unit)) = &row.fill_to else { continue };
        let is_hundred = *value == Exact::hundred();
        let to_whole = Choice::new("fill to the whole", Answer::Amount("q.s.".to_string()));
        let (fits, found, choices) = match unit {
            AmountUnit::Percent => (is_hundred, format!("to {value} %"), vec![to_whole]),
            AmountUnit::Unstated => {
                let mut choices = vec![to_whole];
                if is_batch(value) {
                    let in_grams =
                        if grams { Answer::Batch(format!("{value} g")) } else { Answer::Unit(FigureUnit::Gram) };
                    choices.push(Choice::new(format!("a batch of {value} g"), in_grams));
                }
                (is_hundred || batch == Some(value), format!("to {value}"), choices)
            }
            AmountUnit::Mass(unit) => {
                (batch == Some(&(value * unit.grams())), format!("to {value} {}", unit.symbol()), vec![to_whole])
            }
            AmountUnit::Volume(unit) => (false, format!("to {value} {unit}"), vec![to_whole]),
            AmountUnit::Drop => (false, format!("to {value} drops"), vec![to_whole]),
        };
        if !fits {
            settled = false;
            let message = "the line fills to something other than the whole";
            asker.about(row.number, QuestionKind::QsTarget, message, found, "100 %, or the mass of the batch", choices);
        }
    }
    settled
}

/// Masses are shares of their own sum, unless percentages or a fill line stand beside them: then the batch has to be
/// known.
fn ask_for_batch(rows: &[Row<'_>], units: &Units, percents: bool, asker: &mut Asker<'_>) -> bool {
    let fills = rows.iter().any(|row| row.counted == Some(Counted::Fill));
    let allowed = "the mass of the batch, such as 200 g";
    if percents {
        let mut choices = Vec::new();
        if let (Some((percent, grams)), false) = (sums(rows, units), fills) {
            let rest = Exact::hundred() - percent;
            let batch = (grams * Exact::hundred()).checked_div(&rest).filter(is_batch);
            if let Some(batch) = batch {
                choices.push(Choice::new(
                    format!("the masses are what the percentages leave: a batch of {batch} g"),
                    Answer::Batch(format!("{batch} g")),
                ));
            }
        }
        let found = "percentages and masses".to_string();
        asker.overall(
            QuestionKind::MixedUnits,
            "percentages stand beside masses and the mass of the batch is not known",
            found,
            allowed,
            choices,
        );
        return false;
    }
    if fills {
        let to_hundred = rows.iter().any(|row| row.fill_to == Some((Exact::hundred(), AmountUnit::Unstated)));
        let choices = if to_hundred {
            vec![Choice::new("a batch of 100 g", Answer::Batch("100 g".to_string()))]
        } else {
            Vec::new()
        };
        let found = "masses and q.s.".to_string();
        asker.overall(
            QuestionKind::BatchMissing,
            "a line fills up among masses and the mass of the batch is not known",
            found,
            allowed,
            choices,
        );
        return false;
    }
    true
}

/// Sum of percentages and sum of masses in grams, where every amount is known.
fn sums(rows: &[Row<'_>], units: &Units) -> Option<(Exact, Exact)> {
    let (mut percent, mut grams) = (Exact::ZERO, Exact::ZERO);
    for row in rows {
        match (row.entry.as_ref()?, units.bare) {
            (Entry::Percent(value), _) | (Entry::Bare(value), FigureUnit::Percent) => percent += value,
            (Entry::Grams(value), _) | (Entry::Bare(value), FigureUnit::Gram) => grams += value,
            (Entry::Fill, _) => {}
        }
    }
    Some((percent, grams))
}

fn ask_about_several_fills(rows: &[Row<'_>], asker: &mut Asker<'_>) -> bool {
    let fills: Vec<&Row<'_>> = rows.iter().filter(|row| row.counted == Some(Counted::Fill)).collect();
    let heads: HashSet<usize> = fills.iter().map(|row| row.head).collect();
    if heads.len() < 2 {
        return true;
    }
    let numbers: Vec<String> = fills.iter().map(|row| row.number.to_string()).collect();
    let choices = fills
        .iter()
        .map(|row| {
            Choice::new(format!("line {} fills, the others get a figure", row.number), Answer::FillWith(row.number))
        })
        .collect();
    asker.overall(
        QuestionKind::SeveralQs,
        "several lines fill to 100",
        format!("lines {}", numbers.join(", ")),
        "one such line at most",
        choices,
    );
    false
}

/// The percentage of each row but those that fill, as far as the amounts tell.
fn percentages(
    draft: &Draft,
    rows: &[Row<'_>],
    units: &Units,
    grams: Exact,
    asker: &mut Asker<'_>,
) -> Option<Vec<Exact>> {
    let batch = units.batch.clone().unwrap_or(grams);
    let mut complete = true;
    let mut percentages = Vec::with_capacity(rows.len());
    for row in rows {
        let percent = match (row.entry.as_ref()?, units.bare) {
            (Entry::Percent(value), _) => value.clone(),
            (Entry::Bare(value), FigureUnit::Percent) => {
                if Quantity::Percent.check(value).is_err() {
                    complete = false;
                    let choices = if draft.figures.is_none() {
                        vec![Choice::new("the figures are grams", Answer::Unit(FigureUnit::Gram))]
                    } else {
                        Vec::new()
                    };
                    let message = "read as a percentage, the amount is out of range";
                    asker.about(
                        row.number,
                        QuestionKind::AmountOutOfRange,
                        message,
                        value.to_string(),
                        Quantity::Percent.allowed(),
                        choices,
                    );
                }
                value.clone()
            }
            // Masses that are all nothing have a total of nothing, which is asked about.
            (Entry::Grams(value), _) | (Entry::Bare(value), FigureUnit::Gram) => {
                complete &= asker.mass_in_range(row.number, value, format!("{value} g"));
                (value * Exact::hundred()).checked_div(&batch).unwrap_or(Exact::ZERO)
            }
            (Entry::Fill, _) => Exact::ZERO,
        };
        percentages.push(percent);
    }
    complete.then_some(percentages)
}

/// A line of the whole: the row it stands for and its percentage.
struct Part {
    head: usize,
    percent: Exact,
    fills: bool,
    merged: bool,
}

/// The parts that sum to exactly 100.
fn whole(
    draft: &Draft,
    rows: &[Row<'_>],
    percentages: Vec<Exact>,
    stated: &[Stated],
    asker: &mut Asker<'_>,
) -> Option<Vec<Part>> {
    let mut parts: Vec<Part> = Vec::with_capacity(rows.len());
    for (row, percent) in rows.iter().zip(percentages) {
        let fills = row.entry == Some(Entry::Fill);
        match parts.iter_mut().find(|part| part.head == row.head) {
            Some(part) => {
                part.percent += percent;
                part.fills |= fills;
                part.merged = true;
            }
            None => parts.push(Part { head: row.head, percent, fills, merged: false }),
        }
    }
    let total: Exact = parts.iter().map(|part| &part.percent).sum();
    let rest = Exact::hundred() - &total;
    let Some(filling) = parts.iter().position(|part| part.fills) else {
        if rest.is_zero() {
            return Some(parts);
        }
        if draft.normalise && total.is_positive() {
            return Some(scaled(parts, &total));
        }
        ask_about_total(draft, rows, &parts, &total, stated, asker);
        return None;
    };
    // The line that was merged into another still is the one that fills.
    let head = parts[filling].head;
    let filler = rows.iter().find(|row| row.head == head && row.entry == Some(Entry::Fill)).unwrap_or(&rows[head]);
    if rest.is_positive()
        || (rest.is_zero() && (filler.line.has_accepted(QuestionKind::FullBeforeQs) || draft.normalise))
    {
        parts[filling].percent += rest;
        return Some(parts);
    }
    if draft.normalise {
        return Some(scaled(parts, &total));
    }
    let mut choices = vec![Choice::new("leave the q.s. line out", Answer::Drop)];
    if rest.is_zero() {
        choices.insert(0, Choice::new("keep it at nothing more", Answer::Accept));
    } else {
        choices.insert(0, Choice::new("scale the others to 100 and keep it at nothing", Answer::Normalise));
    }
    let mut message = "the other lines leave nothing for the line that fills to 100";
    let mut found = format!("{total} %");
    let amount = filler.line.current_amount();
    // "Up to 5 g" may fill to 5 g, and may be a bound.
    if let Some((value, unit)) =
        filler.fill_to.clone().filter(|_| words().bound.strip(&amount.to_lowercase()).is_some())
    {
        let bound = Amount::Of { value, unit, active: false }.to_string();
        choices.insert(0, Choice::new(format!("it is a bound: take {bound}"), Answer::Amount(bound)));
        message = "the amount may be a bound; the others leave nothing of such a total";
        found = shown(amount);
    }
    asker.about(filler.number, QuestionKind::FullBeforeQs, message, found, "below 100 % w/w", choices);
    None
}

/// Lines of which whole ppm would leave nothing.
fn ask_about_what_the_grid_loses(rows: &[Row<'_>], parts: &[Part], asker: &mut Asker<'_>) -> bool {
    let lost = |part: &&Part| part.percent.is_positive() && part.percent <= Exact::ratio(1, 20_000);
    for part in parts.iter().filter(lost) {
        let row = &rows[part.head];
        let message = "the line is too small a part of the whole for the grid of percentages";
        let choices = vec![Choice::new("leave the line out", Answer::Drop)];
        let (found, allowed) = (shown(row.line.current_amount()), "more than 0.00005 % of the whole, or 0");
        asker.about(row.number, QuestionKind::AmountOutOfRange, message, found, allowed, choices);
    }
    parts.iter().any(|part| lost(&part))
}

fn scaled(mut parts: Vec<Part>, total: &Exact) -> Vec<Part> {
    for part in &mut parts {
        part.percent = &part.percent * Exact::hundred() / total;
    }
    parts
}

fn ask_about_total(
    draft: &Draft,
    rows: &[Row<'_>],
    parts: &[Part],
    total: &Exact,
    stated: &[Stated],
    asker: &mut Asker<'_>,
) {
    let mut choices = Vec::new();
    if total.is_positive() {
        choices.push(Choice::new("scale every line to a total of 100", Answer::Normalise));
    }
    let bare_only = rows.iter().all(|row| row.counted == Some(Counted::Bare));
    if bare_only && draft.figures.is_none() && total.is_positive() {
        choices.push(Choice::new("the figures are grams", Answer::Unit(FigureUnit::Gram)));
    }
    let free: Vec<(&Part, &Row<'_>)> = parts
        .iter()
        .map(|part| (part, &rows[part.head]))
        // Preservative, acid, scent and the like are not what a total is mended with.
        .filter(|(part, row)| {
            !part.merged && !row.material.as_ref().is_some_and(|material| material.main_class().is_dosed_with_care())
        })
        .filter(|(part, _)| &part.percent + Exact::hundred() > *total)
        .collect();
    let filler = free
        .iter()
        .find(|(_, row)| row.material.as_ref().is_some_and(|material| material.main_class() == Class::Water))
        .or_else(|| free.iter().reduce(|best, next| if next.0.percent > best.0.percent { next } else { best }));
    if let Some((_, row)) = filler {
        choices.push(Choice::new(
            format!("line {} fills to 100", row.number),
            Answer::AmountOf { line: row.number, amount: "q.s.".to_string() },
        ));
    }
    for (part, row) in &free {
        let percent = &part.percent + Exact::hundred() - total;
        let amount = match (&row.entry, &draft.batch) {
            (Some(Entry::Grams(_)), Some(batch)) => format!("{} g", percent * batch.grams() / Exact::hundred()),
            _ => format!("{percent} %"),
        };
        if amount.len() <= LONGEST_AMOUNT {
            choices.push(Choice::new(
                format!("line {} becomes {amount}", row.number),
                Answer::AmountOf { line: row.number, amount },
            ));
        }
    }
    let mut found = format!("{total} %");
    if let Some(stated) = stated.iter().find(|stated| stated.is_hundred()) {
        found.push_str(&format!(", though line {} says {}", stated.number, stated.text()));
    }
    let message = if rows.is_empty() { "no line counts as a raw material" } else { "the total is not 100" };
    asker.overall(QuestionKind::TotalNotHundred, message, found, "exactly 100 % w/w", choices);
}

/// Every line with a name that no other has: its own, else the material's id, numbered where that is taken.
fn name(rows: &[Row<'_>], parts: Vec<Part>) -> Option<Vec<Share>> {
    let mut taken: HashSet<String> = rows.iter().filter_map(|row| row.line.answers.name.clone()).collect();
    let mut shares = Vec::with_capacity(parts.len());
    for part in parts {
        let row = &rows[part.head];
        let material = Arc::clone(row.material.as_ref()?);
        let name = row.line.answers.name.clone().unwrap_or_else(|| {
            let numbered = (2u32..).map(|count| format!("{}-{count}", material.id()));
            std::iter::once(material.id().to_string())
                .chain(numbered)
                .find(|name| !taken.contains(name))
                .unwrap_or_default()
        });
        taken.insert(name.clone());
        shares.push(Share { name, material, phase: row.line.phase.clone(), percent: part.percent, qs: part.fills });
    }
    Some(shares)
}
