//! Moulded bars and portions as pages.

use super::{FaceShape, Mould, MouldedBar, Portions};
use crate::render::{Alignment, Page, Part, Table};

impl Mould {
    /// The mould in words.
    #[must_use]
    pub fn words(&self) -> String {
        let (length, width) = self.face();
        let mut words = match self.shape() {
            FaceShape::Round => format!("round, {} mm", length.normalize()),
            FaceShape::Oval => format!("oval, {} x {} mm", length.normalize(), width.normalize()),
            FaceShape::Rectangular => format!("rectangular, {} x {} mm", length.normalize(), width.normalize()),
        };
        let (upper, lower) = self.domes();
        let further = [
            (self.corner(), "corners of", "mm"),
            (self.draft(), "draft of", "degrees"),
            (upper, "upper face domed by", "mm"),
            (lower, "lower face domed by", "mm"),
        ];
        for (value, name, unit) in further.into_iter().filter(|(value, ..)| !value.is_zero()) {
            words += &format!(", {name} {} {unit}", value.normalize());
        }
        words
    }
}

impl MouldedBar {
    /// Mass, density and height on one page.
    #[must_use]
    pub fn page(&self) -> Page {
        let mut table = Table::new(&[("", Alignment::Left), ("value", Alignment::Right), ("unit", Alignment::Left)]);
        for (name, value, unit) in [
            ("mass", self.mass().text(2), "g"),
            ("density", self.density().text(3), "g/mL"),
            ("height over all", self.height().text(1), "mm"),
        ] {
            table.push([name, value.as_str(), unit]);
        }
        let questions = self.question().into_iter().collect();
        Page::new("A bar from a mould")
            .with(Part::Text(self.mould().words()))
            .with(Part::Table(table))
            .section("To ask", Part::List(questions))
    }
}

impl Portions {
    /// How many of each size, and what is left over.
    #[must_use]
    pub fn page(&self) -> Page {
        let right = Alignment::Right;
        let mut table =
            Table::new(&[("size", Alignment::Left), ("one, g", right), ("number", right), ("together, g", right)]);
        for row in self.rows() {
            table.push([
                row.name.clone(),
                row.mass.grams().rounded_text(2),
                row.count.to_string(),
                row.total.grams().rounded_text(2),
            ]);
        }
        let left = format!("{} g are left over.", self.left_over().grams().rounded_text(2));
        Page::new(&format!("{} divided", self.mass())).with(Part::Table(table)).with(Part::Text(left))
    }
}
