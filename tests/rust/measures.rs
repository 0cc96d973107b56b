//! The interval of every measure is what a linear program over the compositions finds, and no composition lies outside
//! it.

use std::sync::{Arc, LazyLock};

use proptest::prelude::*;
use tenside::catalogue::Catalogue;
use tenside::formula::Formula;
use tenside::material::{Composition, Constituent, Form, Material};
use tenside::measure::{Basis, Content, Measure};
use tenside::number::{Exact, Interval, Ppm};
use tenside::substance::{Charge, Class, MolarMass, Substance};
use tenside_lp::{Column, Outcome, Program, Row, solve, verify};

use crate::support::{
    Ends, Random, catalogue, drawn, exact, finished_share, formula, material, of_shares, parts, percent, substances,
};

/// What is weighed, told without the library's own contents.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Thing {
    Mass,
    Active,
    AnionicActive,
    Water,
    Salt,
    Solids,
    AnionicCharge,
    CationicCharge,
    ActiveMoles,
    Fatty,
}

const THINGS: [Thing; 10] = [
    Thing::Mass,
    Thing::Active,
    Thing::AnionicActive,
    Thing::Water,
    Thing::Salt,
    Thing::Solids,
    Thing::AnionicCharge,
    Thing::CationicCharge,
    Thing::ActiveMoles,
    Thing::Fatty,
];

impl Thing {
    fn measure(self) -> Measure {
        match self {
            Thing::Mass => Measure::as_supplied(),
            Thing::Active => Measure::active_matter(),
            Thing::AnionicActive => Measure::anionic_active(),
            Thing::Water => Measure::water(),
            Thing::Salt => Measure::class(Class::Salt),
            Thing::Solids => Measure::solids(),
            Thing::AnionicCharge => Measure::anionic_charge(),
            Thing::CationicCharge => Measure::cationic_charge(),
            Thing::ActiveMoles => Measure::active_moles(),
            Thing::Fatty => Measure::constituent("FATTY").unwrap(),
        }
    }

    fn is_share(self) -> bool {
        !matches!(self, Thing::AnionicCharge | Thing::CationicCharge | Thing::ActiveMoles)
    }

    /// What a unit of the substance brings, at the end asked for.
    fn weight(self, substance: &Substance, high: bool) -> Exact {
        let counted = |counts: bool| if counts { Exact::ONE } else { Exact::ZERO };
        let moles = || {
            let mass = substance.molar_mass().unwrap();
            Exact::from(1000) / Exact::from(if high { mass.low().unwrap() } else { mass.high().unwrap() })
        };
        match self {
            Thing::Mass => Exact::ONE,
            Thing::Active => counted(substance.counts_as_active()),
            Thing::AnionicActive => {
                counted(substance.counts_as_active() && substance.class() == Class::AnionicSurfactant)
            }
            Thing::Water => counted(substance.inci() == "DEW"),
            // Any nameless remainder can hold salt.
            Thing::Salt => counted(substance.inci() == "BRINE" || high && substance.is_unspecified()),
            Thing::Solids => counted(!matches!(substance.inci(), "DEW" | "SPIRIT")),
            Thing::AnionicCharge => match substance.inci() {
                "ANION A" | "ANION B" => moles(),
                _ => Exact::ZERO,
            },
            Thing::CationicCharge => match substance.inci() {
                "CATION" => moles(),
                "POLYCATION" => exact("1.5"),
                _ => Exact::ZERO,
            },
            Thing::ActiveMoles => {
                if substance.counts_as_active() {
                    moles()
                } else {
                    Exact::ZERO
                }
            }
            Thing::Fatty => counted(substance.inci() == "FATTY"),
        }
    }
}

