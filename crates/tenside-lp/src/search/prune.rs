//! A conflict made irreducible in `f64`, with every step proved: members go that the others conflict without.
//!
//! Each member is left out in turn (deletion filter: J. W. Chinneck and E. W. Dravnieks, ORSA Journal on Computing 3,
//! 1991; from memory). Where the others still conflict, which the multipliers prove, it stays out; one that the
//! multipliers at hand do not use goes without a search. Where a point in all ranges is proved, it is needed. Where
//! neither is sure, the caller's exact arithmetic tells. So what is left is what the filter leaves in exact arithmetic,
//! whatever the search met on the way.
//!
//! A point that touches its ranges cannot be proved with bounds of rounding, so the search looks inside ranges that are
//! narrower by [`INWARDS`], and the point found is held against the ranges as they were asked. A variable at a narrower
//! end stands at that stored number, inside what was asked; the others follow from it, and the filter's bounds for them
//! do not care where it stands. What the narrower ranges forbid counts only if its multipliers forbid it in the ranges
//! asked for too.

use super::dual::{Ended, pivot_to_end};
use super::ends::Whereabouts;
use super::filter::{Room, combination, is_feasible, is_out_of_reach};
use super::load;
use super::tableau::{Side, Spot, Tableau};
use crate::linear::Program;

/// A variable (columns, then rows) that can be left out, and the ends it has then.
#[derive(Clone, Copy, Debug)]
pub struct Removable {
    /// Its number.
    pub variable: usize,
    /// Its low end without the member; infinite if there is none.
    pub low: f64,
    /// Its high end without the member; infinite if there is none.
    pub high: f64,
}

/// Multipliers and sums below this, times the greatest, are roundings in the place of 0.
const ROUNDING: f64 = 1e-11;
/// How much narrower a range is at each end, times 1 + the magnitude of the end: more than the search lets be.
const INWARDS: f64 = 1e-6;
/// Entries below this are not divided by to bring a variable into the basis.
const SMALLEST_ENTRY: f64 = 1e-7;

/// The members that are left of a conflict.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pruned {
    /// Their places in the list of all.
    pub members: Vec<usize>,
    /// How many steps exact arithmetic had to tell.
    pub asked: usize,
    /// How many steps of the simplex method the searches took.
    pub pivots: usize,
}

/// The members of an irreducible conflict among `all`, which conflict together: without any one of them the others can
/// be met. What `f64` cannot tell is asked of `conflicts`, by places in the list of all. `None` if the program is none
/// for the search, or a variable is none of its own.
///
/// ```
/// use tenside_lp::search::{Removable, prune};
/// use tenside_lp::{Column, Exact, Program, Row};
/// // At least 3 of something that ends at 1, and, for no harm, at most 9 of it.
/// let column = Column { low: Some(Exact::ZERO), high: Some(Exact::ONE), cost: Exact::ZERO };
/// let row = |low: Option<i64>, high: Option<i64>| Row { coefficients: vec![Exact::ONE], low: low.map(Exact::from), high: high.map(Exact::from) };
/// let program = Program::new(vec![column], vec![row(None, Some(9)), row(Some(3), None)])?;
/// let rows = [1, 2].map(|variable| Removable { variable, low: f64::NEG_INFINITY, high: f64::INFINITY });
/// let pruned = prune(&program, &rows, &mut |kept| kept.contains(&1)).unwrap();
/// assert_eq!(pruned.members, [1]);
/// # Ok::<(), tenside_lp::Error>(())
/// ```
pub fn prune(program: &Program, all: &[Removable], conflicts: &mut dyn FnMut(&[usize]) -> bool) -> Option<Pruned> {
    let (columns, rows) = (program.columns().len(), program.rows().len());
    if all.iter().any(|member| member.variable >= columns + rows) {
        return None;
    }
    with_width!(columns.max(rows), WIDTH => Some(Pruning::<WIDTH>::new(program)?.prune(all, conflicts)))
}

struct Pruning<const WIDTH: usize> {
    /// The program with the ranges that are still asked for.
    asked: Box<Tableau<WIDTH>>,
    /// The same with narrower ranges and costs without pattern.
    narrow: Box<Tableau<WIDTH>>,
    work: Box<Tableau<WIDTH>>,
    /// How the last search ended; nothing where `work` is no basis to go on from.
    ended: Option<Ended>,
    /// The last tableau that ended in a conflict.
    kept: Box<Tableau<WIDTH>>,
    room: Box<Room<WIDTH>>,
    order: [u8; WIDTH],
    pivots: usize,
}

