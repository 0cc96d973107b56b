//! Random briefs: what is answered holds, what is refused is proved, and the same question has one answer.

use std::sync::Arc;

use proptest::prelude::*;
use tenside::brief::{Brief, Direction, Objective, Parameter, Requirement};
use tenside::catalogue::{Catalogue, PriceList};
use tenside::document::{Materials, Notation};
use tenside::error::FaultKind;
use tenside::formula::Formula;
use tenside::material::Material;
use tenside::measure::{Basis, Measure, Scope};
use tenside::number::Exact;
use tenside::solve::{Answer, Conflict, Outcome};

use crate::support::{
    Pool, Random, broken, drawn, finished_share, formula, loosened, of_shares, random_brief, random_objective,
    random_requirement, random_role, with_split,
};

/// What became of many briefs.
#[derive(Default)]
struct Tally {
    answered: usize,
    conflicts: usize,
    not_known: usize,
    refused_by_the_grid: usize,
    centred: usize,
    departing: usize,
}

fn check(brief: &Brief, tally: &mut Tally) {
    match brief.try_solve() {
        Ok(Outcome::Answered(answer)) => {
            tally.answered += 1;
            tally.centred += usize::from(brief.objective().is_none());
            check_answer(brief, &answer, tally);
        }
        Ok(Outcome::Conflict(conflict)) => {
            tally.conflicts += 1;
            check_conflict(brief, &conflict);
        }
        Err(error) => {
            tally.not_known += 1;
            assert!(error.is_not_known() || error.is_unsupported(), "{error}");
        }
    }
}

fn check_answer(brief: &Brief, answer: &Answer, tally: &mut Tally) {
    answer.verify().unwrap();
    assert_eq!(answer.exact().iter().sum::<Exact>(), Exact::hundred());
    for (line, value) in brief.lines().iter().zip(answer.exact()) {
        let (low, high) = line.role().range();
        assert!(low.percent() <= *value && *value <= high.percent(), "{} at {value}", line.name());
    }
    let Ok(formula) = answer.formula() else {
        tally.refused_by_the_grid += 1;
        assert!(answer.grid_refusal().is_some() && answer.departures().is_empty());
        return;
    };
    assert_eq!(formula.lines().iter().map(|line| line.percent().parts()).sum::<u32>(), 1_000_000);
    assert_eq!(broken(brief, formula), Vec::<String>::new());
    tally.departing += usize::from(!answer.departures().is_empty());
    check_departures(brief, answer, formula);
    check_objective(brief, answer, formula);
}

/// Every equation holds, or is off by what is reported and within its bound.
fn check_departures(brief: &Brief, answer: &Answer, formula: &Formula) {
    let mut expected: Vec<(String, Exact)> = Vec::new();
    let typical = |measure: &Measure, basis: &Basis| {
        formula.measure(measure, basis).unwrap().value.and_then(|value| value.typical)
    };
    for split in brief.splits() {
        let brings = |line: &str| {
            let content = match split.basis() {
                tenside::brief::SplitBasis::Weight => Measure::as_supplied(),
                tenside::brief::SplitBasis::Active => Measure::active_matter(),
                _ => Measure::active_moles(),
            };
            typical(&content.contributed_by(Scope::lines([line]).unwrap()), &Basis::AsCharged).unwrap()
        };
        let (first, first_part) = &split.parts()[0];
        for (member, part) in &split.parts()[1..] {
            expected.push((
                format!("split {}: {first} to {member} as", split.name()),
                brings(member) - brings(first) * part / first_part,
            ));
        }
    }
    for requirement in brief
        .requirements()
        .iter()
        .filter(|requirement| requirement.low() == requirement.high() && !requirement.is_for_every_composition())
    {
        let Some(value) = typical(requirement.measure(), requirement.basis()) else { continue };
        expected.push((requirement.name(), value - requirement.low().unwrap()));
    }
    for (words, departure) in &expected {
        let reported = answer.departures().iter().find(|reported| reported.words.starts_with(words.as_str()));
        match reported {
            Some(reported) => {
                assert_eq!(&reported.departure, departure, "{words}");
                assert!(departure.abs() <= reported.bound, "{words}: {departure} above {}", reported.bound);
                assert!(reported.bound < Exact::ratio(1, 20), "{words}: a bound of {}", reported.bound);
            }
            None => assert!(departure.is_zero(), "{words}: {departure} was not reported"),
        }
    }
    for reported in answer.departures() {
        assert!(expected.iter().any(|(words, _)| reported.words.starts_with(words.as_str())), "{}", reported.words);
    }
}

