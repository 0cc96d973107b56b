//! What of a conflict has to give, and how far measures and lines can go, against what a pencil says.

use std::sync::Arc;

use tenside::brief::{Brief, Direction, Objective, Requirement, SplitBasis};
use tenside::catalogue::{Catalogue, PriceList};
use tenside::measure::{Basis, Measure, ScoreTable};
use tenside::number::Exact;
use tenside::solve::{Conflict, Constraint, End, Outcome, Relaxation};

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

#[test]
fn a_conflict_names_its_members_and_no_more() {
    let strong = brief("Too strong")
        .between("capb-30", 0, 50)
        .unwrap()
        .qs("water")
        .unwrap()
        .at_least(Measure::active_matter(), 18)
        .unwrap();
    let said = "no formula meets these together: active matter at least 18 %; line capb-30 between 0 and 50 %";
    assert_eq!((conflict(&strong).sentence(), conflict(&strong).to_string()), (said.to_string(), said.to_string()));
    // Powders alone bring too little of the water that a moist bar keeps: nothing that was asked for has to give.
    let dry = brief("Too dry").free("sodium-chloride").unwrap().qs("kaolin").unwrap();
    let washes = Requirement::at_least(Measure::as_supplied(), Exact::ONE)
        .unwrap()
        .on(Basis::finished(Exact::from(30)).unwrap());
    let dry = conflict(&dry.require(washes).unwrap());
    assert_eq!(dry.members(), ["water as charged at least the 30 % that the finished product keeps"]);
    assert_eq!(dry.constraints(), [Constraint::WaterToKeep { moisture: Exact::from(30) }]);
    assert_eq!(dry.relaxations().unwrap(), [None]);
    assert_eq!(
        dry.to_string(),
        "no formula meets this: water as charged at least the 30 % that the finished product keeps"
    );
}

#[test]
fn a_split_gives_in_parts_of_its_own() {
    // 20 % of the first and at most 10 % of the other are 2 to 1; by active matter it is for the strength of the two to
    // say.
    let strength = |id: &str| Catalogue::starter().material(id).unwrap().active().unwrap().percent() / Exact::hundred();
    let active = strength("capb-30") / strength("sci-powder");
    for (basis, factor) in [(SplitBasis::Weight, Exact::ONE), (SplitBasis::Active, active)] {
        let asked = brief("Two to three")
            .fix("sci-powder", 20)
            .unwrap()
            .between("capb-30", 0, 10)
            .unwrap()
            .qs("kaolin")
            .unwrap();
        let found = conflict(&asked.split("wash", basis, [("sci-powder", 2), ("capb-30", 3)]).unwrap());
        let part = |line: &str| format!("the part of {line} in split wash: sci-powder to capb-30 as 2 to 3 by {basis}");
        let changes: Vec<_> = found
            .relaxations()
            .unwrap()
            .into_iter()
            .map(|change| change.map(|change| told([change]).remove(0)))
            .collect();
        let (sci, capb) = (Exact::ratio(20, 3) * &factor, Exact::from(30) / &factor);
        let (sci, capb) = (
            said("line sci-powder fixed at 20 %", Exact::from(20), sci, "%"),
            said("line capb-30 between 0 and 10 %", Exact::from(10), capb, "%"),
        );
        // All the rest would be too little betaine by active matter, so that its range has no part in that conflict.
        let first = Some(said(&part("sci-powder"), Exact::from(2), Exact::from(6) / &factor, ""));
        let members = [first, Some(said(&part("capb-30"), Exact::from(3), factor, "")), Some(sci), Some(capb)];
        assert_eq!(changes, members[..if basis == SplitBasis::Weight { 4 } else { 3 }]);
    }
    let asked =
        brief("Two to three").fix("sci-powder", 20).unwrap().between("capb-30", 0, 10).unwrap().qs("kaolin").unwrap();
    let asked = asked.split("wash", SplitBasis::Weight, [("sci-powder", 2), ("capb-30", 3)]).unwrap();
    let found = conflict(&asked);
    let members = found.members();
    assert_eq!(
        members[..2],
        ["split wash: sci-powder as 2 by weight", "split wash: capb-30 as 3 by weight"],
        "{members:?}"
    );
    assert!(found.sentence().contains("split wash: sci-powder to capb-30 as 2 to 3 by weight; "), "{found}");
    let sentences: Vec<String> =
        found.relaxations().unwrap()[..2].iter().flatten().map(tenside::solve::Relaxation::sentence).collect();
    let split = "split wash: sci-powder to capb-30 as 2 to 3 by weight";
    assert_eq!(
        sentences,
        [
            format!("raise the part of sci-powder in {split} to 6 or more"),
            format!("lower the part of capb-30 in {split} to 1 or less")
        ]
    );
}

