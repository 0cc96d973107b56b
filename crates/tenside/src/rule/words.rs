//! The closed lists of rules.

use crate::document::{Named, named_enum};
use crate::material::{Material, UseLevel};

named_enum! {
    /// A market whose lists are carried.
    Market "market" {
        /// The European Union.
        Eu = "EU",
        /// The United States, federal rules only.
        Us = "US",
    }
}

named_enum! {
    /// What a product is used for. `rinse-off` covers everything that is rinsed off except in the mouth, `hair` a
    /// shampoo bar, and so on.
    Use "use" {
        /// Rinsed off, wherever used; not in the mouth.
        RinseOff = "rinse-off",
        /// Rinsed off the hair.
        Hair = "hair",
        /// Shampoo, whatever its form.
        Shampoo = "shampoo",
        /// Shampoo bar.
        ShampooBar = "shampoo-bar",
        /// Conditioner that is rinsed off, whatever its form.
        Conditioner = "conditioner",
        /// Conditioner bar.
        ConditionerBar = "conditioner-bar",
        /// Rinsed off the body.
        Body = "body",
        /// Cleansing bar for the body.
        CleansingBar = "cleansing-bar",
        /// For washing hands.
        HandWash = "hand-wash",
        /// Rinsed off the face.
        Face = "face",
        /// Left on, wherever used.
        LeaveOn = "leave-on",
        /// Left on the hair.
        LeaveOnHair = "leave-on-hair",
        /// Left on the face.
        LeaveOnFace = "leave-on-face",
        /// Left on the body.
        LeaveOnBody = "leave-on-body",
        /// In the mouth.
        Oral = "oral",
    }
}

impl Use {
    /// The wider use that it is a case of.
    #[must_use]
    pub fn wider(self) -> Option<Use> {
        match self {
            Use::RinseOff | Use::LeaveOn | Use::Oral => None,
            Use::Hair | Use::Body | Use::HandWash | Use::Face => Some(Use::RinseOff),
            Use::Shampoo | Use::Conditioner => Some(Use::Hair),
            Use::ShampooBar => Some(Use::Shampoo),
            Use::ConditionerBar => Some(Use::Conditioner),
            Use::CleansingBar => Some(Use::Body),
            Use::LeaveOnHair | Use::LeaveOnFace | Use::LeaveOnBody => Some(Use::LeaveOn),
        }
    }

    /// The level recommended for it, else for the narrowest wider use that the raw material states one for.
    ///
    /// ```
    /// use tenside::catalogue::Catalogue;
    /// use tenside::rule::Use;
    /// let catalogue = Catalogue::starter();
    /// let level = Use::Face.level_of(catalogue.material("phenoxyethanol")?).expect("a level for everything rinsed off");
    /// assert_eq!(level.product_use, "rinse-off");
    /// # Ok::<(), tenside::Error>(())
    /// ```
    #[must_use]
    pub fn level_of(self, material: &Material) -> Option<&UseLevel> {
        self.lineage().find_map(|used| material.use_level(used.name()))
    }

    /// This use and the wider ones it is a case of, narrowest first.
    pub fn lineage(self) -> impl Iterator<Item = Use> {
        std::iter::successors(Some(self), |narrower| narrower.wider())
    }

    /// How certain it is that what is written for `rule` concerns a product of this use: certain for a wider or the
    /// same use, possible for a narrower one, since the product may be that.
    ///
    /// ```
    /// use tenside::rule::{Certainty, Use};
    /// assert_eq!(Use::ShampooBar.concerned_by(Use::RinseOff), Some(Certainty::Certain));
    /// assert_eq!(Use::RinseOff.concerned_by(Use::Hair), Some(Certainty::Possible));
    /// assert_eq!(Use::ShampooBar.concerned_by(Use::Body), None);
    /// ```
    #[must_use]
    pub fn concerned_by(self, rule: Use) -> Option<Certainty> {
        if self.lineage().any(|wider| wider == rule) {
            return Some(Certainty::Certain);
        }
        rule.lineage().any(|wider| wider == self).then_some(Certainty::Possible)
    }

    /// True for what is a bar by its name.
    #[must_use]
    pub fn is_bar(self) -> bool {
        matches!(self, Use::ShampooBar | Use::ConditionerBar | Use::CleansingBar)
    }

    /// Its stable name.
    #[must_use]
    pub fn name(self) -> &'static str {
        self.slug()
    }
}

named_enum! {
    /// How grave a finding is.
    Severity "severity" {
        /// Beyond a published limit.
        Error = "error",
        /// Beyond what is usual or known to keep.
        Warning = "warning",
        /// Something a person has to find out.
        Question = "question",
        /// Worth knowing.
        Information = "information",
    }
}

impl Severity {
    /// This one, but no graver than `most`.
    #[must_use]
    pub fn at_most(self, most: Severity) -> Severity {
        self.max(most)
    }
}

named_enum! {
    /// How certain a finding is, in rising order.
    Certainty "certainty" {
        /// For some compositions inside the stated ranges, or if the product is what is not stated.
        Possible = "possible",
        /// For typical compositions; the range ends it rests on are not stated.
        TypicalOnly = "typical-only",
        /// For every composition inside the stated ranges.
        Certain = "certain",
    }
}

impl Certainty {
    /// As sentences say it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Certainty::Possible => "possible",
            Certainty::TypicalOnly => "typical only",
            Certainty::Certain => "certain",
        }
    }
}

named_enum! {
    /// How a rule's value is known.
    Mark "mark" {
        /// Seen in the source or a faithful reproduction.
        Seen = "seen",
        /// Seen in a secondary reproduction only.
        Secondary = "secondary",
        /// Computed from stated inputs.
        Computed = "computed",
        /// From memory, not seen.
        FromMemory = "from-memory",
        /// Common practice of the trade, no source.
        CommonPractice = "common-practice",
        /// As whoever wrote the rule states it.
        Stated = "stated",
    }
}

