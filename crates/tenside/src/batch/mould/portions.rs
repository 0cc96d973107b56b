//! Bars and bottles of several sizes from one batch.

use super::grams;
use crate::bounds::Quantity;
use crate::document::check_name;
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, Mass, MassUnit, ToExact};

/// One size: a mass each, and how many of it where that is decided.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct PortionSize {
    /// What it is called.
    pub name: String,
    /// What one takes.
    pub mass: Mass,
    /// How many are made; nothing for as many as the rest gives.
    pub count: Option<u32>,
}

impl PortionSize {
    /// A size by mass.
    ///
    /// # Errors
    /// A bad name, and a mass of 0.
    pub fn of_mass(name: &str, mass: Mass, count: Option<u32>) -> Result<Self, Error> {
        let name = check_name(name)?;
        if mass.grams().is_zero() {
            return Err(Fault::new(FaultKind::OutOfRange, "a size without mass")
                .at(format!("size {name:?}"))
                .value(mass)
                .allowed("above 0 g")
                .into());
        }
        Ok(PortionSize { name, mass, count })
    }

    /// A size by volume: a bottle of so many mL of a product of that density, g/mL.
    ///
    /// # Errors
    /// A bad name, a volume of 0, and a volume or density out of range.
    pub fn of_volume(
        name: &str,
        millilitres: impl ToExact,
        density: impl ToExact,
        count: Option<u32>,
    ) -> Result<Self, Error> {
        let name = check_name(name)?;
        let place = format!("size {name:?}");
        let density = Quantity::Density.exact(density).map_err(|error| error.within(&place))?;
        let millilitres = millilitres.to_exact().map_err(|error| error.within(&place))?;
        if !millilitres.is_positive() {
            let fault =
                Fault::new(FaultKind::OutOfRange, "a size without volume").at(place).value(format!("{millilitres} mL"));
            return Err(fault.allowed("above 0 mL").into());
        }
        let mass = Mass::new(millilitres * density, MassUnit::Gram).map_err(|error| error.within(&place))?;
        PortionSize::of_mass(&name, mass, count)
    }
}

/// How many of one size a batch gives.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Portion {
    /// What the size is called.
    pub name: String,
    /// What one takes.
    pub mass: Mass,
    /// How many.
    pub count: u32,
    /// What they take together.
    pub total: Mass,
}

/// A batch divided into bars or bottles: those whose number is decided first, then as many as the rest gives. Exact.
///
/// ```
/// use tenside::batch::{PortionSize, Portions};
/// let sizes = [PortionSize::of_mass("large", "100 g".parse()?, Some(4))?, PortionSize::of_mass("small", "60 g".parse()?, None)?];
/// let portions = Portions::new("1 kg".parse()?, &sizes)?;
/// assert_eq!((portions.rows()[1].count, portions.left_over()), (10, &"0 g".parse()?));
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Portions {
    mass: Mass,
    sizes: Vec<PortionSize>,
    rows: Vec<Portion>,
    left_over: Mass,
}

getters!(Portions {
    /// What was divided.
    mass: &Mass,
    /// The sizes as they were asked for.
    sizes: &[PortionSize],
    /// How many of each size.
    rows: &[Portion],
    /// What is left over.
    left_over: &Mass,
});

impl Portions {
    /// So much divided into these sizes.
    ///
    /// # Errors
    /// No size, two of one name, more than one whose number is left open, and decided numbers that take more than there
    /// is.
    pub fn new(mass: Mass, sizes: &[PortionSize]) -> Result<Self, Error> {
        let mut faults = Vec::new();
        if sizes.is_empty() {
            faults.push(Fault::new(FaultKind::Missing, "no size to divide into").remedy("give at least one size"));
        }
        let mut names = std::collections::HashSet::new();
        for size in sizes {
            if !names.insert(size.name.as_str()) {
                faults.push(
                    Fault::new(FaultKind::Duplicate, "two sizes have one name")
                        .value(format!("{:?}", size.name))
                        .remedy("name them apart"),
                );
            }
        }
        if sizes.iter().filter(|size| size.count.is_none()).count() > 1 {
            let fault = Fault::new(FaultKind::Missing, "the number of more than one size is left open").at("sizes");
            faults.push(fault.remedy("state how many of all sizes but one"));
        }
        let decided: Exact = sizes.iter().filter_map(|size| Some(size.mass.grams() * Exact::from(size.count?))).sum();
        if decided > *mass.grams() {
            let fault = Fault::new(FaultKind::Contradiction, "the sizes take more than there is")
                .at("sizes")
                .value(format!("{decided} g"));
            faults.push(fault.allowed(format!("at most {mass}")).remedy("make fewer, or a larger batch"));
        }
        Error::check(faults, ())?;
        let mut left = mass.grams() - decided;
        let mut rows = Vec::new();
        for size in sizes {
            let count = match size.count {
                Some(count) => count,
                None => {
                    let most = (&left / size.mass.grams()).floor_i64().and_then(|most| u32::try_from(most).ok());
                    let count = most
                        .filter(|most| Quantity::Bars.check(&Exact::from((*most).max(1))).is_ok())
                        .ok_or_else(|| {
                            Fault::new(FaultKind::OutOfRange, "more of one size than any batch gives")
                                .at(format!("size {:?}", size.name))
                                .value(&size.mass)
                                .allowed(Quantity::Bars.allowed())
                        })?;
                    left -= &(size.mass.grams() * Exact::from(count));
                    count
                }
            };
            rows.push(Portion {
                name: size.name.clone(),
                mass: size.mass.clone(),
                count,
                total: grams(&(size.mass.grams() * Exact::from(count)))?,
            });
        }
        Ok(Portions { mass, sizes: sizes.to_vec(), rows, left_over: grams(&left)? })
    }
}
