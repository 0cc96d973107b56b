//! Work done once for a value and kept beside it. It is no part of the value: all are equal, and a copy starts without.

#![expect(clippy::disallowed_types, reason = "kept beside a value, not globally")]

use std::any::Any;
use std::fmt;
use std::sync::OnceLock;

/// Something worked out of the value it stands in when it is first asked for. Whoever changes the value in place
/// empties it.
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

/// One thing of each type that upper floors keep beside a value of a lower one, which knows nothing of them.
#[derive(Clone, Default, PartialEq, Eq, Debug)]
pub(crate) struct Shelf(Memo<Box<Kept>>);

struct Kept {
    thing: Box<dyn Any + Send + Sync>,
    rest: Shelf,
}

impl Shelf {
    /// The thing of this type, made empty when it is first asked for.
    pub(crate) fn of<T: Any + Send + Sync + Default>(&self) -> &T {
        let mut shelf = self;
        loop {
            let kept = shelf.0.get_or(|| Box::new(Kept { thing: Box::new(T::default()), rest: Shelf::default() }));
            match kept.thing.downcast_ref() {
                Some(thing) => return thing,
                None => shelf = &kept.rest,
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Mutex;

    use super::*;

    #[test]
    fn a_copy_starts_without_what_was_worked_out() {
        let memo = Memo::default();
        assert_eq!((memo.get_or(|| 1), memo.get_or(|| 2)), (&1, &1));
        assert_eq!(memo.clone().get_or(|| 3), &3);
        assert_eq!(memo, Memo::default());
    }

    #[test]
    fn a_shelf_holds_one_thing_of_a_type() {
        let shelf = Shelf::default();
        shelf.of::<Mutex<Vec<u8>>>().lock().unwrap().push(1);
        shelf.of::<Mutex<String>>().lock().unwrap().push('a');
        shelf.of::<Mutex<Vec<u8>>>().lock().unwrap().push(2);
        assert_eq!(
            (
                shelf.of::<Mutex<Vec<u8>>>().lock().unwrap().as_slice(),
                shelf.of::<Mutex<String>>().lock().unwrap().as_str()
            ),
            (&[1, 2][..], "a")
        );
        assert!(shelf.clone().of::<Mutex<String>>().lock().unwrap().is_empty());
    }
}
