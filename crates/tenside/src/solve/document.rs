//! What came of a brief, as documents, and back: the brief is solved again, and the document believed where it says the
//! same.

use std::sync::Arc;

use super::{
    Answer, Binding, Choice, ChoiceOutcome, Conflict, Constraint, Departure, End, FinerLines, GridRefusal, Kept,
    LineChange, Outcome, Relaxation, Rounded, RoundedDeparture, RoundedOutcome, Side, Steps, Substitution, Tolerance,
    Unmet,
};
use crate::brief::{Brief, BriefDocument, read_brief};
use crate::catalogue::{Catalogue, read_back};
use crate::document::{Named, Notation, Number, TableView, form, forms, restore, written};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::FormulaDocument;
use crate::measure::MeasureDocument;
use crate::number::Exact;
use crate::watch::{Unwatched, Watch};

form! {
    /// What of a brief something is about.
    ConstraintDocument of Constraint, |it| {
        /// `line`, `requirement`, `split`, `water-to-keep` or `total`.
        kind: &'static str = it.kind().slug(),
        /// The name of the line, requirement or split.
        name: Option<String> = it.name().map(str::to_string),
        /// The place of the line, requirement or split in the brief, from 0.
        index: Option<usize> = it.index(),
        /// Which end; both of what is held at one value.
        end: End = it.end(),
        /// Of a split the line whose part it is.
        member: Option<String> = if let Constraint::Split { member, .. } = it { Some(member.clone()) } else { None },
        /// Of the water that a finished product keeps its residual moisture, percent.
        moisture: Option<Number> = if let Constraint::WaterToKeep { moisture } = it { Some(moisture.into()) } else { None },
    }
}

form! {
    /// A requirement or range that the exact solution meets exactly.
    BindingDocument of Binding, |it| {
        /// What it is about.
        constraint: ConstraintDocument = (&it.constraint).into(),
        /// In the words of the brief.
        words: String,
        /// Which end.
        side: Side,
        /// Whether the objective could be better without it.
        decisive: bool,
    }
}

form! {
    /// An equation that the grid formula does not meet exactly.
    DepartureDocument of Departure, |it| {
        /// The equation, in the words of the brief.
        words: String,
        /// How far it is from holding.
        departure: Number,
        /// The most it may be.
        bound: Number,
        /// The unit of both.
        unit: String,
    }
}

form! {
    /// Why there is no formula of whole 0.0001 %.
    GridRefusalDocument of GridRefusal, |it| {
        /// What leaves no room together.
        requirements: Vec<String> = it.requirements().to_vec(),
        /// Whether that is proved; false where the search was cut off.
        proved: bool = it.is_proved(),
        /// In one sentence.
        sentence: String = it.sentence(),
    }
}

written! {
    /// A line's exact percentage.
    struct LinePercentDocument {
        /// The line.
        line: String,
        /// Percent as supplied.
        percent: Number,
    }
}

fn exact(brief: &Brief, percents: &[Exact]) -> Vec<LinePercentDocument> {
    let lines = brief.lines().iter().zip(percents);
    lines
        .map(|(line, percent)| LinePercentDocument { line: line.name().to_string(), percent: percent.into() })
        .collect()
}

form! {
    /// The answer to a brief: what is proved, and what is weighed.
    AnswerDocument of Answer as "answer/1", |it, materials| {
        /// The question.
        brief: BriefDocument = BriefDocument::of(it.brief(), materials),
        /// The exact value of the objective.
        objective: Option<Number> = it.objective().map(Number::from),
        /// Its unit.
        objective_unit: Option<String>,
        /// Exact percent by line: what the proof is about.
        exact: Vec<LinePercentDocument> = exact(it.brief(), it.exact()),
        /// The grid formula: what is weighed, reviewed and labelled.
        formula: Option<FormulaDocument> = it.formula().ok().map(FormulaDocument::named),
        /// Why there is no grid formula, where there is none.
        grid_refusal: Option<GridRefusalDocument> = it.grid_refusal().map(GridRefusalDocument::from),
        /// Where the grid formula departs from an equation.
        departures: Vec<DepartureDocument> = forms(it.departures()),
        /// What the exact solution meets exactly.
        binding: Vec<BindingDocument> = forms(&it.binding()),
    }
}

