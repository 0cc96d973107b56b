//! A price list: the user's own, never part of the catalogue.

use std::collections::HashSet;
use std::sync::Arc;

use indexmap::IndexMap;
use rust_decimal::Decimal;

use super::Catalogue;
use crate::bounds::Quantity;
use crate::document::check_name;
use crate::error::{Error, Fault, FaultKind};
use crate::material::Material;
use crate::number::ToExact;

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
