//! Goes into the copy of the library: says which change is on, or notes which ones were asked about.

use std::fs::{File, OpenOptions};
use std::io::Write;
use std::sync::LazyLock;
use std::sync::atomic::{AtomicBool, Ordering};

const MOST: usize = 1 << 16;
const NONE: usize = usize::MAX;

static ACTIVE: LazyLock<usize> = LazyLock::new(|| std::env::var("MUTANT").ok().and_then(|text| text.parse().ok()).unwrap_or(NONE));
static NOTES: LazyLock<Option<File>> = LazyLock::new(|| {
    let path = std::env::var_os("MUTANTS_REACHED")?;
    Some(OpenOptions::new().create(true).append(true).open(path).expect("the notes can be written"))
});
static REACHED: [AtomicBool; MOST] = [const { AtomicBool::new(false) }; MOST];

/// Whether change `number` is on.
#[inline]
pub(crate) fn on(number: usize) -> bool {
    if *ACTIVE == NONE {
        note(number);
    }
    *ACTIVE == number
}

#[cold]
fn note(number: usize) {
    let Some(mut file) = NOTES.as_ref() else { return };
    if !REACHED[number].swap(true, Ordering::Relaxed) {
        // On the stack, because some tests count allocations, and in one write to a file opened to append, so that threads do not tear lines.
        let mut line = [0_u8; 24];
        let mut rest = &mut line[..];
        writeln!(rest, "{number}").expect("a number fits");
        let left = rest.len();
        let length = line.len() - left;
        file.write_all(&line[..length]).expect("the notes can be written");
    }
}
