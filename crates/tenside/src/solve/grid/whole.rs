//! The search among whole ppm, where rounding near the exact solution meets no formula: complete, so that a refusal is
//! proved.
//!
//! The points are those that meet every range and one-sided row, and miss no equation by more than it gives. How much
//! room each of them leaves is measured by linear programs; [`Coordinates`] put the directions of least room last, and
//! branch and bound ([`MixedProgram`]) goes by those first. Its tree is the proof.

use tenside_lp::mixed::{Found, Limits, MixedProgram, Tree};
use tenside_lp::{Column, Program, Row, dot, solve_watched};

use super::coordinates::Coordinates;
use super::rows::{Rows, fails};
use crate::brief::Brief;
use crate::error::Error;
use crate::number::{Exact, HalfWay, Ppm};
use crate::solve::constraint::Limit;
use crate::solve::member::rows_first;
use crate::solve::program::{giving, one_line};

/// How far from the exact solution is looked, in ppm, nearest first, before everywhere.
const REACHES: [i64; 2] = [16, 1024];
/// How far is looked once it is known that there is one somewhere.
const FARTHER: [i64; 4] = [1024, 8192, 65_536, 262_144];
/// How many linear programs are solved near the exact solution, everywhere, and to see whether one requirement less
/// would do.
const NODES_NEAR: usize = 100;
const MOST_NODES: usize = 4000;
const NODES_WITHOUT: usize = 400;
/// Programs up to this size in columns and rows have the room of their lines measured too; in larger ones it is their
/// range.
const MEASURED: usize = 64;
/// Room of one ppm, or of one unit of a row, in the whole numbers that directions are written in.
const SCALE: i64 = 1 << 40;
/// What has less room than this, in ppm or units, has none.
const NO_ROOM: f64 = 1.0 / 1024.0;

/// That no whole ppm will do: coordinates and a tree over them.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::solve) struct Proof {
    coordinates: Coordinates,
    tree: Tree,
}

/// What a search among whole ppm found: nothing where it is complete, which proves that there is no such formula, or where
/// it was cut off after so many linear programs.
pub(super) type Searched = Result<Vec<Ppm>, Result<Box<Proof>, usize>>;

pub(super) fn search(brief: &Brief, rows: &Rows<'_>, exact: &[Exact]) -> Result<Searched, Error> {
    let within = |reaches: &[i64], weighed: Weighed, nodes: usize| -> Result<Option<Vec<Ppm>>, Error> {
        for reach in reaches {
            let points = Points::new(rows, rows.around(brief, exact, *reach));
            let (coordinates, found) = points.searched(weighed, nodes)?;
            if let Some(percents) = points.met(&coordinates, &found) {
                return Ok(Some(percents));
            }
        }
        Ok(None)
    };
    if let Some(percents) = within(&REACHES, Weighed::Departures, NODES_NEAR)? {
        return Ok(Ok(percents));
    }
    let points = Points::new(rows, rows.in_parts());
    let (coordinates, found) = points.searched(Weighed::Nothing, MOST_NODES)?;
    Ok(match points.met(&coordinates, &found) {
        // One that is not so far off, where the first one found may be anywhere.
        Some(percents) => Ok(within(&FARTHER, Weighed::Nothing, NODES_WITHOUT)?.unwrap_or(percents)),
        None if found.complete => Err(Ok(Box::new(Proof { coordinates, tree: found.tree }))),
        None => Err(Err(found.tree.nodes())),
    })
}

impl Proof {
    /// What leaves no room: rows by their place, then lines by theirs. Of what the proof rests on, one after the other
    /// is left out where the rest leaves no room either.
    pub(super) fn support(&self, rows: &Rows<'_>) -> Result<Vec<Limit>, Error> {
        let mut points = Points::new(rows, rows.in_parts());
        let lines = points.lines.clone();
        // The first row is the sum to 100 %, the lines' ranges come next.
        let used: Vec<Limit> = self
            .tree
            .rows_used()
            .into_iter()
            .filter_map(|row| match row.checked_sub(1 + lines.len()) {
                Some(row) => Some(rows.rows[row].limit),
                None => row.checked_sub(1).map(|place| Limit::Line(lines[place])),
            })
            .collect();
        let all = rows.rows.iter().map(|row| row.limit).chain((0..rows.ranges.len()).map(Limit::Line));
        let unused = all.filter(|asked| !used.contains(asked));
        points = unused.fold(points, Points::without);
        let mut kept = Vec::new();
        for asked in used.into_iter().rev() {
            let fewer = points.clone().without(asked);
            let (_, found) = fewer.searched(Weighed::Nothing, NODES_WITHOUT)?;
            if found.best.is_none() && found.complete {
                points = fewer;
            } else {
                kept.push(asked);
            }
        }
        kept.reverse();
        Ok(rows_first(kept))
    }

