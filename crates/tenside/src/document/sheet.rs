//! Sheets of cells with a header row, as spreadsheets export them.

use std::borrow::Cow;
use std::collections::{HashMap, HashSet};

use super::reader::check_length;
use super::split::Splitter;
use super::tree::{Node, Value};
use super::{CellPlace, DecimalMark, Delimiter, Named, Reader, fold, nearest, shown};
use crate::error::{Fault, FaultKind};

/// What stands before a text that a spreadsheet would take for a formula.
const GUARD: char = '\'';

/// A cell so that no spreadsheet takes it for a formula: one that begins like a formula, or with guards before such a
/// beginning, gets a guard more. Negative numbers stay numbers.
pub(crate) fn guarded(cell: &str) -> Cow<'_, str> {
    if is_formula(cell.trim_start_matches(GUARD)) { Cow::Owned(format!("{GUARD}{cell}")) } else { Cow::Borrowed(cell) }
}

/// The cell that was guarded.
pub(crate) fn unguarded(cell: Cow<'_, str>) -> Cow<'_, str> {
    if !cell.starts_with(GUARD) || !is_formula(cell.trim_start_matches(GUARD)) {
        return cell;
    }
    match cell {
        Cow::Borrowed(cell) => Cow::Borrowed(&cell[GUARD.len_utf8()..]),
        Cow::Owned(cell) => Cow::Owned(cell[GUARD.len_utf8()..].to_string()),
    }
}

/// Wide forms are formulas to spreadsheets set to East Asian languages.
fn is_formula(text: &str) -> bool {
    let mut characters = text.chars();
    match characters.next() {
        Some('-') => characters.any(|c| !c.is_ascii_digit() && !matches!(c, '.' | ',')),
        first => matches!(first, Some('=' | '+' | '@' | '\t' | '\r' | '＝' | '＋' | '－' | '＠')),
    }
}

/// The columns that a sheet may have.
#[derive(Clone, Copy)]
pub(crate) struct Columns {
    /// What the sheet is called in faults.
    pub(crate) file: &'static str,
    /// Every column.
    pub(crate) known: &'static [&'static str],
    /// The columns without which the sheet says nothing, whatever the options.
    pub(crate) needed: &'static [&'static str],
}

/// Headings of one's own over the columns of a sheet.
#[derive(Clone, Copy, Default)]
pub(crate) struct Headings<'h> {
    /// Which column each heading is, if that is said at all.
    pub(crate) mapped: Option<&'h [(String, String)]>,
    /// Headings of columns that are not read.
    pub(crate) ignored: &'h [String],
}

impl Headings<'_> {
    /// The columns that stand under each heading, folded: those it is said to be, else the one it names, unless another
    /// heading is that one.
    fn places(&self, known: &[&str]) -> HashMap<String, Vec<usize>> {
        let mut places: HashMap<String, Vec<usize>> = HashMap::new();
        let mut said = vec![false; known.len()];
        for (column, heading) in self.mapped.into_iter().flatten() {
            if let Some(place) = known.iter().position(|known| known == column) {
                places.entry(fold(heading)).or_default().push(place);
                said[place] = true;
            }
        }
        for (place, column) in known.iter().enumerate().filter(|(place, _)| !said[*place]) {
            let own = places.entry(fold(column)).or_default();
            if own.is_empty() {
                own.push(place);
            }
        }
        places
    }
}

/// The most headings that a message lists.
const MOST_LISTED: usize = 40;

/// Sheets read together: their cells' places, counted through, and the faults of their outer form.
#[derive(Default)]
pub(crate) struct Sheets {
    places: Vec<CellPlace>,
    faults: Vec<(usize, Fault)>,
}

/// One row below the header that has something in it.
pub(crate) struct Row<'t> {
    columns: Columns,
    /// Which cell belongs to each known column.
    order: std::rc::Rc<[Option<usize>]>,
    cells: Vec<Cow<'t, str>>,
    /// How many of the cells stand in the sheet; what was added has the row's mark.
    width: usize,
    /// The mark of the first cell.
    mark: usize,
}

impl<'t> Row<'t> {
    /// A row of other columns over the same cells, each found by its name here.
    pub(crate) fn of_columns(&self, columns: Columns, named: impl Fn(&'static str) -> Option<&'static str>) -> Row<'t> {
        let order = columns.known.iter().map(|column| named(column).and_then(|name| self.index(name))).collect();
        Row { columns, order, cells: self.cells.clone(), width: self.width, mark: self.mark }
    }

    /// Another text in the cell of a column, which stays where it is.
    pub(crate) fn reword(&mut self, column: &str, text: &str) {
        if let Some(cell) = self.index(column).and_then(|index| self.cells.get_mut(index)) {
            *cell = Cow::Owned(text.to_string());
        }
    }

