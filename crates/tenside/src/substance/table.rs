//! A set of substances, found by name.

use std::collections::HashMap;
use std::sync::Arc;

use super::{Substance, UNSPECIFIED};
use crate::document::{fold, shown, unknown_name};
use crate::error::{Error, Fault, FaultKind};

/// Substances by INCI name, upper and lower case alike.
#[derive(Clone, Debug, PartialEq)]
pub struct SubstanceTable {
    rows: Vec<Arc<Substance>>,
    by_name: HashMap<String, usize>,
}

impl Default for SubstanceTable {
    /// Only the nameless remainder.
    fn default() -> Self {
        let mut table = SubstanceTable { rows: Vec::new(), by_name: HashMap::new() };
        table.put(Substance::unspecified());
        table
    }
}

impl SubstanceTable {
    fn put(&mut self, substance: Arc<Substance>) {
        self.by_name.insert(fold(substance.inci()), self.rows.len());
        self.rows.push(substance);
    }

    /// Adds a substance.
    ///
    /// # Errors
    /// A name that the table has already, with other values.
    pub fn insert(&mut self, substance: Arc<Substance>) -> Result<(), Error> {
        match self.find(substance.inci()) {
            Some(known) if **known == *substance => Ok(()),
            Some(_) => Err(Fault::new(FaultKind::Duplicate, "a substance occurs twice with different values")
                .value(format!("{:?}", substance.inci()))
                .remedy("keep one of the two")
                .into()),
            None => {
                self.put(substance);
                Ok(())
            }
        }
    }

    /// Adds a substance in place of one of the same name.
    pub fn replace(&mut self, substance: Arc<Substance>) {
        match self.by_name.get(&fold(substance.inci())) {
            Some(&index) => self.rows[index] = substance,
            None => self.put(substance),
        }
    }

    /// The substance of that name, if the table has it.
    #[must_use]
    pub fn find(&self, name: &str) -> Option<&Arc<Substance>> {
        self.by_name.get(&fold(name)).map(|index| &self.rows[*index])
    }

    /// The substance of that name.
    ///
    /// # Errors
    /// An unknown name, with the nearest known one.
    pub fn get(&self, name: &str) -> Result<&Arc<Substance>, Error> {
        self.find(name).ok_or_else(|| {
            let fault = unknown_name("substance", name, self.rows.iter().map(|row| row.inci()));
            let remedy = match &fault.remedy {
                Some(near) => format!("{near} else add a [[substance]] for it"),
                None => "add a [[substance]] for it".to_string(),
            };
            fault.remedy(remedy).into()
        })
    }

    /// The substance of that INCI name, name on a label, or CAS number.
    ///
    /// ```
    /// use tenside::substance::SubstanceTable;
    /// let table = SubstanceTable::starter();
    /// assert_eq!(table.named("78-70-6")?.inci(), "LINALOOL");
    /// assert_eq!(table.named("aqua")?.inci(), "WATER");
    /// assert!(table.named("LINALOL").unwrap_err().to_string().contains("did you mean \"LINALOOL\"?"));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// An unknown name, with the nearest known one, and a number or label name that several substances share.
    pub fn named(&self, name: &str) -> Result<&Arc<Substance>, Error> {
        if let Some(substance) = self.find(name) {
            return Ok(substance);
        }
        let folded = fold(name);
        let goes_by = |row: &Substance| {
            fold(row.label_eu()) == folded
                || fold(row.label_us()) == folded
                || row.cas().iter().any(|cas| cas.as_str() == name.trim())
        };
        match self.rows.iter().filter(|row| goes_by(row)).collect::<Vec<_>>().as_slice() {
            [one] => Ok(one),
            [] => self.get(name),
            several => Err(Fault::new(FaultKind::AmbiguousName, "the name or number could mean several substances")
                .value(shown(name))
                .allowed(several.iter().map(|row| format!("{:?}", row.inci())).collect::<Vec<_>>().join(", "))
                .remedy("write the INCI name of the one you mean")
                .into()),
        }
    }

    /// The substances, in the order added, without the nameless remainder.
    pub fn iter(&self) -> impl Iterator<Item = &Arc<Substance>> {
        self.rows.iter().filter(|row| row.inci() != UNSPECIFIED)
    }

    /// How many there are, without the nameless remainder.
    #[must_use]
    pub fn len(&self) -> usize {
        self.rows.len() - 1
    }

    /// True if there is none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }
}
