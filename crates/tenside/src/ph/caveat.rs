//! What makes a calculated pH less certain.

use crate::document::named_enum;

named_enum! {
    /// What a calculated pH is less certain for.
    CaveatKind "caveat" {
        /// The ionic strength is above what the Davies equation holds for.
        IonicStrength = "ionic-strength",
        /// An acid pairs with the alkali ions.
        IonPairing = "ion-pairing",
        /// The constants of acids are those of 25 °C.
        Temperature = "temperature",
        /// Something else to know of a substance.
        Substance = "substance",
        /// Suppliers do not name all that is dissolved.
        Unspecified = "unspecified",
        /// Some of the liquid is no water.
        OtherSolvent = "other-solvent",
    }
}

/// A reason to trust a calculated pH less.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Caveat {
    /// The ionic strength is above what the Davies equation holds for.
    IonicStrength {
        /// As calculated, mol/kg.
        found: f64,
    },
    /// An acid pairs with the alkali ions, which the model leaves out.
    IonPairing {
        /// The acid.
        acid: String,
        /// The share of its fully ionised form that would pair, percent.
        percent: f64,
    },
    /// The constants of these acids are those of 25 °C.
    Temperature {
        /// The acids.
        acids: Vec<String>,
    },
    /// Something else to know of a substance.
    Substance {
        /// Its name.
        name: String,
        /// What.
        note: String,
    },
    /// The suppliers do not name so much of what is dissolved.
    Unspecified {
        /// Percent of the product.
        percent: f64,
    },
    /// So much of the liquid is no water.
    OtherSolvent {
        /// Percent of the product.
        percent: f64,
    },
}

/// The ionic strength in mol/kg up to which the Davies equation is used (common to textbooks of water chemistry; from
/// memory).
pub(super) const HIGHEST_IONIC_STRENGTH: f64 = 0.5;

impl Caveat {
    /// Its kind.
    #[must_use]
    pub fn kind(&self) -> CaveatKind {
        match self {
            Caveat::IonicStrength { .. } => CaveatKind::IonicStrength,
            Caveat::IonPairing { .. } => CaveatKind::IonPairing,
            Caveat::Temperature { .. } => CaveatKind::Temperature,
            Caveat::Substance { .. } => CaveatKind::Substance,
            Caveat::Unspecified { .. } => CaveatKind::Unspecified,
            Caveat::OtherSolvent { .. } => CaveatKind::OtherSolvent,
        }
    }

    /// The caveat as a sentence.
    #[must_use]
    pub fn sentence(&self) -> String {
        match self {
            Caveat::IonicStrength { found } => format!(
                "the ionic strength of {found:.2} mol/kg is above {HIGHEST_IONIC_STRENGTH} mol/kg, where the activity \
                 coefficients no longer hold; dilute, or measure"
            ),
            Caveat::IonPairing { acid, percent } => format!(
                "about {percent:.0} % of the fully ionised {acid} would pair with sodium or potassium, which the \
                 model leaves out; the true pH is lower"
            ),
            Caveat::Temperature { acids } => {
                format!("constants of 25 °C are used for want of ionisation enthalpies: {}", acids.join(", "))
            }
            Caveat::Substance { name, note } => format!("{name}: {note}"),
            Caveat::Unspecified { percent } => {
                format!("the suppliers do not name {percent:.2} % of the product; it is taken to do nothing")
            }
            Caveat::OtherSolvent { percent } => {
                format!(
                    "{percent:.0} % of the product are dissolved without charge; the constants are those of water \
                     with little else in it"
                )
            }
        }
    }
}
