//! Random briefs, the brief that is left when members of a conflict are dropped, and what a formula breaks of a brief.

use std::sync::Arc;

use rust_decimal::Decimal;
use tenside::brief::{Brief, BriefLine, Direction, Objective, Requirement, Role, SplitBasis};
use tenside::catalogue::{Catalogue, PriceList};
use tenside::formula::Formula;
use tenside::material::Material;
use tenside::measure::{Basis, Content, Measure, Scope};
use tenside::number::{Exact, Ppm};
use tenside::substance::{Class, Volatility};

use super::{Ends, Random, material, parts};

/// Raw materials to draw from, with a price for each.
pub(crate) struct Pool {
    pub(crate) catalogue: Catalogue,
    pub(crate) materials: Vec<Arc<Material>>,
    pub(crate) prices: Arc<PriceList>,
}

impl Pool {
    /// The starter catalogue.
    pub(crate) fn starter() -> Self {
        let catalogue = Catalogue::starter();
        let materials = catalogue.materials().cloned().collect();
        Pool::priced(catalogue, materials)
    }

    /// So many invented materials.
    pub(crate) fn invented(seed: u64, count: usize) -> Self {
        let mut random = Random::new(seed);
        let materials: Vec<Arc<Material>> =
            (0..count).map(|place| Arc::new(material(&mut random, &format!("invented-{place}"), Ends::All))).collect();
        let catalogue = materials
            .iter()
            .fold(Catalogue::empty(), |known, material| known.with_material(Arc::clone(material)).unwrap());
        Pool::priced(catalogue, materials)
    }

    fn priced(catalogue: Catalogue, materials: Vec<Arc<Material>>) -> Self {
        let mut random = Random::new(1);
        let prices = materials.iter().map(|material| {
            (material.id().to_string(), Decimal::new(i64::try_from(random.between(0, 4000)).unwrap(), 2))
        });
        let prices = Arc::new(PriceList::new("EUR", prices).unwrap());
        Pool { catalogue, materials, prices }
    }
}

/// A brief of 3 to 12 lines with whatever else the draw brings. It may be feasible, infeasible or ask for what is not
/// known.
pub(crate) fn random_brief(random: &mut Random, pool: &Pool) -> Brief {
    let count = usize::try_from(random.between(3, 12)).unwrap();
    let mut brief = Brief::new("Drawn", &pool.catalogue).unwrap().with_prices(&pool.prices).unwrap();
    let qs = random.chance(75);
    for (place, chosen) in random.places(count, pool.materials.len()).into_iter().enumerate() {
        let role = if place == 0 && qs { Role::Qs } else { random_role(random, count) };
        brief = brief
            .line(BriefLine::new(&format!("line {place}"), Arc::clone(&pool.materials[chosen]), role).unwrap())
            .unwrap();
    }
    if random.chance(50) {
        brief = with_split(random, brief);
    }
    for _ in 0..random.below(4) {
        let requirement = random_requirement(random, &brief);
        // The same one may be drawn twice, which is refused.
        brief = brief.clone().require(requirement).unwrap_or(brief);
    }
    let objective = random_objective(random, &brief);
    brief.with_objective(objective)
}

pub(crate) fn random_role(random: &mut Random, count: usize) -> Role {
    let most = 1_600_000 / count as u64;
    match random.below(10) {
        0 => Role::Fixed(parts(random.between(0, most / 20) * 10)),
        1 => Role::Fixed(parts(random.between(0, most / 2))),
        2 | 3 => Role::Free,
        4 => {
            let low = random.between(0, most / 2);
            Role::between(parts(low), parts(low + random.below(3))).unwrap()
        }
        _ => {
            let low = random.between(0, most / 2);
            Role::between(parts(low), parts(low + random.between(0, most))).unwrap()
        }
    }
}

