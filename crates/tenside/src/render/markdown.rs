//! Markdown (CommonMark with the pipe tables of GitHub).

use super::{Alignment, Table};

/// The text so that Markdown shows it as it is: punctuation that could be markup is escaped, HTML becomes entities,
/// line breaks blanks.
///
/// ```
/// use tenside::render::markdown_text;
/// assert_eq!(markdown_text("a|b <script>"), "a\\|b &lt;script&gt;");
/// assert_eq!(markdown_text("see http://a.example"), "see http\\://a.example");
/// ```
#[must_use]
pub fn markdown_text(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for (at, c) in text.char_indices() {
        match c {
            // What GitHub makes a link of without brackets.
            ':' if text[at..].starts_with("://") => escaped.push_str("\\:"),
            '.' if text[..at].len() >= 3 && text.as_bytes()[at - 3..at].eq_ignore_ascii_case(b"www") => {
                escaped.push_str("\\.")
            }
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

/// The text as a paragraph or the item of a list: also where it begins it is no mark of a list, rule or heading.
///
/// ```
/// use tenside::render::markdown_paragraph;
/// assert_eq!(markdown_paragraph("1. limit"), "1\\. limit");
/// assert_eq!(markdown_paragraph("- x"), "\\- x");
/// assert_eq!(markdown_paragraph("-5 °C"), "-5 °C");
/// ```
#[must_use]
pub fn markdown_paragraph(text: &str) -> String {
    let text = text.trim();
    let digits = text.bytes().take_while(u8::is_ascii_digit).count();
    let (marks, rest) = text.split_at(digits);
    let ends = |rest: &str| rest.chars().next().is_none_or(|c| c.is_whitespace() || c.is_control());
    let begins_list = rest.starts_with(['.', ')']) && digits > 0 || digits == 0 && rest.starts_with(['-', '+']);
    let is_rule = digits == 0
        && rest.starts_with(['-', '='])
        && rest.chars().all(|c| matches!(c, '-' | '=') || c.is_whitespace());
    let escape = if is_rule || begins_list && ends(&rest[1..]) { "\\" } else { "" };
    format!("{marks}{escape}{}", markdown_text(rest))
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_begins_a_block_is_escaped_there_and_nothing_else() {
        let cases = [
            ("1. limit", "1\\. limit"),
            ("12) x", "12\\) x"),
            ("- x", "\\- x"),
            ("+ x", "\\+ x"),
            ("+", "\\+"),
            ("---", "\\---"),
            ("- - -", "\\- - -"),
            ("===", "\\==="),
            ("-\tx", "\\- x"),
            ("    code", "code"),
            ("7.", "7\\."),
        ];
        for (text, escaped) in cases {
            assert_eq!(markdown_paragraph(text), escaped);
        }
        for text in ["-5 °C", "1.5 %", "0.3 % citric acid", "+x", "a - b", "=1+1", "2 bars", "", "5"] {
            assert_eq!(markdown_paragraph(text), text);
        }
    }

    #[test]
    fn bare_addresses_are_no_links() {
        assert_eq!(markdown_text("https://a.b, WWW.c.d, www, a: b."), "https\\://a.b, WWW\\.c.d, www, a: b.");
    }
}
