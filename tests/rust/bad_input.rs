//! What cannot be meant is refused with the kind of fault it is, at once and whole; what can be carried safely is
//! carried.

use std::sync::Arc;
use std::time::{Duration, Instant};

use tenside::Error;
use tenside::brief::{Brief, Requirement, SplitBasis};
use tenside::catalogue::{Catalogue, PriceList};
use tenside::document::Notation;
use tenside::error::FaultKind;
use tenside::formula::{Formula, Line, Phase};
use tenside::material::{Composition, Constituent, Material};
use tenside::measure::{Basis, Measure, ScoreTable};
use tenside::number::{Exact, Mass, Ppm};
use tenside::solve::Outcome;
use tenside::substance::{Class, Substance};

use crate::support::percent;

fn brief() -> Brief {
    Brief::new("Refused", &Catalogue::starter()).unwrap()
}

fn starter(id: &str) -> Arc<Material> {
    Catalogue::starter().material(id).unwrap().clone()
}

/// That the error has a fault of this kind, says what is wrong in lower case and shows no control character.
#[track_caller]
fn refused<T: std::fmt::Debug>(result: Result<T, impl Into<Error> + std::fmt::Debug>, kind: FaultKind) -> Error {
    let error: Error = result.unwrap_err().into();
    assert!(error.has(kind), "{kind:?} was expected: {error}");
    for fault in error.faults() {
        assert!(fault.message.chars().next().is_some_and(|first| !first.is_uppercase()), "{fault}");
        assert!(!fault.to_string().chars().any(|c| c.is_control() || c == '\u{202E}'), "{fault:?}");
    }
    error
}

fn catalogue(text: &str) -> Result<Catalogue, Error> {
    Catalogue::read(&format!("tenside = \"catalogue/1\"\nsource = \"invented\"\n{text}"), Notation::Toml)
}

fn read_brief(text: &str) -> Result<Brief, Error> {
    Brief::read(&format!("tenside = \"brief/1\"\ntitle = \"Read\"\n{text}"), Notation::Toml, &Catalogue::starter())
}

#[test]
fn percentages_outside_0_to_100() {
    for bad in ["-0.0001", "-5", "100.0001", "103", "1000000"] {
        let error = refused(brief().fix("kaolin", bad), FaultKind::OutOfRange);
        assert_eq!(error.faults()[0].allowed.as_deref(), Some("0 to 100 % w/w"), "{bad}");
        refused(brief().between("kaolin", bad, "100"), FaultKind::OutOfRange);
        refused(Ppm::from_percent(bad), FaultKind::OutOfRange);
        let error =
            refused(read_brief(&format!("line = [{{ material = \"kaolin\", fix = {bad} }}]")), FaultKind::OutOfRange);
        assert_eq!(error.faults()[0].position.map(|(line, _)| line), Some(3));
        refused(
            catalogue(&format!(
                "material = [{{ id = \"x\", name = \"X\", form = \"powder\", constituents = [{{ inci = \"KAOLIN\", \
                 typical = {bad} }}] }}]"
            )),
            FaultKind::OutOfRange,
        );
    }
    // Off the grid of whole parts per million.
    refused(brief().fix("kaolin", "0.00001"), FaultKind::OutOfRange);
    refused(brief().fix("kaolin", "1/3"), FaultKind::OutOfRange);
    refused(Basis::finished(Exact::hundred()), FaultKind::OutOfRange);
    refused(Basis::finished(Exact::from(-1)), FaultKind::OutOfRange);
}

