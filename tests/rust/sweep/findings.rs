//! A review's columns against reviews of the formulas that the rows come to.

use std::collections::BTreeSet;
use std::sync::Arc;

use tenside::brief::{Brief, Direction, Requirement, SplitBasis};
use tenside::catalogue::Catalogue;
use tenside::document::Notation;
use tenside::formula::Purpose;
use tenside::measure::Measure;
use tenside::number::Exact;
use tenside::reading::Reading;
use tenside::rule::{Certainty, Each, Market, Product, RuleBook, RuleList, Severity, Use, Varied};
use tenside::sweep::{Axis, Cells, Comparison, Condition, GIB_ALLOWED, Held, Level, Stream, Sweep, Table};

use super::random::{self, Numbers};
use super::support::{axis, bar, values, whole};

fn product(market: Market) -> Product {
    let reading = Reading::ph("5.6", "1+9".parse().unwrap()).unwrap();
    let product = Product::new(market, &[Use::ShampooBar, Use::Body], "2026-11-24".parse().unwrap()).unwrap();
    product.with_reading(reading).with_moisture(Exact::ONE).unwrap()
}

fn reviewed(sweep: Sweep, least: Severity) -> Sweep {
    sweep.with_review(RuleBook::starter(), &product(Market::Eu), least).unwrap()
}

/// The words of a code.
fn read<'a>(sweep: &'a Sweep, table: &Table, column: &str, row: usize) -> BTreeSet<&'a str> {
    let legend = if column == "use-levels" { sweep.use_levels_legend() } else { sweep.findings_legend() };
    legend.unwrap().read(table.codes(column).unwrap()[row]).into_iter().collect()
}

fn holds(table: &Table, column: &str, row: usize) -> bool {
    match &table.cells()[table.sweep().column(column).unwrap()] {
        Cells::Codes(_, Held::Bits(bits)) => bits[row / 8] >> (row % 8) & 1 == 1,
        _ => panic!("{column} is a column of codes with a bitmap"),
    }
}

/// Every row's columns against the review of its own formula; how many rows there were, and how many different sets of
/// findings.
fn agrees(sweep: &Sweep, market: Market, least: Severity) -> (usize, usize) {
    agrees_every(sweep, market, least, 1)
}

fn agrees_every(sweep: &Sweep, market: Market, least: Severity, every: usize) -> (usize, usize) {
    let table = sweep.table().unwrap();
    let (mut rows, mut different) = (0, BTreeSet::new());
    for row in (0..table.rows()).step_by(every) {
        let formula = sweep.answer(row as u64).ok().and_then(|answer| answer.formula().ok().cloned());
        assert_eq!(holds(&table, "findings", row), formula.is_some(), "row {row}");
        let Some(formula) = formula else {
            assert_eq!(table.codes("findings").unwrap()[row], 0);
            continue;
        };
        let review = formula.review(RuleBook::starter(), &product(market)).unwrap();
        let found =
            || review.findings().iter().filter(|finding| finding.severity() <= least && finding.begins().is_none());
        let asked: BTreeSet<&str> = found().map(|finding| finding.slug()).collect();
        assert_eq!(read(sweep, &table, "findings", row), asked, "row {row}");
        let certain: BTreeSet<&str> =
            found().filter(|finding| finding.certainty() == Certainty::Certain).map(|finding| finding.slug()).collect();
        assert_eq!(read(sweep, &table, "findings.certain", row), certain, "row {row}");
        let listed: BTreeSet<&str> = sweep.findings_legend().unwrap().words().iter().map(String::as_str).collect();
        let unchecked: BTreeSet<&str> =
            review.unchecked().iter().map(|unchecked| unchecked.slug()).filter(|slug| listed.contains(slug)).collect();
        assert_eq!(read(sweep, &table, "findings.unchecked", row), unchecked, "row {row}");
        let mut levels = BTreeSet::new();
        for finding in review.findings() {
            let Varied::Each(check) = finding.rule().subject() else { continue };
            let side = match check.check {
                Each::UseLevelHigh => "above",
                Each::UseLevelLow => "below",
                _ => continue,
            };
            levels.extend(finding.lines().iter().map(|line| format!("{line} {side} its use level")));
        }
        assert_eq!(read(sweep, &table, "use-levels", row), levels.iter().map(String::as_str).collect(), "row {row}");
        rows += 1;
        different.insert((asked.into_iter().map(String::from).collect::<Vec<_>>(), levels));
    }
    (rows, different.len())
}

