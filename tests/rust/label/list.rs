//! The order of the list and what stands in it.

use std::sync::Arc;

use tenside::formula::Formula;
use tenside::label::{ItemClass, Market, QuestionTopic, ScentNames};
use tenside::material::{Composition, Constituent, Declaration, Form, Material};
use tenside::number::Exact;
use tenside::substance::{Class, Substance};

use super::{eu, formula, material, names, pure, starter, substance, us};
use crate::support::{exact, percent};

fn plain(id: &str, name: &str) -> Arc<Material> {
    pure(id, name, Class::Other)
}

#[test]
fn exactly_one_percent_is_ordered_in_the_union_and_free_in_the_states() {
    let bar = formula(&[
        (plain("a", "ALPHA"), "98"),
        (plain("b", "BETA"), "1"),
        (plain("c", "GAMMA"), "0.9999"),
        (plain("d", "DELTA"), "0.0001"),
    ]);
    let classes = |request| bar.label(&request).unwrap().items().iter().map(|item| item.class).collect::<Vec<_>>();
    assert_eq!(classes(eu()), [ItemClass::Ordered, ItemClass::Ordered, ItemClass::Free, ItemClass::Free]);
    assert_eq!(classes(us()), [ItemClass::Ordered, ItemClass::Free, ItemClass::Free, ItemClass::Free]);
    for request in [eu(), us()] {
        let label = bar.label(&request).unwrap();
        assert!(label.items().iter().all(|item| item.is_certain));
        assert_eq!(label.ingredients(), "ALPHA, BETA, GAMMA, DELTA");
    }
}

#[test]
fn colourants_stand_last_whatever_their_share() {
    let bar = formula(&[
        (starter("iron-oxide-red"), "40"),
        (starter("titanium-dioxide"), "30"),
        (starter("iron-oxide-black"), "20"),
        (starter("kaolin"), "10"),
    ]);
    assert_eq!(bar.label(&eu()).unwrap().ingredients(), "KAOLIN, CI 77491, CI 77499, CI 77891");
    let label = bar.label(&us()).unwrap();
    assert_eq!(label.ingredients(), "KAOLIN, IRON OXIDES, TITANIUM DIOXIDE");
    // Two pigments, one name: their shares are summed.
    let oxides = &label.items()[1];
    assert_eq!(
        (oxides.percent().typical.unwrap(), oxides.inci.len(), oxides.class),
        (Exact::from(60), 2, ItemClass::Colour)
    );
}

#[test]
fn a_colour_without_a_name_in_the_states_is_asked_for() {
    let unnamed = pure("curcumin", "CI 75300", Class::Colourant);
    let bar = formula(&[(starter("kaolin"), "99.9"), (unnamed, "0.1")]);
    let asked = |request| {
        bar.label(&request).unwrap().questions().iter().any(|question| question.topic == QuestionTopic::Colour)
    };
    assert!(asked(us()) && !asked(eu()));
    assert!(
        formula(&[(pure("x", "SOME LAKE", Class::Colourant), "100")])
            .label(&eu())
            .unwrap()
            .questions()
            .iter()
            .any(|q| q.topic == QuestionTopic::Colour)
    );
}

#[test]
fn names_are_those_of_the_market() {
    let bar = formula(&[(starter("water"), "60"), (starter("fragrance-oil"), "30"), (starter("olive-oil"), "10")]);
    assert_eq!(bar.label(&eu()).unwrap().ingredients(), "AQUA, PARFUM, OLEA EUROPAEA FRUIT OIL");
    assert_eq!(bar.label(&us()).unwrap().ingredients(), "WATER, FRAGRANCE, OLEA EUROPAEA (OLIVE) FRUIT OIL");
    assert_eq!(
        bar.label(&us().as_flavour(true)).unwrap().ingredients(),
        "WATER, FLAVOR, OLEA EUROPAEA (OLIVE) FRUIT OIL"
    );
    assert_eq!(bar.label(&eu().as_flavour(true)).unwrap().ingredients(), "AQUA, AROMA, OLEA EUROPAEA FRUIT OIL");
}

