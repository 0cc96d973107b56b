//! Unknown is never nothing: names that nobody knows are refused, and what a raw material leaves open is an interval,
//! in measures, labels, exposures and rules alike.

use std::sync::Arc;

use tenside::brief::{Brief, Requirement, SplitBasis};
use tenside::catalogue::{Catalogue, PriceList};
use tenside::document::Notation;
use tenside::exposure::ExposureRequest;
use tenside::formula::{Formula, Line};
use tenside::label::{LabelRequest, Market as LabelMarket};
use tenside::material::{Composition, Constituent, Form, Material};
use tenside::measure::{Basis, Measure, ScoreTable, SubstanceSum, SumFactor, SumMember};
use tenside::number::{Exact, Interval, Ppm};
use tenside::rule::{Judge, Market, Product, RuleBook, RuleList, Use, Value};
use tenside::solve::Outcome;
use tenside::substance::{Class, Substance};

use crate::support::exact;

const DAY: &str = "2026-11-27";

fn bar(lines: &[(&str, &str)]) -> Formula {
    let catalogue = Catalogue::starter();
    let line = |(id, percent): &(&str, &str)| {
        Line::new(id, Arc::clone(catalogue.material(id).unwrap()), Ppm::from_percent(percent).unwrap()).unwrap()
    };
    Formula::new("Bar", lines.iter().map(line).collect()).unwrap()
}

fn between(low: &str, high: &str) -> Interval {
    Interval { low: Some(exact(low)), typical: None, high: Some(exact(high)) }
}

/// How much limonene a formula holds, as a measure, on a label, as an exposure, and as a rule sees it.
fn readings(formula: &Formula) -> [Interval; 4] {
    let measured = formula.measure(&Measure::substance("LIMONENE").unwrap(), &Basis::AsCharged).unwrap().value.unwrap();
    let label = formula.label(&LabelRequest::new(LabelMarket::Eu, DAY.parse().unwrap())).unwrap();
    let on_label =
        label.scent().every_entry().into_iter().find(|row| row.entry.name() == "LIMONENE").unwrap().percent();
    let exposed = formula
        .exposure("LIMONENE", &ExposureRequest::of_product("shampoo").unwrap(), &Basis::AsCharged)
        .unwrap()
        .percent()
        .clone();
    let list = RuleList::read(
        r#"
        tenside = "rules/1"
        id = "limonene"
        title = "A rule that shows limonene"
        source = "invented for this test"
        mark = "from-memory"
        [[rule]]
        slug = "limonene"
        severity = "information"
        title = "limonene"
        measure = "substance"
        of = "LIMONENE"
        when = [{ measure = "as-supplied", above = 0 }]
        "#,
        Notation::Toml,
    )
    .unwrap();
    let product = Product::new(Market::Eu, &[Use::ShampooBar], DAY.parse().unwrap()).unwrap();
    let book = RuleBook::empty().with(Arc::new(list)).unwrap();
    let judge = Judge::new(&book, product, formula.lines().iter().map(Line::material)).unwrap();
    let found = judge.judge_one("limonene", formula).unwrap().found;
    let Some(Value::Interval(ruled, _)) = found[0].value.clone() else { panic!("{found:?}") };
    [measured, on_label, exposed, ruled]
}

#[test]
fn four_readings_give_one_answer() {
    for lines in [[("kaolin", "60"), ("cetyl-alcohol", "40")], [("sci-powder", "60"), ("kaolin", "40")]] {
        for (place, reading) in readings(&bar(&lines)).into_iter().enumerate() {
            assert_eq!(reading, Interval::point(Exact::ZERO), "reading {place} of {lines:?}");
        }
    }
    for (place, reading) in
        readings(&bar(&[("sci-powder", "60"), ("kaolin", "39"), ("fragrance-oil", "1")])).into_iter().enumerate()
    {
        assert_eq!(reading, between("0", "1"), "reading {place}");
    }
    // Listed in the oil: its range; beside a scent of which nothing is known, all of that more.
    let lavender = readings(&bar(&[("kaolin", "99"), ("lavender-oil", "1")]));
    let listed = Interval { low: Some(Exact::ZERO), typical: Some(exact("0.005")), high: Some(exact("0.01")) };
    assert!(lavender.iter().all(|reading| *reading == listed), "{lavender:?}");
    let both = readings(&bar(&[("kaolin", "98"), ("lavender-oil", "1"), ("fragrance-oil", "1")]));
    assert!(both.iter().all(|reading| *reading == between("0", "1.01")), "{both:?}");
}

