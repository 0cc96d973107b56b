//! Bowls in which something went wrong.

use proptest::prelude::*;
use tenside::batch::{Actual, Bowl, Means, Rescue, Verdict};
use tenside::brief::{Brief, SplitBasis};
use tenside::document::{Materials, Notation, ResultDocument};
use tenside::measure::{Measure, Scope};
use tenside::number::Exact;

use super::*;

fn bar() -> Formula {
    Formula::new(
        "Marsh bar",
        vec![line("sci-powder", "60"), line("cetyl-alcohol", "15"), line("water", "5"), line("kaolin", "20")],
    )
    .unwrap()
}

fn bowl(masses: &[(&str, &str)]) -> Bowl {
    masses.iter().fold(Bowl::new(), |bowl, (line, grams)| bowl.with(line, mass(&format!("{grams} g"))).unwrap())
}

fn spoilt_with_starch() -> Bowl {
    let starch = Catalogue::starter().material("corn-starch").unwrap().clone();
    bowl(&[("sci-powder", "120")]).with_material("corn-starch", &starch, mass("5 g")).unwrap()
}

fn added(rescue: &Rescue) -> Vec<(&str, String)> {
    rescue.additions().iter().map(|added| (added.line.as_str(), added.mass.grams().to_string())).collect()
}

