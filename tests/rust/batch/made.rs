//! Batches as they were made.

use proptest::prelude::*;
use tenside::batch::{Actual, Made};
use tenside::document::{Materials, Notation, ResultDocument};
use tenside::measure::{Basis, Measure, Scope};
use tenside::number::Exact;
use tenside::rule::{Market, Product, RuleBook, Use};

use super::*;

/// 200 g of 60 : 15 : 5 : 20 on a scale of 0.1 g.
fn batch() -> Batch {
    let lines = vec![
        line("sci-powder", "60"),
        line("cetyl-alcohol", "15"),
        line("water", "5"),
        line("kaolin", "20").as_qs(true),
    ];
    let formula = Formula::new("Marsh bar", lines)
        .unwrap()
        .with_phases(&[Phase::new("melted").unwrap().at(decimal("75")).unwrap()])
        .unwrap();
    formula.batch(BatchSize::of_mass(mass("200 g")).unwrap(), Scales::new(mass("0.1 g")).unwrap()).unwrap()
}

fn lot(id: &str, of: &str) -> Arc<Lot> {
    Arc::new(Lot::new(id, of, Certificate::default()).unwrap())
}

fn made(actual: Actual) -> Made {
    batch().as_made(&actual).unwrap()
}

fn shares(made: &Made) -> Vec<u32> {
    made.formula().lines().iter().map(|line| line.percent().parts()).collect()
}

#[test]
fn what_is_not_stated_is_as_planned_and_says_so() {
    let made = made(Actual::new());
    assert_eq!(made.formula(), batch().formula());
    assert!(made.lines().iter().all(|line| !line.is_stated() && line.deviation_percent() == Some(Exact::ZERO)));
    assert!(made.page().text(120).matches("not stated").count() == 4);
    assert!(made.page().text(120).contains("not weighed, so nothing is said of what is missing"));
}

#[test]
fn what_was_weighed_makes_the_formula() {
    let made = made(Actual::new().weighed("sci-powder", mass("140 g")).unwrap().weighed("water", mass("0 g")).unwrap());
    // 140, 30, 0 and 40 g of 210 g.
    assert_eq!(shares(&made), [666_667, 142_857, 0, 190_476]);
    let line = &made.lines()[0];
    assert_eq!(line.deviation_percent().unwrap(), Exact::ratio(50, 3));
    assert_eq!(line.deviation_of_batch(), &Exact::from(10));
    // What the scale could not see: 139.95 of at most 140.05 + 70.1, with three lines on a scale of 0.1 g.
    assert_eq!(line.percent().low, Some(Exact::ratio(13_995, 21_005) * Exact::hundred()));
    assert_eq!(line.percent().high, Some(Exact::ratio(14_005, 20_995) * Exact::hundred()));
    assert_eq!(made.lines()[2].percent().high, Some(Exact::ZERO), "what was left out was left out");
    assert_eq!(made.formula().phases()[0].temperature(), Some(decimal("75")));
}

#[test]
fn the_interval_holds_what_the_scale_could_not_see() {
    let made = made(Actual::new().weighed("sci-powder", mass("140 g")).unwrap());
    let of = |line: &str| Measure::as_supplied().contributed_by(Scope::lines([line]).unwrap());
    for line in made.lines() {
        let measured = made.measure(&of(line.line().name()), &Basis::AsCharged).unwrap();
        assert_eq!(measured.value.as_ref(), Some(line.percent()), "{}", line.line().name());
    }
    let (of_scale, of_grid) = (
        made.measure(&Measure::active_matter(), &Basis::AsCharged).unwrap(),
        made.formula().measure(&Measure::active_matter(), &Basis::AsCharged).unwrap(),
    );
    let (wide, narrow) = (of_scale.value.unwrap(), of_grid.value.unwrap());
    assert!(wide.low < narrow.low && wide.high > narrow.high, "{wide:?} {narrow:?}");
}

