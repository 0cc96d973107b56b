//! Sums of products over one denominator: nothing is reduced before the end, where reducing at every step would cost more
//! than the products.

use std::borrow::Borrow;

use super::repr::{Exact, common_divisor};

/// The sum of the products of two lists, entry by entry as far as both go.
///
/// ```
/// use tenside_lp::{Exact, dot};
/// let weights = [Exact::ratio(1, 2), Exact::ratio(1, 3)];
/// assert_eq!(dot(&weights, [4, 9].map(Exact::from)), Exact::from(5));
/// assert_eq!(dot(&weights, &weights), Exact::ratio(13, 36));
/// ```
#[must_use]
pub fn dot<Left: Borrow<Exact>, Right: Borrow<Exact>>(
    left: impl IntoIterator<Item = Left>,
    right: impl IntoIterator<Item = Right>,
) -> Exact {
    let (mut sum, mut rest) = (Fraction { above: 0, below: 1 }, Exact::ZERO);
    for (left, right) in left.into_iter().zip(right) {
        let (left, right) = (left.borrow(), right.borrow());
        match (left.small(), right.small()) {
            (Some((0, _)), _) | (_, Some((0, _))) => {}
            (Some(one), Some(other)) => match sum.plus_product(one, other) {
                Some(more) => sum = more,
                None => rest += left * right,
            },
            _ => rest += left * right,
        }
    }
    let sum = Exact::of_parts(sum.above, i128::from(sum.below));
    if rest.is_zero() { sum } else { sum + rest }
}

/// Not in lowest terms; the denominator is above 0.
struct Fraction {
    above: i128,
    below: i64,
}

impl Fraction {
    /// With `a/b . c/d` more, unless a part would be too long.
    fn plus_product(&self, (a, b): (i64, i64), (c, d): (i64, i64)) -> Option<Self> {
        let (product, under) = (i128::from(a) * i128::from(c), b.checked_mul(d)?);
        if under == self.below {
            return Some(Fraction { above: self.above.checked_add(product)?, below: under });
        }
        let common = common_divisor(self.below.unsigned_abs(), under.unsigned_abs()) as i64;
        let (times, other) = (under / common, self.below / common);
        let above = self.above.checked_mul(i128::from(times))?.checked_add(product.checked_mul(i128::from(other))?)?;
        Some(Fraction { above, below: self.below.checked_mul(times)? })
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Numbers of both forms, whose products fit the common denominator or not.
    fn number() -> impl Strategy<Value = Exact> {
        prop_oneof![
            (-20i64..20, 1i64..20).prop_map(|(above, below)| Exact::ratio(above, below)),
            (-1_000_000i64..1_000_000).prop_map(|parts| Exact::ratio(parts, 1_000_000)),
            (any::<i64>(), 1i64..).prop_map(|(above, below)| Exact::ratio(above, below)),
            (any::<i64>(), 1i64..).prop_map(|(above, below)| Exact::ratio(above, below) * Exact::ratio(above, below)),
        ]
    }

    proptest! {
        #[test]
        fn it_is_the_sum_of_the_products(pairs in proptest::collection::vec((number(), number()), 0..12)) {
            let (left, right): (Vec<Exact>, Vec<Exact>) = pairs.iter().cloned().unzip();
            let expected: Exact = pairs.iter().map(|(left, right)| left * right).sum();
            prop_assert_eq!(dot(&left, &right), expected.clone());
            prop_assert_eq!(dot(&left, right), expected);
        }
    }
}
