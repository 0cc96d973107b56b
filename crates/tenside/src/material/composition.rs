//! What a raw material consists of: stated shares, bounds only, or a premix of other materials.

use std::collections::HashSet;
use std::fmt;
use std::sync::Arc;

use super::{Constituent, Material};
use crate::error::{Error, Fault, FaultKind};
use crate::number::Ppm;

/// What a raw material consists of.
#[derive(Clone, PartialEq)]
#[non_exhaustive]
pub enum Composition {
    /// Typical shares that sum to 100.
    Stated(Vec<Constituent>),
    /// Bounds without typical shares: an INCI list in descending order, ranges of a safety data sheet.
    Bounded {
        /// The ingredients.
        constituents: Vec<Constituent>,
        /// True where they stand in the supplier's descending order of mass.
        descending: bool,
    },
    /// One's own premix: other materials and their shares, summing to 100.
    Premix(Vec<(Arc<Material>, Ppm)>),
}

/// A range end that the others made tighter than stated.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct TightenedEnd {
    /// Whose.
    pub constituent: String,
    /// True for the high end.
    pub high: bool,
    /// As stated; nothing if it was not.
    pub stated: Option<Ppm>,
    /// As attainable.
    pub attainable: Ppm,
}

impl Composition {
    /// Typical shares with their ranges.
    ///
    /// # Errors
    /// No constituent, one that stands twice, one without a typical share, typical shares that do not sum to 100, and
    /// ranges that no composition can meet.
    pub fn stated(constituents: Vec<Constituent>) -> Result<Self, Error> {
        let mut faults = once_each(&constituents);
        for row in constituents.iter().filter(|row| row.typical.is_none()) {
            faults.push(
                Fault::new(FaultKind::Missing, "a typical share is missing")
                    .value(row.substance.inci())
                    .remedy("state all typical shares, or none"),
            );
        }
        let sum: u64 = constituents.iter().filter_map(|row| row.typical).map(|share| u64::from(share.parts())).sum();
        if faults.is_empty() && sum != u64::from(Ppm::WHOLE.parts()) {
            faults.push(off_hundred(sum));
        }
        Error::check(faults, ())?;
        Ok(Composition::Stated(tighten(constituents)?))
    }

    /// Bounds only. With `descending`, the constituents stand in the supplier's descending order of mass: the k-th of n
    /// is at most 1/k and the first at least 1/n. Nothing more follows, since below 1 % the order is free.
    ///
    /// ```
    /// use std::sync::Arc;
    /// use tenside::material::{Composition, Constituent};
    /// use tenside::substance::{Class, Substance};
    /// let row = |name: &str| Ok::<_, tenside::Error>(Constituent::bounded(Arc::new(Substance::new(name, Class::Other)?)));
    /// let list = Composition::bounded(vec![row("A")?, row("B")?, row("C")?], true)?;
    /// assert_eq!(list.constituents()[0].low().map(|low| low.to_string()).as_deref(), Some("33.3333"));
    /// assert_eq!(list.constituents()[1].high().map(|high| high.to_string()).as_deref(), Some("50"));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// No constituent, one that stands twice, one with a typical share, and bounds that no composition can meet.
    pub fn bounded(mut constituents: Vec<Constituent>, descending: bool) -> Result<Self, Error> {
        let mut faults = once_each(&constituents);
        for row in constituents.iter().filter(|row| row.typical.is_some()) {
            faults.push(
                Fault::new(FaultKind::Contradiction, "a typical share among bounds")
                    .value(row.substance.inci())
                    .remedy("state all typical shares, or none"),
            );
        }
        Error::check(faults, ())?;
        let count = u32::try_from(constituents.len()).unwrap_or(u32::MAX);
        let whole = Ppm::WHOLE.parts();
        for (row, place) in constituents.iter_mut().zip(1u32..) {
            let (mut low, mut high) = (row.stated_low.unwrap_or(Ppm::ZERO), row.stated_high.unwrap_or(Ppm::WHOLE));
            if descending {
                // Below 1 % the order is free, so the hundred-and-first can still be just under 1 %. Rounded outwards
                // to the grid.
                high = high.min(Ppm::from_parts(whole.div_ceil(place).max(whole / 100))?);
                if place == 1 && count < 100 {
                    low = low.max(Ppm::from_parts(whole / count)?);
                }
            }
            if low > high {
                return Err(Fault::new(
                    FaultKind::Contradiction,
                    "a bound and the descending order contradict each other",
                )
                .value(format!("{} from {low} to {high}", row.substance.inci()))
                .into());
            }
            (row.low, row.high) = (Some(low), Some(high));
        }
        Ok(Composition::Bounded { constituents: tighten(constituents)?, descending })
    }

    /// A premix of other materials.
    ///
    /// # Errors
    /// No part, and shares that do not sum to 100.
    pub fn premix(parts: Vec<(Arc<Material>, Ppm)>) -> Result<Self, Error> {
        let sum: u64 = parts.iter().map(|(_, share)| u64::from(share.parts())).sum();
        if sum != u64::from(Ppm::WHOLE.parts()) {
            return Err(off_hundred(sum).into());
        }
        Ok(Composition::Premix(parts))
    }

