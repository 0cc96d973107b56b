//! Tables handed over as Arrow: one record batch over the arrays as they were filled. All of the capsule code is here.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, Weak};

use arrow_array::builder::StringBuilder;
use arrow_array::cast::AsArray;
use arrow_array::ffi::FFI_ArrowSchema;
use arrow_array::ffi_stream::FFI_ArrowArrayStream;
use arrow_array::types::{Float64Type, Int64Type, UInt32Type, UInt64Type};
use arrow_array::{
    Array, ArrayRef, BooleanArray, DictionaryArray, Float64Array, RecordBatch, RecordBatchIterator, RecordBatchReader,
    UInt32Array, UInt64Array,
};
use arrow_buffer::{BooleanBuffer, Buffer, NullBuffer, ScalarBuffer};
use arrow_schema::{ArrowError, DataType, Field, Schema};
use pyo3::prelude::*;
use pyo3::types::{PyCapsule, PyDict, PyList};
use tenside::sweep::{Array as Memory, Cells, Held, Spare, Sweep, Table};

use crate::convert::failure::{Failure, Outcome};

pub(crate) fn failed(error: ArrowError) -> Failure {
    Failure::Python(pyo3::exceptions::PyRuntimeError::new_err(format!("the table cannot be handed over: {error}")))
}

/// Where the columns of a sweep's tables go when nobody needs them any more, for its next table.
pub(crate) type Pool = Arc<Mutex<Spare>>;

/// A column that goes back when the last buffer over it is dropped.
struct Lent<T: Pooled> {
    memory: Option<Memory<T>>,
    pool: Weak<Mutex<Spare>>,
    /// Columns that the pool keeps at most.
    most: usize,
}

/// What a pool keeps.
trait Pooled: Sized {
    fn keep(memory: Memory<Self>, spare: &mut Spare);
}

impl Pooled for f64 {
    fn keep(memory: Memory<f64>, spare: &mut Spare) {
        spare.keep_numbers(memory);
    }
}

impl Pooled for u64 {
    fn keep(memory: Memory<u64>, spare: &mut Spare) {
        spare.keep_codes(memory);
    }
}

impl<T: Pooled> AsRef<[u8]> for Lent<T>
where
    Memory<T>: AsRef<[u8]>,
{
    fn as_ref(&self) -> &[u8] {
        self.memory.as_ref().map_or(&[], AsRef::as_ref)
    }
}

impl<T: Pooled> Drop for Lent<T> {
    fn drop(&mut self) {
        if let (Some(memory), Some(pool)) = (self.memory.take(), self.pool.upgrade())
            && let Ok(mut spare) = pool.lock()
            && spare.len() < self.most
        {
            T::keep(memory, &mut spare);
        }
    }
}

/// The memory of a column as a buffer that owns it.
fn owned<T>(memory: Memory<T>, pool: &Pool, most: usize) -> Buffer
where
    T: Pooled + Send + 'static,
    Memory<T>: AsRef<[u8]> + Send,
{
    Buffer::from(bytes::Bytes::from_owner(Lent { memory: Some(memory), pool: Arc::downgrade(pool), most }))
}

/// The table's arrays as one record batch, without copying them.
pub(crate) fn batch(table: Table, pool: &Pool) -> Outcome<RecordBatch> {
    let rows = table.rows();
    let sweep = table.sweep().clone();
    let (cells, feasible) = table.into_parts();
    let most = cells.len();
    let bits = |bytes: Vec<u8>| BooleanBuffer::new(Buffer::from_vec(bytes), 0, rows);
    let feasible = bits(feasible);
    let nulls = |held: Held| match held {
        Held::All => None,
        Held::Feasible => Some(NullBuffer::new(feasible.clone())),
        Held::Infeasible => Some(NullBuffer::new(!&feasible)),
        Held::Bits(bytes) => Some(NullBuffer::new(bits(bytes))),
    };
    // A column without a gap has no bitmap, so that numpy can take it as it is.
    let nulls = |held: Held| nulls(held).filter(|nulls| nulls.null_count() > 0);
    let arrays = cells.into_iter().map(|cells| -> Result<ArrayRef, ArrowError> {
        Ok(match cells {
            Cells::Numbers(values, held) => {
                Arc::new(Float64Array::new(ScalarBuffer::new(owned(values, pool, most), 0, rows), nulls(held)))
            }
            Cells::Codes(values, held) => {
                Arc::new(UInt64Array::new(ScalarBuffer::new(owned(values, pool, most), 0, rows), nulls(held)))
            }
            Cells::Words(places, words) => {
                let mut list = StringBuilder::new();
                words.iter().for_each(|word| list.append_value(word));
                Arc::new(DictionaryArray::<UInt32Type>::try_new(
                    UInt32Array::new(places.as_slice().to_vec().into(), None),
                    Arc::new(list.finish()),
                )?)
            }
            Cells::Feasible => Arc::new(BooleanArray::new(feasible.clone(), None)),
        })
    });
    let arrays = arrays.collect::<Result<Vec<_>, _>>().map_err(failed)?;
    RecordBatch::try_new(Arc::new(schema(&sweep, &arrays)), arrays).map_err(failed)
}

