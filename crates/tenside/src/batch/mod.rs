//! From a formula to the bench: how much is made, what each scale shows for each line, and the sheet to work by.
//!
//! # Why
//! - A drying loss is held against all that could leave: water, bound or not, and what is volatile or not known to
//!   stay, at the high ends.

mod card;
mod dilution;
mod document;
mod dough;
mod drying;
#[cfg(feature = "statistics")]
mod drying_curve;
mod made;
mod method;
mod mould;
mod note;
mod outlier;
mod pressed;
mod record;
mod rescue;
mod scales;
mod sheet;
mod shown;
mod size;
#[cfg(feature = "statistics")]
mod use_up;
mod verified;
mod weighing;
#[cfg(feature = "statistics")]
mod weights;

pub use dilution::{Dilution, Mixing};
pub use document::BatchDocument;
pub use dough::{Dough, DoughShares, DoughTrial, dough_share};
#[cfg(feature = "statistics")]
pub use drying_curve::{BarWeighIns, DayWeight, DriedBar, DryingCurve, DryingCurveDocument, ReadyBar};
pub use made::{Actual, Made, MadeDocument, MadeLine, MassBalance};
pub use method::{Step, StepKind, usual_steps};
pub use mould::{FaceShape, Mould, MouldedBar, MouldedBarDocument, Portion, PortionSize, Portions, PortionsDocument};
pub use note::{Note, NoteKind, SmallLine, SmallestBatch};
pub use pressed::Pressed;
pub use record::{
    BatchRecord, BatchRecordDocument, Decision, LotInBatch, ProductTest, ReadingOutcome, RecordNote, Records, Release,
    TestResult,
};
pub use rescue::{Addition, Bowl, Means, Rescue, RescueDocument, Shortfall, Verdict};
pub use scales::Scales;
pub use sheet::SheetFormat;
pub use size::BatchSize;
#[cfg(feature = "statistics")]
pub use use_up::{UseUp, UseUpDocument, UsedBar};
pub use verified::{Fits, PreDilution, ScaleClass, VerifiedScale, Weighable, WeighableDocument, WeighableLine};
pub use weighing::Weighing;
#[cfg(feature = "statistics")]
pub use weights::{
    AcceptRates, CheckKind, TargetFill, TargetFillDocument, TestOutcome, WeightCheck, WeightTest, WeightTestDocument,
    Weights, WeightsDocument,
};

use indexmap::IndexSet;

use crate::bounds::Quantity;
use crate::document::{check_name, unknown_name};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{Formula, Line, Phase};
use crate::material::{Lot, Material};
use crate::number::{Date, Exact, HalfWay, Mass, MassUnit};
use dilution::{offer, up_to_whole};
use shown::brief;
use weighing::{WeighOut, weigh_out};

/// A formula weighed out: rounded masses that sum exactly to the batch, and what to know about them. Values are
/// immutable.
///
/// ```
/// use tenside::batch::{Batch, BatchSize, Scales, SheetFormat};
/// use tenside::catalogue::Catalogue;
/// use tenside::formula::{Formula, Line};
/// use tenside::number::{Exact, Ppm};
/// let catalogue = Catalogue::starter();
/// let line = |id: &str, percent: &str| Line::new(id, catalogue.material(id)?.clone(), Ppm::from_percent(percent)?);
/// let formula = Formula::new("Plain bar", vec![line("sci-powder", "60")?, line("cetyl-alcohol", "15")?, line("kaolin", "25")?])?;
/// let size = BatchSize::of_bars(24, "60 g".parse()?)?.with_drying_loss(8)?.with_process_loss(4)?;
/// let batch = Batch::new(&formula, size, Scales::new("0.1 g".parse()?)?)?;
/// assert_eq!(batch.weighed(), &"1630.4 g".parse()?);
/// let sum: Exact = batch.weighings().iter().map(|weighing| weighing.rounded().grams()).sum();
/// assert_eq!(&sum, batch.weighed().grams());
/// assert!(batch.sheet(SheetFormat::Text).contains("1630.4 g"));
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Batch {
    formula: Formula,
    size: BatchSize,
    scales: Scales,
    number: Option<String>,
    date: Option<Date>,
    asked: Mass,
    weighed: Mass,
    finest: Mass,
    weighings: Vec<Weighing>,
    notes: Vec<Note>,
}

/// What one bar weighs on its way; exact means over even bars.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct BarMasses {
    /// How many.
    pub bars: u32,
    /// The mass weighed in for one.
    pub charged: Mass,
    /// What is left of it after bowl and press.
    pub pressed: Mass,
    /// What is left of that after drying.
    pub dry: Mass,
}

