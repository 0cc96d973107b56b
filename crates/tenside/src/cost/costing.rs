//! What a batch of a formula costs.

use crate::bounds::Quantity;
use crate::catalogue::PriceList;
use crate::document::{check_name, named_enum};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{Formula, Line};
use crate::measure::Content;
use crate::number::ToExact;
use crate::number::{Exact, Mass, MassUnit};

use super::offer::{amount, counted};

named_enum! {
    /// What a cost beside the raw materials is stated for.
    CostBasis "basis of a cost" {
        /// Each bar: packaging.
        Bar = "bar",
        /// The batch: labour, heat, an analysis.
        Batch = "batch",
        /// A percentage of the raw materials and of everything that is stated for bar or batch: overhead.
        DirectCosts = "direct-costs",
    }
}

/// A cost beside the raw materials.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct ExtraCost {
    /// What it is called.
    pub name: String,
    /// What it is stated for.
    pub basis: CostBasis,
    /// Money for one bar or batch, or percent of the direct costs.
    pub stated: Exact,
    /// What it comes to in the batch.
    pub cost: Exact,
}

/// What is asked: how much is charged, what becomes of it, and what it costs beside the raw materials. Values are
/// immutable; a change gives a new one.
///
/// ```
/// use tenside::cost::CostRequest;
/// let asked = CostRequest::new("2 kg".parse()?)?.with_bars(30)?.with_process_loss(4)?.per_batch("labour", 18)?;
/// assert!(asked.clone().per_bar("labour", 1).unwrap_err().is_duplicate());
/// assert!(asked.per_bar("wrapper", -1).unwrap_err().is_out_of_range());
/// assert!(CostRequest::new("0 g".parse()?).is_err());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct CostRequest {
    pub(super) charged: Mass,
    pub(super) bars: Option<u32>,
    pub(super) washes: Option<Exact>,
    pub(super) process_loss: Option<Exact>,
    pub(super) extras: Vec<(String, CostBasis, Exact)>,
}

impl CostRequest {
    /// Of a batch of which so much is weighed in.
    ///
    /// # Errors
    /// No mass at all.
    pub fn new(charged: Mass) -> Result<Self, Error> {
        if charged.grams().is_zero() {
            return Err(Fault::new(FaultKind::OutOfRange, "the batch is 0")
                .value("0 g")
                .allowed("above 0 g, to a hundred tonnes")
                .into());
        }
        Ok(CostRequest { charged, bars: None, washes: None, process_loss: None, extras: Vec::new() })
    }

    /// That gives so many bars to be sold: rejects and samples are none of them.
    ///
    /// # Errors
    /// No bars, and too many.
    pub fn with_bars(mut self, bars: u32) -> Result<Self, Error> {
        Quantity::Bars.check(&Exact::from(bars))?;
        self.bars = Some(bars);
        Ok(self)
    }

    /// Of which each is good for so many washes.
    ///
    /// # Errors
    /// Fewer than one wash.
    pub fn with_washes(mut self, washes: impl ToExact) -> Result<Self, Error> {
        let washes = Quantity::Washes.exact(washes)?;
        self.washes = Some(washes);
        Ok(self)
    }

    /// Of which so many percent of the mass charged stay in bowl and press: what they cost is told apart, not added.
    ///
    /// # Errors
    /// A loss below 0 or so near 100 % that nothing is left.
    pub fn with_process_loss(mut self, percent: impl ToExact) -> Result<Self, Error> {
        let percent = percent.to_exact()?;
        Quantity::Loss.check(&percent).map_err(|error| error.within("process loss"))?;
        self.process_loss = Some(percent);
        Ok(self)
    }

    /// With a cost of each bar, as a wrapper.
    ///
    /// # Errors
    /// A negative amount, a bad name, and one that stands already.
    pub fn per_bar(self, name: &str, amount: impl ToExact) -> Result<Self, Error> {
        self.with_extra(name, CostBasis::Bar, amount)
    }

    /// With a cost of the batch, as labour.
    ///
    /// # Errors
    /// A negative amount, a bad name, and one that stands already.
    pub fn per_batch(self, name: &str, amount: impl ToExact) -> Result<Self, Error> {
        self.with_extra(name, CostBasis::Batch, amount)
    }

