//! What is said of ordinary briefs. `cargo xtask oracle --cases N` draws N of them.

use tenside::brief::{Brief, Parameter, Role, SplitBasis};
use tenside::measure::{Basis, Measure};
use tenside::number::Exact;
use tenside::solve::{Conflict, Constraint, End, Outcome, Relaxation};

use crate::support::{Random, Shelf, exact};

fn cases() -> u64 {
    std::env::var("TENSIDE_ORACLE_CASES").map_or(600, |cases| cases.parse().unwrap())
}

/// Without this the other tests of ordinary briefs could pass by drawing none of a kind.
#[test]
fn ordinary_briefs_are_of_every_kind() {
    let shelf = Shelf::new();
    let mut counts = std::collections::BTreeMap::<&str, usize>::new();
    for seed in 0..600 {
        let brief = shelf.brief(&mut Random::new(seed));
        let requirements = brief.requirements();
        let kinds = [
            ("q.s.", brief.lines().iter().any(|line| line.role() == &Role::Qs)),
            ("a line twice", brief.lines().iter().any(|line| line.name().ends_with(" on top"))),
            ("by weight", brief.splits().iter().any(|split| split.basis() == SplitBasis::Weight)),
            ("by active", brief.splits().iter().any(|split| split.basis() == SplitBasis::Active)),
            ("by mole", brief.splits().iter().any(|split| split.basis() == SplitBasis::Mole)),
            ("two splits", brief.splits().len() > 1),
            ("a target", requirements.iter().any(|asked| asked.low() == asked.high())),
            (
                "a range",
                requirements
                    .iter()
                    .any(|asked| asked.low().is_some() && asked.high().is_some() && asked.low() != asked.high()),
            ),
            ("a ratio", requirements.iter().any(|asked| asked.measure().is_ratio())),
            ("a finished basis", requirements.iter().any(|asked| asked.basis() != &Basis::AsCharged)),
            ("for every composition", requirements.iter().any(|asked| asked.is_for_every_composition())),
            ("stock", requirements.iter().any(|asked| asked.name().ends_with("is not in stock"))),
        ];
        for (kind, there) in kinds {
            *counts.entry(kind).or_default() += usize::from(there);
        }
        let outcome = match brief.try_solve() {
            Ok(Outcome::Answered(_)) => "answered",
            Ok(Outcome::Conflict(_)) => "a conflict",
            Err(_) => "not to be asked",
        };
        *counts.entry(outcome).or_default() += 1;
    }
    let few: Vec<_> = counts.iter().filter(|(_, count)| **count < 10).collect();
    assert!(few.is_empty() || few == [(&"not to be asked", &counts["not to be asked"])], "{counts:?}");
    assert!(counts["answered"] >= 100 && counts["a conflict"] >= 100, "{counts:?}");
}

fn answered(brief: &Brief) -> bool {
    match brief.try_solve() {
        Ok(outcome) => matches!(outcome, Outcome::Answered(_)),
        // The objective divides by what may be nothing, so there are formulas and no best one.
        Err(error) => error.is_unsupported() && brief.reach(&Measure::water(), &Basis::AsCharged).is_ok(),
    }
}

/// The brief with one limit at another value, as its user would type it.
fn with_limit(brief: &Brief, constraint: &Constraint, value: &Exact) -> Brief {
    let parameter = match constraint {
        Constraint::Line { name, end: End::Low, .. } => Parameter::Lowest(name.clone()),
        Constraint::Line { name, end: End::High, .. } => Parameter::Highest(name.clone()),
        Constraint::Line { name, end: End::Both, .. } => Parameter::Fixed(name.clone()),
        Constraint::Requirement { name, end: End::Low, .. } => Parameter::AtLeast(name.clone()),
        Constraint::Requirement { name, end: End::High, .. } => Parameter::AtMost(name.clone()),
        Constraint::Requirement { name, end: End::Both, .. } => Parameter::Target(name.clone()),
        Constraint::Split { name, member, .. } => Parameter::part(name, member),
        other => panic!("{other} has no value"),
    };
    match brief.with_parameter(&parameter, value) {
        Ok(turned) => turned,
        // It is asked for already.
        Err(error) if error.is_duplicate() => brief.clone().drop_requirement(constraint.name().unwrap()).unwrap(),
        Err(error) => panic!("{constraint} at {value}: {error}"),
    }
}

/// What a sentence says can be done: briefs in which it is done, and the number nearest to the limit as it was.
fn followed(brief: &Brief, change: &Relaxation) -> (Vec<Brief>, Exact) {
    let sentence = change.sentence();
    let with = |value: &Exact| with_limit(brief, &change.constraint, value);
    if let Some(range) = sentence.strip_prefix(&format!("give {} a range from ", change.words)) {
        let (low, high) = range.split_once(" to ").unwrap();
        let [low, high] = [exact(low), exact(high.strip_suffix(" %").unwrap())];
        let role = Role::between(&low, &high).unwrap();
        let nearest = if change.upwards() { high } else { low };
        return (vec![brief.clone().change_line(change.constraint.name().unwrap(), role).unwrap()], nearest);
    }
    let verb = if change.upwards() { "raise" } else { "lower" };
    let said = sentence.strip_prefix(&format!("{verb} {} to ", change.words)).unwrap_or_else(|| panic!("{sentence}"));
    // The first word is a number; what follows is its unit.
    let number = |text: &str| exact(text.split(' ').next().unwrap());
    if let Some(only) = said.strip_prefix("exactly ") {
        return (vec![with(&number(only))], number(only));
    }
    if let Some(between) = said.strip_prefix("between ") {
        let (low, high) = between.split_once(" and ").unwrap();
        let (low, high) = (exact(low), number(high));
        assert!(low < high, "{sentence}");
        let middle = ((&low + &high) / Exact::from(2)).floor_to(&Exact::ratio(1, 10_000));
        let inside = if middle < low { low.clone() } else { middle };
        return ([&low, &inside, &high].map(with).to_vec(), if change.upwards() { low } else { high });
    }
    let nearest = number(said);
    let mut done = vec![with(&nearest)];
    let (lowest, highest) = match change.constraint {
        Constraint::Line { .. } => (Exact::ZERO, Exact::hundred()),
        Constraint::Split { .. } => (Exact::ratio(1, 1000), Exact::from(1_000_000)),
        _ => (Exact::from(-1_000), Exact::from(1_000)),
    };
    let farther = if said.ends_with(" or more") {
        [&nearest + Exact::ratio(1, 1000), &nearest + Exact::from(7), highest.clone()]
            .map(|more| more.min(highest.clone()))
            .to_vec()
    } else if said.ends_with(" or less") {
        [&nearest - Exact::ratio(1, 1000), &nearest - Exact::from(7), lowest.clone()]
            .map(|less| less.max(lowest.clone()))
            .to_vec()
    } else {
        Vec::new()
    };
    done.extend(farther.iter().map(with));
    (done, nearest)
}