impl<const WIDTH: usize> Pruning<WIDTH> {
    /// Loads the program; nothing where it is none for this method or this width, or a range is empty by itself, which
    /// no search sees of what stands at an end.
    fn new(program: &Program) -> Option<Self> {
        let asked = Box::new(Tableau::load(program)?);
        let mut narrow = asked.clone();
        for variable in 0..narrow.columns() + narrow.rows() {
            let spot = asked.start_spot(variable);
            if spot.low > spot.high {
                return None;
            }
            narrow.set_start_spot(narrower(spot));
        }
        narrow.scatter_costs();
        let order = load::order(program, &[]);
        Some(Pruning {
            work: narrow.clone(),
            kept: narrow.clone(),
            narrow,
            asked,
            ended: None,
            room: Box::new(Room::new()),
            order,
            pivots: 0,
        })
    }

    /// The members of an irreducible conflict among `all`, which conflict together. Costs do not matter to what is in
    /// it.
    fn prune(&mut self, all: &[Removable], conflicts: &mut dyn FnMut(&[usize]) -> bool) -> Pruned {
        let mut pruned = Pruned { members: (0..all.len()).collect(), asked: 0, pivots: 0 };
        self.search();
        let mut tried = 0;
        while tried < pruned.members.len() {
            let Removable { variable, low, high } = all[pruned.members[tried]];
            let without = Spot { variable, low, high };
            if self.conflicts_without(without) {
                pruned.members.remove(tried);
                continue;
            }
            let before = self.asked.start_spot(variable);
            let standing = self.ended;
            self.kept.start_over(&self.work);
            self.leave_out(without);
            self.search();
            if self.ended.is_some_and(|ended| is_out_of_reach(&self.asked, &self.work, ended)) {
                pruned.members.remove(tried);
                continue;
            }
            if !self.is_proved_feasible() {
                pruned.asked += 1;
                let mut fewer = pruned.members.clone();
                fewer.remove(tried);
                if conflicts(&fewer) {
                    pruned.members = fewer;
                    self.ended = None;
                    continue;
                }
            }
            self.ask_for(before);
            self.work.start_over(&self.kept);
            self.ended = standing;
            tried += 1;
        }
        pruned.pivots = self.pivots;
        pruned
    }

    /// Searches from where the last search ended, else from the start.
    fn search(&mut self) {
        let before = self.work.pivots();
        let warm = self.ended.is_some() && self.work.mend();
        self.ended = if warm { pivot_to_end(&mut self.work, &self.order) } else { None };
        self.pivots += self.work.pivots() - before;
        if self.ended.is_none() {
            self.narrow.follow_anew();
            self.work.start_over(&self.narrow);
            self.ended = pivot_to_end(&mut self.work, &self.order);
            self.pivots += self.work.pivots();
        }
    }

    /// That the point where the search ended is inside the ranges asked for.
    fn is_proved_feasible(&mut self) -> bool {
        if self.ended != Some(Ended::Optimal) {
            return false;
        }
        for row in 0..self.work.rows() {
            if self.work.basic[row].is_fixed() {
                self.work.let_leave(row);
            }
        }
        for spot in &mut self.work.basic[..self.asked.rows()] {
            *spot = self.asked.start_spot(spot.variable);
        }
        // The basic ones have other ends now, so there is no going on from here.
        self.ended = None;
        is_feasible(&self.asked, &self.work, &mut self.room)
    }

    /// Gives a member the ends that it has when left out.
    fn leave_out(&mut self, without: Spot) {
        self.ask_for(without);
        let narrow = narrower(without);
        let Some(ended) = self.ended else { return };
        if let Whereabouts::Nonbasic(position) = self.work.whereabouts(narrow.variable)
            && !narrow.end(self.work.sides[position]).is_finite()
            && !self.work.let_enter(position, ended)
        {
            self.ended = None;
            return;
        }
        self.work.change_ends(narrow.variable, narrow.low, narrow.high);
    }

    /// Gives a variable these ends at the start of the next searches.
    fn ask_for(&mut self, spot: Spot) {
        self.asked.set_start_spot(spot);
        self.narrow.set_start_spot(narrower(spot));
    }

    /// Leaves a member out if the multipliers at hand do not use it, and so prove that the others conflict without it.
    fn conflicts_without(&mut self, without: Spot) -> bool {
        let Some(ended @ Ended::Infeasible { .. }) = self.ended else { return false };
        let Spot { variable, low, high } = without;
        let (rows, sums, _) = combination(&self.asked, &self.work, ended);
        let columns = self.asked.columns();
        let greatest = rows.iter().chain(&sums).fold(0.0f64, |greatest, number| greatest.max(number.abs()));
        let before = self.asked.start_spot(variable);
        let is_used = if variable >= columns {
            rows[variable - columns].abs() > ROUNDING * greatest
        } else {
            let sum = sums[variable];
            sum.abs() > ROUNDING * greatest && if sum < 0.0 { before.low != low } else { before.high != high }
        };
        if is_used {
            return false;
        }
        self.asked.set_start_spot(without);
        if !is_out_of_reach(&self.asked, &self.work, ended) {
            self.asked.set_start_spot(before);
            return false;
        }
        self.leave_out(without);
        true
    }
}

