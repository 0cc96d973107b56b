//! Net content against worked examples and the tables of tolerated shortfall.

use serde::Deserialize;
use tenside::label::{Market, NetContent};
use tenside::number::{Exact, MassUnit};

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
        let content = format!("{}.{} g", tenths / 10, tenths % 10).parse().unwrap();
        let net = NetContent::new(&content, Market::Us);
        let first = net.text().strip_prefix("Net Wt. ").unwrap();
        let number: Exact = first.split(' ').next().unwrap().parse().unwrap();
        if first.split(' ').nth(1) == Some("oz") {
            let exact = content.in_unit(MassUnit::Ounce);
            assert!(number <= exact && exact < number + Exact::ratio(1, 100), "{}", net.text());
        }
        assert_eq!(NetContent::new(&content, Market::Eu).content(), &content);
    }
}
