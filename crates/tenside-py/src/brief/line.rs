//! The lines of a brief: what each raw material may take.

use indexmap::IndexMap;
use pyo3::prelude::*;
use rust_decimal::Decimal;
use std::sync::Arc;
use tenside::brief::{BriefLine, Role};
use tenside::error::{Fault, FaultKind};
use tenside::formula::Purpose;
use tenside::number::Ppm;

use crate::brief::Brief;
use crate::convert::failure::Outcome;
use crate::convert::input::{AMass, Names, Number};
use crate::convert::table::Rows;
use crate::convert::word::{Word, Words, words};
use crate::material::lot::ALot;
use crate::material::{AMaterial, Material};
record! {
    "tenside.brief",
    /// A raw material in a brief and the percentages it may have.
    BriefRow of &BriefLine, |line| {
        /// Its name.
        name: String = line.name().to_string(),
        /// Its raw material, typical or a lot.
        material: Material = Material(Arc::clone(line.material())),
        /// Its phase.
        phase: String = line.phase().to_string(),
        /// In words: "fixed at 1.5 %", "to 100 %".
        role: String = line.role().words(),
        /// The lowest percentage.
        low: Decimal = line.role().range().0.decimal_percent(),
        /// The highest percentage.
        high: Decimal = line.role().range().1.decimal_percent(),
        /// The groups it belongs to, splits included.
        groups: Vec<String> = line.groups().to_vec(),
        /// What it is there for; empty if that is not stated.
        purposes: Vec<Word<Purpose>> = words(line.purposes()),
    }
}

getters!(Brief {
    /// Its lines.
    lines: Rows<BriefRow> = |it| it.lines().iter().map(BriefRow::from).collect();
});

impl Brief {
    fn with_line(&self, name: Option<&str>, material: AMaterial, role: Role) -> Outcome<(Self, String)> {
        let material = material.find(self.0.catalogue())?;
        let name = name.unwrap_or(material.id()).to_string();
        Ok((Brief(self.0.clone().line(BriefLine::new(&name, material, role)?)?), name))
    }
}

#[pymethods]
impl Brief {
    /// With a raw material fixed at a percentage as supplied.
    /// It is `percent` of the product.
    fn fix(&self, material: AMaterial, percent: Number) -> Outcome<Self> {
        Ok(self.with_line(None, material, Role::Fixed(percent.ppm()?))?.0)
    }

    /// With a raw material between two percentages as supplied.
    /// From `low` to `high` percent.
    fn between(&self, material: AMaterial, low: Number, high: Number) -> Outcome<Self> {
        Ok(self.with_line(None, material, Role::between(low.ppm()?, high.ppm()?)?)?.0)
    }

    /// With a raw material that is either absent or between two percentages as supplied; `choose` decides.
    /// `low` and `high` are percent as supplied.
    ///
    /// >>> td.Brief("Bar", td.Catalogue.starter()).absent_or_between("cetyl-alcohol", 2, 6).lines[0].role
    /// 'absent or between 2 and 6 %'
    fn absent_or_between(&self, material: AMaterial, low: Number, high: Number) -> Outcome<Self> {
        Ok(self.with_line(None, material, Role::absent_or_between(low.ppm()?, high.ppm()?)?)?.0)
    }

    /// With at most so many lines of a group present, a split's or one that `group` names; `choose` decides which.
    ///
    /// >>> brief = td.Brief("Bar", td.Catalogue.starter()).free("capb-30").free("coco-glucoside-50")
    /// >>> brief.group("co-surfactants", ["capb-30", "coco-glucoside-50"]).at_most_of("co-surfactants", 1).at_most_of_groups
    /// {'co-surfactants': 1}
    fn at_most_of(&self, group: &str, most: usize) -> Outcome<Self> {
        Ok(Brief(self.0.clone().at_most_of(group, most)?))
    }

