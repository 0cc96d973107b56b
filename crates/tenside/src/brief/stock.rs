//! What is in stock: which raw materials there are, and how much of them.

use std::sync::Arc;

use super::requirement::Requirement;
use super::{Brief, BriefLine};
use crate::error::{Error, Fault, FaultKind};
use crate::material::Lot;
use crate::measure::{Measure, Scope};
use crate::number::{Exact, Mass};

impl Brief {
    /// With what is in stock. Entries are lot names or material ids of the catalogue: a material serves all its lines, a
    /// lot the lines that name it and, if it is the only one of its material, those that name none. Every line that
    /// nothing serves is required to be 0. Called again, it says anew which lines these are.
    ///
    /// # Errors
    /// An unknown entry, and two lots for a line that names none (say with [`Brief::use_lot`] which it takes).
    pub fn in_stock(self, entries: &[&str]) -> Result<Self, Error> {
        let stocked = entries.iter().map(|entry| Stocked::find(&self, entry)).collect::<Result<Vec<_>, _>>()?;
        self.served_by(&stocked)
    }

    /// With so much of each of these raw materials in stock for a batch of which so much is weighed in: the lines of
    /// each take no more of it together, `None` being more than enough, and every line whose material is not named is
    /// required to be 0. Entries are as those of [`Brief::in_stock`].
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// let brief = Brief::new("Plain bar", &Catalogue::starter())?.between("sci-powder", 40, 90)?.between("kaolin", 10, 60)?;
    /// let stocked = brief.in_stock_of(&"2 kg".parse()?, &[("sci-powder", Some("900 g".parse()?)), ("kaolin", None)])?;
    /// assert_eq!(stocked.requirements()[0].name(), "sci-powder: 900 g in stock");
    /// assert!(stocked.solve()?.exact()[0] <= tenside::number::Exact::from(45));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// Those of [`Brief::in_stock`], a batch of nothing, and what stands twice: a lot, or a raw material beside another
    /// entry of it.
    pub fn in_stock_of(self, batch: &Mass, entries: &[(&str, Option<Mass>)]) -> Result<Self, Error> {
        if batch.grams().is_zero() {
            let fault = Fault::new(FaultKind::OutOfRange, "the batch is 0")
                .value("0 g")
                .allowed("above 0 g, to a hundred tonnes");
            return Err(fault.remedy("state what is weighed in").into());
        }
        let mut stocked: Vec<Stocked> = Vec::with_capacity(entries.len());
        for (entry, _) in entries {
            let named = Stocked::find(&self, entry)?;
            if stocked.iter().any(|known| known.overlaps(&named)) {
                let fault = Fault::new(FaultKind::Duplicate, "a raw material stands twice in the stock")
                    .value(format!("{:?}", named.name()));
                return Err(fault.remedy("give what there is of it together, or lot by lot").into());
            }
            stocked.push(named);
        }
        let mut brief = self.served_by(&stocked)?;
        for (named, (_, mass)) in stocked.iter().zip(entries) {
            let lines: Vec<&str> = brief.lines.iter().filter(|line| named.serves(line)).map(BriefLine::name).collect();
            let most = mass.as_ref().map(|mass| (mass, mass.grams() * Exact::hundred() / batch.grams()));
            if let Some((mass, most)) = most.filter(|(_, most)| !lines.is_empty() && *most < Exact::hundred()) {
                let measure = Measure::as_supplied().contributed_by(Scope::lines(lines)?);
                let name = format!("{}: {mass} in stock", named.name());
                brief = brief.require(Requirement::at_most(measure, most)?.named(&name)?)?;
            }
        }
        Ok(brief)
    }

    /// Lines that name no lot take the one there is of their material; every line that nothing serves is required to
    /// be 0.
    fn served_by(mut self, stocked: &[Stocked]) -> Result<Self, Error> {
        for index in 0..self.lines.len() {
            let (line, material) = (self.lines[index].name().to_string(), self.lines[index].material());
            if material.lot().is_some() {
                continue;
            }
            let of_it = stocked.iter().filter(|named| named.material == material.id());
            let mut lots = of_it.filter_map(|named| named.lot.as_ref());
            let Some(lot) = lots.next() else { continue };
            if let Some(other) = lots.find(|other| other.id() != lot.id()) {
                return Err(Fault::new(FaultKind::Contradiction, "two lots are in stock for one line")
                    .at(format!("line {line:?}"))
                    .value(format!("{:?} and {:?}", lot.id(), other.id()))
                    .remedy("say with `use_lot` which of them the line takes; another lot stands on a line of its own")
                    .into());
            }
            self = self.use_lot(&line, lot)?;
        }
        for index in 0..self.lines.len() {
            let line = &self.lines[index];
            let name = format!("{} is not in stock", line.name());
            // What an earlier call said of the line: stock may have come in since.
            self.requirements.retain(|known| known.name() != name);
            if stocked.iter().any(|named| named.serves(line)) {
                continue;
            }
            let measure = Measure::as_supplied().contributed_by(Scope::lines([line.name()])?);
            self.requirements.push(Requirement::at_most(measure, Exact::ZERO)?.named(&name)?);
        }
        Ok(self)
    }
}

/// What is in stock: a raw material, or one lot of it.
struct Stocked {
    material: String,
    lot: Option<Arc<Lot>>,
}

impl Stocked {
    fn find(brief: &Brief, entry: &str) -> Result<Self, Error> {
        Ok(match brief.catalogue.lot(entry) {
            Ok(lot) => Stocked { material: lot.material().to_string(), lot: Some(Arc::clone(lot)) },
            Err(_) => Stocked { material: brief.catalogue.material(entry)?.id().to_string(), lot: None },
        })
    }

    fn name(&self) -> &str {
        self.lot.as_ref().map_or(&self.material, |lot| lot.id())
    }

    fn serves(&self, line: &BriefLine) -> bool {
        let material = line.material();
        let is_the_lot = |lot: &Arc<Lot>| material.lot().is_some_and(|own| own.id() == lot.id());
        material.id() == self.material && self.lot.as_ref().is_none_or(is_the_lot)
    }

    /// True where both could serve one line.
    fn overlaps(&self, other: &Stocked) -> bool {
        let are_two_lots = || matches!((&self.lot, &other.lot), (Some(one), Some(other)) if one.id() != other.id());
        self.material == other.material && !are_two_lots()
    }
}
