//! Certain, possible and typical only; as charged, finished and bone-dry; uses, storage and dates that are not stated.

use std::sync::Arc;

use tenside::document::Notation;
use tenside::formula::{Formula, Line, Purpose};
use tenside::material::{Composition, Constituent, Form, Material};
use tenside::number::Ppm;
use tenside::review::{Finding, Review};
use tenside::rule::{
    Caveat, Certainty, Market, Placing, Product, ProductForm, RuleBook, RuleList, Severity, Storage, Use, WhyUnchecked,
};
use tenside::substance::SubstanceTable;

use super::{DAY, exact, filled, percent, product, review};

fn of<'a>(review: &'a Review, slug: &str) -> Option<&'a Finding> {
    review.findings().iter().find(|finding| finding.slug() == slug)
}

/// Phenoxyethanol in glycerin with a typical share and, if given, a range; the limit is 1 %.
fn solution(typical: &str, range: Option<(&str, &str)>) -> Formula {
    let substance = |inci: &str| Arc::clone(SubstanceTable::starter().get(inci).unwrap());
    let mut active = Constituent::typical(substance("PHENOXYETHANOL"), percent(typical));
    if let Some((low, high)) = range {
        active = active.with_range(Some(percent(low)), Some(percent(high))).unwrap();
    }
    let rest = Ppm::from_parts(1_000_000 - percent(typical).parts()).unwrap();
    let composition = Composition::stated(vec![active, Constituent::typical(substance("GLYCERIN"), rest)]).unwrap();
    let material = Arc::new(Material::new("solution", "Solution", Form::Liquid, composition).unwrap());
    Formula::new("Solution", vec![Line::new("solution", material, Ppm::WHOLE).unwrap()]).unwrap()
}

#[test]
fn ranges_decide_how_certain_a_finding_is() {
    let certainty = |formula: &Formula| {
        let review = review(formula, &product(&[Use::Hair]));
        (of(&review, "annex-v-29").map(Finding::certainty), review.open_checks() > 0)
    };
    assert_eq!(certainty(&solution("1.2", Some(("1.1", "1.3")))), (Some(Certainty::Certain), false));
    assert_eq!(certainty(&solution("1.2", Some(("0.9", "1.3")))), (Some(Certainty::Possible), false));
    assert_eq!(certainty(&solution("0.9", Some(("0.8", "1.1")))), (Some(Certainty::Possible), false));
    assert_eq!(certainty(&solution("0.9", Some(("0.8", "1.0")))), (None, false));
    assert_eq!(certainty(&solution("1.2", None)).0, Some(Certainty::TypicalOnly));
    assert_eq!(certainty(&solution("0.9", None)), (None, true));
}

#[test]
fn bounds_without_typical_values_are_judged() {
    let substance = |inci: &str| Arc::clone(SubstanceTable::starter().get(inci).unwrap());
    let formula = |low: &str, high: &str| {
        let active = Constituent::bounded(substance("PHENOXYETHANOL"))
            .with_range(Some(percent(low)), Some(percent(high)))
            .unwrap();
        let composition =
            Composition::bounded(vec![active, Constituent::bounded(substance("GLYCERIN"))], false).unwrap();
        let material = Arc::new(Material::new("bounded", "Bounded", Form::Liquid, composition).unwrap());
        Formula::new("Bounded", vec![Line::new("bounded", material, Ppm::WHOLE).unwrap()]).unwrap()
    };
    let certainty = |low: &str, high: &str| {
        of(&review(&formula(low, high), &product(&[Use::Hair])), "annex-v-29").map(Finding::certainty)
    };
    assert_eq!(certainty("1.1", "2"), Some(Certainty::Certain));
    assert_eq!(certainty("0.5", "2"), Some(Certainty::Possible));
    assert_eq!(certainty("0.5", "1"), None);
}

