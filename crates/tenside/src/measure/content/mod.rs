//! What a measure can count. One content a file; each gives the weight of a constituent, or of a raw material as a
//! whole.

mod active;
mod attribute;
mod charge;
mod cost;
mod natural_origin;
mod score;
mod substance_sum;
mod water;

use std::sync::Arc;

pub use charge::Sign;
pub use score::ScoreTable;
pub(super) use substance_sum::ResolvedSum;
pub use substance_sum::{SubstanceSum, SumFactor, SumMember};

use crate::catalogue::PriceList;
use crate::document::fold;
use crate::error::Error;
use crate::material::{Constituent, Footing, Form, Held, Material};
use crate::number::{Exact, Ppm};
use crate::substance::{Attribute, Class, Substance};

/// What is counted, per unit of mass of the thing it is counted in.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Content {
    /// The mass itself.
    Mass,
    /// What counts as active, of one class or of all.
    Active(Option<Class>),
    /// Constituents of one class.
    Class(Class),
    /// One constituent, as an ingredient.
    Constituent(String),
    /// One substance, as an ingredient and contained in ingredients.
    Substance(String),
    /// Water listed as a constituent.
    Water,
    /// Water not listed as such.
    BoundWater,
    /// What stays on drying.
    Solids,
    /// Permanent charge of one sign.
    Charge(Sign),
    /// Amount of active substance.
    ActiveMoles,
    /// Price.
    Cost,
    /// Natural origin.
    NaturalOrigin,
    /// Raw materials with an attribute.
    Attribute(Attribute),
    /// Raw materials of a form.
    Form(Form),
    /// One raw material.
    Material(String),
    /// The nameless remainder.
    Unspecified,
    /// A user's score.
    Score(ScoreTable),
    /// Several substances, each by a factor.
    Sum(SubstanceSum),
}

/// What one unit of something brings, with the ends it can reach and what they rest on. An end that is not stated
/// stands for the furthest that is possible where such a bound is known, else for the typical value.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Weight {
    pub(crate) least: Exact,
    /// `None` if it is not known.
    pub(crate) typical: Option<Exact>,
    pub(crate) greatest: Exact,
    pub(crate) least_footing: Footing,
    pub(crate) greatest_footing: Footing,
}

impl Weight {
    pub(crate) fn certain(value: Exact) -> Self {
        Weight {
            least: value.clone(),
            typical: Some(value.clone()),
            greatest: value,
            least_footing: Footing::Stated,
            greatest_footing: Footing::Stated,
        }
    }

    pub(crate) fn counted(counts: bool) -> Self {
        Weight::certain(if counts { Exact::ONE } else { Exact::ZERO })
    }

    /// A typical value with its ends, as far as they are stated.
    fn between(low: Option<Exact>, typical: Exact, high: Option<Exact>) -> Self {
        let footing = |end: &Option<Exact>| if end.is_some() { Footing::Stated } else { Footing::NotStated };
        Weight {
            least_footing: footing(&low),
            greatest_footing: footing(&high),
            least: low.unwrap_or_else(|| typical.clone()),
            greatest: high.unwrap_or_else(|| typical.clone()),
            typical: Some(typical),
        }
    }

    pub(super) fn plus(self, other: Weight) -> Self {
        Weight {
            least: self.least + other.least,
            typical: self.typical.zip(other.typical).map(|(left, right)| left + right),
            greatest: self.greatest + other.greatest,
            least_footing: self.least_footing.min(other.least_footing),
            greatest_footing: self.greatest_footing.min(other.greatest_footing),
        }
    }

    /// So many times: with a factor below 0 the ends change places.
    pub(super) fn times(self, factor: &Exact) -> Self {
        if *factor == Exact::ONE {
            return self;
        }
        let (least, greatest) = (self.least * factor, self.greatest * factor);
        let typical = self.typical.map(|typical| typical * factor);
        if factor.is_negative() {
            let (least_footing, greatest_footing) = (self.greatest_footing, self.least_footing);
            return Weight { least: greatest, typical, greatest: least, least_footing, greatest_footing };
        }
        Weight { least, typical, greatest, ..self }
    }