/// The range with its ends moved inwards, by a quarter of its width at most.
fn narrower(spot: Spot) -> Spot {
    let inwards = |end: f64| (INWARDS * (1.0 + end.abs())).min((spot.high - spot.low) / 4.0);
    let (mut low, mut high) = (spot.low, spot.high);
    if spot.low.is_finite() {
        low += inwards(spot.low);
    }
    if spot.high.is_finite() {
        high -= inwards(spot.high);
    }
    Spot { low, high, ..spot }
}

impl<const WIDTH: usize> Tableau<WIDTH> {
    /// A variable of a tableau that no search has changed.
    fn start_spot(&self, variable: usize) -> Spot {
        if variable < self.columns() { self.nonbasic[variable] } else { self.basic[variable - self.columns()] }
    }

    /// Gives a variable of a tableau that no search has changed other ends; what follows from them has to be worked out
    /// anew.
    fn set_start_spot(&mut self, spot: Spot) {
        match spot.variable.checked_sub(self.columns()) {
            None => self.nonbasic[spot.variable] = spot,
            Some(row) => self.basic[row] = spot,
        }
    }

    /// Brings the nonbasic variable at this position into the basis: for the one that ended the search, else for the
    /// one on which it tells most. False where it tells on none.
    fn let_enter(&mut self, position: usize, ended: Ended) -> bool {
        let size = |row: usize| self.entries[row][position].abs();
        let found = match ended {
            Ended::Infeasible { row, side } if size(row) > SMALLEST_ENTRY => Some((row, side)),
            _ => {
                let ending = |row: &usize| self.basic[*row].low.is_finite() || self.basic[*row].high.is_finite();
                greatest((0..self.rows()).filter(ending), size).map(|row| {
                    let (spot, value) = (self.basic[row], self.values[row]);
                    let is_nearer_low = (value - spot.low).abs() <= (spot.high - value).abs();
                    (row, if is_nearer_low { Side::Low } else { Side::High })
                })
            }
        };
        if let Some((row, side)) = found {
            self.exchange(row, position, side);
        }
        found.is_some()
    }

    /// Lets the basic variable of this row, which stands at its end, change places with one that can move, if there is
    /// any.
    fn let_leave(&mut self, row: usize) {
        let movable = (0..self.columns()).filter(|position| !self.nonbasic[*position].is_fixed());
        if let Some(position) = greatest(movable, |position| self.entries[row][position].abs()) {
            self.exchange(row, position, Side::Low);
        }
    }
}

/// The one of greatest size, if that can be divided by.
fn greatest(places: impl Iterator<Item = usize>, size: impl Fn(usize) -> f64) -> Option<usize> {
    places.max_by(|first, second| size(*first).total_cmp(&size(*second))).filter(|place| size(*place) > SMALLEST_ENTRY)
}

#[cfg(test)]
mod tests {
    use super::super::tests::{Numbers, program};
    use super::*;
    use crate::exact::Exact;
    use crate::linear::{Column, Outcome, Program, Row, solve};

    /// The program with only these members, the others loosened.
    fn only(program: &Program, all: &[Removable], kept: &[usize]) -> Program {
        let columns = program.columns().len();
        let is_kept = |variable: usize| kept.iter().any(|member| all[*member].variable == variable);
        let loosened = |index: usize, column: &Column| {
            if is_kept(index) {
                column.clone()
            } else {
                Column { low: Some(Exact::ZERO), high: Some(Exact::hundred()), cost: Exact::ZERO }
            }
        };
        let rows = program.rows().iter().enumerate().map(|(index, row)| {
            if is_kept(columns + index) || index == 0 {
                row.clone()
            } else {
                Row { coefficients: row.coefficients.clone(), low: None, high: None }
            }
        });
        Program::new(
            program.columns().iter().enumerate().map(|(index, column)| loosened(index, column)).collect(),
            rows.collect(),
        )
        .unwrap()
    }

