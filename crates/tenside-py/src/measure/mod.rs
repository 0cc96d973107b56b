//! What is asked of a formula.

pub(crate) mod basis;
pub(crate) mod measured;

use indexmap::IndexMap;
use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use pyo3::types::{PyString, PyTuple};
use pyo3::{PyTypeInfo, type_hint_identifier, type_hint_subscript, type_hint_union};
use tenside::bounds::Quantity;
use tenside::error::{Fault, FaultKind};
use tenside::measure::{Content, Scope, ScoreTable, SubstanceSum, SumFactor, SumMember, Term};
use tenside::number::Exact;

use crate::convert::failure::{Failure, Outcome};
use crate::convert::input::{ByName, Names, Number, Several, TEXT, exact, items, numbers, one_by_one};
use crate::convert::output::{Fraction, Keywords, pasted, quoted};

/// A content over a content, each within a scope of lines. The module `measure` has them ready made. `scores` are a
/// number for each raw material, `default` that of every other, `factors` and `classes` what substances and classes of
/// them count, `terms` measures with the factor of each; `phase`, `group` and `lines` are the scope.
///
/// >>> td.measure.Measure("water") == td.measure.water
/// True
/// >>> td.measure.cost.per(td.measure.active_matter).name
/// 'cost per active matter'
#[pyclass(frozen, eq, from_py_object, module = "tenside.measure")]
#[derive(Clone, PartialEq)]
pub(crate) struct Measure(pub(crate) tenside::measure::Measure);

value!(Measure, |it| it.name());

text_cell!(Measure, |it| it.0.name());

getters!(Measure {
    /// What it is called in tables and messages.
    name: String = |it| it.name();
    /// Its unit; a cost's is in the currency of the price list.
    unit: String = |it| it.unit(None);
    /// True if the denominator is not the mass of the formula.
    is_ratio: bool = |it| it.is_ratio();
});

