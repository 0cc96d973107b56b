//! The dictionary in `f64`, of a width known when it is compiled.
//!
//! ```text
//! basic_i = sum over k of entry_ik . nonbasic_k         cost = constant + sum over k of slope_k . nonbasic_k
//! ```
//!
//! Rows and columns past the program's are 0 and stay so.

/// No position.
pub(super) const NONE: u8 = u8::MAX;

/// The end at which a nonbasic variable stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Side {
    Low,
    High,
}

impl Side {
    /// How a variable moves away from this end: 1 upwards, -1 downwards.
    pub(super) fn inwards(self) -> f64 {
        match self {
            Side::Low => 1.0,
            Side::High => -1.0,
        }
    }

    pub(super) fn other(self) -> Self {
        match self {
            Side::Low => Side::High,
            Side::High => Side::Low,
        }
    }
}

/// A variable (columns, then rows) with its ends, infinite where absent.
#[derive(Clone, Copy, Debug)]
pub(super) struct Spot {
    pub(super) variable: usize,
    pub(super) low: f64,
    pub(super) high: f64,
}

impl Spot {
    pub(super) fn end(&self, side: Side) -> f64 {
        match side {
            Side::Low => self.low,
            Side::High => self.high,
        }
    }

    /// True where it cannot move.
    pub(super) fn is_fixed(&self) -> bool {
        self.low == self.high
    }
}

const NOBODY: Spot = Spot { variable: usize::MAX, low: 0.0, high: 0.0 };

#[derive(Clone)]
pub(crate) struct Tableau<const WIDTH: usize> {
    pub(super) entries: [[f64; WIDTH]; WIDTH],
    pub(super) slopes: [f64; WIDTH],
    pub(super) basic: [Spot; WIDTH],
    /// What the basic variables come to.
    pub(super) values: [f64; WIDTH],
    pub(super) nonbasic: [Spot; WIDTH],
    pub(super) sides: [Side; WIDTH],
    /// The row in which each column of the program is basic, or none.
    pub(super) row_of: [u8; WIDTH],
    rows: usize,
    columns: usize,
    pivots: usize,
}

impl<const WIDTH: usize> Tableau<WIDTH> {
    pub(super) fn empty(rows: usize, columns: usize) -> Self {
        Tableau {
            entries: [[0.0; WIDTH]; WIDTH],
            slopes: [0.0; WIDTH],
            basic: [NOBODY; WIDTH],
            values: [0.0; WIDTH],
            nonbasic: [NOBODY; WIDTH],
            sides: [Side::Low; WIDTH],
            row_of: [NONE; WIDTH],
            rows,
            columns,
            pivots: 0,
        }
    }

    /// Becomes what `start` is; it was a copy of it before the search. Only what the program has is copied.
    pub(super) fn start_over(&mut self, start: &Self) {
        let rows = start.rows;
        self.entries[..rows].copy_from_slice(&start.entries[..rows]);
        self.slopes = start.slopes;
        self.basic[..rows].copy_from_slice(&start.basic[..rows]);
        self.values = start.values;
        self.nonbasic = start.nonbasic;
        self.sides = start.sides;
        self.row_of = start.row_of;
        self.pivots = 0;
    }

    pub(super) fn rows(&self) -> usize {
        self.rows
    }

    pub(super) fn columns(&self) -> usize {
        self.columns
    }

    pub(super) fn pivots(&self) -> usize {
        self.pivots
    }

    /// Where a nonbasic variable stands.
    pub(super) fn standing(&self, position: usize) -> f64 {
        self.nonbasic[position].end(self.sides[position])
    }

    /// How a nonbasic variable moves away from its end: 1 upwards, -1 downwards.
    pub(super) fn inwards(&self, position: usize) -> f64 {
        self.sides[position].inwards()
    }

    /// Moves a nonbasic variable to its other end.
    pub(super) fn flip(&mut self, position: usize) {
        let before = self.standing(position);
        self.sides[position] = self.sides[position].other();
        self.shift(position, self.standing(position) - before);
    }

    /// Gives the columns costs without pattern, of a tableau that no search has changed: the point of least cost then
    /// seldom touches more than it must. Each multiple of the golden ratio lies far from the ones before.
    pub(super) fn scatter_costs(&mut self) {
        self.slopes = [0.0; WIDTH];
        for (position, spot) in self.nonbasic[..self.columns].iter().enumerate() {
            let cost = (position as f64 * 0.618_033_988_749_895).fract() - 0.4;
            let side = if cost < 0.0 { Side::High } else { Side::Low };
            // Every column that is loaded has an end.
            (self.sides[position], self.slopes[position]) =
                if spot.end(side).is_finite() { (side, cost) } else { (side.other(), 0.0) };
        }
        self.follow_anew();
    }

    /// What the basic variables come to, from where the nonbasic ones stand.
    pub(super) fn follow_anew(&mut self) {
        for row in 0..self.rows {
            self.values[row] =
                (0..self.columns).map(|position| self.entries[row][position] * self.standing(position)).sum();
        }
    }

    /// What follows from a nonbasic variable that moved by `change`.
    pub(super) fn shift(&mut self, position: usize, change: f64) {
        for (value, entries) in self.values.iter_mut().zip(&self.entries[..self.rows]) {
            *value += entries[position] * change;
        }
    }

    /// Moves the basic variable of `row` to its end `side` by the nonbasic one at `position`, and lets the two change
    /// places.
    pub(super) fn exchange(&mut self, row: usize, position: usize, side: Side) {
        self.pivots += 1;
        let pivot = self.entries[row][position];
        let change = (self.basic[row].end(side) - self.values[row]) / pivot;
        let entered = self.standing(position) + change;
        self.shift(position, change);
        self.values[row] = entered;
        let leaving = std::mem::replace(&mut self.basic[row], self.nonbasic[position]);
        self.nonbasic[position] = leaving;
        self.sides[position] = side;
        for (spot, at) in [(leaving, NONE), (self.basic[row], row as u8)] {
            if spot.variable < self.columns {
                self.row_of[spot.variable] = at;
            }
        }
        let inverse = 1.0 / pivot;
        let mut across = self.entries[row];
        across[position] = -1.0;
        across.iter_mut().for_each(|entry| *entry *= -inverse);
        for entries in self.entries[..self.rows].iter_mut().chain([&mut self.slopes]) {
            let factor = std::mem::replace(&mut entries[position], 0.0);
            if factor != 0.0 {
                // Multiplied, then added: never fused, so that every machine gives the same bits.
                for (entry, across) in entries.iter_mut().zip(&across) {
                    *entry += factor * across;
                }
            }
        }
        self.entries[row] = across;
    }
}
