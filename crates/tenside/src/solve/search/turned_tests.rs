//! A turned dictionary against the one of the turned program, and how far a basis is said to go against where it holds.

use super::dual::{Ended, pivot_to_end};
use super::load::{order, scale};
use super::stretch::{Course, Stretch};
use super::tableau::{Side, Spot, Tableau};
use super::tests::{Numbers, turned};
use super::{Moved, Twofold};
use crate::number::Exact;
use crate::solve::linear::{Column, Program, Row};

fn nearly(first: f64, second: f64, size: f64) -> bool {
    (first - second).abs() <= 1e-9 * (1.0 + size)
}

/// Every relation of the dictionary `at` is one of the program in `start`, and its values are what they come to.
fn assert_follows<const WIDTH: usize>(start: &Tableau<WIDTH>, at: &Tableau<WIDTH>, what: &str) {
    let (columns, rows) = (start.columns(), start.rows());
    let variables = 0..columns + rows;
    for variable in variables.clone() {
        let (expected, found) = (start.spot_of(variable), at.spot_of(variable));
        assert_eq!((expected.low, expected.high), (found.low, found.high), "{what}: ends of {variable}");
    }
    for position in 0..columns {
        // What every variable is of the one at this position, read off `at`.
        let of = |variable: usize| {
            let row = at.basic[..rows].iter().position(|spot| usize::from(spot.variable) == variable);
            row.map_or(f64::from(u8::from(usize::from(at.nonbasic[position].variable) == variable)), |row| at.entries[row][position])
        };
        let form = |coefficients: &[f64; WIDTH]| {
            let terms = (0..columns).map(|column| coefficients[column] * of(column));
            terms.fold((0.0, 0.0f64), |(sum, size), term| (sum + term, size + term.abs()))
        };
        for row in 0..rows {
            let (sum, size) = form(&start.entries[row]);
            assert!(nearly(sum, of(columns + row), size), "{what}: row {row} at {position} is {sum} and not {}", of(columns + row));
        }
        let (sum, size) = form(&start.slopes);
        assert!(nearly(sum, at.slopes[position], size), "{what}: slope at {position} is {sum} and not {}", at.slopes[position]);
    }
    for row in 0..rows {
        let terms = (0..columns).map(|position| at.entries[row][position] * at.standing(position));
        let (sum, size) = terms.fold((0.0, 0.0f64), |(sum, size), term| (sum + term, size + term.abs()));
        assert!(nearly(sum, at.values[row], size), "{what}: value of row {row} is {sum} and not {}", at.values[row]);
    }
}

/// The dictionary of the same basis with the same ends, worked out from `start`; nothing where the basis is nearly singular there.
fn afresh<const WIDTH: usize>(start: &Tableau<WIDTH>, like: &Tableau<WIDTH>) -> Option<Tableau<WIDTH>> {
    let mut at = start.clone();
    let is_basic = |tableau: &Tableau<WIDTH>, spot: &Spot| tableau.basic[..tableau.rows()].iter().any(|basic| basic.variable == spot.variable);
    while let Some(position) = (0..at.columns()).find(|position| is_basic(like, &at.nonbasic[*position])) {
        let leaving = (0..at.rows()).filter(|row| !is_basic(like, &at.basic[*row]));
        let row = leaving.max_by(|first, second| at.entries[*first][position].abs().total_cmp(&at.entries[*second][position].abs()))?;
        if at.entries[row][position].abs() < 1e-6 {
            return None;
        }
        let side = if at.basic[row].low.is_finite() { Side::Low } else { Side::High };
        at.exchange(row, position, side);
    }
    for position in 0..at.columns() {
        let there = like.nonbasic[..like.columns()].iter().position(|spot| spot.variable == at.nonbasic[position].variable)?;
        if at.sides[position] != like.sides[there] {
            at.flip(position);
        }
    }
    Some(at)
}

