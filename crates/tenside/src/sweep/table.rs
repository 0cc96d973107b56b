//! A sweep kept whole: one array a column, and which rows have a formula.

use std::ops::Range;

use rayon::prelude::*;

use super::array::{Array, Spare, zeros};
use super::axis::Axis;
use super::column::Column;
use super::definition::Sweep;
use super::level::Level;
use super::query::Query;
use super::regions::Regions;
use super::stream::front_of;
use super::writing::{Chosen, Part, Slot, Writer};
use crate::brief::Direction;
use crate::error::{Error, Fault, FaultKind};
use crate::measure::Basis;
use crate::watch::Unwatched;

/// Rows that one thread works at a time: a multiple of 64, so that no two threads share a byte of a bitmap.
const CHUNK: usize = 20_480;
/// What a table takes at most unless another limit is stated, in GiB.
pub const GIB_ALLOWED: u32 = 8;

/// Which cells of a column hold something.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Held {
    /// All.
    All,
    /// Those of rows with a formula.
    Feasible,
    /// Those of rows without one.
    Infeasible,
    /// Those whose bit is set, the lowest bit of the first byte first.
    Bits(Vec<u8>),
}

/// The cells of a column. What stands where a column holds nothing is 0 and means nothing.
#[derive(Clone, Debug, PartialEq)]
pub enum Cells {
    /// Numbers.
    Numbers(Array<f64>, Held),
    /// Codes; what their bits stand for is in the sweep's legends.
    Codes(Array<u64>, Held),
    /// Words, as places in a list.
    Words(Array<u32>, Vec<String>),
    /// Whether there is a formula: the table's own bits.
    Feasible,
}

/// How exact the numbers of a table are, in words.
pub const EXACTNESS: &str =
    "lines and measures are the exact solution to the nearest double; feasibility and codes are exact";

/// A sweep worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    sweep: Sweep,
    rows: usize,
    feasible: Vec<u8>,
    feasible_rows: usize,
    cells: Vec<Cells>,
}

impl Sweep {
    /// Works out every row.
    ///
    /// # Errors
    /// More than 8 GiB (see [`Sweep::table_within`]); values that are none together; briefs that cannot be asked.
    pub fn table(&self) -> Result<Table, Error> {
        self.table_within(GIB_ALLOWED, Level::best())
    }

    /// How many bytes a table of it takes.
    #[must_use]
    pub fn bytes(&self) -> u128 {
        self.bytes_of(self.rows())
    }

    fn bytes_of(&self, rows: u64) -> u128 {
        let of = |column: &Column| match column {
            Column::Axis { axis, .. } if matches!(self.axes()[*axis], Axis::Material { .. }) => 32,
            Column::Feasible => 1,
            Column::Measure(..) => 65,
            _ if column.is_worked_out() => 65,
            _ => 64,
        };
        let bits: u128 = self.columns().iter().map(of).sum::<u128>() + 1;
        u128::from(rows) * bits / 8 + 1
    }

    /// Works out every row if the table takes at most so many GiB. The result does not depend on how many threads work
    /// on it, nor on the level.
    ///
    /// # Errors
    /// As [`Sweep::table`].
    pub fn table_within(&self, gib: u32, level: Level) -> Result<Table, Error> {
        self.part(0..self.rows(), gib, level)
    }

    /// Works out consecutive rows: a part of the table, the same as the whole has there.
    ///
    /// # Errors
    /// As [`Sweep::table`], and rows that the sweep does not have.
    pub fn part(&self, rows: Range<u64>, gib: u32, level: Level) -> Result<Table, Error> {
        self.check_rows(&rows)?;
        self.work(&Chosen::Run(rows), gib, level, &mut Spare::default())
    }

    /// As [`Sweep::table_within`], in the memory of columns that are kept where it fits.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// use tenside::sweep::{GIB_ALLOWED, Level, Spare, Sweep};
    /// let sweep = Sweep::new(&Brief::new("Bar", &Catalogue::starter())?.fix("panthenol", 1)?.qs("kaolin")?, Vec::new())?;
    /// let mut spare = Spare::default();
    /// let first = sweep.table_over(GIB_ALLOWED, Level::best(), &mut spare)?;
    /// let copy = first.clone();
    /// first.leave(&mut spare);
    /// assert_eq!(spare.len(), 4);
    /// let second = sweep.table_over(GIB_ALLOWED, Level::best(), &mut spare)?;
    /// assert!(spare.is_empty() && second == copy);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// As [`Sweep::table`].
    pub fn table_over(&self, gib: u32, level: Level, spare: &mut Spare) -> Result<Table, Error> {
        self.work(&Chosen::Run(0..self.rows()), gib, level, spare)
    }

