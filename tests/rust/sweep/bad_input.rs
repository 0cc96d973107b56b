//! What is no sweep, and what is said of it.

use tenside::brief::{Brief, Parameter, Requirement, Role, SplitBasis};
use tenside::catalogue::Catalogue;
use tenside::measure::{Basis, Measure};
use tenside::number::Exact;
use tenside::sweep::{Axis, Lattice, Sweep, Values, Varied};

use super::support::{axis, bar, values, whole};
use crate::support::percent;

#[track_caller]
fn refused(brief: &Brief, axes: Vec<Axis>, says: &[&str]) {
    let message = Sweep::new(brief, axes).unwrap_err().to_string();
    for words in says {
        assert!(message.contains(words), "{message}");
    }
}

#[test]
fn axes_that_are_none() {
    let brief = bar();
    refused(
        &brief,
        vec![Axis::Parameter(Parameter::part("wash", "panthenol"), whole(1, 2))],
        &["member of the split", "panthenol"],
    );
    refused(
        &brief,
        vec![Axis::Parameter(Parameter::part("wash", "capb-30"), whole(0, 2))],
        &["part of a split", "0.001"],
    );
    refused(
        &brief,
        vec![Axis::Parameter(Parameter::Fixed("panthenol".into()), values(&["1.00005"]))],
        &["grid", "0.0001 %"],
    );
    refused(&brief, vec![Axis::Moisture(whole(99, 100))], &["residual moisture", "99.9"]);
    refused(&brief, vec![Axis::Material { line: "capb-30".into(), materials: Vec::new() }], &["without raw materials"]);
    refused(
        &brief,
        vec![Axis::Lattice { split: "wash".into(), lattice: Lattice::new(2, 5).unwrap() }],
        &["as many members as its split"],
    );
    refused(&brief, vec![axis(&brief, "share.wash.capb-30", whole(99, 101))], &["share of a split", "0 to 100 %"]);
}

#[test]
fn two_axes_on_the_same_thing() {
    let brief = bar();
    let part = axis(&brief, "wash.capb-30", whole(1, 2));
    refused(&brief, vec![part.clone(), part.clone()], &["two axes vary the same thing", "part of capb-30"]);
    refused(
        &brief,
        vec![part, axis(&brief, "share.wash.scs-needles", whole(1, 2))],
        &["two axes vary the same thing", "lattice"],
    );
}

#[test]
fn ends_that_cross() {
    let brief = bar().drop_line("cetyl-alcohol").unwrap().between("cetyl-alcohol", 3, 6).unwrap();
    let low = axis(&brief, "lowest.cetyl-alcohol", whole(1, 7));
    refused(&brief, vec![low.clone()], &["above its upper end", "lowest up to 7, highest down to 6"]);
    assert!(Sweep::new(&brief, vec![low, axis(&brief, "highest.cetyl-alcohol", whole(7, 9))]).is_ok());
}

#[test]
fn words_that_are_none_or_several() {
    let brief = bar();
    let message = Varied::named(&brief, "wash.capb-3").unwrap_err().to_string();
    assert!(message.contains("did you mean \"wash.capb-30\"?"), "{message}");
    // A fixed line and a limited measure of the same name.
    let both = brief.clone().fix("water", 1).unwrap();
    let error = Varied::named(&both, "water").unwrap_err();
    let message = error.to_string();
    assert!(error.is_ambiguous_name() && message.contains("\"fix.water\" or \"at-most.water\""), "{message}");
    // A spelling of both the end of a range and a part of a split.
    let split = brief.clone().split("highest", SplitBasis::Active, [("sci-noodles", 1), ("coco-glucoside-50", 1)]);
    let split = split.unwrap().change_line("coco-glucoside-50", Role::between(percent("0"), percent("9")).unwrap());
    let split = split.unwrap();
    let error = Varied::named(&split, "highest.coco-glucoside-50").unwrap_err();
    let message = error.to_string();
    assert!(error.is_ambiguous_name() && message.contains("could mean several things"), "{message}");
    assert!(message.contains("another name") && Varied::named(&split, "highest.sci-noodles").is_ok(), "{message}");
    let twice = brief.clone().at_most(Measure::water(), 8).unwrap();
    let message = Varied::of_measure(&twice, &Measure::water()).unwrap_err().to_string();
    assert!(message.contains("water at most 9 %") && message.contains("water at most 8 %"), "{message}");
    assert!(Varied::named(&twice, "at-most.water").is_err());
    assert!(Varied::of_measure(&brief, &Measure::solids()).unwrap_err().to_string().contains("add a requirement"));
    assert!(Varied::named(&brief, "wash").unwrap().over(whole(1, 2)).unwrap_err().to_string().contains("lattice"));
}