/// The grid formula meets everything the exact solution meets where no equation departs, so it cannot be better.
fn check_objective(brief: &Brief, answer: &Answer, formula: &Formula) {
    if !answer.departures().is_empty() {
        return;
    }
    let Some(best) = answer.objective() else { return };
    match brief.objective().unwrap() {
        Objective::Measure { direction, measure, basis } => {
            let found = formula.measure(measure, basis).unwrap().value.unwrap().typical.unwrap();
            assert!(
                if *direction == Direction::Minimise { *best <= found } else { *best >= found },
                "{best} is not the best: {found}"
            );
        }
        Objective::LeastChange(base) => {
            let change: Exact = base
                .iter()
                .map(|(name, percent)| (formula.line(name).unwrap().percent().percent() - percent.percent()).abs())
                .sum();
            assert!(*best <= change, "{best} is not the least: {change}");
        }
        other => panic!("{other:?}"),
    }
}

/// Its proof holds, it names somebody, and after all it names has been dropped (as often as there are conflicts) there
/// is an answer.
fn check_conflict(brief: &Brief, conflict: &Conflict) {
    conflict.verify().unwrap();
    let mut loose = brief.clone();
    let mut members = named(conflict);
    for round in 0.. {
        assert!(!members.is_empty(), "a conflict of nobody: {}", conflict.sentence());
        let looser = loosened(&loose, &members);
        assert_ne!(looser, loose, "nothing could be dropped of {members:?}");
        loose = looser;
        assert!(round < 40);
        match loose.try_solve() {
            Ok(Outcome::Conflict(next)) => {
                next.verify().unwrap();
                let next = named(&next);
                assert!(next.iter().all(|words| !members.contains(words)), "{next:?} was dropped before");
                members = next;
            }
            Ok(Outcome::Answered(answer)) => return answer.verify().unwrap(),
            // The objective's denominator may now be 0.
            Err(error) => return assert!(error.is_unsupported(), "{error}"),
        }
    }
}

/// The members; the water that a finished basis keeps is given, not asked for, but said.
fn named(conflict: &Conflict) -> Vec<String> {
    let mut members = conflict.members();
    let sentence = conflict.sentence();
    // The lines of a split are said together.
    fn said(words: &str) -> &str {
        words.split_once(": ").filter(|_| words.starts_with("split ")).map_or(words, |(split, _)| split)
    }
    assert!(members.iter().all(|words| sentence.contains(said(words))), "{sentence}");
    members.extend(sentence.find("water as charged at least").map(|place| sentence[place..].to_string()));
    members
}

fn check_many(pool: &Pool, seeds: std::ops::Range<u64>) -> Tally {
    let mut tally = Tally::default();
    for seed in seeds {
        check(&random_brief(&mut Random::new(seed), pool), &mut tally);
    }
    tally
}

#[test]
fn two_hundred_briefs_over_the_starter_catalogue() {
    let tally = check_many(&Pool::starter(), 0..200);
    assert!(
        tally.answered >= 60 && tally.conflicts >= 30 && tally.centred >= 10 && tally.departing >= 4,
        "too few: {}",
        tally.shown()
    );
}

#[test]
fn two_hundred_briefs_over_invented_materials() {
    let mut tally = Tally::default();
    for seed in 1000..1200 {
        check(&random_brief(&mut Random::new(seed), &Pool::invented(seed, 14)), &mut tally);
    }
    assert!(tally.answered >= 60 && tally.conflicts >= 30 && tally.not_known < 60, "too few: {}", tally.shown());
}

impl Tally {
    fn shown(&self) -> String {
        format!(
            "{} answered ({} without objective, {} with a departure, {} without grid formula), {} conflicts, {} not \
             known",
            self.answered, self.centred, self.departing, self.refused_by_the_grid, self.conflicts, self.not_known
        )
    }
}

