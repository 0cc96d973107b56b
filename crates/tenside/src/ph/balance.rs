//! The balance of charges and its root.
//!
//! With `a` the activity of the hydrogen ion, `g_z = g_1^(z^2)` the activity coefficients at an ionic strength `I`, and
//! `K_i` the constants:
//!
//! - form `i` of an acid (that gave up `i` protons, with charge `z_i`) is present as `w_i / sum w` of it,
//!   `w_i = K_1 ... K_i a^-i g_z0 / g_zi`;
//! - hydrogen ion `h = a / g_1`; hydroxide ion `b = K_w a_w / (a g_1)`, with the activity of water
//!   `a_w = 1 - 0.017 (c + h + b)` and `c` all that is dissolved (R. M. Garrels and C. L. Christ, 1965, from memory),
//!   solved for `b`;
//! - all positive charges `P(a)` equal all negative ones `N(a)`.
//!
//! At a given `I`, `P` rises and `N` falls with `a`, so there is one root; it is kept between brackets that follow from
//! the totals, and sought by Newton's steps on `ln P - ln N` over `ln a`, with a bisection where a step leaves the
//! bracket. The ionic strength is bracketed in the same way: what the forms at the root give, less `I`, is not below 0
//! at `I = 0` and not above 0 at the most that the totals can give.

use super::acid::MOST_STEPS;

/// How far charges reach to either side.
const REACH: usize = 6;
/// Activity of water lost for each mol/kg dissolved.
const WATER_LOST: f64 = 0.017;
/// A step of `ln a` that is the last one: Newton's steps square what is missing.
const LAST_STEP: f64 = 1e-7;
/// Relative error of the ionic strength that is left; it moves the pH by less than itself.
const IONIC_TOLERANCE: f64 = 1e-11;
/// Halving a bracket of this many steps leaves nothing of it in double precision.
const MOST_STEPS_TO_ROOT: usize = 200;

/// Weights of an acid's forms; those it does not have are 0.
pub(super) type Weights = [f64; MOST_STEPS + 1];

/// An acid's total with its constants.
#[derive(Clone, Copy, Debug)]
pub(super) struct Protolyte {
    pub(super) total: f64,
    pub(super) top: i32,
    pub(super) steps: usize,
    /// `K_1 ... K_i`.
    pub(super) products: Weights,
}

/// A mixture made ready for the balance.
#[derive(Clone, Debug)]
pub(super) struct Balance {
    pub(super) davies: f64,
    pub(super) kw: f64,
    /// Charge of the strong ions in all, mol/kg.
    pub(super) strong: f64,
    /// Their part of the ionic strength.
    pub(super) strong_ionic: f64,
    /// Everything dissolved but hydrogen and hydroxide ions.
    pub(super) dissolved: f64,
    pub(super) protolytes: Vec<Protolyte>,
}

/// The mixture at its root.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Root {
    /// Natural logarithm of the activity of the hydrogen ion.
    pub(super) ln_a: f64,
    /// Activity coefficient of a singly charged ion.
    pub(super) gamma: f64,
    pub(super) ionic: f64,
    pub(super) hydrogen: f64,
    pub(super) hydroxide: f64,
    /// Positive less negative charges, mol/kg.
    pub(super) imbalance: f64,
    /// Change of the balance with `ln a`, the activity coefficients kept, mol/kg.
    pub(super) slope: f64,
    /// Change of the ionic strength that the last look at it asked for, mol/kg.
    pub(super) ionic_imbalance: f64,
}

/// One look at the balance.
struct Look {
    positive: f64,
    negative: f64,
    positive_slope: f64,
    negative_slope: f64,
    hydrogen: f64,
    hydroxide: f64,
    ionic: f64,
}

impl Balance {
    /// The root, at an ionic strength that agrees with it.
    pub(super) fn root(&self) -> Root {
        let mut weights: Vec<Weights> = vec![[0.0; MOST_STEPS + 1]; self.protolytes.len()];
        let mut ln_a = 1e-7f64.ln();
        let (mut low, mut high) = (0.0, f64::INFINITY);
        // A first guess: every charge that the strong ions leave open is met by singly charged ions.
        let mut ionic = self.strong_ionic + 0.5 * self.strong.abs();
        let mut before: Option<(f64, f64)> = None;
        let mut root = Root::default();
        for _ in 0..MOST_STEPS_TO_ROOT {
            root = self.root_at(ionic, ln_a, &mut weights);
            ln_a = root.ln_a;
            let excess = root.ionic_imbalance;
            if excess >= 0.0 {
                low = ionic;
            } else {
                high = ionic;
            }
            if excess.abs() <= IONIC_TOLERANCE * ionic || (high.is_finite() && high - low <= f64::EPSILON * high) {
                break;
            }
            let next = match before {
                Some((other, other_excess)) if excess != other_excess => {
                    ionic - excess * (ionic - other) / (excess - other_excess)
                }
                _ => ionic + excess,
            };
            before = Some((ionic, excess));
            ionic = if next > low && next < high {
                next
            } else if high.is_finite() {
                0.5 * (low + high)
            } else {
                // Nothing above is known yet; the totals bound what there can be.
                self.most_ionic()
            };
        }
        root
    }

