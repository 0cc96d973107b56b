//! The evaluator of measures that was here before, in fractions: the one that rows are compared with.

use std::cmp::Ordering;
use std::sync::Arc;

use super::content::Weight;
use super::names::{Names, Resolved};
use super::{Basis, Content, LineView, Measure, Scope, Sign};
use crate::brief::ToExact;
use crate::catalogue::{Catalogue, PriceList};
use crate::error::{Error, Fault};
use crate::formula::{Formula, Line};
use crate::material::{Composition, Constituent, Footing, Form, Material};
use crate::number::{Exact, Interval, Ppm};
use crate::substance::{Attribute, Class};

/// One raw material of a line: its share of the line and its constituents.
struct Leaf {
    share: Exact,
    rows: Vec<LeafRow>,
}

/// A constituent's range (shares of 1) and what it weighs.
struct LeafRow {
    low: Option<Exact>,
    typical: Option<Exact>,
    high: Option<Exact>,
    weight: Weight,
}

/// What was found for one leaf, times its share of the line.
struct Extreme {
    value: Exact,
    footing: Footing,
    /// Numerator and denominator there.
    parts: (Exact, Exact),
}

/// A group of constituents of equal weight.
struct Group {
    weight: Exact,
    rows: Vec<usize>,
    low: Exact,
    high: Exact,
    low_stated: bool,
    high_stated: bool,
}

/// The greatest (or, not `upwards`, the least) value of `factor N - value D` over one leaf's compositions.
fn greatest(above: &Leaf, below: &Leaf, factor: &Exact, value: &Exact, upwards: bool) -> Extreme {
    let mut footings = vec![Footing::Stated; above.rows.len()];
    let mut pick = |index: usize, weight: &Weight, high: bool| -> Exact {
        let (end, footing) = if high { (&weight.greatest, weight.greatest_footing) } else { (&weight.least, weight.least_footing) };
        footings[index] = footings[index].min(footing);
        end.clone()
    };
    // Factors are positive; the denominator enters with the sign of -value.
    let denominator_high = upwards == value.is_negative();
    let sides: Vec<(Exact, Exact)> = above
        .rows
        .iter()
        .zip(&below.rows)
        .enumerate()
        .map(|(index, (above, below))| (pick(index, &above.weight, upwards), pick(index, &below.weight, denominator_high)))
        .collect();
    let weights: Vec<Exact> = sides.iter().map(|(numerator, denominator)| factor * numerator - value * denominator).collect();
    let (shares, ends_stated) = fill(&above.rows, &weights, upwards);
    let footing = if ends_stated { Footing::Stated } else { Footing::NotStated };
    let mut found = Extreme { value: Exact::ZERO, footing, parts: (Exact::ZERO, Exact::ZERO) };
    for (index, share) in shares.iter().enumerate() {
        // Of a weight that is not stated it does not matter only where there can be none of it.
        if above.rows[index].high.as_ref().is_none_or(Exact::is_positive) {
            found.footing = found.footing.min(footings[index]);
        }
        let amount = share * &above.share;
        found.value += &amount * &weights[index];
        found.parts.0 += &amount * &sides[index].0;
        found.parts.1 += &amount * &sides[index].1;
    }
    found
}

fn fill(rows: &[LeafRow], weights: &[Exact], upwards: bool) -> (Vec<Exact>, bool) {
    let groups = group(rows, weights, upwards);
    let mut shares: Vec<Exact> = rows.iter().map(|row| row.low.clone().unwrap_or_default()).collect();
    let mut left = Exact::ONE - shares.iter().sum::<Exact>();
    let mut stated = true;
    let mut filled = false;
    for group in &groups {
        if filled {
            stated &= group.low_stated;
            continue;
        }
        let room = &group.high - &group.low;
        match left.cmp(&room) {
            Ordering::Greater => {
                stated &= group.high_stated;
                raise(rows, group, &room, &mut shares);
                left -= &room;
            }
            Ordering::Less | Ordering::Equal => {
                raise(rows, group, &left, &mut shares);
                left = Exact::ZERO;
                filled = true;
            }
        }
    }
    (shares, stated)
}

