//! The best rounded formula of small random briefs is the best of all that there are, listed one by one.

use tenside::brief::{Brief, BriefLine, Requirement, Role, SplitBasis};
use tenside::catalogue::Catalogue;
use tenside::formula::{Formula, Line};
use tenside::measure::Measure;
use tenside::number::{Exact, Ppm};
use tenside::solve::{RoundedOutcome, Steps, Tolerance};

use super::small::{Cost, MATERIALS, Numbers, brings, mean, prices, shares};

struct Asked {
    brings: Vec<Exact>,
    low: Option<Exact>,
    high: Option<Exact>,
}

struct Case {
    brief: Brief,
    steps: Steps,
    step: Exact,
    asked: Vec<Asked>,
    split: Option<(usize, usize, i64, i64)>,
    /// Of the first so many lines at most so many are present.
    limit: Option<(usize, usize)>,
    ratio: bool,
}

fn measures() -> Vec<Measure> {
    vec![
        Measure::active_matter(),
        Measure::water(),
        Measure::solids(),
        Measure::anionic_active(),
        Measure::anionic_charge(),
    ]
}

/// A brief of three to five lines, and what it asks for, told without the library's own requirements.
fn case(seed: u64) -> Case {
    let mut numbers = Numbers::new(seed);
    let lines = usize::try_from(3 + numbers.below(3)).unwrap();
    let step = [Exact::ratio(5, 2), Exact::from(5), Exact::from(10)][lines - 3].clone();
    let steps_in_whole = [40, 20, 10][lines - 3];
    let mut brief = Brief::new("Case", &Catalogue::starter()).unwrap().with_prices(&prices()).unwrap();
    let mut left: Vec<&str> = MATERIALS.to_vec();
    for index in 0..lines {
        let id = left.remove(usize::try_from(numbers.below(left.len() as u64)).unwrap());
        brief = match numbers.below(5) {
            _ if index + 1 == lines => brief.qs(id).unwrap(),
            0 => brief.free(id).unwrap(),
            4 => {
                let least = i32::try_from(3 + numbers.below(30)).unwrap();
                brief.absent_or_between(id, least, least + i32::try_from(numbers.below(40)).unwrap()).unwrap()
            }
            1 => brief.between(id, i32::try_from(numbers.below(20)).unwrap(), 100).unwrap(),
            _ => {
                let low = numbers.below(30);
                brief
                    .between(id, i32::try_from(low).unwrap(), i32::try_from(low + 10 + numbers.below(50)).unwrap())
                    .unwrap()
            }
        };
    }
    let mut steps = Steps::of(&step).unwrap();
    // Values are read off a formula on the steps, so that many briefs have an answer.
    let all = shares(lines, steps_in_whole);
    let there: Vec<Exact> = numbers.pick(&all).iter().map(|count| &step * Exact::from(*count)).collect();
    let mut asked = Vec::new();
    for measure in measures() {
        let brings: Vec<Exact> = (0..lines).map(|line| brings(&brief, line, &measure)).collect();
        let value = mean(&brings, &there);
        match numbers.below(7) {
            0 => {
                brief = brief.at_most(measure, &value).unwrap();
                asked.push(Asked { brings, low: None, high: Some(value) });
            }
            1 => {
                brief = brief.at_least(measure, &value).unwrap();
                asked.push(Asked { brings, low: Some(value), high: None });
            }
            2 if numbers.below(2) == 0 => {
                let target = &value + Exact::ratio(numbers.below(3), 7);
                let tolerance = Exact::ratio(numbers.below(5), 2);
                brief = brief.target(measure, &target).unwrap();
                steps = steps.within(&brief.requirements().last().unwrap().name(), &tolerance).unwrap();
                asked.push(Asked { brings, low: Some(&target - &tolerance), high: Some(target + tolerance) });
            }
            2 => {
                brief = brief.target(measure, &value).unwrap();
                asked.push(Asked { brings, low: Some(value.clone()), high: Some(value) });
            }
            _ => {}
        }
    }
    let split = (numbers.below(4) == 0).then(|| (0, 1, 1 + numbers.below(3), 1 + numbers.below(3)));
    if let Some((first, second, one, other)) = split {
        let names: Vec<String> = brief.lines().iter().map(|line| line.name().to_string()).collect();
        let parts = [(names[first].as_str(), Exact::from(one)), (names[second].as_str(), Exact::from(other))];
        let parts: Vec<(&str, &Exact)> = parts.iter().map(|(name, part)| (*name, part)).collect();
        brief = brief.split("pair", SplitBasis::Weight, parts.iter().cloned()).unwrap();
    }
    let limit = (numbers.below(4) == 0)
        .then(|| (2 + usize::try_from(numbers.below(2)).unwrap(), 1 + usize::try_from(numbers.below(2)).unwrap()));
    if let Some((members, most)) = limit {
        let names: Vec<String> = brief.lines()[..members].iter().map(|line| line.name().to_string()).collect();
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        brief = brief.group("limited", &names).unwrap().at_most_of("limited", most).unwrap();
    }
    let mut ratio = false;
    brief = match numbers.below(5) {
        0 => brief.minimise(Measure::cost()),
        1 => brief.maximise(Measure::anionic_active()),
        2 => {
            let base =
                numbers.pick(&all).iter().map(|count| Ppm::from_percent(&(&step * Exact::from(*count))).unwrap());
            let lines = brief
                .lines()
                .iter()
                .zip(base)
                .map(|(line, percent)| Line::new(line.name(), line.material().clone(), percent).unwrap());
            brief.clone().least_change_from(&Formula::new("Base", lines.collect()).unwrap())
        }
        3 => {
            // A denominator that cannot be 0.
            ratio = (0..lines).all(|line| brings(&brief, line, &Measure::solids()).is_positive());
            if ratio {
                brief.minimise(Measure::cost().per(&Measure::solids()))
            } else {
                brief.minimise(Measure::water())
            }
        }
        _ => brief,
    };
    Case { brief, steps, step, asked, split, limit, ratio }
}