#[test]
fn a_table_too_large_is_refused_with_its_size_and_the_way() {
    let brief = bar();
    let many = Values::linspace(&Exact::ONE, Exact::from(2), 10_000, Exact::ratio(1, 100_000_000)).unwrap();
    let axes =
        ["wash.capb-30", "wash.scs-needles", "wash.sci-powder"].map(|word| axis(&brief, word, many.clone())).to_vec();
    let sweep = Sweep::new(&brief, axes).unwrap();
    assert_eq!(sweep.rows(), 1_000_000_000_000);
    let message = sweep.table().unwrap_err().to_string();
    assert!(
        message.contains("GiB") && message.contains("stream") && message.contains("1000000000000 rows"),
        "{message}"
    );
    let more = vec![axis(&brief, "price.kaolin", many.clone()), axis(&brief, "price.water", many)];
    refused(&brief, [sweep.axes().to_vec(), more].concat(), &["more points than a 64-bit number can count"]);
}

#[test]
fn columns_that_are_none() {
    let sweep = Sweep::new(&bar(), Vec::new()).unwrap();
    assert!(
        sweep
            .clone()
            .with_columns(&["line.kaolinn"])
            .unwrap_err()
            .to_string()
            .contains("did you mean \"line.kaolin\"?")
    );
    assert!(sweep.clone().with_columns(&["line.kaolin", "line.kaolin"]).unwrap_err().is_duplicate());
    assert!(sweep.clone().with_measure(&Measure::natural_origin(), &Basis::finished(Exact::ONE).unwrap()).is_err());
    assert!(sweep.table().unwrap().numbers("feasible").is_err());
    assert!(sweep.answer(1).unwrap_err().to_string().contains("0 to 0"));
}

#[test]
fn every_point_without_formula_is_told_why() {
    let brief = bar();
    let sweep = Sweep::new(&brief, vec![axis(&brief, "at-most.water", values(&["0.1", "0.2"]))]).unwrap();
    let table = sweep.table().unwrap();
    assert_eq!(table.feasible_rows(), 0);
    for row in 0..2 {
        assert_eq!(
            sweep.conflict_legend().read(table.codes("conflict").unwrap()[row]),
            ["active matter at 58 %", "water at most the value swept"]
        );
        assert_eq!(table.numbers("line.kaolin").unwrap().get(row), None);
    }
}

/// A requirement keeps the name that the user gave it, whichever of its ends is swept; without one, no number that is
/// swept is said.
#[test]
fn what_is_swept_keeps_its_name_in_the_legends() {
    let range = || Requirement::between(Measure::water(), Exact::from(1), Exact::from(9)).unwrap();
    let legend = |requirement: Requirement, word: &str, turned: &[&str]| -> Vec<String> {
        let brief = Brief::new("Bar", &Catalogue::starter())
            .unwrap()
            .between("sci-powder", 20, 60)
            .unwrap()
            .qs("water")
            .unwrap();
        let brief = brief.require(requirement).unwrap();
        let sweep = Sweep::new(&brief, vec![axis(&brief, word, values(turned))]).unwrap();
        assert_eq!(sweep.binding_legend().words()[3..5], sweep.conflict_legend().words()[..2]);
        sweep.conflict_legend().words()[..2].to_vec()
    };
    let named = range().named("cap").unwrap();
    assert_eq!(legend(named.clone(), "at-most.cap", &["5", "6"]), ["cap (at least)", "cap (at most the value swept)"]);
    assert_eq!(legend(named, "at-least.cap", &["5", "6"]), ["cap (at least the value swept)", "cap (at most)"]);
    assert_eq!(legend(range(), "at-most.water", &["5", "6"]), ["water at least 1 %", "water at most the value swept"]);
    assert_eq!(legend(range(), "at-least.water", &["5", "6"]), ["water at least the value swept", "water at most 9 %"]);
    let finished = range().on(Basis::finished(Exact::from(5)).unwrap());
    assert_eq!(
        legend(finished.clone(), "at-most.water", &["5", "6"]),
        [
            "water at least 1 %, finished at 5 % residual moisture",
            "water at most the value swept, finished at 5 % residual moisture"
        ]
    );
    assert_eq!(
        legend(finished, "moisture", &["5", "6"]),
        ["water at least 1 %, finished at the moisture swept", "water at most 9 %, finished at the moisture swept"]
    );
}

