//! Briefs in documents. Written ones embed what they use; read ones may also name materials of a catalogue.

use std::collections::{BTreeMap, HashSet};
use std::sync::Arc;

use serde::Serialize;

use super::{Brief, BriefLine, Direction, Objective, Requirement, Role, Split, SplitBasis};
use crate::bounds::Quantity;
use crate::catalogue::{Catalogue, ContentsDocument, PriceListDocument, Winner, read_contents, read_prices};
use crate::document::{Materials, Notation, Number, Reader, TableView, write};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{PhaseDocument, Purpose, read_phase};
use crate::measure::{BasisDocument, LineView, Measure, MeasureDocument, read_basis, read_measure};
use crate::number::{Exact, Ppm};

/// A brief as documents hold it.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct BriefDocument {
    /// Kind and version.
    tenside: &'static str,
    /// Title.
    title: String,
    /// What is asked for; the middle of the ranges where it is not stated.
    #[serde(skip_serializing_if = "Option::is_none")]
    objective: Option<ObjectiveDocument>,
    /// Prices.
    #[serde(skip_serializing_if = "Option::is_none")]
    prices: Option<PriceListDocument>,
    /// Phases in working order.
    #[serde(rename = "phase", skip_serializing_if = "Vec::is_empty")]
    phases: Vec<PhaseDocument>,
    /// Lines.
    #[serde(rename = "line")]
    lines: Vec<BriefLineDocument>,
    /// Splits.
    #[serde(rename = "split", skip_serializing_if = "Vec::is_empty")]
    splits: Vec<SplitDocument>,
    /// Requirements.
    #[serde(rename = "requirement", skip_serializing_if = "Vec::is_empty")]
    requirements: Vec<RequirementDocument>,
    /// Groups of which at most so many lines are present.
    #[serde(rename = "at_most_of", skip_serializing_if = "Vec::is_empty")]
    at_most_of: Vec<AtMostOfDocument>,
    /// The substances, materials and lots it uses.
    #[serde(flatten)]
    contents: ContentsDocument,
}

/// One of `fix`, `low` with `high`, or `qs`; none of them for a free line. With `or_absent` the line is absent or
/// between `low` and `high`.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct BriefLineDocument {
    /// By default the material.
    #[serde(skip_serializing_if = "Option::is_none")]
    name: Option<String>,
    /// Identifier or name of the raw material.
    material: String,
    /// A lot of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    lot: Option<String>,
    /// The phase it goes into; that of the raw material if not stated.
    #[serde(skip_serializing_if = "Option::is_none")]
    phase: Option<String>,
    /// The percentage it has, % w/w.
    #[serde(skip_serializing_if = "Option::is_none")]
    fix: Option<Number>,
    /// The lowest percentage it may have.
    #[serde(skip_serializing_if = "Option::is_none")]
    low: Option<Number>,
    /// The highest percentage it may have.
    #[serde(skip_serializing_if = "Option::is_none")]
    high: Option<Number>,
    /// Whether it may be left out as well.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    or_absent: bool,
    /// Whether it takes what is left to 100 %.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    qs: bool,
    /// Groups besides splits.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    groups: Vec<String>,
    /// What it is there for; not stated if none is named.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    purposes: Vec<Purpose>,
}

#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct AtMostOfDocument {
    /// The group.
    group: String,
    /// How many of its lines may be present.
    lines: u32,
}

#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct SplitDocument {
    /// Its name, which is a group of its lines too.
    name: String,
    /// What the parts count.
    by: SplitBasis,
    /// The parts, line by line.
    parts: Vec<PartDocument>,
}

#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct PartDocument {
    /// The line.
    line: String,
    /// Its part; only the ratios of parts count.
    part: Number,
}