/// Names, types, units; what the bits of codes stand for, and how exact the numbers are.
fn schema(sweep: &Sweep, arrays: &[ArrayRef]) -> Schema {
    let fields = sweep.names().iter().zip(sweep.units()).zip(arrays).map(|((name, unit), array)| {
        let nullable = !matches!(array.data_type(), DataType::Boolean) && !name.starts_with("axis.");
        let unit = if unit.is_empty() { HashMap::new() } else { HashMap::from([("unit".to_string(), unit)]) };
        Field::new(name, array.data_type().clone(), nullable).with_metadata(unit)
    });
    let list = |words: &[String]| serde_json::Value::from(words.to_vec()).to_string();
    let metadata = [
        ("title", sweep.brief().title().to_string()),
        ("binding", list(sweep.binding_legend().words())),
        ("conflict", list(sweep.conflict_legend().words())),
        ("exactness", tenside::sweep::EXACTNESS.to_string()),
    ];
    let of_review = [("findings", sweep.findings_legend()), ("use-levels", sweep.use_levels_legend())];
    let of_review = of_review.into_iter().filter_map(|(key, legend)| Some((key, list(legend?.words()))));
    let metadata: HashMap<String, String> =
        metadata.into_iter().chain(of_review).map(|(key, value)| (format!("tenside.{key}"), value)).collect();
    Schema::new(fields.collect::<Vec<_>>()).with_metadata(metadata)
}

/// Some rows of a batch, copied.
pub(crate) fn picked(batch: &RecordBatch, rows: &[usize]) -> Outcome<RecordBatch> {
    let array = |array: &ArrayRef| -> Result<ArrayRef, ArrowError> {
        Ok(match array.data_type() {
            DataType::Float64 => {
                let numbers = array.as_primitive::<Float64Type>();
                Arc::new(
                    rows.iter()
                        .map(|row| numbers.is_valid(*row).then(|| numbers.value(*row)))
                        .collect::<Float64Array>(),
                )
            }
            DataType::UInt64 => {
                let codes = array.as_primitive::<UInt64Type>();
                Arc::new(
                    rows.iter().map(|row| codes.is_valid(*row).then(|| codes.value(*row))).collect::<UInt64Array>(),
                )
            }
            DataType::Boolean => {
                let flags = array.as_boolean();
                Arc::new(rows.iter().map(|row| Some(flags.value(*row))).collect::<BooleanArray>())
            }
            _ => {
                let words = array.as_dictionary::<UInt32Type>();
                let places = rows.iter().map(|row| Some(words.keys().value(*row))).collect();
                Arc::new(DictionaryArray::<UInt32Type>::try_new(places, Arc::clone(words.values()))?)
            }
        })
    };
    let arrays = batch.columns().iter().map(array).collect::<Result<_, _>>().map_err(failed)?;
    RecordBatch::try_new(batch.schema(), arrays).map_err(failed)
}

/// The values of a column of numbers and whether each is there.
pub(crate) fn numbers(array: &ArrayRef) -> Option<(&[f64], impl Fn(usize) -> bool + '_)> {
    let numbers = array.as_primitive_opt::<Float64Type>()?;
    Some((numbers.values().as_ref(), |row| numbers.is_valid(row)))
}

/// A cell of a column of flags; false of other columns.
pub(crate) fn flag(array: &ArrayRef, row: usize) -> bool {
    array.as_boolean_opt().is_some_and(|flags| flags.value(row))
}

/// One cell as Python has it; None if there is nothing.
pub(crate) fn cell<'py>(py: Python<'py>, array: &ArrayRef, row: usize) -> PyResult<Bound<'py, PyAny>> {
    if array.is_null(row) {
        return Ok(py.None().into_bound(py));
    }
    Ok(match array.data_type() {
        DataType::Float64 => array.as_primitive::<Float64Type>().value(row).into_pyobject(py)?.into_any(),
        DataType::UInt64 => array.as_primitive::<UInt64Type>().value(row).into_pyobject(py)?.into_any(),
        DataType::Boolean => array.as_boolean().value(row).into_pyobject(py)?.to_owned().into_any(),
        DataType::Int64 => array.as_primitive::<Int64Type>().value(row).into_pyobject(py)?.into_any(),
        DataType::Utf8 => array.as_string::<i32>().value(row).into_pyobject(py)?.into_any(),
        DataType::List(_) => {
            let list = array.as_list::<i32>().value(row);
            PyList::new(py, (0..list.len()).map(|place| cell(py, &list, place)).collect::<PyResult<Vec<_>>>()?)?
                .into_any()
        }
        DataType::Struct(fields) => {
            let dict = PyDict::new(py);
            for (field, column) in fields.iter().zip(array.as_struct().columns()) {
                dict.set_item(field.name(), cell(py, column, row)?)?;
            }
            dict.into_any()
        }
        _ => {
            let words = array.as_dictionary::<UInt32Type>();
            words.values().as_string::<i32>().value(words.keys().value(row) as usize).into_pyobject(py)?.into_any()
        }
    })
}

/// The Arrow C stream of one batch.
pub(crate) fn stream<'py>(py: Python<'py>, batch: &RecordBatch) -> Outcome<Bound<'py, PyCapsule>> {
    let reader: Box<dyn RecordBatchReader + Send> =
        Box::new(RecordBatchIterator::new([Ok(batch.clone())], batch.schema()));
    Ok(PyCapsule::new_with_value(py, FFI_ArrowArrayStream::new(reader), c"arrow_array_stream")?)
}

/// A table given to one of the functions of `tenside.handover`.
pub(crate) fn handed_over<'py>(table: &Bound<'py, PyAny>, function: &str) -> PyResult<Bound<'py, PyAny>> {
    table.py().import("tenside.handover")?.call_method1(function, (table,))
}

/// The Arrow C schema of a batch.
pub(crate) fn c_schema<'py>(py: Python<'py>, batch: &RecordBatch) -> Outcome<Bound<'py, PyCapsule>> {
    let schema = FFI_ArrowSchema::try_from(batch.schema().as_ref()).map_err(failed)?;
    Ok(PyCapsule::new_with_value(py, schema, c"arrow_schema")?)
}
