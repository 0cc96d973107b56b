//! A raw material as bought.

pub(crate) mod attributes;
pub(crate) mod catalogue;
pub(crate) mod finding;
pub(crate) mod lot;
pub(crate) mod making;
pub(crate) mod prices;
pub(crate) mod substance;
pub(crate) mod table;

use std::sync::Arc;

use pyo3::prelude::*;
use rust_decimal::Decimal;
use tenside::material::{ActiveConvention, Caution, Declaration, Form};
use tenside::number::Ppm;
use tenside::substance::{Attribute, Class};

use crate::convert::failure::Outcome;
use crate::convert::output::Fraction;
use crate::convert::page::Page;
use crate::convert::table::Rows;
use crate::convert::word::Word;
use crate::material::catalogue::Catalogue;
use crate::material::lot::Lot;
use crate::material::substance::{Statement, Substance};

record! {
    "tenside.material",
    /// One ingredient of a raw material, percent by mass. An end that is None is not stated.
    Constituent of &tenside::material::Constituent, |row| {
        /// The substance.
        substance: Substance = Substance(Arc::clone(row.substance())),
        /// The lowest attainable share.
        low: Option<Decimal> = row.low().map(Ppm::decimal_percent),
        /// The typical share.
        typical: Option<Decimal> = row.share().map(Ppm::decimal_percent),
        /// The highest attainable share.
        high: Option<Decimal> = row.high().map(Ppm::decimal_percent),
        /// The low end as the supplier states it.
        stated_low: Option<Decimal> = row.stated_low().map(Ppm::decimal_percent),
        /// The high end as the supplier states it.
        stated_high: Option<Decimal> = row.stated_high().map(Ppm::decimal_percent),
        /// "declared", "not-declared" or "ask".
        declaration: Word<Declaration> = Word(row.declaration()),
    }
}

record! {
    "tenside.material",
    /// A substance contained in one ingredient, percent of that ingredient.
    Contained of &tenside::material::Contained, |part| {
        /// The ingredient.
        of: String = part.of().to_string(),
        /// The substance.
        substance: Substance = Substance(Arc::clone(part.substance())),
        /// The low end, if stated.
        low: Option<Decimal> = part.low().map(Ppm::decimal_percent),
        /// The typical share.
        typical: Option<Decimal> = part.share().map(Ppm::decimal_percent),
        /// The high end, if stated.
        high: Option<Decimal> = part.high().map(Ppm::decimal_percent),
        /// Where the figures come from.
        source: String = part.source().to_string(),
    }
}

record! {
    "tenside.material",
    /// A recommended use level, percent of the product as supplied.
    UseLevel of &tenside::material::UseLevel, |level| {
        /// The product use it applies to.
        product_use: String = level.product_use.clone(),
        /// The lowest recommended percentage.
        low: Decimal = level.low.decimal_percent(),
        /// The highest recommended percentage.
        high: Decimal = level.high.decimal_percent(),
        /// Who says so.
        source: String = level.source.clone(),
    }
}

record! {
    "tenside.material",
    /// The pH range in which a raw material is stable.
    PhRange of &tenside::material::PhRange, |range| {
        /// The lowest pH.
        low: Decimal = range.low,
        /// The highest pH.
        high: Decimal = range.high,
        /// Who says so.
        source: String = range.source.clone(),
    }
}

record! {
    "tenside.material",
    /// A share that a lot's certificate changed.
    CertificateChange of &tenside::material::CertificateChange, |change| {
        /// Whose.
        constituent: String = change.constituent.clone(),
        /// The typical share.
        typical: Decimal = change.typical.decimal_percent(),
        /// The lot's share.
        lot: Decimal = change.lot.decimal_percent(),
        /// True for the constituent that takes the difference.
        takes_difference: bool = change.takes_difference,
        /// True if the lot's share lies outside the stated range.
        outside_range: bool = change.outside_range,
    }
}

