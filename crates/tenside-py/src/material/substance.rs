//! A pure constituent.

use std::sync::Arc;

use pyo3::prelude::*;
use rust_decimal::Decimal;
use tenside::bounds::Quantity;
use tenside::error::{Fault, FaultKind};
use tenside::substance::{Attribute, Charge, ChargeKind, Class, MolarMass, Volatility};

use crate::convert::failure::{Failure, Outcome};
use crate::convert::input::{Names, Number, Several};
use crate::convert::page::Page;
use crate::convert::table::Rows;
use crate::convert::word::Word;
use crate::material::attributes::Attributes;
use crate::material::catalogue::Catalogue;

record! {
    "tenside.substance",
    /// What is said of a substance or raw material, and by whom.
    Statement of &tenside::substance::Statement, |statement| {
        /// Yes or no.
        value: bool = statement.value,
        /// Who says so.
        source: String = statement.source.clone(),
    }
}

record! {
    "tenside.substance",
    /// A charge: how it is calculated, and the figure where there is one.
    SubstanceCharge of &Charge, |charge| {
        /// "neutral", "per mole", "per gram" (mmol/g), "depends on pH" or "unknown".
        kind: Word<ChargeKind> = Word(charge.kind()),
        /// The signed figure.
        value: Option<Decimal> = charge.value(),
    }
}

record! {
    "tenside.substance",
    /// A molar mass in g/mol, with the range and chain basis of a mixture.
    SubstanceMolarMass of &MolarMass, |mass| {
        /// The lowest, if stated.
        low: Option<Decimal> = mass.low(),
        /// The typical value.
        typical: Decimal = mass.typical(),
        /// The highest, if stated.
        high: Option<Decimal> = mass.high(),
        /// The chains of a mixture.
        basis: Option<String> = mass.chain().map(|chain| chain.basis.clone()),
    }
}

/// A pure constituent, as an ingredient list or a composition names it.
///
/// One of your own is made of its INCI name (`inci`) and its class (`class_`, `td.material.classes()`). As wanted: `cas`,
/// numbers with right check digits; `label_eu` and `label_us`, where a label names it otherwise; `counts_as_active`, by
/// default true of anionic, amphoteric and nonionic surfactants; `charge`, a kind, with the signed `charge_value` for
/// "per mole" and "per gram" (mmol/g); `molar_mass` in g/mol, or (low, typical, high) of a mixture with its `chains`;
/// `formula` in Hill order; `pka`, from the fully protonated form on; `volatility`, by default "water" of water and
/// "unknown" of the rest; `attributes`, yes or no by `words.Attribute`; `natural_origin` in percent. `source` says where
/// all that comes from. A number that the starter catalogue has under another name makes the two one for limits and
/// measures.
///
/// >>> ester = td.Substance("HOUSE ESTER", "ester", charge="neutral", molar_mass="284.48", source="our supplier's data sheet")
/// >>> ester.charge.kind, ester.volatility
/// ('neutral', 'unknown')
/// >>> td.Material("house-ester", "House ester", "oil", {ester: 100}).main_class
/// 'ester'
///
/// >>> salt = td.Catalogue.starter().substance("sodium chloride")
/// >>> salt.inci, salt.cas, salt.class_
/// ('SODIUM CHLORIDE', ['7647-14-5'], 'salt')
#[pyclass(frozen, eq, from_py_object, module = "tenside")]
#[derive(Clone, PartialEq)]
pub(crate) struct Substance(pub(crate) Arc<tenside::substance::Substance>);

value!(Substance, |it| it.inci());

getters!(Substance {
    /// INCI name.
    inci: String = |it| it.inci().to_string();
    /// Name on an EU label.
    label_eu: String = |it| it.label_eu().to_string();
    /// Name on a US label.
    label_us: String = |it| it.label_us().to_string();
    /// CAS numbers, check digits verified.
    cas: Vec<String> = |it| it.cas().iter().map(ToString::to_string).collect();
    /// Chemical or technical class.
    class_: Word<Class> = |it| Word(it.class());
    /// Whether it counts as active matter, apart from its class.
    counts_as_active: bool = |it| it.counts_as_active();
    /// Charge; unknown stays unknown.
    charge: SubstanceCharge = |it| SubstanceCharge::from(it.charge());
    /// Molar mass, if known.
    molar_mass: Option<SubstanceMolarMass> = |it| it.molar_mass().map(SubstanceMolarMass::from);
    /// Molecular formula in Hill order, for defined compounds.
    formula: Option<String> = |it| it.formula().map(str::to_string);
    /// Acid dissociation constants from the fully protonated form on.
    pka: Vec<Decimal> = |it| it.pka().to_vec();
    /// Whether it leaves on drying: "none", "water", "volatile" or "unknown".
    volatility: Word<Volatility> = |it| Word(it.volatility());
    /// Share of natural origin in percent and its source, in the sense of ISO 16128-2 (from memory).
    natural_origin: Option<(Decimal, String)> = |it| it.attributes().natural_origin().map(|(share, source)| (share, source.to_string()));
    /// Entry of Annex III of Regulation (EC) No 1223/2009 that asks for its declaration as a fragrance constituent.
    annex_iii_entry: Option<u32> = |it| it.annex_iii_entry();
    /// Whether that entry came with Regulation (EU) 2023/1545.
    declared_since_2023: bool = |it| it.declared_since_2023();
    /// Where the values come from.
    source: String = |it| it.source().to_string();
});

