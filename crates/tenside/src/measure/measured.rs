//! Reading a measure off a formula.

use super::compile::sum_typical;
use super::extreme::{Extreme, greatest};
use super::names::Resolved;
use super::{Basis, Compiled, Content, Facts, LineTerms, LineView, Measure, Names};
use crate::catalogue::Catalogue;
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{Formula, Line};
use crate::material::{Footing, Kind, NO_SCENT_IN_REMAINDERS, Unnamed};
use crate::number::{Exact, Interval, Ppm};

/// What was read, with the interval that the composition ranges allow.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Measured {
    /// What was measured.
    pub measure: Measure,
    /// On which basis.
    pub basis: Basis,
    /// Its unit.
    pub unit: String,
    /// The value; `None` if the denominator is 0 or something needed is not known. Without a typical composition it has ends only.
    pub value: Option<Interval>,
    /// Why there is no value, or no typical one.
    pub why_not: Vec<Fault>,
    /// What was left out of the count.
    pub notes: Vec<String>,
}

impl Measured {
    /// Value and interval with two decimals and unit, or "not known".
    #[must_use]
    pub fn text(&self) -> String {
        match &self.value {
            Some(value) => format!("{} {}", value.text(2), self.unit).trim_end().to_string(),
            None => "not known".to_string(),
        }
    }
}

impl Formula {
    /// Reads a measure, for typical compositions and with its interval.
    ///
    /// ```
    /// use tenside::catalogue::Catalogue;
    /// use tenside::formula::{Formula, Line};
    /// use tenside::measure::{Basis, Measure};
    /// use tenside::number::{Exact, Ppm};
    /// let catalogue = Catalogue::starter();
    /// let line = |id: &str, percent: &str| Line::new(id, catalogue.material(id)?.clone(), Ppm::from_percent_text(percent)?);
    /// let formula = Formula::new("Wash", vec![line("capb-30", "50")?, line("kaolin", "50")?])?;
    /// let active = formula.measure(&Measure::active_matter(), &Basis::AsCharged)?.value.unwrap();
    /// let dried = formula.measure(&Measure::active_matter(), &Basis::finished(Exact::from(5))?)?.value.unwrap();
    /// assert!(dried.typical > active.typical);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A scope that names what the formula does not have, a substance or raw material that neither it nor the starter catalogue knows
    /// ([`Formula::measure_with`] takes another catalogue), and a measure without meaning on the basis.
    pub fn measure(&self, measure: &Measure, basis: &Basis) -> Result<Measured, Error> {
        self.measure_named(measure, basis, Names::OfLines)
    }

    /// Reads a measure whose names are looked up in a catalogue, as those of substances of one's own that the formula does not hold.
    ///
    /// # Errors
    /// As [`Formula::measure`], for names that the catalogue does not know.
    pub fn measure_with(&self, measure: &Measure, basis: &Basis, catalogue: &Catalogue) -> Result<Measured, Error> {
        self.measure_named(measure, basis, Names::Of(catalogue))
    }

    /// Reads a measure whose names are looked up as told.
    pub(crate) fn measure_named(&self, measure: &Measure, basis: &Basis, names: Names<'_>) -> Result<Measured, Error> {
        let lines: Vec<&Line> = self.lines().iter().collect();
        let views: Vec<LineView<'_>> = lines.iter().map(|line| LineView::of(line)).collect();
        let facts = Facts { prices: self.prices().map(|prices| prices.as_ref()), names };
        let compiled = Compiled::new(measure, basis, &views, &facts)?;
        let mut why_not = Vec::new();
        let mut terms: Vec<(Exact, &LineTerms)> = Vec::new();
        for (line, compiled) in lines.iter().zip(&compiled.lines).filter(|(line, _)| !line.percent().is_zero()) {
            match compiled {
                Ok(found) => terms.push((line.percent().percent(), found)),
                Err(faults) => why_not.extend(faults.iter().filter(|fault| !why_not.contains(*fault)).cloned().collect::<Vec<_>>()),
            }
        }
        if let Some(fault) = self.takes_up_water(basis)? {
            why_not.push(fault);
        }
        let value = if why_not.is_empty() { interval(&terms, &compiled.factor, &mut why_not) } else { None };
        if value.as_ref().is_some_and(|value| value.typical.is_none()) {
            let named = lines.iter().zip(&compiled.lines).filter(|(line, _)| !line.percent().is_zero());
            why_not.extend(named.filter_map(|(line, terms)| terms.as_ref().ok()?.why_no_typical(line.name())));
        }
        let unit = measure.unit(self.prices().map(|prices| prices.currency()));
        let mut notes = self.notes(measure);
        for content in [measure.numerator().0, measure.denominator().0] {
            notes.extend(self.remainder_notes(&names.resolve(content, &views)?));
        }
        Ok(Measured { measure: measure.clone(), basis: basis.clone(), unit, value, why_not, notes })
    }

