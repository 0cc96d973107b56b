//! The memory of a column.
//!
//! A large column lies in pages of its own, taken from the system as huge ones where it has them: first touching a
//! hundred megabytes in pages of four kilobytes takes longer than working them out. Nothing is read from or written to
//! any file.

use std::fmt;

use bytemuck::Pod;
use memmap2::{MmapMut, MmapOptions};

use crate::error::{Error, Fault, FaultKind};

/// Columns from this many bytes on have pages of their own.
const LARGE: usize = 4 << 20;
/// What a huge page is aligned to.
const HUGE: usize = 2 << 20;

enum Memory<T> {
    Heap(Vec<T>),
    /// Pages, and the byte at which the column begins.
    Pages(MmapMut, usize),
}

/// A column's cells, 0 to begin with.
pub struct Array<T> {
    memory: Memory<T>,
    length: usize,
}

impl<T: Pod> Array<T> {
    /// So many zeros.
    ///
    /// # Errors
    /// `NoMemory` where there is none for them.
    pub fn zeros(length: usize) -> Result<Self, Error> {
        let bytes = length.saturating_mul(size_of::<T>());
        let pages = (bytes >= LARGE).then(|| Self::pages(bytes)).flatten();
        let memory = match pages {
            Some(pages) => pages,
            None => Memory::Heap(zeros(length)?),
        };
        Ok(Array { memory, length })
    }

    /// Nothing where the system gives no pages; ordinary memory does as well.
    fn pages(bytes: usize) -> Option<Memory<T>> {
        let map = MmapOptions::new().len(bytes.checked_add(HUGE)?).map_anon().ok()?;
        #[cfg(target_os = "linux")]
        {
            // A wish: where it is not granted the pages are small.
            let _ = map.advise(memmap2::Advice::HugePage);
        }
        let start = map.as_ptr().align_offset(HUGE);
        (start <= HUGE).then_some(Memory::Pages(map, start))
    }

    /// The cells.
    #[must_use]
    pub fn as_slice(&self) -> &[T] {
        match &self.memory {
            Memory::Heap(cells) => cells,
            Memory::Pages(map, start) => bytemuck::cast_slice(&map[*start..*start + self.length * size_of::<T>()]),
        }
    }

    /// The cells, to be written.
    pub fn as_mut_slice(&mut self) -> &mut [T] {
        match &mut self.memory {
            Memory::Heap(cells) => cells,
            Memory::Pages(map, start) => {
                bytemuck::cast_slice_mut(&mut map[*start..*start + self.length * size_of::<T>()])
            }
        }
    }
}

/// Columns that are no longer needed, kept for a table of the same size: memory that was touched before takes a third
/// of the time.
#[derive(Clone, Debug, Default)]
pub struct Spare {
    numbers: Vec<Array<f64>>,
    codes: Vec<Array<u64>>,
}

impl Spare {
    /// Keeps a column of numbers.
    pub fn keep_numbers(&mut self, array: Array<f64>) {
        self.numbers.push(array);
    }

    /// Keeps a column of codes.
    pub fn keep_codes(&mut self, array: Array<u64>) {
        self.codes.push(array);
    }

    /// How many columns are kept.
    #[must_use]
    pub fn len(&self) -> usize {
        self.numbers.len() + self.codes.len()
    }

    /// True where none is kept.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// A column of any content; zeros where none of the length is kept.
    pub(super) fn numbers(&mut self, length: usize) -> Result<Array<f64>, Error> {
        take(&mut self.numbers, length)
    }

    /// A column of any content; zeros where none of the length is kept.
    pub(super) fn codes(&mut self, length: usize) -> Result<Array<u64>, Error> {
        take(&mut self.codes, length)
    }
}

fn take<T: Pod>(kept: &mut Vec<Array<T>>, length: usize) -> Result<Array<T>, Error> {
    match kept.iter().position(|array| array.length == length) {
        Some(place) => Ok(kept.swap_remove(place)),
        None => Array::zeros(length),
    }
}

/// So many zeros, or the news that there is no memory for them.
pub(super) fn zeros<T: Pod>(length: usize) -> Result<Vec<T>, Error> {
    let mut cells = Vec::new();
    cells.try_reserve_exact(length).map_err(|_| {
        Fault::new(FaultKind::NoMemory, "the machine has no memory for the table")
            .value(format!("{} bytes for one column", length.saturating_mul(size_of::<T>())))
            .remedy(
                "stream it (`stream`: best rows, Pareto front, counts, histograms), or choose fewer columns or rows",
            )
    })?;
    cells.resize(length, T::zeroed());
    Ok(cells)
}

/// The bytes of the cells, for handing the memory on whole.
impl<T: Pod> AsRef<[u8]> for Array<T> {
    fn as_ref(&self) -> &[u8] {
        bytemuck::cast_slice(self.as_slice())
    }
}

impl<T: Pod> Clone for Array<T> {
    fn clone(&self) -> Self {
        Array { memory: Memory::Heap(self.as_slice().to_vec()), length: self.length }
    }
}

impl<T: Pod + PartialEq> PartialEq for Array<T> {
    fn eq(&self, other: &Self) -> bool {
        self.as_slice() == other.as_slice()
    }
}

impl<T: Pod + fmt::Debug> fmt::Debug for Array<T> {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.debug_list().entries(self.as_slice()).finish()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn small_and_large_arrays_are_alike() {
        for length in [0, 1, 1000, LARGE / 8 - 1, LARGE / 8, 1_000_003] {
            let mut array: Array<f64> = Array::zeros(length).unwrap();
            assert!(array.as_slice().len() == length && array.as_slice().iter().all(|cell| *cell == 0.0));
            array.as_mut_slice().iter_mut().enumerate().for_each(|(place, cell)| *cell = place as f64);
            assert_eq!(array.as_ref().len(), length * 8);
            assert!(array.clone() == array);
            assert_eq!(array.as_slice().last().copied(), length.checked_sub(1).map(|last| last as f64));
        }
    }

    #[test]
    fn what_no_machine_has_is_an_error() {
        for length in [usize::MAX, usize::MAX / 8, 1 << 60] {
            let error = Array::<f64>::zeros(length).unwrap_err();
            assert!(error.is_no_memory() && error.to_string().contains("stream it"), "{error}");
            assert!(zeros::<u8>(length.max(1 << 62)).unwrap_err().is_no_memory());
        }
    }
}
