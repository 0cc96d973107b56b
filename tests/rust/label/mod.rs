//! Labels seen from outside: the order of the list, scent constituents, published figures, what is refused.

mod bad_input;
mod list;
mod net;
mod random;
mod scent;

use std::sync::Arc;

use tenside::catalogue::Catalogue;
use tenside::formula::{Formula, Line};
use tenside::label::{Label, LabelRequest, Market, ScentNames};
use tenside::material::{Composition, Constituent, Contained, Declaration, Form, Material};
use tenside::substance::{Class, Substance};

use crate::support::percent;

/// A constituent as the tests write it: name, class, low, typical, high.
type Row<'r> = (&'r str, Class, &'r str, &'r str, &'r str);

fn starter(id: &str) -> Arc<Material> {
    Catalogue::starter().material(id).unwrap().clone()
}

fn substance(name: &str, class: Class) -> Arc<Substance> {
    Arc::new(Substance::new(name, class).unwrap())
}

/// A raw material of which everything is declared.
fn material(id: &str, rows: &[Row<'_>]) -> Material {
    let row = |(name, class, low, typical, high): &Row<'_>| {
        let row =
            Constituent::typical(substance(name, *class), percent(typical)).with_declaration(Declaration::Declared);
        row.with_range(Some(percent(low)), Some(percent(high))).unwrap()
    };
    Material::new(id, id, Form::Oil, Composition::stated(rows.iter().map(row).collect()).unwrap()).unwrap()
}

/// One ingredient that is all of the raw material.
fn pure(id: &str, name: &str, class: Class) -> Arc<Material> {
    Arc::new(material(id, &[(name, class, "100", "100", "100")]))
}

/// An oil that holds so much (low, typical, high) of each substance.
fn oil(id: &str, holds: &[(&str, &str, &str, &str)]) -> Arc<Material> {
    let name = format!("{} OIL", id.to_uppercase());
    let contained = holds.iter().map(|(inci, low, typical, high)| {
        let (low, typical, high) = (percent(low), percent(typical), percent(high));
        Contained::new(
            &name,
            substance(inci, Class::FragranceConstituent),
            Some(typical),
            Some(low),
            Some(high),
            "invented",
        )
        .unwrap()
    });
    Arc::new(
        material(id, &[(&name, Class::EssentialOil, "100", "100", "100")]).with_contained(contained.collect()).unwrap(),
    )
}

fn formula(lines: &[(Arc<Material>, &str)]) -> Formula {
    let line =
        |(material, share): &(Arc<Material>, &str)| Line::new(material.id(), material.clone(), percent(share)).unwrap();
    Formula::new("Invented bar", lines.iter().map(line).collect()).unwrap()
}

fn eu() -> LabelRequest {
    LabelRequest::new(Market::Eu, "2026-11-24".parse().unwrap()).with_scent_names(ScentNames::Own)
}

fn us() -> LabelRequest {
    LabelRequest::new(Market::Us, "2026-11-24".parse().unwrap()).with_scent_names(ScentNames::Own)
}

fn names(label: &Label) -> Vec<&str> {
    label.items().iter().map(|item| item.name.as_str()).collect()
}
