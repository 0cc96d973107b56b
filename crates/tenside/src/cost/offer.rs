//! What suppliers offer: packs with price breaks, freight, tax, each supplier in a currency.

use crate::bounds::Quantity;
use crate::catalogue::{Catalogue, PriceList};
use crate::document::check_name;
use crate::error::{Error, Fault, FaultKind};
use crate::number::ToExact;
use crate::number::{Exact, HalfWay, Mass, MassUnit};

/// Decimal places of the prices per kilogram in a price list.
const PRICE_PLACES: u32 = 6;

pub(super) fn counted(count: usize) -> Exact {
    Exact::from(u32::try_from(count).unwrap_or(u32::MAX))
}

/// An amount of money inside its range.
pub(super) fn amount(value: impl ToExact, what: &str) -> Result<Exact, Error> {
    let value = value.to_exact().map_err(|error| error.within(what))?;
    Quantity::Amount.check(&value).map_err(|error| error.within(what))?;
    Ok(value)
}

/// A pack of a raw material as it is offered.
///
/// ```
/// use tenside::cost::Pack;
/// let pack = Pack::new("sci-powder", "1 kg".parse()?, 9)?.with_break(5, "8.10")?;
/// assert_eq!((pack.price_of(4)?.to_string(), pack.price_of(5)?.to_string()), ("36".to_string(), "40.5".to_string()));
/// assert!(pack.with_break(10, "8.50").unwrap_err().is_contradiction()); // more of them, and dearer
/// assert!(Pack::new("sci-powder", "0 g".parse()?, 9).is_err());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pack {
    material: String,
    size: Mass,
    /// From how many packs on one costs how much; the first from one on.
    steps: Vec<(u32, Exact)>,
}

getters!(Pack {
    /// The raw material.
    material: &str,
    /// What is in it.
    size: &Mass,
    /// From how many packs on one costs how much, without tax; the first from one on.
    steps: &[(u32, Exact)],
});

impl Pack {
    /// So much of a raw material, by its id or another name of it, at a price for the pack without tax.
    ///
    /// # Errors
    /// A bad name, a pack of nothing, a negative price.
    pub fn new(material: &str, size: Mass, price: impl ToExact) -> Result<Self, Error> {
        let material = check_name(material)?;
        let place = format!("pack of {material:?}");
        if size.grams().is_zero() {
            let fault = Fault::new(FaultKind::OutOfRange, "a pack holds nothing")
                .at(place)
                .value("0 g")
                .allowed("above 0 g, to a hundred tonnes");
            return Err(fault.remedy("state what is in the pack").into());
        }
        let price = amount(price, &place)?;
        Ok(Pack { material, size, steps: vec![(1, price)] })
    }

    /// With a price break: from so many packs on, each of them costs this.
    ///
    /// # Errors
    /// A break below two packs, one that stands twice, and one from which on a pack is no cheaper than before.
    pub fn with_break(mut self, from: u32, price: impl ToExact) -> Result<Self, Error> {
        let place = format!("pack of {:?}", self.material);
        Quantity::Packs.check(&Exact::from(from)).map_err(|error| error.within(&place))?;
        let price = amount(price, &place)?;
        let at = self.steps.partition_point(|(known, _)| *known < from);
        if self.steps.get(at).is_some_and(|(known, _)| *known == from) {
            let remedy = "a break begins at two packs or more, and each number of packs has one price";
            return Err(Fault::new(FaultKind::Duplicate, "there is a price from so many packs on already")
                .at(place)
                .value(from)
                .remedy(remedy)
                .into());
        }
        self.steps.insert(at, (from, price));
        let dearer = self.steps.iter().zip(&self.steps[1..]).find(|((_, before), (_, after))| after >= before);
        if let Some(((before, dear), (after, cheap))) = dearer {
            let fault = Fault::new(FaultKind::Contradiction, "a price break makes the pack no cheaper").at(place);
            return Err(fault
                .value(format!("{dear} from {before}, {cheap} from {after}"))
                .remedy("state the price of one pack, not of all of them")
                .into());
        }
        Ok(self)
    }

