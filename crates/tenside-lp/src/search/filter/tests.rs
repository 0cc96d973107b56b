//! The filter where it is nearest to saying too much, against exact arithmetic.
//!
//! Programs are made from their point, so that how far each part of it is on the right side is known: not at all, or by
//! less than a rounding. The filter must prove none of these, however bad the dictionary is; and it must prove what is
//! clear.

mod reach;

use super::super::load::scale;
use super::super::tableau::Side;
use super::super::tests::Numbers;
use super::*;
use crate::exact::Exact;
use crate::linear::{Column, Program, Row};

/// A part of an optimum.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Decision {
    ColumnLow,
    ColumnHigh,
    RowLow,
    RowHigh,
}

const DECISIONS: [Decision; 4] = [Decision::ColumnLow, Decision::ColumnHigh, Decision::RowLow, Decision::RowHigh];

/// A program made from its optimum. The first columns are basic, the others stand; the last row is basic, the others
/// stand.
#[derive(Clone, Debug)]
struct Made {
    coefficients: Vec<Vec<Exact>>,
    point: Vec<Exact>,
    /// Where the standing rows stand, then the standing columns, which thus have their own index.
    sides: Vec<Side>,
    /// Whether the standing rows are equations.
    equations: Vec<bool>,
    /// The multipliers of the standing rows, then the reduced costs of the standing columns, above 0 where they are of
    /// the right sign.
    inwards: Vec<Exact>,
    /// How far everything is from the ends where it does not stand.
    room: Exact,
}

fn binary(number: f64) -> Exact {
    Exact::from_binary(number).unwrap()
}

fn power(exponent: i32) -> Exact {
    binary(2f64.powi(exponent))
}

fn sum_of_products(left: &[Exact], right: &[Exact]) -> Exact {
    left.iter().zip(right).map(|(left, right)| left * right).sum()
}

impl Made {
    fn size(&self) -> usize {
        self.coefficients.len() - 1
    }

    /// The program in which the first variable that is about `decision` is right by `margin`.
    fn program(&self, decision: Decision, margin: &Exact) -> Program {
        let size = self.size();
        let mut multipliers = self.inwards.clone();
        for (multiplier, side) in multipliers.iter_mut().zip(&self.sides) {
            *multiplier = if *side == Side::Low { multiplier.clone() } else { -&*multiplier };
        }
        let around = |value: &Exact, is_decided: bool, [low, high]: [Decision; 2]| {
            let room = |end: Decision| if is_decided && end == decision { margin } else { &self.room };
            (Some(value - room(low)), Some(value + room(high)))
        };
        let columns = self.point.iter().enumerate().map(|(column, value)| {
            let of_rows: Exact = (0..size).map(|row| &multipliers[row] * &self.coefficients[row][column]).sum();
            if column < size {
                let (low, high) = around(value, column == 0, [Decision::ColumnLow, Decision::ColumnHigh]);
                return Column { low, high, cost: of_rows };
            }
            let (low, high) = if self.sides[column] == Side::Low {
                (value.clone(), value + &self.room)
            } else {
                (value - &self.room, value.clone())
            };
            Column { low: Some(low), high: Some(high), cost: of_rows + &multipliers[column] }
        });
        let rows = self.coefficients.iter().enumerate().map(|(row, coefficients)| {
            let activity = sum_of_products(coefficients, &self.point);
            let (low, high) = match (row == size, row < size && self.equations[row], self.sides[row]) {
                (true, ..) => around(&activity, true, [Decision::RowLow, Decision::RowHigh]),
                (_, true, _) => (Some(activity.clone()), Some(activity)),
                (.., Side::Low) => (Some(activity), None),
                (.., Side::High) => (None, Some(activity)),
            };
            Row { coefficients: coefficients.clone(), low, high }
        });
        Program::new(columns.collect(), rows.collect()).unwrap()
    }

