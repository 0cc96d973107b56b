//! Raw materials and substances made in Python, and what their constructors take.

use std::sync::Arc;

use indexmap::IndexMap;
use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use pyo3::types::{PyList, PyTuple};
use pyo3::{PyTypeInfo, type_hint_identifier, type_hint_subscript, type_hint_union};
use tenside::bounds::Quantity;
use tenside::error::{Error, Fault, FaultKind};
use tenside::material::{ActiveConvention, Caution, Composition, Constituent, Contained, Declaration, Form};
use tenside::number::{Exact, Ppm};
use tenside::substance::{Class, SubstanceTable};

use crate::convert::failure::{Failure, Outcome};
use crate::convert::input::{Names, Number, TEXT, items, one_by_one};
use crate::convert::word::{Word, Words};
use crate::material::Material;
use crate::material::attributes::Attributes;
use crate::material::catalogue::Catalogue;
use crate::material::substance::Substance;

one_of! {
    /// The name of a substance, or the substance itself.
    enum ASubstance: "a name or a Substance" {
        Name(String),
        Substance(Substance),
    }
}

impl ASubstance {
    fn name(&self) -> &str {
        match self {
            ASubstance::Name(name) => name,
            ASubstance::Substance(substance) => substance.0.inci(),
        }
    }

    fn find(&self, table: &SubstanceTable) -> Result<Arc<tenside::substance::Substance>, Error> {
        match self {
            ASubstance::Name(name) => table.named(name).cloned(),
            ASubstance::Substance(substance) => Ok(Arc::clone(&substance.0)),
        }
    }
}

/// A share: typical, from low to high, or all three; None where nothing is stated.
#[derive(Default)]
struct Share {
    low: Option<Ppm>,
    typical: Option<Ppm>,
    high: Option<Ppm>,
}

const SHARE: PyStaticExpr = {
    const END: PyStaticExpr = type_hint_union!(Number::INPUT_TYPE, type_hint_identifier!("builtins", "None"));
    type_hint_union!(
        Number::INPUT_TYPE,
        type_hint_subscript!(type_hint_identifier!("builtins", "tuple"), END, END),
        type_hint_subscript!(type_hint_identifier!("builtins", "tuple"), END, END, END),
        type_hint_identifier!("builtins", "None")
    )
};

impl<'a, 'py> FromPyObject<'a, 'py> for Share {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = SHARE;

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        if object.is_none() {
            return Ok(Share::default());
        }
        if !object.is_instance_of::<PyTuple>() && !object.is_instance_of::<PyList>() {
            return Ok(Share { typical: Some(Number::extract(object)?.ppm()?), ..Share::default() });
        }
        let ends = one_by_one(&object, Quantity::Entries, |end| {
            if end.is_none() { Ok(None) } else { Ok(Some(Number::extract(end.as_borrowed())?.ppm()?)) }
        })?;
        match ends[..] {
            [low, high] => Ok(Share { low, typical: None, high }),
            [low, typical, high] => Ok(Share { low, typical, high }),
            _ => {
                let fault = Fault::new(FaultKind::Contradiction, "a share of so many numbers").value(ends.len());
                Err(fault.allowed("one number, (low, high) or (low, typical, high)").into())
            }
        }
    }
}

/// Something of each substance of a mapping, in the order given. A fault of one keeps nobody from reading the others.
pub(crate) struct BySubstance<T>(Vec<(ASubstance, Result<T, Error>)>);

/// What is taken for each substance.
pub(crate) trait Taken: Sized {
    const TYPE: PyStaticExpr;

    fn take(object: &Bound<'_, PyAny>) -> Outcome<Self>;
}

impl Taken for Share {
    const TYPE: PyStaticExpr = SHARE;

