//! Rows of a sweep against the same briefs solved one by one.

use tenside::brief::{Brief, Requirement, SplitBasis};
use tenside::catalogue::Catalogue;
use tenside::measure::{Basis, Measure};
use tenside::number::Exact;
use tenside::sweep::{Axis, Level, Sweep, Turned, Unwatched};

use crate::support::{agrees, axis, bar, values, whole};

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
    assert!(table.is_closed_form());
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
        assert!(table.is_closed_form());
        assert_eq!(table.rows() % 231, 0);
        let (answered, refused) = agrees(&sweep, &table, 1);
        assert!(answered > 20 && refused > 20, "{answered} {refused}");
    }
}

#[test]
fn shares_and_splits_by_weight_and_mole() {
    for basis in [SplitBasis::Weight, SplitBasis::Active, SplitBasis::Mole] {
        let brief = Brief::new("Bar", &Catalogue::starter()).unwrap();
        let brief = brief.split("wash", basis, &[("sci-powder", 14), ("scs-needles", 5), ("capb-30", 1)]).unwrap();
        let brief = brief.between("cetyl-alcohol", 3, 3).unwrap().qs("kaolin").unwrap().target(Measure::active_matter(), 50).unwrap();
        let brief = brief.at_most(Measure::water(), 12).unwrap().at_least(Measure::charge_ratio(), 0).unwrap();
        let sweep = Sweep::new(
            &brief,
            vec![axis(&brief, "target.active-matter", whole(48, 60)), axis(&brief, "share.wash.scs-needles", values(&["0", "12.5", "40", "99.9", "100"]))],
        );
        let table = sweep.as_ref().unwrap().table().unwrap();
        assert!(table.is_closed_form(), "{basis}");
        agrees(sweep.as_ref().unwrap(), &table, 1);
    }
}

#[test]
fn moisture_and_raw_materials() {
    let brief = bar();
    let finished = Requirement::at_least(Measure::active_matter(), Exact::from(60)).on(Basis::finished(Exact::from(3)).unwrap());
    let brief = brief.require(finished).unwrap();
    let catalogue = Catalogue::starter();
    let materials = ["capb-30", "coco-glucoside-50"].map(|id| catalogue.material(id).unwrap().clone()).to_vec();
    let mut prices: Vec<(String, rust_decimal::Decimal)> = brief.prices().unwrap().iter().map(|(id, price)| (id.to_string(), price)).collect();
    prices.push(("coco-glucoside-50".to_string(), rust_decimal::Decimal::from(3)));
    let brief = brief.with_prices(std::sync::Arc::new(tenside::catalogue::PriceList::new("EUR", prices).unwrap()));
    let exchanged = Axis::Material { line: "capb-30".to_string(), materials };
    let moisture = axis(&brief, "moisture", values(&["0", "2", "4.5", "7"]));
    let target = axis(&brief, "target.active-matter", whole(50, 62));
    for axes in [vec![exchanged.clone(), moisture.clone(), target.clone()], vec![target, moisture, exchanged]] {
        let sweep = Sweep::new(&brief, axes).unwrap();
        let table = sweep.table().unwrap();
        assert!(table.is_closed_form());
        let (answered, refused) = agrees(&sweep, &table, 1);
        assert!(answered > 10 && refused > 10, "{answered} {refused}");
    }
}

#[test]
fn what_is_not_determined_is_solved() {
    let brief =
        bar().change_line("cetyl-alcohol", tenside::brief::Role::between("3".parse().map(ppm).unwrap(), "6".parse().map(ppm).unwrap()).unwrap()).unwrap();
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
    assert!(!table.is_closed_form());
    let (answered, refused) = agrees(&sweep, &table, 1);
    assert!(answered > 20 && refused > 20, "{answered} {refused}");
}

fn ppm(percent: Exact) -> tenside::number::Ppm {
    tenside::number::Ppm::from_exact_percent(&percent).unwrap()
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
        axis(&brief, "wash.capb-30", tenside::sweep::Values::linspace(&Exact::ratio(1, 2), &Exact::from(9), 211, &Exact::ratio(1, 1000)).unwrap()),
        axis(&brief, "wash.scs-needles", tenside::sweep::Values::linspace(&Exact::ONE, &Exact::from(9), 37, &Exact::ratio(1, 1000)).unwrap()),
        axis(&brief, "target.active-matter", tenside::sweep::Values::linspace(&Exact::from(40), &Exact::from(70), 31, &Exact::ratio(1, 100)).unwrap()),
    ];
    let sweep = Sweep::new(&brief, axes).unwrap();
    let with = |level: Level, threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| sweep.table_within(1, level, &Unwatched)).unwrap().unwrap()
    };
    let first = with(Level::Portable, 1);
    assert!(first.is_closed_form() && first.feasible_rows() > 1000 && first.feasible_rows() < first.rows());
    for level in Level::available() {
        for threads in [1, 2, 3] {
            assert!(with(level, threads) == first, "{level:?} on {threads} threads");
        }
    }
    agrees(&sweep, &first, 4001);
}

#[test]
fn the_word_of_an_axis_that_a_measure_has() {
    let brief = bar();
    let by_measure = Turned::of_measure(&brief, &Measure::water()).unwrap();
    assert_eq!(by_measure, Turned::named(&brief, "at-most.water").unwrap());
    assert_eq!(by_measure, Turned::named(&brief, "water").unwrap());
    assert_eq!(by_measure, Turned::named(&brief, &by_measure.spelling()).unwrap());
}
