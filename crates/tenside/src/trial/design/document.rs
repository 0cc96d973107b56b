//! Designs as documents, and back.

use super::{Design, DesignKind, DesignRequest, DesignedRun, PointKind};
use crate::bounds::Quantity;
use crate::brief::{BriefDocument, read_brief};
use crate::catalogue::{Catalogue, read_back};
use crate::document::{Materials, Number, TableView, form, forms, written};
use crate::formula::{FormulaDocument, read_formula};
use crate::number::Exact;
use crate::trial::terms::{Blend, Crossing, ProcessOrder, ProcessVariable};

written! {
    /// A process variable.
    struct VariedDocument {
        /// What it is called.
        name: String,
        /// Its unit; may be empty.
        unit: String,
        /// The lowest setting.
        low: Number,
        /// The highest.
        high: Number,
    }
}

written! {
    /// A bar that was made already.
    struct MadeRunDocument {
        /// What it is made of.
        formula: FormulaDocument,
        /// The settings it was made at, in the order of the process variables.
        settings: Vec<Number>,
    }
}

written! {
    /// What was asked of a design.
    struct DesignRequestDocument {
        /// The kind of design.
        kind: DesignKind,
        /// The polynomial of the mixture.
        model: Blend,
        /// The seed, a whole number in text.
        seed: String,
        /// How many runs are chosen.
        #[serde(skip_serializing_if = "Option::is_none")]
        runs: Option<usize>,
        /// How many times each is made.
        replicates: usize,
        /// In how many blocks.
        blocks: usize,
        /// The split whose members alone are varied.
        #[serde(skip_serializing_if = "Option::is_none")]
        within: Option<String>,
        /// The components of the model, where not all are.
        #[serde(skip_serializing_if = "Option::is_none")]
        components: Option<Vec<String>>,
        /// The process variables.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        process: Vec<VariedDocument>,
        /// How far the model follows them.
        process_order: ProcessOrder,
        /// How mixture and process go together.
        crossing: Crossing,
        /// Where settings are changed as seldom as can be: how many times the variance of a run that of a whole plot is.
        #[serde(skip_serializing_if = "Option::is_none")]
        whole_plot_ratio: Option<Number>,
        /// The bars made already.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        made: Vec<MadeRunDocument>,
        /// The steps of a lattice.
        steps: usize,
        /// The greatest dimension of the faces whose centroids are among the points.
        #[serde(skip_serializing_if = "Option::is_none")]
        centroids: Option<usize>,
        /// How many times the search begins anew.
        starts: usize,
    }
}

impl DesignRequestDocument {
    fn of(it: &DesignRequest, materials: Materials) -> Self {
        let varied = |variable: &ProcessVariable| VariedDocument {
            name: variable.name().to_string(),
            unit: variable.unit().to_string(),
            low: variable.low().into(),
            high: variable.high().into(),
        };
        let made = |made: &super::MadeRun| MadeRunDocument {
            formula: FormulaDocument::of(&made.formula, materials),
            settings: made.settings.iter().map(Number::from).collect(),
        };
        DesignRequestDocument {
            kind: it.kind,
            model: it.blend,
            seed: it.seed.to_string(),
            runs: it.runs,
            replicates: it.replicates,
            blocks: it.blocks,
            within: it.within.clone(),
            components: it.components.clone(),
            process: it.process.iter().map(varied).collect(),
            process_order: it.order,
            crossing: it.crossing,
            whole_plot_ratio: it.whole_plot_ratio.as_ref().map(Number::from),
            made: it.made.iter().map(made).collect(),
            steps: it.steps,
            centroids: it.centroids,
            starts: it.starts,
        }
    }
}

form! {
    /// A run of a design.
    DesignedRunDocument of DesignedRun, |it| {
        /// Its place in the order, from 1.
        number: usize,
        /// Its block, from 1.
        block: usize,
        /// Runs between which no setting is changed.
        #[serde(skip_serializing_if = "Option::is_none")]
        whole_plot: Option<usize>,
        /// Where in the region it lies.
        kind: PointKind,
        /// Exact percentages, in the order of the brief's lines.
        point: Vec<Number> = it.point.iter().map(Number::from).collect(),
        /// Settings of the process variables, in their order.
        settings: Vec<Number> = it.settings.iter().map(Number::from).collect(),
        /// The percentages that are weighed, in the same order.
        percents: Vec<Number> = it.formula.lines().iter().map(|line| line.percent().into()).collect(),
    }
}

written! {
    /// So many candidates of a kind.
    struct CandidatesDocument {
        /// The kind of point.
        kind: PointKind,
        /// How many.
        count: usize,
    }
}

/// A share with the five digits that are sure of it, rounded down.
fn share(share: f64) -> Number {
    Exact::ratio((share * 100_000.0).floor() as i64, 100_000).into()
}

