//! A dilution to weigh where a line is too small for its scale. It is offered, never applied.
//!
//! There is no table of solubilities behind it: watery goes into watery, oil into oil, powder into powder (common
//! practice, no source). Whoever mixes it tries a little first.

use super::weighing::Weighing;
use crate::material::Form;
use crate::number::{Exact, HalfWay, Mass, MassUnit};
use crate::substance::Class;

/// Parts of carrier to one part of material that are tried, the least first (common practice, no source).
const CARRIER_PARTS: [u32; 4] = [9, 19, 49, 99];

/// How the material goes into the carrier.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mixing {
    /// A liquid or soluble solid, dissolved or stirred in.
    Dissolve,
    /// A powder, rubbed out with another.
    RubOut,
}

/// One part of the material in so many parts of another line of the batch.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Dilution {
    /// How it is mixed.
    pub mixing: Mixing,
    /// The line it is diluted with, as the sheet names it.
    pub carrier: String,
    /// Parts of carrier to one part of material: 9 for `1+9`.
    pub parts: u32,
    /// The mass of material to weigh for the dilution.
    pub material_mass: Mass,
    /// The mass of carrier to weigh for the dilution.
    pub carrier_mass: Mass,
    /// The mass of dilution to weigh into the batch.
    pub portion: Mass,
    /// The mass of carrier that is then still to be weighed into the batch.
    pub carrier_left: Mass,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Watery,
    Oily,
    Powder,
}

/// Into what a material may go, the best first.
fn goes_into(weighing: &Weighing) -> &'static [Kind] {
    let material = weighing.line().material();
    let soluble = matches!(
        material.main_class(),
        Class::Acid
            | Class::Alkali
            | Class::BufferSalt
            | Class::Chelant
            | Class::Salt
            | Class::Preservative
            | Class::PreservativeBooster
            | Class::Humectant
            | Class::Vitamin
            | Class::Protein
    );
    match material.form() {
        Form::Liquid => &[Kind::Watery],
        Form::Oil => &[Kind::Oily],
        Form::Powder if soluble => &[Kind::Watery, Kind::Powder],
        Form::Granules | Form::Flakes | Form::Needles if soluble => &[Kind::Watery],
        Form::Powder => &[Kind::Powder],
        _ => &[],
    }
}

/// What carries it: a watery liquid, an oil, or a powder that can be rubbed without surfactant dust.
fn carries(weighing: &Weighing, kind: Kind) -> bool {
    let material = weighing.line().material();
    match kind {
        Kind::Watery => material.form() == Form::Liquid,
        Kind::Oily => material.form() == Form::Oil,
        Kind::Powder => {
            material.form() == Form::Powder
                && matches!(material.main_class(), Class::Clay | Class::Starch | Class::Mineral | Class::Salt)
        }
    }
}

/// The dilution with the largest fitting line of the same phase, else with the line that takes the rest, that makes
/// every weighing keep within what is tolerated and needs no more of the carrier than the batch itself; `None` if there
/// is none.
pub(super) fn offer(
    weighings: &[Weighing],
    small: usize,
    absorber: Option<usize>,
    tolerated: &Exact,
) -> Option<Dilution> {
    let weighing = &weighings[small];
    goes_into(weighing).iter().find_map(|&kind| {
        let may_carry = |index: usize| {
            let carrier = weighings[index].line().material();
            let corrosive = weighing.line().material().is_corrosive();
            index != small
                && carries(&weighings[index], kind)
                && !carrier.main_class().is_dosed_with_care()
                && (!corrosive || carrier.main_class() == Class::Water)
        };
        let mut carriers: Vec<usize> = (0..weighings.len())
            .filter(|&index| may_carry(index) && weighings[index].line().phase() == weighing.line().phase())
            .collect();
        carriers.sort_by(|&left, &right| weighings[right].exact().cmp(weighings[left].exact()).then(left.cmp(&right)));
        carriers.extend(absorber.filter(|&index| may_carry(index)));
        carriers.into_iter().find_map(|carrier| {
            CARRIER_PARTS.iter().find_map(|&parts| with_carrier(weighing, &weighings[carrier], parts, kind, tolerated))
        })
    })
}

fn with_carrier(small: &Weighing, carrier: &Weighing, parts: u32, kind: Kind, tolerated: &Exact) -> Option<Dilution> {
    let division = small.division().grams();
    let whole = Exact::from(parts) + Exact::ONE;
    // From this mass on, half a division is within what is tolerated.
    let least = |division: &Exact| division / (tolerated * Exact::from(2));
    let portion = (small.exact().grams() * &whole).rounded_to(division, HalfWay::ToEven);
    // The sum of the batch stays: what the portion brings beyond the line itself, the carrier's own line lacks.
    let left = (carrier.rounded().grams() - (&portion - small.rounded().grams()))
        .rounded_to(carrier.division().grams(), HalfWay::ToEven);
    let weighable = left.is_zero() || left >= least(carrier.division().grams());
    if portion < least(division) || left.is_negative() || !weighable {
        return None;
    }
    let material = up_to_whole(&least(division).max(&portion / &whole), division);
    let carrier_mass = &material * Exact::from(parts);
    if carrier_mass > *carrier.rounded().grams() {
        return None;
    }
    let mass = |grams: &Exact| Mass::new(grams, MassUnit::Gram).ok();
    Some(Dilution {
        mixing: if kind == Kind::Powder { Mixing::RubOut } else { Mixing::Dissolve },
        carrier: carrier.label(),
        parts,
        carrier_mass: mass(&carrier_mass)?,
        material_mass: mass(&material)?,
        portion: mass(&portion)?,
        carrier_left: mass(&left)?,
    })
}

/// The least multiple of `step` that is not below `value`.
pub(super) fn up_to_whole(value: &Exact, step: &Exact) -> Exact {
    let rounded = value.rounded_to(step, HalfWay::ToEven);
    if rounded < *value { rounded + step } else { rounded }
}