#[test]
fn drying_concentrates() {
    // 0.9 % in 20 % of water: 1.125 % bone-dry, 1.0125 % at 10 % moisture, 0.9563 % at 15 %.
    let formula = filled([("PHENOXYETHANOL", "0.9"), ("WATER", "20")]);
    let at = |moisture: Option<&str>| {
        let asked = product(&[Use::ShampooBar]);
        let asked = moisture.map_or(asked.clone(), |moisture| asked.with_moisture(exact(moisture)).unwrap());
        let review = review(&formula, &asked);
        of(&review, "annex-v-29").map(|finding| (finding.certainty(), finding.basis().unwrap().to_string()))
    };
    let bone_dry = Some((Certainty::Possible, "finished at 0 % residual moisture".to_string()));
    assert_eq!(at(None), bone_dry);
    // Whoever says what is sold is judged by that, and what is no bar does not dry.
    assert_eq!(at(Some("15")), None);
    assert!(of(&review(&formula, &product(&[Use::Hair])), "annex-v-29").is_none());
    let liquid = product(&[Use::ShampooBar]).with_form(ProductForm::Liquid);
    assert!(of(&review(&formula, &liquid), "annex-v-29").is_none());
    assert_eq!(at(Some("10")), Some((Certainty::Certain, "finished at 10 % residual moisture".to_string())));
    assert_eq!(at(Some("0")).unwrap().0, Certainty::Certain);
    let above = review(&formula, &product(&[Use::Hair]).with_moisture(exact("25")).unwrap());
    assert!(
        above
            .unchecked()
            .iter()
            .any(|unchecked| unchecked.slug() == "annex-v-29" && *unchecked.why() == WhyUnchecked::MoistureAboveWater)
    );
    let review = review(
        &formula.with_purposes("PHENOXYETHANOL", &[Purpose::Preservative]).unwrap(),
        &product(&[Use::ShampooBar]),
    );
    let finding = of(&review, "annex-v-29").unwrap();
    let sentence = finding.sentence();
    assert_eq!((finding.severity(), finding.caveats()), (Severity::Question, &[Caveat::BoneDry][..]));
    assert!(sentence.contains("state the residual moisture") && sentence.contains("(possible)"), "{sentence}");
}

#[test]
fn water_is_judged_as_sold_where_that_is_stated() {
    let formula = filled([("WATER", "12")]);
    let asked = |moisture: Option<&str>| {
        let asked = product(&[Use::Hair]);
        let asked = moisture.map_or(asked.clone(), |moisture| asked.with_moisture(exact(moisture)).unwrap());
        of(&review(&formula, &asked), "water-without-preservative").is_some()
    };
    assert!(asked(None));
    assert!(asked(Some("6")));
    assert!(!asked(Some("3")));
}

#[test]
fn what_is_not_stated_is_possible_at_most() {
    let formula = filled([("SODIUM COCOYL ISETHIONATE", "40")]);
    let read = product(&[Use::Hair]).with_reading(tenside::reading::Reading::ph("9", "1+9".parse().unwrap()).unwrap());
    let certainty = |asked: &Product| of(&review(&formula, asked), "isethionates-wet").map(Finding::certainty);
    assert_eq!(certainty(&read), Some(Certainty::Possible));
    assert_eq!(certainty(&read.clone().kept(Storage::Wet)), Some(Certainty::Certain));
    assert_eq!(certainty(&read.clone().kept(Storage::Dry)), None);
    let quaternary = filled([("CETRIMONIUM CHLORIDE", "2.6")]);
    let certainty =
        |used: Use| of(&review(&quaternary, &product(&[used])), "annex-iii-286-rinse-off-hair").map(Finding::certainty);
    assert_eq!(certainty(Use::Hair), Some(Certainty::Certain));
    assert_eq!(certainty(Use::RinseOff), Some(Certainty::Possible));
    assert_eq!(certainty(Use::Body), None);
}

#[test]
fn dates_and_placing_choose_the_rule() {
    let text = r#"
tenside = "rules/1"
id = "dated"
title = "Dated"
source = "house rule"
[[rule]]
slug = "salt"
severity = "warning"
title = "salt"
measure = "constituent"
of = "SODIUM CHLORIDE"
at_most = 3
until = "2026-06-30"
[[rule]]
slug = "salt"
severity = "warning"
title = "salt"
measure = "constituent"
of = "SODIUM CHLORIDE"
at_most = 1
from = "2026-07-01"
placing = "placed"
"#;
    let book = RuleBook::empty().with(Arc::new(RuleList::read(text, Notation::Toml).unwrap())).unwrap();
    let formula = filled([("SODIUM CHLORIDE", "2")]);
    let certainty = |day: &str, placing: Option<Placing>| {
        let asked = Product::new(Market::Us, &[Use::Hair], day.parse().unwrap()).unwrap();
        let asked = placing.map_or(asked.clone(), |placing| asked.with_placing(placing));
        formula
            .review(&book, &asked)
            .unwrap()
            .findings()
            .iter()
            .find(|finding| finding.begins().is_none())
            .map(Finding::certainty)
    };
    let early = Product::new(Market::Us, &[Use::Hair], "2026-06-30".parse().unwrap()).unwrap();
    let review = formula.review(&book, &early).unwrap();
    assert_eq!(review.findings()[0].begins().unwrap().to_string(), "2026-07-01");
    assert!(review.findings()[0].sentence().contains("It holds from 2026-07-01 on"), "{}", review.findings()[0]);
    assert_eq!(certainty("2026-06-30", None), None);
    assert_eq!(certainty("2026-07-01", None), Some(Certainty::Possible));
    assert_eq!(certainty(DAY, Some(Placing::Placed)), Some(Certainty::Certain));
    assert_eq!(certainty(DAY, Some(Placing::MadeAvailable)), None);
}
