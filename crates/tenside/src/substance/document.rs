//! Substances in documents.

use std::collections::BTreeMap;

#[cfg(feature = "schema")]
use schemars::{Schema, SchemaGenerator, json_schema};
use serde::Serialize;

use super::{Attribute, Attributes, Charge, Class, MolarMass, Statement, Substance, UNSPECIFIED, Volatility};
use crate::bounds::Quantity;
use crate::document::{Named, Number, TableView, always_written, fold};
use crate::error::{Error, Fault, FaultKind};
use crate::memo::Memo;

/// A substance as documents hold it.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SubstanceDocument {
    /// INCI name.
    inci: String,
    /// EU label name where it differs.
    #[serde(skip_serializing_if = "Option::is_none")]
    label_eu: Option<String>,
    /// US label name where it differs.
    #[serde(skip_serializing_if = "Option::is_none")]
    label_us: Option<String>,
    /// CAS numbers.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    cas: Vec<String>,
    /// Class.
    class: Class,
    /// Whether it counts as active matter; unless stated, anionic, amphoteric and nonionic surfactants do.
    #[serde(skip_serializing_if = "Option::is_none")]
    counts_as_active: Option<bool>,
    /// `neutral`, `ph-dependent` or `unknown`; or one of the two keys below.
    #[serde(skip_serializing_if = "Option::is_none")]
    charge: Option<String>,
    /// Elementary charges per molecule, signed.
    #[serde(skip_serializing_if = "Option::is_none")]
    charge_per_mole: Option<Number>,
    /// Charge density in mmol/g, signed.
    #[serde(skip_serializing_if = "Option::is_none")]
    charge_per_gram: Option<Number>,
    /// Molecular formula in Hill order.
    #[serde(skip_serializing_if = "Option::is_none")]
    formula: Option<String>,
    /// Acid dissociation constants, from the fully protonated form on.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pka: Vec<Number>,
    /// Whether it leaves on drying; water for water, else unknown, where it is not stated.
    #[serde(skip_serializing_if = "always_written")]
    volatility: Volatility,
    /// Entry of Annex III of Regulation (EC) No 1223/2009.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::document::whole_schema"))]
    annex_iii_entry: Option<u32>,
    /// Whether that entry came with Regulation (EU) 2023/1545.
    #[serde(skip_serializing_if = "Option::is_none")]
    new_2023: Option<bool>,
    /// Where the values come from; the document's own source where it is not stated.
    #[serde(skip_serializing_if = "Option::is_none")]
    source: Option<String>,
    /// Molar mass in g/mol.
    #[serde(skip_serializing_if = "Option::is_none")]
    molar_mass: Option<MolarMassDocument>,
    /// Yes-or-no properties and the share of natural origin in percent.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::substance::attributes_schema"))]
    attributes: BTreeMap<String, AttributeDocument>,
}

/// Molar mass in g/mol.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct MolarMassDocument {
    /// The typical value.
    typical: Number,
    /// The lowest, stated together with the highest.
    #[serde(skip_serializing_if = "Option::is_none")]
    low: Option<Number>,
    /// The highest.
    #[serde(skip_serializing_if = "Option::is_none")]
    high: Option<Number>,
    /// The chains a mixture's value is meant for.
    #[serde(skip_serializing_if = "Option::is_none")]
    chain: Option<String>,
}

/// A property with its source.
#[derive(Clone, Debug, Serialize)]
pub(crate) struct AttributeDocument {
    /// `true` or `false`; for `natural_origin` use `share`.
    #[serde(skip_serializing_if = "Option::is_none")]
    value: Option<bool>,
    /// Percent of natural origin.
    #[serde(skip_serializing_if = "Option::is_none")]
    share: Option<Number>,
    /// Who says so; the row's own source where it is not stated.
    #[serde(skip_serializing_if = "Option::is_none")]
    source: Option<String>,
}

fn said(attribute: Attribute) -> &'static str {
    match attribute {
        Attribute::Sulfate => "Whether it is an alkyl sulfate or alkyl ether sulfate surfactant.",
        Attribute::Palm => "Whether it is made from palm or palm-kernel oil.",
        Attribute::Animal => "Whether it is made from animals.",
        Attribute::Silicone => "Whether it is a silicone.",
        Attribute::Ethoxylated => "Whether it is made with ethylene oxide.",
    }
}

