//! Costs as documents, and back.

use super::super::costing::{CostBasis, CostRequest, Costing, ExtraCost, LineCost};
use crate::bounds::Quantity;
use crate::catalogue::Catalogue;
use crate::document::{Notation, Number, TableView, form, forms, restore, written};
use crate::error::Error;
use crate::formula::{FormulaDocument, read_formula};

written! {
    /// A cost beside the raw materials, as stated.
    struct StatedCostDocument {
        /// What it is called.
        name: String,
        /// What it is stated for.
        basis: CostBasis,
        /// Money for one bar or batch, or percent of the direct costs.
        stated: Number,
    }
}

form! {
    /// What is asked of a costing.
    CostRequestDocument of CostRequest, |it| {
        /// Grams weighed in.
        charged: Number,
        /// Bars to be sold.
        #[serde(skip_serializing_if = "Option::is_none")]
        bars: Option<u32>,
        /// Washes a bar gives.
        #[serde(skip_serializing_if = "Option::is_none")]
        washes: Option<Number> = it.washes.as_ref().map(Number::from),
        /// What stays in bowl and press, percent.
        #[serde(skip_serializing_if = "Option::is_none")]
        process_loss: Option<Number> = it.process_loss.as_ref().map(Number::from),
        /// What is beside the raw materials.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        extras: Vec<StatedCostDocument> =
            it.extras.iter().map(|(name, basis, stated)| StatedCostDocument { name: name.clone(), basis: *basis, stated: stated.into() }).collect(),
    }
}

form! {
    /// What a line costs.
    LineCostDocument of LineCost, |it| {
        /// The line's name.
        line: String,
        /// Its raw material.
        material: String,
        /// Its phase.
        phase: String,
        /// Grams weighed in.
        grams: Number = (&it.mass).into(),
        /// What a kilogram costs.
        price: Number,
        /// What it costs in the batch.
        cost: Number,
        /// Its share of the raw materials' cost, percent.
        percent: Number,
    }
}

form! {
    /// What a cost beside the raw materials comes to.
    ExtraCostDocument of ExtraCost, |it| {
        /// What it is called.
        name: String,
        /// What it comes to in the batch.
        cost: Number,
    }
}

written! {
    /// What a phase costs.
    struct PhaseCostDocument {
        /// The phase.
        phase: String,
        /// What its lines cost.
        cost: Number,
    }
}

form! {
    /// What a batch costs.
    CostingDocument of Costing as "costing/1", |it, materials| {
        /// The formula, with its prices.
        formula: FormulaDocument = FormulaDocument::of(&it.formula, materials),
        /// What was asked.
        request: CostRequestDocument = (&it.request).into(),
        /// The currency.
        currency: String,
        /// What each line costs.
        lines: Vec<LineCostDocument> = forms(it.lines()),
        /// What the lines of each phase cost.
        phases: Vec<PhaseCostDocument> =
            it.phases().into_iter().map(|(phase, cost)| PhaseCostDocument { phase: phase.to_string(), cost: cost.into() }).collect(),
        /// What is beside the raw materials.
        extras: Vec<ExtraCostDocument> = forms(it.extras()),
        /// What the raw materials cost.
        raw_materials: Number,
        /// The part of it that stays in bowl and press.
        lost: Option<Number> = it.lost().map(Number::from),
        /// The raw materials and everything that is stated for bar or batch.
        direct: Number,
        /// What the batch costs.
        total: Number,
        /// What a kilogram weighed in costs.
        per_kilogram: Number,
        /// What one bar costs.
        per_bar: Option<Number> = it.per_bar().map(Number::from),
        /// What a wash costs.
        per_wash: Option<Number> = it.per_wash().map(Number::from),
    }
}

fn read_request(view: &TableView<'_>) -> Option<CostRequest> {
    let charged = view.needed("charged", |view| view.grams("charged"));
    let (bars, washes) = (view.whole("bars"), view.exact("washes", Some(Quantity::Washes)));
    let loss = view.exact("process_loss", Some(Quantity::Loss));
    let extras = view.tables("extras", |view| {
        let (name, basis) = (view.needed_name("name"), view.needed("basis", |view| view.choice::<CostBasis>("basis")));
        Some((name?, basis?, view.needed("stated", |view| view.exact("stated", None))?))
    });
    let mut request = view.accept("charged", CostRequest::new(charged?))?;
    if let Some(bars) = bars {
        request = view.accept("bars", request.with_bars(bars))?;
    }
    if let Some(washes) = washes {
        request = view.accept("washes", request.with_washes(washes))?;
    }
    if let Some(loss) = loss {
        request = view.accept("process_loss", request.with_process_loss(loss))?;
    }
    extras.into_iter().try_fold(request, |request, (name, basis, stated)| {
        view.accept("extras", request.with_extra(&name, basis, stated))
    })
}

impl Costing {
    /// Reads a costing back. It is believed where calculating again gives just what it says; see
    /// [`crate::document::ResultDocument`].
    ///
    /// # Errors
    /// Every fault of formula and request with line and column; else everything that is not what comes of them.
    pub fn read(text: &str, notation: Notation, catalogue: &Catalogue) -> Result<Self, Error> {
        restore(text, notation, &["formula", "request"], |view| {
            let formula = view.needed("formula", |view| view.table("formula", |view| read_formula(view, catalogue)));
            let request = view.needed("request", |view| view.table("request", read_request));
            view.accept("request", formula?.costing(&request?))
        })
    }
}
