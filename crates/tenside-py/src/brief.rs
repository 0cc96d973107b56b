//! The question.

use std::sync::Arc;

use indexmap::IndexMap;
use pyo3::prelude::*;
use pyo3::types::PyType;
use rust_decimal::Decimal;
use tenside::brief::{BriefLine, Direction, Objective, Requirement, Role, SplitBasis};
use tenside::document::Notation;
use tenside::error::{Fault, FaultKind};
use tenside::number::{Exact, Ppm};
use tenside::solve::Outcome as Solved;
use tenside::substance::Attribute;

use crate::answer::Answer;
use crate::basis::Basis;
use crate::catalogue::Catalogue;
use crate::conflict::Conflict;
use crate::failure::Outcome;
use crate::formula::{Formula, phase, price_by_id, price_list};
use crate::input::{ALot, AMaterial, AMeasure, ARequirement, ByName, Names, Number, Word};
use crate::line::Phase;
use crate::material::Material;
use crate::measure::Measure;
use crate::output::Fraction;
use crate::running::{AProgress, reading, run, watched};
use crate::samples::{Corners, Samples};

record! {
    /// A raw material in a brief and the percentages it may have.
    BriefRow {
        /// Its name.
        name: String,
        /// Its raw material, typical or a lot.
        material: Material,
        /// Its phase.
        phase: String,
        /// In words: "fixed at 1.5 %", "to 100 %".
        role: String,
        /// The lowest percentage.
        low: Decimal,
        /// The highest percentage.
        high: Decimal,
        /// The groups it belongs to, splits included.
        groups: Vec<String>,
    }
}

record! {
    /// A measure and the values it may have.
    BriefRequirement {
        /// The user's name for it, else what it asks for.
        name: String,
        /// The measure.
        measure: Measure,
        /// The basis.
        basis: Basis,
        /// The lowest allowed value.
        low: Option<Fraction>,
        /// The highest allowed value.
        high: Option<Fraction>,
        /// True where it is to hold for every composition.
        for_every_composition: bool,
    }
}

record! {
    /// Lines that stand in a stated ratio.
    BriefSplit {
        /// Its name.
        name: String,
        /// What the parts are parts of: "weight", "active" or "mole".
        by: String,
        /// Parts by line.
        parts: Vec<(String, Fraction)>,
    }
}

/// What is asked for: lines, splits, requirements and an objective. Immutable: every method gives a new brief.
///
/// >>> from tenside import measure as m
/// >>> brief = (td.Brief("Plain bar", td.Catalogue.starter())
/// ...     .split({"sci-powder": 14, "scs-needles": 5, "capb-30": 1}, by="active", name="wash")
/// ...     .fix("panthenol", 1.5)
/// ...     .between("cetyl-alcohol", 3, 6)
/// ...     .qs("kaolin")
/// ...     .target(m.active_matter, 58)
/// ...     .at_most(m.water, 9))
/// >>> answer = brief.solve()
/// >>> answer.verify(), answer.formula.percentages["panthenol"]
/// (True, Decimal('1.5'))
#[pyclass(frozen, eq, module = "tenside")]
#[derive(Clone, PartialEq)]
pub(crate) struct Brief(pub(crate) tenside::brief::Brief);

value!(Brief, |it| (it.title(), it.lines().len()));

getters!(Brief {
    /// Its title.
    title: String = |it| it.title().to_string();
    /// Its catalogue.
    catalogue: Catalogue = |it| it.catalogue().clone().into();
    /// Prices per kilogram by material id.
    prices: Option<IndexMap<String, Decimal>> = |it| it.prices().map(|prices| price_by_id(prices));
    /// The currency of the prices.
    currency: Option<String> = |it| it.prices().map(|prices| prices.currency().to_string());
    /// Its phases, in working order.
    phases: Vec<Phase> = |it| it.phases().iter().map(Phase::from).collect();
    /// Its lines.
    lines: Vec<BriefRow> = |it| it.lines().iter().map(row).collect();
    /// Its splits.
    splits: Vec<BriefSplit> = |it| it.splits().iter().map(split).collect();
    /// Its requirements.
    requirements: Vec<BriefRequirement> = |it| it.requirements().iter().map(requirement).collect();
    /// How many lines of a group may be present, by group.
    at_most_of_groups: IndexMap<String, usize> = |it| it.at_most_of_groups().iter().map(|limit| (limit.group().to_string(), limit.most())).collect();
    /// True where lines may be absent or a group is limited: such a brief is answered by `choose` and `solve_rounded`.
    has_choices: bool = |it| it.has_choices();
    /// Its objective in words; None asks for the middle of the ranges.
    objective: Option<String> = |it| it.objective().map(Objective::words);
});

