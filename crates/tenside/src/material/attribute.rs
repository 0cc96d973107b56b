//! What is stated of a raw material as yes or no, and what follows from its ingredients or parts.

use std::collections::HashMap;
use std::sync::Arc;

use super::holding::is_by_product;
use super::{Composition, Material};
use crate::substance::{Attribute, Statement, Substance};

impl Material {
    /// The yes-or-no property: as stated of the material, else "yes" if a named ingredient has it and "no" if each
    /// named ingredient is stated not to. `None` is unknown. A nameless remainder is left out of account up to a tenth
    /// of the whole; of more nothing is known.
    #[must_use]
    pub fn attribute(&self, attribute: Attribute) -> Option<Statement> {
        let mut statements: HashMap<*const Material, Option<Statement>> = HashMap::new();
        for material in self.parts_first() {
            let inner = material
                .composition
                .parts()
                .iter()
                .map(|(part, _)| statements.get(&Arc::as_ptr(part)).cloned().flatten());
            let statement = match (material.attributes.get(attribute), &material.composition) {
                (Some(statement), _) => Some(statement.clone()),
                (None, Composition::Premix(_)) => joined(inner.collect()),
                (None, _) => material.attribute_of_ingredients(attribute),
            };
            statements.insert(material, statement);
        }
        statements.remove(&std::ptr::from_ref(self)).flatten()
    }

    fn attribute_of_ingredients(&self, attribute: Attribute) -> Option<Statement> {
        let named: Vec<&Substance> = self
            .composition
            .constituents()
            .iter()
            .map(|row| row.substance().as_ref())
            .filter(|row| !row.is_unspecified())
            .collect();
        if let Some(yes) =
            named.iter().filter_map(|substance| substance.attributes().get(attribute)).find(|statement| statement.value)
        {
            return Some(yes.clone());
        }
        let is_known = is_by_product(self.composition.unspecified()) && !named.is_empty();
        let all_no = is_known && named.iter().all(|substance| substance.attributes().get(attribute).is_some());
        all_no.then(|| Statement { value: false, source: "it is stated of each named ingredient".to_string() })
    }
}

/// What the parts of a premix say together: yes if one has the property, no if each is stated not to.
fn joined(inner: Vec<Option<Statement>>) -> Option<Statement> {
    if let Some(yes) = inner.iter().flatten().find(|statement| statement.value) {
        return Some(yes.clone());
    }
    if inner.iter().all(Option::is_some) { inner.into_iter().flatten().next() } else { None }
}
