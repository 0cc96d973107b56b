//! A strong ion: whole in water, whatever the pH.

use std::sync::Arc;

use crate::bounds::Quantity;
use crate::document::check_name;
use crate::error::{Error, Fault, FaultKind};

/// An ion of a strong acid, base or salt: sodium, chloride.
///
/// ```
/// use tenside::ph::Ion;
/// assert_eq!(Ion::named("Na")?.charge(), 1);
/// assert_eq!(Ion::named("sodium")?, Ion::named("Na")?);
/// assert_eq!(Ion::new("iodide", -1)?.charge(), -1);
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ion {
    symbol: Arc<str>,
    name: Arc<str>,
    charge: i32,
}

getters!(Ion {
    /// Its symbol, or its name where it is one's own.
    symbol: &str,
    /// Its name.
    name: &str,
    /// Its charge.
    charge: i32,
});

impl Ion {
    /// An ion of one's own.
    ///
    /// # Errors
    /// A bad name, no charge, and a charge out of range.
    pub fn new(name: &str, charge: i32) -> Result<Self, Error> {
        let name = check_name(name)?;
        Ion::of(&name, &name, charge)
    }

    pub(super) fn of(symbol: &str, name: &str, charge: i32) -> Result<Self, Error> {
        Quantity::AcidCharge.checked_float(f64::from(charge))?;
        if charge == 0 {
            let fault = Fault::new(FaultKind::OutOfRange, "an ion without charge").value(0).allowed("-6 to 6, not 0");
            return Err(fault.at(format!("ion {name:?}")).into());
        }
        Ok(Ion { symbol: symbol.into(), name: name.into(), charge })
    }
}