record! {
    /// How far a measure can go; an end is None where there is none: a ratio's denominator is 0, or can come as near to it as one likes.
    Reach {
        /// The lowest attainable value.
        lowest: Option<Fraction>,
        /// The highest attainable value.
        highest: Option<Fraction>,
        /// Its unit.
        unit: String,
    }
}

/// What solving comes to.
#[derive(IntoPyObject)]
pub(crate) enum Tried {
    Answer(Answer),
    Conflict(Conflict),
}

impl From<Solved> for Tried {
    fn from(solved: Solved) -> Self {
        match solved {
            Solved::Answered(answer) => Tried::Answer(Answer(*answer)),
            Solved::Conflict(conflict) => Tried::Conflict(Conflict(*conflict)),
        }
    }
}

impl Brief {
    fn with_line(&self, name: Option<&str>, material: AMaterial, role: Role) -> Outcome<(Self, String)> {
        let material = material.find(self.0.catalogue())?;
        let name = name.unwrap_or(material.id()).to_string();
        Ok((Brief(self.0.clone().line(BriefLine::new(&name, material, role)?)?), name))
    }

    fn requiring(&self, requirement: Requirement, basis: Option<Basis>, every: bool, name: Option<&str>) -> Outcome<Self> {
        let requirement = requirement.on(basis.map_or_else(Default::default, |basis| basis.0));
        let requirement = if every { requirement.for_every_composition() } else { requirement };
        let requirement = match name {
            Some(name) => requirement.named(name)?,
            None => requirement,
        };
        Ok(Brief(self.0.clone().require(requirement)?))
    }

    fn aiming(&self, direction: Direction, measure: AMeasure, basis: Option<Basis>) -> Self {
        let basis = basis.map_or_else(Default::default, |basis| basis.0);
        Brief(self.0.clone().with_objective(Some(Objective::measure(direction, measure.0, basis))))
    }
}

#[pymethods]
impl Brief {
    #[new]
    #[pyo3(signature = (title, catalogue, *, prices=None, currency="currency"))]
    fn new(title: &str, catalogue: &Catalogue, prices: Option<ByName>, currency: &str) -> Outcome<Self> {
        let brief = Brief(tenside::brief::Brief::new(title, &catalogue.0)?);
        prices.map_or_else(|| Ok(brief.clone()), |prices| brief.with_prices(prices, currency))
    }

    /// With prices per kilogram by the name of a raw material in the catalogue or of one of the lines.
    #[pyo3(signature = (prices, *, currency="currency"))]
    fn with_prices(&self, prices: ByName, currency: &str) -> Outcome<Self> {
        Ok(Brief(self.0.clone().with_prices(&price_list(&prices, currency)?)?))
    }

    /// With another title.
    fn with_title(&self, title: &str) -> Outcome<Self> {
        Ok(Brief(self.0.clone().with_title(title)?))
    }

    /// With a raw material fixed at a percentage as supplied.
    fn fix(&self, material: AMaterial, percent: Number) -> Outcome<Self> {
        Ok(self.with_line(None, material, Role::Fixed(percent.ppm()?))?.0)
    }

    /// With a raw material between two percentages as supplied.
    fn between(&self, material: AMaterial, low: Number, high: Number) -> Outcome<Self> {
        Ok(self.with_line(None, material, Role::between(low.ppm()?, high.ppm()?)?)?.0)
    }

    /// With a raw material that is either absent or between two percentages as supplied; `choose` decides.
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

    /// With a raw material that may take any percentage.
    fn free(&self, material: AMaterial) -> Outcome<Self> {
        Ok(self.with_line(None, material, Role::Free)?.0)
    }

    /// With the raw material that fills to 100.
    fn qs(&self, material: AMaterial) -> Outcome<Self> {
        Ok(self.with_line(None, material, Role::Qs)?.0)
    }

