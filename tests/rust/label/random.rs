//! Properties over random formulas: nothing is lost, the order of the lines does not matter, certain positions hold,
//! and the amounts are those that the measures give.

use std::sync::Arc;

use tenside::formula::{Formula, Line};
use tenside::label::{ItemClass, Label, ScentEntry};
use tenside::material::{Composition, Constituent, Contained, Declaration, Form, Material};
use tenside::measure::{Basis, Measure};
use tenside::number::Exact;
use tenside::substance::{Class, Substance};

use super::{eu, us};
use crate::support::{Ends, Random, drawn, material, of_shares, parts};

/// The same with a declaration drawn for every constituent.
fn declared(random: &mut Random, material: &Material) -> Material {
    let rows = material.composition().constituents().iter();
    let rows = rows.map(|row| {
        let declaration =
            *random.pick(&[Declaration::Declared, Declaration::Declared, Declaration::NotDeclared, Declaration::Ask]);
        let share = Constituent::typical(Arc::clone(row.substance()), row.share().unwrap());
        share.with_range(row.stated_low(), row.stated_high()).unwrap().with_declaration(declaration)
    });
    Material::new(material.id(), material.name(), material.form(), Composition::stated(rows.collect()).unwrap())
        .unwrap()
}

fn random_formula(random: &mut Random, ends: Ends) -> Formula {
    let count = usize::try_from(random.between(1, 8)).unwrap();
    let step = *random.pick(&[1, 1000]);
    let shares = random.shares(count, 1_000_000, step);
    let lines = shares.iter().enumerate().map(|(place, share)| {
        let drawn = material(random, &format!("m-{place}"), ends);
        let mut whole = Arc::new(declared(random, &drawn));
        if random.chance(30) {
            let half = parts(random.between(1, 999_999));
            let rest = parts(1_000_000 - u64::from(half.parts()));
            let drawn = material(random, &format!("n-{place}"), ends);
            let other = Arc::new(declared(random, &drawn));
            whole = Arc::new(
                Material::new(
                    &format!("p-{place}"),
                    "Premix",
                    Form::Powder,
                    Composition::premix(vec![(whole, half), (other, rest)]).unwrap(),
                )
                .unwrap(),
            );
        }
        Line::new(&format!("line {place}"), whole, parts(*share)).unwrap()
    });
    Formula::new("Drawn", lines.collect()).unwrap()
}

fn typical_sum(label: &Label) -> Exact {
    let items = label.items().iter().filter(|item| item.entry.is_none()).map(|item| item.percent().typical.unwrap());
    let left = label.left_out().iter().map(|row| row.percent().typical.unwrap());
    items.chain(left).chain([label.nameless().typical.clone().unwrap()]).sum()
}

#[test]
fn nothing_is_lost_and_the_lines_may_stand_in_any_order() {
    let mut random = Random::new(11);
    for _ in 0..400 {
        let formula = random_formula(&mut random, Ends::Some);
        for request in [eu(), us()] {
            let label = formula.label(&request).unwrap();
            assert_eq!(typical_sum(&label), Exact::hundred());
            let mut lines = formula.lines().to_vec();
            let turn = usize::try_from(random.below(lines.len() as u64)).unwrap();
            lines.rotate_left(turn);
            lines.reverse();
            let turned = Formula::new("Drawn", lines).unwrap().label(&request).unwrap();
            assert_eq!(turned.ingredients(), label.ingredients());
            let facts = |label: &Label| {
                label
                    .items()
                    .iter()
                    .map(|item| (item.name.clone(), item.percent(), item.class, item.is_certain))
                    .collect::<Vec<_>>()
            };
            assert_eq!(facts(&turned), facts(&label));
        }
    }
}

/// The interval of an ingredient is that of the measure, where all that is declared goes by one name in one way.
#[test]
fn shares_are_those_of_the_measures() {
    let mut random = Random::new(12);
    let mut checked = 0;
    for _ in 0..150 {
        let formula = random_formula(&mut random, Ends::All);
        let label = formula.label(&us()).unwrap();
        for item in label.items().iter().filter(|item| !label.left_out().iter().any(|row| row.inci == item.inci[0])) {
            let measured = formula.measure(&Measure::constituent(&item.inci[0]).unwrap(), &Basis::AsCharged).unwrap();
            assert_eq!(Some(item.percent()), measured.value, "{}", item.name);
            checked += 1;
        }
    }
    assert!(checked > 300, "{checked}");
}

