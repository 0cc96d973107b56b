//! A brief: lines, splits, requirements and an objective; the question that [`solve`](crate::solve) answers.

mod choice;
mod document;
mod exchange;
#[cfg(feature = "history")]
mod history;
mod line;
mod lines;
mod objective;
mod page;
mod parameter;
mod purposes;
mod requirement;
mod split;
mod stock;
mod use_levels;
mod watched;

use std::sync::Arc;

pub use choice::AtMostOf;
pub(crate) use choice::Part;
pub use document::BriefDocument;
pub(crate) use document::read_brief;
pub use line::{BriefLine, Role};
use lines::Lines;
pub use objective::{Direction, Objective};
pub use parameter::Parameter;
pub use requirement::Requirement;
pub use split::{Split, SplitBasis};

use crate::bounds::Quantity;
use crate::catalogue::{Catalogue, PriceList};
use crate::document::{check_name, unknown_name};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{Formula, Phase, USUAL_ORDER, order_phases};
use crate::material::{Lot, Material, check_distinct, check_joins};
use crate::measure::{Basis, LineView, Measure, Names};
use crate::memo::Shelf;
use crate::number::{Exact, Ppm, ToExact};
use crate::substance::Attribute;
use crate::watch::Watched;

/// The question. Values are immutable: every method gives a new brief, and refuses what cannot be meant.
///
/// ```
/// use tenside::brief::{Brief, SplitBasis};
/// use tenside::catalogue::Catalogue;
/// use tenside::measure::Measure;
/// let brief = Brief::new("Plain bar", &Catalogue::starter())?
///     .split("wash", SplitBasis::Active, [("sci-powder", 14), ("scs-needles", 5), ("capb-30", 1)])?
///     .fix("panthenol", "1.5")?
///     .between("cetyl-alcohol", 3, 6)?
///     .qs("kaolin")?
///     .target(Measure::active_matter(), 58)?
///     .at_most(Measure::water(), 9)?;
/// let answer = brief.solve()?;
/// assert!(answer.verify().is_ok());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug)]
pub struct Brief {
    title: String,
    catalogue: Catalogue,
    prices: Option<Arc<PriceList>>,
    phases: Vec<Phase>,
    lines: Lines,
    splits: Vec<Split>,
    requirements: Vec<Requirement>,
    at_most_of: Vec<AtMostOf>,
    objective: Option<Objective>,
    watched: Watched,
}

getters!(Brief {
    /// Its title.
    title: &str,
    /// Its catalogue.
    catalogue: &Catalogue,
    /// Its price list.
    prices: Option<&Arc<PriceList>>,
    /// Its lines.
    lines: &[BriefLine],
    /// Its splits.
    splits: &[Split],
    /// Its requirements.
    requirements: &[Requirement],
    /// Its objective.
    objective: Option<&Objective>,
});

impl Brief {
    /// An empty brief over a catalogue.
    ///
    /// # Errors
    /// A bad title.
    pub fn new(title: &str, catalogue: &Catalogue) -> Result<Self, Error> {
        Ok(Brief {
            title: check_name(title)?,
            catalogue: catalogue.clone(),
            prices: None,
            phases: Vec::new(),
            lines: Lines::default(),
            splits: Vec::new(),
            requirements: Vec::new(),
            at_most_of: Vec::new(),
            objective: None,
            watched: Watched::default(),
        })
    }

    /// With the user's price list, its names looked up in the catalogue and among the lines. Names of the list before
    /// it are known too.
    ///
    /// # Errors
    /// What [`PriceList::with_ids_of`] refuses.
    pub fn with_prices(self, prices: &PriceList) -> Result<Self, Error> {
        let prices = prices.with_ids_of(&self.catalogue, self.materials())?;
        Ok(self.priced_by(Arc::new(prices)))
    }

    /// With a price list that was checked where it comes from.
    pub(crate) fn priced_by(mut self, prices: Arc<PriceList>) -> Self {
        self.prices = Some(prices);
        self
    }

    /// With another title.
    ///
    /// # Errors
    /// A bad title.
    pub fn with_title(mut self, title: &str) -> Result<Self, Error> {
        self.title = check_name(title)?;
        Ok(self)
    }

