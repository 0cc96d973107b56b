//! Rows of a sweep against the same briefs solved one by one.

use tenside::brief::{Brief, Requirement, SplitBasis};
use tenside::catalogue::Catalogue;
use tenside::measure::{Basis, Measure};
use tenside::number::Exact;
use tenside::sweep::{Axis, Level, Sweep, Varied};

use super::support::{agrees, axis, bar, values, whole};

#[test]
fn parts_targets_limits_fixed_lines_and_prices() {
    let brief = bar();
    let sweep = Sweep::new(
        &brief,
        vec![
            axis(&brief, "panthenol", values(&["0.5", "1.25"])),
            axis(&brief, "at-most.water", values(&["4", "5.5", "9"])),
            axis(&brief, "wash.capb-30", values(&["0.5", "1", "2.75", "4", "8"])),
            axis(&brief, "price.kaolin", values(&["1", "2.5"])),
            axis(&brief, "target.active-matter", whole(40, 70)),
        ],
    )
    .unwrap();
    let table = sweep.table().unwrap();
    assert_eq!(table.rows(), 2 * 3 * 5 * 2 * 31);
    let (answered, refused) = agrees(&sweep, &table, 7);
    assert!(answered > 50 && refused > 50, "{answered} {refused}");
}

#[test]
fn a_lattice_with_its_corners() {
    let brief = bar();
    let lattice = Axis::lattice(&brief, "wash", 20).unwrap();
    for target in [vec![], vec![axis(&brief, "target.active-matter", whole(55, 57))]] {
        let sweep = Sweep::new(&brief, [vec![lattice.clone()], target].concat()).unwrap();
        let table = sweep.table().unwrap();
        assert_eq!(table.rows() % 231, 0);
        let (answered, refused) = agrees(&sweep, &table, 1);
        assert!(answered > 20 && refused > 20, "{answered} {refused}");
    }
}

#[test]
fn shares_and_splits_by_weight_and_mole() {
    for basis in [SplitBasis::Weight, SplitBasis::Active, SplitBasis::Mole] {
        let brief = Brief::new("Bar", &Catalogue::starter()).unwrap();
        let brief = brief.split("wash", basis, [("sci-powder", 14), ("scs-needles", 5), ("capb-30", 1)]).unwrap();
        let brief = brief
            .between("cetyl-alcohol", 3, 3)
            .unwrap()
            .qs("kaolin")
            .unwrap()
            .target(Measure::active_matter(), 50)
            .unwrap();
        let brief = brief.at_most(Measure::water(), 12).unwrap().at_least(Measure::charge_ratio(), 0).unwrap();
        let sweep = Sweep::new(
            &brief,
            vec![
                axis(&brief, "target.active-matter", whole(48, 60)),
                axis(&brief, "share.wash.scs-needles", values(&["0", "12.5", "40", "99.9", "100"])),
            ],
        );
        let table = sweep.as_ref().unwrap().table().unwrap();
        agrees(sweep.as_ref().unwrap(), &table, 1);
    }
}

/// A share can leave parts that are less than one may be written.
#[test]
fn the_smallest_parts_of_a_share_can_be_asked_for() {
    let brief = Brief::new("Bar", &Catalogue::starter()).unwrap();
    let parts = [("sci-powder", Exact::ratio(1, 1000)), ("capb-30", Exact::ONE), ("scs-needles", Exact::ratio(1, 2))];
    let brief = brief.split("wash", SplitBasis::Active, parts).unwrap().qs("kaolin").unwrap();
    let brief = brief.target(Measure::active_matter(), 30).unwrap();
    let sweep =
        Sweep::new(&brief, vec![axis(&brief, "share.wash.capb-30", values(&["0", "50", "99.9", "100"]))]).unwrap();
    let table = sweep.table().unwrap();
    assert_eq!(agrees(&sweep, &table, 1), (4, 0));
}