#[test]
fn what_a_list_omits_is_not_zero() {
    let eugenol =
        |formula: &Formula| formula.measure(&Measure::substance("EUGENOL").unwrap(), &Basis::AsCharged).unwrap();
    let read = eugenol(&bar(&[("kaolin", "99"), ("lavender-oil", "1")]));
    assert_eq!(read.value, Some(between("0", "1")));
    assert!(
        read.why_not[0].to_string().contains("line \"lavender-oil\"")
            && read.why_not[0].to_string().contains("state its share"),
        "{:?}",
        read.why_not
    );
    assert_eq!(read.text(), "not known (0.00 to 1.00) %");
    // A list that is complete down to 0.1 % leaves 0.1 % of it.
    let complete = Material::clone(Catalogue::starter().material("lavender-oil").unwrap())
        .with_scent_reported_above(Ppm::from_percent("0.1").unwrap());
    let line = |material: Material, percent: &str| {
        Line::new(material.id(), Arc::new(material.clone()), Ppm::from_percent(percent).unwrap()).unwrap()
    };
    let kaolin = Material::clone(Catalogue::starter().material("kaolin").unwrap());
    let read = eugenol(&Formula::new("Bar", vec![line(kaolin, "99"), line(complete, "1")]).unwrap());
    assert_eq!(
        read.value,
        Some(Interval { low: Some(Exact::ZERO), typical: Some(Exact::ZERO), high: Some(exact("0.001")) })
    );
    assert!(read.why_not.is_empty());
}

#[test]
fn a_nameless_remainder_holds_what_remainders_can() {
    let remainder = |share: &str| {
        let substance = |name, class| Arc::new(Substance::new(name, class).unwrap());
        let rest = Ppm::from_percent(share).unwrap();
        let named = Ppm::from_parts(Ppm::WHOLE.parts() - rest.parts()).unwrap();
        let rows = vec![
            Constituent::typical(substance("INVENTED POWDER", Class::Mineral), named)
                .with_range(Some(named), Some(named))
                .unwrap(),
            Constituent::typical(Substance::unspecified(), rest).with_range(Some(rest), Some(rest)).unwrap(),
        ];
        Material::new("powder", "Powder", Form::Powder, Composition::stated(rows).unwrap()).unwrap()
    };
    let read = |material: Material, name: &str| {
        let formula = Formula::new("Bar", vec![Line::new("powder", Arc::new(material), Ppm::WHOLE).unwrap()]).unwrap();
        formula.measure(&Measure::substance(name).unwrap(), &Basis::AsCharged).unwrap()
    };
    let salt = read(remainder("4"), "SODIUM CHLORIDE");
    assert_eq!(
        salt.value,
        Some(Interval { low: Some(Exact::ZERO), typical: Some(Exact::ZERO), high: Some(Exact::from(4)) })
    );
    assert!(salt.notes.iter().any(|note| note.contains("high end alone: powder")), "{:?}", salt.notes);
    let scent = read(remainder("4"), "LIMONENE");
    assert_eq!(scent.value, Some(Interval::point(Exact::ZERO)));
    assert_eq!(scent.notes.iter().filter(|note| note.contains("no scent constituent")).count(), 1);
    // Unless its document says so; and preservatives are carried over where there is water.
    let said = remainder("4").with_remainder_that_may_hold(&[Class::FragranceConstituent]);
    assert_eq!(read(said, "LIMONENE").value.unwrap().high, Some(Exact::from(4)));
    assert_eq!(read(remainder("4"), "PHENOXYETHANOL").value, Some(Interval::point(Exact::ZERO)));
    let betaine = bar(&[("capb-30", "100")]);
    let preserved =
        betaine.measure(&Measure::substance("PHENOXYETHANOL").unwrap(), &Basis::AsCharged).unwrap().value.unwrap();
    assert!(preserved.typical == Some(Exact::ZERO) && preserved.high > Some(Exact::ZERO), "{preserved}");
}