    /// With a phase and its temperature in °C; phases keep the order in which they are stated.
    ///
    /// # Errors
    /// A phase stated twice.
    pub fn phase(mut self, phase: Phase) -> Result<Self, Error> {
        if self.phases.iter().any(|known| known.name() == phase.name()) {
            return Err(Fault::new(FaultKind::Duplicate, "a phase occurs twice")
                .value(format!("{:?}", phase.name()))
                .into());
        }
        self.phases.push(phase);
        Ok(self)
    }

    /// With one more line.
    ///
    /// # Errors
    /// A line of the same name, a second q.s. line, another material of an id in use, more than a thousand lines.
    pub fn line(mut self, line: BriefLine) -> Result<Self, Error> {
        if self.lines.iter().any(|known| known.name() == line.name()) {
            return Err(Fault::new(FaultKind::Duplicate, "two lines have the same name")
                .value(format!("{:?}", line.name()))
                .remedy("give one of them a name of its own, or change the line there is with `change_line`")
                .into());
        }
        if line.role() == &Role::Qs
            && let Some(known) = self.lines.iter().find(|known| known.role() == &Role::Qs)
        {
            return Err(Fault::new(FaultKind::Duplicate, "two lines fill to 100")
                .value(format!("{:?} and {:?}", known.name(), line.name()))
                .allowed("one q.s. line or none")
                .remedy("make one of them a range or free")
                .into());
        }
        Quantity::Lines.check(&Exact::from(u32::try_from(self.lines.len() + 1).unwrap_or(u32::MAX)))?;
        check_joins(line.material(), self.materials())?;
        self.lines.push(line);
        Ok(self)
    }

    fn named_line(self, name: &str, role: Role) -> Result<Self, Error> {
        let material = Arc::clone(self.catalogue.material(name)?);
        let line = BriefLine::new(material.id(), material.clone(), role)?;
        self.line(line)
    }

    /// With a raw material fixed at a percentage as supplied.
    ///
    /// # Errors
    /// An unknown or ambiguous material, a percentage outside 0 to 100 or off the grid of 0.0001 %.
    pub fn fix(self, material: &str, percent: impl ToExact) -> Result<Self, Error> {
        let percent = on_grid(percent, material)?;
        self.named_line(material, Role::Fixed(percent))
    }

    /// With a raw material between two percentages as supplied.
    ///
    /// # Errors
    /// As [`Brief::fix`], and a low end above the high end.
    pub fn between(self, material: &str, low: impl ToExact, high: impl ToExact) -> Result<Self, Error> {
        let (low, high) = (on_grid(low, material)?, on_grid(high, material)?);
        let role = Role::between(low, high).map_err(|error| error.within(&format!("line {material:?}")))?;
        self.named_line(material, role)
    }

    /// With a raw material that may take any percentage.
    ///
    /// # Errors
    /// An unknown or ambiguous material.
    pub fn free(self, material: &str) -> Result<Self, Error> {
        self.named_line(material, Role::Free)
    }

    /// With the raw material that fills to 100.
    ///
    /// # Errors
    /// An unknown or ambiguous material, a second such line.
    pub fn qs(self, material: &str) -> Result<Self, Error> {
        self.named_line(material, Role::Qs)
    }

    /// With a named ratio inside the surfactant system: by weight as supplied, by active matter, or by mole of active.
    /// Members that are not lines yet become free lines. They come from anything that gives name and part: an array, a
    /// map.
    ///
    /// # Errors
    /// A name in use, fewer than two members, a member that stands twice, parts that are not above 0, a member without
    /// active matter in a split by active or mole.
    pub fn split<N: AsRef<str>, P: ToExact>(
        mut self,
        name: &str,
        basis: SplitBasis,
        members: impl IntoIterator<Item = (N, P)>,
    ) -> Result<Self, Error> {
        let name = check_name(name)?;
        if self.splits.iter().any(|split| split.name() == name) {
            return Err(Fault::new(FaultKind::Duplicate, "two splits have the same name")
                .value(format!("{name:?}"))
                .into());
        }
        let mut parts = Vec::new();
        for (member, part) in members {
            let member = member.as_ref();
            if !self.lines.iter().any(|line| line.name() == member) {
                self = self.free(member)?;
            }
            let line = match self.lines.iter().position(|line| line.name() == member) {
                Some(index) => index,
                // Named by an alias: the line just added carries the material's id.
                None => self.lines.len() - 1,
            };
            parts.push((self.lines[line].name().to_string(), part.to_exact()?));
            self.lines[line].join(&name);
        }
        let split = Split::new(&name, basis, parts)?;
        split.check(&self.lines)?;
        self.splits.push(split);
        Ok(self)
    }

