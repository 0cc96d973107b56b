//! How wet a dough is: its raw materials by how they are worked, beside trials of one's own.
//!
//! # Why
//! - Shares of the mix are measures, sums over the forms of raw materials, so that a brief can ask for them and a sweep
//!   can show them.
//! - How a dough works follows from more than shares, so there is no verdict: only which trial of the maker's own comes
//!   nearest.

use crate::error::{Error, Fault, FaultKind};
use crate::formula::Formula;
use crate::material::Form;
use crate::measure::{Basis, Measure};
use crate::number::Exact;
use crate::render::{Alignment, Page, Part, Table};

/// What each share counts.
const SHARES: [(&str, &[Form]); 4] = [
    ("liquid", &[Form::Liquid, Form::Paste]),
    ("oil", &[Form::Oil]),
    ("meltable", &[Form::MeltableSolid]),
    ("powder", &[Form::Powder, Form::Needles, Form::Flakes, Form::Granules]),
];

/// The share of raw materials that are worked as "liquid", "oil", "meltable" or "powder", as a measure.
///
/// ```
/// use tenside::batch::dough_share;
/// assert_eq!(dough_share("liquid")?.name(), "raw materials in form liquid + raw materials in form paste");
/// assert!(dough_share("gas").is_err());
/// # Ok::<(), tenside::Error>(())
/// ```
///
/// # Errors
/// Another word.
pub fn dough_share(of: &str) -> Result<Measure, Error> {
    match SHARES.iter().find(|(name, _)| *name == of) {
        Some((_, forms)) => Measure::sum(forms.iter().map(|form| Measure::form(*form))),
        None => Err(crate::document::unknown_name("share of a dough", of, SHARES.iter().map(|(name, _)| *name)).into()),
    }
}

/// Shares of a mix in percent of it; they sum to 100.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct DoughShares {
    /// Watery liquids and pastes.
    pub liquid: Exact,
    /// Oils.
    pub oil: Exact,
    /// Solids that are melted to be worked.
    pub meltable: Exact,
    /// Powders, needles, flakes and granules.
    pub powder: Exact,
}

impl DoughShares {
    fn of(formula: &Formula) -> Result<Self, Error> {
        let share = |name: &str| -> Result<Exact, Error> {
            let measured = formula.measure(&dough_share(name)?, &Basis::AsCharged)?;
            measured
                .value
                .and_then(|value| value.typical)
                .ok_or_else(|| Fault::new(FaultKind::NotKnown, "a share of the mix is not known").into())
        };
        Ok(DoughShares {
            liquid: share("liquid")?,
            oil: share("oil")?,
            meltable: share("meltable")?,
            powder: share("powder")?,
        })
    }

    fn all(&self) -> [&Exact; 4] {
        [&self.liquid, &self.oil, &self.meltable, &self.powder]
    }

    /// Half the sum of the differences: the part of the mix that would have to be another.
    fn distance(&self, other: &DoughShares) -> Exact {
        self.all().into_iter().zip(other.all()).map(|(left, right)| (left - right).abs()).sum::<Exact>()
            / Exact::from(2)
    }
}

/// A dough that was made before, and how it worked in the maker's own words.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct DoughTrial {
    /// The title of its formula.
    pub title: String,
    /// How it worked.
    pub words: String,
    /// Its shares.
    pub shares: DoughShares,
    /// The part of the mix, in percent, that would have to be another to have the same shares.
    pub distance: Exact,
}

/// A dough beside trials, the nearest first.
#[derive(Clone, Debug, PartialEq)]
pub struct Dough {
    title: String,
    shares: DoughShares,
    trials: Vec<DoughTrial>,
}

impl Formula {
    /// How wet a dough of this formula is, beside doughs made before with how they worked.
    ///
    /// ```
    /// use tenside::catalogue::Catalogue;
    /// use tenside::formula::{Formula, Line};
    /// use tenside::number::{Exact, Ppm};
    /// let line = |id: &str, percent: &str| Line::new(id, Catalogue::starter().material(id)?.clone(), Ppm::from_percent(percent)?);
    /// let dry = Formula::new("Trial 1", vec![line("sci-powder", "92")?, line("water", "8")?])?;
    /// let wet = Formula::new("Trial 2", vec![line("sci-powder", "80")?, line("water", "20")?])?;
    /// let new = Formula::new("New", vec![line("sci-powder", "90")?, line("water", "10")?])?;
    /// let dough = new.dough(&[(&dry, "crumbles"), (&wet, "sticks")])?;
    /// assert_eq!(dough.shares().liquid, Exact::from(10));
    /// assert!(dough.hint().unwrap().starts_with("Nearest to Trial 1 (2.0 % of the mix apart), which was: crumbles."));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// None for valid formulas.
    pub fn dough(&self, trials: &[(&Formula, &str)]) -> Result<Dough, Error> {
        let shares = DoughShares::of(self)?;
        let trial = |(formula, words): &(&Formula, &str)| -> Result<DoughTrial, Error> {
            let other = DoughShares::of(formula)?;
            let words = crate::document::check_prose(words).map_err(|error| error.within(formula.title()))?;
            Ok(DoughTrial {
                title: formula.title().to_string(),
                words,
                distance: shares.distance(&other),
                shares: other,
            })
        };
        let mut trials = trials.iter().map(trial).collect::<Result<Vec<_>, _>>()?;
        trials.sort_by(|left, right| left.distance.cmp(&right.distance));
        Ok(Dough { title: self.title().to_string(), shares, trials })
    }
}

getters!(Dough {
    /// Its shares.
    shares: &DoughShares,
    /// The trials, the nearest first.
    trials: &[DoughTrial],
});

impl Dough {
    /// The nearest trial in words, which is a hint and no verdict; `None` without trials.
    #[must_use]
    pub fn hint(&self) -> Option<String> {
        let nearest = self.trials.first()?;
        Some(format!(
            "Nearest to {} ({} % of the mix apart), which was: {}. A hint and no verdict: temperature, particle size \
             and the raw materials themselves count as much.",
            nearest.title,
            nearest.distance.rounded_text(1),
            nearest.words
        ))
    }

    /// The shares beside those of the trials.
    #[must_use]
    pub fn page(&self) -> Page {
        let right = Alignment::Right;
        let mut table = Table::new(&[
            ("dough", Alignment::Left),
            ("liquid %", right),
            ("oil %", right),
            ("meltable %", right),
            ("powder %", right),
            ("apart %", right),
            ("it was", Alignment::Left),
        ]);
        let mut row = |title: &str, shares: &DoughShares, apart: String, words: &str| {
            let [liquid, oil, meltable, powder] = shares.all().map(|share| share.rounded_text(1));
            table.push([title.to_string(), liquid, oil, meltable, powder, apart, words.to_string()]);
        };
        row(&self.title, &self.shares, String::new(), "");
        for trial in &self.trials {
            row(&trial.title, &trial.shares, trial.distance.rounded_text(1), &trial.words);
        }
        Page::new(&format!("{}: dough", self.title))
            .with(Part::Table(table))
            .section("To know about these", Part::List(self.hint().into_iter().collect()))
    }
}