    /// No ionic strength can be above this: every acid at its highest charge, and as much hydrogen or hydroxide ion as
    /// all charges.
    fn most_ionic(&self) -> f64 {
        let square = |protolyte: &Protolyte| {
            f64::from(protolyte.top.pow(2)).max((f64::from(protolyte.top) - protolyte.steps as f64).powi(2))
        };
        let acids: f64 = self.protolytes.iter().map(|protolyte| protolyte.total * square(protolyte)).sum();
        self.strong_ionic + acids + self.strong.abs() + 1.0
    }

    /// The root at a given ionic strength, sought from `ln_a` on.
    fn root_at(&self, ionic: f64, ln_a: f64, weights: &mut [Weights]) -> Root {
        let root = ionic.sqrt();
        let ln_gamma = -self.davies * std::f64::consts::LN_10 * (root / (1.0 + root) - super::water::LINEAR * ionic);
        let gamma = ln_gamma.exp();
        self.weigh(gamma, weights);
        // Enough hydrogen ion to outweigh every negative charge there can be, and the other way round.
        let charges = |sign: f64| {
            let strongest = |protolyte: &Protolyte| {
                (sign * f64::from(protolyte.top))
                    .max(sign * (f64::from(protolyte.top) - protolyte.steps as f64))
                    .max(0.0)
            };
            1.0 + (sign * self.strong).max(0.0)
                + self.protolytes.iter().map(|protolyte| protolyte.total * strongest(protolyte)).sum::<f64>()
        };
        let mut high = (charges(-1.0) * gamma).ln();
        let mut low = (self.kw / (2.0 * charges(1.0) * gamma)).ln();
        let mut x = if ln_a > low && ln_a < high { ln_a } else { 0.5 * (low + high) };
        let mut look = self.look(x, gamma, weights);
        for _ in 0..MOST_STEPS_TO_ROOT {
            let miss = (look.positive / look.negative).ln();
            if miss > 0.0 {
                high = x;
            } else {
                low = x;
            }
            let step = -miss / (look.positive_slope / look.positive - look.negative_slope / look.negative);
            // A step this small may leave the bracket by a rounding error; it is taken all the same.
            let last = step.abs() <= LAST_STEP;
            x = if last || (x + step > low && x + step < high) { x + step } else { 0.5 * (low + high) };
            look = self.look(x, gamma, weights);
            if last || high - low <= f64::EPSILON * x.abs() {
                break;
            }
        }
        Root {
            ln_a: x,
            gamma,
            ionic,
            hydrogen: look.hydrogen,
            hydroxide: look.hydroxide,
            imbalance: look.positive - look.negative,
            slope: look.positive_slope - look.negative_slope,
            ionic_imbalance: look.ionic - ionic,
        }
    }

    /// The weights of the forms at `a = 1`: `K_1 ... K_i g_z0 / g_zi`.
    pub(super) fn weigh(&self, gamma: f64, weights: &mut [Weights]) {
        // g_z by the size of the charge: a square is the sum of the odd numbers up to it.
        let mut coefficients = [1.0; REACH + 1];
        let mut odd = gamma;
        for size in 1..=REACH {
            coefficients[size] = coefficients[size - 1] * odd;
            odd *= gamma * gamma;
        }
        let of = |charge: i32| coefficients[(charge.unsigned_abs() as usize).min(REACH)];
        for (protolyte, weights) in self.protolytes.iter().zip(weights) {
            let mut charge = protolyte.top;
            for (weight, product) in weights.iter_mut().zip(&protolyte.products).take(protolyte.steps + 1) {
                *weight = product * of(protolyte.top) / of(charge);
                charge -= 1;
            }
        }
    }

    fn look(&self, ln_a: f64, gamma: f64, weights: &[Weights]) -> Look {
        let a = ln_a.exp();
        let inverse = 1.0 / a;
        let hydrogen = a / gamma;
        let from_water = self.kw * (1.0 - WATER_LOST * (self.dissolved + hydrogen)).max(0.0);
        let share = a * gamma + WATER_LOST * self.kw;
        let hydroxide = from_water / share;
        let mut look = Look {
            positive: self.strong.max(0.0) + hydrogen,
            negative: (-self.strong).max(0.0) + hydroxide,
            positive_slope: hydrogen,
            negative_slope: -(hydroxide * a * gamma + WATER_LOST * self.kw * hydrogen) / share,
            hydrogen,
            hydroxide,
            ionic: self.strong_ionic + 0.5 * (hydrogen + hydroxide),
        };
        for (protolyte, weights) in self.protolytes.iter().zip(weights) {
            // Moments of the number of protons given up, over all forms and over those of either charge.
            let (mut all, mut given) = (0.0, 0.0);
            let (mut positive, mut positive_given, mut negative, mut negative_given, mut squares) =
                (0.0, 0.0, 0.0, 0.0, 0.0);
            let mut power = 1.0;
            let mut count = 0.0;
            let mut charge = f64::from(protolyte.top);
            for weight in &weights[..=protolyte.steps] {
                let present = weight * power;
                all += present;
                given += count * present;
                let charged = charge * present;
                if charge > 0.0 {
                    positive += charged;
                    positive_given += count * charged;
                } else {
                    negative -= charged;
                    negative_given -= count * charged;
                }
                squares += charge * charged;
                power *= inverse;
                count += 1.0;
                charge -= 1.0;
            }
            let one = protolyte.total / all;
            let mean = given / all;
            look.positive += one * positive;
            look.negative += one * negative;
            look.positive_slope -= one * (positive_given - mean * positive);
            look.negative_slope -= one * (negative_given - mean * negative);
            look.ionic += 0.5 * one * squares;
        }
        look
    }
}
