//! Briefs that are odd, and briefs that are large: answered with a proof, or refused in words.

use std::time::{Duration, Instant};

use rust_decimal::Decimal;
use tenside::brief::{Brief, Requirement, SplitBasis};
use tenside::catalogue::{Catalogue, PriceList};
use tenside::document::Notation;
use tenside::measure::{Basis, Measure, Scope};
use tenside::number::Exact;
use tenside::solve::{Answer, Conflict, Outcome};

use crate::support::exact;

fn brief() -> Brief {
    Brief::new("Hard", &Catalogue::starter()).unwrap()
}

#[track_caller]
fn answered(brief: &Brief) -> Answer {
    let answer = brief.solve().unwrap();
    answer.verify().unwrap();
    answer
}

/// The conflict, verified; without any one of its members the others can be met.
#[track_caller]
fn conflict(brief: &Brief) -> Conflict {
    let Outcome::Conflict(conflict) = brief.try_solve().unwrap() else { panic!("it is answered") };
    conflict.verify().unwrap();
    for left_out in conflict.members() {
        let rest: Vec<String> = conflict.members().into_iter().filter(|words| *words != left_out).collect();
        let gone: Vec<String> = brief
            .requirements()
            .iter()
            .map(Requirement::name)
            .filter(|name| !rest.contains(name))
            .chain([left_out])
            .collect();
        crate::support::loosened(brief, &gone).solve().unwrap();
    }
    *conflict
}

#[test]
fn holds_that_contradict_each_other() {
    let over = brief().fix("sci-powder", 70).unwrap().fix("kaolin", "30.0001").unwrap().free("water").unwrap();
    assert_eq!(conflict(&over).members(), ["line sci-powder fixed at 70 %", "line kaolin fixed at 30.0001 %"]);
    let under = brief().fix("sci-powder", 70).unwrap().fix("kaolin", 20).unwrap();
    assert_eq!(conflict(&under).members().len(), 2);
    let just = brief().fix("sci-powder", 70).unwrap().fix("kaolin", 30).unwrap().free("water").unwrap();
    assert_eq!(answered(&just).exact_percent("water"), Some(&Exact::ZERO));
    // Held lines against the split that they are in.
    let split = |second: i32| {
        let held = brief().fix("sci-powder", 20).unwrap().fix("scs-needles", second).unwrap().qs("kaolin").unwrap();
        held.split("wash", SplitBasis::Weight, [("sci-powder", 4), ("scs-needles", 1)]).unwrap()
    };
    answered(&split(5));
    assert_eq!(conflict(&split(6)).members().len(), 4);
    // Two values for one measure, by different words.
    let twice = brief().free("sci-powder").unwrap().qs("kaolin").unwrap().target(Measure::active_matter(), 40).unwrap();
    let twice = twice
        .require(Requirement::equal(Measure::active_matter(), exact("40.0001")).unwrap().named("and again").unwrap())
        .unwrap();
    assert_eq!(conflict(&twice).members().len(), 2);
}

/// A measure to which no line brings anything is a row of zeros.
#[test]
fn requirements_to_which_nothing_contributes() {
    let powders = || brief().free("kaolin").unwrap().qs("corn-starch").unwrap();
    let nothing = || Measure::constituent("PANTHENOL").unwrap();
    for fine in [
        Requirement::at_most(nothing(), Exact::ZERO).unwrap(),
        Requirement::at_least(nothing(), Exact::ZERO).unwrap(),
        Requirement::equal(nothing(), Exact::ZERO).unwrap(),
    ] {
        answered(&powders().require(fine.clone()).unwrap().minimise(Measure::water()));
        answered(&powders().require(fine.for_every_composition()).unwrap());
    }
    for wanting in
        [Requirement::at_least(nothing(), exact("0.0001")).unwrap(), Requirement::equal(nothing(), Exact::ONE).unwrap()]
    {
        let conflict = conflict(&powders().require(wanting.clone()).unwrap());
        assert_eq!(conflict.members(), [wanting.name()]);
        assert!(conflict.relaxations().unwrap()[0].as_ref().is_some_and(|change| change.to.is_zero()));
    }
    // As objective it leaves the order of the lines to decide.
    assert_eq!(answered(&powders().minimise(nothing())).exact_percent("kaolin"), Some(&Exact::ZERO));
    // Both sides of a ratio.
    let ratio = nothing().per(&Measure::active_matter());
    answered(&powders().at_most(ratio.clone(), 1).unwrap());
    assert!(powders().minimise(ratio).solve().unwrap_err().is_unsupported());
}