/// A share of 0 can take away the equation that determined the others.
#[test]
fn where_a_share_of_nothing_leaves_something_to_choose() {
    let catalogue = Catalogue::starter();
    let wash = Brief::new("Bar", &catalogue).unwrap();
    let wash =
        wash.split("wash", SplitBasis::Active, [("capb-30", 1), ("sci-powder", 9)]).unwrap().qs("kaolin").unwrap();
    let none = wash.target(Measure::amphoteric_active(), 0).unwrap();
    let best = none.clone().maximise(Measure::active_matter());
    let sweep = Sweep::new(&best, vec![axis(&best, "share.wash.capb-30", values(&["0", "10"]))]).unwrap();
    let table = sweep.table().unwrap();
    agrees(&sweep, &table, 1);
    assert_eq!(table.numbers("line.kaolin").unwrap().get(0), Some(0.0));
    let free = none.between("cetyl-alcohol", 3, 6).unwrap();
    let sweep = Sweep::new(&free, vec![Axis::lattice(&free, "wash", 2).unwrap()]).unwrap();
    let table = sweep.table().unwrap();
    let (answered, _) = agrees(&sweep, &table, 1);
    assert!(answered >= 1);
}

/// A ratio over nothing has no value, as an objective no more than as a measure; where only some formulas have nothing
/// of what it divides by, the row is refused.
#[test]
fn an_objective_over_nothing_is_no_number() {
    let brief = Brief::new("Bar", &Catalogue::starter()).unwrap().fix("sci-powder", 40).unwrap();
    let brief = brief.fix("beeswax", 1).unwrap().qs("kaolin").unwrap();
    let brief = brief.minimise(Measure::water().per(&Measure::class(tenside::substance::Class::Wax)));
    for last in [2, 60] {
        let table = Sweep::new(&brief, vec![axis(&brief, "beeswax", whole(0, last))]).unwrap().table().unwrap();
        let objective = table.numbers("objective").unwrap();
        assert_eq!([0, 1, 2].map(|row| objective.get(row)), [None, Some(0.4), Some(0.2)]);
        assert_eq!(table.numbers("line.kaolin").unwrap().get(0), Some(60.0));
    }
    let free = brief.between("cetyl-alcohol", 0, 5).unwrap().between("stearic-acid", 0, 5).unwrap();
    let free = free.between("carnauba-wax", 0, 1).unwrap();
    let sweep = Sweep::new(&free, vec![axis(&free, "beeswax", whole(0, 2))]).unwrap();
    let refused = sweep.table().unwrap_err();
    assert_eq!(refused.faults()[0].place, "row 0");
    assert_eq!(refused.faults()[0].message, sweep.outcome(0).unwrap_err().faults()[0].message);
}

#[test]
fn moisture_and_raw_materials() {
    let brief = bar();
    let finished = Requirement::at_least(Measure::active_matter(), Exact::from(60))
        .unwrap()
        .on(Basis::finished(Exact::from(3)).unwrap());
    let brief = brief.require(finished).unwrap();
    let catalogue = Catalogue::starter();
    let materials = ["capb-30", "coco-glucoside-50"].map(|id| catalogue.material(id).unwrap().clone()).to_vec();
    let mut prices: Vec<(String, rust_decimal::Decimal)> =
        brief.prices().unwrap().iter().map(|(id, price)| (id.to_string(), price)).collect();
    prices.push(("coco-glucoside-50".to_string(), rust_decimal::Decimal::from(3)));
    let brief = brief.with_prices(&tenside::catalogue::PriceList::new("EUR", prices).unwrap()).unwrap();
    let exchanged = Axis::Material { line: "capb-30".to_string(), materials };
    let moisture = axis(&brief, "moisture", values(&["0", "2", "4.5", "7"]));
    let target = axis(&brief, "target.active-matter", whole(50, 62));
    for axes in [vec![exchanged.clone(), moisture.clone(), target.clone()], vec![target, moisture, exchanged]] {
        let sweep = Sweep::new(&brief, axes).unwrap();
        let table = sweep.table().unwrap();
        let (answered, refused) = agrees(&sweep, &table, 1);
        assert!(answered > 10 && refused > 10, "{answered} {refused}");
    }
}

