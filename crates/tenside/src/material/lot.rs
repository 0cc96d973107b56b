//! A lot of a raw material: what its certificate of analysis states replaces the typical values.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::{Composition, Constituent, Declaration, Material};
use crate::document::{check_name, shown};
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Date, Exact, HalfWay, Ppm};
use crate::substance::{Class, Substance, UNSPECIFIED, Volatility};

/// The few things a certificate of analysis states; percentages of the lot.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Certificate {
    /// Active matter.
    pub active: Option<StatedActive>,
    /// Solids.
    pub solids: Option<Ppm>,
    /// Loss on drying: a hundred less the solids.
    pub loss_on_drying: Option<Ppm>,
    /// Salt.
    pub salt: Option<Ppm>,
    /// Free fatty acid.
    pub free_fatty_acid: Option<Ppm>,
    /// pH as measured by the supplier.
    pub ph: Option<Decimal>,
    /// The date by which the lot is to be tested again.
    pub retest: Option<Date>,
}

/// Active matter as a certificate states it.
#[derive(Clone, Debug, PartialEq)]
pub struct StatedActive {
    /// Percent of the lot.
    pub percent: Ppm,
    /// How it was found.
    pub method: String,
    /// The molar mass in g/mol that the result was calculated with, if stated.
    pub molar_mass: Option<Decimal>,
}

/// A lot with its certificate.
#[derive(Clone, Debug, PartialEq)]
pub struct Lot {
    id: String,
    material: String,
    certificate: Certificate,
}

getters!(Lot {
    /// What the lot is called.
    id: &str,
    /// The id of its material.
    material: &str,
    /// What is stated of it.
    certificate: &Certificate,
});

impl Lot {
    /// A lot of the material with that id.
    ///
    /// # Errors
    /// A bad name of the lot or of the method.
    pub fn new(id: &str, material: &str, mut certificate: Certificate) -> Result<Self, Error> {
        if let Some(active) = &mut certificate.active {
            active.method = check_name(&active.method)?;
        }
        Ok(Lot { id: check_name(id)?, material: material.to_string(), certificate })
    }
}

/// A share that the certificate changed.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct CertificateChange {
    /// Whose.
    pub constituent: String,
    /// The typical share.
    pub typical: Ppm,
    /// The lot's share.
    pub lot: Ppm,
    /// True for the constituent that takes the difference.
    pub takes_difference: bool,
    /// True where the lot's share lies outside the range stated for the material.
    pub outside_range: bool,
}

impl Material {
    /// This material as one lot of it, and what changed.
    ///
    /// A group the certificate states (actives, salts, fatty acids) is scaled as a whole, its members keeping their
    /// proportions. The active matter of a raw material in which nothing counts as active is that of its surfactants,
    /// as of a quat, else the one substance that it is named for, as of a preservative's assay. Water follows from
    /// solids or loss on drying. The rest goes to the constituent named for it, or to `unspecified` where the
    /// certificate settles that one too.
    ///
    /// # Errors
    /// A lot of another material, a premix or bounded composition, a stated group that the material does not have, and
    /// contradictions.
    pub fn with_lot(&self, lot: &Arc<Lot>) -> Result<(Material, Vec<CertificateChange>), Error> {
        if let Some(typical) = self.typical() {
            return typical.with_lot(lot);
        }
        let place = format!("lot {:?}", lot.id);
        if lot.material != self.id {
            return Err(Fault::new(FaultKind::Contradiction, "the lot belongs to another material")
                .at(place)
                .value(shown(&lot.material))
                .allowed(&self.id)
                .into());
        }
        let Composition::Stated(typical) = &self.composition else {
            return Err(Fault::new(FaultKind::Unsupported, "a lot needs a material with typical shares")
                .at(place)
                .value(&self.id)
                .into());
        };
        let rows = apply(typical, &lot.certificate, self.difference_to()).map_err(|error| error.within(&place))?;
        let changes = changes(typical, &rows, self.difference_to());
        let mut material = self.clone();
        material.composition = Composition::stated(rows).map_err(|error| error.within(&place))?;
        material.lot =
            Some(super::LotOf { lot: Arc::clone(lot), typical: Arc::new(self.clone()), changes: changes.clone() });
        Ok((material, changes))
    }
}

