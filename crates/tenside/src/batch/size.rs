//! How much is made, and how that came about.
//!
//! charged mass = bars * net mass / (1 - drying loss) / (1 - process loss), exact.

use rust_decimal::Decimal;

use super::shown::brief;
use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, Mass, MassUnit, ToExact};
use crate::render::so_many;

/// The size of a batch: a mass to be charged, or a number of bars of a net mass with what is lost on the way.
///
/// ```
/// use tenside::batch::BatchSize;
/// let size = BatchSize::of_bars(24, "60 g".parse()?)?.with_drying_loss(8)?.with_process_loss(4)?;
/// assert_eq!(size.charged()?.grams().rounded_text(1), "1630.4");
/// assert_eq!(size.to_string(), "24 bars of 60 g net, 8 % drying loss, 4 % process loss");
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct BatchSize {
    basis: Basis,
    bars: Option<u32>,
    drying_loss: Decimal,
    process_loss: Decimal,
}

#[derive(Clone, Debug, PartialEq)]
enum Basis {
    /// The mass charged.
    Charged(Mass),
    /// The mass of one dry bar.
    Net(Mass),
}

getters!(BatchSize {
    /// The number of bars, if stated.
    bars: Option<u32>,
    /// What a pressed bar loses on drying, percent of its mass when pressed.
    drying_loss: Decimal,
    /// What stays in bowl and press, percent of the mass charged.
    process_loss: Decimal,
});

impl BatchSize {
    /// A mass to be charged.
    ///
    /// # Errors
    /// No mass at all.
    pub fn of_mass(mass: Mass) -> Result<Self, Error> {
        Ok(BatchSize {
            basis: Basis::Charged(some_mass(mass, "batch")?),
            bars: None,
            drying_loss: Decimal::ZERO,
            process_loss: Decimal::ZERO,
        })
    }

    /// So many bars that weigh `net` each when they are dry.
    ///
    /// # Errors
    /// No bars, too many, or bars of no mass.
    pub fn of_bars(bars: u32, net: Mass) -> Result<Self, Error> {
        let bars = Some(some_bars(bars)?);
        Ok(BatchSize {
            basis: Basis::Net(some_mass(net, "net mass of a bar")?),
            bars,
            drying_loss: Decimal::ZERO,
            process_loss: Decimal::ZERO,
        })
    }

    /// A batch of a given mass that is pressed into so many even bars.
    ///
    /// # Errors
    /// No bars, too many, and a batch that is given by its bars already.
    pub fn pressed_as(mut self, bars: u32) -> Result<Self, Error> {
        if matches!(self.basis, Basis::Net(_)) {
            let fault = Fault::new(FaultKind::Contradiction, "the batch is given by its bars already");
            return Err(fault
                .at("batch")
                .value(bars)
                .remedy("give the number once, or give the batch as a mass")
                .into());
        }
        self.bars = Some(some_bars(bars)?);
        Ok(self)
    }

    /// With what a pressed bar loses on drying, percent of its mass when pressed.
    ///
    /// # Errors
    /// A loss below 0 or so near 100 % that nothing is left.
    pub fn with_drying_loss(mut self, percent: impl ToExact) -> Result<Self, Error> {
        self.drying_loss = Quantity::Loss.decimal(percent).map_err(|error| error.within("drying loss"))?;
        Ok(self)
    }

    /// With what stays in bowl and press, percent of the mass charged.
    ///
    /// # Errors
    /// A loss below 0 or so near 100 % that nothing is left.
    pub fn with_process_loss(mut self, percent: impl ToExact) -> Result<Self, Error> {
        self.process_loss = Quantity::Loss.decimal(percent).map_err(|error| error.within("process loss"))?;
        Ok(self)
    }

    /// The mass to be charged, exact.
    ///
    /// # Errors
    /// More than a hundred tonnes.
    pub fn charged(&self) -> Result<Mass, Error> {
        let grams = match &self.basis {
            Basis::Charged(mass) => mass.grams().clone(),
            Basis::Net(net) => {
                net.grams() * Exact::from(self.bars.unwrap_or(1))
                    / (self.left_after_drying() * self.left_after_process())
            }
        };
        Mass::new(&grams, MassUnit::Gram).map_err(|error| error.within("batch"))
    }

    /// The mass charged, where it was stated as such.
    #[must_use]
    pub fn stated_mass(&self) -> Option<&Mass> {
        match &self.basis {
            Basis::Charged(mass) => Some(mass),
            Basis::Net(_) => None,
        }
    }

