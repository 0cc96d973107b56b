//! A basis: which variables are free to follow and at which end each of the others stands. It is all that an optimum
//! needs to be told.
//!
//! Variables are numbered as in the dictionary: the columns, then the rows' activities. Whoever names a basis need not
//! be right; the exact values and multipliers that follow from it are worked out and checked in `proved`.

/// Where a variable stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// It follows from the others.
    Basic,
    /// At its low end.
    Low,
    /// At its high end.
    High,
}

/// Where every variable stands: the columns, then the rows. There are as many basic ones as rows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Basis {
    places: Vec<Place>,
    columns: usize,
}

impl Basis {
    /// A basis from the places of the columns and then of the rows.
    ///
    /// ```
    /// use tenside_lp::{Basis, Place};
    /// let basis = Basis::new(vec![Place::Basic, Place::Low, Place::High], 2);
    /// assert_eq!((basis.basic_columns(), basis.nonbasic_rows()), (vec![0], vec![0]));
    /// ```
    #[must_use]
    pub fn new(places: Vec<Place>, columns: usize) -> Self {
        Basis { places, columns }
    }

    /// The place of a column.
    ///
    /// # Panics
    /// If there is no such column.
    #[must_use]
    pub fn column(&self, index: usize) -> Place {
        self.places[index]
    }

    /// The place of a row's activity.
    ///
    /// # Panics
    /// If there is no such row.
    #[must_use]
    pub fn row(&self, index: usize) -> Place {
        self.places[self.columns + index]
    }

    /// The place of a variable.
    ///
    /// # Panics
    /// If there is no such variable.
    #[must_use]
    pub fn place(&self, variable: usize) -> Place {
        self.places[variable]
    }

    /// The columns that are basic.
    #[must_use]
    pub fn basic_columns(&self) -> Vec<usize> {
        (0..self.columns).filter(|&column| self.places[column] == Place::Basic).collect()
    }

    /// The rows that stand at an end.
    #[must_use]
    pub fn nonbasic_rows(&self) -> Vec<usize> {
        (0..self.places.len() - self.columns).filter(|&row| self.row(row) != Place::Basic).collect()
    }
}

/// What a search for a basis came to. Nothing of it is proved.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Candidate {
    /// This basis is taken to be optimal, and lexicographically so.
    Optimal(Basis),
    /// Of this basis, the dictionary row of this variable is taken to prove that no point is in all ranges.
    Infeasible {
        /// The basis.
        basis: Basis,
        /// The basic variable that cannot come into its range.
        variable: usize,
        /// True where it stays below its low end, false where it stays above its high end.
        below: bool,
    },
}
