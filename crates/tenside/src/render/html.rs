//! HTML, escaped by the template engine.

use askama::Template;

use super::{Alignment, Table};

#[derive(Template)]
#[template(path = "table.html")]
struct TableTemplate<'a> {
    table: &'a Table,
}

#[derive(Template)]
#[template(path = "frame.html")]
struct Frame<'a> {
    title: &'a str,
    document: &'a str,
}

/// A whole HTML document inside another page: its styles stay inside, and nothing in it runs.
///
/// ```
/// let frame = tenside::render::framed("Batch \"7\"", "<p class=\"a\">60 g</p>");
/// assert!(frame.starts_with("<iframe title=\"Batch &#34;7&#34;\" srcdoc=\"&#60;p class=&#34;a&#34;&#62;"));
/// ```
#[must_use]
pub fn framed(title: &str, document: &str) -> String {
    // As above: a template over strings in memory cannot fail.
    Frame { title, document }.render().unwrap_or_default()
}

impl Table {
    /// The cells of a row, each with the value of its style `text-align`.
    fn styled<'a>(&'a self, row: &'a [String]) -> Vec<(&'static str, &'a str)> {
        let style = |column| match self.alignment(column) {
            Alignment::Left => "left",
            Alignment::Right => "right",
        };
        (0..self.columns()).map(|column| (style(column), Table::cell(row, column))).collect()
    }

    /// As an HTML table element, every cell escaped.
    ///
    /// ```
    /// use tenside::render::{Alignment, Table};
    /// let mut table = Table::new(&[("material", Alignment::Left)]);
    /// table.push(["<script>"]);
    /// assert!(!table.html().contains("<script>"));
    /// ```
    #[must_use]
    pub fn html(&self) -> String {
        // A template over strings in memory cannot fail; should it ever, an empty element shows it without a panic.
        TableTemplate { table: self }.render().unwrap_or_else(|_| "<table></table>".to_string())
    }
}