#[test]
fn what_is_no_finite_number() {
    for bad in [
        "nan",
        "NaN",
        "inf",
        "-inf",
        "Infinity",
        "1e400",
        "1e300",
        "-1e300",
        "1e99999999999",
        "twelve",
        "",
        "12,5",
        "0x10",
        "٣",
    ] {
        refused(brief().fix("kaolin", bad), FaultKind::NotANumber);
        refused(brief().target(Measure::active_matter(), bad), FaultKind::NotANumber);
        refused(Ppm::from_percent(bad), FaultKind::NotANumber);
        refused(bad.parse::<Exact>(), FaultKind::NotANumber);
        refused(
            format!("{bad} g").parse::<Mass>(),
            if bad == "0x10" { FaultKind::UnknownName } else { FaultKind::NotANumber },
        );
        refused(read_brief(&format!("line = [{{ material = \"kaolin\", fix = \"{bad}\" }}]")), FaultKind::NotANumber);
    }
    for bad in ["nan", "inf", "-inf", "1e400", "1e300", "0x10"] {
        refused(read_brief(&format!("line = [{{ material = \"kaolin\", fix = {bad} }}]")), FaultKind::NotANumber);
    }
    for bad in ["1e400", "1e300"] {
        let text = format!(
            "{{\"tenside\": \"brief/1\", \"title\": \"Read\", \"line\": [{{\"material\": \"kaolin\", \"fix\": \
             {bad}}}]}}"
        );
        refused(Brief::read(&text, Notation::Json, &Catalogue::starter()), FaultKind::NotANumber);
    }
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e300, 5e-324] {
        refused(Exact::from_shortest(bad), FaultKind::NotANumber);
    }
}

#[test]
fn names_that_are_empty() {
    for bad in ["", " ", "\t", "\u{A0}"] {
        refused(Brief::new(bad, &Catalogue::starter()), FaultKind::OutOfRange);
        refused(Substance::new(bad, Class::Other), FaultKind::OutOfRange);
        refused(Line::new(bad, starter("kaolin"), Ppm::WHOLE), FaultKind::OutOfRange);
        refused(Phase::new(bad), FaultKind::OutOfRange);
        refused(Requirement::at_most(Measure::water(), Exact::ONE).unwrap().named(bad), FaultKind::OutOfRange);
        refused(Measure::constituent(bad), FaultKind::OutOfRange);
        refused(brief().split(bad, SplitBasis::Weight, [("sci-powder", 1), ("kaolin", 1)]), FaultKind::OutOfRange);
        refused(brief().free(bad), FaultKind::UnknownName);
    }
    refused(
        catalogue(
            "material = [{ id = \"\", name = \"\", form = \"powder\", constituents = [{ inci = \"KAOLIN\", typical = \
             100 }] }]",
        ),
        FaultKind::OutOfRange,
    );
    refused(read_brief("line = [{ name = \"\", material = \"kaolin\" }]"), FaultKind::OutOfRange);
}

#[test]
fn what_stands_twice() {
    refused(brief().fix("kaolin", 1).unwrap().free("kaolin"), FaultKind::Duplicate);
    // An alias is the same line.
    refused(brief().fix("sci-powder", 1).unwrap().free("SCI powder"), FaultKind::Duplicate);
    refused(read_brief("line = [{ material = \"kaolin\" }, { material = \"kaolin\" }]"), FaultKind::Duplicate);
    let lines = vec![
        Line::new("clay", starter("kaolin"), percent("50")).unwrap(),
        Line::new("clay", starter("kaolin"), percent("50")).unwrap(),
    ];
    refused(Formula::new("Twice", lines), FaultKind::Duplicate);
    refused(brief().at_most(Measure::water(), 9).unwrap().at_most(Measure::water(), "9.0"), FaultKind::Duplicate);
    let row = "{ id = \"x\", name = \"X\", form = \"powder\", constituents = [{ inci = \"KAOLIN\", typical = 100 }] }";
    refused(catalogue(&format!("material = [{row}, {row}]")), FaultKind::Duplicate);
    refused(
        catalogue(
            "material = [{ id = \"x\", name = \"X\", form = \"powder\", constituents = [{ inci = \"KAOLIN\", typical \
             = 50 }, { inci = \"Kaolin\", typical = 50 }] }]",
        ),
        FaultKind::Duplicate,
    );
    refused(
        Catalogue::read("{\"tenside\": \"catalogue/1\", \"tenside\": \"catalogue/1\"}", Notation::Json),
        FaultKind::Syntax,
    );
    refused(Catalogue::read("tenside = \"catalogue/1\"\ntenside = \"catalogue/1\"", Notation::Toml), FaultKind::Syntax);
}