    /// The row with a text in a column, at the mark of the row.
    pub(crate) fn with_cell(&self, column: &str, text: &str) -> Row<'t> {
        let mut order = self.order.to_vec();
        let mut cells = self.cells.clone();
        if let Some(place) = self.columns.known.iter().position(|known| *known == column) {
            order[place] = Some(cells.len());
            cells.push(Cow::Owned(text.to_string()));
        }
        Row { columns: self.columns, order: order.into(), cells, width: self.width, mark: self.mark }
    }

    /// A row of these cells only, all of them at the mark of a cell.
    pub(crate) fn made(columns: Columns, cells: &[(&str, String)], mark: usize) -> Row<'t> {
        let mut order = vec![None; columns.known.len()];
        let mut texts = Vec::new();
        for (name, text) in cells {
            if let Some(place) = columns.known.iter().position(|column| column == name) {
                order[place] = Some(texts.len());
                texts.push(Cow::Owned(text.clone()));
            }
        }
        Row { columns, order: order.into(), cells: texts, width: 0, mark }
    }

    fn index(&self, column: &str) -> Option<usize> {
        let known = self.columns.known.iter().position(|known| *known == column)?;
        self.order[known]
    }

    /// The text in a column, empty if the sheet does not have the column.
    pub(crate) fn text(&self, column: &str) -> &str {
        self.index(column).and_then(|index| self.cells.get(index)).map_or("", |cell| cell)
    }

    /// The mark of the cell in a column; where there is no such cell, of the row.
    pub(crate) fn mark(&self, column: &str) -> usize {
        self.mark + self.index(column).filter(|index| *index < self.width).unwrap_or(0)
    }

    /// A node of the cell in a column, made by `value` if there is something in the cell.
    pub(crate) fn node<'r>(&'r self, column: &str, value: impl FnOnce(&'r str) -> Value<'r>) -> Node<'r> {
        let text = self.text(column);
        Node { offset: self.mark(column), value: if text.is_empty() { Value::Empty } else { value(text) } }
    }
}

impl Sheets {
    /// Reports a fault of the cell at a mark.
    pub(crate) fn fault(&mut self, mark: usize, fault: Fault) {
        self.faults.push((mark, fault));
    }

    /// The mark of a place without a cell.
    fn extra_mark(&mut self, file: &'static str, line: u32, column: u32) -> usize {
        self.places.push(CellPlace { file, line, column });
        self.places.len() - 1
    }

    /// True once there are more faults than anyone reads.
    pub(crate) fn is_full(&self) -> bool {
        self.faults.len() >= super::MOST_FAULTS
    }

