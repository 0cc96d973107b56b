//! Raw materials of a catalogue found by name or by what they are, and the closed lists of words.

use std::sync::Arc;

use pyo3::prelude::*;
use pyo3::types::{PyIterator, PyList};
use tenside::catalogue::{Filter, MatchKind, NameKind, hits_page};
use tenside::document::Named;
use tenside::material::{Caution, Form};
use tenside::rule::{Market, Use};
use tenside::substance::{Attribute, Class};

use crate::convert::failure::Outcome;
use crate::convert::input::Names;
use crate::convert::page::Page;
use crate::convert::table::Rows;
use crate::convert::word::{Word, Words};
use crate::material::catalogue::Catalogue;
use crate::material::{AMaterial, Material};

record! {
    "tenside.material",
    /// A raw material that a search found.
    SearchHit of &tenside::catalogue::Hit, |hit| {
        /// Its id.
        id: String = hit.material.id().to_string(),
        /// How the name was met, from the surest on: "id", "name", "beginning", "word", "inside", or "guess" for what
        /// is only spelt alike.
        matched: Word<MatchKind> = Word(hit.match_kind),
        /// Which kind of name it is.
        by: Word<NameKind> = Word(hit.name_kind),
        /// The name.
        found: String = hit.name.clone(),
        /// The raw material.
        material: Material = Material(Arc::clone(&hit.material)),
    }
}

record! {
    "tenside.material",
    /// A word of a closed list.
    ListedWord {
        /// The word.
        word: String,
        /// What it means.
        meaning: String,
    }
}

shown!(Catalogue, |it| it.0.page());

#[pymethods]
impl Catalogue {
    /// Its page: how many raw materials of each class there are, and the first of them.
    #[getter]
    fn page(&self) -> Page {
        Page(self.0.page())
    }

    /// The raw materials that go by `text`: ids, readable names and aliases, and the INCI names, label names and CAS
    /// numbers of their ingredients, the surest first, and of ingredients that with the most of it. Only if nothing is
    /// called so, what is spelt alike follows as a "guess".
    ///
    /// >>> cat = td.Catalogue.starter()
    /// >>> [hit.id for hit in cat.search("cocamidopropyl betaine")][:2]
    /// ['capb-30', 'capb-powder']
    /// >>> cat.search("kaolinn")[0].id, cat.search("kaolinn")[0].matched
    /// ('kaolin', 'guess')
    /// >>> cat.search("56-81-5")[0].by
    /// 'cas'
    fn search(&self, text: &str, py: Python<'_>) -> Outcome<Rows<SearchHit>> {
        let hits = py.detach(|| self.0.search(text))?;
        let rows: Rows<SearchHit> = hits.iter().map(SearchHit::from).collect();
        let text = text.to_string();
        Ok(rows.shown(move || Ok(hits_page(&text, &hits))))
    }

