//! A dial: one number of a brief that can be turned while everything else stays.

use std::fmt;
use std::sync::Arc;

use super::{Brief, Requirement, Role, Split, on_grid};
use crate::bounds::Quantity;
use crate::catalogue::PriceList;
use crate::document::unknown_name;
use crate::error::{Error, Fault, FaultKind};
use crate::number::Exact;

/// One number of a brief: what a second look turns, and an axis of a what-if sweep runs along.
///
/// ```
/// use tenside::brief::{Brief, Dial, SplitBasis};
/// use tenside::catalogue::Catalogue;
/// use tenside::number::Exact;
/// let brief = Brief::new("Plain bar", &Catalogue::starter())?
///     .split("wash", SplitBasis::Active, &[("sci-powder", 14), ("capb-30", 1)])?
///     .qs("kaolin")?;
/// let dial = Dial::part("wash", "capb-30");
/// assert_eq!(brief.dial_value(&dial)?, Exact::ONE);
/// let turned = brief.turned(&dial, &Exact::from(2))?;
/// assert_eq!(turned.splits()[0].parts()[1].1, Exact::from(2));
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Dial {
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
    LowEnd(String),
    /// The highest percentage of a line with a range.
    HighEnd(String),
    /// The value of a requirement that asks for exactly one, by the requirement's name.
    Target(String),
    /// The lowest value that a requirement allows, by its name.
    AtLeast(String),
    /// The highest value that a requirement allows, by its name.
    AtMost(String),
    /// The price per kilogram of a raw material, by its id.
    Price(String),
}

impl Dial {
    /// The part of one member of a split.
    #[must_use]
    pub fn part(split: &str, line: &str) -> Self {
        Dial::Part { split: split.to_string(), line: line.to_string() }
    }
}

impl fmt::Display for Dial {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Dial::Part { split, line } => write!(formatter, "part of {line} in split {split}"),
            Dial::Fixed(line) => write!(formatter, "percentage of {line}"),
            Dial::LowEnd(line) => write!(formatter, "lowest percentage of {line}"),
            Dial::HighEnd(line) => write!(formatter, "highest percentage of {line}"),
            Dial::Target(requirement) | Dial::AtLeast(requirement) | Dial::AtMost(requirement) => write!(formatter, "value of {requirement:?}"),
            Dial::Price(material) => write!(formatter, "price of {material}"),
        }
    }
}

impl Brief {
    /// What a dial stands at.
    ///
    /// # Errors
    /// A dial that the brief does not have.
    pub fn dial_value(&self, dial: &Dial) -> Result<Exact, Error> {
        match dial {
            Dial::Part { split, line } => {
                let (split, member) = self.dial_part(split, line)?;
                Ok(self.splits[split].parts()[member].1.clone())
            }
            Dial::Fixed(line) | Dial::LowEnd(line) | Dial::HighEnd(line) => match (dial, self.lines[self.line_index(line)?].role()) {
                (Dial::Fixed(_), Role::Fixed(percent)) | (Dial::LowEnd(_), Role::Between(percent, _)) | (Dial::HighEnd(_), Role::Between(_, percent)) => {
                    Ok(percent.percent())
                }
                (_, role) => Err(no_such(dial, &role.words())),
            },
            Dial::Target(name) | Dial::AtLeast(name) | Dial::AtMost(name) => {
                let requirement = &self.requirements[self.requirement_index(name)?];
                dial_end(dial, requirement).cloned()
            }
            Dial::Price(material) => self.priced(material).map(|(_, price)| price),
        }
    }

