//! The sum of a weigh-out is the batch, whatever the formula, mass and scales.

use proptest::prelude::*;
use tenside::batch::{Batch, BatchSize, Note, Scales};
use tenside::formula::{Formula, Line};
use tenside::number::{Exact, Mass, MassUnit, Ppm, apportion, apportion_to};

use super::{line, mass, on_scale, salt_marsh};

const DIVISIONS: [&str; 10] =
    ["0.001 g", "0.01 g", "0.1 g", "0.2 g", "0.5 g", "1 g", "0.001 kg", "0.005 oz", "0.1 oz", "0.01 lb"];
const UNITS: [MassUnit; 4] = [MassUnit::Gram, MassUnit::Kilogram, MassUnit::Ounce, MassUnit::Pound];

/// Any weights for the sixteen lines; zeros too.
fn formula(weights: &[i64]) -> Formula {
    let weights: Vec<Exact> = weights.iter().copied().map(Exact::from).collect();
    let parts = apportion(&weights, 1_000_000).unwrap().units;
    let base = salt_marsh();
    let lines: Vec<Line> = base
        .lines()
        .iter()
        .zip(parts)
        .map(|(line, parts)| line.clone().with_percent(Ppm::from_parts(u32::try_from(parts).unwrap()).unwrap()))
        .collect();
    Formula::new("random", lines).unwrap().with_phases(base.phases()).unwrap()
}

fn check(batch: &Batch) -> Result<(), TestCaseError> {
    let rounded: Exact = batch.weighings().iter().map(|weighing| weighing.rounded().grams()).sum();
    prop_assert_eq!(&rounded, batch.weighed().grams());
    let half = Exact::ratio(1, 2);
    for weighing in batch.weighings() {
        let division = weighing.division().grams();
        prop_assert!((weighing.rounded().grams() / division).is_whole(), "{:?}", weighing);
        prop_assert!(weighing.takes_rest() || weighing.error_grams().abs() <= division * &half, "{:?}", weighing);
        let careful = weighing.line().material().main_class().is_dosed_with_care();
        prop_assert!(!(careful && weighing.takes_rest()), "{:?}", weighing);
    }
    let moved = batch.notes().iter().any(|note| matches!(note, Note::TotalMoved { .. }));
    prop_assert_eq!(moved, batch.weighed() != batch.asked());
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn one_scale(weights in prop::collection::vec(0i64..100_000, 16), centigrams in 100i64..10_000_000, division in 0usize..DIVISIONS.len(), unit in 0usize..4) {
        prop_assume!(weights.iter().sum::<i64>() > 0);
        let size = BatchSize::of_mass(Mass::new(Exact::ratio(centigrams, 100), MassUnit::Gram).unwrap()).unwrap();
        let division = mass(DIVISIONS[division]);
        let formula = formula(&weights);
        match formula.batch(size, Scales::new(division.clone()).unwrap().shown_in(UNITS[unit])) {
            // Grams are no ounces.
            Err(error) if error.is_unsupported() => {}
            Ok(batch) => {
                check(&batch)?;
                if batch.weighings().iter().any(|weighing| weighing.takes_rest()) {
                    let half = division.grams() / Exact::from(2);
                    prop_assert!((batch.weighed().grams() - batch.asked().grams()).abs() <= half);
                }
            }
            // Fifteen other lines can take half a division each from the line that takes the rest, and the batch itself
            // half a one.
            Err(error) => {
                let rest = formula.lines()[formula.absorber()].percent().share() * Exact::ratio(centigrams, 100);
                prop_assert!(rest < division.grams() * Exact::from(8), "{}", error);
            }
        }
    }

    #[test]
    fn a_scale_for_each_phase(
        weights in prop::collection::vec(1i64..100_000, 16),
        grams in 500i64..100_000,
        divisions in prop::collection::vec(0usize..DIVISIONS.len(), 4),
    ) {
        let formula = formula(&weights);
        let mut scales = on_scale("1 g");
        for (phase, division) in formula.phases().iter().zip(divisions) {
            scales = scales.for_phase(phase.name(), mass(DIVISIONS[division])).unwrap();
        }
        let size = BatchSize::of_mass(Mass::new(Exact::from(grams), MassUnit::Gram).unwrap()).unwrap();
        match formula.batch(size, scales) {
            Ok(batch) => {
                check(&batch)?;
                let absorber = formula.lines()[formula.absorber()].phase();
                let half = (batch.finest_division().grams() + batch.scales().division(absorber).grams()) / Exact::from(2);
                prop_assert!((batch.weighed().grams() - batch.asked().grams()).abs() <= half);
            }
            // The line that takes the rest would fall below nothing.
            Err(error) => prop_assert!(error.is_contradiction(), "{}", error),
        }
    }
}

#[test]
fn on_one_scale_it_is_the_rounding_rule_of_formulas() {
    let formula = salt_marsh();
    let batch = super::batch(&formula, "1630.4 g", on_scale("0.1 g"));
    let shares: Vec<Exact> =
        batch.weighings().iter().map(|weighing| weighing.exact().grams() * Exact::from(10)).collect();
    let absorber = batch.weighings().iter().position(|weighing| weighing.takes_rest()).unwrap();
    assert_eq!(batch.weighings()[absorber].line().name(), "kaolin");
    let units = apportion_to(&shares, 16_304, absorber).unwrap().units;
    let weighed: Vec<Exact> =
        batch.weighings().iter().map(|weighing| weighing.rounded().grams() * Exact::from(10)).collect();
    assert_eq!(weighed, units.into_iter().map(Exact::from).collect::<Vec<_>>());
}

#[test]
fn half_a_division_goes_to_even() {
    let formula = Formula::new(
        "halves",
        vec![line("glycerin-99-5", "0.25"), line("water", "0.75"), line("kaolin", "99").as_qs(true)],
    )
    .unwrap();
    let batch = super::batch(&formula, "200 g", on_scale("1 g"));
    let rounded: Vec<&Mass> = batch.weighings().iter().map(|weighing| weighing.rounded()).collect();
    assert_eq!(rounded, [&mass("0 g"), &mass("2 g"), &mass("198 g")]);
}

#[test]
fn a_rest_below_nothing_is_refused() {
    let mut lines: Vec<Line> = ["water", "glycerin-99-5", "capb-30", "sci-powder", "scs-needles", "cetyl-alcohol"]
        .map(|id| line(id, "16"))
        .to_vec();
    lines.push(line("kaolin", "4").as_qs(true));
    let formula = Formula::new("crumbs", lines).unwrap();
    let error = formula.batch(BatchSize::of_mass(mass("4 g")).unwrap(), on_scale("1 g")).unwrap_err();
    assert!(error.is_contradiction() && error.to_string().contains("kaolin"), "{error}");
}