    /// The raw materials that are all of what is asked: of one `form` (`td.material.forms()`), with a largest ingredient
    /// or a largest surfactant of one class (`class_`, `td.material.classes()`), stated to be `having` and `without` each
    /// attribute (`td.material.attributes()`), with a level for one product `use`, of one usual `phase`, `holding` a
    /// substance by name or CAS number, with `starter` values or without. Several words of one kind: one of them, but
    /// each attribute. What is not known of a raw material meets nothing; those are named on the page, and are rows too
    /// with `or_not_known`.
    ///
    /// >>> "btms-25" in [material.id for material in td.Catalogue.starter().filter(class_="cationic-surfactant")]
    /// True
    ///
    /// >>> cat = td.Catalogue.starter()
    /// >>> table = cat.filter(form="powder", class_="anionic-surfactant", without="sulfate", use="shampoo-bar")
    /// >>> "sci-powder" in [material.id for material in table]
    /// True
    /// >>> cat.filter(use="shampoo bar")
    /// Traceback (most recent call last):
    /// ...
    /// tenside.errors.UnknownName: unknown product use (found "shampoo bar"); allowed: cleansing-bar, conditioner-bar, rinse-off, scent-rinse-off, shampoo-bar; did you mean "shampoo-bar"?
    #[pyo3(signature = (*, form=None, class_=None, having=None, without=None, r#use=None, phase=None, holding=None, starter=None, or_not_known=false))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn filter(
        &self,
        py: Python<'_>,
        form: Option<Words<Form>>,
        class_: Option<Words<Class>>,
        having: Option<Words<Attribute>>,
        without: Option<Words<Attribute>>,
        r#use: Option<Names>,
        phase: Option<Names>,
        holding: Option<Names>,
        starter: Option<bool>,
        or_not_known: bool,
    ) -> Outcome<Rows<Material>> {
        let mut filter = starter.map_or_else(Filter::new, |starter| Filter::new().starter(starter));
        filter = form.iter().flat_map(|words| &words.0).fold(filter, |filter, form| filter.form(*form));
        filter = class_.iter().flat_map(|words| &words.0).fold(filter, |filter, class| filter.class(*class));
        filter = having.iter().flat_map(|words| &words.0).fold(filter, |filter, attribute| filter.with(*attribute));
        filter = without.iter().flat_map(|words| &words.0).fold(filter, |filter, attribute| filter.without(*attribute));
        filter =
            r#use.iter().flat_map(|names| &names.0).fold(filter, |filter, product_use| filter.product_use(product_use));
        filter = phase.iter().flat_map(|names| &names.0).fold(filter, |filter, phase| filter.phase(phase));
        filter = holding.iter().flat_map(|names| &names.0).fold(filter, |filter, substance| filter.holding(substance));
        let mut found = py.detach(|| self.0.filter(&filter))?;
        if or_not_known {
            let open = std::mem::take(&mut found.not_known);
            found.materials.extend(open);
        }
        let rows: Rows<Material> = found.materials.iter().map(|material| Material(Arc::clone(material))).collect();
        Ok(rows.shown(move || Ok(found.page())))
    }

    /// The product uses that its raw materials state levels for.
    ///
    /// >>> td.Catalogue.starter().product_uses()[-1]
    /// 'shampoo-bar'
    fn product_uses(&self) -> Vec<String> {
        self.0.product_uses().into_iter().map(str::to_string).collect()
    }

    /// The phases that its raw materials go to unless a line says otherwise.
    fn phases(&self) -> Vec<String> {
        self.0.phases().into_iter().map(str::to_string).collect()
    }

    /// As `material`.
    fn __getitem__(&self, name: &str) -> Outcome<Material> {
        Ok(Material(Arc::clone(self.0.material(name)?)))
    }

    /// Each raw material.
    fn __iter__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyIterator>> {
        PyList::new(py, self.0.materials().map(|material| Material(Arc::clone(material))))?.try_iter()
    }

    fn __len__(&self) -> usize {
        self.0.materials().count()
    }

    /// True if the name means one of its raw materials, or for one of these.
    fn __contains__(&self, name: AMaterial) -> bool {
        match name {
            AMaterial::Name(name) => self.0.material(&name).is_ok(),
            AMaterial::Material(material) => self.0.find(material.0.id()) == Some(&material.0),
        }
    }
}

fn listed<T: Named>() -> Rows<ListedWord> {
    T::ALL.iter().map(|word| ListedWord { word: word.slug().to_string(), meaning: word.about().to_string() }).collect()
}

/// The forms of raw materials, `words.Form`, each with what it means.
///
/// >>> [row.word for row in td.material.forms()][:3]
/// ['powder', 'needles', 'flakes']
#[pyfunction]
pub(crate) fn forms() -> Rows<ListedWord> {
    listed::<Form>()
}

/// The classes of substances, `words.Class`, each with what it means.
///
/// >>> td.material.classes()[0].word
/// 'anionic-surfactant'
#[pyfunction]
pub(crate) fn classes() -> Rows<ListedWord> {
    listed::<Class>()
}

/// The yes-or-no attributes of substances and raw materials, `words.Attribute`, each with what it means.
///
/// >>> td.material.attributes()[1].meaning
/// 'Made from palm or palm-kernel oil.'
#[pyfunction]
pub(crate) fn attributes() -> Rows<ListedWord> {
    listed::<Attribute>()
}

/// The cautions of raw materials, `words.Caution`, each with what it means.
///
/// >>> "eye-damage" in [row.word for row in td.material.cautions()]
/// True
#[pyfunction]
pub(crate) fn cautions() -> Rows<ListedWord> {
    listed::<Caution>()
}

/// The markets whose lists reviews and labels know, `words.Market`, each with what it means.
///
/// >>> [row.word for row in td.material.markets()]
/// ['EU', 'US']
#[pyfunction]
pub(crate) fn markets() -> Rows<ListedWord> {
    listed::<Market>()
}

/// What products are used for, `words.Use`, each with what it means: what reviews, labels and use levels know.
///
/// >>> "shampoo-bar" in [row.word for row in td.material.product_uses()]
/// True
#[pyfunction]
pub(crate) fn product_uses() -> Rows<ListedWord> {
    listed::<Use>()
}
