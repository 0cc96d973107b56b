//! A recipe as people write it, with its questions.

use pyo3::prelude::*;
use pyo3::types::PyType;
use rust_decimal::Decimal;
use tenside::document::Notation;
use tenside::error::{Fault, FaultKind};
use tenside::formula::{Answer, FigureUnit, LineRole, QuestionId, QuestionKind};

use crate::convert::failure::Outcome;
use crate::convert::input::{AMass, Several};
use crate::convert::output::{Fraction, from_json, to_json};
use crate::convert::page::Page;
use crate::convert::running::reading;
use crate::convert::table::Rows;
use crate::convert::word::Word;
use crate::formula::Formula;
use crate::material::Material;
use crate::material::catalogue::Catalogue;

record! {
    "tenside.formula",
    /// What a line departs from its exact percentage for standing on the grid of 0.0001 %.
    DraftDeparture of tenside::formula::Departure, |departure| {
        /// The line's name in the formula.
        line: String = departure.line,
        /// The exact percentage.
        exact: Fraction = Fraction(departure.exact),
        /// The percentage on the grid.
        grid: Decimal = departure.grid.decimal_percent(),
        /// True for the line that took the rounding rests of the others.
        absorber: bool = departure.absorber,
    }
}

record! {
    "tenside.formula",
    /// A draft that became a formula.
    Settled of tenside::formula::Settled, |settled| {
        /// The formula.
        formula: Formula = Formula(settled.formula),
        /// The lines that are not on the grid exactly.
        departures: Vec<DraftDeparture> = settled.departures.into_iter().map(DraftDeparture::from).collect(),
    }
}

/// One question of a draft, with the ways to answer it.
///
/// >>> draft = td.Draft("Clay", [("kaolin", "97.5 %")])
/// >>> question = draft.questions(td.Catalogue.starter())[0]
/// >>> question.id, question.found, question.choices[0].label
/// ('total-not-hundred', '97.5 %', 'scale every line to a total of 100')
#[pyclass(frozen, eq, from_py_object, module = "tenside.formula")]
#[derive(Clone, PartialEq)]
pub(crate) struct Question(tenside::formula::Question);

value!(Question, |it| (&it.id.to_string(), &it.place));
shown!(Question, |it| it.0.page());

getters!(Question {
    /// Its identifier, kind and line: "range@3".
    id: String = |it| it.id.to_string();
    /// What kind of question: "range", "total-not-hundred".
    kind: Word<QuestionKind> = |it| Word(it.id.kind);
    /// The line it is about, counted from 1; None for the recipe as a whole.
    line: Option<usize> = |it| it.id.line;
    /// Where: the line with what stands there, or the recipe.
    place: String = |it| it.place.clone();
    /// What is asked about.
    message: String = |it| it.message.clone();
    /// What was found.
    found: String = |it| it.found.clone();
    /// What a formula can take.
    allowed: String = |it| it.allowed.clone();
    /// Ways to answer. Where a name is only guessed at, the first leaves it open.
    choices: Vec<Choice> = |it| it.choices.iter().cloned().map(Choice).collect();
    /// The call of a draft that answers it in words of one's own.
    call: String = |it| it.call();
    /// The question with its numbered choices.
    page: Page = |it| Page(it.page());
});

row!(Question {
    id: String = |it| it.id(),
    kind: Word<QuestionKind> = |it| it.kind(),
    line: Option<usize> = |it| it.line(),
    place: String = |it| it.place(),
    message: String = |it| it.message(),
    found: String = |it| it.found(),
    allowed: String = |it| it.allowed(),
    choices: Vec<Choice> = |it| it.choices(),
    call: String = |it| it.call(),
});

