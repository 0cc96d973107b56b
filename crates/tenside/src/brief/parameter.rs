//! A parameter: one number of a brief that can be changed while everything else stays.

use std::fmt;
use std::sync::Arc;

use super::{Brief, Requirement, Role, Split, on_grid};
use crate::bounds::Quantity;
use crate::catalogue::{PriceList, unknown_material};
use crate::document::unknown_name;
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, ToExact};

/// One number of a brief: what a second look changes, and what an axis of a what-if sweep varies.
///
/// ```
/// use tenside::brief::{Brief, Parameter, SplitBasis};
/// use tenside::catalogue::Catalogue;
/// use tenside::number::Exact;
/// let brief = Brief::new("Plain bar", &Catalogue::starter())?
///     .split("wash", SplitBasis::Active, [("sci-powder", 14), ("capb-30", 1)])?
///     .qs("kaolin")?;
/// let parameter = Parameter::part("wash", "capb-30");
/// assert_eq!(brief.parameter_value(&parameter)?, Exact::ONE);
/// let changed = brief.with_parameter(&parameter, &Exact::from(2))?;
/// assert_eq!(changed.splits()[0].parts()[1].1, Exact::from(2));
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Parameter {
    /// The part of one member of a split.
    Part {
        /// The split's name.
        split: String,
        /// The member.
        line: String,
    },
    /// The percentage of a fixed line.
    Fixed(String),
    /// The lowest percentage of a line with a range.
    Lowest(String),
    /// The highest percentage of a line with a range.
    Highest(String),
    /// The value of a requirement that asks for exactly one, by the requirement's name.
    Target(String),
    /// The lowest value that a requirement allows, by its name.
    AtLeast(String),
    /// The highest value that a requirement allows, by its name.
    AtMost(String),
    /// The price per kilogram of a raw material, by its id.
    Price(String),
}

impl Parameter {
    /// The part of one member of a split.
    #[must_use]
    pub fn part(split: &str, line: &str) -> Self {
        Parameter::Part { split: split.to_string(), line: line.to_string() }
    }
}

impl fmt::Display for Parameter {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Parameter::Part { split, line } => write!(formatter, "part of {line} in split {split}"),
            Parameter::Fixed(line) => write!(formatter, "percentage of {line}"),
            Parameter::Lowest(line) => write!(formatter, "lowest percentage of {line}"),
            Parameter::Highest(line) => write!(formatter, "highest percentage of {line}"),
            Parameter::Target(requirement) | Parameter::AtLeast(requirement) | Parameter::AtMost(requirement) => {
                write!(formatter, "value of {requirement:?}")
            }
            Parameter::Price(material) => write!(formatter, "price of {material}"),
        }
    }
}

impl Brief {
    /// The value of a parameter.
    ///
    /// # Errors
    /// A parameter that the brief does not have.
    pub fn parameter_value(&self, parameter: &Parameter) -> Result<Exact, Error> {
        match parameter {
            Parameter::Part { split, line } => {
                let (split, member) = self.place_of_part(split, line)?;
                Ok(self.splits[split].parts()[member].1.clone())
            }
            Parameter::Fixed(line) | Parameter::Lowest(line) | Parameter::Highest(line) => {
                match (parameter, self.lines[self.line_index(line)?].role()) {
                    (Parameter::Fixed(_), Role::Fixed(percent))
                    | (Parameter::Lowest(_), Role::Between(percent, _))
                    | (Parameter::Highest(_), Role::Between(_, percent)) => Ok(percent.percent()),
                    (_, role) => Err(no_such(parameter, &role.words())),
                }
            }
            Parameter::Target(name) | Parameter::AtLeast(name) | Parameter::AtMost(name) => {
                let requirement = &self.requirements[self.requirement_index(name)?];
                end_of(parameter, requirement).cloned()
            }
            Parameter::Price(material) => self.priced(material).map(|(_, price)| price),
        }
    }

