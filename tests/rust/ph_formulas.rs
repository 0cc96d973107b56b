//! The pH of formulas: what is calculated, what is refused, how a batch is brought to a target, and what stands at a
//! reading.

use std::sync::Arc;

use proptest::prelude::*;
use rust_decimal::Decimal;
use tenside::Error;
use tenside::catalogue::Catalogue;
use tenside::document::{Materials, Named, Notation, ResultDocument};
use tenside::error::FaultKind;
use tenside::formula::{Formula, Line};
use tenside::material::{Composition, Constituent, Form, Material};
use tenside::number::{Exact, Interval, Mass, MassUnit};
use tenside::ph::{Adjustment, Solution, Standing, Titration};
use tenside::reading::{Dilution, Reading};
use tenside::substance::SubstanceTable;

use crate::support::percent;

fn starter(id: &str) -> Arc<Material> {
    Catalogue::starter().material(id).unwrap().clone()
}

fn formula(lines: &[(&str, &str)]) -> Formula {
    let lines = lines.iter().map(|(id, share)| Line::new(id, starter(id), percent(share)).unwrap());
    Formula::new("Drawn", lines.collect()).unwrap()
}

fn dilution(text: &str) -> Dilution {
    text.parse().unwrap()
}

fn decimal(text: &str) -> Decimal {
    text.parse().unwrap()
}

fn read(ph: &str) -> Reading {
    Reading::ph(decimal(ph), dilution("1+9")).unwrap()
}

fn grams(text: &str) -> Mass {
    format!("{text} g").parse().unwrap()
}

fn trial(reagent: &str, points: &[(&str, &str)]) -> Result<Titration, Error> {
    let points: Vec<_> = points.iter().map(|(added, ph)| (grams(added), decimal(ph))).collect();
    Titration::new(grams("100"), starter(reagent), dilution("1+9"), points)
}

const ACID: [(&str, &str); 5] = [("0", "7.9"), ("0.2", "6.8"), ("0.4", "5.9"), ("0.6", "5.2"), ("0.8", "4.7")];

#[test]
fn a_formula_is_the_solution_that_its_constituents_make() {
    // 1 g of citric acid 50 % and 1 g of sodium citrate in water, by hand: moles over the kilograms of all water.
    let citrate = starter("sodium-citrate");
    let buffer = formula(&[("citric-acid-50", "1"), ("sodium-citrate", "1"), ("water", "98")]);
    let solution = buffer.solution(&dilution("1+0"), 25.0).unwrap();
    let share = |inci: &str| citrate.typical_percent(|substance| substance.inci() == inci).unwrap().to_f64() / 100.0;
    let water = 98.0 + 0.5 + share("WATER");
    let (acid, salt) = (0.5 / 192.124, share("SODIUM CITRATE") / 258.07);
    let by_hand = Solution::at(25.0).unwrap().acid("citric acid", (acid + salt) / water * 1000.0).unwrap();
    let by_hand = by_hand.ion("Na", 3.0 * salt / water * 1000.0).unwrap();
    assert!(
        (solution.ph().unwrap() - by_hand.ph().unwrap()).abs() < 1e-4,
        "{} and {}",
        solution.ph().unwrap(),
        by_hand.ph().unwrap()
    );
    assert!((solution.acids()[0].1 / by_hand.acids()[0].1 - 1.0).abs() < 1e-4);
    // 1 + 9 and 1 + 10 are not the same "10 %".
    let at = |text: &str| buffer.solution(&dilution(text), 25.0).unwrap().acids()[0].1;
    assert!((at("1+9") / at("1+10") - (water + 1000.0) / (water + 900.0)).abs() < 1e-9);
}

