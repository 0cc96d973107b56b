//! What is refused, and what the refusals say; names that look like markup.

use std::sync::Arc;

use tenside::document::Notation;
use tenside::error::FaultKind;
use tenside::formula::{Formula, Line};
use tenside::material::{Composition, Constituent, Form, Material};
use tenside::number::{Date, Ppm};
use tenside::rule::{Market, RuleBook, RuleList, Use};
use tenside::substance::{Class, Substance};

use super::{filled, product};

const HEAD: &str = "tenside = \"rules/1\"\nid = \"own\"\ntitle = \"Own\"\nsource = \"house rule\"\n";

fn rule(body: &str) -> String {
    format!("{HEAD}[[rule]]\nslug = \"a\"\nseverity = \"warning\"\ntitle = \"a\"\n{body}\n")
}

/// The kinds of the faults and the whole message.
fn refused(text: &str) -> (Vec<FaultKind>, String) {
    let error = RuleList::read(text, Notation::Toml).expect_err(text);
    (error.faults().iter().map(|fault| fault.kind).collect(), error.to_string())
}

#[test]
fn each_fault_of_a_rule_is_named() {
    use FaultKind::{Contradiction, Missing, OutOfRange, UnknownKey, UnknownName, Unsupported};
    for (body, kind, words) in [
        ("measure = \"watter\"\nat_most = 1", UnknownName, "did you mean \"water\"?"),
        ("measure = \"water\"\nat_most = 1\nmarkets = [\"EU\", \"UK\"]", UnknownName, "allowed: EU, US"),
        ("measure = \"water\"\nat_most = 1\nat_mots = 2", UnknownKey, "did you mean \"at_most\"?"),
        ("group = \"salts\"\nat_most = 1", UnknownName, "unknown group"),
        ("measure = \"water\"", Missing, "at_most, below, at_least, above"),
        ("", Missing, "one of measure, group, fact, each, when"),
        ("measure = \"water\"\nfact = \"ph\"\nat_most = 1", Contradiction, "exactly one subject"),
        ("measure = \"cost\"\nat_most = 1", Unsupported, "knows no prices"),
        ("measure = \"water\"\nwithin = { phase = \"liquid\" }\nat_most = 1", Unsupported, "does not know the lines"),
        ("fact = \"ph\"\nat_most = 70", OutOfRange, "allowed: -2 to 16"),
        ("fact = \"ph\"", Missing, "a fact without a limit"),
        ("measure = \"water\"\nat_most = 1\npka = 4", Contradiction, "about the pH only"),
        ("measure = \"water\"\nat_most = 1\nfrom = \"2026-02-30\"", OutOfRange, "year-month-day"),
        (
            "measure = \"water\"\nat_most = 1\nfrom = \"2026-03-02\"\nuntil = \"2026-03-01\"",
            Contradiction,
            "ends before it begins",
        ),
        ("measure = \"water\"\nat_most = 1\nuses = [\"shampo-bar\"]", UnknownName, "did you mean \"shampoo-bar\"?"),
        ("measure = \"water\"\nat_most = 100.1", OutOfRange, "0 to 100"),
        ("measure = \"water\"\nat_most = 1\npurpose = \"preservation\"", UnknownName, "did you mean \"preservative\"?"),
        ("when = [{ kept = \"wet\" }]\npurpose = \"colour\"", Contradiction, "a measure with a limit"),
        ("measure = \"water\"\nat_most = 1\npurpose_not_stated = \"question\"", Missing, "give purpose as well"),
        ("measure = \"water\"\nat_most = 1\nact = \"32022R1531\"", UnknownName, "list it as an [[act]]"),
        ("measure = \"water\"\nat_most = 1\navailable_from = \"2026-03-01\"", Contradiction, "from <= available_from"),
        ("measure = \"water\"\nat_most = 1\nmembership = \"a class\"", Missing, "membership_mark"),
        ("measure = \"water\"\nat_most = 1\nwhen = [{ measure = \"water\" }]", Contradiction, "exactly one comparison"),
        (
            "measure = \"water\"\nat_most = 1\nwhen = [{ kept = \"wet\", fact = \"ph\", above = 3 }]",
            Contradiction,
            "exactly one comparison",
        ),
        (
            "measure = \"water\"\nat_most = 1\nwhen = [{ measure = \"water\", above = 1, basis = \"every-basis\" }]",
            Contradiction,
            "asked on one basis",
        ),
        ("each = \"heat-sensitive\"", Contradiction, "°C"),
        ("each = \"ph-window\"\nat_most = 3", Contradiction, "stands with the raw material"),
        ("each = \"handling\"\nlisted = [\"X\"]", Contradiction, "a list goes with"),
    ] {
        let (kinds, message) = refused(&rule(body));
        assert!(kinds.contains(&kind) && message.contains(words), "{body}\n{kinds:?} {message}");
    }
}