    /// The brief with a parameter at another value. A requirement that then asks what another one asks goes.
    ///
    /// # Errors
    /// A parameter that the brief does not have, a value that is none for it: a part or price outside its range, a
    /// percentage that is not on the grid, ends that cross, a requirement that would have the name of another.
    pub fn with_parameter(&self, parameter: &Parameter, value: impl ToExact) -> Result<Self, Error> {
        let (mut brief, value) = (self.clone(), value.to_exact()?);
        match parameter {
            Parameter::Part { split, line } => {
                let (place, member) = self.place_of_part(split, line)?;
                let split = &self.splits[place];
                let mut parts = split.parts().to_vec();
                parts[member].1 = value;
                brief.splits[place] = Split::new(split.name(), split.basis(), parts)?;
            }
            Parameter::Fixed(line) | Parameter::Lowest(line) | Parameter::Highest(line) => {
                self.parameter_value(parameter)?;
                let index = self.line_index(line)?;
                let percent = on_grid(value, line)?;
                let role = match self.lines[index].role() {
                    Role::Between(_, high) if matches!(parameter, Parameter::Lowest(_)) => {
                        Role::between(percent, *high)?
                    }
                    Role::Between(low, _) => Role::between(*low, percent)?,
                    _ => Role::Fixed(percent),
                };
                brief.lines[index].set_role(role);
            }
            Parameter::Target(name) | Parameter::AtLeast(name) | Parameter::AtMost(name) => {
                let index = self.requirement_index(name)?;
                end_of(parameter, &self.requirements[index])?;
                let changed = self.requirements[index].with_end(
                    matches!(parameter, Parameter::Target(_) | Parameter::AtLeast(_)),
                    !matches!(parameter, Parameter::AtLeast(_)),
                    &value,
                )?;
                let others = self.requirements.iter().enumerate().filter(|(other, _)| *other != index);
                match others.map(|(_, known)| known).find(|known| known.name() == changed.name()) {
                    // Another one asks for this already.
                    Some(known) if *known == changed => {
                        brief.requirements.remove(index);
                    }
                    Some(_) => {
                        return Err(Fault::new(FaultKind::Duplicate, "two requirements would have the same name")
                            .value(format!("{:?}", changed.name()))
                            .into());
                    }
                    None => brief.requirements[index] = changed,
                }
            }
            Parameter::Price(material) => {
                let (prices, _) = self.priced(material)?;
                let price = Quantity::Price.decimal(value).map_err(|error| error.within(&parameter.to_string()))?;
                let changed = prices.iter().map(|(id, known)| (id, if id == material { price } else { known }));
                brief.prices = Some(Arc::new(PriceList::new(prices.currency(), changed)?));
            }
        }
        Ok(brief)
    }

    fn place_of_part(&self, split: &str, line: &str) -> Result<(usize, usize), Error> {
        let place = self.splits.iter().position(|known| known.name() == split);
        let place = place.ok_or_else(|| unknown_name("split", split, self.splits.iter().map(Split::name)))?;
        let parts = self.splits[place].parts();
        let member = parts.iter().position(|(member, _)| member == line);
        let member = member.ok_or_else(|| {
            unknown_name("member of the split", line, parts.iter().map(|(member, _)| member.as_str()))
        })?;
        Ok((place, member))
    }

    pub(super) fn requirement_index(&self, name: &str) -> Result<usize, Error> {
        let index = self.requirements.iter().position(|known| known.own_or_words() == name);
        index.ok_or_else(|| {
            let names: Vec<&str> = self.requirements.iter().map(|known| known.own_or_words()).collect();
            let fault = unknown_name("requirement", name, names.iter().copied()).allowed(names.join("; "));
            let line = name
                .strip_prefix("line ")
                .is_some_and(|rest| self.lines.iter().any(|line| rest.starts_with(line.name())));
            if line {
                fault.remedy("a line is no requirement: change it with `change_line`").into()
            } else {
                fault.into()
            }
        })
    }

    fn priced(&self, material: &str) -> Result<(&PriceList, Exact), Error> {
        let prices = self
            .prices
            .as_deref()
            .ok_or_else(|| Fault::new(FaultKind::Missing, "the brief has no price list").remedy("give it one"))?;
        let price = prices
            .get(material)
            .ok_or_else(|| unknown_material("priced raw material", material, prices.iter().map(|(id, _)| id)))?;
        Ok((prices, price.into()))
    }
}

/// The end that a requirement's parameter is.
fn end_of<'a>(parameter: &Parameter, requirement: &'a Requirement) -> Result<&'a Exact, Error> {
    let one = requirement.low() == requirement.high();
    let end = match parameter {
        Parameter::Target(_) => requirement.low().filter(|_| one),
        Parameter::AtLeast(_) => requirement.low().filter(|_| !one),
        _ => requirement.high().filter(|_| !one),
    };
    end.ok_or_else(|| no_such(parameter, &requirement.name()))
}

fn no_such(parameter: &Parameter, there: &str) -> Error {
    let kind = match parameter {
        Parameter::Fixed(_) => "the line is not fixed",
        Parameter::Lowest(_) | Parameter::Highest(_) => "the line has no range",
        Parameter::Target(_) => "the requirement asks for no single value",
        Parameter::AtLeast(_) => "the requirement has no lowest value of its own",
        _ => "the requirement has no highest value of its own",
    };
    Fault::new(FaultKind::UnknownName, kind)
        .at(parameter.to_string())
        .value(there)
        .remedy("name a number that the brief has")
        .into()
}

