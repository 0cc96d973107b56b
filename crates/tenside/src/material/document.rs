//! Raw materials and lots in documents.

use std::collections::BTreeMap;

#[cfg(feature = "schema")]
use schemars::{Schema, SchemaGenerator, json_schema};
use serde::Serialize;

use super::{ActiveConvention, Caution, Composition, Declaration, Form, Lot, Material};
use crate::document::{Number, always_written};
use crate::number::Ppm;
use crate::substance::{AttributeDocument, Class, attribute_documents, said_again};

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
