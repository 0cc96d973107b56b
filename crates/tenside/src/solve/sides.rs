//! The sides of measures over the lines of a brief, which other questions about the same lines ask for again.
//!
//! # Why
//! - A what-if asks the same measures of the same lines at every step, and to read them off the raw materials was a
//!   third of a solve. They are kept with the list of lines, which copies of a brief share until one of them changes it.

use std::sync::{Arc, PoisonError, RwLock};

use crate::brief::Brief;
use crate::catalogue::PriceList;
use crate::error::{Error, Fault, FaultKind};
use crate::measure::{Basis, Compiled, Facts, LineView, Measure, Names, TypicalSides, typical_sides};
use crate::number::Exact;

fn facts(brief: &Brief) -> Facts<'_> {
    Facts { prices: brief.prices().map(|prices| prices.as_ref()), names: Names::Of(brief.catalogue()) }
}

/// A measure with the ranges of the compositions.
pub(super) fn compile(brief: &Brief, measure: &Measure, basis: &Basis) -> Result<Compiled, Error> {
    Compiled::new(measure, basis, &brief.views(), &facts(brief))
}

/// A measure's numerator and denominator, one entry a line.
pub(crate) type Sides = (Arc<[Exact]>, Arc<[Exact]>);

/// What a measure's numerator and denominator are for each line, typical compositions: `factor N` and `D`.
pub(crate) fn sides(brief: &Brief, measure: &Measure, basis: &Basis) -> Result<Sides, Error> {
    sides_as_far_as_known(brief, measure, basis).and_then(|sides| all_known(&sides))
}

