//! How certain a comparison is.

use std::cmp::Ordering;

use super::{Bound, Certainty};

/// Whether something holds, in rising order of certainty.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Truth {
    /// It does not.
    No,
    /// Not for typical compositions; a range end that would settle it is not stated.
    Open,
    /// For some compositions inside the stated ranges.
    Possible,
    /// For typical compositions; the range end it rests on is not stated.
    TypicalOnly,
    /// For all.
    Certain,
}

impl Truth {
    pub(super) fn of(holds: bool) -> Self {
        if holds { Truth::Certain } else { Truth::No }
    }

    /// Nothing for what does not hold, and for what only might.
    pub(super) fn certainty(self) -> Option<Certainty> {
        match self {
            Truth::No | Truth::Open => None,
            Truth::Possible => Some(Certainty::Possible),
            Truth::TypicalOnly => Some(Certainty::TypicalOnly),
            Truth::Certain => Some(Certainty::Certain),
        }
    }
}

impl From<Certainty> for Truth {
    fn from(certainty: Certainty) -> Self {
        match certainty {
            Certainty::Possible => Truth::Possible,
            Certainty::TypicalOnly => Truth::TypicalOnly,
            Certainty::Certain => Truth::Certain,
        }
    }
}

/// How a value compares with a limit: for its least, typical and greatest composition.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Compared {
    pub(super) least: Ordering,
    pub(super) least_stated: bool,
    pub(super) typical: Option<Ordering>,
    pub(super) greatest: Ordering,
    pub(super) greatest_stated: bool,
}

impl Compared {
    /// Whether the value keeps the bound.
    pub(super) fn keeps(&self, bound: Bound) -> Truth {
        let (least, greatest) = ((self.least, self.least_stated), (self.greatest, self.greatest_stated));
        let ((hard, hard_stated), (easy, easy_stated)) =
            if bound.is_upper() { (greatest, least) } else { (least, greatest) };
        let typically = self.typical.is_some_and(|typical| bound.holds(typical));
        match (bound.holds(hard) && hard_stated, typically, bound.holds(easy), easy_stated) {
            (true, ..) => Truth::Certain,
            (false, true, ..) => {
                if hard_stated {
                    Truth::Possible
                } else {
                    Truth::TypicalOnly
                }
            }
            (false, false, true, true) => Truth::Possible,
            (false, false, true, false) => Truth::Open,
            (false, false, false, _) => Truth::No,
        }
    }

    /// Whether the value breaks the bound.
    pub(super) fn breaks(&self, bound: Bound) -> Truth {
        self.keeps(bound.opposite())
    }
}

#[cfg(test)]
mod tests {
    use std::cmp::Ordering::{Equal, Greater, Less};

    use super::*;

    fn compared(least: Ordering, typical: Ordering, greatest: Ordering) -> Compared {
        Compared { least, least_stated: true, typical: Some(typical), greatest, greatest_stated: true }
    }

    #[test]
    fn a_limit_is_broken_for_all_some_or_no_compositions() {
        assert_eq!(compared(Greater, Greater, Greater).breaks(Bound::AtMost), Truth::Certain);
        assert_eq!(compared(Less, Greater, Greater).breaks(Bound::AtMost), Truth::Possible);
        assert_eq!(compared(Less, Less, Greater).breaks(Bound::AtMost), Truth::Possible);
        assert_eq!(compared(Less, Less, Equal).breaks(Bound::AtMost), Truth::No);
        assert_eq!(compared(Less, Less, Equal).breaks(Bound::Below), Truth::Possible);
        assert_eq!(compared(Equal, Equal, Equal).breaks(Bound::Below), Truth::Certain);
        assert_eq!(compared(Less, Less, Less).breaks(Bound::AtLeast), Truth::Certain);
        assert_eq!(compared(Less, Greater, Greater).breaks(Bound::AtLeast), Truth::Possible);
        assert_eq!(compared(Equal, Greater, Greater).breaks(Bound::Above), Truth::Possible);
    }

    #[test]
    fn an_end_that_is_not_stated_makes_nothing_certain() {
        let mut value = compared(Greater, Greater, Greater);
        value.least_stated = false;
        assert_eq!(value.breaks(Bound::AtMost), Truth::TypicalOnly);
        let mut value = compared(Less, Less, Greater);
        value.greatest_stated = false;
        assert_eq!(value.breaks(Bound::AtMost), Truth::Open);
        value.greatest = Equal;
        assert_eq!(value.breaks(Bound::AtMost), Truth::No);
    }

    #[test]
    fn bounds_without_typical_values_can_still_be_certain() {
        let mut value = compared(Greater, Greater, Greater);
        value.typical = None;
        assert_eq!(value.breaks(Bound::AtMost), Truth::Certain);
        value.least = Less;
        assert_eq!(value.breaks(Bound::AtMost), Truth::Possible);
    }
}