    /// With a line that has a name of its own: fixed, between two percentages (or absent), filling to 100, or free.
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

    /// With a named ratio by "weight" as supplied, by "active" matter or by "mole" of active. Members that are no lines yet become free.
    #[pyo3(signature = (parts, *, by, name))]
    fn split(&self, parts: ByName, by: Word<SplitBasis>, name: &str) -> Outcome<Self> {
        let members: Vec<(&str, &Exact)> = parts.0.iter().map(|(line, part)| (line.as_str(), &part.0)).collect();
        Ok(Brief(self.0.clone().split(name, by.0, &members)?))
    }

    /// With a phase and its temperature in °C; phases keep the order in which they are stated.
    #[pyo3(signature = (name, temperature=None))]
    fn phase(&self, name: &str, temperature: Option<Number>) -> Outcome<Self> {
        Ok(Brief(self.0.clone().phase(phase(name, temperature)?)?))
    }

    /// With lines joined into a named group, for scopes of measures.
    fn group(&self, name: &str, lines: Names) -> Outcome<Self> {
        Ok(Brief(self.0.clone().group(name, &lines.each())?))
    }

    /// With a line moved to another phase.
    fn in_phase(&self, line: &str, phase: &str) -> Outcome<Self> {
        Ok(Brief(self.0.clone().in_phase(line, phase)?))
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

    /// With what is in stock, lots or material ids: lots are used, and lines whose material is not named are required to be 0.
    #[pyo3(signature = (*entries: "str"))]
    fn in_stock(&self, entries: Vec<String>) -> Outcome<Self> {
        Ok(Brief(self.0.clone().in_stock(&entries.iter().map(String::as_str).collect::<Vec<_>>())?))
    }

    /// With a measure at `equal`, or `at_least` and `at_most`, or one of these.
    ///
    /// >>> brief = td.Brief("Wash", td.Catalogue.starter()).require(td.measure.water, at_least=5, at_most=9, name="workable")
    /// >>> brief.requirements[0].name
    /// 'workable'
    #[pyo3(signature = (measure, *, equal=None, at_least=None, at_most=None, basis=None, for_every_composition=false, name=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn require(
        &self,
        measure: AMeasure,
        equal: Option<Number>,
        at_least: Option<Number>,
        at_most: Option<Number>,
        basis: Option<Basis>,
        for_every_composition: bool,
        name: Option<&str>,
    ) -> Outcome<Self> {
        let requirement = match (equal, at_least, at_most) {
            (Some(value), None, None) => Requirement::equal(measure.0, value.0),
            (None, Some(low), Some(high)) => Requirement::between(measure.0, low.0, high.0)?,
            (None, Some(low), None) => Requirement::at_least(measure.0, low.0),
            (None, None, Some(high)) => Requirement::at_most(measure.0, high.0),
            _ => {
                let fault = Fault::new(FaultKind::Contradiction, "a requirement states equal, or at_least and at_most, or one of them");
                return Err(fault.at(measure.0.name()).into());
            }
        };
        self.requiring(requirement, basis, for_every_composition, name)
    }

    /// With a measure at exactly this value.
    #[pyo3(signature = (measure, value, *, basis=None, for_every_composition=false, name=None))]
    fn target(&self, measure: AMeasure, value: Number, basis: Option<Basis>, for_every_composition: bool, name: Option<&str>) -> Outcome<Self> {
        self.requiring(Requirement::equal(measure.0, value.0), basis, for_every_composition, name)
    }

    /// With a measure at or above this value.
    #[pyo3(signature = (measure, value, *, basis=None, for_every_composition=false, name=None))]
    fn at_least(&self, measure: AMeasure, value: Number, basis: Option<Basis>, for_every_composition: bool, name: Option<&str>) -> Outcome<Self> {
        self.requiring(Requirement::at_least(measure.0, value.0), basis, for_every_composition, name)
    }

    /// With a measure at or below this value.
    #[pyo3(signature = (measure, value, *, basis=None, for_every_composition=false, name=None))]
    fn at_most(&self, measure: AMeasure, value: Number, basis: Option<Basis>, for_every_composition: bool, name: Option<&str>) -> Outcome<Self> {
        self.requiring(Requirement::at_most(measure.0, value.0), basis, for_every_composition, name)
    }