#[test]
fn names_nobody_knows() {
    let error = refused(brief().free("koalin"), FaultKind::UnknownName);
    assert_eq!(error.faults()[0].remedy.as_deref(), Some("did you mean \"kaolin\"?"));
    refused(brief().free("unobtainium"), FaultKind::UnknownName);
    refused(brief().free("SCS"), FaultKind::AmbiguousName);
    refused(brief().free("kaolin").unwrap().in_stock(&["unobtainium"]), FaultKind::UnknownName);
    refused(read_brief("line = [{ material = \"unobtainium\" }]"), FaultKind::UnknownName);
    refused(read_brief("line = [{ material = \"kaolin\", lot = \"17\" }]"), FaultKind::UnknownName);
    refused(
        read_brief("line = [{ material = \"kaolin\" }]\nrequirement = [{ measure = \"slipperiness\", at_most = 1 }]"),
        FaultKind::UnknownName,
    );
    refused(
        read_brief(
            "line = [{ material = \"kaolin\" }]\nrequirement = [{ measure = \"water\", at_most = 1, within = { phase \
             = \"none\" } }]",
        ),
        FaultKind::UnknownName,
    );
    refused(read_brief("line = [{ material = \"kaolin\", percent = 1 }]"), FaultKind::UnknownKey);
    let error = refused(
        catalogue(
            "material = [{ id = \"x\", name = \"X\", form = \"powder\", constituents = [{ inci = \"KAOLINE\", typical \
             = 100 }] }]",
        ),
        FaultKind::UnknownName,
    );
    assert!(error.to_string().contains("KAOLIN"), "{error}");
    refused("1 stone".parse::<Mass>(), FaultKind::UnknownName);
}

#[test]
fn ratios_of_nothing_or_less_and_splits_of_one() {
    for bad in ["0", "-1", "-1/2", "0.0001"] {
        refused(
            brief().split("wash", SplitBasis::Weight, [("sci-powder", "1"), ("scs-needles", bad)]),
            FaultKind::OutOfRange,
        );
        let text = format!(
            "line = [{{ material = \"kaolin\" }}, {{ material = \"sci-powder\" }}]\nsplit = [{{ name = \"wash\", by = \
             \"weight\", parts = [{{ line = \"kaolin\", part = \"{bad}\" }}, {{ line = \"sci-powder\", part = 1 }}] \
             }}]"
        );
        refused(read_brief(&text), FaultKind::OutOfRange);
    }
    refused(brief().split("wash", SplitBasis::Weight, [("sci-powder", 1)]), FaultKind::OutOfRange);
    refused(brief().split::<&str, i32>("wash", SplitBasis::Weight, []), FaultKind::OutOfRange);
    refused(brief().split("wash", SplitBasis::Weight, [("sci-powder", 1), ("sci-powder", 1)]), FaultKind::Duplicate);
    refused(brief().split("wash", SplitBasis::Active, [("sci-powder", 1), ("kaolin", 1)]), FaultKind::Contradiction);
}

#[test]
fn two_lines_that_fill_up() {
    refused(brief().qs("kaolin").unwrap().qs("corn-starch"), FaultKind::Duplicate);
    refused(
        read_brief("line = [{ material = \"kaolin\", qs = true }, { material = \"corn-starch\", qs = true }]"),
        FaultKind::Duplicate,
    );
    refused(read_brief("line = [{ material = \"kaolin\", qs = true, fix = 3 }]"), FaultKind::Contradiction);
}