    /// The dictionary of the basis; nothing where it cannot be reached in `f64`.
    fn dictionary<const WIDTH: usize>(&self, start: &Tableau<WIDTH>) -> Option<Tableau<WIDTH>> {
        let mut at = start.clone();
        let mut left: Vec<usize> = (0..self.size()).collect();
        for position in 0..self.size() {
            let pivot = |place: &usize| at.entries[left[*place]][position].abs();
            let best = (0..left.len()).max_by(|first, second| pivot(first).total_cmp(&pivot(second)))?;
            if pivot(&best) < 1e-20 {
                return None;
            }
            let row = left.swap_remove(best);
            at.exchange(row, position, self.sides[row]);
        }
        for column in self.size()..self.point.len() {
            if at.sides[column] != self.sides[column] {
                at.flip(column);
            }
        }
        Some(at)
    }
}

/// A number of either sign without pattern, between -1 and 1.
fn signed(numbers: &mut Numbers) -> f64 {
    numbers.below(1 << 30) as f64 / f64::from(1 << 29) - 1.0
}

fn fraction(numbers: &mut Numbers) -> Exact {
    Exact::ratio(numbers.below(41) as i64 - 20, [1, 3, 7, 10, 1000][numbers.below(5) as usize])
}

/// A basis of up to three columns, with rows that are alike, of whole numbers, of fractions or of very unlike columns.
fn made(numbers: &mut Numbers, columns: usize) -> Made {
    let size = 1 + numbers.below(3.min(columns as u64 - 1)) as usize;
    let kind = numbers.below(4);
    let nearness = power(-(numbers.below(34) as i32));
    let mut coefficients: Vec<Vec<Exact>> = Vec::new();
    for row in 0..=size {
        let line = (0..columns).map(|column| {
            let any = match kind {
                0 => Exact::from(numbers.below(7) as i64 - 3),
                _ => fraction(numbers),
            };
            match kind {
                1 if row > 0 && row < size => &coefficients[0][column] * Exact::ratio(7, 11) + any * &nearness,
                2 => any * power(column as i32 * 7 - 10),
                _ => any,
            }
        });
        let line = line.collect();
        coefficients.push(line);
    }
    let sides: Vec<Side> = (0..columns).map(|_| if numbers.below(2) == 0 { Side::Low } else { Side::High }).collect();
    let equations: Vec<bool> = (0..size).map(|row| row > 0 && numbers.below(2) == 0).collect();
    let inwards = (0..columns).map(|place| {
        let any = Exact::ratio(1 + numbers.below(30) as i64, 1 + numbers.below(9) as i64);
        if place < size && equations[place] && numbers.below(2) == 0 { -any } else { any }
    });
    let inwards = inwards.collect();
    let large = Exact::from(10i64.pow(numbers.below(5) as u32));
    let point = (0..columns).map(|_| fraction(numbers) * &large).collect();
    Made { coefficients, point, sides, equations, inwards, room: Exact::from(1_000_000_000) }
}

/// Makes the dictionary worse: the entries in the place of the inverse and what the basic variables and slopes are
/// taken for.
fn spoil<const WIDTH: usize>(numbers: &mut Numbers, at: &mut Tableau<WIDTH>, size: usize) {
    let much = |numbers: &mut Numbers| {
        [0.0, 0.0, 2f64.powi(-40), 2f64.powi(-20), 2f64.powi(-8), 2f64.powi(-4)][numbers.below(6) as usize]
    };
    let (entries, values) = (much(numbers), much(numbers));
    for row in 0..size {
        for position in 0..size {
            at.entries[row][position] *= 1.0 + entries * signed(numbers);
        }
        at.values[row] *= 1.0 + values * signed(numbers);
        at.slopes[row] *= 1.0 + values * signed(numbers);
    }
}

