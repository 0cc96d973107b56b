//! Reading a measure off a formula.

use std::sync::Arc;

use super::content::COULD_BE_NAMELESS;
use super::names::{Asked, Resolved};
use super::row::{Extreme, Known, Part, Row, add_name};
use super::{Basis, Compiled, Content, Facts, LineView, Measure, Names};
use crate::catalogue::Catalogue;
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{Formula, Line};
use crate::material::{Footing, Material, NO_SCENT_IN_REMAINDERS, Unnamed};
use crate::memo::Memo;
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
    /// The value; `None` if the denominator is 0 or something needed is not known. Without a typical composition it has
    /// ends only.
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
    /// let line = |id: &str, percent: &str| Line::new(id, catalogue.material(id)?.clone(), Ppm::from_percent(percent)?);
    /// let formula = Formula::new("Wash", vec![line("capb-30", "50")?, line("kaolin", "50")?])?;
    /// let active = formula.measure(&Measure::active_matter(), &Basis::AsCharged)?.value.unwrap();
    /// let dried = formula.measure(&Measure::active_matter(), &Basis::finished(Exact::from(5))?)?.value.unwrap();
    /// assert!(dried.typical > active.typical);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A scope that names what the formula does not have, a substance or raw material that neither it nor the starter
    /// catalogue knows ([`Formula::measure_with`] takes another catalogue), and a measure without meaning on the basis.
    pub fn measure(&self, measure: &Measure, basis: &Basis) -> Result<Measured, Error> {
        self.measure_named(measure, basis, Names::OfLines)
    }

    /// Reads a measure whose names are looked up in a catalogue, as those of substances of one's own that the formula
    /// does not hold.
    ///
    /// # Errors
    /// As [`Formula::measure`], for names that the catalogue does not know.
    pub fn measure_with(&self, measure: &Measure, basis: &Basis, catalogue: &Catalogue) -> Result<Measured, Error> {
        self.measure_named(measure, basis, Names::Of(catalogue))
    }

    /// Reads a measure whose names are looked up as told.
    pub(crate) fn measure_named(&self, measure: &Measure, basis: &Basis, names: Names<'_>) -> Result<Measured, Error> {
        let views: Vec<LineView<'_>> = self.lines().iter().map(LineView::of).collect();
        let facts = Facts { prices: self.prices().map(|prices| prices.as_ref()), names };
        let compiled = Compiled::new(measure, basis, &views, &facts)?;
        let mut why_not: Vec<Fault> = Vec::new();
        for fault in self.present(&compiled).filter_map(|(_, known)| known.as_ref().err()).flatten() {
            if !why_not.contains(fault) {
                why_not.push(fault.clone());
            }
        }
        why_not.extend(self.cannot_be_as_moist(basis, &views)?);
        let portions = self.portions(&compiled);
        let value = if why_not.is_empty() { interval(&portions, &mut why_not) } else { None };
        if value.as_ref().is_some_and(|value| value.typical.is_none()) {
            let why = |row: &Row| row.typical().into_iter().find_map(Result::err).cloned();
            why_not
                .extend(self.present(&compiled).filter_map(|(line, known)| {
                    Some(why(known.as_ref().ok()?)?.at(format!("line {:?}", line.name())))
                }));
        }
        let unit = measure.unit(self.prices().map(|prices| prices.currency()));
        let mut notes = self.left_out(measure, &portions);
        notes.extend(self.remainder_notes(measure, names, &views)?);
        if value.is_some() {
            notes.extend(self.drier_than_finished(basis, &views)?);
        }
        Ok(Measured { measure: measure.clone(), basis: basis.clone(), unit, value, why_not, notes })
    }

    /// Reads a measure of lines whose amounts lie between two ends, in the order of the lines and in one unit, and
    /// together in `total`, if that is known: typical at the amounts stated, and an interval over amounts and
    /// compositions together.
    pub(crate) fn measure_of_amounts(
        &self,
        measure: &Measure,
        basis: &Basis,
        amounts: &[Amount],
        total: Option<&[Exact; 2]>,
    ) -> Result<Measured, Error> {
        let mut measured = self.measure(measure, basis)?;
        let Some(known) = measured.value.take() else { return Ok(measured) };
        let views: Vec<LineView<'_>> = self.lines().iter().map(LineView::of).collect();
        let facts = Facts { prices: self.prices().map(|prices| prices.as_ref()), names: Names::OfLines };
        let compiled = Compiled::new(measure, basis, &views, &facts)?;
        let rows: Vec<(&Amount, &Row)> = amounts
            .iter()
            .zip(compiled.lines())
            .filter_map(|(amount, row)| {
                row.as_ref().ok().filter(|_| amount.high.is_positive()).map(|row| (amount, row))
            })
            .collect();
        // Of lines that are not all looked at the whole says nothing.
        let total = total.filter(|_| rows.len() == amounts.iter().filter(|amount| amount.high.is_positive()).count());
        let typical = known.typical.as_ref().and_then(|_| typical_of_amounts(&rows));
        // The steps to an end start at a ratio that some amounts and composition have.
        let start = typical.clone().or_else(|| {
            let [above, below] = extreme_of_amounts(&rows, total, &Exact::ZERO, true).parts;
            above.checked_div(&below)
        });
        let end = |stated: &Option<Exact>, upwards: bool| {
            stated.as_ref()?;
            reached(|ratio| extreme_of_amounts(&rows, total, ratio, upwards), start.as_ref()?)
        };
        measured.value = Some(Interval { low: end(&known.low, false), high: end(&known.high, true), typical });
        Ok(measured)
    }

    /// The lines that are there, with their rows.
    fn present<'a>(&'a self, compiled: &'a Compiled) -> impl Iterator<Item = (&'a Line, &'a Known)> {
        self.lines().iter().zip(compiled.lines()).filter(|(line, _)| !line.percent().is_zero())
    }

    fn portions<'a>(&'a self, compiled: &'a Compiled) -> Vec<Portion<'a>> {
        let portion = |(line, known): (&Line, &'a Known)| {
            Some(Portion { ppm: line.percent().parts(), row: known.as_ref().ok()? })
        };
        self.present(compiled).filter_map(portion).collect()
    }

    /// A finished moisture above the water charged would have water taken up, which drying does not do; one below what
    /// starches, clays and hydrates hold would have them give that up.
    fn cannot_be_as_moist(&self, basis: &Basis, views: &[LineView<'_>]) -> Result<Option<Fault>, Error> {
        let percent = |measure: &Measure| -> Result<Option<Exact>, Error> {
            let compiled = Compiled::new(measure, &Basis::AsCharged, views, &Facts::default())?;
            Ok(typical(&self.portions(&compiled)).and_then(|[water, mass]| water.checked_div(&mass)))
        };
        let water = || percent(&Measure::water());
        let moisture = match basis {
            Basis::AsCharged => return Ok(None),
            Basis::Finished(moisture) => moisture,
            Basis::FinishedWithBoundWater(moisture) => {
                let (Some(water), Some(held)) = (water()?, percent(&Measure::bound_water())?) else { return Ok(None) };
                let dry = Exact::hundred() - &water;
                let least = (Exact::hundred() * &held).checked_div(&dry).unwrap_or_default();
                let most = water + held;
                let message = if *moisture > most {
                    "the finished moisture is above the water charged and held"
                } else if *moisture < least {
                    "the finished moisture is below what starches, clays and hydrates hold"
                } else {
                    return Ok(None);
                };
                let low = -(-least).floor_to(&Exact::ratio(1, 10_000));
                return Ok(Some(
                    Fault::new(FaultKind::OutOfRange, message)
                        .value(format!("{moisture} %"))
                        .allowed(format!("{} to {} %", low.rounded_text(4), most.floor_text(4)))
                        .remedy("state a residual moisture between these"),
                ));
            }
        };
        Ok(water()?.filter(|water| water < moisture).map(|water| {
            Fault::new(FaultKind::OutOfRange, "the finished moisture is above the water charged")
                .value(format!("{moisture} %"))
                .allowed(format!("0 to {} %", water.floor_text(4)))
                .remedy("state a lower residual moisture")
        }))
    }

    /// That compositions inside the stated ranges bring less water than the finished product keeps, and do not count.
    fn drier_than_finished(&self, basis: &Basis, views: &[LineView<'_>]) -> Result<Option<String>, Error> {
        let Basis::Finished(moisture) = basis else { return Ok(None) };
        let compiled = Compiled::new(&Measure::water(), &Basis::AsCharged, views, &Facts::default())?;
        let water = interval(&self.portions(&compiled), &mut Vec::new());
        Ok(water.and_then(|water| water.low).filter(|low| low < moisture).map(|low| {
            format!(
                "compositions that bring less water than {moisture} % are left out, since drying takes none up: as \
                 little as {} % is possible",
                low.floor_text(2)
            )
        }))
    }

    /// What is left out of the count, and what active figures rest on.
    fn left_out(&self, measure: &Measure, portions: &[Portion<'_>]) -> Vec<String> {
        let mut notes: Vec<(&str, Vec<&str>)> = Vec::new();
        for (note, names) in portions.iter().flat_map(|portion| portion.row.left_out()) {
            names.iter().for_each(|name| add_name(&mut notes, note, name));
        }
        let mut said: Vec<String> =
            notes.into_iter().map(|(note, names)| format!("{note}: {}", names.join(", "))).collect();
        if measure.numerator().iter().any(|term| matches!(term.content, Content::Active(_) | Content::ActiveMoles)) {
            said.extend(self.conventions());
        }
        said
    }

    /// What is taken of nameless remainders for substances, once for all lines.
    fn remainder_notes(
        &self,
        measure: &Measure,
        names: Names<'_>,
        views: &[LineView<'_>],
    ) -> Result<Vec<String>, Error> {
        let mut asked: Vec<Asked> = Vec::new();
        for term in measure.terms().filter(|term| matches!(term.content, Content::Substance(_) | Content::Sum(_))) {
            match names.resolve(&term.content, views)? {
                Resolved::Substance(one) => asked.push(one),
                Resolved::Sum(sum) => {
                    asked.extend(sum.substances().map(|(substance, _)| Asked::new(Arc::clone(substance))));
                }
                Resolved::Constituent(_) | Resolved::Plain(_) => {}
            }
        }
        let (mut could, mut is_left_out) = (Vec::new(), false);
        if asked.is_empty() {
            return Ok(Vec::new());
        }
        for line in self.lines().iter().filter(|line| !line.percent().is_zero()) {
            for (leaf, _) in line.material().leaves() {
                for row in leaf.composition().constituents().iter().filter(|row| row.high() != Some(Ppm::ZERO)) {
                    is_left_out |=
                        row.substance().is_unspecified() && asked.iter().any(|one| one.kind.is_out_of_remainders());
                    // What a raw material states of it is all there is of it.
                    let holds =
                        |one: &Asked| leaf.unnamed_in(row, one.kind, |known| one.is(known)) == Unnamed::Nameless;
                    if asked.iter().any(holds) && !could.contains(&leaf.id()) {
                        could.push(leaf.id());
                    }
                }
            }
        }
        let left_out = is_left_out.then(|| NO_SCENT_IN_REMAINDERS.to_string());
        let could = (!could.is_empty()).then(|| format!("{COULD_BE_NAMELESS}: {}", could.join(", ")));
        Ok(left_out.into_iter().chain(could).collect())
    }

    /// What the active figures rest on, each convention with its raw materials.
    fn conventions(&self) -> Option<String> {
        let mut found: Vec<(&str, Vec<&str>)> = Vec::new();
        for line in self.lines().iter().filter(|line| !line.percent().is_zero()) {
            for (convention, id) in
                line.material().shelf().of::<Memo<Conventions>>().get_or(|| conventions_of(line.material()))
            {
                add_name(&mut found, convention, id);
            }
        }
        let text: Vec<String> =
            found.into_iter().map(|(convention, names)| format!("{convention} ({})", names.join(", "))).collect();
        (!text.is_empty()).then(|| format!("active figures rest on: {}", text.join("; ")))
    }
}

/// What the active figure of each raw material rests on, with its id.
type Conventions = Vec<(String, String)>;

fn conventions_of(material: &Material) -> Conventions {
    let leaves = material.leaves().into_iter().map(|(leaf, _)| leaf);
    let brings_active =
        |leaf: &&Material| leaf.composition().constituents().iter().any(|row| row.substance().counts_as_active());
    let convention = |leaf: &Material| {
        let method = leaf
            .lot()
            .and_then(|lot| lot.certificate().active.as_ref())
            .map(|active| format!("{} by certificate", active.method));
        method
            .or_else(|| leaf.active_convention().map(|known| known.to_string()))
            .unwrap_or_else(|| "not stated".to_string())
    };
    leaves.filter(brings_active).map(|leaf| (convention(leaf), leaf.id().to_string())).collect()
}

/// A line that is there, with its row.
struct Portion<'a> {
    ppm: u32,
    row: &'a Row,
}

/// An amount of a line that is known between two ends.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Amount {
    pub(crate) low: Exact,
    pub(crate) stated: Exact,
    pub(crate) high: Exact,
}

fn typical_of_amounts(rows: &[(&Amount, &Row)]) -> Option<Exact> {
    let side = |side: usize| -> Option<Exact> {
        rows.iter().map(|(amount, row)| Some(row.typical()[side].ok()?.exact() * &amount.stated)).sum()
    };
    side(0)?.checked_div(&side(1)?)
}

/// `N` and `D` where `N - ratio D` is greatest (or, not `upwards`, least) over all compositions and all amounts that are
/// together in `total`.
fn extreme_of_amounts(rows: &[(&Amount, &Row)], total: Option<&[Exact; 2]>, ratio: &Exact, upwards: bool) -> Extreme {
    let found: Vec<Extreme> = rows.iter().map(|(_, row)| row.extreme(ratio, upwards)).collect();
    // What one more of each brings.
    let gain = |found: &Extreme| if upwards { found.difference(ratio) } else { -found.difference(ratio) };
    let gains: Vec<Exact> = found.iter().map(gain).collect();
    let chosen = |((amount, _), gain): (&(&Amount, &Row), &Exact)| {
        if gain.is_negative() { amount.low.clone() } else { amount.high.clone() }
    };
    let mut amounts: Vec<Exact> = rows.iter().zip(&gains).map(chosen).collect();
    if let Some([least, most]) = total {
        let sum: Exact = amounts.iter().sum();
        // What has to change to come into the total changes first where that loses the least.
        let mut order: Vec<usize> = (0..rows.len()).collect();
        order.sort_by(|left, right| gains[*left].cmp(&gains[*right]));
        let is_more = sum > *most;
        if !is_more {
            order.reverse();
        }
        let mut rest = if is_more { &sum - most } else { (least - &sum).max(Exact::ZERO) };
        for index in order {
            let (amount, set) = (rows[index].0, &mut amounts[index]);
            let step = if is_more { &*set - &amount.low } else { &amount.high - &*set }.min(rest.clone());
            *set = if is_more { &*set - &step } else { &*set + &step };
            rest -= &step;
        }
    }
    let mut sums = Extreme { parts: [Exact::ZERO, Exact::ZERO], footing: Footing::Stated };
    for (amount, found) in amounts.iter().zip(found) {
        for (sum, part) in sums.parts.iter_mut().zip(found.parts) {
            *sum += part * amount;
        }
        sums.footing = sums.footing.min(found.footing);
    }
    sums
}

fn interval(portions: &[Portion<'_>], why_not: &mut Vec<Fault>) -> Option<Interval> {
    let typical = typical(portions);
    // The steps to the ends start at a ratio that some composition has.
    let [numerator, denominator] = typical.clone().unwrap_or_else(|| extreme(portions, &Exact::ZERO, true).parts);
    let Some(start) = numerator.checked_div(&denominator) else {
        why_not.push(Fault::new(FaultKind::NotKnown, "the denominator is 0, so the ratio has no value"));
        return None;
    };
    let known = typical.is_some().then(|| start.clone());
    if denominator.is_negative() {
        // The steps to the ends need a denominator above 0.
        return known.map(|typical| Interval { low: None, typical: Some(typical), high: None });
    }
    let is_fixed = portions.iter().all(|portion| portion.row.denominator().is_some());
    let [low, high] = [0, 1].map(|end| {
        if !is_fixed {
            return reached(|ratio| extreme(portions, ratio, end == 1), &start);
        }
        let ends = || portions.iter().map(|portion| (portion.ppm, portion.row.ends_above()[end]));
        let footing = ends().map(|(_, (_, footing))| footing).min().unwrap_or(Footing::Stated);
        let total = Part::total(ends().map(|(ppm, (part, _))| (ppm, part)));
        // Most raw materials are what they are.
        (footing > Footing::NotStated).then(|| if total == numerator { start.clone() } else { total / &denominator })
    });
    (known.is_some() || low.is_some() || high.is_some()).then_some(Interval { low, typical: known, high })
}

/// `N` and `D` at typical compositions.
fn typical(portions: &[Portion<'_>]) -> Option<[Exact; 2]> {
    let side = |side: usize| {
        let parts: Option<Vec<(u32, &Part)>> =
            portions.iter().map(|portion| Some((portion.ppm, portion.row.typical()[side].ok()?))).collect();
        Some(Part::total(parts?.into_iter()))
    };
    Some([side(0)?, side(1)?])
}

/// `N` and `D` where `N - ratio D` is greatest (or, not `upwards`, least) over all compositions.
fn extreme(portions: &[Portion<'_>], ratio: &Exact, upwards: bool) -> Extreme {
    let mut sums = Extreme { parts: [Exact::ZERO, Exact::ZERO], footing: Footing::Stated };
    for portion in portions {
        let found = portion.row.extreme(ratio, upwards);
        let ppm = Exact::from(portion.ppm);
        for (sum, part) in sums.parts.iter_mut().zip(found.parts) {
            *sum += part * &ppm;
        }
        sums.footing = sums.footing.min(found.footing);
    }
    sums
}

/// The least or greatest ratio `N / D`: Dinkelbach's iteration. With `r` the current ratio, the greatest value of `N -
/// r D` over all compositions is 0 exactly if no composition has a greater ratio; else the composition found has one.
/// Every step takes another of finitely many corners, so it ends. (W. Dinkelbach, Management Science 13, 1967; from
/// memory.)
fn reached(extreme: impl Fn(&Exact) -> Extreme, start: &Exact) -> Option<Exact> {
    let mut ratio = start.clone();
    loop {
        let found = extreme(&ratio);
        if found.difference(&ratio).is_zero() {
            return (found.footing > Footing::NotStated).then_some(ratio);
        }
        let [numerator, denominator] = found.parts;
        if !denominator.is_positive() {
            return None;
        }
        ratio = numerator / denominator;
    }
}
