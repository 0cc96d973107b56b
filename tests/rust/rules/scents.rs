//! One limit for all scent together, or one for each scent by its own certificate.

use std::sync::Arc;

use tenside::formula::{Formula, Line};
use tenside::material::{Composition, Form, Material};
use tenside::review::Review;
use tenside::rule::{Product, Use, Value, WhyUnchecked};

use super::{exact, material, percent, product, review};

const RULE: &str = "scent-load";

fn line(material: &Arc<Material>, share: &str) -> Line {
    Line::new(material.id(), Arc::clone(material), percent(share)).unwrap()
}

/// Lines that sum to 100.
fn formula(lines: &[(&Arc<Material>, &str)]) -> Formula {
    Formula::new("Scented", lines.iter().map(|(material, share)| line(material, share)).collect()).unwrap()
}

fn limited(limits: &[(&str, &str)]) -> Product {
    product(&[Use::ShampooBar])
        .with_scent_limits(limits.iter().map(|(scent, most)| (*scent, exact(most))), "9")
        .unwrap()
}

/// The lines of each finding of the rule.
fn found(review: &Review) -> Vec<Vec<String>> {
    review.findings().iter().filter(|finding| finding.slug() == RULE).map(|finding| finding.lines().to_vec()).collect()
}

/// The lines that are asked about; none where the rule is not among what could not be checked.
fn asked(review: &Review) -> Option<Vec<String>> {
    review.unchecked().iter().find(|unchecked| unchecked.slug() == RULE).map(|unchecked| unchecked.lines().to_vec())
}

#[test]
fn each_scent_keeps_its_own_limit() {
    let (lavender, lemon, rest) = (material("lavender-oil"), material("lemon-oil"), material("GLYCERIN"));
    let limits = limited(&[("lavender-oil", "0.8"), ("lemon-oil", "0.5")]);
    let of = |first: &str, second: &str, filler: &str| {
        review(&formula(&[(&lavender, first), (&lemon, second), (&rest, filler)]), &limits)
    };
    let at_both = of("0.8", "0.5", "98.7");
    assert_eq!((found(&at_both), asked(&at_both)), (vec![], None));
    let over = of("0.8001", "0.5", "98.6999");
    assert_eq!(found(&over), [["lavender-oil"]]);
    let finding = over.findings().iter().find(|finding| finding.slug() == RULE).unwrap();
    assert_eq!(finding.limit().unwrap().1, exact("0.8"));
    assert!(matches!(finding.value(), Some(Value::Interval(value, _)) if value.typical == Some(exact("0.8001"))));
    assert!(finding.sentence().contains("Raw material lavender-oil 0.8001 %"), "{}", finding.sentence());
    assert_eq!(found(&of("0.8001", "0.5001", "98.6998")).len(), 2);
    // All together they may be more than one of them alone.
    let together = review(
        &formula(&[(&lavender, "0.8"), (&lemon, "0.5"), (&rest, "98.7")]),
        &product(&[Use::ShampooBar]).with_scent_limit(exact("0.8"), "9").unwrap(),
    );
    assert_eq!(found(&together), [["lavender-oil", "lemon-oil"]]);
    assert!(
        at_both.page().text(400).contains("0.8 % of lavender-oil, 0.5 % of lemon-oil for category 9"),
        "{}",
        at_both.page().text(400)
    );
}

#[test]
fn a_scent_on_two_lines_and_in_a_premix_is_one_scent() {
    let (lavender, rest) = (material("lavender-oil"), material("GLYCERIN"));
    let parts = vec![(Arc::clone(&lavender), percent("50")), (Arc::clone(&rest), percent("50"))];
    let diluted = Arc::new(
        Material::new("diluted-lavender", "Diluted lavender", Form::Liquid, Composition::premix(parts).unwrap())
            .unwrap(),
    );
    let of = |second: &str, filler: &str, limits: &[(&str, &str)]| {
        review(&formula(&[(&lavender, "0.5"), (&diluted, second), (&rest, filler)]), &limited(limits))
    };
    let own = [("lavender-oil", "0.8")];
    assert_eq!((found(&of("0.6", "98.9", &own)), asked(&of("0.6", "98.9", &own))), (vec![], None));
    assert_eq!(found(&of("0.6002", "98.8998", &own)), [["lavender-oil", "diluted-lavender"]]);
    // The premix as a scent of its own, as whoever sells it would state it.
    let sold = [("lavender-oil", "0.8"), ("diluted-lavender", "0.6")];
    assert_eq!(
        found(&of("0.6001", "98.8999", &sold)),
        [["lavender-oil", "diluted-lavender"].map(String::from).to_vec(), vec!["diluted-lavender".to_string()]]
    );
    let premix_alone = of("0.6", "98.9", &[("diluted-lavender", "0.6")]);
    assert_eq!((found(&premix_alone), asked(&premix_alone)), (vec![], Some(vec!["lavender-oil".to_string()])));
}

#[test]
fn a_scent_without_a_limit_is_asked_about() {
    let (lavender, lemon, rest) = (material("lavender-oil"), material("lemon-oil"), material("GLYCERIN"));
    let both = formula(&[(&lavender, "0.8"), (&lemon, "0.5"), (&rest, "98.7")]);
    let one = review(&both, &limited(&[("lavender-oil", "0.7")]));
    assert_eq!(
        (found(&one), asked(&one)),
        (vec![vec!["lavender-oil".to_string()]], Some(vec!["lemon-oil".to_string()]))
    );
    // Of none the rule as a whole.
    assert_eq!(asked(&review(&both, &product(&[Use::ShampooBar]))), Some(vec![]));
    // A name that nobody knows is said, with the lines that it leaves without.
    let wrong = review(&both, &limited(&[("lavender-oil", "0.8"), ("lemon-oill", "0.5")]));
    let unchecked = wrong.unchecked().iter().find(|unchecked| unchecked.slug() == RULE).unwrap();
    assert!(
        matches!(unchecked.why(), WhyUnchecked::NotKnown(_)) && unchecked.lines() == ["lemon-oil"],
        "{}",
        unchecked.sentence()
    );
    assert!(
        unchecked.sentence().contains("lemon-oill") && unchecked.sentence().contains("lemon-oil"),
        "{}",
        unchecked.sentence()
    );
    // One that the formula does not hold is no finding.
    let absent = review(
        &formula(&[(&lavender, "0.8"), (&rest, "99.2")]),
        &limited(&[("lavender-oil", "0.8"), ("lemon-oil", "0.5")]),
    );
    assert_eq!((found(&absent), asked(&absent)), (vec![], None));
}

#[test]
fn drying_counts_against_each_limit() {
    let (lavender, water, rest) = (material("lavender-oil"), material("WATER"), material("GLYCERIN"));
    let wet = formula(&[(&lavender, "0.8"), (&water, "20"), (&rest, "79.2")]);
    // 0.8 of 80 is 1 % when all water is gone.
    let dry = |most: &str| review(&wet, &limited(&[("lavender-oil", most)]).with_moisture(exact("0")).unwrap());
    assert_eq!(found(&dry("1")), Vec::<Vec<String>>::new());
    assert_eq!(found(&dry("0.9999")), [["lavender-oil"]]);
    assert_eq!(
        found(&review(&wet, &limited(&[("lavender-oil", "0.9")]).with_moisture(exact("20")).unwrap())),
        Vec::<Vec<String>>::new()
    );
}
