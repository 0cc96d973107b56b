//! The pH of solutions against standards, another program's results and the properties that any mixture has.

use std::collections::BTreeMap;
use std::sync::Arc;

use proptest::prelude::*;
use serde::Deserialize;
use tenside::ph::{Acid, CaveatKind, Ion, Solution, Water};

use crate::published::read;
use crate::support::Random;

type Totals = BTreeMap<String, f64>;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Buffer {
    name: String,
    acids: Totals,
    ions: Totals,
    ph: f64,
    #[serde(rename = "source")]
    _source: String,
    #[serde(rename = "mark")]
    _mark: String,
}

#[derive(Deserialize)]
struct Standards {
    buffer: Vec<Buffer>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct AtTemperature {
    name: String,
    temperature: f64,
    ph: f64,
}

#[derive(Deserialize)]
struct AtTemperatures {
    reading: Vec<AtTemperature>,
}

fn standards() -> Vec<Buffer> {
    read::<Standards>(include_str!("../data/ph_standards.toml")).buffer
}

fn calculated(buffer: &Buffer, temperature: f64) -> f64 {
    let solution = buffer
        .acids
        .iter()
        .fold(Solution::at(temperature).unwrap(), |solution, (name, total)| solution.acid(name, *total).unwrap());
    buffer.ions.iter().fold(solution, |solution, (name, total)| solution.ion(name, *total).unwrap()).ph().unwrap()
}

#[test]
fn the_seven_primary_buffers() {
    let buffers = standards();
    assert_eq!(buffers.len(), 7);
    let errors: Vec<f64> = buffers.iter().map(|buffer| calculated(buffer, 25.0) - buffer.ph).collect();
    let largest = errors.iter().fold(0.0f64, |largest, error| largest.max(error.abs()));
    for (buffer, error) in buffers.iter().zip(&errors) {
        assert!(error.abs() <= 0.015, "{}: {error:+.4}", buffer.name);
    }
    println!("largest error against the primary buffers at 25 °C: {largest:.4}");
}

/// The constants follow the temperature as the buffers do: what is off at 25 °C stays off by as much.
#[test]
fn the_primary_buffers_from_15_to_40_degrees() {
    let (buffers, file) = (standards(), read::<AtTemperatures>(include_str!("../data/ph_standards_temperature.toml")));
    let mut largest = 0.0f64;
    for reading in &file.reading {
        let buffer = buffers.iter().find(|buffer| buffer.name == reading.name).unwrap();
        let error = calculated(buffer, reading.temperature) - reading.ph;
        assert!(error.abs() <= 0.03, "{} at {} °C: {error:+.4}", reading.name, reading.temperature);
        largest = largest.max(error.abs());
    }
    assert!(file.reading.len() >= 30);
    println!("largest error against the primary buffers from 15 to 40 °C: {largest:.4}");
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct StatedAcid {
    key: String,
    name: String,
    charge: i32,
    pka: Vec<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Mixture {
    name: String,
    totals: Totals,
    ph: f64,
    ionic_strength: f64,
    #[serde(default)]
    protonated: Totals,
}

#[derive(Deserialize)]
struct Mixtures {
    pkw: String,
    acid: Vec<StatedAcid>,
    mixture: Vec<Mixture>,
}

#[test]
fn mixtures_with_the_constants_of_their_file() {
    let file: Mixtures = read(include_str!("../data/ph_mixtures.toml"));
    assert!(file.mixture.len() >= 20);
    let acids: BTreeMap<&str, Arc<Acid>> = file
        .acid
        .iter()
        .map(|acid| (acid.key.as_str(), Arc::new(Acid::new(&acid.name, acid.charge, &acid.pka).unwrap())))
        .collect();
    let water = Water::at(25.0).unwrap().with_pkw(file.pkw.parse().unwrap()).unwrap();
    let mut largest = 0.0f64;
    for mixture in &file.mixture {
        let solution = mixture.totals.iter().fold(Solution::in_water(water), |solution, (key, total)| {
            match acids.get(key.as_str()) {
                Some(acid) => solution.with_acid(acid, *total).unwrap(),
                None => solution.ion(key, *total).unwrap(),
            }
        });
        let state = solution.solve().unwrap();
        let error = state.ph() - mixture.ph;
        assert!(error.abs() <= 0.003, "{}: {error:+.5}", mixture.name);
        largest = largest.max(error.abs());
        assert!(
            (state.ionic_strength() - mixture.ionic_strength).abs() <= 2e-5,
            "{}: {}",
            mixture.name,
            state.ionic_strength()
        );
        for (key, fraction) in &mixture.protonated {
            let found = state.forms(acids[key.as_str()].name()).unwrap().forms[0].fraction;
            assert!((found - fraction).abs() <= 1e-4, "{}, {key}: {found}", mixture.name);
        }
    }
    println!("largest error against the mixtures of PHREEQC: {largest:.5}");
}

#[test]
fn sodium_rich_citrate_gets_a_caveat() {
    let said = |citrate: f64, sodium: f64| {
        let solution = Solution::at(25.0).unwrap().acid("citric acid", citrate).unwrap().ion("Na", sodium).unwrap();
        solution.solve().unwrap().caveats().iter().any(|caveat| caveat.kind() == CaveatKind::IonPairing)
    };
    assert!(said(0.1, 0.27) && said(0.1, 0.3));
    assert!(!said(0.1, 0.05) && !said(0.002, 0.006) && !said(0.0, 0.1));
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Undissociated {
    acid: String,
    pka: Option<f64>,
    ph: f64,
    percent: toml::Value,
}

#[derive(Deserialize)]
struct Fractions {
    example: Vec<Undissociated>,
}

#[test]
fn undissociated_shares() {
    let file: Fractions = read(include_str!("../data/undissociated_preservatives.toml"));
    assert!(file.example.len() >= 25);
    for example in &file.example {
        let share =
            100.0 * Acid::new(&example.acid, 0, &[example.pka.unwrap()]).unwrap().undissociated(example.ph).unwrap();
        let expected = example.percent.as_str().unwrap();
        let places = expected.split_once('.').map_or(0, |(_, places)| i32::try_from(places.len()).unwrap());
        // Within a unit of the last place: one value of the file is rounded up from 85.195.
        assert!(
            (share - expected.parse::<f64>().unwrap()).abs() < 10f64.powi(-places),
            "{} at pH {}: {share}",
            example.acid,
            example.ph
        );
    }
    let handbook: Fractions = read(include_str!("../data/undissociated_handbook.toml"));
    for example in &handbook.example {
        let expected = example.percent.as_float().or(example.percent.as_integer().map(|whole| whole as f64)).unwrap();
        let share = 100.0 * Acid::named(&example.acid).unwrap().undissociated(example.ph).unwrap();
        // Handbooks round, and their pKa is a few hundredths off another's.
        assert!(
            (share - expected).abs() <= 2.0 && (share / expected - 1.0).abs() < 0.2,
            "{} at pH {}: {share}",
            example.acid,
            example.ph
        );
    }
}

/// A mixture of 1 to 5 acids of up to 0.3 mol/kg and up to 2 ions of up to 0.1 mol/kg, from a millionth on, at 15 to 40
/// °C.
fn random_mixture(random: &mut Random) -> Solution {
    let acids = Acid::all();
    let molality = |random: &mut Random, highest: u64| 10f64.powf(-(random.between(highest, 6000) as f64) / 1000.0);
    let mut solution = Solution::at(15.0 + random.between(0, 2500) as f64 / 100.0).unwrap();
    for _ in 0..random.between(1, 5) {
        solution = solution.with_acid(random.pick(acids), molality(random, 523)).unwrap();
    }
    for _ in 0..random.below(3) {
        let ion = *random.pick(&["Na", "K", "Ca", "Mg", "Cl", "NO3"]);
        solution = solution.ion(ion, molality(random, 1000)).unwrap();
    }
    solution
}

#[test]
fn a_hundred_thousand_random_mixtures_are_solved() {
    let mut random = Random::new(20_261_124);
    let (mut largest, mut largest_of_sum) = (0.0f64, 0.0f64);
    for _ in 0..100_000 {
        let solution = random_mixture(&mut random);
        let state = solution.solve().unwrap_or_else(|error| panic!("{error}: {solution:?}"));
        let charges: f64 = state
            .acids()
            .iter()
            .flat_map(|acid| acid.forms.iter().map(|form| acid.total * form.fraction * f64::from(form.charge)))
            .sum();
        let strong: f64 = solution.ions().iter().map(|(ion, total)| f64::from(ion.charge()) * total).sum();
        // Summed anew here, in another order than the solver does.
        let sum = charges + strong + state.hydrogen() - state.hydroxide();
        largest = largest.max(state.imbalance().abs());
        largest_of_sum = largest_of_sum.max(sum.abs());
        assert!(state.imbalance().abs() < 1e-12 && sum.abs() < 1e-12, "{} and {sum}: {solution:?}", state.imbalance());
        assert!((0.0..=14.0).contains(&state.ph()) && state.buffer_capacity() > 0.0);
    }
    println!(
        "100000 random mixtures solved; largest charge imbalance {largest:.1e} mol/kg, summed anew \
         {largest_of_sum:.1e} mol/kg"
    );
}

/// Some mixture with what a property adds to it.
fn mixture() -> impl Strategy<Value = Solution> {
    any::<u64>().prop_map(|seed| random_mixture(&mut Random::new(seed)))
}

proptest! {
    #[test]
    fn strong_acid_lowers_and_strong_alkali_raises_the_ph(solution in mixture(), more in 0.001f64..0.1) {
        let before = solution.ph()?;
        prop_assert!(solution.clone().ion("Cl", more)?.ph()? < before);
        prop_assert!(solution.ion("Na", more)?.ph()? > before);
    }

    /// Along a titration the curve falls, however steep.
    #[test]
    fn a_titration_with_acid_falls(solution in mixture(), step in 0.0001f64..0.02) {
        let curve: Vec<f64> = (0..20).map(|count| solution.clone().ion("Cl", step * f64::from(count)).and_then(|solution| solution.ph())).collect::<Result<_, _>>()?;
        prop_assert!(curve.windows(2).all(|pair| pair[1] < pair[0]), "{curve:?}");
    }

    #[test]
    fn much_water_brings_every_mixture_to_that_of_water(solution in mixture()) {
        let neutral = Solution::at(solution.water().temperature())?.ph()?;
        let diluted = solution.diluted(1e9)?.solve()?;
        prop_assert!((diluted.ph() - neutral).abs() < 0.02, "{}", diluted.ph());
        prop_assert!(diluted.ionic_strength() < 1e-6);
    }

    #[test]
    fn diluting_twice_is_diluting_once(solution in mixture(), first in 0.0f64..20.0, second in 0.0f64..20.0) {
        let twice = solution.clone().diluted(first)?.diluted(second)?.ph()?;
        let once = solution.diluted((1.0 + first) * (1.0 + second) - 1.0)?.ph()?;
        prop_assert!((twice - once).abs() < 1e-9);
    }

    /// The buffer capacity is the slope of the titration curve where activity coefficients hardly move.
    #[test]
    fn the_buffer_capacity_is_the_slope_of_the_curve(acid in 0.01f64..0.1, part in 0.2f64..0.8) {
        let at = |alkali: f64| Solution::at(25.0)?.ion("Cl", 0.1)?.ion("Na", 0.1 + alkali)?.acid("acetic acid", acid)?.solve();
        let (alkali, step) = (acid * part, acid * 1e-4);
        let (below, here, above) = (at(alkali - step)?, at(alkali)?, at(alkali + step)?);
        let slope = 2.0 * step / (above.ph() - below.ph());
        prop_assert!((here.buffer_capacity() / slope - 1.0).abs() < 0.05, "{} and {slope}", here.buffer_capacity());
    }

    /// The order in which a mixture is put together changes nothing.
    #[test]
    fn order_does_not_matter(first in 0.001f64..0.2, second in 0.001f64..0.2, alkali in 0.0f64..0.2) {
        let one = Solution::at(20.0)?.acid("citric acid", first)?.acid("benzoic acid", second)?.ion("Na", alkali)?.ph()?;
        let other = Solution::at(20.0)?.ion("Na", alkali)?.acid("benzoic acid", second)?.acid("citric acid", first)?.ph()?;
        prop_assert!((one - other).abs() < 1e-10);
    }

    /// Arbitrary acids of one's own, in any amount: an answer or a refusal that says why.
    #[test]
    fn any_acid_is_solved_or_refused(charge in -7i32..=7, mut pka in prop::collection::vec(-12.0f64..26.0, 0..8), total in -0.1f64..4.0, ion in -7i32..=7, ions in 0.0f64..4.0, temperature in 0.0f64..60.0) {
        pka.sort_by(f64::total_cmp);
        let outcome = Acid::new("drawn", charge, &pka).and_then(|acid| {
            Solution::at(temperature)?.with_acid(&Arc::new(acid), total)?.with_ion(&Ion::new("drawn", ion)?, ions)?.solve()
        });
        match outcome {
            Ok(state) => prop_assert!(state.imbalance().abs() < 1e-10 && state.ph().is_finite(), "{state:?}"),
            Err(error) => prop_assert!(error.is_out_of_range() || error.is_contradiction(), "{error}"),
        }
    }
}