    /// With lines joined into a named group, for scopes.
    ///
    /// # Errors
    /// An unknown line, a bad name.
    pub fn group(mut self, name: &str, lines: &[&str]) -> Result<Self, Error> {
        let name = check_name(name)?;
        for line in lines {
            let index = self.line_index(line)?;
            self.lines[index].join(&name);
        }
        Ok(self)
    }

    /// With a line moved to another phase. Where phases are stated it is one of them, one of the usual ones (`melted`,
    /// `liquid`, `powder`, `cool-down`) or one that a line is in; where none is, a new name makes a new phase.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// use tenside::formula::Phase;
    /// let brief = Brief::new("Clay", &Catalogue::starter())?.qs("kaolin")?;
    /// assert!(brief.clone().in_phase("kaolin", "dusted on").is_ok());
    /// let error = brief.phase(Phase::new("melted")?)?.in_phase("kaolin", "meltd").unwrap_err();
    /// assert!(error.to_string().contains("did you mean \"melted\"?"));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// An unknown line, a bad name, an unknown phase.
    pub fn in_phase(mut self, line: &str, phase: &str) -> Result<Self, Error> {
        let index = self.line_index(line)?;
        let phase = check_name(phase)?;
        let known = || {
            let stated = self.phases.iter().map(Phase::name).chain(USUAL_ORDER);
            stated.chain(self.lines.iter().flat_map(|line| [line.phase(), line.material().phase()]))
        };
        if !self.phases.is_empty() && !known().any(|name| name == phase) {
            let fault = unknown_name("phase", &phase, known()).at(format!("line {line:?}"));
            let fault = if fault.remedy.is_some() {
                fault
            } else {
                fault.remedy("state the phase before a line is moved to it")
            };
            return Err(fault.into());
        }
        self.lines[index].set_phase(&phase);
        Ok(self)
    }

    /// With a lot for a line.
    ///
    /// # Errors
    /// An unknown line, a lot of another material, a certificate that contradicts, another lot of a name in use.
    pub fn use_lot(mut self, line: &str, lot: &Arc<Lot>) -> Result<Self, Error> {
        let index = self.line_index(line)?;
        let (material, _) = self.lines[index].material().with_lot(lot)?;
        self.lines[index].set_material(Arc::new(material));
        check_distinct(self.materials())?;
        for split in &self.splits {
            split.check(&self.lines)?;
        }
        Ok(self)
    }

    /// With a requirement.
    ///
    /// # Errors
    /// A requirement of the same name, more than ten thousand, and a measure of a substance or raw material that the
    /// catalogue does not know.
    pub fn require(mut self, requirement: Requirement) -> Result<Self, Error> {
        let is_known = self.requirements.iter().any(|known| known.own_or_words() == requirement.own_or_words());
        self.add_requirement(requirement, is_known)?;
        Ok(self)
    }

    /// Adds a requirement; whether another has its name is known already.
    fn add_requirement(&mut self, requirement: Requirement, is_known: bool) -> Result<(), Error> {
        requirement.measure().check_names(Names::Of(&self.catalogue), &self.views())?;
        if is_known {
            let name = requirement.name();
            return Err(Fault::new(FaultKind::Duplicate, "two requirements have the same name")
                .value(format!("{name:?}"))
                .remedy("drop one, or give one a name of its own")
                .into());
        }
        Quantity::Requirements.check(&Exact::from(u32::try_from(self.requirements.len() + 1).unwrap_or(u32::MAX)))?;
        self.requirements.push(requirement);
        Ok(())
    }

    /// With a measure at exactly this value.
    ///
    /// # Errors
    /// Text that is no number, the same requirement twice.
    pub fn target(self, measure: Measure, value: impl ToExact) -> Result<Self, Error> {
        self.require(Requirement::equal(measure, value)?)
    }