/// `equal`, `at_least`, `at_most`, or the last two together.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct RequirementDocument {
    /// Its name; said in words from the measure if not stated.
    #[serde(skip_serializing_if = "Option::is_none")]
    name: Option<String>,
    /// The value that the measure is to have, in its unit.
    #[serde(skip_serializing_if = "Option::is_none")]
    equal: Option<Number>,
    /// The lowest value allowed.
    #[serde(skip_serializing_if = "Option::is_none")]
    at_least: Option<Number>,
    /// The highest value allowed.
    #[serde(skip_serializing_if = "Option::is_none")]
    at_most: Option<Number>,
    /// Whether it is to hold for every composition inside the stated ranges, not for the typical ones alone.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    for_every_composition: bool,
    #[serde(flatten)]
    basis: BasisDocument,
    #[serde(flatten)]
    measure: MeasureDocument,
}

/// A direction with a measure, or the percentages to change least from: by the sum of changes, or by the sum of their
/// squares.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct ObjectiveDocument {
    /// Whether the measure is made as small or as great as possible.
    #[serde(skip_serializing_if = "Option::is_none")]
    direction: Option<Direction>,
    #[serde(flatten)]
    basis: Option<BasisDocument>,
    #[serde(flatten)]
    measure: Option<MeasureDocument>,
    /// Percent by line name.
    #[serde(skip_serializing_if = "Option::is_none")]
    least_change: Option<BTreeMap<String, Number>>,
    /// Percent by line name.
    #[serde(skip_serializing_if = "Option::is_none")]
    least_squares: Option<BTreeMap<String, Number>>,
}

impl From<&Brief> for BriefDocument {
    fn from(brief: &Brief) -> Self {
        BriefDocument::of(brief, Materials::Embedded)
    }
}

impl BriefDocument {
    /// What is written of a brief: with the raw materials that it uses, or with their names alone, lots apart.
    #[must_use]
    pub fn of(brief: &Brief, materials: Materials) -> Self {
        BriefDocument {
            tenside: "brief/1",
            title: brief.title.clone(),
            objective: brief.objective.as_ref().map(ObjectiveDocument::from),
            prices: brief.prices.as_ref().map(|prices| PriceListDocument::from(prices.as_ref())),
            phases: brief.phases.iter().map(PhaseDocument::from).collect(),
            lines: brief.lines.iter().map(|line| line_document(line, &brief.splits)).collect(),
            splits: brief
                .splits
                .iter()
                .map(|split| SplitDocument {
                    name: split.name().to_string(),
                    by: split.basis(),
                    parts: split
                        .parts()
                        .iter()
                        .map(|(line, part)| PartDocument { line: line.clone(), part: part.into() })
                        .collect(),
                })
                .collect(),
            requirements: brief.requirements.iter().map(RequirementDocument::from).collect(),
            at_most_of: brief
                .at_most_of
                .iter()
                .map(|limit| AtMostOfDocument {
                    group: limit.group().to_string(),
                    lines: u32::try_from(limit.most()).unwrap_or(u32::MAX),
                })
                .collect(),
            contents: match materials {
                Materials::Named => ContentsDocument::of_lines(brief.materials(), materials),
                Materials::Embedded => {
                    ContentsDocument::of_lines_and_names(brief.materials(), brief.measured_names(), &brief.catalogue)
                }
            },
        }
    }
}

fn line_document(line: &BriefLine, splits: &[Split]) -> BriefLineDocument {
    let (fix, low, high) = match line.role() {
        Role::Fixed(percent) => (Some((*percent).into()), None, None),
        Role::Between(low, high) | Role::AbsentOrBetween(low, high) => {
            (None, Some((*low).into()), Some((*high).into()))
        }
        Role::Free | Role::Qs => (None, None, None),
    };
    BriefLineDocument {
        name: Some(line.name().to_string()),
        material: line.material().id().to_string(),
        lot: line.material().lot().map(|lot| lot.id().to_string()),
        phase: Some(line.phase().to_string()),
        fix,
        low,
        high,
        or_absent: matches!(line.role(), Role::AbsentOrBetween(..)),
        qs: line.role() == &Role::Qs,
        groups: line
            .groups()
            .iter()
            .filter(|group| !splits.iter().any(|split| split.name() == group.as_str() && split.holds(line.name())))
            .cloned()
            .collect(),
        purposes: line.purposes().to_vec(),
    }
}

