//! A linear program as plain data: columns with a range and a cost, rows with a range.

use crate::error::{Error, ErrorKind};
use crate::exact::Exact;

/// One unknown: its range and what one unit of it costs. An absent end is no limit.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Column {
    /// The least value allowed.
    pub low: Option<Exact>,
    /// The greatest value allowed.
    pub high: Option<Exact>,
    /// The cost of one unit.
    pub cost: Exact,
}

/// One linear form of the columns and its range. An absent end is no limit.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Row {
    /// One coefficient for each column.
    pub coefficients: Vec<Exact>,
    /// The least value allowed.
    pub low: Option<Exact>,
    /// The greatest value allowed.
    pub high: Option<Exact>,
}

/// Minimise `cost . x` with every column and every row in its range.
///
/// ```
/// use tenside_lp::{Column, Exact, Program, Row};
/// let column = Column { low: Some(Exact::ZERO), high: None, cost: Exact::ONE };
/// let row = Row { coefficients: vec![Exact::ONE, Exact::from(2)], low: Some(Exact::from(6)), high: None };
/// let program = Program::new(vec![column.clone(), column.clone()], vec![row.clone()])?;
/// assert_eq!(program.columns().len(), 2);
/// assert!(Program::new(vec![column], vec![row]).is_err());
/// # Ok::<(), tenside_lp::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Program {
    columns: Vec<Column>,
    rows: Vec<Row>,
}

impl Program {
    /// A program of these columns and rows. Ends that cross are no error: such a program is infeasible.
    ///
    /// # Errors
    /// The first row whose number of coefficients is not the number of columns.
    pub fn new(columns: Vec<Column>, rows: Vec<Row>) -> Result<Self, Error> {
        match rows.iter().enumerate().find(|(_, row)| row.coefficients.len() != columns.len()) {
            None => Ok(Program { columns, rows }),
            Some((index, row)) => {
                Err(Error::new(ErrorKind::OutOfRange, "the number of coefficients is not the number of columns")
                    .at(format!("rows[{index}].coefficients"))
                    .value(row.coefficients.len())
                    .allowed(columns.len().to_string())
                    .remedy("give one coefficient for each column, 0 where the column does not count"))
            }
        }
    }

    /// Changes columns and rows in place, by their index; rows keep their length.
    pub fn change(&mut self, mut column: impl FnMut(usize, &mut Column), mut row: impl FnMut(usize, &mut Row)) {
        self.columns.iter_mut().enumerate().for_each(|(index, changed)| column(index, changed));
        for (index, changed) in self.rows.iter_mut().enumerate() {
            row(index, changed);
            changed.coefficients.resize(self.columns.len(), Exact::ZERO);
        }
    }

    /// The columns.
    #[must_use]
    pub fn columns(&self) -> &[Column] {
        &self.columns
    }

    /// The rows.
    #[must_use]
    pub fn rows(&self) -> &[Row] {
        &self.rows
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_row_of_wrong_length_is_named() {
        let rows = [2, 2, 3].map(|count| Row { coefficients: vec![Exact::ONE; count], low: None, high: None });
        let error = Program::new(vec![Column::default(); 2], rows.to_vec()).unwrap_err();
        assert_eq!((error.kind, error.place.as_str()), (ErrorKind::OutOfRange, "rows[2].coefficients"));
        assert_eq!(error.allowed.as_deref(), Some("2"));
    }

    #[test]
    fn crossing_ends_are_carried() {
        let column = Column { low: Some(Exact::ONE), high: Some(Exact::ZERO), cost: Exact::ZERO };
        assert!(Program::new(vec![column], Vec::new()).is_ok());
    }
}
