//! A brief of which one number is turned, and solved again from where it stands.

use super::answer::Outcome;
use super::objective::one_program;
use super::walk::{Path, Seen, Walk, Ways, walk};
use crate::bounds::Quantity;
use crate::brief::{Brief, Dial};
use crate::error::Error;
use crate::number::{Exact, Ppm};

/// Values of a limit beyond this, up or down, are solved by themselves.
const FARTHEST: i64 = 1_000_000_000;

/// A brief of which one number is turned. Every point is proved, and the same as from cold.
///
/// Between two values of the dial the structure of the recipe often stays: the same requirements bind, the same lines stand at their ends.
/// Such a stretch is proved once; every further point in it is a multiplication and an addition a line. Where one value of the dial moves
/// more than one row of the program (or the objective is a ratio, or a sum of squares), each point is solved by itself.
///
/// ```
/// use tenside::brief::{Brief, Dial, SplitBasis};
/// use tenside::catalogue::Catalogue;
/// use tenside::measure::Measure;
/// use tenside::number::Exact;
/// let brief = Brief::new("Plain bar", &Catalogue::starter())?
///     .split("wash", SplitBasis::Active, &[("sci-powder", 14), ("capb-30", 1)])?
///     .between("cetyl-alcohol", 3, 6)?
///     .qs("kaolin")?
///     .target(Measure::active_matter(), 50)?
///     .minimise(Measure::water());
/// let mut turning = brief.turning(&Dial::part("wash", "capb-30"))?;
/// for part in [1, 2, 3] {
///     let value = Exact::from(part);
///     let quick = turning.percents(&value)?.expect("it is answered")[0];
///     let tenside::solve::Outcome::Answered(answer) = turning.solve(&value)? else { panic!("it is answered") };
///     assert!((quick - answer.exact()[0].to_f64()).abs() < 1e-9);
/// }
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Debug)]
pub struct Turning {
    brief: Brief,
    dial: Dial,
    walk: Option<Box<dyn Walk>>,
    domain: (Exact, Exact),
    on_grid: bool,
    points: usize,
    percents: Vec<f64>,
}

impl Brief {
    /// Makes one number of the brief ready to be turned.
    ///
    /// # Errors
    /// A dial that the brief does not have, and as [`Brief::try_solve`] for a brief that cannot be asked.
    pub fn turning(&self, dial: &Dial) -> Result<Turning, Error> {
        let at = self.dial_value(dial)?;
        let (low, high, on_grid) = match dial {
            Dial::Part { .. } => {
                let (low, high) = Quantity::SplitPart.range();
                (low.into(), high.into(), false)
            }
            Dial::Fixed(_) | Dial::LowEnd(_) | Dial::HighEnd(_) => (Exact::ZERO, Exact::hundred(), true),
            Dial::Price(_) => {
                let (low, high) = Quantity::Price.range();
                (low.into(), high.into(), false)
            }
            Dial::Target(_) | Dial::AtLeast(_) | Dial::AtMost(_) => (Exact::from(-FARTHEST), Exact::from(FARTHEST), false),
        };
        let lines = self.lines().len();
        let order: Vec<usize> = (0..lines).collect();
        let walk = self.path(dial, &at)?.and_then(|path| walk(path, &order, (low.to_f64(), high.to_f64())));
        Ok(Turning { brief: self.clone(), dial: dial.clone(), walk, domain: (low, high), on_grid, points: 0, percents: vec![0.0; lines] })
    }

    /// The programs that the dial leads from one to the other, where everything moves along a line.
    fn path(&self, dial: &Dial, at: &Exact) -> Result<Option<Path>, Error> {
        if let Dial::Target(name) | Dial::AtLeast(name) | Dial::AtMost(name) = dial
            && self.requirements().iter().any(|requirement| requirement.is_for_every_composition() && requirement.name() == *name)
        {
            // The worst composition changes with the limit.
            return Ok(None);
        }
        let this = match dial {
            // Each row of a split is about its first member: that one's part would move them all.
            Dial::Part { split, line } => &self.with_part_last(split, line),
            _ => self,
        };
        let Some(first) = one_program(this)? else { return Ok(None) };
        // A step of the grid of percentages; downwards where the dial stands at its end.
        for step in [Exact::ratio(1, 10_000), Exact::ratio(-1, 10_000)] {
            let Ok(turned) = this.turned(dial, &(at + &step)) else { continue };
            let Some(second) = one_program(&turned)? else { return Ok(None) };
            if first.has_the_shape_of(&second) {
                return Ok(Some(Path { first: first.program().clone(), second: second.program().clone(), at: at.clone(), step }));
            }
        }
        Ok(None)
    }
}

impl Turning {
    /// The brief, its dial where it was.
    #[must_use]
    pub fn brief(&self) -> &Brief {
        &self.brief
    }

    /// The dial.
    #[must_use]
    pub fn dial(&self) -> &Dial {
        &self.dial
    }

    /// The percentages of the canonical answer where the dial stands at `value`, in the order of the brief's lines; nothing where the brief
    /// cannot be answered there. The structure is proved; the numbers are within 1e-9 % of the exact solution (tested, not proved).
    ///
    /// # Errors
    /// A value that is none for the dial.
    pub fn percents(&mut self, value: &Exact) -> Result<Option<&[f64]>, Error> {
        let lines = self.percents.len();
        if let Some(walk) = &mut self.walk {
            let inside = self.domain.0 <= *value && *value <= self.domain.1 && (!self.on_grid || Ppm::is_on_grid(value));
            if inside {
                match walk.at(value) {
                    Seen::Optimal(columns) => {
                        self.percents.copy_from_slice(&columns[..lines]);
                        return Ok(Some(&self.percents));
                    }
                    Seen::Infeasible => return Ok(None),
                    Seen::Unbounded => {}
                }
            }
        }
        let outcome = self.brief.turned(&self.dial, value)?.try_solve()?;
        self.points += 1;
        match outcome {
            Outcome::Answered(answer) => {
                self.percents.iter_mut().zip(answer.exact()).for_each(|(percent, exact)| *percent = exact.to_f64());
                Ok(Some(&self.percents))
            }
            Outcome::Conflict(_) => Ok(None),
        }
    }

    /// The outcome where the dial stands at `value`, with exact solution, proof and grid formula or conflict. It is solved from cold: next to
    /// compiling the brief anew and placing the formula on the grid, the search is a small part.
    ///
    /// # Errors
    /// A value that is none for the dial, and as [`Brief::try_solve`].
    pub fn solve(&mut self, value: &Exact) -> Result<Outcome, Error> {
        self.brief.turned(&self.dial, value)?.try_solve()
    }

    /// The proved stretch of values that the last point lay in; nothing for a point that was solved by itself.
    #[must_use]
    pub fn stretch(&self) -> Option<(f64, f64)> {
        self.walk.as_ref().and_then(|walk| walk.stretch())
    }

    /// What the number may be.
    pub(super) fn domain(&self) -> &(Exact, Exact) {
        &self.domain
    }

    pub(super) fn walk_mut(&mut self) -> Option<&mut (dyn Walk + 'static)> {
        self.walk.as_deref_mut()
    }

    /// How the points so far were proved.
    #[must_use]
    pub fn ways(&self) -> Ways {
        let walked = self.walk.as_ref().map(|walk| walk.ways()).unwrap_or_default();
        Ways { points: walked.points + self.points, ..walked }
    }
}
