//! What cannot be meant is refused by its kind; what names hold is shown as text.

use std::sync::Arc;

use tenside::Error;
use tenside::error::FaultKind;
use tenside::formula::Formula;
use tenside::label::{LabelRequest, Market, NetQuantity, Placing, ScentDeclaration};
use tenside::number::Date;
use tenside::substance::Class;

use super::{eu, formula, oil, pure, starter, us};
use crate::support::exact;

#[track_caller]
fn refused<T: std::fmt::Debug>(result: Result<T, Error>, kind: FaultKind, part: &str) {
    let error = result.unwrap_err();
    assert!(error.has(kind) && error.to_string().contains(part), "{error}");
    assert!(
        error.faults().iter().all(|fault| fault.message.chars().next().is_some_and(|first| !first.is_uppercase())),
        "{error}"
    );
}

#[test]
fn markets_dates_and_placings_that_nobody_knows() {
    for bad in ["UK", "eu", "", "Europe"] {
        refused(bad.parse::<Market>(), FaultKind::UnknownName, "allowed: EU, US");
    }
    refused("sold".parse::<Placing>(), FaultKind::UnknownName, "placed, made-available");
    for bad in ["", "2026-02-30", "24.11.2026", "today"] {
        refused(bad.parse::<Date>(), FaultKind::OutOfRange, "2026-11-24");
    }
    let clay = formula(&[(starter("kaolin"), "100")]);
    let early = |market| clay.label(&LabelRequest::new(market, "2020-01-01".parse().unwrap()));
    refused(early(Market::Eu), FaultKind::OutOfRange, "2023-08-16 or later");
    refused(early(Market::Us), FaultKind::OutOfRange, "2022-12-29 or later");
}

#[test]
fn a_formula_of_nothing_is_none() {
    refused(Formula::new("Empty", Vec::new()), FaultKind::Contradiction, "exactly 100 % w/w");
}

#[test]
fn what_the_formula_does_not_have() {
    let clay = formula(&[(starter("kaolin"), "100")]);
    refused(clay.label(&eu().as_nano("CI 77891").unwrap()), FaultKind::UnknownName, "nano");
    refused(us().as_nano("KAOLIN"), FaultKind::Unsupported, "marks no nanomaterials");
    let declared = |id: &str| ScentDeclaration::new(id, "invented").unwrap();
    refused(
        clay.label(&eu().with_declaration(declared("lavender-oil")).unwrap()),
        FaultKind::UnknownName,
        "declarations",
    );
    refused(
        eu().with_declaration(declared("kaolin")).unwrap().with_declaration(declared("kaolin")),
        FaultKind::Duplicate,
        "kaolin",
    );
    refused(declared("kaolin").holding("VINEGAR", "1", "2"), FaultKind::UnknownName, "81 entries");
    refused(declared("kaolin").holding("LINALOOL", "2", "1"), FaultKind::Contradiction, "LINALOOL");
    refused(declared("kaolin").holding("LINALOOL", "1", "101"), FaultKind::OutOfRange, "0 to 100 % w/w");
    refused(declared("kaolin").holding("LINALOOL", "x", "1"), FaultKind::NotANumber, "x");
    // The same name in another spelling.
    refused(
        declared("kaolin").holding("d-Limonene", "1", "2").unwrap().holding("D LIMONENE", "1", "2"),
        FaultKind::Duplicate,
        "declared twice",
    );
    refused(ScentDeclaration::new("kaolin", " "), FaultKind::OutOfRange, "empty");
    refused(ScentDeclaration::new("", "x"), FaultKind::OutOfRange, "");
}

#[test]
fn moistures_and_contents_out_of_range() {
    let wet = formula(&[(starter("kaolin"), "95"), (starter("water"), "5")]);
    refused(wet.label(&eu().with_moisture(exact("5.0001")).unwrap()), FaultKind::OutOfRange, "0 to 5.0000 %");
    assert!(wet.label(&eu().with_moisture(exact("5")).unwrap()).is_ok());
    refused(eu().with_moisture(exact("-1")), FaultKind::OutOfRange, "residual moisture");
    refused(eu().with_moisture(exact("100")), FaultKind::OutOfRange, "residual moisture");
    refused(eu().with_net("0 g".parse().unwrap()), FaultKind::OutOfRange, "more than 0 g");
    refused(eu().with_net("0 fl oz".parse().unwrap()), FaultKind::OutOfRange, "more than 0 ml");
    let net = |text: &str| text.parse::<NetQuantity>();
    refused(net("60"), FaultKind::Missing, "a net content needs a unit");
    refused(net("2 cups"), FaultKind::UnknownName, "of a liquid ml, cl, l, fl oz");
    refused(net("two ml"), FaultKind::NotANumber, "");
    refused(net("-1 ml"), FaultKind::OutOfRange, "volume");
    refused(net("-1 g"), FaultKind::OutOfRange, "mass");
}

/// Nothing but water: everything dries, and no division by nothing follows.
#[test]
fn water_alone_has_a_label() {
    let water = formula(&[(starter("water"), "100")]);
    for request in [eu(), eu().with_moisture(exact("0")).unwrap(), eu().with_moisture(exact("50")).unwrap()] {
        assert_eq!(water.label(&request).unwrap().ingredients(), "AQUA");
    }
}

#[test]
fn markup_in_names_is_shown_as_text() {
    let hostile = "<img src=x onerror=alert(1)> & <b>|";
    let bad = pure("bad", hostile, Class::Other);
    let bar = formula(&[(bad, "99"), (oil("o", &[(hostile, "1", "2", "3"), ("LINALOOL", "20", "30", "40")]), "1")]);
    let label = bar.label(&eu().with_net("60 g".parse().unwrap()).unwrap()).unwrap();
    assert!(label.ingredients().starts_with(hostile));
    let page = label.page();
    for html in [page.html(), page.html_document()] {
        assert!(!html.contains("<img") && !html.contains("<b>") && html.contains("&#60;img src=x"), "{html}");
    }
    assert!(!page.markdown().contains("<img") && page.markdown().contains("&lt;img"));
    assert!(page.text(100).contains("<img"));
}

#[test]
fn a_premix_deeper_than_any_number_is_still_exact() {
    let mut inner = Arc::new(
        formula(&[(pure("a", "ALPHA", Class::Other), "33.3333"), (pure("b", "BETA", Class::Other), "66.6667")])
            .to_material("level-0", tenside::material::Form::Powder)
            .unwrap(),
    );
    for level in 1..12 {
        let id = format!("level-{level}");
        inner = Arc::new(
            formula(&[(inner, "33.3333"), (pure("b", "BETA", Class::Other), "66.6667")])
                .to_material(&id, tenside::material::Form::Powder)
                .unwrap(),
        );
    }
    let label = formula(&[(inner, "100")]).label(&us()).unwrap();
    let share: tenside::number::Exact = (0..12).fold(exact("100"), |share, _| share * exact("0.333333"));
    assert_eq!((label.ingredients().as_str(), label.items()[1].percent().typical), ("BETA, ALPHA", Some(share)));
}
