//! Stopping work that takes long.
//!
//! The core has no clock and hears no signal. Whoever asks lends it a [`Watch`], which is asked again and again whether
//! to go on: before every linear program, at every step of the exact simplex method, between rows of a sweep. A brief
//! carries its watch to everything that is asked of it.
//!
//! # Why
//! - A brief carries its watch, so that no question needs a twin with one more argument, and work that cannot be
//!   stopped has `Infallible` in its type. `go_on` ends a call with the fault `Stopped`; `search_on` ends a search
//!   with what it has, so that the core gets limits of time without a clock. A sweep is watched through its brief.
//! - Not watched: turning a brief of up to 64 lines along a parameter, checking a proof, comparing catalogues, fitting a
//!   model, and pages.

use std::fmt;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

pub(crate) use tenside_lp::Halt;
pub use tenside_lp::Unwatched;

use crate::error::{Error, Fault, FaultKind};

/// Is told how much is done and says whether to go on. Open to implement: only the caller has a clock or hears a
/// signal. A method that is added later will have a default.
///
/// ```
/// use std::sync::Arc;
/// use std::time::{Duration, Instant};
/// use tenside::brief::Brief;
/// use tenside::catalogue::Catalogue;
/// use tenside::watch::Watch;
/// struct Until(Instant);
/// impl Watch for Until {
///     fn go_on(&self, _done: u64) -> bool {
///         Instant::now() < self.0
///     }
/// }
/// let brief = Brief::new("Half", &Catalogue::starter())?.fix("sci-powder", 50)?.qs("kaolin")?;
/// let in_a_minute = Instant::now() + Duration::from_secs(60);
/// assert!(brief.clone().watched_by(Arc::new(Until(in_a_minute))).solve().is_ok());
/// assert!(brief.watched_by(Arc::new(Until(Instant::now()))).solve().unwrap_err().is_stopped());
/// # Ok::<(), tenside::Error>(())
/// ```
pub trait Watch: Send + Sync {
    /// So many rows, samples or corners more are done. `false` stops the work, which ends with a fault of the kind
    /// `Stopped` and leaves nothing.
    fn go_on(&self, done: u64) -> bool;

    /// `false` ends a search over choices or steps as its limit of linear programs does: with the best found so far and
    /// how far that may be from the best there is. So a search gets a limit of time.
    fn search_on(&self) -> bool {
        true
    }
}

impl Watch for Unwatched {
    fn go_on(&self, _done: u64) -> bool {
        true
    }
}

/// Who watches, if anybody does. It is no part of a question: all are equal.
#[derive(Clone, Default)]
pub(crate) struct Watched {
    watch: Option<Arc<dyn Watch>>,
    to_the_end: bool,
    turns: Option<Arc<Turns>>,
}

/// How often searches went on before they were ended: the same number ends them at the same place again.
struct Turns {
    most: usize,
    taken: AtomicUsize,
    ended: AtomicBool,
}

impl Watched {
    pub(crate) fn by(watch: Arc<dyn Watch>) -> Self {
        Watched { watch: Some(watch), ..Watched::default() }
    }

    /// By the same, who can stop all work but end no search with what it has.
    pub(crate) fn to_the_end(&self) -> Self {
        Watched { to_the_end: true, ..self.clone() }
    }

    /// By the same, counting from now on the turns of searches, which end after so many at most.
    pub(crate) fn counting_turns(&self, most: usize) -> Self {
        let turns = Turns { most, taken: AtomicUsize::new(0), ended: AtomicBool::new(false) };
        Watched { turns: Some(Arc::new(turns)), ..self.clone() }
    }

    /// After how many turns searches were ended, where they were.
    pub(crate) fn ended_after(&self) -> Option<usize> {
        let turns = self.turns.as_ref().filter(|turns| turns.ended.load(Ordering::Relaxed))?;
        Some(turns.taken.load(Ordering::Relaxed))
    }

    /// So much more is done; whether to go on.
    pub(crate) fn go_on(&self, done: u64) -> bool {
        self.watch.as_ref().is_none_or(|watch| watch.go_on(done))
    }

    /// So much more is done; an error where that is to be all.
    pub(crate) fn check_after(&self, done: u64) -> Result<(), Error> {
        if self.go_on(done) { Ok(()) } else { Err(stopped()) }
    }
}

impl Turns {
    /// One turn more, if that may be; what has ended stays so.
    fn go_on(&self, may: impl Fn() -> bool) -> bool {
        let taken = self.taken.load(Ordering::Relaxed);
        let goes_on = !self.ended.load(Ordering::Relaxed) && taken < self.most && may();
        self.taken.store(taken + usize::from(goes_on), Ordering::Relaxed);
        self.ended.store(!goes_on, Ordering::Relaxed);
        goes_on
    }
}

impl PartialEq for Watched {
    fn eq(&self, _other: &Self) -> bool {
        true
    }
}

impl fmt::Debug for Watched {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(if self.watch.is_some() { "watched" } else { "unwatched" })
    }
}

impl Halt for Watched {
    type Stopped = Error;

    fn check(&self) -> Result<(), Error> {
        self.check_after(0)
    }

    fn search_on(&self) -> bool {
        let goes_on = || self.watch.as_ref().is_none_or(|watch| watch.search_on());
        self.to_the_end || self.turns.as_ref().map_or_else(goes_on, |turns| turns.go_on(goes_on))
    }
}

/// The error of work that its watch stopped.
pub(crate) fn stopped() -> Error {
    Fault::new(FaultKind::Stopped, "the work was stopped by whoever watched it").into()
}