/// A choice is refused before any work, with the ways out; each of them can be swept.
#[test]
fn a_brief_with_choices_is_swept_once_they_are_made() {
    let brief = Brief::new("Bar", &Catalogue::starter())
        .unwrap()
        .between("sci-powder", 20, 60)
        .unwrap()
        .absent_or_between("capb-30", 10, 20)
        .unwrap()
        .absent_or_between("coco-glucoside-50", 10, 20)
        .unwrap()
        .group("co-surfactants", &["capb-30", "coco-glucoside-50"])
        .unwrap()
        .at_most_of("co-surfactants", 1)
        .unwrap()
        .qs("kaolin")
        .unwrap()
        .at_least(Measure::active_matter(), 40)
        .unwrap();
    let swept = |brief: &Brief| {
        let values = Values::new(38..42).unwrap();
        Sweep::new(brief, vec![Axis::new(brief, "at-least.active-matter", values).unwrap()])
    };
    let error = swept(&brief).unwrap_err();
    assert!(error.is_unsupported(), "{error}");
    for way in ["`choose`", "`chosen_brief`", "`with_present`"] {
        assert!(error.to_string().contains(way), "{error}");
    }
    for decided in [
        brief.choose().unwrap().chosen_brief().clone(),
        brief.with_present(&["capb-30"]).unwrap(),
        brief.with_present(&[]).unwrap(),
    ] {
        let table = swept(&decided).unwrap().table().unwrap();
        assert_eq!(table.rows(), 4);
        for row in 0..4 {
            assert!(table.sweep().answer(row).is_ok());
        }
    }
    for (lines, message) in [
        (&["capb-30", "coco-glucoside-50"][..], "more lines of the group than may be present"),
        (&["capb-30", "capb-30"], "a line occurs twice"),
        (&["kaolin"], "nothing is to be decided of this line"),
        (&["capb"], "unknown line"),
    ] {
        let error = brief.with_present(lines).unwrap_err();
        assert!(error.to_string().contains(message), "{error}");
    }
}

/// What an axis is spelt, its column is named: short where that is clear, by name where the requirement has one.
#[test]
fn the_column_of_an_axis_is_named_by_its_spelling() {
    let bar = || {
        Brief::new("Bar", &Catalogue::starter())
            .unwrap()
            .between("sci-powder", 0, 90)
            .unwrap()
            .between("glycerin-99-5", 0, 9)
            .unwrap()
            .qs("water")
            .unwrap()
    };
    let constituent = |name: &str| Measure::constituent(name).unwrap();
    let two = bar().at_most(constituent("GLYCERIN"), 5).unwrap().at_most(constituent("WATER"), 90).unwrap();
    let named = bar()
        .require(Requirement::at_most(Measure::water(), Exact::from(50)).unwrap().named("little water").unwrap())
        .unwrap();
    let target = bar().target(Measure::active_matter(), 40).unwrap();
    let full = format!("target.{}", target.requirements()[0].name());
    for (brief, word, column) in [
        (target.clone(), "active matter", "axis.target.active-matter"),
        (target, full.as_str(), "axis.target.active-matter"),
        (bar().at_most(constituent("GLYCERIN"), 5).unwrap(), "at-most.constituent", "axis.at-most.constituent"),
        (two, "GLYCERIN", "axis.at-most.GLYCERIN"),
        (named, "little water", "axis.at-most.little water"),
        (bar(), "highest.sci-powder", "axis.highest.sci-powder"),
    ] {
        let values = Values::new(vec![Exact::from(30), Exact::from(31)]).unwrap();
        let sweep = Sweep::new(&brief, vec![Axis::new(&brief, word, values.clone()).unwrap()]).unwrap();
        assert_eq!(sweep.names()[0], column, "{word}");
        let again = Sweep::new(&brief, vec![Axis::new(&brief, column.strip_prefix("axis.").unwrap(), values).unwrap()])
            .unwrap();
        assert_eq!(again.axes(), sweep.axes());
    }
}