#[test]
fn names_that_nobody_knows_are_refused_and_numbers_are_names() {
    let oil = bar(&[("kaolin", "99"), ("lavender-oil", "1")]);
    let read = |measure: Measure| oil.measure(&measure, &Basis::AsCharged);
    let refused = |measure: Measure, near: &str| {
        let error = read(measure).unwrap_err();
        assert!(error.is_unknown_name() && error.to_string().contains(&format!("did you mean {near:?}?")), "{error}");
    };
    refused(Measure::substance("LINALOL").unwrap(), "LINALOOL");
    refused(Measure::constituent("GLYCERINE").unwrap(), "GLYCERIN");
    refused(Measure::material("kaoline").unwrap(), "kaolin");
    refused(Measure::active_matter().per(&Measure::substance("LINALOL").unwrap()), "LINALOOL");
    let sum = |name: &str| {
        SubstanceSum::new("scents", vec![(SumMember::Substance(name.to_string()), SumFactor::Parts(Exact::ONE))])
            .unwrap()
    };
    refused(Measure::substance_sum(sum("LINALOL")), "LINALOOL");
    assert_eq!(
        read(Measure::material("cetyl-alcohol").unwrap()).unwrap().value,
        Some(Interval::point(Exact::ZERO)),
        "known, and not in it"
    );
    let linalool = read(Measure::substance("LINALOOL").unwrap()).unwrap().value;
    assert_eq!(read(Measure::substance("78-70-6").unwrap()).unwrap().value, linalool);
    assert_eq!(read(Measure::substance_sum(sum("LINALOOL"))).unwrap().value, linalool);
    assert!(read(Measure::substance("78-70-5").unwrap()).unwrap_err().is_unknown_name());
    // A brief refuses them as they are written, scores of raw materials included.
    let brief = || Brief::new("x", &Catalogue::starter()).unwrap().qs("kaolin").unwrap();
    assert!(brief().at_most(Measure::substance("LINALOL").unwrap(), "0.001").unwrap_err().is_unknown_name());
    let scores = ScoreTable::new("slip", [("kaoline", 3)]).unwrap();
    assert!(brief().at_least(Measure::score(scores), 1).unwrap_err().to_string().contains("did you mean \"kaolin\"?"));
    // A substance of one's own is known to its catalogue.
    let text =
        "tenside = \"catalogue/1\"\n[[substance]]\ninci = \"MY OWN ESTER\"\nclass = \"ester\"\nsource = \"sheet\"\n";
    let own = Catalogue::read(text, Notation::Toml).unwrap();
    let measure = Measure::constituent("MY OWN ESTER").unwrap();
    assert!(oil.measure(&measure, &Basis::AsCharged).unwrap_err().is_unknown_name());
    assert_eq!(oil.measure_with(&measure, &Basis::AsCharged, &own).unwrap().value, Some(Interval::point(Exact::ZERO)));
}

#[test]
fn a_raw_material_counts_inside_premixes() {
    let blend = Arc::new(bar(&[("kaolin", "75"), ("capb-30", "25")]).to_material("blend", Form::Paste).unwrap());
    let starch = Arc::clone(Catalogue::starter().material("corn-starch").unwrap());
    let half = Ppm::from_parts(500_000).unwrap();
    let formula =
        Formula::new("Bar", vec![Line::new("blend", blend, half).unwrap(), Line::new("starch", starch, half).unwrap()])
            .unwrap();
    let percent = |id: &str| {
        formula.measure(&Measure::material(id).unwrap(), &Basis::AsCharged).unwrap().value.unwrap().typical.unwrap()
    };
    assert_eq!(
        (percent("kaolin"), percent("blend"), percent("capb-30")),
        (exact("37.5"), Exact::from(50), exact("12.5"))
    );
}

