//! Every kind of fault a TOML or JSON document can have, with its line and column.

use tenside::catalogue::Catalogue;
use tenside::document::Notation;
use tenside::error::{Error, FaultKind};

use FaultKind::{Contradiction, Duplicate, Loop, Missing, NotANumber, OutOfRange, Syntax, UnknownKey, UnknownName};

/// Stands before each place where a fault is expected; taken out before reading.
const MARK: char = '¤';

fn places(marked: &str) -> (String, Vec<(u32, u32)>) {
    let (mut text, mut places, mut line, mut column) = (String::new(), Vec::new(), 1, 1);
    for character in marked.chars() {
        match character {
            MARK => places.push((line, column)),
            '\n' => (line, column) = (line + 1, 1),
            _ => column += 1,
        }
        if character != MARK {
            text.push(character);
        }
    }
    (text, places)
}

/// Reads text with marks and checks that the faults stand exactly there, in that order, of those kinds.
fn check(marked: &str, notation: Notation, kinds: &[FaultKind]) -> Error {
    let (text, places) = places(marked);
    let error = Catalogue::read(&text, notation).expect_err(marked);
    let found: Vec<_> = error.faults().iter().map(|fault| (fault.kind, fault.position.unwrap())).collect();
    let expected: Vec<_> = kinds.iter().copied().zip(places.iter().copied()).collect();
    assert_eq!(places.len(), kinds.len(), "marks and kinds of {marked}");
    assert_eq!(found, expected, "{marked}\n{error}");
    error
}

const HEAD: &str = "tenside = \"catalogue/1\"\nsource = \"invented\"\n";

/// A material with a line of its own and constituents.
fn material(line: &str, constituents: &str) -> String {
    format!("{HEAD}[[material]]\nid = \"a\"\nname = \"Ä\"\nform = \"powder\"\n{line}\nconstituents = {constituents}\n")
}

const WHOLE: &str = "[{ inci = \"KAOLIN\", typical = 100 }]";

#[test]
fn toml_values() {
    for (line, kind) in [
        ("density = ¤0", OutOfRange),
        ("density = ¤1e300", NotANumber),
        ("density = ¤1e400", NotANumber),
        ("density = ¤nan", NotANumber),
        ("density = ¤-inf", NotANumber),
        ("density = ¤\"0,9\"", NotANumber),
        ("density = ¤0x10", NotANumber),
        ("density = ¤true", Syntax),
        ("bound_water = ¤-0.1", OutOfRange),
        ("bound_water = ¤100.1", OutOfRange),
        ("bound_water = ¤0.00001", OutOfRange),
        ("melting_point = ¤-273.16", OutOfRange),
        ("ph_range = { low = ¤9, high = 4 }", Contradiction),
        ("ph_range = ¤{ low = 4 }", Missing),
        ("ph_range = ¤4", Syntax),
        ("use_levels = [{ use = \"bar\", low = ¤3, high = 2 }]", Contradiction),
        ("use_levels = [{ use = ¤\"\", low = 1, high = 2 }]", OutOfRange),
        ("active_convention = ¤\"titratd\"", UnknownName),
        ("cautions = ¤[\"irritant-dst\"]", UnknownName),
        ("cautions = ¤\"corrosive\"", Syntax),
        ("aliases = ¤[\"a\\u0000b\"]", OutOfRange),
        ("phase = ¤\"\\u202Eredwop\"", OutOfRange),
        ("descending = ¤\"yes\"", Syntax),
        ("difference_to = ¤\"TALC\"", UnknownName),
        ("attributes = { palm = ¤1 }", Syntax),
        ("attributes = { ¤plam = true }", UnknownKey),
        ("attributes = { natural_origin = ¤101 }", OutOfRange),
        ("contained = [{ of = ¤\"KAOLIIN\", inci = \"LINALOOL\", typical = 1 }]", UnknownName),
        ("contained = ¤[{ of = \"WATER\", inci = \"LINALOOL\", typical = 1 }]", UnknownName),
        ("contained = [{ of = \"KAOLIN\", inci = \"LINALOOL\", typical = 1, low = ¤2 }]", Contradiction),
        ("¤densty = 1", UnknownKey),
        ("premix = ¤[{ material = \"a\", percent = 100 }]", Contradiction),
    ] {
        check(&material(line, WHOLE), Notation::Toml, &[kind]);
    }
}

#[test]
fn the_difference_goes_to_a_constituent_however_it_is_written() {
    let catalogue = Catalogue::read(&material("difference_to = \"kaolin\"", WHOLE), Notation::Toml).unwrap();
    assert_eq!(catalogue.material("a").unwrap().difference_to(), "KAOLIN");
}