#[pymethods]
impl Question {
    #[classmethod]
    fn _of(_class: &Bound<'_, PyType>, json: &str) -> Outcome<Self> {
        Ok(Question(from_json(json)?))
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> Outcome<(Bound<'py, PyAny>, (String,))> {
        Ok((slf.get_type().getattr("_of")?, (to_json(&slf.get().0)?,)))
    }

    fn __repr__(&self) -> String {
        format!("<Question {}: {}>", self.0.id, self.0.message)
    }
}

/// One way to answer a question of a draft; `label` says what it does.
#[pyclass(frozen, eq, from_py_object, module = "tenside.formula")]
#[derive(Clone, PartialEq)]
pub(crate) struct Choice(tenside::formula::Choice);

value!(Choice, |it| &it.label);

getters!(Choice {
    /// What it does, in words.
    label: String = |it| it.label.clone();
});

row!(Choice { label: String = |it| it.label() });

#[pymethods]
impl Choice {
    #[classmethod]
    fn _of(_class: &Bound<'_, PyType>, json: &str) -> Outcome<Self> {
        Ok(Choice(from_json(json)?))
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> Outcome<(Bound<'py, PyAny>, (String,))> {
        Ok((slf.get_type().getattr("_of")?, (to_json(&slf.get().0)?,)))
    }

    fn __repr__(&self) -> String {
        format!("<Choice: {}>", self.0.label)
    }
}

/// A line as written; `lot` is the name of a lot that the catalogue has.
/// `method_only` marks what the method adds and the formula does not count.
///
/// >>> line = td.formula.DraftLine("Rosemary oil", "3 drops", phase="cool-down", optional=True)
/// >>> line.item, line.amount
/// ('Rosemary oil', '3 drops')
#[pyclass(frozen, eq, from_py_object, module = "tenside.formula")]
#[derive(Clone, PartialEq)]
pub(crate) struct DraftLine(tenside::formula::DraftLine);

value!(DraftLine, |it| it.item());

getters!(DraftLine {
    /// The whole line of a pasted text, where it was one.
    written: Option<String> = |it| it.written().map(str::to_string);
    /// The raw material as written.
    item: String = |it| it.item().to_string();
    /// The amount as written.
    amount: Option<String> = |it| it.amount().map(str::to_string);
    /// The amount that counts: as answered, else as written.
    current_amount: String = |it| it.current_amount().to_string();
    /// What it is read as: "material", "heading", "columns", "total", "comment". Only raw materials count.
    role: Word<LineRole> = |it| Word(it.role());
    /// The phase, if one is given.
    phase: Option<String> = |it| it.phase().map(str::to_string);
    /// The lot of the raw material, if one is named.
    lot: Option<String> = |it| it.lot().map(str::to_string);
    /// The id of the raw material chosen for it.
    material: Option<String> = |it| it.chosen_material().map(str::to_string);
    /// True if it is said outright that it may be left out.
    is_optional: bool = |it| it.is_optional();
    /// True if it stands in the method but not in the list.
    is_method_only: bool = |it| it.is_method_only();
    /// True if an answer left it out.
    is_dropped: bool = |it| it.is_dropped();
});

row!(DraftLine {
    item: String = |it| it.item(),
    amount: Option<String> = |it| it.amount(),
    current_amount: String = |it| it.current_amount(),
    role: Word<LineRole> = |it| it.role(),
    phase: Option<String> = |it| it.phase(),
    lot: Option<String> = |it| it.lot(),
    material: Option<String> = |it| it.material(),
    is_optional: bool = |it| it.is_optional(),
    is_method_only: bool = |it| it.is_method_only(),
    is_dropped: bool = |it| it.is_dropped(),
    written: Option<String> = |it| it.written(),
});

#[pymethods]
impl DraftLine {
    #[new]
    #[pyo3(signature = (item, amount=None, *, phase=None, lot=None, optional=false, method_only=false))]
    fn new(
        item: &str,
        amount: Option<&str>,
        phase: Option<&str>,
        lot: Option<&str>,
        optional: bool,
        method_only: bool,
    ) -> Outcome<Self> {
        let line = amount.map_or_else(
            || tenside::formula::DraftLine::without_amount(item),
            |amount| tenside::formula::DraftLine::new(item, amount),
        );
        let line = line.as_optional(optional).as_method_only(method_only);
        let line = match lot {
            Some(lot) => line.of_lot(lot)?,
            None => line,
        };
        Ok(DraftLine(match phase {
            Some(phase) => line.in_phase(phase)?,
            None => line,
        }))
    }

