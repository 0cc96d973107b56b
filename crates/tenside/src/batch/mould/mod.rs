//! Presses and moulds: from mass and density to height, and back.
//!
//! ```text
//! a(z) = c (a + 2 z t)(b + 2 z t) - k      c = π/4, k = 0 round and oval; c = 1, k = (4 - π) r^2 rectangular with corners of radius r
//! V(h) = c (a b h + (a + b) t h^2 + 4/3 t^2 h^3) - k h     with t the tangent of the draft, by which walls open upwards
//! ```
//!
//! A dome of height d on a face is a cap of a sphere on a round one, `π d (3 R^2 + d^2) / 6`; a paraboloid on an oval
//! one, `π/8 a b d`; a cushion that rises from all four edges on a rectangular one, `4/9 a b d`, the rounding of its
//! corners left aside (below a thousandth of the dome). Lengths in mm, volumes in mL, in `f64`: good to twelve digits,
//! far more than a ruler gives.
//!
//! Common practice without a source: in a round press of 57.15 mm 66 and 68 g are 25.7 and 26.5 mm high at 1.00 g/mL,
//! 23.4 and 24.1 mm at 1.10, 21.4 and 22.1 mm at 1.20; a pressed bar under 0.8 or over 1.4 g/mL was hardly measured
//! rightly.

mod document;
mod page;
mod portions;

pub use document::{MouldedBarDocument, PortionsDocument};
pub use portions::{Portion, PortionSize, Portions};

use rust_decimal::Decimal;

use crate::bounds::Quantity;
use crate::document::named_enum;
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, Interval, Mass, MassUnit, ToExact};

named_enum! {
    /// The shape of a mould's face.
    FaceShape "shape of a mould" {
        /// A circle.
        Round = "round",
        /// An ellipse.
        Oval = "oval",
        /// A rectangle.
        Rectangular = "rectangular",
    }
}

/// A press or mould: its lower face, how its walls open, and how its faces are domed. Values are immutable; a change
/// gives a new one.
///
/// ```
/// use tenside::batch::{Mould, MouldedBar};
/// let press = Mould::round(57.15)?;
/// let bar = MouldedBar::of_mass(&press, "66 g".parse()?, 1.1, 1.1)?;
/// assert_eq!(bar.height().text(1), "23.4");
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Mould {
    shape: FaceShape,
    length: Decimal,
    width: Decimal,
    corner: Decimal,
    draft: Decimal,
    dome: Decimal,
    dome_below: Decimal,
}

getters!(Mould {
    /// The shape of its face.
    shape: FaceShape,
    /// The radius of its corners, mm.
    corner: Decimal,
    /// By how many degrees its walls open upwards.
    draft: Decimal,
});

impl Mould {
    /// A round mould of that diameter, mm.
    ///
    /// # Errors
    /// A length out of range.
    pub fn round(diameter: impl ToExact) -> Result<Self, Error> {
        let diameter = Quantity::Length.decimal(diameter).map_err(|error| error.within("diameter"))?;
        Mould::new(FaceShape::Round, diameter, diameter)
    }

    /// An oval mould of those axes, mm.
    ///
    /// # Errors
    /// A length out of range.
    pub fn oval(length: impl ToExact, width: impl ToExact) -> Result<Self, Error> {
        Mould::new(FaceShape::Oval, length, width)
    }

    /// A rectangular mould of those sides, mm, with corners rounded at that radius.
    ///
    /// # Errors
    /// A length out of range, and a radius of more than half the shorter side.
    pub fn rectangular(length: impl ToExact, width: impl ToExact, corner: impl ToExact) -> Result<Self, Error> {
        let mut mould = Mould::new(FaceShape::Rectangular, length, width)?;
        let corner = Quantity::Dome.decimal(corner).map_err(|error| error.within("corner"))?;
        let most = mould.length.min(mould.width) / Decimal::TWO;
        if corner > most {
            let fault = Fault::new(FaultKind::OutOfRange, "the corners do not fit the mould")
                .at("corner")
                .value(format!("{corner} mm"));
            return Err(fault
                .allowed(format!("0 to {} mm", most.normalize()))
                .remedy("give the radius of a corner, half of its width at most")
                .into());
        }
        mould.corner = corner;
        Ok(mould)
    }

    fn new(shape: FaceShape, length: impl ToExact, width: impl ToExact) -> Result<Self, Error> {
        let length = Quantity::Length.decimal(length).map_err(|error| error.within("length"))?;
        let width = Quantity::Length.decimal(width).map_err(|error| error.within("width"))?;
        Ok(Mould {
            shape,
            length,
            width,
            corner: Decimal::ZERO,
            draft: Decimal::ZERO,
            dome: Decimal::ZERO,
            dome_below: Decimal::ZERO,
        })
    }

    /// With walls that open upwards by so many degrees each.
    ///
    /// # Errors
    /// A draft out of range.
    pub fn with_draft(mut self, degrees: impl ToExact) -> Result<Self, Error> {
        self.draft = Quantity::Draft.decimal(degrees)?;
        Ok(self)
    }