#[test]
fn toml_compositions() {
    for (constituents, kind) in [
        ("¤[{ inci = \"KAOLIN\", typical = 97 }]", Contradiction),
        ("¤[{ inci = \"KAOLIN\", typical = 60 }, { inci = \"WATER\", typical = 43 }]", Contradiction),
        ("¤[{ inci = \"KAOLIN\", typical = 50 }, { inci = \"kaolin\", typical = 50 }]", Duplicate),
        ("¤[{ inci = \"KAOLIN\", typical = 50 }, { inci = \"WATER\", low = 50 }]", Missing),
        ("¤[]", Missing),
        ("[{ inci = \"KAOLIN\", typical = 100, low = ¤100.1 }]", OutOfRange),
        ("[{ inci = \"KAOLIN\", typical = 90, low = ¤95 }, { inci = \"WATER\", typical = 10 }]", Contradiction),
        ("[{ inci = \"KAOLIN\", typical = 90, high = ¤85 }, { inci = \"WATER\", typical = 10 }]", Contradiction),
        ("[{ inci = \"KAOLIN\", low = ¤60, high = 50 }, { inci = \"WATER\" }]", Contradiction),
        ("¤[{ inci = \"KAOLIN\", low = 60 }, { inci = \"WATER\", low = 50 }]", Contradiction),
        ("[{ inci = ¤\"KAOLLIN\", typical = 100 }]", UnknownName),
        ("[¤{ typical = 100 }]", Missing),
        ("[{ inci = \"KAOLIN\", typical = 100, declared = ¤\"maybe\" }]", UnknownName),
        ("[{ inci = \"KAOLIN\", typical = 100, ¤typcial = 100 }]", UnknownKey),
        ("[¤1]", Syntax),
    ] {
        check(&material("", constituents), Notation::Toml, &[kind]);
    }
    let error = check(&material("", "[{ inci = ¤\"KAOLLIN\", typical = 100 }]"), Notation::Toml, &[UnknownName]);
    assert!(error.to_string().contains("did you mean \"KAOLIN\"?"), "{error}");
    let error = check(
        &material("", "¤[{ inci = \"KAOLIN\", typical = 60 }, { inci = \"WATER\", typical = 43 }]"),
        Notation::Toml,
        &[Contradiction],
    );
    assert!(error.to_string().contains("(found 103); allowed: exactly 100 % w/w"), "{error}");
}

#[test]
fn a_faulty_row_does_not_look_like_a_missing_one() {
    // One misspelt name: nothing about sums, contained substances, differences, lots, premixes and aliases that rest on
    // it.
    let text = format!(
        "{}[[material]]\nid = \"b\"\nname = \"B\"\nform = \"powder\"\npremix = [{{ material = \"a\", percent = 100 \
         }}]\n[[lot]]\nid = \"1\"\nmaterial = \"a\"\nsolids = 90\n[[alias]]\nname = \"x\"\ncandidates = [\"a\"]\n",
        material(
            "difference_to = \"KAOLIN\"\ncontained = [{ of = \"KAOLIN\", inci = \"LINALOOL\", typical = 1 }]",
            "[{ inci = ¤\"KAOLLIN\", typical = 40 }]"
        )
    );
    check(&text, Notation::Toml, &[UnknownName]);
}

#[test]
fn toml_documents() {
    let whole = material("", WHOLE);
    let second = whole.strip_prefix(HEAD).unwrap();
    let part = |id: &str, part: &str| {
        format!(
            "[[material]]\nid = \"{id}\"\nname = \"P\"\nform = \"powder\"\npremix = [{{ material = \"{part}\", \
             percent = 100 }}]\n"
        )
    };
    for (text, kinds) in [
        (format!("{HEAD}x = ¤\n"), &[Syntax][..]),
        ("tenside = ¤\"catalogue/2\"\n".to_string(), &[Syntax]),
        ("¤source = \"x\"\n".to_string(), &[Missing]),
        (format!("{HEAD}¤materials = []\n"), &[UnknownKey]),
        (format!("{HEAD}¤[[material]]\n"), &[Missing; 4]),
        (format!("{HEAD}material = ¤3\n"), &[Syntax]),
        (format!("tenside = \"catalogue/1\"\n¤{second}"), &[Missing]),
        (format!("{whole}{}", second.replace("id = ", "id = ¤")), &[Duplicate]),
        (format!("{whole}[[lot]]\nid = \"1\"\nmaterial = ¤\"aa\"\n"), &[UnknownName]),
        (format!("{whole}[[lot]]\nid = \"1\"\nmaterial = \"a\"\nretest = ¤\"soon\"\n"), &[OutOfRange]),
        (
            format!("{whole}¤[[lot]]\nid = \"1\"\nmaterial = \"a\"\nsolids = 90\nloss_on_drying = 20\n"),
            &[Contradiction, Missing],
        ),
        (format!("{whole}[[alias]]\nname = \"x\"\ncandidates = ¤[\"aa\"]\n"), &[UnknownName]),
        (format!("{whole}¤[[alias]]\nname = \"x\"\n"), &[Missing]),
        (format!("{HEAD}[[substance]]\ninci = \"NEW\"\nclass = \"other\"\ncas = ¤[\"56-81-6\"]\n"), &[OutOfRange]),
        (
            format!(
                "{HEAD}[[substance]]\ninci = \"NEW\"\nclass = \"other\"\n[[substance]]\ninci = ¤\"new\"\nclass = \
                 \"clay\"\n"
            ),
            &[Duplicate],
        ),
        (format!("{HEAD}¤{}", part("p", "q")), &[UnknownName]),
        (format!("{HEAD}¤{}", part("p", "p")), &[Loop]),
    ] {
        // Several faults of one missing table stand at its one mark.
        let (plain, places) = places(&text);
        let error = Catalogue::read(&plain, Notation::Toml).expect_err(&text);
        let found: Vec<_> = error.faults().iter().map(|fault| (fault.kind, fault.position.unwrap())).collect();
        assert_eq!(found, kinds.iter().map(|kind| (*kind, places[0])).collect::<Vec<_>>(), "{text}\n{error}");
    }
}

