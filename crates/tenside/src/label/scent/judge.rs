//! The answers: each entry's amount against the threshold, in the product as sold.

use super::super::content::{Amount, Content, MILLION, Share};
use super::super::rules::rules;
use super::super::{LabelRequest, ScentDeclaration, ScentEntry};
use super::drying::{Drying, Factor};
use super::source::{Carrier, carriers};
use super::{KeepsOff, ScentAnswer, ScentReport, ScentRow};
use crate::catalogue::unknown_material;
use crate::error::Error;
use crate::number::{FixedPoint, Ppm};

/// What an entry is judged by.
struct Judge<'f> {
    content: &'f Content<'f>,
    drying: &'f Drying,
    threshold: FixedPoint,
    newer_required: bool,
}

/// The report, and the amount of each of its rows.
pub(in crate::label) fn report(
    content: &Content<'_>,
    drying: &Drying,
    request: &LabelRequest,
) -> Result<(ScentReport, Vec<Amount>), Error> {
    let rule = &rules(request.market).scent;
    let newer_until = rule.newer_until(request.placing);
    check_names(content, &request.declarations)?;
    let mut report = ScentReport {
        state: rule.state.clone(),
        moisture: request.moisture.clone(),
        is_liquid: request.is_liquid(),
        drying: drying.clone(),
        threshold: rule.threshold(request.contact),
        newer_until,
        newer_required: newer_until.is_none_or(|until| request.on > until),
        source: rule.source.clone(),
        rows: Vec::new(),
        to_ask: Vec::new(),
        rest: ScentAnswer::Unknown,
        rest_share: Share::new(Amount::nothing(), content),
    };
    let Some(threshold) = report.threshold else { return Ok((report, Vec::new())) };
    let carriers = carriers(content, request);
    let judge =
        Judge { content, drying, threshold: content.share(threshold.parts()), newer_required: report.newer_required };
    let mut unlisted = Amount::nothing();
    let mut places: Vec<usize> = Vec::new();
    for source in carriers.iter().flat_map(|carrier| &carrier.sources) {
        unlisted.add(&source.unlisted);
        places.extend(source.listed.iter().map(|listed| listed.place));
        if source.is_open && !report.to_ask.iter().any(|known| known == source.id) {
            report.to_ask.push(source.id.to_string());
        }
    }
    report.rest = if judge.exceeds(&unlisted.high, &drying.high) { ScentAnswer::Unknown } else { ScentAnswer::Below };
    report.rest_share = Share::new(unlisted, content);
    places.sort_unstable();
    places.dedup();
    let mut rows: Vec<(ScentRow, Amount)> = places.into_iter().map(|place| judge.row(place, &carriers)).collect();
    // Certain first, then possible; within an answer they stand by number already.
    rows.sort_by_key(|(row, _)| row.answer);
    let (rows, amounts) = rows.into_iter().unzip();
    report.rows = rows;
    Ok((report, amounts))
}

fn check_names(content: &Content<'_>, declarations: &[ScentDeclaration]) -> Result<(), Error> {
    let known = || content.parts.iter().flat_map(|part| [part.line.material().id(), part.material.id()]);
    let unknown = declarations.iter().map(ScentDeclaration::material).filter(|id| !known().any(|name| name == *id));
    Error::check(
        unknown.map(|id| unknown_material("raw material of this formula", id, known()).at("declarations")).collect(),
        (),
    )
}

impl Judge<'_> {
    fn exceeds(&self, amount: &FixedPoint, factor: &Factor) -> bool {
        amount.product(&factor.0) > self.threshold.product(&factor.1)
    }

    fn row(&self, place: usize, carriers: &[Carrier<'_>]) -> (ScentRow, Amount) {
        let entry = &ScentEntry::all()[place];
        // All there can be, and what is known of it.
        let (mut amount, mut known) = (Amount::nothing(), Amount::nothing());
        let mut materials: Vec<String> = Vec::new();
        for carrier in carriers {
            for source in &carrier.sources {
                amount.add(source.amount(place));
                for listed in source.listed.iter().filter(|listed| listed.place == place) {
                    known.add(&listed.amount);
                    if !materials.iter().any(|known| known == carrier.material.id()) {
                        materials.push(carrier.material.id().to_string());
                    }
                }
            }
        }
        let answer = if self.exceeds(&amount.low, &self.drying.low) {
            ScentAnswer::Certain
        } else if !self.exceeds(&amount.high, &self.drying.high) {
            ScentAnswer::Below
        } else if self.exceeds(&known.high, &self.drying.high) {
            ScentAnswer::Possible
        } else {
            ScentAnswer::Unknown
        };
        // What is known is the least that there typically is.
        let typically_over = known.typical.as_ref().is_some_and(|typical| self.exceeds(typical, &self.drying.typical));
        let keeps_off = match answer {
            ScentAnswer::Certain | ScentAnswer::Possible => {
                carriers.iter().filter_map(|carrier| self.keeps_off(place, carrier, &amount)).collect()
            }
            ScentAnswer::Below | ScentAnswer::Unknown => Vec::new(),
        };
        let required = !entry.is_newer() || self.newer_required;
        let share = Share::new(amount.clone(), self.content);
        (ScentRow { entry, answer, required, share, typically_over, materials, keeps_off }, amount)
    }

    /// `most = (threshold / f - what the others bring) / what one ppm of it brings`, everything at its worst, rounded
    /// down.
    fn keeps_off(&self, place: usize, carrier: &Carrier<'_>, all: &Amount) -> Option<KeepsOff> {
        let mut own = Amount::nothing();
        for listed in carrier.sources.iter().flat_map(|source| &source.listed).filter(|listed| listed.place == place) {
            own.add(&listed.amount);
        }
        if own.high.is_zero() {
            return None;
        }
        let others = all.high.less(&own.high).unwrap_or_default();
        let (above, below) = &self.drying.high;
        let room = self.threshold.product(below).less(&others.product(above));
        let one = own.high.product(above);
        let most = room.and_then(|room| room.times(carrier.parts).holds(&one)).map(|ppm| ppm.min(MILLION));
        let most = most.and_then(|ppm| Ppm::from_parts(u32::try_from(ppm).ok()?).ok());
        Some(KeepsOff { material: carrier.material.id().to_string(), most, typical_only: !own.high_stated })
    }
}