impl From<&Requirement> for RequirementDocument {
    fn from(requirement: &Requirement) -> Self {
        let equal = requirement.low().is_some() && requirement.low() == requirement.high();
        let number = |end: Option<&crate::number::Exact>| end.filter(|_| !equal).map(Number::from);
        RequirementDocument {
            name: requirement.own_name().map(str::to_string),
            equal: requirement.low().filter(|_| equal).map(Number::from),
            at_least: number(requirement.low()),
            at_most: number(requirement.high()),
            for_every_composition: requirement.is_for_every_composition(),
            basis: requirement.basis().into(),
            measure: requirement.measure().into(),
        }
    }
}

impl From<&Objective> for ObjectiveDocument {
    fn from(objective: &Objective) -> Self {
        let numbers = |base: &BTreeMap<String, Ppm>| {
            base.iter().map(|(name, percent)| (name.clone(), (*percent).into())).collect()
        };
        let mut document =
            ObjectiveDocument { direction: None, basis: None, measure: None, least_change: None, least_squares: None };
        match objective {
            Objective::Measure { direction, measure, basis } => {
                document.direction = Some(*direction);
                document.basis = Some(basis.into());
                document.measure = Some(measure.into());
            }
            Objective::LeastChange(base) => document.least_change = Some(numbers(base)),
            Objective::LeastSquares(base) => document.least_squares = Some(numbers(base)),
        }
        document
    }
}

impl Brief {
    /// Writes the brief: with everything it uses, or with the raw materials by name.
    ///
    /// # Errors
    /// A requirement or an objective on a line, group or phase that the brief does not have, since it could not be read.
    pub fn write(&self, notation: Notation, materials: Materials) -> Result<String, Error> {
        self.check_scopes()?;
        write(&BriefDocument::of(self, materials), notation)
    }

    /// That every line, group and phase that a requirement or the objective is on is there.
    pub(crate) fn check_scopes(&self) -> Result<(), Error> {
        let views = self.views();
        for requirement in self.requirements() {
            let place = |error: Error| error.within(&format!("requirement {:?}", requirement.name()));
            check_scopes(requirement.measure(), &views).map_err(place)?;
        }
        match self.objective() {
            Some(Objective::Measure { measure, .. }) => {
                check_scopes(measure, &views).map_err(|error| error.within("objective"))
            }
            _ => Ok(()),
        }
    }

    /// The JSON Schema of brief documents.
    ///
    /// ```
    /// assert!(tenside::brief::Brief::schema().contains("\"$schema\""));
    /// ```
    #[cfg(feature = "schema")]
    #[must_use]
    pub fn schema() -> String {
        crate::document::schema_text::<BriefDocument>("brief")
    }

    /// Reads a brief document; materials and lots that it does not embed are looked up in the catalogue.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// use tenside::document::{Materials, Notation};
    /// let text = r#"
    /// tenside = "brief/1"
    /// title = "Two of a kind"
    /// line = [{ material = "sci-powder", low = 40, high = 70 }, { material = "kaolin", qs = true }]
    /// requirement = [{ measure = "active-matter", equal = 50 }]
    /// "#;
    /// let brief = Brief::read(text, Notation::Toml, &Catalogue::starter())?;
    /// assert_eq!(brief.lines().len(), 2);
    /// let again = Brief::read(&brief.write(Notation::Json, Materials::Embedded)?, Notation::Json, &Catalogue::empty())?;
    /// assert_eq!(again, brief);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// Every fault of the document at once, with line and column.
    pub fn read(text: &str, notation: Notation, catalogue: &Catalogue) -> Result<Self, Error> {
        Reader::read(text, notation, |view| read_brief(view, catalogue))
    }
}

