//! What a batch of a formula costs.

use indexmap::IndexMap;
use pyo3::prelude::*;
use tenside::cost::{CostBasis, CostRequest};
use tenside::error::{Fault, FaultKind};

use crate::convert::column::batch_of;
use crate::convert::failure::Outcome;
use crate::convert::input::{AMass, ByName, Number};
use crate::convert::output::Fraction;
use crate::convert::page::Page;
use crate::convert::table::Rows;
use crate::convert::word::Word;
use crate::formula::Formula;
use crate::product::batch::Batch;

record! {
    "tenside.cost",
    /// What a line of the formula costs.
    LineCost of &tenside::cost::LineCost, |line| {
        /// The line's name.
        line: String = line.line.clone(),
        /// The id of its raw material.
        material: String = line.material.clone(),
        /// Its phase.
        phase: String = line.phase.clone(),
        /// Grams weighed in.
        grams: Fraction = Fraction(line.mass.grams().clone()),
        /// What a kilogram costs.
        price: Fraction = Fraction(line.price.clone()),
        /// What it costs in the batch.
        cost: Fraction = Fraction(line.cost.clone()),
        /// Its share of the raw materials' cost, percent.
        percent: Fraction = Fraction(line.percent.clone()),
    }
}

record! {
    "tenside.cost",
    /// A cost beside the raw materials.
    ExtraCost of &tenside::cost::ExtraCost, |extra| {
        /// What it is called.
        name: String = extra.name.clone(),
        /// What it is stated for: "bar", "batch", "direct-costs".
        basis: Word<CostBasis> = Word(extra.basis),
        /// Money for one bar or batch, or percent of the direct costs.
        stated: Fraction = Fraction(extra.stated.clone()),
        /// What it comes to in the batch.
        cost: Fraction = Fraction(extra.cost.clone()),
    }
}

/// What a batch costs by line, phase, bar, wash and whole: exact, in the currency of the formula's prices.
///
/// >>> cat = td.Catalogue.starter()
/// >>> bar = td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, cat, prices={"sci-powder": 9, "kaolin": "4.4"}, currency="EUR")
/// >>> costing = bar.costing("2 kg", bars=30, per_bar={"wrapper": "0.12"}, per_batch={"labour": 18})
/// >>> float(costing.raw_materials), float(costing.total), float(round(costing.per_bar, 2))
/// (14.32, 35.92, 1.2)
#[pyclass(frozen, eq, module = "tenside.cost")]
#[derive(Clone, PartialEq)]
pub(crate) struct Costing(pub(crate) tenside::cost::Costing);

shown!(Costing, |it| it.0.page());
value!(Costing, |it| it.formula().title());

arrow!(Costing, |it, _py| batch_of(it.lines())?);

document!(Costing, |it| &it.0, back by tenside::cost::Costing);

getters!(Costing {
    /// The formula.
    formula: Formula = |it| Formula(it.formula().clone());
    /// The currency.
    currency: String = |it| it.currency().to_string();
    /// Grams weighed in.
    charged: Fraction = |it| Fraction(it.charged().grams().clone());
    /// How many bars it gives, if stated.
    bars: Option<u32> = |it| it.bars();
    /// What each line costs; lines at 0 % are left out.
    lines: Rows<LineCost> = |it| it.lines().iter().map(LineCost::from).collect();
    /// What the lines of each phase cost, in working order.
    phases: IndexMap<String, Fraction> = |it| it.phases().into_iter().map(|(phase, cost)| (phase.to_string(), Fraction(cost))).collect();
    /// What is beside the raw materials, in the order stated.
    extras: Rows<ExtraCost> = |it| it.extras().iter().map(ExtraCost::from).collect();
    /// What the raw materials cost together.
    raw_materials: Fraction = |it| Fraction(it.raw_materials().clone());
    /// The part of it that stays in bowl and press, if a loss is stated.
    lost: Option<Fraction> = |it| it.lost().map(Fraction);
    /// The raw materials and everything that is stated for bar or batch.
    direct: Fraction = |it| Fraction(it.direct().clone());
    /// What the batch costs.
    total: Fraction = |it| Fraction(it.total().clone());
    /// What a kilogram weighed in costs.
    per_kilogram: Fraction = |it| Fraction(it.per_kilogram());
    /// What one bar costs, if their number is stated.
    per_bar: Option<Fraction> = |it| it.per_bar().map(Fraction);
    /// What a wash costs, if bars and washes are stated.
    per_wash: Option<Fraction> = |it| it.per_wash().map(Fraction);
    /// Everything on one page.
    page: Page = |it| Page(it.page());
});

