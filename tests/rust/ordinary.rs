//! What is said of ordinary briefs.

use tenside::brief::{Role, SplitBasis};
use tenside::measure::Basis;
use tenside::solve::Outcome;

use crate::support::{Random, Shelf};

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
            ("a range", requirements.iter().any(|asked| asked.low().is_some() && asked.high().is_some() && asked.low() != asked.high())),
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