#[pymethods]
impl Measure {
    /// As documents write it: a content, `of` what, counted in a phase, a group or lines only, `per` another measure; a
    /// "sum" has terms, each a measure with its factor.
    #[new]
    #[pyo3(signature = (content, of=None, *, scores=None, default=None, factors=None, classes=None, terms=None, phase=None, group=None, lines=None, per=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn new(
        content: &str,
        of: Option<&str>,
        scores: Option<ByName>,
        default: Option<Number>,
        factors: Option<Factors>,
        classes: Option<Factors>,
        terms: Option<Several<(AMeasure, Number)>>,
        phase: Option<&str>,
        group: Option<&str>,
        lines: Option<Names>,
        per: Option<AMeasure>,
    ) -> Outcome<Self> {
        let over = |measure: tenside::measure::Measure| {
            Measure(per.map_or_else(|| measure.clone(), |per| measure.clone().per(&per.0)))
        };
        if let Some(terms) = terms.filter(|_| content == "sum") {
            let terms: Vec<_> =
                terms.0.into_iter().map(|(measure, factor)| measure.0 * factor.0).collect::<Result<_, _>>()?;
            return Ok(over(tenside::measure::Measure::sum(terms)?));
        }
        let summed = factors.is_some() || classes.is_some();
        let content = match scores {
            Some(scores) if content == "score" && !summed => {
                let table = ScoreTable::new(of.unwrap_or("score"), numbers(Some(scores)))?;
                Content::Score(match default {
                    Some(default) => table.with_default(default.0)?,
                    None => table,
                })
            }
            _ if default.is_some() => {
                let fault = Fault::new(FaultKind::Unsupported, "only a score with scores has a default");
                return Err(fault.value(format!("{content:?}")).into());
            }
            None if content == "substance-sum" => Content::Sum(sum(of.unwrap_or("sum"), factors, classes)?),
            None if !summed => Content::parse(content, of)?,
            _ => {
                let fault =
                    Fault::new(FaultKind::Unsupported, "only a score has scores, only a sum of substances has factors");
                return Err(fault.value(format!("{content:?}")).into());
            }
        };
        Ok(over(
            tenside::measure::Measure::of(content).contributed_by(scope(phase, group, lines)?.unwrap_or(Scope::All)),
        ))
    }

    /// Both sides over the lines of a phase, of a group, or named ones: percent of the phase, cost of the group.
    ///
    /// >>> td.measure.water.within(phase="liquid").name
    /// 'water within phase liquid'
    #[pyo3(signature = (*, phase=None, group=None, lines=None))]
    fn within(&self, phase: Option<&str>, group: Option<&str>, lines: Option<Names>) -> Outcome<Self> {
        Ok(Measure(self.0.clone().within(scope(phase, group, lines)?.ok_or_else(no_scope)?)))
    }

    /// Counting only what the lines of a phase, of a group, or named ones bring, over the whole formula.
    ///
    /// >>> td.measure.as_supplied.contributed_by(lines=["cetyl-alcohol", "stearic-acid"]).name
    /// 'raw material as supplied from lines cetyl-alcohol, stearic-acid'
    #[pyo3(signature = (*, phase=None, group=None, lines=None))]
    fn contributed_by(&self, phase: Option<&str>, group: Option<&str>, lines: Option<Names>) -> Outcome<Self> {
        Ok(Measure(self.0.clone().contributed_by(scope(phase, group, lines)?.ok_or_else(no_scope)?)))
    }

    /// This content over the content of another measure: a ratio.
    /// `other` is the measure below.
    ///
    /// >>> td.measure.cationic_charge.per(td.measure.anionic_charge).unit
    /// 'mol/mol'
    fn per(&self, other: AMeasure) -> Self {
        Measure(self.0.clone().per(&other.0))
    }

    /// The sum of two measures over one denominator, in one unit. Measures can be subtracted and multiplied by a number
    /// as well.
    ///
    /// >>> from tenside import measure as m
    /// >>> (m.form("liquid") + m.form("oil")).per(m.form("powder")).unit
    /// 'kg/kg'
    /// >>> m.water + m.active_matter * "1/2" - m.unspecified
    /// measure.water + measure.active_matter * 0.5 - measure.unspecified
    fn __add__(&self, other: AMeasure) -> Outcome<Self> {
        Ok(Measure((self.0.clone() + other.0)?))
    }

    /// The sum that Python begins with 0.
    fn __radd__(&self, other: Number) -> Outcome<Self> {
        if other.0 == Exact::ZERO {
            return Ok(self.clone());
        }
        let fault = Fault::new(FaultKind::Unsupported, "a number is no measure").value(other.0);
        Err(fault.remedy("multiply a measure by it, or add it to the limit").into())
    }

    fn __sub__(&self, other: AMeasure) -> Outcome<Self> {
        Ok(Measure((self.0.clone() - other.0)?))
    }

    /// Only from 0: `0 - measure`.
    fn __rsub__(&self, other: Number) -> Outcome<Self> {
        self.__neg__().__radd__(other)
    }

    fn __mul__(&self, factor: Number) -> Outcome<Self> {
        Ok(Measure((self.0.clone() * factor.0)?))
    }

    fn __rmul__(&self, factor: Number) -> Outcome<Self> {
        self.__mul__(factor)
    }

    fn __truediv__(&self, divisor: Number) -> Outcome<Self> {
        let factor = divisor
            .0
            .reciprocal()
            .ok_or_else(|| Fault::new(FaultKind::OutOfRange, "a measure divided by 0").value(self.0.name()))?;
        Ok(Measure((self.0.clone() * factor)?))
    }

    /// Refused: a number over a measure is no measure.
    fn __rtruediv__(&self, number: Number) -> Outcome<Self> {
        let fault = Fault::new(FaultKind::Unsupported, "a number divided by a measure is no measure")
            .value(number.0)
            .at(self.0.name());
        Err(fault.remedy("write one measure per another: m.water.per(m.active_matter)").into())
    }

    fn __neg__(&self) -> Self {
        Measure(-self.0.clone())
    }

    fn __getnewargs_ex__<'py>(&self, py: Python<'py>) -> PyResult<((&'static str, Option<String>), Keywords<'py>)> {
        let mut keywords = IndexMap::new();
        let alone = |term: &Term| {
            Measure(tenside::measure::Measure::of(term.content.clone()).contributed_by(term.scope.clone()))
        };
        let content = match self.0.numerator() {
            [term] if term.factor == Exact::ONE => {
                content_keywords(py, &term.content, &mut keywords)?;
                match &term.scope {
                    Scope::Phase(name) => keywords.insert("phase", name.into_pyobject(py)?.into_any()),
                    Scope::Group(name) => keywords.insert("group", name.into_pyobject(py)?.into_any()),
                    Scope::Lines(names) => keywords.insert("lines", names.into_pyobject(py)?.into_any()),
                    _ => None,
                };
                (term.content.slug(), term.content.argument())
            }
            terms => {
                let pairs: Vec<(Measure, Fraction)> =
                    terms.iter().map(|term| (alone(term), Fraction(term.factor.clone()))).collect();
                keywords.insert("terms", pairs.into_pyobject(py)?.into_any());
                ("sum", None)
            }
        };
        let over = self.0.denominator_over_the_whole();
        if over != tenside::measure::Measure::as_supplied() {
            keywords.insert("per", Measure(over).into_pyobject(py)?.into_any());
        }
        Ok((content, keywords))
    }

    fn __str__(&self) -> String {
        self.0.name()
    }

    fn __repr__(&self, py: Python<'_>) -> PyResult<String> {
        let (above, below) = (self.0.numerator(), self.0.denominator());
        let plain = |term: &Term| term.factor == Exact::ONE;
        if let ([above], [below]) = (above, below)
            && plain(above)
            && plain(below)
        {
            let (first, second) = (content(py, &above.content)?, content(py, &below.content)?);
            let ratio = if self.0.is_ratio() { format!("{first}.per({second})") } else { first.clone() };
            return match (&above.scope, &below.scope) {
                (Scope::All, Scope::All) => Ok(ratio),
                (above, below) if above == below => Ok(format!("{ratio}.within({})", keyword(py, above)?)),
                (above, Scope::All) => Ok(format!("{ratio}.contributed_by({})", keyword(py, above)?)),
                (Scope::All, below) => Ok(format!("{first}.per({second}.contributed_by({}))", keyword(py, below)?)),
                (above, below) => Ok(format!(
                    "{first}.contributed_by({}).per({second}.contributed_by({}))",
                    keyword(py, above)?,
                    keyword(py, below)?
                )),
            };
        }
        let sum = terms(py, above)?;
        if self.0.denominator_over_the_whole() == tenside::measure::Measure::as_supplied() {
            return Ok(sum);
        }
        Ok(format!("({sum}).per({})", terms(py, below)?))
    }
}