    /// Works out these rows, in this order.
    ///
    /// # Errors
    /// As [`Sweep::table`], and rows that the sweep does not have.
    pub fn pick(&self, rows: &[u64], level: Level) -> Result<Table, Error> {
        match rows.iter().find(|row| **row >= self.rows()) {
            Some(row) => Err(self.no_row(row).into()),
            None => self.work(&Chosen::Each(rows), GIB_ALLOWED, level, &mut Spare::default()),
        }
    }

    fn work(&self, chosen: &Chosen<'_>, gib: u32, level: Level, spare: &mut Spare) -> Result<Table, Error> {
        let bytes = self.bytes_of(chosen.len());
        if bytes > u128::from(gib) << 30 {
            let hundredths = (bytes * 100) >> 30;
            return Err(Fault::new(FaultKind::OutOfRange, "the table is too large to keep")
                .value(format!(
                    "{} rows of {} columns, {}.{:02} GiB",
                    chosen.len(),
                    self.columns().len(),
                    hundredths / 100,
                    hundredths % 100
                ))
                .allowed(format!("{gib} GiB"))
                .remedy(
                    "stream it (`stream`: best rows, Pareto front, counts, histograms), choose fewer columns, or \
                     allow more memory",
                )
                .into());
        }
        let rows = usize::try_from(chosen.len())
            .map_err(|_| Fault::new(FaultKind::OutOfRange, "more rows than this machine counts").value(chosen.len()))?;
        let filler = Regions::new(self, level)?;
        let query = filler.query();
        let bitmap = || zeros::<u8>(rows.div_ceil(8));
        let mut feasible = bitmap()?;
        let mut cells: Vec<Cells> = self
            .columns()
            .iter()
            .map(|column| {
                let held = match column {
                    Column::Conflict => Held::Infeasible,
                    _ if self.may_lack(column, query) => Held::Bits(bitmap()?),
                    _ => Held::Feasible,
                };
                Ok(match column {
                    Column::Axis { axis, .. } => match &self.axes()[*axis] {
                        Axis::Material { materials, .. } => Cells::Words(
                            Array::zeros(rows)?,
                            materials.iter().map(|material| material.id().to_string()).collect(),
                        ),
                        _ => Cells::Numbers(spare.numbers(rows)?, Held::All),
                    },
                    Column::Binding | Column::Conflict | Column::Review(_) => Cells::Codes(spare.codes(rows)?, held),
                    Column::Feasible => Cells::Feasible,
                    _ => Cells::Numbers(spare.numbers(rows)?, held),
                })
            })
            .collect::<Result<_, Error>>()?;
        let axis_values = self.columns().iter().map(|column| self.axis_values(column)).collect();
        let writer = Writer { sweep: self, filler: &filler, axis_values };
        let mut parts: Vec<Part<'_>> =
            feasible.chunks_mut(CHUNK / 8).map(|feasible| Part { feasible, slots: Vec::new() }).collect();
        for cells in &mut cells {
            match cells {
                Cells::Numbers(values, held) => {
                    let chunks = parts.iter_mut().zip(values.as_mut_slice().chunks_mut(CHUNK)).zip(bits_of(held));
                    chunks.for_each(|((part, values), bits)| part.slots.push(Slot::Numbers(values, bits)));
                }
                Cells::Codes(values, held) => {
                    let chunks = parts.iter_mut().zip(values.as_mut_slice().chunks_mut(CHUNK)).zip(bits_of(held));
                    chunks.for_each(|((part, values), bits)| part.slots.push(Slot::Codes(values, bits)));
                }
                Cells::Words(values, _) => parts
                    .iter_mut()
                    .zip(values.as_mut_slice().chunks_mut(CHUNK))
                    .for_each(|(part, values)| part.slots.push(Slot::Words(values))),
                Cells::Feasible => parts.iter_mut().for_each(|part| part.slots.push(Slot::None)),
            }
        }
        // Each chunk counts its rows with a formula.
        let feasible_rows = parts
            .into_par_iter()
            .enumerate()
            .map(|(chunk, part)| writer.write(&chosen.part(chunk * CHUNK, (chunk * CHUNK + CHUNK).min(rows)), part))
            .try_reduce(|| 0, |sum, more| Ok(sum + more))?;
        Ok(Table { sweep: self.unwatched(), rows, feasible, feasible_rows, cells })
    }

    /// Whether a column could hold nothing in a row that has a formula.
    fn may_lack(&self, column: &Column, query: &Query) -> bool {
        column.is_worked_out()
            || self.measure_in(column).is_some_and(|(measure, basis)| {
                query.may_be_unknown() || *basis != Basis::AsCharged || !measure.is_over_the_whole()
            })
    }

