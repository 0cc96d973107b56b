//! Catalogues in documents, and the part of them that formulas and briefs embed.

use std::collections::HashSet;
use std::sync::Arc;

use indexmap::IndexMap;
use serde::Serialize;

use super::kind::unknown_material;
use super::resolve::resolve;
use super::{Alias, AliasTable, Catalogue, Contents};
use crate::document::{Materials, Notation, Reader, TableView, shown, write};
use crate::error::{Error, Fault, FaultKind};
use crate::material::{Lot, LotDocument, Material, MaterialDocument, PartsFirst, read_lot, read_material_row};
use crate::substance::{Substance, SubstanceDocument, SubstanceTable, read_substance};

/// A catalogue as documents hold it.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct CatalogueDocument {
    /// Kind and version.
    tenside: &'static str,
    /// What it holds.
    #[serde(flatten)]
    contents: ContentsDocument,
}

/// Substances, materials, lots and names: what a catalogue holds and what formulas and briefs embed.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(crate) struct ContentsDocument {
    /// The source of whatever states none of its own; where a catalogue is written, the one that most of its rows have.
    #[serde(skip_serializing_if = "Option::is_none")]
    source: Option<String>,
    /// Substances beyond the embedded ones, or that say something else of them.
    #[serde(skip_serializing_if = "Vec::is_empty", rename = "substance")]
    substances: Vec<SubstanceDocument>,
    /// Raw materials.
    #[serde(skip_serializing_if = "Vec::is_empty", rename = "material")]
    materials: Vec<MaterialDocument>,
    /// Lots of raw materials.
    #[serde(skip_serializing_if = "Vec::is_empty", rename = "lot")]
    lots: Vec<LotDocument>,
    /// Names that could mean several raw materials.
    #[serde(skip_serializing_if = "Vec::is_empty", rename = "alias")]
    aliases: Vec<AliasDocument>,
}

#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct AliasDocument {
    /// As people write it.
    name: String,
    /// Ids of the raw materials it could mean.
    candidates: Vec<String>,
    /// What the confusion is about.
    #[serde(skip_serializing_if = "Option::is_none")]
    note: Option<String>,
}

impl From<&Catalogue> for CatalogueDocument {
    fn from(catalogue: &Catalogue) -> Self {
        CatalogueDocument { tenside: "catalogue/1", contents: ContentsDocument::with_substances(catalogue) }
    }
}

impl ContentsDocument {
    /// All that a catalogue holds: substances in the order of its table, those that its materials name or that are its
    /// own.
    fn with_substances(catalogue: &Catalogue) -> Self {
        let used = Used::of(catalogue.materials(), catalogue.lots());
        let own: HashSet<&str> = catalogue.own_substances().map(|substance| substance.inci()).collect();
        let kept = catalogue
            .substances()
            .iter()
            .filter(|substance| own.contains(substance.inci()) || used.substances.contains_key(substance.inci()));
        let substances = kept.map(|substance| (substance.inci(), substance.as_ref())).collect();
        let mut contents = Used { substances, ..used }.written();
        let alias = |alias: &Alias| AliasDocument {
            name: alias.name.clone(),
            candidates: alias.candidates.clone(),
            note: alias.note.clone(),
        };
        contents.aliases = catalogue.aliases().iter().map(alias).collect();
        contents
    }

    /// What the lines of a formula or brief use: whole, or only what a catalogue of raw materials need not have, lots
    /// and what they are of.
    pub(crate) fn of_lines<'a>(used: impl Iterator<Item = &'a Arc<Material>>, materials: Materials) -> Self {
        let used = used.filter(|material| materials == Materials::Embedded || material.lot().is_some());
        let (mut typical, mut lots) = (Vec::new(), IndexMap::new());
        for material in used {
            typical.push(material.typical().unwrap_or(material));
            lots.extend(material.lot().map(|lot| (lot.id(), lot)));
        }
        ContentsDocument::of(typical.into_iter(), lots.into_values())
    }

    /// What lines use, with the raw materials and substances of a catalogue that are named beside them: what is written
    /// whole is read back without a catalogue.
    pub(crate) fn of_lines_and_names<'a>(
        lines: impl Iterator<Item = &'a Arc<Material>>,
        (mut substances, mut materials): (Vec<&str>, Vec<&str>),
        catalogue: &'a Catalogue,
    ) -> Self {
        // Equal measures may name them in another order.
        substances.sort_unstable();
        materials.sort_unstable();
        let named = materials.into_iter().filter_map(|id| catalogue.find(id));
        let (typical, lots): (Vec<_>, Vec<_>) =
            lines.chain(named).map(|material| (material.typical().unwrap_or(material), material.lot())).unzip();
        let mut used = Used::of(typical.into_iter(), lots.into_iter().flatten());
        let named = substances.into_iter().filter_map(|name| catalogue.substances().named(name).ok());
        let embedded = SubstanceTable::starter();
        let own = named.filter(|known| embedded.find(known.inci()) != Some(*known));
        used.substances.extend(own.map(|known| (known.inci(), known.as_ref())));
        used.written()
    }

    /// The given materials and lots, the parts of premixes before the premix, each with the substances it names.
    pub(crate) fn of<'a>(
        materials: impl Iterator<Item = &'a Arc<Material>>,
        lots: impl Iterator<Item = &'a Arc<Lot>>,
    ) -> Self {
        Used::of(materials, lots).written()
    }
}