impl Mark {
    /// As sentences say it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Mark::Seen => "seen in the source",
            Mark::Secondary => "seen in a reproduction",
            Mark::Computed => "computed",
            Mark::FromMemory => "from memory",
            Mark::CommonPractice => "common practice, no source",
            Mark::Stated => "as its author states it",
        }
    }

    /// A source with the mark behind it, unless it says so itself.
    pub(super) fn behind(self, source: String) -> String {
        if source.ends_with(self.words()) { source } else { format!("{source} ({})", self.words()) }
    }
}

named_enum! {
    /// What a product is like: a bar dries, a liquid does not.
    ProductForm "form of a product" {
        /// A bar, a powder.
        Solid = "solid",
        /// A liquid, a gel, a cream.
        Liquid = "liquid",
    }
}

named_enum! {
    /// How the product is kept between uses.
    Storage "storage" {
        /// Standing wet: a dish without drain, a closed tin.
        Wet = "wet",
        /// Drying out after each use.
        Dry = "dry",
    }
}

named_enum! {
    /// In which sense a product is on the market at the date of the review.
    Placing "placing" {
        /// Placed on the market for the first time.
        Placed = "placed",
        /// Made available: placed earlier and still sold.
        MadeAvailable = "made-available",
    }
}

named_enum! {
    /// What is stated of a product besides its formula.
    Fact "fact" {
        /// The pH read in a dispersion.
        Ph = "ph",
        /// Water activity of the unused bar.
        WaterActivity = "water-activity",
        /// The most scent, in percent, that the product category allows; stated with the category.
        ScentLimit = "scent-limit",
        /// The temperature of the hottest phase in °C.
        PhaseTemperature = "phase-temperature",
    }
}

impl Fact {
    /// As sentences say it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Fact::Ph => "pH reading",
            Fact::WaterActivity => "water activity",
            Fact::ScentLimit => "scent limit with its product category",
            Fact::PhaseTemperature => "phase temperature",
        }
    }
}

named_enum! {
    /// On which bases a measure is judged.
    JudgedOn "basis" {
        /// As charged and, where the residual moisture is stated, finished; of a solid product whose moisture is not
        /// stated bone-dry as well, which nobody sells: a question at most.
        EveryBasis = "every-basis",
        /// As charged.
        AsCharged = "as-charged",
        /// Finished where the residual moisture is stated, else as charged.
        FinishedIfStated = "finished-if-stated",
    }
}

named_enum! {
    /// A check of each raw material against what is stated of it.
    Each "check of each raw material" {
        /// Above the highest recommended use level.
        UseLevelHigh = "use-level-high",
        /// Below the lowest recommended use level.
        UseLevelLow = "use-level-low",
        /// The pH reading outside its pH range.
        PhWindow = "ph-window",
        /// Its phase hotter than the highest temperature at which it may be worked.
        ProcessTemperature = "process-temperature",
        /// Marked as heat-sensitive, without a highest temperature, in a phase hotter than the rule's limit.
        HeatSensitive = "heat-sensitive",
        /// Marked with a caution about handling.
        Handling = "handling",
        /// It leaves open which scent constituents it holds.
        OpenScent = "open-scent",
        /// A lot past its retest date.
        RetestDate = "retest-date",
    }
}

named_enum! {
    /// What a limit asks for.
    Bound "limit" {
        /// At most.
        AtMost = "at_most",
        /// Below.
        Below = "below",
        /// At least.
        AtLeast = "at_least",
        /// Above.
        Above = "above",
    }
}

impl Bound {
    /// As sentences say it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Bound::AtMost => "at most",
            Bound::Below => "below",
            Bound::AtLeast => "at least",
            Bound::Above => "above",
        }
    }

    /// True where values that are too high break it.
    pub(super) fn is_upper(self) -> bool {
        matches!(self, Bound::AtMost | Bound::Below)
    }

    /// Whether a value that compares so with the limit keeps it.
    pub(super) fn holds(self, compared: std::cmp::Ordering) -> bool {
        match self {
            Bound::AtMost => compared.is_le(),
            Bound::Below => compared.is_lt(),
            Bound::AtLeast => compared.is_ge(),
            Bound::Above => compared.is_gt(),
        }
    }

    /// The bound that holds exactly where this one does not.
    pub(super) fn opposite(self) -> Bound {
        match self {
            Bound::AtMost => Bound::Above,
            Bound::Below => Bound::AtLeast,
            Bound::AtLeast => Bound::Below,
            Bound::Above => Bound::AtMost,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_mouth_is_no_rinse_off_use() {
        assert_eq!(Use::Oral.concerned_by(Use::RinseOff), None);
        assert_eq!(Use::RinseOff.concerned_by(Use::Oral), None);
        assert_eq!(Use::Hair.concerned_by(Use::ShampooBar), Some(Certainty::Possible));
        assert_eq!(Use::LeaveOnFace.concerned_by(Use::LeaveOn), Some(Certainty::Certain));
    }

    #[test]
    fn a_bound_and_its_opposite_part_every_value() {
        use std::cmp::Ordering::{Equal, Greater, Less};
        for bound in Bound::ALL {
            for compared in [Less, Equal, Greater] {
                assert_ne!(bound.holds(compared), bound.opposite().holds(compared), "{bound}");
            }
        }
    }

    #[test]
    fn certainties_rise() {
        assert!(Certainty::Possible < Certainty::TypicalOnly && Certainty::TypicalOnly < Certainty::Certain);
    }
}
