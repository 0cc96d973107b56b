//! Catalogues in documents, and the part of them that formulas and briefs embed.

use std::collections::HashMap;
use std::sync::Arc;

use indexmap::IndexMap;
use schemars::JsonSchema;
use serde::Serialize;

use super::{Alias, AliasTable, Catalogue};
use crate::document::TableView;
use crate::error::{Fault, FaultKind};
use crate::material::{Composition, Lot, LotDocument, Material, MaterialDocument, MaterialRow, read_lot, read_material_row};
use crate::substance::{Substance, SubstanceDocument, SubstanceTable, read_substance};

/// A catalogue as documents hold it.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CatalogueDocument {
    /// Kind and version.
    tenside: &'static str,
    /// What it holds.
    #[serde(flatten)]
    contents: ContentsDocument,
    /// Other names.
    #[serde(skip_serializing_if = "Vec::is_empty", rename = "alias")]
    aliases: Vec<AliasDocument>,
}

/// Substances, materials and lots: what a catalogue holds and what formulas and briefs embed.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(crate) struct ContentsDocument {
    #[serde(skip_serializing_if = "Vec::is_empty", rename = "substance")]
    substances: Vec<SubstanceDocument>,
    #[serde(skip_serializing_if = "Vec::is_empty", rename = "material")]
    materials: Vec<MaterialDocument>,
    #[serde(skip_serializing_if = "Vec::is_empty", rename = "lot")]
    lots: Vec<LotDocument>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct AliasDocument {
    name: String,
    candidates: Vec<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    note: Option<String>,
}

impl From<&Catalogue> for CatalogueDocument {
    fn from(catalogue: &Catalogue) -> Self {
        CatalogueDocument {
            tenside: "catalogue/1",
            contents: ContentsDocument::of(catalogue.materials(), catalogue.lots()),
            aliases: catalogue
                .aliases
                .iter()
                .map(|alias| AliasDocument { name: alias.name.clone(), candidates: alias.candidates.clone(), note: alias.note.clone() })
                .collect(),
        }
    }
}

impl ContentsDocument {
    /// The given materials and lots, the parts of premixes before the premix, each with the substances it names.
    pub(crate) fn of<'a>(materials: impl Iterator<Item = &'a Arc<Material>>, lots: impl Iterator<Item = &'a Arc<Lot>>) -> Self {
        let mut ordered: IndexMap<&str, &Material> = IndexMap::new();
        for material in materials {
            collect(material, &mut ordered);
        }
        let mut substances: IndexMap<&str, &Substance> = IndexMap::new();
        for material in ordered.values() {
            let rows = material.composition().constituents().iter().map(|row| row.substance());
            for substance in rows.chain(material.contained().iter().map(|part| part.substance())).filter(|substance| !substance.is_unspecified()) {
                substances.insert(substance.inci(), substance);
            }
        }
        ContentsDocument {
            substances: substances.values().map(|substance| SubstanceDocument::from(*substance)).collect(),
            materials: ordered.values().map(|material| MaterialDocument::from(*material)).collect(),
            lots: lots.map(|lot| LotDocument::from(lot.as_ref())).collect(),
        }
    }
}

fn collect<'a>(material: &'a Material, ordered: &mut IndexMap<&'a str, &'a Material>) {
    if let Composition::Premix(parts) = material.composition() {
        for (part, _) in parts {
            collect(part, ordered);
        }
    }
    ordered.entry(material.id()).or_insert(material);
}

/// What was read.
pub(crate) struct Contents {
    pub(crate) substances: Arc<SubstanceTable>,
    pub(crate) materials: IndexMap<String, Arc<Material>>,
    pub(crate) lots: IndexMap<String, Arc<Lot>>,
    pub(crate) aliases: AliasTable,
}

impl Contents {
    pub(crate) fn into_catalogue(self) -> Catalogue {
        Catalogue { substances: self.substances, materials: self.materials, lots: self.lots, aliases: self.aliases }
    }
}

/// Reads substances, materials, lots and aliases of a document over the substances known already.
pub(crate) fn read_contents(view: &TableView<'_>, known: &Arc<SubstanceTable>) -> Contents {
    let source = view.prose("source");
    let mut substances = Arc::clone(known);
    view.tables("substance", |view| {
        let substance = read_substance(view, source.as_deref())?;
        view.accept("inci", Arc::make_mut(&mut substances).insert(Arc::new(substance)))
    });
    let rows = view.tables("material", |view| read_material_row(view, &substances, source.as_deref()));
    let materials = resolve(view, rows);
    let mut lots: IndexMap<String, Arc<Lot>> = IndexMap::new();
    view.tables("lot", |view| {
        let lot = Arc::new(read_lot(view)?);
        match materials.get(lot.material()) {
            Some(material) => {
                view.accept("", material.with_lot(&lot))?;
            }
            None => {
                view.fault("material", crate::document::unknown_name("raw material", lot.material(), materials.keys().map(String::as_str)));
            }
        }
        if lots.insert(lot.id().to_string(), Arc::clone(&lot)).is_some() {
            view.fault("id", Fault::new(FaultKind::Duplicate, "a lot stands twice").value(format!("{:?}", lot.id())));
        }
        Some(())
    });
    let aliases = read_aliases(view, &materials);
    Contents { substances, materials, lots, aliases }
}