    /// The brief with a dial turned to a value.
    ///
    /// # Errors
    /// A dial that the brief does not have, a value that is none for it: a part or price outside its range, a percentage that is not on the
    /// grid, ends that cross, a requirement that would be there twice.
    pub fn turned(&self, dial: &Dial, value: &Exact) -> Result<Self, Error> {
        let mut brief = self.clone();
        match dial {
            Dial::Part { split, line } => {
                let (place, member) = self.dial_part(split, line)?;
                let split = &self.splits[place];
                let mut parts = split.parts().to_vec();
                parts[member].1 = value.clone();
                brief.splits[place] = Split::new(split.name(), split.basis(), parts)?;
            }
            Dial::Fixed(line) | Dial::LowEnd(line) | Dial::HighEnd(line) => {
                self.dial_value(dial)?;
                let index = self.line_index(line)?;
                let percent = on_grid(value.clone(), line)?;
                let role = match self.lines[index].role() {
                    Role::Between(_, high) if matches!(dial, Dial::LowEnd(_)) => Role::between(percent, *high)?,
                    Role::Between(low, _) => Role::between(*low, percent)?,
                    _ => Role::Fixed(percent),
                };
                brief.lines[index].set_role(role);
            }
            Dial::Target(name) | Dial::AtLeast(name) | Dial::AtMost(name) => {
                let index = self.requirement_index(name)?;
                dial_end(dial, &self.requirements[index])?;
                let turned = self.requirements[index].with_end(matches!(dial, Dial::Target(_) | Dial::AtLeast(_)), !matches!(dial, Dial::AtLeast(_)), value)?;
                if self.requirements.iter().enumerate().any(|(other, known)| other != index && known.name() == turned.name()) {
                    return Err(Fault::new(FaultKind::Duplicate, "two requirements would be the same").value(format!("{:?}", turned.name())).into());
                }
                brief.requirements[index] = turned;
            }
            Dial::Price(material) => {
                let (prices, _) = self.priced(material)?;
                let price = Quantity::Price.check(value).map_err(|error| error.within(&dial.to_string())).map(|()| value.to_decimal())?;
                let price = price.ok_or_else(|| {
                    Error::from(Fault::new(FaultKind::OutOfRange, "the price has more digits than are kept").at(dial.to_string()).value(value.to_string()))
                })?;
                let changed = prices.iter().map(|(id, known)| (id.to_string(), if id == material { price } else { known }));
                brief.prices = Some(Arc::new(PriceList::new(prices.currency(), changed.collect::<Vec<_>>())?));
            }
        }
        Ok(brief)
    }

    fn dial_part(&self, split: &str, line: &str) -> Result<(usize, usize), Error> {
        let place = self.splits.iter().position(|known| known.name() == split);
        let place = place.ok_or_else(|| unknown_name("split", split, self.splits.iter().map(Split::name)))?;
        let parts = self.splits[place].parts();
        let member = parts.iter().position(|(member, _)| member == line);
        let member = member.ok_or_else(|| unknown_name("member of the split", line, parts.iter().map(|(member, _)| member.as_str())))?;
        Ok((place, member))
    }

    pub(super) fn requirement_index(&self, name: &str) -> Result<usize, Error> {
        let index = self.requirements.iter().position(|known| known.own_or_words() == name);
        index.ok_or_else(|| {
            let names: Vec<&str> = self.requirements.iter().map(|known| known.own_or_words()).collect();
            unknown_name("requirement", name, names.iter().copied()).allowed(names.join("; ")).into()
        })
    }

    fn priced(&self, material: &str) -> Result<(&PriceList, Exact), Error> {
        let prices = self.prices.as_deref().ok_or_else(|| Fault::new(FaultKind::Missing, "the brief has no price list").remedy("give it one"))?;
        let price = prices.get(material).ok_or_else(|| unknown_name("priced raw material", material, prices.iter().map(|(id, _)| id)))?;
        Ok((prices, price.into()))
    }
}

/// The end that a requirement's dial turns.
fn dial_end<'a>(dial: &Dial, requirement: &'a Requirement) -> Result<&'a Exact, Error> {
    let one = requirement.low() == requirement.high();
    let end = match dial {
        Dial::Target(_) => requirement.low().filter(|_| one),
        Dial::AtLeast(_) => requirement.low().filter(|_| !one),
        _ => requirement.high().filter(|_| !one),
    };
    end.ok_or_else(|| no_such(dial, &requirement.name()))
}

