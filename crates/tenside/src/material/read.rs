//! Raw materials and lots read from documents.

use std::sync::Arc;

use super::{
    ActiveConvention, Caution, Certificate, Composition, Constituent, Contained, Declaration, Form, Lot, Material,
    PhRange, StatedActive, UseLevel,
};
use crate::bounds::Quantity;
use crate::document::{TableView, unknown_name};
use crate::error::{Error, Fault, FaultKind};
use crate::number::Ppm;
use crate::substance::{Substance, SubstanceTable, read_attributes};

/// A material read but for its premix parts, which may be defined further down.
pub(crate) struct MaterialRow {
    pub(crate) material: Material,
    pub(crate) premix: Vec<PremixPart>,
    /// Where it stands, for faults found when the parts are put in.
    pub(crate) mark: usize,
}

/// A part of a premix by name.
pub(crate) struct PremixPart {
    pub(crate) material: String,
    pub(crate) lot: Option<String>,
    pub(crate) share: Ppm,
}

impl Material {
    /// With the parts of a premix in place of the constituents.
    pub(crate) fn with_premix(mut self, parts: Vec<(Arc<Material>, Ppm)>) -> Result<Self, Error> {
        self.composition = Composition::premix(parts)?;
        Ok(self)
    }
}

/// Reads one material; `default_source` is the document's.
pub(crate) fn read_material_row(
    view: &TableView<'_>,
    substances: &SubstanceTable,
    default_source: Option<&str>,
) -> Option<MaterialRow> {
    if let Some(id) = view.text("id") {
        let shown: String = id.chars().take(60).collect();
        view.label(format!("material {shown:?}"));
    }
    let id = view.needed_slug("id");
    let name = view.needed_name("name");
    let form = view.needed("form", |view| view.choice::<Form>("form"));
    let source = view.prose("source").or_else(|| default_source.map(str::to_string));
    if source.is_none() {
        view.fault(
            "source",
            Fault::new(FaultKind::Missing, "values without a source")
                .remedy("state the source of the material, or one for the whole document"),
        );
    }
    let descending = view.boolean("descending").unwrap_or(false);
    let (constituents, complete) = read_constituents(view, substances);
    let contained =
        view.tables("contained", |view| read_contained(view, substances, source.as_deref().unwrap_or_default()));
    let has_premix = view.has("premix");
    let premix = view.tables("premix", |view| {
        let material = view.needed("material", |view| view.text("material"));
        let lot = view.text("lot").map(str::to_string);
        let share = view.needed("percent", |view| view.ppm("percent"));
        Some(PremixPart { material: material?.to_string(), lot, share: share? })
    });
    let composition = match (constituents, has_premix) {
        // A row that could not be read is reported already; the sum would only add a second, misleading fault.
        (Some(_), false) if !complete => None,
        (Some(rows), false) => view.accept(
            "constituents",
            if rows.iter().any(|row| row.share().is_some()) {
                Composition::stated(rows)
            } else {
                Composition::bounded(rows, descending)
            },
        ),
        (None, false) => {
            view.fault("", Fault::new(FaultKind::Missing, "a material without constituents or premix"));
            None
        }
        // A stand-in until the parts are known.
        (None, true) if view.count("premix") > 0 => Some(Composition::Premix(Vec::new())),
        (None, true) => {
            view.fault("premix", Fault::new(FaultKind::Missing, "a premix without parts"));
            None
        }
        (Some(_), true) => {
            view.fault(
                "premix",
                Fault::new(FaultKind::Contradiction, "a material has constituents or a premix, not both"),
            );
            None
        }
    };
    let scent_reported_above = view.ppm("scent_reported_above");
    let remainder_may_hold = view.choices("remainder_may_hold").into_iter().collect();
    let rest = read_rest(view, source.as_deref().unwrap_or_default());
    let mut material = Material::new(&id?, &name?, form?, composition?).ok()?;
    material.source = source?;
    material.scent_reported_above = scent_reported_above;
    material.remainder_may_hold = remainder_may_hold;
    let difference_to = rest.difference_to.clone();
    rest.put_into(&mut material);
    let material = view.accept("contained", material.with_contained(contained))?;
    let material = match difference_to {
        Some(name) => view.accept("difference_to", material.with_difference_to(&name))?,
        None => material,
    };
    // A part that could not be read is reported already; the sum would only add a second, misleading fault.
    (premix.len() == view.count("premix")).then(|| MaterialRow { material, premix, mark: view.mark() })
}