/// The greatest or least `above / below` over the compositions, as one linear program: with `t` the unknown scale,
/// `y = t s` stands for the shares, the denominator is held at 1 (A. Charnes, W. W. Cooper, Programming with linear
/// fractional functionals, 1962; from memory). An end that is not stated is taken as 0 or 100 %.
fn extreme(
    formula: &Formula,
    above: impl Fn(&Substance) -> Exact,
    below: impl Fn(&Substance) -> Exact,
    greatest: bool,
) -> Option<Exact> {
    let sign = if greatest { Exact::from(-1) } else { Exact::ONE };
    let (mut columns, mut denominator, mut rows) =
        (vec![Column { low: Some(Exact::ZERO), ..Column::default() }], vec![Exact::ZERO], Vec::new());
    for line in formula.lines() {
        let mut whole = vec![(0, Exact::from(-1))];
        for row in line.material().composition().constituents() {
            let place = columns.len();
            let mass = line.percent().share();
            columns.push(Column { low: Some(Exact::ZERO), high: None, cost: &sign * above(row.substance()) * &mass });
            denominator.push(below(row.substance()) * mass);
            whole.push((place, Exact::ONE));
            let (low, high) = (row.low().map_or(Exact::ZERO, Ppm::share), row.high().map_or(Exact::ONE, Ppm::share));
            rows.push((vec![(place, Exact::ONE), (0, -low)], Some(Exact::ZERO), None));
            rows.push((vec![(place, Exact::ONE), (0, -high)], None, Some(Exact::ZERO)));
        }
        rows.push((whole, Some(Exact::ZERO), Some(Exact::ZERO)));
    }
    rows.push((denominator.into_iter().enumerate().collect(), Some(Exact::ONE), Some(Exact::ONE)));
    let wide = rows.into_iter().map(|(entries, low, high)| {
        let mut coefficients = vec![Exact::ZERO; columns.len()];
        for (place, entry) in entries {
            coefficients[place] = entry;
        }
        Row { coefficients, low, high }
    });
    let program = Program::new(columns.clone(), wide.collect()).unwrap();
    let outcome = solve(&program);
    verify(&program, &outcome).unwrap();
    match outcome {
        Outcome::Optimal(optimum) => Some(sign * optimum.objective),
        Outcome::Infeasible(_) | Outcome::Unbounded(_) => None,
    }
}

fn extremes(formula: &Formula, above: Thing, below: Thing) -> [Option<Exact>; 2] {
    let factor = if above.is_share() && below == Thing::Mass { Exact::hundred() } else { Exact::ONE };
    [false, true].map(|greatest| {
        let found = extreme(formula, |row| above.weight(row, greatest), |row| below.weight(row, !greatest), greatest);
        found.map(|value| value * &factor)
    })
}

fn value(formula: &Formula, measure: &Measure, basis: &Basis) -> Option<Interval> {
    static KNOWN: LazyLock<Catalogue> = LazyLock::new(catalogue);
    formula.measure_with(measure, basis, &KNOWN).unwrap().value
}

/// Two to four invented materials at random shares.
fn random_formula(random: &mut Random, ends: Ends) -> Formula {
    let count = usize::try_from(random.between(1, 4)).unwrap();
    let materials: Vec<Arc<Material>> =
        (0..count).map(|place| Arc::new(material(random, &format!("invented-{place}"), ends))).collect();
    let shares = random.shares(count, 1_000_000, 1);
    formula(&materials, &shares)
}

/// The same lines with compositions drawn inside the ranges.
fn redrawn(random: &mut Random, whole: &Formula) -> Formula {
    let materials: Vec<Arc<Material>> = whole
        .lines()
        .iter()
        .map(|line| Arc::new(of_shares(line.material(), &drawn(random, line.material()))))
        .collect();
    let shares: Vec<u64> = whole.lines().iter().map(|line| u64::from(line.percent().parts())).collect();
    formula(&materials, &shares)
}