/// What a document is to hold, each thing once.
struct Used<'a> {
    substances: IndexMap<&'a str, &'a Substance>,
    materials: IndexMap<&'a str, &'a Material>,
    lots: IndexMap<&'a str, &'a Lot>,
}

impl<'a> Used<'a> {
    fn of(materials: impl Iterator<Item = &'a Arc<Material>>, lots: impl Iterator<Item = &'a Arc<Lot>>) -> Self {
        let mut parts_first = PartsFirst::default();
        for material in materials {
            parts_first.add(material);
        }
        let mut ordered: IndexMap<&str, &Material> = IndexMap::new();
        let mut lots: IndexMap<&str, &Lot> = lots.map(|lot| (lot.id(), lot.as_ref())).collect();
        for material in parts_first.into_vec() {
            ordered.entry(material.id()).or_insert(material.typical().map_or(material, |typical| typical.as_ref()));
            lots.extend(material.lot().map(|lot| (lot.id(), lot.as_ref())));
        }
        let mut substances: IndexMap<&str, &Substance> = IndexMap::new();
        for material in ordered.values() {
            let rows = material.composition().constituents().iter().map(|row| row.substance());
            for substance in rows
                .chain(material.contained().iter().map(|part| part.substance()))
                .filter(|substance| !substance.is_unspecified())
            {
                substances.insert(substance.inci(), substance);
            }
        }
        Used { substances, materials: ordered, lots }
    }

    /// The source that most rows have, of those the one that comes first, if it is more than one row's.
    fn source(&self) -> Option<&'a str> {
        let mut counts: IndexMap<&str, usize> = IndexMap::new();
        let sources = self
            .substances
            .values()
            .map(|substance| substance.source())
            .chain(self.materials.values().map(|material| material.source()));
        sources.for_each(|source| *counts.entry(source).or_default() += 1);
        let most = counts.values().copied().max().filter(|most| *most > 1)?;
        counts.into_iter().find(|(_, count)| *count == most).map(|(source, _)| source)
    }

    fn written(&self) -> ContentsDocument {
        let source = self.source();
        ContentsDocument {
            source: source.map(str::to_string),
            aliases: Vec::new(),
            substances: self.substances.values().map(|substance| SubstanceDocument::of(substance, source)).collect(),
            materials: self.materials.values().map(|material| MaterialDocument::of(material, source)).collect(),
            lots: self.lots.values().map(|lot| LotDocument::from(*lot)).collect(),
        }
    }
}

/// Reads substances, materials, lots and aliases of a document over the substances known already. A lot may also be of
/// a material that the document does not have and `shelf` does; that one comes with it.
pub(crate) fn read_contents<'s>(
    view: &TableView<'_>,
    known: &Arc<SubstanceTable>,
    shelf: impl Fn(&str) -> Option<&'s Arc<Material>>,
) -> Catalogue {
    let source = view.prose("source");
    let mut substances = Arc::clone(known);
    let mut own = SubstanceTable::default();
    view.tables("substance", |view| {
        let substance = Arc::new(read_substance(view, source.as_deref())?);
        view.accept("inci", own.insert(Arc::clone(&substance)))?;
        // A document speaks for itself: what it says of a substance takes the place of what was known.
        Arc::make_mut(&mut substances).replace(substance);
        Some(())
    });
    let read = view.tables("lot", |view| Some((Arc::new(read_lot(view)?), view.mark(), view.mark_of("material"))));
    let mut lots: IndexMap<String, Arc<Lot>> = IndexMap::new();
    for (lot, mark, _) in &read {
        if lots.insert(lot.id().to_string(), Arc::clone(lot)).is_some() {
            view.fault_at(*mark, Fault::new(FaultKind::Duplicate, "a lot occurs twice").value(shown(lot.id())));
        }
    }
    let (mut materials, named) = read_materials(view, &substances, &lots, source.as_deref());
    for (lot, mark, material_mark) in &read {
        if !materials.contains_key(lot.material())
            && !named.contains(lot.material())
            && let Some(known) = shelf(lot.material())
        {
            materials.insert(lot.material().to_string(), Arc::new(known.with_substances_of(&substances)));
        }
        match materials.get(lot.material()) {
            Some(material) => {
                let faults = material.with_lot(lot).err().map_or_else(Vec::new, Error::into_faults);
                faults.into_iter().for_each(|fault| view.fault_at(*mark, fault));
            }
            // What is wrong with a material that is there but could not be read is reported already.
            None if named.contains(lot.material()) => {}
            None => {
                let fault = unknown_in(view, lot.material(), materials.keys());
                view.fault_at(*material_mark, fault.at(format!("lot {}, material", shown(lot.id()))));
            }
        }
    }
    let aliases = read_aliases(view, &materials, &named);
    Catalogue::of(Contents { substances, materials, lots, aliases, ..Contents::default() })
}

