//! A pure constituent.

use std::sync::Arc;

use pyo3::prelude::*;
use rust_decimal::Decimal;
use tenside::substance::{Attribute, ChargeKind, Class, MolarMass, Volatility};

use crate::convert::failure::{Failure, Outcome};
use crate::convert::table::Rows;
use crate::convert::word::Word;
use crate::material::catalogue::Catalogue;

record! {
    /// What is said of a substance or raw material, and by whom.
    Statement {
        /// Yes or no.
        value: bool,
        /// Who says so.
        source: String,
    }
}

impl From<&tenside::substance::Statement> for Statement {
    fn from(statement: &tenside::substance::Statement) -> Self {
        Statement { value: statement.value, source: statement.source.clone() }
    }
}

record! {
    /// A charge: how it is calculated, and the figure where there is one.
    SubstanceCharge {
        /// "neutral", "per mole", "per gram" (mmol/g), "depends on pH" or "unknown".
        kind: Word<ChargeKind>,
        /// The signed figure.
        value: Option<Decimal>,
    }
}

record! {
    /// A molar mass in g/mol, with the range and chain basis of a mixture.
    SubstanceMolarMass {
        /// The lowest, if stated.
        low: Option<Decimal>,
        /// The typical value.
        typical: Decimal,
        /// The highest, if stated.
        high: Option<Decimal>,
        /// The chains of a mixture.
        basis: Option<String>,
    }
}

/// A pure constituent, as an ingredient list or a composition names it.
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
    charge: SubstanceCharge = |it| SubstanceCharge { kind: Word(it.charge().kind()), value: it.charge().value() };
    /// Molar mass, if known.
    molar_mass: Option<SubstanceMolarMass> = |it| it.molar_mass().map(molar_mass);
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

#[pymethods]
impl Substance {
    /// What is stated of "sulfate", "palm", "animal", "silicone" or "ethoxylated"; None is unknown, never no.
    /// `name` is one of `words.Attribute`.
    ///
    /// >>> td.Catalogue.starter().substance("water").attribute("sulfate")
    /// Statement(value=False, source=...)
    fn attribute(&self, name: Word<Attribute>) -> Option<Statement> {
        self.0.attributes().get(name.0).map(Statement::from)
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, PyAny>, (Catalogue, String))> {
        let alone = tenside::catalogue::Catalogue::empty().with_substance(Arc::clone(&self.0)).map_err(Failure::from)?;
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

fn molar_mass(mass: &MolarMass) -> SubstanceMolarMass {
    SubstanceMolarMass { low: mass.low(), typical: mass.typical(), high: mass.high(), basis: mass.chain().map(|chain| chain.basis.clone()) }
}