/// Raises the members of a group by `amount` together; how it is split among them does not change the value.
fn raise(rows: &[LeafRow], group: &Group, amount: &Exact, shares: &mut [Exact]) {
    let mut left = amount.clone();
    for &index in &group.rows {
        let room = rows[index].high.clone().unwrap_or(Exact::ONE) - &shares[index];
        let step = if room < left { room } else { left.clone() };
        shares[index] += &step;
        left -= &step;
    }
}

fn group(rows: &[LeafRow], weights: &[Exact], upwards: bool) -> Vec<Group> {
    let mut order: Vec<usize> = (0..rows.len()).collect();
    order.sort_by(|&left, &right| {
        let ordering = weights[right].cmp(&weights[left]);
        if upwards { ordering } else { ordering.reverse() }.then(left.cmp(&right))
    });
    let mut groups: Vec<Group> = Vec::new();
    for index in order {
        let row = &rows[index];
        let (low, high) = (row.low.clone().unwrap_or_default(), row.high.clone().unwrap_or(Exact::ONE));
        match groups.last_mut().filter(|group| group.weight == weights[index]) {
            Some(group) => {
                group.rows.push(index);
                group.low += low;
                group.high += high;
                group.low_stated &= row.low.is_some();
                group.high_stated &= row.high.is_some();
            }
            None => groups.push(Group {
                weight: weights[index].clone(),
                rows: vec![index],
                low,
                high,
                low_stated: row.low.is_some(),
                high_stated: row.high.is_some(),
            }),
        }
    }
    groups
}

struct LineTerms {
    numerator: Vec<Leaf>,
    denominator: Vec<Leaf>,
}

struct Side<'a> {
    content: &'a Resolved,
    whole: Option<Exact>,
    residual: Option<Exact>,
}

impl<'a> Side<'a> {
    fn new(
        content: &Content,
        resolved: &'a Resolved,
        scope: &Scope,
        basis: &Basis,
        line: &LineView<'_>,
        prices: Option<&PriceList>,
    ) -> Result<Self, Vec<Fault>> {
        let inside = scope.holds(line);
        let whole = if inside { content.of_material(line.material, prices).transpose().map_err(Error::into_faults)? } else { Some(Exact::ZERO) };
        let residual = basis.residual_water().filter(|_| inside && !content.ignores_drying());
        let residual = residual.map(|residual| residual * content.of_water().unwrap_or_default());
        Ok(Side { content: resolved, whole, residual })
    }

    fn weight(&self, leaf: &Material, row: &Constituent) -> Result<Weight, Error> {
        let weight = match &self.whole {
            Some(weight) => Weight::certain(weight.clone()),
            None => self.content.of_constituent(leaf, row)?,
        };
        Ok(match &self.residual {
            Some(_) if row.substance().is_water() => Weight::certain(Exact::ZERO),
            Some(residual) => Weight {
                least: weight.least + residual,
                typical: weight.typical.map(|typical| typical + residual),
                greatest: weight.greatest + residual,
                ..weight
            },
            None => weight,
        })
    }

    fn leaves(&self, material: &Material) -> Result<Vec<Leaf>, Vec<Fault>> {
        let mut faults = Vec::new();
        let leaves = material
            .leaves()
            .into_iter()
            .map(|(leaf, share)| {
                let rows = leaf.composition().constituents().iter().map(|row| LeafRow {
                    low: row.low().map(|end| end.share()),
                    typical: row.share().map(|share| share.share()),
                    high: row.high().map(|end| end.share()),
                    weight: self.weight(leaf, row).unwrap_or_else(|error| {
                        faults.extend(error.into_faults());
                        Weight::certain(Exact::ZERO)
                    }),
                });
                Leaf { share, rows: rows.collect() }
            })
            .collect();
        if faults.is_empty() { Ok(leaves) } else { Err(faults) }
    }
}

fn sum_typical(leaves: &[Leaf]) -> Option<Exact> {
    let mut sum = Exact::ZERO;
    for leaf in leaves {
        for row in leaf.rows.iter().filter(|row| !row.weight.is_typically_nothing()) {
            match (&row.typical, &row.weight.typical) {
                (Some(share), None) if share.is_zero() => {}
                (Some(share), Some(weight)) => sum += share * weight * &leaf.share,
                _ => return None,
            }
        }
    }
    Some(sum)
}