    /// Adds a sheet. Returns `None` if it is not a sheet with the required columns; why not is among the faults then.
    pub(crate) fn read<'t>(
        &mut self,
        text: &'t str,
        columns: Columns,
        needed: &[&str],
        delimiter: Option<Delimiter>,
    ) -> Option<Vec<Row<'t>>> {
        self.read_under(text, columns, &Headings::default(), needed, delimiter)
    }

    /// Adds a sheet under headings of its own.
    pub(crate) fn read_under<'t>(
        &mut self,
        text: &'t str,
        columns: Columns,
        headings: &Headings<'_>,
        needed: &[&str],
        delimiter: Option<Delimiter>,
    ) -> Option<Vec<Row<'t>>> {
        let text = text.strip_prefix('\u{FEFF}').unwrap_or(text);
        if let Err(error) = check_length(text) {
            let mark = self.extra_mark(columns.file, 1, 1);
            error.into_faults().into_iter().for_each(|fault| self.fault(mark, fault));
            return None;
        }
        let mut splitter = Splitter::new(text, delimiter.unwrap_or_else(|| detect(text, columns.known, headings)));
        let mut header: Option<Header> = None;
        let mut rows = Vec::new();
        let mut whole = true;
        while let Some(row) = splitter.row() {
            let cells = match row {
                Ok(cells) => cells,
                Err(bad) => {
                    let mark = self.extra_mark(columns.file, bad.line, bad.column);
                    self.fault(mark, Fault::new(FaultKind::Syntax, bad.message).remedy(bad.remedy));
                    whole = false;
                    break;
                }
            };
            if cells.iter().all(|cell| cell.text.is_empty()) {
                continue;
            }
            let mark = self.places.len();
            for (cell, column) in cells.iter().zip(1u32..) {
                self.places.push(CellPlace { file: columns.file, line: cell.line, column });
            }
            let cells: Vec<Cow<'t, str>> = cells.into_iter().map(|cell| unguarded(cell.text)).collect();
            match &header {
                None => header = Some(self.header(&cells, columns, headings, needed, mark)),
                Some(header) => {
                    self.shape(&cells, header, mark);
                    rows.push(Row { columns, order: header.order.clone(), width: cells.len(), cells, mark });
                }
            }
        }
        let Some(header) = header else {
            if whole {
                let mark = self.extra_mark(columns.file, 1, 1);
                self.fault(
                    mark,
                    Fault::new(FaultKind::Missing, "the sheet is empty")
                        .remedy(format!("begin it with a header row: {}", columns.known.join(", "))),
                );
            }
            return None;
        };
        (whole && header.complete).then_some(rows)
    }

    /// Adds rows of cells below headings, as a data frame gives them: the headings count as line 1.
    pub(crate) fn cells_under<'t>(
        &mut self,
        cells: (&'t [String], &'t [Vec<String>]),
        columns: Columns,
        headings: &Headings<'_>,
        needed: &[&str],
    ) -> Option<Vec<Row<'t>>> {
        let mut add = |row: &'t [String], line: u32| -> (usize, Vec<Cow<'t, str>>) {
            let mark = self.places.len();
            self.places.extend((1..).take(row.len()).map(|column| CellPlace { file: columns.file, line, column }));
            (mark, row.iter().map(|cell| Cow::Borrowed(cell.trim())).collect())
        };
        let (mark, first) = add(cells.0, 1);
        let rows: Vec<(usize, Vec<Cow<'t, str>>)> = cells.1.iter().zip(2..).map(|(row, line)| add(row, line)).collect();
        let header = self.header(&first, columns, headings, needed, mark);
        rows.iter().for_each(|(mark, cells)| self.shape(cells, &header, *mark));
        let filled = rows.into_iter().filter(|(_, cells)| cells.iter().any(|cell| !cell.is_empty()));
        let rows = filled
            .map(|(mark, cells)| Row { columns, order: header.order.clone(), width: cells.len(), cells, mark })
            .collect();
        header.complete.then_some(rows)
    }

    /// Adds rows of cells in the order of the columns, below no header: a fault says the number of the row as its line.
    pub(crate) fn rows<'t, const COLUMNS: usize>(
        &mut self,
        rows: impl Iterator<Item = [Cow<'t, str>; COLUMNS]>,
        columns: Columns,
    ) -> Vec<Row<'t>> {
        let order: std::rc::Rc<[Option<usize>]> = (0..columns.known.len()).map(Some).collect();
        let row = |(cells, line): ([Cow<'t, str>; COLUMNS], u32)| {
            let mark = self.places.len();
            self.places.extend((1..).take(COLUMNS).map(|column| CellPlace { file: columns.file, line, column }));
            Row { columns, order: order.clone(), cells: cells.to_vec(), width: COLUMNS, mark }
        };
        rows.zip(1..).map(row).collect()
    }

    fn header(
        &mut self,
        cells: &[Cow<'_, str>],
        columns: Columns,
        headings: &Headings<'_>,
        needed: &[&str],
        mark: usize,
    ) -> Header {
        let mut order = vec![None; columns.known.len()];
        let (by_heading, mut found) = (headings.places(columns.known), HashSet::new());
        let mut listed = false;
        let ignored: HashSet<String> = headings.ignored.iter().map(|heading| fold(heading)).collect();
        for (index, cell) in cells.iter().enumerate().filter(|(_, cell)| !cell.is_empty()) {
            let folded = fold(cell);
            if ignored.contains(&folded) {
                continue;
            }
            let places = by_heading.get(&folded).map_or(&[][..], Vec::as_slice);
            for place in places {
                match &mut order[*place] {
                    free @ None => *free = Some(index),
                    Some(_) => {
                        let fault = Fault::new(FaultKind::Duplicate, "a column occurs twice").value(shown(cell));
                        self.fault(mark + index, fault.remedy("keep one of the two"));
                    }
                }
            }
            if places.is_empty() {
                let fault = Fault::new(FaultKind::UnknownKey, "unknown column").value(shown(cell));
                // The columns there are make a long list, which is read once.
                let start: String = cell.chars().take(super::LONGEST_SHOWN).collect();
                let fault = if std::mem::replace(&mut listed, true) {
                    fault
                } else {
                    fault.allowed(super::likeliest(&start, columns.known.iter().copied()))
                };
                let looked_at = if self.is_full() { 0 } else { columns.known.len() };
                let near = nearest(&start, columns.known.iter().copied().take(looked_at));
                let fault = match near {
                    Some(near) => fault.remedy(format!("did you mean {near:?}?")),
                    None if headings.mapped.is_some() => {
                        fault.remedy("say which column it is, or that it is to be ignored")
                    }
                    None => fault.remedy("remove the column"),
                };
                self.fault(mark + index, fault);
            }
            found.insert(folded);
        }
        for (_, heading) in headings.mapped.into_iter().flatten().filter(|(_, heading)| !found.contains(&fold(heading)))
        {
            let fault = Fault::new(FaultKind::UnknownName, "no column has this heading").value(shown(heading));
            let there = cells.iter().map(AsRef::as_ref).filter(|cell: &&str| !cell.is_empty());
            let near = nearest(heading, there.clone()).map(|near| format!("did you mean {near:?}?"));
            let listed = there.take(MOST_LISTED).map(shown).collect::<Vec<_>>().join(", ");
            let fault = fault.allowed(if listed.is_empty() { "a heading of the table".to_string() } else { listed });
            self.fault(mark, if let Some(near) = near { fault.remedy(near) } else { fault });
        }
        let absent: Vec<&str> = columns
            .known
            .iter()
            .zip(&order)
            .filter(|(known, cell)| cell.is_none() && needed.contains(known))
            .map(|(known, _)| *known)
            .collect();
        for column in &absent {
            self.fault(
                mark,
                Fault::new(FaultKind::Missing, "a required column is missing")
                    .value(format!("{column:?}"))
                    .remedy("add it to the header row"),
            );
        }
        let width = cells.iter().rposition(|cell| !cell.is_empty()).map_or(0, |last| last + 1);
        let named = cells.iter().map(|cell| !cell.is_empty()).collect();
        Header { order: order.into(), width, named, complete: absent.is_empty() }
    }

    /// Reports a row that is not as wide as the header. Empty cells past it are what spreadsheets leave behind.
    fn shape(&mut self, cells: &[Cow<'_, str>], header: &Header, mark: usize) {
        if cells.len() < header.width {
            let fault = Fault::new(FaultKind::Syntax, "a row has fewer cells than the header").value(cells.len());
            self.fault(
                mark,
                fault
                    .allowed(format!("{} cells", header.width))
                    .remedy("fill it up with empty cells; a cell in the middle may be missing"),
            );
        }
        for (index, cell) in cells.iter().enumerate().filter(|(_, cell)| !cell.is_empty()) {
            if !header.named.get(index).copied().unwrap_or(false) {
                let fault = Fault::new(FaultKind::Syntax, "a cell in a column without a header").value(shown(cell));
                self.fault(
                    mark + index,
                    fault.remedy(
                        "name the column or empty the cell; a cell that holds the delimiter needs quotes around it",
                    ),
                );
            }
        }
    }

    /// A reader of a tree made from the rows, which reports the faults found so far as well.
    pub(crate) fn into_reader(self, decimals: DecimalMark) -> Reader<'static> {
        let reader = Reader::over_cells(self.places, decimals);
        for (mark, fault) in self.faults {
            reader.fault(mark, fault);
        }
        reader
    }
}