/// A tie, or wrong by a few roundings or less.
fn at_most_nought(numbers: &mut Numbers, magnitude: &Exact) -> Exact {
    if numbers.below(2) == 0 { Exact::ZERO } else { -(magnitude * power(-45 - numbers.below(15) as i32)) }
}

/// Of `cases` programs: how many were asked for and how many of those that are clearly right were proved.
fn ties_and_clear_cases<const WIDTH: usize>(seed: u64, cases: usize) -> [usize; 3] {
    let mut numbers = Numbers(seed);
    let mut room = Room::<WIDTH>::new();
    let (mut ties, mut clear, mut proved) = (0, 0, 0);
    for case in 0..cases {
        let columns = if numbers.below(2) == 0 { WIDTH } else { 2 + numbers.below(WIDTH as u64 - 2) as usize };
        let made = made(&mut numbers, columns);
        let decision = DECISIONS[case % 4];
        let magnitude = made.point[0].abs() + Exact::ONE;
        for margin in [at_most_nought(&mut numbers, &magnitude), &magnitude * Exact::ratio(1, 10_000)] {
            let is_right = margin.is_positive();
            let program = made.program(decision, &margin);
            let Some(start) = Tableau::<WIDTH>::load(&program) else { continue };
            let Some(mut at) = made.dictionary(&start) else { continue };
            if is_right {
                clear += 1;
                proved += usize::from(is_feasible(&start, &at, &mut room));
                continue;
            }
            ties += 1;
            for _ in 0..3 {
                assert!(!is_feasible(&start, &at, &mut room), "{decision:?} by {margin} of {made:#?}");
                spoil(&mut numbers, &mut at, made.size());
            }
        }
    }
    [ties, clear, proved]
}

#[test]
fn ties_and_what_is_wrong_by_a_rounding_are_never_proved() {
    let [ties, clear, proved] = ties_and_clear_cases::<8>(1, 1500);
    assert!(ties > 1100 && clear > 1100 && proved * 5 > clear * 4, "{ties} {clear} {proved}");
    let [ties, clear, proved] = ties_and_clear_cases::<16>(2, 250);
    assert!(ties > 150 && clear > 150 && proved * 5 > clear * 4, "{ties} {clear} {proved}");
}

/// With one column in the basis, the errors are known: where the dictionary's reciprocal of the coefficient 1 is
/// `1 - defect`, a value that is `off` comes out `defect . off` off. The filter must prove nothing that is not so, and,
/// as its bound is attained where the defect is above 0, all that is more than the bound away.
#[test]
fn a_basis_of_one_column_is_proved_up_to_its_bound() {
    let mut room = Room::<8>::new();
    let offs: Vec<f64> = [20, 6, -6, -20, -26, -30, -34, -46]
        .iter()
        .flat_map(|exponent| [2f64.powi(*exponent), -2f64.powi(*exponent)])
        .chain([0.0])
        .collect();
    for decision in DECISIONS {
        for (side, stands) in
            [(Side::Low, 0.0), (Side::High, 1.0), (Side::Low, 3.0 * 2f64.powi(-20)), (Side::High, -5e6)]
        {
            let made = Made {
                coefficients: vec![vec![Exact::ONE, Exact::ratio(1, 2)], vec![Exact::ratio(3, 4), Exact::ONE]],
                point: vec![binary(stands); 2],
                sides: vec![side; 2],
                equations: vec![false],
                inwards: vec![Exact::ONE, Exact::ratio(1, 4)],
                room: power(60),
            };
            for defect in [0.0, 2f64.powi(-20), 2f64.powi(-10), 0.12, -2f64.powi(-20), -2f64.powi(-10), -0.12] {
                let reciprocal = 1.0 - defect;
                for off in &offs {
                    let shift = (Exact::ONE - binary(reciprocal)) * binary(*off);
                    let shift = match decision {
                        Decision::ColumnLow => shift,
                        Decision::ColumnHigh => -shift,
                        Decision::RowLow => shift * Exact::ratio(3, 4),
                        Decision::RowHigh => -(shift * Exact::ratio(3, 4)),
                    };
                    let rounding = (binary(stands.abs() + off.abs()) + power(-150)) * power(-43);
                    let enough = shift.abs() * Exact::ratio(101, 100) - &shift + &rounding;
                    for margin in [Exact::ZERO, -&rounding, enough] {
                        let program = made.program(decision, &margin);
                        let start = Tableau::load(&program).unwrap();
                        let mut at = made.dictionary(&start).unwrap();
                        at.entries[0][0] = reciprocal;
                        at.values[0] = stands + off;
                        let is_proved = is_feasible(&start, &at, &mut room);
                        let told = || {
                            format!("{decision:?} {side:?} at {stands:e} by {margin}, defect {defect:e}, off {off:e}")
                        };
                        assert!(margin.is_positive() || !is_proved, "proved: {}", told());
                        assert!(!margin.is_positive() || defect < 0.0 || is_proved, "not proved: {}", told());
                    }
                }
            }
        }
    }
}

