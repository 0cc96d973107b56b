//! The formulas that a brief allows, as a polytope of full dimension: `x = base + directions z`, `G z <= h`.
//!
//! Equations are eliminated exactly; a limit that no formula meets with room to spare is an equation too (found by
//! making its room as large as can be, one linear program each), so that what is left has an inside. The mean of the
//! points found on the way is inside.

mod vertices;
mod walk;

pub(crate) use vertices::Vertex;
pub(crate) use walk::Walk;

use tenside_lp::{dot, solve_watched};

use super::echelon::{Echelon, add_row};
use super::member::line_words;
use super::point::rows;
use super::program::{RowName, one_line};
use super::proof::fails;
use crate::brief::Brief;
use crate::error::Error;
use crate::number::Exact;
use crate::watch::{Halt, Watched};

/// `weights . z <= most`.
#[derive(Clone, Debug)]
pub(crate) struct HalfSpace {
    pub(crate) weights: Vec<Exact>,
    pub(crate) most: Exact,
}

/// The polytope.
#[derive(Clone, Debug)]
pub(crate) struct Region {
    /// A formula for `z = 0`, which need not be allowed.
    base: Vec<Exact>,
    /// For each line, what one unit of each `z` adds.
    directions: Vec<Vec<Exact>>,
    /// What holds with equality everywhere besides the sum of the lines, in the words of the brief.
    pub(crate) equations: Vec<Equation>,
    pub(crate) limits: Vec<HalfSpace>,
    /// A point inside.
    pub(crate) inside: Vec<Exact>,
    /// How far the points found reach along each direction.
    pub(crate) widths: Vec<Exact>,
    /// A corner.
    pub(crate) corner: Vec<Exact>,
}

/// Something that holds with equality at every formula.
#[derive(Clone, Debug)]
pub(crate) struct Equation {
    /// In the words of the brief.
    pub(crate) words: String,
    /// What it weighs each line with.
    pub(crate) weights: Vec<Exact>,
}

/// A linear form of the lines and the value it has or must not pass, with its words; none for the sum of the lines.
#[derive(Clone)]
struct Form {
    weights: Vec<Exact>,
    value: Exact,
    words: Option<String>,
}

impl Region {
    pub(crate) fn new(brief: &Brief) -> Result<Self, Error> {
        let program = rows(brief)?;
        let count = program.lines();
        let (mut equations, mut limits): (Vec<Form>, Vec<Form>) = (Vec::new(), Vec::new());
        let mut add = |weights: Vec<Exact>, low: Option<&Exact>, high: Option<&Exact>, words: Option<String>| {
            let at = |end: &Exact| Form { weights: weights.clone(), value: end.clone(), words: words.clone() };
            if low.is_some() && low == high {
                return equations.extend(low.map(at));
            }
            limits.extend(high.map(at));
            let turned = || weights.iter().map(|weight| -weight).collect();
            limits.extend(low.map(|low| Form { weights: turned(), value: -low, words: words.clone() }));
        };
        for (line, column) in program.program().columns().iter().enumerate() {
            let words = Some(line_words(&brief.lines()[line]));
            add(one_line(count, line), column.low.as_ref(), column.high.as_ref(), words);
        }
        for (name, row) in program.named_rows() {
            let words = (name != &RowName::Total).then(|| name.words().to_string());
            add(row.coefficients.clone(), row.low.as_ref(), row.high.as_ref(), words);
        }
        let mut points: Vec<Vec<Exact>> = Vec::new();
        let mut with_room = Vec::new();
        for limit in limits {
            let mut program = program.program().clone();
            program.change(|line, column| column.cost.clone_from(&limit.weights[line]), |_, _| {});
            let outcome = solve_watched(&program, &[], brief.watched())?;
            let Some(optimum) = outcome.optimum() else { return Err(unanswerable(brief)) };
            if optimum.objective == limit.value {
                equations.push(limit);
            } else {
                with_room.push(limit);
            }
            points.push(optimum.values.clone());
        }
        if points.is_empty() {
            let outcome = solve_watched(program.program(), &[], brief.watched())?;
            points.extend(outcome.optimum().map(|optimum| optimum.values.clone()));
        }
        let Some(corner) = points.first().cloned() else { return Err(unanswerable(brief)) };
        let (base, directions, free) = eliminate(count, &equations, brief.watched())?;
        let in_z = |Form { weights, value: most, .. }: Form| {
            let along = |direction: usize| dot(&weights, directions.iter().map(|line| &line[direction]));
            let at_base = dot(&weights, &base);
            HalfSpace { weights: (0..free.len()).map(along).collect(), most: most - at_base }
        };
        // What no longer depends on z holds everywhere, since there is a formula.
        let mut limits: Vec<HalfSpace> = Vec::with_capacity(with_room.len());
        for form in with_room {
            brief.watched().check()?;
            limits.push(in_z(form));
        }
        limits.retain(|limit| limit.weights.iter().any(|weight| !weight.is_zero()));
        let limits = tightest(limits, brief.watched())?;
        let number = Exact::from(i64::try_from(points.len()).unwrap_or(1));
        let of = |point: &[Exact]| -> Vec<Exact> { free.iter().map(|line| point[*line].clone()).collect() };
        let mut inside = Vec::with_capacity(free.len());
        for line in &free {
            // Sums of many long fractions: of hundreds of lines they take as long as the linear programs.
            brief.watched().check()?;
            inside.push(points.iter().map(|point| point[*line].clone()).sum::<Exact>() / &number);
        }
        let reach = |line: &usize| {
            let values = || points.iter().map(|point| &point[*line]);
            values().max().cloned().unwrap_or_default() - values().min().cloned().unwrap_or_default()
        };
        let named = |form: Form| Some(Equation { words: form.words?, weights: form.weights });
        let equations = equations.into_iter().filter_map(named).collect();
        Ok(Region {
            equations,
            widths: free.iter().map(reach).collect(),
            corner: of(&corner),
            base,
            directions,
            limits,
            inside,
        })
    }

