//! Rescues as documents, and back. Masses are in grams.

use std::sync::Arc;

use super::bowl::InBowl;
use super::{Addition, Bowl, Means, Rescue, Shortfall};
use crate::brief::{BriefDocument, read_brief};
use crate::catalogue::read_back;
use crate::catalogue::{Catalogue, ContentsDocument, Winner, read_contents};
use crate::document::{Named, Number, TableView, form, forms, written};

form! {
    /// A line in the bowl.
    InBowlDocument of InBowl, |it| {
        /// The line of the brief, or a name of its own.
        line: String,
        /// The raw material, where it is not that of the line.
        #[serde(skip_serializing_if = "Option::is_none")]
        material: Option<String> = it.material.as_ref().map(|material| material.id().to_string()),
        /// Its lot.
        #[serde(skip_serializing_if = "Option::is_none")]
        lot: Option<String> = it.material.as_ref().and_then(|material| Some(material.lot()?.id().to_string())),
        /// Its mass.
        mass: Number,
    }
}

written! {
    /// What is left of a line's raw material.
    struct StockDocument {
        /// The line.
        line: String,
        /// What is left.
        mass: Number,
    }
}

form! {
    /// What there is to mend a bowl with.
    MeansDocument of Means, |it| {
        /// What the bowl can hold.
        #[serde(skip_serializing_if = "Option::is_none")]
        most: Option<Number> = it.most.as_ref().map(Number::from),
        /// What is left of raw materials.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        stock: Vec<StockDocument> = it.stock.iter().map(|(line, mass)| StockDocument { line: line.clone(), mass: mass.into() }).collect(),
        /// The division of the scale that additions are weighed on.
        #[serde(skip_serializing_if = "Option::is_none")]
        division: Option<Number> = it.division.as_ref().map(Number::from),
    }
}

form! {
    /// So much of a line to add.
    AdditionDocument of Addition, |it| {
        /// The line of the brief.
        line: String,
        /// The exact mass.
        exact: Number,
        /// The mass to weigh.
        mass: Number,
    }
}

form! {
    /// What is not met.
    ShortfallDocument of Shortfall, |it| {
        /// The range, split or requirement, in words.
        asked: String,
        /// Its value then; null where it is not known.
        value: Option<Number> = it.value.as_ref().map(Number::from),
        /// The limit that it should keep.
        limit: Number,
        /// The unit of both.
        unit: String,
        /// True if the exact additions meet it and their rounding alone does not.
        is_rounding: bool,
    }
}

form! {
    /// What to add to a bowl in which something went wrong. Masses are in grams.
    RescueDocument of Rescue as "rescue/1", |it, materials| {
        /// The brief that the bowl should meet.
        brief: BriefDocument = BriefDocument::of(it.target(), materials),
        /// What was in the bowl.
        bowl: Vec<InBowlDocument> = forms(&it.bowl().lines),
        /// Raw materials and lots of the bowl.
        contents: ContentsDocument =
            ContentsDocument::of_lines(it.bowl().lines.iter().filter_map(|line| line.material.as_ref()), materials),
        /// What there was to mend it with.
        means: MeansDocument,
        /// What can be done: "rescued", "as-near-as-can-be", "throw-away".
        verdict: &'static str = it.verdict().slug(),
        /// What to add.
        additions: Vec<AdditionDocument> = forms(it.additions()),
        /// The mass of everything then; null where only throwing away is left.
        total: Option<Number> = it.answer().map(|_| it.total().into()),
        /// What is not met then.
        shortfalls: Vec<ShortfallDocument> = forms(it.shortfalls()),
        /// The total that would bring everything back, where bowl or stock are too small for it.
        needed: Option<Number> = it.needed().map(Number::from),
        /// So much of the bowl can be brought back, if the rest of it is thrown away first.
        keep: Option<Number> = it.keep().map(Number::from),
        /// In a sentence.
        sentence: String,
    }
}

fn read_bowl(view: &TableView<'_>, catalogue: &Catalogue) -> Option<Bowl> {
    let embedded =
        view.table("contents", |view| Some(read_contents(view, catalogue.substances(), |id| catalogue.find(id))));
    let catalogue = match embedded {
        Some(embedded) => view.accept("contents", catalogue.merge(&embedded, Winner::Theirs))?,
        None => catalogue.clone(),
    };
    let mut complete = true;
    let lines = view.tables("bowl", |view| {
        let read = || {
            let line = view.needed("line", |view| view.text("line")).map(str::to_string);
            let (material, lot) = (view.text("material"), view.text("lot"));
            let mass = view.needed("mass", |view| view.grams("mass"));
            let material = match material {
                None => None,
                Some(id) => {
                    let material = view.accept("material", catalogue.material(id))?;
                    Some(match lot {
                        Some(lot) => {
                            Arc::new(view.accept("lot", catalogue.lot(lot).and_then(|lot| material.with_lot(lot)))?.0)
                        }
                        None => Arc::clone(material),
                    })
                }
            };
            Some((line?, material, mass?))
        };
        let line = read();
        complete &= line.is_some();
        line
    });
    let mut bowl = Bowl::new();
    for (line, material, mass) in lines {
        let joined = match material {
            Some(material) => bowl.with_material(&line, &material, mass),
            None => bowl.with(&line, mass),
        };
        bowl = view.accept("bowl", joined)?;
    }
    complete.then_some(bowl)
}

fn read_means(view: &TableView<'_>) -> Option<Means> {
    let mut means = Means::new();
    if let Some(most) = view.grams("most") {
        means = means.at_most(most);
    }
    let stock = view.tables("stock", |view| {
        Some((
            view.needed("line", |view| view.text("line"))?.to_string(),
            view.needed("mass", |view| view.grams("mass"))?,
        ))
    });
    for (line, left) in stock {
        means = view.accept("stock", means.stock(&line, left))?;
    }
    if let Some(division) = view.grams("division") {
        means = means.on_a_scale_of(division);
    }
    Some(means)
}

read_back! {
    /// Reads a rescue back.
    Rescue, &["brief", "bowl", "contents", "means"], |view, catalogue, watch| {
        let brief = view.needed("brief", |view| view.table("brief", |view| read_brief(view, catalogue)));
        let bowl = read_bowl(view, catalogue);
        let means = view.needed("means", |view| view.table("means", read_means));
        view.accept("bowl", brief?.watched_by(watch).rescue(&bowl?, &means?))
    }
}
