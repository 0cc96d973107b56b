//! HTML, escaped by the template engine.

use askama::Template;

use super::{Alignment, Page, Part, Table};

#[derive(Template)]
#[template(path = "page.html")]
struct Fragment<'a> {
    page: &'a Page,
}

#[derive(Template)]
#[template(path = "document.html")]
struct Document<'a> {
    page: &'a Page,
}

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
    /// In the page's own unit of text, high enough that nothing is cut off.
    height: usize,
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
    Frame { title, document, height: height_of(document) }.render().unwrap_or_default()
}

/// A frame cannot ask what is in it how high it is, and what runs nothing cannot tell: so the height is calculated from
/// the document, each element that begins a line with its margins, and its text in lines of the narrowest frame that is
/// likely. Rather too high than cut off.
fn height_of(document: &str) -> usize {
    const LINE: usize = 120;
    let body = document.split_once("<body").map_or(document, |(_, body)| body);
    let (mut quarters, mut letters) = (24, 0);
    for piece in body.split('<').skip(1) {
        let (tag, text) = piece.split_once('>').unwrap_or((piece, ""));
        // In quarters of a line.
        quarters += match tag.split_whitespace().next().unwrap_or_default() {
            "section" | "h1" | "header" => 9,
            "tr" => 6,
            "h2" | "h3" | "table" | "ul" | "ol" | "p" | "li" | "dt" => 4,
            _ => 0,
        };
        letters += text.chars().count();
    }
    (quarters + 4 * letters / LINE).div_ceil(4)
}

/// A cell of words up to so many letters is not broken into lines.
const SHORT: usize = 24;
/// As long is a number with its interval; a longer cell beside numbers says something, and may be broken.
const NUMBER: usize = 32;

impl Table {
    /// The cells of a row, each with its style: numbers with their intervals and short words stay on one line.
    fn styled<'a>(&'a self, row: &'a [String]) -> Vec<(&'static str, &'a str)> {
        let style = |column, text: &str| match self.alignment(column) {
            Alignment::Left if text.chars().count() <= SHORT => "text-align: left; white-space: nowrap",
            // Wide enough to be read: a table that is too wide for its page is scrolled.
            Alignment::Left => "text-align: left; min-width: 12rem",
            Alignment::Right if text.chars().count() <= NUMBER => "text-align: right; white-space: nowrap",
            Alignment::Right => "text-align: right",
        };
        let cells = (0..self.columns()).map(|column| (column, Table::cell(row, column)));
        cells.map(|(column, text)| (style(column, text), text)).collect()
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

impl Page {
    /// As an HTML element to be put into a page, everything escaped.
    #[must_use]
    pub fn html(&self) -> String {
        // Templates over strings in memory cannot fail; should one ever, the title shows it without a panic.
        Fragment { page: self }.render().unwrap_or_default()
    }

    /// As a whole HTML document that prints on its own.
    #[must_use]
    pub fn html_document(&self) -> String {
        Document { page: self }.render().unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_and_short_words_stay_on_a_line() {
        let mut table = Table::new(&[("line", Alignment::Left), ("%", Alignment::Right)]);
        table.push(["cool-down", "42.9321 (41.9098 to 44.4654)"]);
        table.push(["a sentence that is long enough to be broken", "q.s. 15.51"]);
        let html = table.html();
        for kept in ["cool-down", "42.9321 (41.9098 to 44.4654)", "q.s. 15.51"] {
            assert!(html.contains(&format!("white-space: nowrap\">{kept}<")), "{html}");
        }
        assert!(html.contains("min-width: 12rem\">a sentence"), "{html}");
    }

    /// Drawn in a browser, a row of a sheet is some 24 pixels high; a unit of text is 16.
    #[test]
    fn a_frame_is_as_high_as_its_rows_need() {
        let of = |rows: usize| {
            height_of(&format!(
                "<head><style>{}</style></head><body>{}</body>",
                "x".repeat(9000),
                "<tr><td>kaolin</td></tr>".repeat(rows)
            ))
        };
        assert!(of(0) < 10);
        assert!(of(100) * 16 >= 100 * 24 && of(100) * 16 <= 100 * 30, "{}", of(100));
        assert!(framed("t", &"<p>long</p>".repeat(200)).contains("height: 2"));
    }
}
