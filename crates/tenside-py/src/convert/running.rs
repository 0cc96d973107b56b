//! Long work: the interpreter lock is released, Ctrl-C and a failing callback stop it, a callback hears how far it is.
//!
//! What works on many threads ([`run`]) is watched from the caller's; what works on one ([`watched`]) does so on the
//! caller's own, the only one on which Python hears signals, and looks for them itself.

use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use pyo3::types::PyBool;
use pyo3::{type_hint_identifier, type_hint_union};
use tenside::bounds::Quantity;
use tenside::watch::Watch;

use crate::convert::failure::{Failure, Outcome};
use crate::convert::input::Number;

/// How often signals are looked for.
const PULSE: Duration = Duration::from_millis(20);
/// How often the callback is called.
const REPORT: Duration = Duration::from_millis(100);

/// True for a progress bar, or what is called with rows done and rows in all.
pub(crate) struct AProgress<'py>(Bound<'py, PyAny>);

impl<'a, 'py> FromPyObject<'a, 'py> for AProgress<'py> {
    type Error = PyErr;
    const INPUT_TYPE: PyStaticExpr = type_hint_union!(
        type_hint_identifier!("builtins", "bool"),
        type_hint_identifier!("collections.abc", "Callable")
    );

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
    work: impl FnOnce(Arc<dyn Watch>) -> Result<T, tenside::Error> + Send,
) -> Outcome<T> {
    let callback = callback(py, progress, total)?.map(Bound::unbind);
    let watched = Arc::new(Progress::default());
    let pool = pool()?;
    let caller = std::thread::current();
    let finished = AtomicBool::new(false);
    let (result, stopped) = py.detach(|| {
        std::thread::scope(|scope| {
            let worker = scope.spawn(|| {
                let watch = Arc::clone(&watched);
                let result = pool.install(|| work(watch));
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
                        Some(callback) if is_due => {
                            callback.call1(py, (watched.done.load(Ordering::Relaxed).min(total), total)).map(drop)
                        }
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
    Ok(result)
}

/// The threads that sweeps are worked on. Those of a parent do not live on in a forked child, which gets its own: what
/// waits for threads that are not there waits for ever.
pub(crate) fn pool() -> Outcome<Arc<rayon::ThreadPool>> {
    static POOL: Mutex<Option<(u32, Arc<rayon::ThreadPool>)>> = Mutex::new(None);
    let mut held = POOL.lock().unwrap_or_else(PoisonError::into_inner);
    let process = std::process::id();
    if let Some((of, pool)) = held.as_ref()
        && *of == process
    {
        return Ok(Arc::clone(pool));
    }
    let failed = |error: rayon::ThreadPoolBuildError| {
        pyo3::exceptions::PyRuntimeError::new_err(format!("no threads to work on: {error}"))
    };
    let pool = Arc::new(rayon::ThreadPoolBuilder::new().build().map_err(failed)?);
    // The parent's is left as it is: ending it would wait for its threads.
    std::mem::forget(held.replace((process, Arc::clone(&pool))));
    Ok(pool)
}

/// Texts of fewer bytes are read before anybody could press a key.
const LONG_TEXT: usize = 500_000;

/// Reads texts; see [`reading_watched`].
pub(crate) fn reading<T: Send + 'static, const TEXTS: usize>(
    py: Python<'_>,
    texts: [&str; TEXTS],
    read: impl FnOnce([&str; TEXTS]) -> Result<T, tenside::Error> + Send + 'static,
) -> Outcome<T> {
    reading_watched(py, texts, |texts, _| read(texts))
}

/// Reads texts and asks again what they are results of. Long ones are read on a thread of their own, which on Ctrl-C is
/// left to come to its end by itself, what it reads being dropped: a parser cannot be stopped, what is asked again can.
pub(crate) fn reading_watched<T: Send + 'static, const TEXTS: usize>(
    py: Python<'_>,
    texts: [&str; TEXTS],
    read: impl FnOnce([&str; TEXTS], Arc<dyn Watch>) -> Result<T, tenside::Error> + Send + 'static,
) -> Outcome<T> {
    if texts.iter().all(|text| text.len() < LONG_TEXT) {
        return watched(py, None, |watch| read(texts, watch));
    }
    let texts = texts.map(String::from);
    let caller = std::thread::current();
    let progress = Arc::new(Progress::default());
    let watch = Arc::clone(&progress);
    let reader = std::thread::spawn(move || {
        let result = read(texts.each_ref().map(String::as_str), watch);
        caller.unpark();
        result
    });
    while !reader.is_finished() {
        py.detach(|| std::thread::park_timeout(PULSE));
        py.check_signals().inspect_err(|_| progress.stop.store(true, Ordering::Relaxed))?;
    }
    Ok(reader.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic))?)
}

/// Looks for signals on the caller's thread.
struct Caller {
    heard: Mutex<Heard>,
    until: Option<Instant>,
}

struct Heard {
    looked: Instant,
    error: Option<PyErr>,
}

impl Caller {
    /// A panic while it was held leaves it as it was.
    fn heard(&self) -> MutexGuard<'_, Heard> {
        self.heard.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Watch for Caller {
    fn go_on(&self, _done: u64) -> bool {
        let mut heard = self.heard();
        if heard.error.is_none() && heard.looked.elapsed() >= PULSE {
            heard.error = Python::attach(|py| py.check_signals()).err();
            heard.looked = Instant::now();
        }
        heard.error.is_none()
    }

    fn search_on(&self) -> bool {
        self.until.is_none_or(|until| Instant::now() < until)
    }
}

/// Works on this thread until it is done or Python wants it to stop; its searches end after so many seconds with what
/// they have.
pub(crate) fn watched<T: Send>(
    py: Python<'_>,
    seconds: Option<&Number>,
    work: impl FnOnce(Arc<dyn Watch>) -> Result<T, tenside::Error> + Send,
) -> Outcome<T> {
    let until = match seconds {
        Some(seconds) => {
            Quantity::Seconds.check(&seconds.0)?;
            Instant::now().checked_add(Duration::from_secs_f64(seconds.0.to_f64()))
        }
        None => None,
    };
    let caller = Arc::new(Caller { heard: Mutex::new(Heard { looked: Instant::now(), error: None }), until });
    let watch = Arc::clone(&caller);
    let result = py.detach(|| work(watch));
    let error = caller.heard().error.take();
    match error {
        Some(error) => Err(Failure::Python(error)),
        None => Ok(result?),
    }
}
