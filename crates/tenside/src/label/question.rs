//! What a person has to settle before the label is one.

use crate::document::named_enum;

named_enum! {
    /// What a question of a label is about.
    QuestionTopic "question" {
        /// Whether a constituent is an ingredient has to be asked.
        Declaration = "declaration",
        /// A supplier does not name everything.
        Unnamed = "unnamed-remainder",
        /// A share has bounds only.
        NoTypical = "no-typical-share",
        /// A position of the list is not certain.
        Position = "position",
        /// The order as charged and as finished differ.
        Drying = "order-after-drying",
        /// A colour has no name known on the market.
        Colour = "colour-name",
        /// A scent constituent may have to be named.
        ScentPossible = "scent-possible",
        /// Nothing is known of scent constituents.
        ScentUnknown = "scent-unknown",
        /// An ingredient and an entry mean the same under two names.
        EntryName = "entry-name",
        /// Acids and alkalis react in the product.
        Reaction = "reaction",
        /// The product may be more than a cosmetic.
        Borderline = "borderline",
    }
}

/// Something for a person to settle, as a sentence; what it concerns stands in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LabelQuestion {
    /// What it is about.
    pub topic: QuestionTopic,
    /// The sentence.
    pub sentence: String,
    /// True where the label stays a draft until it is settled.
    pub keeps_draft: bool,
}

impl LabelQuestion {
    pub(super) fn new(topic: QuestionTopic, sentence: String) -> Self {
        LabelQuestion { topic, sentence, keeps_draft: true }
    }

    /// Worth a look, but the label says what it should as far as the shares are typical.
    pub(super) fn open(topic: QuestionTopic, sentence: String) -> Self {
        LabelQuestion { keeps_draft: false, ..LabelQuestion::new(topic, sentence) }
    }
}
