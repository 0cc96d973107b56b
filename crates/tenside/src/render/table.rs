//! A table of strings, and its plain-text layout.

use serde::{Deserialize, Serialize};

use super::text::{display_width, padded, wrapped};

/// To which side a column's cells are set.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Alignment {
    /// Left: words. Long cells are broken into lines.
    #[default]
    Left,
    /// Right: numbers. They are not broken.
    Right,
}

/// Blanks between two columns of text.
const GAP: usize = 2;
/// A column of words is not made narrower than this while another one can give way.
const NARROWEST_WORDS: usize = 12;
/// Nor is a word broken that is no wider than this.
const WIDEST_WORD: usize = 24;
/// Where even so there is no room, words up to this stay whole, or every row stands by itself.
const WIDEST_WORD_IN_NEED: usize = 16;
/// A wide character takes two columns of a terminal.
const NARROWEST: usize = 2;

/// A table of strings. A row may be shorter than the heading; what is absent is empty.
///
/// ```
/// use tenside::render::{Alignment, Table};
/// let mut table = Table::new(&[("material", Alignment::Left), ("%", Alignment::Right)]);
/// table.push(["sodium cocoyl isethionate, powder", "60"]);
/// table.push(["kaolin", "40"]);
/// table.footer.push(vec!["all".to_string(), "100".to_string()]);
/// let expected = "\
/// material                %
/// --------------------  ---
/// sodium cocoyl          60
/// isethionate, powder
/// kaolin                 40
/// --------------------  ---
/// all                   100
/// ";
/// assert_eq!(table.text(25), expected);
/// ```
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Table {
    /// The heading.
    pub headers: Vec<String>,
    /// The rows.
    pub rows: Vec<Vec<String>>,
    /// Rows of totals, set off at the end.
    pub footer: Vec<Vec<String>>,
    /// One a column; left where absent.
    pub alignments: Vec<Alignment>,
}

impl Table {
    /// A table without rows.
    #[must_use]
    pub fn new(columns: &[(&str, Alignment)]) -> Self {
        Table {
            headers: columns.iter().map(|(header, _)| (*header).to_string()).collect(),
            alignments: columns.iter().map(|(_, alignment)| *alignment).collect(),
            ..Table::default()
        }
    }

    /// Adds a row.
    pub fn push<T: Into<String>>(&mut self, row: impl IntoIterator<Item = T>) {
        self.rows.push(row.into_iter().map(Into::into).collect());
    }

    /// The number of columns: that of the longest row or heading.
    #[must_use]
    pub fn columns(&self) -> usize {
        self.every_row().map(Vec::len).max().unwrap_or(0)
    }

    fn every_row(&self) -> impl Iterator<Item = &Vec<String>> {
        std::iter::once(&self.headers).chain(&self.rows).chain(&self.footer)
    }

    pub(super) fn cell(row: &[String], column: usize) -> &str {
        row.get(column).map_or("", String::as_str)
    }

    pub(super) fn alignment(&self, column: usize) -> Alignment {
        self.alignments.get(column).copied().unwrap_or_default()
    }

    /// As plain text of at most `width` columns of a terminal. Long cells go over several lines. A table of more columns
    /// than can be read side by side is turned on its side if it is one of numbers and has few rows, else written row by
    /// row, a line for each cell that has something in it.
    ///
    /// ```
    /// use tenside::render::{Alignment, Table};
    /// let mut table = Table::new(&[("ingredient", Alignment::Left), ("label", Alignment::Left), ("source", Alignment::Left)]);
    /// table.push(["sodium cocoyl isethionate", "SODIUM COCOYL ISETHIONATE", ""]);
    /// table.push(["kaolin", "KAOLIN", "from memory"]);
    /// let expected = "\
    /// ingredient  sodium cocoyl
    ///             isethionate
    /// label       SODIUM COCOYL
    ///             ISETHIONATE
    ///
    /// ingredient  kaolin
    /// label       KAOLIN
    /// source      from memory
    /// ";
    /// assert_eq!(table.text(30), expected);
    /// ```
    #[must_use]
    pub fn text(&self, width: usize) -> String {
        let Some(widths) = self.widths(width) else {
            let turned = self.turned();
            return turned
                .filter(|table| table.widths(width).is_some())
                .map_or_else(|| self.row_by_row(width), |table| table.text(width));
        };
        let rule: Vec<String> = widths.iter().map(|width| "-".repeat(*width)).collect();
        let mut text = String::new();
        if !self.headers.is_empty() {
            self.push_row(&mut text, &self.headers, &widths);
            self.push_row(&mut text, &rule, &widths);
        }
        for row in &self.rows {
            self.push_row(&mut text, row, &widths);
        }
        if !self.footer.is_empty() {
            self.push_row(&mut text, &rule, &widths);
        }
        for row in &self.footer {
            self.push_row(&mut text, row, &widths);
        }
        text
    }

    /// Columns as rows: of a table of numbers, several rows of which can be compared so.
    fn turned(&self) -> Option<Table> {
        let columns = self.columns();
        let numbers = (0..columns).filter(|&column| self.alignment(column) == Alignment::Right).count();
        if self.rows.len() < 2 || self.rows.len() >= columns || !self.footer.is_empty() || 2 * numbers <= columns {
            return None;
        }
        let row = |column: usize| {
            let heading = Table::cell(&self.headers, column).to_string();
            let cells = self.rows.iter().map(|row| Table::cell(row, column).to_string());
            std::iter::once(heading).chain(cells).collect()
        };
        Some(Table {
            rows: (0..columns).map(row).collect(),
            alignments: std::iter::once(Alignment::Left).chain(self.rows.iter().map(|_| Alignment::Right)).collect(),
            ..Table::default()
        })
    }

