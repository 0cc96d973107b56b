//! The net content as a label states it, rounded down so that no more is promised than is there: a mass, or the volume
//! of a liquid at 20 °C.
//!
//! Metric as it was given, to the hundredth, in grams below 1 kg and in millilitres below 1 l. For the United States in
//! ounces or fluid ounces with two decimals; from one pound or pint on also in pounds and ounces, or in the largest of
//! quarts and pints and in fluid ounces; from four pounds or a gallon on in those alone, with the metric content beside
//! it. Metric content that follows from ounces has two digits below 100 g or ml and three from there on. Source: 21 CFR
//! 701.13, 15 U.S.C. 1453 and NIST Handbook 130; from memory, but that a decimal fraction has at most two places and
//! that fluid measure is of the gallon of 231 cubic inches at 68 °F (seen in secondary reproductions). The pound is
//! 0.45359237 kg exactly.

use std::fmt;
use std::str::FromStr;

use super::Market;
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, Mass, MassUnit, Volume, VolumeUnit, number_and_unit};
use crate::rule::net_rules;

/// How much a package holds: a mass, or the volume of a liquid.
///
/// ```
/// use tenside::label::NetQuantity;
/// let bottle: NetQuantity = "25 cl".parse()?;
/// assert_eq!(bottle.to_string(), "250 ml");
/// assert!(bottle.mass().is_none() && "60 g".parse::<NetQuantity>()?.mass().is_some());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NetQuantity {
    /// By mass.
    Mass(Mass),
    /// By volume.
    Volume(Volume),
}

impl NetQuantity {
    /// The mass, where it is one.
    #[must_use]
    pub fn mass(&self) -> Option<&Mass> {
        match self {
            NetQuantity::Mass(mass) => Some(mass),
            NetQuantity::Volume(_) => None,
        }
    }

    /// The volume, where it is one.
    #[must_use]
    pub fn volume(&self) -> Option<&Volume> {
        match self {
            NetQuantity::Mass(_) => None,
            NetQuantity::Volume(volume) => Some(volume),
        }
    }

    /// Grams or millilitres.
    pub(super) fn metric(&self) -> &Exact {
        match self {
            NetQuantity::Mass(mass) => mass.grams(),
            NetQuantity::Volume(volume) => volume.millilitres(),
        }
    }

    /// Ounces or fluid ounces.
    fn ounces(&self) -> Exact {
        match self {
            NetQuantity::Mass(mass) => mass.in_unit(MassUnit::Ounce),
            NetQuantity::Volume(volume) => volume.in_unit(VolumeUnit::FluidOunce),
        }
    }

    fn units(&self) -> &'static Units {
        match self {
            NetQuantity::Mass(_) => &OF_MASS,
            NetQuantity::Volume(_) => &OF_VOLUME,
        }
    }
}

impl FromStr for NetQuantity {
    type Err = Error;

    /// Reads a mass or a volume with its unit: `60 g`, `2 oz`, `250 ml`, `8 fl oz`. A bare number is refused.
    fn from_str(text: &str) -> Result<Self, Error> {
        let (number, unit) = number_and_unit(text);
        if unit.is_empty() {
            let fault = Fault::new(FaultKind::Missing, "a net content needs a unit").value(format!("{number:?}"));
            return Err(fault.allowed(UNITS).into());
        }
        // A text that is no number is that before its unit is looked at.
        let number: Exact = number.parse()?;
        match (unit.parse::<MassUnit>(), unit.parse::<VolumeUnit>()) {
            (Ok(unit), _) => Mass::new(number, unit).map(NetQuantity::Mass),
            (_, Ok(unit)) => Volume::new(number, unit).map(NetQuantity::Volume),
            _ => {
                let fault = Fault::new(FaultKind::UnknownName, "unknown unit of a net content");
                Err(fault.value(format!("{unit:?}")).allowed(UNITS).into())
            }
        }
    }
}

impl fmt::Display for NetQuantity {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NetQuantity::Mass(mass) => mass.fmt(formatter),
            NetQuantity::Volume(volume) => volume.fmt(formatter),
        }
    }
}

/// The units that are read, for messages.
const UNITS: &str = "g, kg, mg, oz, lb; of a liquid ml, cl, l, fl oz";

/// In what a label states one kind of content.
struct Units {
    /// What stands before ounces.
    heading: &'static str,
    /// A gram or millilitre, and a thousand of it.
    metric: [&'static str; 2],
    ounce: &'static str,
    /// What is larger than the ounce, largest first, and its ounces.
    larger: &'static [(&'static str, i32)],
    /// From so many ounces on, larger units stand alone.
    alone_from: i32,
}

static OF_MASS: Units =
    Units { heading: "Net Wt.", metric: ["g", "kg"], ounce: "oz", larger: &[("lb", 16)], alone_from: 64 };
static OF_VOLUME: Units = Units {
    heading: "Net",
    metric: ["ml", "l"],
    ounce: "fl oz",
    larger: &[("gal", 128), ("qt", 32), ("pt", 16)],
    alone_from: 128,
};

