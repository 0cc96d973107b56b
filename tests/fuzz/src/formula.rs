//! Formulas.

use tenside::catalogue::Catalogue;
use tenside::document::Materials;
use tenside::formula::Formula;
use tenside::measure::{Basis, Measure};
use tenside::number::Exact;

use crate::reading::{accepted, document, survives};

/// Reads `bytes` as a formula, in TOML or JSON: it sums to 100, can be measured and taken apart, and survives writing.
pub fn formula(bytes: &[u8]) {
    let Some((text, notation)) = document(bytes) else { return };
    let Some(formula) = accepted(Formula::read(text, notation, &Catalogue::empty())) else { return };
    assert_eq!(formula.lines().iter().map(|line| line.percent().parts()).sum::<u32>(), 1_000_000);
    survives(
        &formula,
        |formula, notation| formula.write(notation, Materials::Embedded),
        |text, notation| Formula::read(text, notation, &Catalogue::empty()),
    );
    for measure in [
        Measure::active_matter(),
        Measure::water(),
        Measure::charge_ratio(),
        Measure::cost().per(&Measure::active_matter()),
        Measure::natural_origin(),
    ] {
        for basis in [Basis::AsCharged, Basis::Finished(Exact::from(2))] {
            let Some(measured) = accepted(formula.measure(&measure, &basis)) else { continue };
            assert!(measured.value.is_some() || !measured.why_not.is_empty(), "no value and no reason");
            if let Some(value) = &measured.value {
                assert!(
                    tenside::number::Interval::new(value.low.clone(), value.typical.clone(), value.high.clone())
                        .is_ok(),
                    "{value:?}"
                );
            }
        }
    }
    let expanded = formula.expand();
    if expanded.iter().all(|row| row.percent.typical.is_some()) {
        assert_eq!(expanded.into_iter().filter_map(|row| row.percent.typical).sum::<Exact>(), Exact::hundred());
    }
    assert!(formula.difference(&formula).lines.iter().all(|row| row.before == row.after));
    accepted(formula.to_material("again", tenside::material::Form::Paste));
}
