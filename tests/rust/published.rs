//! Facts from outside: every number stands in a data file with its source and how sure we are of it.

use serde::Deserialize;
use serde::de::DeserializeOwned;
use tenside::catalogue::Catalogue;
use tenside::number::{Exact, HalfWay, Mass, MassUnit, VolumeUnit, apportion};
use tenside::substance::{Cas, SubstanceTable};

/// Reads a data file; unknown keys are refused and source and mark are not empty.
pub(crate) fn read<T: DeserializeOwned>(text: &str) -> T {
    #[derive(Deserialize)]
    struct Head {
        source: String,
        mark: String,
    }
    let head: Head = toml::from_str(text).unwrap();
    assert!(
        !head.source.is_empty()
            && ["from memory", "seen in", "computed"].iter().any(|mark| head.mark.starts_with(mark)),
        "{}",
        head.mark
    );
    toml::from_str(text).unwrap()
}

macro_rules! file {
    ($name:ident { $($field:ident: $kind:ty),* $(,)? }) => {
        #[derive(Deserialize)]
        #[serde(deny_unknown_fields)]
        struct $name {
            #[serde(rename = "source")]
            _source: String,
            #[serde(rename = "mark")]
            _mark: String,
            $($field: $kind,)*
        }
    };
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Unit {
    name: String,
    symbol: Option<String>,
    value: Exact,
    r#in: String,
}

file!(Units { unit: Vec<Unit> });

#[test]
fn units_are_as_defined() {
    let units: Units = read(include_str!("../data/units.toml"));
    let of = |name: &str| &units.unit.iter().find(|unit| unit.name == name).unwrap().value;
    let mut checked = 0;
    for unit in units.unit.iter().filter(|unit| unit.symbol.is_some()) {
        let mass: Mass = format!("1 {}", unit.symbol.as_deref().unwrap()).parse().unwrap();
        let other: MassUnit = unit.r#in.parse().unwrap();
        assert_eq!(mass.in_unit(other), unit.value, "{}", unit.name);
        checked += 1;
    }
    assert_eq!(checked, 2);
    // The definitions agree among themselves: 7000 grains a pound, 16 ounces a pound, 128 fluid ounces in 231 cubic
    // inches.
    let milligrams = MassUnit::Pound.grams() / MassUnit::Milligram.grams();
    assert_eq!(of("grain") * Exact::from(7000), milligrams);
    assert_eq!(MassUnit::Ounce.grams() * Exact::from(16), MassUnit::Pound.grams());
    let inch = of("inch") / Exact::from(10);
    assert_eq!(of("United States fluid ounce") * Exact::from(128), &inch * &inch * &inch * Exact::from(231));
    assert_eq!(&VolumeUnit::FluidOunce.millilitres(), of("United States fluid ounce"));
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Rounding {
    value: Exact,
    step: Exact,
    half_way: String,
    rounded: Exact,
}

file!(Roundings { example: Vec<Rounding> });

#[test]
fn values_are_rounded_as_the_standards_say() {
    for text in [include_str!("../data/rounding_iso.toml"), include_str!("../data/rounding_nist.toml")] {
        let roundings: Roundings = read(text);
        assert!(roundings.example.len() >= 4);
        for example in roundings.example {
            let rules = match example.half_way.as_str() {
                "to even" => vec![HalfWay::ToEven],
                "away from zero" => vec![HalfWay::AwayFromZero],
                "either" => vec![HalfWay::ToEven, HalfWay::AwayFromZero],
                other => panic!("{other}"),
            };
            for rule in rules {
                assert_eq!(
                    example.value.rounded_to(&example.step, rule),
                    example.rounded,
                    "{} to {}, {rule:?}",
                    example.value,
                    example.step
                );
                assert_eq!((-&example.value).rounded_to(&example.step, rule), -&example.rounded);
            }
        }
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Apportionment {
    weights: Vec<i64>,
    total: i64,
    shares: Vec<i64>,
}

file!(Apportionments { example: Vec<Apportionment> });

#[test]
fn seats_are_apportioned_as_published() {
    let file: Apportionments = read(include_str!("../data/apportionment.toml"));
    for example in file.example {
        let weights: Vec<Exact> = example.weights.iter().map(|weight| Exact::from(*weight)).collect();
        let found = apportion(&weights, example.total).unwrap();
        assert_eq!(found.units, example.shares);
        assert!(found.departures.iter().all(|departure| departure.abs() < Exact::ONE));
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Mole {
    inci: String,
    value: Exact,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Salt {
    inci: String,
    acid: String,
    acid_per_salt: String,
    highest_acid: Exact,
    highest_salt: String,
}

file!(Moles { molar_mass: Vec<Mole>, salt: Vec<Salt> });

fn molar_mass(inci: &str) -> Exact {
    Exact::from(
        SubstanceTable::starter()
            .get(inci)
            .unwrap()
            .molar_mass()
            .unwrap_or_else(|| panic!("{inci} has no molar mass"))
            .typical(),
    )
}

#[test]
fn molar_masses_and_what_follows_for_salts() {
    let file: Moles = read(include_str!("../data/molar_masses.toml"));
    assert!(file.molar_mass.len() >= 25);
    for row in &file.molar_mass {
        assert_eq!(molar_mass(&row.inci), row.value, "{}", row.inci);
    }
    for salt in &file.salt {
        let ratio = molar_mass(&salt.acid) / molar_mass(&salt.inci);
        assert_eq!(ratio.rounded_text(5), salt.acid_per_salt, "{}", salt.inci);
        assert_eq!((&salt.highest_acid / &ratio).floor_text(4), salt.highest_salt, "{}", salt.inci);
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Allergen {
    entry: u32,
    label: String,
    cas: Vec<String>,
    new_2023: bool,
}

file!(Allergens { older: usize, newer: usize, constituent: Vec<Allergen> });

#[test]
fn the_declarable_fragrance_constituents_are_all_there() {
    let file: Allergens = read(include_str!("../data/fragrance_allergens.toml"));
    assert_eq!(file.constituent.len(), file.older + file.newer);
    let table = SubstanceTable::starter();
    for row in &file.constituent {
        let found: Vec<_> = table.iter().filter(|substance| substance.annex_iii_entry() == Some(row.entry)).collect();
        let [substance] = found.as_slice() else { panic!("entry {} stands {} times", row.entry, found.len()) };
        assert_eq!(substance.label_eu().to_uppercase(), row.label.to_uppercase(), "entry {}", row.entry);
        let mut numbers: Vec<Cas> = row.cas.iter().map(|number| number.parse().unwrap()).collect();
        let mut known = substance.cas().to_vec();
        numbers.sort();
        known.sort();
        assert_eq!(known, numbers, "{}", row.label);
        assert_eq!(substance.declared_since_2023(), row.new_2023, "{}", row.label);
    }
    let counted = table.iter().filter(|substance| substance.annex_iii_entry().is_some());
    assert_eq!(counted.filter(|substance| substance.declared_since_2023()).count(), file.newer);
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct OilConstituent {
    material: String,
    published: String,
    inci: String,
    low: Option<Exact>,
    typical: Option<Exact>,
    high: Option<Exact>,
}

file!(Oil { constituent: Vec<OilConstituent> });

const OILS: [&str; 5] = [
    include_str!("../data/oil_lavender.toml"),
    include_str!("../data/oil_tea_tree.toml"),
    include_str!("../data/oil_lemon_analysis.toml"),
    include_str!("../data/oil_pharmacopoeia.toml"),
    include_str!("../data/oil_lime.toml"),
];

/// Isomers that the table keeps as one substance are summed.
#[test]
fn essential_oils_contain_what_is_published_of_them() {
    let starter = Catalogue::starter();
    let mut checked = 0;
    for text in OILS {
        let oil: Oil = read(text);
        for row in &oil.constituent {
            let same: Vec<&OilConstituent> = oil
                .constituent
                .iter()
                .filter(|other| other.material == row.material && other.inci == row.inci)
                .collect();
            let sum = |end: fn(&OilConstituent) -> &Option<Exact>| {
                same.iter().map(|part| end(part).clone()).sum::<Option<Exact>>()
            };
            let material = starter.material(&row.material).unwrap();
            let parts: Vec<_> =
                material.contained().iter().filter(|part| part.substance().inci() == row.inci).collect();
            let [part] = parts.as_slice() else { panic!("{} lists {} {} times", row.material, row.inci, parts.len()) };
            for (end, published) in [
                (part.low(), sum(|part| &part.low)),
                (part.share(), sum(|part| &part.typical)),
                (part.high(), sum(|part| &part.high)),
            ] {
                if let Some(published) = published {
                    assert_eq!(
                        end.map(|end| end.percent()),
                        Some(published),
                        "{} in {}, published as {}",
                        row.inci,
                        row.material,
                        row.published
                    );
                    checked += 1;
                }
            }
        }
    }
    assert!(checked >= 60, "{checked}");
}