#[test]
fn ranges_upside_down() {
    refused(brief().between("kaolin", 6, 3), FaultKind::Contradiction);
    refused(read_brief("line = [{ material = \"kaolin\", low = 6, high = 3 }]"), FaultKind::Contradiction);
    refused(Requirement::between(Measure::water(), Exact::from(6), Exact::from(3)), FaultKind::Contradiction);
    refused(
        read_brief(
            "line = [{ material = \"kaolin\" }]\nrequirement = [{ measure = \"water\", at_least = 6, at_most = 3 }]",
        ),
        FaultKind::Contradiction,
    );
    let kaolin = || Constituent::typical(Arc::new(Substance::new("KAOLIN", Class::Clay).unwrap()), percent("50"));
    refused(kaolin().with_range(Some(percent("60")), Some(percent("40"))), FaultKind::Contradiction);
    refused(kaolin().with_range(Some(percent("60")), None), FaultKind::Contradiction);
    refused(
        catalogue(
            "substance = [{ inci = \"X\", class = \"other\", molar_mass = { typical = 300, low = 310, high = 320 } }]",
        ),
        FaultKind::Contradiction,
    );
    // One end of a molar mass is no range, with or without a word on the chains.
    refused(
        catalogue("substance = [{ inci = \"X\", class = \"other\", molar_mass = { typical = 300, low = 290 } }]"),
        FaultKind::Missing,
    );
    refused(
        catalogue(
            "substance = [{ inci = \"X\", class = \"other\", molar_mass = { typical = 300, low = 290, chain = \
             \"coconut\" } }]",
        ),
        FaultKind::Missing,
    );
    // Two requirements that cannot both hold are a conflict, not an error.
    let crossed = brief()
        .qs("kaolin")
        .unwrap()
        .free("water")
        .unwrap()
        .at_least(Measure::water(), 6)
        .unwrap()
        .at_most(Measure::water(), 3)
        .unwrap();
    let Outcome::Conflict(conflict) = crossed.try_solve().unwrap() else { panic!("6 is above 3") };
    conflict.verify().unwrap();
    assert_eq!(conflict.members().len(), 2);
}

#[test]
fn compositions_that_do_not_sum_to_100() {
    let of = |shares: [&str; 2]| {
        format!(
            "material = [{{ id = \"x\", name = \"X\", form = \"powder\", constituents = [{{ inci = \"KAOLIN\", \
             typical = {} }}, {{ inci = \"WATER\", typical = {} }}] }}]",
            shares[0], shares[1]
        )
    };
    let error = refused(catalogue(&of(["60", "43"])), FaultKind::Contradiction);
    assert!(error.to_string().contains("found 103"), "{error}");
    let error = refused(catalogue(&of(["60", "37"])), FaultKind::Contradiction);
    assert!(error.to_string().contains("unspecified"), "{error}");
    refused(
        catalogue(
            "material = [{ id = \"x\", name = \"X\", form = \"powder\", premix = [{ material = \"y\", percent = 99 }] \
             }, { id = \"y\", name = \"Y\", form = \"powder\", constituents = [{ inci = \"KAOLIN\", typical = 100 }] \
             }]",
        ),
        FaultKind::Contradiction,
    );
    for sum in ["97.5", "99.9999", "0"] {
        refused(
            Formula::new("Short", vec![Line::new("clay", starter("kaolin"), percent(sum)).unwrap()]),
            FaultKind::Contradiction,
        );
    }
    refused(Formula::new("Empty", Vec::new()), FaultKind::Contradiction);
    refused(brief().try_solve(), FaultKind::Missing);
}

