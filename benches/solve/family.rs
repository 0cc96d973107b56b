//! The programs that are timed: a seeded family like briefs, and the case that is kept as data.

use tenside::number::Exact;
use tenside_lp::{Column, Program, Row};

/// How many different ratios a program is solved with in turn.
pub(crate) const RATIOS: usize = 16;

/// One question with its ratio changed at every call.
pub(crate) struct Question {
    pub(crate) degenerate: bool,
    pub(crate) programs: Vec<Program>,
    /// The row that the ratio moves.
    pub(crate) row: usize,
}

/// How many columns and rows a question of the family may have.
#[derive(Clone, Copy)]
pub(crate) enum Size {
    Mixed,
    /// 40 columns and 24 rows.
    Large,
}

/// Numbers without pattern (Knuth's linear congruence modulo 2^64, high bits).
struct Numbers(u64);

impl Numbers {
    fn between(&mut self, low: i64, high: i64) -> i64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        low + ((self.0 >> 33) % (high - low + 1) as u64) as i64
    }
}

/// `count` questions, every third degenerate.
pub(crate) fn family(count: usize, size: Size) -> Vec<Question> {
    (0..count).map(|index| question(&mut Numbers(index as u64 * 7919 + 1), index % 3 == 0, size)).collect()
}

fn hundredths(value: i64) -> Exact {
    Exact::ratio(value, 100)
}

/// Surfactants that share an active matter, waxes, lines held or in narrow ranges, water that fills: all numbers
/// invented. A degenerate one has its requirements repeated, or met with equality by a held line alone, and twins of
/// equal cost and composition.
fn question(numbers: &mut Numbers, degenerate: bool, size: Size) -> Question {
    let (surfactants, others) = match size {
        Size::Mixed => (numbers.between(2, 6) as usize, numbers.between(3, 33) as usize),
        Size::Large => (6, 33),
    };
    let lines = surfactants + others + 1;
    let mut columns = Vec::new();
    let (mut active, mut water) = (Vec::new(), Vec::new());
    for line in 0..lines {
        let (low, high, share, moisture, cost) = if line < surfactants {
            let share = numbers.between(25, 95);
            (0, 10_000, share, (100 - share) * 3 / 4, numbers.between(150, 700))
        } else if line + 1 == lines {
            (0, 10_000, 0, 100, 1)
        } else {
            let low = numbers.between(0, 120);
            let width = if numbers.between(0, 3) == 0 { 0 } else { numbers.between(20, 900) };
            (low, low + width, 0, numbers.between(0, 4) * 10, numbers.between(90, 3000))
        };
        columns.push(Column { low: Some(hundredths(low)), high: Some(hundredths(high)), cost: hundredths(cost) });
        active.push(hundredths(share));
        water.push(hundredths(moisture));
    }
    if degenerate && lines > surfactants + 3 {
        let (first, second) = (surfactants, surfactants + 1);
        columns[second] = columns[first].clone();
        water[second] = water[first].clone();
    }
    let hundred = || Some(Exact::hundred());
    let target = numbers.between(12, 30);
    let mut rows = vec![
        Row { coefficients: vec![Exact::ONE; lines], low: hundred(), high: hundred() },
        Row { coefficients: active.clone(), low: Some(Exact::from(target)), high: Some(Exact::from(target)) },
        Row { coefficients: water, low: None, high: Some(Exact::from(numbers.between(40, 85))) },
    ];
    for member in 2..surfactants {
        // The first in a fixed proportion to a later one, by active matter.
        let mut coefficients = vec![Exact::ZERO; lines];
        coefficients[0] = active[0].clone();
        coefficients[member] = -(&active[member] * Exact::ratio(numbers.between(2, 12), 2));
        rows.push(Row { coefficients, low: Some(Exact::ZERO), high: Some(Exact::ZERO) });
    }
    let classes = match size {
        Size::Mixed => numbers.between(1, 14).min(others as i64) as usize,
        Size::Large => usize::MAX,
    };
    for _ in 0..classes {
        // The ratio is one more row.
        if rows.len() >= 23 {
            break;
        }
        // A class of lines with a range around what they can be.
        let members: Vec<bool> =
            (0..lines).map(|line| line >= surfactants && line + 1 < lines && numbers.between(0, 2) == 0).collect();
        let coefficients: Vec<Exact> = members
            .iter()
            .map(|member| if *member { hundredths(numbers.between(20, 100)) } else { Exact::ZERO })
            .collect();
        let reached = |part: i64| -> Exact {
            let between = columns.iter().zip(&coefficients).map(|(column, coefficient)| {
                let (low, high) = (column.low.clone().unwrap_or_default(), column.high.clone().unwrap_or_default());
                coefficient * (&low + (high - &low) * hundredths(part))
            });
            between.sum()
        };
        let (low, high) = (numbers.between(5, 40), numbers.between(45, 90));
        let low = if degenerate && numbers.between(0, 1) == 0 { 0 } else { low };
        rows.push(Row { low: Some(reached(low)), high: Some(reached(high)), coefficients });
        if degenerate && rows.len() < 23 && numbers.between(0, 2) == 0 {
            rows.push(rows[rows.len() - 1].clone());
        }
    }
    let start = numbers.between(50, 300);
    let ratios: Vec<Exact> = (0..RATIOS as i64).map(|step| hundredths(start + 7 * step)).collect();
    let row = rows.len();
    let programs = ratios.iter().map(|ratio| {
        let mut coefficients = vec![Exact::ZERO; lines];
        coefficients[0] = active[0].clone();
        coefficients[1] = -(&active[1] * ratio);
        let ratio = Row { coefficients, low: Some(Exact::ZERO), high: Some(Exact::ZERO) };
        let rows = rows.iter().cloned().chain([ratio]).collect();
        Program::new(columns.clone(), rows).expect("every row has as many coefficients as there are columns")
    });
    Question { degenerate, programs: programs.collect(), row }
}

/// The case kept as data, invented, with its first ratio changed at every call.
pub(crate) fn cream_bar() -> Question {
    let text = include_str!("../cases/cream-bar.toml");
    let table: toml::Table = text.parse().expect("the case is TOML");
    let number = |value: &toml::Value| -> Exact {
        value.as_str().and_then(|text| text.parse().ok()).expect("numbers are written as text")
    };
    let numbers = |value: &toml::Value| -> Vec<Exact> {
        value.as_array().expect("a list of numbers").iter().map(number).collect()
    };
    let (costs, low, high) = (numbers(&table["costs"]), numbers(&table["low"]), numbers(&table["high"]));
    let columns: Vec<Column> = costs
        .into_iter()
        .zip(low)
        .zip(high)
        .map(|((cost, low), high)| Column { low: Some(low), high: Some(high), cost })
        .collect();
    let rows: Vec<Row> = table["row"]
        .as_array()
        .expect("a list of rows")
        .iter()
        .map(|row| Row {
            coefficients: numbers(&row["coefficients"]),
            low: row.get("low").map(number),
            high: row.get("high").map(number),
        })
        .collect();
    let ratios: Vec<Exact> = (0..RATIOS as i64).map(|step| hundredths(200 + 5 * step)).collect();
    let programs = ratios.iter().map(|ratio| {
        let mut rows = rows.clone();
        // The third row: first active = ratio * second active, which is 0.85 of the second column.
        rows[2].coefficients[1] = -("0.85".parse::<Exact>().expect("a number") * ratio);
        Program::new(columns.clone(), rows).expect("every row has as many coefficients as there are columns")
    });
    Question { degenerate: false, programs: programs.collect(), row: 2 }
}
