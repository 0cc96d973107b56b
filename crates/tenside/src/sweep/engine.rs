//! Which engine fills a sweep: the closed form where the brief is determined; where it is not, or its numbers are too
//! long for that to be quick, one critical region after the other, else a solver point by point.

use super::closed::Closed;
use super::conflicts::Explained;
use super::definition::Sweep;
use super::fill::Fill;
use super::query::Query;
use super::regions::Regions;
use super::solved::Solved;
use super::unknown::Masked;
use crate::error::Error;

/// What fills a sweep.
pub(super) fn filler<'a>(sweep: &'a Sweep, query: &Query) -> Result<Box<dyn Fill + 'a>, Error> {
    let filler: Box<dyn Fill + 'a> = match Closed::new(sweep, query)? {
        Some(closed) if closed.is_short() => explained(sweep, query, closed)?,
        Some(closed) => match Regions::new(sweep, query)?.filter(Regions::are_all_kept) {
            Some(regions) => Box::new(regions),
            None => explained(sweep, query, closed)?,
        },
        None => optimal(sweep, query)?,
    };
    Ok(if query.may_be_unknown() {
        Box::new(Masked { points: sweep.points(), filler, unknown: query.unknown.clone() })
    } else {
        filler
    })
}

fn optimal<'a>(sweep: &'a Sweep, query: &Query) -> Result<Box<dyn Fill + 'a>, Error> {
    Ok(match Regions::new(sweep, query)? {
        Some(regions) => Box::new(regions),
        None => Box::new(Solved::new(sweep, query)?),
    })
}

/// The closed form, with what conflicts where that is wanted.
fn explained<'a>(sweep: &'a Sweep, query: &Query, closed: Closed<'a>) -> Result<Box<dyn Fill + 'a>, Error> {
    Ok(if query.conflict {
        Box::new(Explained { filler: closed, refused: optimal(sweep, &query.conflict_alone())? })
    } else {
        Box::new(closed)
    })
}
