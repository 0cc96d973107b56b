//! Briefs that their equations determine, so that one region has all their formulas.

use rust_decimal::Decimal;
use tenside_lp::{Column, Outcome, Program, Row};

use super::*;
use crate::solve::{Limit, sides};

/// A bar that its equations determine, with a limit of a ratio and one of a finished basis.
fn bar(basis: SplitBasis) -> Brief {
    let prices = [
        ("sci-powder", 52),
        ("scs-needles", 38),
        ("capb-30", 19),
        ("coco-glucoside-50", 27),
        ("kaolin", 11),
        ("cetyl-alcohol", 41),
        ("panthenol", 230),
    ];
    let prices = PriceList::new("EUR", prices.map(|(id, tenths)| (id.to_string(), Decimal::new(tenths, 1)))).unwrap();
    let brief = Brief::new("Bar", &Catalogue::starter()).unwrap().with_prices(&prices).unwrap();
    let dear = Requirement::at_most(Measure::cost().per(&Measure::active_matter()), Exact::ratio(17, 2)).unwrap();
    let dry = Requirement::at_least(Measure::active_matter(), 48).unwrap();
    brief
        .split("wash", basis, [("sci-powder", 14), ("scs-needles", 5), ("capb-30", 1)])
        .unwrap()
        .fix("panthenol", "1.5")
        .unwrap()
        .between("cetyl-alcohol", 4, 4)
        .unwrap()
        .qs("kaolin")
        .unwrap()
        .target(Measure::active_matter(), 50)
        .unwrap()
        .at_most(Measure::water(), 9)
        .unwrap()
        .require(dear.named("dear").unwrap())
        .unwrap()
        .require(dry.on(Basis::finished(Exact::from(2)).unwrap()).named("dry").unwrap())
        .unwrap()
        .minimise(Measure::cost())
}

fn along(brief: &Brief, word: &str, from: Exact, by: &Exact, count: i64) -> Axis {
    axis(brief, word, (0..count).map(|place| &from + by * Exact::from(place)).collect())
}

fn axes(brief: &Brief) -> Vec<Axis> {
    let tenth = Exact::ratio(1, 10);
    let catalogue = Catalogue::starter();
    let materials = ["capb-30", "coco-glucoside-50"].map(|id| catalogue.material(id).unwrap().clone()).to_vec();
    vec![
        along(brief, "wash.capb-30", Exact::ratio(1, 4), &Exact::ratio(1, 4), 19),
        // Numbers of as many digits as a script works out.
        along(brief, "wash.scs-needles", Exact::ratio(1_234_567_890_123, 999_999_999_999), &tenth, 9),
        along(brief, "share.wash.sci-powder", Exact::ZERO, &Exact::ratio(25, 2), 9),
        along(brief, "fix.panthenol", Exact::ZERO, &Exact::ratio(3, 4), 7),
        along(brief, "target.active-matter", Exact::from(44), &Exact::ratio(7, 3), 9),
        along(brief, "at-most.water", Exact::from(2), &Exact::ONE, 8),
        along(brief, "price.kaolin", tenth.clone(), &Exact::ratio(7, 10), 9),
        Axis::lattice(brief, "wash", 5).unwrap(),
        Axis::Moisture(Values::new([0, 2, 5, 9].map(Exact::from).to_vec()).unwrap()),
        Axis::Material { line: "capb-30".to_string(), materials },
    ]
}

/// With measures of every kind: over the whole, over another, on a finished basis, over molar masses.
fn measured(sweep: Sweep) -> Sweep {
    let total = Measure::as_supplied().contributed_by(Scope::group("wash").unwrap());
    let finished = Basis::finished(Exact::from(8)).unwrap();
    [
        (total, Basis::AsCharged),
        (Measure::water(), finished),
        (Measure::cost().per(&Measure::water()), Basis::AsCharged),
        (Measure::charge_ratio(), Basis::AsCharged),
    ]
    .into_iter()
    .fold(sweep, |sweep, (measure, basis)| sweep.with_measure(&measure, &basis).unwrap())
}

#[test]
fn pairs_of_axes_of_every_kind() {
    let mut found = Found::default();
    for basis in [SplitBasis::Weight, SplitBasis::Active, SplitBasis::Mole] {
        let brief = bar(basis);
        let axes = axes(&brief);
        for (first, axis) in axes.iter().enumerate() {
            for other in &axes[..first] {
                let Ok(sweep) = Sweep::new(&brief, vec![other.clone(), axis.clone()]) else { continue };
                let sweep = if first % 2 == 0 { measured(sweep) } else { sweep };
                compare(&sweep, &mut found);
            }
        }
    }
    println!("{found:?}");
    assert!(found.sweeps > 60 && found.alone < 500, "{found:?}");
    assert!(found.answered > 1500 && found.refused > 1000 && found.missing > 50, "{found:?}");
}

