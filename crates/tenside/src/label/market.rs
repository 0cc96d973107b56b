//! Where and how the product is sold and used, as far as a label depends on it.

use crate::document::named_enum;

named_enum! {
    /// The market whose rules the label follows.
    Market "market" {
        /// The European Union: Regulation (EC) No 1223/2009.
        Eu = "EU",
        /// The United States: 21 CFR part 701.
        Us = "US",
    }
}

named_enum! {
    /// What happens on the date: rules with a transition count from different days.
    Placing "placing" {
        /// The unit is placed on the market: supplied there for the first time.
        Placed = "placed",
        /// A unit placed on the market before is sold on.
        Available = "available",
    }
}

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