getters!(Batch {
    /// The formula.
    formula: &Formula,
    /// Its size as it was given.
    size: &BatchSize,
    /// The scales.
    scales: &Scales,
    /// The date, if one was given.
    date: Option<Date>,
    /// The mass asked for, exact.
    asked: &Mass,
    /// The mass weighed: the exact sum of the rounded lines.
    weighed: &Mass,
    /// The lines to weigh, phase by phase in working order.
    weighings: &[Weighing],
    /// What to know beyond the numbers, heat first.
    notes: &[Note],
});

impl Batch {
    /// The formula weighed out in that size on those scales. Lines at 0 % are left out.
    ///
    /// # Errors
    /// A scale for a phase that the formula does not have, a unit in which no scale can be written, a drying loss of
    /// more than can leave the formula, a batch of more than a hundred tonnes or of less than half a division, and a
    /// batch so small that the line taking the rounding rest would fall below nothing.
    pub fn new(formula: &Formula, size: BatchSize, scales: Scales) -> Result<Self, Error> {
        let known = || formula.phases().iter().map(Phase::name);
        let faults = scales
            .phases()
            .filter(|phase| !known().any(|name| name == *phase))
            .map(|phase| unknown_name("phase", phase, known()).at("scales"));
        Error::check(faults.collect(), ())?;
        drying::check(formula, size.drying_loss())?;
        let asked = size.charged()?;
        let lines = lines_in_working_order(formula, &scales);
        scales.check_unit(lines.iter().map(|(_, division)| division))?;
        let finest = lines.iter().map(|(_, division)| division).min().unwrap_or_else(|| scales.division("")).clone();
        let target = Mass::new(asked.grams().rounded_to(finest.grams(), HalfWay::ToEven), MassUnit::Gram)?;
        if target.grams().is_zero() {
            return Err(Fault::new(
                FaultKind::OutOfRange,
                "the batch is smaller than half a division of the finest scale",
            )
            .at("batch")
            .value(brief(&asked, scales.unit()))
            .allowed(format!("more than half of {}", brief(&finest, scales.unit())))
            .remedy("make more, or weigh on a finer scale")
            .into());
        }
        let usual = formula.lines()[formula.absorber()].name();
        let out = weigh_out(lines, &target, usual, &scales.tolerated_share())?;
        let weighed =
            Mass::new(out.weighings.iter().map(|weighing| weighing.rounded().grams()).sum::<Exact>(), MassUnit::Gram)?;
        let mut batch = Batch {
            formula: formula.clone(),
            size,
            scales,
            number: None,
            date: None,
            asked,
            weighed,
            finest,
            weighings: Vec::new(),
            notes: Vec::new(),
        };
        batch.notes = batch.find_notes(&out, usual);
        batch.weighings = out.weighings;
        batch.notes.extend(batch.retest_of_lots());
        Ok(batch)
    }

    /// With a batch number for the sheet.
    ///
    /// # Errors
    /// A bad name.
    pub fn numbered(mut self, number: &str) -> Result<Self, Error> {
        self.number = Some(check_name(number).map_err(|error| error.within("batch number"))?);
        Ok(self)
    }

    /// With a date for the sheet, with which the retest dates of lots are compared.
    #[must_use]
    pub fn dated(mut self, date: Date) -> Self {
        self.date = Some(date);
        self.notes.retain(|note| !matches!(note, Note::PastRetest { .. } | Note::RetestNotCompared { .. }));
        self.notes.extend(self.retest_of_lots());
        self
    }

    /// The batch number, if one was given.
    #[must_use]
    pub fn number(&self) -> Option<&str> {
        self.number.as_deref()
    }

    /// The division of the finest scale that is used.
    #[must_use]
    pub fn finest_division(&self) -> &Mass {
        &self.finest
    }

    /// The phases that have something to weigh, in working order, with their lines.
    pub fn phases(&self) -> impl Iterator<Item = (&Phase, &[Weighing])> {
        self.weighings.chunk_by(|left, right| left.line().phase() == right.line().phase()).filter_map(|lines| {
            let name = lines.first()?.line().phase();
            Some((self.formula.phases().iter().find(|phase| phase.name() == name)?, lines))
        })
    }

    /// What one bar weighs on its way, where the number of bars is stated.
    #[must_use]
    pub fn bar_masses(&self) -> Option<BarMasses> {
        let bars = self.size.bars()?;
        let charged = self.weighed.grams() / Exact::from(bars);
        let pressed = &charged * self.size.left_after_process();
        let dry = &pressed * self.size.left_after_drying();
        let mass = |grams: &Exact| Mass::new(grams, MassUnit::Gram).ok();
        Some(BarMasses { bars, charged: mass(&charged)?, pressed: mass(&pressed)?, dry: mass(&dry)? })
    }

