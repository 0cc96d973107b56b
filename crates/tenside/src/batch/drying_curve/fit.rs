//! Least squares of series that share one rate.
//!
//! ```text
//! y = Σ_j b_ij c_j(x, k)        for the series i, with columns c_j that depend on the shared rate k
//! ```
//!
//! For a given rate the model is linear in the coefficients of each series (variable projection); the rate is where the
//! derivative of the sum of squares is 0. Standard errors are those of the linearised model (Gauss and Newton): with
//! `d` the derivative of the model by the rate, less its projection on the columns, and `s^2` the residual variance,
//! `var k = s^2 / Σ d^2`.

/// One series: where and what.
pub(super) type Series = Vec<(f64, f64)>;

/// A fit.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Fit<const N: usize> {
    /// The shared rate.
    pub(super) rate: f64,
    /// The coefficients of each series.
    pub(super) coefficients: Vec<[f64; N]>,
    /// The residual variance.
    pub(super) variance: f64,
    /// Degrees of freedom.
    pub(super) degrees: f64,
    /// The inverse of the columns' product of each series.
    inverse: Vec<[[f64; N]; N]>,
    /// The coefficients of the derivative by the rate on the columns.
    slope: Vec<[f64; N]>,
    /// The sum of squares of what of that derivative the columns leave.
    curvature: f64,
}

/// Why there is no fit.
#[derive(Debug, PartialEq)]
pub(super) enum NoFit {
    /// The slowest rate fits best: nothing bends.
    TooSlow,
    /// The fastest rate fits best: all is over between two values.
    TooFast,
}

/// Values and derivatives by the rate of the columns at one place.
pub(super) type Columns<const N: usize> = fn(rate: f64, x: f64) -> [(f64, f64); N];

/// What one series gives at one rate.
struct Projected<const N: usize> {
    coefficients: [f64; N],
    squares: f64,
    gradient: f64,
    inverse: [[f64; N]; N],
    slope: [f64; N],
    curvature: f64,
}

fn dot(left: &[f64], right: &[f64]) -> f64 {
    left.iter().zip(right).map(|(left, right)| left * right).sum()
}

/// The series on its columns at one rate, by orthogonal columns (Gram and Schmidt, modified).
fn projected<const N: usize>(series: &Series, rate: f64, columns: Columns<N>) -> Projected<N> {
    let at: Vec<[(f64, f64); N]> = series.iter().map(|(x, _)| columns(rate, *x)).collect();
    let y: Vec<f64> = series.iter().map(|(_, y)| *y).collect();
    let mut orthogonal: Vec<Vec<f64>> = (0..N).map(|column| at.iter().map(|row| row[column].0).collect()).collect();
    let mut upper = [[0.0; N]; N];
    for column in 0..N {
        for before in 0..column {
            let share = dot(&orthogonal[before], &orthogonal[column]);
            upper[before][column] = share;
            let earlier = orthogonal[before].clone();
            orthogonal[column].iter_mut().zip(&earlier).for_each(|(value, unit)| *value -= share * unit);
        }
        let length = dot(&orthogonal[column], &orthogonal[column]).sqrt();
        upper[column][column] = length;
        orthogonal[column].iter_mut().for_each(|value| *value /= length);
    }
    // Back through the triangle.
    let solved = |right: [f64; N]| {
        let mut solution = [0.0; N];
        for row in (0..N).rev() {
            let known: f64 = (row + 1..N).map(|column| upper[row][column] * solution[column]).sum();
            solution[row] = (right[row] - known) / upper[row][row];
        }
        solution
    };
    let on = |values: &[f64]| std::array::from_fn::<f64, N, _>(|column| dot(&orthogonal[column], values));
    let less = |values: &[f64], shares: [f64; N]| -> Vec<f64> {
        let share = |row: usize| (0..N).map(|column| shares[column] * orthogonal[column][row]).sum::<f64>();
        values.iter().enumerate().map(|(row, value)| value - share(row)).collect()
    };
    let coefficients = solved(on(&y));
    let residual = less(&y, on(&y));
    let derivative: Vec<f64> =
        at.iter().map(|row| (0..N).map(|column| row[column].1 * coefficients[column]).sum()).collect();
    let left = less(&derivative, on(&derivative));
    // R^-1 column by column; the inverse of X'X is R^-1 R^-T.
    let inverse_upper: Vec<[f64; N]> =
        (0..N).map(|unit| solved(std::array::from_fn(|row| if row == unit { 1.0 } else { 0.0 }))).collect();
    let product = |row: usize, column: usize| inverse_upper.iter().map(|unit| unit[row] * unit[column]).sum();
    Projected {
        coefficients,
        squares: dot(&residual, &residual),
        gradient: -2.0 * dot(&residual, &derivative),
        inverse: std::array::from_fn(|row| std::array::from_fn(|column| product(row, column))),
        slope: solved(on(&derivative)),
        curvature: dot(&left, &left),
    }
}