/// The same of some of the lines, as charged.
pub(super) fn sides_of(brief: &Brief, measure: &Measure, lines: &[LineView<'_>]) -> Result<Sides, Error> {
    let sides = typical_sides(measure, &Basis::AsCharged, lines, &facts(brief)).map_err(several)?;
    all_known(&sides)
}

fn all_known(sides: &TypicalSides) -> Result<Sides, Error> {
    let faults = sides.not_known.iter().map(|(_, fault)| fault.clone()).collect();
    Error::check(faults, (Arc::clone(&sides.numerator), Arc::clone(&sides.denominator)))
}

/// The sides that were asked for last, kept with the lines: a brief of other limits, parts or ends has the same ones.
#[derive(Default)]
struct KeptSides(RwLock<Vec<KeptSide>>);

struct KeptSide {
    measure: Measure,
    basis: Basis,
    /// What they rest on, where they rest on prices.
    prices: Option<Arc<PriceList>>,
    sides: Arc<TypicalSides>,
}

/// The most sides that are kept with the lines of a brief.
const MOST_KEPT: usize = 64;

impl KeptSide {
    fn rests_on(&self, basis: &Basis, prices: Option<&Arc<PriceList>>) -> bool {
        self.basis == *basis
            && match (&self.prices, prices) {
                (Some(kept), Some(asked)) => Arc::ptr_eq(kept, asked),
                (kept, _) => kept.is_none(),
            }
    }
}

/// The sides of a measure; a line of which a typical value is not known counts nothing and is named.
pub(super) fn sides_as_far_as_known(
    brief: &Brief,
    measure: &Measure,
    basis: &Basis,
) -> Result<Arc<TypicalSides>, Error> {
    let KeptSides(kept) = brief.shelf_of_lines().of();
    let known = kept.read().unwrap_or_else(PoisonError::into_inner);
    let mut fitting = known.iter().filter(|known| known.rests_on(basis, brief.prices()));
    // Most are asked for by the measure of the same requirement, which takes no look into it.
    let found = fitting.clone().find(|known| known.measure.is_shared_with(measure));
    if let Some(known) = found.or_else(|| fitting.find(|known| known.measure == *measure)) {
        return Ok(Arc::clone(&known.sides));
    }
    drop(known);
    let sides = Arc::new(typical_sides(measure, basis, &brief.views(), &facts(brief)).map_err(several)?);
    let mut kept = kept.write().unwrap_or_else(PoisonError::into_inner);
    if kept.len() >= MOST_KEPT {
        kept.clear();
    }
    let prices = brief.prices().filter(|_| measure.is_priced()).cloned();
    kept.push(KeptSide { measure: measure.clone(), basis: basis.clone(), prices, sides: Arc::clone(&sides) });
    Ok(sides)
}

/// Joins the faults of one kind of trouble into as few as say it all: the unpriced materials in one sentence.
pub(super) fn several(faults: Vec<Fault>) -> Error {
    let mut joined: Vec<Fault> = Vec::new();
    for fault in faults {
        match joined
            .iter_mut()
            .find(|known| known.message == fault.message && known.place == fault.place && known.remedy == fault.remedy)
        {
            Some(known) => {
                if let (Some(values), Some(value)) = (&mut known.value, &fault.value)
                    && !values.split(", ").any(|named| named == value)
                {
                    *values = format!("{values}, {value}");
                }
            }
            None => joined.push(fault),
        }
    }
    Error::from_faults(joined).unwrap_or_else(|| Fault::new(FaultKind::NotKnown, "a value is not known").into())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::brief::{Role, SplitBasis};
    use crate::catalogue::Catalogue;
    use crate::number::Ppm;

    #[test]
    fn faults_that_differ_in_their_value_alone_are_one() {
        let fault = |place: &str, value: &str, remedy: &str| {
            Fault::new(FaultKind::NotKnown, "no price").at(place).value(value).remedy(remedy)
        };
        let joined = |faults: &[(&str, &str, &str)]| -> Vec<Option<String>> {
            let error = several(faults.iter().map(|(place, value, remedy)| fault(place, value, remedy)).collect());
            error.faults().iter().map(|fault| fault.value.clone()).collect()
        };
        let told = |values: &[&str]| values.iter().map(|value| Some(value.to_string())).collect::<Vec<_>>();
        assert_eq!(
            joined(&[("", "clay", "add one"), ("", "oil", "add one"), ("", "clay", "add one")]),
            told(&["clay, oil"])
        );
        assert_eq!(joined(&[("", "clay", "add one"), ("scent", "oil", "add one")]), told(&["clay", "oil"]));
        assert_eq!(joined(&[("", "clay", "add one"), ("", "oil", "leave it out")]), told(&["clay", "oil"]));
        let other = Fault::new(FaultKind::NotKnown, "no score").at("").value("oil").remedy("add one");
        assert_eq!(several(vec![fault("", "clay", "add one"), other]).faults().len(), 2);
    }

    fn brief() -> Brief {
        let prices = PriceList::new("EUR", [("sci-powder", 9), ("capb-30", 2), ("kaolin", 1)]).unwrap();
        let brief = Brief::new("Wash", &Catalogue::starter()).unwrap().with_prices(&prices).unwrap();
        let brief = brief.split("wash", SplitBasis::Active, [("sci-powder", 3), ("capb-30", 1)]).unwrap();
        brief.qs("kaolin").unwrap().at_most(Measure::water(), 20).unwrap()
    }

    /// Another limit asks for what was worked out; other lines and other prices do not.
    #[test]
    fn sides_are_worked_out_once_for_the_lines_and_the_prices_that_they_rest_on() {
        let brief = brief();
        let numerator = |brief: &Brief, measure: Measure| sides(brief, &measure, &Basis::AsCharged).unwrap().0;
        let (water, cost) = (numerator(&brief, Measure::water()), numerator(&brief, Measure::cost()));
        let narrower = brief.clone().drop_requirement("water at most 20 %").unwrap().at_most(Measure::water(), 9);
        assert!(Arc::ptr_eq(&water, &numerator(&narrower.unwrap(), Measure::water())));
        assert!(Arc::ptr_eq(&cost, &numerator(&brief, Measure::cost())));
        assert_ne!(water, cost);

        let dearer = PriceList::new("EUR", [("sci-powder", 10), ("capb-30", 2), ("kaolin", 1)]).unwrap();
        let dearer = brief.clone().with_prices(&dearer).unwrap();
        assert!(Arc::ptr_eq(&water, &numerator(&dearer, Measure::water())));
        let gained: Vec<Exact> =
            numerator(&dearer, Measure::cost()).iter().zip(&*cost).map(|(now, before)| now - before).collect();
        assert_eq!(gained.iter().map(Exact::is_positive).collect::<Vec<_>>(), [true, false, false]);
        assert_eq!(numerator(&brief, Measure::cost()), cost);

        let more = brief.clone().between("water", 0, 10).unwrap();
        assert_eq!((numerator(&more, Measure::water()).len(), water.len()), (4, 3));
        let held = brief.clone().change_line("kaolin", Role::Fixed(Ppm::from_percent(5).unwrap())).unwrap();
        assert_eq!(numerator(&held, Measure::water()), water);
    }

    /// However many are asked for, no more than so many are kept, and all are right.
    #[test]
    fn no_more_sides_are_kept_than_there_is_room_for() {
        let brief = brief();
        for round in 0..2 {
            for value in 1..=2 * MOST_KEPT as i64 {
                let measure = (Measure::water() * Exact::from(value)).unwrap();
                let (numerator, _) = sides(&brief, &measure, &Basis::AsCharged).unwrap();
                let (once, _) = sides(&brief, &Measure::water(), &Basis::AsCharged).unwrap();
                assert_eq!(numerator[1], &once[1] * Exact::from(value), "{round}");
            }
        }
        let KeptSides(kept) = brief.shelf_of_lines().of();
        assert!(kept.read().unwrap().len() <= MOST_KEPT);
    }
}
