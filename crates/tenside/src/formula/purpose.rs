//! What a raw material is in a product for.

use crate::document::named_enum;

named_enum! {
    /// What a line is there for, as its maker states it. Some limits are those of one purpose only: salicylic acid that
    /// preserves has another one than salicylic acid against dandruff.
    Purpose "purpose" {
        /// To keep microbes down.
        Preservative = "preservative",
        /// Against dandruff.
        AntiDandruff = "anti-dandruff",
        /// To colour the product.
        Colour = "colour",
        /// To scent it.
        Scent = "scent",
        /// To filter ultraviolet light.
        UvFilter = "uv-filter",
        /// To set the pH.
        PhAdjuster = "ph-adjuster",
        /// To condition hair or skin.
        Conditioning = "conditioning",
        /// To dissolve something.
        Solvent = "solvent",
        /// None of these.
        Other = "other",
    }
}