/// Rates that are tried before the best is looked for between its neighbours.
const TRIED: u32 = 240;

/// Sums of squares that differ by less than this part of the greatest differ by rounding.
const ROUNDING: f64 = 1e-12;

/// The fit with the least sum of squares for a rate between `slowest` and `fastest`, both above 0.
pub(super) fn fit<const N: usize>(
    series: &[Series],
    columns: Columns<N>,
    slowest: f64,
    fastest: f64,
) -> Result<Fit<N>, NoFit> {
    let every = |rate: f64| series.iter().map(move |series| projected(series, rate, columns));
    let rate_at = |index: u32| slowest * (fastest / slowest).powf(f64::from(index) / f64::from(TRIED));
    let squares: Vec<f64> = (0..=TRIED).map(|index| every(rate_at(index)).map(|one| one.squares).sum()).collect();
    let least =
        (0..=TRIED).min_by(|left, right| squares[*left as usize].total_cmp(&squares[*right as usize])).unwrap_or(0);
    // An end that fits as well as the best, up to what `f64` rounds, leaves the rate open towards it.
    let rounding = squares.iter().fold(0.0f64, |most, sum| most.max(*sum)) * ROUNDING;
    let is_open = |end: u32| squares[end as usize] - squares[least as usize] <= rounding;
    if is_open(0) {
        return Err(NoFit::TooSlow);
    }
    if is_open(TRIED) {
        return Err(NoFit::TooFast);
    }
    // Between its neighbours the derivative changes its sign from falling to rising.
    let (mut low, mut high) = (rate_at(least - 1), rate_at(least + 1));
    for _ in 0..200 {
        let middle = (low * high).sqrt();
        if middle <= low || middle >= high {
            break;
        }
        if every(middle).map(|one| one.gradient).sum::<f64>() < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    let rate = (low * high).sqrt();
    let found: Vec<Projected<N>> = every(rate).collect();
    let values = series.iter().map(Vec::len).sum::<usize>() as f64;
    let degrees = values - (N * series.len() + 1) as f64;
    Ok(Fit {
        rate,
        variance: found.iter().map(|one| one.squares).sum::<f64>() / degrees,
        degrees,
        curvature: found.iter().map(|one| one.curvature).sum(),
        coefficients: found.iter().map(|one| one.coefficients).collect(),
        inverse: found.iter().map(|one| one.inverse).collect(),
        slope: found.iter().map(|one| one.slope).collect(),
    })
}

impl<const N: usize> Fit<N> {
    /// The standard error of the rate.
    pub(super) fn rate_error(&self) -> f64 {
        (self.variance / self.curvature).sqrt()
    }

    /// The standard error of the mean of quantities, one of each series named, with these derivatives by its
    /// coefficients and by the rate.
    pub(super) fn error(&self, gradients: &[(usize, [f64; N], f64)]) -> f64 {
        let own = |(series, by, _): &(usize, [f64; N], f64)| -> f64 {
            let inverse = &self.inverse[*series];
            (0..N).map(|row| by[row] * dot(&inverse[row], by)).sum()
        };
        // What the quantity turns by where the rate does and the coefficients follow it.
        let along = |(series, by, by_rate): &(usize, [f64; N], f64)| by_rate - dot(by, &self.slope[*series]);
        let shared: f64 = gradients.iter().map(along).sum();
        let number = gradients.len() as f64;
        (self.variance * (gradients.iter().map(own).sum::<f64>() + shared * shared / self.curvature)).sqrt() / number
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST/ITL StRD Misra1a, `y = b1 (1 - exp(-b2 x))` (seen in a copy of the published file): certified parameters,
    /// their standard deviations and the residual standard deviation.
    #[test]
    fn certified_values_of_a_plateau_come_out() {
        let data = [
            (77.6, 10.07),
            (114.9, 14.73),
            (141.1, 17.94),
            (190.8, 23.93),
            (239.9, 29.61),
            (289.0, 35.18),
            (332.8, 40.02),
            (378.4, 44.82),
            (434.8, 50.76),
            (477.3, 55.05),
            (536.8, 61.01),
            (593.1, 66.40),
            (689.1, 75.47),
            (760.0, 81.78),
        ];
        let columns: Columns<1> = |rate, x| [(1.0 - (-rate * x).exp(), x * (-rate * x).exp())];
        let fit = fit(&[data.to_vec()], columns, 1e-6, 1.0).ok().unwrap();
        let close = |found: f64, certified: f64| assert!((found / certified - 1.0).abs() < 1e-9, "{found} {certified}");
        close(fit.coefficients[0][0], 2.3894212918E+02);
        close(fit.rate, 5.5015643181E-04);
        close(fit.error(&[(0, [1.0], 0.0)]), 2.7070075241E+00);
        close(fit.rate_error(), 7.2668688436E-06);
        close(fit.variance.sqrt(), 1.0187876330E-01);
    }

    /// NIST/ITL StRD BoxBOD, of the same form and called hard, since most searches fail from its first start (data and
    /// values from memory). Nothing here starts anywhere: the rates tried hold both starts of the file, 1 and
    /// 0.75.
    #[test]
    fn certified_values_of_a_hard_plateau_come_out() {
        let data = [(1.0, 109.0), (2.0, 149.0), (3.0, 149.0), (5.0, 191.0), (7.0, 213.0), (10.0, 224.0)];
        let columns: Columns<1> = |rate, x| [(1.0 - (-rate * x).exp(), x * (-rate * x).exp())];
        let fit = fit(&[data.to_vec()], columns, 1e-3, 30.0).ok().unwrap();
        let close = |found: f64, certified: f64| assert!((found / certified - 1.0).abs() < 1e-7, "{found} {certified}");
        close(fit.coefficients[0][0], 2.1380940889E+02);
        close(fit.rate, 5.4723748542E-01);
        close(fit.error(&[(0, [1.0], 0.0)]), 1.2354515176E+01);
        close(fit.rate_error(), 1.0455993237E-01);
        close(fit.variance.sqrt(), 1.7088072423E+01);
    }

    #[test]
    fn what_does_not_bend_has_no_rate() {
        let columns: Columns<2> = |rate, x| [(1.0, 0.0), ((-rate * x).exp(), -x * (-rate * x).exp())];
        let line: Series = (0..8).map(|x| (f64::from(x), 70.0 - f64::from(x))).collect();
        assert_eq!(fit(&[line], columns, 1e-3, 10.0).err(), Some(NoFit::TooSlow));
        let step: Series = (0..8).map(|x| (f64::from(x), if x == 0 { 70.0 } else { 65.0 })).collect();
        assert_eq!(fit(&[step], columns, 1e-3, 40.0).err(), Some(NoFit::TooFast));
    }
}