pub(super) fn read_aliases(view: &TableView<'_>, materials: &IndexMap<String, Arc<Material>>) -> AliasTable {
    let mut table = AliasTable::default();
    for alias in view.tables("alias", |view| {
        let name = view.needed_name("name");
        let candidates: Vec<String> = view.texts("candidates").into_iter().map(str::to_string).collect();
        let note = view.prose("note");
        if candidates.is_empty() {
            view.fault("candidates", Fault::new(FaultKind::Missing, "an alias without candidates"));
        }
        for id in candidates.iter().filter(|id| !materials.contains_key(*id)) {
            view.fault("candidates", crate::document::unknown_name("raw material", id, materials.keys().map(String::as_str)));
        }
        Some(Alias { name: name?, candidates, note })
    }) {
        table.insert(alias);
    }
    table
}

/// Puts the parts into premixes, wherever in the document they stand; a premix that contains itself is refused.
pub(crate) fn resolve(view: &TableView<'_>, rows: Vec<MaterialRow>) -> IndexMap<String, Arc<Material>> {
    let mut index: HashMap<String, usize> = HashMap::with_capacity(rows.len());
    for (place, row) in rows.iter().enumerate() {
        if index.insert(row.material.id().to_string(), place).is_some() {
            let fault = Fault::new(FaultKind::Duplicate, "a material stands twice").value(format!("{:?}", row.material.id()));
            view.fault_at(row.position, fault.remedy("rename or remove one"));
        }
    }
    let mut resolver = Resolver { view, rows: &rows, index: &index, done: vec![None; rows.len()], failed: vec![false; rows.len()] };
    for place in 0..rows.len() {
        resolver.resolve(place);
    }
    resolver.done.into_iter().flatten().map(|material| (material.id().to_string(), material)).collect()
}

struct Resolver<'r> {
    view: &'r TableView<'r>,
    rows: &'r [MaterialRow],
    index: &'r HashMap<String, usize>,
    done: Vec<Option<Arc<Material>>>,
    failed: Vec<bool>,
}

impl Resolver<'_> {
    /// Depth-first without recursion, so that a chain of a million premixes cannot overflow the stack.
    fn resolve(&mut self, start: usize) {
        let mut path = vec![start];
        while let Some(&place) = path.last() {
            if self.done[place].is_some() || self.failed[place] {
                path.pop();
                continue;
            }
            let row = &self.rows[place];
            let mut parts = Vec::with_capacity(row.premix.len());
            let mut pending = None;
            for part in &row.premix {
                let Some(&inner) = self.index.get(&part.material) else {
                    let fault = crate::document::unknown_name("raw material", &part.material, self.index.keys().map(String::as_str));
                    self.fail(place, fault);
                    break;
                };
                if path.contains(&inner) {
                    let chain: Vec<&str> = path.iter().skip_while(|step| **step != inner).chain([&inner]).map(|step| self.rows[*step].material.id()).collect();
                    self.fail(place, Fault::new(FaultKind::Loop, "a premix contains itself").value(chain.join(" > ")).remedy("take one of them out"));
                    break;
                }
                if self.failed[inner] {
                    // Reported at the part.
                    self.failed[place] = true;
                    break;
                }
                match &self.done[inner] {
                    Some(material) => parts.push((Arc::clone(material), part.share)),
                    None => {
                        pending = Some(inner);
                        break;
                    }
                }
            }
            if self.failed[place] {
                path.pop();
            } else if let Some(inner) = pending {
                path.push(inner);
            } else {
                self.finish(place, parts);
                path.pop();
            }
        }
    }

    fn finish(&mut self, place: usize, parts: Vec<(Arc<Material>, crate::number::Ppm)>) {
        let row = &self.rows[place];
        let material = row.material.clone();
        if row.premix.is_empty() {
            self.done[place] = Some(Arc::new(material));
            return;
        }
        match material.with_premix(parts) {
            Ok(material) => self.done[place] = Some(Arc::new(material)),
            Err(error) => error.into_faults().into_iter().for_each(|fault| self.fail(place, fault)),
        }
    }

    fn fail(&mut self, place: usize, fault: Fault) {
        self.failed[place] = true;
        let row = &self.rows[place];
        self.view.fault_at(row.position, fault.at(format!("material {:?}, premix", row.material.id())));
    }
}
