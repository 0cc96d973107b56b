use super::super::program::{Column, Row};
use super::*;

impl Dictionary {
    /// Whether this variable, basic here, lies outside its range and none that could move brings it nearer.
    pub(in crate::linear) fn is_stuck(&self, variable: usize, below: bool) -> bool {
        let wanted = if below { Ordering::Less } else { Ordering::Greater };
        let Some(row) = self.basic.iter().position(|&basic| basic == variable) else { return false };
        let helps = |(entry, &other): (&IBig, &usize)| {
            !entry.is_zero()
                && self.low[other] != self.high[other]
                && self.end_ahead(other, entry.is_positive() == below) != Some(&self.values[other])
        };
        self.violation(variable) == wanted && !self.entries[row].iter().zip(&self.nonbasic).any(helps)
    }
}

fn two_by_two() -> Program {
    let column = Column { low: Some(Exact::ZERO), high: Some(Exact::from(10)), cost: Exact::ONE };
    let row = |coefficients: [i64; 2]| Row {
        coefficients: coefficients.map(Exact::from).to_vec(),
        low: Some(Exact::from(4)),
        high: None,
    };
    Program::new(vec![column.clone(), column], vec![row([1, 2]), row([3, -1])]).unwrap()
}

/// Every linear relation of the dictionary holds for the values before and after steps.
fn assert_consistent(dictionary: &Dictionary) {
    for (&variable, entries) in dictionary.basic.iter().zip(&dictionary.entries) {
        let expected: Exact = entries
            .iter()
            .zip(&dictionary.nonbasic)
            .map(|(entry, &other)| exact(entry) * &dictionary.values[other])
            .sum();
        assert_eq!(&dictionary.values[variable] * exact(&dictionary.denominator), expected);
    }
}

#[test]
fn steps_keep_the_relations() {
    let program = two_by_two();
    let mut dictionary = Dictionary::new(&program);
    assert_consistent(&dictionary);
    let mut steps = 0;
    while let Some(mut slopes) = dictionary.violation_slopes() {
        let entering = dictionary.entering(&slopes).unwrap();
        let step = dictionary.step(entering).unwrap();
        let Ok(()) = dictionary.take(step, &mut slopes, &Unwatched);
        assert_consistent(&dictionary);
        steps += 1;
    }
    assert!(steps > 0);
    assert_eq!(dictionary.pivots(), steps);
}

#[test]
fn exchanging_twice_is_nothing() {
    let program = two_by_two();
    let mut dictionary = Dictionary::new(&program);
    let before = dictionary.entries.clone();
    let costs = [Exact::ratio(5, 3), Exact::ratio(7, 2)];
    let mut slopes = dictionary.slopes(&costs);
    let Ok(()) = dictionary.exchange(1, 0, &mut slopes, &Unwatched);
    assert_eq!(dictionary.denominator, IBig::from(3));
    assert_ne!(dictionary.entries, before);
    assert_eq!(slopes.entries, dictionary.slopes(&costs).entries);
    let Ok(()) = dictionary.exchange(1, 0, &mut slopes, &Unwatched);
    assert_eq!(dictionary.denominator, IBig::ONE);
    assert_eq!(dictionary.entries, before);
    assert_eq!(dictionary.multipliers(&slopes)[..2], costs);
}

#[test]
fn numbers_become_whole_by_the_least_factor() {
    let (whole, factor) = whole_numbers(&[Exact::ratio(1, 4), Exact::ratio(-5, 6), Exact::ZERO, Exact::from(2)]);
    assert_eq!(whole, [3, -10, 0, 24].map(IBig::from));
    assert_eq!(factor, UBig::from(12u8));
    assert_eq!(whole_numbers(&[]), (Vec::new(), UBig::ONE));
}

/// The dictionary of each basis holds its relations, with every variable that is not basic at the end where it is
/// put.
#[test]
fn a_basis_gives_its_dictionary() {
    let program = two_by_two();
    let mut found = 0;
    for (places, values) in [
        ([Place::Basic, Place::Basic, Place::Low, Place::Low], [Exact::ratio(12, 7), Exact::ratio(8, 7)]),
        ([Place::Low, Place::Basic, Place::Basic, Place::Low], [0, -4].map(Exact::from)),
        ([Place::Basic, Place::High, Place::Basic, Place::Low], [Exact::ratio(14, 3), Exact::from(10)]),
        ([Place::Basic, Place::High, Place::Low, Place::Basic], [-16, 10].map(Exact::from)),
        ([Place::Low, Place::High, Place::Basic, Place::Basic], [0, 10].map(Exact::from)),
    ] {
        let dictionary = Dictionary::at(&program, &Basis::new(places.to_vec(), 2)).unwrap();
        assert_consistent(&dictionary);
        assert_eq!(dictionary.column_values(), values);
        found += usize::from(dictionary.denominator != IBig::ONE);
    }
    assert!(found > 1);
    // The rows have no high end to stand at.
    assert!(
        Dictionary::at(&program, &Basis::new(vec![Place::Basic, Place::Basic, Place::Low, Place::High], 2)).is_none()
    );
}

