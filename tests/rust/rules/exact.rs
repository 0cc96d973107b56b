//! Every verdict on a measure against the measure itself, read exactly off the formula: as charged, finished and
//! bone-dry, for formulas of arbitrary starter raw materials and premixes of them.

use std::sync::Arc;

use proptest::prelude::*;
use tenside::catalogue::Catalogue;
use tenside::formula::{Formula, Line};
use tenside::material::{Form, Material};
use tenside::measure::{Basis, Measured};
use tenside::number::{Exact, Ppm};
use tenside::review::Reviewer;
use tenside::rule::{Bound, Certainty, JudgedOn, LimitValue, Market, Product, RuleBook, Severity, Use, Varied};

use super::DAY;

fn formula(picks: &[(usize, u32)], premix: bool) -> Formula {
    let starter = Catalogue::starter();
    let materials: Vec<&Arc<Material>> = starter.materials().collect();
    let mut lines = Vec::new();
    let mut left = 1_000_000u32;
    for (index, (pick, share)) in picks.iter().enumerate() {
        let share = if index + 1 == picks.len() { left } else { (*share).min(left) };
        left -= share;
        let material = Arc::clone(materials[pick % materials.len()]);
        lines.push(Line::new(&format!("line {index}"), material, Ppm::from_parts(share).unwrap()).unwrap());
    }
    let formula = Formula::new("Arbitrary", lines).unwrap();
    if !premix {
        return formula;
    }
    let mixed = Arc::new(formula.to_material("mixed", Form::Powder).unwrap());
    let half = Ppm::from_parts(500_000).unwrap();
    let water = Arc::clone(Catalogue::starter().material("water").unwrap());
    Formula::new("Premixed", vec![Line::new("mixed", mixed, half).unwrap(), Line::new("water", water, half).unwrap()])
        .unwrap()
}

/// What the measure says of a limit, by the definitions of certain, possible and typical only.
fn expected(measured: &Measured, bound: Bound, limit: &Exact) -> Option<Option<Certainty>> {
    let value = measured.value.as_ref()?;
    let breaks = |value: &Exact| match bound {
        Bound::AtMost => value > limit,
        Bound::Below => value >= limit,
        Bound::AtLeast => value < limit,
        Bound::Above => value <= limit,
        other => panic!("{other}"),
    };
    let upper = matches!(bound, Bound::AtMost | Bound::Below);
    // What only a nameless remainder could bring settles nothing, so a high end with that in it is none here.
    let high = value
        .high
        .as_ref()
        .filter(|_| !measured.notes.iter().any(|note| note.contains("counts in the high end alone")));
    let (safe, bad) = if upper { (value.low.as_ref(), high) } else { (high, value.low.as_ref()) };
    Some(match (safe, value.typical.as_ref().is_some_and(breaks), bad) {
        (Some(safe), _, _) if breaks(safe) => Some(Certainty::Certain),
        (Some(_), true, _) => Some(Certainty::Possible),
        (None, true, _) => Some(Certainty::TypicalOnly),
        (_, false, Some(bad)) if breaks(bad) => Some(Certainty::Possible),
        _ => None,
    })
}

/// Every verdict on a measure against what the measure says.
fn agree(picks: &[(usize, u32)], moisture: Option<u32>, premix: bool) -> Result<(), TestCaseError> {
    let formula = formula(picks, premix);
    let product = Product::new(Market::Eu, &[Use::ShampooBar, Use::LeaveOnHair], DAY.parse().unwrap()).unwrap();
    let product = match moisture {
        Some(moisture) => product.with_moisture(Exact::from(moisture)).unwrap(),
        None => product,
    };
    let reviewer = Reviewer::new(RuleBook::starter(), product.clone(), []).unwrap();
    let mut compared = 0;
    for rule in RuleBook::starter().rules() {
        let Varied::Measure(measurand, limits) = rule.subject() else { continue };
        let [limit] = limits.as_slice() else { continue };
        let LimitValue::Number(number) = &limit.value else { continue };
        // What a line is there for is not stated here.
        if !rule.when().is_empty() || rule.purpose().is_some() || !reviewer.slugs().any(|slug| slug == rule.slug()) {
            continue;
        }
        let on = |basis: Basis, most: Certainty| {
            let measured = formula.measure(&measurand.measure, &basis).unwrap();
            // What a scent leaves open makes no finding; a rule of its own asks.
            measured.value.as_ref()?.typical.as_ref()?;
            expected(&measured, limit.bound, number).map(|found| found.map(|found| found.min(most)))
        };
        let Some(charged) = on(Basis::AsCharged, Certainty::Certain) else { continue };
        let mut worst = charged;
        if measurand.judged_on == JudgedOn::EveryBasis {
            if let Some(finished) =
                moisture.and_then(|moisture| on(Basis::finished(Exact::from(moisture)).unwrap(), Certainty::Certain))
            {
                worst = worst.max(finished);
            }
            // Of water alone nothing is left bone-dry.
            if moisture.is_none()
                && let Some(dry) = on(Basis::finished(Exact::ZERO).unwrap(), Certainty::Possible)
            {
                worst = worst.max(dry);
            }
        }
        let flag = reviewer.flag(rule.slug(), &formula).unwrap();
        prop_assert_eq!(flag.certainty, worst, "{} of {:?} at {:?}", rule.slug(), picks, moisture);
        compared += 1;
    }
    prop_assert!(compared > 30);
    Ok(())
}

/// What a raw material states of a substance is all there is of it: of triethanolamine the stated high end counts, and
/// the unspecified remainder beside it does not.
#[test]
fn a_remainder_beside_a_stated_share_brings_nothing_of_it() {
    let place = |id: &str| Catalogue::starter().materials().position(|material| material.id() == id).unwrap();
    agree(&[(place("nettle-powder"), 67_165), (place("tea-cocoyl-glutamate-30"), 1)], None, false).unwrap();
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn verdicts_agree_with_the_exact_measures(
        picks in prop::collection::vec((0usize..1000, 1u32..300_000), 1..9),
        moisture in prop::option::of(0u32..30),
        premix in any::<bool>(),
    ) {
        agree(&picks, moisture, premix)?;
    }

    #[test]
    fn compiled_beforehand_or_on_the_way_a_review_is_the_same(picks in prop::collection::vec((0usize..1000, 1u32..300_000), 1..9), premix in any::<bool>()) {
        let formula = formula(&picks, premix);
        let product = Product::new(Market::Us, &[Use::Hair], DAY.parse().unwrap()).unwrap();
        let beforehand = formula.review(RuleBook::starter(), &product).unwrap();
        let on_the_way = Reviewer::new(RuleBook::starter(), product, []).unwrap().review(&formula).unwrap();
        prop_assert_eq!(&beforehand, &on_the_way);
        prop_assert!(beforehand.findings().windows(2).all(|pair| pair[0].severity() <= pair[1].severity()));
        prop_assert!(beforehand.findings().iter().all(|finding| finding.severity() != Severity::Error || !finding.source().is_empty()));
    }
}