/// The keywords of a content that is more than a name.
fn content_keywords<'py>(py: Python<'py>, content: &Content, keywords: &mut Keywords<'py>) -> PyResult<()> {
    if let Content::Score(table) = content {
        let scores: IndexMap<&str, rust_decimal::Decimal> = table.iter().collect();
        keywords.insert("scores", scores.into_pyobject(py)?.into_any());
        if let Some(default) = table.default() {
            keywords.insert("default", default.into_pyobject(py)?.into_any());
        }
    }
    if let Content::Sum(sum) = content {
        for (keyword, of_classes) in [("factors", false), ("classes", true)] {
            let members =
                sum.members().iter().filter(|(member, _)| matches!(member, SumMember::Class(_)) == of_classes);
            let factors = members
                .map(|(member, factor)| Ok((member_name(member), factor_of(py, factor)?)))
                .collect::<PyResult<IndexMap<String, Bound<'py, PyAny>>>>()?;
            if !factors.is_empty() {
                keywords.insert(keyword, factors.into_pyobject(py)?.into_any());
            }
        }
    }
    Ok(())
}

/// A sum as the module `measure` spells it.
fn terms(py: Python<'_>, terms: &[Term]) -> PyResult<String> {
    let mut text = String::new();
    for (place, term) in terms.iter().enumerate() {
        let mut name = content(py, &term.content)?;
        if term.scope != Scope::All {
            name = format!("{name}.contributed_by({})", keyword(py, &term.scope)?);
        }
        text += match (place, term.factor.is_negative()) {
            (0, false) => "",
            (0, true) => "-",
            (_, false) => " + ",
            (_, true) => " - ",
        };
        text += &name;
        let size = term.factor.abs();
        if size != Exact::ONE {
            text += &format!(" * {}", pasted(&size));
        }
    }
    Ok(text)
}

fn no_scope() -> Fault {
    Fault::new(FaultKind::Missing, "no lines are named for the scope").allowed("phase, group or lines")
}

/// As the module `measure` spells it.
fn content(py: Python<'_>, content: &Content) -> PyResult<String> {
    let slug = content.slug().replace('-', "_");
    let name = if slug == "class" { "class_" } else { slug.as_str() };
    Ok(match (content, content.argument()) {
        (Content::Score(table), _) => {
            let scores: IndexMap<&str, String> = table.iter().map(|(id, score)| (id, score.to_string())).collect();
            let default = table.default().map_or_else(String::new, |default| format!(", default='{default}'"));
            format!("measure.score({}, {}{default})", quoted(py, table.name())?, scores.into_pyobject(py)?.repr()?)
        }
        (Content::Sum(sum), _) => format!("<measure.substance_sum {}>", quoted(py, sum.name())?),
        (_, Some(argument)) => format!("measure.{name}({})", quoted(py, &argument)?),
        _ => format!("measure.{name}"),
    })
}

/// The sum of substances and of ingredients of classes, each by its factor.
fn sum(name: &str, factors: Option<Factors>, classes: Option<Factors>) -> Outcome<SubstanceSum> {
    let mut members: Vec<(SumMember, SumFactor)> = Vec::new();
    for (inci, factor) in factors.into_iter().flat_map(|factors| factors.0) {
        members.push((SumMember::Substance(inci), factor));
    }
    for (class, factor) in classes.into_iter().flat_map(|classes| classes.0) {
        members.push((SumMember::Class(class.parse()?), factor));
    }
    Ok(SubstanceSum::new(name, members)?)
}

