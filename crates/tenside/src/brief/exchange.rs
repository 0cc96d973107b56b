//! What a what-if exchanges in a brief besides single numbers: a raw material, the parts of a split, the residual
//! moisture, the compositions that requirements are asked of.

use std::sync::Arc;

use super::{Brief, Objective, Requirement, Split};
use crate::bounds::Quantity;
use crate::error::Error;
use crate::material::{Material, check_distinct};
use crate::measure::{Basis, Measure, Scope};
use crate::number::Exact;

impl Brief {
    /// With another raw material on a line, which keeps its name, place, phase and role.
    pub(crate) fn with_material(&self, line: &str, material: &Arc<Material>) -> Result<Self, Error> {
        let mut brief = self.clone();
        let index = brief.line_index(line)?;
        brief.lines[index].set_material(Arc::clone(material));
        check_distinct(brief.materials())?;
        for split in &brief.splits {
            split.check(&brief.lines)?;
        }
        Ok(brief)
    }

    /// With other parts for a split; see [`Split::with_parts`].
    pub(crate) fn with_parts(&self, split: usize, parts: &[Exact]) -> Self {
        let mut brief = self.clone();
        brief.splits[split] = self.splits[split].with_parts(parts);
        brief
    }

    /// The same question without parts of 0: such a member leaves its split, and its line is required to be 0. These
    /// requirements follow the brief's own, in the order of the members.
    pub(crate) fn without_absent_members(&self) -> Result<Self, Error> {
        let mut brief = self.clone();
        brief.splits.clear();
        for known in &self.splits {
            let (mut present, absent): (Vec<_>, Vec<_>) =
                known.parts().iter().cloned().partition(|(_, part)| part.is_positive());
            // A share can leave parts that are less than one may be written; a split is their ratio alone.
            let lowest = Exact::from(Quantity::SplitPart.range().0);
            if let Some(least) = present.iter().map(|(_, part)| part).min().filter(|least| **least < lowest).cloned() {
                present.iter_mut().for_each(|(_, part)| *part = &*part * &lowest / &least);
            }
            for (line, _) in absent {
                let measure = Measure::as_supplied().contributed_by(Scope::Lines(vec![line.clone()]));
                brief.requirements.push(
                    Requirement::at_most(measure, Exact::ZERO)?.named(&format!("split {}: no {line}", known.name()))?,
                );
            }
            if present.len() > 1 {
                brief.splits.push(Split::new(known.name(), known.basis(), present)?);
            }
        }
        Ok(brief)
    }

    /// With those requirements for every composition that are chosen, by their place, asked of the typical ones only.
    /// One that then says what another says stays beside it.
    pub(crate) fn for_typical_compositions(&self, chosen: impl Fn(usize) -> bool) -> Self {
        let mut brief = self.clone();
        for (_, requirement) in brief.requirements.iter_mut().enumerate().filter(|(place, _)| chosen(*place)) {
            *requirement = requirement.clone().for_typical_compositions();
        }
        brief
    }

    /// With every finished basis of requirements and objective at another residual moisture.
    pub(crate) fn at_moisture(&self, moisture: &Exact) -> Result<Self, Error> {
        let finished = Basis::finished(moisture.clone())?;
        let mut brief = self.clone();
        for requirement in &mut brief.requirements {
            if requirement.basis() != &Basis::AsCharged {
                *requirement = requirement.clone().on(finished.clone());
            }
        }
        if let Some(Objective::Measure { basis, .. }) = &mut brief.objective
            && *basis != Basis::AsCharged
        {
            *basis = finished;
        }
        Ok(brief)
    }
}
