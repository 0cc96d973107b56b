//! A program as plain `f64` numbers: what the general-purpose solvers are given, here and in Python.

use microlp::{ComparisonOp, OptimizationDirection, Problem};
use serde_json::{Value, json};
use tenside::number::Exact;
use tenside_lp::Program;

/// Absent ends are infinite.
pub(crate) struct Plain {
    costs: Vec<f64>,
    ranges: Vec<(f64, f64)>,
    rows: Vec<(Vec<f64>, f64, f64)>,
}

impl Plain {
    pub(crate) fn new(program: &Program) -> Self {
        let ends = |low: &Option<Exact>, high: &Option<Exact>| {
            (low.as_ref().map_or(f64::NEG_INFINITY, Exact::to_f64), high.as_ref().map_or(f64::INFINITY, Exact::to_f64))
        };
        Plain {
            costs: program.columns().iter().map(|column| column.cost.to_f64()).collect(),
            ranges: program.columns().iter().map(|column| ends(&column.low, &column.high)).collect(),
            rows: program
                .rows()
                .iter()
                .map(|row| {
                    let (low, high) = ends(&row.low, &row.high);
                    (row.coefficients.iter().map(Exact::to_f64).collect(), low, high)
                })
                .collect(),
        }
    }

    /// The least cost by microlp, built and solved.
    pub(crate) fn microlp(&self) -> Option<f64> {
        let mut problem = Problem::new(OptimizationDirection::Minimize);
        let columns: Vec<_> =
            self.costs.iter().zip(&self.ranges).map(|(cost, range)| problem.add_var(*cost, *range)).collect();
        for (coefficients, low, high) in &self.rows {
            let entries: Vec<_> = columns
                .iter()
                .zip(coefficients)
                .filter(|(_, coefficient)| **coefficient != 0.0)
                .map(|(column, coefficient)| (*column, *coefficient))
                .collect();
            if low == high {
                problem.add_constraint(entries, ComparisonOp::Eq, *low);
                continue;
            }
            if low.is_finite() {
                problem.add_constraint(entries.clone(), ComparisonOp::Ge, *low);
            }
            if high.is_finite() {
                problem.add_constraint(entries, ComparisonOp::Le, *high);
            }
        }
        problem.solve().ok()?.solution().map(microlp::Solution::objective)
    }

    /// For Python; infinite ends are null there.
    pub(crate) fn json(&self) -> Value {
        let end = |end: f64| if end.is_finite() { json!(end) } else { Value::Null };
        json!({
            "costs": self.costs,
            "low": self.ranges.iter().map(|range| end(range.0)).collect::<Vec<_>>(),
            "high": self.ranges.iter().map(|range| end(range.1)).collect::<Vec<_>>(),
            "rows": self.rows.iter().map(|row| &row.0).collect::<Vec<_>>(),
            "row_low": self.rows.iter().map(|row| end(row.1)).collect::<Vec<_>>(),
            "row_high": self.rows.iter().map(|row| end(row.2)).collect::<Vec<_>>(),
        })
    }
}
