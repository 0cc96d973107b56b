//! In which pH the raw materials of a formula are all stable: the intersection of their ranges.

use rust_decimal::Decimal;

use crate::formula::Formula;
use crate::reading::Reading;
use crate::render::{Alignment, Page, Part, Table};

/// The range of one raw material, as its supplier or the starter catalogue states it.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct WindowRow {
    /// The line that brings it.
    pub line: String,
    /// The raw material, by name.
    pub material: String,
    /// Lowest pH.
    pub low: Decimal,
    /// Highest pH.
    pub high: Decimal,
    /// Who says so.
    pub source: String,
}

/// How far a reading is inside one range; below 0 where it is outside.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Distance {
    /// The range.
    pub row: WindowRow,
    /// The reading less the low edge.
    pub above_low: Decimal,
    /// The high edge less the reading.
    pub below_high: Decimal,
}

impl Distance {
    /// True if the reading is inside the range.
    #[must_use]
    pub fn is_inside(&self) -> bool {
        self.above_low >= Decimal::ZERO && self.below_high >= Decimal::ZERO
    }
}

/// The ranges of a formula's raw materials together. What states no range sets no edge, and is named.
///
/// ```
/// use tenside::catalogue::Catalogue;
/// use tenside::formula::{Formula, Line};
/// use tenside::number::Ppm;
/// use tenside::reading::Reading;
/// let catalogue = Catalogue::starter();
/// let line = |id: &str, percent: &str| Line::new(id, catalogue.material(id)?.clone(), Ppm::from_percent(percent)?);
/// let bar = Formula::new("Bar", vec![line("sci-powder", "98")?, line("sodium-benzoate", "1")?, line("kaolin", "1")?])?;
/// let window = bar.ph_window();
/// assert_eq!(window.range().map(|(low, high)| format!("{low} to {high}")).as_deref(), Some("5 to 5.5"));
/// let distances = window.distances(&Reading::ph("5.8", "1+9".parse()?)?);
/// assert_eq!(distances.iter().filter(|distance| !distance.is_inside()).map(|distance| distance.row.line.as_str()).collect::<Vec<_>>(), ["sodium-benzoate"]);
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct PhWindow {
    title: String,
    rows: Vec<WindowRow>,
    unstated: Vec<String>,
}

impl Formula {
    /// The pH ranges of its raw materials together.
    #[must_use]
    pub fn ph_window(&self) -> PhWindow {
        let mut window = PhWindow { title: self.title().to_string(), rows: Vec::new(), unstated: Vec::new() };
        for line in self.lines().iter().filter(|line| !line.percent().is_zero()) {
            // A premix may state a range of its own; its parts count all the same.
            let leaves = line.material().leaves();
            let own = std::iter::once((
                line.material().as_ref(),
                leaves.iter().any(|(leaf, _)| leaf.id() == line.material().id()),
            ));
            let parts =
                leaves.iter().filter(|(leaf, _)| leaf.id() != line.material().id()).map(|(leaf, _)| (*leaf, true));
            for (material, is_leaf) in own.chain(parts) {
                match material.ph_range() {
                    Some(range) => window.rows.push(WindowRow {
                        line: line.name().to_string(),
                        material: material.name().to_string(),
                        low: range.low,
                        high: range.high,
                        source: range.source.clone(),
                    }),
                    None if is_leaf && !window.unstated.iter().any(|name| name == material.name()) => {
                        window.unstated.push(material.name().to_string())
                    }
                    None => {}
                }
            }
        }
        window
    }
}

getters!(PhWindow {
    /// The ranges, in the order of the lines.
    rows: &[WindowRow],
    /// The raw materials that state no range.
    unstated: &[String],
});

impl PhWindow {
    /// The one that sets the low edge; the first of equals.
    #[must_use]
    pub fn lowest(&self) -> Option<&WindowRow> {
        self.rows.iter().rev().max_by_key(|row| row.low)
    }

    /// The one that sets the high edge; the first of equals.
    #[must_use]
    pub fn highest(&self) -> Option<&WindowRow> {
        self.rows.iter().min_by_key(|row| row.high)
    }

