//! Scent constituents: the published list, thresholds, sums, dates, and how sure an answer is.

use std::sync::Arc;

use serde::Deserialize;
use tenside::formula::{Formula, Line};
use tenside::label::{
    Contact, LabelRequest, Market, Placing, QuestionTopic, ScentAnswer, ScentDeclaration, ScentEntry, ScentNames,
    ScentReport,
};
use tenside::material::{Form, Material};
use tenside::number::{Date, Exact, Ppm};
use tenside::substance::{Cas, Class};

use super::{eu, formula, names, oil, pure, starter, us};
use crate::support::{exact, percent};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Allergen {
    entry: u32,
    label: String,
    cas: Vec<String>,
    new_2023: bool,
}

#[derive(Deserialize)]
struct Allergens {
    constituent: Vec<Allergen>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Transition {
    source: String,
    mark: String,
    rinse_off_percent: String,
    leave_on_percent: String,
    last_day_placed: String,
    first_day_placed: String,
    last_day_available: String,
    first_day_available: String,
}

fn transition() -> Transition {
    let file: Transition = toml::from_str(include_str!("../../data/fragrance_transition.toml")).unwrap();
    assert!(!file.source.is_empty() && !file.mark.is_empty());
    file
}

fn on(day: &str, placing: Placing) -> LabelRequest {
    LabelRequest::new(Market::Eu, day.parse::<Date>().unwrap()).with_placing(placing).with_scent_names(ScentNames::Own)
}

fn report(formula: &Formula, request: &LabelRequest) -> ScentReport {
    formula.label(request).unwrap().scent().clone()
}

/// A bar of kaolin, taken to bring none, with these oils.
fn bar(oils: &[(Arc<Material>, &str)]) -> Formula {
    let used: u32 = oils.iter().map(|(_, share)| percent(share).parts()).sum();
    let rest = Ppm::from_parts(1_000_000 - used).unwrap().to_string();
    let mut lines = oils.to_vec();
    lines.push((pure("clay", "KAOLIN", Class::Clay), &rest));
    formula(&lines)
}

fn answer(formula: &Formula, request: &LabelRequest, name: &str) -> ScentAnswer {
    report(formula, request).answer(name).unwrap().unwrap()
}

#[test]
fn the_entries_are_those_published() {
    let file: Allergens = toml::from_str(include_str!("../../data/fragrance_allergens.toml")).unwrap();
    assert_eq!((file.constituent.len(), ScentEntry::all().len()), (81, 81));
    for (row, entry) in file.constituent.iter().zip(ScentEntry::all()) {
        assert_eq!(
            (entry.number(), entry.name().to_uppercase(), entry.is_newer()),
            (row.entry, row.label.to_uppercase(), row.new_2023)
        );
        let mut cas: Vec<Cas> = row.cas.iter().map(|number| number.parse().unwrap()).collect();
        let mut known = entry.cas().to_vec();
        cas.sort();
        known.sort();
        assert_eq!(known, cas, "{}", row.label);
        assert_eq!(ScentEntry::find(&row.label).unwrap(), entry);
    }
    assert_eq!(ScentEntry::all().iter().filter(|entry| entry.is_newer()).count(), 57);
}

/// 10 % of an oil at 0.1 % is 0.01 % exactly.
#[test]
fn the_threshold_has_to_be_exceeded() {
    let file = transition();
    let ten = oil("ten", &[("LINALOOL", "10", "10", "10")]);
    let request = |contact| {
        eu().with_contact(contact)
            .with_declaration(
                ScentDeclaration::new("ten", "invented").unwrap().holding("LINALOOL", "10", "10").unwrap(),
            )
            .unwrap()
    };
    for (contact, at, above) in [(Contact::RinseOff, "0.1", "0.1001"), (Contact::LeaveOn, "0.01", "0.0101")] {
        let threshold = report(&bar(&[(ten.clone(), at)]), &request(contact)).threshold.unwrap();
        let published = if contact == Contact::RinseOff { &file.rinse_off_percent } else { &file.leave_on_percent };
        assert_eq!(threshold.percent(), exact(published));
        assert_eq!(answer(&bar(&[(ten.clone(), at)]), &request(contact), "linalool"), ScentAnswer::Below);
        assert_eq!(answer(&bar(&[(ten.clone(), above)]), &request(contact), "linalool"), ScentAnswer::Certain);
    }
}

#[test]
fn isomers_are_summed_before_they_are_compared() {
    let (alpha, beta) =
        (oil("a", &[("ALPHA-PINENE", "60", "60", "60")]), oil("b", &[("BETA-PINENE", "50", "50", "50")]));
    assert_eq!(answer(&bar(&[(alpha.clone(), "0.01")]), &eu(), "PINENE"), ScentAnswer::Below);
    let both = bar(&[(alpha, "0.01"), (beta, "0.01")]);
    let found = report(&both, &eu());
    let row = found.rows.iter().find(|row| row.entry.name() == "PINENE").unwrap();
    assert_eq!((row.answer, row.percent().typical.unwrap()), (ScentAnswer::Certain, exact("0.011")));
    assert_eq!(row.materials, ["a", "b"]);
    // 4-terpineol is no terpineol of the list.
    let tea = bar(&[(oil("t", &[("4-TERPINEOL", "40", "40", "40")]), "1")]);
    assert_eq!(answer(&tea, &eu(), "terpineol"), ScentAnswer::Unknown);
}

#[test]
fn a_botanical_counts_as_itself_and_by_what_it_holds() {
    let label = formula(&[(starter("kaolin"), "99.4"), (starter("lavender-oil"), "0.6")]).label(&eu()).unwrap();
    let listed: Vec<&str> =
        label.scent().rows.iter().filter(|row| row.is_listed()).map(|row| row.entry.name()).collect();
    for name in ["LAVANDULA OIL/EXTRACT", "LINALOOL", "LINALYL ACETATE", "BETA-CARYOPHYLLENE"] {
        assert!(listed.contains(&name) && names(&label).contains(&name), "{name} of {listed:?}");
    }
    assert!(label.questions().iter().any(|question| question.topic == QuestionTopic::EntryName
        && question.sentence.contains("LAVANDULA ANGUSTIFOLIA OIL")));
    // What is contained is no share of its own.
    let sum: Exact =
        label.items().iter().filter(|item| item.entry.is_none()).map(|item| item.percent().typical.unwrap()).sum();
    assert_eq!(sum, Exact::hundred());
}

#[test]
fn an_ingredient_by_the_name_of_an_entry_stands_once() {
    let alcohol = pure("benzyl-alcohol", "BENZYL ALCOHOL", Class::Preservative);
    let label = bar(&[(alcohol, "0.8"), (oil("o", &[("BENZYL ALCOHOL", "1", "1", "1")]), "0.5")]).label(&eu()).unwrap();
    assert_eq!(names(&label).iter().filter(|name| **name == "BENZYL ALCOHOL").count(), 1);
    let row = label.scent().rows.iter().find(|row| row.entry.number() == 45).unwrap();
    assert_eq!(row.percent().typical.unwrap(), exact("0.805"));
}

#[test]
fn newer_entries_wait_for_their_day() {
    let file = transition();
    let scented = bar(&[(oil("o", &[("MENTHOL", "40", "40", "40"), ("LINALOOL", "20", "20", "20")]), "0.5")]);
    let listed = |day: &str, placing| scented.label(&on(day, placing)).unwrap().ingredients();
    for (last, first, placing) in [
        (&file.last_day_placed, &file.first_day_placed, Placing::Placed),
        (&file.last_day_available, &file.first_day_available, Placing::MadeAvailable),
    ] {
        assert!(!listed(last, placing).contains("MENTHOL") && listed(last, placing).contains("LINALOOL"));
        assert!(listed(first, placing).contains("MENTHOL") && listed(first, placing).contains("LINALOOL"));
        let waiting = report(&scented, &on(last, placing));
        assert_eq!((waiting.newer_required, waiting.newer_until), (false, Some(last.parse().unwrap())));
        // It is said all the same.
        assert!(scented.label(&on(last, placing)).unwrap().page().text(200).contains("MENTHOL"));
    }
    assert!(listed(&file.last_day_available, Placing::Placed).contains("MENTHOL"));
}

#[test]
fn the_answer_follows_what_is_stated() {
    let ranged = oil("ranged", &[("LINALOOL", "1", "2", "3"), ("GERANIOL", "0", "0.1", "0.5")]);
    let at = |share: &str| bar(&[(ranged.clone(), share)]);
    // 1 % is 0.01 to 0.03 %; a tenth of that 0.001 to 0.003 %.
    assert_eq!(answer(&at("1.0001"), &eu(), "linalool"), ScentAnswer::Certain);
    assert_eq!(answer(&at("1"), &eu(), "linalool"), ScentAnswer::Possible);
    // The range of linalool is stated; of the rest of the oil nobody says what it is not.
    assert_eq!(answer(&at("0.1"), &eu(), "linalool"), ScentAnswer::Below);
    assert_eq!(answer(&at("1"), &eu(), "eugenol"), ScentAnswer::Unknown);
    assert_eq!(answer(&at("0.1"), &eu(), "eugenol"), ScentAnswer::Unknown);
    // So little of the oil that it cannot matter what it holds.
    assert_eq!(answer(&at("0.01"), &eu(), "eugenol"), ScentAnswer::Below);
    // A declaration settles every entry; its figures replace those of the catalogue.
    let declared =
        || ScentDeclaration::new("ranged", "supplier, invented").unwrap().holding("LINALOOL", "0.5", "0.9").unwrap();
    let request = eu().with_declaration(declared()).unwrap();
    assert_eq!(answer(&at("1"), &request, "linalool"), ScentAnswer::Below);
    assert_eq!(answer(&at("1"), &request, "eugenol"), ScentAnswer::Below);
    assert_eq!(report(&at("1"), &request).count(ScentAnswer::Below), 81);
    // Up to its reporting limit what is not named may be there.
    let request = |limit: &str| eu().with_declaration(declared().reporting_from(limit).unwrap()).unwrap();
    assert_eq!(answer(&at("1"), &request("1"), "eugenol"), ScentAnswer::Below);
    assert_eq!(answer(&at("1"), &request("1.0001"), "eugenol"), ScentAnswer::Unknown);
    assert!(report(&at("1"), &request("1")).to_ask.is_empty());
}

#[test]
fn what_a_list_omits_is_open_until_the_list_is_complete() {
    let lavender = bar(&[(starter("lavender-oil"), "0.5")]);
    // Limonene is at most 1 % of the oil, 0.005 %; of eugenol the list says nothing.
    assert_eq!(answer(&lavender, &eu(), "limonene"), ScentAnswer::Below);
    assert_eq!(answer(&lavender, &eu(), "eugenol"), ScentAnswer::Unknown);
    assert_eq!(report(&lavender, &eu()).to_ask, ["lavender-oil"]);
    // Complete down to 1 % of the oil: 0.005 % at most.
    let complete = Material::clone(&starter("lavender-oil")).with_scent_reported_above(Ppm::from_percent("1").unwrap());
    let lavender = bar(&[(Arc::new(complete), "0.5")]);
    assert_eq!(answer(&lavender, &eu(), "eugenol"), ScentAnswer::Below);
    assert!(report(&lavender, &eu()).to_ask.is_empty());
}

#[test]
fn a_premix_may_be_declared_as_a_whole() {
    let inner =
        bar(&[(oil("o", &[("LINALOOL", "20", "20", "20")]), "10")]).to_material("scented-clay", Form::Powder).unwrap();
    let outer = formula(&[(Arc::new(inner), "50"), (pure("talc", "TALC", Class::Mineral), "50")]);
    assert_eq!(answer(&outer, &eu(), "linalool"), ScentAnswer::Certain);
    let declared = ScentDeclaration::new("scented-clay", "supplier, invented")
        .unwrap()
        .holding("LINALOOL", "0.01", "0.02")
        .unwrap();
    let request = eu().with_declaration(declared).unwrap();
    assert_eq!(answer(&outer, &request, "linalool"), ScentAnswer::Below);
    assert_eq!(answer(&outer, &request, "geraniol"), ScentAnswer::Below);
}

/// 0.0095 % as charged; with 10 % water dried to 2 % the product holds 98/90 of it: 0.01034 %.
#[test]
fn drying_concentrates() {
    let scented = |water: &str, rest: &str| {
        let lines = [
            (oil("o", &[("LINALOOL", "9.5", "9.5", "9.5")]), "0.1"),
            (starter("water"), water),
            (pure("clay", "KAOLIN", Class::Clay), rest),
        ];
        formula(&lines)
    };
    let moist = |moisture: &str| eu().with_moisture(exact(moisture)).unwrap();
    let wet = scented("10", "89.9");
    assert_eq!(answer(&wet, &moist("2"), "linalool"), ScentAnswer::Certain);
    assert_eq!(answer(&wet, &moist("9"), "linalool"), ScentAnswer::Below);
    // Without a moisture as sold bone-dry is as far as it can go.
    assert_eq!(answer(&wet, &eu(), "linalool"), ScentAnswer::Possible);
    assert_eq!(answer(&scented("1", "98.9"), &eu(), "linalool"), ScentAnswer::Below);
}

/// What is said to keep an entry off does, and a ppm more does not.
#[test]
fn the_amount_that_keeps_off_is_the_most() {
    let two = |first: u32, second: u32| {
        let share = |parts: u32| Ppm::from_parts(parts).unwrap();
        let lines = [
            (oil("one", &[("LINALOOL", "17", "23", "33.3333")]), share(first)),
            (oil("two", &[("LINALOOL", "1", "1.5", "2.9")]), share(second)),
            (pure("clay", "KAOLIN", Class::Clay), share(1_000_000 - first - second)),
        ];
        Formula::new(
            "Two oils",
            lines.iter().map(|(material, share)| Line::new(material.id(), material.clone(), *share).unwrap()).collect(),
        )
        .unwrap()
    };
    let most = |formula: &Formula, material: &str| {
        let found = report(formula, &eu());
        let row = found.rows.iter().find(|row| row.entry.name() == "LINALOOL").unwrap();
        row.keeps_off.iter().find(|keeps| keeps.material == material).unwrap().clone()
    };
    let answer_of = |formula: &Formula| answer(formula, &eu(), "linalool");
    let start = two(5000, 1000);
    let one = most(&start, "one");
    assert!(!one.typical_only);
    let parts = one.most.unwrap().parts();
    // 100 ppm less 2.9 % of 1000 ppm are 71 ppm; over a third, 213.0002: 213.
    assert_eq!(parts, 213);
    assert_eq!(
        (answer_of(&two(parts, 1000)), answer_of(&two(parts + 1, 1000))),
        (ScentAnswer::Below, ScentAnswer::Possible)
    );
    // 5000 ppm of the first exceed it whatever the second brings.
    assert_eq!(most(&start, "two").most, None);
    assert_eq!(most(&two(100, 9000), "two").most.map(Ppm::parts), Some(2298));
}

#[test]
fn in_the_states_the_rule_is_pending() {
    let label = formula(&[(starter("kaolin"), "99"), (starter("lavender-oil"), "1")]).label(&us()).unwrap();
    assert_eq!((label.scent().state.as_str(), label.scent().threshold, label.scent().rows.len()), ("pending", None, 0));
    assert_eq!(label.scent().answer("linalool").unwrap(), None);
    assert!(label.scent().every_entry().is_empty());
    let text = label.page().text(2000);
    assert!(text.contains("pending") && text.contains("spring 2025"), "{text}");
    assert!(!label.ingredients().contains("LINALOOL"));
}
