//! Which engine fills a sweep: one critical region after the other where an axis varies numbers, else a solver point by
//! point.

use super::definition::Sweep;
use super::fill::Fill;
use super::query::Query;
use super::regions::Regions;
use super::solved::Solved;
use super::unknown::Masked;
use crate::error::Error;

/// What fills a sweep.
pub(super) fn filler<'a>(sweep: &'a Sweep, query: &Query) -> Result<Box<dyn Fill + 'a>, Error> {
    let filler: Box<dyn Fill + 'a> = match Regions::new(sweep, query)? {
        Some(regions) => Box::new(regions),
        None => Box::new(Solved::new(sweep, query)?),
    };
    Ok(if query.may_be_unknown() {
        Box::new(Masked { points: sweep.points(), filler, unknown: query.unknown.clone() })
    } else {
        filler
    })
}