form! {
    /// A change of one limit that makes a brief answerable.
    RelaxationDocument of Relaxation, |it| {
        /// What is changed.
        constraint: ConstraintDocument = (&it.constraint).into(),
        /// In the words of the brief.
        words: String,
        /// The limit as it is.
        from: Number,
        /// The nearest limit that would do.
        to: Number,
        /// The farthest value that would do, where one value is asked for; null where every farther one does.
        until: Option<Number> = it.until.as_ref().map(Number::from),
        /// The unit of all three.
        unit: String,
        /// A sentence to act on.
        sentence: String = it.sentence(),
    }
}

written! {
    /// Something that cannot hold together with the other members of a conflict.
    struct MemberDocument {
        /// In the words of the brief.
        words: String,
        /// What it is about.
        constraint: ConstraintDocument,
        /// The least change of it with which alone a formula meets the brief; null where none does.
        relaxation: Option<RelaxationDocument>,
    }
}

fn members(conflict: &Conflict) -> Result<Vec<MemberDocument>, Error> {
    let relaxations = conflict.relaxations()?;
    let members = conflict.members().into_iter().zip(conflict.constraints()).zip(&relaxations);
    let member = |((words, constraint), relaxation): ((String, Constraint), &Option<Relaxation>)| MemberDocument {
        words,
        constraint: (&constraint).into(),
        relaxation: relaxation.as_ref().map(RelaxationDocument::from),
    };
    Ok(members.map(member).collect())
}

form! {
    /// Why a brief has no formula: what cannot hold together, none of it for nothing.
    ConflictDocument of Conflict as "conflict/1", |it, materials| {
        /// The question.
        brief: BriefDocument = BriefDocument::of(it.brief(), materials),
        /// What cannot hold together, in one sentence.
        sentence: String,
        /// Each of them; without any one the others can be met.
        members: Vec<MemberDocument> = members(it)?,
    }
}

written! {
    /// What an equation is asked for when percentages are rounded.
    struct ToleranceDocument {
        /// The split or target, by its name.
        equation: String,
        /// By how much it may be missed; without this and the next it is given up.
        #[serde(skip_serializing_if = "Option::is_none")]
        within: Option<Number>,
        /// Whether by what half a step, moved from one line to another, does to it.
        #[serde(skip_serializing_if = "std::ops::Not::not")]
        within_half_a_step: bool,
    }
}

written! {
    /// The step of one line.
    struct LineStepDocument {
        /// The line.
        line: String,
        /// Its step, percent.
        step: Number,
    }
}

form! {
    /// The steps that percentages are multiples of.
    StepsDocument of Steps, |it| {
        /// That of every line without one of its own, percent.
        step: Number = it.step().into(),
        /// Lines with steps of their own.
        lines: Vec<LineStepDocument> =
            it.lines().iter().map(|(line, step)| LineStepDocument { line: line.clone(), step: step.into() }).collect(),
        /// Splits and targets that need not hold exactly.
        equations: Vec<ToleranceDocument> = it
            .equations()
            .iter()
            .map(|(equation, tolerance)| ToleranceDocument {
                equation: equation.clone(),
                within: if let Tolerance::Within(within) = tolerance { Some(within.into()) } else { None },
                within_half_a_step: *tolerance == Tolerance::WithinHalfAStep,
            })
            .collect(),
        /// Whether all others may be missed by what half a step does to them.
        within_half_a_step: bool = it.is_within_half_a_step(),
        /// How many linear programs a search may solve.
        nodes: usize = it.nodes(),
    }
}

fn read_steps(view: &TableView<'_>) -> Option<Steps> {
    let step = view.needed("step", |view| view.exact("step", None));
    let mut steps = view.accept("step", Steps::of(step?))?;
    for (line, step) in view.tables("lines", |view| {
        let line = view.needed("line", |view| view.text("line")).map(str::to_string);
        Some((line?, view.needed("step", |view| view.exact("step", None))?))
    }) {
        steps = view.accept("lines", steps.line(&line, step))?;
    }
    for (equation, within, half) in view.tables("equations", |view| {
        let equation = view.needed("equation", |view| view.text("equation")).map(str::to_string);
        Some((equation?, view.exact("within", None), view.boolean("within_half_a_step").unwrap_or(false)))
    }) {
        steps = match within {
            Some(within) => view.accept("equations", steps.within(&equation, within))?,
            None if half => steps.equation_within_half_a_step(&equation),
            None => steps.giving_up(&equation),
        };
    }
    if view.boolean("within_half_a_step").unwrap_or(false) {
        steps = steps.within_half_a_step();
    }
    match view.whole("nodes") {
        Some(nodes) => view.accept("nodes", steps.up_to_nodes(usize::try_from(nodes).unwrap_or(usize::MAX))),
        None => Some(steps),
    }
}