    /// With a measure between two values.
    #[pyo3(signature = (measure, low, high, *, basis=None, for_every_composition=false, name=None))]
    fn within(&self, measure: AMeasure, low: Number, high: Number, basis: Option<Basis>, for_every_composition: bool, name: Option<&str>) -> Outcome<Self> {
        self.requiring(Requirement::between(measure.0, low.0, high.0)?, basis, for_every_composition, name)
    }

    /// Without any raw material that has the attribute: "sulfate", "palm", "animal", "silicone" or "ethoxylated".
    fn without(&self, attribute: Word<Attribute>) -> Outcome<Self> {
        Ok(Brief(self.0.clone().without(attribute.0)?))
    }

    /// With the recommended use levels of a product use as named requirements; `materials_without_use_level` lists what has none.
    fn within_use_levels(&self, product_use: &str) -> Outcome<Self> {
        Ok(Brief(self.0.clone().within_use_levels(product_use)?.0))
    }

    /// The raw materials that state no use level for a product use.
    fn materials_without_use_level(&self, product_use: &str) -> Outcome<Vec<String>> {
        Ok(self.0.materials_without_use_level(product_use)?)
    }

    /// With another role for a line: fixed, between two percentages (or absent), filling to 100, or free.
    ///
    /// >>> brief = td.Brief("Plain", td.Catalogue.starter()).fix("sci-powder", 50).qs("kaolin")
    /// >>> brief.change_line("sci-powder", low=40, high=60).lines[0].role
    /// 'between 40 and 60 %'
    #[pyo3(signature = (line, *, fix=None, low=None, high=None, or_absent=false, qs=false))]
    fn change_line(&self, line: &str, fix: Option<Number>, low: Option<Number>, high: Option<Number>, or_absent: bool, qs: bool) -> Outcome<Self> {
        Ok(Brief(self.0.clone().change_line(line, role(line, fix, low, high, or_absent, qs)?)?))
    }

    /// Without a line; a line that a split needs stays.
    fn drop_line(&self, line: &str) -> Outcome<Self> {
        Ok(Brief(self.0.clone().drop_line(line)?))
    }

    /// Without a split; its lines stay.
    fn drop_split(&self, name: &str) -> Outcome<Self> {
        Ok(Brief(self.0.clone().drop_split(name)?))
    }

    /// Without a requirement, by its name or by what a conflict's `constraints` say of it.
    ///
    /// >>> brief = td.Brief("Plain", td.Catalogue.starter()).qs("kaolin").at_most(td.measure.water, 9)
    /// >>> brief.drop_requirement("water at most 9 %").requirements
    /// []
    fn drop_requirement(&self, requirement: ARequirement) -> Outcome<Self> {
        Ok(Brief(self.0.clone().drop_requirement(&requirement.name()?)?))
    }

    /// Asking for the formula with the least value of a measure.
    #[pyo3(signature = (measure, *, basis=None))]
    fn minimise(&self, measure: AMeasure, basis: Option<Basis>) -> Self {
        self.aiming(Direction::Minimise, measure, basis)
    }

    /// Asking for the formula with the greatest value of a measure.
    #[pyo3(signature = (measure, *, basis=None))]
    fn maximise(&self, measure: AMeasure, basis: Option<Basis>) -> Self {
        self.aiming(Direction::Maximise, measure, basis)
    }

    /// Asking for the formula that changes least from a given one: the least sum of the changes, which falls to few lines.
    fn least_change_from(&self, formula: &Formula) -> Self {
        Brief(self.0.clone().least_change_from(&formula.0))
    }

    /// Asking for the formula nearest to a given one by least squares: many small changes rather than a large one.
    ///
    /// >>> cat = td.Catalogue.starter()
    /// >>> base = td.Formula("Three", {"capb-30": 20, "glycerin-99-5": 40, "water": 40}, cat)
    /// >>> brief = td.Brief("Three", cat).between("capb-30", 23, 100).free("glycerin-99-5").qs("water")
    /// >>> brief.least_squares_from(base).solve().exact["water"]
    /// Fraction(77, 2)
    fn least_squares_from(&self, formula: &Formula) -> Self {
        Brief(self.0.clone().least_squares_from(&formula.0))
    }