/// A raw material, typical or one lot of it.
///
/// One of your own is made of its `id` (lower-case letters, digits, hyphens), its `name`, its `form` (`td.material.forms()`) and
/// its `constituents`: the percent of each by INCI name, label name, CAS number or `Substance`. A percentage is typical
/// (30), a range (29, 32), or low, typical and high (29, 30, 32), None where an end is not stated; together they are
/// 100, with what the supplier does not say as `unspecified`. Where no typical share is stated, `descending` says that
/// they stand in the supplier's descending order. `declared` is what the supplier declares on labels: "declared",
/// "not-declared", or "ask", for all or by constituent.
///
/// As wanted: `phase` (by default the usual one of the form); `use_levels`, lowest and highest percent by product use;
/// `ph_range`, the lowest and highest pH in which it is stable; `active_convention`; `difference_to`, the constituent
/// that takes the difference of a lot; `density` in g/mL; `melting_point` and `highest_process_temperature` in °C;
/// `bound_water` in percent; `attributes`, yes or no by `words.Attribute` (what is not stated is not known);
/// `natural_origin` in percent; `contained`, shares of an ingredient by substance; `scent_reported_above`, the percent
/// above which all scent constituents are in that list; `remainder_may_hold`, classes; `cautions` (`td.material.cautions()`);
/// `aliases`. `source` says where all that comes from. Names of substances are looked up in the `catalogue`, by default
/// the starter catalogue.
///
/// >>> glycerite = td.Material(
/// ...     "marigold-glycerite", "Marigold glycerite", "liquid",
/// ...     {"glycerin": (57, 60, 63), "aqua": 32, "CALENDULA OFFICINALIS FLOWER EXTRACT": 3}, unspecified=5, declared="declared",
/// ...     use_levels={"shampoo-bar": (1, 5)}, source="our own maceration, weighed",
/// ... )
/// >>> glycerite.phase, float(glycerite.solids()), glycerite.constituents[0].declaration
/// ('liquid', 68.0, 'declared')
/// >>> cat = td.Catalogue.starter().with_material(glycerite)
///
/// >>> betaine = td.Catalogue.starter().material("capb-30")
/// >>> betaine.form, float(betaine.active())
/// ('liquid', 30.0)
/// >>> [(row.substance.inci, row.typical) for row in betaine.constituents][0]
/// ('COCAMIDOPROPYL BETAINE', Decimal('30'))
#[pyclass(frozen, eq, from_py_object, module = "tenside")]
#[derive(Clone, PartialEq)]
pub(crate) struct Material(pub(crate) Arc<tenside::material::Material>);

value!(Material, |it| it.id());

getters!(Material {
    /// Identifier.
    id: String = |it| it.id().to_string();
    /// Readable name.
    name: String = |it| it.name().to_string();
    /// Powder, needles, flakes, granules, paste, liquid, oil or meltable-solid.
    form: Word<Form> = |it| Word(it.form());
    /// The phase it goes to unless a line says otherwise.
    phase: String = |it| it.phase().to_string();
    /// Ingredients; none for a premix, whose parts have their own.
    constituents: Rows<Constituent> = |it| it.composition().constituents().iter().map(Constituent::from).collect();
    /// Substances contained in its ingredients.
    contained: Rows<Contained> = |it| it.contained().iter().map(Contained::from).collect();
    /// Raw materials without premixes that make it up, each with its share of the whole (0 to 1).
    leaves: Vec<(Material, Fraction)> = |it| it.leaves().into_iter().map(|(leaf, share)| (Material(Arc::new(leaf.clone())), Fraction(share))).collect();
    /// True if every share has a typical value.
    has_typical: bool = |it| it.has_typical();
    /// The class of its largest named constituent.
    main_class: Word<Class> = |it| Word(it.main_class());
    /// The constituent that takes a lot's difference.
    difference_to: String = |it| it.difference_to().to_string();
    /// What its active figure rests on.
    active_convention: Option<Word<ActiveConvention>> = |it| it.active_convention().map(Word);
    /// The pH range in which it is stable, if stated.
    ph_range: Option<PhRange> = |it| it.ph_range().map(PhRange::from);
    /// Recommended use levels.
    use_levels: Rows<UseLevel> = |it| it.use_levels().iter().map(UseLevel::from).collect();
    /// Density in g/mL, if stated.
    density: Option<Decimal> = |it| it.density();
    /// Melting point in °C, if stated.
    melting_point: Option<Decimal> = |it| it.melting_point();
    /// Highest temperature in °C at which it may be worked, if stated.
    highest_process_temperature: Option<Decimal> = |it| it.highest_process_temperature();
    /// Water held by starch, clay or hydrate that the composition does not list as water, percent.
    bound_water: Option<Decimal> = |it| it.bound_water().map(Ppm::decimal_percent);
    /// Share of natural origin in percent and its source, in the sense of ISO 16128-2 (from memory), where stated of
    /// the whole.
    natural_origin: Option<(Decimal, String)> = |it| it.attributes().natural_origin().map(|(share, source)| (share, source.to_string()));
    /// Cautions for whoever handles it, each with what to do about it.
    cautions: indexmap::IndexMap<Word<Caution>, &'static str> = |it| it.cautions().iter().map(|caution| (Word(*caution), caution.advice())).collect();
    /// Unambiguous other names.
    aliases: Vec<String> = |it| it.aliases().to_vec();
    /// Where its values come from.
    source: String = |it| it.source().to_string();
    /// True if values are the starter catalogue's; output resting on them is a DRAFT.
    is_starter: bool = |it| it.is_starter();
    /// The lot it stands for, if it is one.
    lot: Option<Lot> = |it| it.lot().map(|lot| Lot(Arc::clone(lot)));
    /// What the lot's certificate changed against the typical material.
    certificate_changes: Rows<CertificateChange> = |it| it.certificate_changes().iter().map(CertificateChange::from).collect();
    /// The typical material that this is a lot of.
    typical: Option<Material> = |it| it.typical().map(|typical| Material(Arc::clone(typical)));
});

