//! Markdown (CommonMark with the pipe tables of GitHub).

use super::{Alignment, Table};

/// The text so that Markdown shows it as it is: punctuation that could be markup is escaped, HTML becomes entities, line breaks blanks.
///
/// ```
/// use tenside::render::markdown_text;
/// assert_eq!(markdown_text("a|b <script>"), "a\\|b &lt;script&gt;");
/// ```
#[must_use]
pub fn markdown_text(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '&' => escaped.push_str("&amp;"),
            '|' | '\\' | '`' | '*' | '_' | '[' | ']' | '#' | '~' | '$' | '!' => {
                escaped.push('\\');
                escaped.push(c);
            }
            _ if c.is_control() => escaped.push(' '),
            _ => escaped.push(c),
        }
    }
    escaped
}

impl Table {
    /// As a Markdown table; the footer's rows come last, in bold.
    ///
    /// ```
    /// use tenside::render::{Alignment, Table};
    /// let mut table = Table::new(&[("material", Alignment::Left), ("%", Alignment::Right)]);
    /// table.push(["clay | white", "25"]);
    /// assert_eq!(table.markdown(), "| material | % |\n| :-- | --: |\n| clay \\| white | 25 |\n");
    /// ```
    #[must_use]
    pub fn markdown(&self) -> String {
        let columns = 0..self.columns();
        let row = |cells: Vec<String>| format!("| {} |\n", cells.join(" | "));
        let mut text = row(columns.clone().map(|column| markdown_text(Table::cell(&self.headers, column))).collect());
        let rule = |column| if self.alignment(column) == Alignment::Right { "--:" } else { ":--" };
        text += &row(columns.clone().map(|column| rule(column).to_string()).collect());
        for cells in &self.rows {
            text += &row(columns.clone().map(|column| markdown_text(Table::cell(cells, column))).collect());
        }
        let bold = |cell: String| if cell.is_empty() { cell } else { format!("**{cell}**") };
        for cells in &self.footer {
            text += &row(columns.clone().map(|column| bold(markdown_text(Table::cell(cells, column)))).collect());
        }
        text
    }
}