/// What the active matter of a certificate is: what counts as active; of a raw material without any its surfactants, as
/// quats are titrated; of one without surfactants the one substance that it is named for, as a preservative is assayed.
fn active_of(rows: &[Constituent]) -> Vec<bool> {
    let of =
        |member: &dyn Fn(&Substance) -> bool| -> Vec<bool> { rows.iter().map(|row| member(&row.substance)).collect() };
    let named = |substance: &Substance| !substance.is_unspecified() && !substance.is_water();
    let alone = of(&named).into_iter().filter(|is_named| *is_named).count() == 1;
    let candidates = [of(&Substance::counts_as_active), of(&|substance| substance.class().is_surfactant())];
    let found = candidates.into_iter().find(|members| members.contains(&true));
    found.unwrap_or_else(|| if alone { of(&named) } else { vec![false; rows.len()] })
}

fn is_salt(row: &Substance) -> bool {
    row.class() == Class::Salt && !row.counts_as_active()
}

fn is_fatty_acid(row: &Substance) -> bool {
    row.class() == Class::FattyAcid && !row.counts_as_active()
}

fn is_volatile_but_water(row: &Substance) -> bool {
    row.volatility() == Volatility::Volatile && !row.is_water()
}

fn apply(typical: &[Constituent], certificate: &Certificate, difference_to: &str) -> Result<Vec<Constituent>, Error> {
    let mut faults = Vec::new();
    let volatile = volatile_share(certificate, &mut faults);
    if let (Some(active), Some(volatile)) = (&certificate.active, volatile)
        && active.percent.parts() > Ppm::WHOLE.parts() - volatile.parts()
    {
        let solids = Exact::hundred() - volatile.percent();
        faults.push(
            Fault::new(FaultKind::Contradiction, "more active matter than solids")
                .value(active.percent)
                .allowed(format!("at most the solids, {solids} %")),
        );
    }
    let mut rows = typical.to_vec();
    let mut settled = vec![false; rows.len()];
    let mut scale = |name: &str, stated: Option<Ppm>, members: &[bool]| {
        if let Some(Err(error)) = stated.map(|stated| scale_group(&mut rows, &mut settled, stated, members)) {
            faults.extend(error.into_faults().into_iter().map(|fault| fault.at(name)));
        }
    };
    let of =
        |member: fn(&Substance) -> bool| -> Vec<bool> { typical.iter().map(|row| member(&row.substance)).collect() };
    let is_active = active_of(typical);
    scale("active matter", certificate.active.as_ref().map(|active| active.percent), &is_active);
    scale("salt", certificate.salt, &of(is_salt));
    scale("free fatty acid", certificate.free_fatty_acid, &of(is_fatty_acid));
    if let Some(volatile) = volatile {
        let others: u32 = rows
            .iter()
            .filter(|row| is_volatile_but_water(&row.substance))
            .filter_map(|row| row.typical)
            .map(Ppm::parts)
            .sum();
        match (rows.iter().position(|row| row.substance.is_water()), volatile.parts().checked_sub(others)) {
            (_, None) => faults.push(
                Fault::new(
                    FaultKind::Contradiction,
                    "the certificate states less loss on drying than the volatile constituents",
                )
                .value(volatile),
            ),
            (Some(water), Some(rest)) => settle(&mut rows[water], &mut settled[water], Ppm::from_parts(rest)?),
            (None, Some(0)) => {}
            (None, Some(_)) => faults.push(
                Fault::new(FaultKind::Missing, "the certificate states water but the material lists none")
                    .value(volatile)
                    .remedy("add water to the material's composition"),
            ),
        }
    }
    Error::check(faults, ())?;
    if let Some(active) = &certificate.active {
        for (row, _) in rows.iter_mut().zip(is_active).filter(|(_, is_active)| *is_active) {
            row.lot_molar_mass = active.molar_mass;
        }
    }
    take_difference(&mut rows, &mut settled, difference_to)?;
    Ok(rows)
}