    /// The line of a draft of one line, when it comes back from a pickle.
    #[classmethod]
    fn _of(_class: &Bound<'_, PyType>, json: &str) -> Outcome<Self> {
        let draft = tenside::formula::Draft::read(json, Notation::Json)?;
        let line = draft.lines().first().ok_or_else(|| Fault::new(FaultKind::Missing, "a draft without a line"))?;
        Ok(DraftLine(line.clone()))
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> Outcome<(Bound<'py, PyAny>, (String,))> {
        let draft = tenside::formula::Draft::new("line", vec![slf.get().0.clone()])?;
        Ok((slf.get_type().getattr("_of")?, (draft.write(Notation::Json)?,)))
    }

    fn __repr__(&self) -> String {
        format!("<DraftLine {:?}, {:?}>", self.0.item(), self.0.amount().unwrap_or_default())
    }
}

one_of! {
    /// A line, or a raw material and its amount.
    #[expect(clippy::large_enum_variant, reason = "each is read once and gone")]
    enum Written: "a DraftLine, a Material with its amount, or a name with its amount" {
        Line(DraftLine),
        Material((Material, Option<String>)),
        Pair((String, Option<String>)),
    }
}

/// A question, or its identifier.
#[derive(FromPyObject)]
enum Which {
    #[pyo3(transparent)]
    Id(String),
    #[pyo3(transparent)]
    Question(Question),
    #[pyo3(transparent)]
    Other(Py<PyAny>),
}

impl Which {
    fn id(&self) -> Outcome<QuestionId> {
        match self {
            Which::Id(id) => Ok(id.parse()?),
            Which::Question(question) => Ok(question.0.id),
            Which::Other(other) => {
                let fault = Fault::new(FaultKind::Unsupported, "this is no question of a draft")
                    .value(type_of(other))
                    .allowed("a question, or its identifier such as \"range@3\"");
                Err(fault.remedy("draft.questions(catalogue) lists the open ones").into())
            }
        }
    }
}

/// The name of the type of what was given, for messages.
fn type_of(object: &Py<PyAny>) -> String {
    Python::attach(|py| {
        object.bind(py).get_type().name().map_or_else(|_| "something else".to_string(), |name| name.to_string())
    })
}

/// An answer: a choice, the number of one, or words.
#[derive(FromPyObject)]
enum Given {
    #[pyo3(transparent)]
    Choice(Choice),
    #[pyo3(transparent)]
    Words(String),
    #[pyo3(transparent)]
    Number(usize),
    #[pyo3(transparent)]
    Other(Py<PyAny>),
}

/// How a question is answered, for messages.
const ANSWERS: &str =
    "one of question.choices, its number from 0, or words: an id such as \"sci-powder\", an amount such as \"30 g\"";

impl Given {
    /// The answer; `asked` are the questions that are open, where a catalogue tells them.
    fn to(self, question: &Which, asked: Option<&[tenside::formula::Question]>) -> Outcome<Answer> {
        match self {
            Given::Choice(choice) => Ok(choice.0.answer),
            Given::Words(words) => Ok(Answer::read(question.id()?, &words)?),
            Given::Number(number) => {
                if let Which::Question(question) = question {
                    return Ok(question.0.choice(number)?.answer.clone());
                }
                let id = question.id()?;
                let fault =
                    |message: &str| Fault::new(FaultKind::Unsupported, message).at(id.to_string()).value(number);
                let Some(asked) = asked else {
                    let message = "which choices a question has hangs on the catalogue";
                    let remedy =
                        format!("give the question itself, or the catalogue: answer(\"{id}\", {number}, catalogue)");
                    return Err(fault(message).remedy(remedy).into());
                };
                let Some(question) = asked.iter().find(|question| question.id == id) else {
                    let open: Vec<String> = asked.iter().map(|question| question.id.to_string()).collect();
                    let open = if open.is_empty() { "no question is open".to_string() } else { open.join(", ") };
                    return Err(fault("this question is not open").allowed(open).into());
                };
                Ok(question.choice(number)?.answer.clone())
            }
            Given::Other(other) => {
                let fault = Fault::new(FaultKind::Unsupported, "this answers no question")
                    .at(question.id()?.to_string())
                    .value(type_of(&other));
                Err(fault.allowed(ANSWERS).remedy("print the question: it says how").into())
            }
        }
    }
}

/// A recipe as written. Immutable: an answer gives a new draft, in which the lines stand as they were written, counted
/// from 1. `title` is the recipe's.
///
/// >>> cat = td.Catalogue.starter()
/// >>> draft = td.Draft.from_text("Pasted bar", "sci-powder 60 %\ncetyl alcohol: 10-15 %\nRosemary oil 1 % (optional)\nkaolin 25 %")
/// >>> [question.id for question in draft.questions(cat)]
/// ['range@2', 'optional-line@3']
/// >>> draft.set_amount(2, "15 %").drop_optional(3).to_formula(cat).percentages["cetyl-alcohol"]
/// Decimal('15')
#[pyclass(frozen, eq, module = "tenside")]
#[derive(Clone, PartialEq)]
pub(crate) struct Draft(pub(crate) tenside::formula::Draft);

value!(Draft, |it| (it.title(), it.lines().len()));

shown!(Draft, |it| it.0.page(None));

getters!(Draft {
    /// Its title.
    title: String = |it| it.title().to_string();
    /// Its lines as written, those left out by an answer included.
    lines: Rows<DraftLine> = |it| it.lines().iter().cloned().map(DraftLine).collect();
    /// Mass of the batch in grams, where an answer gave it.
    batch: Option<Fraction> = |it| it.batch().map(|mass| Fraction(mass.grams().clone()));
    /// True if the total is to be scaled to 100.
    is_normalised: bool = |it| it.is_normalised();
});

#[pymethods]
impl Draft {
    #[new]
    fn new(title: &str, lines: Several<Written>) -> Outcome<Self> {
        let line = |written: Written| match written {
            Written::Line(line) => Ok(line.0),
            // A lot of a raw material stays one.
            Written::Material((material, amount)) => {
                let lot = material.0.lot().map(|lot| lot.id());
                DraftLine::new(material.0.id(), amount.as_deref(), None, lot, false, false).map(|line| line.0)
            }
            Written::Pair((item, amount)) => {
                DraftLine::new(&item, amount.as_deref(), None, None, false, false).map(|line| line.0)
            }
        };
        Ok(Draft(tenside::formula::Draft::new(title, lines.0.into_iter().map(line).collect::<Outcome<_>>()?)?))
    }