    /// The greatest or, not `upwards`, the least, and what it rests on.
    pub(super) fn end(&self, upwards: bool) -> (&Exact, Footing) {
        if upwards { (&self.greatest, self.greatest_footing) } else { (&self.least, self.least_footing) }
    }

    /// True if it brings nothing, whatever the composition.
    pub(crate) fn is_nothing(&self) -> bool {
        self.least.is_zero() && self.greatest.is_zero() && self.typical.as_ref().is_some_and(Exact::is_zero)
    }

    pub(crate) fn is_typically_nothing(&self) -> bool {
        self.typical.as_ref().is_some_and(Exact::is_zero)
    }
}

impl From<Held> for Weight {
    fn from(held: Held) -> Self {
        Weight {
            least: held.least.share(),
            typical: held.typical.map(Ppm::share),
            greatest: held.greatest.share(),
            least_footing: held.least_footing,
            greatest_footing: held.greatest_footing,
        }
    }
}

pub(super) fn names_water(name: &str) -> bool {
    matches!(fold(name).as_str(), "water" | "aqua")
}

impl Content {
    /// The weight of a raw material as a whole, for contents that do not look into the composition.
    pub(crate) fn of_material(&self, material: &Material, prices: Option<&PriceList>) -> Option<Result<Exact, Error>> {
        let counted = |counts: bool| Some(Ok(if counts { Exact::ONE } else { Exact::ZERO }));
        match self {
            Content::Mass => counted(true),
            Content::Cost => cost::price(material, prices),
            Content::Form(form) => counted(material.form() == *form),
            Content::Material(id) => Some(Ok(material.share_of_material(id))),
            Content::Attribute(attribute) => Some(attribute::share(*attribute, material)),
            Content::Score(table) => Some(table.weight(material)),
            Content::BoundWater => water::bound(material),
            Content::NaturalOrigin => natural_origin::stated(material),
            _ => None,
        }
    }

    /// The weight of one constituent, of contents without names.
    pub(super) fn of_constituent(&self, leaf: &Material, row: &Constituent) -> Result<Weight, Error> {
        let substance: &Arc<Substance> = row.substance();
        match self {
            Content::Active(class) => Ok(active::weight(*class, substance)),
            Content::ActiveMoles => active::moles(leaf, row),
            Content::Class(class) => Ok(Weight::counted(substance.class() == *class)),
            Content::Water => Ok(Weight::counted(substance.is_water())),
            Content::Solids => Ok(Weight::counted(water::stays(substance))),
            Content::Charge(sign) => charge::weight(*sign, leaf, row),
            Content::NaturalOrigin => natural_origin::weight(leaf, substance),
            Content::Unspecified => Ok(Weight::counted(substance.is_unspecified())),
            // Whole raw materials, and what is looked up first.
            _ => Ok(Weight::certain(Exact::ZERO)),
        }
    }

    /// The weight of water, for what drying leaves. `None` where drying has no meaning for the content.
    pub(crate) fn of_water(&self) -> Option<Exact> {
        match self {
            Content::Mass | Content::Water => Some(Exact::ONE),
            Content::Class(Class::Water) => Some(Exact::ONE),
            Content::Constituent(name) | Content::Substance(name) if names_water(name) => Some(Exact::ONE),
            Content::Sum(sum) => Some(sum.of_water()),
            Content::NaturalOrigin | Content::BoundWater => None,
            _ => Some(Exact::ZERO),
        }
    }

    /// True for contents of whole raw materials, which drying does not change: cost, form, attribute, score, the
    /// material itself.
    pub(crate) fn ignores_drying(&self) -> bool {
        matches!(
            self,
            Content::Cost | Content::Form(_) | Content::Material(_) | Content::Attribute(_) | Content::Score(_)
        )
    }

    /// True if it might leave something out of the count that belongs there.
    pub(crate) fn leaves_out(&self) -> bool {
        matches!(self, Content::Charge(_) | Content::Active(_) | Content::NaturalOrigin | Content::ActiveMoles)
    }