/// Whatever composition is drawn inside the ranges, a position that is certain is kept.
#[test]
fn certain_positions_hold_for_every_composition() {
    let mut random = Random::new(13);
    let (mut certain, mut open, mut moved) = (0, 0, 0);
    for _ in 0..250 {
        let count = usize::try_from(random.between(2, 5)).unwrap();
        let materials: Vec<Material> =
            (0..count).map(|place| material(&mut random, &format!("m-{place}"), Ends::All)).collect();
        let shares = random.shares(count, 1_000_000, 1000);
        let build = |materials: Vec<Material>| {
            let lines = materials.into_iter().zip(&shares).enumerate();
            let lines = lines.map(|(place, (material, share))| {
                Line::new(&format!("line {place}"), Arc::new(material), parts(*share)).unwrap()
            });
            Formula::new("Drawn", lines.collect()).unwrap()
        };
        let label = build(materials.clone()).label(&eu()).unwrap();
        for _ in 0..6 {
            let other: Vec<Material> =
                materials.iter().map(|material| of_shares(material, &drawn(&mut random, material))).collect();
            let other = build(other).label(&eu()).unwrap();
            for (place, item) in label.items().iter().enumerate() {
                let Some(found) = other.items().iter().position(|found| found.name == item.name) else { continue };
                let same =
                    other.items()[found].class == item.class && (item.class != ItemClass::Ordered || found == place);
                // Equal shares may stand in either order.
                let tied = other
                    .items()
                    .iter()
                    .enumerate()
                    .any(|(at, rival)| at != found && rival.percent() == other.items()[found].percent());
                assert!(same || tied || !item.is_certain, "{} was certain", item.name);
                certain += usize::from(item.is_certain);
                open += usize::from(!item.is_certain);
                moved += usize::from(!same);
            }
        }
    }
    assert!(certain > 500 && open > 500 && moved > 100, "{certain} certain, {open} open, {moved} moved");
}

/// Amounts of an entry over several oils of one blend: the sum of shares is 100, so not every constituent can be at its
/// end at once.
#[test]
fn scent_amounts_are_those_of_the_measure() {
    let mut random = Random::new(14);
    let scents: Vec<&'static ScentEntry> =
        ["LINALOOL", "COUMARIN", "MENTHOL"].iter().map(|name| ScentEntry::find(name).unwrap()).collect();
    let mut checked = 0;
    for _ in 0..200 {
        let lines: Vec<Line> = random
            .shares(3, 1_000_000, 10)
            .into_iter()
            .enumerate()
            .map(|(place, share)| {
                Line::new(&format!("line {place}"), Arc::new(scented(&mut random, place, &scents)), parts(share))
                    .unwrap()
            })
            .collect();
        let formula = Formula::new("Scented", lines).unwrap();
        let label = formula.label(&eu()).unwrap();
        for row in &label.scent().rows {
            let measured = formula.measure(&Measure::substance(row.entry.name()).unwrap(), &Basis::AsCharged).unwrap();
            assert_eq!(Some(row.percent()), measured.value, "{}", row.entry.name());
            checked += 1;
        }
    }
    assert!(checked > 300, "{checked}");
}

/// A blend of oils that hold some of the entries, and perhaps one of them as an ingredient.
fn scented(random: &mut Random, place: usize, scents: &[&'static ScentEntry]) -> Material {
    let blend = material(random, &format!("blend-{place}"), Ends::All);
    let oils: Vec<Arc<Substance>> = (0..blend.composition().constituents().len())
        .map(|at| {
            let name =
                if at == 1 && random.chance(50) { scents[0].name().to_string() } else { format!("OIL {place} {at}") };
            Arc::new(Substance::new(&name, Class::EssentialOil).unwrap())
        })
        .collect();
    let mut contained = Vec::new();
    for oil in oils.iter().filter(|oil| oil.inci() != scents[0].name()) {
        for scent in scents {
            if random.chance(40) {
                continue;
            }
            let typical = random.between(0, 300_000);
            let (low, high) = (typical - random.between(0, typical.min(100_000)), typical + random.between(0, 100_000));
            let substance = Arc::new(Substance::new(scent.name(), Class::FragranceConstituent).unwrap());
            contained.push(
                Contained::new(
                    oil.inci(),
                    substance,
                    Some(parts(typical)),
                    Some(parts(low)),
                    Some(parts(high)),
                    "invented",
                )
                .unwrap(),
            );
        }
    }
    let rows = blend.composition().constituents().iter().zip(&oils);
    let rows = rows.map(|(row, oil)| {
        Constituent::typical(Arc::clone(oil), row.share().unwrap())
            .with_range(row.stated_low(), row.stated_high())
            .unwrap()
    });
    let composition = Composition::stated(rows.collect()).unwrap();
    Material::new(blend.id(), blend.name(), Form::Oil, composition).unwrap().with_contained(contained).unwrap()
}