/// By how much the dictionary is less than what `ended` says of `named`: 0 or below where it is that.
fn lacks<const WIDTH: usize>(at: &Tableau<WIDTH>, named: &Tableau<WIDTH>, ended: Ended) -> f64 {
    let movable = || (0..at.columns()).filter(|position| !at.nonbasic[*position].is_fixed());
    match ended {
        Ended::Optimal => {
            let outside = at.basic[..at.rows()].iter().zip(&at.values).map(|(spot, value)| (spot.low - value).max(value - spot.high));
            outside.chain(movable().map(|position| -at.slopes[position] * at.inwards(position))).fold(f64::NEG_INFINITY, f64::max)
        }
        Ended::Infeasible { row, below } => {
            let row = at.basic[..at.rows()].iter().position(|spot| spot.variable == named.basic[row].variable).unwrap();
            let outwards = if below { 1.0 } else { -1.0 };
            let end = if below { at.basic[row].low } else { at.basic[row].high };
            let helps = movable().map(|position| at.entries[row][position] * outwards * at.inwards(position));
            helps.fold((at.values[row] - end) * outwards, f64::max)
        }
    }
}

fn value(numbers: &mut Numbers) -> Exact {
    Exact::ratio(numbers.below(1200) as i64 - 400, 100)
}

/// What is stated where a dial stands is what is loaded there, but for powers of two.
#[test]
fn stating_a_dial_anew_is_loading_the_program_anew() {
    let mut numbers = Numbers(41);
    let mut stated = 0;
    for _ in 0..250 {
        let (first, second, at, step) = turned(&mut numbers, 8, 6);
        let (Some(moved), Some(loaded)) = (Moved::<8>::between(&first, &second, &at, &step), Tableau::<8>::load(&first)) else { continue };
        for (program, value) in [(&first, at.clone()), (&second, &at + &step)] {
            let mut start = loaded.clone();
            let (Some(()), Some(expected)) = (start.state(&moved, Twofold::of(&value).unwrap()), Tableau::<8>::load(program)) else { continue };
            let powers = |numbers: &[f64; 8], before: &[f64; 8]| scale(before) / scale(numbers);
            let costs = powers(&start.slopes, &expected.slopes);
            assert_eq!(start.sides, expected.sides);
            for column in 0..first.columns().len() {
                assert!(nearly(start.slopes[column], expected.slopes[column] * costs, 0.0), "{first:#?}");
                assert_eq!((start.nonbasic[column].low, start.nonbasic[column].high), (expected.nonbasic[column].low, expected.nonbasic[column].high));
            }
            for row in 0..first.rows().len() {
                let power = powers(&start.entries[row], &expected.entries[row]);
                assert!((0..8).all(|column| nearly(start.entries[row][column], expected.entries[row][column] * power, 0.0)), "{first:#?}");
                assert_eq!((start.basic[row].low, start.basic[row].high), (expected.basic[row].low * power, expected.basic[row].high * power));
                assert!(nearly(start.values[row], expected.values[row] * power, start.values[row].abs()));
            }
            stated += 1;
        }
    }
    assert!(stated > 350, "{stated}");
}