fn said(pairs: &[(&'static str, &str)]) -> Vec<(&'static str, String)> {
    pairs.iter().map(|(line, grams)| (*line, (*grams).to_string())).collect()
}

#[test]
fn an_overdose_makes_a_larger_batch() {
    // 132 g are 60 % of 220 g.
    let rescue =
        bar().rescue(&bowl(&[("sci-powder", "132"), ("cetyl-alcohol", "30"), ("water", "10")]), &Means::new()).unwrap();
    assert_eq!((rescue.verdict(), rescue.total()), (Verdict::Rescued, &mass("220 g")));
    assert_eq!(added(&rescue), said(&[("cetyl-alcohol", "3"), ("water", "1"), ("kaolin", "44")]));
    assert!(rescue.shortfalls().is_empty() && rescue.answer().unwrap().verify().is_ok());
}

#[test]
fn a_brief_leaves_more_room_than_a_formula() {
    let brief = Brief::new("Marsh bar", &Catalogue::starter())
        .unwrap()
        .between("sci-powder", 55, 65)
        .unwrap()
        .between("cetyl-alcohol", 10, 15)
        .unwrap();
    let brief = brief.qs("kaolin").unwrap().at_most(Measure::material("kaolin").unwrap(), 30).unwrap();
    let whole = bowl(&[("sci-powder", "140"), ("cetyl-alcohol", "30"), ("kaolin", "40")]);
    let rescue = brief.rescue(&whole, &Means::new()).unwrap();
    // 140 g are 65 % of 2800/13 g.
    assert_eq!(rescue.total().grams(), &Exact::ratio(2800, 13));
    // Within 66.7 % nothing is to be done.
    let rescue = brief
        .clone()
        .change_line("sci-powder", tenside::brief::Role::between(percent("55"), percent("66.7")).unwrap())
        .unwrap()
        .rescue(&whole, &Means::new())
        .unwrap();
    assert!(rescue.additions().is_empty() && rescue.total() == &mass("210 g"));
    assert_eq!(rescue.sentence(), "Nothing to add: as far as can be weighed, everything is met; 210 g in all.");
}

#[test]
fn splits_scopes_and_groups_hold_for_bowl_and_additions_together() {
    let brief = Brief::new("Wash", &Catalogue::starter()).unwrap();
    let brief =
        brief.split("wash", SplitBasis::Active, [("sci-powder", 14), ("capb-30", 1)]).unwrap().qs("kaolin").unwrap();
    let brief = brief.at_most(Measure::water().within(Scope::group("wash").unwrap()), 20).unwrap();
    let brief = brief.at_least(Measure::as_supplied().contributed_by(Scope::lines(["kaolin"]).unwrap()), 10).unwrap();
    let rescue = brief.rescue(&bowl(&[("sci-powder", "100"), ("capb-30", "50")]), &Means::new()).unwrap();
    let answer = rescue.answer().unwrap();
    let all =
        |line: &str| answer.exact_percent(line).unwrap() + answer.exact_percent(&format!("{line}, added")).unwrap();
    let active = |id: &str| Catalogue::starter().material(id).unwrap().active().unwrap().percent().clone();
    assert_eq!(all("sci-powder") * active("sci-powder"), all("capb-30") * active("capb-30") * Exact::from(14));
    assert_eq!(answer.exact_percent("kaolin"), Some(&Exact::from(10)));
}

#[test]
fn bowl_and_stock_may_be_too_small() {
    let whole = bowl(&[("sci-powder", "132"), ("cetyl-alcohol", "30"), ("water", "10"), ("kaolin", "28")]);
    let rescue = bar().rescue(&whole, &Means::new().at_most(mass("210 g"))).unwrap();
    assert_eq!((rescue.verdict(), rescue.needed()), (Verdict::AsNearAsCanBe, Some(&mass("220 g"))));
    // 210 of 220 g, so much of the bowl.
    assert_eq!(rescue.keep().unwrap().grams(), &(Exact::from(200) * Exact::ratio(210, 220)));
    assert!(rescue.total() <= &mass("210 g") && !rescue.shortfalls().is_empty());
    let short = bar().rescue(&whole, &Means::new().stock("kaolin", mass("10 g")).unwrap()).unwrap();
    assert_eq!(short.verdict(), Verdict::AsNearAsCanBe);
    assert!(short.additions().iter().all(|added| added.line != "kaolin" || added.mass <= mass("10 g")));
    let enough =
        bar().rescue(&whole, &Means::new().stock("kaolin", mass("16 g")).unwrap().at_most(mass("220 g"))).unwrap();
    assert_eq!((enough.verdict(), enough.total()), (Verdict::Rescued, &mass("220 g")));
    assert!(short.sentence().contains("Or keep "), "{}", short.sentence());
    // Without any of a raw material nothing can be kept, which is no advice.
    let none = bar().rescue(&whole, &Means::new().stock("kaolin", mass("0 g")).unwrap()).unwrap();
    assert_eq!(none.keep(), Some(&mass("0 g")));
    assert!(
        none.sentence().ends_with(". What there is brings back less than 0.1 g of the mix."),
        "{}",
        none.sentence()
    );
    assert!(bar().rescue(&whole, &Means::new().at_most(mass("199 g"))).unwrap_err().is_contradiction());
    assert!(bar().rescue(&whole, &Means::new().stock("caolin", mass("1 g")).unwrap()).unwrap_err().is_unknown_name());
}

/// A brief that is met as well by new things alone.
fn roomy() -> Brief {
    let brief = Brief::new("Marsh bar", &Catalogue::starter()).unwrap();
    let brief = brief.between("sci-powder", 60, 100).unwrap().between("cetyl-alcohol", 0, 15).unwrap();
    let brief = brief.between("kaolin", 0, 40).unwrap().free("capb-30").unwrap();
    brief.at_least(Measure::water(), 2).unwrap()
}

/// Where the stock falls short, what comes nearest is still a batch with the bowl in it.
#[test]
fn a_small_stock_throws_nothing_away() {
    let whole = bowl(&[("sci-powder", "50"), ("cetyl-alcohol", "100")]);
    // 100 g are 15 % of 2000/3 g.
    let needed = Exact::ratio(2000, 3);
    for left in ["0 g", "1 g"] {
        let rescue = roomy().rescue(&whole, &Means::new().stock("capb-30", mass(left)).unwrap()).unwrap();
        assert_eq!(rescue.verdict(), Verdict::AsNearAsCanBe, "{}", rescue.sentence());
        assert!(rescue.total().grams() <= rescue.needed().unwrap().grams());
        assert!(rescue.shortfalls().iter().any(|missed| missed.asked.contains("water")), "{}", rescue.sentence());
    }
    let enough = roomy().rescue(&whole, &Means::new().stock("capb-30", mass("50 g")).unwrap()).unwrap();
    assert_eq!((enough.verdict(), enough.total().grams()), (Verdict::Rescued, &needed));
}

/// Whatever the scale: a bowl holds no more than it holds, and of a line no more is there than there is.
#[test]
fn a_coarse_scale_does_not_fill_the_bowl_beyond_its_brim() {
    let brief = Brief::new("Two", &Catalogue::starter()).unwrap().fix("cetyl-alcohol", 20).unwrap();
    let brief = brief.qs("kaolin").unwrap();
    let whole = bowl(&[("cetyl-alcohol", "124"), ("kaolin", "136")]);
    let coarse = Means::new().on_a_scale_of(mass("50 g"));
    let rescue = brief.rescue(&whole, &coarse.clone().at_most(mass("600 g"))).unwrap();
    assert_eq!((added(&rescue), rescue.total()), (said(&[("kaolin", "300")]), &mass("560 g")));
    let rescue = brief.rescue(&whole, &coarse.stock("kaolin", mass("340 g")).unwrap()).unwrap();
    assert_eq!(added(&rescue), said(&[("kaolin", "300")]));
}

/// What was given up on the way to the nearest may hold all the same, and then it is not missed.
#[test]
fn only_what_is_missed_is_listed() {
    let brief = Brief::new("Quay bar", &Catalogue::starter())
        .unwrap()
        .between("sci-powder", 55, 62)
        .unwrap()
        .between("cetyl-alcohol", 4, 7)
        .unwrap()
        .between("water", 0, 4)
        .unwrap()
        .qs("kaolin")
        .unwrap()
        .target(Measure::active_matter(), 49)
        .unwrap();
    let formula = brief.solve().unwrap().formula().unwrap().clone();
    let grams: Vec<(&str, Exact)> = formula
        .lines()
        .iter()
        .map(|line| {
            let too_much = Exact::from(if line.name() == "water" { 30 } else { 0 });
            (line.name(), line.percent().percent() * Exact::from(10) + too_much)
        })
        .collect();
    let of = |grams: &Exact| Mass::new(grams, tenside::number::MassUnit::Gram).unwrap();
    let spoilt = grams.iter().fold(Bowl::new(), |bowl, (line, grams)| bowl.with(line, of(grams)).unwrap());
    let rescue = brief.rescue(&spoilt, &Means::new().at_most(mass("1050 g"))).unwrap();
    assert_eq!(rescue.verdict(), Verdict::AsNearAsCanBe);
    let asked = |missed: &[tenside::batch::Shortfall]| missed.iter().map(|one| one.asked.clone()).collect::<Vec<_>>();
    let words = asked(rescue.shortfalls());
    assert!(words.contains(&"line water between 0 and 4 %".to_string()), "{words:?}");
    assert!(!words.iter().any(|words| words.starts_with("line cetyl-alcohol")), "{words:?}");
    assert!(!rescue.sentence().contains("cetyl-alcohol between"), "{}", rescue.sentence());
    // A batch that was made so misses the same by the same.
    let actual = grams.iter().fold(Actual::new(), |actual, (line, grams)| {
        let added = rescue.additions().iter().find(|added| added.line == *line);
        let added = added.map_or(Exact::ZERO, |added| added.mass.grams().clone());
        actual.weighed(line, of(&(grams + added))).unwrap()
    });
    let made = super::batch(&formula, "1 kg", on_scale("0.1 g")).as_made(&actual).unwrap();
    let told = |missed: &[tenside::batch::Shortfall]| {
        missed.iter().map(|one| (one.asked.clone(), one.value.clone(), one.limit.clone())).collect::<Vec<_>>()
    };
    assert_eq!(told(rescue.shortfalls()), told(&made.missed(&brief).unwrap()));
}

#[test]
fn a_missed_split_says_which_ratio_is_missed() {
    let brief = Brief::new("Wash", &Catalogue::starter()).unwrap();
    let brief = brief.split("wash", SplitBasis::Weight, [("sci-powder", 50), ("slsa-powder", 12)]).unwrap();
    let brief = brief.qs("kaolin").unwrap();
    let whole = bowl(&[("sci-powder", "50"), ("slsa-powder", "20"), ("kaolin", "30")]);
    let stock = Means::new().stock("sci-powder", mass("5 g")).unwrap().at_most(mass("200 g"));
    let rescue = brief.rescue(&whole, &stock).unwrap();
    let missed = &rescue.shortfalls()[0];
    assert_eq!(missed.asked, "split wash: slsa-powder to sci-powder as 12 to 50 by weight, as their ratio");
    assert_eq!((&missed.limit, missed.unit.as_str()), (&Exact::from(24), "%"));
    // What there is of the others is not stated.
    let without = bar().rescue(&bowl(&[("sci-powder", "132")]), &Means::new().stock("water", mass("90 g")).unwrap());
    let page = without.unwrap().page().text(200);
    assert!(page.contains("not stated, and counts as enough: cetyl-alcohol, kaolin."), "{page}");
    // What is added has its cautions, and so has the heat of its phase.
    assert!(page.contains("Hot mass: ") && page.contains("For: kaolin"), "{page}");
}

#[test]
fn the_wrong_drum_leaves_only_throwing_away() {
    let oil = Catalogue::starter().material("coconut-oil").unwrap().clone();
    let spoilt = bowl(&[("sci-powder", "120")]).with_material("coconut-oil", &oil, mass("5 g")).unwrap();
    let rescue = bar().rescue(&spoilt, &Means::new()).unwrap();
    assert_eq!((rescue.verdict(), rescue.additions().len()), (Verdict::ThrowAway, 0));
    assert!(rescue.sentence().contains("cannot become this product"), "{}", rescue.sentence());
    // A formula is spoken of as one, and what it has no line for is named.
    let sentence = bar().rescue(&spoilt_with_starch(), &Means::new()).unwrap().sentence();
    assert!(!sentence.contains("brief is met") && sentence.contains("no line for corn-starch"), "{sentence}");
    // A brief that says nothing of oil takes it.
    let brief =
        Brief::new("Any", &Catalogue::starter()).unwrap().between("sci-powder", 0, 60).unwrap().qs("kaolin").unwrap();
    assert_eq!(brief.rescue(&spoilt, &Means::new()).unwrap().verdict(), Verdict::Rescued);
}

#[test]
fn additions_are_rounded_so_that_limits_hold() {
    let brief = Brief::new("Thin", &Catalogue::starter()).unwrap().free("capb-30").unwrap().qs("water").unwrap();
    let brief = brief.at_most(Measure::active_matter(), "11.3").unwrap();
    let rescue = brief.rescue(&bowl(&[("capb-30", "61.7")]), &Means::new().on_a_scale_of(mass("1 g"))).unwrap();
    // 61.7 x 30 / 11.3 - 61.7 = 102.1 g: 102 g would leave it too strong.
    assert_eq!(added(&rescue), said(&[("water", "103")]));
    assert!(rescue.shortfalls().is_empty());
    // Equations no scale meets.
    let rescue = bar().rescue(&bowl(&[("sci-powder", "131.3")]), &Means::new().on_a_scale_of(mass("1 g"))).unwrap();
    assert!(!rescue.shortfalls().is_empty() && rescue.shortfalls().iter().all(|missed| missed.is_rounding));
}

#[test]
fn what_was_made_is_a_bowl() {
    let batch = bar().batch(BatchSize::of_mass(mass("200 g")).unwrap(), Scales::new(mass("0.1 g")).unwrap()).unwrap();
    let made = batch.as_made(&Actual::new().weighed("sci-powder", mass("132 g")).unwrap()).unwrap();
    let rescue = batch.rescue(&made.bowl(), Means::new()).unwrap();
    assert_eq!(
        (rescue.total(), added(&rescue)),
        (&mass("220 g"), said(&[("cetyl-alcohol", "3"), ("water", "1"), ("kaolin", "4")]))
    );
    assert!(rescue.page().text(80).contains("no smaller total meets as much"));
}

#[test]
fn refuses_what_is_no_question() {
    assert!(bar().rescue(&Bowl::new(), &Means::new()).unwrap_err().is_missing());
    assert!(bar().rescue(&bowl(&[("sci-powder", "0")]), &Means::new()).unwrap_err().is_missing());
    assert!(bar().rescue(&bowl(&[("no such thing", "1")]), &Means::new()).unwrap_err().is_unknown_name());
    let choices = Brief::new("One", &Catalogue::starter())
        .unwrap()
        .absent_or_between("capb-30", 10, 20)
        .unwrap()
        .qs("water")
        .unwrap();
    assert!(choices.rescue(&bowl(&[("water", "1")]), &Means::new()).unwrap_err().is_unsupported());
    // What is in the bowl would bring the phase that the brief does not have.
    let perfume = Measure::as_supplied().contributed_by(Scope::phase("cool-down").unwrap());
    let strange = Brief::new("Clay", &Catalogue::starter()).unwrap().qs("kaolin").unwrap().at_most(perfume, 3).unwrap();
    let spoilt = bowl(&[("kaolin", "131"), ("lavender-oil", "2")]);
    let refused = strange.rescue(&spoilt, &Means::new()).unwrap_err();
    assert!(refused.is_unknown_name() && refused.to_string().contains("cool-down"), "{refused}");
}

#[test]
fn it_comes_back_from_its_document() {
    let lot = Arc::new(Lot::new("K-9", "kaolin", Certificate::default()).unwrap());
    let clay = Arc::new(Catalogue::starter().material("kaolin").unwrap().with_lot(&lot).unwrap().0);
    let whole =
        bowl(&[("sci-powder", "132"), ("water", "10")]).with_material("kaolin K-9", &clay, mass("3 g")).unwrap();
    let brief = Brief::new("Marsh bar", &Catalogue::starter())
        .unwrap()
        .between("sci-powder", 50, 60)
        .unwrap()
        .free("water")
        .unwrap()
        .qs("kaolin")
        .unwrap();
    for means in [
        Means::new().on_a_scale_of(mass("0.1 g")),
        Means::new().at_most(mass("200 g")).stock("kaolin", mass("5 g")).unwrap(),
    ] {
        let rescue = brief.rescue(&whole, &means).unwrap();
        for (materials, shelf) in [(Materials::Named, Catalogue::starter()), (Materials::Embedded, Catalogue::empty())]
        {
            let text = rescue.write(Notation::Json, materials).unwrap();
            assert_eq!(
                Rescue::read(&text, Notation::Json, &shelf).unwrap_or_else(|error| panic!("{error}\n{text}")),
                rescue
            );
        }
        let forged =
            rescue.write(Notation::Json, Materials::Named).unwrap().replace("\"verdict\": \"", "\"verdict\": \"not ");
        assert!(Rescue::read(&forged, Notation::Json, &Catalogue::starter()).is_err());
    }
}

proptest! {
    /// Every percentage exactly: the total is the greatest of mass over share, and the additions make it up.
    #[test]
    fn the_total_is_the_greatest_of_mass_over_share(grams in prop::collection::vec(0u32..2000, 4)) {
        prop_assume!(grams.iter().sum::<u32>() > 0);
        let names = ["sci-powder", "cetyl-alcohol", "water", "kaolin"];
        let texts: Vec<String> = grams.iter().map(|tenths| format!("{}.{}", tenths / 10, tenths % 10)).collect();
        let pairs: Vec<(&str, &str)> = names.iter().copied().zip(texts.iter().map(String::as_str)).collect();
        let rescue = bar().rescue(&bowl(&pairs), &Means::new()).unwrap();
        let total = grams.iter().zip([60, 15, 5, 20]).map(|(tenths, share)| Exact::ratio(i64::from(*tenths) * 10, share)).max().unwrap();
        prop_assert_eq!(rescue.verdict(), Verdict::Rescued);
        prop_assert_eq!(rescue.total().grams(), &total);
        for ((name, tenths), share) in names.iter().zip(&grams).zip([60, 15, 5, 20]) {
            let added = rescue.additions().iter().find(|added| added.line == *name).map_or(Exact::ZERO, |added| added.exact.grams().clone());
            prop_assert_eq!(added + Exact::ratio(i64::from(*tenths), 10), &total * Exact::ratio(share, 100));
        }
    }

    /// Whatever is in the bowl and left of each line: only what no stock brings back is thrown away, and a batch that
    /// is made has all of the bowl in it.
    #[test]
    fn no_stock_makes_a_bowl_worthless(
        grams in prop::collection::vec(0u32..200, 4),
        left in prop::collection::vec(prop::option::of(0u32..300), 4),
    ) {
        prop_assume!(grams.iter().sum::<u32>() > 0);
        let names = ["sci-powder", "cetyl-alcohol", "kaolin", "capb-30"];
        let texts: Vec<String> = grams.iter().map(ToString::to_string).collect();
        let whole = bowl(&names.iter().copied().zip(texts.iter().map(String::as_str)).collect::<Vec<_>>());
        let means = names.iter().zip(&left).fold(Means::new(), |means, (name, left)| match left {
            Some(left) => means.stock(name, mass(&format!("{left} g"))).unwrap(),
            None => means,
        });
        let best = roomy().rescue(&whole, &Means::new()).unwrap();
        let rescue = roomy().rescue(&whole, &means).unwrap();
        prop_assert_eq!(best.verdict() == Verdict::ThrowAway, rescue.verdict() == Verdict::ThrowAway);
        if rescue.verdict() != Verdict::ThrowAway {
            let bowl: u32 = grams.iter().sum();
            let added: Exact = rescue.additions().iter().map(|added| added.exact.grams().clone()).sum();
            prop_assert!(rescue.total().grams() == &(Exact::from(bowl) + added), "{}", rescue.sentence());
            for added in rescue.additions() {
                let place = names.iter().position(|name| *name == added.line).unwrap();
                prop_assert!(left[place].is_none_or(|left| *added.exact.grams() <= Exact::from(left)));
            }
        }
    }
}