#[test]
fn a_ratio_gives_as_much_as_a_line_would() {
    let prices = [("sci-powder", 0), ("kaolin", 10), ("water", 0)];
    let asked = brief("Value").with_prices(&PriceList::new("EUR", prices).unwrap()).unwrap();
    let asked = asked.between("sci-powder", 10, 60).unwrap().between("kaolin", 30, 40).unwrap().qs("water").unwrap();
    // 3 EUR/kg at least, for 60 % of a powder at most: a twentieth too much. 28.5 % of clay instead of 30 % would be 5
    // % less.
    let measure = Measure::cost().per(&Measure::anionic_charge());
    let least = asked.reach(&measure, &Basis::AsCharged).unwrap().lowest.unwrap();
    let charge = Exact::from(3) / (&least * Exact::ratio(6, 10));
    let limit = &least * Exact::ratio(95, 100);
    assert!(charge > Exact::from(2) && limit > Exact::ONE, "{charge} mmol/g");
    let asked = asked.require(Requirement::at_most(measure, limit.clone()).unwrap().named("value").unwrap()).unwrap();
    let found = conflict(&asked);
    let ends: Vec<Exact> = found.relaxations().unwrap().into_iter().flatten().map(|change| change.to).collect();
    assert_eq!(ends, [least.clone(), Exact::from(60) / Exact::ratio(95, 100), Exact::ratio(285, 10)]);
}

#[test]
fn how_far_lines_go_near_the_best() {
    let wash = brief("Wash").between("capb-30", 10, 50).unwrap().between("kaolin", 5, 20).unwrap().qs("water").unwrap();
    let whole = |ranges: Vec<(String, Exact, Exact)>| {
        ranges
            .into_iter()
            .map(|(line, low, high)| {
                (line, low.floor_i64().unwrap(), high.floor_i64().unwrap(), low.is_whole() && high.is_whole())
            })
            .collect::<Vec<_>>()
    };
    let said = |of: [(&str, i64, i64); 3]| of.map(|(line, low, high)| (line.to_string(), low, high, true)).to_vec();
    // Up to 3 % more than the least 3 % of active matter: 10 to 20 % of a 30 % grade.
    let least = wash.clone().minimise(Measure::active_matter());
    assert_eq!(
        whole(least.line_ranges_within(Exact::from(3)).unwrap()),
        said([("capb-30", 10, 20), ("kaolin", 5, 20), ("water", 60, 85)])
    );
    // Down to 3 % less than the most, 15 %: 40 to 50 %.
    let most = wash.clone().maximise(Measure::active_matter());
    assert_eq!(
        whole(most.line_ranges_within(Exact::from(3)).unwrap()),
        said([("capb-30", 40, 50), ("kaolin", 5, 20), ("water", 30, 55)])
    );
    assert_eq!(
        whole(most.line_ranges_within(&Exact::ZERO).unwrap()),
        said([("capb-30", 50, 50), ("kaolin", 5, 20), ("water", 30, 45)])
    );
    assert!(most.line_ranges_within(Exact::from(-1)).unwrap_err().is_out_of_range());
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
    let scores = [("capb-30", 2), ("kaolin", -3), ("water", 0)];
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
    // A range on another basis, for every composition, or over what is not the same for every formula has no middle in
    // percent.
    let nor = |asked: Requirement| assert_eq!(betaine(wash().require(asked).unwrap()), Exact::from(25));
    nor(Requirement::between(Measure::active_matter(), Exact::ZERO, Exact::hundred())
        .unwrap()
        .on(Basis::finished(Exact::from(5)).unwrap()));
    nor(Requirement::between(Measure::active_matter(), Exact::ZERO, Exact::from(20)).unwrap().for_every_composition());
    nor(Requirement::between(Measure::active_matter().per(&Measure::water()), Exact::ZERO, Exact::from(60)).unwrap());
    // One value has no middle either, and a line that is held has none.
    nor(Requirement::equal(Measure::active_matter(), Exact::ratio(15, 2)).unwrap());
    let held = wash().between("kaolin", 3, 3).unwrap();
    assert_eq!(betaine(held.clone()), Exact::from(25));
    let named = held.solve().unwrap();
    assert!(
        !named.proof().program().names().iter().any(|name| name.words().contains("kaolin")),
        "{:?}",
        named.proof().program().names()
    );
}

