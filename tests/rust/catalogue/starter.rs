//! What every row of the embedded data must have.

use tenside::catalogue::Catalogue;
use tenside::document::Named;
use tenside::substance::{Attribute, Attributes, SubstanceTable};

fn sources(attributes: &Attributes) -> impl Iterator<Item = &str> {
    let statements = Attribute::ALL.iter().filter_map(|one| attributes.get(*one)).map(|statement| statement.source.as_str());
    statements.chain(attributes.natural_origin().map(|(_, source)| source))
}

#[test]
fn every_row_has_a_source() {
    let starter = Catalogue::starter();
    for material in starter.materials() {
        let own = [material.source()].into_iter().chain(material.ph_range().map(|range| range.source.as_str()));
        let parts = material.use_levels().iter().map(|level| level.source.as_str()).chain(material.contained().iter().map(|part| part.source()));
        for source in own.chain(parts).chain(sources(material.attributes())) {
            assert!(!source.trim().is_empty(), "{}", material.id());
        }
    }
    for substance in SubstanceTable::starter().iter() {
        assert!([substance.source()].into_iter().chain(sources(substance.attributes())).all(|source| !source.trim().is_empty()), "{}", substance.inci());
    }
}

#[test]
fn every_contained_substance_is_known() {
    let (starter, table) = (Catalogue::starter(), SubstanceTable::starter());
    let mut declarable = 0;
    for material in starter.materials() {
        for part in material.contained() {
            let known = table.find(part.substance().inci()).unwrap_or_else(|| panic!("{}: {}", material.id(), part.substance().inci()));
            assert_eq!(known, part.substance(), "{}", material.id());
            assert!(material.composition().constituents().iter().any(|row| row.substance().inci() == part.of()), "{}", material.id());
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
            Ok(material) => assert!(alias.candidates == [material.id()] || material.id() == alias.name, "{}", alias.name),
            Err(error) => assert!(error.is_ambiguous_name(), "{}: {error}", alias.name),
        }
    }
}