#[pymethods]
impl Costing {
    fn __repr__(&self) -> String {
        format!("<Costing of {:?}, {} {}>", self.0.formula().title(), self.0.total().rounded_text(2), self.0.currency())
    }
}

one_of! {
    /// A mass, or a batch, which says what is weighed in and into how many bars it goes.
    #[expect(clippy::large_enum_variant, reason = "each is read once and gone")]
    enum WeighedIn: "a Batch, or a mass with its unit" {
        Batch(Batch),
        Mass(AMass),
    }
}

#[pymethods]
impl Formula {
    /// What a batch costs of which a `mass` is weighed in, at the formula's prices: by line, phase and whole. A batch of it
    /// in place of a mass says its bars and its process loss too; what is given here goes before that. A line costs by
    /// its percentage, not by the scale's last division, and a line at 0 % is left out.
    ///
    /// It gives so many `bars` to be sold, each good for so many `washes`; of the raw materials, `process_loss` percent
    /// stay in bowl and press, which is told apart and not added. Named costs are stated `per_bar` (packaging),
    /// `per_batch` (labour), or as `percent_of_direct_costs` (overhead): percent of the raw materials and everything
    /// stated for bar or batch.
    ///
    /// Raises Contradiction for a batch of another formula, Missing for prices that are not there and for `washes` or
    /// costs `per_bar` without a number of bars, NotKnown for a raw material without a price.
    ///
    /// >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter(), prices={"kaolin": 2}, currency="EUR")
    /// >>> clay.costing("1 kg", percent_of_direct_costs={"overhead": 15}).total
    /// Fraction(23, 10)
    /// >>> batch = clay.batch(bars=24, net="60 g", readability="0.1 g")
    /// >>> clay.costing(batch).per_bar
    /// Fraction(3, 25)
    #[pyo3(signature = (mass, *, bars=None, washes=None, process_loss=None, per_bar=None, per_batch=None, percent_of_direct_costs=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn costing(
        &self,
        mass: WeighedIn,
        bars: Option<u32>,
        washes: Option<Number>,
        process_loss: Option<Number>,
        per_bar: Option<ByName>,
        per_batch: Option<ByName>,
        percent_of_direct_costs: Option<ByName>,
    ) -> Outcome<Costing> {
        let (mass, pressed, planned_loss) = match mass {
            WeighedIn::Mass(mass) => (mass.0, None, None),
            WeighedIn::Batch(batch) if batch.0.formula().lines() != self.0.lines() => {
                let fault = Fault::new(FaultKind::Contradiction, "the batch is one of another formula").at("mass");
                let fault = fault.value(format!("{:?}", batch.0.formula().title()));
                let fault = fault.allowed(format!("a batch with the lines of {:?}", self.0.title()));
                return Err(fault.remedy("ask for the costing of the batch's own formula").into());
            }
            WeighedIn::Batch(batch) => {
                // What a size does not state stands in it as 0.
                let loss = batch.0.size().process_loss();
                (batch.0.weighed().clone(), batch.0.size().bars(), (!loss.is_zero()).then(|| loss.into()))
            }
        };
        let mut request = CostRequest::new(mass)?;
        if let Some(bars) = bars.or(pressed) {
            request = request.with_bars(bars)?;
        }
        if let Some(washes) = washes {
            request = request.with_washes(washes.0)?;
        }
        if let Some(percent) = process_loss.map(|percent| percent.0).or(planned_loss) {
            request = request.with_process_loss(percent)?;
        }
        let each = |costs: Option<ByName>| costs.map_or_else(Vec::new, |costs| costs.0);
        for (name, amount) in each(per_bar) {
            request = request.per_bar(&name, amount.0)?;
        }
        for (name, amount) in each(per_batch) {
            request = request.per_batch(&name, amount.0)?;
        }
        for (name, percent) in each(percent_of_direct_costs) {
            request = request.percent_of_direct_costs(&name, percent.0)?;
        }
        Ok(Costing(self.0.costing(&request)?))
    }
}
