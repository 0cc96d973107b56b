//! What the rows ask for against what the columns reach, where the two are equal but for roundings.

use super::*;

/// Rows with multipliers, and what the first of them has to ask for so that together they ask for as much as the
/// columns reach.
struct Asking {
    columns: Vec<[Exact; 2]>,
    rows: Vec<Vec<Exact>>,
    ends: Vec<Exact>,
    /// Of all rows but the first, whose multiplier is 1.
    multipliers: Vec<f64>,
}

impl Asking {
    fn any(numbers: &mut Numbers, width: usize) -> Self {
        let (columns, rows) =
            (1 + numbers.below(width as u64) as usize, 1 + numbers.below(width.min(5) as u64) as usize);
        let rows = rows.min(columns + 1);
        let large = |numbers: &mut Numbers| power(numbers.below(61) as i32 - 30);
        let far = numbers.below(2) == 0;
        let alike = numbers.below(2) == 0;
        let ranges = (0..columns).map(|_| {
            let (first, second) =
                (fraction(numbers) * large(numbers), Exact::ratio(1 + numbers.below(20) as i64, 3) * large(numbers));
            [first.clone(), first + second]
        });
        let columns: Vec<[Exact; 2]> = ranges.collect();
        let mut all: Vec<Vec<Exact>> = Vec::new();
        for row in 0..rows {
            // The greatest magnitude is 1, so the loader leaves the row as it is.
            let mut line: Vec<Exact> = (0..columns.len())
                .map(|column| {
                    let any = Exact::ratio(numbers.below(2001) as i64 - 1000, 1000 + numbers.below(9) as i64);
                    match (alike, row) {
                        (true, 1..) => all[0][column].clone(),
                        _ if numbers.below(4) == 0 => any * power(-(numbers.below(40) as i32)),
                        _ => any,
                    }
                })
                .collect();
            let place = if alike { 0 } else { numbers.below(columns.len() as u64) as usize };
            line[place] = Exact::ONE;
            all.push(line);
        }
        let ends = (0..rows).map(|_| fraction(numbers) * if far { large(numbers) } else { Exact::ONE }).collect();
        let multipliers = (1..rows).map(|_| {
            if alike && numbers.below(2) == 0 {
                -1.0
            } else {
                signed(numbers) * 2f64.powi(numbers.below(41) as i32 - 20)
            }
        });
        let multipliers = multipliers.collect();
        Asking { columns, rows: all, ends, multipliers }
    }

    fn multiplier(&self, row: usize) -> Exact {
        if row == 0 { Exact::ONE } else { binary(self.multipliers[row - 1]) }
    }

    /// Turns the end of the first row so that `gap` is asked for past what the columns reach; the sum of all
    /// magnitudes.
    fn leave(&mut self, gap: impl Fn(&Exact) -> Exact) -> Exact {
        let (mut reached, mut magnitudes) = (Exact::ZERO, Exact::ZERO);
        for (column, range) in self.columns.iter().enumerate() {
            let products: Vec<Exact> =
                self.rows.iter().enumerate().map(|(row, line)| self.multiplier(row) * &line[column]).collect();
            let sum: Exact = products.iter().sum();
            let [low, high] = range.each_ref().map(|end| end * &sum);
            reached += low.max(high);
            let size: Exact = products.iter().map(Exact::abs).sum();
            magnitudes += size * range[0].abs().max(range[1].abs());
        }
        for (row, end) in self.ends.iter().enumerate().skip(1) {
            let asked = self.multiplier(row) * end;
            magnitudes += asked.abs();
            reached -= asked;
        }
        magnitudes += reached.abs();
        self.ends[0] = reached + gap(&magnitudes);
        magnitudes
    }

    fn is_proved<const WIDTH: usize>(&self) -> Option<bool> {
        let column = |range: &[Exact; 2]| Column {
            low: Some(range[0].clone()),
            high: Some(range[1].clone()),
            cost: Exact::ZERO,
        };
        let row = |(row, coefficients): (usize, &Vec<Exact>)| {
            let end = Some(self.ends[row].clone());
            let (low, high) = if self.multiplier(row).is_negative() { (None, end) } else { (end, None) };
            Row { coefficients: coefficients.clone(), low, high }
        };
        let program =
            Program::new(self.columns.iter().map(column).collect(), self.rows.iter().enumerate().map(row).collect())
                .unwrap();
        let start = Tableau::<WIDTH>::load(&program)?;
        let mut at = start.clone();
        for (position, multiplier) in self.multipliers.iter().enumerate() {
            (at.nonbasic[position], at.basic[position + 1]) = (start.basic[position + 1], start.nonbasic[position]);
            at.entries[0][position] = -multiplier;
        }
        Some(is_out_of_reach(&start, &at, Ended::Infeasible { row: 0, side: Side::Low }))
    }
}

fn asked_for<const WIDTH: usize>(seed: u64, cases: usize) {
    let mut numbers = Numbers(seed);
    let mut met = 0;
    for _ in 0..cases {
        let mut asking = Asking::any(&mut numbers, WIDTH);
        let little = power(-50 - numbers.below(30) as i32);
        for gap in [Exact::ZERO, -little] {
            asking.leave(|magnitudes| magnitudes * &gap);
            let Some(is_proved) = asking.is_proved::<WIDTH>() else { continue };
            assert!(
                !is_proved,
                "columns {:?} rows {:?} ends {:?} multipliers {:?}",
                asking.columns, asking.rows, asking.ends, asking.multipliers
            );
        }
        // Six times 2 u times the number of places and 8 more, of all magnitudes.
        asking.leave(|magnitudes| magnitudes * Exact::from(6 * (WIDTH as i64 + 8)) * power(-52));
        if let Some(is_proved) = asking.is_proved::<WIDTH>() {
            met += 1;
            assert!(
                is_proved,
                "columns {:?} rows {:?} ends {:?} multipliers {:?}",
                asking.columns, asking.rows, asking.ends, asking.multipliers
            );
        }
    }
    assert!(met * 2 > cases, "{met}");
}

#[test]
fn what_the_columns_just_reach_is_never_out_of_reach() {
    asked_for::<8>(5, 3000);
    asked_for::<16>(6, 600);
}

/// Products below the least number are not taken for what they should be.
#[test]
fn multipliers_too_small_to_multiply_prove_nothing() {
    for units in 1..40u64 {
        let mut asking = Asking {
            columns: vec![[Exact::ZERO, Exact::ONE]; 8],
            rows: vec![vec![Exact::ratio(1, 3); 8]; 2],
            ends: vec![Exact::ZERO, Exact::ratio(9, 5)],
            multipliers: vec![f64::from_bits(units)],
        };
        asking.rows[0] = vec![Exact::ZERO; 8];
        asking.rows[1][0] = Exact::ONE;
        // The second row asks for less than 1 and seven thirds, so that nothing is out of reach.
        assert_eq!(asking.is_proved::<8>(), Some(false), "{units}");
    }
}