#[test]
fn requirements_that_stand_twice() {
    let wash = || {
        brief().free("sci-powder").unwrap().free("capb-30").unwrap().qs("kaolin").unwrap().minimise(Measure::water())
    };
    let once = wash().at_least(Measure::active_matter(), 30).unwrap();
    let mut many = once.clone();
    for copy in 0..12 {
        many = many
            .require(
                Requirement::at_least(Measure::active_matter(), Exact::from(30))
                    .unwrap()
                    .named(&format!("copy {copy}"))
                    .unwrap(),
            )
            .unwrap();
    }
    let (first, second) = (answered(&once), answered(&many));
    assert_eq!((first.exact(), first.objective()), (second.exact(), second.objective()));
    assert_eq!(second.binding().iter().filter(|binding| binding.words.starts_with("copy")).count(), 12);
    // In a conflict only one of them is named.
    let too_much = many.at_most(Measure::active_matter(), 25).unwrap();
    let conflict = conflict(&too_much);
    assert_eq!(conflict.members().len(), 2, "{}", conflict.sentence());
}

#[test]
fn ratios_of_one_to_a_billion() {
    for (small, large, by) in [("0.001", "1000000", SplitBasis::Weight), ("0.001", "1000000", SplitBasis::Active)] {
        for parts in [[("sci-powder", small), ("capb-30", large)], [("sci-powder", large), ("capb-30", small)]] {
            let split = brief()
                .split("wash", by, parts.iter().cloned())
                .unwrap()
                .qs("kaolin")
                .unwrap()
                .at_least(Measure::active_matter(), 20)
                .unwrap();
            let answer = answered(&split.minimise(Measure::water()));
            let [amount, other] = parts.map(|(line, _)| {
                let share = if by == SplitBasis::Weight { Exact::ONE } else { split_share(line) };
                answer.exact_percent(line).unwrap() * share
            });
            assert_eq!(amount * exact(parts[1].1), other * exact(parts[0].1));
        }
    }
    // As a limit of a ratio of measures, where the limit is a number like any other.
    let wash = || {
        brief()
            .free("sci-powder")
            .unwrap()
            .free("capb-30")
            .unwrap()
            .qs("kaolin")
            .unwrap()
            .at_least(Measure::active_matter(), 20)
            .unwrap()
    };
    let ratio = Measure::water().per(&Measure::active_matter());
    let far = answered(&wash().at_most(ratio.clone(), "1e9").unwrap().maximise(Measure::water()));
    assert_eq!(far.exact(), answered(&wash().maximise(Measure::water())).exact());
    let near = conflict(&wash().at_most(ratio.clone(), "1e-9").unwrap());
    assert!(
        near.relaxations()
            .unwrap()
            .iter()
            .flatten()
            .any(|change| change.from == exact("1e-9") && change.to > exact("1e-9"))
    );
    assert!(conflict(&wash().at_least(ratio, "1e9").unwrap()).members().len() > 1);
}

fn split_share(line: &str) -> Exact {
    Catalogue::starter().material(line).unwrap().active().unwrap().percent() / Exact::hundred()
}

#[test]
fn targets_of_nothing_and_of_everything() {
    let wash = || brief().free("sci-powder").unwrap().free("kaolin").unwrap().qs("water").unwrap();
    let none = answered(&wash().target(Measure::active_matter(), 0).unwrap());
    assert_eq!(none.exact_percent("sci-powder"), Some(&Exact::ZERO));
    let all = conflict(&wash().target(Measure::active_matter(), 100).unwrap());
    assert!(all.relaxations().unwrap().iter().flatten().any(|change| change.to < Exact::hundred()));
    assert_eq!(
        answered(&wash().target(Measure::water(), 100).unwrap()).exact_percent("water"),
        Some(&Exact::hundred())
    );
    assert_eq!(
        answered(&wash().target(Measure::as_supplied(), 100).unwrap().maximise(Measure::water()))
            .exact_percent("water"),
        Some(&Exact::hundred())
    );
    assert_eq!(conflict(&wash().target(Measure::as_supplied(), 0).unwrap()).members().len(), 1);
    assert_eq!(
        answered(&brief().fix("kaolin", 0).unwrap().qs("water").unwrap()).exact_percent("water"),
        Some(&Exact::hundred())
    );
    assert_eq!(
        answered(&brief().fix("kaolin", 100).unwrap().qs("water").unwrap()).exact_percent("water"),
        Some(&Exact::ZERO)
    );
    assert!(conflict(&wash().target(Measure::water(), "100.0001").unwrap()).members().len() == 1);
    assert!(conflict(&wash().target(Measure::water(), "-0.0001").unwrap()).members().len() == 1);
}