#[test]
fn what_is_not_determined_is_solved() {
    let brief = bar()
        .change_line(
            "cetyl-alcohol",
            tenside::brief::Role::between("3".parse().map(ppm).unwrap(), "6".parse().map(ppm).unwrap()).unwrap(),
        )
        .unwrap();
    let sweep = Sweep::new(
        &brief,
        vec![
            axis(&brief, "highest.cetyl-alcohol", values(&["3.5", "5"])),
            axis(&brief, "lowest.cetyl-alcohol", values(&["1", "3"])),
            axis(&brief, "wash.capb-30", values(&["0.5", "2", "8"])),
            axis(&brief, "active_matter", whole(50, 60)),
        ],
    )
    .unwrap();
    let table = sweep.table().unwrap();
    let (answered, refused) = agrees(&sweep, &table, 1);
    assert!(answered > 20 && refused > 20, "{answered} {refused}");
}

fn ppm(percent: Exact) -> tenside::number::Ppm {
    tenside::number::Ppm::from_percent(percent).unwrap()
}

#[test]
fn a_brief_without_axes_is_one_row() {
    let sweep = Sweep::new(&bar(), Vec::new()).unwrap();
    let table = sweep.table().unwrap();
    assert_eq!(table.rows(), 1);
    assert_eq!(agrees(&sweep, &table, 1), (1, 0));
}

#[test]
fn every_level_and_any_number_of_threads_give_the_same_bits() {
    let brief = bar();
    let axes = vec![
        axis(
            &brief,
            "wash.capb-30",
            tenside::sweep::Values::linspace(Exact::ratio(1, 2), Exact::from(9), 211, Exact::ratio(1, 1000)).unwrap(),
        ),
        axis(
            &brief,
            "wash.scs-needles",
            tenside::sweep::Values::linspace(&Exact::ONE, Exact::from(9), 37, Exact::ratio(1, 1000)).unwrap(),
        ),
        axis(
            &brief,
            "target.active-matter",
            tenside::sweep::Values::linspace(Exact::from(40), Exact::from(70), 31, Exact::ratio(1, 100)).unwrap(),
        ),
    ];
    let sweep = Sweep::new(&brief, axes).unwrap();
    let with = |level: Level, threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| sweep.table_within(1, level)).unwrap()
    };
    let first = with(Level::Portable, 1);
    assert!(first.feasible_rows() > 1000 && first.feasible_rows() < first.rows());
    for level in Level::available() {
        for threads in [1, 2, 3] {
            assert!(with(level, threads) == first, "{level:?} on {threads} threads");
        }
    }
    agrees(&sweep, &first, 4001);
}