/// Percent that leaves on drying, from solids and loss on drying, which must agree within the last digits stated.
fn volatile_share(certificate: &Certificate, faults: &mut Vec<Fault>) -> Option<Ppm> {
    let from_solids = certificate.solids.and_then(|solids| Ppm::from_parts(Ppm::WHOLE.parts() - solids.parts()).ok());
    match (from_solids, certificate.loss_on_drying) {
        (Some(left), Some(right)) => {
            let last_digit = |value: Ppm| {
                Exact::from(1)
                    / (0..value.decimal_percent().scale()).fold(Exact::ONE, |scale, _| scale * Exact::from(10))
            };
            let room = (last_digit(left) + last_digit(right)) / Exact::from(2);
            if (left.percent() - right.percent()).abs() > room {
                let sum = Exact::hundred() - left.percent() + right.percent();
                faults.push(
                    Fault::new(FaultKind::Contradiction, "solids and loss on drying do not sum to 100 %")
                        .value(sum)
                        .allowed("100 % within the last digit stated"),
                );
            }
            Some(left)
        }
        (left, right) => left.or(right),
    }
}

fn settle(row: &mut Constituent, settled: &mut bool, share: Ppm) {
    (row.typical, row.stated_low, row.stated_high) = (Some(share), Some(share), Some(share));
    (row.low, row.high) = (Some(share), Some(share));
    *settled = true;
}

/// Sets the sum of a group, its members keeping their proportions; the largest member takes the rounding rest.
fn scale_group(rows: &mut [Constituent], settled: &mut [bool], stated: Ppm, members: &[bool]) -> Result<(), Error> {
    let members: Vec<usize> = (0..rows.len()).filter(|index| members[*index]).collect();
    let shares: Vec<Exact> = members.iter().map(|index| rows[*index].typical.unwrap_or(Ppm::ZERO).percent()).collect();
    let sum: Exact = shares.iter().sum();
    if members.is_empty() || sum.is_zero() {
        if stated.is_zero() {
            return Ok(());
        }
        return Err(Fault::new(
            FaultKind::Missing,
            "the certificate states it but the material's composition lists none",
        )
        .value(stated)
        .remedy("add it to the composition of the material")
        .into());
    }
    let largest = (0..members.len()).fold(0, |best, index| if shares[index] > shares[best] { index } else { best });
    let mut left = i64::from(stated.parts());
    for (position, index) in members.iter().enumerate().filter(|(position, _)| *position != largest) {
        let parts =
            (&shares[position] * stated.percent() / &sum * Exact::from(10_000)).round_i64(HalfWay::ToEven).unwrap_or(0);
        left -= parts;
        settle(&mut rows[*index], &mut settled[*index], Ppm::from_parts(u32::try_from(parts).unwrap_or(0))?);
    }
    let index = members[largest];
    settle(&mut rows[index], &mut settled[index], Ppm::from_parts(u32::try_from(left).unwrap_or(0))?);
    Ok(())
}

fn take_difference(rows: &mut Vec<Constituent>, settled: &mut Vec<bool>, difference_to: &str) -> Result<(), Error> {
    let sum: i64 = rows.iter().filter_map(|row| row.typical).map(|share| i64::from(share.parts())).sum();
    let difference = i64::from(Ppm::WHOLE.parts()) - sum;
    if difference == 0 {
        return Ok(());
    }
    let open = |rows: &[Constituent], settled: &[bool], name: &str| {
        rows.iter().zip(settled).position(|(row, settled)| row.substance.inci() == name && !settled)
    };
    let taker = match open(rows, settled, difference_to).or_else(|| open(rows, settled, UNSPECIFIED)) {
        Some(taker) => taker,
        None => {
            rows.push(Constituent::typical(Substance::unspecified(), Ppm::ZERO).with_declaration(Declaration::Ask));
            settled.push(false);
            rows.len() - 1
        }
    };
    let row = &mut rows[taker];
    let share = i64::from(row.typical.unwrap_or(Ppm::ZERO).parts()) + difference;
    let Some(share) = u32::try_from(share).ok() else {
        return Err(Fault::new(
            FaultKind::Contradiction,
            "the certificate's figures leave less than 0 % for the other constituents",
        )
        .value(format!("{} would have to be {} %", row.substance.inci(), Exact::ratio(share, 10_000)))
        .allowed("figures that sum to at most 100 %")
        .remedy("check the certificate; a weak grade may need its own material")
        .into());
    };
    // What it can be now follows from the others.
    (row.typical, row.stated_low, row.stated_high, row.low, row.high) =
        (Some(Ppm::from_parts(share)?), None, None, None, None);
    Ok(())
}