/// The fault for a material that is not in the document; the nearest is looked for while faults are listed.
fn unknown_in<'a>(view: &TableView<'_>, name: &str, known: impl Iterator<Item = &'a String>) -> Fault {
    unknown_material("raw material", name, known.take(if view.is_full() { 0 } else { usize::MAX }).map(String::as_str))
}

/// Reads the materials of a document, and the ids that stand there, those of materials at fault too.
pub(super) fn read_materials(
    view: &TableView<'_>,
    substances: &SubstanceTable,
    lots: &IndexMap<String, Arc<Lot>>,
    source: Option<&str>,
) -> (IndexMap<String, Arc<Material>>, HashSet<String>) {
    let mut named = HashSet::new();
    let rows = view.tables("material", |view| {
        if let Some(id) = view.text("id")
            && !named.insert(id.to_string())
        {
            view.fault(
                "id",
                Fault::new(FaultKind::Duplicate, "a material occurs twice")
                    .value(shown(id))
                    .remedy("rename or remove one"),
            );
        }
        read_material_row(view, substances, source)
    });
    let materials = resolve(rows, &named, lots, &mut |mark, fault| view.fault_at(mark, fault));
    (materials, named)
}

pub(super) fn read_aliases(
    view: &TableView<'_>,
    materials: &IndexMap<String, Arc<Material>>,
    named: &HashSet<String>,
) -> AliasTable {
    let mut table = AliasTable::default();
    for alias in view.tables("alias", |view| {
        let name = view.needed_name("name");
        let candidates: Vec<String> = view.texts("candidates").into_iter().map(str::to_string).collect();
        let note = view.prose("note");
        if candidates.is_empty() {
            view.fault("candidates", Fault::new(FaultKind::Missing, "an alias without candidates"));
        }
        for id in candidates.iter().filter(|id| !materials.contains_key(*id) && !named.contains(*id)) {
            view.fault("candidates", unknown_in(view, id, materials.keys()));
        }
        Some(Alias { name: name?, candidates, note })
    }) {
        table.insert(alias);
    }
    table
}

impl Catalogue {
    /// Reads a catalogue document. Its materials may name the embedded substances and those it defines itself. A lot
    /// may be of a material of the starter catalogue, which comes with it.
    ///
    /// ```
    /// use tenside::catalogue::Catalogue;
    /// use tenside::document::Notation;
    /// let text = r#"
    /// tenside = "catalogue/1"
    /// source = "our supplier's data sheets (invented for this example)"
    /// [[material]]
    /// id = "house-glycerin"
    /// name = "Glycerin 99.5 %"
    /// form = "liquid"
    /// constituents = [{ inci = "GLYCERIN", typical = 99.5, low = 99, high = 100 }, { inci = "WATER", typical = 0.5 }]
    /// "#;
    /// let catalogue = Catalogue::read(text, Notation::Toml)?;
    /// assert_eq!(catalogue.materials().count(), 1);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// Every fault of the document at once, with line and column.
    pub fn read(text: &str, notation: Notation) -> Result<Self, Error> {
        Catalogue::read_over(text, notation, &SubstanceTable::starter())
    }

    /// Reads a catalogue document whose materials may also name the given substances.
    ///
    /// # Errors
    /// Every fault of the document at once, with line and column.
    pub fn read_over(text: &str, notation: Notation, substances: &Arc<SubstanceTable>) -> Result<Self, Error> {
        Reader::read(text, notation, |view| {
            view.version("catalogue/1");
            Some(read_contents(view, substances, |id| Catalogue::embedded().find(id)))
        })
    }

    /// Writes the catalogue with the substances that its materials name and those of its own. What is written reads
    /// back to an equal catalogue, by [`Catalogue::read_over`] where it was read over other substances than the
    /// embedded ones.
    ///
    /// # Errors
    /// A premix that holds another raw material, or another lot, than the catalogue has under that name.
    pub fn write(&self, notation: Notation) -> Result<String, Error> {
        self.check_parts()?;
        write(&CatalogueDocument::from(self), notation)
    }

    /// The JSON Schema of catalogue documents.
    ///
    /// ```
    /// assert!(tenside::catalogue::Catalogue::schema().contains("\"$schema\""));
    /// ```
    #[cfg(feature = "schema")]
    #[must_use]
    pub fn schema() -> String {
        crate::document::schema_text::<CatalogueDocument>("catalogue")
    }
}