#[derive(Debug, Default)]
struct Followed {
    briefs: u64,
    conflicts: usize,
    sentences: usize,
    exactly: usize,
    between: usize,
    given_a_range: usize,
    tried: usize,
    tried_short: usize,
    without_any: usize,
    left_out: usize,
}

fn follow(conflict: &Conflict, seed: u64, found: &mut Followed) {
    let brief = conflict.brief();
    found.conflicts += 1;
    assert!(!conflict.members().is_empty(), "seed {seed}");
    let changes: Vec<Relaxation> = conflict.relaxations().unwrap().into_iter().flatten().collect();
    for change in &changes {
        let sentence = change.sentence();
        found.sentences += 1;
        found.exactly += usize::from(sentence.contains(" to exactly "));
        found.between += usize::from(sentence.contains(" to between "));
        found.given_a_range += usize::from(sentence.starts_with("give "));
        let (done, nearest) = followed(brief, change);
        for brief in &done {
            assert!(answered(brief), "seed {seed}: {sentence}");
            found.tried += 1;
        }
        let off = (&nearest - &change.to).abs();
        // Four digits and two decimals, or the decimals of the grid.
        let most = match change.constraint {
            Constraint::Line { .. } => Exact::ratio(1, 10_000),
            _ => Exact::ratio(1, 100).min(change.to.abs() / Exact::from(1000)),
        };
        assert!(off <= most, "seed {seed}: {sentence}, to {}", change.to);
        // A hair short of it is not enough; a line's percentage stands on the grid, so there it is the last one before.
        let hair = Exact::ratio(1, 1_000_000_000);
        let grid = Exact::ratio(1, 10_000);
        let short = match (&change.constraint, change.upwards()) {
            (Constraint::Line { .. }, true) => -(-&change.to).floor_to(&grid) - &grid,
            (Constraint::Line { .. }, false) => change.to.floor_to(&grid) + &grid,
            (_, true) => &change.to - &hair,
            (_, false) => &change.to + &hair,
        };
        if (short > change.from) == change.upwards() && short != change.from {
            assert!(!answered(&with_limit(brief, &change.constraint, &short)), "seed {seed}: short of {sentence}");
            found.tried_short += 1;
        }
        if let (Some(until), Constraint::Requirement { .. }) = (&change.until, &change.constraint) {
            let past = if change.upwards() { until + hair } else { until - hair };
            assert!(!answered(&with_limit(brief, &change.constraint, &past)), "seed {seed}: past {sentence}");
        }
    }
    let left_out = conflict.correction_set().unwrap();
    assert!(!left_out.is_empty(), "seed {seed}");
    found.without_any += usize::from(changes.is_empty());
    found.left_out += usize::from(left_out.len() > 1);
    let mut rest = brief.clone();
    for constraint in &left_out {
        rest = match constraint {
            Constraint::Line { name, .. } => rest.change_line(name, Role::Free).unwrap(),
            // Two members of one split, or two ends of one requirement, go at once.
            Constraint::Split { name, .. } => rest.clone().drop_split(name).unwrap_or(rest),
            Constraint::Requirement { name, .. } => rest.clone().drop_requirement(name).unwrap_or(rest),
            // No other basis keeps any.
            Constraint::WaterToKeep { .. } => {
                let finished: Vec<String> = rest
                    .requirements()
                    .iter()
                    .filter(|asked| asked.basis() != &Basis::AsCharged)
                    .map(|asked| asked.name())
                    .collect();
                finished.iter().fold(rest, |rest, name| rest.drop_requirement(name).unwrap()).with_objective(None)
            }
            other => panic!("seed {seed}: {other} is given"),
        };
    }
    assert!(answered(&rest), "seed {seed}: without {left_out:?}");
}

/// What a conflict says would do does, done as it is said; less does not.
#[test]
fn whoever_does_what_a_conflict_says_gets_an_answer() {
    let shelf = Shelf::new();
    let mut found = Followed { briefs: cases(), ..Followed::default() };
    for seed in 0..found.briefs {
        if let Ok(Outcome::Conflict(conflict)) = shelf.brief(&mut Random::new(seed)).try_solve() {
            follow(&conflict, seed, &mut found);
        }
    }
    println!("{found:?}");
    let enough = usize::try_from(found.briefs / 100).unwrap();
    for count in [
        found.conflicts,
        found.sentences,
        found.exactly,
        found.between,
        found.tried,
        found.tried_short,
        found.without_any,
        found.left_out,
    ] {
        assert!(count > enough, "{found:?}");
    }
}