    #[test]
    fn a_range_that_is_empty_by_itself_is_not_for_the_search() {
        let column = |low: i64, high: i64| Column {
            low: Some(Exact::from(low)),
            high: Some(Exact::from(high)),
            cost: Exact::ZERO,
        };
        let row = |low: i64, high: i64| Row {
            coefficients: vec![Exact::ONE, Exact::ONE],
            low: Some(Exact::from(low)),
            high: Some(Exact::from(high)),
        };
        let is_taken = |columns: [Column; 2], rows: Vec<Row>| {
            Pruning::<16>::new(&Program::new(columns.to_vec(), rows).unwrap()).is_some()
        };
        assert!(is_taken([column(0, 1), column(0, 1)], vec![row(3, 3)]));
        assert!(!is_taken([column(0, 1), column(2, 1)], vec![row(3, 3)]));
        assert!(!is_taken([column(0, 1), column(0, 1)], vec![row(3, 3), row(2, 1)]));
    }

    /// A variable at a narrower end counts as inside what was asked, so it must be.
    #[test]
    fn narrower_ranges_are_inside_what_was_asked() {
        for low in [0.0, 0.5, -0.25, 3.0, -100.0, 1e6] {
            for width in [0.0, 1e-7, 1e-3, 1.0, 4.0, 1e6, f64::INFINITY] {
                for spot in
                    [Spot { variable: 0, low, high: low + width }, Spot { variable: 0, low: -width - low, high: -low }]
                {
                    let inside = narrower(spot);
                    assert!(
                        spot.low <= inside.low && inside.low <= inside.high && inside.high <= spot.high,
                        "{spot:?}: {inside:?}"
                    );
                    for (end, moved) in [(spot.low, inside.low - spot.low), (spot.high, spot.high - inside.high)] {
                        // By more than the search lets be, or by a good part of the width.
                        assert!(
                            !end.is_finite() || moved >= (1e-8 * (1.0 + end.abs())).min(width / 5.0),
                            "{spot:?}: {inside:?}"
                        );
                    }
                }
            }
        }
    }

    /// Both rows ask for more than the columns reach, so either goes; in a tableau that is full.
    #[test]
    fn any_row_may_go() {
        let column = Column { low: Some(Exact::ZERO), high: Some(Exact::ONE), cost: Exact::ZERO };
        for lows in [[3, 5], [5, 3]] {
            let rows =
                lows.map(|low| Row { coefficients: vec![Exact::ONE; 2], low: Some(Exact::from(low)), high: None });
            let program = Program::new(vec![column.clone(); 2], rows.to_vec()).unwrap();
            let all: Vec<Removable> = [2, 3]
                .map(|variable| Removable { variable, low: f64::NEG_INFINITY, high: f64::INFINITY })
                .into_iter()
                .chain([0, 1].map(|variable| Removable { variable, low: 0.0, high: 100.0 }))
                .collect();
            let mut conflicts = |kept: &[usize]| [2, 3].iter().all(|column| kept.contains(column)) && kept.len() > 2;
            let Pruned { members, .. } = Pruning::<2>::new(&program).unwrap().prune(&all, &mut conflicts);
            assert!(members == [0, 2, 3] || members == [1, 2, 3], "{members:?}");
        }
    }

    #[test]
    fn what_is_left_conflicts_and_nothing_less_does() {
        let mut numbers = Numbers(31);
        let (mut pruned, mut asked, mut pivots, mut sizes) = (0, 0, 0, [0; 8]);
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
                .chain((1..program.rows().len()).map(|row| Removable {
                    variable: columns + row,
                    low: f64::NEG_INFINITY,
                    high: f64::INFINITY,
                }))
                .collect();
            let mut conflicts = |kept: &[usize]| matches!(solve(&only(&program, &all, kept)), Outcome::Infeasible(_));
            let Pruned { members: kept, asked: steps, pivots: taken } =
                Pruning::<16>::new(&program).unwrap().prune(&all, &mut conflicts);
            asked += steps;
            pivots += taken;
            pruned += 1;
            sizes[kept.len().min(7)] += 1;
            assert!(
                matches!(solve(&only(&program, &all, &kept)), Outcome::Infeasible(_)),
                "{kept:?} do not conflict: {program:?}"
            );
            for left_out in &kept {
                let fewer: Vec<usize> = kept.iter().copied().filter(|member| member != left_out).collect();
                assert!(
                    matches!(solve(&only(&program, &all, &fewer)), Outcome::Optimal(_)),
                    "{fewer:?} of {kept:?} conflict: {program:?}"
                );
            }
        }
        assert!(pruned > 100 && sizes[3..].iter().sum::<usize>() > 20, "{pruned} {sizes:?}");
        // No more than when this was measured; the numbers are the same on every machine.
        assert!((1..=6).contains(&asked) && (1000..=1251).contains(&pivots), "{asked} {pivots}");
    }
}