/// Where everything is 0, so are the roundings: what stands at 0 is not above it all the same.
#[test]
fn a_column_at_nought_is_not_above_it() {
    let mut room = Room::<8>::new();
    let made = Made {
        coefficients: vec![vec![Exact::ratio(7, 4), Exact::ratio(1, 2)], vec![Exact::ONE; 2]],
        point: vec![Exact::ZERO; 2],
        sides: vec![Side::Low; 2],
        equations: vec![false],
        inwards: vec![Exact::ONE; 2],
        room: Exact::hundred(),
    };
    for (decision, margin, is_inside) in
        DECISIONS.iter().flat_map(|decision| [(*decision, Exact::ZERO, false), (*decision, power(-190), true)])
    {
        let start = Tableau::load(&made.program(decision, &margin)).unwrap();
        let mut at = made.dictionary(&start).unwrap();
        at.values[0] = 0.0;
        assert_eq!(is_feasible(&start, &at, &mut room), is_inside, "{decision:?} {margin}");
    }
}

/// The bounds from which the verdict is made, each against the exact number it is a bound of.
#[test]
fn every_bound_is_one() {
    let mut numbers = Numbers(3);
    let mut room = Room::<8>::new();
    let mut regular = 0;
    for case in 0..600 {
        let made = made(&mut numbers, 2 + case % 7);
        let size = made.size();
        let program = made.program(Decision::ColumnLow, &Exact::ONE);
        let Some(start) = Tableau::<8>::load(&program) else { continue };
        let Some(mut at) = made.dictionary(&start) else { continue };
        for _ in 0..case % 3 {
            spoil(&mut numbers, &mut at, size);
        }
        let scaled = |numbers: Vec<&Exact>| {
            let mut all = [0.0; 8];
            all.iter_mut().zip(&numbers).for_each(|(all, number)| *all = number.to_f64());
            (numbers.into_iter().map(|number| number * binary(scale(&all))).collect::<Vec<_>>(), binary(scale(&all)))
        };
        let rows: Vec<(Vec<Exact>, Exact)> =
            program.rows().iter().map(|row| scaled(row.coefficients.iter().collect())).collect();
        let filter = Filter::new(&start, &at, &mut room);

        if let Some(bound) = filter.defect() {
            regular += 1;
            let entry = |row: usize, column: usize, sizes: bool| {
                let products = (0..size).map(|middle| {
                    binary(filter.inverse[row][middle]) * &rows[filter.standing[middle].0].0[filter.basic[column].0]
                });
                let one = if row == column { Exact::ONE } else { Exact::ZERO };
                if sizes {
                    one + products.map(|product| product.abs()).sum::<Exact>()
                } else {
                    (one - products.sum::<Exact>()).abs()
                }
            };
            let sum_of = |line: usize, sizes: bool| -> Exact { (0..size).map(|other| entry(line, other, sizes)).sum() };
            let (exact, sizes) =
                [false, true].map(|sizes| (0..size).map(|line| sum_of(line, sizes)).max().unwrap()).into();
            let bound = binary(bound);
            assert!(exact <= &bound * (Exact::ONE + power(-40)), "{exact} is above {bound}: {made:#?}");
            assert!(bound <= exact + sizes * power(-46), "{bound} is far above the defect: {made:#?}");
        }

        // Anything may be tried as a point, numbers below the least normal one too.
        let any =
            |numbers: &mut Numbers| signed(numbers) * 2f64.powi([0, 0, 20, -30, -1060][numbers.below(5) as usize]);
        let near = numbers.below(2) == 0;
        let mut point = [0.0; 8];
        for (value, exact) in point.iter_mut().zip(&made.point) {
            *value = if near { exact.to_f64() } else { any(&mut numbers) };
        }
        let of_point: Vec<Exact> = point.iter().map(|value| binary(*value)).collect();
        let (residual, errors) = filter.residual(&point);
        for (place, (row, _)) in filter.standing[..size].iter().enumerate() {
            let (coefficients, power) = &rows[*row];
            let end = sum_of_products(&made.coefficients[*row], &made.point) * power;
            let off = (end - sum_of_products(coefficients, &of_point) - binary(residual[place])).abs();
            assert!(off <= binary(errors[place]), "{off} is more than {:e}: {made:#?} at {point:?}", errors[place]);
        }
    }
    assert!(regular > 300, "{regular}");
}