#[test]
fn a_bowl_that_was_weighed_leaves_open_what_its_scale_does() {
    let made = made(Actual::new().in_bowl(mass("195 g")).unwrap());
    let of = |line: &str| Measure::as_supplied().contributed_by(Scope::lines([line]).unwrap());
    for line in made.lines() {
        let measured = made.measure(&of(line.line().name()), &Basis::AsCharged).unwrap();
        assert_eq!(measured.value.as_ref(), Some(line.percent()), "{}", line.line().name());
    }
    // 120 g within 0.05 g of 195 g within 0.05 g; of the water only what all others leave.
    let hundredths = |above: i64, below: i64| Some(Exact::ratio(above, below) * Exact::hundred());
    let surfactant = made.lines()[0].percent();
    assert_eq!((&surfactant.low, &surfactant.high), (&hundredths(11_995, 19_505), &hundredths(12_005, 19_495)));
    let water = made.lines()[2].percent();
    assert_eq!((&water.low, &water.high), (&hundredths(480, 19_495), &hundredths(520, 19_505)));
    // Whatever the masses were that the scales showed so, with what left as water.
    for place in 0..16 {
        let off = |bit: i64| if place >> bit & 1 == 1 { 5 } else { -5 };
        let grams = [12_000 + off(0), 3_000 + off(1), 4_000 + off(2)];
        let bowl = 19_500 + off(3);
        for (line, grams) in [0, 1, 3].into_iter().zip(grams).chain([(2, bowl - grams.iter().sum::<i64>())]) {
            let (share, percent) = (hundredths(grams, bowl), made.lines()[line].percent());
            assert!(percent.low <= share && share <= percent.high, "{place}: line {line}");
        }
    }
    // What a bowl lacks by no more than the scales could not see is nothing, as what it has too much.
    let dry = Formula::new("Dry", vec![line("sci-powder", "60"), line("kaolin", "40")]).unwrap();
    let dry = super::batch(&dry, "200 g", on_scale("0.1 g"));
    for bowl in ["199.85 g", "199.9 g", "200.1 g", "200.15 g"] {
        let made = dry.as_made(&Actual::new().in_bowl(mass(bowl)).unwrap()).unwrap();
        assert_eq!((&made.balance().in_bowl, &made.balance().boiled_off), (&mass("200 g"), &mass("0 g")), "{bowl}");
        let percent = made.lines()[0].percent();
        assert!(percent.low < percent.typical && percent.typical < percent.high);
    }
    assert!(dry.as_made(&Actual::new().in_bowl(mass("199.8 g")).unwrap()).unwrap_err().is_out_of_range());
    assert!(dry.as_made(&Actual::new().in_bowl(mass("200.2 g")).unwrap()).unwrap_err().is_contradiction());
}

#[test]
fn lots_and_additions_are_kept() {
    let acid = Catalogue::starter().material("citric-acid-50").unwrap().clone();
    let actual = Actual::new()
        .from_lot("kaolin", &lot("K-9", "kaolin"))
        .unwrap()
        .added_material("citric-acid-50", &acid, mass("2 g"))
        .unwrap();
    let made = made(actual.added("water", mass("3 g")).unwrap());
    assert_eq!(made.formula().line("kaolin").unwrap().material().lot().unwrap().id(), "K-9");
    assert_eq!(made.lines().last().unwrap().planned(), None);
    assert_eq!(made.balance().in_bowl, mass("205 g"));
    assert_eq!(made.lines()[2].mass(), &mass("13 g"));
    // Weighed twice: two halves of a division.
    let low = made.lines()[2].percent().low.clone().unwrap();
    assert_eq!(low, Exact::ratio(129, 10) / (Exact::ratio(129, 10) + Exact::ratio(1922, 10)) * Exact::hundred());
    let product =
        Product::new(Market::Eu, &["shampoo-bar".parse::<Use>().unwrap()], "2026-11-24".parse().unwrap()).unwrap();
    assert!(made.formula().review(RuleBook::starter(), &product).is_ok());
}

#[test]
fn water_that_left_is_taken_from_water() {
    for actual in [Actual::new().boiled_off(mass("4 g")).unwrap(), Actual::new().in_bowl(mass("196 g")).unwrap()] {
        let made = made(actual);
        assert_eq!(made.lines()[2].mass(), &mass("6 g"));
        assert_eq!(shares(&made), [612_245, 153_061, 30_612, 204_082]);
        assert!(made.page().text(160).contains("less water that left"));
    }
    let error = batch().as_made(&Actual::new().boiled_off(mass("10.1 g")).unwrap()).unwrap_err();
    assert!(error.is_out_of_range() && error.to_string().contains("0 to 10.00 g"), "{error}");
    // What was spilled is no water that left, and what other raw materials bring of it stays theirs.
    let wet = vec![line("sci-powder", "60"), line("capb-30", "20"), line("kaolin", "20")];
    let wet = super::batch(&Formula::new("Marsh bar", wet).unwrap(), "200 g", on_scale("0.1 g"));
    let error = wet.as_made(&Actual::new().in_bowl(mass("190 g")).unwrap()).unwrap_err().to_string();
    assert!(error.contains("spilled as rejected") && error.contains("(typically 2"), "{error}");
    assert!(wet.as_made(&Actual::new().rejected(mass("10 g"))).is_ok());
    // A bowl may seem to have gained what the scales could not see, and no more.
    assert_eq!(made(Actual::new().in_bowl(mass("200.2 g")).unwrap()).balance().boiled_off, mass("0 g"));
    assert!(batch().as_made(&Actual::new().in_bowl(mass("200.3 g")).unwrap()).unwrap_err().is_contradiction());
}

