//! Checks of each raw material against what is stated of it: use level, pH range, heat, handling, retest date.

use std::collections::HashSet;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::verdict::{Judged, Value, Verdict, WhyUnchecked};
use super::{Bound, Certainty, Each, EachCheck, Fact, LimitValue, Product, Rule, Use};
use crate::document::fold;
use crate::formula::{Formula, Line};
use crate::material::{Caution, Material, PhRange, UseLevel};
use crate::number::{Date, Exact, Interval, Ppm};

/// What is stated of a raw material; of a premix and of each of its parts.
pub(super) struct EachFacts {
    id: String,
    /// Its share of the line.
    share: Exact,
    /// True for the raw material of the line itself.
    is_whole: bool,
    /// The use levels that go with the product's uses, and whether a use has none.
    levels: Vec<UseLevel>,
    lacks_level: bool,
    ph_range: Option<PhRange>,
    /// The lowest of its own and its parts' highest temperatures.
    highest_temperature: Option<Decimal>,
    heat_sensitive: bool,
    /// What to take care of when it is handled.
    handling: Vec<Caution>,
    /// Whether its supplier leaves open which scent constituents it holds.
    open_for_scent: bool,
    /// Its lots and those of its parts, with their retest dates.
    lots: Vec<(String, Option<Date>)>,
    /// What is in it, folded, for checks that leave some raw materials to other rules.
    constituents: Vec<String>,
}

impl EachFacts {
    pub(super) fn of(material: &Arc<Material>, product: &Product) -> Vec<EachFacts> {
        let leaves = material.leaves();
        let is_premix = !(leaves.len() == 1 && std::ptr::eq(leaves[0].0, material.as_ref()));
        let mut found = vec![EachFacts::one(material, Exact::ONE, true, product)];
        if is_premix {
            found.extend(leaves.into_iter().map(|(leaf, share)| EachFacts::one(leaf, share, false, product)));
        }
        found
    }

    fn one(material: &Material, share: Exact, is_whole: bool, product: &Product) -> Self {
        let level_for = |used: &Use| used.level_of(material);
        let mut stated: Vec<&UseLevel> = Vec::new();
        for level in product.uses().iter().filter_map(level_for) {
            if !stated.contains(&level) {
                stated.push(level);
            }
        }
        // One level that is stated for several uses is one level.
        let mut levels: Vec<UseLevel> = Vec::new();
        for level in stated {
            match levels
                .iter_mut()
                .find(|known| (known.low, known.high, &known.source) == (level.low, level.high, &level.source))
            {
                Some(known) => known.product_use += &format!(" and {}", level.product_use),
                None => levels.push(level.clone()),
            }
        }
        let lots = std::iter::once(material)
            .chain(material.leaves().into_iter().map(|(leaf, _)| leaf).filter(|_| is_whole))
            .filter_map(Material::lot);
        let mut dated: Vec<(String, Option<Date>)> = Vec::new();
        for lot in lots {
            if !dated.iter().any(|(id, _)| id == lot.id()) {
                dated.push((lot.id().to_string(), lot.certificate().retest));
            }
        }
        let temperatures = material.leaves().into_iter().filter_map(|(leaf, _)| leaf.highest_process_temperature());
        let constituents = material
            .composition()
            .constituents()
            .iter()
            .map(|row| row.substance())
            .filter(|substance| !substance.is_unspecified());
        let cautions = material.cautions();
        EachFacts {
            id: material.id().to_string(),
            share,
            is_whole,
            lacks_level: product.uses().iter().any(|used| level_for(used).is_none()),
            levels,
            ph_range: material.ph_range().cloned(),
            highest_temperature: temperatures.chain(material.highest_process_temperature()).min(),
            heat_sensitive: cautions.contains(&Caution::HeatSensitive),
            open_for_scent: material.leaves().into_iter().any(|(leaf, _)| leaf.is_open_for_scent()),
            lots: dated,
            handling: cautions
                .iter()
                .copied()
                .filter(|caution| *caution != Caution::HeatSensitive)
                .chain(material.unstated_cautions().into_iter().map(|(caution, _)| caution))
                .collect(),
            constituents: constituents.flat_map(|it| it.embedded_names()).map(|name| fold(&name)).collect(),
        }
    }
}