/// Every fault is counted, most are shown, and it does not take for ever.
#[test]
fn a_million_lines() {
    let started = Instant::now();
    let lines = "[[line]]\nmaterial = \"kaolin\"\nfix = 101\n".repeat(333_334);
    let error = refused(read_brief(&lines), FaultKind::OutOfRange);
    assert!(error.faults().len() <= 1001, "{}", error.faults().len());
    let lines: String = (0..250_000)
        .map(|place| format!("[[line]]\nname = \"line {place}\"\nmaterial = \"kaolin\"\nlow = 0\n"))
        .collect();
    refused(read_brief(&lines), FaultKind::OutOfRange);
    let lines: String = (0..250_000)
        .map(|place| format!("[[line]]\nname = \"line {place}\"\nmaterial = \"koalin-{place}\"\npercent = 1\n"))
        .collect();
    refused(
        Formula::read(
            &format!("tenside = \"formula/1\"\ntitle = \"Long\"\n{lines}"),
            Notation::Toml,
            &tenside::catalogue::Catalogue::empty(),
        ),
        FaultKind::UnknownName,
    );
    let wrong: String = (0..200_000)
        .map(|place| {
            format!(
                "[[material]]\nid = \"m-{place}\"\nname = \"M\"\nform = \"powder\"\nconstituents = [{{ inci = \
                 \"KAOLINE {place}\", typical = 100 }}]\n"
            )
        })
        .collect();
    let error = refused(catalogue(&wrong), FaultKind::UnknownName);
    assert!(error.faults().last().unwrap().message.contains("more faults"), "{}", error.faults().last().unwrap());
    let right: String = (0..200_000)
        .map(|place| {
            format!(
                "[[material]]\nid = \"m-{place}\"\nname = \"M\"\nform = \"powder\"\nconstituents = [{{ inci = \
                 \"KAOLIN\", typical = 100 }}]\n"
            )
        })
        .collect();
    assert_eq!(catalogue(&right).unwrap().materials().count(), 200_000);
    assert!(started.elapsed() < Duration::from_secs(120), "{:?}", started.elapsed());
}

#[test]
fn deep_nesting() {
    let mut texts = vec![
        ("[".repeat(1_000_000), Notation::Json),
        ("{\"a\":".repeat(1_000_000), Notation::Json),
        (format!("a = {}", "[".repeat(1_000_000)), Notation::Toml),
        (format!("a = {}", "{ a = ".repeat(1_000_000)), Notation::Toml),
        (format!("[{}]\n", vec!["a"; 1_000_000].join(".")), Notation::Toml),
        (format!("{} = 1\n", vec!["a"; 1_000_000].join(".")), Notation::Toml),
        (format!("[[{}]]\n", vec!["a"; 100_000].join(".")), Notation::Toml),
    ];
    // Brackets behind what a careless count takes for a string.
    for quote in
        ["\"\"\"a\"b\"\"\"", "'''a'b'''", "\"\"\"\n\"\"\"", "'''\n''' ", "\"\"\"\"\"", "'\\'", "\"\"\" ' \"\"\""]
    {
        texts.push((format!("a = [{quote}, {}", "[".repeat(1_000_000)), Notation::Toml));
        texts.push((format!("a = [{quote}, {}{}]", "[".repeat(100_000), "]".repeat(100_000)), Notation::Toml));
    }
    for quote in ["\"a\nb\"", "\"a\\\"b\"", "\"a'b\"", "\"\\\\\"", "\"a\\\nb\""] {
        texts.push((format!("{{\"a\": [{quote}, {}", "[".repeat(1_000_000)), Notation::Json));
        texts.push((format!("{{\"a\": [{quote}, {}{}]}}", "[".repeat(100_000), "]".repeat(100_000)), Notation::Json));
    }
    for (text, notation) in texts {
        refused(Catalogue::read(&text, notation), FaultKind::Syntax);
    }
    // Brackets inside a string nest nothing.
    let named = format!(
        "material = [{{ id = \"x\", name = \"{}\", form = \"powder\", constituents = [{{ inci = \"KAOLIN\", typical = \
         100 }}] }}]",
        "[".repeat(150)
    );
    assert!(catalogue(&named).is_ok());
    let prose = format!("tenside = \"catalogue/1\"\nsource = \"\"\"\nbrackets: {}\n\"\"\"\n", "[".repeat(150));
    assert!(Catalogue::read(&prose, Notation::Toml).is_ok());
}