fn extreme_sums(terms: &[(Exact, LineTerms)], factor: &Exact, ratio: &Exact, upwards: bool) -> Extreme {
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

fn end(terms: &[(Exact, LineTerms)], factor: &Exact, start: &Exact, upwards: bool) -> Option<Exact> {
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

/// The value of a measure of two single contents, where everything is known that it needs.
fn value(formula: &Formula, measure: &Measure, basis: &Basis) -> Option<Option<Interval>> {
    let ([above], [below]) = (measure.numerator(), measure.denominator()) else { panic!("a sum") };
    let views: Vec<LineView<'_>> = formula.lines().iter().map(LineView::of).collect();
    let [first, second] = [above, below].map(|term| Names::OfLines.resolve(&term.content, &views).unwrap());
    let prices = formula.prices().map(|prices| prices.as_ref());
    let mut terms = Vec::new();
    for (line, view) in formula.lines().iter().zip(&views).filter(|(line, _)| !line.percent().is_zero()) {
        let side = |term: &super::Term, resolved| Side::new(&term.content, resolved, &term.scope, basis, view, prices)?.leaves(line.material());
        terms.push((line.percent().percent(), LineTerms { numerator: side(above, &first).ok()?, denominator: side(below, &second).ok()? }));
    }
    let factor = measure.factor();
    let typical = |side: fn(&LineTerms) -> &Vec<Leaf>| {
        terms.iter().map(|(percent, line)| Some(percent * sum_typical(side(line))?)).try_fold(Exact::ZERO, |sum, term| Some(sum + term?))
    };
    let typical = typical(|line| &line.numerator).zip(typical(|line| &line.denominator));
    let (numerator, denominator) = typical.clone().unwrap_or_else(|| extreme_sums(&terms, &factor, &Exact::ZERO, true).parts);
    let Some(start) = (&factor * numerator).checked_div(&denominator) else { return Some(None) };
    let known = typical.is_some().then(|| start.clone());
    if denominator.is_negative() {
        return Some(known.map(|typical| Interval { low: None, typical: Some(typical), high: None }));
    }
    let (low, high) = (end(&terms, &factor, &start, false), end(&terms, &factor, &start, true));
    Some((known.is_some() || low.is_some() || high.is_some()).then_some(Interval { low, typical: known, high }))
}

struct Seeded(u64);

impl Seeded {
    fn below(&mut self, most: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % most as u64).unwrap()
    }

    fn one<'a, T>(&mut self, of: &'a [T]) -> &'a T {
        &of[self.below(of.len())]
    }
}

/// A raw material of which only bounds are known, or none.
fn bounded(material: &Material, seeded: &mut Seeded) -> Option<Arc<Material>> {
    let rows = material.composition().constituents().iter().map(|row| {
        let bound = Constituent::bounded(row.substance().clone());
        if seeded.below(3) == 0 { bound } else { bound.with_range(row.stated_low(), row.stated_high()).unwrap() }
    });
    let composition = Composition::bounded(rows.collect(), seeded.below(2) == 0).ok()?;
    Some(Arc::new(Material::new(&format!("bounded-{}", material.id()), material.name(), material.form(), composition).unwrap()))
}

fn formula(materials: &[Arc<Material>], seeded: &mut Seeded) -> Formula {
    let count = 1 + seeded.below(9);
    let mut left = 1_000_000u32;
    let mut lines = Vec::new();
    for place in 0..count {
        let material = seeded.one(materials).clone();
        if lines.iter().any(|line: &Line| line.material().id() == material.id()) {
            continue;
        }
        let share = if place + 1 == count { left } else { u32::try_from(seeded.below(left as usize + 1)).unwrap() };
        left -= share;
        let groups = if seeded.below(2) == 0 { vec!["some".to_string()] } else { Vec::new() };
        lines.push(Line::new(material.id(), material.clone(), Ppm::from_parts(share).unwrap()).unwrap().in_groups(&groups));
    }
    let last = lines.pop().unwrap();
    let share = last.percent().parts() + left;
    lines.push(last.with_percent(Ppm::from_parts(share).unwrap()));
    Formula::new("Drawn", lines).unwrap()
}

