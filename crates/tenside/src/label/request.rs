//! What a label is asked for.

use super::{Contact, Market, NetQuantity, Placing, ScentDeclaration, ScentNames};
use crate::bounds::Quantity;
use crate::document::check_name;
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Date, Exact, ToExact};

/// The market and date of a label, and what the maker states beside the formula. Values are immutable; a change gives a
/// new one.
///
/// ```
/// use tenside::label::{Contact, LabelRequest, Market, Placing};
/// let asked = LabelRequest::new(Market::Eu, "2026-11-24".parse()?).with_contact(Contact::RinseOff).with_placing(Placing::Placed);
/// assert_eq!(asked.market(), Market::Eu);
/// assert!(LabelRequest::new(Market::Us, "2026-11-24".parse()?).as_nano("CI 77891").is_err());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct LabelRequest {
    pub(super) market: Market,
    pub(super) on: Date,
    pub(super) placing: Placing,
    pub(super) contact: Contact,
    pub(super) scent: ScentNames,
    pub(super) flavour: bool,
    pub(super) naked: bool,
    pub(super) net: Option<NetQuantity>,
    pub(super) moisture: Option<Exact>,
    pub(super) nano: Vec<String>,
    pub(super) declarations: Vec<ScentDeclaration>,
}

getters!(LabelRequest {
    /// The market.
    market: Market,
    /// The date.
    on: Date,
    /// What happens on the date.
    placing: Placing,
    /// Rinsed off or left on.
    contact: Contact,
});

impl LabelRequest {
    /// For a rinse-off product placed on that market on that day, oils and scent compounds together as the scent.
    #[must_use]
    pub fn new(market: Market, on: Date) -> Self {
        LabelRequest {
            market,
            on,
            placing: Placing::Placed,
            contact: Contact::RinseOff,
            scent: ScentNames::Together,
            flavour: false,
            naked: false,
            net: None,
            moisture: None,
            nano: Vec::new(),
            declarations: Vec::new(),
        }
    }

    /// What happens on the date.
    #[must_use]
    pub fn with_placing(mut self, placing: Placing) -> Self {
        self.placing = placing;
        self
    }

    /// Rinsed off or left on.
    #[must_use]
    pub fn with_contact(mut self, contact: Contact) -> Self {
        self.contact = contact;
        self
    }

    /// Oils and scent compounds each by name, or together as the scent.
    #[must_use]
    pub fn with_scent_names(mut self, scent: ScentNames) -> Self {
        self.scent = scent;
        self
    }

    /// The scent is a flavour, in a product for the mouth.
    #[must_use]
    pub fn as_flavour(mut self, flavour: bool) -> Self {
        self.flavour = flavour;
        self
    }

    /// Sold without packaging.
    #[must_use]
    pub fn sold_naked(mut self, naked: bool) -> Self {
        self.naked = naked;
        self
    }

    /// With the net content that the label states.
    ///
    /// # Errors
    /// A content of nothing.
    pub fn with_net(mut self, net: NetQuantity) -> Result<Self, Error> {
        if net.metric().is_zero() {
            let fault = Fault::new(FaultKind::OutOfRange, "a net content of 0").at("net");
            return Err(fault.allowed(format!("more than {net}")).value(net).into());
        }
        self.net = Some(net);
        Ok(self)
    }

    /// True where the net content is a volume.
    pub(super) fn is_liquid(&self) -> bool {
        self.net.as_ref().is_some_and(|net| net.mass().is_none())
    }

    /// With the residual moisture as sold, percent of the finished product: scent constituents are judged in that
    /// product, and the order in it is compared with the order as charged.
    ///
    /// # Errors
    /// A moisture outside its range.
    pub fn with_moisture(mut self, moisture: impl ToExact) -> Result<Self, Error> {
        let moisture = Quantity::Moisture.exact(moisture)?;
        self.moisture = Some(moisture);
        Ok(self)
    }

    /// With an ingredient that is present as a nanomaterial.
    ///
    /// # Errors
    /// A bad name, and a market whose list does not mark nanomaterials.
    pub fn as_nano(mut self, inci: &str) -> Result<Self, Error> {
        if self.market != Market::Eu {
            return Err(Fault::new(FaultKind::Unsupported, "the list of this market marks no nanomaterials")
                .at("nano")
                .value(self.market)
                .into());
        }
        self.nano.push(check_name(inci)?);
        Ok(self)
    }

    /// With a supplier's declaration of scent constituents.
    ///
    /// # Errors
    /// A second declaration for the same raw material.
    pub fn with_declaration(mut self, declaration: ScentDeclaration) -> Result<Self, Error> {
        if self.declarations.iter().any(|known| known.material() == declaration.material()) {
            return Err(Fault::new(FaultKind::Duplicate, "two declarations for one raw material")
                .value(format!("{:?}", declaration.material()))
                .into());
        }
        self.declarations.push(declaration);
        Ok(self)
    }
}