    /// Solves the brief; raises Unanswerable, which carries the conflict, where no formula meets it.
    ///
    /// >>> strong = td.Brief("Too strong", td.Catalogue.starter()).between("capb-30", 0, 50).qs("water").at_least(td.measure.active_matter, 40)
    /// >>> try: strong.solve()
    /// ... except td.Unanswerable as error: print(error.conflict.members[0])
    /// active matter at least 40 %
    fn solve(&self, py: Python<'_>) -> Outcome<Answer> {
        Ok(Answer(watched(py, None, |watch| self.0.clone().watched_by(watch).solve())?))
    }

    /// Solves the brief: an Answer, or the Conflict.
    fn try_solve(&self, py: Python<'_>) -> Outcome<Tried> {
        Ok(Tried::from(watched(py, None, |watch| self.0.clone().watched_by(watch).try_solve())?))
    }

    /// The lowest and highest value a measure can have under this brief, exact, whatever its objective.
    ///
    /// >>> td.Brief("Two", td.Catalogue.starter()).between("capb-30", 10, 50).qs("water").reach(td.measure.active_matter)
    /// Reach(lowest=Fraction(3, 1), highest=Fraction(15, 1), unit='%')
    #[pyo3(signature = (measure, basis=None))]
    fn reach(&self, py: Python<'_>, measure: AMeasure, basis: Option<Basis>) -> Outcome<Reach> {
        let basis = basis.map_or_else(Default::default, |basis| basis.0);
        let reach = watched(py, None, |watch| self.0.clone().watched_by(watch).reach(&measure.0, &basis))?;
        Ok(Reach { lowest: reach.lowest.map(Fraction), highest: reach.highest.map(Fraction), unit: reach.unit })
    }

    /// The lowest and highest percentage of each line among the formulas whose objective is at most `extra` worse than the best.
    ///
    /// >>> brief = td.Brief("Two", td.Catalogue.starter(), prices={"capb-30": 3, "water": 0}).between("capb-30", 10, 50).qs("water")
    /// >>> brief.minimise(td.measure.cost).line_ranges_within("0.3")["capb-30"]
    /// (Fraction(10, 1), Fraction(20, 1))
    fn line_ranges_within(&self, py: Python<'_>, extra: Number) -> Outcome<IndexMap<String, (Fraction, Fraction)>> {
        let ranges = watched(py, None, |watch| self.0.clone().watched_by(watch).line_ranges_within(&extra.0))?;
        Ok(ranges.into_iter().map(|(line, lowest, highest)| (line, (Fraction(lowest), Fraction(highest)))).collect())
    }

    /// `count` formulas drawn evenly from all that the brief allows, whatever its objective; the same for the same seed.
    ///
    /// >>> brief = td.Brief("Powders", td.Catalogue.starter()).free("kaolin").free("corn-starch").qs("sci-powder")
    /// >>> samples = brief.samples(500, seed=1)
    /// >>> samples.dimension, samples.burn_in, len(samples.lines["kaolin"])
    /// (2, 1400, 500)
    #[pyo3(signature = (count, *, seed, progress=None))]
    fn samples(&self, py: Python<'_>, count: usize, seed: u64, progress: Option<AProgress<'_>>) -> Outcome<Samples> {
        Ok(Samples::new(&self.0, run(py, count as u64, progress, |watch| self.0.clone().watched_by(watch).samples(count, seed))?))
    }

    /// The corners of what the brief allows, every formula that is no mixture of others, up to a limit.
    ///
    /// >>> brief = td.Brief("Powders", td.Catalogue.starter()).between("kaolin", 0, 30).free("corn-starch").qs("sci-powder")
    /// >>> corners = brief.corners(100)
    /// >>> corners.complete, corners.formulas[0]
    /// (True, {'kaolin': Fraction(0, 1), 'corn-starch': Fraction(0, 1), 'sci-powder': Fraction(100, 1)})
    #[pyo3(signature = (limit=1000))]
    fn corners(&self, py: Python<'_>, limit: usize) -> Outcome<Corners> {
        Ok(Corners::new(&self.0, run(py, limit as u64, None, |watch| self.0.clone().watched_by(watch).corners(limit))?))
    }

    /// As a TOML document that embeds what the lines use.
    fn to_toml(&self) -> Outcome<String> {
        Ok(self.0.write(Notation::Toml)?)
    }

