//! What is single and what is in micelles, of many mixtures of the same surfactants.

use super::MixedMicelles;
use super::solve::{InUse, in_use};
use crate::number::Exact;
use crate::reading::Dilution;

impl MixedMicelles {
    /// Its surfactants in other parts: so many mmol of each in a gram of product, diluted with water by mass. What is
    /// not there is neither single nor in micelles. Nothing without surfactant, or where no single kind of micelle is
    /// found.
    pub(crate) fn in_use(&self, moles: &[f64], dilution: Dilution) -> Option<InUse> {
        let there: Vec<usize> = (0..moles.len()).filter(|place| moles[*place] > 0.0).collect();
        let sum: f64 = there.iter().map(|place| moles[*place]).sum();
        let shares: Vec<f64> = there.iter().map(|place| moles[*place] / sum).collect();
        let cmcs: Vec<f64> = there.iter().map(|place| self.cmcs[*place]).collect();
        let row = |left: &usize| there.iter().map(|right| self.interactions[*left][*right]).collect();
        let interactions: Vec<Vec<f64>> = there.iter().map(row).collect();
        if there.is_empty() {
            return None;
        }
        let diluted = (Exact::ONE + dilution.water_per_product()).to_f64();
        let used = in_use(&shares, &cmcs, &interactions, sum * 1000.0 / diluted)?;
        let spread = |values: &[f64]| {
            let mut all = vec![0.0; moles.len()];
            there.iter().zip(values).for_each(|(place, value)| all[*place] = *value);
            all
        };
        let in_micelles = used.in_micelles.as_deref().map(spread);
        Some(InUse { cmc: used.cmc, single: spread(&used.single), in_micelles })
    }

    /// The names of its surfactants.
    pub(crate) fn names(&self) -> &[String] {
        &self.names
    }
}
