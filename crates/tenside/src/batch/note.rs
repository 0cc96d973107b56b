//! What whoever weighs has to know beyond the numbers.

use rust_decimal::Decimal;

use super::dilution::{Dilution, Mixing};
use super::shown::{Shown, brief};
use crate::bounds::Quantity;
use crate::document::named_enum;
use crate::number::{Date, Exact, Mass, MassUnit};
use crate::render::so_many;

/// The smallest batch in which a line is large enough for its scale.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct SmallestBatch {
    /// Its mass: whole divisions of the finest scale.
    pub mass: Mass,
    /// Its bars, where the batch counts bars and so many can be counted.
    pub bars: Option<u64>,
}

/// A line that is too small for its scale, and the ways out.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct SmallLine {
    /// The line's name.
    pub line: String,
    /// The line as the sheet names it.
    pub label: String,
    /// The mass the percentage asks for.
    pub exact: Mass,
    /// The division of its scale.
    pub division: Mass,
    /// The largest error in percent of the line: half a division, or the rest it takes where that is more.
    pub error_percent: Exact,
    /// What is accepted, in percent.
    pub tolerance: Decimal,
    /// The division that would do: a power of ten in the unit of the scale, down to a millionth of it.
    pub finer_division: Option<Mass>,
    /// The phases whose scales are coarser than that, where the line takes the rest of lines on several scales.
    pub coarse_phases: Vec<String>,
    /// The smallest batch that would do, if one of at most a hundred tonnes does.
    pub smallest: Option<SmallestBatch>,
    /// A dilution to weigh instead, if one fits.
    pub dilution: Option<Dilution>,
}

named_enum! {
    /// What a note of a batch or of its record is about.
    NoteKind "note-kind" {
        /// The phase is hotter than the material may be worked.
        TooHot = "too-hot",
        /// The batch is not quite what was asked for.
        TotalMoved = "total-moved",
        /// A bar heavier or lighter than bars are.
        UnusualBar = "unusual-bar",
        /// A drying loss of more than typically leaves.
        DriesFurther = "dries-further",
        /// A lot past its retest date.
        PastRetest = "past-retest",
        /// Lots have retest dates, and the batch no date.
        RetestNotCompared = "retest-not-compared",
        /// Another line than the formula's own choice takes the rest.
        RestElsewhere = "rest-elsewhere",
        /// Another line takes the last bit of the rest.
        RestPassedOn = "rest-passed-on",
        /// The rounding error of a line may be larger than is accepted.
        TooSmall = "too-small",
        /// A line rounds to nothing.
        RoundsToNothing = "rounds-to-nothing",
        /// A line is of another lot than planned.
        LotChanged = "lot-changed",
        /// A lot's certificate lies outside the range of its raw material.
        LotOutsideRange = "lot-outside-range",
        /// A line was weighed off its plan, or has none.
        OffPlan = "off-plan",
        /// A reading is outside its limits.
        TestOutside = "test-outside",
        /// A test was not measured.
        TestNotMeasured = "test-not-measured",
        /// A test was read that has no limit.
        TestWithoutLimit = "test-without-limit",
        /// Mass of the bowl is missing, more than stays in bowl and press.
        Unaccounted = "unaccounted",
        /// What was really weighed is not recorded, or not of every line.
        NotWeighed = "not-weighed",
        /// It was released with a point open.
        ReleasedWithOpenPoints = "released-with-open-points",
    }
}

