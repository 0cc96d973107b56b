//! Programs that differ in one field and have another kind of outcome for it, and programs at the edge of the format.

use tenside::number::Exact;
use tenside_lp::{Column, Crossing, Outcome, Program, Row, solve, solve_exactly};

use super::{column, proved, row};

const ANY: super::Range = (None, None);

fn kind(columns: Vec<Column>, rows: Vec<Row>) -> (&'static str, Option<Exact>) {
    match proved(&Program::new(columns, rows).unwrap(), solve) {
        Outcome::Optimal(optimum) => ("optimal", Some(optimum.objective)),
        Outcome::Infeasible(_) => ("infeasible", None),
        Outcome::Unbounded(_) => ("unbounded", None),
    }
}

fn optimal(objective: i64) -> (&'static str, Option<Exact>) {
    ("optimal", Some(Exact::from(objective)))
}

/// Minimise -x - 2 y with both in 0 to 10, x + y at most 12 and y - x at most 8: least at x = 2, y = 10.
fn base() -> (Vec<Column>, Vec<Row>) {
    let columns = vec![column((Some(0), Some(10)), -1), column((Some(0), Some(10)), -2)];
    (columns, vec![row(&[1, 1], (None, Some(12))), row(&[-1, 1], (None, Some(8)))])
}

#[test]
fn one_field_makes_the_difference() {
    type Change = fn(&mut Vec<Column>, &mut Vec<Row>);
    let infeasible = ("infeasible", None);
    let unbounded = ("unbounded", None);
    let twins: [(Change, _); 12] = [
        (|_, _| (), optimal(-22)),
        (|_, rows| rows[0].low = Some(Exact::from(12)), optimal(-22)),
        (|_, rows| rows[0].low = Some(Exact::from(13)), infeasible.clone()),
        (|columns, _| columns[0].low = Some(Exact::from(13)), infeasible.clone()),
        (|columns, _| columns[0].high = Some(Exact::from(-1)), infeasible.clone()),
        (|columns, _| columns[1].high = None, optimal(-22)),
        (|columns, _| columns[0].high = None, optimal(-22)),
        (|columns, _| columns[0].low = None, optimal(-22)),
        (|columns, _| columns[0].cost = Exact::from(-3), optimal(-34)),
        (|columns, _| columns[1].cost = Exact::ONE, optimal(-10)),
        (|_, rows| rows.clear(), optimal(-30)),
        (|columns, rows| (columns[0].low, rows[1].high, columns[0].cost) = (None, None, Exact::ONE), unbounded.clone()),
    ];
    for (index, (change, expected)) in twins.into_iter().enumerate() {
        let (mut columns, mut rows) = base();
        change(&mut columns, &mut rows);
        assert_eq!(kind(columns, rows), expected, "twin {index}");
    }
}

#[test]
fn one_field_wrong_is_refused_with_its_place() {
    let (columns, rows) = base();
    for count in [0, 1, 3] {
        let mut rows = rows.clone();
        rows[1].coefficients.resize(count, Exact::ONE);
        let error = Program::new(columns.clone(), rows).unwrap_err();
        assert_eq!(error.place, "rows[1].coefficients");
        assert_eq!(error.value.as_deref(), Some(count.to_string().as_str()));
    }
}

#[test]
fn crossing_ends_are_named() {
    let crossing = |columns, rows| match proved(&Program::new(columns, rows).unwrap(), solve) {
        Outcome::Infeasible(farkas) => farkas.crossing,
        other => panic!("{other:?}"),
    };
    let (mut columns, rows) = base();
    columns[1].low = Some(Exact::from(11));
    assert_eq!(crossing(columns, rows), Some(Crossing::Column(1)));
    let (columns, mut rows) = base();
    rows[0].low = Some(Exact::from(13));
    assert_eq!(crossing(columns, rows), Some(Crossing::Row(0)));
    // Each range by itself is sound: the proof is a combination.
    let (columns, mut rows) = base();
    rows[0] = row(&[1, 1], (Some(21), None));
    assert_eq!(crossing(columns, rows), None);
}