#[test]
fn a_limit_that_is_refused_is_not_called_missing_as_well() {
    for body in [
        "measure = \"water\"\nat_most = 101",
        "measure = \"water\"\nat_least = -1\npurpose = \"colour\"",
        "fact = \"ph\"\nbelow = 70",
    ] {
        let (kinds, message) = refused(&rule(body));
        assert!(kinds == [FaultKind::OutOfRange] && message.contains("line 10"), "{message}");
    }
}

#[test]
fn a_rule_without_a_source_is_refused() {
    let (kinds, message) = refused(&rule("measure = \"water\"\nat_most = 1").replace("source = \"house rule\"\n", ""));
    assert!(kinds == [FaultKind::Missing] && message.contains("house rule"), "{message}");
    let (kinds, _) = refused(&HEAD.replace("source = \"house rule\"\n", ""));
    assert_eq!(kinds, [FaultKind::Missing]);
}

#[test]
fn overlapping_dates_are_refused_and_dates_that_follow_are_not() {
    let dated = |first: &str, second: &str| {
        let one = |dates: &str| {
            format!(
                "[[rule]]\nslug = \"a\"\nseverity = \"warning\"\ntitle = \"a\"\nmeasure = \"water\"\nat_most = \
                 1\n{dates}\n"
            )
        };
        format!("{HEAD}{}{}", one(first), one(second))
    };
    for (first, second) in [
        ("", ""),
        ("until = \"2026-06-30\"", "from = \"2026-06-30\""),
        ("from = \"2026-01-01\"", "from = \"2027-01-01\""),
    ] {
        let (kinds, message) = refused(&dated(first, second));
        assert!(kinds == [FaultKind::Contradiction] && message.contains("hold on the same day"), "{message}");
    }
    for (first, second) in
        [("until = \"2026-06-30\"", "from = \"2026-07-01\""), ("markets = [\"EU\"]", "markets = [\"US\"]")]
    {
        assert_eq!(RuleList::read(&dated(first, second), Notation::Toml).unwrap().rules().len(), 2);
    }
}

#[test]
fn groups_that_take_in_themselves_are_refused() {
    let group = |name: &str, other: &str| {
        format!(
            "[[group]]\nname = \"{name}\"\ntitle = \"{name}\"\nmembers = [{{ inci = \"X\" }}]\ngroups = \
             [\"{other}\"]\n"
        )
    };
    let (kinds, message) = refused(&format!("{HEAD}{}{}", group("one", "two"), group("two", "one")));
    assert!(kinds == [FaultKind::Loop, FaultKind::Loop] && message.contains("contains itself"), "{message}");
    let (kinds, _) = refused(&format!("{HEAD}{}", group("one", "none")));
    assert_eq!(kinds, [FaultKind::UnknownName]);
}

#[test]
fn every_fault_of_a_file_is_reported_with_its_line() {
    let text = format!(
        "{HEAD}colour = 1\n[[rule]]\nslug = \"A B\"\nseverity = \"grave\"\nmeasure = \"watter\"\nat_most = 1\n"
    );
    let error = RuleList::read(&text, Notation::Toml).unwrap_err();
    let lines: Vec<u32> = error.faults().iter().map(|fault| fault.position.unwrap().0).collect();
    assert_eq!(lines, [5, 6, 7, 8, 9], "{error}");
}

#[test]
fn unknown_markets_uses_and_days_are_refused() {
    assert!("UK".parse::<Market>().unwrap_err().to_string().contains("allowed: EU, US"));
    assert!("shampo".parse::<Use>().unwrap_err().is_unknown_name());
    assert!("2026-13-01".parse::<Date>().unwrap_err().is_out_of_range());
}