    /// The net mass of one bar, where the batch is given by it.
    #[must_use]
    pub fn net(&self) -> Option<&Mass> {
        match &self.basis {
            Basis::Net(net) => Some(net),
            Basis::Charged(_) => None,
        }
    }

    /// The share left after drying, 0 to 1.
    pub(super) fn left_after_drying(&self) -> Exact {
        Exact::ONE - Exact::from(self.drying_loss) / Exact::hundred()
    }

    /// The share left after bowl and press, 0 to 1.
    pub(super) fn left_after_process(&self) -> Exact {
        Exact::ONE - Exact::from(self.process_loss) / Exact::hundred()
    }

    /// The size in words; masses in `unit` where they can be written in it.
    pub(super) fn words(&self, unit: MassUnit) -> String {
        let bars = |bars: u32| so_many(bars, "bar", "bars");
        let mut words = match (&self.basis, self.bars) {
            (Basis::Net(net), Some(count)) => format!("{} of {} net", bars(count), brief(net, unit)),
            (Basis::Charged(mass), Some(count)) => format!("{}, pressed as {}", brief(mass, unit), bars(count)),
            (Basis::Charged(mass) | Basis::Net(mass), None) => brief(mass, unit),
        };
        for (loss, name) in [(self.drying_loss, "drying loss"), (self.process_loss, "process loss")] {
            if !loss.is_zero() {
                words += &format!(", {} % {name}", loss.normalize());
            }
        }
        words
    }

    /// How the mass charged is calculated, where it is calculated at all: `24 × 60 g / 0.92 / 0.96`.
    pub(super) fn calculation(&self, unit: MassUnit) -> Option<String> {
        let Basis::Net(net) = &self.basis else { return None };
        let mut words = format!("{} × {}", self.bars.unwrap_or(1), brief(net, unit));
        for left in [self.left_after_drying(), self.left_after_process()] {
            if left != Exact::ONE {
                words += &format!(" / {left}");
            }
        }
        Some(words)
    }
}

impl std::fmt::Display for BatchSize {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.pad(&self.words(MassUnit::Gram))
    }
}

fn some_mass(mass: Mass, what: &str) -> Result<Mass, Error> {
    if mass.grams().is_zero() {
        return Err(Fault::new(FaultKind::OutOfRange, format!("the {what} is 0"))
            .value("0 g")
            .allowed("above 0 g, to a hundred tonnes")
            .into());
    }
    Ok(mass)
}

fn some_bars(bars: u32) -> Result<u32, Error> {
    Quantity::Bars.check(&Exact::from(bars)).map_err(|error| error.within("batch"))?;
    Ok(bars)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn refuses_what_leaves_nothing() {
        assert!(BatchSize::of_mass("0 g".parse().unwrap()).unwrap_err().is_out_of_range());
        assert!(BatchSize::of_bars(0, "60 g".parse().unwrap()).unwrap_err().is_out_of_range());
        assert!(BatchSize::of_bars(1, "0 g".parse().unwrap()).is_err());
        let size = BatchSize::of_bars(24, "60 g".parse().unwrap()).unwrap();
        for bad in ["-0.1", "100", "99.91"] {
            let loss: Decimal = bad.parse().unwrap();
            assert!(size.clone().with_drying_loss(loss).unwrap_err().is_out_of_range(), "{bad}");
            assert!(size.clone().with_process_loss(loss).unwrap_err().is_out_of_range(), "{bad}");
        }
        assert!(size.clone().pressed_as(12).unwrap_err().is_contradiction());
        assert!(
            BatchSize::of_bars(10_000_000, "1 kg".parse().unwrap()).unwrap().charged().unwrap_err().is_out_of_range()
        );
    }

    #[test]
    fn the_charge_is_an_exact_fraction() {
        let size = BatchSize::of_bars(24, "60 g".parse().unwrap()).unwrap();
        let size = size.with_drying_loss(Decimal::from(8)).unwrap().with_process_loss(Decimal::from(4)).unwrap();
        assert_eq!(size.charged().unwrap().grams(), &(Exact::from(1440) / Exact::ratio(8832, 10_000)));
        assert_eq!(size.calculation(MassUnit::Gram).unwrap(), "24 × 60 g / 0.92 / 0.96");
    }

    #[test]
    fn words_keep_the_unit_that_was_meant() {
        let size = BatchSize::of_mass("2 lb".parse().unwrap()).unwrap().pressed_as(8).unwrap();
        assert_eq!(size.words(MassUnit::Pound), "2 lb, pressed as 8 bars");
        assert_eq!(size.words(MassUnit::Gram), "32 oz, pressed as 8 bars");
    }
}
