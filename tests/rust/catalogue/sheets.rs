//! Faults of the two sheets, with file, line and the number of the cell.

use tenside::catalogue::{Catalogue, CsvOptions};
use tenside::document::Delimiter;
use tenside::error::{Error, Fault, FaultKind};
use tenside::substance::Attribute;

use FaultKind::{Contradiction, Duplicate, Missing, NotANumber, OutOfRange, Syntax, UnknownKey, UnknownName};

const MATERIALS: &str = "id,name,form,source\na,A,powder,invented\n";
const CONSTITUENTS: &str = "material,constituent,typical\na,KAOLIN,100\n";

const M: &str = "materials";
const C: &str = "constituents";

type Place = (&'static str, u32, u32, FaultKind);

fn place(fault: &Fault) -> Place {
    let (line, column) = fault.position.unwrap();
    (fault.file.unwrap(), line, column, fault.kind)
}

fn check_with(materials: &str, constituents: &str, options: CsvOptions, expected: &[Place]) -> Error {
    let error = Catalogue::read_csv(materials, constituents, None, options).expect_err(materials);
    let found: Vec<Place> = error.faults().iter().map(place).collect();
    assert_eq!(found, expected, "\n{materials}\n{constituents}\n{error}");
    error
}

fn check(materials: &str, constituents: &str, expected: &[Place]) -> Error {
    check_with(materials, constituents, CsvOptions::default(), expected)
}

#[test]
fn a_fault_reads_well() {
    let error = check(MATERIALS, "material,constituent,typical\na,KAOLLIN,100\n", &[(C, 2, 2, UnknownName)]);
    let expected = "file constituents, line 2, column 2: material \"a\", material[0].constituents[0].inci: unknown \
                    substance (found \"KAOLLIN\"); did you mean \"KAOLIN\"? else add a [[substance]] for it";
    assert_eq!(error.to_string(), expected);
}

#[test]
fn headers() {
    for (materials, constituents, expected) in [
        ("", CONSTITUENTS, &[(M, 1, 1, Missing)][..]),
        (" \r\n,,\n", "\u{FEFF}", &[(M, 1, 1, Missing), (C, 1, 1, Missing)]),
        ("nmae,id,form,source\nA,a,powder,x\n", CONSTITUENTS, &[(M, 1, 1, UnknownKey), (M, 1, 1, Missing)]),
        ("id,name,form\na,A,powder\n", CONSTITUENTS, &[(M, 1, 1, Missing)]),
        ("\nid,name,form,source,ID\na,A,powder,x,b\n", CONSTITUENTS, &[(M, 2, 5, Duplicate)]),
        (MATERIALS, "material;inci;typical\na;KAOLIN;100\n", &[(C, 1, 1, Missing), (C, 1, 2, UnknownKey)]),
        (MATERIALS, "material,constituent,typical,colour\na,KAOLIN,100,\n", &[(C, 1, 4, UnknownKey)]),
    ] {
        check(materials, constituents, expected);
    }
    let error = check(MATERIALS, "material,constituent,typcial\na,KAOLIN,100\n", &[(C, 1, 3, UnknownKey)]);
    assert_eq!(error.faults()[0].remedy.as_deref(), Some("did you mean \"typical\"?"));
}

#[test]
fn as_exported_from_a_spreadsheet() {
    let materials = "\u{FEFF}\r\n Name ;ID;Form;Melting \
                     Point;Use;use_low;USE-HIGH;cautions;aliases;palm;Source;;\r\n\"A; \"\"fine\"\" \
                     clay\";a;powder;;bar|cream;1|0,5;5|2;irritant-dust | \
                     eye-damage;clay|white|;No;\"line\r\nbreak\";;\r\n;;;;;;;;;;;;\r\n;;\r\n";
    let constituents = "material\tconstituent\ttypical\tlow\thigh\tdeclared\tof\r\na\tKAOLIN\t99,5\t99\t\tdeclared\t\r\n\
                        a\tLINALOOL\t\t0,1\t1\t\tKAOLIN\t\t\r\n\t\t\t\t\t\t\r\na\tWATER\t0,5\t\t\t\t";
    let catalogue =
        Catalogue::read_csv(materials, constituents, None, CsvOptions::default().with_decimal_comma(true)).unwrap();
    let material = catalogue.material("a").unwrap();
    assert_eq!(material.name(), "A; \"fine\" clay");
    assert_eq!(material.source(), "line\r\nbreak");
    assert_eq!(material.aliases(), ["clay", "white"]);
    assert_eq!(material.cautions().len(), 2);
    let uses: Vec<String> = material
        .use_levels()
        .iter()
        .map(|level| format!("{} {} {}", level.product_use, level.low, level.high))
        .collect();
    assert_eq!(uses, ["bar 1 5", "cream 0.5 2"]);
    assert_eq!(material.composition().constituents().len(), 2);
    assert_eq!(material.contained()[0].low().unwrap().to_string(), "0.1");
    assert!(!material.attributes().get(Attribute::Palm).unwrap().value);
    assert!(!material.is_starter());
}

#[test]
fn a_line_break_in_a_cell_moves_the_lines_below() {
    let materials = "id,name,form,source\na,A,powder,\"two\nlines\"\nb,B,\"pow\nder\",x\n";
    let constituents = "material,constituent,typical\na,KAOLIN,100\nb,KAOLIN,100\n";
    check(materials, constituents, &[(M, 4, 3, UnknownName)]);
}

#[test]
fn options_replace_what_would_be_found_out() {
    let (materials, constituents) = (MATERIALS.replace(',', ";"), CONSTITUENTS.replace(',', ";"));
    let read = |delimiter| {
        Catalogue::read_csv(&materials, &constituents, None, CsvOptions::default().with_delimiter(delimiter))
    };
    assert!(read(Delimiter::Semicolon).is_ok());
    assert!(read(Delimiter::Comma).unwrap_err().is_missing());
    // One source for all rows makes the column optional.
    let materials = "id,name,form\na,A,powder\n";
    let catalogue =
        Catalogue::read_csv(materials, CONSTITUENTS, None, CsvOptions::default().with_source("our sheets")).unwrap();
    assert_eq!(catalogue.material("a").unwrap().source(), "our sheets");
    assert!(
        Catalogue::read_csv(materials, CONSTITUENTS, None, CsvOptions::default().with_source(""))
            .unwrap_err()
            .is_out_of_range()
    );
}

#[test]
fn rows_out_of_shape() {
    for (materials, expected) in [
        ("id,name,form,source\na,A,powder\n", &[(M, 2, 1, Syntax), (M, 2, 1, Missing)][..]),
        ("id,name,form,source\na,A,powder,x,y\n", &[(M, 2, 5, Syntax)]),
        ("id,name,form,source,,\na,A,powder,x,y,\n", &[(M, 2, 5, Syntax)]),
        ("id,name,form,source\na,\"A,powder,x\n", &[(M, 2, 2, Syntax)]),
        ("id,name,form,source\na,\"A\"b,powder,x\n", &[(M, 2, 2, Syntax)]),
        ("id,name,form,source\na,\"A\nB\"x,powder,x\n", &[(M, 3, 2, Syntax)]),
        ("id,name,form,source\na,5\" pipe,powder,x\n", &[(M, 2, 2, Syntax)]),
    ] {
        check(materials, CONSTITUENTS, expected);
    }
}

#[test]
fn cells_of_materials() {
    for (column, value, kind) in [
        ("density", "0", OutOfRange),
        ("density", "1e400", NotANumber),
        ("density", "#N/A", NotANumber),
        ("density", "\"0,9\"", NotANumber),
        ("bound_water", "5 %", NotANumber),
        ("bound_water", "-1", OutOfRange),
        ("active_convention", "titratd", UnknownName),
        ("cautions", "eye-damage|corosive", UnknownName),
        ("aliases", "a\0b", OutOfRange),
        ("palm", "perhaps", Syntax),
        ("descending", "1", Syntax),
        ("natural_origin", "101", OutOfRange),
        ("difference_to", "TALC", UnknownName),
        ("phase", "a\u{202E}b", OutOfRange),
    ] {
        check(&format!("id,name,form,source,{column}\na,A,powder,x,{value}\n"), CONSTITUENTS, &[(M, 2, 5, kind)]);
    }
    for (row, expected) in [
        ("b,B,powder,x", &[(M, 3, 1, Missing)][..]),
        ("B c,B,powder,x", &[(M, 3, 1, OutOfRange), (M, 3, 1, Missing)]),
        (",B,powder,x", &[(M, 3, 1, Missing), (M, 3, 1, Missing)]),
        ("a,,powder,x", &[(M, 3, 1, Duplicate), (M, 3, 2, Missing)]),
        ("a,A,powdr,x", &[(M, 3, 1, Duplicate), (M, 3, 3, UnknownName)]),
        ("a,A,,", &[(M, 3, 1, Duplicate), (M, 3, 3, Missing), (M, 3, 4, Missing)]),
    ] {
        check(&format!("{MATERIALS}{row}\n"), CONSTITUENTS, expected);
    }
    for (columns, cells, expected) in [
        ("ph_high,ph_low", "4,9", (M, 2, 6, Contradiction)),
        ("ph_high,ph_low", "4,", (M, 2, 6, Missing)),
        ("use,use_low,use_high", "bar,2,1", (M, 2, 6, Contradiction)),
        ("use,use_low,use_high", "bar,2,", (M, 2, 7, Missing)),
        ("use,use_low,use_high", "bar|soap,2,3", (M, 2, 5, Contradiction)),
    ] {
        check(&format!("id,name,form,source,{columns}\na,A,powder,x,{cells}\n"), CONSTITUENTS, &[expected]);
    }
}

#[test]
fn cells_of_constituents() {
    const HEADER: &str = "material,constituent,typical,low,high,declared,of,source\n";
    for (rows, expected) in [
        ("a,KAOLLIN,100,,,,,\n", (C, 2, 2, UnknownName)),
        ("a,,100,,,,,\n", (C, 2, 2, Missing)),
        (",KAOLIN,100,,,,,\na,KAOLIN,100,,,,,\n", (C, 2, 1, Missing)),
        ("a,KAOLIN,97,,,,,\n", (C, 2, 2, Contradiction)),
        ("a,KAOLIN,60,,,,,\na,WATER,43,,,,,\n", (C, 2, 2, Contradiction)),
        ("a,KAOLIN,50,,,,,\na,kaolin,50,,,,,\n", (C, 2, 2, Duplicate)),
        ("a,KAOLIN,101,,,,,\n", (C, 2, 3, OutOfRange)),
        ("a,KAOLIN,\"84,5\",,,,,\n", (C, 2, 3, NotANumber)),
        ("a,KAOLIN,100,x,,,,\n", (C, 2, 4, NotANumber)),
        ("a,KAOLIN,90,95,,,,\na,WATER,10,,,,,\n", (C, 2, 4, Contradiction)),
        ("a,KAOLIN,90,,85,,,\na,WATER,10,,,,,\n", (C, 2, 5, Contradiction)),
        ("a,KAOLIN,,60,50,,,\na,WATER,,,,,,\n", (C, 2, 4, Contradiction)),
        ("a,KAOLIN,100,,,maybe,,\n", (C, 2, 6, UnknownName)),
        ("a,KAOLIN,100,,,,,our notes\n", (C, 2, 8, Contradiction)),
        ("a,KAOLIN,100,,,,,\na,LINALOOL,1,,,declared,KAOLIN,\n", (C, 3, 6, Contradiction)),
        ("a,KAOLIN,100,,,,,\na,LINALOL,1,,,,KAOLIN,\n", (C, 3, 2, UnknownName)),
        ("a,KAOLIN,100,,,,,\na,LINALOOL,1,,,,KAOLLIN,\n", (C, 3, 7, UnknownName)),
        ("a,KAOLIN,100,,,,,\na,LINALOOL,1,,,,WATER,\n", (C, 3, 2, UnknownName)),
        ("a,KAOLIN,100,,,,,\na,LINALOOL,1,2,,,KAOLIN,\n", (C, 3, 4, Contradiction)),
        ("aa,KAOLIN,100,,,,,\na,KAOLIN,100,,,,,\n", (C, 2, 1, UnknownName)),
        ("", (M, 2, 1, Missing)),
    ] {
        check(MATERIALS, &format!("{HEADER}{rows}"), &[expected]);
    }
    let materials = MATERIALS.replace("\na,", "\nsci-powder,");
    let error = check(
        &materials,
        "material,constituent,typical\nsci-powder,KAOLIN,100\nsci-powdr,WATER,1\n",
        &[(C, 3, 1, UnknownName)],
    );
    assert_eq!(error.faults()[0].remedy.as_deref(), Some("did you mean \"sci-powder\"?"));
}

#[test]
fn the_decimal_comma_is_an_option() {
    let comma = CsvOptions::default().with_decimal_comma(true);
    let error = check(
        MATERIALS,
        "material;constituent;typical\na;KAOLIN;84,5\na;WATER;15,5\n",
        &[(C, 2, 3, NotANumber), (C, 3, 3, NotANumber)],
    );
    assert_eq!(error.faults()[0].remedy.as_deref(), Some("write 84.5, or turn on the option decimal_comma"));
    assert!(
        Catalogue::read_csv(
            MATERIALS,
            "material;constituent;typical\na;KAOLIN;84,5\na;WATER;15,5\n",
            None,
            comma.clone()
        )
        .is_ok()
    );
    let error =
        check_with(MATERIALS, "material;constituent;typical\na;KAOLIN;1.234,5\n", comma, &[(C, 2, 3, NotANumber)]);
    assert!(error.to_string().contains("thousands"), "{error}");
}

#[test]
fn all_faults_of_both_sheets_come_at_once() {
    let materials = "id,name,form,source,colour\na,A,powdr,x,\na,,powder,x,\n";
    let constituents = "material,constituent,typical\na,KAOLLIN,100\nb,WATER,1\na,WATER,x\n";
    let expected = [
        (M, 1, 5, UnknownKey),
        (M, 2, 3, UnknownName),
        (M, 3, 1, Duplicate),
        (M, 3, 2, Missing),
        (C, 2, 2, UnknownName),
        (C, 3, 1, UnknownName),
        (C, 4, 3, NotANumber),
    ];
    check(materials, constituents, &expected);
}