    /// With a measure at or below this value.
    ///
    /// # Errors
    /// Text that is no number, the same requirement twice.
    pub fn at_most(self, measure: Measure, value: impl ToExact) -> Result<Self, Error> {
        self.require(Requirement::at_most(measure, value)?)
    }

    /// With a measure at or above this value.
    ///
    /// # Errors
    /// Text that is no number, the same requirement twice.
    pub fn at_least(self, measure: Measure, value: impl ToExact) -> Result<Self, Error> {
        self.require(Requirement::at_least(measure, value)?)
    }

    /// Without any raw material that has the attribute. Where that is not known of a raw material, solving says so.
    ///
    /// # Errors
    /// The same requirement twice.
    pub fn without(self, attribute: Attribute) -> Result<Self, Error> {
        let requirement =
            Requirement::at_most(Measure::attribute(attribute), Exact::ZERO)?.named(&format!("without {attribute}"))?;
        self.require(requirement)
    }

    /// With another role for a line: the one change of a what-if.
    ///
    /// ```
    /// use tenside::brief::{Brief, Role};
    /// use tenside::catalogue::Catalogue;
    /// use tenside::measure::Measure;
    /// let brief = Brief::new("Plain", &Catalogue::starter())?.fix("sci-powder", 50)?.qs("kaolin")?.at_most(Measure::water(), 9)?;
    /// let changed = brief.change_line("sci-powder", Role::Free)?.drop_requirement("water at most 9 %")?;
    /// assert_eq!(changed.requirements().len(), 0);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// An unknown line, a second q.s. line.
    pub fn change_line(mut self, line: &str, role: Role) -> Result<Self, Error> {
        let index = self.line_index(line)?;
        let mut changed = self.lines.remove(index);
        changed.set_role(role);
        let mut with_last = self.line(changed)?;
        // Back to its place: the order of lines is part of the question.
        with_last.lines[index..].rotate_right(1);
        Ok(with_last)
    }

    /// Without a line.
    ///
    /// # Errors
    /// An unknown line, and one that a split needs.
    pub fn drop_line(mut self, line: &str) -> Result<Self, Error> {
        let index = self.line_index(line)?;
        if let Some(split) = self.splits.iter().find(|split| split.parts().iter().any(|(member, _)| member == line)) {
            return Err(Fault::new(FaultKind::Contradiction, "a split needs the line")
                .at(format!("line {line:?}"))
                .value(format!("split {:?}", split.name()))
                .remedy("drop the split first and state it anew without the line")
                .into());
        }
        self.lines.remove(index);
        Ok(self)
    }

    /// Without a split; its lines stay.
    ///
    /// # Errors
    /// An unknown split.
    pub fn drop_split(mut self, name: &str) -> Result<Self, Error> {
        let index = self.splits.iter().position(|split| split.name() == name);
        let index = index.ok_or_else(|| unknown_name("split", name, self.splits.iter().map(Split::name)))?;
        self.splits.remove(index);
        self.lines.iter_mut().for_each(|line| line.leave(name));
        Ok(self)
    }

    /// Without a requirement, by its name.
    ///
    /// # Errors
    /// An unknown requirement.
    pub fn drop_requirement(mut self, name: &str) -> Result<Self, Error> {
        let index = self.requirement_index(name)?;
        self.requirements.remove(index);
        Ok(self)
    }

    /// Asking for the formula with the least value of a measure.
    #[must_use]
    pub fn minimise(mut self, measure: Measure) -> Self {
        self.objective = Some(Objective::measure(Direction::Minimise, measure, Basis::AsCharged));
        self
    }

    /// Asking for the formula with the greatest value of a measure.
    #[must_use]
    pub fn maximise(mut self, measure: Measure) -> Self {
        self.objective = Some(Objective::measure(Direction::Maximise, measure, Basis::AsCharged));
        self
    }

    /// Asking for what the objective says, or for the middle of the ranges where there is none.
    #[must_use]
    pub fn with_objective(mut self, objective: Option<Objective>) -> Self {
        self.objective = objective;
        self
    }

