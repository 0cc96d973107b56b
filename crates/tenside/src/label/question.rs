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

/// Something for a person to settle: a sentence, and what it concerns by name. The sentence may cut a long list short;
/// the names never are.
///
/// ```
/// use tenside::catalogue::Catalogue;
/// use tenside::formula::{Formula, Line};
/// use tenside::label::{LabelRequest, Market, QuestionTopic};
/// use tenside::number::Ppm;
/// let catalogue = Catalogue::starter();
/// let line = |name: &str, id: &str, percent: &str| Line::new(name, catalogue.material(id)?.clone(), Ppm::from_percent(percent)?);
/// let formula = Formula::new("Green bar", vec![line("base", "kaolin", "99")?, line("scent", "tea-tree-oil", "1")?])?;
/// let label = formula.label(&LabelRequest::new(Market::Eu, "2026-11-24".parse()?))?;
/// let question = label.questions().iter().find(|question| question.topic == QuestionTopic::ScentPossible).expect("pinene");
/// assert_eq!((question.lines.as_slice(), question.materials.as_slice()), (&["scent".to_string()][..], &["tea-tree-oil".to_string()][..]));
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct LabelQuestion {
    /// What it is about.
    pub topic: QuestionTopic,
    /// The sentence.
    pub sentence: String,
    /// True if the label stays a draft until it is settled.
    pub keeps_draft: bool,
    /// The lines it concerns.
    pub lines: Vec<String>,
    /// The raw materials it concerns, by id: what brings the ingredient, or whose supplier to ask.
    pub materials: Vec<String>,
    /// The names it concerns, as the list shows them; INCI names of what it does not show.
    pub ingredients: Vec<String>,
    /// The entries of Annex III that it concerns.
    pub entries: Vec<u32>,
}

impl LabelQuestion {
    pub(super) fn new(topic: QuestionTopic, sentence: String) -> Self {
        LabelQuestion {
            topic,
            sentence,
            keeps_draft: true,
            lines: Vec::new(),
            materials: Vec::new(),
            ingredients: Vec::new(),
            entries: Vec::new(),
        }
    }

    /// Worth a look, but the label says what it should as far as the shares are typical.
    pub(super) fn open(topic: QuestionTopic, sentence: String) -> Self {
        LabelQuestion { keeps_draft: false, ..LabelQuestion::new(topic, sentence) }
    }

    pub(super) fn about_ingredients(mut self, names: impl IntoIterator<Item = impl Into<String>>) -> Self {
        self.ingredients = names.into_iter().map(Into::into).collect();
        self
    }

    pub(super) fn about_entries(mut self, numbers: impl IntoIterator<Item = u32>) -> Self {
        self.entries = numbers.into_iter().collect();
        self
    }
}