    fn find_notes(&self, out: &WeighOut, usual: &str) -> Vec<Note> {
        let weighings = &out.weighings;
        let label = |index: usize| weighings[index].label();
        let mut notes: Vec<Note> = weighings.iter().filter_map(|weighing| self.too_hot(weighing)).collect();
        if self.weighed != self.asked {
            notes.push(Note::TotalMoved { asked: self.asked.clone(), weighed: self.weighed.clone() });
        }
        if let Some(net) = self.size.net().filter(|net| Quantity::UsualBar.check(net.grams()).is_err()) {
            notes.push(Note::UnusualBar { net: net.clone() });
        }
        notes.extend(drying::note(&self.formula, self.size.drying_loss()));
        if let Some(usual) = weighings
            .iter()
            .position(|weighing| weighing.line().name() == usual)
            .filter(|usual| out.absorber != Some(*usual))
        {
            notes.push(Note::RestElsewhere { usual: label(usual), instead: out.absorber.map(label) });
        }
        if let (Some(from), Some((to, grams))) = (out.absorber, &out.passed_on) {
            notes.push(Note::RestPassedOn { from: label(from), to: label(*to), grams: grams.clone() });
        }
        for (index, weighing) in weighings.iter().enumerate() {
            if weighing.rounded().grams().is_zero() {
                notes.push(Note::RoundsToNothing(self.small_line(out, index)));
            } else if self.largest_error_percent(weighing) > Exact::from(self.scales.tolerance()) {
                notes.push(Note::TooSmall(self.small_line(out, index)));
            }
        }
        notes
    }

    fn retest_of_lots(&self) -> Vec<Note> {
        retest_notes(self.weighings.iter().map(|weighing| (weighing.line(), weighing.label())), self.date)
    }

    fn too_hot(&self, weighing: &Weighing) -> Option<Note> {
        let line = weighing.line();
        let temperature = self.formula.phases().iter().find(|phase| phase.name() == line.phase())?.temperature()?;
        let own = line.material().highest_process_temperature();
        let highest = line
            .material()
            .leaves()
            .into_iter()
            .filter_map(|(leaf, _)| leaf.highest_process_temperature())
            .chain(own)
            .min()?;
        let (line, phase) = (line.name().to_string(), line.phase().to_string());
        (temperature > highest).then(|| Note::TooHot { line, label: weighing.label(), phase, temperature, highest })
    }

    /// Half a division, or the rest taken where that is more; percent of the line.
    fn largest_error_percent(&self, weighing: &Weighing) -> Exact {
        weighing.error_percent().abs().max(weighing.error_bound_percent())
    }

    fn small_line(&self, out: &WeighOut, index: usize) -> SmallLine {
        let weighing = &out.weighings[index];
        let tolerated = self.scales.tolerated_share();
        // The line that takes the rest may be off by half a division for every line, its own included.
        let halves: Exact = match out.absorber {
            Some(absorber) if absorber == index => {
                out.weighings.iter().map(|weighing| weighing.division().grams()).sum()
            }
            _ => weighing.division().grams().clone(),
        };
        let lines = if out.absorber == Some(index) { out.weighings.len() } else { 1 };
        let least = halves / (Exact::from(2) * &tolerated * weighing.line().percent().share());
        let finer =
            self.finer_division(weighing, &(&tolerated / Exact::from(i64::try_from(lines).unwrap_or(i64::MAX))));
        // On scales of one division it need not be said which of them.
        let is_mixed = lines > 1 && out.weighings.iter().any(|other| other.division() != weighing.division());
        let is_coarse = |other: &&Weighing| is_mixed && finer.as_ref().is_some_and(|finer| other.division() > finer);
        let coarse: IndexSet<&str> = out.weighings.iter().filter(is_coarse).map(|other| other.line().phase()).collect();
        SmallLine {
            line: weighing.line().name().to_string(),
            label: weighing.label(),
            exact: weighing.exact().clone(),
            division: weighing.division().clone(),
            error_percent: self.largest_error_percent(weighing),
            tolerance: self.scales.tolerance(),
            coarse_phases: coarse.into_iter().map(str::to_string).collect(),
            finer_division: finer,
            smallest: self.smallest_batch(&least),
            dilution: offer(&out.weighings, index, out.absorber, &tolerated),
        }
    }

    /// The largest power of ten, in the unit of the scale, half of which is within the tolerated share of the line.
    fn finer_division(&self, weighing: &Weighing, tolerated: &Exact) -> Option<Mass> {
        let unit = self.scales.shown(weighing.division()).unit;
        let most = weighing.exact().in_unit(unit) * tolerated * Exact::from(2);
        let power = (0..=6).map(|places| Exact::ratio(1, 10_i64.pow(places))).find(|power| *power <= most)?;
        Mass::new(&power, unit).ok()
    }