    /// A finished moisture above the water charged would have water taken up, which drying does not do.
    fn takes_up_water(&self, basis: &Basis) -> Result<Option<Fault>, Error> {
        let Basis::Finished(moisture) = basis else { return Ok(None) };
        let water = self.measure(&Measure::water(), &Basis::AsCharged)?;
        Ok(water.value.and_then(|water| water.typical).filter(|water| water < moisture).map(|water| {
            Fault::new(FaultKind::OutOfRange, "the finished moisture is above the water charged")
                .value(format!("{moisture} %"))
                .allowed(format!("0 to {} %", water.floor_text(4)))
                .remedy("state a lower residual moisture")
        }))
    }

    fn notes(&self, measure: &Measure) -> Vec<String> {
        let mut notes: Vec<(&'static str, Vec<String>)> = Vec::new();
        for line in self.lines().iter().filter(|line| !line.percent().is_zero()) {
            for (leaf, _) in line.material().leaves() {
                for row in leaf.composition().constituents() {
                    for (content, scope) in [measure.numerator(), measure.denominator()] {
                        let Some(note) = content.not_counted(row.substance()).filter(|_| scope.holds(&LineView::of(line))) else { continue };
                        let name = if row.substance().is_unspecified() { leaf.id().to_string() } else { row.substance().inci().to_string() };
                        match notes.iter_mut().find(|(known, _)| *known == note) {
                            Some((_, names)) if !names.contains(&name) => names.push(name),
                            Some(_) => {}
                            None => notes.push((note, vec![name])),
                        }
                    }
                }
            }
        }
        let mut said: Vec<String> = notes.into_iter().map(|(note, names)| format!("{note}: {}", names.join(", "))).collect();
        if matches!(measure.numerator().0, Content::Active(_) | Content::ActiveMoles) {
            said.extend(self.conventions());
        }
        said
    }

    /// What is taken of nameless remainders for a substance, once for all lines.
    fn remainder_notes(&self, content: &Resolved<'_>) -> Vec<String> {
        let kinds: Vec<Kind> = match content {
            Resolved::Substance(asked) => vec![asked.kind],
            Resolved::Sum(sum) => sum.substances().map(|(substance, _)| Kind::of(substance)).collect(),
            Resolved::Constituent(_) | Resolved::Plain(_) => return Vec::new(),
        };
        let (mut could, mut is_left_out) = (Vec::new(), false);
        for line in self.lines().iter().filter(|line| !line.percent().is_zero()) {
            for (leaf, _) in line.material().leaves() {
                let remainder = leaf.composition().constituents().iter().find(|row| row.substance().is_unspecified());
                let Some(row) = remainder.filter(|row| row.high() != Some(Ppm::ZERO)) else { continue };
                is_left_out |= kinds.iter().any(|kind| kind.is_out_of_remainders());
                let holds = |kind: &Kind| leaf.unnamed_in(row, *kind, |_| false) == Unnamed::Nameless;
                if kinds.iter().any(holds) && !could.contains(&leaf.id()) {
                    could.push(leaf.id());
                }
            }
        }
        let left_out = is_left_out.then(|| NO_SCENT_IN_REMAINDERS.to_string());
        let could =
            (!could.is_empty()).then(|| format!("up to all of the unspecified remainder could be it, and counts in the high end alone: {}", could.join(", ")));
        left_out.into_iter().chain(could).collect()
    }

    /// What the active figures rest on, each convention with its raw materials.
    fn conventions(&self) -> Option<String> {
        let mut found: Vec<(String, Vec<&str>)> = Vec::new();
        for line in self.lines().iter().filter(|line| !line.percent().is_zero()) {
            for (leaf, _) in line.material().leaves() {
                let brings_active = leaf.composition().constituents().iter().any(|row| row.substance().counts_as_active());
                if !brings_active {
                    continue;
                }
                let method = leaf.lot().and_then(|lot| lot.certificate().active.as_ref()).map(|active| format!("{} by certificate", active.method));
                let convention = method.or_else(|| leaf.active_convention().map(|known| known.to_string())).unwrap_or_else(|| "not stated".to_string());
                match found.iter_mut().find(|(known, _)| *known == convention) {
                    Some((_, names)) if !names.contains(&leaf.id()) => names.push(leaf.id()),
                    Some(_) => {}
                    None => found.push((convention, vec![leaf.id()])),
                }
            }
        }
        let text: Vec<String> = found.into_iter().map(|(convention, names)| format!("{convention} ({})", names.join(", "))).collect();
        (!text.is_empty()).then(|| format!("active figures rest on: {}", text.join("; ")))
    }
}

fn interval(terms: &[(Exact, &LineTerms)], factor: &Exact, why_not: &mut Vec<Fault>) -> Option<Interval> {
    let typical = typical_sums(terms);
    // The steps to the ends start at a ratio that some composition has.
    let (numerator, denominator) = typical.clone().unwrap_or_else(|| extreme_sums(terms, factor, &Exact::ZERO, true).parts);
    let Some(start) = (factor * numerator).checked_div(&denominator) else {
        why_not.push(Fault::new(FaultKind::NotKnown, "the denominator is 0, so the ratio has no value"));
        return None;
    };
    let known = typical.is_some().then(|| start.clone());
    if denominator.is_negative() {
        // The steps to the ends need a denominator above 0.
        return known.map(|typical| Interval { low: None, typical: Some(typical), high: None });
    }
    let (low, high) = (end(terms, factor, &start, false), end(terms, factor, &start, true));
    (known.is_some() || low.is_some() || high.is_some()).then_some(Interval { low, typical: known, high })
}

/// `N` and `D` at typical compositions.
fn typical_sums(terms: &[(Exact, &LineTerms)]) -> Option<(Exact, Exact)> {
    let (mut numerator, mut denominator) = (Exact::ZERO, Exact::ZERO);
    for (percent, line) in terms {
        numerator += percent * sum_typical(&line.numerator)?;
        denominator += percent * sum_typical(&line.denominator)?;
    }
    Some((numerator, denominator))
}

/// `factor N - ratio D` at its greatest (or, not `upwards`, its least) over all compositions, with `N` and `D` there.
fn extreme_sums(terms: &[(Exact, &LineTerms)], factor: &Exact, ratio: &Exact, upwards: bool) -> Extreme {
    let mut sums = Extreme { value: Exact::ZERO, footing: Footing::Stated, parts: (Exact::ZERO, Exact::ZERO) };
    for (percent, line) in terms {
        for (above, below) in line.numerator.iter().zip(&line.denominator) {
            let found = greatest(above, below, factor, ratio, upwards);
            sums.value += percent * &found.value;
            sums.parts.0 += percent * &found.parts.0;
            sums.parts.1 += percent * &found.parts.1;
            sums.footing = sums.footing.min(found.footing);
        }
    }
    sums
}

/// The least or greatest ratio `factor N / D`: Dinkelbach's iteration. With `r` the current ratio, the greatest value of
/// `factor N - r D` over all compositions is 0 exactly if no composition has a greater ratio; else the composition found has one.
/// Every step takes another of finitely many corners, so it ends. (W. Dinkelbach, Management Science 13, 1967; from memory.)
fn end(terms: &[(Exact, &LineTerms)], factor: &Exact, start: &Exact, upwards: bool) -> Option<Exact> {
    let mut ratio = start.clone();
    loop {
        let Extreme { value, footing, parts: (numerator, denominator) } = extreme_sums(terms, factor, &ratio, upwards);
        if value.is_zero() {
            return (footing > Footing::NotStated).then_some(ratio);
        }
        if !denominator.is_positive() {
            return None;
        }
        ratio = factor * numerator / denominator;
    }
}