/// A determined bar with things that rules and use levels speak of.
fn preserved() -> Brief {
    let brief = Brief::new("Preserved", &Catalogue::starter()).unwrap();
    let brief = brief.split("wash", SplitBasis::Active, [("sci-powder", 14), ("capb-30", 2)]).unwrap();
    let brief = brief
        .fix("sodium-benzoate", "0.5")
        .unwrap()
        .fix("potassium-sorbate", "0.3")
        .unwrap()
        .fix("btms-50", 3)
        .unwrap();
    let brief = brief.fix("lavender-oil", "0.6").unwrap().fix("panthenol", "0.7").unwrap().qs("kaolin").unwrap();
    let brief = brief.with_purposes("sodium-benzoate", &[Purpose::Preservative]).unwrap();
    brief.target(Measure::active_matter(), 45).unwrap().at_most(Measure::water(), 14).unwrap()
}

#[test]
fn a_determined_sweep_says_what_reviews_of_its_rows_say() {
    let brief = preserved();
    let axes = vec![
        axis(&brief, "sodium-benzoate", values(&["0.1", "0.5", "2.9499", "2.95", "2.9501", "4"])),
        axis(&brief, "btms-50", values(&["0.5", "3", "9.9", "10.1", "20"])),
        axis(&brief, "wash.capb-30", values(&["1", "2", "3.5", "9"])),
    ];
    for (least, expected) in [(Severity::Information, 12), (Severity::Error, 5)] {
        let sweep = reviewed(Sweep::new(&brief, axes.clone()).unwrap(), least);
        let (rows, different) = agrees(&sweep, Market::Eu, least);
        assert!(rows >= 60 && different >= expected, "{rows} {different}");
    }
    let sweep = Sweep::new(&brief, axes)
        .unwrap()
        .with_review(RuleBook::starter(), &product(Market::Us), Severity::Information)
        .unwrap();
    let (rows, different) = agrees(&sweep, Market::Us, Severity::Information);
    assert!(rows >= 60 && different >= 4, "{rows} {different}");
}

#[test]
fn a_preservative_pinned_at_its_limit_is_judged_as_it_is_weighed() {
    // The exact solution meets the limit with equality, in numbers that are no whole ppm: rounding it could break what
    // the grid formula keeps.
    let rule = RuleBook::starter().rules().find(|rule| rule.slug() == "annex-v-1-rinse-off").unwrap();
    let Varied::Measure(acid, _) = rule.subject() else { panic!("it limits a measure") };
    let brief = Brief::new("Pinned", &Catalogue::starter()).unwrap();
    let brief = brief
        .between("sodium-benzoate", 0, 5)
        .unwrap()
        .between("capb-30", 1, 30)
        .unwrap()
        .between("glycerin-99-5", 2, 60)
        .unwrap();
    let brief = brief
        .qs("kaolin")
        .unwrap()
        .at_most(Measure::water(), 9)
        .unwrap()
        .maximise(Measure::constituent("SODIUM BENZOATE").unwrap());
    let brief =
        brief.require(Requirement::at_most(acid.measure.clone(), "2.5").unwrap().named("acid").unwrap()).unwrap();
    let axes = vec![
        axis(&brief, "at-most.water", values(&["3", "9", "20"])),
        axis(&brief, "at-most.acid", values(&["2.49999", "2.5", "3"])),
    ];
    let sweep = Sweep::new(&brief, axes).unwrap();
    let sweep = reviewed(sweep, Severity::Information);
    assert_eq!(agrees(&sweep, Market::Eu, Severity::Information).0, 9);
    let table = sweep.table().unwrap();
    let over: Vec<bool> =
        (0..3).map(|row| read(&sweep, &table, "findings.certain", row).contains("annex-v-1-rinse-off")).collect();
    assert_eq!(over, [false, false, true]);
}