    /// Low and high edge; `None` if no material states a range, or no pH suits all.
    #[must_use]
    pub fn range(&self) -> Option<(Decimal, Decimal)> {
        let (low, high) = (self.lowest()?.low, self.highest()?.high);
        (low <= high).then_some((low, high))
    }

    /// The pair that leaves no pH for all: the one whose range begins highest, and the one whose range ends lowest.
    #[must_use]
    pub fn clash(&self) -> Option<(&WindowRow, &WindowRow)> {
        let (low, high) = (self.lowest()?, self.highest()?);
        (low.low > high.high).then_some((low, high))
    }

    /// How far a reading is from every edge.
    #[must_use]
    pub fn distances(&self, reading: &Reading) -> Vec<Distance> {
        let distance = |row: &WindowRow| Distance {
            row: row.clone(),
            above_low: reading.value() - row.low,
            below_high: row.high - reading.value(),
        };
        self.rows.iter().map(distance).collect()
    }

    /// The ranges for people, with a reading where there is one.
    #[must_use]
    pub fn page(&self, reading: Option<&Reading>) -> Page {
        let mut columns = vec![("raw material", Alignment::Left), ("from", Alignment::Right), ("to", Alignment::Right)];
        if reading.is_some() {
            columns.extend([("above the low edge", Alignment::Right), ("below the high edge", Alignment::Right)]);
        }
        columns.push(("source", Alignment::Left));
        let mut table = Table::new(&columns);
        for row in &self.rows {
            let mut cells = vec![row.material.clone(), row.low.to_string(), row.high.to_string()];
            if let Some(reading) = reading {
                cells.extend([format!("{:+}", reading.value() - row.low), format!("{:+}", row.high - reading.value())]);
            }
            cells.push(row.source.clone());
            table.push(cells);
        }
        let sentence = match (self.clash(), self.range()) {
            (Some((low, high)), _) => {
                format!(
                    "No pH suits all: {} begins at {}, {} ends at {}.",
                    low.material, low.low, high.material, high.high
                )
            }
            (None, Some((low, high))) => format!("The stated ranges have pH {low} to {high} in common."),
            (None, None) => "No raw material states a pH range.".to_string(),
        };
        let read = reading.map_or_else(String::new, |reading| format!(" Read: {reading}."));
        Page::new(&format!("{}: pH window", self.title))
            .with(Part::Text(sentence + &read))
            .section("Ranges", Part::Table(table))
            .section("No range is stated for", Part::List(self.unstated.clone()))
            .with(Part::Text(
                "Ranges are for stability or effect of a raw material; what states none is not thereby stable at \
                 every pH."
                    .to_string(),
            ))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(line: &str, low: i64, high: i64) -> WindowRow {
        let text = || line.to_string();
        WindowRow {
            line: text(),
            material: text(),
            low: Decimal::from(low),
            high: Decimal::from(high),
            source: "invented".to_string(),
        }
    }

    fn window(rows: &[(i64, i64)]) -> PhWindow {
        let rows = rows.iter().enumerate().map(|(place, (low, high))| row(&place.to_string(), *low, *high)).collect();
        PhWindow { title: "Drawn".to_string(), rows, unstated: Vec::new() }
    }

    #[test]
    fn a_clash_names_the_pair() {
        let clashing = window(&[(3, 9), (6, 8), (2, 5), (6, 7)]);
        assert_eq!(clashing.range(), None);
        let (low, high) = clashing.clash().unwrap();
        assert_eq!((low.line.as_str(), high.line.as_str()), ("1", "2"));
        assert!(clashing.page(None).text(80).contains("1 begins at 6, 2 ends at 5"));
        let touching = window(&[(3, 5), (5, 8)]);
        assert_eq!(touching.range(), Some((Decimal::from(5), Decimal::from(5))));
        assert!(touching.clash().is_none());
        assert!(window(&[]).range().is_none() && window(&[]).clash().is_none());
    }

    #[test]
    fn distances_are_signed() {
        let reading = Reading::ph(Decimal::from(6), "1+9".parse().unwrap()).unwrap();
        let distances = window(&[(3, 5), (4, 9)]).distances(&reading);
        assert_eq!((distances[0].above_low, distances[0].below_high), (Decimal::from(3), Decimal::from(-1)));
        assert!(!distances[0].is_inside() && distances[1].is_inside());
    }
}