#[test]
fn a_requirement_that_says_nothing_new_changes_nothing() {
    let pool = Pool::starter();
    for seed in 2000..2100 {
        let brief = random_brief(&mut Random::new(seed), &pool);
        let Ok(first) = brief.try_solve() else { continue };
        let all =
            Requirement::at_most(Measure::as_supplied(), Exact::hundred()).unwrap().named("not more than all").unwrap();
        let some =
            Requirement::at_least(Measure::solids(), Exact::from(-1)).unwrap().named("not less than nothing").unwrap();
        let second = brief.require(all).unwrap().require(some).unwrap().try_solve().unwrap();
        match (first, second) {
            (Outcome::Answered(first), Outcome::Answered(second)) => {
                assert_eq!(first.exact(), second.exact(), "seed {seed}");
                assert_eq!(first.objective(), second.objective());
            }
            (Outcome::Conflict(_), Outcome::Conflict(_)) => {}
            (first, second) => panic!("{first:?} and {second:?}"),
        }
    }
}

#[test]
fn the_order_of_requirements_does_not_matter() {
    let pool = Pool::invented(5, 20);
    for seed in 3000..3060 {
        let brief = random_brief(&mut Random::new(seed), &pool);
        let mut turned = loosened(&brief, &[]);
        assert_eq!(turned.requirements().len(), brief.requirements().len());
        turned = brief.requirements().iter().rev().fold(
            loosened(&brief, &brief.requirements().iter().map(Requirement::name).collect::<Vec<_>>()),
            |turned, requirement| turned.require(requirement.clone()).unwrap(),
        );
        match (brief.try_solve(), turned.try_solve()) {
            (Ok(Outcome::Answered(first)), Ok(Outcome::Answered(second))) => {
                assert_eq!(first.exact(), second.exact(), "seed {seed}")
            }
            (Ok(Outcome::Conflict(_)), Ok(Outcome::Conflict(_))) | (Err(_), Err(_)) => {}
            (first, second) => panic!("seed {seed}: {first:?} and {second:?}"),
        }
    }
}

/// A brief whose requirements hold for every composition, and the formula it leads to.
fn robust(seed: u64) -> Option<(Brief, Formula)> {
    let pool = Pool::invented(seed, 6);
    let mut random = Random::new(seed);
    let mut brief = Brief::new("Sure", &pool.catalogue).unwrap().with_prices(&pool.prices).unwrap();
    for material in &pool.materials {
        let line =
            tenside::brief::BriefLine::new(material.id(), Arc::clone(material), tenside::brief::Role::Free).unwrap();
        brief = brief.line(line).unwrap();
    }
    let number = |random: &mut Random, most: u64| Exact::ratio(i64::try_from(random.between(1, most)).unwrap(), 7);
    let all = [
        Requirement::at_least(Measure::active_matter(), number(&mut random, 200)).unwrap(),
        Requirement::at_most(Measure::water(), number(&mut random, 200)).unwrap(),
        Requirement::at_most(Measure::charge_ratio(), number(&mut random, 14)).unwrap(),
        Requirement::at_least(Measure::active_matter(), number(&mut random, 200))
            .unwrap()
            .on(Basis::finished(Exact::from(1)).unwrap()),
    ];
    for requirement in all {
        brief = brief.require(requirement.for_every_composition()).unwrap();
    }
    let answer = brief.clone().minimise(Measure::cost()).solve().ok()?;
    let formula = answer.formula().ok()?.clone();
    Some((brief, formula))
}

