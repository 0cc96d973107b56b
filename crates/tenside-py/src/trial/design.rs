//! Which bars to press.

use indexmap::IndexMap;
use pyo3::prelude::*;
use tenside::brief::BriefLine;
use tenside::number::Exact;
use tenside::trial::{
    Blend, Crossing, DesignKind, DesignRequest, DesignedRun as CoreRun, PointKind, ProcessOrder, ProcessVariable,
};

use crate::brief::Brief;
use crate::convert::column::batch;
use crate::convert::failure::Outcome;
use crate::convert::input::{AMass, Names, Number, Several};
use crate::convert::output::Fraction;
use crate::convert::page::Page;
use crate::convert::running::watched;
use crate::convert::table::Rows;
use crate::convert::word::Word;
use crate::formula::Formula;
use crate::product::batch::Batch;
use crate::solve::conflict::or_unanswerable;
use crate::trial::region::by_name;

record! {
    "tenside.trial",
    /// A run of a design: one bar to press.
    DesignedRun {
        /// Its place in the order, from 1.
        run: usize,
        /// Its block, from 1.
        block: usize,
        /// Runs between which no setting is changed, from 1; None where every run is set up anew.
        whole_plot: Option<usize>,
        /// Where in the region it lies.
        kind: Word<PointKind>,
        /// The percentages that are weighed, by line: on the grid.
        percents: IndexMap<String, Fraction>,
        /// Settings of the process, by variable.
        settings: IndexMap<String, Fraction>,
        /// The exact percentages, by line, that the design was worked out for.
        exact: IndexMap<String, Fraction>,
    }
}

/// Process variables by name: unit, low and high end of the range in which each is varied.
type Process = IndexMap<String, (String, Fraction, Fraction)>;

one_of! {
    /// A bar that was made: its formula, or its formula with settings by process variable.
    pub(crate) enum ABar: "a Formula, or one with its factors" {
        Set((Formula, IndexMap<String, Fraction>)),
        Plain(Formula),
    }
}

one_of! {
    /// What was weighed, or what is to be.
    #[allow(clippy::large_enum_variant, reason = "taken apart at once")]
    pub(crate) enum AWeighed: "a Batch or a Formula" {
        Batch(Batch),
        Formula(Formula),
    }
}

/// Which bars to press, in their order, and how near they come to the best there can be; a page in a notebook. See
/// `Brief.design`.
///
/// >>> brief = td.Brief("Bar", td.Catalogue.starter()).between("sci-powder", 40, 70).between("cetyl-alcohol", 3, 12).qs("kaolin")
/// >>> design = brief.design("d-optimal", runs=6, seed=1)
/// >>> [run.kind for run in design.runs].count("vertex"), design.efficiency > 0.9
/// (6, True)
#[pyclass(frozen, eq, module = "tenside.trial")]
#[derive(Clone, PartialEq)]
pub(crate) struct Design(pub(crate) tenside::trial::Design);

fn runs(design: &tenside::trial::Design) -> Vec<DesignedRun> {
    let lines = || design.brief().lines().iter().map(BriefLine::name);
    let variables = || design.terms().process().iter().map(ProcessVariable::name);
    let run = |run: &CoreRun| DesignedRun {
        run: run.number,
        block: run.block,
        whole_plot: run.whole_plot,
        kind: Word(run.kind),
        percents: by_name(lines(), run.formula.lines().iter().map(|line| line.percent().percent())),
        settings: by_name(variables(), run.settings.iter().cloned()),
        exact: by_name(lines(), run.point.iter().cloned()),
    };
    design.runs().iter().map(run).collect()
}

value!(Design, |it| (it.brief().title(), it.sentence()));

arrow!(Design, |it, _py| batch(&runs(&it.0).iter().map(Some).collect::<Vec<_>>())?);

document!(Design, |it| &it.0, back watched by tenside::trial::Design);

shown!(Design, |it| it.0.page());