#[test]
fn what_holds_surfactant_or_fatty_acid_has_no_predicted_ph() {
    for material in ["sci-powder", "capb-30", "stearic-acid", "coco-glucoside-50", "btms-50"] {
        let error = formula(&[(material, "0.1"), ("citric-acid-50", "1"), ("water", "98.9")])
            .solution(&dilution("1+9"), 25.0)
            .unwrap_err();
        assert!(error.has(FaultKind::Unsupported), "{material}: {error}");
        assert!(error.to_string().contains("a reading with its dilution rules"), "{error}");
        let calculated = formula(&[(material, "50"), ("water", "50")]).calculated_titration(
            starter("citric-acid-50"),
            &grams("1"),
            &dilution("1+9"),
            25.0,
        );
        assert!(calculated.unwrap_err().has(FaultKind::Unsupported), "{material}");
    }
    // A reagent with surfactant in it is refused as well, and none of it in one sentence.
    let rinse = formula(&[("citric-acid-50", "1"), ("water", "99")]);
    let nothing = rinse.calculated_titration(starter("sodium-hydroxide-10"), &grams("0"), &dilution("1+0"), 25.0);
    let error = nothing.unwrap_err();
    assert!(error.is_out_of_range() && error.faults().len() == 1 && error.to_string().starts_with("most: "), "{error}");
    assert!(
        rinse
            .calculated_titration(starter("capb-30"), &grams("1"), &dilution("1+0"), 25.0)
            .unwrap_err()
            .has(FaultKind::Unsupported)
    );
}

#[test]
fn what_is_not_known_is_not_guessed() {
    let error = formula(&[("kaolin", "1"), ("water", "99")]).solution(&dilution("1+0"), 25.0).unwrap_err();
    assert!(error.is_not_known() && error.to_string().contains("KAOLIN"), "{error}");
    let dry = formula(&[("sodium-chloride", "100")]).solution(&dilution("1+0"), 25.0).unwrap_err();
    assert!(dry.is_not_known() || dry.is_out_of_range(), "{dry}");
    for temperature in [-5.0, 90.0] {
        assert!(formula(&[("water", "100")]).solution(&dilution("1+0"), temperature).unwrap_err().is_out_of_range());
    }
    let strong =
        formula(&[("sodium-hydroxide-50", "90"), ("water", "10")]).solution(&dilution("1+0"), 25.0).unwrap_err();
    assert!(strong.is_out_of_range(), "{strong}");
    let rinse = formula(&[("glycerin-99-5", "20"), ("lactic-acid-80", "1"), ("water", "79")])
        .solution(&dilution("1+0"), 30.0)
        .unwrap();
    let slugs: Vec<&str> = rinse.solve().unwrap().caveats().iter().map(|caveat| caveat.kind().slug()).collect();
    assert!(slugs.contains(&"other-solvent"), "{slugs:?}");
}

#[test]
fn a_calculated_titration_agrees_with_the_solution_it_ends_in() {
    let rinse = formula(&[("citric-acid-50", "1"), ("water", "99")]);
    let alkali = starter("sodium-hydroxide-10");
    let calculated = rinse.calculated_titration(alkali.clone(), &grams("3"), &dilution("1+0"), 25.0).unwrap();
    assert!(calculated.is_calculated() && !calculated.lowers());
    for target in ["3.5", "4.6", "5.5", "6.2"] {
        let missing = calculated.grams_at(decimal(target)).unwrap();
        assert!(missing.low.is_none() && missing.high.is_none());
        let ended = rinse
            .with_addition(
                &alkali,
                &Mass::new(missing.typical.as_ref().unwrap(), MassUnit::Gram).unwrap(),
                &grams("100"),
            )
            .unwrap();
        let ph = ended.solution(&dilution("1+0"), 25.0).unwrap().ph().unwrap();
        assert!((ph - target.parse::<f64>().unwrap()).abs() < 0.02, "{target}: {ph}");
    }
    let start = Reading::ph(calculated.points()[3].ph, dilution("1+0")).unwrap();
    let plan = calculated.adjust(grams("500"), start, decimal("5.5")).unwrap();
    assert!(plan.notes().iter().any(|note| note.contains("calculated by a model")));
    assert!(plan.remaining().unwrap().low.is_none() && plan.next_portion(&grams("0.1")).unwrap().is_some());
}