/// Three columns of 0 to 9 and two equal rows, brought to where the variables do not stand in the order of their
/// numbers.
fn tied() -> (Program, Dictionary) {
    let column = Column { low: Some(Exact::ZERO), high: Some(Exact::from(9)), cost: Exact::ZERO };
    let row = |coefficients: [i64; 3]| Row {
        coefficients: coefficients.map(Exact::from).to_vec(),
        low: None,
        high: Some(Exact::ZERO),
    };
    let program = Program::new(vec![column; 3], vec![row([1, 0, 1]), row([0, 1, 1])]).unwrap();
    let mut dictionary = Dictionary::new(&program);
    let mut slopes = dictionary.slopes(&[Exact::ZERO, Exact::ZERO, Exact::ZERO]);
    let Ok(()) = dictionary.exchange(0, 0, &mut slopes, &Unwatched);
    (program, dictionary)
}

#[test]
fn the_smallest_number_enters_while_stalled_and_between_equals() {
    let (_, mut dictionary) = tied();
    assert_eq!(dictionary.nonbasic, [3, 1, 2]);
    dictionary.values[3] = Exact::from(-1);
    let entering = |dictionary: &Dictionary, slopes: [i64; 3]| {
        let slopes = Slopes { entries: slopes.map(IBig::from).to_vec(), scale: UBig::ONE };
        dictionary.entering(&slopes).map(|entering| dictionary.nonbasic[entering.position])
    };
    assert_eq!(entering(&dictionary, [-5, -1, -3]), Some(3));
    assert_eq!(entering(&dictionary, [-3, -3, -3]), Some(1));
    dictionary.stalled = STALLED_STEPS;
    assert_eq!(entering(&dictionary, [-5, -1, -3]), Some(1));
    assert_eq!(entering(&dictionary, [-5, 0, -3]), Some(2));
}

#[test]
fn of_two_that_stop_a_step_the_smaller_number_leaves() {
    let (program, _) = tied();
    for first in [0, 1] {
        // One of the rows gets a column's number into its place; the third column is stopped by both at once.
        let mut dictionary = Dictionary::new(&program);
        let mut slopes = dictionary.slopes(&[Exact::ZERO, Exact::ZERO, Exact::ZERO]);
        let Ok(()) = dictionary.exchange(first, first, &mut slopes, &Unwatched);
        let step = dictionary.step(Entering { position: 2, rises: true }).unwrap();
        assert!(step.length.is_zero());
        assert_eq!(step.leaving.map(|row| dictionary.basic[row]), Some(first));
    }
}

/// Least -10 a + 57 b + 9 c + 24 d where two rows of limit 0 have their slacks e and f as columns of their own.
///
/// Source: V. Chvatal, Linear Programming, 1983, chapter 3, on cycling, without its last row, so that the cost
/// falls for ever (from memory).
fn cycling() -> (Program, Vec<Exact>) {
    let costs = [-10, 57, 9, 24, 0, 0].map(Exact::from);
    let columns = costs.iter().map(|cost| Column { low: Some(Exact::ZERO), high: None, cost: cost.clone() }).collect();
    let row = |coefficients: [i64; 6]| Row {
        coefficients: coefficients.map(|twice| Exact::ratio(twice, 2)).to_vec(),
        low: Some(Exact::ZERO),
        high: Some(Exact::ZERO),
    };
    (Program::new(columns, vec![row([1, -11, -5, 18, 2, 0]), row([1, -3, -1, 2, 0, 2])]).unwrap(), costs.to_vec())
}

#[test]
fn the_steepest_variable_alone_goes_round_in_circles_and_the_smallest_index_gets_out() {
    let (program, costs) = cycling();
    let steps = |guarded: bool, most: usize| {
        let mut dictionary = Dictionary::new(&program);
        let mut slopes = dictionary.slopes(&costs);
        let Ok(()) = dictionary.exchange(0, 4, &mut slopes, &Unwatched);
        let Ok(()) = dictionary.exchange(1, 5, &mut slopes, &Unwatched);
        let (basic, entries) = (dictionary.basic.clone(), dictionary.entries.clone());
        for _ in 0..most {
            if !guarded {
                dictionary.stalled = 0;
            }
            let Some(step) = dictionary.entering(&slopes).and_then(|entering| dictionary.step(entering)) else {
                break;
            };
            let Ok(()) = dictionary.take(step, &mut slopes, &Unwatched);
        }
        (dictionary.pivots(), dictionary.basic == basic && dictionary.entries == entries)
    };
    assert_eq!(steps(false, 60), (60, true));
    let (pivots, back) = steps(true, 60);
    assert!(pivots > STALLED_STEPS && pivots < 60 && !back);
}
