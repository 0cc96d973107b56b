//! The steps of a long command: each announced in one sentence, timed and counted; the first failure ends them.

use std::time::Instant;

use crate::failure::{Failure, Outcome};

#[derive(Default)]
pub(crate) struct Steps {
    passed: u32,
}

impl Steps {
    /// Announces and runs one step.
    pub(crate) fn run<T>(&mut self, name: &str, sentence: &str, work: impl FnOnce() -> Outcome<T>) -> Outcome<T> {
        println!("\n[{}] {name}: {sentence}", self.passed + 1);
        let start = Instant::now();
        match work() {
            Ok(value) => {
                self.passed += 1;
                println!("[{}] {name}: passed in {:.1} s", self.passed, start.elapsed().as_secs_f32());
                Ok(value)
            }
            Err(failure) => {
                println!("\nsteps: {} passed, 1 failed", self.passed);
                Err(Failure::new(format!("the step {name:?} failed: {failure}")))
            }
        }
    }

    /// The closing line.
    pub(crate) fn close(&self) {
        println!("\nsteps: {} passed, 0 failed", self.passed);
    }
}