pub(crate) fn with_split(random: &mut Random, brief: Brief) -> Brief {
    let active: Vec<String> = brief
        .lines()
        .iter()
        .filter(|line| line.material().active().is_ok_and(|active| !active.percent().is_zero()))
        .map(|line| line.name().to_string())
        .collect();
    if active.len() < 2 {
        return brief;
    }
    let members = usize::try_from(random.between(2, 3)).unwrap();
    let chosen = random.places(members, active.len());
    let parts: Vec<(&str, Exact)> = chosen
        .iter()
        .map(|place| {
            (
                active[*place].as_str(),
                Exact::ratio(i64::try_from(random.between(1, 40)).unwrap(), *random.pick(&[1, 2, 7])),
            )
        })
        .collect();
    let parts: Vec<(&str, &Exact)> = parts.iter().map(|(name, part)| (*name, part)).collect();
    let basis = *random.pick(&[SplitBasis::Weight, SplitBasis::Active, SplitBasis::Mole]);
    brief.clone().split("wash", basis, parts.iter().cloned()).unwrap_or(brief)
}

fn percents(random: &mut Random, most: u64) -> Exact {
    Exact::ratio(i64::try_from(random.between(0, most * 10)).unwrap(), *random.pick(&[10, 10, 7]))
}

pub(crate) fn random_requirement(random: &mut Random, brief: &Brief) -> Requirement {
    let finished = Basis::finished(Exact::from(3)).unwrap();
    match random.below(12) {
        0 | 1 => Requirement::at_least(Measure::active_matter(), percents(random, 60)).unwrap(),
        2 => Requirement::equal(Measure::active_matter(), percents(random, 60)).unwrap(),
        3 => Requirement::at_most(Measure::water(), percents(random, 30)).unwrap(),
        4 => Requirement::at_most(Measure::cost(), percents(random, 20)).unwrap(),
        5 => {
            let low = percents(random, 20);
            let high = &low + percents(random, 20);
            Requirement::between(Measure::anionic_active(), low, high).unwrap()
        }
        6 => Requirement::at_most(Measure::charge_ratio(), percents(random, 1)).unwrap(),
        7 => Requirement::at_least(
            Measure::of(Content::Active(Some(Class::AnionicSurfactant))).per(&Measure::active_matter()),
            percents(random, 1),
        )
        .unwrap(),
        8 => Requirement::at_least(Measure::active_matter(), percents(random, 60)).unwrap().on(finished),
        9 => Requirement::at_most(Measure::class(Class::Salt), percents(random, 5)).unwrap().for_every_composition(),
        10 => Requirement::at_most(Measure::water(), percents(random, 30)).unwrap().for_every_composition(),
        _ => {
            let line = random.pick(brief.lines());
            let scope = Scope::lines([line.name()]).unwrap();
            Requirement::at_most(Measure::active_matter().contributed_by(scope), percents(random, 20)).unwrap()
        }
    }
}

pub(crate) fn random_objective(random: &mut Random, brief: &Brief) -> Option<Objective> {
    let direction = *random.pick(&[Direction::Minimise, Direction::Maximise]);
    let measured = |measure: Measure, basis: Basis| Some(Objective::measure(direction, measure, basis));
    match random.below(8) {
        0 | 1 => None,
        2 => measured(Measure::cost(), Basis::AsCharged),
        3 => measured(Measure::active_matter(), Basis::AsCharged),
        4 => measured(Measure::cost().per(&Measure::active_matter()), Basis::AsCharged),
        5 => measured(Measure::active_matter(), Basis::finished(Exact::from(3)).unwrap()),
        // Nothing brings it, so every formula is best and the fixed order decides.
        6 => measured(Measure::constituent("ETHYL BENZOATE").unwrap(), Basis::AsCharged),
        _ => {
            let shares = random.shares(brief.lines().len(), 1_000_000, 1000);
            Some(Objective::LeastChange(
                brief.lines().iter().zip(shares).map(|(line, share)| (line.name().to_string(), parts(share))).collect(),
            ))
        }
    }
}

