//! One opaque error. It holds one fault or, from a reader, every fault of a document at once.
//!
//! # Why
//! - One opaque `Error` of `Fault`s instead of an enum per area: every area needs the same data (kind, place,
//!   value, range, remedy), and readers report many faults at once.

use std::any::Any;
use std::fmt;
use std::sync::Arc;

/// What kind of fault it is; what the predicates of [`Error`] and the Python exceptions are told by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum FaultKind {
    /// A value lies outside the range its quantity allows.
    OutOfRange,
    /// Text or a float that is no finite number.
    NotANumber,
    /// The text is not well-formed TOML, JSON, CSV, or is nested too deep.
    Syntax,
    /// A key, column or variant that the format does not know.
    UnknownKey,
    /// A material, substance, lot, line, phase or measure that nobody defined.
    UnknownName,
    /// A name that could mean several things.
    AmbiguousName,
    /// Something stands twice that may stand once.
    Duplicate,
    /// Something needed is absent.
    Missing,
    /// Two statements that cannot both hold.
    Contradiction,
    /// A brief that no formula meets. The brief itself is well formed.
    Unanswerable,
    /// A premix that contains itself.
    Loop,
    /// A value that would be needed is not known, and is not guessed.
    NotKnown,
    /// A question of a draft that a person has to answer.
    Question,
    /// Something that cannot be asked of this function.
    Unsupported,
    /// Work that was stopped by whoever watched it: nothing was wrong.
    Stopped,
    /// A result that the machine has no memory for.
    NoMemory,
}

impl FaultKind {
    /// Every kind.
    pub const ALL: &[FaultKind] = &[
        FaultKind::OutOfRange,
        FaultKind::NotANumber,
        FaultKind::Syntax,
        FaultKind::UnknownKey,
        FaultKind::UnknownName,
        FaultKind::AmbiguousName,
        FaultKind::Duplicate,
        FaultKind::Missing,
        FaultKind::Contradiction,
        FaultKind::Unanswerable,
        FaultKind::Loop,
        FaultKind::NotKnown,
        FaultKind::Question,
        FaultKind::Unsupported,
        FaultKind::Stopped,
        FaultKind::NoMemory,
    ];

    /// The stable name of the kind.
    #[must_use]
    pub fn slug(self) -> &'static str {
        match self {
            FaultKind::OutOfRange => "out-of-range",
            FaultKind::NotANumber => "not-a-number",
            FaultKind::Syntax => "syntax",
            FaultKind::UnknownKey => "unknown-key",
            FaultKind::UnknownName => "unknown-name",
            FaultKind::AmbiguousName => "ambiguous-name",
            FaultKind::Duplicate => "duplicate",
            FaultKind::Missing => "missing",
            FaultKind::Contradiction => "contradiction",
            FaultKind::Unanswerable => "unanswerable",
            FaultKind::Loop => "loop",
            FaultKind::NotKnown => "not-known",
            FaultKind::Question => "question",
            FaultKind::Unsupported => "unsupported",
            FaultKind::Stopped => "stopped",
            FaultKind::NoMemory => "no-memory",
        }
    }
}

/// One fault: what is wrong, where, with which value, what would be allowed, and the way out.
///
/// ```
/// let error = tenside::number::Ppm::from_percent("101").unwrap_err();
/// let fault = &error.faults()[0];
/// assert_eq!(fault.value.as_deref(), Some("101"));
/// assert_eq!(fault.allowed.as_deref(), Some("0 to 100 % w/w"));
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Fault {
    /// Its kind.
    pub kind: FaultKind,
    /// Where it is, in the words of the document or call: `material "sci-powder", constituents[2].typical`. May be
    /// empty.
    pub place: String,
    /// Which of several texts read together it is in: `materials`, `constituents` or `names` of a catalogue in CSV.
    pub file: Option<&'static str>,
    /// Line and column of the text read, both from 1. The column counts characters, in CSV cells.
    pub position: Option<(u32, u32)>,
    /// What is wrong; lower case, without value, range and way out.
    pub message: String,
    /// The value found.
    pub value: Option<String>,
    /// The values that would be allowed, with unit.
    pub allowed: Option<String>,
    /// The way out.
    pub remedy: Option<String>,
}

/// The longest piece of a message, in characters: what somebody passed is repeated no further.
const LONGEST_PIECE: usize = 2000;
/// How many of its faults an error tells in words.
const MOST_TOLD: usize = 100;