#[test]
fn rows_give_what_the_fractions_gave() {
    let seeded = &mut Seeded(88_172_645_463_325_252);
    let catalogue = Catalogue::starter();
    let mut materials: Vec<Arc<Material>> = catalogue.materials().cloned().collect();
    let some: Vec<Arc<Material>> = materials.iter().filter_map(|material| bounded(material, seeded)).collect();
    assert!(some.len() > 50, "{}", some.len());
    materials.extend(some);
    for number in 0..40 {
        let premix = formula(&materials, seeded).to_material(&format!("premix-{number}"), Form::Powder).unwrap();
        materials.push(Arc::new(premix));
    }
    let sums: Vec<Content> = crate::rule::RuleBook::starter()
        .rules()
        .filter_map(|rule| if let crate::rule::Varied::Measure(measurand, _) = rule.subject() { Some(&measurand.measure) } else { None })
        .map(|measure| measure.numerator()[0].content.clone())
        .filter(|content| matches!(content, Content::Sum(_)))
        .collect();
    assert!(!sums.is_empty());
    let mut contents = vec![
        Content::Mass,
        Content::Active(None),
        Content::Active(Some(Class::AnionicSurfactant)),
        Content::Class(Class::Salt),
        Content::Constituent("GLYCERIN".to_string()),
        Content::Constituent("WATER".to_string()),
        Content::Substance("LINALOOL".to_string()),
        Content::Substance("SODIUM CHLORIDE".to_string()),
        Content::Water,
        Content::BoundWater,
        Content::Solids,
        Content::Charge(Sign::Negative),
        Content::Charge(Sign::Positive),
        Content::ActiveMoles,
        Content::Cost,
        Content::NaturalOrigin,
        Content::Attribute(Attribute::Palm),
        Content::Form(Form::Liquid),
        Content::Material("kaolin".to_string()),
        Content::Unspecified,
    ];
    contents.extend(sums);
    let cases: usize = std::env::var("TENSIDE_ORACLE_CASES").ok().and_then(|cases| cases.parse().ok()).unwrap_or(2000);
    let (mut known, mut intervals, mut finished, mut open) = (0, 0, 0, 0);
    for case in 0..cases {
        let drawn = formula(&materials, seeded);
        let prices = drawn.lines().iter().map(|line| line.material().id().to_string()).zip((1..).map(|price: i64| price.into()));
        let drawn = drawn.clone().with_prices(Some(Arc::new(PriceList::new("EUR", prices).unwrap())));
        let mut measure = Measure::of(seeded.one(&contents).clone());
        if seeded.below(3) == 0 {
            measure = measure.per(&Measure::of(seeded.one(&contents).clone()));
        }
        let group = Scope::Group("some".to_string());
        if drawn.lines().iter().any(|line| !line.groups().is_empty()) {
            measure = match seeded.below(4) {
                0 => measure.within(group),
                1 => measure.contributed_by(group),
                _ => measure,
            };
        }
        let basis = if seeded.below(3) == 0 { Basis::finished("1".to_exact().unwrap()).unwrap() } else { Basis::AsCharged };
        let Ok(measured) = drawn.measure(&measure, &basis) else { continue };
        if measured.why_not.iter().any(|fault| fault.message.contains("moisture")) {
            continue;
        }
        let Some(expected) = value(&drawn, &measure, &basis) else {
            assert_eq!(measured.value, None);
            continue;
        };
        // Without typical values the fractions began at a composition of chance, where a denominator could be 0.
        if expected.is_none() && measured.value.as_ref().is_some_and(|value| value.typical.is_none()) {
            continue;
        }
        assert_eq!(measured.value, expected, "case {case}: {} {basis} of {:?}", measure.name(), drawn.lines().iter().map(Line::name).collect::<Vec<_>>());
        known += 1;
        intervals += usize::from(expected.as_ref().is_some_and(|value| !value.is_point()));
        finished += usize::from(basis != Basis::AsCharged);
        open += usize::from(expected.is_some_and(|value| value.typical.is_none()));
    }
    println!("{cases} drawn, {known} known, {intervals} with an interval, {finished} finished, {open} without typical value");
    assert!(known > cases / 2 && intervals > cases / 5 && finished > cases / 20 && open > cases / 20, "{known} {intervals} {finished} {open}");
}
