//! Rounding many shares to whole units without changing their sum.

use super::{Exact, HalfWay};
use crate::error::{Error, Fault, FaultKind};

/// Whole units and what each is away from its exact share.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Apportioned {
    /// Whole units, in the order given.
    pub units: Vec<i64>,
    /// Units minus exact share, in the order given.
    pub departures: Vec<Exact>,
}

/// Largest-remainder apportioning: `total` whole units over `weights` in proportion; every share is within one unit of
/// exact. Equal remainders go to the earlier entry.
///
/// ```
/// use tenside::number::{apportion, Exact};
/// let votes = [47_000, 16_000, 15_800, 12_000, 6_100, 3_100].map(Exact::from);
/// assert_eq!(apportion(&votes, 10)?.units, [5, 2, 1, 1, 1, 0]);   // the standard six-party illustration, from memory
/// # Ok::<(), tenside::Error>(())
/// ```
///
/// # Errors
/// Negative weights, weights that sum to 0, a negative total.
pub fn apportion(weights: &[Exact], total: i64) -> Result<Apportioned, Error> {
    let sum: Exact = weights.iter().sum();
    if !sum.is_positive() || total < 0 || weights.iter().any(Exact::is_negative) {
        return Err(Fault::new(FaultKind::OutOfRange, "shares cannot be apportioned")
            .value(&sum)
            .allowed("weights of at least 0 whose sum is above 0")
            .into());
    }
    let exact: Vec<Exact> = weights.iter().map(|weight| weight * Exact::from(total) / &sum).collect();
    let mut units = exact.iter().map(|share| whole(share.floor_i64())).collect::<Result<Vec<_>, _>>()?;
    let missing = usize::try_from(total - units.iter().sum::<i64>()).unwrap_or(0);
    let mut by_remainder: Vec<usize> = (0..units.len()).collect();
    by_remainder.sort_by(|&left, &right| {
        let remainder = |index: usize| &exact[index] - Exact::from(units[index]);
        remainder(right).cmp(&remainder(left)).then(left.cmp(&right))
    });
    for &index in by_remainder.iter().take(missing) {
        units[index] += 1;
    }
    Ok(apportioned(units, &exact))
}

/// The one rounding rule of formulas and weigh-outs: every share to its nearest whole unit (half-way to even), the line
/// at `absorber` takes what is left of `total`.
///
/// ```
/// use tenside::number::{apportion_to, Exact};
/// let grams = [Exact::ratio(333, 10), Exact::ratio(333, 10), Exact::ratio(334, 10)];
/// assert_eq!(apportion_to(&grams, 100, 2)?.units, [33, 33, 34]);
/// # Ok::<(), tenside::Error>(())
/// ```
///
/// # Errors
/// Negative shares, no such line, and an absorber that would have to take less than nothing.
pub fn apportion_to(shares: &[Exact], total: i64, absorber: usize) -> Result<Apportioned, Error> {
    units_of(shares, total, absorber).map(|units| apportioned(units, shares))
}

/// The whole units of [`apportion_to`].
pub(crate) fn units_of(shares: &[Exact], total: i64, absorber: usize) -> Result<Vec<i64>, Error> {
    if absorber >= shares.len() || shares.iter().any(Exact::is_negative) {
        return Err(Fault::new(FaultKind::OutOfRange, "shares cannot be rounded")
            .allowed("shares of at least 0 and a line among them that takes the rest")
            .into());
    }
    let mut units =
        shares.iter().map(|share| whole(share.round_i64(HalfWay::ToEven))).collect::<Result<Vec<_>, _>>()?;
    let others = units
        .iter()
        .enumerate()
        .filter(|(index, _)| *index != absorber)
        .try_fold(0i64, |sum, (_, unit)| sum.checked_add(*unit));
    units[absorber] = whole(others.and_then(|others| total.checked_sub(others)))?;
    if units[absorber] < 0 {
        return Err(Fault::new(FaultKind::Contradiction, "the line that takes the rounding rest would fall below 0")
            .value(units[absorber])
            .remedy("use a finer unit or a larger amount")
            .into());
    }
    Ok(units)
}

fn whole(value: Option<i64>) -> Result<i64, Error> {
    value.ok_or_else(|| {
        Fault::new(FaultKind::OutOfRange, "a share has more units than can be counted")
            .allowed("below 9.2e18 units")
            .into()
    })
}

fn apportioned(units: Vec<i64>, exact: &[Exact]) -> Apportioned {
    let departures = units.iter().zip(exact).map(|(unit, share)| Exact::from(*unit) - share).collect();
    Apportioned { units, departures }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn sums_are_kept_and_each_share_is_within_one_unit(weights in prop::collection::vec(0i64..1_000_000, 1..30), total in 0i64..2_000_000) {
            prop_assume!(weights.iter().sum::<i64>() > 0);
            let weights: Vec<Exact> = weights.into_iter().map(Exact::from).collect();
            let result = apportion(&weights, total).unwrap();
            prop_assert_eq!(result.units.iter().sum::<i64>(), total);
            prop_assert!(result.departures.iter().all(|departure| departure.abs() < Exact::ONE));
        }

        #[test]
        fn the_absorber_takes_the_rest(shares in prop::collection::vec(0i64..1_000_000, 2..30)) {
            let shares: Vec<Exact> = shares.into_iter().map(|share| Exact::ratio(share, 997)).collect();
            let total = shares.iter().sum::<Exact>().round_i64(HalfWay::ToEven).unwrap() + 40;
            let result = apportion_to(&shares, total, 0).unwrap();
            prop_assert_eq!(result.units.iter().sum::<i64>(), total);
            prop_assert!(result.departures.iter().skip(1).all(|departure| departure.abs() <= Exact::ratio(1, 2)));
        }
    }

    #[test]
    fn no_units_are_nothing_for_each_and_fewer_are_refused() {
        assert_eq!(apportion(&[Exact::from(2), Exact::from(1)], 0).unwrap().units, [0, 0]);
        assert!(apportion(&[Exact::from(2), Exact::from(1)], -3).is_err());
    }

    #[test]
    fn refuses_nothing_to_share() {
        assert!(apportion(&[], 10).is_err());
        assert!(apportion(&[Exact::ZERO], 10).is_err());
        assert!(apportion(&[Exact::from(-1), Exact::from(2)], 10).is_err());
        assert!(apportion_to(&[Exact::from(1)], 1, 1).is_err());
        assert!(apportion_to(&[Exact::from(5), Exact::from(1)], 4, 1).is_err());
    }
}