#[test]
fn a_titration_that_says_nothing_is_refused() {
    assert!(trial("citric-acid-50", &[("0", "7.9")]).unwrap_err().is_missing());
    assert!(trial("citric-acid-50", &[("0", "7"), ("1", "6"), ("2", "6.5")]).unwrap_err().is_contradiction());
    let acid = trial("citric-acid-50", &ACID).unwrap();
    let plan = |ph: &str, target: &str| acid.adjust(grams("2000"), read(ph), decimal(target));
    assert!(plan("7.9", "4.5").unwrap_err().is_out_of_range());
    assert!(plan("8.2", "5.5").unwrap_err().is_out_of_range());
    assert!(plan("5.5", "6").unwrap_err().is_contradiction());
    assert!(acid.adjust(grams("0"), read("7.9"), decimal("5.5")).unwrap_err().is_out_of_range());
    let other = Reading::ph(decimal("7.9"), dilution("1+10")).unwrap();
    let error = acid.adjust(grams("2000"), other.clone(), decimal("5.5")).unwrap_err();
    assert!(error.is_contradiction() && error.to_string().contains("1+10"), "{error}");
    let plan = plan("7.9", "5.5").unwrap();
    assert!(plan.clone().with_portion(grams("8"), other).unwrap_err().is_contradiction());
    assert!(plan.with_portion(grams("0"), read("5.9")).unwrap_err().is_out_of_range());
}

/// A batch that follows the trial's curve is brought to the target without passing it by more than the readings'
/// uncertainty.
#[test]
fn portions_reach_the_target_from_one_side() {
    let acid = trial("citric-acid-50", &ACID).unwrap();
    let mut plan = acid.adjust(grams("2000"), read("7.9"), decimal("5.5")).unwrap();
    let division = grams("0.1");
    let mut portions = 0;
    while let Some(portion) = plan.next_portion(&division).unwrap() {
        let added = plan.added().unwrap().grams() + portion.grams();
        // The pH of the curve at that dose, found by halving.
        let (mut low, mut high) = (decimal("4.7"), decimal("7.9"));
        for _ in 0..30 {
            let middle = (low + high) / Decimal::TWO;
            let there = acid.grams_at(middle).unwrap().typical.unwrap() * Exact::from(20);
            if there > added { low = middle } else { high = middle }
        }
        plan = plan.with_portion(portion, read(&low.round_dp(2).to_string())).unwrap();
        portions += 1;
        assert!(!plan.is_overshot() && portions < 12, "{portions} portions");
    }
    assert!(plan.is_reached() && portions >= 2, "{portions}");
    assert!(plan.page(&division).unwrap().text(80).contains("The target is reached"));
    assert!(plan.page(&grams("0")).unwrap_err().is_out_of_range());
    let bar = formula(&[("sci-powder", "60"), ("kaolin", "40")]);
    let adjusted = plan.formula(&bar).unwrap();
    let exact = plan.added().unwrap().grams() / (plan.added().unwrap().grams() + Exact::from(2000)) * Exact::hundred();
    let entered = adjusted.line("citric-acid-50").unwrap().percent().percent();
    assert!((entered - exact).abs() <= Exact::ratio(1, 20_000));
    // A portion too much is said.
    let over = plan.with_portion(grams("5"), read("5.2")).unwrap();
    assert!(over.is_overshot() && over.remaining().unwrap_err().is_contradiction());
    assert!(over.notes()[0].contains("past the target"));
    assert!(over.page(&division).unwrap().text(80).contains("past the target"));
}

/// The least dose leads to the end of a range that is nearer: the dose to that pH alone.
#[test]
fn a_range_is_entered_at_its_nearer_end() {
    let acid = trial("citric-acid-50", &ACID).unwrap();
    let base = trial("sodium-hydroxide-10", &[("0", "4"), ("0.2", "4.6"), ("0.4", "5.4"), ("0.6", "6.5")]).unwrap();
    for (trial, start, low, high, nearer) in
        [(&acid, "7.9", "4.8", "5.2", "5.2"), (&base, "4", "5", "6", "5"), (&acid, "7.9", "4", "5.2", "5.2")]
    {
        let plan = trial.adjust_into(grams("2000"), read(start), decimal(low), decimal(high)).unwrap();
        let alone = trial.adjust(grams("2000"), read(start), decimal(nearer)).unwrap();
        assert_eq!((plan.target(), plan.range()), (decimal(nearer), Some((decimal(low), decimal(high)))));
        assert_eq!(plan.remaining().unwrap(), alone.remaining().unwrap());
        assert_eq!(plan.next_portion(&grams("0.1")).unwrap(), alone.next_portion(&grams("0.1")).unwrap());
        assert!(!plan.is_reached() && alone.range().is_none());
        let end = if nearer == low { "low" } else { "high" };
        let page = plan.page(&grams("0.1")).unwrap().text(300);
        let landing = format!("inside {low} to {high}: to its {end} end, pH {nearer}");
        assert!(page.contains(&landing) && page.contains(&format!("To pH {low} to {high} with")), "{page}");
    }
    // A range of one pH is that pH.
    let into = |low: &str, high: &str| acid.adjust_into(grams("2000"), read("7.9"), decimal(low), decimal(high));
    assert_eq!(into("5.5", "5.5").unwrap(), acid.adjust(grams("2000"), read("7.9"), decimal("5.5")).unwrap());
    let error = into("5.2", "4.8").unwrap_err();
    assert!(error.is_contradiction() && error.to_string().contains("5.2 to 4.8"), "{error}");
    assert!(into("4", "4.5").unwrap_err().is_out_of_range());
    assert!(into("5", "17").unwrap_err().is_out_of_range());
    assert!(acid.adjust_into(grams("2000"), read("4.7"), 5, 6).unwrap_err().is_contradiction());
    assert!(acid.adjust_into(grams("0"), read("5.5"), 5, 6).unwrap_err().is_out_of_range());
}

