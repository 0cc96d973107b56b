//! Sweeps a brief along two of its numbers and hands the table over as an Arrow record batch.
//!
//! `cargo run --example sweep_to_arrow`

use std::error::Error;
use std::sync::Arc;

use arrow_array::{ArrayRef, BooleanArray, Float64Array, RecordBatch, StringArray, UInt64Array};
use arrow_buffer::{BooleanBuffer, Buffer, NullBuffer};
use tenside::prelude::*;
use tenside::sweep::{Cells, Held, Table};

fn main() -> Result<(), Box<dyn Error>> {
    let batch = swept()?;
    println!("{} rows of {} columns", batch.num_rows(), batch.num_columns());
    for field in batch.schema().fields() {
        println!("{} ({})", field.name(), field.data_type());
    }
    Ok(())
}

pub(crate) fn swept() -> Result<RecordBatch, Box<dyn Error>> {
    let brief = Brief::new("Wash", &Catalogue::starter())?
        .split("wash", SplitBasis::Active, [("sci-powder", 14), ("capb-30", 1)])?
        .qs("kaolin")?
        .target(Measure::active_matter(), 50)?
        .at_most(Measure::water(), 9)?;
    let values = |from: i64, to: i64| Values::new(from..=to);
    let axes = vec![
        Axis::new(&brief, "wash.capb-30", values(1, 4)?)?,
        Varied::of_measure(&brief, &Measure::active_matter())?.over(values(50, 60)?)?,
    ];
    to_arrow(Sweep::new(&brief, axes)?.table()?)
}

fn to_arrow(table: Table) -> Result<RecordBatch, Box<dyn Error>> {
    let (rows, names) = (table.rows(), table.sweep().names().to_vec());
    let (cells, feasible) = table.into_parts();
    let bits = |bytes: Vec<u8>| BooleanBuffer::new(Buffer::from_vec(bytes), 0, rows);
    let feasible = bits(feasible);
    let nulls = |held: Held| match held {
        Held::All => None,
        Held::Feasible => Some(NullBuffer::new(feasible.clone())),
        Held::Infeasible => Some(NullBuffer::new(!&feasible)),
        Held::Bits(bytes) => Some(NullBuffer::new(bits(bytes))),
    };
    let column = |cells: Cells| -> ArrayRef {
        match cells {
            Cells::Numbers(numbers, held) => {
                Arc::new(Float64Array::new(numbers.as_slice().to_vec().into(), nulls(held)))
            }
            Cells::Codes(codes, held) => Arc::new(UInt64Array::new(codes.as_slice().to_vec().into(), nulls(held))),
            Cells::Words(places, words) => Arc::new(
                places.as_slice().iter().map(|place| Some(words[*place as usize].as_str())).collect::<StringArray>(),
            ),
            Cells::Feasible => Arc::new(BooleanArray::new(feasible.clone(), None)),
        }
    };
    Ok(RecordBatch::try_from_iter(names.into_iter().zip(cells.into_iter().map(column)))?)
}
