//! Closed lists of names: what each variant is called in documents, messages and Python.

use crate::error::{Fault, FaultKind};

/// An enumeration whose variants have a stable name in documents. Sealed: the lists are this crate's own, and may grow.
pub trait Named: Copy + sealed::Sealed + 'static {
    /// Every variant.
    const ALL: &'static [Self];
    /// What the list is called: the enumeration's own name.
    const NAME: &'static str;
    /// What the list is of, in a sentence or two.
    const ABOUT: &'static str;
    /// What kind of thing it is, for messages.
    const KIND: &'static str;

    /// The stable name.
    fn slug(self) -> &'static str;

    /// What it means, in a sentence or two.
    ///
    /// ```
    /// use tenside::document::Named;
    /// use tenside::material::Form;
    /// assert_eq!(Form::Granules.about(), "Granules, beads, noodles.");
    /// ```
    fn about(self) -> &'static str;

    /// The variant of that name.
    #[must_use]
    fn from_slug(slug: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|variant| variant.slug() == slug)
    }

    /// The variant of that name.
    ///
    /// # Errors
    /// An unknown name, with the nearest known one.
    fn parse(text: &str) -> Result<Self, crate::error::Error> {
        Self::from_slug(text.trim()).ok_or_else(|| {
            let known: Vec<&str> = Self::ALL.iter().map(|variant| variant.slug()).collect();
            unknown_name(Self::KIND, text, known.iter().copied()).allowed(known.join(", ")).into()
        })
    }
}

/// Names that no other crate can reach, so that none can add to what is implemented here.
pub(crate) mod sealed {
    /// What [`Named`](super::Named) is implemented for.
    pub trait Sealed {}
}

/// Declares an enumeration with stable names, its serialisation and its JSON Schema.
macro_rules! named_enum {
    ($(#[doc = $doc:literal])* $name:ident $kind:literal {
        $($(#[doc = $variant_doc:literal])* $(#[cfg($cfg:meta)])? $variant:ident = $slug:literal),* $(,)?
    }) => {
        $(#[doc = $doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize)]
        #[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
        #[non_exhaustive]
        pub enum $name {
            $($(#[doc = $variant_doc])* $(#[cfg($cfg)])? #[serde(rename = $slug)] $variant,)*
        }

        impl $crate::document::named::sealed::Sealed for $name {}

        impl $crate::document::Named for $name {
            const ALL: &'static [Self] = &[$($(#[cfg($cfg)])? Self::$variant,)*];
            const NAME: &'static str = stringify!($name);
            const ABOUT: &'static str = concat!($($doc),*).trim_ascii();
            const KIND: &'static str = $kind;

            fn slug(self) -> &'static str {
                match self {
                    $($(#[cfg($cfg)])? Self::$variant => $slug,)*
                }
            }

            fn about(self) -> &'static str {
                match self {
                    $($(#[cfg($cfg)])? Self::$variant => concat!($($variant_doc),*).trim_ascii(),)*
                }
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                formatter.pad($crate::document::Named::slug(*self))
            }
        }

        impl std::str::FromStr for $name {
            type Err = $crate::error::Error;

            fn from_str(text: &str) -> Result<Self, $crate::error::Error> {
                <Self as $crate::document::Named>::parse(text)
            }
        }
    };
}
pub(crate) use named_enum;

/// How alike two names must be (Jaro-Winkler, 0 to 1) for one to be offered for the other.
const ALIKE: f64 = 0.82;

/// The known name nearest to `name`, if one is near.
pub(crate) fn nearest<'a>(name: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let folded = super::fold(name);
    known
        .map(|candidate| (strsim::jaro_winkler(&folded, &super::fold(candidate)), candidate))
        .filter(|(likeness, _)| *likeness >= ALIKE)
        .max_by(|left, right| left.0.total_cmp(&right.0))
        .map(|(_, candidate)| candidate)
}

/// The most names that a message lists.
const MOST_LISTED: usize = 12;

/// The known names, of many those most like `name`, and how many more there are.
pub(crate) fn likeliest<'a>(name: &str, known: impl Iterator<Item = &'a str>) -> String {
    let mut names: Vec<&str> = known.collect();
    if names.len() > MOST_LISTED {
        let folded = super::fold(name);
        names.sort_by_cached_key(|known| ((1.0 - strsim::jaro_winkler(&folded, &super::fold(known))) * 1000.0) as u32);
    }
    let (shown, rest) = names.split_at(names.len().min(MOST_LISTED));
    let rest = if rest.is_empty() { String::new() } else { format!(" and {} more", rest.len()) };
    format!("{}{rest}", shown.join(", "))
}

/// The fault for a name that nobody defined, with the nearest known one.
pub(crate) fn unknown_name<'a>(kind: &str, name: &str, known: impl Iterator<Item = &'a str>) -> Fault {
    let shown: String = name.chars().take(80).collect();
    let fault = Fault::new(FaultKind::UnknownName, format!("unknown {kind}")).value(format!("{shown:?}"));
    match nearest(&shown, known) {
        Some(candidate) => fault.remedy(format!("did you mean {candidate:?}?")),
        None => fault,
    }
}