/// A brief, alone or inside the document of what came of it.
pub(crate) fn read_brief(view: &TableView<'_>, catalogue: &Catalogue) -> Option<Brief> {
    view.version("brief/1");
    let title = view.needed_name("title");
    let prices = view.table("prices", read_prices);
    let phases = view.tables("phase", read_phase);
    let embedded = read_contents(view, catalogue.substances(), |id| catalogue.find(id));
    let catalogue = view.accept("material", catalogue.merge(&embedded, Winner::Theirs))?;
    let mut brief = Brief::new(&title.unwrap_or_else(|| "untitled".to_string()), &catalogue).ok()?;
    brief.prices = prices.map(Arc::new);
    for phase in phases {
        brief = view.accept("phase", brief.clone().phase(phase)).unwrap_or(brief);
    }
    if let Err(error) =
        Quantity::Lines.check(&Exact::from(u32::try_from(view.count("line").max(1)).unwrap_or(u32::MAX)))
    {
        error.into_faults().into_iter().for_each(|fault| view.fault("line", fault));
        view.skip(&["line", "split", "requirement", "objective"]);
        return None;
    }
    view.tables("line", |view| {
        let next = read_line(view, &catalogue, &brief)?;
        brief = next;
        Some(())
    });
    view.tables("split", |view| {
        let next = read_split(view, &brief)?;
        brief = next;
        Some(())
    });
    let mut names = HashSet::new();
    view.tables("requirement", |view| {
        let requirement = read_requirement(view)?;
        view.accept("", check_scopes(requirement.measure(), &brief.views()));
        let name = requirement.name();
        let added = view.accept("", brief.add_requirement(requirement, names.contains(&name)));
        names.extend(added.map(|()| name));
        added
    });
    view.tables("at_most_of", |view| {
        let group = view.needed_name("group");
        let lines = view.needed("lines", |view| view.whole("lines"));
        brief = view.accept("", brief.clone().at_most_of(&group?, usize::try_from(lines?).unwrap_or(usize::MAX)))?;
        Some(())
    });
    brief.objective = view.table("objective", |view| read_objective(view, &brief));
    Some(brief)
}