fn changes(typical: &[Constituent], rows: &[Constituent], difference_to: &str) -> Vec<CertificateChange> {
    let mut changes = Vec::new();
    for (index, row) in rows.iter().enumerate() {
        let before = typical.get(index);
        let typical_share = before.and_then(|row| row.typical).unwrap_or(Ppm::ZERO);
        let lot = row.typical.unwrap_or(Ppm::ZERO);
        if lot != typical_share {
            changes.push(CertificateChange {
                constituent: row.substance.inci().to_string(),
                typical: typical_share,
                lot,
                takes_difference: row.stated_low.is_none()
                    && (row.substance.inci() == difference_to || row.substance.is_unspecified()),
                outside_range: before.is_some_and(|before| {
                    before.stated_low.is_some_and(|low| lot < low) || before.stated_high.is_some_and(|high| lot > high)
                }),
            });
        }
    }
    changes
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::Form;

    fn percent(text: &str) -> Ppm {
        Ppm::from_percent(text).unwrap()
    }

    fn isethionate() -> Material {
        let row = |name: &str, class, active, share: &str| {
            Constituent::typical(
                Arc::new(Substance::new(name, class).unwrap().counting_as_active(active)),
                percent(share),
            )
        };
        let composition = Composition::stated(vec![
            row("SODIUM COCOYL ISETHIONATE", Class::AnionicSurfactant, true, "84"),
            row("STEARIC ACID", Class::FattyAcid, false, "8"),
            row("WATER", Class::Water, false, "2"),
            Constituent::typical(Substance::unspecified(), percent("6")),
        ])
        .unwrap();
        Material::new("sci", "Sodium cocoyl isethionate", Form::Powder, composition).unwrap()
    }

    fn lot(certificate: Certificate) -> Arc<Lot> {
        Arc::new(Lot::new("A1", "sci", certificate).unwrap())
    }

    fn active(text: &str) -> Option<StatedActive> {
        Some(StatedActive { percent: percent(text), method: "titrated".into(), molar_mass: None })
    }

    #[test]
    fn a_weak_grade_carries_its_stearic_acid() {
        let certificate =
            Certificate { active: active("60"), free_fatty_acid: Some(percent("25")), ..Certificate::default() };
        let (material, changes) = isethionate().with_lot(&lot(certificate)).unwrap();
        assert_eq!(material.active().unwrap().percent(), &Exact::from(60));
        assert_eq!(material.composition().unspecified(), percent("13"));
        assert_eq!(changes.len(), 3);
        assert!(changes[2].takes_difference);
    }

    #[test]
    fn contradictions_are_refused() {
        for certificate in [
            Certificate { active: active("90"), solids: Some(percent("80")), ..Certificate::default() },
            Certificate { active: active("95"), free_fatty_acid: Some(percent("10")), ..Certificate::default() },
            Certificate { solids: Some(percent("98")), loss_on_drying: Some(percent("5")), ..Certificate::default() },
            Certificate { salt: Some(percent("1")), ..Certificate::default() },
        ] {
            let error = isethionate().with_lot(&lot(certificate)).unwrap_err();
            assert!(error.is_contradiction() || error.is_missing(), "{error}");
        }
        let other = Arc::new(Lot::new("A1", "other", Certificate::default()).unwrap());
        assert!(isethionate().with_lot(&other).is_err());
    }

    #[test]
    fn solids_and_loss_on_drying_may_differ_by_their_last_digit() {
        let certificate = Certificate {
            solids: Some(percent("97.9")),
            loss_on_drying: Some(percent("2.1")),
            ..Certificate::default()
        };
        let (material, _) = isethionate().with_lot(&lot(certificate)).unwrap();
        assert_eq!(material.composition().constituents()[2].share(), Some(percent("2.1")));
    }
}