    /// With a cost in percent of the direct costs, which are the raw materials and everything that is stated for bar or
    /// batch.
    ///
    /// # Errors
    /// A negative percentage, a bad name, and one that stands already.
    pub fn percent_of_direct_costs(self, name: &str, percent: impl ToExact) -> Result<Self, Error> {
        self.with_extra(name, CostBasis::DirectCosts, percent)
    }

    pub(super) fn with_extra(mut self, name: &str, basis: CostBasis, stated: impl ToExact) -> Result<Self, Error> {
        let name = check_name(name)?;
        let stated = match basis {
            CostBasis::DirectCosts => {
                let percent = stated.to_exact()?;
                Quantity::Overhead.check(&percent).map_err(|error| error.within(&name))?;
                percent
            }
            CostBasis::Bar | CostBasis::Batch => amount(stated, &name)?,
        };
        Quantity::Lines.check(&counted(self.extras.len() + 1)).map_err(|error| error.within("costs"))?;
        if self.extras.iter().any(|(known, ..)| *known == name) {
            let fault = Fault::new(FaultKind::Duplicate, "a cost stands twice").value(format!("{name:?}"));
            return Err(fault.remedy("give each cost a name of its own").into());
        }
        self.extras.push((name, basis, stated));
        Ok(self)
    }
}

/// What a line of the formula costs.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct LineCost {
    /// The line's name.
    pub line: String,
    /// The id of its raw material.
    pub material: String,
    /// Its phase.
    pub phase: String,
    /// What is weighed in.
    pub mass: Mass,
    /// What a kilogram of it costs.
    pub price: Exact,
    /// What it costs in the batch.
    pub cost: Exact,
    /// What share of the raw materials' cost it is, percent; 0 where they cost nothing.
    pub percent: Exact,
}

/// What a batch costs, by line, phase and whole. Exact, in the currency of the formula's prices.
#[derive(Clone, Debug, PartialEq)]
pub struct Costing {
    pub(super) formula: Formula,
    pub(super) request: CostRequest,
    currency: String,
    lines: Vec<LineCost>,
    extras: Vec<ExtraCost>,
    raw_materials: Exact,
    direct: Exact,
    total: Exact,
}

/// The fault of a formula without prices.
pub(super) fn no_prices(formula: &Formula) -> Error {
    let fault = Fault::new(FaultKind::Missing, "the formula has no prices").value(format!("{:?}", formula.title()));
    fault.remedy("give it a price list, as with_prices does").into()
}

/// What a kilogram of each line costs: what is stated, or what the parts of a premix come to. Of a line at 0 % nothing
/// is bought, so that it needs no price.
pub(super) fn line_prices<'a>(formula: &'a Formula, prices: &PriceList) -> Result<Vec<(&'a Line, Exact)>, Error> {
    let (mut found, mut faults) = (Vec::new(), Vec::new());
    for line in formula.lines().iter().filter(|line| !line.percent().is_zero()) {
        // The measure's own way to a price.
        match Content::Cost.of_material(line.material(), Some(prices)) {
            Some(Ok(price)) => found.push((line, price)),
            Some(Err(error)) => faults.extend(error.within(&format!("line {:?}", line.name())).into_faults()),
            None => {}
        }
    }
    Error::check(faults, found)
}