fn premix(id: &str, parts: &[(&str, &str)]) -> String {
    let parts: Vec<String> =
        parts.iter().map(|(id, share)| format!("{{ material = \"{id}\", percent = {share} }}")).collect();
    format!("[[material]]\nid = \"{id}\"\nname = \"Premix\"\nform = \"powder\"\npremix = [{}]\n", parts.join(", "))
}

const CLAY: &str = "[[material]]\nid = \"clay\"\nname = \"Clay\"\nform = \"powder\"\nconstituents = [{ inci = \
                    \"KAOLIN\", typical = 100 }]\n";

#[test]
fn premixes_that_contain_themselves() {
    let error = refused(catalogue(&premix("a", &[("a", "100")])), FaultKind::Loop);
    assert!(error.to_string().contains("a > a"), "{error}");
    let text = premix("a", &[("clay", "50"), ("b", "50")])
        + &premix("b", &[("c", "100")])
        + &premix("c", &[("a", "100")])
        + CLAY;
    let error = refused(catalogue(&text), FaultKind::Loop);
    assert!(error.to_string().contains("a > b > c > a"), "{error}");
    refused(catalogue(&premix("a", &[("nothing", "100")])), FaultKind::UnknownName);
}

/// Any depth is worked: nothing overflows, and shared parts do not multiply.
#[test]
fn premixes_of_premixes() {
    let deepest = 50_000;
    let chain: String = (0..deepest)
        .map(|place| {
            premix(
                &format!("p-{place}"),
                &[(&if place + 1 == deepest { "clay".to_string() } else { format!("p-{}", place + 1) }, "100")],
            )
        })
        .collect();
    // Every premix twice in the next: more parts than could be counted one by one.
    let doubled: String = (0..60)
        .map(|place| {
            premix(&format!("d-{}", place + 1), &[(&format!("d-{place}"), "25"), (&format!("d-{place}"), "75")])
        })
        .collect();
    let read = catalogue(&(chain + &premix("d-0", &[("clay", "100")]) + &doubled + CLAY)).unwrap();
    let prices = PriceList::new("EUR", [("clay", 2)]).unwrap();
    let scores = ScoreTable::new("slip", [("clay", 3)]).unwrap();
    for id in ["p-0", "d-60"] {
        let material = read.material(id).unwrap();
        assert_eq!(material.leaves().len(), 1);
        let line = Line::new(id, Arc::clone(material), Ppm::WHOLE).unwrap();
        let formula = Formula::new("Deep", vec![line]).unwrap().with_prices(Some(Arc::new(prices.clone())));
        let value =
            |measure: Measure| formula.measure(&measure, &Basis::AsCharged).unwrap().value.unwrap().typical.unwrap();
        assert_eq!(value(Measure::cost()), Exact::from(2));
        assert_eq!(value(Measure::score(scores.clone())), Exact::from(3));
        assert_eq!(value(Measure::constituent("KAOLIN").unwrap()), Exact::hundred());
        assert_eq!(
            Formula::read(
                &formula.write(Notation::Json, tenside::document::Materials::Embedded).unwrap(),
                Notation::Json,
                &tenside::catalogue::Catalogue::empty()
            )
            .unwrap(),
            formula
        );
        let _ = (
            material.attribute(tenside::substance::Attribute::Palm),
            material.cautions(),
            material.is_starter(),
            format!("{material:?}").len(),
        );
    }
    refused(Composition::premix(Vec::new()), FaultKind::Contradiction);
}