/// Everything without a price is told in one sentence, and each once.
#[test]
fn all_that_has_no_price_is_told_at_once() {
    let wash = brief("Wash").between("capb-30", 10, 50).unwrap().between("kaolin", 5, 20).unwrap().qs("water").unwrap();
    let prices = Arc::new(PriceList::new("EUR", [("water", 1)]).unwrap());
    let error = wash.with_prices(&prices).unwrap().minimise(Measure::cost()).solve().unwrap_err();
    assert_eq!(error.faults().len(), 1, "{error}");
    let value = error.faults()[0].value.clone().unwrap();
    assert_eq!(value.split(", ").collect::<Vec<_>>().len(), 2, "{value}");
    assert!(value.contains("capb-30") && value.contains("kaolin"), "{value}");
}

/// A kilogram as charged dries to less where there is more water, so the objective's basis asks for water as a
/// requirement's does.
#[test]
fn what_would_do_keeps_the_water_of_the_objectives_finished_basis() {
    let prices = [("sci-powder", 6), ("scs-powder", 5), ("capb-30", 3), ("kaolin", 1)];
    let start = |title: &str| brief(title).with_prices(&PriceList::new("EUR", prices).unwrap()).unwrap();
    let on_finished =
        || Objective::measure(Direction::Minimise, Measure::cost(), Basis::finished(Exact::from(5)).unwrap());
    let strong = |active: Exact| {
        let lines = start("Strong")
            .between("sci-powder", 0, 60)
            .unwrap()
            .between("scs-powder", 0, 40)
            .unwrap()
            .between("capb-30", 0, 20)
            .unwrap();
        lines
            .qs("kaolin")
            .unwrap()
            .at_least(Measure::active_matter(), active)
            .unwrap()
            .with_objective(Some(on_finished()))
    };
    let change = conflict(&strong(Exact::from(90))).relaxations().unwrap().remove(0).unwrap();
    assert!(
        strong(change.to.clone()).solve().is_ok()
            && strong(change.to + Exact::ratio(1, 1_000_000_000)).solve().is_err()
    );
    // It is withheld as wrongly as it is stated.
    let dry =
        start("Dry").between("sci-powder", 20, 60).unwrap().between("capb-30", 0, 20).unwrap().qs("kaolin").unwrap();
    let found = conflict(&dry.at_most(Measure::water(), 3).unwrap().with_objective(Some(on_finished())));
    assert_eq!(found.relaxations().unwrap()[0].as_ref().unwrap().sentence(), "raise water at most 3 % to 5 % or more");
    // So does what is to hold for every composition.
    let sure = |active: Exact| {
        let lines = start("Sure")
            .between("sci-powder", 0, 60)
            .unwrap()
            .between("scs-powder", 0, 40)
            .unwrap()
            .between("capb-30", 0, 20)
            .unwrap();
        let asked = Requirement::at_least(Measure::active_matter(), active).unwrap().for_every_composition();
        lines.qs("kaolin").unwrap().require(asked).unwrap().with_objective(Some(on_finished()))
    };
    let change = conflict(&sure(Exact::from(90))).relaxations().unwrap().remove(0).unwrap();
    assert!(
        sure(change.to.clone()).solve().is_ok() && sure(change.to + Exact::ratio(1, 1_000_000_000)).solve().is_err()
    );
}