    /// What one of so many packs costs, without tax.
    pub(super) fn price_each(&self, packs: u32) -> &Exact {
        let step = self.steps.iter().rev().find(|(from, _)| *from <= packs);
        &step.unwrap_or(&self.steps[0]).1
    }

    /// What so many packs cost together, without tax.
    ///
    /// # Errors
    /// No packs, and more than a million.
    pub fn price_of(&self, packs: u32) -> Result<Exact, Error> {
        Quantity::Packs.check(&Exact::from(packs))?;
        Ok(self.price_each(packs) * Exact::from(packs))
    }
}

/// A supplier with the packs and terms on offer. Values are immutable; a change gives a new one.
///
/// ```
/// use tenside::cost::{Pack, Supplier};
/// let depot = Supplier::new("Depot North", "EUR")?.with_freight("8.90")?.free_from(150)?.with_tax(19)?;
/// assert_eq!(depot.freight_of(149)?.to_string(), "8.9");
/// assert!(depot.freight_of(150)?.is_zero());
/// assert!(depot.with_freight(-1).unwrap_err().is_out_of_range());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Supplier {
    name: String,
    currency: String,
    packs: Vec<Pack>,
    freight: Option<Exact>,
    free_from: Option<Exact>,
    tax: Option<Exact>,
}

getters!(Supplier {
    /// The name.
    name: &str,
    /// The currency of the invoice.
    currency: &str,
    /// The packs.
    packs: &[Pack],
    /// The freight of an order, if stated.
    freight: Option<&Exact>,
    /// The tax in percent, if stated.
    tax: Option<&Exact>,
});

impl Supplier {
    /// A supplier who invoices in a currency.
    ///
    /// # Errors
    /// A bad name.
    pub fn new(name: &str, currency: &str) -> Result<Self, Error> {
        Ok(Supplier {
            name: check_name(name)?,
            currency: check_name(currency)?,
            packs: Vec::new(),
            freight: None,
            free_from: None,
            tax: None,
        })
    }

    /// With a pack.
    ///
    /// # Errors
    /// A pack of the same raw material and size, and more than a thousand packs.
    pub fn with_pack(mut self, pack: Pack) -> Result<Self, Error> {
        self.add(pack)?;
        Ok(self)
    }

    fn add(&mut self, pack: Pack) -> Result<(), Error> {
        Quantity::PackSizes.check(&counted(self.packs.len() + 1)).map_err(|error| error.within(&self.place()))?;
        if self.packs.iter().any(|known| known.material == pack.material && known.size == pack.size) {
            let value = format!("{} of {:?}", pack.size, pack.material);
            let fault = Fault::new(FaultKind::Duplicate, "a pack stands twice").at(self.place()).value(value);
            return Err(fault.remedy("give what several packs cost as a price break").into());
        }
        self.packs.push(pack);
        Ok(())
    }

    /// With the freight of an order, whatever is in it. 0 is a statement too: nothing stated counts as none and is
    /// said.
    ///
    /// # Errors
    /// A negative amount.
    pub fn with_freight(mut self, freight: impl ToExact) -> Result<Self, Error> {
        self.freight = Some(amount(freight, &format!("{}, freight", self.place()))?);
        Ok(self)
    }

    /// With the value of goods, before tax, from which on there is no freight.
    ///
    /// # Errors
    /// A negative amount.
    pub fn free_from(mut self, goods: impl ToExact) -> Result<Self, Error> {
        self.free_from = Some(amount(goods, &format!("{}, free of freight", self.place()))?);
        Ok(self)
    }

    /// With the tax on goods and freight, percent. Whoever gets it back states 0.
    ///
    /// # Errors
    /// A percentage outside 0 to 100.
    pub fn with_tax(mut self, percent: impl ToExact) -> Result<Self, Error> {
        let percent = percent.to_exact()?;
        Quantity::Tax.check(&percent).map_err(|error| error.within(&self.place()))?;
        self.tax = Some(percent);
        Ok(self)
    }

    fn place(&self) -> String {
        format!("supplier {:?}", self.name)
    }

    /// The value of goods from which on there is no freight, if stated.
    #[must_use]
    pub fn free_of_freight_from(&self) -> Option<&Exact> {
        self.free_from.as_ref()
    }

