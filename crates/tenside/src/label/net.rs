//! The net content as a label states it, rounded down so that no more is promised than is there.
//!
//! Metric as it was given, in grams below 1 kg. For the United States in ounces with two decimals, from one pound on
//! also in pounds and ounces, from four pounds on in pounds and ounces alone, with the metric content beside it. Metric
//! content that follows from ounces has two digits below 100 g and three from there on. Source: 21 CFR 701.13, 15
//! U.S.C. 1453 and NIST Handbook 130; from memory, but that a decimal fraction has at most two places (seen in
//! secondary reproductions). The pound is 0.45359237 kg exactly.

use super::Market;
use crate::number::{Exact, Mass, MassUnit};
use crate::rule::net_rules;

/// A net content in a market's words.
///
/// ```
/// use tenside::label::{Market, NetContent};
/// let us = NetContent::new(&"60 g".parse()?, Market::Us);
/// assert_eq!(us.text(), "Net Wt. 2.11 oz (60 g)");
/// assert_eq!(NetContent::new(&"1 lb".parse()?, Market::Us).text(), "Net Wt. 16.00 oz (1 lb) 453 g");
/// assert_eq!(NetContent::new(&"60 g".parse()?, Market::Eu).text(), "60 g");
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct NetContent {
    content: Mass,
    text: String,
    shortfall: Option<Exact>,
    shortfall_source: &'static str,
    is_rounded: bool,
}

/// The fewest grams that are shown in kilograms.
const KILOGRAM: i32 = 1000;
/// Below so many grams a converted content has two digits, else three.
const THREE_DIGITS_FROM: i32 = 100;

impl NetContent {
    /// In the words of a market.
    #[must_use]
    pub fn new(content: &Mass, market: Market) -> Self {
        let (metric, metric_rounded) = metric(content.grams());
        let (text, is_rounded) = match market {
            Market::Eu => (metric, metric_rounded),
            Market::Us => {
                let (ounces, rounded) = ounces(content);
                (format!("Net Wt. {ounces}{}", beside(content, &metric)), rounded || metric_rounded)
            }
        };
        let allowed = net_rules(market);
        NetContent {
            content: content.clone(),
            text,
            shortfall: allowed.shortfall(content.grams()),
            shortfall_source: &allowed.source,
            is_rounded,
        }
    }

    /// The content, exact.
    #[must_use]
    pub fn content(&self) -> &Mass {
        &self.content
    }

    /// What the label says.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// True if a number of the text was rounded down.
    #[must_use]
    pub fn is_rounded(&self) -> bool {
        self.is_rounded
    }

    /// By how many grams a single package may fall short, while the mean of the lot may not; nothing outside the table.
    #[must_use]
    pub fn tolerated_shortfall(&self) -> Option<&Exact> {
        self.shortfall.as_ref()
    }

    /// Where that comes from.
    #[must_use]
    pub fn shortfall_source(&self) -> &str {
        self.shortfall_source
    }
}

/// Grams as they are where a tenth of a gram says them exactly, else rounded down to two or three digits.
fn metric(grams: &Exact) -> (String, bool) {
    let tenth = Exact::ratio(1, 10);
    if grams.floor_to(&tenth) == *grams {
        return (unit_text(grams), false);
    }
    let mut step = if *grams < Exact::from(THREE_DIGITS_FROM) { Exact::ratio(1, 10) } else { Exact::ONE };
    // The step below the last of the digits kept.
    let keep = if *grams < Exact::from(THREE_DIGITS_FROM) { 100 } else { KILOGRAM };
    while &step * Exact::from(keep) <= *grams {
        step = step * Exact::from(10);
    }
    let down = grams.floor_to(&step);
    // Less than the smallest step: every digit that is there, so that the text is not zero.
    if down.is_zero() { (format!("{} g", grams.floor_text(4)), true) } else { (unit_text(&down), true) }
}

fn unit_text(grams: &Exact) -> String {
    if *grams >= Exact::from(KILOGRAM) { format!("{} kg", grams / Exact::from(KILOGRAM)) } else { format!("{grams} g") }
}

/// Ounces, or pounds and ounces, with two decimals rounded down.
fn ounces(content: &Mass) -> (String, bool) {
    let exact = content.in_unit(MassUnit::Ounce);
    let hundredth = Exact::ratio(1, 100);
    let shown = exact.floor_to(&hundredth);
    let rounded = shown != exact;
    if content.in_unit(MassUnit::Pound) < Exact::from(4) {
        (format!("{} oz", shown.floor_text(2)), rounded)
    } else {
        (pounds(&shown), rounded)
    }
}

fn pounds(ounces: &Exact) -> String {
    let pounds = (ounces / Exact::from(16)).floor_to(&Exact::ONE);
    let rest = ounces - &pounds * Exact::from(16);
    if rest.is_zero() { format!("{pounds} lb") } else { format!("{pounds} lb {} oz", rest.floor_text(2)) }
}

/// What stands beside the ounces: metric in brackets, or from one to four pounds the pounds in brackets and metric
/// after them.
fn beside(content: &Mass, metric: &str) -> String {
    let in_pounds = content.in_unit(MassUnit::Pound);
    if in_pounds >= Exact::ONE && in_pounds < Exact::from(4) {
        let shown = content.in_unit(MassUnit::Ounce).floor_to(&Exact::ratio(1, 100));
        return format!(" ({}) {metric}", pounds(&shown));
    }
    format!(" ({metric})")
}