#[test]
fn oils_stand_alone_or_together_as_the_scent() {
    let bar = formula(&[
        (starter("kaolin"), "97"),
        (starter("fragrance-oil"), "1"),
        (starter("rosemary-oil"), "1.5"),
        (starter("tea-tree-oil"), "0.5"),
    ]);
    let own = bar.label(&us()).unwrap();
    assert_eq!(names(&own)[..3], ["KAOLIN", "ROSMARINUS OFFICINALIS (ROSEMARY) LEAF OIL", "FRAGRANCE"]);
    let together = bar.label(&us().with_scent_names(ScentNames::Together)).unwrap();
    assert_eq!(names(&together), ["KAOLIN", "FRAGRANCE"]);
    assert_eq!(together.items()[1].percent().typical.unwrap(), Exact::from(3));
    assert_eq!(together.items()[1].lines, ["fragrance-oil", "rosemary-oil", "tea-tree-oil"]);
}

#[test]
fn the_same_name_is_summed_over_blends_and_premixes() {
    let blend = Arc::new(material(
        "blend",
        &[("GLYCERIN", Class::Humectant, "40", "50", "60"), ("ALPHA", Class::Other, "40", "50", "60")],
    ));
    let inner = formula(&[(blend.clone(), "50"), (plain("glycerin", "GLYCERIN"), "50")])
        .to_material("inner", Form::Powder)
        .unwrap();
    let bar = formula(&[(Arc::new(inner), "40"), (plain("g", "GLYCERIN"), "10"), (plain("b", "BETA"), "50")]);
    let label = bar.label(&eu()).unwrap();
    assert_eq!(label.ingredients(), "BETA, GLYCERIN, ALPHA");
    let glycerin = label.items()[1].percent();
    assert_eq!(
        (glycerin.low, glycerin.typical, glycerin.high),
        (Some(exact("38")), Some(exact("40")), Some(exact("42")))
    );
    assert_eq!(label.items()[1].lines, ["inner", "g"]);
}

#[test]
fn what_is_not_declared_is_left_out_and_what_is_to_be_asked_keeps_a_draft() {
    let row = |name: &str, share: &str, declaration| {
        Constituent::typical(substance(name, Class::Other), percent(share)).with_declaration(declaration)
    };
    let build = |declaration| {
        let rows = vec![
            row("ALPHA", "90", Declaration::Declared),
            row("TRACE", "4", Declaration::NotDeclared),
            row("BETA", "6", declaration),
        ];
        Arc::new(Material::new("m", "M", Form::Powder, Composition::stated(rows).unwrap()).unwrap())
    };
    let free = |m| formula(&[(m, "100")]).label(&us()).unwrap();
    let (asked, settled) = (free(build(Declaration::Ask)), free(build(Declaration::Declared)));
    assert_eq!((asked.ingredients(), settled.ingredients()), ("ALPHA, BETA".to_string(), "ALPHA, BETA".to_string()));
    assert!(asked.is_draft() && !settled.is_draft());
    let declarations = |keeps: bool| {
        asked
            .questions()
            .iter()
            .filter(move |question| question.topic == QuestionTopic::Declaration && question.keeps_draft == keeps)
    };
    assert_eq!(declarations(true).count(), 1);
    // More than 1 % that nobody declares is asked about.
    let much: Vec<&str> = declarations(false).map(|question| question.sentence.as_str()).collect();
    assert!(much.len() == 1 && much[0].starts_with("TRACE is 4.00 "), "{much:?}");
    assert_eq!(settled.left_out().iter().map(|row| row.inci.as_str()).collect::<Vec<_>>(), ["TRACE"]);
    assert_eq!(settled.left_out()[0].percent().typical.unwrap(), Exact::from(4));
}

#[test]
fn nano_stands_in_brackets() {
    let bar = formula(&[(starter("kaolin"), "99"), (starter("titanium-dioxide"), "1")]);
    assert_eq!(bar.label(&eu().as_nano("ci 77891").unwrap()).unwrap().ingredients(), "KAOLIN, CI 77891 (nano)");
}

