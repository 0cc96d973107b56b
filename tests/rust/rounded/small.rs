//! Small briefs whose every formula on a coarse grid can be listed, and the list itself.

use std::sync::Arc;

use tenside::brief::{Brief, Direction, Objective, Role};
use tenside::catalogue::PriceList;
use tenside::formula::{Formula, Line};
use tenside::measure::{Basis, Measure};
use tenside::number::{Exact, Ppm};

/// A generator of small whole numbers; the same numbers every time.
pub(crate) struct Numbers(u64);

impl Numbers {
    pub(crate) fn new(seed: u64) -> Self {
        Numbers(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    /// From 0 to `below` less one.
    pub(crate) fn below(&mut self, below: u64) -> i64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        i64::try_from((self.0 >> 11) % below).unwrap()
    }

    pub(crate) fn pick<'a, T>(&mut self, from: &'a [T]) -> &'a T {
        &from[usize::try_from(self.below(from.len() as u64)).unwrap()]
    }
}

pub(crate) const MATERIALS: [&str; 8] =
    ["sci-powder", "scs-needles", "capb-30", "coco-glucoside-50", "cetyl-alcohol", "kaolin", "stearic-acid", "water"];

/// Invented prices, EUR per kg.
pub(crate) fn prices() -> Arc<PriceList> {
    let prices = MATERIALS.into_iter().zip([8, 9, 2, 3, 4, 1, 3, 0]);
    Arc::new(PriceList::new("EUR", prices).unwrap())
}

/// What one line brings: the measure of a formula that is this line alone, as numerator and denominator.
pub(crate) fn brings(brief: &Brief, line: usize, measure: &Measure) -> Exact {
    let asked = &brief.lines()[line];
    let alone = Line::new(asked.name(), Arc::clone(asked.material()), Ppm::WHOLE).unwrap();
    let alone = Formula::new("Alone", vec![alone]).unwrap().with_prices(brief.prices().cloned());
    alone.measure(measure, &Basis::AsCharged).unwrap().value.and_then(|value| value.typical).unwrap_or_default()
}

/// The value of a measure over the mass of the formula: the mean of what the lines bring.
pub(crate) fn mean(brings: &[Exact], values: &[Exact]) -> Exact {
    brings.iter().zip(values).map(|(brings, value)| brings * value).sum::<Exact>() / Exact::hundred()
}

/// Every way to share out `left` parts over `lines` lines.
pub(crate) fn shares(lines: usize, left: i64) -> Vec<Vec<i64>> {
    if lines == 1 {
        return vec![vec![left]];
    }
    (0..=left)
        .flat_map(|first| shares(lines - 1, left - first).into_iter().map(move |rest| [vec![first], rest].concat()))
        .collect()
}

/// The cost of a formula, least for the best, calculated from measures of single lines.
pub(crate) enum Cost {
    Mean(Vec<Exact>, Exact),
    Ratio(Vec<Exact>, Vec<Exact>),
    Middle,
    Change(Vec<(String, Ppm)>),
}

impl Cost {
    pub(crate) fn new(brief: &Brief, ratio: Option<(&Measure, &Measure)>) -> Self {
        let all =
            |measure: &Measure| (0..brief.lines().len()).map(|line| brings(brief, line, measure)).collect::<Vec<_>>();
        match (brief.objective(), ratio) {
            (_, Some((above, below))) => Cost::Ratio(all(above), all(below)),
            (None, _) => Cost::Middle,
            (Some(Objective::Measure { direction, measure, .. }), _) => {
                Cost::Mean(all(measure), if *direction == Direction::Minimise { Exact::ONE } else { Exact::from(-1) })
            }
            (Some(Objective::LeastChange(base)), _) => Cost::Change(base.clone().into_iter().collect()),
            _ => panic!("no enumeration of this objective"),
        }
    }

    pub(crate) fn of(&self, brief: &Brief, values: &[Exact]) -> Exact {
        match self {
            Cost::Mean(brings, sign) => mean(brings, values) * sign,
            Cost::Ratio(above, below) => mean(above, values) / mean(below, values),
            Cost::Middle => brief
                .lines()
                .iter()
                .zip(values)
                .filter_map(|(line, value)| match line.role() {
                    Role::Between(low, high) if low < high => {
                        let (low, high) = (low.percent(), high.percent());
                        Some(((value - (&low + &high) / Exact::from(2)) / ((high - low) / Exact::from(2))).abs())
                    }
                    _ => None,
                })
                .max()
                .unwrap_or_default(),
            Cost::Change(base) => brief
                .lines()
                .iter()
                .zip(values)
                .map(|(line, value)| {
                    let before = base
                        .iter()
                        .find(|(name, _)| name == line.name())
                        .map_or(Exact::ZERO, |(_, percent)| percent.percent());
                    (value - before).abs()
                })
                .sum(),
        }
    }
}