/// What a material has besides names and composition.
struct Rest {
    phase: Option<String>,
    difference_to: Option<String>,
    active_convention: Option<ActiveConvention>,
    ph_range: Option<PhRange>,
    use_levels: Vec<UseLevel>,
    density: Option<rust_decimal::Decimal>,
    melting_point: Option<rust_decimal::Decimal>,
    highest_process_temperature: Option<rust_decimal::Decimal>,
    bound_water: Option<Ppm>,
    attributes: crate::substance::Attributes,
    cautions: Vec<Caution>,
    aliases: Vec<String>,
    starter: bool,
}

impl Rest {
    fn put_into(self, material: &mut Material) {
        if let Some(phase) = self.phase {
            material.phase = phase;
        }
        material.active_convention = self.active_convention;
        material.ph_range = self.ph_range;
        material.use_levels = self.use_levels;
        material.density = self.density;
        material.melting_point = self.melting_point;
        material.highest_process_temperature = self.highest_process_temperature;
        material.bound_water = self.bound_water;
        material.attributes = self.attributes;
        material.cautions = self.cautions.into_iter().collect();
        material.aliases = self.aliases;
        material.starter = self.starter;
    }
}

fn read_rest(view: &TableView<'_>, source: &str) -> Rest {
    // Density and bound water may carry a source of their own; it joins the material's in documents read by people, the
    // value counts here.
    let valued = |key: &'static str, inner: &'static str, quantity: Quantity| {
        if view.is_table(key) {
            view.table(key, |view| {
                view.prose("source");
                view.needed(inner, |view| view.decimal(inner, quantity))
            })
        } else {
            view.decimal(key, quantity)
        }
    };
    Rest {
        phase: view.name("phase"),
        difference_to: view.name("difference_to"),
        active_convention: view.choice("active_convention"),
        ph_range: view.table("ph_range", |view| read_ph_range(view, source)),
        use_levels: view.tables("use_levels", |view| read_use_level(view, source)),
        density: valued("density", "value", Quantity::Density),
        melting_point: view.decimal("melting_point", Quantity::Temperature),
        highest_process_temperature: view.decimal("highest_process_temperature", Quantity::Temperature),
        bound_water: valued("bound_water", "share", Quantity::Percent)
            .and_then(|percent| view.accept("bound_water", Ppm::from_percent(percent))),
        attributes: view.table("attributes", |view| Some(read_attributes(view, source))).unwrap_or_default(),
        cautions: view.choices("cautions"),
        aliases: view
            .texts("aliases")
            .into_iter()
            .filter_map(|alias| view.accept("aliases", crate::document::check_name(alias)))
            .collect(),
        starter: view.boolean("starter").unwrap_or(false),
    }
}

fn read_ph_range(view: &TableView<'_>, source: &str) -> Option<PhRange> {
    let (low, high) = (
        view.needed("low", |view| view.decimal("low", Quantity::Ph)),
        view.needed("high", |view| view.decimal("high", Quantity::Ph)),
    );
    let source = view.prose("source").unwrap_or_else(|| source.to_string());
    let (low, high) = (low?, high?);
    if low > high {
        view.fault(
            "low",
            Fault::new(FaultKind::Contradiction, "the lower end of a pH range is above its upper end")
                .value(format!("{low} to {high}"))
                .allowed("low <= high"),
        );
    }
    Some(PhRange { low, high, source })
}

