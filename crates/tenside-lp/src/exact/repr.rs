//! How a number is held: two machine words where both parts fit, else at any length. One number has one form, so that
//! equality and hash are those of the parts.
//!
//! Sources: sums and products of fractions in lowest terms as in D. E. Knuth, Seminumerical Algorithms, 4.5.1; greatest
//! common divisors by J. Stein, 1967 (both from memory).

use std::borrow::Cow;
use std::cmp::Ordering;
use std::num::NonZeroI64;

use dashu_int::{IBig, UBig};
use dashu_ratio::RBig;

/// An exact rational number.
///
/// It prints as a decimal where that ends within 28 digits (`12.5`), else as a fraction (`1/3`), and reads both back.
///
/// ```
/// use tenside_lp::Exact;
/// let third: Exact = "1/3".parse()?;
/// let sum = &third + &third + third.clone();
/// assert_eq!(sum, Exact::from(1));
/// assert_eq!("0.125".parse::<Exact>()?, Exact::ratio(1, 8));
/// assert_eq!(Exact::ratio(2, 3).rounded_text(2), "0.67");
/// # Ok::<(), tenside_lp::Error>(())
/// ```
#[derive(Clone, PartialEq, Eq, Hash)]
pub struct Exact(pub(super) Repr);

impl Default for Exact {
    fn default() -> Self {
        Exact::ZERO
    }
}

#[derive(Clone, PartialEq, Eq, Hash)]
pub(super) enum Repr {
    /// Numerator and denominator in lowest terms, the denominator above 0, both magnitudes at most `i64::MAX`.
    Small(i64, NonZeroI64),
    /// Any other number.
    Large(Box<RBig>),
}

const UNIT: NonZeroI64 = NonZeroI64::new(1).unwrap();

impl Exact {
    /// A whole number other than the least `i64`, which no small number is.
    pub(super) const fn whole(value: i64) -> Self {
        Exact(Repr::Small(value, UNIT))
    }

    /// Numerator and denominator if both are small.
    #[inline(always)]
    pub(crate) fn small(&self) -> Option<(i64, i64)> {
        match &self.0 {
            Repr::Small(numerator, denominator) => Some((*numerator, denominator.get())),
            Repr::Large(_) => None,
        }
    }

    pub(super) fn big(&self) -> Cow<'_, RBig> {
        match &self.0 {
            Repr::Small(numerator, denominator) => {
                Cow::Owned(RBig::from_parts(IBig::from(*numerator), UBig::from(denominator.get().unsigned_abs())))
            }
            Repr::Large(value) => Cow::Borrowed(value),
        }
    }

    pub(super) fn of_big(value: RBig) -> Self {
        match (i64::try_from(value.numerator()), i64::try_from(value.denominator()).ok().and_then(NonZeroI64::new)) {
            (Ok(numerator), Some(denominator)) if numerator != i64::MIN => Exact(Repr::Small(numerator, denominator)),
            _ => Exact(Repr::Large(Box::new(value))),
        }
    }

    /// The fraction of these parts, which are in lowest terms; the denominator is above 0.
    #[inline(always)]
    pub(crate) fn in_lowest_terms(numerator: i128, denominator: i128) -> Self {
        match (i64::try_from(numerator), i64::try_from(denominator).ok().and_then(NonZeroI64::new)) {
            (Ok(numerator), Some(denominator)) if numerator != i64::MIN => Exact(Repr::Small(numerator, denominator)),
            _ => Exact::large(numerator, denominator),
        }
    }

    #[cold]
    fn large(numerator: i128, denominator: i128) -> Self {
        Exact::of_big(RBig::from_parts(IBig::from(numerator), UBig::from(denominator.unsigned_abs())))
    }

    /// The fraction of these parts; the denominator is above 0.
    pub(crate) fn of_parts(numerator: i128, denominator: i128) -> Self {
        let Ok(below) = u64::try_from(denominator) else { return Exact::large(numerator, denominator) };
        match common_divisor(remainder(numerator, below), below) {
            1 => Exact::in_lowest_terms(numerator, denominator),
            divisor => Exact::in_lowest_terms(quotient(numerator, divisor), i128::from(below / divisor)),
        }
    }

    #[inline]
    pub(super) fn plus(&self, other: &Exact) -> Self {
        match (self.small(), other.small()) {
            (Some(left), Some(right)) => small_sum(left, right),
            _ => Exact::of_big(self.big().as_ref() + other.big().as_ref()),
        }
    }

    #[inline]
    pub(super) fn minus(&self, other: &Exact) -> Self {
        match (self.small(), other.small()) {
            (Some(left), Some((numerator, denominator))) => small_sum(left, (-numerator, denominator)),
            _ => Exact::of_big(self.big().as_ref() - other.big().as_ref()),
        }
    }

    #[inline]
    pub(super) fn times(&self, other: &Exact) -> Self {
        match (self.small(), other.small()) {
            (Some(left), Some(right)) => small_product(left, right),
            _ => Exact::of_big(self.big().as_ref() * other.big().as_ref()),
        }
    }

    #[inline]
    pub(super) fn over_other(&self, other: &Exact) -> Self {
        match (self.small(), other.small()) {
            (Some(left), Some((numerator, denominator))) if numerator != 0 => {
                small_product(left, if numerator < 0 { (-denominator, -numerator) } else { (denominator, numerator) })
            }
            _ => Exact::of_big(self.big().as_ref() / other.big().as_ref()),
        }
    }

    #[inline]
    pub(super) fn negated(&self) -> Self {
        match &self.0 {
            Repr::Small(numerator, denominator) => Exact(Repr::Small(-numerator, *denominator)),
            Repr::Large(value) => Exact(Repr::Large(Box::new(-value.as_ref().clone()))),
        }
    }
}