    /// Checks without the search that the tree leaves no whole ppm.
    pub(super) fn verify(&self, rows: &Rows<'_>) -> Result<(), Error> {
        let points = Points::new(rows, rows.in_parts());
        if !self.coordinates.are_whole_both_ways(points.lines.len()) {
            return Err(fails("the coordinates of the refusal leave whole ppm out"));
        }
        match points.program(&self.coordinates, Weighed::Nothing)?.verify(&self.tree, &rows.watched)? {
            None => Ok(()),
            Some(_) => Err(fails("the refusal's proof leaves a formula possible")),
        }
    }
}

/// What a search minimises.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Weighed {
    Nothing,
    /// By how much equations are missed, each in what it gives.
    Departures,
}

/// The whole ppm inside some ranges that meet the rows.
#[derive(Clone)]
struct Points<'a> {
    rows: &'a Rows<'a>,
    /// Rows that are not asked for.
    without: Vec<Limit>,
    ranges: Vec<(i64, i64)>,
    /// The lines that can move.
    lines: Vec<usize>,
}

impl<'a> Points<'a> {
    fn new(rows: &'a Rows<'a>, ranges: Vec<(i64, i64)>) -> Self {
        let lines = (0..ranges.len()).filter(|line| ranges[*line].0 < ranges[*line].1).collect();
        Points { rows, without: Vec::new(), ranges, lines }
    }

    /// The same where a row may be missed by anything, or a line be anything from 0 to 100 %.
    fn without(mut self, asked: Limit) -> Self {
        match asked {
            Limit::Line(line) => self.ranges[line] = (0, i64::from(Ppm::WHOLE.parts())),
            row => self.without.push(row),
        }
        Points { without: self.without, ..Points::new(self.rows, self.ranges) }
    }

    /// The sum to 100 %, then the rows of the brief, over the lines that can move, in ppm.
    fn rows(&self) -> Vec<Row> {
        // What cannot move.
        let held = self.ranges.iter().map(|(low, high)| Exact::from(if low == high { *low } else { 0 }));
        let held: Vec<Exact> = held.collect();
        let whole = Exact::from(Ppm::WHOLE.parts()) - held.iter().sum::<Exact>();
        let mut rows =
            vec![Row { coefficients: vec![Exact::ONE; self.lines.len()], low: Some(whole.clone()), high: Some(whole) }];
        for asked in &self.rows.rows {
            let room = if asked.gives { self.rows.reach(asked.coefficients) } else { Exact::ZERO };
            let brought = dot(asked.coefficients, &held);
            let is_asked = !self.without.contains(&asked.limit);
            let low = asked.row.low.as_ref().filter(|_| is_asked).map(|low| low - &room - &brought);
            let high = asked.row.high.as_ref().filter(|_| is_asked).map(|high| high + &room - &brought);
            rows.push(Row {
                coefficients: self.lines.iter().map(|line| asked.coefficients[*line].clone()).collect(),
                low,
                high,
            });
        }
        rows
    }

    /// What a search of so many programs finds, over which coordinates: any point where nothing is weighed.
    fn searched(&self, weighed: Weighed, nodes: usize) -> Result<(Coordinates, Found), Error> {
        let coordinates = self.coordinates()?;
        let limits = Limits { nodes, any: weighed == Weighed::Nothing, halt: &self.rows.watched };
        let found = self.program(&coordinates, weighed)?.search(limits)?;
        Ok((coordinates, found))
    }

    /// Directions by the room that is left in them.
    fn coordinates(&self) -> Result<Coordinates, Error> {
        let rows = self.rows();
        let columns = self.lines.iter().map(|line| Column {
            low: Some(Exact::from(self.ranges[*line].0)),
            high: Some(Exact::from(self.ranges[*line].1)),
            cost: Exact::ZERO,
        });
        let mut program = Program::new(columns.collect(), rows.clone())?;
        let lines = self.lines.len();
        let mut directions = Vec::with_capacity(lines + rows.len());
        for (place, line) in self.lines.iter().enumerate() {
            let unit = one_line(lines, place);
            let range = self.ranges[*line];
            let room = if lines.max(rows.len()) > MEASURED {
                (range.1 - range.0) as f64
            } else {
                self.room(&mut program, &unit)?
            };
            directions.extend(direction(&unit, room));
        }
        directions.extend(direction(&rows[0].coefficients, 0.0));
        for row in &rows[1..] {
            // In the least whole numbers, so that a row without room is told from one with some.
            let whole = in_whole_numbers(&row.coefficients);
            let room = self.room(&mut program, &whole)?;
            directions.extend(direction(&whole, room));
        }
        Ok(Coordinates::reduced(&directions, lines))
    }

    /// How far a sum of the lines can move.
    fn room(&self, program: &mut Program, coefficients: &[Exact]) -> Result<f64, Error> {
        let mut end = |sign: i64| -> Result<Exact, Error> {
            program.change(|index, column| column.cost = &coefficients[index] * Exact::from(sign), |_, _| {});
            let outcome = solve_watched(program, &[], &self.rows.watched)?;
            Ok(outcome.optimum().map_or(Exact::ZERO, |optimum| &optimum.objective * Exact::from(sign)))
        };
        let (low, high) = (end(1)?, end(-1)?);
        Ok((high - low).to_f64())
    }