/// Prices choose among the lines, so every row is an optimum: the same bits whoever works on it, wherever it is cut,
/// and from cold.
#[test]
fn optimal_rows_do_not_depend_on_levels_threads_or_parts() {
    let brief =
        bar().drop_line("cetyl-alcohol").unwrap().between("cetyl-alcohol", 3, 9).unwrap().free("water").unwrap();
    let brief = brief
        .drop_requirement("water at most 9 %")
        .unwrap()
        .at_most(Measure::water(), 40)
        .unwrap()
        .at_least(Measure::water(), 11)
        .unwrap();
    let spaced = |from: i64, to: i64, count: usize| {
        tenside::sweep::Values::linspace(Exact::from(from), Exact::from(to), count, Exact::ratio(1, 1000)).unwrap()
    };
    let axes = vec![
        axis(&brief, "wash.scs-needles", spaced(1, 9, 23)),
        axis(&brief, "wash.capb-30", spaced(1, 6, 41)),
        axis(&brief, "target.active-matter", spaced(40, 58, 29)),
    ];
    let sweep = Sweep::new(&brief, axes).unwrap();
    let with = |level: Level, threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| sweep.table_within(1, level)).unwrap()
    };
    let first = with(Level::Portable, 1);
    assert!(first.feasible_rows() > 10_000, "{}", first.feasible_rows());
    for level in Level::available() {
        for threads in [1, 2, 3] {
            assert!(with(level, threads) == first, "{level:?} on {threads} threads");
        }
    }
    let (rows, mut from) = (sweep.rows(), 0);
    for length in [1, 700, 28, 4001, 9999, rows] {
        let to = (from + length).min(rows);
        let part = sweep.part(from..to, 1, Level::best()).unwrap();
        for name in sweep.names().iter().filter(|name| name.starts_with("line.") || name.as_str() == "cost") {
            let (whole, part) = (first.numbers(name).unwrap(), part.numbers(name).unwrap());
            assert!(
                (from..to).all(|row| whole.get(row as usize).map(f64::to_bits)
                    == part.get((row - from) as usize).map(f64::to_bits)),
                "{name}"
            );
        }
        let code = |name: &str| part.codes(name).unwrap() == &first.codes(name).unwrap()[from as usize..to as usize];
        assert!(code("binding") && code("conflict"));
        from = to;
    }
    // The nearest floats of the exact answers.
    let mut answered = 0;
    for row in (0..rows).step_by(911) {
        let tenside::solve::Outcome::Answered(answer) = sweep.outcome(row).unwrap() else { continue };
        answered += 1;
        for (line, exact) in brief.lines().iter().zip(answer.exact()) {
            assert_eq!(
                first.numbers(&format!("line.{}", line.name())).unwrap().get(row as usize),
                Some(exact.to_f64()),
                "row {row}"
            );
        }
        assert_eq!(first.numbers("objective").unwrap().get(row as usize), answer.objective().map(Exact::to_f64));
    }
    assert!(answered > 10, "{answered}");
}

#[test]
fn the_word_of_an_axis_that_a_measure_has() {
    let brief = bar();
    let by_measure = Varied::of_measure(&brief, &Measure::water()).unwrap();
    assert_eq!(by_measure, Varied::named(&brief, "at-most.water").unwrap());
    assert_eq!(by_measure, Varied::named(&brief, "water").unwrap());
    assert_eq!(by_measure, Varied::named(&brief, &by_measure.spelling()).unwrap());
}