row!(Material {
    id: String = |it| it.id(),
    name: String = |it| it.name(),
    class_: Word<Class> = |it| it.main_class(),
    form: Word<Form> = |it| it.form(),
    phase: String = |it| it.phase(),
    // What is not known of all of it is not known.
    active: Option<Fraction> = |it| it.active(None).ok(),
    solids: Option<Fraction> = |it| it.solids().ok(),
    inci: Vec<String> = |it| it.0.composition().constituents().iter().map(|row| row.substance().inci().to_string()).collect(),
    ph_range: Option<PhRange> = |it| it.ph_range(),
    use_levels: Vec<UseLevel> = |it| it.0.use_levels().iter().map(UseLevel::from).collect(),
    density: Option<Decimal> = |it| it.density(),
    melting_point: Option<Decimal> = |it| it.melting_point(),
    highest_process_temperature: Option<Decimal> = |it| it.highest_process_temperature(),
    bound_water: Option<Decimal> = |it| it.bound_water(),
    cautions: Vec<String> = |it| it.0.cautions().iter().map(ToString::to_string).collect(),
    aliases: Vec<String> = |it| it.aliases(),
    source: String = |it| it.source(),
    is_starter: bool = |it| it.is_starter(),
    lot: Option<String> = |it| it.0.lot().map(|lot| lot.id().to_string()),
});

shown!(Material, |it| it.0.page());

#[pymethods]
impl Material {
    /// Its page: cautions, names, active matter, composition with ranges, use levels, the lot, sources.
    #[getter]
    fn page(&self) -> Page {
        Page(self.0.page())
    }

    /// What counts as active, of one class or of all, percent of the material.
    /// `class_` is a class of `words.Class`.
    ///
    /// >>> float(td.Catalogue.starter().material("capb-30").active("amphoteric-surfactant"))
    /// 30.0
    #[pyo3(signature = (class_=None))]
    fn active(&self, class_: Option<Word<Class>>) -> Outcome<Fraction> {
        let active = class_.map_or_else(|| self.0.active(), |class| self.0.active_of(class.0))?;
        Ok(Fraction(active.percent().clone()))
    }

    /// What is left when water and volatile constituents are gone, percent of the material.
    ///
    /// >>> float(td.Catalogue.starter().material("capb-30").solids())
    /// 37.0
    fn solids(&self) -> Outcome<Fraction> {
        Ok(Fraction(self.0.solids()?.percent().clone()))
    }

