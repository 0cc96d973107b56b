//! Choices against every subset of the lines that may be absent, each solved as a plain brief.

use tenside::brief::{Brief, BriefLine, Role};
use tenside::catalogue::Catalogue;
use tenside::document::Notation;
use tenside::measure::Measure;
use tenside::number::{Exact, Ppm};
use tenside::solve::{ChoiceOutcome, Outcome};

use super::small::{Numbers, prices};

const SURFACTANTS: [&str; 6] =
    ["sci-powder", "scs-needles", "capb-30", "coco-glucoside-50", "stearic-acid", "cetyl-alcohol"];

/// The lines' roles, and of the first so many lines at most so many present.
type Question = (Vec<(&'static str, Role)>, usize, usize);

fn question(numbers: &mut Numbers) -> Question {
    let lines = usize::try_from(3 + numbers.below(4)).unwrap();
    let percent = |value: i64| Ppm::from_percent(value).unwrap();
    let mut roles = Vec::new();
    for id in SURFACTANTS.iter().take(lines) {
        let low = 2 + numbers.below(20);
        let (low, high) = (percent(low), percent(low + numbers.below(40)));
        roles.push((
            *id,
            if numbers.below(4) == 0 { Role::between(Ppm::ZERO, high) } else { Role::absent_or_between(low, high) }
                .unwrap(),
        ));
    }
    (
        roles,
        2 + usize::try_from(numbers.below(lines as u64 - 1)).unwrap(),
        1 + usize::try_from(numbers.below(2)).unwrap(),
    )
}

fn asked(numbers: &mut Numbers) -> impl Fn(Brief) -> Brief + use<> {
    let (active, water, kind) = (10 + numbers.below(45), 2 + numbers.below(25), numbers.below(3));
    move |brief: Brief| {
        let brief = brief
            .at_least(Measure::active_matter(), Exact::from(active))
            .unwrap()
            .at_most(Measure::water(), Exact::from(water))
            .unwrap();
        match kind {
            0 => brief.minimise(Measure::cost()),
            1 => brief.maximise(Measure::anionic_active()),
            _ => brief.minimise(Measure::cost().per(&Measure::active_matter())),
        }
    }
}

fn brief(roles: &[(&str, Role)]) -> Brief {
    let catalogue = Catalogue::starter();
    let mut brief = Brief::new("Choice", &catalogue).unwrap().with_prices(&prices()).unwrap();
    for (id, role) in roles {
        brief = brief.line(BriefLine::new(id, catalogue.material(id).unwrap().clone(), role.clone()).unwrap()).unwrap();
    }
    brief.qs("kaolin").unwrap()
}

/// The best over all subsets: objective (the less the better), then lines in order.
fn over_subsets(
    roles: &[(&'static str, Role)],
    members: usize,
    most: usize,
    ask: &dyn Fn(Brief) -> Brief,
    sign: &Exact,
) -> Option<(Exact, Vec<Exact>)> {
    let mut best: Option<(Exact, Vec<Exact>)> = None;
    for subset in 0..1u32 << roles.len() {
        let present = |index: usize| subset >> index & 1 == 1;
        if (0..members).filter(|index| present(*index)).count() > most {
            continue;
        }
        let plain = roles.iter().enumerate().map(|(index, (id, role))| {
            let role = match (present(index), role) {
                (true, Role::AbsentOrBetween(low, high)) => Role::Between(*low, *high),
                (true, role) => role.clone(),
                (false, _) => Role::Fixed(Ppm::ZERO),
            };
            (*id, role)
        });
        let Outcome::Answered(answer) = ask(brief(&plain.collect::<Vec<_>>())).try_solve().unwrap() else { continue };
        answer.verify().unwrap();
        let key = (answer.objective().unwrap() * sign, answer.exact().to_vec());
        if best.as_ref().is_none_or(|best| key < *best) {
            best = Some(key);
        }
    }
    best
}

#[test]
fn the_best_of_all_subsets() {
    let (mut made, mut none, mut binding) = (0, 0, 0);
    for seed in 1..=60 {
        let mut numbers = Numbers::new(seed);
        let (roles, members, most) = question(&mut numbers);
        let ask = asked(&mut numbers);
        let plain = ask(brief(&roles));
        let names: Vec<&str> = roles[..members].iter().map(|(id, _)| *id).collect();
        let limited = plain.group("co-surfactants", &names).unwrap().at_most_of("co-surfactants", most).unwrap();
        let maximises = limited.objective().unwrap().words().starts_with("maximise");
        let sign = if maximises { Exact::from(-1) } else { Exact::ONE };
        match (over_subsets(&roles, members, most, &ask, &sign), limited.try_choose(4000).unwrap()) {
            (Some((objective, values)), ChoiceOutcome::Made(choice)) => {
                choice.verify().unwrap_or_else(|error| panic!("case {seed}: {error}"));
                assert!(choice.is_best(), "case {seed}");
                assert_eq!(choice.objective().map(|found| found * &sign), Some(objective), "case {seed}");
                assert_eq!(choice.exact(), values, "case {seed}");
                let again = choice.chosen_brief().solve().unwrap();
                assert_eq!(again.exact(), choice.exact(), "case {seed}");
                binding += usize::from(choice.nodes() > 1);
                let formula = choice.formula().unwrap();
                assert!(names.iter().filter(|name| !formula.line(name).unwrap().percent().is_zero()).count() <= most);
                let water =
                    formula.measure(&Measure::water(), &tenside::measure::Basis::AsCharged).unwrap().value.unwrap();
                assert!(water.typical.as_ref() <= limited.requirements()[1].high());
                made += 1;
            }
            (None, ChoiceOutcome::Unmet(unmet)) => {
                assert!(unmet.is_proved() && unmet.is_irreducible(), "case {seed}");
                unmet.verify().unwrap();
                none += 1;
            }
            (listed, outcome) => panic!("case {seed}: {listed:?} against {outcome:?}"),
        }
    }
    assert!(made >= 20 && none >= 5 && binding >= 10, "{made} made, {none} without, {binding} branched");
}

#[test]
fn a_choice_stands_in_documents() {
    let text = r#"
        tenside = "brief/1"
        title = "One of two"
        line = [
            { material = "capb-30", low = 5, high = 20, or_absent = true, groups = ["co-surfactants"] },
            { material = "coco-glucoside-50", low = 5, high = 20, or_absent = true, groups = ["co-surfactants"] },
            { material = "kaolin", qs = true },
        ]
        at_most_of = [{ group = "co-surfactants", lines = 1 }]
        requirement = [{ measure = "active-matter", at_least = 4 }]
        objective = { direction = "minimise", measure = "water" }
    "#;
    let brief = Brief::read(text, Notation::Toml, &Catalogue::starter()).unwrap();
    let choice = brief.choose().unwrap();
    assert_eq!(choice.present(), ["coco-glucoside-50", "kaolin"]);
    assert_eq!(choice.absent(), ["capb-30"]);
    assert!(choice.page(&[tenside::measure::Basis::AsCharged]).unwrap().text(200).contains("No choice is better"));
    for notation in [Notation::Toml, Notation::Json] {
        assert_eq!(
            Brief::read(
                &brief.write(notation, tenside::document::Materials::Embedded).unwrap(),
                notation,
                &Catalogue::empty()
            )
            .unwrap(),
            brief
        );
    }
    let faulty = text
        .replace("lines = 1", "lines = 3")
        .replace("low = 5, high = 20, or_absent = true, groups = [\"co", "or_absent = true, groups = [\"co");
    let error = Brief::read(&faulty, Notation::Toml, &Catalogue::starter()).unwrap_err().to_string();
    assert!(error.contains("needs the least dose"), "{error}");
    let error = Brief::read(&text.replace("lines = 1", "lines = 3"), Notation::Toml, &Catalogue::starter())
        .unwrap_err()
        .to_string();
    assert!(error.contains("1 to 2 lines"), "{error}");
}

#[test]
fn a_choice_that_cannot_be_made_is_named() {
    let brief = Brief::new("Too few", &Catalogue::starter())
        .unwrap()
        .absent_or_between("sci-powder", 5, 30)
        .unwrap()
        .absent_or_between("scs-needles", 5, 30)
        .unwrap()
        .group("wash", &["sci-powder", "scs-needles"])
        .unwrap()
        .at_most_of("wash", 1)
        .unwrap()
        .qs("kaolin")
        .unwrap()
        .at_least(Measure::active_matter(), 40)
        .unwrap();
    let ChoiceOutcome::Unmet(unmet) = brief.try_choose(4000).unwrap() else {
        panic!("30 % of one powder brings no 40 %")
    };
    unmet.verify().unwrap();
    assert!(unmet.is_answerable_without());
    assert!(unmet.requirements().contains(&"at most 1 of wash".to_string()), "{unmet}");
    assert!(unmet.requirements().contains(&"active matter at least 40 %".to_string()), "{unmet}");
    assert_eq!(unmet.finer_step(), None);
    let error = brief.choose().unwrap_err();
    assert!(error.is_contradiction(), "{error}");
    assert_eq!((unmet.remedy().as_str(), unmet.node_limit()), ("loosen one of them", 4000));
    assert!(brief.try_choose(0).unwrap_err().is_out_of_range(), "a search of nothing decides nothing");
    let hopeless = brief.at_least(Measure::active_matter(), 99).unwrap();
    let ChoiceOutcome::Unmet(unmet) = hopeless.try_choose(4000).unwrap() else { panic!("no powder is that strong") };
    assert!(unmet.sentence().ends_with("no other choice would do, the brief itself cannot be answered"), "{unmet}");
}

/// Cut off early, a choice says by how much another could be better; the best is within that.
#[test]
fn a_choice_cut_off_states_a_bound_that_holds() {
    let mut cut = 0;
    for seed in 1..=60 {
        let mut numbers = Numbers::new(seed);
        let (roles, members, most) = question(&mut numbers);
        let names: Vec<&str> = roles[..members].iter().map(|(id, _)| *id).collect();
        let brief = asked(&mut numbers)(brief(&roles))
            .group("co-surfactants", &names)
            .unwrap()
            .at_most_of("co-surfactants", most)
            .unwrap();
        let ChoiceOutcome::Made(best) = brief.try_choose(4000).unwrap() else { continue };
        for nodes in [1, 3, 5] {
            let ChoiceOutcome::Made(choice) = brief.try_choose(nodes).unwrap() else { continue };
            choice.verify().unwrap();
            assert_eq!(choice.node_limit(), nodes);
            let (found, bound, best) =
                (choice.objective().unwrap(), choice.bound().unwrap(), best.objective().unwrap());
            assert_eq!((found - bound).abs(), *choice.gap(), "case {seed}");
            assert!((found - best).abs() <= *choice.gap() && (best - bound).abs() <= *choice.gap(), "case {seed}");
            assert_eq!(choice.is_best(), choice.gap().is_zero());
            cut += usize::from(!choice.is_best());
        }
    }
    assert!(cut > 0);
}
