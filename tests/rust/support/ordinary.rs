//! Ordinary briefs with a seed: raw materials, roles and numbers as people write them.

use std::sync::Arc;

use rust_decimal::Decimal;
use tenside::brief::{Brief, BriefLine, Direction, Objective, Requirement, Role, SplitBasis};
use tenside::catalogue::{Catalogue, PriceList};
use tenside::measure::{Basis, Measure, Scope};
use tenside::number::{Exact, Ppm};
use tenside::substance::Attribute;

use super::Random;

const WASHING: &[&str] = &[
    "sci-powder",
    "slmi-powder",
    "scs-needles",
    "slsa-powder",
    "sodium-cocoyl-glutamate-powder",
    "sodium-cocoyl-glycinate-30",
    "sodium-lauroyl-sarcosinate-30",
    "capb-30",
    "capb-powder",
    "hydroxysultaine-40",
    "coco-glucoside-50",
    "decyl-glucoside-50",
];
const CARING: &[&str] = &[
    "cetyl-alcohol",
    "cetearyl-alcohol",
    "stearic-acid",
    "cocoa-butter",
    "btms-50",
    "glycerin-86",
    "panthenol",
    "shea-butter",
    "xanthan-gum",
];
const FILLING: &[&str] = &["kaolin", "corn-starch", "tapioca-starch", "rhassoul", "water"];
const LITTLE: &[&str] = &[
    "citric-acid-50",
    "lactic-acid-80",
    "sodium-benzoate",
    "benzyl-alcohol-dha-blend",
    "hydrolyzed-oat-protein-liquid",
    "d-panthenol",
];

/// The starter catalogue with prices in whole tenths.
pub(crate) struct Shelf {
    catalogue: Catalogue,
    prices: Arc<PriceList>,
}

impl Shelf {
    pub(crate) fn new() -> Self {
        let catalogue = Catalogue::starter();
        let mut random = Random::new(7);
        let known = [WASHING, CARING, FILLING, LITTLE].concat();
        let prices =
            known.iter().map(|id| (id.to_string(), Decimal::new(i64::try_from(random.between(5, 240)).unwrap(), 1)));
        let prices = Arc::new(PriceList::new("EUR", prices).unwrap());
        Shelf { catalogue, prices }
    }

    /// A brief of 3 to 10 lines. It may be answerable or not.
    pub(crate) fn brief(&self, random: &mut Random) -> Brief {
        let mut brief = Brief::new("Ordinary", &self.catalogue).unwrap().with_prices(&self.prices).unwrap();
        let qs = random.chance(80);
        for (role, id) in self.roles(random, qs) {
            let twice = brief.lines().iter().any(|line| line.name() == id);
            let name = if twice { format!("{id} on top") } else { id.to_string() };
            let material = Arc::clone(self.catalogue.material(id).unwrap());
            brief = brief.line(BriefLine::new(&name, material, role).unwrap()).unwrap();
        }
        for _ in 0..*random.pick(&[0, 0, 1, 1, 2]) {
            brief = with_split(random, brief);
        }
        for _ in 0..random.below(4) {
            let requirement = requirement(random, &brief);
            // The same one may be drawn twice, which is refused.
            brief = brief.clone().require(requirement).unwrap_or(brief);
        }
        if random.chance(8) {
            let stocked: Vec<String> = brief
                .lines()
                .iter()
                .filter(|_| random.chance(85))
                .map(|line| line.material().id().to_string())
                .collect();
            brief = brief.in_stock(&stocked.iter().map(String::as_str).collect::<Vec<_>>()).unwrap();
        }
        let objective = objective(random);
        brief.with_objective(objective)
    }

    fn roles(&self, random: &mut Random, qs: bool) -> Vec<(Role, &'static str)> {
        let mut lines = Vec::new();
        let washing = random.between(1, 4);
        for place in random.places(washing as usize, WASHING.len()) {
            let low = 5 * random.below(6);
            let role = match random.below(5) {
                0 => Role::Free,
                1 => Role::Fixed(tenths(50 * random.between(1, 8))),
                _ => range(10 * low, 10 * (low + 5 * random.between(1, 8))),
            };
            lines.push((role, WASHING[place]));
        }
        let caring = random.below(4);
        for place in random.places(caring as usize, CARING.len()) {
            let low = random.below(5);
            let role = if random.chance(30) {
                Role::Fixed(tenths(5 * random.between(1, 16)))
            } else {
                range(10 * low, 10 * (low + random.between(1, 8)))
            };
            lines.push((role, CARING[place]));
        }
        let little = random.below(3);
        for place in random.places(little as usize, LITTLE.len()) {
            lines.push((Role::Fixed(tenths(random.between(1, 15))), LITTLE[place]));
        }
        if !lines.is_empty() && random.chance(8) {
            // One raw material in two phases.
            let again = lines[random.below(lines.len() as u64) as usize].1;
            lines.push((range(0, 10 * random.between(2, 10)), again));
        }
        let filling = random.places(2, FILLING.len());
        if random.chance(40) {
            lines.push((range(10 * random.below(6), 10 * random.between(6, 40)), FILLING[filling[1]]));
        }
        lines.push((if qs { Role::Qs } else { range(0, 10 * random.between(20, 90)) }, FILLING[filling[0]]));
        lines
    }
}