/// Each property plain, or as a table with its source.
#[cfg(feature = "schema")]
pub(crate) fn attributes_schema(generator: &mut SchemaGenerator) -> Schema {
    let with_source = |key: &str, what: &str, value: &Schema| {
        let mut described = value.clone();
        described.insert("description".to_string(), what.into());
        let source = json_schema!({ "description": "Who says so; the row's own source where it is not stated.", "type": "string" });
        let sourced = json_schema!({
            "type": "object",
            "properties": { key: described, "source": source },
            "required": [key],
            "additionalProperties": false,
        });
        json_schema!({ "description": what, "anyOf": [value, sourced] })
    };
    let mut properties = serde_json::Map::new();
    for &attribute in Attribute::ALL {
        let schema = with_source("value", said(attribute), &json_schema!({ "type": "boolean" }));
        properties.insert(attribute.slug().to_string(), schema.into());
    }
    let natural =
        with_source("share", "Percent of natural origin, water included.", &generator.subschema_for::<Number>());
    properties.insert("natural_origin".to_string(), natural.into());
    json_schema!({ "type": "object", "properties": properties, "additionalProperties": false })
}

impl SubstanceDocument {
    /// The substance in a document of that source, which is then not said again.
    pub(crate) fn of(substance: &Substance, source: Option<&str>) -> Self {
        let (charge, charge_per_mole, charge_per_gram) = match &substance.charge {
            Charge::Neutral => (Some("neutral".to_string()), None, None),
            Charge::PhDependent => (Some("ph-dependent".to_string()), None, None),
            Charge::Unknown => (Some("unknown".to_string()), None, None),
            Charge::PerMole(value) => (None, Some((*value).into()), None),
            Charge::PerGram(value) => (None, None, Some((*value).into())),
        };
        SubstanceDocument {
            inci: substance.inci.clone(),
            label_eu: substance.label_eu.clone(),
            label_us: substance.label_us.clone(),
            cas: substance.cas.iter().map(ToString::to_string).collect(),
            class: substance.class,
            counts_as_active: Some(substance.counts_as_active)
                .filter(|counts| *counts != substance.class.counts_as_active()),
            charge,
            charge_per_mole,
            charge_per_gram,
            formula: substance.formula.clone(),
            pka: substance.pka.iter().map(|value| (*value).into()).collect(),
            volatility: substance.volatility,
            annex_iii_entry: substance.annex_iii_entry,
            new_2023: (substance.annex_iii_entry.is_some() || substance.declared_since_2023)
                .then_some(substance.declared_since_2023),
            source: said_again(&substance.source, source),
            molar_mass: substance.molar_mass.as_ref().map(|mass| MolarMassDocument {
                typical: mass.typical().into(),
                low: mass.chain().and_then(|chain| chain.range).map(|(low, _)| low.into()),
                high: mass.chain().and_then(|chain| chain.range).map(|(_, high)| high.into()),
                chain: mass.chain().map(|chain| chain.basis.clone()),
            }),
            attributes: attribute_documents(&substance.attributes, &substance.source),
        }
    }
}

/// A source, unless it is the one that counts where none is stated.
pub(crate) fn said_again(source: &str, default: Option<&str>) -> Option<String> {
    (Some(source) != default).then(|| source.to_string())
}

/// The attributes of a row of that source.
pub(crate) fn attribute_documents(attributes: &Attributes, source: &str) -> BTreeMap<String, AttributeDocument> {
    let row = Some(source);
    let yes_or_no = attributes.statements.iter().map(|(attribute, statement)| {
        (
            attribute.slug().to_string(),
            AttributeDocument { value: Some(statement.value), share: None, source: said_again(&statement.source, row) },
        )
    });
    let natural = attributes.natural_origin.iter().map(|(share, source)| {
        (
            "natural_origin".to_string(),
            AttributeDocument { value: None, share: Some((*share).into()), source: said_again(source, row) },
        )
    });
    yes_or_no.chain(natural).collect()
}