impl Formula {
    /// What a batch of it costs at its prices. Lines at 0 % are left out.
    ///
    /// # Errors
    /// A formula without prices, every raw material without a price, and washes or a cost for each bar where the number
    /// of bars is not stated.
    pub fn costing(&self, request: &CostRequest) -> Result<Costing, Error> {
        let prices = self.prices().ok_or_else(|| no_prices(self))?;
        let without_bars = |what: &str, place: &str| -> Error {
            let fault = Fault::new(FaultKind::Missing, format!("{what} needs the number of bars")).at(place);
            fault.remedy("state how many bars the batch gives").into()
        };
        if request.washes.is_some() && request.bars.is_none() {
            return Err(without_bars("a cost of each wash", "washes"));
        }
        let mut lines = Vec::new();
        for (line, price) in line_prices(self, prices)? {
            let mass = Mass::new(&(request.charged.grams() * line.percent().share()), MassUnit::Gram)?;
            lines.push(LineCost {
                line: line.name().to_string(),
                material: line.material().id().to_string(),
                phase: line.phase().to_string(),
                cost: &price * mass.in_unit(MassUnit::Kilogram),
                mass,
                price,
                percent: Exact::ZERO,
            });
        }
        let raw_materials: Exact = lines.iter().map(|line| &line.cost).sum();
        for line in &mut lines {
            line.percent = (&line.cost * Exact::hundred()).checked_div(&raw_materials).unwrap_or_default();
        }
        let mut extras = Vec::new();
        for (name, basis, stated) in &request.extras {
            let cost = match (basis, request.bars) {
                (CostBasis::Bar, Some(bars)) => stated * Exact::from(bars),
                (CostBasis::Bar, None) => return Err(without_bars("a cost of each bar", name)),
                (CostBasis::Batch, _) => stated.clone(),
                (CostBasis::DirectCosts, _) => Exact::ZERO,
            };
            extras.push(ExtraCost { name: name.clone(), basis: *basis, stated: stated.clone(), cost });
        }
        let direct = &raw_materials + extras.iter().map(|extra| &extra.cost).sum::<Exact>();
        for extra in extras.iter_mut().filter(|extra| extra.basis == CostBasis::DirectCosts) {
            extra.cost = &direct * &extra.stated / Exact::hundred();
        }
        let total = &raw_materials + extras.iter().map(|extra| &extra.cost).sum::<Exact>();
        let currency = prices.currency().to_string();
        Ok(Costing {
            formula: self.clone(),
            request: request.clone(),
            currency,
            lines,
            extras,
            raw_materials,
            direct,
            total,
        })
    }
}

getters!(Costing {
    /// The formula.
    formula: &Formula,
    /// The currency.
    currency: &str,
    /// What each line costs; lines at 0 % are left out.
    lines: &[LineCost],
    /// What is beside the raw materials, in the order stated.
    extras: &[ExtraCost],
    /// What the raw materials cost together.
    raw_materials: &Exact,
    /// The raw materials and everything that is stated for bar or batch.
    direct: &Exact,
    /// What the batch costs.
    total: &Exact,
});

impl Costing {
    /// What is weighed in.
    #[must_use]
    pub fn charged(&self) -> &Mass {
        &self.request.charged
    }

    /// How many bars it gives, if stated.
    #[must_use]
    pub fn bars(&self) -> Option<u32> {
        self.request.bars
    }

    /// What the lines of each phase cost, in working order.
    #[must_use]
    pub fn phases(&self) -> Vec<(&str, Exact)> {
        let of =
            |phase: &str| self.lines.iter().filter(|line| line.phase == phase).map(|line| &line.cost).sum::<Exact>();
        let used = self
            .formula
            .phases()
            .iter()
            .map(|phase| phase.name())
            .filter(|phase| self.lines.iter().any(|line| line.phase == **phase));
        used.map(|phase| (phase, of(phase))).collect()
    }

    /// The part of it that stays in bowl and press, if a loss is stated.
    #[must_use]
    pub fn lost(&self) -> Option<Exact> {
        self.request.process_loss.as_ref().map(|percent| &self.raw_materials * percent / Exact::hundred())
    }

    /// What one bar costs, if their number is stated.
    #[must_use]
    pub fn per_bar(&self) -> Option<Exact> {
        self.request.bars.map(|bars| &self.total / Exact::from(bars))
    }

    /// What a wash costs, if bars and washes are stated.
    #[must_use]
    pub fn per_wash(&self) -> Option<Exact> {
        self.per_bar().zip(self.request.washes.as_ref()).map(|(bar, washes)| bar / washes)
    }

    /// What a kilogram weighed in costs.
    #[must_use]
    pub fn per_kilogram(&self) -> Exact {
        &self.total / self.request.charged.in_unit(MassUnit::Kilogram)
    }
}