/// The first brief of the README, with at most 0.01 % of limonene whatever the compositions are.
#[test]
fn a_limit_for_every_composition_bounds_a_scent_of_which_nothing_is_known() {
    let prices = [
        ("sci-powder", "6.4"),
        ("scs-needles", "5.2"),
        ("capb-30", "2.9"),
        ("panthenol", "24"),
        ("cetyl-alcohol", "4.8"),
        ("kaolin", "1.9"),
    ];
    let prices = PriceList::new("EUR", prices).unwrap();
    let brief = || {
        let split = SplitBasis::Active;
        let brief = Brief::new("Salt-marsh bar", &Catalogue::starter()).unwrap().with_prices(&prices).unwrap();
        let brief = brief.split("wash", split, [("sci-powder", 14), ("scs-needles", 5), ("capb-30", 1)]).unwrap();
        brief
            .fix("panthenol", "1.5")
            .unwrap()
            .between("cetyl-alcohol", 3, 6)
            .unwrap()
            .qs("kaolin")
            .unwrap()
            .target(Measure::active_matter(), 58)
            .unwrap()
    };
    let limonene = || Measure::substance("LIMONENE").unwrap();
    let robust = |brief: Brief| {
        brief.require(Requirement::at_most(limonene(), exact("0.01")).unwrap().for_every_composition()).unwrap()
    };
    let without = robust(brief()).minimise(Measure::cost()).solve().unwrap();
    assert!(without.verify().is_ok());
    let scented = robust(brief().between("fragrance-oil", 0, 2).unwrap())
        .maximise(Measure::material("fragrance-oil").unwrap())
        .solve()
        .unwrap();
    assert_eq!(scented.exact_percent("fragrance-oil"), Some(&exact("0.01")));
    assert!(scented.verify().is_ok());
    // Of typical compositions nothing can be asked: the line and both ways out are named.
    let typical =
        brief().between("fragrance-oil", 0, 2).unwrap().at_most(limonene(), "0.01").unwrap().try_solve().unwrap_err();
    let said = typical.to_string();
    assert!(
        typical.is_not_known()
            && said.contains("line \"fragrance-oil\"")
            && said.contains("contained")
            && said.contains("every composition"),
        "{said}"
    );
    let objective = brief().between("fragrance-oil", 0, 2).unwrap().minimise(limonene()).try_solve().unwrap_err();
    assert!(objective.is_not_known(), "{objective}");
    assert!(brief().at_most(limonene(), "0.01").unwrap().solve().is_ok(), "nothing here leaves it open");
}

/// A list that misspells a substance would never find anything: the review says that the rule was not asked.
#[test]
fn a_rule_about_an_unknown_substance_is_not_passed_over() {
    let list = RuleList::read(
        r#"
        tenside = "rules/1"
        id = "own"
        title = "A list of one's own"
        source = "invented for this test"
        mark = "from-memory"
        [[rule]]
        slug = "own"
        severity = "error"
        title = "too much linalool"
        measure = "substance"
        of = "LINALOL"
        at_most = 0.001
        "#,
        Notation::Toml,
    )
    .unwrap();
    let product = Product::new(Market::Eu, &[Use::ShampooBar], DAY.parse().unwrap()).unwrap();
    let formula = bar(&[("kaolin", "99"), ("lavender-oil", "1")]);
    let judge = Judge::new(&RuleBook::empty().with(Arc::new(list)).unwrap(), product, []).unwrap();
    let judged = judge.judge_one("own", &formula).unwrap();
    assert!(judged.found.is_empty() && judged.checks == 0);
    assert!(format!("{:?}", judged.unchecked).contains("LINALOOL"), "{:?}", judged.unchecked);
}

/// What cannot be answered rests on the starter catalogue as much as what can.
#[test]
fn pages_without_a_formula_are_marked_too() {
    let brief = Brief::new("Weak", &Catalogue::starter())
        .and_then(|brief| brief.between("capb-30", 10, 50)?.qs("water")?.at_least(Measure::active_matter(), 40))
        .unwrap();
    let Outcome::Conflict(conflict) = brief.try_solve().unwrap() else { panic!("50 % of a 30 % grade brings 15 %") };
    assert!(conflict.page().unwrap().text(120).contains("DRAFT"));
    let narrow = Brief::new("Narrow", &Catalogue::starter())
        .and_then(|brief| brief.between("sci-powder", 30, 60)?.qs("kaolin"))
        .and_then(|brief| brief.require(Requirement::between(Measure::active_matter(), "33.33333", "33.33334")?))
        .unwrap();
    let answer = narrow.solve().unwrap();
    assert!(answer.grid_refusal().is_some());
    assert!(answer.page(&[Basis::AsCharged]).unwrap().text(120).contains("DRAFT"));
}
