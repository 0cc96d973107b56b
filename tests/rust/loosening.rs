//! What of a conflict has to give, and how far measures and lines can go, against what a pencil says.

use std::sync::Arc;

use tenside::brief::{Brief, Requirement, SplitBasis};
use tenside::catalogue::{Catalogue, PriceList};
use tenside::measure::{Basis, Measure, Scope, ScoreTable};
use tenside::number::Exact;
use tenside::solve::{Conflict, Outcome, Relaxation};

fn brief(title: &str) -> Brief {
    Brief::new(title, &Catalogue::starter()).unwrap()
}

#[track_caller]
fn conflict(brief: &Brief) -> Conflict {
    let Outcome::Conflict(conflict) = brief.try_solve().unwrap() else { panic!("it cannot be answered") };
    conflict.verify().unwrap();
    *conflict
}

/// What is changed, from where to where, and the unit.
fn told(changes: impl IntoIterator<Item = Relaxation>) -> Vec<(String, Exact, Exact, String)> {
    changes.into_iter().map(|change| (change.words, change.from, change.to, change.unit)).collect()
}

fn said(words: &str, from: Exact, to: Exact, unit: &str) -> (String, Exact, Exact, String) {
    (words.to_string(), from, to, unit.to_string())
}

fn share_of(line: &str) -> Measure {
    Measure::as_supplied().contributed_by(Scope::lines([line]).unwrap())
}

#[test]
fn a_conflict_names_its_members_and_no_more() {
    let strong = brief("Too strong").between("capb-30", 0, 50).unwrap().qs("water").unwrap().at_least(Measure::active_matter(), 18).unwrap();
    let said = "no formula meets these together: active matter at least 18 %; line capb-30 between 0 and 50 %";
    assert_eq!((conflict(&strong).sentence(), conflict(&strong).to_string()), (said.to_string(), said.to_string()));
    // Powders alone bring too little of the water that a moist bar keeps: nothing that was asked for has to give.
    let dry = brief("Too dry").free("sodium-chloride").unwrap().qs("kaolin").unwrap();
    let washes = Requirement::at_least(Measure::as_supplied(), Exact::ONE).on(Basis::finished(Exact::from(30)).unwrap());
    let dry = conflict(&dry.require(washes).unwrap());
    assert_eq!(dry.members(), Vec::<String>::new());
    assert_eq!(dry.to_string(), "no formula meets this: water as charged at least the 30 % that the finished product keeps");
}

