//! A formula with thirty planted faults has thirty findings and no other; a clean one has none and says what was not
//! checked.

use std::collections::BTreeSet;
use std::sync::Arc;

use tenside::catalogue::Catalogue;
use tenside::document::Notation;
use tenside::formula::{Formula, Line, Phase};
use tenside::number::Ppm;
use tenside::reading::Reading;
use tenside::rule::{Product, Storage, Use};

use super::{exact, percent, product, pure, review};

/// An invented powder with everything stated that raw materials are checked against.
const POWDER: &str = r#"
tenside = "catalogue/1"
source = "invented for a test"
[[material]]
id = "planted-powder"
name = "Planted powder"
form = "powder"
phase = "one"
ph_range = { low = 4, high = 8, source = "invented" }
highest_process_temperature = 40
use_levels = [{ use = "shampoo-bar", low = 0.1, high = 1, source = "invented" }]
cautions = ["irritant-dust"]
constituents = [{ inci = "KAOLIN", typical = 100 }]
"#;

fn formula(lines: &[(&str, &str)], powder: &str, temperature: &str) -> Formula {
    let catalogue = Catalogue::read(POWDER, Notation::Toml).unwrap();
    let line = |name: &str, material, share| Line::new(name, material, share).unwrap().in_phase("one").unwrap();
    let mut all: Vec<Line> = lines.iter().map(|(inci, share)| line(inci, pure(inci), percent(share))).collect();
    if powder != "0" {
        all.push(line("powder", Arc::clone(catalogue.material("planted-powder").unwrap()), percent(powder)));
    }
    let sum: u32 = all.iter().map(|line| line.percent().parts()).sum();
    all.push(line("filler", pure("GLYCERIN"), Ppm::from_parts(1_000_000 - sum).unwrap()));
    let phase = Phase::new("one").unwrap().at(temperature).unwrap();
    Formula::new("Planted", all).unwrap().with_phases(&[phase]).unwrap()
}

fn stated(ph: &str, storage: Storage, activity: &str, scent: &str) -> Product {
    product(&[Use::ShampooBar])
        .with_reading(Reading::ph(ph, "1+9".parse().unwrap()).unwrap())
        .kept(storage)
        .with_water_activity(activity)
        .unwrap()
        .with_scent_limit(exact(scent), "9")
        .unwrap()
}

#[test]
fn thirty_planted_faults_are_found_and_nothing_else() {
    let lines = [
        ("SODIUM BENZOATE", "3"),
        ("POTASSIUM BENZOATE", "0.7"),
        ("SODIUM PROPIONATE", "2.7"),
        ("SODIUM SALICYLATE", "0.6"),
        ("POTASSIUM SORBATE", "0.85"),
        ("METHYLPARABEN", "0.45"),
        ("SODIUM DEHYDROACETATE", "0.7"),
        ("SODIUM FORMATE", "0.8"),
        ("PHENOXYETHANOL", "1.1"),
        ("BENZYL ALCOHOL", "1.1"),
        ("METHYLCHLOROISOTHIAZOLINONE", "0.002"),
        ("METHYLISOTHIAZOLINONE", "0.0016"),
        ("CETRIMONIUM CHLORIDE", "2.6"),
        ("BEHENTRIMONIUM CHLORIDE", "3"),
        ("SODIUM HYDROXIDE", "0.1"),
        ("PARFUM", "1"),
        ("SODIUM COCOYL ISETHIONATE", "51"),
        ("unspecified", "6"),
    ];
    let planted = [
        "annex-v-1-rinse-off",
        "annex-v-1a",
        "annex-v-2",
        "annex-v-3",
        "annex-v-4",
        "annex-v-12-methyl",
        "annex-v-13",
        "annex-v-14",
        "annex-v-29",
        "annex-v-34",
        "annex-v-39-rinse-off",
        "annex-v-39-57",
        "annex-v-57-rinse-off",
        "annex-iii-286-rinse-off-hair",
        "annex-iii-287-rinse-off-hair",
        "annex-iii-15a",
        "benzoate-above-useful-ph",
        "sorbate-above-useful-ph",
        "dehydroacetate-above-useful-ph",
        "scent-left-open",
        "isethionates-wet",
        "isethionate-test-level",
        "water-activity-above-mark",
        "scent-load",
        "charge-ratio",
        "unspecified-remainder",
        "use-level-high",
        "handling",
        "phase-too-hot",
        "ph-outside-window",
    ];
    let review = review(&formula(&lines, "2", "60"), &stated("11.5", Storage::Wet, "0.9", "0.5"));
    let slugs: Vec<&str> = review.findings().iter().map(tenside::review::Finding::slug).collect();
    assert_eq!(planted.len(), 30);
    assert_eq!(slugs.iter().copied().collect::<BTreeSet<_>>(), planted.into_iter().collect::<BTreeSet<_>>());
    assert_eq!(slugs.len(), 30, "{slugs:?}");
    assert!(review.summary().starts_with("30 findings among "), "{}", review.summary());
}

#[test]
fn a_clean_formula_has_no_finding_and_says_what_was_not_checked() {
    let lines = [
        ("SODIUM LAUROYL GLUTAMATE", "40"),
        ("CETYL ALCOHOL", "20"),
        ("PHENOXYETHANOL", "0.8"),
        ("ALPHA-ISOMETHYL IONONE", "0.4"),
        ("WATER", "4"),
    ];
    let asked = stated("5.6", Storage::Dry, "0.6", "0.5").with_moisture(exact("3")).unwrap();
    let clean = review(&formula(&lines, "0", "60"), &asked);
    assert!(clean.findings().is_empty(), "{:#?}", clean.findings().iter().map(ToString::to_string).collect::<Vec<_>>());
    assert!(clean.checks() >= 45, "{}", clean.checks());
    assert!(
        clean.summary().starts_with(&format!("no finding among these {} checks", clean.checks())),
        "{}",
        clean.summary()
    );
    let unchecked: Vec<&str> = clean.unchecked().iter().map(tenside::review::Unchecked::slug).collect();
    assert_eq!(unchecked, ["use-level-high", "use-level-low"]);
    let text = clean.page().text(100);
    for words in [
        "no finding among these",
        "Not covered",
        "US states",
        "United Kingdom",
        "as of 2026-05-18",
        "It is no approval",
        "no use level is stated",
    ] {
        assert!(text.to_lowercase().contains(&words.to_lowercase()), "{words} is not in\n{text}");
    }
    for words in ["compliant", " safe ", "safe.", "approved"] {
        assert!(!text.to_lowercase().contains(words), "{words}");
    }
    let bare = review(&formula(&lines, "0", "60"), &product(&[Use::ShampooBar]));
    assert!(bare.findings().is_empty());
    let unchecked: Vec<&str> = bare.unchecked().iter().map(tenside::review::Unchecked::slug).collect();
    assert_eq!(unchecked, ["water-activity-above-mark", "use-level-high", "use-level-low", "scent-load"]);
}
