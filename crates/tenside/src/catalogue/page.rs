//! A catalogue and some of its raw materials on a page.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::{Catalogue, Found, Hit};
use crate::material::Material;
use crate::render::{Alignment, Page, Part, Table};
use crate::substance::Class;

/// The most rows of raw materials that a page shows; how many more there are stands below.
const MOST_SHOWN: usize = 60;
/// The most ids of one class that the page of a catalogue shows.
const MOST_OF_CLASS: usize = 12;
const DRAFT: &str = "DRAFT: typical values of the starter catalogue, no supplier's.";

impl Catalogue {
    /// Its page: how many raw materials of each class there are, and the first of them.
    ///
    /// ```
    /// let page = tenside::catalogue::Catalogue::starter().page();
    /// assert!(page.text(80).contains("amphoteric-surfactant"));
    /// ```
    #[must_use]
    pub fn page(&self) -> Page {
        let mut classes: BTreeMap<Class, Vec<&str>> = BTreeMap::new();
        for material in self.materials() {
            classes.entry(material.main_class()).or_default().push(material.id());
        }
        let mut table = Table::new(&[
            ("class", Alignment::Left),
            ("how many", Alignment::Right),
            ("raw materials", Alignment::Left),
        ]);
        for (class, ids) in &classes {
            let mut shown = ids.iter().take(MOST_OF_CLASS).copied().collect::<Vec<_>>().join(", ");
            if ids.len() > MOST_OF_CLASS {
                shown += &format!(" and {} more", ids.len() - MOST_OF_CLASS);
            }
            table.push([class.to_string(), ids.len().to_string(), shown]);
        }
        let lots: Vec<String> =
            self.lots().take(MOST_SHOWN).map(|lot| format!("{} of {}", lot.id(), lot.material())).collect();
        let more = self.lots().count() - lots.len();
        let lots = lots.into_iter().chain((more > 0).then(|| format!("and {more} more"))).collect();
        let count = self.materials().count();
        let page = Page::new(&format!("Catalogue of {count} raw material{}", if count == 1 { "" } else { "s" }));
        let page = marked(page, self.materials());
        let page =
            if count == 0 { page.with(Part::Text("It is empty.".to_string())) } else { page.with(Part::Table(table)) };
        page.section("Lots", Part::List(lots))
    }
}

impl Found {
    /// The page of what was found, with what is not known named below.
    #[must_use]
    pub fn page(&self) -> Page {
        let count = self.materials.len();
        let page = materials_page(
            &format!("{count} raw material{} found", if count == 1 { "" } else { "s" }),
            &self.materials,
        );
        if self.not_known.is_empty() {
            return page;
        }
        let ids: Vec<&str> = self.not_known.iter().take(MOST_SHOWN).map(|material| material.id()).collect();
        let more = if self.not_known.len() > ids.len() {
            format!(" and {} more", self.not_known.len() - ids.len())
        } else {
            String::new()
        };
        let heading = format!("Not known of {}, left out", self.not_known.len());
        page.with(Part::Heading(heading)).with(Part::Text(format!("{}{more}", ids.join(", "))))
    }
}

/// The page of some raw materials, one a row.
///
/// ```
/// use tenside::catalogue::{Catalogue, materials_page};
/// let page = materials_page("Starter catalogue", Catalogue::starter().materials());
/// assert!(page.text(100).contains("442 more"));
/// ```
#[must_use]
pub fn materials_page<'m>(title: &str, materials: impl IntoIterator<Item = &'m Arc<Material>>) -> Page {
    let materials: Vec<&Arc<Material>> = materials.into_iter().collect();
    let columns = [
        ("id", Alignment::Left),
        ("name", Alignment::Left),
        ("class", Alignment::Left),
        ("form", Alignment::Left),
        ("active %", Alignment::Right),
    ];
    let mut table = Table::new(&columns);
    for material in materials.iter().take(MOST_SHOWN) {
        let active = material.active().map_or_else(|_| "not known".to_string(), |active| active.percent().to_string());
        table.push([
            material.id().to_string(),
            material.to_string(),
            material.main_class().to_string(),
            material.form().to_string(),
            active,
        ]);
    }
    let page = marked(Page::new(title), materials.iter().copied());
    let page = if materials.is_empty() {
        page.with(Part::Text("There is none.".to_string()))
    } else {
        page.with(Part::Table(table))
    };
    rest(page, materials.len())
}

/// The page of what a search for a text found.
#[must_use]
pub fn hits_page(text: &str, hits: &[Hit]) -> Page {
    let columns =
        [("id", Alignment::Left), ("name", Alignment::Left), ("found by", Alignment::Left), ("match", Alignment::Left)];
    let mut table = Table::new(&columns);
    for hit in hits.iter().take(MOST_SHOWN) {
        let found_by = format!("{} {}", hit.name_kind, hit.name);
        table.push([
            hit.material.id().to_string(),
            hit.material.name().to_string(),
            found_by,
            hit.match_kind.to_string(),
        ]);
    }
    let page = marked(
        Page::new(&format!("Search for {}", crate::document::shown(text))),
        hits.iter().map(|hit| &hit.material),
    );
    let page = if hits.is_empty() {
        page.with(Part::Text(
            "No raw material is called so, nor spelt alike. Add your own with its composition, or look at the \
             catalogue by class."
                .to_string(),
        ))
    } else {
        page.with(Part::Table(table))
    };
    rest(page, hits.len())
}

fn rest(page: Page, count: usize) -> Page {
    if count <= MOST_SHOWN {
        return page;
    }
    page.with(Part::Text(format!(
        "and {} more, which a table of rows holds and this page does not show.",
        count - MOST_SHOWN
    )))
}

fn marked<'m>(page: Page, mut materials: impl Iterator<Item = &'m Arc<Material>>) -> Page {
    if materials.any(|material| material.is_starter()) { page.mark(DRAFT) } else { page }
}
