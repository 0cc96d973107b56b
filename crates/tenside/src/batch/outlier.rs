//! Weights that stand far from the others of their batch: slips of the pen or of the scale, more often than bars.
//!
//! ```text
//! |m - median| > 3.5 / 0.6745 * max(median of |m - median|, 1 % of the median)
//! ```
//!
//! # Why
//! - The modified z-score of Iglewicz and Hoaglin (1993), above 3.5 (from memory): unlike a mean and its deviation, two
//!   medians are not moved by the slip that they look for. That even bars spread by a hundredth at least is our choice:
//!   else a gram would be far among bars of one weight.
//! - Two weights are as far from each other as each other's: three are the fewest of which one is far.

use crate::number::{Exact, Mass};

/// The fewest weights of which one can be far from the others.
const FEWEST: usize = 3;

/// The middle one, or the mean of the two in the middle; of none it is 0.
fn median(values: impl Iterator<Item = Exact>) -> Exact {
    let mut values: Vec<Exact> = values.collect();
    values.sort();
    let middle = values.len() / 2;
    match values.len() {
        0 => Exact::ZERO,
        number if number % 2 == 1 => values.swap_remove(middle),
        _ => (&values[middle - 1] + &values[middle]) / Exact::from(2),
    }
}

/// A sentence on the bars that stand far from the others, if some do.
pub(super) fn outlier_note(masses: &[Mass]) -> Option<String> {
    if masses.len() < FEWEST {
        return None;
    }
    let middle = median(masses.iter().map(|mass| mass.grams().clone()));
    let from_middle = |mass: &Mass| (mass.grams() - &middle).abs();
    let spread = median(masses.iter().map(from_middle)).max(&middle / Exact::hundred());
    let most = spread * Exact::ratio(35_000, 6745);
    let far: Vec<String> = masses
        .iter()
        .enumerate()
        .filter(|(_, mass)| from_middle(mass) > most)
        .map(|(place, mass)| format!("bar {} ({} g)", place + 1, mass.grams().rounded_text(2)))
        .collect();
    (!far.is_empty()).then(|| {
        format!(
            "far from the others, whose middle is {} g: {}; check the slip, and every figure here with it",
            middle.rounded_text(2),
            far.join(", ")
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn note(grams: &[&str]) -> Option<String> {
        outlier_note(&grams.iter().map(|grams| format!("{grams} g").parse().unwrap()).collect::<Vec<_>>())
    }

    #[test]
    fn a_slip_is_told_from_a_spread() {
        let slipped = note(&["60", "600", "61"]).unwrap();
        assert!(slipped.contains("bar 2 (600.00 g)") && !slipped.contains("bar 1"), "{slipped}");
        let even = ["63.8"; 22];
        assert!(note(&[&even[..], &["6.38", "63"]].concat()).unwrap().contains("bar 23 (6.38 g)"));
        assert!(!note(&[&even[..], &["6.38", "63"]].concat()).unwrap().contains("bar 24"));
        for fine in [&["60", "61", "61.1"][..], &["62.1", "61.8", "62.6", "62.0", "61.5", "62.3"], &["60", "600"]] {
            assert_eq!(note(fine), None, "{fine:?}");
        }
        assert_eq!(median([3, 1, 2, 10].map(Exact::from).into_iter()), Exact::ratio(5, 2));
    }
}