/// The best by cost, then line by line.
fn listed(case: &Case) -> Option<(Exact, Vec<Exact>)> {
    let Case { brief, step, asked, split, limit, ratio, .. } = case;
    let lines = brief.lines().len();
    let cost = Cost::new(brief, ratio.then_some((&Measure::cost(), &Measure::solids())));
    let whole = Exact::hundred().checked_div(step).unwrap().floor_i64().unwrap();
    let mut best: Option<(Exact, Vec<Exact>)> = None;
    for counts in shares(lines, whole) {
        let values: Vec<Exact> = counts.iter().map(|count| step * Exact::from(*count)).collect();
        let in_ranges = brief.lines().iter().zip(&values).all(|(line, value)| {
            let (low, high) = line.role().range();
            let dosed = match line.role() {
                Role::AbsentOrBetween(least, _) => value.is_zero() || *value >= least.percent(),
                _ => true,
            };
            dosed && *value >= low.percent() && *value <= high.percent()
        });
        let few = limit
            .is_none_or(|(members, most)| values[..members].iter().filter(|value| value.is_positive()).count() <= most);
        let met = asked.iter().all(|Asked { brings, low, high }| {
            let value = mean(brings, &values);
            low.as_ref().is_none_or(|low| value >= *low) && high.as_ref().is_none_or(|high| value <= *high)
        });
        let divided = split.is_none_or(|(first, second, one, other)| {
            &values[first] * Exact::from(other) == &values[second] * Exact::from(one)
        });
        if in_ranges && few && met && divided {
            let key = (cost.of(brief, &values), values);
            if best.as_ref().is_none_or(|best| key < *best) {
                best = Some(key);
            }
        }
    }
    best
}

#[test]
fn the_best_of_all_there_are() {
    let (mut found, mut none) = (0, 0);
    for seed in 1..=240 {
        let case = case(seed);
        let outcome = case.brief.try_solve_rounded(&case.steps).unwrap();
        match (listed(&case), outcome) {
            (Some((_, values)), RoundedOutcome::Found(rounded)) => {
                rounded.verify().unwrap_or_else(|error| panic!("case {seed}: {error}"));
                assert!(rounded.is_best(), "case {seed}");
                let percents: Vec<Exact> =
                    rounded.formula().lines().iter().map(|line| line.percent().percent()).collect();
                assert_eq!(percents, values, "case {seed}");
                assert_eq!(rounded.bound(), rounded.objective(), "case {seed}");
                found += 1;
            }
            (None, RoundedOutcome::Unmet(unmet)) => {
                assert!(unmet.is_proved(), "case {seed}");
                unmet.verify().unwrap();
                none += 1;
            }
            (listed, outcome) => panic!("case {seed}: {listed:?} against {outcome:?}"),
        }
    }
    assert!(found >= 80 && none >= 40, "{found} with an answer, {none} without");
}

/// What forbids is named, and the finer step that is named would do.
#[test]
fn what_is_named_forbids_and_would_do() {
    let (mut named, mut dropped) = (0, 0);
    for seed in 1..=240 {
        let case = case(seed);
        let RoundedOutcome::Unmet(unmet) = case.brief.try_solve_rounded(&case.steps).unwrap() else { continue };
        assert!(unmet.is_irreducible(), "case {seed}");
        assert!(!unmet.requirements().is_empty(), "case {seed}");
        // What is named forbids by itself, and without any one of it there is a formula.
        let mut alone = Case { brief: case.brief.clone(), steps: case.steps.clone(), ..parts_of(&case) };
        for words in all_words(&case.brief).iter().filter(|words| !unmet.requirements().contains(words)) {
            let (brief, steps) = without(&alone, words);
            alone = Case { brief, steps, ..alone };
        }
        assert!(
            matches!(alone.brief.try_solve_rounded(&alone.steps).unwrap(), RoundedOutcome::Unmet(_)),
            "case {seed}"
        );
        for words in unmet.requirements() {
            let (brief, steps) = without(&alone, words);
            brief
                .solve_rounded(&steps)
                .unwrap_or_else(|error| panic!("case {seed} without {words}: {error}"))
                .verify()
                .unwrap();
            dropped += 1;
        }
        if let Some(finer) = unmet.finer_step() {
            let mut steps = Steps::of(finer).unwrap();
            for name in case.brief.requirements().iter().map(Requirement::name) {
                if let Some(Tolerance::Within(tolerance)) = case.steps.tolerance(&name) {
                    steps = steps.within(&name, tolerance).unwrap();
                }
            }
            case.brief.solve_rounded(&steps).unwrap().verify().unwrap();
            named += 1;
        }
    }
    assert!(named >= 5 && dropped >= 60, "{named} {dropped}");
}