fn member_name(member: &SumMember) -> String {
    match member {
        SumMember::Substance(inci) => inci.clone(),
        SumMember::Class(class) => class.to_string(),
    }
}

fn factor_of<'py>(py: Python<'py>, factor: &SumFactor) -> PyResult<Bound<'py, PyAny>> {
    match factor {
        SumFactor::Parts(parts) => Fraction(parts.clone()).into_pyobject(py),
        SumFactor::As { counted, molecules, own } => Ok((*counted, *molecules, *own).into_pyobject(py)?.into_any()),
    }
}

fn keyword(py: Python<'_>, scope: &Scope) -> PyResult<String> {
    Ok(match scope {
        Scope::Phase(name) => format!("phase={}", quoted(py, name)?),
        Scope::Group(name) => format!("group={}", quoted(py, name)?),
        Scope::Lines(names) => format!("lines={}", names.into_pyobject(py)?.repr()?),
        _ => String::new(),
    })
}

/// The lines meant by at most one of three keywords; nothing for none.
pub(crate) fn scope(phase: Option<&str>, group: Option<&str>, lines: Option<Names>) -> Outcome<Option<Scope>> {
    Ok(match (phase, group, lines) {
        (None, None, None) => None,
        (Some(phase), None, None) => Some(Scope::phase(phase)?),
        (None, Some(group), None) => Some(Scope::group(group)?),
        (None, None, Some(lines)) => Some(Scope::lines(lines.each())?),
        _ => {
            return Err(Fault::new(FaultKind::Contradiction, "a scope has one keyword")
                .allowed("phase, group or lines")
                .into());
        }
    })
}

/// What members of a sum of substances count, by name in the order given: parts, or
/// `(molar mass it counts as, molecules, own molar mass)`.
pub(crate) struct Factors(pub(crate) Vec<(String, SumFactor)>);

impl<'a, 'py> FromPyObject<'a, 'py> for Factors {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = type_hint_subscript!(
        type_hint_identifier!("collections.abc", "Mapping"),
        TEXT,
        type_hint_union!(
            type_hint_identifier!("typing", "SupportsFloat"),
            TEXT,
            type_hint_identifier!("builtins", "tuple")
        )
    );

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        let entry = |entry: Bound<'py, PyAny>| {
            let (name, factor): (String, Bound<'py, PyAny>) = entry.extract()?;
            if !factor.is_instance_of::<PyTuple>() {
                return Ok((name, SumFactor::Parts(exact(&factor)?)));
            }
            let (counted, molecules, own): (Bound<'py, PyAny>, u32, Option<Bound<'py, PyAny>>) = factor.extract()?;
            let mass = |mass: &Bound<'py, PyAny>| Number(exact(mass)?).decimal(Quantity::MolarMass);
            Ok((name, SumFactor::As { counted: mass(&counted)?, molecules, own: own.as_ref().map(mass).transpose()? }))
        };
        one_by_one(&items(&object)?, Quantity::Entries, entry).map(Factors)
    }
}

/// A measure. Text is refused: it could mean a line as well.
pub(crate) struct AMeasure(pub(crate) tenside::measure::Measure);

impl<'a, 'py> FromPyObject<'a, 'py> for AMeasure {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = Measure::TYPE_HINT;

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        let other = match object.cast::<Measure>() {
            Ok(measure) => return Ok(AMeasure(measure.get().0.clone())),
            Err(other) => PyErr::from(other),
        };
        let Ok(text) = object.extract::<String>() else { return Err(other.into()) };
        let shown: String = text.chars().take(80).collect();
        let spelling = |content: Content| content.slug().replace('-', "_");
        let known =
            Content::parse(&text.replace('_', "-"), None).map_or_else(|_| format!("constituent({shown:?})"), spelling);
        Err(Fault::new(FaultKind::AmbiguousName, "text could mean a measure or a line")
            .value(format!("{shown:?}"))
            .remedy(format!(
                "for a measure write measure.{known}, for a line measure.as_supplied.contributed_by(lines={shown:?})"
            ))
            .into())
    }
}

/// One measure or several.
pub(crate) struct Measures(pub(crate) Vec<tenside::measure::Measure>);

impl<'a, 'py> FromPyObject<'a, 'py> for Measures {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = type_hint_union!(
        Measure::TYPE_HINT,
        type_hint_subscript!(type_hint_identifier!("collections.abc", "Iterable"), Measure::TYPE_HINT)
    );

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        if object.is_instance_of::<Measure>() || object.is_instance_of::<PyString>() {
            return Ok(Measures(vec![object.extract::<AMeasure>()?.0]));
        }
        one_by_one(&object, Quantity::Entries, |measure| Ok(measure.extract::<AMeasure>()?.0)).map(Measures)
    }
}