fn inside(interval: &Interval, value: &Exact) -> bool {
    interval.low.as_ref().is_none_or(|low| low <= value) && interval.high.as_ref().is_none_or(|high| value <= high)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(120))]

    #[test]
    fn the_ends_of_a_share_are_the_optima_of_a_linear_program(seed: u64, thing in 0..THINGS.len()) {
        let drawn = random_formula(&mut Random::new(seed), Ends::All);
        let found = value(&drawn, &THINGS[thing].measure(), &Basis::AsCharged).unwrap();
        let [low, high] = extremes(&drawn, THINGS[thing], Thing::Mass);
        prop_assert_eq!((found.low, found.high), (low, high), "{:?}", THINGS[thing]);
    }

    #[test]
    fn the_ends_of_a_ratio_are_the_optima_of_a_linear_program(seed: u64, above in 0..THINGS.len(), below in 1..THINGS.len()) {
        let drawn = random_formula(&mut Random::new(seed), Ends::All);
        let (above, below) = (THINGS[above], THINGS[below]);
        let never_nothing = extreme(&drawn, |row| below.weight(row, false), |_| Exact::ONE, false).unwrap().is_positive();
        let found = value(&drawn, &above.measure().per(&below.measure()), &Basis::AsCharged);
        if never_nothing {
            let found = found.unwrap();
            let [low, high] = extremes(&drawn, above, below);
            prop_assert_eq!((found.low, found.high), (low, high), "{:?} per {:?}", above, below);
        } else if let Some(found) = found {
            // Where some composition leaves nothing to divide by, an end is given only if it is one.
            let [low, high] = extremes(&drawn, above, below);
            prop_assert!(found.low.is_none() || found.low == low, "{:?} per {:?}", above, below);
            prop_assert!(found.high.is_none() || found.high == high, "{:?} per {:?}", above, below);
        }
    }

    #[test]
    fn the_finished_basis_is_the_mass_balance_of_drying(seed: u64, thing in 0..THINGS.len(), moisture in 0i64..60) {
        let drawn = random_formula(&mut Random::new(seed), Ends::All);
        let (thing, moisture) = (THINGS[thing], Exact::ratio(moisture, 10));
        let measured = value(&drawn, &thing.measure(), &Basis::finished(moisture.clone()).unwrap());
        let water = value(&drawn, &Measure::water(), &Basis::AsCharged).unwrap();
        if water.typical.as_ref().unwrap() < &moisture || water.high == Some(Exact::hundred()) {
            prop_assert!(water.typical.unwrap() >= moisture || measured.is_none(), "water was taken up");
            return Ok(());
        }
        let found = measured.unwrap();
        let expected = match thing {
            Thing::Water => moisture.clone(),
            Thing::Mass => Exact::hundred(),
            _ if thing.is_share() => finished_share(&drawn, &moisture, |row| thing.weight(row, false).is_positive()),
            _ => return Ok(()),
        };
        prop_assert_eq!(found.typical.as_ref(), Some(&expected), "{:?} at {} % moisture", thing, moisture);
        if !matches!(thing, Thing::Water | Thing::Mass) {
            // A share of what stays over the dry mass, which is `1 - moisture` of the finished one.
            let dry = |row: &Substance| if row.inci() == "DEW" { Exact::ZERO } else { Exact::hundred() / (Exact::hundred() - &moisture) };
            let ends = [false, true].map(|greatest| extreme(&drawn, |row| thing.weight(row, greatest), dry, greatest).map(|end| end * Exact::hundred()));
            prop_assert_eq!([found.low, found.high], ends, "{:?} at {} % moisture", thing, moisture);
        }
    }

    #[test]
    fn no_composition_inside_the_ranges_lies_outside_the_interval(seed: u64, above in 0..THINGS.len(), below in 0..THINGS.len(), moisture in 0i64..5) {
        let mut random = Random::new(seed);
        let whole = random_formula(&mut random, Ends::Some);
        let measure = THINGS[above].measure().per(&THINGS[below].measure());
        let basis = if moisture == 0 { Basis::AsCharged } else { Basis::finished(Exact::from(moisture)).unwrap() };
        let Some(interval) = value(&whole, &measure, &basis) else { return Ok(()) };
        prop_assert!(inside(&interval, interval.typical.as_ref().unwrap()));
        for _ in 0..200 {
            if let Some(point) = value(&redrawn(&mut random, &whole), &measure, &basis) {
                prop_assert!(inside(&interval, point.typical.as_ref().unwrap()), "{} outside {:?}", point, interval);
            }
        }
    }

    #[test]
    fn an_end_that_is_given_holds_however_wide_the_unstated_ends_are(seed: u64, thing in 0..THINGS.len()) {
        let drawn = random_formula(&mut Random::new(seed), Ends::Some);
        let found = value(&drawn, &THINGS[thing].measure(), &Basis::AsCharged).unwrap();
        let [low, high] = extremes(&drawn, THINGS[thing], Thing::Mass);
        prop_assert!(found.low.is_none() || found.low == low, "{:?}: {:?}", THINGS[thing], found);
        prop_assert!(found.high.is_none() || found.high == high, "{:?}: {:?}", THINGS[thing], found);
    }

    #[test]
    fn more_active_in_a_material_is_more_in_the_formula(seed: u64, more in 1u64..200_000) {
        let mut random = Random::new(seed);
        let whole = random_formula(&mut random, Ends::All);
        let shares: Vec<u64> = whole.lines().iter().map(|line| u64::from(line.percent().parts())).collect();
        for (place, line) in whole.lines().iter().enumerate().filter(|(_, line)| !line.percent().is_zero()) {
            let rows = line.material().composition().constituents();
            let mut inner: Vec<u64> = rows.iter().map(|row| u64::from(row.share().unwrap().parts())).collect();
            let active = rows.iter().position(|row| row.substance().counts_as_active());
            let other = rows.iter().zip(&inner).position(|(row, share)| !row.substance().counts_as_active() && *share >= more);
            let (Some(active), Some(other)) = (active, other) else { continue };
            inner[active] += more;
            inner[other] -= more;
            let mut materials: Vec<Arc<Material>> = whole.lines().iter().map(|line| Arc::clone(line.material())).collect();
            materials[place] = Arc::new(of_shares(&materials[place], &inner));
            let before = value(&whole, &Measure::active_matter(), &Basis::AsCharged).unwrap();
            let after = value(&formula(&materials, &shares), &Measure::active_matter(), &Basis::AsCharged).unwrap();
            prop_assert_eq!(after.typical.unwrap() - before.typical.unwrap(), Exact::ratio(i64::try_from(more).unwrap(), 1_000_000) * line.percent().percent());
        }
    }

    #[test]
    fn the_constituents_sum_to_a_hundred(seed: u64) {
        let mut random = Random::new(seed);
        let whole = random_formula(&mut random, Ends::All);
        let expanded = whole.expand();
        prop_assert_eq!(expanded.iter().map(|row| row.percent.typical.clone().unwrap()).sum::<Exact>(), Exact::hundred());
        let other = redrawn(&mut random, &whole).expand();
        for row in &expanded {
            let drawn = other.iter().find(|other| other.substance == row.substance).unwrap();
            prop_assert!(inside(&row.percent, drawn.percent.typical.as_ref().unwrap()));
        }
    }
}

