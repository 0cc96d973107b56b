//! A draft: a recipe as people write it. It keeps the lines as written and lists every question before it becomes a
//! formula.

mod amount;
mod answer;
mod cells;
mod columns;
mod composed;
mod document;
mod figure;
mod kind;
mod left_over;
mod line;
mod marks;
mod measured;
mod name;
mod page;
mod pair;
mod question;
mod role;
mod row;
mod sentence;
mod settle;
mod split;
mod stated;
mod survey;
mod temperature;
mod text;
mod title;
mod total;
mod words;

pub use amount::{Amount, AmountUnit};
pub use answer::{Answer, Choice};
pub use document::DraftDocument;
pub use kind::{FigureUnit, QuestionId, QuestionKind};
pub use line::DraftLine;
pub use question::Question;
pub use role::LineRole;
pub use settle::{Departure, Settled};

use self::amount::shown;
use crate::document::{check_name, check_slug};
use crate::error::{Error, Fault, FaultKind};
use crate::number::Mass;

/// The most lines of a draft. With so many the largest can always take the rounding rests of the others: each is at
/// most half a ppm, and the largest of a thousand is at least a thousand ppm.
const MOST_LINES: usize = 1000;

/// A recipe as written. Values are immutable: an answer gives a new draft, in which the lines stand as they were
/// written.
///
/// Lines are counted from 1, as in the questions.
///
/// ```
/// use tenside::catalogue::Catalogue;
/// use tenside::formula::{Answer, Draft, QuestionKind};
/// let catalogue = Catalogue::starter();
/// let draft = Draft::from_text(
///     "Pasted bar",
///     "sci-powder  60 %\n\
///      cetyl alcohol: 10-15 %\n\
///      Rosemary oil 1 % (optional)\n\
///      kaolin\t25 %",
/// )?;
/// let kinds: Vec<QuestionKind> = draft.questions(&catalogue).iter().map(|question| question.id.kind).collect();
/// assert_eq!(kinds, [QuestionKind::Range, QuestionKind::OptionalLine]);
/// let draft = draft.set_amount(2, "15 %")?.drop_optional(3)?;
/// assert_eq!(draft.line(2)?.amount(), Some("10-15 %"));
/// let formula = draft.into_formula(&catalogue)?;
/// assert_eq!(formula.line("cetyl-alcohol")?.percent().to_string(), "15");
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Draft {
    title: String,
    lines: Vec<DraftLine>,
    normalise: bool,
    merge_duplicates: bool,
    batch: Option<Mass>,
    figures: Option<FigureUnit>,
}

fn too_many(count: usize) -> Fault {
    Fault::new(FaultKind::OutOfRange, "number of lines out of range")
        .value(count)
        .allowed(format!("1 to {MOST_LINES} lines"))
}

getters!(Draft {
    /// Its title.
    title: &str,
    /// Its lines as written, those left out by an answer included.
    lines: &[DraftLine],
    /// The mass of the batch, where an answer gave it.
    batch: Option<&Mass>,
});

impl Draft {
    /// A draft of these lines.
    ///
    /// # Errors
    /// A bad title, no line, more than a thousand lines.
    pub fn new(title: &str, lines: Vec<DraftLine>) -> Result<Self, Error> {
        let title = check_name(title)?;
        if lines.is_empty() || lines.len() > MOST_LINES {
            return Err(too_many(lines.len()).into());
        }
        Ok(Draft { title, lines, normalise: false, merge_duplicates: false, batch: None, figures: None })
    }

    /// Reads a pasted recipe. A line is a raw material with its amount, first or last, however the two are parted: by
    /// blanks, a dash, a colon, dots, brackets or the cells of a table. Headings name phases, totals are compared and
    /// not counted, remarks and steps are kept as such ([`LineRole`]). Blank lines are left out; every other line
    /// becomes a line of the draft, and what cannot be read becomes a question.
    ///
    /// ```
    /// use tenside::formula::{Draft, LineRole};
    /// let draft = Draft::from_text("Pasted", "Phase A:\n- Kaolin \u{2013} 12,5 %\n\n30 g cetyl alcohol\nTotal 100 g\nstir well")?;
    /// assert_eq!((draft.line(2)?.item(), draft.line(2)?.amount(), draft.line(2)?.phase()), ("Kaolin", Some("12,5 %"), Some("Phase A")));
    /// assert_eq!((draft.line(3)?.item(), draft.line(3)?.amount()), ("cetyl alcohol", Some("30 g")));
    /// let roles: Vec<LineRole> = draft.lines().iter().map(|line| line.role()).collect();
    /// assert_eq!(roles, [LineRole::Heading, LineRole::Material, LineRole::Material, LineRole::Total, LineRole::Comment]);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A bad title, no line, more than a thousand lines.
    pub fn from_text(title: &str, text: &str) -> Result<Self, Error> {
        let text = text.strip_prefix('\u{FEFF}').unwrap_or(text);
        let count = text.lines().filter(|line| !line.trim().is_empty()).count();
        if count > MOST_LINES {
            return Err(too_many(count).into());
        }
        Draft::new(title, text::lines(text))
    }

