//! Raw materials and lots in documents.

use std::collections::BTreeMap;
use std::sync::Arc;

#[cfg(feature = "schema")]
use schemars::{Schema, SchemaGenerator, json_schema};
use serde::Serialize;

use super::{
    ActiveConvention, Caution, Certificate, Composition, Constituent, Contained, Declaration, Form, Lot, Material,
    PhRange, StatedActive, UseLevel,
};
use crate::bounds::Quantity;
use crate::document::{Number, TableView, always_written, unknown_name};
use crate::error::{Error, Fault, FaultKind};
use crate::number::Ppm;
use crate::substance::{
    AttributeDocument, Class, Substance, SubstanceTable, attribute_documents, read_attributes, said_again,
};

/// A raw material as documents hold it.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct MaterialDocument {
    /// Identifier: lower-case letters, digits, single hyphens.
    id: String,
    /// Readable name.
    name: String,
    /// Form.
    form: Form,
    /// Default phase; that of its form where it is not stated.
    #[serde(skip_serializing_if = "always_written")]
    phase: String,
    /// The constituent that takes a lot's difference.
    #[serde(skip_serializing_if = "Option::is_none")]
    difference_to: Option<String>,
    /// What the active figure rests on.
    #[serde(skip_serializing_if = "Option::is_none")]
    active_convention: Option<ActiveConvention>,
    /// g/mL, plain or as a table with its source.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(schema_with = "density_schema"))]
    density: Option<Number>,
    /// °C.
    #[serde(skip_serializing_if = "Option::is_none")]
    melting_point: Option<Number>,
    /// °C.
    #[serde(skip_serializing_if = "Option::is_none")]
    highest_process_temperature: Option<Number>,
    /// Percent of the material that is water not listed as such, plain or as a table with its source.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(schema_with = "bound_water_schema"))]
    bound_water: Option<Number>,
    /// Cautions.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    cautions: Vec<Caution>,
    /// Unambiguous other names.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    aliases: Vec<String>,
    /// Where the values come from; the document's own source where it is not stated.
    #[serde(skip_serializing_if = "Option::is_none")]
    source: Option<String>,
    /// True for values of the starter catalogue.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    starter: bool,
    /// True where constituents without typical shares stand in descending order.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    descending: bool,
    /// pH range in which it is stable.
    #[serde(skip_serializing_if = "Option::is_none")]
    ph_range: Option<PhRangeDocument>,
    /// Properties, keyed by name; `natural_origin` has a share.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::substance::attributes_schema"))]
    attributes: BTreeMap<String, AttributeDocument>,
    /// Recommended use levels.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    use_levels: Vec<UseLevelDocument>,
    /// Ingredients; percentages sum to 100.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    constituents: Vec<ConstituentDocument>,
    /// Substances contained in one ingredient.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    contained: Vec<ContainedDocument>,
    /// Percent of the material above which the supplier reports every scent constituent under `contained`; 0 if that
    /// list is complete.
    #[serde(skip_serializing_if = "Option::is_none")]
    scent_reported_above: Option<Number>,
    /// Classes of substances that the unspecified remainder may hold besides those that remainders usually can.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    remainder_may_hold: Vec<Class>,
    /// Instead of constituents: other materials and their shares.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    premix: Vec<PremixDocument>,
}

#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct PhRangeDocument {
    /// The lowest pH.
    low: Number,
    /// The highest pH.
    high: Number,
    /// Who says so; the material's own source where it is not stated.
    #[serde(skip_serializing_if = "Option::is_none")]
    source: Option<String>,
}

#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct UseLevelDocument {
    /// The use, "rinse-off" for example.
    #[serde(rename = "use")]
    product_use: String,
    /// Percent of the product, lowest.
    low: Number,
    /// Percent of the product, highest.
    high: Number,
    /// Who says so; the material's own source where it is not stated.
    #[serde(skip_serializing_if = "Option::is_none")]
    source: Option<String>,
}

#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct ConstituentDocument {
    /// INCI name of an embedded substance, of one of the document, or "unspecified" for what the supplier does not say.
    inci: String,
    /// Typical percent.
    #[serde(skip_serializing_if = "Option::is_none")]
    typical: Option<Number>,
    /// Lowest percent; absent means not stated.
    #[serde(skip_serializing_if = "Option::is_none")]
    low: Option<Number>,
    /// Highest percent; absent means not stated.
    #[serde(skip_serializing_if = "Option::is_none")]
    high: Option<Number>,
    /// Whether the supplier declares it as an ingredient; to be asked where it is not stated.
    #[serde(skip_serializing_if = "always_written")]
    declared: Declaration,
}

#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct ContainedDocument {
    /// The ingredient that holds it.
    of: String,
    /// INCI name.
    inci: String,
    /// Typical percent of that ingredient.
    #[serde(skip_serializing_if = "Option::is_none")]
    typical: Option<Number>,
    /// Lowest percent; absent means not stated.
    #[serde(skip_serializing_if = "Option::is_none")]
    low: Option<Number>,
    /// Highest percent; absent means not stated.
    #[serde(skip_serializing_if = "Option::is_none")]
    high: Option<Number>,
    /// Who says so; the material's own source where it is not stated.
    #[serde(skip_serializing_if = "Option::is_none")]
    source: Option<String>,
}

#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct PremixDocument {
    /// Id of the raw material.
    material: String,
    /// Its lot.
    #[serde(skip_serializing_if = "Option::is_none")]
    lot: Option<String>,
    /// Percent of the premix.
    percent: Number,
}