    /// Reads a pasted recipe: a line is a raw material with its amount, first or last, with dashes, dots, brackets or
    /// cells between; headings become phases, totals are compared, remarks kept. What cannot be read becomes a
    /// question. `text` is the recipe as it was pasted, `title` what it is to be called.
    #[classmethod]
    fn from_text(_class: &Bound<'_, PyType>, title: &str, text: &str) -> Outcome<Self> {
        Ok(Draft(tenside::formula::Draft::from_text(title, text)?))
    }

    /// Every open question, by line, then those about the recipe as a whole.
    /// Names are looked up in the `catalogue`.
    fn questions(&self, py: Python<'_>, catalogue: &Catalogue) -> Rows<Question> {
        py.detach(|| self.0.questions(&catalogue.0)).into_iter().map(Question).collect()
    }

    /// The formula, with what each line departs from its exact percentage; raises OpenQuestion with all open questions.
    /// Names are looked up in the `catalogue`.
    fn settle(&self, py: Python<'_>, catalogue: &Catalogue) -> Outcome<Settled> {
        Ok(Settled::from(py.detach(|| self.0.settle(&catalogue.0))?))
    }

    /// The formula; raises OpenQuestion with all open questions.
    /// Names are looked up in the `catalogue`.
    fn to_formula(&self, py: Python<'_>, catalogue: &Catalogue) -> Outcome<Formula> {
        Ok(self.settle(py, catalogue)?.formula)
    }

