//! What can be stated of a raw material, thing by thing.

use super::{ActiveConvention, Composition, Constituent, Material, PhRange, UseLevel};
use crate::bounds::Quantity;
use crate::document::{check_name, check_prose};
use crate::error::{Error, Fault, FaultKind};
use crate::memo::Shelf;
use crate::number::{Exact, Ppm, ToExact};
use crate::substance::{Attribute, SubstanceTable};

/// Refuses one more statement than there may be.
fn check_count(count: usize) -> Result<(), Error> {
    Quantity::Stated.check(&Exact::from(i64::try_from(count).unwrap_or(i64::MAX)))
}

impl Composition {
    /// Typical percentages by the names of substances: INCI names, names on a label, CAS numbers, `unspecified` for
    /// what the supplier does not say. Ranges are not stated, declarations are to be asked for.
    ///
    /// ```
    /// use tenside::material::{Composition, Form, Material};
    /// use tenside::substance::SubstanceTable;
    /// let composition = Composition::typical(&SubstanceTable::starter(), [("glycerin", "99.5"), ("aqua", "0.5")])?;
    /// let glycerin = Material::new("house-glycerin", "Glycerin 99.5 %", Form::Liquid, composition)?
    ///     .with_use_level("shampoo-bar", 1, 5, "our trials")?
    ///     .with_source("our supplier's data sheet")?;
    /// assert_eq!(glycerin.use_level("shampoo-bar").unwrap().high.to_string(), "5");
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// Every name and percentage at fault, and as [`Composition::stated`].
    pub fn typical(
        table: &SubstanceTable,
        rows: impl IntoIterator<Item = (impl AsRef<str>, impl ToExact)>,
    ) -> Result<Self, Error> {
        let (mut constituents, mut faults) = (Vec::new(), Vec::new());
        for (name, share) in rows {
            let name = name.as_ref();
            check_count(constituents.len() + faults.len() + 1)?;
            match table
                .named(name)
                .and_then(|substance| Ok(Constituent::typical(substance.clone(), Ppm::from_percent(share)?)))
            {
                Ok(row) => constituents.push(row),
                Err(error) => {
                    faults.extend(error.within(&format!("constituent {}", crate::document::shown(name))).into_faults())
                }
            }
        }
        Error::check(faults, ())?;
        Composition::stated(constituents)
    }

    /// Of rows that all state a typical share, or none of them; `descending` says that those without stand in the
    /// supplier's descending order of mass.
    ///
    /// # Errors
    /// As [`Composition::stated`] and [`Composition::bounded`], and typical shares in descending order, which would say
    /// nothing more.
    pub fn of_rows(rows: Vec<Constituent>, descending: bool) -> Result<Self, Error> {
        if !rows.iter().any(|row| row.share().is_some()) {
            return Composition::bounded(rows, descending);
        }
        if descending {
            let fault =
                Fault::new(FaultKind::Contradiction, "typical shares and a descending order say the same twice");
            return Err(fault.remedy("leave the shares out, or the order").into());
        }
        Composition::stated(rows)
    }
}

impl Material {
    /// A change of what is stated; what upper floors worked out of it before is no longer true.
    fn restated(mut self, change: impl FnOnce(&mut Self)) -> Self {
        change(&mut self);
        self.shelf = Shelf::default();
        self
    }

    /// With the source of whatever states none of its own. What has the old one takes the new one over.
    ///
    /// # Errors
    /// A source without a visible character, or longer than 4000 characters.
    pub fn with_source(self, source: &str) -> Result<Self, Error> {
        let source = check_prose(source).map_err(|error| error.within("source"))?;
        Ok(self.restated(|material| {
            let old = std::mem::replace(&mut material.source, source.clone());
            let own = material
                .use_levels
                .iter_mut()
                .map(|level| &mut level.source)
                .chain(material.ph_range.iter_mut().map(|range| &mut range.source));
            let stated =
                material.attributes.sources_mut().chain(material.contained.iter_mut().map(|part| &mut part.source));
            own.chain(stated).filter(|stated| **stated == old).for_each(|stated| stated.clone_from(&source));
        }))
    }

