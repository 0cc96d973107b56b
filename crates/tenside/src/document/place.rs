//! Where things stand: marks of the tree into lines and columns.

/// Where the marks of a tree lie in what was read.
pub(super) enum Places<'t> {
    /// A mark is a byte of the text.
    Text { text: &'t str, line_starts: Vec<usize> },
    /// A mark is the number of a cell, counted through all the sheets read together.
    Cells(Vec<CellPlace>),
}

/// Where a cell of a sheet stands.
#[derive(Clone, Copy, Debug)]
pub(crate) struct CellPlace {
    /// Which sheet.
    pub(crate) file: &'static str,
    /// The line on which the cell begins, from 1.
    pub(crate) line: u32,
    /// The number of the cell in its row, from 1.
    pub(crate) column: u32,
}

impl<'t> Places<'t> {
    pub(super) fn of_text(text: &'t str) -> Self {
        let line_starts = std::iter::once(0)
            .chain(text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n').map(|(index, _)| index + 1))
            .collect();
        Places::Text { text, line_starts }
    }

    /// File, line and column of a mark.
    pub(super) fn locate(&self, mark: usize) -> (Option<&'static str>, (u32, u32)) {
        let narrow = |number: usize| u32::try_from(number).unwrap_or(u32::MAX);
        match self {
            Places::Text { text, line_starts } => {
                let line = line_starts.partition_point(|start| *start <= mark);
                let before = text.as_bytes().get(line_starts[line - 1]..mark).unwrap_or_default();
                // Every byte but the continuation bytes of UTF-8 begins a character.
                let characters = before.iter().filter(|byte| (**byte & 0xC0) != 0x80).count();
                (None, (narrow(line), narrow(characters + 1)))
            }
            Places::Cells(cells) => match cells.get(mark) {
                Some(cell) => (Some(cell.file), (cell.line, cell.column)),
                None => (None, (1, 1)),
            },
        }
    }
}