/// 40 % water of which 95 % go: 60 grams stay and 3.16 grams of water, so water falls behind what was 20 and 15 %.
#[test]
fn where_drying_changes_the_order_both_are_shown() {
    let bar = formula(&[
        (starter("water"), "40"),
        (plain("a", "ALPHA"), "25"),
        (plain("b", "BETA"), "20"),
        (plain("c", "GAMMA"), "14.3"),
        (plain("d", "DELTA"), "0.7"),
    ]);
    assert_eq!(bar.label(&eu()).unwrap().ingredients_as_sold(), None);
    let label = bar.label(&eu().with_moisture(exact("5")).unwrap()).unwrap();
    assert_eq!(label.ingredients(), "AQUA, ALPHA, BETA, GAMMA, DELTA");
    assert_eq!(label.ingredients_as_sold().unwrap(), "ALPHA, BETA, GAMMA, AQUA, DELTA");
    assert!(label.questions().iter().any(|question| question.topic == QuestionTopic::Drying && question.keeps_draft));
    // Wetter than every other ingredient is much: nothing changes.
    assert_eq!(bar.label(&eu().with_moisture(exact("39")).unwrap()).unwrap().ingredients_as_sold(), None);
    // 0.7 % becomes 1.1 % where almost all water goes, so it has to be ordered; the order stays the same.
    assert_eq!(
        bar.label(&eu().with_moisture(exact("1")).unwrap()).unwrap().ingredients_as_sold().unwrap(),
        "ALPHA, BETA, GAMMA, DELTA, AQUA"
    );
}

/// 0.55 % of water are declared and 0.6 % are not: drying takes from both.
#[test]
fn water_that_is_no_ingredient_before_drying_is_none_after_it() {
    let bar = formula(&[
        (starter("sci-powder"), "60"),
        (starter("citric-acid-50"), "1"),
        (starter("kaolin"), "38.35"),
        (starter("panthenol"), "0.6"),
        (starter("water"), "0.05"),
    ]);
    assert!(bar.label(&eu()).unwrap().ingredients().ends_with("PANTHENOL, AQUA, CITRIC ACID"));
    let label = bar.label(&eu().with_moisture(exact("1.14")).unwrap()).unwrap();
    assert_eq!(label.ingredients_as_sold(), None);
}

#[test]
fn positions_inside_overlapping_ranges_are_not_certain() {
    let blend = |id: &str, name: &str, low, high| {
        Arc::new(material(id, &[(name, Class::Other, low, "50", high), ("FILLER", Class::Other, "0", "50", "100")]))
    };
    let bar = formula(&[(blend("m", "ALPHA", "40", "60"), "52"), (blend("n", "BETA", "40", "60"), "48")]);
    let label = bar.label(&eu()).unwrap();
    assert_eq!(names(&label), ["FILLER", "ALPHA", "BETA"]);
    let alpha = &label.items()[1];
    assert!(!alpha.is_certain && alpha.may_change_with.contains(&"BETA".to_string()));
    assert_eq!(alpha.settled_by, ["m", "n"]);
    let sentences: Vec<_> =
        label.questions().iter().filter(|question| question.topic == QuestionTopic::Position).collect();
    assert_eq!(sentences.len(), 1);
    assert!(!sentences[0].keeps_draft && sentences[0].sentence.contains("settle"));
    // Apart from each other, they are certain.
    let bar = formula(&[(plain("a", "ALPHA"), "60"), (blend("n", "BETA", "49", "51"), "40")]);
    assert!(bar.label(&eu()).unwrap().items()[0].is_certain);
}

/// A secret blend of which only the descending list is known: its own order holds, and bounds place the rest.
#[test]
fn a_descending_list_gives_its_own_order() {
    let row = |name: &str| Constituent::bounded(substance(name, Class::Other)).with_declaration(Declaration::Declared);
    let list = Composition::bounded(vec![row("ALPHA"), row("BETA"), row("GAMMA")], true).unwrap();
    let secret = Arc::new(Material::new("secret", "Secret", Form::Powder, list).unwrap());
    let label = formula(&[(secret.clone(), "100")]).label(&us()).unwrap();
    assert_eq!(label.ingredients(), "ALPHA, BETA, GAMMA");
    assert!(label.items()[0].is_certain, "first of three: at least a third");
    assert!(!label.items()[2].is_certain && label.items()[2].may_change_with.is_empty(), "it may be below 1 %");
    assert_eq!(label.items()[1].percent().typical, None);
    assert!(label.questions().iter().any(|question| question.topic == QuestionTopic::NoTypical));
    // Beside another raw material the bounds decide: GAMMA is at most a third of 30 %.
    let label = formula(&[(plain("d", "DELTA"), "70"), (secret, "30")]).label(&us()).unwrap();
    assert_eq!((names(&label)[0], label.items()[0].is_certain), ("DELTA", true));
}

