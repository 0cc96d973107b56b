//! Exposure against the printed table, by hand, and what is refused.

use serde::Deserialize;
use tenside::catalogue::Catalogue;
use tenside::error::FaultKind;
use tenside::exposure::{ExposureRequest, ProductType};
use tenside::formula::{Formula, Line};
use tenside::measure::Basis;
use tenside::number::Exact;

use crate::support::{exact, percent};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    product: String,
    amount: Exact,
    amount_per_body_weight: Option<Exact>,
    retention: Exact,
    exposure: Exact,
    exposure_per_body_weight: Exact,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Printed {
    source: String,
    mark: String,
    row: Vec<Row>,
}

fn bar() -> Formula {
    let catalogue = Catalogue::starter();
    let line = |id: &str, share: &str| Line::new(id, catalogue.material(id).unwrap().clone(), percent(share)).unwrap();
    Formula::new("Bar", vec![line("kaolin", "98.6"), line("panthenol", "0.6"), line("lavender-oil", "0.8")]).unwrap()
}

#[test]
fn the_rows_are_those_printed() {
    let printed: Printed = toml::from_str(include_str!("../data/sccs_exposure.toml")).unwrap();
    assert!(!printed.source.is_empty() && !printed.mark.is_empty());
    assert_eq!(printed.row.len(), ProductType::all().len());
    for row in printed.row {
        let known = ProductType::find(&row.product).unwrap();
        assert_eq!(
            (known.amount(), known.retention(), known.exposure()),
            (&row.amount, &row.retention, &row.exposure),
            "{}",
            row.product
        );
        assert_eq!(
            (known.amount_per_body_weight(), known.exposure_per_body_weight()),
            (row.amount_per_body_weight.as_ref(), &row.exposure_per_body_weight)
        );
    }
}

/// 150.49 mg at a retention of 0.01 would be 1.5049; the guidance prints 1.51, and that is what counts.
#[test]
fn printed_values_are_not_calculated_anew() {
    let shampoo = ProductType::find("Shampoo").unwrap();
    assert_ne!(&(shampoo.amount_per_body_weight().unwrap() * shampoo.retention()), shampoo.exposure_per_body_weight());
    assert_eq!(
        ExposureRequest::of_product("shampoo")
            .map(|asked| bar().exposure("PANTHENOL", &asked, &Basis::AsCharged).unwrap().product_exposure()),
        Ok(exact("1.51"))
    );
}

#[test]
fn dose_and_margin_by_hand() {
    let asked = ExposureRequest::of_product("body-lotion").unwrap().with_absorption(exact("10")).unwrap();
    let asked = asked.with_oral_dose_absorbed(exact("80"), exact("25")).unwrap();
    let exposure = bar().exposure("linalool", &asked, &Basis::AsCharged).unwrap();
    // Lavender oil holds 20 to 45 % (typically 32.5 %) of it, so 0.8 % oil bring 0.16 to 0.36 %.
    let dose = exposure.dose();
    assert_eq!(
        (&dose.low, &dose.typical, &dose.high),
        (&Some(exact("0.0197120")), &Some(exact("0.0320320")), &Some(exact("0.0443520")))
    );
    assert_eq!(exposure.reference_dose(), Some(exact("20")));
    let margin = exposure.margin().unwrap();
    assert_eq!(margin.low, Some(exact("20") / exact("0.044352")));
    assert_eq!(margin.high, Some(exact("20") / exact("0.019712")));
    let text = exposure.page().text(2000);
    assert!(text.contains("at least 450"), "{text}");
    assert!(text.contains("a qualified safety assessor decides") && text.contains("no row of its own"));
    assert!(!text.contains("compliant") && !text.contains("is safe"));
}

#[test]
fn defaults_are_named_and_own_amounts_are_calculated() {
    let asked = ExposureRequest::of_amount(exact("3"), exact("1"))
        .unwrap()
        .with_body_weight(exact("50"))
        .unwrap()
        .with_oral_dose(exact("100"))
        .unwrap();
    let exposure = bar().exposure("PANTHENOL", &asked, &Basis::AsCharged).unwrap();
    assert_eq!(exposure.product_exposure(), exact("0.6"));
    assert_eq!((exposure.absorption(), exposure.reference_dose()), (&exact("50"), Some(exact("50"))));
    let notes = exposure.notes().join("\n");
    assert!(
        notes.contains("50 % through the skin is the guidance's default")
            && notes.contains("3 g a day")
            && notes.contains("50 kg"),
        "{notes}"
    );
    // 60 kg where nothing else is stated.
    let asked = ExposureRequest::of_amount(exact("3"), exact("1")).unwrap();
    let exposure = bar().exposure("PANTHENOL", &asked, &Basis::AsCharged).unwrap();
    assert_eq!((exposure.product_exposure(), exposure.margin()), (exact("0.5"), None));
}

#[test]
fn what_cannot_be_asked_is_refused() {
    let kind = |result: Result<ExposureRequest, tenside::Error>, kind| assert!(result.unwrap_err().has(kind));
    let solid = ExposureRequest::of_product("solid shampoo").unwrap_err();
    assert!(
        solid.is_unknown_name()
            && solid.to_string().contains("no row of its own")
            && solid.to_string().contains("state the grams used"),
        "{solid}"
    );
    kind(ExposureRequest::of_product("shampo"), FaultKind::UnknownName);
    kind(ExposureRequest::of_amount(exact("3"), exact("100.1")), FaultKind::OutOfRange);
    kind(ExposureRequest::of_amount(exact("-1"), exact("1")), FaultKind::OutOfRange);
    let shampoo = || ExposureRequest::of_product("shampoo").unwrap();
    kind(shampoo().with_absorption(exact("101")), FaultKind::OutOfRange);
    kind(shampoo().with_systemic_dose(exact("-1")), FaultKind::OutOfRange);
    kind(shampoo().with_oral_dose_absorbed(exact("1"), exact("-3")), FaultKind::OutOfRange);
    kind(shampoo().with_body_weight(exact("60")), FaultKind::Contradiction);
    assert!(bar().exposure("GERANIOLL", &shampoo(), &Basis::AsCharged).unwrap_err().is_unknown_name());
    assert!(bar().exposure(" ", &shampoo(), &Basis::AsCharged).unwrap_err().is_out_of_range());
}
