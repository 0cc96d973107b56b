//! How much memory reading a catalogue of ten thousand raw materials takes: the most at a time, and what the catalogue
//! keeps.
#![allow(
    unsafe_code,
    reason = "an allocator is an unsafe trait; this one only counts what it hands on to the system's"
)]

mod large;

use std::alloc::{GlobalAlloc, Layout, System};
use std::sync::atomic::{AtomicUsize, Ordering};

use tenside::catalogue::Catalogue;
use tenside::document::Notation;

struct Counting;

static HELD: AtomicUsize = AtomicUsize::new(0);
static MOST: AtomicUsize = AtomicUsize::new(0);

// SAFETY: every call goes to the system's allocator unchanged.
unsafe impl GlobalAlloc for Counting {
    unsafe fn alloc(&self, layout: Layout) -> *mut u8 {
        let held = HELD.fetch_add(layout.size(), Ordering::Relaxed) + layout.size();
        MOST.fetch_max(held, Ordering::Relaxed);
        // SAFETY: the caller's promises are passed on.
        unsafe { System.alloc(layout) }
    }

    unsafe fn dealloc(&self, pointer: *mut u8, layout: Layout) {
        HELD.fetch_sub(layout.size(), Ordering::Relaxed);
        // SAFETY: the caller's promises are passed on.
        unsafe { System.dealloc(pointer, layout) }
    }
}

#[global_allocator]
static ALLOCATOR: Counting = Counting;

fn main() {
    // The embedded substances are read once in a process; they are not what is measured.
    let starter = Catalogue::starter();
    for (name, notation) in [("TOML", Notation::Toml), ("JSON", Notation::Json)] {
        let text = large::large_catalogue(notation);
        let before = HELD.load(Ordering::Relaxed);
        MOST.store(before, Ordering::Relaxed);
        let read = Catalogue::read(&text, notation).unwrap_or_else(|error| panic!("{error}"));
        let most = MOST.load(Ordering::Relaxed) - before;
        let kept = HELD.load(Ordering::Relaxed) - before;
        let megabytes = |bytes: usize| bytes / 100_000;
        let shown = |bytes: usize| format!("{}.{} MB", megabytes(bytes) / 10, megabytes(bytes) % 10);
        println!(
            "memory/read {} materials, {name}: text {}, at most {}, kept {}",
            read.materials().count(),
            shown(text.len()),
            shown(most),
            shown(kept)
        );
    }
    drop(starter);
}