/// The brief without the members of a conflict: their ranges become free, their splits and requirements are left out.
pub(crate) fn loosened(brief: &Brief, members: &[String]) -> Brief {
    let mut loose = Brief::new(brief.title(), brief.catalogue()).unwrap();
    if let Some(prices) = brief.prices() {
        loose = loose.with_prices(prices).unwrap();
    }
    for line in brief.lines() {
        let named = members.contains(&format!("line {} {}", line.name(), line.role().words()));
        let role = if named { Role::Free } else { line.role().clone() };
        loose = loose
            .line(
                BriefLine::new(line.name(), Arc::clone(line.material()), role).unwrap().in_phase(line.phase()).unwrap(),
            )
            .unwrap();
    }
    for split in brief
        .splits()
        .iter()
        .filter(|split| !members.iter().any(|words| words.starts_with(&format!("split {}:", split.name()))))
    {
        let parts: Vec<(&str, &Exact)> = split.parts().iter().map(|(line, part)| (line.as_str(), part)).collect();
        loose = loose.split(split.name(), split.basis(), parts.iter().cloned()).unwrap();
    }
    // The residual water of a finished basis is asked for by whatever rests on that basis.
    let dry = members.iter().any(|words| words.starts_with("water as charged at least"));
    // One with two ends says which of them is meant.
    let is_member = |name: &str| {
        members.iter().any(|words| {
            [name, &format!("low end of {name}"), &format!("high end of {name}")].contains(&words.as_str())
        })
    };
    for requirement in brief.requirements().iter().filter(|requirement| !is_member(&requirement.name())) {
        if !(dry && *requirement.basis() != Basis::AsCharged) {
            loose = loose.require(requirement.clone()).unwrap();
        }
    }
    let rests_on_drying = matches!(brief.objective(), Some(Objective::Measure { basis: Basis::Finished(_), .. }));
    loose.with_objective(brief.objective().filter(|_| !(dry && rests_on_drying)).cloned())
}

/// What a formula breaks of the ranges and one-sided requirements of a brief, read off the formula alone.
pub(crate) fn broken(brief: &Brief, formula: &Formula) -> Vec<String> {
    let mut broken = Vec::new();
    for line in brief.lines() {
        let (low, high) = line.role().range();
        let found = formula.line(line.name()).unwrap();
        if found.percent() < low || found.percent() > high || found.material() != line.material() {
            broken.push(format!("{} at {}", line.name(), found.percent()));
        }
    }
    for requirement in brief
        .requirements()
        .iter()
        .filter(|requirement| requirement.low() != requirement.high() || requirement.is_for_every_composition())
    {
        if let Some(reason) = breaks(requirement, formula) {
            broken.push(format!("{}: {reason}", requirement.name()));
        }
    }
    broken
}

fn breaks(requirement: &Requirement, formula: &Formula) -> Option<String> {
    let measured = formula.measure(requirement.measure(), requirement.basis()).unwrap();
    let Some(value) = measured.value else {
        // Cross-multiplied, a ratio over nothing asks that there be nothing above either.
        let above =
            formula.measure(&requirement.measure().clone().per(&Measure::as_supplied()), requirement.basis()).unwrap();
        let nothing = above.value.as_ref().is_some_and(|value| value.typical.as_ref().is_some_and(Exact::is_zero));
        let fine = measured.why_not.iter().all(|fault| fault.message.contains("denominator is 0"))
            && (nothing || requirement.high().is_none());
        return (!fine).then(|| format!("{:?}", measured.why_not));
    };
    let (least, most) = if requirement.is_for_every_composition() {
        (value.low, value.high)
    } else {
        (value.typical.clone(), value.typical)
    };
    let low_fails = requirement.low().is_some_and(|low| least.as_ref().is_none_or(|least| least < low));
    let high_fails = requirement.high().is_some_and(|high| most.as_ref().is_none_or(|most| most > high));
    (low_fails || high_fails).then(|| format!("{least:?} to {most:?}"))
}

/// The share of a formula that is water, and what drying to `moisture` percent makes of a share of something that
/// stays; calculated from the compositions alone.
pub(crate) fn finished_share(
    formula: &Formula,
    moisture: &Exact,
    stays: impl Fn(&tenside::substance::Substance) -> bool,
) -> Exact {
    let (mut kept, mut water) = (Exact::ZERO, Exact::ZERO);
    for line in formula.lines() {
        for (leaf, share) in line.material().leaves() {
            for row in leaf.composition().constituents() {
                let mass = row.share().unwrap_or(Ppm::ZERO).share() * &share * line.percent().percent();
                if row.substance().volatility() == Volatility::Water || row.substance().is_water() {
                    water += &mass;
                } else if stays(row.substance()) {
                    kept += &mass;
                }
            }
        }
    }
    // Dry mass is (1 - moisture) of the finished one.
    let finished = (Exact::hundred() - water) * Exact::hundred() / (Exact::hundred() - moisture);
    kept * Exact::hundred() / finished
}