row!(Substance {
    inci: String = |it| it.inci(),
    label_eu: String = |it| it.label_eu(),
    label_us: String = |it| it.label_us(),
    cas: Vec<String> = |it| it.cas(),
    class_: Word<Class> = |it| it.class_(),
    counts_as_active: bool = |it| it.counts_as_active(),
    charge: SubstanceCharge = |it| it.charge(),
    molar_mass: Option<SubstanceMolarMass> = |it| it.molar_mass(),
    formula: Option<String> = |it| it.formula(),
    pka: Vec<Decimal> = |it| it.pka(),
    volatility: Word<Volatility> = |it| it.volatility(),
    annex_iii_entry: Option<u32> = |it| it.annex_iii_entry(),
    declared_since_2023: bool = |it| it.declared_since_2023(),
    source: String = |it| it.source(),
});

shown!(Substance, |it| it.0.page());

#[pymethods]
impl Substance {
    #[new]
    #[pyo3(signature = (inci, class_, *, cas=None, label_eu=None, label_us=None, counts_as_active=None, charge=Word(ChargeKind::Unknown),
        charge_value=None, molar_mass=None, chains=None, formula=None, pka=None, volatility=None, attributes=None, natural_origin=None,
        source="stated by the user"))]
    #[pyo3(text_signature = "(inci, class_, *, cas=None, label_eu=None, label_us=None, counts_as_active=None, \
                             charge=\"unknown\", charge_value=None, molar_mass=None, chains=None, formula=None, \
                             pka=None, volatility=None, attributes=None, natural_origin=None, source=\"stated by the \
                             user\")")]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn new(
        inci: &str,
        class_: Word<Class>,
        cas: Option<Names>,
        label_eu: Option<&str>,
        label_us: Option<&str>,
        counts_as_active: Option<bool>,
        charge: Word<ChargeKind>,
        charge_value: Option<Number>,
        molar_mass: Option<AMolarMass>,
        chains: Option<&str>,
        formula: Option<&str>,
        pka: Option<Several<Number>>,
        volatility: Option<Word<Volatility>>,
        attributes: Option<Attributes>,
        natural_origin: Option<Number>,
        source: &str,
    ) -> Outcome<Self> {
        let it = tenside::substance::Substance::new(inci, class_.0)?;
        let counts = counts_as_active.unwrap_or(it.counts_as_active());
        let it = it.with_label_names(label_eu, label_us)?.counting_as_active(counts).with_source(source)?;
        let mut it = it.with_charge(Charge::of(charge.0, charge_value.map(|value| value.0))?);
        if let Some(cas) = cas {
            it = it.with_cas(&cas.each())?;
        }
        if let Some(mass) = molar_mass {
            it = it.with_molar_mass(mass.of(chains)?);
        } else if chains.is_some() {
            return Err(Fault::new(FaultKind::Missing, "chains without a molar mass")
                .remedy("state molar_mass= too")
                .into());
        }
        if let Some(formula) = formula {
            it = it.with_formula(formula)?;
        }
        if let Some(pka) = pka {
            it = it.with_pka(pka.0.into_iter().map(|value| value.0))?;
        }
        if let Some(volatility) = volatility {
            it = it.with_volatility(volatility.0);
        }
        for (attribute, value) in attributes.into_iter().flat_map(|attributes| attributes.0) {
            it = it.with_attribute(attribute, value, source)?;
        }
        if let Some(share) = natural_origin {
            it = it.with_natural_origin(share.0, source)?;
        }
        Ok(Substance(Arc::new(it)))
    }

    /// Its page: names, numbers, class, charge, what is stated of it and by whom.
    #[getter]
    fn page(&self) -> Page {
        Page(self.0.page())
    }

    /// What is stated of "sulfate", "palm", "animal", "silicone" or "ethoxylated"; None is unknown, never no.
    /// `name` is one of `words.Attribute`.
    ///
    /// >>> td.Catalogue.starter().substance("water").attribute("sulfate")
    /// Statement(value=False, source=...)
    fn attribute(&self, name: Word<Attribute>) -> Option<Statement> {
        self.0.attributes().get(name.0).map(Statement::from)
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, PyAny>, (Catalogue, String))> {
        let alone =
            tenside::catalogue::Catalogue::empty().with_substance(Arc::clone(&self.0)).map_err(Failure::from)?;
        Ok((py.get_type::<Catalogue>().getattr("substance")?, (alone.into(), self.inci())))
    }

    fn __repr__(&self) -> String {
        format!("<Substance {:?}>", self.0.inci())
    }
}

#[pymethods]
impl Catalogue {
    /// The substances that materials may name.
    fn substances(&self) -> Rows<Substance> {
        self.0.substances().iter().map(|substance| Substance(Arc::clone(substance))).collect()
    }

    /// The substance of that INCI name.
    fn substance(&self, name: &str) -> Outcome<Substance> {
        Ok(Substance(Arc::clone(self.0.substances().get(name)?)))
    }
}

one_of! {
    /// The molar mass of a compound, or the lowest, typical and highest of a mixture.
    enum AMolarMass: "a number, or three: low, typical, high" {
        Range((Number, Number, Number)),
        One(Number),
    }
}

impl AMolarMass {
    fn of(&self, chains: Option<&str>) -> Outcome<MolarMass> {
        let decimal = |mass: &Number| mass.decimal(Quantity::MolarMass);
        Ok(match (self, chains) {
            (AMolarMass::One(mass), None) => MolarMass::defined(decimal(mass)?)?,
            (AMolarMass::One(mass), Some(chains)) => MolarMass::of_chains(decimal(mass)?, None, chains)?,
            (AMolarMass::Range((low, typical, high)), chains) => MolarMass::of_chains(
                decimal(typical)?,
                Some((decimal(low)?, decimal(high)?)),
                chains.unwrap_or("not stated"),
            )?,
        })
    }
}