#[test]
fn a_split_gives_in_parts_of_its_own() {
    // 20 % of the first and at most 10 % of the other are 2 to 1; by active matter it is for the strength of the two to say.
    let strength = |id: &str| Catalogue::starter().material(id).unwrap().active().unwrap().percent() / Exact::hundred();
    let active = strength("capb-30") / strength("sci-powder");
    for (basis, factor) in [(SplitBasis::Weight, Exact::ONE), (SplitBasis::Active, active)] {
        let asked = brief("Two to three").fix("sci-powder", 20).unwrap().between("capb-30", 0, 10).unwrap().qs("kaolin").unwrap();
        let found = conflict(&asked.split("wash", basis, &[("sci-powder", 2), ("capb-30", 3)]).unwrap());
        let part = format!("the part of capb-30 in {}", found.members()[0]);
        let changes: Vec<_> = found.relaxations().unwrap().into_iter().map(|change| change.map(|change| told([change]).remove(0))).collect();
        let (sci, capb) = (Exact::ratio(20, 3) * &factor, Exact::from(30) / &factor);
        let (sci, capb) =
            (said("line sci-powder fixed at 20 %", Exact::from(20), sci, "%"), said("line capb-30 between 0 and 10 %", Exact::from(10), capb, "%"));
        // All the rest would be too little betaine by active matter, so that its range has no part in that conflict.
        let members = [Some(said(&part, Exact::from(3), factor, "")), Some(sci), Some(capb)];
        assert_eq!(changes, members[..if basis == SplitBasis::Weight { 3 } else { 2 }]);
    }
    let asked = brief("Two to three").fix("sci-powder", 20).unwrap().between("capb-30", 0, 10).unwrap().qs("kaolin").unwrap();
    let asked = asked.split("wash", SplitBasis::Weight, &[("sci-powder", 2), ("capb-30", 3)]).unwrap();
    let found = conflict(&asked);
    let members = found.members();
    assert_eq!(members.len(), 3, "{members:?}");
    let part = format!("the part of capb-30 in {}", members[0]);
    assert_eq!(found.relaxations().unwrap()[0].as_ref().unwrap().sentence(), format!("lower {part} to 1 or less"));
    // A third of the powder is the least of the three in percent of what it was.
    assert_eq!(told(found.least_changes().unwrap()), [said("line sci-powder fixed at 20 %", Exact::from(20), Exact::ratio(20, 3), "%")]);
    // What is asked for every composition does not give where changes are counted together, so the split has to.
    let held = |line: &str, low: Option<i64>, high: Option<i64>| match (low, high) {
        (Some(low), _) => Requirement::at_least(share_of(line), Exact::from(low)).for_every_composition(),
        (_, high) => Requirement::at_most(share_of(line), Exact::from(high.unwrap())).for_every_composition(),
    };
    let asked = brief("Two to three").free("sci-powder").unwrap().free("capb-30").unwrap().qs("kaolin").unwrap();
    let asked = asked.require(held("sci-powder", Some(20), None)).unwrap().require(held("capb-30", None, Some(10))).unwrap();
    let asked = asked.split("wash", SplitBasis::Weight, &[("sci-powder", 2), ("capb-30", 3)]).unwrap();
    assert_eq!(told(conflict(&asked).least_changes().unwrap()), [said(&part, Exact::from(3), Exact::ONE, "")]);
}

/// Each change counts in percent of its own limit.
#[test]
fn the_least_changes_are_the_least_in_percent_of_their_limits() {
    // 50 % of a 30 % grade bring 15 %. 15 of 18 is a change by 17 %, 60 of 50 one by 20 %.
    let strong = brief("Too strong").between("capb-30", 0, 50).unwrap().qs("water").unwrap().at_least(Measure::active_matter(), 18).unwrap();
    let lower = said("active matter at least 18 %", Exact::from(18), Exact::from(15), "%");
    assert_eq!(told(conflict(&strong).least_changes().unwrap()), vec![lower.clone()]);
    // What is cheap or dear has no part in it.
    assert_eq!(told(conflict(&strong.clone().minimise(Measure::water())).least_changes().unwrap()), [lower]);
    // To 15 % of 14.93 is a change by 0.47 %, to 49.77 % of 50 one by 0.467 %.
    let mild = brief("Too mild").between("capb-30", 50, 90).unwrap().qs("water").unwrap().at_most(Measure::active_matter(), "14.93").unwrap();
    let line = said("line capb-30 between 50 and 90 %", Exact::from(50), Exact::ratio(1493, 30), "%");
    for mild in [mild.clone(), mild.clone().maximise(Measure::active_matter()), mild.minimise(Measure::water())] {
        assert_eq!(told(conflict(&mild).least_changes().unwrap()), vec![line.clone()]);
    }
    // Limits below 1 count in percent of 1: half a percent more of a line at 0.5 % is half of 1 %, as is half a percent of active matter.
    let scent = brief("Scent").between("capb-30", 0, "0.5").unwrap().qs("water").unwrap().at_least(Measure::active_matter(), "0.3").unwrap();
    let lower = said("active matter at least 0.3 %", Exact::ratio(3, 10), Exact::ratio(15, 100), "%");
    assert_eq!(told(conflict(&scent).least_changes().unwrap()), [lower]);
}