#[test]
fn requirements_for_every_composition_hold_for_a_thousand() {
    let mut checked = 0;
    for seed in 0..60 {
        let Some((brief, whole)) = robust(seed) else { continue };
        checked += 1;
        let mut random = Random::new(seed);
        let used: Vec<_> = whole.lines().iter().filter(|line| !line.percent().is_zero()).collect();
        let shares: Vec<u64> = used.iter().map(|line| u64::from(line.percent().parts())).collect();
        for _ in 0..1000 {
            let materials: Vec<Arc<Material>> = used
                .iter()
                .map(|line| Arc::new(of_shares(line.material(), &drawn(&mut random, line.material()))))
                .collect();
            let point = formula(&materials, &shares);
            for requirement in brief.requirements() {
                let moisture = match requirement.basis() {
                    Basis::Finished(moisture) => moisture.clone(),
                    _ => Exact::ZERO,
                };
                let value = if *requirement.basis() == Basis::AsCharged {
                    point
                        .measure(requirement.measure(), &Basis::AsCharged)
                        .unwrap()
                        .value
                        .and_then(|value| value.typical)
                } else {
                    Some(finished_share(&point, &moisture, |row| row.counts_as_active()))
                };
                // A charge ratio over nothing has no value.
                let Some(value) = value else { continue };
                assert!(requirement.low().is_none_or(|low| *low <= value), "{}: {value}", requirement.name());
                assert!(requirement.high().is_none_or(|high| value <= *high), "{}: {value}", requirement.name());
            }
        }
    }
    assert!(checked >= 8, "only {checked} were answered");
}

