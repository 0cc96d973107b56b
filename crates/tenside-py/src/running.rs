//! Long work: the interpreter lock is released, Ctrl-C and a failing callback stop it, a callback hears how far it is.

use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::time::{Duration, Instant};

use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use pyo3::types::PyBool;
use pyo3::{type_hint_identifier, type_hint_union};
use tenside::sweep::Watch;

use crate::failure::{Failure, Outcome};

/// How often signals are looked for.
const PULSE: Duration = Duration::from_millis(20);
/// How often the callback is called.
const REPORT: Duration = Duration::from_millis(100);

/// True for a progress bar, or what is called with rows done and rows in all.
pub(crate) struct AProgress<'py>(Bound<'py, PyAny>);

impl<'a, 'py> FromPyObject<'a, 'py> for AProgress<'py> {
    type Error = PyErr;
    const INPUT_TYPE: PyStaticExpr = type_hint_union!(type_hint_identifier!("builtins", "bool"), type_hint_identifier!("collections.abc", "Callable"));

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> PyResult<Self> {
        Ok(AProgress(object.to_owned()))
    }
}

/// How far the work is, and whether it is to stop.
#[derive(Default)]
pub(crate) struct Progress {
    done: AtomicU64,
    stop: AtomicBool,
}

impl Watch for Progress {
    fn go_on(&self, rows: u64) -> bool {
        self.done.fetch_add(rows, Ordering::Relaxed);
        !self.stop.load(Ordering::Relaxed)
    }
}

/// Calls the callback with rows done and rows in all; `True` stands for a progress bar.
fn callback<'py>(py: Python<'py>, progress: Option<AProgress<'py>>, total: u64) -> PyResult<Option<Bound<'py, PyAny>>> {
    match progress.map(|progress| progress.0) {
        Some(progress) if progress.is_instance_of::<PyBool>() => {
            if progress.is_truthy()? {
                py.import("tenside.progress")?.call_method1("bar", (total,)).map(Some)
            } else {
                Ok(None)
            }
        }
        other => Ok(other.filter(|progress| !progress.is_none())),
    }
}

/// Works on another thread until it is done or Python wants it to stop.
pub(crate) fn run<T: Send>(
    py: Python<'_>,
    total: u64,
    progress: Option<AProgress<'_>>,
    work: impl FnOnce(&Progress) -> Result<Option<T>, tenside::Error> + Send,
) -> Outcome<T> {
    let callback = callback(py, progress, total)?.map(Bound::unbind);
    let watched = Progress::default();
    let caller = std::thread::current();
    let finished = AtomicBool::new(false);
    let (result, stopped) = py.detach(|| {
        std::thread::scope(|scope| {
            let worker = scope.spawn(|| {
                let result = work(&watched);
                finished.store(true, Ordering::Release);
                caller.unpark();
                result
            });
            let (mut stopped, mut reported) = (None, Instant::now());
            while !finished.load(Ordering::Acquire) && !worker.is_finished() {
                std::thread::park_timeout(PULSE);
                if stopped.is_some() {
                    continue;
                }
                let is_due = callback.is_some() && reported.elapsed() >= REPORT;
                let heard = Python::attach(|py| {
                    py.check_signals()?;
                    match &callback {
                        Some(callback) if is_due => callback.call1(py, (watched.done.load(Ordering::Relaxed).min(total), total)).map(drop),
                        _ => Ok(()),
                    }
                });
                if is_due {
                    reported = Instant::now();
                }
                if let Err(error) = heard {
                    watched.stop.store(true, Ordering::Relaxed);
                    stopped = Some(error);
                }
            }
            (worker.join(), stopped)
        })
    });
    if let Some(error) = stopped {
        return Err(Failure::Python(error));
    }
    let result = result.unwrap_or_else(|panic| std::panic::resume_unwind(panic))?;
    if let Some(callback) = callback {
        callback.call1(py, (total, total))?;
    }
    // Nothing but an error heard above stops the work.
    result.ok_or_else(|| Failure::Python(pyo3::exceptions::PyKeyboardInterrupt::new_err("the work was stopped")))
}