    /// The freight, before tax, of an order of goods of this value; 0 where none is stated.
    ///
    /// # Errors
    /// What is no number, and an amount out of range.
    pub fn freight_of(&self, goods: impl ToExact) -> Result<Exact, Error> {
        Ok(self.freight_on(&amount(goods, "goods")?))
    }

    pub(super) fn freight_on(&self, goods: &Exact) -> Exact {
        match (&self.freight, &self.free_from) {
            (Some(_), Some(from)) if goods >= from => Exact::ZERO,
            (freight, _) => freight.clone().unwrap_or_default(),
        }
    }

    /// What an amount is with tax.
    pub(super) fn with_tax_on(&self, net: &Exact) -> Exact {
        net + net * self.tax.as_ref().unwrap_or(&Exact::ZERO) / Exact::hundred()
    }
}

/// One price of a pack, in the currency of the offers.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct PackPrice {
    /// The supplier.
    pub supplier: String,
    /// The raw material.
    pub material: String,
    /// What is in the pack.
    pub size: Mass,
    /// From how many packs on it holds.
    pub from: u32,
    /// What one pack costs, before tax.
    pub price: Exact,
    /// What a kilogram costs, with the supplier's tax.
    pub per_kilogram: Exact,
}

/// What is on offer, all counted in one currency. Values are immutable; a change gives a new one.
///
/// ```
/// use tenside::cost::{Offers, Supplier};
/// let abroad = Supplier::new("Depot West", "USD")?;
/// let error = Offers::new("EUR")?.with_supplier(abroad.clone()).unwrap_err();
/// assert!(error.to_string().contains("state what one USD is in EUR"));
/// assert!(Offers::new("EUR")?.with_rate("USD", "0.92")?.with_supplier(abroad).is_ok());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Offers {
    currency: String,
    rates: Vec<(String, Exact)>,
    suppliers: Vec<Supplier>,
}

getters!(Offers {
    /// The currency that offers are compared in.
    currency: &str,
    /// What one unit of another currency is in this one.
    rates: &[(String, Exact)],
    /// The suppliers.
    suppliers: &[Supplier],
});

impl Offers {
    /// Offers that are compared in a currency.
    ///
    /// # Errors
    /// A bad name.
    pub fn new(currency: &str) -> Result<Self, Error> {
        Ok(Offers { currency: check_name(currency)?, rates: Vec::new(), suppliers: Vec::new() })
    }

    /// With what one unit of another currency is in this one.
    ///
    /// # Errors
    /// A rate of 0 or less, the currency itself, and a currency that has a rate.
    pub fn with_rate(mut self, currency: &str, rate: impl ToExact) -> Result<Self, Error> {
        let (currency, rate) = (check_name(currency)?, rate.to_exact()?);
        let place = format!("rate of {currency}");
        Quantity::ExchangeRate.check(&rate).map_err(|error| error.within(&place))?;
        if rate.is_zero() {
            return Err(Fault::new(FaultKind::OutOfRange, "a currency is worth nothing")
                .at(place)
                .value(0)
                .allowed("above 0")
                .into());
        }
        Quantity::Rates.check(&counted(self.rates.len() + 1))?;
        if currency == self.currency || self.rates.iter().any(|(known, _)| *known == currency) {
            return Err(Fault::new(FaultKind::Duplicate, "the currency has a rate already")
                .at(place)
                .value(&rate)
                .into());
        }
        self.rates.push((currency, rate));
        Ok(self)
    }

    /// With a supplier.
    ///
    /// # Errors
    /// A supplier of the same name, a currency without a rate, and more than 64 suppliers.
    pub fn with_supplier(mut self, supplier: Supplier) -> Result<Self, Error> {
        if Quantity::Suppliers.check(&counted(self.suppliers.len() + 1)).is_err() {
            return Err(Quantity::Suppliers
                .fault(self.suppliers.len() + 1)
                .remedy("leave out those who are never the cheapest")
                .into());
        }
        if self.suppliers.iter().any(|known| known.name == supplier.name) {
            return Err(Fault::new(FaultKind::Duplicate, "two suppliers have the same name")
                .value(format!("{:?}", supplier.name))
                .into());
        }
        if self.rate_of(&supplier).is_none() {
            return Err(Fault::new(FaultKind::Contradiction, "two currencies are mixed")
                .at(supplier.place())
                .value(&supplier.currency)
                .allowed(&self.currency)
                .remedy(
                    format!("state what one {} is in {} first", supplier.currency, self.currency).replace(" first", ""),
                )
                .into());
        }
        self.suppliers.push(supplier);
        Ok(self)
    }

