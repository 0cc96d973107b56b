//! What can leave a bar on drying.
//!
//! ```text
//! most of a raw material = min(sum of the high ends of what can leave, 100 - sum of the low ends of what stays) + bound water
//! ```
//!
//! What can leave is water, what is volatile, and what is not known to stay; an end that is not stated is as far as it
//! can be.

use rust_decimal::Decimal;

use super::Note;
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{Formula, Line};
use crate::material::Material;
use crate::number::{Exact, Ppm};
use crate::substance::{Substance, Volatility};

/// Refuses a drying loss of more than can leave.
pub(super) fn check(formula: &Formula, loss: Decimal) -> Result<(), Error> {
    if loss.is_zero() {
        return Ok(());
    }
    let most: Exact = formula.lines().iter().map(most_of_line).sum();
    if Exact::from(loss) <= most {
        return Ok(());
    }
    Err(Fault::new(FaultKind::OutOfRange, "the drying loss is more than can leave the bar")
        .at("drying loss")
        .value(format!("{} %", loss.normalize()))
        .allowed(format!(
            "0 to {} %: water, bound or not, and all that is volatile, or may be, at the high end",
            most.floor_text(2)
        ))
        .remedy("state it in percent of the pressed bar, or mend the ranges of the raw materials")
        .into())
}

/// That a loss is more than typically leaves, although not more than can; nothing where typical values are not known.
pub(super) fn note(formula: &Formula, loss: Decimal) -> Option<Note> {
    let typical = formula.lines().iter().map(typical_of_line).sum::<Option<Exact>>()?;
    let most = formula.lines().iter().map(most_of_line).sum();
    (Exact::from(loss) > typical).then_some(Note::DriesFurther { loss, typical, most })
}

fn most_of_line(line: &Line) -> Exact {
    let material = line.material();
    let parts = material.leaves().into_iter().map(|(leaf, share)| most_of(leaf) * share).sum::<Exact>();
    (parts + bound_in_premix(material)).min(Exact::hundred()) * line.percent().share()
}

fn typical_of_line(line: &Line) -> Option<Exact> {
    let material = line.material();
    let leaves = |substance: &Substance| matches!(substance.volatility(), Volatility::Water | Volatility::Volatile);
    let bound = material.leaves().into_iter().map(|(leaf, share)| bound_in(leaf) * share).sum::<Exact>();
    let percent = material.typical_percent(leaves).ok()? + bound + bound_in_premix(material);
    Some(percent.min(Exact::hundred()) * line.percent().share())
}

fn bound_in(material: &Material) -> Exact {
    material.bound_water().map_or(Exact::ZERO, Ppm::percent)
}

/// A premix may state bound water as a whole.
fn bound_in_premix(material: &Material) -> Exact {
    let is_leaf = material.leaves().iter().any(|(leaf, _)| std::ptr::eq(*leaf, material));
    if is_leaf { Exact::ZERO } else { bound_in(material) }
}

/// Percent of a raw material without premixes.
fn most_of(leaf: &Material) -> Exact {
    let whole = u64::from(Ppm::WHOLE.parts());
    let (mut leaving, mut staying) = (0, 0);
    for row in leaf.composition().constituents() {
        match row.substance().volatility() {
            Volatility::None => staying += u64::from(row.low().map_or(0, Ppm::parts)),
            Volatility::Water | Volatility::Volatile | Volatility::Unknown => {
                leaving += row.high().map_or(whole, |high| u64::from(high.parts()))
            }
        }
    }
    let free = leaving.min(whole.saturating_sub(staying));
    let bound = leaf.bound_water().map_or(0, |water| u64::from(water.parts()));
    Exact::ratio(i64::try_from((free + bound).min(whole)).unwrap_or(i64::MAX), 10_000)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Catalogue;

    fn bar(lines: &[(&str, &str)]) -> Formula {
        let catalogue = Catalogue::starter();
        let line = |(id, percent): &(&str, &str)| {
            Line::new(id, catalogue.material(id).unwrap().clone(), Ppm::from_percent(percent).unwrap()).unwrap()
        };
        Formula::new("Bar", lines.iter().map(line).collect()).unwrap()
    }

    #[test]
    fn no_more_than_water_and_what_is_volatile_leaves() {
        // Citric acid 50: 49 to 51 % of water; kaolin: 1 % of bound water.
        let wet = bar(&[("citric-acid-50", "40"), ("kaolin", "60")]);
        assert!(check(&wet, "21".parse().unwrap()).is_ok());
        let error = check(&wet, "21.01".parse().unwrap()).unwrap_err();
        assert!(error.is_out_of_range() && error.to_string().contains("0 to 21.00 %"), "{error}");
        assert!(check(&bar(&[("cetyl-alcohol", "100")]), Decimal::new(1, 2)).is_err());
        assert!(check(&bar(&[("cetyl-alcohol", "100")]), Decimal::ZERO).is_ok());
    }

    #[test]
    fn more_than_typically_leaves_is_said() {
        // 50 % of water in the acid, 1 % of bound water in the kaolin: 20.6 % typically, 21 % at most.
        let wet = bar(&[("citric-acid-50", "40"), ("kaolin", "60")]);
        let at = |loss: &str| note(&wet, loss.parse().unwrap());
        assert_eq!(at("20.6"), None);
        let said = at("20.8").unwrap().to_string();
        assert!(said.contains("20.8 %") && said.contains("20.60 %") && said.contains("21.00 %"), "{said}");
    }

    #[test]
    fn what_is_not_known_to_stay_could_leave() {
        // Coconut acid, of unknown volatility, counts with its high end, beside water and the nameless remainder.
        let powder = bar(&[("sci-powder", "100")]);
        assert!(check(&powder, Decimal::from(16)).is_ok());
        assert!(check(&powder, "16.1".parse().unwrap()).is_err());
    }
}