    /// The smallest batch of whole finest divisions that is at least so many grams.
    fn smallest_batch(&self, least: &Exact) -> Option<SmallestBatch> {
        let grams = up_to_whole(least, self.finest.grams());
        let mass = Mass::new(&grams, MassUnit::Gram).ok()?;
        Some(SmallestBatch { bars: self.bars_for(&grams), mass })
    }

    /// The fewest bars whose batch, set to whole divisions, is at least so many grams.
    fn bars_for(&self, grams: &Exact) -> Option<u64> {
        let step = self.finest.grams();
        let charge = self.asked.grams() / Exact::from(self.size.bars()?);
        let bars = ((grams - step / Exact::from(2)) / &charge).floor_i64()?.max(1);
        // The floor may be a bar short, and a batch half-way between two divisions may be set to the lower one.
        let enough = |bars: &i64| (&charge * Exact::from(*bars)).rounded_to(step, HalfWay::ToEven) >= *grams;
        (bars..=bars + 2).find(enough).and_then(|bars| u64::try_from(bars).ok())
    }
}

/// Lots past their retest date, those of parts of premixes too, of lines with their labels; without a date, that they
/// were not looked at.
fn retest_notes<'a>(lines: impl Iterator<Item = (&'a Line, String)>, date: Option<Date>) -> Vec<Note> {
    let mut dated: Vec<(&Line, String, &Lot, Date)> = Vec::new();
    for (line, label) in lines {
        let material = line.material().as_ref();
        for lot in std::iter::once(material)
            .chain(material.leaves().into_iter().map(|(leaf, _)| leaf))
            .filter_map(Material::lot)
        {
            let is_known =
                dated.iter().any(|(known, _, other, _)| known.name() == line.name() && other.id() == lot.id());
            if let Some(retest) = lot.certificate().retest.filter(|_| !is_known) {
                dated.push((line, label.clone(), lot, retest));
            }
        }
    }
    let Some(date) = date else {
        let lots = dated
            .into_iter()
            .map(|(_, _, lot, retest)| format!("{} ({retest})", lot.id()))
            .collect::<indexmap::IndexSet<String>>();
        return if lots.is_empty() {
            Vec::new()
        } else {
            vec![Note::RetestNotCompared { lots: lots.into_iter().collect() }]
        };
    };
    let past = dated.into_iter().filter(|(.., retest)| date > *retest);
    past.map(|(line, label, lot, retest)| Note::PastRetest {
        line: line.name().to_string(),
        label,
        lot: lot.id().to_string(),
        retest,
    })
    .collect()
}

/// Where a line's lot, or one of a premix, has a certificate outside the range of its raw material: the line's name,
/// and a sentence.
fn outside_range(line: &Line) -> Vec<(String, String)> {
    let material = line.material().as_ref();
    let parts = material.leaves().into_iter().map(|(leaf, _)| leaf).filter(|leaf| !std::ptr::eq(*leaf, material));
    let mut found = Vec::new();
    for material in std::iter::once(material).chain(parts) {
        let Some(lot) = material.lot() else { continue };
        let outside = material.certificate_changes().iter().filter(|change| change.outside_range);
        let outside: Vec<String> =
            outside.map(|change| format!("{} % of {}", change.lot, change.constituent)).collect();
        if !outside.is_empty() {
            let sentence = format!(
                "{}: lot {} has {}, outside the range stated for {}. Ask the supplier, and look at what was worked out \
                 with that range.",
                line.name(),
                lot.id(),
                outside.join(" and "),
                material.id()
            );
            found.push((line.name().to_string(), sentence));
        }
    }
    found
}

/// The lines that are weighed at all, each with the division of its phase's scale.
fn lines_in_working_order(formula: &Formula, scales: &Scales) -> Vec<(Line, Mass)> {
    let of_phase = |phase: &Phase| {
        let name = phase.name().to_string();
        formula.lines().iter().filter(move |line| line.phase() == name && !line.percent().is_zero())
    };
    formula
        .phases()
        .iter()
        .flat_map(of_phase)
        .map(|line| (line.clone(), scales.division(line.phase()).clone()))
        .collect()
}

impl Formula {
    /// This formula weighed out; see [`Batch::new`].
    ///
    /// # Errors
    /// What [`Batch::new`] refuses.
    pub fn batch(&self, size: BatchSize, scales: Scales) -> Result<Batch, Error> {
        Batch::new(self, size, scales)
    }
}