form! {
    /// Where a formula on steps departs from an equation.
    RoundedDepartureDocument of RoundedDeparture, |it| {
        /// The equation, in the words of the brief.
        words: String,
        /// How far it is from holding.
        departure: Number,
        /// The most it may be; null where the equation is given up.
        tolerance: Option<Number> = it.tolerance.as_ref().map(Number::from),
        /// The unit of both.
        unit: String,
    }
}

form! {
    /// The best formula whose percentages are multiples of steps.
    RoundedDocument of Rounded as "rounded/1", |it, materials| {
        /// The question.
        brief: BriefDocument = BriefDocument::of(it.brief(), materials),
        /// The steps asked for.
        steps: StepsDocument,
        /// The formula; its percentages are exact.
        formula: FormulaDocument = FormulaDocument::named(it.formula()),
        /// The exact value of the objective.
        objective: Option<Number> = it.objective().map(Number::from),
        /// That without steps.
        objective_without_steps: Option<Number> = it.objective_without_steps().map(Number::from),
        /// That without steps and with every split and target met exactly.
        objective_without_tolerance: Option<Number> = it.objective_without_tolerance().map(Number::from),
        /// Splits and targets that the steps loosened, in words.
        loosened: Vec<String>,
        /// No formula on the steps has a better objective.
        bound: Option<Number> = it.bound().map(Number::from),
        /// The most by which another could be better.
        gap: Number,
        /// Whether none is.
        is_best: bool,
        /// How many linear programs it took.
        nodes: usize,
        /// After how many turns of its search the time for it was over; absent where it was not.
        #[serde(skip_serializing_if = "Option::is_none")]
        ended_after: Option<usize>,
        /// Where it departs from an equation.
        departures: Vec<RoundedDepartureDocument> = forms(it.departures()),
    }
}

form! {
    /// The best choice of lines.
    ChosenDocument of Choice as "chosen/1", |it, materials| {
        /// The question.
        brief: BriefDocument = BriefDocument::of(it.brief(), materials),
        /// How many linear programs the search might solve.
        node_limit: usize,
        /// The lines above 0.
        present: Vec<String> = it.present().into_iter().map(str::to_string).collect(),
        /// The lines at 0.
        absent: Vec<String> = it.absent().into_iter().map(str::to_string).collect(),
        /// The exact value of the objective.
        objective: Option<Number> = it.objective().map(Number::from),
        /// Exact percent by line: what the proof is about.
        exact: Vec<LinePercentDocument> = exact(it.brief(), it.exact()),
        /// The grid formula.
        formula: Option<FormulaDocument> = it.formula().ok().map(FormulaDocument::named),
        /// Where the grid formula departs from an equation.
        departures: Vec<DepartureDocument> = forms(it.departures()),
        /// No choice has a better objective.
        bound: Option<Number> = it.bound().map(Number::from),
        /// The most by which another choice could be better.
        gap: Number,
        /// Whether none is.
        is_best: bool,
        /// How many linear programs it took.
        nodes: usize,
        /// After how many turns of its search the time for it was over; absent where it was not.
        #[serde(skip_serializing_if = "Option::is_none")]
        ended_after: Option<usize>,
    }
}

form! {
    /// Finer steps of a few lines with which there is a formula.
    FinerLinesDocument of FinerLines, |it| {
        /// The lines.
        lines: Vec<String>,
        /// Their step, percent.
        step: Number,
        /// Whether splits and targets are to be within half a step's effect as well.
        within_half_a_step: bool,
    }
}