fn read_use_level(view: &TableView<'_>, source: &str) -> Option<UseLevel> {
    let product_use = view.needed_name("use");
    let (low, high) = (view.needed("low", |view| view.ppm("low")), view.needed("high", |view| view.ppm("high")));
    let source = view.prose("source").unwrap_or_else(|| source.to_string());
    let (low, high) = (low?, high?);
    if low > high {
        view.fault(
            "low",
            Fault::new(FaultKind::Contradiction, "the lower use level is above the upper one")
                .value(format!("{low} to {high}"))
                .allowed("low <= high"),
        );
    }
    Some(UseLevel { product_use: product_use?, low, high, source })
}

/// The named substance, or a fault with the nearest known one.
fn read_inci(view: &TableView<'_>, substances: &SubstanceTable) -> Option<Arc<Substance>> {
    let name = view.needed("inci", |view| view.text("inci"))?;
    if substances.find(name).is_none() && view.is_full() {
        view.fault("inci", unknown_name("substance", name, std::iter::empty()));
        return None;
    }
    view.accept("inci", substances.get(name)).cloned()
}

/// The constituents, if they are there, and whether each of them could be read.
fn read_constituents(view: &TableView<'_>, substances: &SubstanceTable) -> (Option<Vec<Constituent>>, bool) {
    let listed = view.has("constituents");
    let mut complete = true;
    let rows = view.tables("constituents", |view| {
        let substance = read_inci(view, substances);
        let typical = view.ppm("typical");
        let (low, high) = (view.ppm("low"), view.ppm("high"));
        let declaration = view.choice("declared").unwrap_or(Declaration::Ask);
        let read = |value: Option<Ppm>, key: &str| value.is_some() || !view.has(key);
        let readable = substance.is_some() && read(typical, "typical") && read(low, "low") && read(high, "high");
        let row = match (typical, substance) {
            (Some(share), Some(substance)) => Some(Constituent::typical(substance, share)),
            (None, Some(substance)) => Some(Constituent::bounded(substance)),
            (_, None) => None,
        };
        let row = row.and_then(|row| view.accept(range_key(view), row.with_range(low, high)));
        complete &= readable && row.is_some();
        Some(row?.with_declaration(declaration))
    });
    let complete = complete && rows.len() == view.count("constituents");
    (listed.then_some(rows), complete)
}

fn read_contained(view: &TableView<'_>, substances: &SubstanceTable, source: &str) -> Option<Contained> {
    let of = view.needed("of", |view| view.text("of"));
    let substance = read_inci(view, substances);
    let (typical, low, high) = (view.ppm("typical"), view.ppm("low"), view.ppm("high"));
    let source = view.prose("source").unwrap_or_else(|| source.to_string());
    let of = view.accept("of", substances.get(of?))?.inci().to_string();
    view.accept(range_key(view), Contained::new(&of, substance?, typical, low, high, &source))
}

/// The end of a range that a contradiction is reported at.
fn range_key(view: &TableView<'_>) -> &'static str {
    if view.has("low") { "low" } else { "high" }
}

/// Reads one lot.
pub(crate) fn read_lot(view: &TableView<'_>) -> Option<Lot> {
    let id = view.needed_name("id");
    let material = view.needed("material", |view| view.text("material"));
    let active = view.table("active", |view| {
        let percent = view.needed("percent", |view| view.ppm("percent"));
        let method = view.needed_name("method");
        let molar_mass = view.decimal("molar_mass", Quantity::MolarMass);
        Some(StatedActive { percent: percent?, method: method?, molar_mass })
    });
    let certificate = Certificate {
        active,
        solids: view.ppm("solids"),
        loss_on_drying: view.ppm("loss_on_drying"),
        salt: view.ppm("salt"),
        free_fatty_acid: view.ppm("free_fatty_acid"),
        ph: view.decimal("ph", Quantity::Ph),
        retest: view.text("retest").and_then(|text| view.accept("retest", text.parse())),
    };
    view.accept("id", Lot::new(&id?, material?, certificate))
}