    /// With faces domed by so many mm, the upper and the lower one.
    ///
    /// # Errors
    /// A dome out of range.
    pub fn with_domes(mut self, upper: impl ToExact, lower: impl ToExact) -> Result<Self, Error> {
        self.dome = Quantity::Dome.decimal(upper)?;
        self.dome_below = Quantity::Dome.decimal(lower)?;
        Ok(self)
    }

    /// Length and width of the lower face, mm.
    #[must_use]
    pub fn face(&self) -> (Decimal, Decimal) {
        (self.length, self.width)
    }

    /// The domes of the upper and the lower face, mm.
    #[must_use]
    pub fn domes(&self) -> (Decimal, Decimal) {
        (self.dome, self.dome_below)
    }

    /// The volume of a bar of that height, domes included, mL.
    ///
    /// # Errors
    /// A height out of range, and one that is less than the domes.
    pub fn volume(&self, height: f64) -> Result<f64, Error> {
        let height = Quantity::Length.checked_float(height).map_err(|error| error.within("height"))?;
        let domes = float(self.dome) + float(self.dome_below);
        if height < domes {
            let fault = Fault::new(FaultKind::OutOfRange, "the bar is lower than its domes")
                .at("height")
                .value(format!("{height} mm"));
            return Err(fault
                .allowed(format!("at least {domes} mm, to {} mm", Quantity::Length.range().1))
                .remedy("state the height over all")
                .into());
        }
        Ok(self.volume_of_walls(height - domes))
    }

    /// The volume over walls of that height.
    fn volume_of_walls(&self, walls: f64) -> f64 {
        let (a, b, t) = (float(self.length), float(self.width), float(self.draft).to_radians().tan());
        let quarter = std::f64::consts::FRAC_PI_4;
        let (share, corners) = match self.shape {
            FaceShape::Round | FaceShape::Oval => (quarter, 0.0),
            FaceShape::Rectangular => (1.0, (4.0 - std::f64::consts::PI) * float(self.corner).powi(2)),
        };
        let sides =
            share * (a * b * walls + (a + b) * t * walls * walls + 4.0 / 3.0 * t * t * walls.powi(3)) - corners * walls;
        let dome = |a: f64, b: f64, height: f64| match self.shape {
            FaceShape::Round => std::f64::consts::PI * height * (0.75 * a * a + height * height) / 6.0,
            FaceShape::Oval => quarter * a * b * height / 2.0,
            FaceShape::Rectangular => 4.0 / 9.0 * a * b * height,
        };
        let opened = 2.0 * walls * t;
        (sides + dome(a + opened, b + opened, float(self.dome)) + dome(a, b, float(self.dome_below))) / 1000.0
    }

    /// The height of a bar of that volume in mL, domes included, mm.
    ///
    /// # Errors
    /// A volume that is less than the domes hold, or more than the highest mould.
    pub fn height(&self, volume: f64) -> Result<f64, Error> {
        let (lowest, highest) = (0.0, float(Quantity::Length.range().1));
        let (least, most) = (self.volume_of_walls(lowest), self.volume_of_walls(highest));
        // A number that is none fails both.
        if !(volume > 0.0 && volume >= least && volume <= most) {
            return Err(Fault::new(FaultKind::OutOfRange, "no height gives this volume")
                .at("volume")
                .value(format!("{volume:.3} mL"))
                .allowed(format!(
                    "above 0, and {least:.3} to {most:.3} mL: what the domes hold, to a bar of {highest} mm"
                ))
                .remedy("check mass and density, or take a mould with lower domes")
                .into());
        }
        let (mut low, mut high) = (lowest, highest);
        for _ in 0..200 {
            let middle = f64::midpoint(low, high);
            if self.volume_of_walls(middle) < volume { low = middle } else { high = middle }
        }
        Ok(high + float(self.dome) + float(self.dome_below))
    }
}

/// A bar from a mould: of mass, density and height two are given, and the third follows.
///
/// ```
/// use tenside::batch::{Mould, MouldedBar};
/// let press = Mould::round(57.15)?;
/// // A trial bar gives the density, a range of it the heights.
/// let trial = MouldedBar::trial(&press, "67 g".parse()?, "23.7")?;
/// assert_eq!(trial.density().text(3), "1.102");
/// let bars = MouldedBar::of_mass(&press, "66 g".parse()?, "1.05", "1.15")?;
/// assert_eq!(bars.height().text(2), "23.39 (22.37 to 24.51)");
/// assert!(MouldedBar::trial(&press, "67 g".parse()?, "15")?.question().is_some());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct MouldedBar {
    mould: Mould,
    given: Given,
    mass: Interval,
    density: Interval,
    height: Interval,
}

/// What was given of a bar.
#[derive(Clone, Debug, PartialEq)]
enum Given {
    MassAndDensity { mass: Mass, low: Exact, high: Exact },
    HeightAndDensity { height: Exact, low: Exact, high: Exact },
    MassAndHeight { mass: Mass, height: Exact },
}

/// Below and above which a density of a pressed bar is questioned, hundredths of g/mL.
const USUAL: (i64, i64) = (80, 140);

