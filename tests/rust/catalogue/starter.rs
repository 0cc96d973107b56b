//! What every row of the embedded data must have.

use std::collections::{BTreeMap, BTreeSet};

use serde::Deserialize;
use tenside::catalogue::Catalogue;
use tenside::document::Named;
use tenside::material::{Caution, Form, Material};
use tenside::number::Ppm;
use tenside::substance::{Attribute, Attributes, Class, SubstanceTable};

fn sources(attributes: &Attributes) -> impl Iterator<Item = &str> {
    let statements =
        Attribute::ALL.iter().filter_map(|one| attributes.get(*one)).map(|statement| statement.source.as_str());
    statements.chain(attributes.natural_origin().map(|(_, source)| source))
}

#[test]
fn every_row_has_a_source() {
    let starter = Catalogue::starter();
    for material in starter.materials() {
        let own = [material.source()].into_iter().chain(material.ph_range().map(|range| range.source.as_str()));
        let parts = material
            .use_levels()
            .iter()
            .map(|level| level.source.as_str())
            .chain(material.contained().iter().map(|part| part.source()));
        for source in own.chain(parts).chain(sources(material.attributes())) {
            assert!(!source.trim().is_empty(), "{}", material.id());
        }
    }
    for substance in SubstanceTable::starter().iter() {
        assert!(
            [substance.source()]
                .into_iter()
                .chain(sources(substance.attributes()))
                .all(|source| !source.trim().is_empty()),
            "{}",
            substance.inci()
        );
    }
}

#[test]
fn every_contained_substance_is_known() {
    let (starter, table) = (Catalogue::starter(), SubstanceTable::starter());
    let mut declarable = 0;
    for material in starter.materials() {
        for part in material.contained() {
            let known = table
                .find(part.substance().inci())
                .unwrap_or_else(|| panic!("{}: {}", material.id(), part.substance().inci()));
            assert_eq!(known, part.substance(), "{}", material.id());
            assert!(
                material.composition().constituents().iter().any(|row| row.substance().inci() == part.of()),
                "{}",
                material.id()
            );
            declarable += usize::from(known.annex_iii_entry().is_some());
        }
    }
    assert!(declarable > 0);
}

#[test]
fn every_alias_leads_to_its_candidates() {
    let starter = Catalogue::starter();
    for alias in starter.aliases().iter() {
        match starter.material(&alias.name) {
            Ok(material) => {
                assert!(alias.candidates == [material.id()] || material.id() == alias.name, "{}", alias.name)
            }
            Err(error) => assert!(error.is_ambiguous_name(), "{}: {error}", alias.name),
        }
    }
}