getters!(Design {
    /// The kind of design.
    kind: Word<DesignKind> = |it| Word(it.kind());
    /// The polynomial of the mixture that it is for.
    model: Word<Blend> = |it| Word(it.terms().blend());
    /// What the model is a sum of.
    terms: Vec<String> = |it| it.terms().names();
    /// The components of the mixture: lines, and splits whose members stand in one ratio.
    components: Vec<String> = |it| it.terms().components().to_vec();
    /// The brief whose region it is in.
    brief: Brief = |it| Brief(it.brief().clone());
    /// The runs, in the order in which they are made.
    runs: Rows<DesignedRun> = |it| {
        let shown = it.clone();
        runs(it).into_iter().collect::<Rows<_>>().shown(move || Ok(shown.page()))
    };
    /// The formulas of the runs, in their order, on the grid.
    formulas: Vec<Formula> = |it| it.formulas().into_iter().map(Formula).collect();
    /// The share, from 0 to 1, that the design reaches at least of what any design of as many runs can, bars made
    /// already counted: of the root of the determinant, or of the reciprocal of the average variance.
    efficiency: f64 = |it| it.efficiency();
    /// The same for the formulas on the grid; None where they no longer determine every term.
    efficiency_as_rounded: Option<f64> = |it| it.efficiency_as_rounded();
    /// What blocks leave of the efficiency, from 0 to 1; None without blocks.
    block_efficiency: Option<f64> = |it| it.block_efficiency();
    /// How many points of each kind the bound is about.
    candidates: IndexMap<String, usize> = |it| it.candidates().iter().map(|(kind, count)| (kind.to_string(), *count)).collect();
    /// True if the bound is about every mixture of the region, not the candidates alone.
    bound_holds_everywhere: bool = |it| it.bound_holds_everywhere();
    /// What the efficiency says.
    sentence: String = |it| it.sentence();
    /// The runs, how good they are, and what they rest on.
    page: Page = |it| Page(it.page());
});

#[pymethods]
impl Design {
    /// Every run weighed out as a small batch of a `mass` on a scale of that `readability`, numbered as the runs are.
    /// `readability_of` is that of phases weighed on another scale, `unit` what sheets are in, `tolerance` the rounding
    /// error in percent of a line that is accepted without a note.
    ///
    /// >>> brief = td.Brief("Bar", td.Catalogue.starter()).between("sci-powder", 40, 70).between("cetyl-alcohol", 3, 12).qs("kaolin")
    /// >>> design = brief.design("d-optimal", runs=6, seed=1)
    /// >>> batches = design.batches("60 g", readability="0.1 g")
    /// >>> len(batches), batches[0].number
    /// (6, '1')
    /// >>> design.efficiency_of(batches) > 0.9
    /// True
    #[pyo3(signature = (mass, *, readability, readability_of=None, unit=None, tolerance=None))]
    fn batches(
        &self,
        mass: AMass,
        readability: AMass,
        readability_of: Option<IndexMap<String, AMass>>,
        unit: Option<&str>,
        tolerance: Option<Number>,
    ) -> Outcome<Vec<Batch>> {
        let size = Batch::size_of(None, None, Some(mass), None, None)?;
        let scales = Batch::scales_of(readability, readability_of, unit, tolerance)?;
        let weighed = |run: &CoreRun| {
            Ok(Batch(run.formula.batch(size.clone(), scales.clone())?.numbered(&run.number.to_string())?))
        };
        self.0.runs().iter().map(weighed).collect()
    }

    /// The efficiency with what was `made` in place of the runs' own formulas, in their order: batches as weighed, or
    /// formulas. None where it no longer determines every term.
    fn efficiency_of(&self, made: Several<AWeighed>) -> Outcome<Option<f64>> {
        if made.0.iter().all(|made| matches!(made, AWeighed::Formula(_))) {
            let formulas: Vec<tenside::formula::Formula> = made
                .0
                .into_iter()
                .filter_map(|made| if let AWeighed::Formula(formula) = made { Some(formula.0) } else { None })
                .collect();
            return Ok(self.0.efficiency_of(&formulas)?);
        }
        let amounts = |made: &AWeighed| -> Vec<(String, Exact)> {
            match made {
                AWeighed::Batch(batch) => batch
                    .0
                    .weighings()
                    .iter()
                    .map(|weighing| (weighing.line().name().to_string(), weighing.rounded().grams().clone()))
                    .collect(),
                AWeighed::Formula(formula) => {
                    formula.0.lines().iter().map(|line| (line.name().to_string(), line.percent().percent())).collect()
                }
            }
        };
        Ok(self.0.efficiency_as_weighed(made.0.iter().map(amounts))?)
    }

    fn __repr__(&self) -> String {
        format!(
            "<Design: {}, {} runs, {} terms, at least {:.3} efficient>",
            self.0.kind(),
            self.0.runs().len(),
            self.0.terms().len(),
            self.0.efficiency()
        )
    }
}