/// So many tenths of a percent.
fn tenths(tenths: u64) -> Ppm {
    super::parts(tenths * 1000)
}

fn range(low: u64, high: u64) -> Role {
    Role::between(tenths(low), tenths(high)).unwrap()
}

/// From the first to the second in steps of a fraction, as text would say it.
fn number(random: &mut Random, low: i64, high: i64) -> Exact {
    let parts = *random.pick(&[1, 1, 2, 10]);
    let steps = random.below(u64::try_from((high - low) * parts + 1).unwrap());
    Exact::from(low) + Exact::ratio(i64::try_from(steps).unwrap(), parts)
}

fn with_split(random: &mut Random, brief: Brief) -> Brief {
    let basis = *random.pick(&[SplitBasis::Weight, SplitBasis::Active, SplitBasis::Active, SplitBasis::Mole]);
    let free = |name: &str| brief.splits().iter().all(|split| split.parts().iter().all(|(member, _)| member != name));
    let members: Vec<String> = brief
        .lines()
        .iter()
        .filter(|line| free(line.name()) && WASHING.contains(&line.material().id()))
        .map(|line| line.name().to_string())
        .collect();
    if members.len() < 2 {
        return brief;
    }
    let count = random.between(2, 3) as usize;
    let parts: Vec<(String, Exact)> = random
        .places(count, members.len())
        .into_iter()
        .map(|place| (members[place].clone(), number(random, 1, 15)))
        .collect();
    let parts: Vec<(&str, &Exact)> = parts.iter().map(|(name, part)| (name.as_str(), part)).collect();
    let name = if brief.splits().is_empty() { "wash" } else { "second wash" };
    brief.split(name, basis, parts.iter().cloned()).unwrap()
}

fn requirement(random: &mut Random, brief: &Brief) -> Requirement {
    let line = random.pick(brief.lines()).name().to_string();
    let one_sided = |random: &mut Random, measure: Measure, low: i64, high: i64| {
        let value = number(random, low, high);
        match random.below(6) {
            0 => Requirement::equal(measure, value).unwrap(),
            1 => {
                let width = number(random, 1, (high - low) / 4 + 1);
                Requirement::between(measure, value.clone(), value + width).unwrap()
            }
            2 => Requirement::at_least(measure, value).unwrap(),
            _ => Requirement::at_most(measure, value).unwrap(),
        }
    };
    let at_least_mostly = |random: &mut Random, measure: Measure, low: i64, high: i64| match random.below(3) {
        0 => one_sided(random, measure, low, high),
        _ => Requirement::at_least(measure, number(random, low, high)).unwrap(),
    };
    let requirement = match random.below(14) {
        0..=3 => at_least_mostly(random, Measure::active_matter(), 10, 60),
        4 | 5 => one_sided(random, Measure::water(), 2, 40),
        6 => one_sided(random, Measure::solids(), 40, 90),
        7 => at_least_mostly(random, Measure::anionic_active(), 10, 60),
        8 => Requirement::at_most(Measure::cost(), number(random, 2, 12)).unwrap(),
        9 => one_sided(random, Measure::as_supplied().contributed_by(Scope::lines([line.as_str()]).unwrap()), 1, 30),
        10 => Requirement::at_least(Measure::anionic_active().per(&Measure::active_matter()), number(random, 0, 1))
            .unwrap(),
        11 => one_sided(random, Measure::water().per(&Measure::active_matter()), 0, 2),
        12 => Requirement::at_most(Measure::charge_ratio(), number(random, 0, 1)).unwrap(),
        _ => Requirement::at_most(
            Measure::attribute(*random.pick(&[Attribute::Sulfate, Attribute::Ethoxylated])),
            number(random, 0, 20),
        )
        .unwrap(),
    };
    match random.below(20) {
        0 | 1 => requirement.on(Basis::finished(number(random, 1, 10)).unwrap()),
        2 | 3 if requirement.low() != requirement.high() => requirement.for_every_composition(),
        4 | 5 => {
            let name: &&str = random.pick(&["cleansing", "mildness", "as on the data sheet"]);
            requirement.named(name).unwrap()
        }
        _ => requirement,
    }
}

fn objective(random: &mut Random) -> Option<Objective> {
    let basis = if random.chance(15) { Basis::finished(number(random, 1, 8)).unwrap() } else { Basis::AsCharged };
    match random.below(6) {
        0 | 1 => Some(Objective::measure(Direction::Minimise, Measure::cost(), basis)),
        2 => Some(Objective::measure(Direction::Maximise, Measure::active_matter(), basis)),
        3 => Some(Objective::measure(Direction::Minimise, Measure::water(), Basis::AsCharged)),
        _ => None,
    }
}