fn no_such(dial: &Dial, there: &str) -> Error {
    let kind = match dial {
        Dial::Fixed(_) => "the line is not fixed",
        Dial::LowEnd(_) | Dial::HighEnd(_) => "the line has no range",
        Dial::Target(_) => "the requirement asks for no single value",
        Dial::AtLeast(_) => "the requirement has no lowest value of its own",
        _ => "the requirement has no highest value of its own",
    };
    Fault::new(FaultKind::UnknownName, kind).at(dial.to_string()).value(there).remedy("turn a number that the brief has").into()
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
        let brief = Brief::new("Dials", &Catalogue::starter()).unwrap().with_prices(&prices).unwrap();
        let brief = brief.split("wash", SplitBasis::Active, &[("sci-powder", 14), ("capb-30", 1)]).unwrap();
        let brief = brief.fix("panthenol", "1.5").unwrap().between("cetyl-alcohol", 3, 6).unwrap().qs("kaolin").unwrap();
        brief.target(Measure::active_matter(), 58).unwrap().at_most(Measure::water(), 9).unwrap().at_least(Measure::solids(), 70).unwrap()
    }

    #[test]
    fn every_dial_reads_what_it_was_turned_to() {
        let brief = brief();
        let dials = [
            (Dial::part("wash", "sci-powder"), "13.5"),
            (Dial::Fixed("panthenol".into()), "2"),
            (Dial::LowEnd("cetyl-alcohol".into()), "2.5"),
            (Dial::HighEnd("cetyl-alcohol".into()), "7"),
            (Dial::Price("sci-powder".into()), "7.25"),
        ];
        for (dial, value) in dials {
            let value: Exact = value.parse().unwrap();
            let turned = brief.turned(&dial, &value).unwrap();
            assert_eq!(turned.dial_value(&dial).unwrap(), value, "{dial}");
            assert_eq!(turned.turned(&dial, &brief.dial_value(&dial).unwrap()).unwrap(), brief, "{dial}");
        }
        let names: Vec<String> = brief.requirements().iter().map(Requirement::name).collect();
        for (dial, place) in [(Dial::Target(names[0].clone()), 0), (Dial::AtMost(names[1].clone()), 1), (Dial::AtLeast(names[2].clone()), 2)] {
            let turned = brief.turned(&dial, &Exact::from(20)).unwrap();
            let requirement = &turned.requirements()[place];
            assert_eq!(requirement.low().or(requirement.high()), Some(&Exact::from(20)));
        }
    }

    #[test]
    fn what_is_no_dial_is_said() {
        let brief = brief();
        let water = brief.requirements()[1].name();
        for (dial, value, says) in [
            (Dial::part("wsh", "capb-30"), 1, "split"),
            (Dial::part("wash", "panthenol"), 1, "member of the split"),
            (Dial::part("wash", "capb-30"), 0, "part"),
            (Dial::Fixed("cetyl-alcohol".into()), 1, "not fixed"),
            (Dial::LowEnd("panthenol".into()), 1, "no range"),
            (Dial::LowEnd("cetyl-alcohol".into()), 7, "upside down"),
            (Dial::Fixed("panthenol".into()), 101, "100"),
            (Dial::Target(water.clone()), 1, "no single value"),
            (Dial::AtLeast(water), 1, "no lowest value"),
            (Dial::Price("kaolin".into()), 1, "priced raw material"),
        ] {
            let message = brief.turned(&dial, &Exact::from(value)).unwrap_err().to_string();
            assert!(message.contains(says), "{dial}: {message}");
        }
        let twice = brief.at_most(Measure::water(), 8).unwrap();
        let name = twice.requirements()[3].name();
        assert!(twice.turned(&Dial::AtMost(name), &Exact::from(9)).unwrap_err().to_string().contains("would be the same"));
        let brief = twice;
        assert!(brief.turned(&Dial::Price("sci-powder".into()), &Exact::ratio(1, 3)).is_err());
    }
}