#[test]
fn a_ratio_gives_in_the_size_of_what_it_divides_by() {
    let prices = [("sci-powder", 0), ("kaolin", 10), ("water", 0)].map(|(id, price)| (id.to_string(), price.into()));
    let asked = brief("Value").with_prices(&PriceList::new("EUR", prices).unwrap()).unwrap();
    let asked = asked.between("sci-powder", 10, 60).unwrap().between("kaolin", 30, 40).unwrap().qs("water").unwrap();
    // 3 EUR/kg at least, for 60 % of a powder at most: a twentieth too much. 28.5 % of clay instead of 30 % would be 5 % less.
    let measure = Measure::cost().per(&Measure::anionic_charge());
    let least = asked.reach(&measure, &Basis::AsCharged).unwrap().lowest.unwrap();
    let charge = Exact::from(3) / (&least * Exact::ratio(6, 10));
    let limit = &least * Exact::ratio(95, 100);
    assert!(charge > Exact::from(2) && limit > Exact::ONE, "{charge} mmol/g");
    let asked = asked.require(Requirement::at_most(measure, limit.clone()).named("value").unwrap()).unwrap();
    let found = conflict(&asked);
    let ends: Vec<Exact> = found.relaxations().unwrap().into_iter().flatten().map(|change| change.to).collect();
    assert_eq!(ends, [least.clone(), Exact::from(60) / Exact::ratio(95, 100), Exact::ratio(285, 10)]);
    // In the row's own unit 15 of so much charge: counted over what the powder alone would bring it is 3 %.
    let changes = found.least_changes().unwrap();
    assert_eq!(changes.iter().map(|change| (change.words.as_str(), &change.from, &change.to)).collect::<Vec<_>>(), [("value", &limit, &least)]);
}

#[test]
fn how_far_lines_go_near_the_best() {
    let wash = brief("Wash").between("capb-30", 10, 50).unwrap().between("kaolin", 5, 20).unwrap().qs("water").unwrap();
    let whole = |ranges: Vec<(String, Exact, Exact)>| {
        ranges
            .into_iter()
            .map(|(line, low, high)| (line, low.floor_i64().unwrap(), high.floor_i64().unwrap(), low.is_whole() && high.is_whole()))
            .collect::<Vec<_>>()
    };
    let said = |of: [(&str, i64, i64); 3]| of.map(|(line, low, high)| (line.to_string(), low, high, true)).to_vec();
    // Up to 3 % more than the least 3 % of active matter: 10 to 20 % of a 30 % grade.
    let least = wash.clone().minimise(Measure::active_matter());
    assert_eq!(whole(least.line_ranges_within(&Exact::from(3)).unwrap()), said([("capb-30", 10, 20), ("kaolin", 5, 20), ("water", 60, 85)]));
    // Down to 3 % less than the most, 15 %: 40 to 50 %.
    let most = wash.clone().maximise(Measure::active_matter());
    assert_eq!(whole(most.line_ranges_within(&Exact::from(3)).unwrap()), said([("capb-30", 40, 50), ("kaolin", 5, 20), ("water", 30, 55)]));
    assert_eq!(whole(most.line_ranges_within(&Exact::ZERO).unwrap()), said([("capb-30", 50, 50), ("kaolin", 5, 20), ("water", 30, 45)]));
    assert!(most.line_ranges_within(&Exact::from(-1)).unwrap_err().is_out_of_range());
    assert!(wash.line_ranges_within(&Exact::ONE).unwrap_err().is_unsupported());
}

