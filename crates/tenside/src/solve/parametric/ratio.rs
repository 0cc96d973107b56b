//! A ratio as one linear program.
//!
//! ```text
//! least N . x / D . x  over formulas x     <=>     least N . y  with  D . y = 1,   y = x / (D . x)
//! ```
//!
//! Rows whose ends are 0 stay as they are. Lines sum to 100, so `x_j = 100 y_j / sum y`; an end of a line becomes a
//! row, `y_j - low_j / 100 sum y >= 0`. (A. Charnes and W. W. Cooper, Naval Research Logistics Quarterly 9, 1962; from
//! memory.)

use tenside_lp::{Column, Program, Row};

use crate::brief::{Brief, Role};
use crate::error::Error;
use crate::number::Exact;
use crate::solve::constraint::{Limit, limit};
use crate::solve::objective::Ratio;
use crate::solve::program::{BriefProgram, RowName};

/// The program of a ratio, beside that of the formulas it is a ratio of.
pub(super) struct RatioProgram {
    pub(super) program: Program,
    /// What each row limits.
    pub(super) limits: Vec<Option<Limit>>,
    /// The rows of each line's low and high end.
    pub(super) ends: Vec<[Option<usize>; 2]>,
}

impl RatioProgram {
    /// From the rows and columns of the formulas, in which no row but the sum to 100 has an end that is not 0.
    ///
    /// # Errors
    /// None for the program of a brief.
    pub(super) fn new(brief: &Brief, plain: &BriefProgram, ratio: &Ratio) -> Result<Self, Error> {
        let (lines, width) = (plain.lines(), plain.program().columns().len());
        let cost = |column: usize| ratio.numerator.get(column).cloned().unwrap_or_default();
        let columns =
            (0..width).map(|column| Column { low: Some(Exact::ZERO), high: None, cost: cost(column) }).collect();
        let (mut rows, mut limits) = (Vec::new(), Vec::new());
        for (name, row) in plain.named_rows() {
            if *name == RowName::Total {
                let mut coefficients = ratio.denominator.to_vec();
                coefficients.resize(width, Exact::ZERO);
                rows.push(Row { coefficients, low: Some(Exact::ONE), high: Some(Exact::ONE) });
            } else {
                rows.push(row.clone());
            }
            limits.push(limit(name));
        }
        let mut ends = vec![[None, None]; lines];
        for (index, line) in brief.lines().iter().enumerate() {
            let (low, high) = line.role().range();
            let mut add = |end: Exact, range: (bool, bool), limit: Option<Limit>| {
                let share = -(end / Exact::hundred());
                let mut coefficients = vec![share; lines];
                coefficients[index] += &Exact::ONE;
                coefficients.resize(width, Exact::ZERO);
                let zero = |there: bool| there.then_some(Exact::ZERO);
                rows.push(Row { coefficients, low: zero(range.0), high: zero(range.1) });
                limits.push(limit);
                Some(rows.len() - 1)
            };
            ends[index] = match line.role() {
                Role::Fixed(_) => {
                    let both = add(low.percent(), (true, true), None);
                    [both, both]
                }
                Role::Between(..) => [
                    add(low.percent(), (true, false), Some(Limit::Low(index))),
                    add(high.percent(), (false, true), Some(Limit::High(index))),
                ],
                // From 0 to 100 % they are anyway.
                _ => [None, None],
            };
        }
        Ok(RatioProgram { program: Program::new(columns, rows)?, limits, ends })
    }
}