#[test]
fn two_lists_of_one_name_do_not_go_together() {
    let list = Arc::new(RuleList::read(&rule("measure = \"water\"\nat_most = 1"), Notation::Toml).unwrap());
    let book = RuleBook::starter().clone().with(Arc::clone(&list)).unwrap();
    assert!(book.clone().with(list).unwrap_err().is_duplicate());
    let clash = rule("measure = \"water\"\nat_most = 1").replace("slug = \"a\"", "slug = \"annex-v-29\"");
    let with = |text: &str| RuleBook::starter().clone().with(Arc::new(RuleList::read(text, Notation::Toml).unwrap()));
    let error = with(&clash).unwrap_err();
    assert!(error.is_duplicate() && error.to_string().contains("replaces = \"eu-annex-v\""), "{error}");
    // Whoever says so wins: the rule of the list that is named is asked no more.
    let own = clash.replace("slug = ", "replaces = \"eu-annex-v\"\nslug = ");
    let book = with(&own).unwrap();
    let rules: Vec<_> = book.rules().filter(|rule| rule.slug() == "annex-v-29").collect();
    assert!(rules.len() == 1 && rules[0].replaces() == Some("eu-annex-v"));
    assert!(
        filled([("PHENOXYETHANOL", "3")])
            .review(&book, &product(&[Use::Hair]))
            .unwrap()
            .findings()
            .iter()
            .all(|f| f.slug() != "annex-v-29")
    );
    assert!(with(&own.replace("annex-v-29", "annex-v-2900")).unwrap_err().is_unknown_name());
}

#[test]
fn a_status_names_what_and_where() {
    let statement = |body: &str| refused(&format!("{HEAD}[[status]]\n{body}\n"));
    for (body, kind, words) in [
        ("kind = \"banned\"\ntext = \"x\"\nnames = [\"X\"]", FaultKind::UnknownName, "prohibited"),
        ("kind = \"limit\"\ntext = \"x\"\nnames = []", FaultKind::Missing, "name at least one"),
        ("kind = \"limit\"\nnames = [\"X\"]", FaultKind::Missing, "text"),
        (
            "kind = \"limit\"\ntext = \"x\"\nnames = [\"X\"]\nfrom = \"2027-13-01\"",
            FaultKind::OutOfRange,
            "year-month-day",
        ),
    ] {
        let (kinds, message) = statement(body);
        assert!(kinds.contains(&kind) && message.contains(words), "{body}\n{kinds:?} {message}");
    }
    let act = "[[act]]\nid = \"32022R1531\"\ntitle = \"one\"\n";
    let (kinds, message) = refused(&format!("{HEAD}{act}{act}"));
    assert!(kinds.contains(&FaultKind::Duplicate) && message.contains("two acts have the same id"), "{message}");
    let (kinds, _) = refused(&format!("{HEAD}[[searched]]\nhow = \"by-feel\"\nplace = \"x\"\nnames = [\"X\"]\n"));
    assert!(kinds.contains(&FaultKind::UnknownName));
}

#[test]
fn markup_in_names_is_escaped() {
    let odd = "<script>alert('CI 1')</script>";
    let substance = Arc::new(Substance::new(odd, Class::Colourant).unwrap());
    let composition = Composition::stated(vec![Constituent::typical(substance, Ppm::WHOLE)]).unwrap();
    let material = Arc::new(Material::new("odd", "Odd", Form::Powder, composition).unwrap());
    let formula = Formula::new("<b>Odd</b>", vec![Line::new("<i>odd</i>", material, Ppm::WHOLE).unwrap()]).unwrap();
    let us = tenside::rule::Product::new(Market::Us, &[Use::Hair], super::DAY.parse().unwrap()).unwrap();
    let review = formula.review(RuleBook::starter(), &us).unwrap();
    assert!(review.findings().iter().any(|finding| finding.sentence().contains(odd)));
    let html = review.page().html();
    for bad in ["<script>", "<b>Odd", "<i>odd"] {
        assert!(!html.contains(bad), "{bad}");
    }
}

#[test]
fn a_limit_of_many_digits_is_judged_exactly() {
    let digits = "9".repeat(400);
    let text = rule(&format!("measure = \"water\"\nat_most = \"1{digits}/2{digits}\""));
    let list = RuleList::read(&text, Notation::Toml).unwrap();
    let book = RuleBook::empty().with(Arc::new(list)).unwrap();
    let found =
        |share: &str| filled([("WATER", share)]).review(&book, &product(&[Use::Hair])).unwrap().findings().len();
    assert_eq!((found("0.6666"), found("0.6667")), (0, 1));
    let (kinds, message) = refused(&rule(&format!("measure = \"water\"\nat_most = \"1{digits}/3\"")));
    assert!(kinds.contains(&FaultKind::OutOfRange) && message.contains("0 to 100"), "{message}");
}