#[test]
fn a_target_that_one_value_alone_meets_is_said_exactly() {
    let two = || brief("Two").split("wash", SplitBasis::Active, [("sci-powder", 3), ("capb-30", 1)]).unwrap();
    let found = conflict(&two().target(Measure::active_matter(), 50).unwrap());
    let change = found.relaxations().unwrap().remove(2).unwrap();
    // 3 to 1 by active of 84 % and 30 % fill 100 at 1680/29 % and at nothing else.
    assert_eq!((&change.to, &change.until), (&Exact::ratio(1680, 29), &Some(Exact::ratio(1680, 29))));
    assert_eq!(change.sentence(), "raise active matter at 50 % to exactly 1680/29 % (about 57.93 %)");
    assert!(two().target(Measure::active_matter(), "1680/29").unwrap().solve().is_ok());
}

#[test]
fn both_ends_of_one_requirement_are_told_apart() {
    let range = Requirement::between(Measure::active_matter(), Exact::from(29), Exact::from(30))
        .unwrap()
        .for_every_composition();
    let asked = brief("Sure")
        .free("sci-powder")
        .unwrap()
        .qs("kaolin")
        .unwrap()
        .require(range.named("cleansing").unwrap())
        .unwrap();
    let found = conflict(&asked);
    let limits = "cleansing (active matter between 29 and 30 %, for every composition)";
    assert_eq!(found.members(), [format!("low end of {limits}"), format!("high end of {limits}")]);
    let end = |end: End| Constraint::Requirement { index: 0, name: "cleansing".to_string(), end };
    assert_eq!(found.constraints(), [end(End::Low), end(End::High)]);
    let sentences: Vec<String> =
        found.relaxations().unwrap().into_iter().flatten().map(|change| change.sentence()).collect();
    let starts = [format!("lower the low end of {limits} to "), format!("raise the high end of {limits} to ")];
    assert!(sentences.iter().zip(&starts).all(|(sentence, start)| sentence.starts_with(start)), "{sentences:?}");
}

/// `least_changes` offered parts of 0 and was empty here.
#[test]
fn what_to_leave_out_is_never_empty() {
    let asked = brief("C")
        .between("sci-powder", 15, 30)
        .unwrap()
        .split("wash", SplitBasis::Mole, [("capb-30", 3), ("sci-powder", 10)])
        .unwrap();
    let asked = asked
        .between("kaolin", 2, 30)
        .unwrap()
        .fix("cetyl-alcohol", 3)
        .unwrap()
        .free("water")
        .unwrap()
        .at_most(Measure::solids(), 12)
        .unwrap();
    let found = conflict(&asked);
    assert_eq!(found.relaxations().unwrap().iter().flatten().count(), 2);
    assert_eq!(found.correction_set().unwrap().len(), 1);
}

/// Raised to what another target asks, a target asks nothing more and goes.
#[test]
fn of_two_targets_for_one_measure_the_advice_to_change_one_can_be_taken() {
    let brief = Brief::new("Two", &Catalogue::starter())
        .and_then(|brief| brief.between("sci-powder", 0, 80)?.qs("kaolin"))
        .and_then(|brief| brief.target(Measure::active_matter(), "21.5")?.target(Measure::active_matter(), "55.8"))
        .unwrap();
    let Outcome::Conflict(conflict) = brief.try_solve().unwrap() else { panic!("one measure has one value") };
    let relaxations = conflict.relaxations().unwrap();
    assert_eq!(relaxations.iter().flatten().count(), 2);
    for change in relaxations.iter().flatten() {
        let taken = change.taken(&brief).unwrap();
        assert_eq!(taken.requirements().len(), 1, "{}", change.sentence());
        assert!(taken.solve().is_ok());
    }
}