#[test]
fn lattices_and_exchanged_raw_materials() {
    let brief = bar();
    let sweep =
        reviewed(Sweep::new(&brief, vec![Axis::lattice(&brief, "wash", 10).unwrap()]).unwrap(), Severity::Information);
    let (rows, different) = agrees(&sweep, Market::Eu, Severity::Information);
    assert!(rows > 10 && different > 2, "{rows} {different}");

    let catalogue = Catalogue::starter();
    let materials =
        ["sodium-benzoate", "phenoxyethanol", "kaolin"].map(|id| catalogue.material(id).unwrap().clone()).to_vec();
    let brief = preserved();
    let exchanged = Axis::Material { line: "sodium-benzoate".to_string(), materials };
    for axes in [
        vec![exchanged.clone(), axis(&brief, "sodium-benzoate", whole(1, 3))],
        vec![axis(&brief, "sodium-benzoate", whole(1, 3)), exchanged],
    ] {
        let sweep = reviewed(Sweep::new(&brief, axes).unwrap(), Severity::Information);
        let (rows, different) = agrees(&sweep, Market::Eu, Severity::Information);
        assert!(rows == 9 && different >= 4, "{rows} {different}");
    }
}

#[test]
fn random_sweeps_say_what_reviews_of_their_rows_say() {
    let (mut rows, mut different) = (0, 0);
    for seed in 0..160 {
        let numbers = &mut Numbers(seed * 104_729 + 11);
        let brief = random::brief(numbers, seed % 3 != 0);
        let axes = random::axes(&brief, numbers);
        let sweep = reviewed(Sweep::new(&brief, axes).unwrap(), Severity::Information);
        let every = 1 + usize::try_from(sweep.rows()).unwrap() / 16;
        let (answered, kinds) = agrees_every(&sweep, Market::Eu, Severity::Information, every);
        (rows, different) = (rows + answered, different + kinds);
    }
    assert!(rows > 250 && different > 80, "{rows} {different}");
}

#[test]
fn a_row_without_a_formula_of_whole_ppm_holds_nothing() {
    let brief = Brief::new("Between two ppm", &Catalogue::starter()).unwrap();
    let brief = brief.between("glycerin-99-5", 0, 50).unwrap().qs("kaolin").unwrap();
    let glycerin = Measure::as_supplied().contributed_by(tenside::measure::Scope::lines(["glycerin-99-5"]).unwrap());
    let brief = brief.at_least(glycerin.clone(), "33.33331").unwrap().at_most(glycerin, "33.33335").unwrap();
    let sweep = reviewed(
        Sweep::new(&brief, vec![axis(&brief, "highest.glycerin-99-5", whole(40, 42))]).unwrap(),
        Severity::Information,
    );
    let table = sweep.table().unwrap();
    assert_eq!(table.feasible_rows(), 3);
    assert!((0..3).all(|row| !holds(&table, "findings", row)));
    assert!(sweep.answer(0).unwrap().formula().is_err());
}

#[test]
fn parts_picks_and_levels_give_the_same_codes() {
    let brief = preserved();
    let axes = vec![
        axis(&brief, "sodium-benzoate", values(&["0.5", "2.9499", "2.95"])),
        axis(&brief, "wash.capb-30", whole(1, 40)),
    ];
    let sweep = reviewed(Sweep::new(&brief, axes).unwrap(), Severity::Information);
    let whole = sweep.table().unwrap();
    for column in ["findings", "findings.certain", "findings.unchecked", "use-levels"] {
        let all = whole.codes(column).unwrap();
        assert!(all.iter().collect::<BTreeSet<_>>().len() > 1 || column == "findings.unchecked", "{column}");
        for level in Level::available() {
            let parts: Vec<u64> = [0..17, 17..64, 64..120]
                .into_iter()
                .flat_map(|rows| sweep.part(rows, GIB_ALLOWED, level).unwrap().codes(column).unwrap().to_vec())
                .collect();
            assert_eq!(parts, all, "{column}");
        }
        let alone = sweep.clone().with_columns(&[column]).unwrap().pick(&[3, 100, 41], Level::best()).unwrap();
        assert_eq!(alone.codes(column).unwrap(), [all[3], all[100], all[41]]);
    }
}