/// Cut where it is long, which is said. A control character of what was read is shown by its code: messages go to
/// terminals and pages.
fn cut(mut piece: String) -> String {
    if piece.chars().any(char::is_control) {
        let shown =
            |letter: char| if letter.is_control() { letter.escape_default().to_string() } else { letter.to_string() };
        piece = piece.chars().map(shown).collect();
    }
    match piece.char_indices().nth(LONGEST_PIECE) {
        Some((end, _)) => format!("{}... ({} characters)", &piece[..end], piece.chars().count()),
        None => piece,
    }
}

impl Fault {
    /// A fault without place, value, range or remedy yet.
    #[must_use]
    pub fn new(kind: FaultKind, message: impl Into<String>) -> Self {
        Fault {
            kind,
            place: String::new(),
            file: None,
            position: None,
            message: cut(message.into()),
            value: None,
            allowed: None,
            remedy: None,
        }
    }

    /// With its place.
    #[must_use]
    pub fn at(mut self, place: impl Into<String>) -> Self {
        self.place = cut(place.into());
        self
    }

    /// With the text it is in, where several are read together.
    #[must_use]
    pub fn file(mut self, file: Option<&'static str>) -> Self {
        self.file = file;
        self
    }

    /// With line and column.
    #[must_use]
    pub fn position(mut self, position: Option<(u32, u32)>) -> Self {
        self.position = position;
        self
    }

    /// With the value found.
    #[must_use]
    pub fn value(mut self, value: impl fmt::Display) -> Self {
        self.value = Some(cut(value.to_string()));
        self
    }

    /// With the allowed values.
    #[must_use]
    pub fn allowed(mut self, allowed: impl Into<String>) -> Self {
        self.allowed = Some(cut(allowed.into()));
        self
    }

    /// With the way out.
    #[must_use]
    pub fn remedy(mut self, remedy: impl Into<String>) -> Self {
        self.remedy = Some(cut(remedy.into()));
        self
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(file) = self.file {
            write!(formatter, "file {file}, ")?;
        }
        if let Some((line, column)) = self.position {
            write!(formatter, "line {line}, column {column}: ")?;
        }
        if !self.place.is_empty() {
            write!(formatter, "{}: ", self.place)?;
        }
        formatter.write_str(&self.message)?;
        if let Some(value) = &self.value {
            write!(formatter, " (found {value})")?;
        }
        if let Some(allowed) = &self.allowed {
            write!(formatter, "; allowed: {allowed}")?;
        }
        if let Some(remedy) = &self.remedy {
            write!(formatter, "; {remedy}")?;
        }
        Ok(())
    }
}

/// What every fallible function of this crate returns on failure: at least one [`Fault`].
///
/// ```
/// use tenside::number::Ppm;
/// let error = Ppm::from_percent("twelve").unwrap_err();
/// assert!(error.is_not_a_number());
/// assert_eq!(error.faults().len(), 1);
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Error {
    faults: Vec<Fault>,
    cause: Cause,
}

/// What an upper room knows of the error beyond its faults: a conflict with its proof. Two errors with the same faults
/// say the same, so it has no part in their equality.
#[derive(Clone, Default)]
struct Cause(Option<Arc<dyn Any + Send + Sync>>);

impl PartialEq for Cause {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

impl Eq for Cause {}

impl fmt::Debug for Cause {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(if self.0.is_some() { "known" } else { "none" })
    }
}

macro_rules! predicates {
    ($($name:ident $kind:ident $text:literal),* $(,)?) => {
        $(
            #[doc = concat!("True where a fault is ", $text, ".")]
            #[must_use]
            pub fn $name(&self) -> bool {
                self.has(FaultKind::$kind)
            }
        )*
    };
}

impl Error {
    /// An error of many faults; nothing for none.
    #[must_use]
    pub fn from_faults(faults: Vec<Fault>) -> Option<Self> {
        (!faults.is_empty()).then_some(Error { faults, cause: Cause::default() })
    }

    /// `Ok(value)` if no fault was collected.
    ///
    /// # Errors
    /// All the faults, if there is one.
    pub fn check<T>(faults: Vec<Fault>, value: T) -> Result<T, Self> {
        match Error::from_faults(faults) {
            None => Ok(value),
            Some(error) => Err(error),
        }
    }

    /// The faults, in the order of the text.
    #[must_use]
    pub fn faults(&self) -> &[Fault] {
        &self.faults
    }

    /// The faults by value.
    #[must_use]
    pub fn into_faults(self) -> Vec<Fault> {
        self.faults
    }

    /// With what caused it.
    pub(crate) fn caused_by<T: Any + Send + Sync>(mut self, cause: T) -> Self {
        self.cause = Cause(Some(Arc::new(cause)));
        self
    }