/// However often it is turned and searched on.
#[test]
fn a_turned_dictionary_is_the_one_of_the_turned_program() {
    let mut numbers = Numbers(43);
    let (mut turns, mut singular, mut mended, mut left) = (0, 0, 0, 0);
    for _ in 0..250 {
        let (first, second, at, step) = turned(&mut numbers, 8, 6);
        let (Some(moved), Some(mut start)) = (Moved::<8>::between(&first, &second, &at, &step), Tableau::<8>::load(&first)) else { continue };
        let places = order::<8>(&first, &[]);
        let mut work = start.clone();
        if pivot_to_end(&mut work, &places[..first.columns().len()]).is_none() {
            continue;
        }
        for _ in 0..6 {
            let before = start.moving(&moved);
            if start.state(&moved, Twofold::of(&value(&mut numbers)).unwrap()).is_none() {
                break;
            }
            if work.turn(&moved, &before, &start).is_none() {
                singular += 1;
                break;
            }
            assert_follows(&start, &work, &format!("{first:?} {second:?}"));
            turns += 1;
            // Some variables stand at their wrong ends before it is mended: what is in order stays as it is.
            for position in 0..work.columns() {
                if numbers.below(3) == 0 && work.nonbasic[position].low.is_finite() && work.nonbasic[position].high.is_finite() {
                    work.flip(position);
                }
            }
            let sides = work.sides;
            let open = |side: Side, spot: &Spot| !spot.end(side).is_finite();
            let gains = |work: &Tableau<8>, position: usize| work.slopes[position] * work.inwards(position);
            let wrong: Vec<bool> = (0..work.columns()).map(|position| gains(&work, position) < -1e-12 && !work.nonbasic[position].is_fixed()).collect();
            let other = |side: Side| if side == Side::Low { Side::High } else { Side::Low };
            let stays_open = (0..work.columns()).any(|position| wrong[position] && open(other(sides[position]), &work.nonbasic[position]));
            assert_eq!(work.mend(), !stays_open);
            if stays_open {
                left += 1;
                break;
            }
            for position in 0..work.columns() {
                assert_eq!(work.sides[position], if wrong[position] { other(sides[position]) } else { sides[position] });
                mended += usize::from(wrong[position]);
            }
            assert_follows(&start, &work, "mended");
            if pivot_to_end(&mut work, &places[..first.columns().len()]).is_none() {
                break;
            }
        }
    }
    assert!(turns > 700 && singular > 10 && mended > 300 && left > 10, "{turns} {singular} {mended} {left}");
}

/// A stretch holds all the way to its ends, and just past them its basis is no longer what it was.
#[test]
fn a_stretch_goes_as_far_as_its_basis_holds() {
    let mut numbers = Numbers(47);
    let (mut inside, mut outside, mut endless, mut impossible) = (0, 0, 0, 0);
    for case in 0..600 {
        let (mut first, mut second, at, step) = turned(&mut numbers, 8, 6);
        if case % 2 == 0 {
            // Rows that ask for too much.
            let moves: Vec<Exact> = first.rows().iter().map(|_| Exact::ratio(numbers.below(3000) as i64 - 1500, 100)).collect();
            for program in [&mut first, &mut second] {
                program.change(|_, _| {}, |index, row| [&mut row.low, &mut row.high].into_iter().flatten().for_each(|end| *end += &moves[index]));
            }
        }
        let (Some(moved), Some(mut start)) = (Moved::<8>::between(&first, &second, &at, &step), Tableau::<8>::load(&first)) else { continue };
        let centre = Twofold::of(&value(&mut numbers)).unwrap();
        if start.state(&moved, centre).is_none() {
            continue;
        }
        let places = order::<8>(&first, &[]);
        let mut work = start.clone();
        let Some(ended) = pivot_to_end(&mut work, &places[..first.columns().len()]) else { continue };
        let stretch = Stretch::new(&work, &Course::new(&work, &moved), centre, ended);
        let centre = centre.nearest();
        let mut lacks = |dial: f64| {
            start.state(&moved, Twofold::of(&Exact::from_binary(dial)?)?)?;
            Some(lacks(&afresh(&start, &work)?, &work, ended))
        };
        for (end, outwards) in [(stretch.from, -1.0), (stretch.to, 1.0)] {
            let reach = (end - centre) * outwards;
            if !end.is_finite() {
                if let Some(lacking) = lacks(centre + outwards * 1e4) {
                    assert!(lacking < 1e-4, "not everywhere at {centre}: {lacking} {ended:?} {first:?} {second:?}");
                    endless += 1;
                }
                continue;
            }
            if reach < 1e-3 * (1.0 + end.abs()) {
                continue;
            }
            if let Some(lacking) = lacks(centre + (end - centre) * 0.999) {
                assert!(lacking < 1e-8 * (1.0 + reach), "not to {end} from {centre}: {lacking} {ended:?} {first:?} {second:?}");
                inside += 1;
                impossible += usize::from(ended != Ended::Optimal);
            }
            // Near a singular matrix a stretch ends before anything is reached; what is very far is the rounding of 0.
            let divisor = reach * outwards / stretch.along(end);
            if divisor > 0.19
                && reach < 1e4
                && let Some(lacking) = lacks(centre + (end - centre) * 1.01)
            {
                assert!(lacking > 1e-9, "further than {end} from {centre}: {lacking} {ended:?} {first:?} {second:?}");
                outside += 1;
            }
        }
    }
    assert!(inside > 400 && outside > 350 && endless > 100 && impossible > 60, "{inside} {outside} {endless} {impossible}");
}