#[test]
fn marks_that_hide_or_turn_text_round() {
    for bad in ["a\0b", "abc\u{202E}cba", "a\u{2066}b", "\u{200F}a", "a\nb", "a\u{7}b", "a\u{85}b"] {
        refused(Brief::new(bad, &Catalogue::starter()), FaultKind::OutOfRange);
        refused(brief().qs("kaolin").unwrap().in_phase("kaolin", bad), FaultKind::OutOfRange);
        refused(Substance::new(bad, Class::Other), FaultKind::OutOfRange);
        refused(brief().free(bad), FaultKind::UnknownName);
        refused(bad.parse::<Exact>(), FaultKind::NotANumber);
        refused(bad.parse::<tenside::substance::Cas>(), FaultKind::OutOfRange);
        refused(bad.parse::<tenside::number::Date>(), FaultKind::OutOfRange);
        refused(bad.parse::<tenside::reading::Dilution>(), FaultKind::OutOfRange);
        let json = serde_json::to_string(bad).unwrap();
        let text = format!(
            "{{\"tenside\": \"brief/1\", \"title\": {json}, \"line\": [{{\"material\": {json}, \"name\": {json}, \
             {json}: 1}}]}}"
        );
        let error = refused(Brief::read(&text, Notation::Json, &Catalogue::starter()), FaultKind::OutOfRange);
        assert!(error.has(FaultKind::UnknownKey), "{error}");
        let scored = format!(
            "{{\"tenside\": \"brief/1\", \"title\": \"Scores\", \"line\": [{{\"material\": \"kaolin\"}}], \
             \"requirement\": [{{\"measure\": \"score\", \"at_most\": 1, \"scores\": {{{json}: \"x\"}}}}]}}"
        );
        refused(Brief::read(&scored, Notation::Json, &Catalogue::starter()), FaultKind::NotANumber);
    }
}

#[test]
fn nothing_is_half_read() {
    let mut table = tenside::substance::SubstanceTable::default();
    let text = "tenside = \"substances/1\"\nsource = \"invented\"\nsubstance = [{ inci = \"GOOD\", class = \"other\" \
                }, { inci = \"BAD\", class = \"othr\" }]";
    refused(table.read(text, Notation::Toml), FaultKind::UnknownName);
    assert!(table.is_empty());
    let text = "tenside = \"substances/1\"\nsource = \"invented\"\nsubstance = [{ inci = \"GOOD\", class = \"other\" \
                }, { inci = \"GOOD\", class = \"clay\" }]";
    refused(table.read(text, Notation::Toml), FaultKind::Duplicate);
    assert!(table.is_empty());
    // Every fault of a file at once, in its own place.
    let error =
        read_brief("line = [{ material = \"koalin\", fix = 101 }, { material = \"kaolin\", qs = 1 }]\nobjectiv = {}\n")
            .unwrap_err();
    for kind in [FaultKind::UnknownName, FaultKind::OutOfRange, FaultKind::Syntax, FaultKind::UnknownKey] {
        assert!(error.has(kind), "{kind:?}: {error}");
    }
}

/// Past the greatest document and the most requirements it is said how far they go, before memory is taken.
#[test]
fn documents_and_lists_of_requirements_end_somewhere() {
    let long = format!("# {}", "x".repeat(32_000_000));
    for notation in [Notation::Toml, Notation::Json] {
        let error = Catalogue::read(&long, notation).unwrap_err();
        assert!(
            error.is_out_of_range() && error.to_string().contains("allowed: 0 to 32000000 bytes; split it"),
            "{error}"
        );
    }
    let requirement =
        |index: usize| format!("[[requirement]]\nmeasure = \"water\"\nat_most = {}\n", 9.0 + index as f64 / 100_000.0);
    let start = "tenside = \"brief/1\"\ntitle = \"Many\"\nline = [{ material = \"kaolin\", qs = true }]\n".to_string();
    let with = |count: usize| (0..count).fold(start.clone(), |text, index| text + &requirement(index));
    let read = |text: &str| Brief::read(text, Notation::Toml, &Catalogue::starter());
    assert_eq!(read(&with(10_000)).unwrap().requirements().len(), 10_000);
    let error = read(&with(10_001)).unwrap_err().to_string();
    assert!(
        error.contains("number of requirements out of range (found 10001); allowed: 0 to 10000 requirements"),
        "{error}"
    );
    let error = read(&(start.clone() + &requirement(1) + &requirement(1))).unwrap_err();
    assert!(error.is_duplicate() && error.faults().len() == 1, "{error}");
}
