//! What passes between Python and the core, whatever it is about: numbers, text, failures, pages, pickles, Arrow, long
//! work.

#[macro_use]
mod macros;
pub(crate) mod arrow;
pub(crate) mod column;
pub(crate) mod documents;
pub(crate) mod failure;
pub(crate) mod frame;
pub(crate) mod input;
pub(crate) mod interval;
pub(crate) mod output;
pub(crate) mod page;
pub(crate) mod pickled;
pub(crate) mod running;
pub(crate) mod table;
pub(crate) mod word;