    /// The points as a program over coordinates, which are whole. Rows: the sum to 100 %, the lines' ranges, the rows
    /// of the brief.
    fn program(&self, coordinates: &Coordinates, weighed: Weighed) -> Result<MixedProgram, Error> {
        let along = |coefficients: &[Exact]| -> Vec<Exact> {
            let sum = |basis: &Vec<i64>| dot(coefficients, basis.iter().map(|step| Exact::from(*step)));
            coordinates.basis.iter().map(sum).collect()
        };
        let mut rows: Vec<Row> =
            self.rows().into_iter().map(|row| Row { coefficients: along(&row.coefficients), ..row }).collect();
        let ranges = self.lines.iter().enumerate().map(|(place, line)| Row {
            coefficients: coordinates.basis.iter().map(|step| Exact::from(step[place])).collect(),
            low: Some(Exact::from(self.ranges[*line].0)),
            high: Some(Exact::from(self.ranges[*line].1)),
        });
        rows.splice(1..1, ranges);
        let ends = |inverse: &Vec<i64>| {
            let (mut low, mut high) = (Exact::ZERO, Exact::ZERO);
            for (times, line) in inverse.iter().zip(&self.lines) {
                let (least, greatest) =
                    if *times < 0 { (self.ranges[*line].1, self.ranges[*line].0) } else { self.ranges[*line] };
                low += Exact::from(*times) * Exact::from(least);
                high += Exact::from(*times) * Exact::from(greatest);
            }
            Column { low: Some(low), high: Some(high), cost: Exact::ZERO }
        };
        let mut columns: Vec<Column> = coordinates.inverse.iter().map(ends).collect();
        let whole = vec![Some(Exact::ONE); columns.len()];
        if weighed == Weighed::Departures {
            self.weigh_departures(&mut columns, &mut rows);
        }
        Ok(MixedProgram::new(Program::new(columns, rows)?, self.lines.len(), whole)?.branching_from_the_last())
    }

    /// A column for each row that gives: by how much it is missed, `a x - p <= b` and `a x + p >= b`, the most costing
    /// one.
    fn weigh_departures(&self, columns: &mut Vec<Column>, rows: &mut Vec<Row>) {
        let asked = rows.len() - self.rows.rows.len();
        for place in 0..self.rows.rows.len() {
            let room = self.rows.reach(self.rows.rows[place].coefficients);
            if !self.rows.rows[place].gives || room.is_zero() {
                continue;
            }
            let column = columns.len();
            columns.push(Column { low: Some(Exact::ZERO), high: Some(room.clone()), cost: Exact::ONE / &room });
            let Row { coefficients, low, high } = rows[asked + place].clone();
            let ends = [low.map(|low| low + &room), high.map(|high| high - &room)];
            rows.extend(giving(&coefficients, ends, (column, &Exact::ONE), column + 1));
        }
        rows.iter_mut().for_each(|row| row.coefficients.resize(columns.len(), Exact::ZERO));
    }

    /// What a search found, in ppm, if it meets every row.
    fn met(&self, coordinates: &Coordinates, found: &Found) -> Option<Vec<Ppm>> {
        let values = found.best.as_ref()?;
        let mut parts: Vec<Exact> = self.ranges.iter().map(|(low, _)| Exact::from(*low)).collect();
        for (place, line) in self.lines.iter().enumerate() {
            parts[*line] = dot(coordinates.basis.iter().map(|step| Exact::from(step[place])), values);
        }
        let percent = |parts: &Exact| Ppm::from_percent(parts / Exact::from(10_000)).ok();
        let percents = parts.iter().map(percent).collect::<Option<Vec<Ppm>>>()?;
        self.rows.are_met(&percents).then_some(percents)
    }
}

/// A direction of so much room: the less room, the longer it is. Nothing where it is longer than 128 bits.
fn direction(coefficients: &[Exact], room: f64) -> Option<Vec<i128>> {
    let scale = SCALE as f64 / room.max(NO_ROOM);
    let scale = Exact::from_binary(if room < NO_ROOM { scale.round() } else { scale })?;
    let entry = |coefficient: &Exact| (coefficient * &scale).rounded_to(&Exact::ONE, HalfWay::ToEven).to_whole();
    coefficients.iter().map(entry).collect()
}

/// The same direction in the least whole numbers.
fn in_whole_numbers(coefficients: &[Exact]) -> Vec<Exact> {
    let common = coefficients.iter().fold(Exact::ZERO, |common, coefficient| common.common_measure(coefficient));
    coefficients.iter().map(|coefficient| coefficient.checked_div(&common).unwrap_or_default()).collect()
}