    /// With its choices made by hand: of the lines that may be absent or belong to a limited group, `lines` are in, the
    /// others fixed at 0. What is decided so can be solved and swept like any brief.
    ///
    /// >>> brief = td.Brief("Bar", td.Catalogue.starter()).absent_or_between("capb-30", 2, 10).qs("kaolin")
    /// >>> [line.role for line in brief.with_present("capb-30").lines], [line.role for line in brief.with_present([]).lines]
    /// (['between 2 and 10 %', 'to 100 %'], ['fixed at 0 %', 'to 100 %'])
    fn with_present(&self, lines: Names) -> Outcome<Self> {
        Ok(Brief(self.0.with_present(&lines.each())?))
    }

    /// With a raw material that may take any percentage.
    fn free(&self, material: AMaterial) -> Outcome<Self> {
        Ok(self.with_line(None, material, Role::Free)?.0)
    }

    /// With the raw material that fills to 100.
    fn qs(&self, material: AMaterial) -> Outcome<Self> {
        Ok(self.with_line(None, material, Role::Qs)?.0)
    }

    /// With a line that has a name of its own: fixed, between two percentages (or absent), filling to 100, or free.
    /// Its `material`, or a `lot` of it; percentages from `low` to `high`, with `or_absent` also none.
    ///
    /// >>> brief = td.Brief("Two clays", td.Catalogue.starter()).line("on top", "kaolin", phase="cool-down", fix=2).qs("kaolin")
    /// >>> [(line.name, line.phase, line.role) for line in brief.lines]
    /// [('on top', 'cool-down', 'fixed at 2 %'), ('kaolin', 'powder', 'to 100 %')]
    #[pyo3(signature = (name, material, *, phase=None, lot=None, fix=None, low=None, high=None, or_absent=false, qs=false))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn line(
        &self,
        name: &str,
        material: AMaterial,
        phase: Option<&str>,
        lot: Option<ALot>,
        fix: Option<Number>,
        low: Option<Number>,
        high: Option<Number>,
        or_absent: bool,
        qs: bool,
    ) -> Outcome<Self> {
        let role = role(name, fix, low, high, or_absent, qs)?;
        let (mut brief, name) = self.with_line(Some(name), material, role)?;
        if let Some(phase) = phase {
            brief = brief.in_phase(&name, phase)?;
        }
        lot.map_or_else(|| Ok(brief.clone()), |lot| brief.use_lot(&name, lot))
    }

    /// With lines joined into a named group, for scopes of measures.
    /// `name` is the group's.
    fn group(&self, name: &str, lines: Names) -> Outcome<Self> {
        Ok(Brief(self.0.clone().group(name, &lines.each())?))
    }

    /// With a line moved to another phase.
    fn in_phase(&self, line: &str, phase: &str) -> Outcome<Self> {
        Ok(Brief(self.0.clone().in_phase(line, phase)?))
    }

    /// With what a line is there for stated, all of it. Some limits are those of one purpose only.
    ///
    /// >>> brief = td.Brief("Scalp", td.Catalogue.starter()).fix("salicylic-acid", 2).qs("kaolin")
    /// >>> brief.with_purposes("salicylic-acid", "anti-dandruff").lines[0].purposes
    /// ['anti-dandruff']
    fn with_purposes(&self, line: &str, purposes: Words<Purpose>) -> Outcome<Self> {
        Ok(Brief(self.0.clone().with_purposes(line, &purposes.0)?))
    }

    /// With a lot, or one of the catalogue by its name, for a line.
    ///
    /// >>> lot = td.Lot("W-27", "capb-30", active=29.1, method="titrated")
    /// >>> brief = td.Brief("Wash", td.Catalogue.starter()).fix("capb-30", 10).qs("kaolin").use_lot("capb-30", lot)
    /// >>> brief.lines[0].material
    /// <Material "capb-30", lot "W-27">
    fn use_lot(&self, line: &str, lot: ALot) -> Outcome<Self> {
        Ok(Brief(self.0.clone().use_lot(line, &lot.find(self.0.catalogue())?)?))
    }

    /// With what is in stock, `entries` being lots or material ids: a material serves all its lines, a lot the lines
    /// that name it and, if it is the only one of its material, those that name none; lines that nothing serves are
    /// required to be 0. Of those in `amounts`, masses by lot or id, the lines take no more together in a `batch` of
    /// which so much is weighed in.
    ///
    /// >>> brief = td.Brief("Plain bar", td.Catalogue.starter()).between("sci-powder", 40, 90).between("kaolin", 10, 60)
    /// >>> float(brief.in_stock("kaolin", amounts={"sci-powder": "900 g"}, batch="2 kg").solve().exact["sci-powder"])
    /// 45.0
    #[pyo3(signature = (*entries: "str", amounts=None, batch=None))]
    fn in_stock(
        &self,
        entries: Vec<String>,
        amounts: Option<IndexMap<String, AMass>>,
        batch: Option<AMass>,
    ) -> Outcome<Self> {
        let named = entries.iter().map(String::as_str);
        let brief = self.0.clone();
        Ok(Brief(match (amounts, batch) {
            (None, None) => brief.in_stock(&named.collect::<Vec<_>>())?,
            (Some(amounts), Some(batch)) => {
                let limited = amounts.iter().map(|(entry, mass)| (entry.as_str(), Some(mass.0.clone())));
                brief.in_stock_of(&batch.0, &named.map(|entry| (entry, None)).chain(limited).collect::<Vec<_>>())?
            }
            _ => {
                let fault =
                    Fault::new(FaultKind::Missing, "amounts in stock and the batch that they are for go together");
                return Err(fault.allowed("amounts= and batch=, or neither").into());
            }
        }))
    }

    /// With another role for a line: fixed, between two percentages (or absent), filling to 100, or free.
    /// `or_absent` lets it be absent too.
    ///
    /// >>> brief = td.Brief("Plain", td.Catalogue.starter()).fix("sci-powder", 50).qs("kaolin")
    /// >>> brief.change_line("sci-powder", low=40, high=60).lines[0].role
    /// 'between 40 and 60 %'
    #[pyo3(signature = (line, *, fix=None, low=None, high=None, or_absent=false, qs=false))]
    fn change_line(
        &self,
        line: &str,
        fix: Option<Number>,
        low: Option<Number>,
        high: Option<Number>,
        or_absent: bool,
        qs: bool,
    ) -> Outcome<Self> {
        Ok(Brief(self.0.clone().change_line(line, role(line, fix, low, high, or_absent, qs)?)?))
    }

    /// Without a line; a line that a split needs stays.
    fn drop_line(&self, line: &str) -> Outcome<Self> {
        Ok(Brief(self.0.clone().drop_line(line)?))
    }
}