form! {
    /// Which bars to press. Shares are rounded down.
    DesignDocument of Design as "design/1", |it, materials| {
        /// The brief whose region it is in.
        brief: BriefDocument = BriefDocument::of(it.brief(), materials),
        /// What was asked.
        request: DesignRequestDocument = DesignRequestDocument::of(it.request(), materials),
        /// The terms of the model.
        terms: Vec<String> = it.terms().names(),
        /// The runs, in the order in which they are made.
        runs: Vec<DesignedRunDocument> = forms(it.runs()),
        /// How many points of each kind the bound is about.
        candidates: Vec<CandidatesDocument> =
            it.candidates().iter().map(|(kind, count)| CandidatesDocument { kind: *kind, count: *count }).collect(),
        /// True where the bound is about every mixture of the region.
        bound_holds_everywhere: bool,
        /// The share of the bound that the design reaches at least.
        efficiency: Number = share(it.efficiency()),
        /// The same on the grid; null where the runs no longer determine every term.
        efficiency_as_rounded: Option<Number> = it.efficiency_as_rounded().map(share),
        /// What blocks leave of it; null without blocks.
        block_efficiency: Option<Number> = it.block_efficiency().map(share),
        /// In a sentence.
        sentence: String,
    }
}

fn read_request(view: &TableView<'_>, catalogue: &Catalogue) -> Option<DesignRequest> {
    let kind = view.needed("kind", |view| view.choice("kind"));
    let model = view.needed("model", |view| view.choice("model"));
    let seed = view.needed("seed", |view| {
        let text = view.text("seed")?;
        view.accept(
            "seed",
            text.parse::<u64>().map_err(|_| {
                crate::error::Fault::new(crate::error::FaultKind::NotANumber, "no whole number").value(text).into()
            }),
        )
    });
    let whole = |key: &'static str| view.whole(key).map(|number| number as usize);
    let (runs, replicates, blocks, steps, starts) =
        (whole("runs"), whole("replicates"), whole("blocks"), whole("steps"), whole("starts"));
    let centroids = whole("centroids");
    let within = view.name("within");
    let components = view.has("components").then(|| view.texts("components"));
    let mut complete = true;
    let process = view.tables("process", |view| {
        let name = view.needed("name", |view| view.text("name"));
        let unit = view.text("unit").unwrap_or_default();
        let low = view.needed("low", |view| view.exact("low", Some(Quantity::ProcessSetting)));
        let high = view.needed("high", |view| view.exact("high", Some(Quantity::ProcessSetting)));
        let variable = (|| view.accept("name", ProcessVariable::new(name?, unit, low?, high?)))();
        complete &= variable.is_some();
        variable
    });
    let order = view.choice("process_order").unwrap_or(ProcessOrder::Linear);
    let crossing = view.choice("crossing").unwrap_or(Crossing::Added);
    let ratio = view.exact("whole_plot_ratio", Some(Quantity::WholePlotRatio));
    let made = view.tables("made", |view| {
        let formula = view.needed("formula", |view| view.table("formula", |view| read_formula(view, catalogue)));
        let settings = view.exacts("settings", Quantity::ProcessSetting);
        complete &= formula.is_some();
        Some((formula?, settings))
    });
    let mut request = DesignRequest::new(kind?, model?, seed?);
    request = view.accept("process", request.process(process, order, crossing))?;
    if let Some(ratio) = ratio {
        request = view.accept("whole_plot_ratio", request.split_plot(ratio))?;
    }
    if let Some(runs) = runs {
        request = view.accept("runs", request.runs(runs))?;
    }
    if let Some(replicates) = replicates {
        request = view.accept("replicates", request.replicates(replicates))?;
    }
    if let Some(blocks) = blocks {
        request = view.accept("blocks", request.blocks(blocks))?;
    }
    if let Some(steps) = steps {
        request = view.accept("steps", request.steps(steps))?;
    }
    if let Some(starts) = starts {
        request = view.accept("starts", request.starts(starts))?;
    }
    if let Some(centroids) = centroids {
        request = view.accept("centroids", request.centroids(centroids))?;
    }
    if let Some(within) = within {
        request = view.accept("within", request.within(&within))?;
    }
    if let Some(components) = components {
        request = view.accept("components", request.components(components))?;
    }
    for (formula, settings) in made {
        request = view.accept("made", request.made(&formula, settings))?;
    }
    complete.then_some(request)
}

read_back! {
    /// Reads a design back.
    Design, &["brief", "request"], |view, catalogue, watch| {
        let brief = view.needed("brief", |view| view.table("brief", |view| read_brief(view, catalogue)));
        let request = view.needed("request", |view| view.table("request", |view| read_request(view, catalogue)));
        view.accept("request", brief?.watched_by(watch).design(&request?))
    }
}
