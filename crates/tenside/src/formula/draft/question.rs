//! Questions: what only the person who wrote the recipe can say, each with the ways to answer it.

use std::fmt;

use super::answer::Choice;
use super::kind::{QuestionId, QuestionKind};
use crate::error::{Error, Fault, FaultKind};
use crate::render::{Page, Part};

/// One question. The choices are what can be offered; where a figure is asked for, `allowed` says what may be given.
///
/// ```
/// use tenside::catalogue::Catalogue;
/// use tenside::formula::{Draft, DraftLine, QuestionKind};
/// let draft = Draft::new("Clay", vec![DraftLine::new("kaolin", "97.5 %")])?;
/// let question = &draft.questions(&Catalogue::starter())[0];
/// assert_eq!(question.id.kind, QuestionKind::TotalNotHundred);
/// assert_eq!((question.found.as_str(), question.allowed.as_str()), ("97.5 %", "exactly 100 % w/w"));
/// let answered = draft.answer(question.id, question.choices[0].answer.clone())?;
/// assert!(answered.questions(&Catalogue::starter()).is_empty());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[non_exhaustive]
pub struct Question {
    /// Which question it is.
    pub id: QuestionId,
    /// Where: the line with what stands there, or the recipe.
    pub place: String,
    /// What is asked about, lower case.
    pub message: String,
    /// What was found.
    pub found: String,
    /// What a formula can take.
    pub allowed: String,
    /// Ways to answer. Where a name is only guessed at, the first leaves it open.
    pub choices: Vec<Choice>,
    /// The recipe counts in percent rather than in masses.
    pub(super) in_percent: bool,
}

/// Choices named in a fault; all of them stand in the question.
const MOST_CHOICES_SHOWN: usize = 4;

impl Question {
    /// The question as the fault that keeps a draft from becoming a formula.
    #[must_use]
    pub fn fault(&self) -> Fault {
        let fault = Fault::new(FaultKind::Question, self.message.clone())
            .at(self.place.clone())
            .value(&self.found)
            .allowed(self.allowed.clone());
        let mut offers: Vec<&str> =
            self.choices.iter().take(MOST_CHOICES_SHOWN).map(|choice| choice.label.as_str()).collect();
        if self.choices.len() > MOST_CHOICES_SHOWN {
            offers.push("...");
        }
        let call = format!("call {}", self.call());
        offers.push(&call);
        fault.remedy(offers.join(", or "))
    }

    /// The choice of that number, counted from 0.
    ///
    /// ```
    /// use tenside::catalogue::Catalogue;
    /// use tenside::formula::{Draft, DraftLine};
    /// let draft = Draft::new("Clay", vec![DraftLine::new("kaolin", "97.5 %")])?;
    /// let question = &draft.questions(&Catalogue::starter())[0];
    /// assert_eq!(question.choice(0)?.label, "scale every line to a total of 100");
    /// assert!(question.choice(9).is_err());
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// No choice of that number; what the question can be answered by is named.
    pub fn choice(&self, number: usize) -> Result<&Choice, Error> {
        self.choices.get(number).ok_or_else(|| {
            let numbered: Vec<String> = self
                .choices
                .iter()
                .enumerate()
                .map(|(number, choice)| format!("{number} ({})", choice.label))
                .collect();
            let fault = Fault::new(FaultKind::UnknownName, "the question has no choice of this number")
                .at(self.id.to_string())
                .value(number);
            let allowed = if numbered.is_empty() {
                "none: the question asks for a figure or a name".to_string()
            } else {
                numbered.join("; ")
            };
            fault.allowed(allowed).remedy(format!("call {}", self.call())).into()
        })
    }

    /// The call of a draft that answers the question in words of one's own.
    #[must_use]
    pub fn call(&self) -> String {
        use QuestionKind as Kind;
        let line = self.id.line.unwrap_or_default();
        let amount = if self.in_percent { "5 %" } else { "30 g" };
        match self.id.kind {
            Kind::UnreadableLine => format!("rewrite({line}, \"kaolin\", \"{amount}\")"),
            Kind::UnknownMaterial | Kind::AmbiguousMaterial | Kind::FigureInName => {
                format!("choose({line}, \"an id of the catalogue\")")
            }
            Kind::UnknownLot => format!("choose_lot({line}, \"a lot of the catalogue\")"),
            Kind::SameMaterialTwice => format!("name_line({line}, \"a name of its own\")"),
            Kind::OptionalLine => format!("drop_optional({line})"),
            Kind::SeveralQs => "fill_with(the line that fills)".to_string(),
            Kind::UnitMissing => "with_figures_in(\"gram\")".to_string(),
            Kind::MixedUnits | Kind::BatchMissing => "with_batch(\"200 g\")".to_string(),
            Kind::TotalNotHundred => "set_amount(the line that is wrong, its amount), or normalise()".to_string(),
            Kind::TotalDisagrees => "set_amount(the line that is wrong, its amount)".to_string(),
            _ => format!("set_amount({line}, \"{amount}\")"),
        }
    }

    /// The question with its numbered choices.
    ///
    /// ```
    /// use tenside::catalogue::Catalogue;
    /// use tenside::formula::{Draft, DraftLine};
    /// let draft = Draft::new("Clay", vec![DraftLine::new("kaolin", "97.5 %")])?;
    /// let page = draft.questions(&Catalogue::starter())[0].page();
    /// assert!(page.text(80).contains("0: scale every line to a total of 100"));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    #[must_use]
    pub fn page(&self) -> Page {
        let end = if self.message.ends_with('?') { "" } else { "." };
        let asked = Part::Text(format!("{}: {}{end}", self.place, self.message));
        Page::new(&self.id.to_string()).with(asked).with(Part::List(self.lines()))
    }

    /// What was found, what is allowed, and the ways to answer.
    pub(super) fn lines(&self) -> Vec<String> {
        let facts = [format!("found: {}", self.found), format!("allowed: {}", self.allowed)];
        let choices = self.choices.iter().enumerate().map(|(number, choice)| format!("{number}: {}", choice.label));
        facts.into_iter().chain(choices).chain([format!("or call {}", self.call())]).collect()
    }
}

impl fmt::Display for Question {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.fault().fmt(formatter)
    }
}