/// What the entry lacks of what a formulator needs to weigh a raw material out.
fn lacks(material: &Material) -> Vec<&'static str> {
    let rows = material.composition().constituents();
    let (form, class) = (material.form(), material.main_class());
    let parts = |share: Option<Ppm>| share.map_or(0, |share| u64::from(share.parts()));
    let sum = |end: &dyn Fn(&tenside::material::Constituent) -> Option<Ppm>| {
        rows.iter().map(|row| parts(end(row))).sum::<u64>()
    };
    let within = |low: Option<Ppm>, typical: Option<Ppm>, high: Option<Ppm>| {
        low.zip(typical).zip(high).is_some_and(|((low, typical), high)| low <= typical && typical <= high)
    };
    let contained = |end: &dyn Fn(&tenside::material::Contained) -> Option<Ppm>| {
        let mut of: BTreeMap<&str, u64> = BTreeMap::new();
        material.contained().iter().for_each(|part| *of.entry(part.of()).or_default() += parts(end(part)));
        of.into_values().all(|sum| sum <= 1_000_000)
    };
    let has = |caution| material.cautions().contains(&caution);
    let is_hot = material.phase() == "melted" && matches!(form, Form::MeltableSolid | Form::Paste);
    [
        (sum(&|row| row.share()) == 1_000_000, "typical shares that sum to 100"),
        (
            sum(&|row| row.stated_low()) <= 1_000_000 && sum(&|row| row.stated_high()) >= 1_000_000,
            "ranges that a composition fits",
        ),
        (rows.iter().all(|row| within(row.stated_low(), row.share(), row.stated_high())), "a range around each share"),
        (
            material.contained().iter().all(|part| within(part.low(), part.share(), part.high())),
            "a range around what is contained",
        ),
        (
            contained(&|part| part.low()) && contained(&|part| part.share()),
            "contained substances that fit into what holds them",
        ),
        (!material.use_levels().is_empty() || class == Class::Water, "a use level"),
        (!matches!(form, Form::Liquid | Form::Oil) || material.density().is_some(), "a density"),
        (!is_hot || material.melting_point().is_some(), "a melting point"),
        (form != Form::Powder || has(Caution::IrritantDust) || has(Caution::NuisanceDust), "a dust"),
        (!(has(Caution::IrritantDust) && has(Caution::NuisanceDust)), "one kind of dust"),
        (!(has(Caution::EyeDamage) && has(Caution::EyeIrritant)), "one hazard for eyes"),
        (!has(Caution::Corrosive) || has(Caution::EyeDamage), "eyes beside the skin"),
        (
            class != Class::AnionicSurfactant || has(Caution::EyeDamage) || has(Caution::EyeIrritant),
            "eyes for a surfactant",
        ),
        (
            class != Class::AnionicSurfactant || form != Form::Powder || has(Caution::IrritantDust),
            "the dust of a surfactant",
        ),
        (
            class != Class::EssentialOil || (has(Caution::Sensitising) && !material.contained().is_empty()),
            "what a scent oil contains",
        ),
        (class != Class::EssentialOil || material.highest_process_temperature().is_some(), "a temperature for a scent"),
    ]
    .into_iter()
    .filter_map(|(has, what)| (!has).then_some(what))
    .collect()
}

#[test]
fn the_shelf_is_large_and_every_entry_complete() {
    let starter = Catalogue::starter();
    assert!(starter.materials().count() >= 420, "{}", starter.materials().count());
    let poor: Vec<String> = starter
        .materials()
        .filter(|material| !lacks(material).is_empty())
        .map(|one| format!("{}: {:?}", one.id(), lacks(one)))
        .collect();
    assert!(poor.is_empty(), "{poor:#?}");
}

#[test]
fn every_family_of_the_trade_is_on_the_shelf() {
    let starter = Catalogue::starter();
    for id in [
        "rose-hydrosol",
        "aloe-juice",
        "apple-cider-vinegar",
        "goat-milk-powder",
        "yoghurt-powder",
        "honey-powder",
        "silk-amino-acids-powder",
        "hydrolyzed-pea-protein-liquid",
        "hydrolyzed-collagen-powder",
        "cocodimonium-wheat-protein-30",
        "cassia-hydroxypropyltrimonium-chloride",
        "sulfolaurate-blend-powder",
        "lauryl-sulfosuccinate-betaine-paste",
        "lauryl-glucose-carboxylate-blend",
        "apple-amino-acids-surfactant-30",
        "babassuamidopropyl-betaine-30",
        "lauryl-hydroxysultaine-30",
        "sucrose-cocoate-65",
        "cetyl-esters",
        "lauryl-laurate",
        "glyceryl-stearate-citrate",
        "cetearyl-glucoside-blend",
        "dicaprylyl-carbonate",
        "jojoba-esters",
        "baobab-oil",
        "palm-oil",
        "levulinate-anisate-blend",
        "hexanediol-caprylyl-glycol-blend",
        "pink-clay",
        "henna-powder",
        "blue-dye-solution-1",
        "pearl-gold",
        "neroli-oil",
    ] {
        assert!(starter.material(id).is_ok_and(|material| material.id() == id), "{id}");
    }
}