#[test]
fn prices_of_nothing_and_below() {
    let priced = |powder: &str, clay: &str, water: &str| {
        let prices = [("sci-powder", powder), ("kaolin", clay), ("water", water)]
            .map(|(id, price)| (id.to_string(), price.parse::<Decimal>().unwrap()));
        let brief = brief().with_prices(&PriceList::new("EUR", prices).unwrap()).unwrap();
        brief
            .between("sci-powder", 10, 60)
            .unwrap()
            .between("kaolin", 5, 50)
            .unwrap()
            .qs("water")
            .unwrap()
            .minimise(Measure::cost())
    };
    // All for nothing: the order of the lines decides.
    let free = answered(&priced("0", "0", "0"));
    assert_eq!((free.objective(), free.exact()), (Some(&Exact::ZERO), &[10, 5, 85].map(Exact::from)[..]));
    // Nobody is paid for taking it.
    assert!(PriceList::new("EUR", [("kaolin".to_string(), Decimal::NEGATIVE_ONE)]).unwrap_err().is_out_of_range());
}

#[test]
fn requirements_on_what_is_not_there() {
    let powders = || brief().free("kaolin").unwrap().qs("corn-starch").unwrap();
    for scope in [Scope::lines(["panthenol"]).unwrap(), Scope::group("none").unwrap(), Scope::phase("none").unwrap()] {
        let error =
            powders().at_most(Measure::water().contributed_by(scope.clone()), 1).unwrap().try_solve().unwrap_err();
        assert!(error.is_unknown_name(), "{error}");
        let error = powders().minimise(Measure::water().within(scope.clone())).try_solve().unwrap_err();
        assert!(error.is_unknown_name(), "{error}");
        assert!(
            powders().reach(&Measure::water().contributed_by(scope), &Basis::AsCharged).unwrap_err().is_unknown_name()
        );
    }
    let unpriced = powders().at_most(Measure::cost(), 5).unwrap().try_solve().unwrap_err();
    assert!(unpriced.to_string().contains("price"), "{unpriced}");
}

/// A shelf of ten thousand and a brief of two hundred lines: wider than any width of the search.
#[test]
fn ten_thousand_raw_materials_and_two_hundred_lines() {
    let started = Instant::now();
    let mut text = String::from("tenside = \"catalogue/1\"\nsource = \"invented for this test\"\n");
    for place in 0..10_000 {
        let (active, salt) = (5 + place * 7 % 80, place % 9);
        text.push_str(&format!(
            "[[material]]\nid = \"m-{place}\"\nname = \"Material {place}\"\nform = \"powder\"\nconstituents = [{{ \
             inci = \"SODIUM COCOYL ISETHIONATE\", typical = {active} }}, {{ inci = \"SODIUM CHLORIDE\", typical = \
             {salt} }}, {{ inci = \"WATER\", typical = {} }}]\n",
            100 - active - salt
        ));
    }
    let catalogue = Catalogue::read(&text, Notation::Toml).unwrap();
    assert_eq!(catalogue.materials().count(), 10_000);
    let prices = (0..10_000).map(|place| (format!("m-{place}"), Decimal::new(100 + place * 37 % 900, 2)));
    let mut large =
        Brief::new("Large", &catalogue).unwrap().with_prices(&PriceList::new("EUR", prices).unwrap()).unwrap();
    for place in 0..200 {
        let id = format!("m-{}", place * 50);
        large = match place % 4 {
            0 => large.between(&id, 0, 3).unwrap(),
            1 => large.between(&id, "0.1", 2).unwrap(),
            2 => large.fix(&id, "0.05").unwrap(),
            _ => large.free(&id).unwrap(),
        };
    }
    let large = large
        .at_least(Measure::active_matter(), 45)
        .unwrap()
        .at_most(Measure::class(tenside::substance::Class::Salt), "3.5")
        .unwrap();
    let large = large.at_most(Measure::water(), 50).unwrap().minimise(Measure::cost());
    let answer = answered(&large);
    assert_eq!(answer.exact().iter().sum::<Exact>(), Exact::hundred());
    assert!(answer.formula().is_ok() && answer.binding().len() > 100);
    let impossible = large.at_most(Measure::water(), 10).unwrap();
    let Outcome::Conflict(conflict) = impossible.try_solve().unwrap() else { panic!("so dry is none of them") };
    conflict.verify().unwrap();
    // The time only tells work that grows with the square of the shelf: it would be hours.
    assert!(started.elapsed() < Duration::from_secs(300), "{:?}", started.elapsed());
}