    /// As a JSON document that embeds what the lines use.
    fn to_json(&self) -> Outcome<String> {
        Ok(self.0.write(Notation::Json)?)
    }

    /// Reads a brief document in TOML; what it does not embed is looked up in the catalogue.
    ///
    /// >>> brief = td.Brief("Clay", td.Catalogue.starter()).qs("kaolin")
    /// >>> td.Brief.from_toml(brief.to_toml()) == brief == td.Brief.from_json(brief.to_json())
    /// True
    #[classmethod]
    #[pyo3(signature = (text, catalogue=None))]
    fn from_toml(_class: &Bound<'_, PyType>, py: Python<'_>, text: &str, catalogue: Option<&Catalogue>) -> Outcome<Self> {
        read(py, text, Notation::Toml, catalogue)
    }

    /// Reads a brief document in JSON; what it does not embed is looked up in the catalogue.
    #[classmethod]
    #[pyo3(signature = (text, catalogue=None))]
    fn from_json(_class: &Bound<'_, PyType>, py: Python<'_>, text: &str, catalogue: Option<&Catalogue>) -> Outcome<Self> {
        read(py, text, Notation::Json, catalogue)
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> Outcome<(Bound<'py, PyAny>, (String, Catalogue))> {
        let it = slf.get();
        Ok((slf.get_type().getattr("from_json")?, (it.to_json()?, it.catalogue())))
    }

    fn __repr__(&self) -> String {
        format!("<Brief {:?} of {} lines and {} requirements>", self.0.title(), self.0.lines().len(), self.0.requirements().len())
    }
}

fn read(py: Python<'_>, text: &str, notation: Notation, catalogue: Option<&Catalogue>) -> Outcome<Brief> {
    let catalogue = catalogue.map_or_else(tenside::catalogue::Catalogue::empty, |catalogue| catalogue.0.clone());
    Ok(Brief(reading(py, [text], move |[text]| tenside::brief::Brief::read(text, notation, &catalogue))?))
}

fn row(line: &BriefLine) -> BriefRow {
    let (low, high) = line.role().range();
    BriefRow {
        name: line.name().to_string(),
        material: Material(Arc::clone(line.material())),
        phase: line.phase().to_string(),
        role: line.role().words(),
        low: low.decimal_percent(),
        high: high.decimal_percent(),
        groups: line.groups().to_vec(),
    }
}

fn split(split: &tenside::brief::Split) -> BriefSplit {
    let parts = split.parts().iter().map(|(line, part)| (line.clone(), Fraction(part.clone()))).collect();
    BriefSplit { name: split.name().to_string(), by: split.basis().to_string(), parts }
}

fn requirement(requirement: &Requirement) -> BriefRequirement {
    BriefRequirement {
        name: requirement.name(),
        measure: Measure(requirement.measure().clone()),
        basis: Basis(requirement.basis().clone()),
        low: requirement.low().cloned().map(Fraction),
        high: requirement.high().cloned().map(Fraction),
        for_every_composition: requirement.is_for_every_composition(),
    }
}

/// What a line's percentage may be, as keywords say it.
fn role(line: &str, fix: Option<Number>, low: Option<Number>, high: Option<Number>, or_absent: bool, qs: bool) -> Outcome<Role> {
    let end = |end: Option<Number>, absent: Ppm| end.map_or(Ok(absent), |end| end.ppm());
    if or_absent {
        return match (fix, low, high, qs) {
            (None, Some(low), high, false) => Ok(Role::absent_or_between(low.ppm()?, end(high, Ppm::WHOLE)?)?),
            _ => Err(Fault::new(FaultKind::Contradiction, "a line that may be absent states its least dose as low, and nothing but a high").at(line).into()),
        };
    }
    match (fix, low, high, qs) {
        (None, None, None, false) => Ok(Role::Free),
        (None, None, None, true) => Ok(Role::Qs),
        (Some(percent), None, None, false) => Ok(Role::Fixed(percent.ppm()?)),
        (None, low, high, false) => Ok(Role::between(end(low, Ppm::ZERO)?, end(high, Ppm::WHOLE)?)?),
        _ => Err(Fault::new(FaultKind::Contradiction, "a line is fixed, between two percentages, or fills to 100").at(line).into()),
    }
}
