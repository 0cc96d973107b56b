//! A point of what a brief allows, as a formula on the grid.

use tenside_lp::dot;

use super::grid;
use super::point::rows;
use super::program::RowName;
use crate::brief::{Brief, BriefLine};
use crate::document::unknown_name;
use crate::error::{Error, Fault, FaultKind};
use crate::formula::Formula;
use crate::number::{Exact, ToExact};

impl Brief {
    /// The formula nearest to a point, on the grid: a corner, a sample, an exact solution. `point` has a percentage for
    /// each line, in the order of the lines.
    ///
    /// It is the rounding of [`solve`](Brief::solve): ranges and one-sided requirements hold exactly at the formula,
    /// and an equation (a split, a target, two limits that leave one value between them) is missed by no more than one
    /// part per million of the lines can do. A point may lie outside by what half a part per million on every line does,
    /// as samples in floats do.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// let brief = Brief::new("Powders", &Catalogue::starter())?.free("kaolin")?.free("corn-starch")?.qs("sci-powder")?;
    /// let formula = brief.formula_at(["100/3"; 3])?;
    /// assert_eq!(formula.line("kaolin")?.percent().to_string(), "33.3333");
    /// assert_eq!(formula.line("sci-powder")?.percent().to_string(), "33.3334");
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A brief that cannot be asked; what is no number; another number of percentages than lines; a point further outside, with every line
    /// and requirement that it does not meet; and where whole parts per million leave no room near it, what leaves
    /// none.
    pub fn formula_at(&self, point: impl IntoIterator<Item = impl ToExact>) -> Result<Formula, Error> {
        let point = point.into_iter().map(ToExact::to_exact).collect::<Result<Vec<_>, _>>()?;
        let program = rows(self)?;
        if point.len() != self.lines().len() {
            let fault =
                Fault::new(FaultKind::OutOfRange, "a point has one percentage for each line").value(point.len());
            return Err(fault.allowed(self.lines().len().to_string()).into());
        }
        let slack = Exact::ratio(1, 20_000);
        let mut faults = Vec::new();
        for (line, value) in self.lines().iter().zip(&point) {
            let (low, high) = line.role().range();
            if *value < low.percent() - &slack || *value > high.percent() + &slack {
                let fault = Fault::new(FaultKind::OutOfRange, "the point is outside a line's range")
                    .at(format!("line {:?}", line.name()));
                faults.push(
                    fault.value(format!("{} %", value.rounded_text(4))).allowed(format!("{low} to {high} % w/w")),
                );
            }
        }
        for (name, row) in program.named_rows() {
            let activity = dot(&row.coefficients, &point);
            let room = row.coefficients.iter().map(Exact::abs).sum::<Exact>() * &slack;
            if row.low.as_ref().is_some_and(|low| activity < low - &room)
                || row.high.as_ref().is_some_and(|high| activity > high + &room)
            {
                let fault = Fault::new(FaultKind::OutOfRange, "the point does not meet a requirement").at(name.words());
                faults.push(if name == &RowName::Total {
                    fault.value(format!("{} %", activity.rounded_text(4)))
                } else {
                    fault
                });
            }
        }
        Error::check(faults, ())?;
        // The value, or the end of the range that it has just passed.
        let inside = |(line, value): (&BriefLine, Exact)| {
            let (low, high) = line.role().range();
            value.max(low.percent()).min(high.percent())
        };
        let inside: Vec<Exact> = self.lines().iter().zip(point).map(inside).collect();
        Ok(grid::place(self, &program, &inside)?.map_err(Error::from)?.formula)
    }

    /// As [`Brief::formula_at`], with the percentages by line.
    ///
    /// # Errors
    /// An unknown line, one that is named twice or not at all; and as [`Brief::formula_at`].
    pub fn formula_at_lines<N: AsRef<str>, P: ToExact>(
        &self,
        point: impl IntoIterator<Item = (N, P)>,
    ) -> Result<Formula, Error> {
        let mut percents: Vec<Option<Exact>> = vec![None; self.lines().len()];
        for (name, percent) in point {
            let (name, percent) = (name.as_ref(), percent.to_exact()?);
            let line = self.lines().iter().position(|line| line.name() == name);
            let line = line.ok_or_else(|| unknown_name("line", name, self.lines().iter().map(BriefLine::name)))?;
            if percents[line].replace(percent).is_some() {
                return Err(Fault::new(FaultKind::Duplicate, "a line of the point is named twice")
                    .value(format!("{name:?}"))
                    .into());
            }
        }
        let missing = |line: &BriefLine| -> Error {
            Fault::new(FaultKind::Missing, "a line of the point is not named")
                .value(format!("{:?}", line.name()))
                .remedy("a line of nothing is 0")
                .into()
        };
        let point = self
            .lines()
            .iter()
            .zip(percents)
            .map(|(line, percent)| percent.ok_or_else(|| missing(line)))
            .collect::<Result<Vec<_>, _>>()?;
        self.formula_at(&point)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::brief::SplitBasis;
    use crate::catalogue::Catalogue;
    use crate::measure::Measure;

    fn bar() -> Brief {
        let split = [("sci-powder", 14), ("scs-needles", 5), ("capb-30", 1)];
        let brief = Brief::new("Bar", &Catalogue::starter()).unwrap().split("wash", SplitBasis::Active, split).unwrap();
        let brief =
            brief.fix("panthenol", "1.5").unwrap().between("cetyl-alcohol", 3, 6).unwrap().qs("kaolin").unwrap();
        brief
            .require(crate::brief::Requirement::between(Measure::active_matter(), 50, 58).unwrap())
            .unwrap()
            .at_most(Measure::water(), 9)
            .unwrap()
    }

    #[test]
    fn every_exact_solution_becomes_the_formula_that_solving_gives() {
        for brief in [bar(), bar().maximise(Measure::active_matter()), bar().minimise(Measure::water())] {
            let answer = brief.solve().unwrap();
            assert_eq!(&brief.formula_at(answer.exact()).unwrap(), answer.formula().unwrap());
        }
    }

    #[test]
    fn what_lies_outside_is_refused_with_everything_it_misses() {
        let brief = bar();
        let mut point = brief.solve().unwrap().exact().to_vec();
        assert!(brief.formula_at(&point[1..]).unwrap_err().is_out_of_range());
        point[4] = Exact::from(7);
        let error = brief.formula_at(&point).unwrap_err().to_string();
        assert!(error.contains("line \"cetyl-alcohol\"") && error.contains("the lines sum to 100 %"), "{error}");
    }
}