form! {
    /// No formula on the steps, or with the choices.
    UnmetDocument of Unmet as "unmet/1", |it, materials| {
        /// The question.
        brief: BriefDocument = BriefDocument::of(it.brief(), materials),
        /// The steps asked for; absent where only choices were to be made.
        #[serde(skip_serializing_if = "Option::is_none")]
        steps: Option<StepsDocument> = it.steps().map(StepsDocument::from),
        /// How many linear programs the search might solve.
        node_limit: usize,
        /// What forbids a formula together, in the words of the brief.
        requirements: Vec<String>,
        /// Whether there is none; false where the search was cut off before it found one.
        is_proved: bool,
        /// Whether leaving out any one of the requirements would do.
        is_irreducible: bool,
        /// Whether the brief has a formula without steps and with every dose down to 0 allowed.
        is_answerable_without: bool,
        /// The coarsest usual step with which a formula was found, percent.
        finer_step: Option<Number> = it.finer_step().map(Number::from),
        /// Whether one was found with every split and target within half a step's effect.
        would_do_within_half_a_step: bool,
        /// Finer steps of a few lines that would do.
        finer_lines: Option<FinerLinesDocument> = it.finer_lines().map(FinerLinesDocument::from),
        /// How many linear programs it took.
        nodes: usize,
        /// After how many turns of its search the time for it was over; absent where it was not.
        #[serde(skip_serializing_if = "Option::is_none")]
        ended_after: Option<usize> = it.ended_after,
        /// What is in the way and what would do, in one sentence.
        sentence: String,
    }
}

form! {
    /// A measure that was to be kept.
    KeptDocument of Kept, |it| {
        /// The measure.
        measure: MeasureDocument = (&it.measure).into(),
        /// Its unit.
        unit: String,
        /// Its value before.
        before: Number,
        /// Its value in the new formula.
        after: Number,
        /// Whether the exact solution keeps it.
        is_exact: bool,
    }
}

form! {
    /// A line at another percentage.
    LineChangeDocument of LineChange, |it| {
        /// The line.
        line: String,
        /// Percent before.
        before: Number,
        /// Percent after.
        after: Number,
    }
}

form! {
    /// A formula with one raw material replaced. It does not come back: ask `substitute` again.
    SubstitutionDocument of Substitution as "substitution/1", |it, materials| {
        /// The formula before.
        before: FormulaDocument = FormulaDocument::of(it.before(), materials),
        /// The new formula.
        after: FormulaDocument = FormulaDocument::of(it.after(), materials),
        /// The line whose raw material is replaced.
        line: String,
        /// What the line of the new raw material is called.
        new_line: String,
        /// The new raw material, by its id.
        replacement: String = it.replacement()?.id().to_string(),
        /// Whether every measure is kept exactly.
        is_exact: bool,
        /// The sum of the departures of the kept measures, each in parts of its value before.
        total_departure: Number,
        /// The kept measures, before and after.
        kept: Vec<KeptDocument> = forms(it.kept()),
        /// Percent of the new raw material that brings what the line brought of the first kept measure.
        needed: Option<Number> = it.needed().map(Number::from),
        /// Lines that stay as they are and would have to give.
        would_have_to_give: Vec<LineChangeDocument> = forms(it.would_have_to_give()),
        /// The other lines that change.
        changes: Vec<LineChangeDocument> = forms(&it.changes()),
        /// What becomes of the line, and what cannot be kept, in one sentence.
        sentence: String,
    }
}

/// What the brief came to is of another kind now than the document says.
fn other_kind<T>(view: &TableView<'_>, now: &str) -> Option<T> {
    let fault =
        Fault::new(FaultKind::Contradiction, "this is not what comes of the brief in this document").allowed(now);
    view.fault(
        "tenside",
        fault.remedy("it was edited, or its raw materials or version are others; ask the brief again"),
    );
    None
}

fn read_nodes(view: &TableView<'_>) -> Option<usize> {
    let nodes = view.needed("node_limit", |view| view.whole("node_limit"))?;
    Some(usize::try_from(nodes).unwrap_or(usize::MAX))
}

/// Where the searches of a question were ended.
fn read_turns(view: &TableView<'_>) -> usize {
    view.whole("ended_after").and_then(|turns| usize::try_from(turns).ok()).unwrap_or(usize::MAX)
}

fn brief(view: &TableView<'_>, catalogue: &Catalogue, watch: Arc<dyn Watch>) -> Option<Brief> {
    let brief = view.needed("brief", |view| view.table("brief", |view| read_brief(view, catalogue)));
    brief.map(|brief| brief.watched_by(watch))
}