/// What lies inside needs nothing, even where the trial does not reach; what was added too much is past the far end.
#[test]
fn a_batch_inside_its_range_needs_nothing() {
    let acid = trial("citric-acid-50", &ACID).unwrap();
    let division = grams("0.1");
    for inside in ["4.2", "4.5", "5.2"] {
        let plan = acid.adjust_into(grams("2000"), read(inside), decimal("4.2"), decimal("5.2")).unwrap();
        assert_eq!(plan.target(), decimal(inside));
        assert_eq!(plan.remaining().unwrap(), Interval::point(Exact::ZERO));
        assert!(plan.is_reached() && !plan.is_overshot() && plan.next_portion(&division).unwrap().is_none());
        let said = format!("the reading of {inside} lies inside 4.2 to 5.2: nothing has to be added");
        assert!(plan.notes().contains(&said), "{:?}", plan.notes());
    }
    let plan = acid.adjust_into(grams("2000"), read("7.9"), decimal("4.8"), decimal("5.2")).unwrap();
    let after = |ph: &str| plan.clone().with_portion(grams("8"), read(ph)).unwrap();
    assert_eq!((after("5.6").target(), after("5").target(), after("4.76").target()), {
        (decimal("5.2"), decimal("5"), decimal("4.8"))
    });
    assert!(!after("5.6").is_reached() && after("5.6").remaining().unwrap().typical.unwrap() > Exact::ZERO);
    assert!(after("5.25").is_reached() && after("5").is_reached() && after("4.75").is_reached());
    // Near an end, but outside: there is nothing to say of where a dose leads.
    assert!(!after("4.76").notes().iter().any(|note| note.contains("4.8 to 5.2")), "{:?}", after("4.76").notes());
    let over = after("4.7");
    assert!(over.is_overshot() && !over.is_reached() && over.remaining().unwrap_err().is_contradiction());
    assert!(over.notes()[0].contains("past the target"));
    assert!(!over.notes().iter().any(|note| note.contains("least")), "{:?}", over.notes());
}

#[test]
fn a_range_comes_back_from_a_document() {
    let acid = trial("citric-acid-50", &ACID).unwrap();
    let shelf = Catalogue::starter();
    let point = acid.adjust(grams("2000"), read("7.9"), decimal("5.5")).unwrap();
    let range = acid.adjust_into(grams("2000"), read("7.9"), decimal("4.8"), decimal("5.2")).unwrap();
    let range = range.with_portion(grams("8"), read("5.9")).unwrap();
    for (plan, keys) in [(&point, ["target"].as_slice()), (&range, &["nearest", "range"])] {
        let json: serde_json::Value = serde_json::to_value(plan).unwrap();
        let mut stated: Vec<&str> = json.as_object().unwrap().keys().map(String::as_str).collect();
        stated.retain(|key| ["target", "range", "nearest"].contains(key));
        stated.sort_unstable();
        assert_eq!(stated, keys);
        for notation in [Notation::Json, Notation::Toml] {
            let text = plan.write(notation, Materials::Named).unwrap();
            assert_eq!(&Adjustment::read(&text, notation, &shelf).unwrap(), plan);
        }
    }
    let forged = |change: fn(&mut serde_json::Value)| {
        let mut json = serde_json::to_value(&range).unwrap();
        change(&mut json);
        Adjustment::read(&json.to_string(), Notation::Json, &shelf).unwrap_err()
    };
    assert!(forged(|json| json["nearest"] = 4.8.into()).is_contradiction());
    assert!(forged(|json| json["target"] = 5.2.into()).has(FaultKind::UnknownKey));
    assert!(forged(|json| json["range"]["low"] = 5.3.into()).is_contradiction());
    assert!(forged(|json| json["range"] = serde_json::json!({"low": 5})).is_missing());
    assert!(forged(|json| drop(json.as_object_mut().unwrap().remove("range"))).is_missing());
    // Another range has another dose.
    assert!(forged(|json| json["range"]["high"] = 5.1.into()).is_contradiction());
}