#[test]
fn nothing_at_all_and_nothing_of_one_kind() {
    assert_eq!(kind(vec![], vec![]), optimal(0));
    assert_eq!(kind(vec![], vec![row(&[], (Some(-1), Some(1)))]), optimal(0));
    assert_eq!(kind(vec![], vec![row(&[], (Some(1), None))]).0, "infeasible");
    assert_eq!(kind(vec![], vec![row(&[], (None, Some(-1)))]).0, "infeasible");
    assert_eq!(kind(vec![column((Some(-3), Some(5)), 2), column((Some(-3), Some(5)), -2)], vec![]), optimal(-16));
    assert_eq!(kind(vec![column((Some(-3), None), -2)], vec![]).0, "unbounded");
    assert_eq!(kind(vec![column((None, Some(3)), -2)], vec![]), optimal(-6));
    assert_eq!(kind(vec![column(ANY, 0)], vec![]), optimal(0));
    assert_eq!(kind(vec![column(ANY, 1)], vec![]).0, "unbounded");
}

#[test]
fn rows_that_say_nothing_or_the_same() {
    let columns = || vec![column((Some(0), None), 1), column((Some(0), None), 2)];
    let total = |high| row(&[1, 1], (Some(7), Some(high)));
    assert_eq!(kind(columns(), vec![row(&[0, 0], (Some(0), Some(0))), total(7)]), optimal(7));
    assert_eq!(kind(columns(), vec![row(&[0, 0], (Some(1), None)), total(7)]).0, "infeasible");
    assert_eq!(kind(columns(), vec![row(&[5, -9], ANY), total(7)]), optimal(7));
    assert_eq!(
        kind(columns(), vec![total(7), row(&[2, 2], (Some(14), Some(14))), row(&[-1, -1], (Some(-7), Some(-7)))]),
        optimal(7)
    );
    assert_eq!(kind(columns(), vec![total(7), row(&[2, 2], (Some(15), Some(15)))]).0, "infeasible");
}

#[test]
fn fixed_and_free_columns() {
    let fixed = |value| column((Some(value), Some(value)), 1);
    assert_eq!(kind(vec![fixed(3), fixed(4)], vec![row(&[1, 1], (Some(7), Some(7)))]), optimal(7));
    assert_eq!(kind(vec![fixed(3), fixed(4)], vec![row(&[1, 1], (Some(8), None))]).0, "infeasible");
    // Two free columns tied to each other: least x - y where x - y is 5, and 2 x + y anything.
    assert_eq!(kind(vec![column(ANY, 1), column(ANY, -1)], vec![row(&[1, -1], (Some(5), Some(5)))]), optimal(5));
    assert_eq!(kind(vec![column(ANY, 1), column(ANY, 1)], vec![row(&[1, -1], (Some(5), Some(5)))]).0, "unbounded");
    assert_eq!(
        kind(vec![column(ANY, 1), column(ANY, 1)], vec![row(&[1, 2], (Some(4), None)), row(&[2, 1], (Some(2), None))]),
        optimal(2)
    );
    assert_eq!(
        kind(vec![column(ANY, 1), column(ANY, 0)], vec![row(&[0, 1], (Some(4), Some(3))), row(&[1, 0], ANY)]).0,
        "infeasible"
    );
}

#[test]
fn a_column_may_go_straight_to_its_other_end() {
    let program = Program::new(vec![column((Some(0), Some(5)), -1)], vec![row(&[1], (None, Some(100)))]).unwrap();
    // The exact method starts at the low end, the search at the end that the cost asks for.
    for (outcome, pivots) in
        [(proved(&program, |program| solve_exactly(program, &[])), 1), (proved(&program, solve), 0)]
    {
        let optimum = outcome.optimum().unwrap();
        assert_eq!((&optimum.values[0], &optimum.reduced_costs[0]), (&Exact::from(5), &Exact::from(-1)));
        assert_eq!((&optimum.row_multipliers[0], optimum.pivots), (&Exact::ZERO, pivots));
    }
}

#[test]
fn uniqueness_is_told() {
    let unique = |cost: i64| {
        let columns = vec![column((Some(0), Some(9)), 1), column((Some(0), Some(9)), cost)];
        proved(&Program::new(columns, vec![row(&[1, 1], (Some(10), Some(10)))]).unwrap(), solve)
            .optimum()
            .unwrap()
            .unique
    };
    assert!(unique(2));
    assert!(!unique(1));
}