    fn take(object: &Bound<'_, PyAny>) -> Outcome<Self> {
        Share::extract(object.as_borrowed())
    }
}

impl<'a, 'py, T: Taken> FromPyObject<'a, 'py> for BySubstance<T> {
    type Error = Failure;
    // A mapping of names is not one of names and substances: a checker of types takes its keys as they are.
    const INPUT_TYPE: PyStaticExpr = type_hint_union!(
        type_hint_subscript!(type_hint_identifier!("collections.abc", "Mapping"), TEXT, T::TYPE),
        type_hint_subscript!(
            type_hint_identifier!("collections.abc", "Mapping"),
            <Substance as PyTypeInfo>::TYPE_HINT,
            T::TYPE
        ),
        type_hint_subscript!(
            type_hint_identifier!("collections.abc", "Mapping"),
            type_hint_union!(TEXT, <Substance as PyTypeInfo>::TYPE_HINT),
            T::TYPE
        )
    );

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        let entry = |entry: Bound<'py, PyAny>| {
            let (name, value): (ASubstance, Bound<'py, PyAny>) = entry.extract()?;
            match T::take(&value) {
                Ok(taken) => Ok((name, Ok(taken))),
                Err(Failure::Core(error)) => Ok((name, Err(error))),
                Err(Failure::Python(error)) => Err(Failure::Python(error)),
            }
        };
        one_by_one(&items(&object)?, Quantity::Stated, entry).map(BySubstance)
    }
}

impl<T> BySubstance<T> {
    /// What comes of each, or every fault.
    fn made<M>(
        self,
        table: &SubstanceTable,
        make: impl Fn(Arc<tenside::substance::Substance>, T) -> Result<M, Error>,
    ) -> Result<Vec<M>, Error> {
        let (mut made, mut faults) = (Vec::new(), Vec::new());
        for (name, taken) in self.0 {
            match name.find(table).and_then(|substance| make(substance, taken?)) {
                Ok(value) => made.push(value),
                Err(error) => faults.extend(error.within(&format!("constituent {:?}", name.name())).into_faults()),
            }
        }
        Error::check(faults, made)
    }
}

/// What suppliers declare: one word for all, or one by constituent.
enum Declared {
    All(Declaration),
    By(IndexMap<String, Declaration>),
}

impl<'a, 'py> FromPyObject<'a, 'py> for Declared {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = type_hint_union!(
        Word::<Declaration>::INPUT_TYPE,
        type_hint_subscript!(
            type_hint_identifier!("collections.abc", "Mapping"),
            TEXT,
            Word::<Declaration>::INPUT_TYPE
        )
    );

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        if !object.hasattr("items")? {
            return Ok(Declared::All(Word::extract(object)?.0));
        }
        let entry = |entry: Bound<'py, PyAny>| {
            let (name, word): (String, Bound<'py, PyAny>) = entry.extract()?;
            Ok((name, Word::extract(word.as_borrowed())?.0))
        };
        Ok(Declared::By(one_by_one(&items(&object)?, Quantity::Stated, entry)?.into_iter().collect()))
    }
}

impl Declared {
    /// The word of each substance by its INCI name; what the composition does not have is refused.
    fn by_inci(&self, table: &SubstanceTable, rows: &[Constituent]) -> Result<IndexMap<String, Declaration>, Error> {
        let Declared::By(words) = self else { return Ok(IndexMap::new()) };
        let (mut found, mut faults) = (IndexMap::new(), Vec::new());
        for (name, word) in words {
            let inci = table.named(name).map_or(name.as_str(), |substance| substance.inci());
            if rows.iter().any(|row| row.substance().inci() == inci) {
                found.insert(inci.to_string(), *word);
            } else {
                let known: Vec<&str> = rows.iter().map(|row| row.substance().inci()).collect();
                faults.push(
                    Fault::new(FaultKind::UnknownName, "declared, but no constituent")
                        .at("declared")
                        .value(format!("{name:?}"))
                        .allowed(known.join(", ")),
                );
            }
        }
        Error::check(faults, found)
    }

    fn of(&self, by_inci: &IndexMap<String, Declaration>, inci: &str) -> Declaration {
        match self {
            Declared::All(word) => *word,
            Declared::By(_) => by_inci.get(inci).copied().unwrap_or(Declaration::Ask),
        }
    }
}

/// The lowest and the highest of something.
type Ends = (Number, Number);