#[test]
fn an_addition_keeps_proportions_and_the_sum() {
    let bar = formula(&[("sci-powder", "60"), ("citric-acid-50", "0.3"), ("kaolin", "39.7")]);
    let more = bar.with_addition(&starter("citric-acid-50"), &grams("5"), &grams("1000")).unwrap();
    assert_eq!(more.lines().len(), 3);
    assert_eq!(more.lines().iter().map(|line| line.percent().parts()).sum::<u32>(), 1_000_000);
    assert_eq!(more.line("citric-acid-50").unwrap().percent().percent().rounded_text(4), "0.7960");
    assert!(
        bar.with_addition(&starter("citric-acid-50"), &grams("0.0000001"), &grams("1000"))
            .unwrap_err()
            .is_out_of_range()
    );
    assert!(bar.with_addition(&starter("citric-acid-50"), &grams("1"), &grams("0")).unwrap_err().is_out_of_range());
    let named = Line::new("sodium-lactate-60", starter("kaolin"), percent("100")).unwrap();
    let taken = Formula::new("Taken", vec![named])
        .unwrap()
        .with_addition(&starter("sodium-lactate-60"), &grams("1"), &grams("100"))
        .unwrap();
    assert_eq!(taken.lines()[1].name(), "sodium-lactate-60 (added)");
}

#[test]
fn hydroxides_have_a_ceiling_as_adjusters() {
    let points = [("0", "9"), ("1", "10"), ("2", "11.5"), ("3", "12")];
    let notes = |reagent: &str, target: &str| {
        trial(reagent, &points).unwrap().adjust(grams("100"), read("9"), decimal(target)).unwrap().notes().join("\n")
    };
    for hydroxide in ["sodium-hydroxide-10", "potassium-hydroxide-flakes"] {
        assert!(notes(hydroxide, "11").contains("below pH 11"), "{hydroxide}");
        assert!(!notes(hydroxide, "10.9").contains("below pH 11"), "{hydroxide}");
        assert!(notes(hydroxide, "10").contains("gloves"), "{hydroxide}");
    }
    assert!(!notes("sodium-bicarbonate", "11.2").contains("below pH 11"));
    // A range that goes up to it could end there.
    let range = |high: &str| {
        let trial = trial("sodium-hydroxide-10", &points).unwrap();
        trial.adjust_into(grams("100"), read("9"), decimal("10.5"), decimal(high)).unwrap().notes().join("\n")
    };
    assert!(range("11").contains("below pH 11") && !range("10.9").contains("below pH 11"));
}

#[test]
fn windows_of_real_materials() {
    let bar = formula(&[("sodium-benzoate", "1"), ("kaolin", "50"), ("calcium-carbonate", "49")]);
    let window = bar.ph_window();
    let (low, high) = window.clash().unwrap();
    assert_eq!((low.line.as_str(), high.line.as_str()), ("calcium-carbonate", "sodium-benzoate"));
    assert!(low.low > high.high && window.range().is_none());
    assert!(window.unstated().iter().any(|name| name.to_lowercase().contains("kaolin")));
    let page = window.page(Some(&read("5.6"))).text(90);
    assert!(page.contains("5.6 at 1+9 by mass"), "{page}");
}

fn nearest(interval: &tenside::number::Interval) -> f64 {
    interval.typical.as_ref().unwrap().to_f64()
}

