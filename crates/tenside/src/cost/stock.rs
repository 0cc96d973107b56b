//! What is in stock, and what of it may be used on a day.

use crate::bounds::Quantity;
use crate::catalogue::{Catalogue, PriceList};
use crate::document::check_name;
use crate::error::{Error, Fault, FaultKind};
use crate::number::ToExact;
use crate::number::{Date, Exact, Mass, MassUnit};

use super::offer::{counted, price_list};

/// What is left of a lot of a raw material. Values are immutable; a change gives a new one.
///
/// ```
/// use tenside::cost::StockLot;
/// let lot = StockLot::new("kaolin", "1.2 kg".parse()?)?.named("K-7")?.at_cost("4.40")?.to_be_used_by("2027-01-31".parse()?);
/// assert_eq!(lot.value().unwrap().to_string(), "5.28");
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct StockLot {
    material: String,
    left: Mass,
    name: Option<String>,
    price: Option<Exact>,
    use_by: Option<Date>,
}

getters!(StockLot {
    /// The raw material.
    material: &str,
    /// What is left.
    left: &Mass,
    /// What a kilogram of it cost, if stated.
    price: Option<&Exact>,
    /// The last day on which it is used, if stated.
    use_by: Option<Date>,
});

impl StockLot {
    /// So much is left of a raw material, by its id or another name of it.
    ///
    /// # Errors
    /// A bad name.
    pub fn new(material: &str, left: Mass) -> Result<Self, Error> {
        Ok(StockLot { material: check_name(material)?, left, name: None, price: None, use_by: None })
    }

    /// With the name of the lot.
    ///
    /// # Errors
    /// A bad name.
    pub fn named(mut self, name: &str) -> Result<Self, Error> {
        self.name = Some(check_name(name)?);
        Ok(self)
    }

    /// With what a kilogram of it cost.
    ///
    /// # Errors
    /// A negative price.
    pub fn at_cost(mut self, per_kilogram: impl ToExact) -> Result<Self, Error> {
        let price = per_kilogram.to_exact()?;
        Quantity::Price.check(&price).map_err(|error| error.within(&self.words()))?;
        self.price = Some(price);
        Ok(self)
    }

    /// With the last day on which it is used: that of its expiry, or that before it is to be tested again.
    #[must_use]
    pub fn to_be_used_by(mut self, day: Date) -> Self {
        self.use_by = Some(day);
        self
    }

    /// The name of the lot, if stated.
    #[must_use]
    pub fn name(&self) -> Option<&str> {
        self.name.as_deref()
    }

    /// What is left of it is worth at cost, if that is stated.
    #[must_use]
    pub fn value(&self) -> Option<Exact> {
        self.price.as_ref().map(|price| price * self.left.in_unit(MassUnit::Kilogram))
    }

    /// The lot in words.
    pub(super) fn words(&self) -> String {
        match &self.name {
            Some(name) => format!("lot {name:?} of {:?}", self.material),
            None => format!("a lot of {:?}", self.material),
        }
    }

    /// Whether it may be used on a day.
    ///
    /// # Errors
    /// A lot with a last day where no day is stated.
    pub(super) fn is_usable(&self, on: Option<Date>) -> Result<bool, Error> {
        match (self.use_by, on) {
            (None, _) => Ok(true),
            (Some(last), Some(on)) => Ok(on <= last),
            (Some(last), None) => {
                Err(Fault::new(FaultKind::Missing, "it is used up to a day only, and no day of use is stated")
                    .at(self.words())
                    .value(last)
                    .remedy("state the day on which the batch is made")
                    .into())
            }
        }
    }
}

/// What is in stock. Values are immutable; a change gives a new one.
///
/// ```
/// use tenside::cost::{Stock, StockLot};
/// let lot = |grams: &str, cost: &str| StockLot::new("kaolin", grams.parse()?)?.at_cost(cost);
/// let stock = Stock::new("EUR")?.with_lot(lot("1 kg", "4")?)?.with_lot(lot("3 kg", "5")?)?;
/// assert_eq!(stock.value().to_string(), "19");
/// assert_eq!(stock.price_list()?.get("kaolin").unwrap().to_string(), "4.75");
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Stock {
    currency: String,
    lots: Vec<StockLot>,
}

