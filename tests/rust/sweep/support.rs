//! Briefs and axes that the tests share.

use std::sync::Arc;

use rust_decimal::Decimal;
use tenside::brief::{Brief, SplitBasis};
use tenside::catalogue::{Catalogue, PriceList};
use tenside::measure::Measure;
use tenside::solve::Outcome;
use tenside::sweep::{Axis, Numbers, Sweep, Table, Values, Varied};

pub(crate) fn prices() -> Arc<PriceList> {
    let of = [
        ("sci-powder", 52),
        ("scs-needles", 38),
        ("capb-30", 19),
        ("kaolin", 11),
        ("cetyl-alcohol", 41),
        ("panthenol", 230),
        ("water", 1),
    ];
    Arc::new(PriceList::new("EUR", of.map(|(id, tenths)| (id, Decimal::new(tenths, 1)))).unwrap())
}

/// A bar that its equations determine.
pub(crate) fn bar() -> Brief {
    let brief = Brief::new("Bar", &Catalogue::starter()).unwrap().with_prices(&prices()).unwrap();
    let brief =
        brief.split("wash", SplitBasis::Active, [("sci-powder", 14), ("scs-needles", 5), ("capb-30", 1)]).unwrap();
    let brief = brief.fix("panthenol", "1.5").unwrap().fix("cetyl-alcohol", 4).unwrap().qs("kaolin").unwrap();
    brief.target(Measure::active_matter(), 58).unwrap().at_most(Measure::water(), 9).unwrap().minimise(Measure::cost())
}

pub(crate) fn values(text: &[&str]) -> Values {
    Values::new(text).unwrap()
}

pub(crate) fn whole(from: i64, to: i64) -> Values {
    Values::new(from..=to).unwrap()
}

pub(crate) fn axis(brief: &Brief, word: &str, values: Values) -> Axis {
    Varied::named(brief, word).unwrap().over(values).unwrap()
}

/// Every row, or every so-manyth, solved on its own: the same status, the same bits of lines and objective.
pub(crate) fn agrees(sweep: &Sweep, table: &Table, every: usize) -> (usize, usize) {
    let brief = sweep.brief();
    let (mut answered, mut refused) = (0, 0);
    for row in (0..table.rows()).step_by(every) {
        match sweep.outcome(row as u64).unwrap() {
            Outcome::Answered(answer) => {
                answered += 1;
                assert!(table.is_feasible(row), "row {row}: there is a formula");
                for (line, exact) in brief.lines().iter().zip(answer.exact()) {
                    let shown = number(table.numbers(&format!("line.{}", line.name())).unwrap(), row);
                    assert_eq!(shown, exact.to_f64(), "row {row}, {}", line.name());
                }
                if let (Some(objective), Ok(column)) = (answer.objective(), table.numbers("objective")) {
                    assert_eq!(number(column, row), objective.to_f64(), "row {row}");
                }
            }
            Outcome::Conflict(_) => {
                refused += 1;
                assert!(!table.is_feasible(row), "row {row}: there is no formula");
                assert_ne!(table.codes("conflict").unwrap()[row], 0, "row {row}");
            }
        }
    }
    (answered, refused)
}

pub(crate) fn number(column: Numbers<'_>, row: usize) -> f64 {
    column.get(row).unwrap_or_else(|| panic!("row {row} holds a number"))
}
