//! The most and the least of something over the compositions that a raw material's ranges allow, in whole ppm of whole
//! ppm.
//!
//! The shares of a raw material lie in a box and sum to the whole, so the greatest `sum w_i s_i` starts with every
//! share at its low end and fills up from the greatest weight down (the continuous knapsack; exact, and whole because
//! the ends are).

use super::super::content::MILLION;

/// A constituent: lowest and highest share, and the weight of one unit of it; all in ppm.
#[derive(Clone, Copy)]
pub(super) struct Row {
    pub(super) low: u64,
    pub(super) high: u64,
    pub(super) weight: u64,
}

/// The greatest (or, not `upwards`, the least) sum of shares times weights.
pub(super) fn extreme(rows: &[Row], upwards: bool) -> u64 {
    let mut order: Vec<Row> = rows.to_vec();
    order.sort_by_key(|row| if upwards { MILLION.saturating_sub(row.weight) } else { row.weight });
    let mut left = MILLION.saturating_sub(order.iter().map(|row| row.low).sum());
    let mut sum = 0;
    for row in order {
        let more = (row.high - row.low).min(left);
        left -= more;
        sum += (row.low + more) * row.weight;
    }
    sum
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn the_rest_limits_what_a_constituent_can_be() {
        let rows =
            [Row { low: 200_000, high: 500_000, weight: 450_000 }, Row { low: 500_000, high: 800_000, weight: 0 }];
        assert_eq!((extreme(&rows, true), extreme(&rows, false)), (500_000 * 450_000, 200_000 * 450_000));
        let rows = [Row { low: 0, high: MILLION, weight: 300_000 }, Row { low: 0, high: MILLION, weight: 200_000 }];
        assert_eq!((extreme(&rows, true), extreme(&rows, false)), (MILLION * 300_000, MILLION * 200_000));
    }

    proptest! {
        /// No composition inside the ranges leaves the ends.
        #[test]
        fn the_ends_enclose_every_composition(
            shares in prop::collection::vec(1u64..1000, 2..6),
            widths in prop::collection::vec(0u64..300_000, 6),
            weights in prop::collection::vec(0u64..=MILLION, 6),
        ) {
            let total: u64 = shares.iter().sum();
            let mut shares: Vec<u64> = shares.iter().map(|share| share * MILLION / total).collect();
            shares[0] += MILLION - shares.iter().sum::<u64>();
            let rows: Vec<Row> = shares
                .iter()
                .zip(widths.iter().zip(&weights))
                .map(|(&share, (&width, &weight))| Row { low: share.saturating_sub(width), high: (share + width).min(MILLION), weight })
                .collect();
            let value: u64 = shares.iter().zip(&weights).map(|(share, weight)| share * weight).sum();
            prop_assert!(extreme(&rows, false) <= value && value <= extreme(&rows, true));
        }
    }
}