    /// With an answer to a question. `question` is one of `draft.questions(catalogue)`, or its identifier; `choice` is
    /// one of `question.choices`, its number from 0, or words of one's own: the id of a raw material, an amount, a lot,
    /// the mass of the batch. For the number of a choice of an identifier the `catalogue` is needed, which tells the
    /// choices.
    ///
    /// >>> cat = td.Catalogue.starter()
    /// >>> draft = td.Draft("Clay", [("kaolin", "97.5 %")])
    /// >>> question = draft.questions(cat)[0]
    /// >>> question.found, question.choices[0].label
    /// ('97.5 %', 'scale every line to a total of 100')
    /// >>> draft.answer(question, 0).questions(cat)
    /// []
    /// >>> draft.answer("total-not-hundred", 0, cat) == draft.answer(question, 0)
    /// True
    /// >>> draft = td.Draft.from_text("Two", "SCI - 60 %\nkaolin - 40 %")
    /// >>> question = draft.questions(cat)[0]
    /// >>> draft.answer(question, "sci-powder").to_formula(cat).percentages["sci-powder"]
    /// Decimal('60')
    #[pyo3(signature = (question, choice, catalogue=None))]
    fn answer(&self, py: Python<'_>, question: Which, choice: Given, catalogue: Option<&Catalogue>) -> Outcome<Self> {
        let asked = catalogue.map(|catalogue| py.detach(|| self.0.questions(&catalogue.0)));
        let answer = choice.to(&question, asked.as_deref())?;
        Ok(Draft(self.0.clone().answer(question.id()?, answer)?))
    }

    /// Accepts what a question asks about as it stands.
    fn accept(&self, question: Which) -> Outcome<Self> {
        Ok(Draft(self.0.clone().answer(question.id()?, Answer::Accept)?))
    }

    /// With another amount for a line; the line keeps what was written.
    fn set_amount(&self, line: usize, amount: &str) -> Outcome<Self> {
        Ok(Draft(self.0.clone().set_amount(line, amount)?))
    }

    /// With a raw material chosen for a line, by its id.
    fn choose(&self, line: usize, material: &str) -> Outcome<Self> {
        Ok(Draft(self.0.clone().choose(line, material)?))
    }

    /// With a lot chosen for a line, by the name that the catalogue knows it by.
    fn choose_lot(&self, line: usize, lot: &str) -> Outcome<Self> {
        Ok(Draft(self.0.clone().choose_lot(line, lot)?))
    }

    /// With a line read as something else: `role` is "material", "heading" (the name of the phase below it), "total" or
    /// "comment".
    ///
    /// >>> draft = td.Draft.from_text("Pasted", "Sturdy base\nkaolin 100 %").read_as(1, "heading")
    /// >>> draft.lines[1].phase
    /// 'Sturdy base'
    fn read_as(&self, line: usize, role: Word<LineRole>) -> Outcome<Self> {
        Ok(Draft(self.0.clone().read_as(line, role.0)?))
    }