#[test]
fn a_reach_without_ends_is_no_error_and_an_unknown_price_is_one() {
    let wash = brief("Wash").between("capb-30", 10, 50).unwrap().between("kaolin", 5, 20).unwrap().qs("water").unwrap();
    let error = wash.reach(&Measure::cost(), &Basis::AsCharged).unwrap_err();
    assert!(!error.is_unsupported() && error.to_string().contains("price"), "{error}");
    let error = wash.reach(&Measure::cost().per(&Measure::active_matter()), &Basis::AsCharged).unwrap_err();
    assert!(!error.is_unsupported() && error.to_string().contains("price"), "{error}");
    // What can be above and below 0 is nothing to divide by.
    let scores = [("capb-30", "2"), ("kaolin", "-3"), ("water", "0")].map(|(id, score)| (id.to_string(), score.parse().unwrap()));
    let feel = Measure::score(ScoreTable::new("feel", scores).unwrap());
    let reach = wash.reach(&Measure::active_matter().per(&feel), &Basis::AsCharged).unwrap();
    assert_eq!((reach.lowest, reach.highest), (None, None));
    // The other way round it has both ends: a ratio of water to what can be nothing has one.
    let reach = wash.reach(&feel.per(&Measure::active_matter()), &Basis::AsCharged).unwrap();
    assert_eq!((reach.lowest, reach.highest), (Some(Exact::ratio(20 - 60, 3)), Some(Exact::ratio(100 - 15, 15))));
}

/// Without objective a formula keeps to the middle of what was asked for, each distance counted in half-widths.
#[test]
fn the_middle_of_lines_and_measures() {
    let wash = || brief("Wash").between("capb-30", 0, 50).unwrap().qs("water").unwrap();
    let betaine = |brief: Brief| brief.solve().unwrap().exact()[0].clone();
    assert_eq!(betaine(wash()), Exact::from(25));
    // 6 to 12 % of active matter are 20 to 40 % of a 30 % grade. (x - 25) / 25 = (30 - x) / 10.
    let asked = || Requirement::between(Measure::active_matter(), Exact::from(6), Exact::from(12)).unwrap();
    let answer = wash().require(asked()).unwrap().solve().unwrap();
    assert_eq!(answer.exact()[0], Exact::ratio(200, 7));
    // A seventh of a half-width from both.
    assert_eq!(answer.proof().outcome().optimum().unwrap().objective, Exact::ratio(1, 7));
    // A range on another basis, for every composition, or over what is not the same for every formula has no middle in percent.
    let nor = |asked: Requirement| assert_eq!(betaine(wash().require(asked).unwrap()), Exact::from(25));
    nor(Requirement::between(Measure::active_matter(), Exact::ZERO, Exact::hundred()).unwrap().on(Basis::finished(Exact::from(5)).unwrap()));
    nor(Requirement::between(Measure::active_matter(), Exact::ZERO, Exact::from(20)).unwrap().for_every_composition());
    nor(Requirement::between(Measure::active_matter().per(&Measure::water()), Exact::ZERO, Exact::from(60)).unwrap());
    // One value has no middle either, and a line that is held has none.
    nor(Requirement::equal(Measure::active_matter(), Exact::ratio(15, 2)));
    let held = wash().between("kaolin", 3, 3).unwrap();
    assert_eq!(betaine(held.clone()), Exact::from(25));
    let named = held.solve().unwrap();
    assert!(!named.proof().program().names().iter().any(|name| name.words().contains("kaolin")), "{:?}", named.proof().program().names());
}

/// Everything without a price is told in one sentence, and each once.
#[test]
fn all_that_has_no_price_is_told_at_once() {
    let wash = brief("Wash").between("capb-30", 10, 50).unwrap().between("kaolin", 5, 20).unwrap().qs("water").unwrap();
    let prices = Arc::new(PriceList::new("EUR", [("water".to_string(), 1.into())]).unwrap());
    let error = wash.with_prices(&prices).unwrap().minimise(Measure::cost()).solve().unwrap_err();
    assert_eq!(error.faults().len(), 1, "{error}");
    let value = error.faults()[0].value.clone().unwrap();
    assert_eq!(value.split(", ").collect::<Vec<_>>().len(), 2, "{value}");
    assert!(value.contains("capb-30") && value.contains("kaolin"), "{value}");
}