    /// The ingredients; none for a premix, whose parts have their own.
    #[must_use]
    pub fn constituents(&self) -> &[Constituent] {
        match self {
            Composition::Stated(rows) | Composition::Bounded { constituents: rows, .. } => rows,
            Composition::Premix(_) => &[],
        }
    }

    /// The parts of a premix; none for the rest.
    pub(crate) fn parts(&self) -> &[(Arc<Material>, Ppm)] {
        match self {
            Composition::Premix(parts) => parts,
            _ => &[],
        }
    }

    /// The parts, taken out of a premix.
    pub(super) fn take_parts(&mut self) -> Vec<(Arc<Material>, Ppm)> {
        match self {
            Composition::Premix(parts) => std::mem::take(parts),
            _ => Vec::new(),
        }
    }

    pub(super) fn constituents_mut(&mut self) -> &mut [Constituent] {
        match self {
            Composition::Stated(rows) | Composition::Bounded { constituents: rows, .. } => rows,
            Composition::Premix(_) => &mut [],
        }
    }

    /// Equal, with premixes of the same shares; whether the parts are equal is left open.
    pub(super) fn same_but_for_parts(&self, other: &Composition) -> bool {
        match (self, other) {
            (Composition::Premix(left), Composition::Premix(right)) => {
                left.iter().map(|(_, share)| share).eq(right.iter().map(|(_, share)| share))
            }
            _ => self == other,
        }
    }

    /// True where typical shares are stated.
    #[must_use]
    pub fn has_typical(&self) -> bool {
        match self {
            Composition::Stated(_) => true,
            Composition::Bounded { .. } => false,
            Composition::Premix(parts) => parts.iter().all(|(part, _)| part.has_typical()),
        }
    }

    /// True for bounds whose constituents stand in the supplier's descending order of mass.
    #[must_use]
    pub fn is_descending(&self) -> bool {
        matches!(self, Composition::Bounded { descending: true, .. })
    }

    /// The nameless remainder's typical share.
    #[must_use]
    pub fn unspecified(&self) -> Ppm {
        self.constituents()
            .iter()
            .find(|row| row.substance.is_unspecified())
            .and_then(|row| row.typical)
            .unwrap_or(Ppm::ZERO)
    }

    /// The range ends that differ from what is stated.
    #[must_use]
    pub fn tightened(&self) -> Vec<TightenedEnd> {
        let mut ends = Vec::new();
        for row in self.constituents() {
            for (high, stated, attainable) in [(false, row.stated_low, row.low), (true, row.stated_high, row.high)] {
                if let Some(attainable) = attainable.filter(|end| Some(*end) != stated) {
                    ends.push(TightenedEnd { constituent: row.substance.inci().to_string(), high, stated, attainable });
                }
            }
        }
        ends
    }
}

impl fmt::Debug for Composition {
    /// The parts of a premix by name: written out, shared parts would multiply.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Composition::Stated(rows) => formatter.debug_tuple("Stated").field(rows).finish(),
            Composition::Bounded { constituents, descending } => formatter
                .debug_struct("Bounded")
                .field("constituents", constituents)
                .field("descending", descending)
                .finish(),
            Composition::Premix(parts) => {
                formatter.debug_map().entries(parts.iter().map(|(part, share)| (part.id(), share))).finish()
            }
        }
    }
}

fn once_each(constituents: &[Constituent]) -> Vec<Fault> {
    let mut faults = Vec::new();
    if constituents.is_empty() {
        faults.push(Fault::new(FaultKind::Missing, "a composition without constituents"));
    }
    let mut seen = HashSet::with_capacity(constituents.len());
    for row in constituents {
        if !seen.insert(row.substance.inci()) {
            faults.push(
                Fault::new(FaultKind::Duplicate, "a constituent occurs twice")
                    .value(row.substance.inci())
                    .remedy("add the two shares"),
            );
        }
    }
    faults
}

fn off_hundred(sum: u64) -> Fault {
    let shown = crate::number::Exact::ratio(i64::try_from(sum).unwrap_or(i64::MAX), 10_000);
    let fault = Fault::new(FaultKind::Contradiction, "a composition does not sum to 100 %")
        .value(&shown)
        .allowed("exactly 100 % w/w");
    if sum < u64::from(Ppm::WHOLE.parts()) {
        let rest = crate::number::Exact::hundred() - shown;
        fault
            .remedy(format!("if the supplier does not say what the other {rest} % is, add \"unspecified\" with {rest}"))
    } else {
        fault.remedy("lower a share")
    }
}