    /// What is stated of "sulfate", "palm", "animal", "silicone" or "ethoxylated", for the whole or by its ingredients;
    /// None is unknown. `name` is one of `words.Attribute`.
    ///
    /// >>> td.Catalogue.starter().material("scs-needles").attribute("sulfate").value
    /// True
    fn attribute(&self, name: Word<Attribute>) -> Option<Statement> {
        self.0.attribute(name.0).as_ref().map(Statement::from)
    }

    /// This material as one lot of it.
    ///
    /// >>> betaine = td.Catalogue.starter().material("capb-30")
    /// >>> weak = betaine.with_lot(td.Lot("W-27", "capb-30", active=28, method="titrated"))
    /// >>> float(weak.active()), weak.lot.id
    /// (28.0, 'W-27')
    /// >>> [(change.constituent, change.lot) for change in weak.certificate_changes][0]
    /// ('COCAMIDOPROPYL BETAINE', Decimal('28'))
    fn with_lot(&self, lot: &Lot) -> Outcome<Self> {
        Ok(Material(Arc::new(self.0.with_lot(&lot.0)?.0)))
    }

    /// What the certificate of a lot changes.
    ///
    /// >>> betaine = td.Catalogue.starter().material("capb-30")
    /// >>> [change.constituent for change in betaine.lot_changes(td.Lot("W-27", "capb-30", active=28, method="titrated"))]
    /// ['COCAMIDOPROPYL BETAINE', 'WATER']
    fn lot_changes(&self, lot: &Lot) -> Outcome<Rows<CertificateChange>> {
        Ok(self.0.with_lot(&lot.0)?.1.iter().map(CertificateChange::from).collect())
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> Outcome<(Bound<'py, PyAny>, Bound<'py, PyAny>)> {
        let (py, it) = (slf.py(), &slf.get().0);
        if let (Some(typical), Some(lot)) = (it.typical(), it.lot()) {
            let arguments = (Material(Arc::clone(typical)), Lot(Arc::clone(lot)));
            return Ok((py.get_type::<Material>().getattr("with_lot")?, arguments.into_pyobject(py)?.into_any()));
        }
        let alone = Catalogue(tenside::catalogue::Catalogue::empty().with_material(Arc::clone(it))?);
        Ok((py.get_type::<Catalogue>().getattr("material")?, (alone, it.id()).into_pyobject(py)?.into_any()))
    }

    fn __repr__(&self) -> String {
        match self.0.lot() {
            Some(lot) => format!("<Material {:?}, lot {:?}>", self.0.id(), lot.id()),
            None => format!("<Material {:?}>", self.0.id()),
        }
    }
}

#[pymethods]
impl Catalogue {
    /// The materials, in the order added.
    fn materials(&self) -> Rows<Material> {
        let catalogue = self.0.clone();
        let page = move || Ok(tenside::catalogue::materials_page("Raw materials", catalogue.materials()));
        self.0.materials().map(|material| Material(Arc::clone(material))).collect::<Rows<Material>>().shown(page)
    }

    /// The material meant by an id, a readable name or an alias; what could mean several is refused.
    fn material(&self, name: &str) -> Outcome<Material> {
        Ok(Material(Arc::clone(self.0.material(name)?)))
    }

    /// With one more material, or another in place of one of the same id.
    ///
    /// >>> len(td.Catalogue().with_material(td.Catalogue.starter().material("kaolin")))
    /// 1
    fn with_material(&self, material: &Material) -> Outcome<Self> {
        Ok(self.0.with_material(Arc::clone(&material.0))?.into())
    }
}

one_of! {
    /// A raw material, or what it is called in the catalogue.
    pub(crate) enum AMaterial: "a name or a Material" {
        Name(String),
        Material(Material),
    }
}

impl AMaterial {
    pub(crate) fn find(self, catalogue: &tenside::catalogue::Catalogue) -> Outcome<Arc<tenside::material::Material>> {
        match self {
            AMaterial::Name(name) => Ok(Arc::clone(catalogue.material(&name)?)),
            AMaterial::Material(material) => Ok(material.0),
        }
    }
}
