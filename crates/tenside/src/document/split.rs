//! Delimited text (RFC 4180, with the delimiters and line ends that spreadsheets write) into cells that know where they
//! stand.
//!
//! The `csv` crate reads text after a closing quote as part of the cell and an unclosed quote to the end of the file;
//! here either would be a table half read, and a fault needs the line of a cell, not of its row.

use std::borrow::Cow;

use super::named_enum;

named_enum! {
    /// What separates the cells of a row.
    Delimiter "delimiter" {
        /// A comma.
        Comma = "comma",
        /// A semicolon, as spreadsheets write where the decimal mark is a comma.
        Semicolon = "semicolon",
        /// A tabulator.
        Tab = "tab",
    }
}

impl Delimiter {
    fn byte(self) -> u8 {
        match self {
            Delimiter::Comma => b',',
            Delimiter::Semicolon => b';',
            Delimiter::Tab => b'\t',
        }
    }
}

/// A cell; the text is trimmed.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Cell<'t> {
    pub(crate) text: Cow<'t, str>,
    /// The line on which it begins, from 1.
    pub(crate) line: u32,
}

/// A quote where none can stand.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct BadQuote {
    pub(crate) line: u32,
    /// The number of the cell in its row, from 1.
    pub(crate) column: u32,
    pub(crate) message: &'static str,
    pub(crate) remedy: &'static str,
}

/// Takes the rows off a text, one by one.
pub(crate) struct Splitter<'t> {
    text: &'t str,
    delimiter: u8,
    at: usize,
    line: u32,
}

impl<'t> Splitter<'t> {
    /// Over a text without byte order mark.
    pub(crate) fn new(text: &'t str, delimiter: Delimiter) -> Self {
        Splitter { text, delimiter: delimiter.byte(), at: 0, line: 1 }
    }

    /// The next row, nothing at the end of the text.
    pub(crate) fn row(&mut self) -> Option<Result<Vec<Cell<'t>>, BadQuote>> {
        if self.at >= self.text.len() {
            return None;
        }
        let mut cells = Vec::new();
        loop {
            let column = u32::try_from(cells.len() + 1).unwrap_or(u32::MAX);
            match self.cell(column) {
                Ok(cell) => cells.push(cell),
                Err(bad) => {
                    // Nothing after a quote gone wrong can be told apart.
                    self.at = self.text.len();
                    return Some(Err(bad));
                }
            }
            match self.byte() {
                Some(byte) if byte == self.delimiter => self.at += 1,
                Some(_) => {
                    self.line_end();
                    return Some(Ok(cells));
                }
                None => return Some(Ok(cells)),
            }
        }
    }

    fn byte(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    /// Steps over a line end of either kind.
    fn line_end(&mut self) {
        if self.text[self.at..].starts_with("\r\n") {
            self.at += 1;
        }
        self.at += 1;
        self.line = self.line.saturating_add(1);
    }

    fn ends_cell(&self, byte: u8) -> bool {
        byte == self.delimiter || byte == b'\n' || byte == b'\r'
    }

    /// One cell; leaves off at the delimiter, the line end or the end of the text.
    fn cell(&mut self, column: u32) -> Result<Cell<'t>, BadQuote> {
        let (start, line) = (self.at, self.line);
        let bad = |line, message, remedy| BadQuote { line, column, message, remedy };
        if self.byte() != Some(b'"') {
            while let Some(byte) = self.byte().filter(|byte| !self.ends_cell(*byte)) {
                if byte == b'"' {
                    return Err(bad(
                        line,
                        "a quote in a cell without quotes around it",
                        "put quotes around the whole cell and double the quotes inside",
                    ));
                }
                self.at += 1;
            }
            return Ok(Cell { text: Cow::Borrowed(self.text[start..self.at].trim()), line });
        }
        self.at += 1;
        let mut doubled = false;
        loop {
            match self.byte() {
                None => {
                    return Err(bad(
                        line,
                        "a quoted cell is not closed",
                        "close it with a quote, and double the quotes inside",
                    ));
                }
                Some(b'"') if self.text.as_bytes().get(self.at + 1) == Some(&b'"') => {
                    doubled = true;
                    self.at += 2;
                }
                Some(b'"') => break,
                Some(b'\n' | b'\r') => self.line_end(),
                Some(_) => self.at += 1,
            }
        }
        let inside = self.text[start + 1..self.at].trim();
        self.at += 1;
        if self.byte().is_some_and(|byte| !self.ends_cell(byte)) {
            return Err(bad(
                self.line,
                "text after the closing quote of a cell",
                "double the quotes inside a quoted cell",
            ));
        }
        Ok(Cell { text: if doubled { Cow::Owned(inside.replace("\"\"", "\"")) } else { Cow::Borrowed(inside) }, line })
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn rows(text: &str, delimiter: Delimiter) -> Result<Vec<Vec<Cell<'_>>>, BadQuote> {
        let mut splitter = Splitter::new(text, delimiter);
        std::iter::from_fn(|| splitter.row()).collect()
    }

    #[test]
    fn cells_know_the_line_on_which_they_begin() {
        let rows = rows("a;\"b\r\nc\";d\r\ne;;\" \"\"f\"\"\"\n\rg", Delimiter::Semicolon).unwrap();
        let cells: Vec<Vec<(&str, u32)>> =
            rows.iter().map(|row| row.iter().map(|cell| (&*cell.text, cell.line)).collect()).collect();
        assert_eq!(
            cells,
            [
                vec![("a", 1), ("b\r\nc", 1), ("d", 2)],
                vec![("e", 3), ("", 3), ("\"f\"", 3)],
                vec![("", 4)],
                vec![("g", 5)]
            ]
        );
    }

    #[test]
    fn quotes_out_of_place_are_refused() {
        for (text, line, column) in
            [("a,b\n1,\"x\ny", 2, 2), ("a\"b", 1, 1), ("\"a\"b,c", 1, 1), ("x, \"a\"", 1, 2), ("\"a\nb\"c", 2, 1)]
        {
            let bad = rows(text, Delimiter::Comma).unwrap_err();
            assert_eq!((bad.line, bad.column), (line, column), "{text}");
        }
    }

    proptest! {
        #[test]
        fn what_the_csv_crate_writes_is_split_as_it_was(
            table in proptest::collection::vec(proptest::collection::vec("[a-c,;\"\n\r\té%]{0,6}", 2..4), 1..6),
            delimiter in proptest::sample::select(<Delimiter as crate::document::Named>::ALL),
        ) {
            let mut writer = csv::WriterBuilder::new().flexible(true).delimiter(delimiter.byte()).quote_style(csv::QuoteStyle::Necessary).from_writer(Vec::new());
            for row in &table {
                writer.write_record(row).unwrap();
            }
            let text = String::from_utf8(writer.into_inner().unwrap()).unwrap();
            let read: Vec<Vec<String>> = rows(&text, delimiter).unwrap().iter().map(|row| row.iter().map(|cell| cell.text.to_string()).collect()).collect();
            let trimmed: Vec<Vec<String>> = table.iter().map(|row| row.iter().map(|cell| cell.trim().to_string()).collect()).collect();
            prop_assert_eq!(read, trimmed);
        }

        #[test]
        fn no_text_makes_it_panic(text in "[a,;\"\n\r\t é\u{0}\u{202E}]{0,40}") {
            for delimiter in <Delimiter as crate::document::Named>::ALL {
                // Every row takes at least one byte, so this ends.
                let mut splitter = Splitter::new(&text, *delimiter);
                let count = std::iter::from_fn(|| splitter.row()).count();
                prop_assert!(count <= text.len());
            }
        }
    }
}
