//! A price list: the user's own, never part of the catalogue.

use std::collections::HashSet;
use std::sync::Arc;

use indexmap::IndexMap;
use rust_decimal::Decimal;

use super::Catalogue;
use super::kind::same_kind;
use crate::bounds::Quantity;
use crate::document::{check_name, nearest};
use crate::error::{Error, Fault, FaultKind};
use crate::material::Material;
use crate::number::{Exact, ToExact};

/// So many unknown names are told at once: for each the nearest known one is looked for.
const MOST_UNKNOWN: usize = 100;

/// Prices per kilogram as supplied, by material id, in one currency.
///
/// ```
/// use rust_decimal::Decimal;
/// use tenside::catalogue::PriceList;
/// let prices = PriceList::new("EUR", [("kaolin", 1.8)])?;
/// assert_eq!(prices.get("kaolin"), Some(Decimal::new(18, 1)));
/// assert_eq!(prices.get("rhassoul"), None);
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PriceList {
    currency: String,
    prices: IndexMap<String, Decimal>,
}

impl PriceList {
    /// Prices per kilogram in a currency.
    ///
    /// # Errors
    /// A bad currency name, prices out of range, a material priced twice.
    pub fn new<N: AsRef<str>, P: ToExact>(
        currency: &str,
        prices: impl IntoIterator<Item = (N, P)>,
    ) -> Result<Self, Error> {
        let mut list = PriceList { currency: check_name(currency)?, prices: IndexMap::new() };
        for (id, price) in prices {
            let id = id.as_ref();
            let price = Quantity::Price.decimal(price).map_err(|error| error.within(&format!("price of {id:?}")))?;
            if list.prices.insert(id.to_string(), price).is_some() {
                return Err(Fault::new(FaultKind::Duplicate, "a material is priced twice")
                    .value(format!("{id:?}"))
                    .into());
            }
        }
        Ok(list)
    }

    /// The list under the ids of a catalogue: other names of its raw materials are looked up, and a name that neither
    /// it knows nor one of `materials` (or a part of one) has is refused.
    ///
    /// ```
    /// use rust_decimal::Decimal;
    /// use tenside::catalogue::{Catalogue, PriceList};
    /// let prices = |name: &str| PriceList::new("EUR", [(name, 1)]);
    /// let known = prices("SCI powder")?.with_ids_of(&Catalogue::starter(), [])?;
    /// assert_eq!(known.get("sci-powder"), Some(Decimal::ONE));
    /// let error = prices("kaoline")?.with_ids_of(&Catalogue::starter(), []).unwrap_err();
    /// assert!(error.to_string().contains("did you mean \"kaolin\"?"));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// Unknown and ambiguous names, up to a hundred at once, and a raw material that is priced under two of its names.
    pub fn with_ids_of<'m>(
        &self,
        catalogue: &Catalogue,
        materials: impl IntoIterator<Item = &'m Arc<Material>>,
    ) -> Result<Self, Error> {
        let own: HashSet<&str> = materials
            .into_iter()
            .flat_map(|material| {
                std::iter::once(material.id()).chain(material.leaves().into_iter().map(|(leaf, _)| leaf.id()))
            })
            .collect();
        let (mut found, mut faults) = (Vec::new(), Vec::new());
        for (name, price) in &self.prices {
            if faults.len() >= MOST_UNKNOWN {
                faults.push(Fault::new(FaultKind::UnknownName, "further prices are not looked at").at("prices"));
                break;
            }
            match catalogue.material(name) {
                _ if own.contains(name.as_str()) => found.push((name.clone(), *price)),
                Ok(material) => found.push((material.id().to_string(), *price)),
                Err(error) => faults.extend(error.within("prices").into_faults()),
            }
        }
        Error::check(faults, ())?;
        PriceList::new(&self.currency, found)
    }

    /// The currency.
    #[must_use]
    pub fn currency(&self) -> &str {
        &self.currency
    }

    /// What a kilogram of a raw material costs: its own price, or for a premix without one what its parts come to, of
    /// which each then needs one.
    ///
    /// ```
    /// use std::sync::Arc;
    /// use tenside::catalogue::{Catalogue, PriceList};
    /// use tenside::material::{Composition, Form, Material};
    /// use tenside::number::Ppm;
    /// let shelf = Catalogue::starter();
    /// let part = |id: &str, percent: i32| Ok::<_, tenside::Error>((Arc::clone(shelf.material(id)?), Ppm::from_percent(percent)?));
    /// let parts = Composition::premix(vec![part("kaolin", 75)?, part("corn-starch", 25)?])?;
    /// let powders = Material::new("powders", "Powders", Form::Powder, parts)?;
    /// let prices = PriceList::new("EUR", [("kaolin", 2), ("corn-starch", 4)])?;
    /// assert_eq!(prices.price_of(&powders)?.to_string(), "2.5");
    /// assert!(PriceList::new("EUR", [("kaolin", 2)])?.price_of(&powders).unwrap_err().is_not_known());
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A raw material, or a part of a premix, that has no price.
    pub fn price_of(&self, material: &Material) -> Result<Exact, Error> {
        let stated = |material: &Material| self.get(material.id()).map(Exact::from);
        let missing = |material: &Material| {
            let others = self.iter().map(|(id, _)| id).filter(|id| *id != material.id());
            let remedy = nearest(material.id(), same_kind(material.id(), others)).map_or_else(
                || "add a price per kg".to_string(),
                |alike| format!("add a price per kg; {alike:?} has one: is this material meant?"),
            );
            Fault::new(FaultKind::NotKnown, "the price list has no price for it")
                .value(format!("{:?}", material.id()))
                .remedy(remedy)
                .into()
        };
        material.stated_or_of_parts(stated, missing)
    }

    /// Price per kilogram, if the material is priced.
    #[must_use]
    pub fn get(&self, material: &str) -> Option<Decimal> {
        self.prices.get(material).copied()
    }

    /// Every price, in the order given.
    pub fn iter(&self) -> impl Iterator<Item = (&str, Decimal)> {
        self.prices.iter().map(|(id, price)| (id.as_str(), *price))
    }
}