struct Header {
    order: std::rc::Rc<[Option<usize>]>,
    /// The number of cells up to the last named one.
    width: usize,
    /// Which cells have a name.
    named: Vec<bool>,
    complete: bool,
}

/// The delimiter that finds the most known columns in the header row; the comma if none finds any.
fn detect(text: &str, known: &[&str], headings: &Headings<'_>) -> Delimiter {
    let own = headings.mapped.into_iter().flatten().map(|(_, heading)| fold(heading));
    let known: HashSet<String> = known
        .iter()
        .map(|name| fold(name))
        .chain(own)
        .chain(headings.ignored.iter().map(|heading| fold(heading)))
        .collect();
    let found = |delimiter: Delimiter| {
        let mut splitter = Splitter::new(text, delimiter);
        let header = std::iter::from_fn(|| splitter.row())
            .find(|row| row.as_ref().map_or(true, |cells| cells.iter().any(|cell| !cell.text.is_empty())));
        let cells = header.and_then(Result::ok).unwrap_or_default();
        cells.iter().filter(|cell| known.contains(&fold(&cell.text))).count()
    };
    let mut best = (0, Delimiter::Comma);
    for delimiter in Delimiter::ALL {
        let count = found(*delimiter);
        if count > best.0 {
            best = (count, *delimiter);
        }
    }
    best.1
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn formulas_stand_behind_a_guard_and_numbers_do_not() {
        for (cell, written) in [
            ("=1+1", "'=1+1"),
            ("+1", "'+1"),
            ("-x", "'-x"),
            ("@a", "'@a"),
            ("'=a", "''=a"),
            ("\u{FF1D}a", "'\u{FF1D}a"),
        ] {
            assert_eq!(guarded(cell), written);
        }
        for cell in ["", "-5", "-0,5", "a=b", "'a", "''", "'-5", "5 %"] {
            assert_eq!(guarded(cell), cell);
        }
    }

    proptest! {
        #[test]
        fn what_was_guarded_is_unguarded(cell in "['=+@a5.\t-]{0,6}") {
            let written = guarded(&cell).into_owned();
            prop_assert!(!is_formula(&written), "{}", written);
            prop_assert_eq!(unguarded(Cow::Owned(written.clone())), cell.as_str());
            prop_assert_eq!(unguarded(Cow::Borrowed(&written)), cell.as_str());
        }
    }
}