#[test]
fn all_faults_of_a_document_come_at_once_in_its_order() {
    let text = format!(
        "{HEAD}[[material]]\nid = ¤\"A a\"\nname = ¤\"\"\nform = ¤\"powdr\"\ndensity = ¤99\n¤colour = \
         \"red\"\nconstituents = [\n  {{ inci = ¤\"WATTER\", typical = ¤-1 }},\n  {{ inci = \"KAOLIN\", typical = 50, \
         high = ¤40 }},\n]\n"
    );
    check(
        &text,
        Notation::Toml,
        &[OutOfRange, OutOfRange, UnknownName, OutOfRange, UnknownKey, UnknownName, OutOfRange, Contradiction],
    );
}

#[test]
fn json_documents() {
    let head = "{\"tenside\": \"catalogue/1\", \"source\": \"invented\", \"material\": [{\"id\": \"a\", \"name\": \
                \"Ä\", \"form\": \"powder\",\n ";
    let whole = "\"constituents\": [{\"inci\": \"KAOLIN\", \"typical\": 100}]}]}";
    for (line, kind) in [
        ("\"density\": ¤0,", OutOfRange),
        ("\"density\": ¤1e400,", NotANumber),
        ("\"density\": ¤null,", Syntax),
        ("\"density\": ¤\"0,9\",", NotANumber),
        ("\"bound_water\": ¤100.1,", OutOfRange),
        ("\"phase\": ¤1,", Syntax),
        ("\"phase\": ¤\"a\\u0000\",", OutOfRange),
        ("\"cautions\": ¤[\"irritant-dst\"],", UnknownName),
        ("\"ph_range\": {\"low\": ¤9, \"high\": 4},", Contradiction),
        ("\"contained\": [{\"of\": ¤\"KAOLIIN\", \"inci\": \"LINALOOL\"}],", UnknownName),
        ("\"contained\": [¤{\"inci\": \"LINALOOL\"}],", Missing),
        ("¤\"densty\": 1,", UnknownKey),
        ("¤\"name\": \"B\",", Syntax),
    ] {
        check(&format!("{head}{line}\n {whole}"), Notation::Json, &[kind]);
    }
    // Where exactly the parser notices is its own affair; the line is ours.
    for line in [
        "\"density\": NaN,",
        "\"density\": 1 /* no */,",
        "\"density\": 1 \"a\": 2,",
        "\"density\": 01,",
        "'density': 1,",
    ] {
        let error = Catalogue::read(&format!("{head}{line}\n {whole}"), Notation::Json).expect_err(line);
        assert!(
            error.is_syntax() && error.faults().len() == 1 && error.faults()[0].position.unwrap().0 == 2,
            "{line}\n{error}"
        );
    }
    let second = "{\"id\": ¤\"a\", \"name\": \"B\", \"form\": \"oil\", \"constituents\": [{\"inci\": \"WATER\", \
                  \"typical\": 100}]}";
    check(&format!("{head}{}, {second}]}}", whole.strip_suffix("]}").unwrap()), Notation::Json, &[Duplicate]);
    check("{\"tenside\": \"catalogue/1\", ¤\"tenside\": 2}", Notation::Json, &[Syntax]);
}

#[test]
fn columns_count_characters() {
    check("tenside = \"catalogue/1\"\r\nx = [\"äöü€𝄞\", ] ¤]\n", Notation::Toml, &[Syntax]);
    check("{\"tenside\": \"catalogue/1\", \"source\": \"äöü€𝄞\", ¤\"x\": 1}", Notation::Json, &[UnknownKey]);
}