getters!(Stock {
    /// The currency that it is valued in.
    currency: &str,
    /// The lots, in the order given.
    lots: &[StockLot],
});

impl Stock {
    /// An empty stock that is valued in a currency.
    ///
    /// # Errors
    /// A bad name.
    pub fn new(currency: &str) -> Result<Self, Error> {
        Ok(Stock { currency: check_name(currency)?, lots: Vec::new() })
    }

    /// With a lot.
    ///
    /// # Errors
    /// A lot of the same raw material and name, and more than ten thousand lots.
    pub fn with_lot(mut self, lot: StockLot) -> Result<Self, Error> {
        self.add(lot)?;
        Ok(self)
    }

    fn add(&mut self, lot: StockLot) -> Result<(), Error> {
        Quantity::StockLots.check(&counted(self.lots.len() + 1))?;
        if lot.name.is_some() && self.lots.iter().any(|known| known.name == lot.name && known.material == lot.material)
        {
            let fault = Fault::new(FaultKind::Duplicate, "a lot stands twice").value(lot.words());
            return Err(fault.remedy("state once what is left of it").into());
        }
        self.lots.push(lot);
        Ok(())
    }

    /// The same under the ids of a catalogue: other names of its raw materials are looked up.
    ///
    /// # Errors
    /// Every unknown and ambiguous name, and lots that are the same under one id.
    pub fn with_ids_of(&self, catalogue: &Catalogue) -> Result<Self, Error> {
        let (mut faults, mut stock) = (Vec::new(), Stock { lots: Vec::new(), ..self.clone() });
        for lot in &self.lots {
            let known = catalogue.material(&lot.material).map_err(|error| error.within("stock"));
            if let Err(error) =
                known.and_then(|material| stock.add(StockLot { material: material.id().to_string(), ..lot.clone() }))
            {
                faults.extend(error.into_faults());
            }
        }
        Error::check(faults, stock)
    }

    /// What is left is worth at cost; lots whose cost is not stated are not in it, see [`Stock::without_cost`].
    #[must_use]
    pub fn value(&self) -> Exact {
        self.lots.iter().filter_map(StockLot::value).sum()
    }

    /// The lots whose cost is not stated.
    #[must_use]
    pub fn without_cost(&self) -> Vec<&StockLot> {
        self.lots.iter().filter(|lot| lot.price.is_none()).collect()
    }

    /// The price list of the stock at cost: of each raw material the mean over its lots by mass, rounded to the sixth
    /// decimal place. A raw material of which a lot has no stated cost, or nothing is left, has no price in it.
    ///
    /// # Errors
    /// None beyond those of the price list.
    pub fn price_list(&self) -> Result<PriceList, Error> {
        let mut means: Vec<(String, Exact)> = Vec::new();
        for lot in &self.lots {
            let of_material = || self.lots.iter().filter(|other| other.material == lot.material);
            if means.iter().any(|(known, _)| *known == lot.material) || of_material().any(|lot| lot.price.is_none()) {
                continue;
            }
            let value: Exact = of_material().filter_map(StockLot::value).sum();
            let kilograms: Exact = of_material().map(|lot| lot.left.in_unit(MassUnit::Kilogram)).sum();
            means.extend(value.checked_div(&kilograms).map(|mean| (lot.material.clone(), mean)));
        }
        price_list(&self.currency, means)
    }

    /// True if something of that raw material is left that may be used on a day, or for which the day would have to be
    /// stated.
    pub(super) fn has(&self, material: &str, on: Option<Date>) -> bool {
        self.lots
            .iter()
            .any(|lot| lot.material == material && lot.left.grams().is_positive() && lot.is_usable(on).unwrap_or(true))
    }

    /// True if some lot is of that raw material.
    pub(super) fn names(&self, material: &str) -> bool {
        self.lots.iter().any(|lot| lot.material == material)
    }
}
