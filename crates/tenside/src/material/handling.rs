//! What a raw material calls for of whoever handles it, where nobody stated it.

#![expect(clippy::disallowed_types, reason = "embedded data, read once")]

use std::sync::LazyLock;

use super::{Caution, Form, Material};
use crate::document::{Notation, Reader};
use crate::number::{Exact, Ppm};

/// A substance that makes a raw material corrosive.
struct Corrosive {
    inci: String,
    from: Ppm,
    /// It gets hot when it dissolves in water.
    heats: bool,
}

static CORROSIVE: LazyLock<Vec<Corrosive>> = LazyLock::new(|| {
    let known = Reader::read(include_str!("../../data/handling.toml"), Notation::Toml, |view| {
        view.version("handling/1");
        view.prose("source");
        Some(view.tables("corrosive", |view| {
            let (inci, from) = (view.needed_name("inci"), view.ppm("from"));
            Some(Corrosive { inci: inci?, from: from?, heats: view.boolean("heats").unwrap_or(false) })
        }))
    });
    // The embedded file is read by a test; a fault there is a fault of the build.
    known.unwrap_or_else(|error| panic!("handling.toml: {error}"))
});

impl Material {
    /// Cautions that what it is calls for where nobody stated one, each with what it rests on. A powdered surfactant is
    /// weighed like those of which the dust is known to irritate (common practice, no source).
    pub(crate) fn unstated_cautions(&self) -> Vec<(Caution, String)> {
        let mut found = Vec::new();
        if self.cautions().is_empty() && self.form() == Form::Powder && self.main_class().is_surfactant() {
            found.push((Caution::IrritantDust, "powdered surfactant; none stated".to_string()));
        }
        if let Some(corrosive) = self.corrosive().find(|(_, stated)| !stated).map(|(corrosive, _)| corrosive) {
            let why = format!("holds {}; none stated", corrosive.inci);
            found.extend([Caution::Corrosive, Caution::EyeDamage].map(|caution| (caution, why.clone())));
        }
        found
    }

    /// Is it corrosive: stated so, or by what it holds where nothing is stated?
    pub(crate) fn is_corrosive(&self) -> bool {
        self.cautions().contains(&Caution::Corrosive) || self.corrosive().any(|(_, stated)| !stated)
    }

    /// Does it get hot in water, as lye does?
    pub(crate) fn heats_in_water(&self) -> bool {
        self.corrosive().any(|(corrosive, _)| corrosive.heats)
    }

    /// What makes it corrosive, and whether a caution is stated of what holds it. A share that is not known is as much
    /// as it may be.
    fn corrosive(&self) -> impl Iterator<Item = (&'static Corrosive, bool)> {
        let leaves = self.leaves();
        CORROSIVE.iter().filter_map(move |corrosive| {
            let mut holding = Exact::ZERO;
            let mut stated = true;
            for (leaf, share) in &leaves {
                let rows = leaf.composition.constituents().iter();
                for row in rows.filter(|row| row.substance().inci() == corrosive.inci) {
                    holding += row.share().or(row.high()).unwrap_or(Ppm::WHOLE).percent() * share;
                    stated &= !leaf.cautions.is_empty();
                }
            }
            (holding >= corrosive.from.percent()).then_some((corrosive, stated))
        })
    }
}
