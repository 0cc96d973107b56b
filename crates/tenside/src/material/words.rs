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
    /// A caution for whoever handles the material. The H-phrases are those of the Globally Harmonized System that lead
    /// to it.
    Caution "caution" {
        /// Dust that irritates or sensitises the airways: of surfactants, acids, proteins, cereals, gums (H334, H335).
        IrritantDust = "irritant-dust",
        /// Dust without such an effect of its own, of minerals, starches, plants: no dust is to be breathed in (no
        /// H-phrase; H372 with quartz).
        NuisanceDust = "nuisance-dust",
        /// Toxic when swallowed or through the skin (H300, H301, H310, H311).
        Toxic = "toxic",
        /// Toxic or corrosive when breathed in (H330, H331, EUH071).
        ToxicByInhalation = "toxic-by-inhalation",
        /// May damage fertility or the unborn child, or is suspected of it (H360, H361).
        ReproductiveHazard = "reproductive-hazard",
        /// Burns the skin (H314).
        Corrosive = "corrosive",
        /// Damages eyes for good (H318).
        EyeDamage = "eye-damage",
        /// Irritates eyes (H319).
        EyeIrritant = "eye-irritant",
        /// Can sensitise the skin (H317).
        Sensitising = "sensitising",
        /// Can get into the lungs when swallowed (H304).
        Aspiration = "aspiration",
        /// Flammable (H224 to H228).
        Flammable = "flammable",
        /// Toxic to life in water (H400, H410, H411).
        Environment = "environment",
        /// Spoils or evaporates with heat.
        HeatSensitive = "heat-sensitive",
    }
}

impl Caution {
    /// What to do about it (usual workshop practice, no source); the safety data sheet rules.
    #[must_use]
    pub fn advice(self) -> &'static str {
        match self {
            Caution::IrritantDust => {
                "wear a suitable respirator and eye protection, weigh it slowly under extraction, let the dust settle"
            }
            Caution::NuisanceDust => "raise no dust: weigh it slowly, wear a dust mask, wipe up wet",
            Caution::Toxic => {
                "keep it locked up and labelled; wear gloves; do not eat or drink nearby; call a poison centre if it \
                 was swallowed"
            }
            Caution::ToxicByInhalation => {
                "weigh it only under extraction with a suitable respirator; never spray or heat it; fresh air and a \
                 doctor if it was breathed in"
            }
            Caution::ReproductiveHazard => {
                "not to be handled in pregnancy, nor by who wants a child; others with gloves and without dust or \
                 vapour"
            }
            Caution::Corrosive => "wear gloves and eye protection; add it to water, never water to it",
            Caution::EyeDamage => "wear tight-fitting eye protection; have an eye-wash within reach",
            Caution::EyeIrritant => "wear eye protection; rinse with water for minutes if it gets into eyes",
            Caution::Sensitising => "wear gloves; do not breathe in vapour or mist",
            Caution::Aspiration => {
                "never suck it up by mouth; if it was swallowed, do not bring on vomiting but call a poison centre"
            }
            Caution::Flammable => "keep away from flames and hot plates; ventilate",
            Caution::Environment => "keep it out of the drain and of water; take up spills and hand them in",
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