fn two(
    first: (&str, Option<&str>, Option<&str>),
    second: (&str, Option<&str>, Option<&str>),
    substances: [Arc<Substance>; 2],
) -> Formula {
    let row = |(share, low, high): (&str, Option<&str>, Option<&str>), substance| {
        Constituent::typical(substance, percent(share)).with_range(low.map(percent), high.map(percent)).unwrap()
    };
    let [one, other] = substances;
    let composition = Composition::stated(vec![row(first, one), row(second, other)]).unwrap();
    formula(&[Arc::new(Material::new("two", "Two", Form::Powder, composition).unwrap())], &[1_000_000])
}

#[test]
fn ends_that_are_not_stated_give_none() {
    let pair = || [Arc::clone(&substances()[0]), Arc::clone(&substances()[6])];
    let active =
        |first, second| value(&two(first, second, pair()), &Measure::active_matter(), &Basis::AsCharged).unwrap();
    let open = active(("60", None, None), ("40", None, None));
    assert_eq!((open.low, open.high), (None, None));
    // The high end of the one is the low end of the other.
    let half = active(("60", None, Some("65")), ("40", None, None));
    assert_eq!((half.low, half.high), (None, Some(Exact::from(65))));
    let other = active(("60", None, None), ("40", None, Some("45")));
    assert_eq!((other.low, other.high), (Some(Exact::from(55)), None));
}

#[test]
fn a_molar_mass_without_range_leaves_the_ends_open() {
    let surfactant = |name: &str, mass: MolarMass| {
        let substance = Substance::new(name, Class::AnionicSurfactant).unwrap().counting_as_active(true);
        Arc::new(substance.with_charge(Charge::PerMole((-1).into())).with_molar_mass(mass))
    };
    let chains = surfactant("CHAINS", MolarMass::of_chains(500, None, "not known").unwrap());
    let defined = surfactant("DEFINED", MolarMass::defined(250).unwrap());
    // At typical molar masses all of the second has most charge; but the chains may be short and then all of the first
    // has more.
    let mixed = two(
        ("25", Some("0"), Some("50")),
        ("75", Some("50"), Some("100")),
        [Arc::clone(&chains), Arc::clone(&defined)],
    );
    let charge = value(&mixed, &Measure::anionic_charge(), &Basis::AsCharged).unwrap();
    assert_eq!((charge.low, charge.high), (None, None));
    // Where there can be none of it, its molar mass does not matter.
    let none = two(("0", Some("0"), Some("0")), ("100", Some("100"), Some("100")), [chains, defined]);
    let charge = value(&none, &Measure::anionic_charge(), &Basis::AsCharged).unwrap();
    assert_eq!((charge.low, charge.high), (Some(Exact::from(4)), Some(Exact::from(4))));
}

