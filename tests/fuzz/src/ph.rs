//! Solutions and titrations from arbitrary lines of words and numbers.

use std::sync::Arc;

use rust_decimal::Decimal;
use tenside::ph::{Acid, Ion, Solution, Titration};
use tenside::reading::Reading;

use crate::reading::{accepted, shelf};

/// Reads `bytes` as lines such as `acid 0.1 citric acid`, `ion 0.05 Na`, `own 0.1 1 4.2 8.8` (a charge and pKa values),
/// `water 9` and `point 0.2 6.8`: what is accepted is solved or refused, charges balance, more strong acid never raises
/// the pH, and a titration's interval holds its dose.
pub fn ph(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    let mut solution = accepted(Solution::at(25.0));
    let mut points = Vec::new();
    for (number, line) in text.lines().take(40).enumerate() {
        let Some((kind, rest)) = line.split_once(' ') else { continue };
        let (first, rest) = rest.split_once(' ').unwrap_or((rest, ""));
        let Ok(value) = first.parse::<f64>() else { continue };
        let before = solution.clone();
        let Some(current) = solution.clone() else { return };
        solution = match kind {
            "acid" => accepted(current.acid(rest, value)),
            "ion" => accepted(current.ion(rest, value)),
            "water" => accepted(current.diluted(value)),
            "warm" => accepted(Solution::at(value)),
            "own" => {
                let numbers: Vec<f64> = rest.split(' ').filter_map(|word| word.parse().ok()).collect();
                let Some((charge, pka)) = numbers.split_first() else { continue };
                let name = format!("own {number}");
                let acid = accepted(Acid::new(&name, *charge as i32, pka)).map(Arc::new);
                acid.and_then(|acid| accepted(current.with_acid(&acid, value)))
            }
            "charge" => accepted(Ion::new(&format!("ion {number}"), rest.parse().unwrap_or(0)))
                .and_then(|ion| accepted(current.with_ion(&ion, value))),
            "point" => {
                if let (Ok(mass), Ok(ph)) = (format!("{first} g").parse(), rest.parse::<Decimal>()) {
                    points.push((mass, ph));
                }
                Some(current)
            }
            _ => Some(current),
        }
        .or(before);
    }
    solution.iter().for_each(solved);
    titrated(&points);
}

fn solved(solution: &Solution) {
    let Some(state) = accepted(solution.solve()) else { return };
    assert!((0.0..=14.0).contains(&state.ph()) && state.ionic_strength().is_finite(), "{state:?}");
    assert!(state.imbalance().abs() < 1e-9, "{} mol/kg of charge are left", state.imbalance());
    for acid in state.acids() {
        let sum: f64 = acid.forms.iter().map(|form| form.fraction).sum();
        assert!((sum - 1.0).abs() < 1e-9, "the forms of {} make {sum}", acid.name);
    }
    let more = accepted(solution.clone().ion("Cl", 0.01)).and_then(|solution| accepted(solution.ph()));
    // Where the activity coefficients have left their range by far, they may undo the acid.
    if let Some(more) = more.filter(|_| state.ionic_strength() < 0.5) {
        assert!(more <= state.ph() + 1e-9, "acid raised the pH from {} to {more}", state.ph());
    }
}

fn titrated(points: &[(tenside::number::Mass, Decimal)]) {
    let (Some(reagent), Some(sample), Some(dilution)) =
        (accepted(shelf().material("citric-acid-50")), accepted("100 g".parse()), accepted("1+9".parse()))
    else {
        return;
    };
    let Some(trial) = accepted(Titration::new(sample, reagent.clone(), dilution, points.iter().cloned())) else {
        return;
    };
    for pair in points.windows(2) {
        let middle = (pair[0].1 + pair[1].1) / Decimal::TWO;
        let Some(dose) = accepted(trial.grams_at(middle)) else { continue };
        assert!(
            dose.low.is_none_or(|low| Some(low) <= dose.typical)
                && dose.high.is_none_or(|high| dose.typical <= Some(high))
        );
    }
    let (Some(batch), Some(last)) = (accepted("1 kg".parse()), points.last()) else { return };
    let Some(reading) = accepted(Reading::ph(points[0].1, dilution)) else { return };
    if let Some(plan) = accepted(trial.adjust(batch, reading, last.1)) {
        assert!(
            accepted(plan.remaining())
                .is_some_and(|missing| missing.typical.is_some_and(|typical| !typical.is_negative()))
        );
    }
}