#[test]
fn the_mass_is_accounted_for() {
    let actual =
        Actual::new().pressed(mass("180 g")).trimmed(mass("15 g"), mass("9 g")).unwrap().rejected(mass("10 g"));
    let made = made(actual);
    assert_eq!(made.balance().unaccounted, Some(Exact::from(4)));
    assert_eq!(made.balance().unaccounted_percent(), Some(Exact::from(2)));
    assert!(
        batch().as_made(&Actual::new().pressed(mass("195 g")).rejected(mass("6 g"))).unwrap_err().is_contradiction()
    );
    assert!(Actual::new().trimmed(mass("1 g"), mass("2 g")).unwrap_err().is_contradiction());
}

#[test]
fn refuses_what_nobody_did() {
    let refused = |actual: Actual| batch().as_made(&actual).unwrap_err();
    assert!(
        refused(Actual::new().weighed("caolin", mass("1 g")).unwrap()).to_string().contains("did you mean \"kaolin\"?")
    );
    assert!(refused(Actual::new().added("nothing known", mass("1 g")).unwrap()).is_unknown_name());
    assert!(refused(Actual::new().from_lot("kaolin", &lot("S-1", "sci-powder")).unwrap()).is_contradiction());
    let other = Catalogue::starter().material("water").unwrap().clone();
    assert!(refused(Actual::new().added_material("kaolin", &other, mass("1 g")).unwrap()).is_contradiction());
    let twice = Actual::new().weighed("kaolin", mass("1 g")).unwrap().weighed("kaolin", mass("2 g")).unwrap_err();
    assert!(twice.is_duplicate(), "{twice}");
    assert!(twice.to_string().contains("1 g and 2 g") && twice.to_string().contains("went in later"), "{twice}");
    let nothing = ["sci-powder", "cetyl-alcohol", "water", "kaolin"]
        .iter()
        .fold(Actual::new(), |actual, line| actual.weighed(line, mass("0 g")).unwrap());
    assert!(refused(nothing).is_out_of_range());
    assert!(
        refused(Actual::new().added_material("speck", &other, mass("0.00009 g")).unwrap()).is_out_of_range(),
        "less than half a part of a million"
    );
}

#[test]
fn it_comes_back_from_its_document() {
    let actual =
        Actual::new().weighed("sci-powder", mass("140 g")).unwrap().from_lot("kaolin", &lot("K-9", "kaolin")).unwrap();
    let acid = Catalogue::starter().material("citric-acid-50").unwrap().clone();
    let made = made(
        actual
            .added_material("acid", &acid, mass("2 g"))
            .unwrap()
            .in_bowl(mass("219.7 g"))
            .unwrap()
            .pressed(mass("210 g")),
    );
    for (materials, shelf) in [(Materials::Named, Catalogue::starter()), (Materials::Embedded, Catalogue::empty())] {
        let text = made.write(Notation::Json, materials).unwrap();
        assert_eq!(Made::read(&text, Notation::Json, &shelf).unwrap_or_else(|error| panic!("{error}")), made);
    }
    let forged = made.write(Notation::Json, Materials::Named).unwrap().replace("\"pressed\": 210", "\"pressed\": 209");
    assert!(Made::read(&forged, Notation::Json, &Catalogue::starter()).is_err());
}

proptest! {
    /// Shares sum to 100, deviations are those of the masses, and no mass is lost.
    #[test]
    fn masses_are_kept(grams in prop::collection::vec(0u32..3000, 4), left in 0u32..30) {
        prop_assume!(grams.iter().sum::<u32>() > 0 && left <= grams[2]);
        let tenths = |tenths: u32| Mass::new(Exact::ratio(i64::from(tenths), 10), tenside::number::MassUnit::Gram).unwrap();
        let names = ["sci-powder", "cetyl-alcohol", "water", "kaolin"];
        let actual = names.iter().zip(&grams).fold(Actual::new(), |actual, (name, grams)| actual.weighed(name, tenths(*grams)).unwrap());
        prop_assume!(grams.iter().sum::<u32>() > left);
        let made = batch().as_made(&actual.boiled_off(tenths(left)).unwrap()).unwrap();
        prop_assert_eq!(made.formula().lines().iter().map(|line| line.percent().parts()).sum::<u32>(), 1_000_000);
        let total: Exact = made.lines().iter().map(|line| line.mass().grams()).sum();
        prop_assert_eq!(&total, made.balance().in_bowl.grams());
        prop_assert_eq!(total, Exact::ratio(i64::from(grams.iter().sum::<u32>() - left), 10));
        for line in made.lines() {
            let percent = line.percent();
            prop_assert!(percent.low <= percent.typical && percent.typical <= percent.high);
        }
    }
}