#[pymethods]
impl Material {
    #[new]
    #[pyo3(signature = (id, name, form, constituents, *, declared=Declared::All(Declaration::Ask), unspecified=Number(Exact::ZERO), descending=false,
        phase=None, use_levels=None, ph_range=None, active_convention=None, difference_to=None, density=None, melting_point=None,
        highest_process_temperature=None, bound_water=None, attributes=None, natural_origin=None, contained=None, scent_reported_above=None,
        remainder_may_hold=None, cautions=None, aliases=None, source="stated by the user", catalogue=None))]
    #[pyo3(text_signature = "(id, name, form, constituents, *, declared=\"ask\", unspecified=0, descending=False, \
                             phase=None, use_levels=None, ph_range=None, active_convention=None, difference_to=None, \
                             density=None, melting_point=None, highest_process_temperature=None, bound_water=None, \
                             attributes=None, natural_origin=None, contained=None, scent_reported_above=None, \
                             remainder_may_hold=None, cautions=None, aliases=None, source=\"stated by the user\", \
                             catalogue=None)")]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn new(
        id: &str,
        name: &str,
        form: Word<Form>,
        constituents: BySubstance<Share>,
        declared: Declared,
        unspecified: Number,
        descending: bool,
        phase: Option<&str>,
        use_levels: Option<IndexMap<String, Ends>>,
        ph_range: Option<Ends>,
        active_convention: Option<Word<ActiveConvention>>,
        difference_to: Option<&str>,
        density: Option<Number>,
        melting_point: Option<Number>,
        highest_process_temperature: Option<Number>,
        bound_water: Option<Number>,
        attributes: Option<Attributes>,
        natural_origin: Option<Number>,
        contained: Option<IndexMap<String, BySubstance<Share>>>,
        scent_reported_above: Option<Number>,
        remainder_may_hold: Option<Words<Class>>,
        cautions: Option<Words<Caution>>,
        aliases: Option<Names>,
        source: &str,
        catalogue: Option<&Catalogue>,
    ) -> Outcome<Self> {
        let catalogue = Catalogue::or_starter(catalogue);
        let table = catalogue.0.substances();
        let row = |substance, share: Share| {
            let row = match share.typical {
                Some(typical) => Constituent::typical(substance, typical),
                None => Constituent::bounded(substance),
            };
            row.with_range(share.low, share.high)
        };
        let mut rows = constituents.made(table, row)?;
        let words = declared.by_inci(table, &rows)?;
        rows = rows
            .into_iter()
            .map(|row| {
                let word = declared.of(&words, row.substance().inci());
                row.with_declaration(word)
            })
            .collect();
        if !unspecified.0.is_zero() {
            rows.push(Constituent::typical(tenside::substance::Substance::unspecified(), unspecified.ppm()?));
        }
        let mut it = tenside::material::Material::new(id, name, form.0, Composition::of_rows(rows, descending)?)?
            .with_source(source)?;
        if let Some(phase) = phase {
            it = it.with_phase(phase)?;
        }
        for (product_use, (low, high)) in use_levels.into_iter().flatten() {
            it = it.with_use_level(&product_use, low.0, high.0, source)?;
        }
        if let Some((low, high)) = ph_range {
            it = it.with_ph_range(low.0, high.0, source)?;
        }
        if let Some(convention) = active_convention {
            it = it.with_active_convention(convention.0);
        }
        if let Some(constituent) = difference_to {
            it = it.with_difference_to(constituent)?;
        }
        if let Some(density) = density {
            it = it.with_density(density.0)?;
        }
        if let Some(temperature) = melting_point {
            it = it.with_melting_point(temperature.0)?;
        }
        if let Some(temperature) = highest_process_temperature {
            it = it.with_highest_process_temperature(temperature.0)?;
        }
        if let Some(share) = bound_water {
            it = it.with_bound_water(share.0)?;
        }
        for (attribute, value) in attributes.into_iter().flat_map(|attributes| attributes.0) {
            it = it.with_attribute(attribute, value, source)?;
        }
        if let Some(share) = natural_origin {
            it = it.with_natural_origin(share.0, source)?;
        }
        let mut parts = Vec::new();
        for (of, shares) in contained.into_iter().flatten() {
            let of = table.named(&of)?.inci();
            parts.extend(shares.made(table, |substance, share| {
                Contained::new(of, substance, share.typical, share.low, share.high, source)
            })?);
        }
        it = it.with_contained(parts)?;
        if let Some(share) = scent_reported_above {
            it = it.with_scent_reported_above(share.ppm()?);
        }
        if let Some(classes) = remainder_may_hold {
            it = it.with_remainder_that_may_hold(&classes.0);
        }
        if let Some(cautions) = cautions {
            it = it.with_cautions(&cautions.0);
        }
        if let Some(aliases) = aliases {
            it = it.with_aliases(&aliases.each())?;
        }
        Ok(Material(Arc::new(it)))
    }
}
