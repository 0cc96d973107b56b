//! Invented substances and raw materials.

use std::sync::{Arc, LazyLock};

use tenside::catalogue::Catalogue;
use tenside::document::Notation;
use tenside::material::{Composition, Constituent, Form, Material};
use tenside::number::Ppm;
use tenside::substance::{Substance, SubstanceTable};

use super::{Random, parts};

const SUBSTANCES: &str = r#"
tenside = "substances/1"
source = "invented for the tests"
substance = [
    { inci = "ANION A", class = "anionic-surfactant", counts_as_active = true, charge_per_mole = -1, molar_mass = { typical = 300, low = 280, high = 330, chain = "invented" }, volatility = "none" },
    { inci = "ANION B", class = "anionic-surfactant", counts_as_active = true, charge_per_mole = -1, molar_mass = { typical = 412.5 }, volatility = "none" },
    { inci = "AMPHOTER", class = "amphoteric-surfactant", counts_as_active = true, charge = "ph-dependent", molar_mass = { typical = 342, low = 330, high = 350, chain = "invented" }, volatility = "none" },
    { inci = "CATION", class = "cationic-surfactant", charge_per_mole = 1, molar_mass = { typical = 404, low = 380, high = 420, chain = "invented" }, volatility = "none" },
    { inci = "POLYCATION", class = "cationic-polymer", charge_per_gram = 1.5, volatility = "none" },
    { inci = "BRINE", class = "salt", charge = "neutral", volatility = "none" },
    { inci = "DEW", class = "water", charge = "neutral", volatility = "water" },
    { inci = "SPIRIT", class = "solvent", charge = "neutral", volatility = "volatile" },
    { inci = "FATTY", class = "fatty-acid", charge = "ph-dependent", volatility = "none" },
    { inci = "CHALK", class = "mineral", charge = "neutral", volatility = "none" },
]
"#;

static TABLE: LazyLock<Vec<Arc<Substance>>> = LazyLock::new(|| {
    let mut table = SubstanceTable::default();
    table.read(SUBSTANCES, Notation::Toml).unwrap_or_else(|error| panic!("{error}"));
    table.iter().cloned().chain([Substance::unspecified()]).collect()
});

/// A catalogue that knows the invented substances and no raw material.
pub(crate) fn catalogue() -> Catalogue {
    let raw = substances().iter().filter(|substance| !substance.is_unspecified()).map(|substance| {
        let whole = Composition::stated(vec![Constituent::typical(Arc::clone(substance), Ppm::WHOLE)]).unwrap();
        Arc::new(
            Material::new(&substance.inci().to_lowercase().replace(' ', "-"), substance.inci(), Form::Powder, whole)
                .unwrap(),
        )
    });
    raw.fold(Catalogue::empty(), |known, material| known.with_material(material).unwrap())
}

/// The invented substances, the nameless remainder last.
pub(crate) fn substances() -> &'static [Arc<Substance>] {
    &TABLE
}

/// Which range ends a random material states.
#[derive(Clone, Copy, PartialEq)]
pub(crate) enum Ends {
    All,
    Some,
}

/// A material of one to five substances with ranges round its typical shares.
pub(crate) fn material(random: &mut Random, id: &str, ends: Ends) -> Material {
    let count = usize::try_from(random.between(1, 5)).unwrap();
    let chosen = random.places(count, substances().len());
    let step = *random.pick(&[1, 1000, 50_000]);
    let shares = random.shares(count, 1_000_000, step);
    let rows = chosen.iter().zip(shares).map(|(place, share)| {
        let widest = *random.pick(&[0, 20_000, 400_000]);
        let low = share - random.between(0, widest.min(share));
        let high = share + random.between(0, widest.min(1_000_000 - share));
        let stated = |random: &mut Random| ends == Ends::All || random.chance(60);
        let (low, high) = (stated(random).then(|| parts(low)), stated(random).then(|| parts(high)));
        Constituent::typical(Arc::clone(&substances()[*place]), parts(share)).with_range(low, high).unwrap()
    });
    let composition = Composition::stated(rows.collect()).unwrap();
    let form = *random.pick(&[Form::Powder, Form::Liquid, Form::MeltableSolid]);
    Material::new(id, &format!("Invented {id}"), form, composition).unwrap()
}

/// The same material at other shares, all of them certain.
pub(crate) fn of_shares(material: &Material, shares: &[u64]) -> Material {
    let rows = material.composition().constituents().iter().zip(shares);
    let rows = rows.map(|(row, share)| {
        Constituent::typical(Arc::clone(row.substance()), parts(*share))
            .with_range(Some(parts(*share)), Some(parts(*share)))
    });
    let composition = Composition::stated(rows.collect::<Result<_, _>>().unwrap()).unwrap();
    let drawn = Material::new(material.id(), material.name(), material.form(), composition)
        .unwrap()
        .with_phase(material.phase())
        .unwrap();
    drawn.with_contained(material.contained().to_vec()).unwrap()
}

/// A composition drawn inside the stated ranges: the typical one after random moves from one share to another, some of
/// them as far as the ranges go. A range end that is not stated is not passed beyond the typical share.
pub(crate) fn drawn(random: &mut Random, material: &Material) -> Vec<u64> {
    let rows = material.composition().constituents();
    let number = |share: Option<Ppm>| share.map(|share| u64::from(share.parts()));
    let mut shares: Vec<u64> = rows.iter().map(|row| number(row.share()).unwrap()).collect();
    let lows: Vec<u64> = rows.iter().zip(&shares).map(|(row, share)| number(row.low()).unwrap_or(*share)).collect();
    let highs: Vec<u64> = rows.iter().zip(&shares).map(|(row, share)| number(row.high()).unwrap_or(*share)).collect();
    for _ in 0..2 * shares.len() {
        let (from, to) = (
            usize::try_from(random.below(shares.len() as u64)).unwrap(),
            usize::try_from(random.below(shares.len() as u64)).unwrap(),
        );
        let room = (shares[from] - lows[from]).min(highs[to] - shares[to]);
        if from != to {
            let moved = if random.chance(40) { room } else { random.between(0, room) };
            shares[from] -= moved;
            shares[to] += moved;
        }
    }
    shares
}
