//! The sweeps that are timed: an invented bar whose equations determine it.

use rust_decimal::Decimal;
use tenside::brief::{Brief, SplitBasis};
use tenside::catalogue::{Catalogue, PriceList};
use tenside::measure::{Basis, Measure, Scope};
use tenside::number::Exact;
use tenside::sweep::{Sweep, Values, Varied};

pub(crate) fn bar() -> Brief {
    // Invented prices, euro per kilogram.
    let prices = [
        ("sci-powder", 52),
        ("scs-needles", 38),
        ("capb-30", 19),
        ("kaolin", 11),
        ("cetyl-alcohol", 41),
        ("panthenol", 230),
        ("citric-acid-50", 30),
    ];
    let prices = PriceList::new("EUR", prices.map(|(id, tenths)| (id.to_string(), Decimal::new(tenths, 1))))
        .expect("prices are in range");
    let brief = || -> Result<Brief, tenside::Error> {
        Brief::new("Bar", &Catalogue::starter())?
            .with_prices(&prices)?
            .split("wash", SplitBasis::Active, [("sci-powder", 14), ("scs-needles", 5), ("capb-30", 1)])?
            .fix("panthenol", "1.5")?
            .fix("cetyl-alcohol", 4)?
            .fix("citric-acid-50", "0.3")?
            .qs("kaolin")?
            .target(Measure::active_matter(), 55)?
            .at_most(Measure::water(), 12)
    };
    brief().expect("the bar can be asked").minimise(Measure::cost())
}

/// A bar of fifteen raw materials of which prices choose the amounts; two ratios are turned. Invented prices and
/// limits.
pub(crate) fn cream_bar() -> Brief {
    let prices = [
        ("sci-powder", 52),
        ("sodium-cocoyl-glutamate-30", 24),
        ("coco-glucoside-50", 27),
        ("capb-30", 19),
        ("cetyl-alcohol", 41),
        ("stearic-acid", 23),
        ("shea-butter", 65),
        ("glycerin-99-5", 15),
        ("kaolin", 11),
        ("corn-starch", 13),
        ("btms-50", 98),
        ("panthenol", 230),
        ("phenoxyethanol", 74),
        ("citric-acid-50", 30),
        ("water", 1),
    ];
    let prices = PriceList::new("EUR", prices.map(|(id, tenths)| (id.to_string(), Decimal::new(tenths, 1))))
        .expect("prices are in range");
    let brief = || -> Result<Brief, tenside::Error> {
        Brief::new("Cream bar", &Catalogue::starter())?
            .with_prices(&prices)?
            .split("harsh", SplitBasis::Active, [("sci-powder", 10), ("sodium-cocoyl-glutamate-30", 1)])?
            .split("mild", SplitBasis::Active, [("coco-glucoside-50", 1), ("capb-30", 1)])?
            .between("cetyl-alcohol", 2, 12)?
            .between("stearic-acid", 1, 8)?
            .between("shea-butter", 0, 6)?
            .between("glycerin-99-5", 1, 8)?
            .between("kaolin", 0, 40)?
            .between("corn-starch", 0, 12)?
            .between("btms-50", "0.5", 4)?
            .between("panthenol", "0.5", 1)?
            .between("phenoxyethanol", "0.3", 1)?
            .between("citric-acid-50", "0.1", "0.8")?
            .free("water")?
            .group("waxes", &["cetyl-alcohol", "stearic-acid", "shea-butter"])?
            .group("powders", &["kaolin", "corn-starch"])?
            .target(Measure::active_matter(), 38)?
            .at_most(Measure::water(), 26)?
            .at_least(Measure::as_supplied().contributed_by(Scope::group("waxes")?), 9)?
            .at_most(Measure::as_supplied().contributed_by(Scope::group("powders")?), 30)?
            .at_most(Measure::charge_ratio(), "0.2")
    };
    brief().expect("the cream bar can be asked").minimise(Measure::cost())
}

/// So many ratios by so many ratios, all columns.
pub(crate) fn optimal(brief: &Brief, count: usize) -> Sweep {
    let axis = |word: &str, from: i64, to: i64| {
        let values = Values::linspace(Exact::from(from), Exact::from(to), count, grid(count))?;
        Varied::named(brief, word)?.over(values)
    };
    let axes = [axis("harsh.sodium-cocoyl-glutamate-30", 1, 4), axis("mild.capb-30", 1, 4)]
        .into_iter()
        .collect::<Result<Vec<_>, tenside::Error>>();
    Sweep::new(brief, axes.expect("the axes are the brief's")).expect("the brief can be swept")
}

/// What values are rounded to: fine enough that none stands twice.
fn grid(count: usize) -> Exact {
    if count <= 1000 { Exact::ratio(1, 1000) } else { Exact::ratio(1, 100_000) }
}

fn along(brief: &Brief, count: usize, words: &[(&str, i64, i64)]) -> Sweep {
    let axis = |(word, from, to): &(&str, i64, i64)| {
        let values = Values::linspace(Exact::from(*from), Exact::from(*to), count, grid(count))?;
        Varied::named(brief, word)?.over(values)
    };
    let axes: Result<Vec<_>, tenside::Error> = words.iter().map(axis).collect();
    Sweep::new(brief, axes.expect("the axes are the brief's")).expect("the brief can be swept")
}

/// A thousand parts by a thousand parts.
pub(crate) fn square(brief: &Brief, count: usize) -> Sweep {
    along(brief, count, &[("wash.scs-needles", 2, 8), ("wash.capb-30", 1, 6)])
}

/// Twelve columns: two axes, seven lines, water, cost, feasibility.
pub(crate) fn million(brief: &Brief) -> Sweep {
    let sweep = square(brief, 1000);
    let names: Vec<&str> = sweep
        .names()
        .iter()
        .map(String::as_str)
        .filter(|name| !matches!(*name, "active matter" | "binding" | "conflict" | "objective"))
        .collect();
    sweep.clone().with_columns(&names).expect("the names are the sweep's")
}

/// Three surfactants of a split with their total, water and cost.
pub(crate) fn thousand_million(brief: &Brief, count: usize) -> Sweep {
    let sweep =
        along(brief, count, &[("target.active-matter", 45, 56), ("wash.scs-needles", 2, 8), ("wash.capb-30", 1, 6)]);
    let total = Measure::as_supplied().contributed_by(Scope::group("wash").expect("a name"));
    sweep.with_measure(&total, &Basis::AsCharged).expect("the total is known")
}