impl PartialOrd for Exact {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Exact {
    fn cmp(&self, other: &Self) -> Ordering {
        match (self.small(), other.small()) {
            (Some((left, below)), Some((right, under))) => {
                (i128::from(left) * i128::from(under)).cmp(&(i128::from(right) * i128::from(below)))
            }
            _ => self.big().cmp(&other.big()),
        }
    }
}

/// `a/b + c/d`.
#[inline]
fn small_sum((a, b): (i64, i64), (c, d): (i64, i64)) -> Exact {
    let wide = |left: i64, right: i64| i128::from(left) * i128::from(right);
    if a == 0 || c == 0 {
        return if a == 0 {
            Exact::in_lowest_terms(c.into(), d.into())
        } else {
            Exact::in_lowest_terms(a.into(), b.into())
        };
    }
    if b == d {
        let sum = i128::from(a) + i128::from(c);
        if b == 1 {
            return Exact::in_lowest_terms(sum, 1);
        }
        return Exact::of_parts(sum, i128::from(b));
    }
    let common = common_divisor(b.unsigned_abs(), d.unsigned_abs()) as i64;
    if common == 1 {
        return Exact::in_lowest_terms(wide(a, d) + wide(c, b), wide(b, d));
    }
    let (over, under) = (b / common, d / common);
    let sum = wide(a, under) + wide(c, over);
    let divisor = common_divisor(remainder(sum, common.unsigned_abs()), common.unsigned_abs()) as i64;
    Exact::in_lowest_terms(sum / i128::from(divisor), wide(over, d / divisor))
}

/// `a/b . c/d`.
#[inline]
fn small_product((a, b): (i64, i64), (c, d): (i64, i64)) -> Exact {
    if a == 0 || c == 0 {
        return Exact::ZERO;
    }
    let (across, other) = (
        common_divisor(a.unsigned_abs(), d.unsigned_abs()) as i64,
        common_divisor(c.unsigned_abs(), b.unsigned_abs()) as i64,
    );
    Exact::in_lowest_terms(
        i128::from(a / across) * i128::from(c / other),
        i128::from(b / other) * i128::from(d / across),
    )
}

/// What dividing the magnitude leaves; `divisor` is not 0.
#[inline]
fn remainder(value: i128, divisor: u64) -> u64 {
    let magnitude = value.unsigned_abs();
    u64::try_from(magnitude).map_or_else(|_| (magnitude % u128::from(divisor)) as u64, |magnitude| magnitude % divisor)
}

/// The quotient; most numbers are short, and those are divided by one instruction.
#[inline]
fn quotient(value: i128, divisor: u64) -> i128 {
    match (i64::try_from(value), i64::try_from(divisor)) {
        (Ok(value), Ok(divisor)) => i128::from(value / divisor),
        _ => value / i128::from(divisor),
    }
}

/// The greatest common divisor; `right` is not 0.
#[inline]
pub(crate) fn common_divisor(mut left: u64, mut right: u64) -> u64 {
    if right == 1 {
        return 1;
    }
    // Often one divides the other.
    if left < right {
        std::mem::swap(&mut left, &mut right);
    }
    if right == 0 {
        return left;
    }
    left %= right;
    if left == 0 {
        return right;
    }
    let twos = (left | right).trailing_zeros();
    left >>= left.trailing_zeros();
    loop {
        right >>= right.trailing_zeros();
        if left > right {
            std::mem::swap(&mut left, &mut right);
        }
        right -= left;
        if right == 0 {
            return left << twos;
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn part() -> impl Strategy<Value = i64> {
        prop_oneof![
            -20i64..20,
            -100_000i64..100_000,
            any::<i64>(),
            Just(i64::MAX),
            Just(-i64::MAX),
            Just(i64::MIN),
            Just(1i64 << 62)
        ]
    }

    proptest! {
        /// Both forms are one arithmetic, and every result has the one form that it may have.
        #[test]
        fn words_and_any_length_agree(a in part(), b in part(), c in part(), d in part()) {
            prop_assume!(b != 0 && d != 0);
            let big = |above: i64, below: i64| RBig::from_parts_signed(IBig::from(above), IBig::from(below));
            let (left, right, one, other) = (Exact::of_big(big(a, b)), Exact::of_big(big(c, d)), big(a, b), big(c, d));
            let mut pairs = vec![
                (left.plus(&right), &one + &other),
                (left.minus(&right), &one - &other),
                (left.times(&right), &one * &other),
                (left.negated(), -one.clone()),
                (left.floor(), RBig::from(one.floor())),
            ];
            if c != 0 {
                pairs.push((left.over_other(&right), &one / &other));
            }
            for (found, expected) in pairs {
                prop_assert_eq!(found.big().into_owned(), expected.clone());
                prop_assert_eq!(&found, &Exact::of_big(expected));
            }
            prop_assert_eq!(left.cmp(&right), one.cmp(&other));
            prop_assert_eq!(Exact::of_parts(i128::from(a), i128::from(b).abs()), Exact::of_big(big(a, b) * RBig::from(b.signum())));
            prop_assert_eq!(left == right, one == other);
        }
    }
}