/// What a line's percentage may be, as keywords say it.
fn role(
    line: &str,
    fix: Option<Number>,
    low: Option<Number>,
    high: Option<Number>,
    or_absent: bool,
    qs: bool,
) -> Outcome<Role> {
    let end = |end: Option<Number>, absent: Ppm| end.map_or(Ok(absent), |end| end.ppm());
    if or_absent {
        return match (fix, low, high, qs) {
            (None, Some(low), high, false) => Ok(Role::absent_or_between(low.ppm()?, end(high, Ppm::WHOLE)?)?),
            _ => Err(Fault::new(
                FaultKind::Contradiction,
                "a line that may be absent states its least dose as low, and besides it only high",
            )
            .at(line)
            .into()),
        };
    }
    match (fix, low, high, qs) {
        (None, None, None, false) => Ok(Role::Free),
        (None, None, None, true) => Ok(Role::Qs),
        (Some(percent), None, None, false) => Ok(Role::Fixed(percent.ppm()?)),
        (None, low, high, false) => Ok(Role::between(end(low, Ppm::ZERO)?, end(high, Ppm::WHOLE)?)?),
        _ => Err(Fault::new(FaultKind::Contradiction, "a line is fixed, between two percentages, or fills to 100")
            .at(line)
            .into()),
    }
}
