//! One name of the list.

use super::content::Share;
use crate::document::named_enum;
use crate::number::Interval;

named_enum! {
    /// In which class of the list a name stands.
    ItemClass "class of the list" {
        /// In descending order.
        Ordered = "ordered",
        /// Below the boundary: in any order after the others.
        Free = "free",
        /// A colourant: last, in any order.
        Colour = "colour",
    }
}

/// One name of the list, with what it rests on.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct LabelItem {
    /// The name as it is printed, `(nano)` included.
    pub name: String,
    /// The INCI names that go under it.
    pub inci: Vec<String>,
    pub(super) share: Share,
    /// Its class.
    pub class: ItemClass,
    /// True if no composition inside the stated ranges would put it elsewhere (in a class without order: into another
    /// class).
    pub is_certain: bool,
    /// The names it could change places with, inside what is stated.
    pub may_change_with: Vec<String>,
    /// The lines whose ranges would have to be narrower to settle its position.
    pub settled_by: Vec<String>,
    /// The lines that bring it.
    pub lines: Vec<String>,
    /// The entry of Annex III by which it is named, where it is contained in other ingredients and counts in their
    /// share.
    pub entry: Option<u32>,
}

impl LabelItem {
    /// Percent as charged.
    #[must_use]
    pub fn percent(&self) -> Interval {
        self.share.percent()
    }
}

/// What suppliers do not declare as an ingredient, and so no label lists.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct LeftOut {
    /// Its INCI name.
    pub inci: String,
    pub(super) share: Share,
}

impl LeftOut {
    /// Percent as charged.
    #[must_use]
    pub fn percent(&self) -> Interval {
        self.share.percent()
    }
}