#[test]
fn a_negative_denominator_gives_no_certain_end() {
    let scores = tenside::measure::ScoreTable::new("slip", [("two", -2)]).unwrap();
    let whole = two(
        ("60", Some("50"), Some("60")),
        ("40", None, None),
        [Arc::clone(&substances()[0]), Arc::clone(&substances()[6])],
    );
    let measure = Measure::active_matter().per(&Measure::score(scores));
    let found = value(&whole, &measure, &Basis::AsCharged).unwrap();
    assert_eq!(found.typical, Some(exact("-0.3")));
    for end in [found.low.map(|low| low <= exact("-0.3")), found.high.map(|high| high >= exact("-0.25"))] {
        assert!(end.unwrap_or(true), "a composition with 50 % lies at -0.25");
    }
}

#[test]
fn contained_substances_count_with_their_range() {
    let catalogue = tenside::catalogue::Catalogue::starter();
    let material = |id: &str| catalogue.material(id).unwrap().clone();
    let scented = formula(&[material("lavender-oil"), material("kaolin")], &[10_000, 990_000]);
    let found = value(&scented, &Measure::substance("LINALOOL").unwrap(), &Basis::AsCharged).unwrap();
    // ISO 3515: 20 to 45 % of the oil, here at 1 %.
    assert_eq!((found.low, found.typical, found.high), (Some(exact("0.2")), Some(exact("0.325")), Some(exact("0.45"))));
    let nothing = Measure::of(Content::Unspecified);
    assert!(value(&scented, &nothing, &Basis::AsCharged).is_some());
}

#[test]
fn a_measure_of_parts_in_a_premix_is_that_of_the_parts() {
    let mut random = Random::new(7);
    for _ in 0..40 {
        let whole = random_formula(&mut random, Ends::All);
        let premix = Arc::new(whole.to_material("premix", Form::Powder).unwrap());
        let chalk = Arc::new(of_shares(
            &material(&mut Random::new(3), "filler", Ends::All),
            &drawn(&mut Random::new(3), &material(&mut Random::new(3), "filler", Ends::All)),
        ));
        let share = random.between(1, 999_999);
        let direct: Vec<(Arc<Material>, Exact)> = whole
            .lines()
            .iter()
            .map(|line| (Arc::clone(line.material()), line.percent().share() * parts(share).share()))
            .chain([(Arc::clone(&chalk), parts(1_000_000 - share).share())])
            .collect();
        let through = formula(&[premix, chalk], &[share, 1_000_000 - share]);
        for thing in THINGS {
            let found = value(&through, &thing.measure(), &Basis::AsCharged).unwrap();
            let alone = |material: &Arc<Material>| {
                value(&formula(&[Arc::clone(material)], &[1_000_000]), &thing.measure(), &Basis::AsCharged).unwrap()
            };
            let typical: Exact = direct.iter().map(|(material, share)| alone(material).typical.unwrap() * share).sum();
            let high: Exact = direct.iter().map(|(material, share)| alone(material).high.unwrap() * share).sum();
            assert_eq!((found.typical, found.high), (Some(typical), Some(high)), "{thing:?}");
        }
    }
}

#[test]
fn soap_counts_as_a_surfactant_in_a_measure_of_its_own_and_the_others_say_that_they_leave_it_out() {
    let starter = tenside::catalogue::Catalogue::starter();
    // Palm noodles hold 67 + 17 % of soap, isethionate powder 84 % of active matter, magnesium stearate neither.
    let shares = [("soap-noodles-palm", 500_000), ("sci-powder", 400_000), ("magnesium-stearate", 100_000)];
    let materials = shares.map(|(id, _)| Arc::clone(starter.material(id).unwrap()));
    let bar = formula(&materials, &shares.map(|(_, share)| share));
    let read = |measure: &Measure| bar.measure(measure, &Basis::AsCharged).unwrap();
    let typical = |measure: &Measure| read(measure).value.unwrap().typical.unwrap();
    assert_eq!(typical(&Measure::active_matter()), exact("33.6"));
    assert_eq!(typical(&Measure::soap()), exact("42"));
    assert_eq!(typical(&Measure::active_with_soap()), exact("75.6"));
    assert_eq!(Measure::active_with_soap(), (Measure::active_matter() + Measure::soap()).unwrap());
    let says_so = |measure: &Measure| {
        read(measure).notes.iter().any(|note| note.contains("soap is not counted") && note.contains("SODIUM PALMATE"))
    };
    for (measure, says) in [
        (Measure::active_matter(), true),
        (Measure::anionic_active(), true),
        (Measure::active_moles(), true),
        (Measure::amphoteric_active(), false),
        (Measure::active_with_soap(), false),
        (Measure::soap(), false),
    ] {
        assert_eq!(says_so(&measure), says, "{}", measure.name());
    }
}
