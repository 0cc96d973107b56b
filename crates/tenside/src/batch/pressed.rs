//! The bars as they came out of the press.
//!
//! implied process loss = 1 - sum of the pressed bars / mass weighed, where every bar was weighed. Common practice
//! without a source: a batch of 200 g pressed as three even bars gives bars of about 66 to 68 g.

use super::Batch;
use super::outlier::outlier_note;
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, Mass, MassUnit};

/// Masses of pressed bars, before drying.
///
/// ```
/// use tenside::batch::{BatchSize, Pressed, Scales};
/// use tenside::catalogue::Catalogue;
/// use tenside::formula::{Formula, Line};
/// use tenside::number::{Exact, Ppm};
/// let clay = Line::new("clay", Catalogue::starter().material("kaolin")?.clone(), Ppm::WHOLE)?;
/// let formula = Formula::new("Clay alone", vec![clay])?;
/// let batch = formula.batch(BatchSize::of_mass("200 g".parse()?)?.pressed_as(3)?, Scales::new("0.1 g".parse()?)?)?;
/// let pressed = Pressed::new(&batch, &["66.2 g".parse()?, "66.9 g".parse()?, "66.3 g".parse()?])?;
/// assert_eq!(pressed.sum(), &"199.4 g".parse()?);
/// assert_eq!(pressed.implied_process_loss(), Some(&Exact::ratio(3, 10)));
/// let two = Pressed::new(&batch, &["66.2 g".parse()?, "66.9 g".parse()?])?;
/// assert_eq!((two.words().as_str(), two.implied_process_loss()), ("2 of 3 bars", None));
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Pressed {
    masses: Vec<Mass>,
    sum: Mass,
    mean: Mass,
    lowest: Mass,
    highest: Mass,
    range: Mass,
    bars: Option<u32>,
    implied_process_loss: Option<Exact>,
}

getters!(Pressed {
    /// The bars, in the order recorded.
    masses: &[Mass],
    /// Their sum.
    sum: &Mass,
    /// Their mean.
    mean: &Mass,
    /// The lightest.
    lowest: &Mass,
    /// The heaviest.
    highest: &Mass,
    /// The heaviest less the lightest.
    range: &Mass,
    /// How many bars the batch was pressed as, if stated.
    bars: Option<u32>,
    /// What did not become bars, percent of the mass weighed: what to state as process loss next time. `None` if only
    /// some of the bars were weighed.
    implied_process_loss: Option<&Exact>,
});

impl Pressed {
    /// The bars pressed from a batch: all of them, or some where the batch states how many there are.
    ///
    /// # Errors
    /// No bar, a bar without mass, more bars than the batch has, and bars that together weigh more than the batch.
    pub fn new(batch: &Batch, masses: &[Mass]) -> Result<Self, Error> {
        let faults = masses.iter().enumerate().filter(|(_, mass)| mass.grams().is_zero());
        let faults = faults.map(|(index, mass)| {
            Fault::new(FaultKind::OutOfRange, "a bar without mass")
                .at(format!("bar {}", index + 1))
                .value(mass)
                .allowed("above 0 g")
        });
        Error::check(faults.collect(), ())?;
        let (Some(lowest), Some(highest)) = (masses.iter().min(), masses.iter().max()) else {
            return Err(Fault::new(FaultKind::Missing, "no bar was recorded")
                .remedy("give the mass of each pressed bar")
                .into());
        };
        let bars = batch.size().bars();
        if let Some(bars) = bars.filter(|bars| masses.len() > usize::try_from(*bars).unwrap_or(usize::MAX)) {
            return Err(Fault::new(FaultKind::OutOfRange, "more bars than the batch was pressed as")
                .at("pressed bars")
                .value(masses.len())
                .allowed(format!("1 to {bars}"))
                .remedy("check that every bar is of this batch, or state the number of bars with the batch")
                .into());
        }
        let is_whole = bars.is_none_or(|bars| usize::try_from(bars).is_ok_and(|bars| bars == masses.len()));
        let grams: Exact = masses.iter().map(Mass::grams).sum();
        let weighed = batch.weighed().grams();
        if grams > *weighed {
            return Err(Fault::new(
                FaultKind::Contradiction,
                "the bars weigh more than the batch they were pressed from",
            )
            .value(format!("{grams} g"))
            .allowed(format!("at most {weighed} g"))
            .remedy("check the scale and that every bar is of this batch")
            .into());
        }
        let mass = |grams: &Exact| Mass::new(grams, MassUnit::Gram);
        let mean = &grams / Exact::from(i64::try_from(masses.len()).unwrap_or(i64::MAX));
        Ok(Pressed {
            sum: mass(&grams)?,
            mean: mass(&mean)?,
            range: mass(&(highest.grams() - lowest.grams()))?,
            lowest: lowest.clone(),
            highest: highest.clone(),
            bars,
            implied_process_loss: is_whole.then(|| Exact::hundred() - &grams / weighed * Exact::hundred()),
            masses: masses.to_vec(),
        })
    }

    /// How many were weighed, of how many: "12 of 24 bars".
    #[must_use]
    pub fn words(&self) -> String {
        let of = self.bars.map_or_else(String::new, |bars| format!(" of {bars}"));
        let last = self.bars.map_or(self.masses.len(), |bars| usize::try_from(bars).unwrap_or(usize::MAX));
        format!("{}{of} {}", self.masses.len(), if last == 1 { "bar" } else { "bars" })
    }

    /// What to know about them: weights that stand far from the others.
    #[must_use]
    pub fn notes(&self) -> Vec<String> {
        outlier_note(&self.masses).into_iter().collect()
    }
}
