//! Net content against worked examples and the tables of tolerated shortfall.

use serde::Deserialize;
use tenside::catalogue::Catalogue;
use tenside::document::{Materials, Notation, ResultDocument};
use tenside::label::{Label, Market, NetContent, NetQuantity};
use tenside::number::{Exact, MassUnit};

use super::{eu, formula, starter, us};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Examples {
    source: String,
    mark: String,
    example: Vec<Example>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Example {
    content: String,
    text: Option<String>,
    shortfall: Option<Exact>,
}

#[test]
fn contents_are_worded_and_rounded_down_as_in_the_examples() {
    for (market, file) in [
        (Market::Eu, include_str!("../../data/net_content_eu.toml")),
        (Market::Us, include_str!("../../data/net_content_us.toml")),
    ] {
        let examples: Examples = toml::from_str(file).unwrap();
        assert!(!examples.source.is_empty() && !examples.mark.is_empty() && examples.example.len() >= 10);
        for example in examples.example {
            let net = NetContent::new(&example.content.parse().unwrap(), market);
            assert_eq!(net.tolerated_shortfall(), example.shortfall.as_ref(), "{} {market}", example.content);
            if let Some(text) = example.text {
                assert_eq!(net.text(), text);
            }
        }
    }
}

/// Whatever is stated promises no more than there is, and at most a hundredth of an ounce less.
#[test]
fn ounces_never_promise_more_than_there_is() {
    for tenths in (1..20_000).step_by(7) {
        let content: NetQuantity = format!("{}.{} g", tenths / 10, tenths % 10).parse().unwrap();
        let net = NetContent::new(&content, Market::Us);
        let first = net.text().strip_prefix("Net Wt. ").unwrap();
        let number: Exact = first.split(' ').next().unwrap().parse().unwrap();
        if first.split(' ').nth(1) == Some("oz") {
            let exact = content.mass().unwrap().in_unit(MassUnit::Ounce);
            assert!(number <= exact && exact < number + Exact::ratio(1, 100), "{}", net.text());
        }
        assert_eq!(NetContent::new(&content, Market::Eu).content(), &content);
    }
}

/// The units of a text add up to what is there, but for less than a hundredth of a fluid ounce.
#[test]
fn pints_quarts_and_gallons_add_up() {
    let ounces = |text: &str| -> Exact {
        let words: Vec<&str> = text.split(' ').filter(|word| *word != "fl").collect();
        words
            .chunks(2)
            .map(|pair| {
                let size = match pair[1] {
                    "gal" => 128,
                    "qt" => 32,
                    "pt" => 16,
                    "oz" => 1,
                    other => panic!("{other}"),
                };
                pair[0].parse::<Exact>().unwrap() * Exact::from(size)
            })
            .sum()
    };
    let fluid_ounce: Exact = "29.5735295625".parse().unwrap();
    for millilitres in (480..9000).step_by(13) {
        let net = NetContent::new(&format!("{millilitres} ml").parse().unwrap(), Market::Us);
        let exact = Exact::from(millilitres) / &fluid_ounce;
        let text = net.text().strip_prefix("Net ").unwrap();
        let (before, rest) = text.split_once(" (").unwrap();
        let stated =
            if exact < Exact::from(128) { vec![before, rest.split_once(')').unwrap().0] } else { vec![before] };
        for part in stated {
            let sum = ounces(part);
            assert!(sum <= exact && exact < sum + Exact::ratio(1, 100), "{text}: {part}");
        }
    }
}

/// Of a volume the European table speaks in millilitres; the American one for volumes is not carried, which is said.
#[test]
fn what_may_be_missing_from_a_volume_is_known_in_one_market() {
    let wash = formula(&[(starter("capb-30"), "100")]);
    let of = |request: tenside::label::LabelRequest, net: &str| {
        wash.label(&request.with_net(net.parse().unwrap()).unwrap()).unwrap()
    };
    let page = |label: &Label| label.page().text(400);
    let union = of(eu(), "250 ml");
    assert!(page(&union).contains("may fall short by 9 ml at 20 °C"), "{}", page(&union));
    assert!(!page(&union).contains("drying in the shop") && page(&union).contains("in grams or millilitres"));
    let states = of(us(), "250 ml");
    assert_eq!(states.net().unwrap().tolerated_shortfall(), None);
    assert!(states.net().unwrap().shortfall_source().contains("Table 2-6"));
    assert!(page(&states).contains("is not known here") && page(&states).contains("fluid ounces (and pints"));
    assert!(!page(&states).contains("Table 2-5") && !page(&states).contains("in ounces (and pounds)"));
    let bar = of(us(), "60 g");
    assert!(page(&bar).contains("in ounces (and pounds)") && !page(&bar).contains("fluid ounces"));
    assert!(page(&bar).contains("may fall short by 5.4 g") && page(&bar).contains("drying in the shop"));
}

/// What is lost in drying is known of a mass; of a volume it is only said.
#[test]
fn a_volume_that_dries_is_asked_about() {
    let wash = formula(&[(starter("capb-30"), "100")]);
    let asked = |net: &str| {
        let label = wash.label(&eu().with_net(net.parse().unwrap()).unwrap().with_moisture(10).unwrap()).unwrap();
        let sentences: Vec<String> = label.questions().iter().map(|question| question.sentence.clone()).collect();
        sentences.into_iter().filter(|sentence| sentence.contains("product as sold")).collect::<Vec<_>>()
    };
    let (mass, volume) = (asked("60 g"), asked("25 cl"));
    assert!(mass.len() == 1 && mass[0].starts_with("a bar pressed to 60 g"), "{mass:?}");
    assert!(volume.len() == 1 && volume[0].starts_with("of 250 ml") && !volume[0].contains(" g "), "{volume:?}");
}

#[test]
fn a_volume_comes_back_from_a_document() {
    let wash = formula(&[(starter("capb-30"), "100")]);
    for (net, key) in [("8 fl oz", "net_volume"), ("60 g", "net")] {
        let label = wash.label(&us().with_net(net.parse().unwrap()).unwrap()).unwrap();
        let text = label.write(Notation::Json, Materials::Embedded).unwrap();
        let plain: serde_json::Value = serde_json::from_str(&text).unwrap();
        let stated: Vec<&String> = plain["request"].as_object().unwrap().keys().collect();
        assert!(stated.iter().filter(|name| name.starts_with("net")).all(|name| *name == key), "{stated:?}");
        assert_eq!(Label::read(&text, Notation::Json, &Catalogue::empty()).unwrap(), label);
    }
    let label = wash.label(&us().with_net("250 ml".parse().unwrap()).unwrap()).unwrap();
    let text = label.write(Notation::Json, Materials::Named).unwrap();
    let read = |changed: &str| {
        let text = text.replacen("\"net_volume\": 250", changed, 1);
        Label::read(&text, Notation::Json, &Catalogue::starter()).unwrap_err()
    };
    let both = read("\"net\": 60, \"net_volume\": 250");
    assert!(both.is_contradiction() && both.to_string().contains("one of net, net_volume"), "{both}");
    let nothing = read("\"net_volume\": 0");
    assert!(nothing.is_out_of_range() && nothing.to_string().contains("more than 0 ml"), "{nothing}");
    assert!(read("\"net_volume\": -1").is_out_of_range());
    // What it says besides is not what comes of another volume.
    assert!(read("\"net_volume\": 300").is_contradiction());
}

#[test]
fn what_is_sold_by_volume_is_judged_as_charged() {
    let wash = formula(&[(starter("water"), "99"), (starter("lavender-oil"), "1")]);
    let basis = |net: &str| {
        let label = wash.label(&eu().with_net(net.parse().unwrap()).unwrap()).unwrap();
        label.scent().basis()
    };
    assert_eq!(basis("250 ml"), "as charged, since a liquid does not dry");
    assert!(basis("250 g").ends_with("the most there can be bone-dry"));
}