/// A check with its list folded.
pub(super) struct CompiledEach {
    check: EachCheck,
    listed: HashSet<String>,
}

impl CompiledEach {
    pub(super) fn new(check: &EachCheck) -> Self {
        CompiledEach { check: check.clone(), listed: check.listed.iter().map(|name| fold(name)).collect() }
    }
}

/// A line of the formula with what is stated of its raw material.
#[derive(Clone, Copy)]
pub(super) struct LineFacts<'a> {
    pub(super) line: &'a Line,
    /// Its share, and by how many ppm it may be off.
    pub(super) parts: u32,
    pub(super) room: u32,
    pub(super) each: &'a [EachFacts],
}

struct Checked<'a> {
    formula: &'a Formula,
    lines: &'a [LineFacts<'a>],
    product: &'a Product,
    most: Certainty,
    judged: Judged,
    settled: bool,
}

/// Runs a check over the lines of a formula; `most` is the most certain that a finding can be. False if the lines' room
/// could change it.
pub(super) fn check(
    compiled: &CompiledEach,
    rule: &Arc<Rule>,
    formula: &Formula,
    lines: &[LineFacts<'_>],
    product: &Product,
    most: Certainty,
) -> (Judged, bool) {
    let mut checked = Checked { formula, lines, product, most, judged: Judged::blank(rule), settled: true };
    match compiled.check.check {
        Each::UseLevelHigh => checked.use_levels(true, compiled.check.tolerance),
        Each::UseLevelLow => checked.use_levels(false, compiled.check.tolerance),
        Each::RetestDate => checked.retest_dates(),
        Each::PhWindow => checked.windows(&compiled.listed),
        Each::ProcessTemperature => checked.process_temperatures(),
        Each::HeatSensitive => checked.heat_sensitive(&compiled.check),
        Each::Handling => checked.handling(),
        Each::OpenScent => checked.open_scents(),
    }
    (checked.judged, checked.settled)
}

impl<'a> Checked<'a> {
    fn found(&mut self, value: Option<Value>, limit: Option<(Bound, Exact)>, lines: Vec<String>, remark: String) {
        let plain = Verdict::plain(&self.judged.rule, self.most);
        self.judged.found.push(Verdict { value, limit, lines, remark: Some(remark), ..plain });
    }

    /// The whole amount of each raw material over all its lines against its use levels, less or more what is tolerated
    /// of them.
    fn use_levels(&mut self, high: bool, tolerance: Option<Ppm>) {
        let tolerated = tolerance.map_or(0, Ppm::parts);
        let factor = u64::from(if high { Ppm::WHOLE.parts() + tolerated } else { Ppm::WHOLE.parts() - tolerated });
        let lines = self.lines;
        let all = || lines.iter().flat_map(|line| line.each.iter().map(move |facts| (line, facts)));
        for (index, (line, facts)) in all().enumerate() {
            if facts.lacks_level && facts.is_whole && facts.levels.is_empty() {
                self.judged.add_unchecked_line(line.line.name(), WhyUnchecked::NoUseLevel);
            }
            if facts.levels.is_empty() || all().take(index).any(|(_, earlier)| earlier.id == facts.id) {
                continue;
            }
            let same = || all().filter(|(_, other)| other.id == facts.id);
            // Whole ppm, and what premixes bring besides.
            let whole: u32 = same().filter(|(_, other)| other.is_whole).map(|(line, _)| line.parts).sum();
            let in_premixes: Exact = same()
                .filter(|(_, other)| !other.is_whole)
                .map(|(line, other)| Exact::from(line.parts) * &other.share)
                .sum();
            let room: u32 = same().map(|(line, _)| line.room).sum();
            for level in &facts.levels {
                self.judged.checks += 1;
                let (bound, end) = if high { (Bound::AtMost, level.high) } else { (Bound::AtLeast, level.low) };
                // Whole millionths of a ppm: less than 2^41.
                let limit = u64::from(end.parts()) * factor;
                let limit_parts =
                    || Exact::ratio(i64::try_from(limit).unwrap_or(i64::MAX), i64::from(Ppm::WHOLE.parts()));
                let compared = if in_premixes.is_zero() {
                    (u64::from(whole) * u64::from(Ppm::WHOLE.parts())).cmp(&limit)
                } else {
                    (Exact::from(whole) + &in_premixes).cmp(&limit_parts())
                };
                if room > 0 {
                    self.settled &= (Exact::from(whole) + &in_premixes - limit_parts()).abs() > Exact::from(room);
                }
                if bound.holds(compared) {
                    continue;
                }
                let names = same().map(|(line, _)| line.line.name().to_string()).collect();
                let percent = (Exact::from(whole) + &in_premixes) / Exact::from(10_000);
                let value = Value::Interval(Interval::point(percent), "%".to_string());
                let within = tolerance
                    .map_or_else(String::new, |share| format!("; up to {share} % of it more or less is no finding"));
                let remark = format!(
                    "{} in {}: {} to {} % ({}{within})",
                    facts.id, level.product_use, level.low, level.high, level.source
                );
                self.found(Some(value), Some((bound, end.percent())), names, remark);
            }
        }
    }

    /// What holds a listed substance is left to the rule about that one.
    fn windows(&mut self, listed: &HashSet<String>) {
        let Some(reading) = self.product.reading() else {
            if self.lines.iter().any(|line| line.each.iter().any(|facts| facts.ph_range.is_some())) {
                self.judged.unchecked = Some(WhyUnchecked::NotStated(Fact::Ph));
            }
            return;
        };
        let lines = self.lines;
        for (line, facts, range) in lines
            .iter()
            .flat_map(|line| line.each.iter().filter_map(move |facts| Some((line, facts, facts.ph_range.as_ref()?))))
        {
            if facts.constituents.iter().any(|name| listed.contains(name)) {
                continue;
            }
            self.judged.checks += 1;
            let limit = match reading.value() {
                value if value < range.low => (Bound::AtLeast, Exact::from(range.low)),
                value if value > range.high => (Bound::AtMost, Exact::from(range.high)),
                _ => continue,
            };
            let remark = format!(
                "{} holds from pH {} to {} ({})",
                facts.id,
                range.low.normalize(),
                range.high.normalize(),
                range.source
            );
            self.found(
                Some(Value::Number(reading.value().into(), "")),
                Some(limit),
                vec![line.line.name().to_string()],
                remark,
            );
        }
    }

    fn temperature_of(&self, line: &Line) -> Option<Decimal> {
        self.formula.phases().iter().find(|phase| phase.name() == line.phase())?.temperature()
    }

    fn process_temperatures(&mut self) {
        let lines = self.lines;
        for line in lines {
            let Some((highest, facts)) = line
                .each
                .iter()
                .filter(|facts| facts.is_whole)
                .find_map(|facts| Some((facts.highest_temperature?, facts)))
            else {
                continue;
            };
            let Some(temperature) = self.temperature_of(line.line) else {
                self.judged.add_unchecked_line(line.line.name(), WhyUnchecked::NoPhaseTemperature);
                continue;
            };
            self.judged.checks += 1;
            if temperature > highest {
                let remark = format!(
                    "{} takes at most {} °C, the phase {:?} has {} °C",
                    facts.id,
                    highest.normalize(),
                    line.line.phase(),
                    temperature.normalize()
                );
                let limit = (Bound::AtMost, Exact::from(highest));
                self.found(
                    Some(Value::Number(temperature.into(), "°C")),
                    Some(limit),
                    vec![line.line.name().to_string()],
                    remark,
                );
            }
        }
    }

    fn heat_sensitive(&mut self, check: &EachCheck) {
        let Some((bound, most)) = check.limit.as_ref().and_then(|limit| match &limit.value {
            LimitValue::Number(most) => Some((limit.bound, most)),
            LimitValue::Stated(_) => None,
        }) else {
            return;
        };
        let lines = self.lines;
        for line in lines {
            let Some(facts) = line
                .each
                .iter()
                .find(|facts| facts.is_whole && facts.heat_sensitive && facts.highest_temperature.is_none())
            else {
                continue;
            };
            let Some(temperature) = self.temperature_of(line.line) else {
                self.judged.add_unchecked_line(line.line.name(), WhyUnchecked::NoPhaseTemperature);
                continue;
            };
            self.judged.checks += 1;
            let temperature = Exact::from(temperature);
            if !bound.holds(temperature.cmp(most)) {
                let remark = format!(
                    "{} spoils or evaporates with heat, the phase {:?} has {} °C",
                    facts.id,
                    line.line.phase(),
                    temperature
                );
                self.found(
                    Some(Value::Number(temperature, "°C")),
                    Some((bound, most.clone())),
                    vec![line.line.name().to_string()],
                    remark,
                );
            }
        }
    }

    /// One finding for all that has to be handled with care: how stands on the batch sheet.
    fn handling(&mut self) {
        let lines = self.lines;
        let whole = lines.iter().filter_map(|line| Some((line, line.each.iter().find(|facts| facts.is_whole)?)));
        self.judged.checks += whole.clone().count();
        let mut names: Vec<String> = Vec::new();
        let mut by_caution: Vec<(Caution, Vec<&str>)> = Vec::new();
        for (line, facts) in whole.filter(|(_, facts)| !facts.handling.is_empty()) {
            names.push(line.line.name().to_string());
            for caution in &facts.handling {
                match by_caution.iter_mut().find(|(known, _)| known == caution) {
                    Some((_, ids)) if ids.contains(&facts.id.as_str()) => {}
                    Some((_, ids)) => ids.push(&facts.id),
                    None => by_caution.push((*caution, vec![&facts.id])),
                }
            }
        }
        if !names.is_empty() {
            by_caution.sort_by_key(|(caution, _)| *caution);
            let said: Vec<String> =
                by_caution.iter().map(|(caution, ids)| format!("{caution}: {}", ids.join(", "))).collect();
            self.found(None, None, names, said.join("; "));
        }
    }

    /// One finding for all whose scent constituents are open.
    fn open_scents(&mut self) {
        let lines = self.lines;
        self.judged.checks += 1;
        let is_open = |line: &&LineFacts<'_>| line.each.iter().any(|facts| facts.is_whole && facts.open_for_scent);
        let names: Vec<String> = lines.iter().filter(is_open).map(|line| line.line.name().to_string()).collect();
        if !names.is_empty() {
            self.judged.found.push(Verdict { lines: names, ..Verdict::plain(&self.judged.rule, self.most) });
        }
    }

    fn retest_dates(&mut self) {
        let (lines, on) = (self.lines, self.product.on());
        for (line, facts) in lines
            .iter()
            .flat_map(|line| line.each.iter().filter(|facts| facts.is_whole).map(move |facts| (line, facts)))
        {
            for (lot, retest) in &facts.lots {
                let Some(retest) = retest else {
                    self.judged.add_unchecked_line(line.line.name(), WhyUnchecked::NoRetestDate);
                    continue;
                };
                self.judged.checks += 1;
                if on > *retest {
                    let remark = format!("{}, lot {lot}: to be tested again by {retest}", facts.id);
                    self.found(None, None, vec![line.line.name().to_string()], remark);
                }
            }
        }
    }
}