    /// The line of that number, counted from 1.
    ///
    /// # Errors
    /// No such line.
    pub fn line(&self, line: usize) -> Result<&DraftLine, Error> {
        line.checked_sub(1).and_then(|index| self.lines.get(index)).ok_or_else(|| self.no_such_line(line))
    }

    /// True where the total is to be scaled to 100.
    #[must_use]
    pub fn is_normalised(&self) -> bool {
        self.normalise
    }

    /// With an answer to a question.
    ///
    /// # Errors
    /// An answer that does not fit the question, and what the answer itself holds: no such line, an amount that is not
    /// understood.
    pub fn answer(self, id: QuestionId, answer: Answer) -> Result<Self, Error> {
        if !answer.fits(id) || id.kind.is_about_a_line() != id.line.is_some() {
            return Err(Fault::new(FaultKind::Unsupported, "the answer does not fit the question")
                .at(id.to_string())
                .value(answer.what())
                .remedy("give one of the question's choices")
                .into());
        }
        // Draft-wide answers do not look at the line.
        let line = id.line.unwrap_or_default();
        match answer {
            Answer::Accept => self.accept(id),
            Answer::Drop => self.drop_line(line),
            Answer::Amount(amount) => self.set_amount(line, &amount),
            Answer::AmountOf { line, amount } => self.set_amount(line, &amount),
            Answer::Material(material) => self.choose(line, &material),
            Answer::LeaveOpen => self.line(line).map(|_| ()).map(|()| self),
            Answer::Lot(lot) => self.choose_lot(line, &lot),
            Answer::ReadAs(role) => self.read_as(line, role),
            Answer::Rewrite { item, amount } => self.rewrite(line, &item, &amount),
            Answer::Merge => self.merge(line),
            Answer::Name(name) => self.name_line(line, &name),
            Answer::Normalise => Ok(self.normalise()),
            Answer::FillWith(line) => self.fill_with(line),
            Answer::Batch(mass) => self.with_batch(mass.parse()?),
            Answer::Unit(unit) => Ok(self.with_figures_in(unit)),
        }
    }

    /// Accepts what a question asks about as it stands.
    ///
    /// # Errors
    /// A question that needs a figure or a choice, no such line.
    pub fn accept(self, id: QuestionId) -> Result<Self, Error> {
        let fits = Answer::Accept.fits(id);
        let line = id.line.filter(|_| fits).ok_or_else(|| {
            Fault::new(FaultKind::Unsupported, "the question cannot be accepted as it stands")
                .at(id.to_string())
                .remedy("give one of the question's choices")
        })?;
        self.change(line, |answers| {
            answers.accepted.insert(id.kind);
        })
    }

    /// With another amount for a line, read as a recipe's amount; the line keeps what was written. A line that stood in
    /// the method only then counts as part of the list.
    ///
    /// # Errors
    /// No such line, an amount that is not understood.
    pub fn set_amount(self, line: usize, amount: &str) -> Result<Self, Error> {
        amount.parse::<Amount>().map_err(|error| error.within(&format!("line {line}")))?;
        self.change(line, |answers| {
            answers.amount = Some(amount.to_string());
            answers.accepted.insert(QuestionKind::MethodOnly);
        })?
        .counting(line)
    }

    /// With a line that was no raw material's counting as one, once it is given what a raw material has. A total stays
    /// one.
    fn counting(mut self, line: usize) -> Result<Self, Error> {
        if !matches!(self.line(line)?.role(), LineRole::Material | LineRole::Total) {
            self = self.read_as(line, LineRole::Material)?;
        }
        Ok(self)
    }

    /// With a line read as something else than it was: a remark, the heading of the phase of the lines below it.
    ///
    /// ```
    /// use tenside::formula::{Draft, LineRole};
    /// let draft = Draft::from_text("Pasted", "Sturdy base\nkaolin 60 %\nPhase B\nwater 40 %")?;
    /// let draft = draft.read_as(1, LineRole::Heading)?.read_as(3, LineRole::Comment)?;
    /// assert_eq!((draft.line(2)?.phase(), draft.line(4)?.phase()), (Some("Sturdy base"), Some("Sturdy base")));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// No such line; the heading of a phase whose text is no name.
    pub fn read_as(self, line: usize, role: LineRole) -> Result<Self, Error> {
        let (was, item) = (self.line(line)?.role(), self.line(line)?.item().to_string());
        let mut draft = self.change(line, |answers| answers.role = Some(role))?;
        if (was == LineRole::Heading) == (role == LineRole::Heading) {
            return Ok(draft);
        }
        let above = draft.lines[..line - 1]
            .iter()
            .rev()
            .find(|line| line.role() == LineRole::Heading)
            .map(|line| line.item().to_string());
        let (from, to) =
            if role == LineRole::Heading { (above, Some(check_name(&item)?)) } else { (Some(item), above) };
        for below in draft.lines[line..].iter_mut().take_while(|line| line.role() != LineRole::Heading) {
            if below.phase == from {
                below.phase.clone_from(&to);
            }
        }
        Ok(draft)
    }

