//! Work done once for a value and kept beside it. It is no part of the value: all are equal, and a copy starts without.

#![expect(clippy::disallowed_types, reason = "kept beside a value, not globally")]

use std::fmt;
use std::sync::OnceLock;

/// Something worked out of the value it stands in when it is first asked for. Whoever changes the value in place empties it.
pub(crate) struct Memo<T>(OnceLock<T>);

impl<T> Memo<T> {
    pub(crate) fn get_or(&self, work_out: impl FnOnce() -> T) -> &T {
        self.0.get_or_init(work_out)
    }
}

impl<T> Default for Memo<T> {
    fn default() -> Self {
        Memo(OnceLock::new())
    }
}

impl<T> Clone for Memo<T> {
    fn clone(&self) -> Self {
        Memo::default()
    }
}

impl<T> PartialEq for Memo<T> {
    fn eq(&self, _other: &Self) -> bool {
        true
    }
}

impl<T> Eq for Memo<T> {}

impl<T> fmt::Debug for Memo<T> {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("..")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_copy_starts_without_what_was_worked_out() {
        let memo = Memo::default();
        assert_eq!((memo.get_or(|| 1), memo.get_or(|| 2)), (&1, &1));
        assert_eq!(memo.clone().get_or(|| 3), &3);
        assert_eq!(memo, Memo::default());
    }
}