/// A note of a batch.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Note {
    /// The phase is hotter than the material may be worked.
    TooHot {
        /// The line's name.
        line: String,
        /// The line as the sheet names it.
        label: String,
        /// The phase.
        phase: String,
        /// Its temperature in °C.
        temperature: Decimal,
        /// The highest temperature in °C at which the material may be worked.
        highest: Decimal,
    },
    /// The batch is not quite what was asked for, since scales weigh whole divisions.
    TotalMoved {
        /// What was asked for.
        asked: Mass,
        /// What is weighed.
        weighed: Mass,
    },
    /// A bar heavier or lighter than bars are.
    UnusualBar {
        /// The net mass of one.
        net: Mass,
    },
    /// A drying loss of more than typically leaves, although not of more than can.
    DriesFurther {
        /// The loss, percent.
        loss: Decimal,
        /// What typically leaves, percent: water, bound or not, and what is volatile.
        typical: Exact,
        /// The most that can.
        most: Exact,
    },
    /// A lot past its retest date on the day of the batch.
    PastRetest {
        /// The line's name.
        line: String,
        /// The line as the sheet names it.
        label: String,
        /// The lot.
        lot: String,
        /// The day by which it is to be tested again.
        retest: Date,
    },
    /// Lots have retest dates, and the batch has no date to compare them with.
    RetestNotCompared {
        /// The lots.
        lots: Vec<String>,
    },
    /// Another line than the formula's own choice takes the rest: that one is dosed with care.
    RestElsewhere {
        /// The formula's choice.
        usual: String,
        /// The line that takes the rest, if one may.
        instead: Option<String>,
    },
    /// The scale of the line that takes the rest is too coarse for the last bit, and another line takes that.
    RestPassedOn {
        /// The line on the coarse scale.
        from: String,
        /// The line that takes the last bit.
        to: String,
        /// The bit, in grams; negative where less is weighed.
        grams: Exact,
    },
    /// The rounding error of a line may be larger than is accepted.
    TooSmall(SmallLine),
    /// A line rounds to nothing: it would not be weighed at all.
    RoundsToNothing(SmallLine),
}

impl Note {
    /// Its kind.
    #[must_use]
    pub fn kind(&self) -> NoteKind {
        match self {
            Note::TooHot { .. } => NoteKind::TooHot,
            Note::TotalMoved { .. } => NoteKind::TotalMoved,
            Note::UnusualBar { .. } => NoteKind::UnusualBar,
            Note::DriesFurther { .. } => NoteKind::DriesFurther,
            Note::PastRetest { .. } => NoteKind::PastRetest,
            Note::RetestNotCompared { .. } => NoteKind::RetestNotCompared,
            Note::RestElsewhere { .. } => NoteKind::RestElsewhere,
            Note::RestPassedOn { .. } => NoteKind::RestPassedOn,
            Note::TooSmall(_) => NoteKind::TooSmall,
            Note::RoundsToNothing(_) => NoteKind::RoundsToNothing,
        }
    }

    /// The line it is about, where it is about one.
    #[must_use]
    pub fn line(&self) -> Option<&str> {
        match self {
            Note::TooHot { line, .. } | Note::PastRetest { line, .. } => Some(line),
            Note::TotalMoved { .. }
            | Note::UnusualBar { .. }
            | Note::DriesFurther { .. }
            | Note::RetestNotCompared { .. }
            | Note::RestElsewhere { .. }
            | Note::RestPassedOn { .. } => None,
            Note::TooSmall(small) | Note::RoundsToNothing(small) => Some(&small.line),
        }
    }