#[pymethods]
impl Brief {
    /// A design of trials inside what the brief allows, whatever its objective: which bars to press so that they teach
    /// most, with a bound on what any design of as many could.
    ///
    /// `kind` is "d-optimal" or "i-optimal" (so many `runs` are chosen), "extreme-vertices", "axial", or, where the
    /// region is a simplex, "simplex-lattice" (of so many `steps`) or "simplex-centroid". `model` is what will be
    /// fitted: "linear", "quadratic", "special-cubic", "full-cubic". `seed` decides the order of the runs and where the
    /// search begins, `starts` times.
    ///
    /// Each run is made `replicates` times, in `blocks`. `within` names a split whose members alone are varied,
    /// everything else as in the brief's answer. `components` are those of the model, where a requirement binds them:
    /// the others follow. `centroids` is the greatest dimension of faces whose centroids are among the points (1:
    /// edges).
    ///
    /// `process` are process variables by name, each with its unit and the range in which it is varied, followed to
    /// this `order` ("linear" or "quadratic"), "added" to the mixture or "crossed" with it (`crossing`).
    /// `whole_plot_ratio` changes settings as seldom as can be (split-plot): all runs of one combination in a block are
    /// one whole plot, which shares a departure of so many times the variance of a run. Runs are chosen, and the
    /// efficiency is told, under that.
    ///
    /// `made` are bars made already: the design goes on from them. Each is a formula, or a formula with its settings by
    /// process variable.
    ///
    /// Raises Unanswerable for a brief that allows no formula, Contradiction for components that are bound by more than
    /// their sum (with what binds them) and for points that cannot tell terms apart, OutOfRange for fewer runs than
    /// terms (with the terms).
    ///
    /// >>> brief = td.Brief("Bar", td.Catalogue.starter()).between("sci-powder", 40, 70).between("cetyl-alcohol", 3, 12).qs("kaolin")
    /// >>> design = brief.design("d-optimal", model="quadratic", runs=8, seed=1, process={"press force": ("kN", 10, 40)})
    /// >>> design.terms[-1], design.efficiency > 0.9
    /// ('press force', True)
    /// >>> split = brief.design("d-optimal", runs=8, seed=1, blocks=2, process={"press force": ("kN", 10, 40)}, whole_plot_ratio=1)
    /// >>> max(run.whole_plot for run in split.runs)
    /// 4
    /// >>> more = brief.design("d-optimal", runs=2, seed=1, made=[brief.solve().formula] * 3)
    /// >>> len(more.runs)
    /// 2
    #[pyo3(signature = (kind, *, seed, model=None, runs=None, replicates=1, blocks=1, within=None, components=None, process=None, order=None,
        crossing=None, whole_plot_ratio=None, made=None, steps=2, centroids=None, starts=10))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn design(
        &self,
        py: Python<'_>,
        kind: Word<DesignKind>,
        seed: u64,
        model: Option<Word<Blend>>,
        runs: Option<usize>,
        replicates: usize,
        blocks: usize,
        within: Option<&str>,
        components: Option<Names>,
        process: Option<Process>,
        order: Option<Word<ProcessOrder>>,
        crossing: Option<Word<Crossing>>,
        whole_plot_ratio: Option<Number>,
        made: Option<Several<ABar>>,
        steps: usize,
        centroids: Option<usize>,
        starts: usize,
    ) -> Outcome<Design> {
        let mut request = DesignRequest::new(kind.0, model.map_or(Blend::Linear, |model| model.0), seed)
            .replicates(replicates)?
            .blocks(blocks)?
            .steps(steps)?
            .starts(starts)?;
        if let Some(ratio) = &whole_plot_ratio {
            request = request.split_plot(&ratio.0)?;
        }
        if let Some(runs) = runs {
            request = request.runs(runs)?;
        }
        if let Some(within) = within {
            request = request.within(within)?;
        }
        if let Some(components) = &components {
            request = request.components(components.each())?;
        }
        if let Some(centroids) = centroids {
            request = request.centroids(centroids)?;
        }
        let process = process.unwrap_or_default();
        let variable = |(name, (unit, low, high)): (&String, &(String, Fraction, Fraction))| {
            ProcessVariable::new(name, unit, &low.0, &high.0)
        };
        let variables = process.iter().map(variable).collect::<Result<Vec<_>, _>>()?;
        request = request.process(
            variables,
            order.map_or(ProcessOrder::Linear, |order| order.0),
            crossing.map_or(Crossing::Added, |crossing| crossing.0),
        )?;
        for bar in made.map_or_else(Vec::new, |made| made.0) {
            request = match bar {
                ABar::Plain(formula) => request.made(&formula.0, std::iter::empty::<Exact>())?,
                ABar::Set((formula, settings)) => {
                    request.made_at(&formula.0, settings.into_iter().map(|(name, setting)| (name, setting.0)))?
                }
            };
        }
        let design = watched(py, None, |watch| self.0.clone().watched_by(watch).design(&request));
        Ok(Design(or_unanswerable(py, design)?))
    }
}