/// Reads one substance; `default_source` is the document's.
pub(crate) fn read_substance(view: &TableView<'_>, default_source: Option<&str>) -> Option<Substance> {
    if let Some(inci) = view.text("inci") {
        let shown: String = inci.chars().take(60).collect();
        view.label(format!("substance {shown:?}"));
    }
    let inci = view.needed_name("inci");
    let class = view.needed("class", |view| view.choice::<Class>("class"));
    let source = view.prose("source").or_else(|| default_source.map(str::to_string));
    if source.is_none() {
        view.fault(
            "",
            Fault::new(FaultKind::Missing, "a value without a source")
                .remedy("add source = \"...\" to the row or at the top of the document"),
        );
    }
    let cas = view.texts("cas").into_iter().filter_map(|text| view.accept("cas", text.parse())).collect();
    let charge = read_charge(view);
    let molar_mass = view.table("molar_mass", read_molar_mass);
    let (label_eu, label_us, formula) = (view.name("label_eu"), view.name("label_us"), view.name("formula"));
    let counts_as_active =
        view.boolean("counts_as_active").unwrap_or_else(|| class.is_some_and(Class::counts_as_active));
    let pka = view.decimals("pka", Quantity::Pka);
    let volatility = view.choice("volatility").unwrap_or(if class == Some(Class::Water) {
        Volatility::Water
    } else {
        Volatility::Unknown
    });
    let attributes = view
        .table("attributes", |view| Some(read_attributes(view, source.as_deref().unwrap_or_default())))
        .unwrap_or_default();
    let annex_iii_entry = view.whole("annex_iii_entry");
    let declared_since_2023 = view.boolean("new_2023").unwrap_or(false);
    // Everything has been asked for, so that a missing name does not turn the other keys into unknown ones.
    let substance = Substance {
        inci: inci?,
        label_eu,
        label_us,
        cas,
        class: class?,
        counts_as_active,
        charge,
        molar_mass,
        formula,
        pka,
        volatility,
        attributes,
        annex_iii_entry,
        declared_since_2023,
        source: source?,
        is_embedded: Memo::default(),
    };
    if fold(&substance.inci) == UNSPECIFIED {
        view.fault(
            "inci",
            Fault::new(FaultKind::OutOfRange, "the name \"unspecified\" is reserved for the nameless remainder"),
        );
    }
    if substance.class == Class::Unspecified {
        view.fault(
            "class",
            Fault::new(FaultKind::OutOfRange, "the class \"unspecified\" is reserved for the nameless remainder"),
        );
    }
    Some(substance)
}

fn read_charge(view: &TableView<'_>) -> Charge {
    let stated = [view.has("charge"), view.has("charge_per_mole"), view.has("charge_per_gram")]
        .into_iter()
        .filter(|stated| *stated)
        .count();
    if stated > 1 {
        view.fault(
            "charge",
            Fault::new(FaultKind::Contradiction, "a charge is stated in more than one way")
                .allowed("one of charge, charge_per_mole, charge_per_gram"),
        );
    }
    let word = view.text("charge");
    let per_mole = view.decimal("charge_per_mole", Quantity::ChargePerMole);
    let per_gram = view.decimal("charge_per_gram", Quantity::ChargePerGram);
    match (word, per_mole, per_gram) {
        (_, Some(value), _) => Charge::PerMole(value),
        (_, _, Some(value)) => Charge::PerGram(value),
        (Some("neutral"), ..) => Charge::Neutral,
        (Some("ph-dependent"), ..) => Charge::PhDependent,
        (Some("unknown") | None, ..) => Charge::Unknown,
        (Some(other), ..) => {
            let allowed = "neutral, ph-dependent, unknown, or a number under charge_per_mole or charge_per_gram";
            view.fault(
                "charge",
                Fault::new(FaultKind::UnknownName, "unknown charge").value(format!("{other:?}")).allowed(allowed),
            );
            Charge::Unknown
        }
    }
}

fn read_molar_mass(view: &TableView<'_>) -> Option<MolarMass> {
    let typical = view.needed("typical", |view| view.decimal("typical", Quantity::MolarMass));
    let (low, high) = (view.decimal("low", Quantity::MolarMass), view.decimal("high", Quantity::MolarMass));
    let chain = view.name("chain");
    let built: Result<MolarMass, Error> = match (low.zip(high), chain) {
        (None, _) if low.is_some() || high.is_some() => {
            Err(Fault::new(FaultKind::Missing, "a range of molar masses has one end only")
                .remedy("state low and high, or neither")
                .into())
        }
        (None, None) => MolarMass::defined(typical?),
        (range, basis) => MolarMass::of_chains(typical?, range, basis.as_deref().unwrap_or("not stated")),
    };
    view.accept("", built)
}

/// Reads `name = true` as well as `name = { value = true, source = "..." }`.
pub(crate) fn read_attributes(view: &TableView<'_>, default_source: &str) -> Attributes {
    let mut attributes = Attributes::default();
    for attribute in Attribute::ALL {
        let key = attribute.slug();
        let statement = if view.is_table(key) {
            view.table(key, |view| {
                let value = view.needed("value", |view| view.boolean("value"))?;
                Some(Statement { value, source: view.prose("source").unwrap_or_else(|| default_source.to_string()) })
            })
        } else {
            view.boolean(key).map(|value| Statement { value, source: default_source.to_string() })
        };
        attributes.statements.extend(statement.map(|statement| (*attribute, statement)));
    }
    attributes.natural_origin = if view.is_table("natural_origin") {
        view.table("natural_origin", |view| {
            let share = view.needed("share", |view| view.decimal("share", Quantity::Percent))?;
            Some((share, view.prose("source").unwrap_or_else(|| default_source.to_string())))
        })
    } else {
        view.decimal("natural_origin", Quantity::Percent).map(|share| (share, default_source.to_string()))
    };
    attributes
}
