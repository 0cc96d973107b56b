//! What a line of a recipe is.

use crate::document::named_enum;

named_enum! {
    /// What a line of a recipe is read as.
    LineRole "role of a line" {
        /// A raw material with its amount.
        Material = "material",
        /// The heading of a phase, or of the list or the method.
        Heading = "heading",
        /// The headings of columns.
        Columns = "columns",
        /// The sum of the lines, or the mass of the whole: compared, not counted.
        Total = "total",
        /// A remark, a step of the method, a rule.
        Comment = "comment",
    }
}
