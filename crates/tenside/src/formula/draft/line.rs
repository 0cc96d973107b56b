//! A line of a draft: as written, and what was answered about it since.

use std::collections::BTreeSet;

use super::amount::read;
use super::words::without_optional;
use super::{LineRole, QuestionKind};
use crate::document::check_name;
use crate::error::Error;

/// A line as written. What is answered later stands beside it and changes nothing of it.
///
/// ```
/// use tenside::formula::DraftLine;
/// let line = DraftLine::new("Rosemary oil", "3 drops").in_phase("cool-down")?.as_optional(true);
/// assert_eq!((line.item(), line.amount()), ("Rosemary oil", Some("3 drops")));
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DraftLine {
    pub(super) written: Option<String>,
    pub(super) role: LineRole,
    pub(super) item: String,
    pub(super) amount: Option<String>,
    pub(super) phase: Option<String>,
    pub(super) lot: Option<String>,
    pub(super) optional: bool,
    pub(super) in_method: bool,
    pub(super) answers: LineAnswers,
}

/// What was answered about a line.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct LineAnswers {
    pub(super) role: Option<LineRole>,
    pub(super) item: Option<String>,
    pub(super) amount: Option<String>,
    pub(super) material: Option<String>,
    pub(super) lot: Option<String>,
    pub(super) name: Option<String>,
    pub(super) dropped: bool,
    pub(super) merged: bool,
    pub(super) accepted: BTreeSet<QuestionKind>,
}

impl DraftLine {
    /// A line of a raw material and its amount, both as written.
    #[must_use]
    pub fn new(item: &str, amount: &str) -> Self {
        let line = DraftLine::without_amount(item);
        DraftLine { amount: Some(amount.to_string()), ..line }
    }

    /// A line that gives no amount.
    #[must_use]
    pub fn without_amount(item: &str) -> Self {
        DraftLine {
            written: None,
            role: LineRole::Material,
            item: item.to_string(),
            amount: None,
            phase: None,
            lot: None,
            optional: false,
            in_method: false,
            answers: LineAnswers::default(),
        }
    }

    /// In this phase.
    ///
    /// # Errors
    /// A bad name.
    pub fn in_phase(mut self, phase: &str) -> Result<Self, Error> {
        self.phase = Some(check_name(phase)?);
        Ok(self)
    }

    /// Of this lot of the raw material, by the name that the catalogue knows it by.
    ///
    /// # Errors
    /// A bad name.
    pub fn of_lot(mut self, lot: &str) -> Result<Self, Error> {
        self.lot = Some(check_name(lot)?);
        Ok(self)
    }

    /// As a line that is read so.
    #[must_use]
    pub fn read_as(mut self, role: LineRole) -> Self {
        self.role = role;
        self
    }

    /// As a line that may be left out.
    #[must_use]
    pub fn as_optional(mut self, optional: bool) -> Self {
        self.optional = optional;
        self
    }

    /// As something that stands in the method but not in the list.
    #[must_use]
    pub fn as_method_only(mut self, in_method: bool) -> Self {
        self.in_method = in_method;
        self
    }

    /// The whole line of a pasted text, where it was one.
    #[must_use]
    pub fn written(&self) -> Option<&str> {
        self.written.as_deref()
    }

    /// The raw material as written.
    #[must_use]
    pub fn item(&self) -> &str {
        &self.item
    }

    /// The amount as written.
    #[must_use]
    pub fn amount(&self) -> Option<&str> {
        self.amount.as_deref()
    }

    /// The phase, if one is given.
    #[must_use]
    pub fn phase(&self) -> Option<&str> {
        self.phase.as_deref()
    }

    /// What the line is read as: as answered, else as it was found. Only raw materials count.
    #[must_use]
    pub fn role(&self) -> LineRole {
        self.answers.role.unwrap_or(self.role)
    }

    /// The lot that counts: as answered, else as written.
    #[must_use]
    pub fn lot(&self) -> Option<&str> {
        self.answers.lot.as_deref().or(self.lot.as_deref())
    }

    /// True where it is said outright that the line may be left out.
    #[must_use]
    pub fn is_optional(&self) -> bool {
        self.optional
    }

    /// True where it stands in the method but not in the list.
    #[must_use]
    pub fn is_method_only(&self) -> bool {
        self.in_method
    }

    /// True where an answer left it out.
    #[must_use]
    pub fn is_dropped(&self) -> bool {
        self.answers.dropped
    }

    /// The id of the raw material chosen for it.
    #[must_use]
    pub fn chosen_material(&self) -> Option<&str> {
        self.answers.material.as_deref()
    }

    /// The amount that counts: as answered, else as written.
    #[must_use]
    pub fn current_amount(&self) -> &str {
        self.answers.amount.as_deref().or(self.amount.as_deref()).unwrap_or_default()
    }

    /// The raw material that counts: as answered, else as written, without a mark that says optional.
    pub(super) fn current_item(&self) -> String {
        without_optional(self.answers.item.as_deref().unwrap_or(&self.item)).0
    }

    /// Said to be optional outright, in the name or in the amount.
    pub(super) fn says_optional(&self) -> bool {
        self.optional
            || without_optional(&self.item).1
            || self.amount.as_deref().is_some_and(|amount| read(amount).optional)
    }

    pub(super) fn has_accepted(&self, kind: QuestionKind) -> bool {
        self.answers.accepted.contains(&kind)
    }
}
