//! Classes of constituents.

use crate::document::named_enum;

named_enum! {
    /// The chemical or technical class of a constituent, as the trade sorts its shelf.
    Class "class" {
        /// Surfactant whose active ion is negative.
        AnionicSurfactant = "anionic-surfactant",
        /// Surfactant with both charges: betaines, sultaines, amphoacetates.
        AmphotericSurfactant = "amphoteric-surfactant",
        /// Surfactant without charge.
        NonionicSurfactant = "nonionic-surfactant",
        /// Surfactant whose active ion is positive: conditioning quaternaries.
        CationicSurfactant = "cationic-surfactant",
        /// Polymer with positive charges.
        CationicPolymer = "cationic-polymer",
        /// Salt of a fatty acid.
        Soap = "soap",
        /// Fatty acid.
        FattyAcid = "fatty-acid",
        /// Fatty alcohol.
        FattyAlcohol = "fatty-alcohol",
        /// Ester.
        Ester = "ester",
        /// Triglyceride oil or butter.
        OilOrButter = "oil-or-butter",
        /// Wax.
        Wax = "wax",
        /// Hydrocarbon.
        Hydrocarbon = "hydrocarbon",
        /// Silicone.
        Silicone = "silicone",
        /// Humectant.
        Humectant = "humectant",
        /// Protein or its hydrolysate.
        Protein = "protein",
        /// Vitamin or provitamin.
        Vitamin = "vitamin",
        /// Water.
        Water = "water",
        /// Electrolyte salt.
        Salt = "salt",
        /// Clay.
        Clay = "clay",
        /// Starch.
        Starch = "starch",
        /// Thickening or film-forming polymer without positive charge.
        Polymer = "polymer",
        /// Mineral.
        Mineral = "mineral",
        /// Colourant.
        Colourant = "colourant",
        /// Preservative.
        Preservative = "preservative",
        /// What helps a preservative along and is none by itself: glycols, levulinates, anisates.
        PreservativeBooster = "preservative-booster",
        /// Acid.
        Acid = "acid",
        /// Alkali.
        Alkali = "alkali",
        /// Salt of a weak acid or base used as a buffer.
        BufferSalt = "buffer-salt",
        /// Chelant.
        Chelant = "chelant",
        /// Antioxidant.
        Antioxidant = "antioxidant",
        /// Solvent.
        Solvent = "solvent",
        /// Emulsifier.
        Emulsifier = "emulsifier",
        /// Essential oil or absolute.
        EssentialOil = "essential-oil",
        /// Single scent compound or scent mixture.
        FragranceConstituent = "fragrance-constituent",
        /// Plant extract or powder.
        Botanical = "botanical",
        /// Substance acting on the scalp.
        ScalpActive = "scalp-active",
        /// None of these.
        Other = "other",
        /// What the supplier does not say.
        Unspecified = "unspecified",
    }
}

impl Class {
    /// True for what counts as active matter unless stated otherwise: surfactants but quats.
    pub(crate) fn counts_as_active(self) -> bool {
        matches!(self, Class::AnionicSurfactant | Class::AmphotericSurfactant | Class::NonionicSurfactant)
    }

    /// True for surfactants of every charge; soaps and emulsifiers are classes of their own.
    #[must_use]
    pub fn is_surfactant(self) -> bool {
        matches!(
            self,
            Class::AnionicSurfactant
                | Class::AmphotericSurfactant
                | Class::NonionicSurfactant
                | Class::CationicSurfactant
        )
    }

    /// True for classes whose rounding errors matter more than others': a grid formula and a weigh-out never put the
    /// rest there.
    #[must_use]
    pub fn is_dosed_with_care(self) -> bool {
        matches!(
            self,
            Class::Preservative
                | Class::PreservativeBooster
                | Class::Acid
                | Class::Alkali
                | Class::EssentialOil
                | Class::FragranceConstituent
                | Class::Colourant
                | Class::ScalpActive
                | Class::Chelant
        )
    }
}

named_enum! {
    /// Whether a constituent leaves on drying.
    Volatility "volatility" {
        /// Stays.
        None = "none",
        /// Is water.
        Water = "water",
        /// Leaves in part or whole.
        Volatile = "volatile",
        /// Not known.
        Unknown = "unknown",
    }
}
