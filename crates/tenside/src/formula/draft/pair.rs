//! Lines that give their amount twice, `60 g (60 %)`: which of the two counts, and whether they go together.

use super::row::{Asker, Counted, Entry, Pair, Row};
use super::{Answer, Choice, QuestionKind};
use crate::number::{Exact, Mass};

/// Gives lines with two amounts the one that counts, where they go together with the other lines; else asks.
pub(super) fn settle(rows: &mut [Row<'_>], batch: Option<&Mass>, asker: &mut Asker<'_>) {
    let pairs: Vec<Pair> = rows.iter().filter_map(|row| row.pair.clone()).collect();
    if pairs.is_empty() {
        return;
    }
    let others: Vec<&Row<'_>> =
        rows.iter().filter(|row| row.pair.is_none() && row.counted != Some(Counted::Fill)).collect();
    let fills = rows.iter().any(|row| row.counted == Some(Counted::Fill));
    let (grams, percent): (Exact, Exact) =
        (pairs.iter().map(|pair| &pair.grams).sum(), pairs.iter().map(|pair| &pair.percent).sum());
    let in_percent = others.iter().all(|row| matches!(row.counted, Some(Counted::Percent | Counted::Bare)));
    let in_grams = others.iter().all(|row| row.counted == Some(Counted::Mass)) && !fills;
    let whole = if let Some(batch) = batch {
        Some(batch.grams().clone())
    } else if in_percent {
        (&grams * Exact::hundred()).checked_div(&percent)
    } else if in_grams {
        others.iter().try_fold(grams, |sum, row| match &row.entry {
            Some(Entry::Grams(grams)) => Some(sum + grams),
            _ => None,
        })
    } else {
        None
    };
    let agreed = whole.is_some_and(|whole| whole.is_positive() && pairs.iter().all(|pair| pair.agrees(&whole)));
    let by_mass = !in_percent || (!fills && others.is_empty() && percent != Exact::hundred());
    for row in rows.iter_mut() {
        let Some(pair) = row.pair.clone() else { continue };
        if agreed {
            let (entry, counted) = if by_mass {
                (Entry::Grams(pair.grams), Counted::Mass)
            } else {
                (Entry::Percent(pair.percent), Counted::Percent)
            };
            (row.entry, row.counted) = (Some(entry).filter(|_| row.stays), Some(counted));
            continue;
        }
        let (mass, percent) = (pair.mass.to_string(), format!("{} %", pair.percent));
        let found = format!("{mass} and {percent}");
        let choices = [mass, percent].map(|amount| Choice::new(format!("take {amount}"), Answer::Amount(amount)));
        let message = "the mass and the percentage do not go together with the other lines; which one counts?";
        asker.about(row.number, QuestionKind::TwoAmounts, message, found, "one amount", choices.to_vec());
    }
}