/// Rows that are multiples of each other, but for how they are stored.
#[test]
fn a_singular_basis_is_never_called_regular() {
    let mut numbers = Numbers(4);
    let mut room = Room::<8>::new();
    let mut met = 0;
    for _ in 0..400 {
        let mut made = made(&mut numbers, 5);
        let size = made.size();
        if size < 2 {
            continue;
        }
        let share = Exact::ratio(1 + numbers.below(30) as i64, 7 + numbers.below(90) as i64);
        made.coefficients[1] = made.coefficients[0].iter().map(|coefficient| coefficient * &share).collect();
        let Some(start) = Tableau::<8>::load(&made.program(Decision::ColumnLow, &Exact::ONE)) else { continue };
        let Some(at) = made.dictionary(&start) else { continue };
        met += 1;
        assert!(!is_feasible(&start, &at, &mut room), "{made:#?}");
    }
    assert!(met > 60, "{met}");
}

/// The multipliers by which a conflict is told are those of Farkas: with them the rows ask for more than the columns
/// reach.
#[test]
fn the_multipliers_of_a_conflict_and_their_sums() {
    let column = || Column { low: Some(Exact::ZERO), high: Some(Exact::ONE), cost: Exact::ONE };
    let row = |coefficients: [i64; 2], low: Option<i64>, high: Option<i64>| Row {
        coefficients: coefficients.map(Exact::from).to_vec(),
        low: low.map(Exact::from),
        high: high.map(Exact::from),
    };
    // x + y at least 3/2 twice over, x - y at least 1, which together need 2 x at least 5/2.
    let program =
        Program::new(vec![column(), column()], vec![row([2, 2], Some(3), None), row([1, -1], Some(1), None)]).unwrap();
    let start = Tableau::<8>::load(&program).unwrap();
    let mut at = start.clone();
    at.exchange(0, 1, Side::Low);
    let conflict = Ended::Infeasible { row: 1, side: Side::Low };
    let (rows, sums, _) = combination(&start, &at, conflict);
    // The first row was halved by the loader: x + y at least 3/2.
    assert_eq!((rows, sums), ([1.0, 1.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0], [2.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0]));
    assert!(is_out_of_reach(&start, &at, conflict));
    assert_eq!(combination(&start, &at, Ended::Optimal), ([0.0; 8], [0.0; 8], [0.0; 8]));
}