read_back! {
    /// Reads an answer back.
    ///
    /// ```
    /// use std::sync::Arc;
    /// use tenside::document::{Materials, ResultDocument};
    /// use tenside::prelude::*;
    /// use tenside::watch::Watch;
    /// struct Never;
    /// impl Watch for Never {
    ///     fn go_on(&self, _done: u64) -> bool {
    ///         false
    ///     }
    /// }
    /// let shelf = Catalogue::starter();
    /// let answer = Brief::new("Plain bar", &shelf)?.fix("sci-powder", 60)?.qs("kaolin")?.solve()?;
    /// let text = answer.write(Notation::Json, Materials::Named)?;
    /// assert_eq!(Answer::read(&text, Notation::Json, &shelf)?, answer);
    /// assert!(Answer::read_watched(&text, Notation::Json, &shelf, Arc::new(Never)).unwrap_err().is_stopped());
    /// # Ok::<(), tenside::Error>(())
    /// ```
    Answer, &["brief"], |view, catalogue, watch| {
        match view.accept("brief", brief(view, catalogue, watch)?.try_solve())? {
            Outcome::Answered(answer) => Some(*answer),
            Outcome::Conflict(_) => other_kind(view, "conflict/1"),
        }
    }
}

impl Conflict {
    /// Reads a conflict back. It is believed where solving its brief again gives just what it says.
    ///
    /// # Errors
    /// As [`Answer::read`].
    pub fn read(text: &str, notation: Notation, catalogue: &Catalogue) -> Result<Self, Error> {
        Conflict::read_watched(text, notation, catalogue, Arc::new(Unwatched))
    }

    /// As [`Conflict::read`], ended early where the watch says so.
    ///
    /// # Errors
    /// As [`Answer::read_watched`].
    pub fn read_watched(
        text: &str,
        notation: Notation,
        catalogue: &Catalogue,
        watch: Arc<dyn Watch>,
    ) -> Result<Self, Error> {
        let conflict = restore(text, notation, &["brief"], |view| {
            match view.accept("brief", brief(view, catalogue, Arc::clone(&watch))?.try_solve())? {
                // What would make the brief answerable stands in the document too, and is worked out for it.
                Outcome::Conflict(conflict) => Some(conflict.watched_by(watch)),
                Outcome::Answered(_) => other_kind(view, "answer/1"),
            }
        })?;
        Ok(conflict.watched_by(Arc::new(Unwatched)))
    }
}

read_back! {
    /// Reads a formula on steps back.
    Rounded, &["brief", "steps"], |view, catalogue, watch| {
        let steps = view.needed("steps", |view| view.table("steps", read_steps));
        let (turns, brief) = (read_turns(view), brief(view, catalogue, watch));
        match view.accept("brief", brief?.try_solve_rounded_until(&steps?, turns))? {
            RoundedOutcome::Found(rounded) => Some(*rounded),
            RoundedOutcome::Unmet(_) => other_kind(view, "unmet/1"),
        }
    }
}

read_back! {
    /// Reads a choice of lines back.
    Choice, &["brief"], |view, catalogue, watch| {
        let (nodes, turns) = (read_nodes(view), read_turns(view));
        let brief = brief(view, catalogue, watch);
        match view.accept("brief", brief?.try_choose_until(nodes?, turns))? {
            ChoiceOutcome::Made(choice) => Some(*choice),
            ChoiceOutcome::Unmet(_) => other_kind(view, "unmet/1"),
        }
    }
}

read_back! {
    /// Reads back why there is no formula on steps or with choices.
    Unmet, &["brief", "steps"], |view, catalogue, watch| {
        let steps = if view.has("steps") { Some(view.table("steps", read_steps)?) } else { None };
        let (nodes, turns) = (read_nodes(view), read_turns(view));
        let brief = brief(view, catalogue, watch);
        const OTHER: &str = "rounded/1 or chosen/1";
        match steps {
            Some(steps) => match view.accept("brief", brief?.try_solve_rounded_until(&steps, turns))? {
                RoundedOutcome::Unmet(unmet) => Some(*unmet),
                RoundedOutcome::Found(_) => other_kind(view, OTHER),
            },
            None => match view.accept("brief", brief?.try_choose_until(nodes?, turns))? {
                ChoiceOutcome::Unmet(unmet) => Some(*unmet),
                ChoiceOutcome::Made(_) => other_kind(view, OTHER),
            },
        }
    }
}