/// Whether percentages from 0 to 100 that sum to 100 meet the limits of a code.
fn can_be_met(sweep: &Sweep, brief: &Brief, code: u64) -> bool {
    let (lines, splits) = (brief.lines().len(), brief.splits().len());
    let is_asked = |limit: Limit| code & sweep.conflict_legend().bit(limit) != 0;
    let hundred = Exact::hundred();
    let column = |low: Exact, high: Option<Exact>| Column { low: Some(low), high, cost: Exact::ZERO };
    let mut columns: Vec<Column> = Vec::new();
    for (place, line) in brief.lines().iter().enumerate() {
        let (low, high) = line.role().range();
        columns.push(if is_asked(Limit::Line(place)) {
            column(low.percent(), Some(high.percent()))
        } else {
            column(Exact::ZERO, Some(hundred.clone()))
        });
    }
    columns.extend((0..splits).map(|_| column(Exact::ZERO, None)));
    let row = |mut coefficients: Vec<Exact>, low: Option<Exact>, high: Option<Exact>| {
        coefficients.resize(lines + splits, Exact::ZERO);
        Row { coefficients, low, high }
    };
    let mut rows = vec![row(vec![Exact::ONE; lines], Some(hundred.clone()), Some(hundred))];
    for (split, known) in brief.splits().iter().enumerate() {
        for (member, (line, part)) in known.parts().iter().enumerate() {
            if is_asked(Limit::Split { split, member }) {
                let (brought, _) = sides(brief, &known.measure_of(line), &Basis::AsCharged).unwrap();
                let mut brought = brought.to_vec();
                brought.resize(lines + splits, Exact::ZERO);
                brought[lines + split] = -part;
                rows.push(row(brought, Some(Exact::ZERO), Some(Exact::ZERO)));
            }
        }
    }
    for (index, known) in brief.requirements().iter().enumerate() {
        let (above, below) = sides(brief, known.measure(), known.basis()).unwrap();
        let over =
            |end: &Exact| above.iter().zip(&*below).map(|(above, below)| above - end * below).collect::<Vec<_>>();
        let is_equation = known.low() == known.high();
        if let Some(low) = known.low()
            && is_asked(Limit::Requirement { index, upper: is_equation })
        {
            rows.push(row(over(low), Some(Exact::ZERO), None));
        }
        if let Some(high) = known.high()
            && is_asked(Limit::Requirement { index, upper: true })
        {
            rows.push(row(over(high), None, Some(Exact::ZERO)));
        }
    }
    let program = Program::new(columns, rows).unwrap();
    !matches!(tenside_lp::solve(&program), Outcome::Infeasible(_))
}

/// Every code names limits that cannot be met together, and of which none can be left out.
#[test]
fn codes_of_conflicts_are_irreducible() {
    let brief = bar(SplitBasis::Active).drop_requirement("dry").unwrap();
    let axes = axes(&brief);
    let (mut refused, mut codes) = (0, std::collections::BTreeSet::new());
    for (first, second) in [(0, 4), (5, 3), (2, 5), (7, 4)] {
        let sweep = Sweep::new(&brief, vec![axes[first].clone(), axes[second].clone()]).unwrap();
        let table = sweep.table().unwrap();
        for (row, code) in table.codes("conflict").unwrap().iter().enumerate() {
            assert_eq!(*code == 0, table.is_feasible(row), "row {row}");
            if *code == 0 {
                continue;
            }
            refused += 1;
            codes.insert(*code);
            let brief = sweep.points().brief_of(row as u64).unwrap();
            assert!(!can_be_met(&sweep, &brief, *code), "row {row}: {:?}", sweep.conflict_legend().read(*code));
            for bit in (0..64).map(|bit| 1 << bit).filter(|bit| code & bit != 0) {
                let words = sweep.conflict_legend().read(*code);
                assert!(can_be_met(&sweep, &brief, code & !bit), "row {row}: {words:?} without {bit:b}");
            }
        }
    }
    assert!(refused > 100 && codes.len() > 2, "{refused} of {} codes", codes.len());
}