#[test]
fn undissociated_acid_is_an_upper_bound() {
    let bar = formula(&[("sodium-benzoate", "0.5"), ("potassium-sorbate", "0.3"), ("sci-powder", "99.2")]);
    let state = bar
        .preservatives_at(&read("5"))
        .unwrap()
        .with_thresholds([("benzoic acid", 0.2), ("sorbic acid", 0.05)])
        .unwrap();
    let of = |acid: &str| state.rows().iter().find(|row| row.acid.name() == acid).unwrap();
    // 0.5 % of a salt that is nearly pure, 0.84746 of it acid, 13.7 % of that undissociated.
    let (benzoic, sorbic) = (of("benzoic acid"), of("sorbic acid"));
    assert!((nearest(&benzoic.total) / 0.4237 - 1.0).abs() < 0.02, "{}", benzoic.total);
    assert!((nearest(&benzoic.at_most) / nearest(&benzoic.total) - 0.1373).abs() < 0.0005);
    assert!(matches!(benzoic.standing(), Some(Standing::Below | Standing::TypicallyBelow)));
    assert_eq!(sorbic.standing(), Some(Standing::NotBelow));
    let page = state.page().markdown();
    assert!(page.contains("upper bound") && page.contains("no proof of"), "{page}");
    let state = || bar.preservatives_at(&read("5")).unwrap();
    assert!(state().with_thresholds([("benzoic acd", 0.1)]).unwrap_err().is_unknown_name());
    assert!(state().with_thresholds([("benzoic acid", 101)]).unwrap_err().is_out_of_range());
    let twice = [("benzoic acid", decimal("0.1")), ("Benzoic acid", decimal("0.2"))];
    assert!(state().with_thresholds(twice).unwrap_err().has(FaultKind::Duplicate));
    let none = formula(&[("kaolin", "100")]).preservatives_at(&read("5")).unwrap();
    assert!(none.rows().is_empty() && none.page().markdown().contains("says nothing of preservation"));
}

proptest! {
    /// Wherever the target lies, the interval holds the typical dose and ends at the points about it: what any monotone
    /// curve keeps to.
    #[test]
    fn the_interval_is_that_of_the_points_about_the_target(steps in prop::collection::vec((1u32..50, 1u32..40), 2..8), at in 0.0f64..1.0) {
        let (mut added, mut ph) = (0u32, 900u32);
        let mut points = vec![(Mass::new(&Exact::ZERO, MassUnit::Gram)?, Decimal::new(900, 2))];
        for (more, less) in steps {
            (added, ph) = (added + more, ph - less.min(ph));
            points.push((Mass::new(Exact::ratio(i64::from(added), 100), MassUnit::Gram)?, Decimal::new(i64::from(ph), 2)));
        }
        let trial = Titration::new(grams("100"), starter("citric-acid-50"), dilution("1+9"), points.clone())?.with_uncertainty(Decimal::ZERO)?;
        let low = f64::from(ph);
        let target = Decimal::new((low + at * (900.0 - low)) as i64, 2);
        let dose = trial.grams_at(target)?;
        let (Some(least), Some(most)) = (dose.low.clone(), dose.high.clone()) else { return Err(TestCaseError::fail("an end is not stated")) };
        prop_assert!(Some(&least) <= dose.typical.as_ref() && dose.typical.as_ref() <= Some(&most), "{}", dose);
        let before = points.iter().rev().find(|(_, ph)| *ph >= target).unwrap();
        let past = points.iter().find(|(_, ph)| *ph <= target).unwrap();
        prop_assert_eq!((&least, &most), (before.0.grams(), past.0.grams()));
    }
}

/// Of a raw material of one's own nobody stated a caution: what it holds says that it is lye, and that is said.
#[test]
fn a_lye_without_a_stated_caution_gets_that_of_lye() {
    let substance = SubstanceTable::starter().find("SODIUM HYDROXIDE").unwrap().clone();
    let composition = Composition::stated(vec![Constituent::typical(substance, percent("100"))]).unwrap();
    let lye = Arc::new(Material::new("my-lye", "Own lye", Form::Granules, composition).unwrap());
    let points = [("0", "5"), ("0.1", "6"), ("0.2", "7")].map(|(added, ph)| (grams(added), decimal(ph)));
    let trial = Titration::new(grams("100"), lye, dilution("1+9"), points.to_vec()).unwrap();
    let notes = trial.adjust(grams("100"), read("5"), decimal("6")).unwrap().notes().join("\n");
    assert!(notes.contains("Own lye (holds SODIUM HYDROXIDE; none stated): wear gloves"), "{notes}");
    assert!(notes.contains("Own lye: no caution is stated; that is unknown, not none"), "{notes}");
}