#[test]
fn a_nameless_remainder_keeps_a_draft() {
    let rows = vec![
        Constituent::typical(substance("ALPHA", Class::Other), percent("95")).with_declaration(Declaration::Declared),
        Constituent::typical(Substance::unspecified(), percent("5")),
    ];
    let part = Arc::new(Material::new("part", "Part", Form::Powder, Composition::stated(rows).unwrap()).unwrap());
    let label = formula(&[(part, "100")]).label(&us()).unwrap();
    assert_eq!(label.nameless().typical.clone().unwrap(), Exact::from(5));
    assert!(label.is_draft() && label.questions().iter().any(|question| question.topic == QuestionTopic::Unnamed));
}

#[test]
fn what_else_a_label_needs_follows_the_product() {
    let bar = formula(&[(starter("kaolin"), "99"), (starter("piroctone-olamine"), "1")]);
    let slugs = |formula: &Formula, request| {
        formula.label(&request).unwrap().checks().iter().map(|check| check.slug).collect::<Vec<_>>()
    };
    assert!(slugs(&bar, us()).contains(&"drug") && slugs(&bar, eu()).contains(&"claims"));
    assert!(!slugs(&bar, us()).contains(&"naked") && slugs(&bar, us().sold_naked(true)).contains(&"naked"));
    let plain_bar = formula(&[(starter("kaolin"), "100")]);
    assert!(!slugs(&plain_bar, us()).contains(&"drug"));
    assert!(slugs(&plain_bar, eu()).contains(&"environmental-claims"));
    for market in [Market::Eu, Market::Us] {
        let request = if market == Market::Eu { eu() } else { us() };
        let text = plain_bar.label(&request).unwrap().page().text(2000).to_lowercase();
        assert!(
            text.contains("qualified safety assessor") && !text.contains("compliant") && !text.contains("is safe"),
            "{text}"
        );
    }
}

#[test]
fn questions_carry_what_they_are_about() {
    let names = |names: &[&str]| names.iter().map(ToString::to_string).collect::<Vec<_>>();
    let row = |name: &str, share: &str, declaration| {
        Constituent::typical(substance(name, Class::Other), percent(share)).with_declaration(declaration)
    };
    let rows = vec![row("B", "30", Declaration::Ask), row("A", "70", Declaration::Declared)];
    let blend = Arc::new(Material::new("blend", "Blend", Form::Powder, Composition::stated(rows).unwrap()).unwrap());
    let bar = formula(&[(plain("soap", "A"), "40"), (blend, "60")]);
    let label = bar.label(&eu()).unwrap();
    let declaration = label.questions().iter().find(|question| question.topic == QuestionTopic::Declaration).unwrap();
    assert_eq!(
        (&declaration.lines, &declaration.materials, &declaration.ingredients),
        (&names(&["blend"]), &names(&["blend"]), &names(&["B"]))
    );
    // Neither leaves anything open of scent; a scent of which nothing is known leaves all of it.
    assert!(!label.questions().iter().any(|question| question.topic == QuestionTopic::ScentUnknown));
    let scented = formula(&[(plain("soap", "A"), "99"), (starter("fragrance-oil"), "1")]).label(&eu()).unwrap();
    let unknown = scented.questions().iter().find(|question| question.topic == QuestionTopic::ScentUnknown).unwrap();
    assert_eq!(unknown.materials, names(&["fragrance-oil"]));
    assert_eq!(unknown.entries.len(), 81);
}

/// On paper a line holds some eighty letters: no number of the table of scent constituents is broken.
#[test]
fn the_table_of_scent_constituents_fits_on_paper() {
    let bar = formula(&[(starter("sci-powder"), "60"), (starter("lavender-oil"), "1"), (starter("kaolin"), "39")]);
    let text = bar.label(&eu()).unwrap().page().text(80);
    let entry = text.split("\n\n").find(|entry| entry.contains("LIMONENE") && entry.contains("0.00500 (")).unwrap();
    assert!(entry.matches("0.00500 (").count() >= 2 && entry.contains("lavender-oil"), "{entry}");
    let kept_off = text.split_once("WHAT KEEPS THEM OFF").unwrap().1;
    assert!(kept_off.contains("- LIMONENE: lavender-oil: "), "{kept_off}");
}
