//! Mixed micelles as columns: what a formula of the row says alone.

use tenside::prelude::*;
use tenside::sweep::{Sweep, Values, Varied};
use tenside::trial::MixedMicelles;

const SCI: &str = "SODIUM COCOYL ISETHIONATE";
const CAPB: &str = "COCAMIDOPROPYL BETAINE";

/// Invented concentrations.
fn pair() -> MixedMicelles {
    MixedMicelles::new([(SCI, 1, 4), (CAPB, 1, 1)]).unwrap().with_interaction(SCI, CAPB, "-2.5").unwrap()
}

fn swept(mixture: &MixedMicelles, dilution: &str) -> Sweep {
    let brief = Brief::new("Bar", &Catalogue::starter()).unwrap();
    let brief = brief.fix("sci-powder", 40).unwrap().fix("capb-30", 10).unwrap().qs("kaolin").unwrap();
    let values = |values: &[i64]| Values::new(values.iter().copied()).unwrap();
    let axes = vec![
        Varied::named(&brief, "sci-powder").unwrap().over(values(&[0, 20, 95])).unwrap(),
        Varied::named(&brief, "capb-30").unwrap().over(values(&[0, 10])).unwrap(),
    ];
    Sweep::new(&brief, axes).unwrap().with_micelles(mixture, dilution.parse().unwrap()).unwrap()
}

#[test]
fn every_row_says_what_its_formula_says_alone() {
    for dilution in ["1+9", "1+9999"] {
        let sweep = swept(&pair(), dilution);
        let table = sweep.table().unwrap();
        let cell = |name: &str, row: usize| table.numbers(name).unwrap().get(row);
        let mut compared = 0;
        for row in 0..6 {
            let Ok(answer) = sweep.answer(row as u64) else {
                // 95 and 10 % are too much.
                assert_eq!((row, cell("micelles.cmc", row)), (5, None));
                continue;
            };
            let formula = answer.formula().unwrap();
            let there: Vec<(&str, u32)> = [(SCI, "sci-powder", 4), (CAPB, "capb-30", 1)]
                .into_iter()
                .filter(|(_, line, _)| !formula.line(line).unwrap().percent().is_zero())
                .map(|(name, _, cmc)| (name, cmc))
                .collect();
            let interactions = if there.len() == 2 { vec![(SCI, CAPB, "-2.5")] } else { Vec::new() };
            let Ok(alone) = formula.mixed_micelles(dilution.parse().unwrap(), there.clone(), interactions) else {
                assert!(there.is_empty());
                assert_eq!(cell("micelles.cmc", row), None);
                continue;
            };
            let near = |found: Option<f64>, expected: f64| (found.unwrap() - expected).abs() <= 1e-9 * expected;
            assert!(near(cell("micelles.cmc", row), alone.mixture.cmc().unwrap()), "row {row}");
            for name in [SCI, CAPB] {
                let (single, share) =
                    (cell(&format!("micelles.single.{name}"), row), cell(&format!("micelles.share.{name}"), row));
                match alone.dispersed.iter().find(|dispersed| dispersed.name == name) {
                    Some(dispersed) => {
                        assert!(near(single, dispersed.single), "row {row} {name}");
                        assert_eq!(share.is_some(), dispersed.in_micelles.is_some());
                        assert!(share.is_none() || near(share, dispersed.in_micelles.unwrap()), "row {row} {name}");
                    }
                    None => assert_eq!(single, Some(0.0)),
                }
            }
            compared += 1;
        }
        assert_eq!(compared, 4);
    }
}

#[test]
fn what_is_not_known_of_an_active_substance_is_null_and_not_nothing() {
    let sweep = swept(&MixedMicelles::new([(SCI, 1, 4)]).unwrap(), "1+9");
    let table = sweep.table().unwrap();
    let known: Vec<bool> = (0..6).map(|row| table.numbers("micelles.cmc").unwrap().get(row).is_some()).collect();
    // Rows with the betaine, whose critical concentration was not given, say nothing; nor does one without surfactant.
    assert_eq!(known, [false, false, true, false, true, false]);
    assert_eq!(sweep.names().iter().filter(|name| name.starts_with("micelles.")).count(), 3);
    assert_eq!(sweep.units().iter().filter(|unit| *unit == "mmol/L").count(), 2);
    let again = sweep.clone().with_micelles(&pair(), "1+9".parse().unwrap()).unwrap_err();
    assert!(again.is_duplicate(), "{again}");
    let strange = MixedMicelles::new([("SDS", 1, 8)]).unwrap();
    let brief = Brief::new("Clay", &Catalogue::starter()).unwrap().qs("kaolin").unwrap();
    let refused = Sweep::new(&brief, Vec::new()).unwrap().with_micelles(&strange, "1+9".parse().unwrap());
    assert!(refused.unwrap_err().is_unknown_name());
    let few = sweep.with_columns(&["micelles.cmc"]).unwrap();
    assert_eq!(few.table().unwrap().numbers("micelles.cmc").unwrap().get(2), Some(4.0));
}
