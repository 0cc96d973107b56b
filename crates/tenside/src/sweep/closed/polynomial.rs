//! Polynomials in the numbers that axes turn, with exact coefficients: what a determined formula's percentages are
//! quotients of.

use std::collections::BTreeMap;

use tenside_lp::dot;

use crate::number::Exact;

/// Powers of each variable.
pub(super) type Powers = Vec<u8>;

/// A sum of monomials; no coefficient is 0.
#[derive(Clone, Debug, PartialEq, Default)]
pub(super) struct Polynomial(BTreeMap<Powers, Exact>);

impl Polynomial {
    pub(super) fn constant(value: Exact, variables: usize) -> Self {
        Polynomial::default().with(vec![0; variables], value)
    }

    /// `coefficient * variable`.
    pub(super) fn variable(index: usize, coefficient: Exact, variables: usize) -> Self {
        let mut powers = vec![0; variables];
        powers[index] = 1;
        Polynomial::default().with(powers, coefficient)
    }

    fn with(mut self, powers: Powers, coefficient: Exact) -> Self {
        let sum = self.0.remove(&powers).unwrap_or_default() + coefficient;
        if !sum.is_zero() {
            self.0.insert(powers, sum);
        }
        self
    }

    pub(super) fn is_zero(&self) -> bool {
        self.0.is_empty()
    }

    pub(super) fn terms(&self) -> impl Iterator<Item = (&Powers, &Exact)> {
        self.0.iter()
    }

    pub(super) fn plus(&self, other: &Self) -> Self {
        other.0.iter().fold(self.clone(), |sum, (powers, coefficient)| sum.with(powers.clone(), coefficient.clone()))
    }

    pub(super) fn minus(&self, other: &Self) -> Self {
        self.plus(&other.times_number(&Exact::from(-1)))
    }

    pub(super) fn times_number(&self, factor: &Exact) -> Self {
        if factor.is_zero() {
            return Polynomial::default();
        }
        Polynomial(self.0.iter().map(|(powers, coefficient)| (powers.clone(), coefficient * factor)).collect())
    }

    pub(super) fn times(&self, other: &Self) -> Self {
        let mut product = Polynomial::default();
        for (left, first) in &self.0 {
            for (right, second) in &other.0 {
                let powers = left.iter().zip(right).map(|(left, right)| left.saturating_add(*right)).collect();
                product = product.with(powers, first * second);
            }
        }
        product
    }

    /// How many times the other it is, if it is the same multiple of it everywhere.
    pub(super) fn ratio_to(&self, other: &Self) -> Option<Exact> {
        let (powers, coefficient) = other.0.iter().next()?;
        let ratio = self.0.get(powers).cloned().unwrap_or_default() / coefficient;
        (*self == other.times_number(&ratio)).then_some(ratio)
    }

    /// The greatest powers that divide every monomial; of none, as many as there can be.
    pub(super) fn common_powers(&self, so_far: Option<Powers>) -> Option<Powers> {
        self.0.keys().fold(so_far, |common, powers| {
            Some(common.map_or_else(
                || powers.clone(),
                |common| common.iter().zip(powers).map(|(left, right)| *left.min(right)).collect(),
            ))
        })
    }

    pub(super) fn divided_by_powers(&self, powers: &Powers) -> Self {
        let lowered =
            |known: &Powers| known.iter().zip(powers).map(|(known, less)| known.saturating_sub(*less)).collect();
        Polynomial(self.0.iter().map(|(known, coefficient)| (lowered(known), coefficient.clone())).collect())
    }

    /// The greatest number that leaves whole coefficients; 0 for nothing.
    pub(super) fn content(&self) -> Exact {
        self.0.values().fold(Exact::ZERO, |content, coefficient| content.common_measure(coefficient))
    }

    pub(super) fn at(&self, values: &[Exact]) -> Exact {
        let monomial = |powers: &Powers| {
            let factors =
                powers.iter().zip(values).flat_map(|(power, value)| std::iter::repeat_n(value, usize::from(*power)));
            factors.fold(Exact::ONE, |product, value| product * value)
        };
        dot(self.0.values(), self.0.keys().map(monomial))
    }

