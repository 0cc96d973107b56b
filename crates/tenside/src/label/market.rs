//! How the product is used and its scent named, as far as a label depends on it.

use crate::document::named_enum;

named_enum! {
    /// Whether the product stays on skin and hair.
    Contact "contact" {
        /// Rinsed off.
        RinseOff = "rinse-off",
        /// Left on.
        LeaveOn = "leave-on",
    }
}

named_enum! {
    /// How oils and scent compounds stand in the list.
    ScentNames "scent names" {
        /// Each under its own name; what is bought as a scent mixture stays one.
        Own = "own",
        /// All together as the scent of the product.
        Together = "together",
    }
}
