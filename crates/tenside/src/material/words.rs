//! The closed lists and small records of a raw material.

use rust_decimal::Decimal;

use crate::document::named_enum;
use crate::number::Ppm;

named_enum! {
    /// How a raw material looks and handles.
    Form "form" {
        /// Powder.
        Powder = "powder",
        /// Needles.
        Needles = "needles",
        /// Flakes.
        Flakes = "flakes",
        /// Granules, beads, noodles.
        Granules = "granules",
        /// Paste.
        Paste = "paste",
        /// Watery liquid.
        Liquid = "liquid",
        /// Oil.
        Oil = "oil",
        /// Solid that is melted to be worked: pastilles of fatty alcohol, butters, waxes.
        MeltableSolid = "meltable-solid",
    }
}

impl Form {
    /// The phase such a material usually goes to (common practice, no source).
    #[must_use]
    pub fn usual_phase(self) -> &'static str {
        match self {
            Form::Powder | Form::Needles | Form::Flakes | Form::Granules => "powder",
            Form::Paste | Form::Liquid => "liquid",
            Form::Oil | Form::MeltableSolid => "melted",
        }
    }
}

named_enum! {
    /// A caution for whoever handles the material.
    Caution "caution" {
        /// Dust that must not be breathed in.
        InhalableDust = "inhalable-dust",
        /// Damages eyes.
        EyeDamage = "eye-damage",
        /// Corrosive to skin.
        Corrosive = "corrosive",
        /// Flammable.
        Flammable = "flammable",
        /// Can sensitise.
        Sensitising = "sensitising",
        /// Spoils or evaporates with heat.
        HeatSensitive = "heat-sensitive",
    }
}

impl Caution {
    /// What to do about it (usual workshop practice, no source); the safety data sheet rules.
    #[must_use]
    pub fn advice(self) -> &'static str {
        match self {
            Caution::InhalableDust => "wear a suitable respirator for surfactant dust, weigh it slowly under extraction, let the dust settle",
            Caution::EyeDamage => "wear tight-fitting eye protection; have an eye-wash within reach",
            Caution::Corrosive => "wear gloves and eye protection; add it to water, never water to it",
            Caution::Flammable => "keep away from flames and hot plates; ventilate",
            Caution::Sensitising => "wear gloves; do not breathe in vapour or mist",
            Caution::HeatSensitive => "add it at the lowest workable temperature, when the mass has cooled",
        }
    }
}

named_enum! {
    /// What a figure of active matter rests on.
    ActiveConvention "active convention" {
        /// Titrated: two-phase or potentiometric titration of the surface-active ion.
        Titrated = "titrated",
        /// Solids less salt, as is usual for betaines.
        SolidsLessSalt = "solids less salt",
        /// Assay of the compound.
        Assay = "assay",
        /// A hundred less everything else.
        ByDifference = "by difference",
    }
}

/// A pH range with its source.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct PhRange {
    /// Lowest pH.
    pub low: Decimal,
    /// Highest pH.
    pub high: Decimal,
    /// Who says so.
    pub source: String,
}

/// A recommended use level, percent of the product as supplied.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct UseLevel {
    /// The product use it applies to: `shampoo-bar`, `rinse-off`.
    pub product_use: String,
    /// Lowest recommended percentage.
    pub low: Ppm,
    /// Highest recommended percentage.
    pub high: Ppm,
    /// Who says so.
    pub source: String,
}