    /// How many directions are free.
    pub(crate) fn dimension(&self) -> usize {
        self.inside.len()
    }

    /// The percentages at a point.
    pub(crate) fn percents(&self, point: &[Exact]) -> Vec<Exact> {
        self.base.iter().zip(&self.directions).map(|(base, line)| base + dot(line, point)).collect()
    }
}

/// Of limits in the same direction the tightest, so that a corner has no more limits than it needs.
fn tightest(limits: Vec<HalfSpace>, watched: &Watched) -> Result<Vec<HalfSpace>, Error> {
    let mut kept: Vec<HalfSpace> = Vec::new();
    for limit in limits {
        watched.check()?;
        let size: Exact = limit.weights.iter().map(Exact::abs).sum();
        let weights: Vec<Exact> = limit.weights.iter().map(|weight| weight / &size).collect();
        let most = limit.most / &size;
        match kept.iter_mut().find(|known| known.weights == weights) {
            Some(known) => known.most = most.min(known.most.clone()),
            None => kept.push(HalfSpace { weights, most }),
        }
    }
    Ok(kept)
}

fn unanswerable(brief: &Brief) -> Error {
    brief.solve().err().unwrap_or_else(|| fails("the brief allows no formula"))
}

/// A base, the directions that the equations leave, and the lines that are the directions' own.
type Eliminated = (Vec<Exact>, Vec<Vec<Exact>>, Vec<usize>);

fn eliminate(count: usize, equations: &[Form], watched: &Watched) -> Result<Eliminated, Error> {
    let mut reduced = Echelon::new();
    for Form { weights, value, .. } in equations {
        let row = weights.iter().chain([value]).cloned().collect();
        // The last line that is left, so that the lines written first stay free.
        add_row(&mut reduced, row, |row| row[..count].iter().rposition(|weight| !weight.is_zero()), watched)?;
    }
    let free: Vec<usize> = (0..count).filter(|line| !reduced.iter().any(|(pivot, _)| pivot == line)).collect();
    let mut base = vec![Exact::ZERO; count];
    let mut directions = vec![vec![Exact::ZERO; free.len()]; count];
    for (direction, line) in free.iter().enumerate() {
        directions[*line][direction] = Exact::ONE;
    }
    for (pivot, weights) in reduced {
        base[pivot] = weights[count].clone();
        for (direction, line) in free.iter().enumerate() {
            directions[pivot][direction] = -&weights[*line];
        }
    }
    Ok((base, directions, free))
}
