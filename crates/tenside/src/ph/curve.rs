//! Monotone interpolation of a titration curve: grams over pH.
//!
//! Between two points a cubic through both, with slopes that are weighted harmonic means of the secants' (F. N. Fritsch
//! and J. Butland, SIAM J. Sci. Stat. Comput. 5, 300, 1984; from memory), so that the curve falls or rises where the
//! points do and never leaves their range. Exact.

use crate::number::Exact;

/// The value of the curve through `points` (at least two, the first coordinates rising, the second strictly monotone)
/// at `x` between the ends.
pub(super) fn interpolated(points: &[(Exact, Exact)], x: &Exact) -> Exact {
    let after = points.partition_point(|(at, _)| at < x).clamp(1, points.len() - 1);
    let (left, right) = (&points[after - 1], &points[after]);
    let width = &right.0 - &left.0;
    let part = (x - &left.0) / &width;
    let rest = Exact::ONE - &part;
    // Hermite's form: both ends with their slopes.
    let two = Exact::from(2);
    let left_value = (Exact::ONE + &two * &part) * &rest * &rest * &left.1;
    let right_value = (Exact::from(3) - &two * &part) * &part * &part * &right.1;
    let left_slope = &part * &rest * &rest * slope(points, after - 1);
    let right_slope = &part * &part * &rest * slope(points, after);
    left_value + right_value + (left_slope - right_slope) * width
}

fn secant(points: &[(Exact, Exact)], at: usize) -> Exact {
    (&points[at + 1].1 - &points[at].1) / (&points[at + 1].0 - &points[at].0)
}

/// The slope at a point.
fn slope(points: &[(Exact, Exact)], at: usize) -> Exact {
    let last = points.len() - 1;
    if last == 1 {
        return secant(points, 0);
    }
    if at == 0 {
        return end_slope(
            &secant(points, 0),
            &secant(points, 1),
            &(&points[1].0 - &points[0].0),
            &(&points[2].0 - &points[1].0),
        );
    }
    if at == last {
        let widths = (&points[last].0 - &points[last - 1].0, &points[last - 1].0 - &points[last - 2].0);
        return end_slope(&secant(points, last - 1), &secant(points, last - 2), &widths.0, &widths.1);
    }
    let (before, after) = (&points[at].0 - &points[at - 1].0, &points[at + 1].0 - &points[at].0);
    let two = Exact::from(2);
    let (first, second) = (&two * &after + &before, &after + &two * &before);
    // Neither secant is 0: the points are strictly monotone.
    (&first + &second) / (first / secant(points, at - 1) + second / secant(points, at))
}

/// The slope at an end, from the two nearest secants; kept between 0 and three times the nearer one, which is what
/// monotony needs.
fn end_slope(near: &Exact, far: &Exact, width: &Exact, next: &Exact) -> Exact {
    let two = Exact::from(2);
    let slope = ((&two * width + next) * near - width * far) / (width + next);
    let most = Exact::from(3) * near;
    if slope.is_positive() != near.is_positive() || slope.is_zero() {
        Exact::ZERO
    } else if slope.abs() > most.abs() {
        most
    } else {
        slope
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn two_points_make_a_line() {
        let points = [(Exact::from(4), Exact::from(10)), (Exact::from(8), Exact::ZERO)];
        assert_eq!(interpolated(&points, &Exact::from(5)), Exact::ratio(15, 2));
    }

    proptest! {
        #[test]
        fn it_goes_through_the_points_and_stays_monotone(steps in prop::collection::vec((1i64..200, 1i64..1000), 2..8), falling: bool) {
            let mut points = vec![(Exact::from(3), Exact::ZERO)];
            for (width, height) in steps {
                let (x, y) = points.last().unwrap().clone();
                let height = if falling { -height } else { height };
                points.push((x + Exact::ratio(width, 100), y + Exact::ratio(height, 100)));
            }
            for (x, y) in &points {
                prop_assert_eq!(&interpolated(&points, x), y);
            }
            let (first, last) = (&points[0].0, &points.last().unwrap().0);
            let values: Vec<Exact> = (0..=60).map(|part| interpolated(&points, &(first + (last - first) * Exact::ratio(part, 60)))).collect();
            let monotone = values.windows(2).all(|pair| if falling { pair[1] <= pair[0] } else { pair[1] >= pair[0] });
            prop_assert!(monotone, "{:?}", values);
        }
    }
}