    /// What was read from which line; with a `catalogue` also the raw materials, the totals and every open question
    /// with its choices.
    ///
    /// >>> draft = td.Draft.from_text("Pasted", "Phase A\nkaolin - 100 %\nTotal 100 %")
    /// >>> "no question is open" in draft.page(td.Catalogue.starter()).text().lower()
    /// True
    #[pyo3(signature = (catalogue=None))]
    fn page(&self, py: Python<'_>, catalogue: Option<&Catalogue>) -> Page {
        let catalogue = catalogue.map(|catalogue| &catalogue.0);
        Page(py.detach(|| self.0.page(catalogue)))
    }

    /// With what a line should have said.
    /// `item` names the raw material, `amount` says how much.
    fn rewrite(&self, line: usize, item: &str, amount: &str) -> Outcome<Self> {
        Ok(Draft(self.0.clone().rewrite(line, item, amount)?))
    }

    /// Without a line; it stays in the draft as written.
    fn drop_line(&self, line: usize) -> Outcome<Self> {
        Ok(Draft(self.0.clone().drop_line(line)?))
    }

    /// Without a line that is marked optional.
    fn drop_optional(&self, line: usize) -> Outcome<Self> {
        Ok(Draft(self.0.clone().drop_optional(line)?))
    }

    /// With a line added to the earlier one of the same raw material.
    fn merge(&self, line: usize) -> Outcome<Self> {
        Ok(Draft(self.0.clone().merge(line)?))
    }

    /// With every line added to an earlier one of the same raw material.
    fn merge_duplicates(&self) -> Self {
        Draft(self.0.clone().merge_duplicates())
    }

    /// With a line kept under a name of its own.
    fn name_line(&self, line: usize, name: &str) -> Outcome<Self> {
        Ok(Draft(self.0.clone().name_line(line, name)?))
    }

    /// With one line that fills to 100; others that wanted to will be asked for a figure.
    fn fill_with(&self, line: usize) -> Outcome<Self> {
        Ok(Draft(self.0.clone().fill_with(line)?))
    }

    /// Scaled so that the total is exactly 100.
    fn normalise(&self) -> Self {
        Draft(self.0.clone().normalise())
    }

    /// With the mass of the whole batch, against which masses become percentages.
    fn with_batch(&self, mass: AMass) -> Outcome<Self> {
        Ok(Draft(self.0.clone().with_batch(mass.0)?))
    }

    /// With figures without a unit read as "percent" or as "gram".
    fn with_figures_in(&self, unit: Word<FigureUnit>) -> Self {
        Draft(self.0.clone().with_figures_in(unit.0))
    }

    /// As a TOML document, what was answered included.
    fn to_toml(&self) -> Outcome<String> {
        Ok(self.0.write(Notation::Toml)?)
    }

    /// As a JSON document, what was answered included.
    fn to_json(&self) -> Outcome<String> {
        Ok(self.0.write(Notation::Json)?)
    }

    /// Reads a draft document in TOML.
    /// `text` is the document.
    ///
    /// >>> draft = td.Draft("Clay", [("kaolin", "97.5 %")]).normalise()
    /// >>> td.Draft.from_toml(draft.to_toml()) == draft == td.Draft.from_json(draft.to_json())
    /// True
    #[classmethod]
    fn from_toml(_class: &Bound<'_, PyType>, py: Python<'_>, text: &str) -> Outcome<Self> {
        Ok(Draft(reading(py, [text], |[text]| tenside::formula::Draft::read(text, Notation::Toml))?))
    }

    /// Reads a draft document in JSON.
    /// `text` is the document.
    #[classmethod]
    fn from_json(_class: &Bound<'_, PyType>, py: Python<'_>, text: &str) -> Outcome<Self> {
        Ok(Draft(reading(py, [text], |[text]| tenside::formula::Draft::read(text, Notation::Json))?))
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> Outcome<(Bound<'py, PyAny>, (String,))> {
        Ok((slf.get_type().getattr("from_json")?, (slf.get().to_json()?,)))
    }

    fn __repr__(&self) -> String {
        format!("<Draft {:?} of {} lines>", self.0.title(), self.0.lines().len())
    }
}