    /// No value is greater in magnitude, nor any partial sum, where each variable's magnitude is at most its `most`.
    pub(super) fn magnitude(&self, most: &[Exact]) -> Exact {
        Polynomial(self.0.iter().map(|(powers, coefficient)| (powers.clone(), coefficient.abs())).collect()).at(most)
    }

    /// A value that none is below and one that none is above, where each variable lies between its ends.
    pub(super) fn range(&self, low: &[Exact], high: &[Exact]) -> (Exact, Exact) {
        let mut range = (Exact::ZERO, Exact::ZERO);
        for (powers, coefficient) in &self.0 {
            let mut ends = (Exact::ONE, Exact::ONE);
            for (place, power) in powers.iter().enumerate() {
                for _ in 0..*power {
                    let products =
                        [&ends.0 * &low[place], &ends.0 * &high[place], &ends.1 * &low[place], &ends.1 * &high[place]];
                    let least = products.iter().min().cloned().unwrap_or_default();
                    let greatest = products.iter().max().cloned().unwrap_or_default();
                    ends = (least, greatest);
                }
            }
            let (one, other) = (&ends.0 * coefficient, &ends.1 * coefficient);
            let (least, greatest) = if one <= other { (one, other) } else { (other, one) };
            range = (range.0 + least, range.1 + greatest);
        }
        range
    }
}

/// For a matrix of one row fewer than columns, the determinants without each one column: `minors[j]` leaves column `j`
/// out.
pub(super) fn minors(matrix: &[Vec<Polynomial>], variables: usize) -> Vec<Polynomial> {
    let columns = matrix.len() + 1;
    // By subsets of columns, row after row; a subset is a number's bits.
    let mut known: BTreeMap<u32, Polynomial> = BTreeMap::from([(0, Polynomial::constant(Exact::ONE, variables))]);
    for row in matrix {
        let mut next: BTreeMap<u32, Polynomial> = BTreeMap::new();
        for (subset, minor) in &known {
            for (column, entry) in
                row.iter().enumerate().filter(|(column, entry)| subset & (1 << column) == 0 && !entry.is_zero())
            {
                let later = (subset >> (column + 1)).count_ones();
                let product = entry.times(minor);
                let product = if later % 2 == 0 { product } else { product.times_number(&Exact::from(-1)) };
                let sum = next.remove(&(subset | 1 << column)).unwrap_or_default();
                next.insert(subset | 1 << column, sum.plus(&product));
            }
        }
        known = next;
    }
    let all = (1u32 << columns) - 1;
    (0..columns).map(|column| known.remove(&(all & !(1 << column))).unwrap_or_default()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn constant(value: i64) -> Polynomial {
        Polynomial::constant(Exact::from(value), 1)
    }

    #[test]
    fn determinants_without_each_column() {
        let rows: Vec<Vec<Polynomial>> =
            [[2, 3, 5], [7, 11, 13]].iter().map(|row| row.map(constant).to_vec()).collect();
        let found = minors(&rows, 1);
        assert_eq!(found, [3 * 13 - 5 * 11, 2 * 13 - 5 * 7, 2 * 11 - 3 * 7].map(constant));
    }

    #[test]
    fn arithmetic_and_ranges() {
        let x = Polynomial::variable(0, Exact::ONE, 1);
        let square = x.plus(&constant(1)).times(&x.minus(&constant(1)));
        assert_eq!(square.at(&[Exact::from(5)]), Exact::from(24));
        assert_eq!(square.range(&[Exact::from(-2)], &[Exact::from(3)]), (Exact::from(-7), Exact::from(8)));
        assert_eq!(square.magnitude(&[Exact::from(3)]), Exact::from(10));
        assert_eq!(square.plus(&constant(1)).common_powers(None), Some(vec![2]));
        assert!(constant(4).minus(&constant(4)).is_zero());
        assert_eq!(square.times_number(&Exact::ratio(2, 3)).ratio_to(&square), Some(Exact::ratio(2, 3)));
        assert_eq!(square.ratio_to(&square.plus(&x)), None);
        assert_eq!((constant(0).ratio_to(&x), x.ratio_to(&constant(0))), (Some(Exact::ZERO), None));
        assert_eq!(x.times_number(&Exact::ratio(3, 4)).plus(&constant(3)).content(), Exact::ratio(3, 4));
    }
}
