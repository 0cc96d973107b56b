//! What is in stock: which raw materials there are, and how much of them.

use super::Brief;
use super::requirement::Requirement;
use crate::error::{Error, Fault, FaultKind};
use crate::measure::{Measure, Scope};
use crate::number::{Exact, Mass};

impl Brief {
    /// With what is in stock: lots are used on the lines of their material, and every line whose material is not named
    /// is required to be 0. Entries are lot names or material ids of the catalogue.
    ///
    /// # Errors
    /// An unknown entry, and two lots for one line (name the line and its lot with [`Brief::use_lot`] first).
    pub fn in_stock(mut self, entries: &[&str]) -> Result<Self, Error> {
        let mut stocked: Vec<String> = Vec::new();
        for entry in entries {
            match self.catalogue.lot(entry).ok().cloned() {
                Some(lot) => {
                    let names: Vec<String> = self
                        .lines
                        .iter()
                        .filter(|line| line.material().id() == lot.material())
                        .map(|line| line.name().to_string())
                        .collect();
                    for name in names {
                        let index = self.line_index(&name)?;
                        match self.lines[index].material().lot() {
                            Some(known) if known.id() == lot.id() => {}
                            Some(known) => {
                                return Err(Fault::new(FaultKind::Contradiction, "two lots are in stock for one line")
                                    .at(format!("line {name:?}"))
                                    .value(format!("{:?} and {:?}", known.id(), lot.id()))
                                    .remedy("give each lot a line of its own")
                                    .into());
                            }
                            None => self = self.use_lot(&name, &lot)?,
                        }
                    }
                    stocked.push(lot.material().to_string());
                }
                None => stocked.push(self.catalogue.material(entry)?.id().to_string()),
            }
        }
        self.not_in_stock(&stocked)
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
    /// Those of [`Brief::in_stock`], a batch of nothing, and a raw material that stands twice.
    pub fn in_stock_of(self, batch: &Mass, entries: &[(&str, Option<Mass>)]) -> Result<Self, Error> {
        if batch.grams().is_zero() {
            let fault = Fault::new(FaultKind::OutOfRange, "the batch is 0")
                .value("0 g")
                .allowed("above 0 g, to a hundred tonnes");
            return Err(fault.remedy("state what is weighed in").into());
        }
        let names: Vec<&str> = entries.iter().map(|(entry, _)| *entry).collect();
        let mut brief = self.in_stock(&names)?;
        let mut seen: Vec<String> = Vec::new();
        for (entry, mass) in entries {
            let id = match brief.catalogue.lot(entry) {
                Ok(lot) => lot.material().to_string(),
                Err(_) => brief.catalogue.material(entry)?.id().to_string(),
            };
            if seen.contains(&id) {
                let fault = Fault::new(FaultKind::Duplicate, "a raw material stands twice in the stock")
                    .value(format!("{id:?}"));
                return Err(fault.remedy("give what there is of it together").into());
            }
            let lines: Vec<&str> =
                brief.lines.iter().filter(|line| line.material().id() == id).map(super::BriefLine::name).collect();
            let most = mass.as_ref().map(|mass| (mass, mass.grams() * Exact::hundred() / batch.grams()));
            if let Some((mass, most)) = most.filter(|(_, most)| !lines.is_empty() && *most < Exact::hundred()) {
                let measure = Measure::as_supplied().contributed_by(Scope::lines(lines)?);
                brief =
                    brief.require(Requirement::at_most(measure, most)?.named(&format!("{id}: {mass} in stock"))?)?;
            }
            seen.push(id);
        }
        Ok(brief)
    }

    /// Every line whose material is not stocked is required to be 0.
    fn not_in_stock(mut self, stocked: &[String]) -> Result<Self, Error> {
        let absent: Vec<String> = self
            .lines
            .iter()
            .filter(|line| !stocked.iter().any(|id| id == line.material().id()))
            .map(|line| line.name().to_string())
            .collect();
        for name in absent {
            let measure = Measure::as_supplied().contributed_by(Scope::lines([name.as_str()])?);
            self.requirements
                .push(Requirement::at_most(measure, Exact::ZERO)?.named(&format!("{name} is not in stock"))?);
        }
        Ok(self)
    }
}