#[test]
fn a_denominator_that_can_be_negative_is_refused_for_every_composition_too() {
    let catalogue = Catalogue::starter();
    let scores = tenside::measure::ScoreTable::new("slip", [("kaolin", -1), ("sci-powder", 1)]).unwrap();
    let measure = Measure::active_matter().per(&Measure::score(scores));
    let brief = Brief::new("Varied round", &catalogue).unwrap().free("kaolin").unwrap().free("sci-powder").unwrap();
    for requirement in [
        Requirement::at_most(measure.clone(), Exact::ONE).unwrap(),
        Requirement::at_most(measure, Exact::ONE).unwrap().for_every_composition(),
    ] {
        let error = brief.clone().require(requirement).unwrap().try_solve().unwrap_err();
        assert!(error.is_unsupported(), "{error}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn a_looser_ceiling_never_costs_more(seed: u64, loosening in 1u32..20) {
        let pool = Pool::invented(9, 8);
        let brief = random_brief(&mut Random::new(seed), &pool).with_objective(None).minimise(Measure::cost());
        let water = |brief: Brief, ceiling: u32| brief.require(Requirement::at_most(Measure::water(), Exact::from(ceiling)).unwrap().named("ceiling").unwrap()).unwrap().solve();
        if let Ok(tight) = water(brief.clone(), 10) {
            let loose = water(brief, 10 + loosening).unwrap();
            prop_assert!(loose.objective().unwrap() <= tight.objective().unwrap());
        }
    }
}

/// One of the changes that a what-if makes; the brief as it is where it does not go.
fn changed(random: &mut Random, pool: &Pool, brief: &Brief) -> Brief {
    let line = random.pick(brief.lines()).clone();
    let scoped = |measure: Measure, scope: Scope| Requirement::at_most(measure.contributed_by(scope), Exact::from(30));
    let next = match random.below(10) {
        0 => brief.clone().change_line(line.name(), random_role(random, brief.lines().len())),
        1 => {
            let prices = pool.materials.iter().map(|material| (material.id(), random.between(1, 40)));
            brief.clone().with_prices(&PriceList::new("EUR", prices.collect::<Vec<_>>()).unwrap())
        }
        2 => brief.clone().in_phase(line.name(), ["cool-down", "melted"][usize::from(random.chance(50))]),
        3 => brief.clone().group("some", &[line.name()]),
        4 => brief.clone().drop_line(line.name()),
        5 => brief.clone().line(line.clone().in_phase("powder").unwrap()).or_else(|_| brief.clone().free("water")),
        6 => match random.pick(&[0, 1, 2]) {
            0 => brief.clone().require(scoped(Measure::water(), Scope::phase("cool-down").unwrap()).unwrap()),
            1 => brief.clone().require(scoped(Measure::cost(), Scope::group("some").unwrap()).unwrap()),
            _ => brief.clone().require(random_requirement(random, brief)),
        },
        7 => match brief.requirements().first() {
            Some(first) => brief.clone().drop_requirement(&first.name()),
            None => return brief.clone(),
        },
        8 => match brief.splits().first() {
            Some(split) => {
                let (split, line) = (split.name().to_string(), split.parts()[0].0.clone());
                brief.with_parameter(&Parameter::Part { split, line }, Exact::ratio(random.between(1, 40) as i64, 7))
            }
            None => return with_split(random, brief.clone()),
        },
        _ => Ok(brief.clone().with_objective(random_objective(random, brief))),
    };
    next.unwrap_or_else(|_| brief.clone())
}

/// What was worked out for the lines of one brief serves those that share them and none that does not.
#[test]
fn a_brief_changed_step_by_step_is_answered_like_one_read_anew() {
    let came_of_it = |brief: &Brief| brief.try_solve().map_err(|error| error.to_string());
    let mut answered = 0;
    for (pool, seeds) in [(Pool::starter(), 0..40), (Pool::invented(12, 9), 40..80)] {
        for seed in seeds {
            let random = &mut Random::new(seed);
            let mut brief = random_brief(random, &pool);
            for step in 0..12 {
                let before = brief.clone();
                let first = came_of_it(&before);
                brief = changed(random, &pool, &brief);
                let found = came_of_it(&brief);
                let text = match brief.write(Notation::Json, Materials::Embedded) {
                    Ok(text) => text,
                    // A requirement speaks of a group, a phase or a line that is gone.
                    Err(error) => {
                        let fault = &error.faults()[0];
                        assert_eq!(fault.kind, FaultKind::UnknownName, "{error}");
                        assert!(found.is_err_and(|found| found.contains(&fault.message)), "{error}");
                        continue;
                    }
                };
                let anew = Brief::read(&text, Notation::Json, &Catalogue::empty()).unwrap();
                assert_eq!(found, came_of_it(&anew), "seed {seed}, step {step}: {text}");
                assert_eq!(first, came_of_it(&before), "seed {seed}, step {step}, as it was before: {text}");
                answered += usize::from(matches!(found, Ok(Outcome::Answered(_))));
            }
        }
    }
    assert!(answered > 200, "{answered}");
}

/// What a line of the base had and the brief has no place for is changed by all of it.
#[test]
fn a_line_that_is_gone_counts_among_the_changes() {
    let starter = Catalogue::starter();
    let with_wax = Brief::new("Bar", &starter)
        .unwrap()
        .fix("cetyl-alcohol", 6)
        .unwrap()
        .fix("sci-powder", 54)
        .unwrap()
        .qs("kaolin")
        .unwrap();
    let base = with_wax.solve().unwrap().formula().unwrap().clone();
    let least = |brief: Brief| brief.least_change_from(&base).solve().unwrap().objective().cloned().unwrap();
    assert_eq!(least(with_wax.clone()), Exact::ZERO);
    // 6 % of wax gone, and as much more of the other two together.
    let without = Brief::new("Bar", &starter).unwrap().between("sci-powder", 40, 60).unwrap().qs("kaolin").unwrap();
    assert_eq!(least(without), Exact::from(12));
}

/// One linear program is no several.
#[test]
fn a_choice_says_by_how_many_programs_it_is_proved() {
    let starter = Catalogue::starter();
    let brief = Brief::new("One", &starter).unwrap().fix("sci-powder", 50).unwrap().qs("kaolin").unwrap();
    let text = brief.choose().unwrap().page(&[Basis::AsCharged]).unwrap().text(200);
    assert!(text.contains("proved by 1 linear program for"), "{text}");
}

/// A name of the user's need not say the limit, so the page does.
#[test]
fn what_binds_says_the_limit_that_a_name_leaves_out() {
    let shown = |name: &str| {
        let waxes = Measure::as_supplied().contributed_by(Scope::lines(["cetyl-alcohol"]).unwrap());
        let asked = Requirement::at_least(waxes, Exact::from(7)).unwrap().named(name).unwrap();
        let brief = Brief::new("Bar", &Catalogue::starter())
            .unwrap()
            .between("cetyl-alcohol", 3, 9)
            .unwrap()
            .qs("kaolin")
            .unwrap();
        brief
            .require(asked)
            .unwrap()
            .minimise(Measure::solids())
            .solve()
            .unwrap()
            .page(&[Basis::AsCharged])
            .unwrap()
            .text(120)
    };
    assert!(shown("waxes").contains("- waxes: at its lowest, 7 %"), "{}", shown("waxes"));
    assert!(shown("7 % of wax").contains("- 7 % of wax: at its lowest"), "{}", shown("7 % of wax"));
}
