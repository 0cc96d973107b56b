//! The guidance's daily amounts, as printed.

#![expect(clippy::disallowed_types, reason = "embedded data, read once")]

use std::sync::LazyLock;

use crate::bounds::Quantity;
use crate::document::{Notation, Reader, TableView, fold, unknown_name};
use crate::error::{Error, Fault, FaultKind};
use crate::number::Exact;

/// What people ask for that has no row.
const SOLID: &[&str] = &["solid-shampoo", "shampoo-bar", "bar", "hair-bar", "solid-conditioner", "conditioner-bar"];

/// A product type of the guidance. Its columns stand as printed; they are not calculated from each other.
///
/// ```
/// use tenside::exposure::ProductType;
/// let shampoo = ProductType::find("shampoo")?;
/// assert_eq!(shampoo.exposure_per_body_weight().to_string(), "1.51");
/// let error = ProductType::find("solid-shampoo").unwrap_err();
/// assert!(error.to_string().contains("no row of its own"));
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Debug, PartialEq)]
pub struct ProductType {
    slug: String,
    name: String,
    amount: Exact,
    amount_per_body_weight: Option<Exact>,
    retention: Exact,
    exposure: Exact,
    exposure_per_body_weight: Exact,
    mark: String,
}

/// The table with the guidance's defaults.
pub(super) struct Guidance {
    pub(super) document: String,
    pub(super) source: String,
    pub(super) body_weight: Exact,
    pub(super) dermal_absorption: Exact,
    pub(super) oral_absorption: Exact,
    pub(super) usual_margin: Exact,
    rows: Vec<ProductType>,
}

static GUIDANCE: LazyLock<Guidance> = LazyLock::new(|| {
    // The embedded file is read by a test; a fault there is a fault of the build.
    Reader::read(include_str!("../../data/exposure/sccs.toml"), Notation::Toml, read)
        .unwrap_or_else(|error| panic!("sccs.toml: {error}"))
});

pub(super) fn guidance() -> &'static Guidance {
    &GUIDANCE
}

fn read(view: &TableView<'_>) -> Option<Guidance> {
    view.version("exposure/1");
    let prose = |key: &'static str| view.needed(key, |view| view.prose(key));
    let percent = |key: &'static str| view.needed(key, |view| view.exact(key, Some(Quantity::Percent)));
    let source = prose("source")?;
    let rows = view.tables("row", |view| {
        let number = |key: &'static str| view.exact(key, None);
        let needed = |key: &'static str| view.needed(key, |_| number(key));
        Some(ProductType {
            slug: view.needed_slug("slug")?,
            name: view.needed_name("name")?,
            amount: needed("amount")?,
            amount_per_body_weight: number("amount_per_body_weight"),
            retention: needed("retention")?,
            exposure: needed("exposure")?,
            exposure_per_body_weight: needed("exposure_per_body_weight")?,
            mark: view.prose("mark").unwrap_or_else(|| "seen in a secondary reproduction".to_string()),
        })
    });
    Some(Guidance {
        document: prose("document")?,
        source,
        body_weight: view.needed("body_weight", |view| view.exact("body_weight", Some(Quantity::BodyWeight)))?,
        dermal_absorption: percent("dermal_absorption")?,
        oral_absorption: percent("oral_absorption")?,
        usual_margin: view.needed("usual_margin", |view| view.exact("usual_margin", None))?,
        rows,
    })
}

getters!(ProductType {
    /// Its stable name.
    slug: &str,
    /// Its name in the guidance.
    name: &str,
    /// Grams a day.
    amount: &Exact,
    /// Milligrams a day and kilogram of body weight, where the table gives it.
    amount_per_body_weight: Option<&Exact>,
    /// The share that is taken to stay, 0 to 1.
    retention: &Exact,
    /// Grams a day that stay.
    exposure: &Exact,
    /// Milligrams a day and kilogram of body weight that stay.
    exposure_per_body_weight: &Exact,
    /// How sure the row is.
    mark: &str,
});

impl ProductType {
    /// Every row that is carried.
    #[must_use]
    pub fn all() -> &'static [ProductType] {
        &guidance().rows
    }

    /// The row of that name.
    ///
    /// # Errors
    /// An unknown name; for solid products, which have no row, the way to choose one.
    pub fn find(slug: &str) -> Result<&'static ProductType, Error> {
        let wanted = fold(slug).replace(' ', "-");
        if let Some(row) = ProductType::all().iter().find(|row| row.slug == wanted) {
            return Ok(row);
        }
        let known: Vec<&str> = ProductType::all().iter().map(|row| row.slug.as_str()).collect();
        let fault = if SOLID.contains(&wanted.as_str()) {
            let remedy = "choose the row that fits the use, as shampoo, and know that it is of a liquid product; or \
                          state the grams used a day and the share retained";
            Fault::new(FaultKind::UnknownName, "a solid product has no row of its own in the guidance")
                .value(format!("{slug:?}"))
                .remedy(remedy)
        } else {
            unknown_name("product type", slug, known.iter().copied())
        };
        Err(fault.allowed(known.join(", ")).into())
    }
}