/// A lot as documents hold it.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct LotDocument {
    /// What the lot is called.
    id: String,
    /// The id of its material.
    material: String,
    /// Percent of solids.
    #[serde(skip_serializing_if = "Option::is_none")]
    solids: Option<Number>,
    /// Percent lost on drying.
    #[serde(skip_serializing_if = "Option::is_none")]
    loss_on_drying: Option<Number>,
    /// Percent of salt.
    #[serde(skip_serializing_if = "Option::is_none")]
    salt: Option<Number>,
    /// Percent of free fatty acid.
    #[serde(skip_serializing_if = "Option::is_none")]
    free_fatty_acid: Option<Number>,
    /// pH as the supplier measured it.
    #[serde(skip_serializing_if = "Option::is_none")]
    ph: Option<Number>,
    /// The date by which the lot is to be tested again, year-month-day.
    #[serde(skip_serializing_if = "Option::is_none")]
    retest: Option<String>,
    /// Active matter.
    #[serde(skip_serializing_if = "Option::is_none")]
    active: Option<StatedActiveDocument>,
}

#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct StatedActiveDocument {
    /// Percent of the lot.
    percent: Number,
    /// How it was found.
    method: String,
    /// g/mol.
    #[serde(skip_serializing_if = "Option::is_none")]
    molar_mass: Option<Number>,
}

/// A number, or a table of it with its source.
#[cfg(feature = "schema")]
fn sourced_schema(key: &str, what: &str, generator: &mut SchemaGenerator) -> Schema {
    let number = generator.subschema_for::<Number>();
    let mut described = number.clone();
    described.insert("description".to_string(), what.into());
    let source = json_schema!({ "description": "Who says so; the material's own source where it is not stated.", "type": "string" });
    let properties = json_schema!({ key: described, "source": source });
    let sourced =
        json_schema!({ "type": "object", "properties": properties, "required": [key], "additionalProperties": false });
    json_schema!({ "anyOf": [number, sourced, { "type": "null" }] })
}

#[cfg(feature = "schema")]
fn density_schema(generator: &mut SchemaGenerator) -> Schema {
    sourced_schema("value", "Density in g/mL.", generator)
}

#[cfg(feature = "schema")]
fn bound_water_schema(generator: &mut SchemaGenerator) -> Schema {
    sourced_schema("share", "Percent of the material that is water not listed as such.", generator)
}

impl MaterialDocument {
    /// The material in a document of that source, which is then not said again.
    pub(crate) fn of(material: &Material, source: Option<&str>) -> Self {
        let own = |source: &str| said_again(source, Some(&material.source));
        let number = |value: Option<rust_decimal::Decimal>| value.map(Number::from);
        let share = |value: Option<Ppm>| value.map(Number::from);
        MaterialDocument {
            id: material.id.clone(),
            name: material.name.clone(),
            form: material.form,
            phase: material.phase.clone(),
            difference_to: material.difference_to.clone(),
            active_convention: material.active_convention,
            density: number(material.density),
            melting_point: number(material.melting_point),
            highest_process_temperature: number(material.highest_process_temperature),
            bound_water: share(material.bound_water),
            cautions: material.cautions.iter().copied().collect(),
            aliases: material.aliases.clone(),
            source: said_again(&material.source, source),
            starter: material.starter,
            descending: material.composition.is_descending(),
            ph_range: material.ph_range.as_ref().map(|range| PhRangeDocument {
                low: range.low.into(),
                high: range.high.into(),
                source: own(&range.source),
            }),
            attributes: attribute_documents(&material.attributes, &material.source),
            use_levels: material
                .use_levels
                .iter()
                .map(|level| UseLevelDocument {
                    product_use: level.product_use.clone(),
                    low: level.low.into(),
                    high: level.high.into(),
                    source: own(&level.source),
                })
                .collect(),
            constituents: material
                .composition
                .constituents()
                .iter()
                .map(|row| ConstituentDocument {
                    inci: row.substance().inci().to_string(),
                    typical: share(row.share()),
                    low: share(row.stated_low()),
                    high: share(row.stated_high()),
                    declared: row.declaration(),
                })
                .collect(),
            contained: material
                .contained
                .iter()
                .map(|part| ContainedDocument {
                    of: part.of().to_string(),
                    inci: part.substance().inci().to_string(),
                    typical: share(part.share()),
                    low: share(part.low()),
                    high: share(part.high()),
                    source: own(part.source()),
                })
                .collect(),
            scent_reported_above: share(material.scent_reported_above),
            remainder_may_hold: material.remainder_may_hold.iter().copied().collect(),
            premix: match &material.composition {
                Composition::Premix(parts) => {
                    let lot = |part: &Material| part.lot().map(|lot| lot.id().to_string());
                    parts
                        .iter()
                        .map(|(part, share)| PremixDocument {
                            material: part.id.clone(),
                            lot: lot(part),
                            percent: (*share).into(),
                        })
                        .collect()
                }
                _ => Vec::new(),
            },
        }
    }
}

impl From<&Lot> for LotDocument {
    fn from(lot: &Lot) -> Self {
        let share = |value: Option<Ppm>| value.map(Number::from);
        let certificate = lot.certificate();
        LotDocument {
            id: lot.id().to_string(),
            material: lot.material().to_string(),
            solids: share(certificate.solids),
            loss_on_drying: share(certificate.loss_on_drying),
            salt: share(certificate.salt),
            free_fatty_acid: share(certificate.free_fatty_acid),
            ph: certificate.ph.map(Number::from),
            retest: certificate.retest.map(|date| date.to_string()),
            active: certificate.active.as_ref().map(|active| StatedActiveDocument {
                percent: active.percent.into(),
                method: active.method.clone(),
                molar_mass: active.molar_mass.map(Number::from),
            }),
        }
    }
}

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