/// A whole million of a determined sweep recomputed: the lines of the split in whole numbers, which `f64` divides as
/// well, the rest and the totals of every so-manyth row exactly.
#[test]
fn a_million_rows_worked_out_by_hand() {
    let brief = bar()
        .drop_requirement("water at most 9 %")
        .unwrap()
        .drop_requirement("active matter at 58 %")
        .unwrap()
        .target(Measure::active_matter(), 40)
        .unwrap();
    let spaced = |from: i64, to: i64| {
        tenside::sweep::Values::linspace(Exact::from(from), Exact::from(to), 1000, Exact::ratio(1, 1000)).unwrap()
    };
    let sweep = Sweep::new(
        &brief,
        vec![axis(&brief, "wash.scs-needles", spaced(2, 8)), axis(&brief, "wash.capb-30", spaced(1, 6))],
    )
    .unwrap();
    let sweep = sweep.with_measure(&Measure::water(), &Basis::AsCharged).unwrap();
    let table = sweep.table().unwrap();
    // What a raw material has of a measure.
    let alone = |line: &str, measure: Measure| {
        let lines = vec![
            tenside::formula::Line::new(line, Catalogue::starter().material(line).unwrap().clone(), ppm_of(100))
                .unwrap(),
        ];
        let formula =
            tenside::formula::Formula::new("Alone", lines).unwrap().with_prices(Some(super::support::prices()));
        formula.measure(&measure, &Basis::AsCharged).unwrap().value.unwrap().typical.unwrap()
    };
    let split = ["sci-powder", "scs-needles", "capb-30"];
    // Ten-thousandths of a percent.
    let shares = split.map(|line| {
        let share = alone(line, Measure::active_matter()) * Exact::from(10_000);
        let whole = share.round_i64(tenside::number::HalfWay::ToEven).unwrap();
        assert_eq!(Exact::from(whole), share, "{line}");
        whole
    });
    let lines = [&split[..], &["panthenol", "cetyl-alcohol", "kaolin"]].concat();
    let weights = [Measure::water(), Measure::cost()]
        .map(|measure| lines.iter().map(|line| alone(line, measure.clone())).collect::<Vec<_>>());
    let column = |name: &str| table.numbers(name).unwrap().cells().to_vec();
    let [needles, betaine, kaolin, water, cost] =
        ["axis.wash.scs-needles", "axis.wash.capb-30", "line.kaolin", "water", "cost"].map(column);
    let found = split.map(|line| column(&format!("line.{line}")));
    let thousandths = |value: f64| (value * 1000.0).round() as i64;
    assert_eq!(table.feasible_rows(), 1_000_000);
    for row in 0..table.rows() {
        let parts = [14_000, thousandths(needles[row]), thousandths(betaine[row])];
        let sum: i64 = parts.iter().sum();
        // part / sum * 40 % active / share
        let sides = |line: usize| (parts[line] * 40 * 1_000_000, sum * shares[line]);
        for (line, found) in found.iter().enumerate() {
            let (above, below) = sides(line);
            assert!(above < 1 << 53 && below < 1 << 53);
            assert_eq!(found[row], above as f64 / below as f64, "row {row}");
        }
        if row % 97 > 0 {
            continue;
        }
        let mut percents: Vec<Exact> = (0..3).map(sides).map(|(above, below)| Exact::ratio(above, below)).collect();
        percents.extend([Exact::ratio(3, 2), Exact::from(4)]);
        percents.push(Exact::from(100) - percents.iter().sum::<Exact>());
        assert_eq!(kaolin[row], percents[5].to_f64(), "row {row}");
        for (found, weights) in [&water, &cost].into_iter().zip(&weights) {
            let total: Exact = percents.iter().zip(weights).map(|(percent, weight)| percent * weight).sum();
            assert_eq!(found[row], (total / Exact::from(100)).to_f64(), "row {row}");
        }
    }
}

fn ppm_of(percent: i64) -> tenside::number::Ppm {
    ppm(Exact::from(percent))
}

#[test]
fn parts_and_picked_rows_are_those_of_the_whole() {
    let brief = bar();
    for brief in [brief.clone(), brief.drop_line("cetyl-alcohol").unwrap().between("cetyl-alcohol", 3, 6).unwrap()] {
        let sweep = Sweep::new(
            &brief,
            vec![axis(&brief, "wash.capb-30", whole(1, 5)), axis(&brief, "target.active-matter", whole(50, 63))],
        )
        .unwrap();
        let table = sweep.table().unwrap();
        let rows: Vec<u64> = vec![3, 69, 0, 33, 34];
        let picked = sweep.pick(&rows, Level::best()).unwrap();
        let part = sweep.part(20..55, 1, Level::best()).unwrap();
        assert_eq!((picked.rows(), part.rows()), (5, 35));
        for name in ["axis.wash.capb-30", "line.kaolin", "water", "objective"] {
            let numbers = |table: &tenside::sweep::Table, row: usize| table.numbers(name).unwrap().get(row);
            for (place, row) in rows.iter().enumerate() {
                assert_eq!(numbers(&picked, place), numbers(&table, *row as usize), "{name}, row {row}");
            }
            assert!((0..35).all(|row| numbers(&part, row) == numbers(&table, row + 20)));
        }
        assert!(sweep.pick(&[70], Level::best()).is_err());
        assert!(sweep.part(60..71, 1, Level::best()).is_err());
    }
}