#[test]
fn streams_keep_rows_without_findings() {
    let brief = preserved();
    let axes = vec![
        axis(&brief, "sodium-benzoate", values(&["0.5", "2.9499", "2.95"])),
        axis(&brief, "wash.capb-30", whole(1, 40)),
    ];
    for (brief, axes) in [
        (brief.clone(), axes.clone()),
        (brief.clone().minimise(Measure::water()).between("glycerin-99-5", 0, 3).unwrap(), axes),
    ] {
        let sweep = reviewed(Sweep::new(&brief, axes).unwrap(), Severity::Warning);
        let table = sweep.table().unwrap();
        let water = table.numbers("water").unwrap();
        for column in ["findings", "findings.certain", "use-levels"] {
            let codes = table.codes(column).unwrap();
            let clean: Vec<usize> = (0..table.rows())
                .filter(|row| holds(&table, column, *row) && codes[*row] == 0 && water.get(*row).unwrap() < 10.0)
                .collect();
            let dry = Condition { column: "water".into(), comparison: Comparison::Under, value: Exact::from(10) };
            let seen = sweep
                .stream(&Stream::default().only(dry).without(column).best(1, "water", Direction::Minimise))
                .unwrap();
            assert_eq!((seen.kept, &seen.columns), (clean.len() as u64, &vec!["water".to_string()]), "{column}");
            let least = clean
                .iter()
                .copied()
                .min_by(|left, right| water.get(*left).unwrap().total_cmp(&water.get(*right).unwrap()));
            assert_eq!(seen.best.first().map(|(row, _)| *row as usize), least);
        }
    }
}

#[test]
fn what_cannot_be_asked_is_refused() {
    let brief = preserved();
    let sweep = reviewed(Sweep::new(&brief, vec![axis(&brief, "panthenol", whole(1, 2))]).unwrap(), Severity::Error);
    assert!(
        sweep
            .clone()
            .with_review(RuleBook::starter(), &product(Market::Us), Severity::Error)
            .unwrap_err()
            .is_duplicate()
    );
    let error = sweep.stream(&Stream::default().without("water")).unwrap_err();
    assert!(error.to_string().contains("only the columns of a review"), "{error}");
    assert!(sweep.stream(&Stream::default().without("finding")).unwrap_err().is_unknown_name());
    let error = sweep.stream(&Stream::default().best(1, "findings", Direction::Minimise)).unwrap_err();
    assert!(error.to_string().contains("lines, measures and the objective only"), "{error}");

    let rule = |at: usize| {
        format!(
            "[[rule]]\nslug = \"own-{at}\"\nseverity = \"error\"\ntitle = \"clay\"\nmeasure = \"constituent\"\nof = \
             \"KAOLIN\"\nat_most = {}\n",
            at + 1
        )
    };
    let many: String = (0..65).map(rule).collect();
    let text = format!("tenside = \"rules/1\"\nid = \"many\"\ntitle = \"Many\"\nsource = \"house rule\"\n{many}");
    let book = RuleBook::empty().with(Arc::new(RuleList::read(&text, Notation::Toml).unwrap())).unwrap();
    let sweep = Sweep::new(&brief, Vec::new()).unwrap();
    let error = sweep.with_review(&book, &product(Market::Eu), Severity::Error).unwrap_err();
    assert!(error.to_string().contains("up to 64 rules"), "{error}");
}