    /// What is left out of the count although it might belong there, for the notes of a reading.
    pub(crate) fn not_counted(&self, substance: &Substance) -> Option<&'static str> {
        match self {
            Content::Charge(_) => charge::not_counted(substance),
            Content::Active(_) | Content::NaturalOrigin | Content::ActiveMoles if substance.is_unspecified() => {
                Some("the unspecified remainder is not counted")
            }
            Content::Active(None | Some(Class::AnionicSurfactant)) | Content::ActiveMoles
                if substance.class() == Class::Soap =>
            {
                Some("soap is not counted; active matter with soap counts it")
            }
            _ => None,
        }
    }

    /// The stable name in documents, without its argument.
    #[must_use]
    pub fn slug(&self) -> &'static str {
        match self {
            Content::Mass => "as-supplied",
            Content::Active(None) => "active-matter",
            Content::Active(Some(Class::AnionicSurfactant)) => "anionic-active",
            Content::Active(Some(Class::AmphotericSurfactant)) => "amphoteric-active",
            Content::Active(Some(Class::NonionicSurfactant)) => "nonionic-active",
            Content::Active(Some(_)) => "active-of-class",
            Content::Class(_) => "class",
            Content::Constituent(_) => "constituent",
            Content::Substance(_) => "substance",
            Content::Water => "water",
            Content::BoundWater => "bound-water",
            Content::Solids => "solids",
            Content::Charge(Sign::Negative) => "anionic-charge",
            Content::Charge(Sign::Positive) => "cationic-charge",
            Content::ActiveMoles => "active-moles",
            Content::Cost => "cost",
            Content::NaturalOrigin => "natural-origin",
            Content::Attribute(_) => "attribute",
            Content::Form(_) => "form",
            Content::Material(_) => "material",
            Content::Unspecified => "unspecified",
            Content::Score(_) => "score",
            Content::Sum(_) => "substance-sum",
        }
    }

    /// The argument in documents.
    #[must_use]
    pub fn argument(&self) -> Option<String> {
        match self {
            Content::Active(Some(
                Class::AnionicSurfactant | Class::AmphotericSurfactant | Class::NonionicSurfactant,
            )) => None,
            Content::Active(Some(class)) | Content::Class(class) => Some(class.to_string()),
            Content::Constituent(name) | Content::Substance(name) | Content::Material(name) => Some(name.clone()),
            Content::Attribute(attribute) => Some(attribute.to_string()),
            Content::Form(form) => Some(form.to_string()),
            Content::Score(table) => Some(table.name().to_string()),
            Content::Sum(sum) => Some(sum.name().to_string()),
            _ => None,
        }
    }

    /// What it is called in tables and messages.
    #[must_use]
    pub fn name(&self) -> String {
        let plain = self.slug().replace('-', " ");
        match self {
            Content::Active(Some(class)) if self.argument().is_some() => format!("active matter of class {class}"),
            Content::Mass => "raw material as supplied".to_string(),
            Content::Class(Class::CationicSurfactant) => "cationic surfactant".to_string(),
            Content::Class(class) => format!("class {class}"),
            Content::Constituent(name) => name.clone(),
            Content::Substance(name) => format!("{name}, contained included"),
            Content::Attribute(attribute) => format!("raw materials with attribute {attribute}"),
            Content::Form(form) => format!("raw materials in form {form}"),
            Content::Material(id) => format!("raw material {id}"),
            Content::Score(table) => format!("score {}", table.name()),
            Content::Sum(sum) => sum.name().to_string(),
            _ => plain,
        }
    }

    /// True where the weight is a share of mass, shown in percent.
    #[must_use]
    pub fn is_share(&self) -> bool {
        !matches!(self, Content::Cost | Content::Charge(_) | Content::ActiveMoles | Content::Score(_))
    }

    pub(crate) fn unit(&self, currency: Option<&str>) -> String {
        if self.is_share() { "%".to_string() } else { self.weight_unit(currency) }
    }

    pub(crate) fn weight_unit(&self, currency: Option<&str>) -> String {
        match self {
            Content::Cost => format!("{} per kg", currency.unwrap_or("currency")),
            Content::Charge(_) => "mmol/g".to_string(),
            Content::ActiveMoles => "mmol/g".to_string(),
            Content::Score(_) => "score".to_string(),
            _ => "kg".to_string(),
        }
    }
}