/// Every end moved to what the others leave attainable. Parts per million sum to 1 000 000, so one pass over stated
/// ends is exact: an end can be reached with the others at their ends.
fn tighten(mut constituents: Vec<Constituent>) -> Result<Vec<Constituent>, Error> {
    let whole = i64::from(Ppm::WHOLE.parts());
    let parts = |end: Option<Ppm>| end.map(|end| i64::from(end.parts()));
    let lows: Vec<Option<i64>> = constituents.iter().map(|row| parts(row.low)).collect();
    let highs: Vec<Option<i64>> = constituents.iter().map(|row| parts(row.high)).collect();
    let sum = |ends: &[Option<i64>], missing: i64| -> i64 { ends.iter().map(|end| end.unwrap_or(missing)).sum() };
    if sum(&lows, 0) > whole || (highs.iter().all(Option::is_some) && sum(&highs, 0) < whole) {
        let percent = |sum: i64| crate::number::Exact::ratio(sum, 10_000);
        return Err(Fault::new(FaultKind::Contradiction, "no composition meets all the ranges")
            .value(format!("low ends sum to {}, high ends to {}", percent(sum(&lows, 0)), percent(sum(&highs, whole))))
            .allowed("sum of low ends <= 100 <= sum of high ends")
            .into());
    }
    // The sum of the other ends, if all of them are stated.
    let absent = |ends: &[Option<i64>]| ends.iter().filter(|end| end.is_none()).count();
    let (absent_lows, absent_highs, low_sum, high_sum) = (absent(&lows), absent(&highs), sum(&lows, 0), sum(&highs, 0));
    let others = |own: Option<i64>, absent: usize, sum: i64| {
        (absent == usize::from(own.is_none())).then(|| sum - own.unwrap_or(0))
    };
    let ppm = |parts: i64| Ppm::from_parts(u32::try_from(parts.clamp(0, whole)).unwrap_or(0));
    for (index, row) in constituents.iter_mut().enumerate() {
        if let Some(rest) = others(lows[index], absent_lows, low_sum)
            .map(|sum| whole - sum)
            .filter(|rest| highs[index].is_none_or(|high| *rest < high))
        {
            row.high = Some(ppm(rest)?);
        }
        if let Some(rest) = others(highs[index], absent_highs, high_sum)
            .map(|sum| (whole - sum).max(0))
            .filter(|rest| lows[index].is_none_or(|low| *rest > low))
        {
            row.low = Some(ppm(rest)?);
        }
    }
    Ok(constituents)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::substance::{Class, Substance};

    fn row(name: &str, typical: &str, range: Option<(&str, &str)>) -> Constituent {
        let percent = |text| Ppm::from_percent(text).unwrap();
        let row = Constituent::typical(Arc::new(Substance::new(name, Class::Other).unwrap()), percent(typical));
        match range {
            Some((low, high)) => row.with_range(Some(percent(low)), Some(percent(high))).unwrap(),
            None => row,
        }
    }

    #[test]
    fn sums_other_than_a_hundred_are_refused_with_the_way_out() {
        let error = Composition::stated(vec![row("A", "60", None), row("B", "43", None)]).unwrap_err();
        assert!(error.is_contradiction() && error.to_string().contains("found 103"), "{error}");
        let error = Composition::stated(vec![row("A", "60", None), row("B", "37", None)]).unwrap_err();
        assert!(error.to_string().contains("add \"unspecified\" with 3"), "{error}");
    }

    #[test]
    fn ends_follow_from_the_others() {
        let composition = Composition::stated(vec![
            row("A", "84", Some(("82", "90"))),
            row("B", "10", Some(("8", "12"))),
            row("C", "6", None),
        ])
        .unwrap();
        let ends = |index: usize| {
            (
                composition.constituents()[index].low().map(|end| end.to_string()),
                composition.constituents()[index].high().map(|end| end.to_string()),
            )
        };
        assert_eq!(ends(2), (Some("0".into()), Some("10".into())));
        assert_eq!(composition.tightened().len(), 2);
        let one = Composition::stated(vec![row("A", "100", None)]).unwrap();
        assert_eq!(one.constituents()[0].low(), Some(Ppm::WHOLE));
    }

    #[test]
    fn ranges_nobody_can_meet_are_refused() {
        assert!(
            Composition::stated(vec![row("A", "50", Some(("50", "50"))), row("B", "50", Some(("20", "50")))]).is_ok()
        );
        let percent = |text| Some(Ppm::from_percent(text).unwrap());
        let bound = |name: &str, low, high| {
            Constituent::bounded(Arc::new(Substance::new(name, Class::Other).unwrap()))
                .with_range(percent(low), percent(high))
                .unwrap()
        };
        assert!(Composition::bounded(vec![bound("A", "60", "70"), bound("B", "50", "60")], false).is_err());
        assert!(Composition::bounded(vec![bound("A", "10", "20"), bound("B", "50", "60")], false).is_err());
        assert!(Composition::bounded(vec![bound("A", "10", "20"), bound("B", "50", "90")], true).is_err());
        assert!(Composition::stated(vec![]).is_err());
        assert!(Composition::stated(vec![row("A", "50", None), row("A", "50", None)]).is_err());
    }
}