    /// With a raw material chosen for a line, by its id in the catalogue.
    ///
    /// # Errors
    /// No such line, text that is no identifier. An id that the catalogue does not have is asked about again.
    pub fn choose(self, line: usize, material: &str) -> Result<Self, Error> {
        let material = check_slug(material)?;
        self.change(line, |answers| answers.material = Some(material))?.counting(line)
    }

    /// With a lot chosen for a line, by the name that the catalogue knows it by.
    ///
    /// # Errors
    /// No such line, a bad name. A lot that the catalogue does not have is asked about again.
    pub fn choose_lot(self, line: usize, lot: &str) -> Result<Self, Error> {
        let lot = check_name(lot)?;
        self.change(line, |answers| answers.lot = Some(lot))
    }

    /// With what a line should have said.
    ///
    /// # Errors
    /// No such line, a bad name, an amount that is not understood.
    pub fn rewrite(self, line: usize, item: &str, amount: &str) -> Result<Self, Error> {
        let item = check_name(item)?;
        self.set_amount(line, amount)?.change(line, |answers| {
            answers.item = Some(item);
            answers.material = None;
        })
    }

    /// Without a line. It stays in the draft as written, marked as left out.
    ///
    /// # Errors
    /// No such line.
    pub fn drop_line(self, line: usize) -> Result<Self, Error> {
        self.change(line, |answers| answers.dropped = true)
    }

    /// Without a line that is marked optional.
    ///
    /// # Errors
    /// No such line, a line that is not optional.
    pub fn drop_optional(self, line: usize) -> Result<Self, Error> {
        let draft_line = self.line(line)?;
        if !draft_line.says_optional() {
            return Err(Fault::new(FaultKind::Contradiction, "the line is not optional")
                .at(format!("line {line}"))
                .value(shown(draft_line.item()))
                .remedy("drop_line leaves out any line")
                .into());
        }
        self.drop_line(line)
    }

    /// With a line added to the earlier one of the same raw material.
    ///
    /// # Errors
    /// No such line.
    pub fn merge(self, line: usize) -> Result<Self, Error> {
        self.change(line, |answers| answers.merged = true)
    }

    /// With every line added to an earlier one of the same raw material, but those kept apart by an answer.
    #[must_use]
    pub fn merge_duplicates(mut self) -> Self {
        self.merge_duplicates = true;
        self
    }

    /// With a line kept under a name of its own.
    ///
    /// # Errors
    /// No such line, a bad name.
    pub fn name_line(self, line: usize, name: &str) -> Result<Self, Error> {
        let name = check_name(name)?;
        if let Some(other) = self
            .lines
            .iter()
            .zip(1..)
            .find(|(other, number)| *number != line && other.answers.name.as_ref() == Some(&name))
        {
            return Err(Fault::new(FaultKind::Duplicate, "two lines would have the same name")
                .value(shown(&name))
                .at(format!("line {}", other.1))
                .into());
        }
        self.change(line, |answers| answers.name = Some(name))
    }

    /// With one line that fills to 100; other lines that wanted to will be asked for a figure.
    ///
    /// # Errors
    /// No such line.
    pub fn fill_with(mut self, line: usize) -> Result<Self, Error> {
        self.line(line)?;
        for (other, number) in self.lines.iter_mut().zip(1..) {
            let fills = matches!(other.current_amount().parse(), Ok(Amount::Fill { .. }));
            if number != line && fills && !other.answers.dropped {
                other.answers.amount = Some(String::new());
            }
        }
        self.set_amount(line, "q.s.")
    }

    /// Scaled so that the total is exactly 100: every line in proportion, exactly, before it goes on the grid. With a
    /// q.s. line that has room nothing is scaled; where the others leave none, they are scaled and the q.s. line stays
    /// at nothing.
    #[must_use]
    pub fn normalise(mut self) -> Self {
        self.normalise = true;
        self
    }

    /// With the mass of the whole batch, against which masses become percentages.
    ///
    /// # Errors
    /// A batch of nothing.
    pub fn with_batch(mut self, batch: Mass) -> Result<Self, Error> {
        if !batch.grams().is_positive() {
            return Err(Fault::new(FaultKind::OutOfRange, "a batch without mass")
                .value(&batch)
                .allowed("above 0 g")
                .into());
        }
        self.batch = Some(batch);
        Ok(self)
    }

    /// With figures without a unit read as percentages or as grams.
    #[must_use]
    pub fn with_figures_in(mut self, unit: FigureUnit) -> Self {
        self.figures = Some(unit);
        self
    }

    fn change(mut self, line: usize, change: impl FnOnce(&mut line::LineAnswers)) -> Result<Self, Error> {
        match line.checked_sub(1).and_then(|index| self.lines.get_mut(index)) {
            Some(line) => change(&mut line.answers),
            None => return Err(self.no_such_line(line)),
        }
        Ok(self)
    }

    fn no_such_line(&self, line: usize) -> Error {
        Fault::new(FaultKind::UnknownName, "no such line")
            .value(line)
            .allowed(format!("1 to {}", self.lines.len()))
            .into()
    }
}