/// What a brief asks for, each in words.
fn all_words(brief: &Brief) -> Vec<String> {
    let lines = brief.lines().iter().filter(|line| !matches!(line.role(), Role::Free | Role::Qs));
    let lines = lines.map(|line| format!("line {}, {}", line.name(), line.role().words()));
    let others = brief
        .requirements()
        .iter()
        .map(Requirement::name)
        .chain(brief.splits().iter().map(|split| format!("split {}", split.name())));
    lines.chain(others).chain(brief.at_most_of_groups().iter().map(|limit| limit.words())).collect()
}

fn parts_of(case: &Case) -> Case {
    let Case { brief, steps, step, split, limit, ratio, .. } = case;
    Case {
        brief: brief.clone(),
        steps: steps.clone(),
        step: step.clone(),
        asked: Vec::new(),
        split: *split,
        limit: *limit,
        ratio: *ratio,
    }
}

/// The case without a requirement, its split, its limit or a line's range, built anew from what is public.
fn without(case: &Case, words: &str) -> (Brief, Steps) {
    let mut brief = Brief::new("Case", &Catalogue::starter()).unwrap().with_prices(&prices()).unwrap();
    for line in case.brief.lines() {
        let gone = words == format!("line {}, {}", line.name(), line.role().words());
        let role = if gone { Role::Free } else { line.role().clone() };
        brief = brief.line(BriefLine::new(line.name(), line.material().clone(), role).unwrap()).unwrap();
    }
    for split in case.brief.splits().iter().filter(|split| words != format!("split {}", split.name())) {
        let parts: Vec<(&str, &Exact)> = split.parts().iter().map(|(line, part)| (line.as_str(), part)).collect();
        brief = brief.split(split.name(), split.basis(), parts.iter().cloned()).unwrap();
    }
    let mut steps = Steps::of(&case.step).unwrap();
    for asked in case.brief.requirements().iter().filter(|asked| asked.name() != words) {
        brief = brief.require(asked.clone()).unwrap();
        if let Some(Tolerance::Within(tolerance)) = case.steps.tolerance(&asked.name()) {
            steps = steps.within(&asked.name(), tolerance).unwrap();
        }
    }
    for limit in case.brief.at_most_of_groups().iter().filter(|limit| limit.words() != words) {
        let names: Vec<&str> = case
            .brief
            .lines()
            .iter()
            .filter(|line| line.groups().iter().any(|group| group == limit.group()))
            .map(|line| line.name())
            .collect();
        brief = brief.group(limit.group(), &names).unwrap().at_most_of(limit.group(), limit.most()).unwrap();
    }
    (brief, steps)
}

/// Cut off early, the bound still holds, and a found formula is no better than the best and within the gap.
#[test]
fn a_search_cut_off_states_a_bound_that_holds() {
    let mut cut = 0;
    for seed in 1..=240 {
        let case = case(seed);
        let RoundedOutcome::Found(best) = case.brief.try_solve_rounded(&case.steps).unwrap() else { continue };
        for nodes in [1, 3, 5, 9] {
            match case.brief.try_solve_rounded(&case.steps.clone().up_to_nodes(nodes).unwrap()).unwrap() {
                RoundedOutcome::Found(rounded) => {
                    rounded.verify().unwrap();
                    if let (Some(bound), Some(objective), Some(least)) =
                        (rounded.bound(), rounded.objective(), best.objective())
                    {
                        let (worse, beyond) = if *objective >= *bound {
                            (objective >= least, bound <= least)
                        } else {
                            (objective <= least, bound >= least)
                        };
                        assert!(worse && beyond, "case {seed}: {bound} {objective} {least}");
                        assert!((objective - bound).abs() == *rounded.gap(), "case {seed}");
                    }
                    cut += usize::from(!rounded.is_best());
                }
                RoundedOutcome::Unmet(unmet) => {
                    assert!(!unmet.is_proved(), "case {seed}");
                    assert!(unmet.verify().is_err());
                    assert!(unmet.sentence().contains("there may be one"));
                }
            }
        }
    }
    assert!(cut >= 3, "{cut}");
}