#[test]
fn each_caution_of_the_shelf_is_where_it_belongs() {
    let starter = Catalogue::starter();
    let with = |caution| -> BTreeSet<&str> {
        starter.materials().filter(|one| one.cautions().contains(&caution)).map(|one| one.id()).collect()
    };
    // Lauroyl sarcosinate as powder H330, isothiazolinones EUH071, salicylic acid H361d, limonene H304, amine oxides
    // and quats H400.
    assert_eq!(
        with(Caution::ToxicByInhalation),
        BTreeSet::from(["isothiazolinone-1-5", "sodium-lauroyl-sarcosinate-powder"])
    );
    assert_eq!(
        with(Caution::ReproductiveHazard),
        BTreeSet::from(["benzyl-alcohol-salicylic-sorbic-blend", "salicylic-acid"])
    );
    assert!(with(Caution::Aspiration).is_superset(&BTreeSet::from([
        "sweet-orange-oil",
        "tea-tree-oil",
        "scots-pine-oil"
    ])));
    assert!(with(Caution::Environment).is_superset(&BTreeSet::from([
        "lauramine-oxide-30",
        "cetrimonium-chloride-29",
        "zinc-oxide"
    ])));
    // H319 and no more: isethionates, citric acid, benzoates. H318: alkyl sulfates, betaines, phenoxyethanol.
    assert!(with(Caution::EyeIrritant).is_superset(&BTreeSet::from([
        "sci-powder",
        "citric-acid-anhydrous",
        "sodium-benzoate",
        "potassium-sorbate"
    ])));
    assert!(with(Caution::EyeDamage).is_superset(&BTreeSet::from([
        "scs-needles",
        "capb-30",
        "phenoxyethanol",
        "decyl-glucoside-50"
    ])));
    assert!(with(Caution::NuisanceDust).is_superset(&BTreeSet::from(["kaolin", "corn-starch", "iron-oxide-red"])));
}

#[derive(Deserialize)]
struct Prohibited {
    prohibited: Vec<Entry>,
}

#[derive(Deserialize)]
struct Entry {
    inci: String,
    entry: u32,
}

#[test]
fn what_is_prohibited_is_not_offered() {
    let starter = Catalogue::starter();
    let listed: Prohibited = toml::from_str(include_str!("../../data/eu_prohibited.toml")).unwrap();
    assert_eq!(listed.prohibited.len(), 21);
    let trace = Ppm::from_parts(5_000).unwrap();
    for Entry { inci, entry } in listed.prohibited {
        assert!(SubstanceTable::starter().get(&inci).is_ok(), "{inci}");
        for material in starter.materials() {
            let share = material
                .composition()
                .constituents()
                .iter()
                .find(|row| row.substance().inci() == inci)
                .and_then(|row| row.share());
            assert!(share.is_none_or(|share| share <= trace), "{}: {inci}, entry {entry}", material.id());
        }
    }
}

#[test]
fn british_and_american_spellings_lead_to_one_raw_material() {
    let starter = Catalogue::starter();
    for (british, american) in [
        ("sodium laureth sulphate", "sodium laureth sulfate"),
        ("disodium lauryl sulphosuccinate", "disodium lauryl sulfosuccinate"),
        ("sodium C14-16 olefin sulphonate", "sodium C14-16 olefin sulfonate"),
        ("Hydrolysed silk powder", "Hydrolyzed silk powder"),
        ("magnesium sulphate", "magnesium sulfate"),
        ("yoghurt powder", "yogurt powder"),
    ] {
        let ids =
            |name: &str| -> Vec<&str> { starter.candidates(name).into_iter().map(|material| material.id()).collect() };
        assert!(
            !ids(british).is_empty() && ids(british) == ids(american),
            "{british}: {:?}, {american}: {:?}",
            ids(british),
            ids(american)
        );
    }
}