    fn rate_of(&self, supplier: &Supplier) -> Option<Exact> {
        if supplier.currency == self.currency {
            return Some(Exact::ONE);
        }
        self.rates.iter().find(|(known, _)| *known == supplier.currency).map(|(_, rate)| rate.clone())
    }

    /// The same under the ids of a catalogue: other names of its raw materials are looked up.
    ///
    /// # Errors
    /// Every unknown and ambiguous name, and packs that are the same under one id.
    pub fn with_ids_of(&self, catalogue: &Catalogue) -> Result<Self, Error> {
        let (mut faults, mut offers) = (Vec::new(), Offers { suppliers: Vec::new(), ..self.clone() });
        for supplier in &self.suppliers {
            let mut named = Supplier { packs: Vec::new(), ..supplier.clone() };
            for pack in &supplier.packs {
                let known = catalogue.material(&pack.material).map_err(|error| error.within(&supplier.place()));
                if let Err(error) =
                    known.and_then(|material| named.add(Pack { material: material.id().to_string(), ..pack.clone() }))
                {
                    faults.extend(error.into_faults());
                }
            }
            offers.suppliers.push(named);
        }
        Error::check(faults, offers)
    }

    /// What an amount of a supplier's invoice is in the currency of the offers.
    pub(super) fn converted(&self, supplier: &Supplier, amount: &Exact) -> Exact {
        // A supplier without a rate is not let in.
        amount * self.rate_of(supplier).unwrap_or(Exact::ONE)
    }

    /// Every price of every pack, in the currency of the offers.
    #[must_use]
    pub fn packs(&self) -> Vec<PackPrice> {
        let of_pack = |supplier: &Supplier, pack: &Pack| -> Vec<PackPrice> {
            let priced = |(from, price): &(u32, Exact)| {
                let price = self.converted(supplier, price);
                PackPrice {
                    supplier: supplier.name.clone(),
                    material: pack.material.clone(),
                    size: pack.size.clone(),
                    from: *from,
                    per_kilogram: supplier.with_tax_on(&price) / pack.size.in_unit(MassUnit::Kilogram),
                    price,
                }
            };
            pack.steps.iter().map(priced).collect()
        };
        self.suppliers
            .iter()
            .flat_map(|supplier| supplier.packs.iter().flat_map(move |pack| of_pack(supplier, pack)))
            .collect()
    }

    /// The price list that a brief or formula takes: of each raw material the lowest price per kilogram at which a
    /// single pack is to be had, with the supplier's tax, without freight. Prices are rounded to the sixth decimal
    /// place; [`Offers::packs`] has them exact.
    ///
    /// # Errors
    /// A price per kilogram outside its range.
    pub fn price_list(&self) -> Result<PriceList, Error> {
        let mut least: Vec<(String, Exact)> = Vec::new();
        for pack in self.packs().into_iter().filter(|pack| pack.from == 1) {
            match least.iter_mut().find(|(material, _)| *material == pack.material) {
                Some((_, price)) => *price = pack.per_kilogram.min(price.clone()),
                None => least.push((pack.material, pack.per_kilogram)),
            }
        }
        price_list(&self.currency, least)
    }
}

/// Exact prices per kilogram as a price list, rounded to the sixth decimal place.
pub(super) fn price_list(currency: &str, prices: Vec<(String, Exact)>) -> Result<PriceList, Error> {
    let step = Exact::ratio(1, 10_i64.pow(PRICE_PLACES));
    let decimals = prices.into_iter().map(|(material, price)| {
        Quantity::Price.check(&price).map_err(|error| error.within(&format!("price of {material:?}")))?;
        // Of so few digits before and behind the point every number is a decimal.
        Ok((material, price.rounded_to(&step, HalfWay::ToEven).to_decimal().unwrap_or_default()))
    });
    PriceList::new(currency, decimals.collect::<Result<Vec<_>, Error>>()?)
}
