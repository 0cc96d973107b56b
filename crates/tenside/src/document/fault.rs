//! Faults in documents, for whoever answers a request.

use super::form;
use crate::error::Fault;

form! {
    /// What is wrong, as data.
    FaultDocument of Fault, |it| {
        /// The stable name of its kind.
        kind: &'static str = it.kind.slug(),
        /// Where, in words.
        place: String,
        /// The file, where several are read together.
        file: Option<&'static str>,
        /// Line and column, from 1.
        position: Option<(u32, u32)>,
        /// What is wrong.
        message: String = it.message.to_string(),
        /// What was found.
        value: Option<String> = it.value.as_ref().map(ToString::to_string),
        /// What is allowed.
        allowed: Option<String> = it.allowed.as_ref().map(ToString::to_string),
        /// The way out.
        remedy: Option<String> = it.remedy.as_ref().map(ToString::to_string),
    }
}