    /// With a recommended use level in percent of the product as supplied, in place of one for the same use; `source`
    /// says who recommends it.
    ///
    /// # Errors
    /// A bad name or source, percentages out of range, a lowest above the highest.
    pub fn with_use_level(
        self,
        product_use: &str,
        low: impl ToExact,
        high: impl ToExact,
        source: &str,
    ) -> Result<Self, Error> {
        let (product_use, source) = (check_name(product_use)?, check_prose(source)?);
        let place = format!("use level {product_use:?}");
        let level = (Ppm::from_percent(low), Ppm::from_percent(high));
        let (low, high) =
            (level.0.map_err(|error| error.within(&place))?, level.1.map_err(|error| error.within(&place))?);
        if low > high {
            let fault = Fault::new(FaultKind::Contradiction, "the lower use level is above the upper one").at(place);
            return Err(fault.value(format!("{low} to {high}")).allowed("low <= high").into());
        }
        check_count(self.use_levels.len() + 1)?;
        Ok(self.restated(|material| {
            let level = UseLevel { product_use, low, high, source };
            match material.use_levels.iter_mut().find(|known| known.product_use == level.product_use) {
                Some(known) => *known = level,
                None => material.use_levels.push(level),
            }
        }))
    }

    /// With the pH range in which it is stable; `source` says who says so.
    ///
    /// # Errors
    /// Values that no pH has, a lowest above the highest, a bad source.
    pub fn with_ph_range(self, low: impl ToExact, high: impl ToExact, source: &str) -> Result<Self, Error> {
        let (low, high) = (Quantity::Ph.decimal(low)?, Quantity::Ph.decimal(high)?);
        let source = check_prose(source)?;
        if low > high {
            let fault = Fault::new(FaultKind::Contradiction, "the lower end of a pH range is above its upper end");
            return Err(fault.value(format!("{low} to {high}")).allowed("low <= high").into());
        }
        Ok(self.restated(|material| material.ph_range = Some(PhRange { low, high, source })))
    }

    /// With its density in g/mL.
    ///
    /// # Errors
    /// A value out of range.
    pub fn with_density(self, density: impl ToExact) -> Result<Self, Error> {
        let density = Quantity::Density.decimal(density)?;
        Ok(self.restated(|material| material.density = Some(density)))
    }

    /// With its melting point in °C.
    ///
    /// # Errors
    /// A value out of range.
    pub fn with_melting_point(self, temperature: impl ToExact) -> Result<Self, Error> {
        let temperature = Quantity::Temperature.decimal(temperature)?;
        Ok(self.restated(|material| material.melting_point = Some(temperature)))
    }

    /// With the highest temperature in °C at which it may be worked.
    ///
    /// # Errors
    /// A value out of range.
    pub fn with_highest_process_temperature(self, temperature: impl ToExact) -> Result<Self, Error> {
        let temperature = Quantity::Temperature.decimal(temperature)?;
        Ok(self.restated(|material| material.highest_process_temperature = Some(temperature)))
    }

    /// With water, in percent of it, that the composition does not list as water: held by starch, clay or a hydrate.
    ///
    /// # Errors
    /// A value that is no percentage.
    pub fn with_bound_water(self, percent: impl ToExact) -> Result<Self, Error> {
        let share = Ppm::from_percent(percent)?;
        Ok(self.restated(|material| material.bound_water = Some(share)))
    }

    /// With what its figure of active matter rests on.
    #[must_use]
    pub fn with_active_convention(self, convention: ActiveConvention) -> Self {
        self.restated(|material| material.active_convention = Some(convention))
    }

    /// With a yes-or-no property of the whole; `source` says who says so.
    ///
    /// # Errors
    /// A bad source.
    pub fn with_attribute(self, attribute: Attribute, value: bool, source: &str) -> Result<Self, Error> {
        let source = check_prose(source)?;
        Ok(self.restated(|material| material.attributes.state(attribute, value, source)))
    }

    /// With the share of natural origin of the whole in percent, in the sense of ISO 16128-2 (from memory); `source`
    /// says who says so.
    ///
    /// # Errors
    /// A value that is no percentage, a bad source.
    pub fn with_natural_origin(self, percent: impl ToExact, source: &str) -> Result<Self, Error> {
        let (share, source) = (Quantity::Percent.decimal(percent)?, check_prose(source)?);
        Ok(self.restated(|material| material.attributes.natural_origin = Some((share, source))))
    }

    /// With other names that mean nothing but this material.
    ///
    /// # Errors
    /// A bad name.
    pub fn with_aliases(self, aliases: &[&str]) -> Result<Self, Error> {
        let aliases = aliases.iter().map(|alias| check_name(alias)).collect::<Result<_, _>>()?;
        Ok(self.restated(|material| material.aliases = aliases))
    }
}