/// A net content in a market's words.
///
/// ```
/// use tenside::label::{Market, NetContent};
/// let us = NetContent::new(&"60 g".parse()?, Market::Us);
/// assert_eq!(us.text(), "Net Wt. 2.11 oz (60 g)");
/// assert_eq!(NetContent::new(&"1 lb".parse()?, Market::Us).text(), "Net Wt. 16.00 oz (1 lb) 453 g");
/// assert_eq!(NetContent::new(&"60 g".parse()?, Market::Eu).text(), "60 g");
/// assert_eq!(NetContent::new(&"25 cl".parse()?, Market::Eu).text(), "250 ml");
/// assert_eq!(NetContent::new(&"1 l".parse()?, Market::Us).text(), "Net 33.81 fl oz (1 qt 1.81 fl oz) 1 l");
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct NetContent {
    content: NetQuantity,
    text: String,
    shortfall: Option<Exact>,
    shortfall_source: &'static str,
    is_rounded: bool,
}

/// From so many grams or millilitres on, content is shown in kilograms or litres.
const THOUSAND: i32 = 1000;
/// Below so many a converted content has two digits, else three.
const THREE_DIGITS_FROM: i32 = 100;
/// From so many ounces on, a pound or pint, larger units are shown.
const LARGER_FROM: i32 = 16;

getters!(NetContent {
    /// The content, exact.
    content: &NetQuantity,
    /// What the label says.
    text: &str,
    /// True if a number of the text was rounded down.
    is_rounded: bool,
});

impl NetContent {
    /// In the words of a market.
    #[must_use]
    pub fn new(content: &NetQuantity, market: Market) -> Self {
        let (metric, metric_rounded) = metric(content);
        let (text, is_rounded) = match market {
            Market::Eu => (metric, metric_rounded),
            Market::Us => {
                let (text, rounded) = customary(content, &metric);
                (text, rounded || metric_rounded)
            }
        };
        let allowed = net_rules(market);
        let (shortfall, shortfall_source) = match content {
            NetQuantity::Mass(mass) => (allowed.shortfall(mass.grams()), &allowed.source),
            NetQuantity::Volume(volume) => (allowed.volume_shortfall(volume.millilitres()), &allowed.volume_source),
        };
        NetContent { content: content.clone(), text, shortfall, shortfall_source, is_rounded }
    }

    /// By how many grams, or millilitres of a volume, a single package may fall short, while the mean of the lot may
    /// not; nothing outside the table, and where none is carried.
    #[must_use]
    pub fn tolerated_shortfall(&self) -> Option<&Exact> {
        self.shortfall.as_ref()
    }

    /// Where that comes from, or why it is not known.
    #[must_use]
    pub fn shortfall_source(&self) -> &str {
        self.shortfall_source
    }
}

/// Grams or millilitres as they are where hundredths say them exactly, else rounded down to two or three digits.
fn metric(content: &NetQuantity) -> (String, bool) {
    let (exact, [small, large]) = (content.metric(), content.units().metric);
    let shown = |value: &Exact| {
        let thousand = Exact::from(THOUSAND);
        if *value >= thousand { format!("{} {large}", value / thousand) } else { format!("{value} {small}") }
    };
    if exact.floor_to(&Exact::ratio(1, 100)) == *exact {
        return (shown(exact), false);
    }
    let mut step = if *exact < Exact::from(THREE_DIGITS_FROM) { Exact::ratio(1, 10) } else { Exact::ONE };
    // The step below the last of the digits kept.
    let keep = if *exact < Exact::from(THREE_DIGITS_FROM) { 100 } else { THOUSAND };
    while &step * Exact::from(keep) <= *exact {
        step *= Exact::from(10);
    }
    let down = exact.floor_to(&step);
    // Less than the smallest step: every digit that is there, so that the text is not zero.
    if down.is_zero() { (format!("{} {small}", exact.floor_text(4)), true) } else { (shown(&down), true) }
}

/// Ounces with two decimals rounded down, larger units beside or in place of them, and what is metric.
fn customary(content: &NetQuantity, metric: &str) -> (String, bool) {
    let (exact, units) = (content.ounces(), content.units());
    let (heading, ounce) = (units.heading, units.ounce);
    let shown = exact.floor_to(&Exact::ratio(1, 100));
    let ounces = shown.floor_text(2);
    let text = if exact < Exact::from(LARGER_FROM) {
        format!("{heading} {ounces} {ounce} ({metric})")
    } else if exact < Exact::from(units.alone_from) {
        format!("{heading} {ounces} {ounce} ({}) {metric}", in_larger(&shown, units))
    } else {
        format!("{heading} {} ({metric})", in_larger(&shown, units))
    };
    (text, shown != exact)
}

/// Whole larger units, and the rest in ounces.
fn in_larger(ounces: &Exact, units: &Units) -> String {
    let mut rest = ounces.clone();
    let mut parts = Vec::new();
    for (name, size) in units.larger {
        let whole = (&rest / Exact::from(*size)).floor_to(&Exact::ONE);
        if !whole.is_zero() {
            rest -= &whole * Exact::from(*size);
            parts.push(format!("{whole} {name}"));
        }
    }
    if !rest.is_zero() {
        parts.push(format!("{} {}", rest.floor_text(2), units.ounce));
    }
    parts.join(" ")
}