    /// What caused it, if it is of this type.
    pub(crate) fn cause<T: Any>(&self) -> Option<&T> {
        self.cause.0.as_deref()?.downcast_ref()
    }

    /// The same faults with `place` put before each one's own.
    #[must_use]
    pub fn within(mut self, place: &str) -> Self {
        for fault in &mut self.faults {
            fault.place =
                cut(if fault.place.is_empty() { place.to_string() } else { format!("{place}, {}", fault.place) });
        }
        self
    }

    /// True if some fault is of this kind.
    #[must_use]
    pub fn has(&self, kind: FaultKind) -> bool {
        self.faults.iter().any(|fault| fault.kind == kind)
    }

    predicates! {
        is_out_of_range OutOfRange "a value outside its range",
        is_not_a_number NotANumber "text or a float that is no finite number",
        is_syntax Syntax "text that is not well-formed",
        is_unknown_key UnknownKey "an unknown key",
        is_unknown_name UnknownName "an unknown name",
        is_ambiguous_name AmbiguousName "an ambiguous name",
        is_duplicate Duplicate "something that stands twice",
        is_missing Missing "something absent that is needed",
        is_contradiction Contradiction "a contradiction",
        is_unanswerable Unanswerable "a brief that no formula meets",
        is_loop Loop "a premix that contains itself",
        is_not_known NotKnown "a value that is not known",
        is_question Question "a question for a person",
        is_unsupported Unsupported "something that cannot be asked",
        is_stopped Stopped "work that was stopped",
        is_no_memory NoMemory "a result that the machine has no memory for",
    }
}

impl From<Fault> for Error {
    fn from(fault: Fault) -> Self {
        Error { faults: vec![fault], cause: Cause::default() }
    }
}

impl From<tenside_lp::Error> for Fault {
    fn from(error: tenside_lp::Error) -> Self {
        let kind = match error.kind {
            tenside_lp::ErrorKind::NotANumber => FaultKind::NotANumber,
            tenside_lp::ErrorKind::OutOfRange => FaultKind::OutOfRange,
            _ => FaultKind::Contradiction,
        };
        let fault = Fault::new(kind, error.message).at(error.place);
        Fault {
            value: error.value.map(cut),
            allowed: error.allowed.map(cut),
            remedy: error.remedy.map(String::from),
            ..fault
        }
    }
}

impl From<tenside_lp::Error> for Error {
    fn from(error: tenside_lp::Error) -> Self {
        Fault::from(error).into()
    }
}

impl fmt::Display for Error {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let [fault] = self.faults.as_slice() {
            return fault.fmt(formatter);
        }
        write!(formatter, "{} faults:", self.faults.len())?;
        for fault in self.faults.iter().take(MOST_TOLD) {
            write!(formatter, "\n- {fault}")?;
        }
        match self.faults.len().checked_sub(MOST_TOLD) {
            Some(more @ 1..) => write!(formatter, "\n- and {more} more"),
            _ => Ok(()),
        }
    }
}

impl std::error::Error for Error {}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn control_characters_of_what_was_read_are_shown_by_their_codes() {
        let read = "2\u{8}LIN\u{1b}[31m";
        let told = Fault::new(FaultKind::NotANumber, read).at(read).value(read).allowed(read).remedy(read).to_string();
        assert!(!told.chars().any(char::is_control) && told.matches(r"2\u{8}LIN\u{1b}[31m").count() == 5, "{told}");
    }

    #[test]
    fn what_was_passed_is_repeated_no_further_than_anyone_reads() {
        let long = "é".repeat(100_000);
        let fault =
            || Fault::new(FaultKind::OutOfRange, long.clone()).at(&*long).value(&long).allowed(&*long).remedy(&*long);
        let told = fault().to_string();
        assert!(told.chars().count() < 5 * (LONGEST_PIECE + 60), "{}", told.len());
        assert_eq!(told.matches("... (100000 characters)").count(), 5);
        assert!(Error::from(fault()).within(&long).to_string().chars().count() < 5 * (LONGEST_PIECE + 60));
        let whole = "é".repeat(LONGEST_PIECE);
        assert_eq!(Fault::new(FaultKind::OutOfRange, whole.clone()).to_string(), whole);
        let many = Error::from_faults(vec![Fault::new(FaultKind::Missing, "gone"); 5000]).unwrap();
        assert_eq!(many.faults().len(), 5000);
        assert!(many.to_string().ends_with("- gone\n- and 4900 more"));
        let few = Error::from_faults(vec![Fault::new(FaultKind::Missing, "gone"); MOST_TOLD]).unwrap();
        assert!(few.to_string().ends_with("- gone"));
    }
}