    fn row_by_row(&self, width: usize) -> String {
        let widest = self.headers.iter().map(|header| display_width(header)).max().unwrap_or(0);
        let label = widest.clamp(NARROWEST, (width.saturating_sub(GAP) / 2).max(NARROWEST));
        let widths = [label, width.saturating_sub(label + GAP).max(NARROWEST)];
        let block = |row: &Vec<String>| {
            let mut text = String::new();
            for (column, cell) in row.iter().enumerate().filter(|(_, cell)| !cell.is_empty()) {
                let words = [wrapped(Table::cell(&self.headers, column), widths[0]), wrapped(cell, widths[1])];
                push_lines(&mut text, &words, &widths, &|_| false);
            }
            text
        };
        let blocks = |rows: &[Vec<String>]| rows.iter().map(block).collect::<Vec<_>>().join("\n");
        let rule = if self.footer.is_empty() { String::new() } else { "-".repeat(label) + "\n" };
        blocks(&self.rows) + &rule + &blocks(&self.footer)
    }

    /// The widest column gives way until the row fits, first words alone, then headings of numbers too and words down
    /// to their longest; nothing where that does not do.
    fn widths(&self, width: usize) -> Option<Vec<usize>> {
        let columns = self.columns();
        let widest = |column: usize, of: &dyn Fn(&str) -> usize, headed: bool| {
            let rows = self.every_row().skip(usize::from(!headed));
            rows.map(|row| of(Table::cell(row, column))).max().unwrap_or(0).max(NARROWEST)
        };
        let lines = |cell: &str| cell.split('\n').map(display_width).max().unwrap_or(0);
        let pieces = |cell: &str| {
            cell.split_inclusive([' ', '-', '\n']).map(|piece| display_width(piece.trim_end())).max().unwrap_or(0)
        };
        let mut widths: Vec<usize> = (0..columns).map(|column| widest(column, &lines, true)).collect();
        let words = |column: usize| self.alignment(column) == Alignment::Left;
        let comfortable = |column: usize, natural: usize| match words(column) {
            true => widest(column, &pieces, true).clamp(NARROWEST_WORDS, WIDEST_WORD),
            false => natural,
        };
        let tight = |column: usize, _: usize| match words(column) {
            true => widest(column, &pieces, true).min(WIDEST_WORD_IN_NEED),
            false => widest(column, &lines, false).max(pieces(Table::cell(&self.headers, column))),
        };
        let room = width.saturating_sub(GAP * columns.saturating_sub(1));
        for narrowest in [&comfortable as &dyn Fn(usize, usize) -> usize, &tight] {
            let floors: Vec<usize> =
                widths.iter().enumerate().map(|(column, natural)| narrowest(column, *natural)).collect();
            while widths.iter().sum::<usize>() > room {
                let gives_way = |&column: &usize| widths[column] > floors[column];
                let Some(column) = (0..columns).filter(gives_way).max_by_key(|&column| widths[column]) else { break };
                widths[column] -= 1;
            }
        }
        (widths.iter().sum::<usize>() <= room).then_some(widths)
    }

    fn push_row(&self, text: &mut String, row: &[String], widths: &[usize]) {
        let cells: Vec<Vec<String>> =
            widths.iter().enumerate().map(|(column, width)| wrapped(Table::cell(row, column), *width)).collect();
        push_lines(text, &cells, widths, &|column| self.alignment(column) == Alignment::Right);
    }
}

/// Cells of several lines side by side.
fn push_lines(text: &mut String, cells: &[Vec<String>], widths: &[usize], to_the_right: &dyn Fn(usize) -> bool) {
    for index in 0..cells.iter().map(Vec::len).max().unwrap_or(0) {
        let line: Vec<String> = cells
            .iter()
            .enumerate()
            .map(|(column, lines)| {
                padded(lines.get(index).map_or("", String::as_str), widths[column], to_the_right(column))
            })
            .collect();
        text.push_str(line.join(&" ".repeat(GAP)).trim_end());
        text.push('\n');
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn every_line_fits(cells in prop::collection::vec(prop::collection::vec("\\PC{0,30}", 1..5), 1..6), width in 20usize..100) {
            let table = Table { headers: vec!["one".into(), "two".into()], rows: cells, ..Table::default() };
            prop_assert!(table.text(width).lines().all(|line| display_width(line) <= width), "{}", table.text(width));
        }
    }

    #[test]
    fn many_columns_of_numbers_stand_below_one_another() {
        let headings = ["row", "line.sci-powder", "line.kaolin", "cost", "water"];
        let mut table = Table::new(&headings.map(|heading| (heading, Alignment::Right)));
        table.push(["1", "60", "40", "3.25", "0.5"]);
        table.push(["12", "55", "45", "3.1", "0.4"]);
        let expected = "\
row                 1   12
line.sci-powder    60   55
line.kaolin        40   45
cost             3.25  3.1
water             0.5  0.4
";
        assert_eq!(table.text(30), expected);
    }

    #[test]
    fn hostile_cells_are_escaped() {
        let mut table = Table::new(&[("<b>name</b>", Alignment::Left), ("%", Alignment::Right)]);
        table.push(["<script>alert(\"1\")</script>", "a|b"]);
        table.footer.push(vec!["it's & so".to_string()]);
        let html = table.html();
        for bad in ["<b>", "<script>", "\"1\"", "it's"] {
            assert!(!html.contains(bad), "{bad} in {html}");
        }
        let markdown = table.markdown();
        assert!(markdown.contains("a\\|b") && !markdown.contains("<script>"), "{markdown}");
        assert_eq!(markdown.lines().count(), 4);
    }

    #[test]
    fn an_empty_table_is_nothing() {
        assert_eq!(Table::default().text(80), "");
    }
}