    /// The number of an axis column at each place of its axis; nothing for columns of other things.
    pub(super) fn axis_values(&self, column: &Column) -> Vec<f64> {
        let Column::Axis { axis, member } = column else { return Vec::new() };
        match &self.axes()[*axis] {
            Axis::Parameter(_, values) | Axis::Share { values, .. } | Axis::Moisture(values) => {
                values.iter().map(crate::number::Exact::to_f64).collect()
            }
            Axis::Lattice { lattice, .. } => {
                let whole = f64::from(lattice.steps());
                (0..lattice.len()).map(|index| f64::from(lattice.steps_at(index)[*member]) * 100.0 / whole).collect()
            }
            Axis::Material { .. } => Vec::new(),
        }
    }
}

/// The bitmap of a column chunk by chunk; nothing for one without.
fn bits_of(held: &mut Held) -> impl Iterator<Item = Option<&mut [u8]>> {
    let bits: &mut [u8] = if let Held::Bits(bits) = held { bits } else { &mut [] };
    bits.chunks_mut(CHUNK / 8).map(Some).chain(std::iter::repeat_with(|| None))
}

/// Whether the bit of a row is set.
fn bit(bits: &[u8], row: usize) -> bool {
    bits[row / 8] >> (row % 8) & 1 == 1
}

/// A column of numbers.
#[derive(Clone, Copy, Debug)]
pub struct Numbers<'a> {
    values: &'a [f64],
    held: &'a Held,
    feasible: &'a [u8],
}

impl<'a> Numbers<'a> {
    /// The number of a row; nothing where there is none.
    #[must_use]
    pub fn get(&self, row: usize) -> Option<f64> {
        let held = row < self.values.len()
            && match self.held {
                Held::All => true,
                Held::Feasible => bit(self.feasible, row),
                Held::Infeasible => !bit(self.feasible, row),
                Held::Bits(bits) => bit(bits, row),
            };
        held.then(|| self.values[row])
    }

    /// The cells as they are kept, 0 where there is nothing.
    #[must_use]
    pub fn cells(&self) -> &'a [f64] {
        self.values
    }
}

getters!(Table {
    /// The sweep.
    sweep: &Sweep,
    /// How many rows.
    rows: usize,
    /// How many rows have a formula.
    feasible_rows: usize,
    /// The columns, in the order of the sweep's.
    cells: &[Cells],
});

impl Table {
    /// True where a row has a formula.
    #[must_use]
    pub fn is_feasible(&self, row: usize) -> bool {
        row < self.rows && bit(&self.feasible, row)
    }

    /// Which rows have a formula, a bit each, the lowest bit of the first byte first.
    #[must_use]
    pub fn feasible_bits(&self) -> &[u8] {
        &self.feasible
    }

    /// Leaves the memory of its columns for another table.
    pub fn leave(self, spare: &mut Spare) {
        for cells in self.cells {
            match cells {
                Cells::Numbers(array, _) => spare.keep_numbers(array),
                Cells::Codes(array, _) => spare.keep_codes(array),
                Cells::Words(..) | Cells::Feasible => {}
            }
        }
    }

    /// The columns by value, and which rows have a formula.
    #[must_use]
    pub fn into_parts(self) -> (Vec<Cells>, Vec<u8>) {
        (self.cells, self.feasible)
    }

    /// The rows on the Pareto front of these columns, in their order: those that no other row is as good as in every
    /// column and better in one.
    ///
    /// # Errors
    /// An unknown name, a column that holds no numbers.
    pub fn pareto(&self, columns: &[(&str, Direction)]) -> Result<Vec<usize>, Error> {
        let numbers = columns.iter().map(|(name, _)| self.numbers(name)).collect::<Result<Vec<_>, _>>()?;
        let columns: Vec<(&[f64], Direction)> =
            numbers.iter().zip(columns).map(|(numbers, (_, direction))| (numbers.cells(), *direction)).collect();
        front_of(&columns, self.rows, |row| numbers.iter().all(|column| column.get(row).is_some()), &Unwatched)
    }

    /// A column of numbers, by name.
    ///
    /// # Errors
    /// An unknown name, and a column of other things.
    pub fn numbers(&self, name: &str) -> Result<Numbers<'_>, Error> {
        match &self.cells[self.sweep.column(name)?] {
            Cells::Numbers(values, held) => Ok(Numbers { values: values.as_slice(), held, feasible: &self.feasible }),
            _ => Err(holds_none("the column holds no numbers", name)),
        }
    }

    /// A column of codes, by name: `binding`, `conflict` or one of a review, 0 where it holds nothing.
    ///
    /// # Errors
    /// An unknown name, and a column of other things.
    pub fn codes(&self, name: &str) -> Result<&[u64], Error> {
        match &self.cells[self.sweep.column(name)?] {
            Cells::Codes(values, _) => Ok(values.as_slice()),
            _ => Err(holds_none("the column holds no codes", name)),
        }
    }
}

fn holds_none(message: &str, name: &str) -> Error {
    Fault::new(FaultKind::Unsupported, message).at(format!("column {name:?}")).into()
}
