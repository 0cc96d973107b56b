//! Holds the examples of the README, so that they are compiled and run as documentation tests.

/// The README.
#[cfg(doctest)]
#[doc = include_str!("../README.md")]
pub struct Readme;
