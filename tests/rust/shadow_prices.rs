//! Shadow prices in plain units: signed as at least, at most, minimise and maximise ask, and true when the limit is
//! moved.

use tenside::brief::{Brief, Parameter};
use tenside::catalogue::{Catalogue, PriceList};
use tenside::measure::{Basis, Measure, Scope};
use tenside::number::Exact;

use crate::support::exact;

fn brief() -> Brief {
    let prices = [("capb-30", 3), ("sci-powder", 8), ("kaolin", 1), ("water", 0)];
    Brief::new("Shadow", &Catalogue::starter()).unwrap().with_prices(&PriceList::new("EUR", prices).unwrap()).unwrap()
}

fn line(name: &str) -> Measure {
    Measure::as_supplied().contributed_by(Scope::lines([name]).unwrap())
}

/// The one limit of the brief, checked by moving it one unit up and down; its sentence without its words.
fn only_limit(brief: &Brief, parameter: fn(String) -> Parameter) -> (Exact, String) {
    let answer = brief.solve().unwrap();
    let [limit] = &answer.limit_ranges().unwrap()[..] else { panic!("one limit was expected") };
    let best = answer.objective().unwrap();
    for step in [1, -1] {
        let to = &limit.value + Exact::from(step);
        assert!(limit.from.as_ref().is_none_or(|from| *from <= to) && limit.to.as_ref().is_none_or(|end| to <= *end));
        let moved = brief.with_parameter(&parameter(brief.requirements()[0].name()), &to).unwrap().solve().unwrap();
        assert_eq!(moved.objective().unwrap() - best, &limit.price * Exact::from(step), "{}", limit.sentence());
    }
    let sentence = limit.sentence();
    (limit.price.clone(), sentence.strip_prefix(&format!("{}: ", limit.words)).unwrap().to_string())
}

#[test]
fn a_shadow_price_has_the_sign_and_the_words_of_what_it_does() {
    let solution = || brief().free("capb-30").unwrap().qs("water").unwrap();
    let clay = || brief().free("sci-powder").unwrap().free("kaolin").unwrap();
    let at_least = only_limit(
        &solution().at_least(Measure::active_matter(), 12).unwrap().minimise(Measure::cost()),
        Parameter::AtLeast,
    );
    assert_eq!(
        at_least,
        (exact("0.1"), "one more % costs 0.1000 EUR per kg, valid from 0.0000 to 30.0000 %".to_string())
    );
    let at_most = only_limit(&clay().at_most(line("kaolin"), 20).unwrap().minimise(Measure::cost()), Parameter::AtMost);
    assert_eq!(
        at_most,
        (exact("-0.07"), "one more % saves 0.0700 EUR per kg, valid from 0.0000 to 100.0000 %".to_string())
    );
    let target = only_limit(
        &solution().target(Measure::active_matter(), 12).unwrap().maximise(Measure::cost()),
        Parameter::Target,
    );
    assert_eq!(
        target,
        (exact("0.1"), "one more % costs 0.1000 EUR per kg, valid from 0.0000 to 30.0000 %".to_string())
    );
    let most = only_limit(
        &solution().at_most(line("capb-30"), 40).unwrap().maximise(Measure::active_matter()),
        Parameter::AtMost,
    );
    assert_eq!(
        most,
        (exact("0.3"), "one more % raises active matter by 0.3000 %, valid from 0.0000 to 100.0000 %".to_string())
    );
    let least = only_limit(
        &solution().at_least(line("water"), 10).unwrap().maximise(Measure::active_matter()),
        Parameter::AtLeast,
    );
    assert_eq!(
        least,
        (exact("-0.3"), "one more % lowers active matter by 0.3000 %, valid from 0.0000 to 100.0000 %".to_string())
    );
    // A limit that does not hold anything.
    let idle = brief()
        .between("capb-30", 20, 40)
        .unwrap()
        .qs("water")
        .unwrap()
        .at_most(line("water"), 90)
        .unwrap()
        .minimise(Measure::cost())
        .solve()
        .unwrap();
    let idle = idle.limit_ranges().unwrap().into_iter().find(|limit| limit.words.contains("at most 90")).unwrap();
    assert!(idle.price.is_zero());
    assert!(idle.sentence().ends_with("one more % changes nothing, valid from 80.0000 % on"), "{}", idle.sentence());
    // A small price is not shown as nothing.
    let prices = PriceList::new("EUR", [("capb-30", "0.003"), ("water", "0")]).unwrap();
    let cheap = solution()
        .with_prices(&prices)
        .unwrap()
        .at_least(Measure::active_matter(), 12)
        .unwrap()
        .minimise(Measure::cost());
    assert!(only_limit(&cheap, Parameter::AtLeast).1.starts_with("one more % costs 0.00010000 EUR per kg"));
}

#[test]
fn the_best_value_is_shown_with_its_unit() {
    let solution =
        brief().free("capb-30").unwrap().qs("water").unwrap().at_least(Measure::active_matter(), 12).unwrap();
    let shown = |brief: Brief| brief.solve().unwrap().page(&[Basis::AsCharged]).unwrap().text(200);
    for (brief, best) in [
        (solution.clone().minimise(Measure::cost()), "Best for: minimise cost, 1.2000 EUR per kg."),
        (solution.clone().maximise(Measure::water()), "water, "),
        (solution.clone().minimise(Measure::water().per(&Measure::active_matter())), "kg/kg."),
        (
            solution.clone().least_change_from(solution.solve().unwrap().formula().unwrap()),
            "Best for: change least, 0.0000 %.",
        ),
        (
            solution.clone().least_squares_from(solution.solve().unwrap().formula().unwrap()),
            "Best for: change least by squares, 0.0000 % squared.",
        ),
    ] {
        let text = shown(brief);
        assert!(text.contains(best), "{text}");
    }
    assert_eq!(solution.solve().unwrap().objective_unit(), None);
}

/// A limit on a ratio of what no line brings moves nothing, and is no limit whose range is asked for.
#[test]
fn a_limit_on_what_no_line_brings_has_no_range() {
    let brief = Brief::new("Uncharged", &Catalogue::starter())
        .and_then(|brief| brief.between("panthenol", 0, 50)?.qs("stearic-acid"))
        .and_then(|brief| brief.at_most(Measure::charge_ratio(), "0.5"))
        .unwrap();
    let ranges = brief.minimise(Measure::material("panthenol").unwrap()).solve().unwrap().limit_ranges().unwrap();
    assert_eq!(ranges.iter().map(|range| range.words.as_str()).collect::<Vec<_>>().len(), 2);
}

/// An objective without prices has no prices to ask about, and says so.
#[test]
fn prices_that_the_objective_does_not_rest_on_are_refused_by_name() {
    let prices = PriceList::new("EUR", [("capb-30", 3), ("water", 0)]).unwrap();
    let brief = Brief::new("Wash", &Catalogue::starter())
        .and_then(|brief| brief.with_prices(&prices)?.between("capb-30", 10, 50)?.qs("water"))
        .unwrap();
    let answer = brief.minimise(Measure::material("capb-30").unwrap()).solve().unwrap();
    assert_eq!(answer.limit_ranges().unwrap().len(), 2);
    let said = answer.price_ranges().unwrap_err().to_string();
    assert!(said.contains("the objective does not rest on prices"), "{said}");
}