    /// The note as a sentence; masses in `unit` where they can be written in it.
    #[must_use]
    pub fn sentence(&self, unit: MassUnit) -> String {
        match self {
            Note::TooHot { label, phase, temperature, highest, .. } => {
                let (temperature, highest) = (temperature.normalize(), highest.normalize());
                format!(
                    "{label}: the phase {phase:?} is worked at {temperature} °C, the material takes at most {highest} \
                     °C. Add it when the mass has cooled."
                )
            }
            Note::TotalMoved { asked, weighed } => {
                let difference = weighed.grams() - asked.grams();
                let (size, way) = (few_digits(&difference.abs(), unit), more_or_less(&difference));
                format!(
                    "The batch is set to {}, {size} {way} than asked for: scales weigh whole divisions.",
                    brief(weighed, unit)
                )
            }
            Note::UnusualBar { net } => {
                format!(
                    "A bar of {}: bars weigh {} as a rule. Look whether the unit is meant.",
                    brief(net, unit),
                    Quantity::UsualBar.allowed()
                )
            }
            Note::DriesFurther { loss, typical, most } => {
                format!(
                    "A drying loss of {} % is more than typically leaves, {} % ({} % at most): bars may stay heavier \
                     than planned. Weigh some until they lose nothing more.",
                    loss.normalize(),
                    typical.rounded_text(2),
                    most.rounded_text(2)
                )
            }
            Note::PastRetest { label, lot, retest, .. } => {
                format!("{label}: lot {lot} was to be tested again by {retest}. Have it tested, or use another lot.")
            }
            Note::RetestNotCompared { lots } => {
                format!(
                    "The batch has no date, so the retest dates of its lots were not compared: {}.",
                    lots.join(", ")
                )
            }
            Note::RestElsewhere { usual, instead: Some(instead) } => {
                format!("{usual} is dosed with care and takes no rounding rest; {instead} takes it.")
            }
            Note::RestElsewhere { usual, instead: None } => {
                format!("{usual} and all other lines are dosed with care; none takes a rounding rest.")
            }
            Note::RestPassedOn { from, to, grams } => {
                let (size, way) = (few_digits(&grams.abs(), unit), more_or_less(grams));
                format!(
                    "The scale for {from} is too coarse for the last bit of the rounding rest: {to} takes it, {size} \
                     {way}."
                )
            }
            Note::TooSmall(small) => {
                let (error, tolerance) = (small.error_percent.rounded_text(2), small.tolerance.normalize());
                let exact = few_digits(small.exact.grams(), unit);
                let head = format!(
                    "{}: on a scale of {} the rounding error of its {exact} can be {error} % of it; accepted is \
                     {tolerance} %.",
                    small.label,
                    brief(&small.division, unit)
                );
                head + &ways_out(small, unit)
            }
            Note::RoundsToNothing(small) => {
                let exact = few_digits(small.exact.grams(), unit);
                format!("{}: its {exact} round to nothing on a scale of {}.", small.label, brief(&small.division, unit))
                    + &ways_out(small, unit)
            }
        }
    }
}

impl std::fmt::Display for Note {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.pad(&self.sentence(MassUnit::Gram))
    }
}

fn ways_out(small: &SmallLine, unit: MassUnit) -> String {
    let shown = Shown::of(&small.division, unit);
    let weighed = |mass: &Mass| shown.map_or_else(|| brief(mass, unit), |shown| shown.text(mass));
    let mut ways = Vec::new();
    if let Some(division) = &small.finer_division {
        let phases: Vec<String> = small.coarse_phases.iter().map(|phase| format!("{phase:?}")).collect();
        let of = if phases.is_empty() { String::new() } else { format!(" for {}", phases.join(" and ")) };
        ways.push(format!("use a scale of {}{of}", brief(division, unit)));
    }
    if let Some(SmallestBatch { mass, bars }) = &small.smallest {
        let bars = bars.map_or(String::new(), |bars| format!(" ({})", so_many(bars, "bar", "bars")));
        ways.push(format!("make at least {}{bars}", brief(mass, unit)));
    }
    let mut text = match ways.as_slice() {
        [] => String::new(),
        ways => format!(" Ways out: {}.", ways.join(", or ")),
    };
    if let Some(dilution) = &small.dilution {
        let Dilution { carrier, parts, material_mass, carrier_mass, portion, carrier_left, mixing } = dilution;
        let (mix, into) = match mixing {
            Mixing::Dissolve => ("stir", "into"),
            Mixing::RubOut => ("rub", "out with"),
        };
        text += &format!(
            " Or dilute it 1+{parts}: {mix} {} {into} {} of {carrier}, weigh {} of that and, if nothing else is diluted \
             with it, only {} of {carrier} by itself. Make it fresh, and try a little first: whether the two mix evenly is not known here.",
            weighed(material_mass),
            weighed(carrier_mass),
            weighed(portion),
            brief(carrier_left, unit)
        );
    }
    text
}

fn more_or_less(grams: &Exact) -> &'static str {
    if grams.is_negative() { "less" } else { "more" }
}

/// A mass that was calculated: three digits that count are enough to recognise it.
fn few_digits(grams: &Exact, unit: MassUnit) -> String {
    let value = grams / unit.grams();
    let places = (0..6).find(|places| &value * Exact::from(10_i64.pow(*places)) >= Exact::hundred()).unwrap_or(6);
    let text = value.rounded_text(places);
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    format!("{text} {}", unit.symbol())
}