/// A scope that names nothing is reported where it stands, not when the brief is solved.
fn check_scopes(measure: &Measure, lines: &[LineView<'_>]) -> Result<(), Error> {
    measure.terms().try_for_each(|term| term.scope.check(lines))
}

fn read_line(view: &TableView<'_>, catalogue: &Catalogue, brief: &Brief) -> Option<Brief> {
    let name = view.name("name");
    let material = view.needed("material", |view| view.text("material"));
    if let Some(label) = name.as_deref().or(material) {
        let shown: String = label.chars().take(60).collect();
        view.label(format!("line {shown:?}"));
    }
    let (lot, phase) = (view.text("lot"), view.name("phase"));
    let (fix, low, high) = (view.ppm("fix"), view.ppm("low"), view.ppm("high"));
    let (qs, or_absent) = (view.boolean("qs").unwrap_or(false), view.boolean("or_absent").unwrap_or(false));
    let groups: Vec<String> = view.texts("groups").into_iter().map(str::to_string).collect();
    let purposes = view.choices("purposes");
    let role = read_role(view, fix, (low, high), qs, or_absent);
    let material = material.and_then(|material| view.accept("material", catalogue.material(material)));
    let (role, material) = (role?, material?);
    let line =
        view.accept("name", BriefLine::new(name.as_deref().unwrap_or(material.id()), Arc::clone(material), role))?;
    let line = match phase {
        Some(phase) => view.accept("phase", line.in_phase(&phase))?,
        None => line,
    };
    let name = line.name().to_string();
    let mut next = view.accept("", brief.clone().line(line.for_purposes(&purposes)))?;
    for group in groups {
        next = view.accept("groups", next.group(&group, &[&name]))?;
    }
    if let Some(lot) = lot {
        let lot = view.accept("lot", catalogue.lot(lot))?;
        next = view.accept("lot", next.use_lot(&name, lot))?;
    }
    Some(next)
}

fn read_role(
    view: &TableView<'_>,
    fix: Option<Ppm>,
    (low, high): (Option<Ppm>, Option<Ppm>),
    qs: bool,
    or_absent: bool,
) -> Option<Role> {
    let ranged = view.has("low") || view.has("high");
    if [view.has("fix"), ranged, qs].into_iter().filter(|stated| *stated).count() > 1 {
        view.fault(
            "",
            Fault::new(FaultKind::Contradiction, "a line is fixed, between two percentages, or fills to 100")
                .remedy("keep one of fix, low with high, qs"),
        );
        return None;
    }
    if or_absent && !view.has("low") {
        view.fault(
            "or_absent",
            Fault::new(FaultKind::Missing, "a line that may be absent needs the least dose that it has otherwise")
                .remedy("state low, above 0 % w/w"),
        );
        return None;
    }
    if view.has("fix") {
        return fix.map(Role::Fixed);
    }
    if ranged {
        let low = if view.has("low") { low? } else { Ppm::ZERO };
        let high = if view.has("high") { high? } else { Ppm::WHOLE };
        return view
            .accept("low", if or_absent { Role::absent_or_between(low, high) } else { Role::between(low, high) });
    }
    Some(if qs { Role::Qs } else { Role::Free })
}

fn read_split(view: &TableView<'_>, brief: &Brief) -> Option<Brief> {
    let name = view.needed_name("name");
    let by = view.needed("by", |view| view.choice::<SplitBasis>("by"));
    let parts = view.tables("parts", |view| {
        let line = view.needed("line", |view| view.text("line"));
        let part = view.needed("part", |view| view.exact("part", Some(Quantity::SplitPart)));
        Some((line?.to_string(), part?))
    });
    let members: Vec<(&str, &crate::number::Exact)> = parts.iter().map(|(line, part)| (line.as_str(), part)).collect();
    view.accept("", brief.clone().split(&name?, by?, members))
}

fn read_requirement(view: &TableView<'_>) -> Option<Requirement> {
    let name = view.name("name");
    let measure = read_measure(view);
    let basis = read_basis(view);
    let (equal, at_least, at_most) =
        (view.exact("equal", None), view.exact("at_least", None), view.exact("at_most", None));
    let every = view.boolean("for_every_composition").unwrap_or(false);
    let stated = [view.has("equal"), view.has("at_least") || view.has("at_most")];
    if stated != [true, false] && stated != [false, true] {
        view.fault(
            "",
            Fault::new(FaultKind::Contradiction, "a requirement states either equal, or at_least, at_most or both"),
        );
        return None;
    }
    let measure = measure?;
    let requirement = match (equal, at_least, at_most) {
        (Some(value), ..) => Requirement::equal(measure, value),
        (None, Some(low), Some(high)) => Requirement::between(measure, low, high),
        (None, Some(low), None) if !view.has("at_most") => Requirement::at_least(measure, low),
        (None, None, Some(high)) if !view.has("at_least") => Requirement::at_most(measure, high),
        // Reported already.
        _ => return None,
    };
    let requirement = view.accept("at_least", requirement)?.on(basis);
    let requirement = if every { requirement.for_every_composition() } else { requirement };
    match name {
        Some(name) => view.accept("name", requirement.named(&name)),
        None => Some(requirement),
    }
}

fn read_objective(view: &TableView<'_>, brief: &Brief) -> Option<Objective> {
    let base = |key: &'static str| {
        let base = view.named_decimals(key, Quantity::Percent);
        base.into_iter()
            .filter_map(|(_, name, percent)| Some((name, view.accept(key, Ppm::from_percent(percent))?)))
            .collect()
    };
    if view.has("least_change") {
        return Some(Objective::LeastChange(base("least_change")));
    }
    if view.has("least_squares") {
        return Some(Objective::LeastSquares(base("least_squares")));
    }
    let direction = view.needed("direction", |view| view.choice::<Direction>("direction"));
    let measure = read_measure(view);
    let basis = read_basis(view);
    if let Some(measure) = &measure {
        view.accept("", check_scopes(measure, &brief.views()));
    }
    Some(Objective::measure(direction?, measure?, basis))
}
