//! A conflict made irreducible in `f64`, with every step proved: members go that the others conflict without.
//!
//! Each member is left out in turn (deletion filter: J. W. Chinneck and E. W. Dravnieks, ORSA Journal on Computing 3, 1991; from memory). Where
//! the others still conflict, which the multipliers prove, it stays out, and so does whatever the multipliers do not use. Where a point in
//! all ranges is proved, it is needed. Where neither is sure, nothing is said and exact arithmetic has to tell.

use super::dual::Ended;
use super::family::Family;
use super::filter::{is_out_of_reach, multipliers};
use super::tableau::Spot;

/// A variable (columns, then rows) that can be left out, and the ends it has then.
#[derive(Clone, Copy, Debug)]
pub(in crate::solve) struct Removable {
    pub(in crate::solve) variable: usize,
    pub(in crate::solve) low: f64,
    pub(in crate::solve) high: f64,
}

/// Multipliers and sums below this, times the greatest, are roundings in the place of 0.
const ROUNDING: f64 = 1e-11;

impl<const WIDTH: usize> Family<WIDTH> {
    /// The members, by their places in `all`, of an irreducible conflict; nothing where something was not sure. Costs do not matter to
    /// what is in it.
    pub(in crate::solve) fn prune(&mut self, all: &[Removable]) -> Option<Vec<usize>> {
        let asked: Vec<Spot> = all.iter().map(|member| self.start_spot(member.variable)).collect();
        let Some(Ended::Infeasible { .. }) = self.search_cold() else { return None };
        self.is_proved_out_of_reach().then_some(())?;
        let mut members: Vec<usize> = (0..all.len()).collect();
        self.drop_unused(all, &asked, &mut members)?;
        let mut tried = 0;
        while tried < members.len() {
            let member = members[tried];
            self.set_start_ends(all[member].variable, all[member].low, all[member].high);
            match self.search_cold()? {
                Ended::Infeasible { .. } => {
                    self.is_proved_out_of_reach().then_some(())?;
                    members.remove(tried);
                    self.drop_unused(all, &asked, &mut members)?;
                }
                Ended::Optimal => {
                    self.is_proved_feasible().then_some(())?;
                    self.set_start_ends(all[member].variable, asked[member].low, asked[member].high);
                    tried += 1;
                }
            }
        }
        Some(members)
    }

    /// Leaves out what the multipliers do not use, and proves again that the rest conflicts.
    fn drop_unused(&mut self, all: &[Removable], asked: &[Spot], members: &mut Vec<usize>) -> Option<()> {
        let ended = self.ended()?;
        let (start, work) = self.tableaus();
        let (rows, sums) = multipliers(start, work, ended);
        let columns = start.columns();
        let greatest = rows.iter().chain(&sums).fold(0.0f64, |greatest, number| greatest.max(number.abs()));
        let is_used = |member: &usize| {
            let Removable { variable, low, high } = all[*member];
            if variable >= columns {
                return rows[variable - columns].abs() > ROUNDING * greatest;
            }
            let sum = sums[variable];
            sum.abs() > ROUNDING * greatest && if sum < 0.0 { asked[*member].low != low } else { asked[*member].high != high }
        };
        let unused: Vec<usize> = members.iter().copied().filter(|member| !is_used(member)).collect();
        members.retain(is_used);
        for member in unused {
            self.set_start_ends(all[member].variable, all[member].low, all[member].high);
        }
        let (start, work) = self.tableaus();
        is_out_of_reach(start, work, ended).then_some(())
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::{Numbers, program};
    use super::*;
    use crate::number::Exact;
    use crate::solve::linear::{Column, Outcome, Program, Row, solve};

    /// The program with only these members, the others loosened.
    fn only(program: &Program, all: &[Removable], kept: &[usize]) -> Program {
        let columns = program.columns().len();
        let is_kept = |variable: usize| kept.iter().any(|member| all[*member].variable == variable);
        let loosened = |index: usize, column: &Column| {
            if is_kept(index) { column.clone() } else { Column { low: Some(Exact::ZERO), high: Some(Exact::hundred()), cost: Exact::ZERO } }
        };
        let rows = program.rows().iter().enumerate().map(|(index, row)| {
            if is_kept(columns + index) || index == 0 { row.clone() } else { Row { coefficients: row.coefficients.clone(), low: None, high: None } }
        });
        Program::new(program.columns().iter().enumerate().map(|(index, column)| loosened(index, column)).collect(), rows.collect()).unwrap()
    }

    #[test]
    fn what_is_left_conflicts_and_nothing_less_does() {
        let mut numbers = Numbers(31);
        let (mut pruned, mut unsure, mut sizes) = (0, 0, [0; 8]);
        for _ in 0..1200 {
            let mut program = program(&mut numbers, 9, 8);
            program.change(
                |_, _| {},
                |index, row| {
                    let moved = Exact::ratio(numbers.below(600) as i64 - 300, 100);
                    if index > 0 {
                        row.low = row.low.take().map(|low| low + &moved);
                        row.high = row.high.take().map(|high| high + moved);
                    }
                },
            );
            if !matches!(solve(&program), Outcome::Infeasible(_)) {
                continue;
            }
            let columns = program.columns().len();
            let all: Vec<Removable> = (0..columns)
                .map(|variable| Removable { variable, low: 0.0, high: 100.0 })
                .chain((1..program.rows().len()).map(|row| Removable { variable: columns + row, low: f64::NEG_INFINITY, high: f64::INFINITY }))
                .collect();
            let Some(kept) = Family::<16>::new(&program, &[]).unwrap().for_any_point().prune(&all) else {
                unsure += 1;
                continue;
            };
            pruned += 1;
            sizes[kept.len().min(7)] += 1;
            assert!(matches!(solve(&only(&program, &all, &kept)), Outcome::Infeasible(_)), "{kept:?} do not conflict: {program:?}");
            for left_out in &kept {
                let fewer: Vec<usize> = kept.iter().copied().filter(|member| member != left_out).collect();
                assert!(matches!(solve(&only(&program, &all, &fewer)), Outcome::Optimal(_)), "{fewer:?} of {kept:?} conflict: {program:?}");
            }
        }
        assert!(pruned > 100 && unsure * 2 < pruned && sizes[3..].iter().sum::<usize>() > 20, "{pruned} {unsure} {sizes:?}");
    }
}