#[cfg(test)]
mod tests {
    use rust_decimal::Decimal;

    use super::*;
    use crate::brief::SplitBasis;
    use crate::catalogue::Catalogue;
    use crate::measure::Measure;

    fn brief() -> Brief {
        let prices = PriceList::new("EUR", [("sci-powder".to_string(), Decimal::from(8))]).unwrap();
        let brief = Brief::new("Parameters", &Catalogue::starter()).unwrap().with_prices(&prices).unwrap();
        let brief = brief.split("wash", SplitBasis::Active, [("sci-powder", 14), ("capb-30", 1)]).unwrap();
        let brief =
            brief.fix("panthenol", "1.5").unwrap().between("cetyl-alcohol", 3, 6).unwrap().qs("kaolin").unwrap();
        brief
            .target(Measure::active_matter(), 58)
            .unwrap()
            .at_most(Measure::water(), 9)
            .unwrap()
            .at_least(Measure::solids(), 70)
            .unwrap()
    }

    #[test]
    fn every_parameter_reads_what_it_was_set_to() {
        let brief = brief();
        let parameters = [
            (Parameter::part("wash", "sci-powder"), "13.5"),
            (Parameter::Fixed("panthenol".into()), "2"),
            (Parameter::Lowest("cetyl-alcohol".into()), "2.5"),
            (Parameter::Highest("cetyl-alcohol".into()), "7"),
            (Parameter::Price("sci-powder".into()), "7.25"),
        ];
        for (parameter, value) in parameters {
            let value: Exact = value.parse().unwrap();
            let changed = brief.with_parameter(&parameter, &value).unwrap();
            assert_eq!(changed.parameter_value(&parameter).unwrap(), value, "{parameter}");
            assert_eq!(
                changed.with_parameter(&parameter, brief.parameter_value(&parameter).unwrap()).unwrap(),
                brief,
                "{parameter}"
            );
        }
        let names: Vec<String> = brief.requirements().iter().map(Requirement::name).collect();
        for (parameter, place) in [
            (Parameter::Target(names[0].clone()), 0),
            (Parameter::AtMost(names[1].clone()), 1),
            (Parameter::AtLeast(names[2].clone()), 2),
        ] {
            let changed = brief.with_parameter(&parameter, Exact::from(20)).unwrap();
            let requirement = &changed.requirements()[place];
            assert_eq!(requirement.low().or(requirement.high()), Some(&Exact::from(20)));
        }
    }

    #[test]
    fn what_is_no_parameter_is_said() {
        let brief = brief();
        let water = brief.requirements()[1].name();
        for (parameter, value, says) in [
            (Parameter::part("wsh", "capb-30"), 1, "split"),
            (Parameter::part("wash", "panthenol"), 1, "member of the split"),
            (Parameter::part("wash", "capb-30"), 0, "part"),
            (Parameter::Fixed("cetyl-alcohol".into()), 1, "not fixed"),
            (Parameter::Lowest("panthenol".into()), 1, "no range"),
            (Parameter::Lowest("cetyl-alcohol".into()), 7, "above its upper end"),
            (Parameter::Fixed("panthenol".into()), 101, "100"),
            (Parameter::Target(water.clone()), 1, "no single value"),
            (Parameter::AtLeast(water), 1, "no lowest value"),
            (Parameter::Price("kaolin".into()), 1, "priced raw material"),
        ] {
            let message = brief.with_parameter(&parameter, Exact::from(value)).unwrap_err().to_string();
            assert!(message.contains(says), "{parameter}: {message}");
        }
        let twice = brief.at_most(Measure::water(), 8).unwrap();
        let at_most = Parameter::AtMost(twice.requirements()[3].name());
        let once = twice.with_parameter(&at_most, Exact::from(9)).unwrap();
        assert_eq!(once.requirements(), &twice.requirements()[..3]);
        // Another one of that name does not ask for it.
        let named = Requirement::at_most(Measure::solids(), 99).unwrap().named("water at most 7 %").unwrap();
        let message = twice.clone().require(named).unwrap().with_parameter(&at_most, Exact::from(7)).unwrap_err();
        assert!(message.to_string().contains("would have the same name"), "{message}");
        let brief = twice;
        assert!(brief.with_parameter(&Parameter::Price("sci-powder".into()), Exact::ratio(1, 3)).is_err());
    }
}