getters!(MouldedBar {
    /// The mould.
    mould: &Mould,
    /// Its mass, grams.
    mass: &Interval,
    /// Its density, g/mL.
    density: &Interval,
    /// Its height over all, mm.
    height: &Interval,
});

impl MouldedBar {
    /// A bar of that mass, whose density lies from `low` to `high` g/mL: what height it has.
    ///
    /// # Errors
    /// A mass of 0, densities out of range or the wrong way round, and a volume that the mould does not give.
    pub fn of_mass(mould: &Mould, mass: Mass, low: impl ToExact, high: impl ToExact) -> Result<Self, Error> {
        let (mass, (low, high)) = (some(mass)?, densities(low, high)?);
        let height = |density: &Exact| mould.height((mass.grams() / density).to_f64()).and_then(measured);
        // The less dense, the higher.
        let height = Interval::new(Some(height(&high)?), Some(height(&middle(&low, &high))?), Some(height(&low)?))?;
        let density = Interval::new(Some(low.clone()), Some(middle(&low, &high)), Some(high.clone()))?;
        Ok(MouldedBar {
            mould: mould.clone(),
            mass: Interval::point(mass.grams().clone()),
            density,
            height,
            given: Given::MassAndDensity { mass, low, high },
        })
    }

    /// A bar of that height in mm, whose density lies from `low` to `high` g/mL: what mass it has.
    ///
    /// # Errors
    /// A height that the mould does not give, and densities out of range or the wrong way round.
    pub fn of_height(
        mould: &Mould,
        height: impl ToExact,
        low: impl ToExact,
        high: impl ToExact,
    ) -> Result<Self, Error> {
        let ((low, high), height) = (densities(low, high)?, height.to_exact()?);
        let volume = measured(mould.volume(height.to_f64())?)?;
        let mass = |density: &Exact| density * &volume;
        let mass = Interval::new(Some(mass(&low)), Some(mass(&middle(&low, &high))), Some(mass(&high)))?;
        let density = Interval::new(Some(low.clone()), Some(middle(&low, &high)), Some(high.clone()))?;
        Ok(MouldedBar {
            mould: mould.clone(),
            mass,
            density,
            height: Interval::point(height.clone()),
            given: Given::HeightAndDensity { height, low, high },
        })
    }

    /// A trial bar of that mass and height in mm: what density it has.
    ///
    /// # Errors
    /// A mass of 0, and a height that the mould does not give.
    pub fn trial(mould: &Mould, mass: Mass, height: impl ToExact) -> Result<Self, Error> {
        let (mass, height) = (some(mass)?, height.to_exact()?);
        let volume = measured(mould.volume(height.to_f64())?)?;
        let Some(density) = mass.grams().checked_div(&volume) else {
            return Err(Fault::new(FaultKind::OutOfRange, "the bar has no volume")
                .at("height")
                .value(format!("{height} mm"))
                .allowed("above 0 mm")
                .into());
        };
        let point = |value: &Exact| Interval::point(value.clone());
        Ok(MouldedBar {
            mould: mould.clone(),
            mass: point(mass.grams()),
            density: point(&density),
            height: point(&height),
            given: Given::MassAndHeight { mass, height },
        })
    }

    /// What to ask where the density is not that of a pressed bar.
    #[must_use]
    pub fn question(&self) -> Option<String> {
        let outside = |end: &Option<Exact>| {
            end.as_ref().is_some_and(|end| *end < Exact::ratio(USUAL.0, 100) || *end > Exact::ratio(USUAL.1, 100))
        };
        (outside(&self.density.low) || outside(&self.density.high)).then(|| {
            format!(
                "a density of {} g/mL is unusual for a pressed bar, whose is 0.8 to 1.4 (common practice, no source): \
                 were mass, height and mould measured rightly?",
                self.density.text(2)
            )
        })
    }
}

fn float(value: Decimal) -> f64 {
    Exact::from(value).to_f64()
}

/// A calculated length or volume, with the nine digits that a document keeps.
fn measured(value: f64) -> Result<Exact, Error> {
    Ok(format!("{value:.8e}").parse()?)
}

fn middle(low: &Exact, high: &Exact) -> Exact {
    (low + high) / Exact::from(2)
}

fn some(mass: Mass) -> Result<Mass, Error> {
    if mass.grams().is_zero() {
        return Err(Fault::new(FaultKind::OutOfRange, "a bar without mass")
            .at("mass")
            .value(mass)
            .allowed("above 0 g")
            .into());
    }
    Ok(mass)
}

fn densities(low: impl ToExact, high: impl ToExact) -> Result<(Exact, Exact), Error> {
    let (low, high) = (Quantity::Density.exact(low)?, Quantity::Density.exact(high)?);
    if low > high {
        let fault =
            Fault::new(FaultKind::Contradiction, "the range of the density is the wrong way round").at("density");
        return Err(fault.value(format!("{low} to {high} g/mL")).remedy("give the lower one first").into());
    }
    Ok((low, high))
}

fn grams(value: &Exact) -> Result<Mass, Error> {
    Mass::new(value, MassUnit::Gram)
}