fn program(columns: usize, rows: usize) -> Program {
    let column = Column { low: Some(Exact::ZERO), high: Some(Exact::ONE), cost: Exact::ONE };
    let row = Row { coefficients: vec![Exact::ONE; columns], low: Some(Exact::ONE), high: Some(Exact::ONE) };
    Program::new(vec![column; columns], vec![row; rows]).unwrap()
}

#[test]
fn only_programs_of_one_size_are_turned_and_none_too_wide() {
    let between = |first: &Program, second: &Program| Moved::<8>::between(first, second, &Exact::ZERO, &Exact::ONE);
    for (columns, rows) in [(8, 2), (2, 8), (8, 8), (1, 0)] {
        let unmoved = program(columns, rows);
        assert!(matches!(between(&unmoved, &unmoved), Some(Moved::Nothing)), "{columns} {rows}");
    }
    for (first, second) in [((9, 2), (9, 2)), ((2, 9), (2, 9)), ((3, 2), (4, 2)), ((4, 2), (3, 2)), ((3, 2), (3, 3)), ((3, 3), (3, 2))] {
        assert!(between(&program(first.0, first.1), &program(second.0, second.1)).is_none(), "{first:?} {second:?}");
    }
}

/// `x` in -5 to 5 and `dial . x` at least 0, turned from 1: the divisor is the dial itself.
#[test]
fn a_nearly_singular_basis_is_not_turned() {
    let dialled = |dial: i64| {
        let column = Column { low: Some(Exact::from(-5)), high: Some(Exact::from(5)), cost: Exact::ONE };
        let row = Row { coefficients: vec![Exact::from(dial)], low: Some(Exact::ZERO), high: None };
        Program::new(vec![column], vec![row]).unwrap()
    };
    let moved = Moved::<8>::between(&dialled(1), &dialled(2), &Exact::ONE, &Exact::ONE).unwrap();
    let turned = |thousandths: i64| {
        let mut start = Tableau::<8>::load(&dialled(1)).unwrap();
        let mut work = start.clone();
        assert_eq!(pivot_to_end(&mut work, &[0]), Some(Ended::Optimal));
        let before = start.moving(&moved);
        start.state(&moved, Twofold::of(&Exact::ratio(thousandths, 1000)).unwrap()).unwrap();
        work.turn(&moved, &before, &start)
    };
    assert_eq!([2000, 500, 125, 124, 10, 1].map(|thousandths| turned(thousandths).is_some()), [true, true, true, false, false, false]);
}

/// Nothing is written past a tableau that is as wide as it can be.
#[test]
fn a_full_width_is_turned() {
    let mut second = program(8, 8);
    second.change(|_, _| {}, |index, row| row.coefficients[index] += Exact::ratio(index as i64, 3));
    let mut first = second.clone();
    first.change(
        |_, _| {},
        |index, row| {
            if index == 3 {
                row.coefficients[2] += Exact::ONE
            }
        },
    );
    let moved = Moved::<8>::between(&first, &second, &Exact::ZERO, &Exact::ONE).unwrap();
    let mut start = Tableau::<8>::load(&first).unwrap();
    let mut work = start.clone();
    pivot_to_end(&mut work, &[0, 1, 2, 3, 4, 5, 6, 7]).unwrap();
    let before = start.moving(&moved);
    start.state(&moved, Twofold::of(&Exact::ratio(1, 7)).unwrap()).unwrap();
    work.turn(&moved, &before, &start).unwrap();
    assert_follows(&start, &work, "full");
}