    /// Asking for the formula that changes least from a given one: the sum of the changes of all lines, matched by
    /// name.
    #[must_use]
    pub fn least_change_from(mut self, formula: &Formula) -> Self {
        let base = percents_by_name(formula);
        self.objective = Some(Objective::LeastChange(base));
        self
    }

    /// Asking for the formula whose changes from a given one, line by line, have the least sum of squares.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// use tenside::measure::Measure;
    /// use tenside::number::Exact;
    /// let brief = Brief::new("Bar", &Catalogue::starter())?.between("sci-powder", 0, 100)?.free("corn-starch")?.qs("kaolin")?;
    /// let base = brief.clone().target(Measure::material("sci-powder")?, 60)?.target(Measure::material("kaolin")?, 20)?.solve()?;
    /// let nearest = brief.target(Measure::material("sci-powder")?, 50)?.least_squares_from(base.formula()?).solve()?;
    /// nearest.verify()?;
    /// // The 10 % are shared out evenly between the two other lines.
    /// assert_eq!(nearest.exact(), [Exact::from(50), Exact::from(25), Exact::from(25)]);
    /// assert_eq!(nearest.objective(), Some(&Exact::from(150)));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    #[must_use]
    pub fn least_squares_from(mut self, formula: &Formula) -> Self {
        let base = percents_by_name(formula);
        self.objective = Some(Objective::LeastSquares(base));
        self
    }

    /// Its phases in working order: those stated, then those that only lines name.
    #[must_use]
    pub fn phases(&self) -> Vec<Phase> {
        order_phases(&self.phases, self.lines.iter().map(BriefLine::phase))
    }

    fn line_index(&self, name: &str) -> Result<usize, Error> {
        self.lines
            .iter()
            .position(|line| line.name() == name)
            .ok_or_else(|| unknown_name("line", name, self.lines.iter().map(BriefLine::name)).into())
    }

    /// The substances and the raw materials that its requirements and its objective name.
    fn measured_names(&self) -> (Vec<&str>, Vec<&str>) {
        let objective = match &self.objective {
            Some(Objective::Measure { measure, .. }) => Some(measure),
            _ => None,
        };
        let measures = self.requirements.iter().map(|requirement| requirement.measure()).chain(objective);
        let (substances, materials): (Vec<_>, Vec<_>) = measures.map(Measure::names).unzip();
        (substances.concat(), materials.concat())
    }

    fn materials(&self) -> impl Iterator<Item = &Arc<Material>> + Clone {
        self.lines.iter().map(BriefLine::material)
    }

    /// With another role for the line at `index`.
    pub(crate) fn with_role(&self, index: usize, role: Role) -> Self {
        let mut brief = self.clone();
        brief.lines[index].set_role(role);
        brief
    }

    /// Without one end of a requirement; an equation goes as a whole.
    pub(crate) fn relaxed_requirement(&self, index: usize, upper: bool) -> Self {
        let mut brief = self.clone();
        if let Some(rest) = brief.requirements[index].without_end(upper) {
            brief.requirements[index] = rest;
        } else {
            brief.requirements.remove(index);
        }
        brief
    }

    /// Without one member of a split; the split goes with its last but one.
    pub(crate) fn relaxed_split(&self, split: usize, member: usize) -> Self {
        let mut brief = self.clone();
        if let Some(rest) = brief.splits[split].without_part(member) {
            brief.splits[split] = rest;
        } else {
            brief.splits.remove(split);
        }
        brief
    }

    pub(crate) fn views(&self) -> Vec<LineView<'_>> {
        self.lines.iter().map(BriefLine::view).collect()
    }

    /// What upper floors worked out of its lines, which other briefs may share.
    pub(crate) fn shelf_of_lines(&self) -> &Shelf {
        self.lines.shelf()
    }
}

fn percents_by_name(formula: &Formula) -> std::collections::BTreeMap<String, Ppm> {
    formula.lines().iter().map(|line| (line.name().to_string(), line.percent())).collect()
}

fn on_grid(percent: impl ToExact, line: &str) -> Result<Ppm, Error> {
    let shown: String = line.chars().take(80).collect();
    Ppm::from_percent(percent).map_err(|error| error.within(&format!("line {shown:?}")))
}
