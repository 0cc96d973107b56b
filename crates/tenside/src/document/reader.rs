//! Walks a document, collecting every fault with its place.

use std::cell::{Cell, RefCell};
use std::fmt::Write as _;

use rust_decimal::Decimal;

use super::decimal::{DecimalMark, read_decimal};
use super::depth::{DEEPEST, too_deep, too_deep_message};
use super::place::{CellPlace, Places};
use super::tree::{Entry, Node, Value};
use super::{Named, Notation, check_name, check_prose, check_slug, nearest, shown};
use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Date, Exact, Mass, MassUnit, Ppm};

/// Faults listed one by one; past that only their number is given, so that a broken export stays readable.
pub(super) const MOST_FAULTS: usize = 1000;

/// Refuses a text of which reading would take more memory than is meant for it.
pub(super) fn check_length(text: &str) -> Result<(), Error> {
    let length = Exact::from(i64::try_from(text.len()).unwrap_or(i64::MAX));
    let remedy = "split it: catalogues are merged, and a brief or formula needs only what it uses";
    Quantity::DocumentLength
        .check(&length)
        .map_err(|_| Quantity::DocumentLength.fault(text.len()).remedy(remedy).into())
}

/// Collects the faults of one document.
pub(crate) struct Reader<'t> {
    places: Places<'t>,
    decimals: DecimalMark,
    /// With the mark of each, by which they are sorted at the end.
    faults: RefCell<Vec<(usize, Fault)>>,
    unlisted: Cell<usize>,
}

impl<'t> Reader<'t> {
    /// Parses `text` and gives the table at its root to `read`; the result counts only if no fault was found.
    pub(crate) fn read<T>(
        text: &'t str,
        notation: Notation,
        read: impl FnOnce(&TableView<'_>) -> Option<T>,
    ) -> Result<T, Error> {
        let text = text.strip_prefix('\u{FEFF}').unwrap_or(text);
        let reader = Reader::new(Places::of_text(text), DecimalMark::Point);
        let syntax = |message: String, offset: usize| -> Error {
            Fault::new(FaultKind::Syntax, message).position(Some(reader.places.locate(offset).1)).into()
        };
        check_length(text)?;
        if let Some(offset) = too_deep(text, notation, DEEPEST) {
            return Err(syntax(too_deep_message(), offset));
        }
        let root = match notation {
            Notation::Toml => super::read_toml::parse(text),
            Notation::Json => super::read_json::parse(text),
        }
        .map_err(|(message, offset)| syntax(message.lines().next().unwrap_or_default().to_string(), offset))?;
        reader.walk(&root, read)
    }

    /// For sheets split into cells by [`super::Sheets`].
    pub(crate) fn over_cells(places: Vec<CellPlace>, decimals: DecimalMark) -> Self {
        Reader::new(Places::Cells(places), decimals)
    }

    fn new(places: Places<'t>, decimals: DecimalMark) -> Self {
        Reader { places, decimals, faults: RefCell::default(), unlisted: Cell::new(0) }
    }

    /// Gives the table at the root of a tree to `read`; the result counts only if no fault was found.
    pub(crate) fn walk<T>(self, root: &Node<'_>, read: impl FnOnce(&TableView<'_>) -> Option<T>) -> Result<T, Error> {
        let value = match &root.value {
            Value::Table(entries) => {
                let view = TableView::new(&self, entries, root.offset, Place { parent: None, step: Step::Root });
                let value = read(&view);
                view.finish();
                value
            }
            _ => {
                self.fault(root.offset, Fault::new(FaultKind::Syntax, "a document is a table"));
                None
            }
        };
        self.into_result(value)
    }

    fn into_result<T>(self, value: Option<T>) -> Result<T, Error> {
        let mut marked = self.faults.into_inner();
        marked.sort_by_key(|(mark, _)| *mark);
        let mut faults: Vec<Fault> = marked.into_iter().map(|(_, fault)| fault).collect();
        if self.unlisted.get() > 0 {
            faults.push(
                Fault::new(FaultKind::Syntax, format!("and {} more faults not listed", self.unlisted.get()))
                    .remedy("mend these first"),
            );
        }
        match (value, Error::from_faults(faults)) {
            (_, Some(error)) => Err(error),
            (Some(value), None) => Ok(value),
            (None, None) => Err(Fault::new(FaultKind::Missing, "the document holds nothing that was asked for").into()),
        }
    }

    /// Reports a fault of what stands at a mark. A value that is asked for twice is at fault once, as are rows that
    /// belong to two things of the same name.
    pub(crate) fn fault(&self, mark: usize, fault: Fault) {
        let mut faults = self.faults.borrow_mut();
        if faults.len() >= MOST_FAULTS {
            self.unlisted.set(self.unlisted.get() + 1);
            return;
        }
        let (file, position) = self.places.locate(mark);
        let key = |fault: &Fault| fault.place.rsplit('.').next().map(str::to_string);
        let same = |(known_mark, known): &(usize, Fault)| {
            *known_mark == mark
                && known.kind == fault.kind
                && known.message == fault.message
                && known.value == fault.value
                && key(known) == key(&fault)
        };
        if !faults.iter().any(same) {
            faults.push((mark, fault.file(file).position(Some(position))));
        }
    }

    /// True once further faults are counted only: whatever would make them easier to mend is no longer worth finding
    /// out.
    fn is_full(&self) -> bool {
        self.faults.borrow().len() >= MOST_FAULTS
    }
}

#[derive(Clone, Copy)]
struct Place<'p> {
    parent: Option<&'p Place<'p>>,
    step: Step<'p>,
}

#[derive(Clone, Copy)]
enum Step<'p> {
    Root,
    Key(&'p str),
    Index(&'p str, usize),
}

impl Place<'_> {
    fn write(&self, text: &mut String) {
        if let Some(parent) = self.parent {
            parent.write(text);
        }
        let dot = if text.is_empty() { "" } else { "." };
        // Writing to a String cannot fail.
        let _ = match self.step {
            Step::Root => Ok(()),
            Step::Key(key) => write!(text, "{dot}{key}"),
            Step::Index(key, index) => write!(text, "{dot}{key}[{index}]"),
        };
    }
}

/// A table of the document, asked key by key; `finish` reports the keys nobody asked for.
pub(crate) struct TableView<'r> {
    reader: &'r Reader<'r>,
    entries: &'r [Entry<'r>],
    offset: usize,
    place: Place<'r>,
    asked: RefCell<Vec<&'r str>>,
    label: RefCell<Option<String>>,
}

impl<'r> TableView<'r> {
    fn new(reader: &'r Reader<'r>, entries: &'r [Entry<'r>], offset: usize, place: Place<'r>) -> Self {
        TableView { reader, entries, offset, place, asked: RefCell::default(), label: RefCell::default() }
    }

    /// What the thing is called, put into the place of its faults: `material "sci-powder"`.
    pub(crate) fn label(&self, label: String) {
        *self.label.borrow_mut() = Some(label);
    }

    /// The mark at which the table starts, for faults found later.
    pub(crate) fn mark(&self) -> usize {
        self.offset
    }

    /// True once further faults are counted only.
    pub(crate) fn is_full(&self) -> bool {
        self.reader.is_full()
    }

    fn place_of(&self, key: &str) -> String {
        let mut text = String::new();
        self.place.write(&mut text);
        if !key.is_empty() {
            let dot = if text.is_empty() { "" } else { "." };
            text = format!("{text}{dot}{key}");
        }
        match self.label.borrow().as_ref() {
            Some(label) => format!("{label}, {text}"),
            None => text,
        }
    }

    fn entry(&self, key: &'static str) -> Option<&'r Entry<'r>> {
        self.asked.borrow_mut().push(key);
        self.entries.iter().find(|entry| entry.key == key && !entry.node.is_empty())
    }

    /// Is the key there? Does not count as asking.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.entries.iter().any(|entry| entry.key == key && !entry.node.is_empty())
    }

    /// Reports a fault of the value at `key`, or of the table where it has no such key.
    pub(crate) fn fault(&self, key: &str, fault: Fault) {
        self.report(key, self.mark_of(key), fault);
    }

    /// The mark of the value at `key`, or of the table where it has no such key.
    pub(crate) fn mark_of(&self, key: &str) -> usize {
        self.entries.iter().find(|entry| entry.key == key).map_or(self.offset, |entry| entry.node.offset)
    }

    fn report(&self, key: &str, offset: usize, mut fault: Fault) {
        let place = self.place_of(key);
        fault.place = match (place.is_empty(), fault.place.is_empty()) {
            (true, _) => fault.place,
            (_, true) => place,
            (false, false) => format!("{place}, {}", fault.place),
        };
        self.reader.fault(offset, fault);
    }

    /// Reports a fault of something read earlier.
    pub(crate) fn fault_at(&self, mark: usize, fault: Fault) {
        self.reader.fault(mark, fault);
    }

    /// `Some` of an accepted value, else the error's faults reported at `key`.
    pub(crate) fn accept<T>(&self, key: &str, result: Result<T, Error>) -> Option<T> {
        match result {
            Ok(value) => Some(value),
            Err(error) => {
                for fault in error.into_faults() {
                    self.fault(key, fault);
                }
                None
            }
        }
    }

    fn wrong_kind(&self, key: &str, node: &Node<'_>, wanted: &str) {
        self.report(
            key,
            node.offset,
            Fault::new(FaultKind::Syntax, format!("expected {wanted}")).value(node.value.described()),
        );
    }

    fn missing(&self, key: &str) {
        self.report(key, self.mark_of(key), Fault::new(FaultKind::Missing, "required but missing"));
    }

    /// Text, if the key is there.
    pub(crate) fn text(&self, key: &'static str) -> Option<&'r str> {
        let entry = self.entry(key)?;
        match &entry.node.value {
            Value::Text(text) => Some(text),
            _ => {
                self.wrong_kind(key, &entry.node, "text");
                None
            }
        }
    }

    /// Text, or a number as it is written, if the key is there.
    pub(crate) fn written(&self, key: &'static str) -> Option<&'r str> {
        let entry = self.entry(key)?;
        match &entry.node.value {
            Value::Text(text) | Value::Number(text) => Some(text),
            _ => {
                self.wrong_kind(key, &entry.node, "text or a number");
                None
            }
        }
    }

    /// A readable name, if the key is there.
    pub(crate) fn name(&self, key: &'static str) -> Option<String> {
        let text = self.text(key)?;
        self.accept(key, check_name(text))
    }

    /// A remark or source, if the key is there.
    pub(crate) fn prose(&self, key: &'static str) -> Option<String> {
        let text = self.text(key)?;
        self.accept(key, check_prose(text))
    }

    /// A readable name.
    pub(crate) fn needed_name(&self, key: &'static str) -> Option<String> {
        self.needed(key, |view| view.name(key))
    }

    /// An identifier.
    pub(crate) fn needed_slug(&self, key: &'static str) -> Option<String> {
        self.needed(key, |view| view.text(key).and_then(|text| view.accept(key, check_slug(text))))
    }

    /// Reports the key as missing if it is absent.
    pub(crate) fn needed<T>(&self, key: &'static str, read: impl FnOnce(&Self) -> Option<T>) -> Option<T> {
        if !self.has(key) {
            self.asked.borrow_mut().push(key);
            self.missing(key);
            return None;
        }
        read(self)
    }

    /// Is the value at `key` a table? Does not count as asking.
    pub(crate) fn is_table(&self, key: &str) -> bool {
        self.entries.iter().any(|entry| entry.key == key && matches!(entry.node.value, Value::Table(_)))
    }

    /// A whole number, if the key is there.
    pub(crate) fn whole(&self, key: &'static str) -> Option<u32> {
        let entry = self.entry(key)?;
        let text = self.number_text(key, &entry.node)?;
        let fault = || {
            Fault::new(FaultKind::OutOfRange, "not a whole number")
                .value(shown(text))
                .allowed(format!("0 to {}", u32::MAX))
        };
        self.accept(key, text.parse::<u32>().map_err(|_| fault().into()))
    }

    /// True or false, if the key is there.
    pub(crate) fn boolean(&self, key: &'static str) -> Option<bool> {
        let entry = self.entry(key)?;
        match &entry.node.value {
            Value::Bool(value) => Some(*value),
            _ => {
                self.wrong_kind(key, &entry.node, "true or false");
                None
            }
        }
    }

    fn number_text(&self, key: &str, node: &'r Node<'r>) -> Option<&'r str> {
        match &node.value {
            Value::Number(text) | Value::Text(text) => Some(text),
            _ => {
                self.wrong_kind(key, node, "a number");
                None
            }
        }
    }

    fn decimal_of(&self, key: &str, node: &'r Node<'r>, quantity: Quantity) -> Option<Decimal> {
        let text = self.number_text(key, node)?;
        let value =
            read_decimal(text.trim(), self.reader.decimals).map_err(|fault| fault.allowed(quantity.allowed()).into());
        match value.and_then(|value| quantity.decimal(value)) {
            Ok(value) => Some(value),
            Err(error) => {
                error.into_faults().into_iter().for_each(|fault| self.report(key, node.offset, fault));
                None
            }
        }
    }

    /// A number inside the range of its quantity, if the key is there.
    pub(crate) fn decimal(&self, key: &'static str, quantity: Quantity) -> Option<Decimal> {
        let entry = self.entry(key)?;
        self.decimal_of(key, &entry.node, quantity)
    }

    /// An exact number (fractions too) inside the range of its quantity, if the key is there.
    pub(crate) fn exact(&self, key: &'static str, quantity: Option<Quantity>) -> Option<Exact> {
        self.exact_of(key, &self.entry(key)?.node, quantity)
    }

    /// A list of exact numbers inside the range of their quantity, empty if the key is absent.
    #[cfg(any(feature = "statistics", feature = "trial"))]
    pub(crate) fn exacts(&self, key: &'static str, quantity: Quantity) -> Vec<Exact> {
        self.list(key).iter().filter_map(|node| self.exact_of(key, node, Some(quantity))).collect()
    }

    fn exact_of(&self, key: &'static str, node: &'r Node<'r>, quantity: Option<Quantity>) -> Option<Exact> {
        let text = self.number_text(key, node)?;
        let value: Exact = self.accept(key, text.parse().map_err(Error::from))?;
        match quantity {
            Some(quantity) => self.accept(key, quantity.check(&value)).map(|()| value),
            None => Some(value),
        }
    }

    /// A list of numbers, empty if the key is absent.
    pub(crate) fn decimals(&self, key: &'static str, quantity: Quantity) -> Vec<Decimal> {
        self.list(key).iter().filter_map(|node| self.decimal_of(key, node, quantity)).collect()
    }

    /// A percentage on the grid, if the key is there.
    pub(crate) fn ppm(&self, key: &'static str) -> Option<Ppm> {
        let percent = self.decimal(key, Quantity::Percent)?;
        self.accept(key, Ppm::from_percent(percent))
    }

    /// A day, if the key is there.
    pub(crate) fn date(&self, key: &'static str) -> Option<Date> {
        let text = self.text(key)?;
        self.accept(key, text.parse())
    }

    /// A mass in grams, if the key is there.
    pub(crate) fn grams(&self, key: &'static str) -> Option<Mass> {
        let grams = self.exact(key, None)?;
        self.accept(key, Mass::new(&grams, MassUnit::Gram))
    }

    /// One of a closed list, if the key is there.
    pub(crate) fn choice<T: Named>(&self, key: &'static str) -> Option<T> {
        let text = self.text(key)?;
        self.accept(key, T::parse(text))
    }

    fn list(&self, key: &'static str) -> &'r [Node<'r>] {
        match self.entry(key).map(|entry| &entry.node) {
            None => &[],
            Some(Node { value: Value::List(list), .. }) => list,
            Some(node) => {
                self.wrong_kind(key, node, "a list");
                &[]
            }
        }
    }

    /// Counts as asking for keys that something else keeps from being read.
    pub(crate) fn skip(&self, keys: &[&'static str]) {
        self.asked.borrow_mut().extend(keys);
    }

    /// Counts as asking for every key but these.
    pub(crate) fn skip_others(&self, keys: &[&str]) {
        let others = self.entries.iter().map(|entry| &*entry.key).filter(|key| !keys.contains(key));
        self.asked.borrow_mut().extend(others);
    }

    /// What the table holds.
    pub(crate) fn entries(&self) -> &'r [Entry<'r>] {
        self.entries
    }

    /// How many entries the list at `key` has. Does not count as asking.
    pub(crate) fn count(&self, key: &str) -> usize {
        let lists = self.entries.iter().filter(|entry| entry.key == key).map(|entry| match &entry.node.value {
            Value::List(list) => list.len(),
            _ => 0,
        });
        lists.sum()
    }

    /// A list of texts, empty if the key is absent.
    pub(crate) fn texts(&self, key: &'static str) -> Vec<&'r str> {
        self.list(key)
            .iter()
            .filter_map(|node| match &node.value {
                Value::Text(text) => Some(&**text),
                _ => {
                    self.wrong_kind(key, node, "text");
                    None
                }
            })
            .collect()
    }

    /// A list of names of a closed list, empty if the key is absent.
    pub(crate) fn choices<T: Named>(&self, key: &'static str) -> Vec<T> {
        self.texts(key).into_iter().filter_map(|text| self.accept(key, T::parse(text))).collect()
    }

    /// Reads each table of a list; empty if the key is absent.
    pub(crate) fn tables<T>(&self, key: &'static str, mut read: impl FnMut(&TableView<'_>) -> Option<T>) -> Vec<T> {
        let mut values = Vec::new();
        for (index, node) in self.list(key).iter().enumerate() {
            match &node.value {
                Value::Table(entries) => {
                    let view = TableView::new(
                        self.reader,
                        entries,
                        node.offset,
                        Place { parent: Some(&self.place), step: Step::Index(key, index) },
                    );
                    view.inherit(self);
                    values.extend(read(&view));
                    view.finish();
                }
                _ => self.wrong_kind(key, node, "a table"),
            }
        }
        values
    }

    /// Reads a table, if the key is there.
    pub(crate) fn table<T>(&self, key: &'static str, read: impl FnOnce(&TableView<'_>) -> Option<T>) -> Option<T> {
        let entry = self.entry(key)?;
        match &entry.node.value {
            Value::Table(entries) => {
                let view = TableView::new(
                    self.reader,
                    entries,
                    entry.node.offset,
                    Place { parent: Some(&self.place), step: Step::Key(key) },
                );
                view.inherit(self);
                let value = read(&view);
                view.finish();
                value
            }
            _ => {
                self.wrong_kind(key, &entry.node, "a table");
                None
            }
        }
    }

    /// Reads a table whose keys are the user's own: each key with its mark and a number.
    pub(crate) fn named_decimals(&self, key: &'static str, quantity: Quantity) -> Vec<(usize, String, Decimal)> {
        let Some(entry) = self.entry(key) else { return Vec::new() };
        let Value::Table(entries) = &entry.node.value else {
            self.wrong_kind(key, &entry.node, "a table");
            return Vec::new();
        };
        // TOML's parser sorts keys; the order of the text is the user's.
        let mut entries: Vec<_> = entries.iter().collect();
        entries.sort_by_key(|inner| inner.offset);
        entries
            .into_iter()
            .filter_map(|inner| {
                let place = format!("{key}.{}", inner.key.escape_debug());
                Some((inner.offset, inner.key.to_string(), self.decimal_of(&place, &inner.node, quantity)?))
            })
            .collect()
    }

    fn inherit(&self, parent: &TableView<'_>) {
        self.label.borrow_mut().clone_from(&parent.label.borrow());
    }

    /// Reports the keys nobody asked for, each with the nearest known key.
    fn finish(&self) {
        let asked = self.asked.borrow();
        for entry in self.entries.iter().filter(|entry| !asked.contains(&&*entry.key)) {
            let shown: String = entry.key.chars().take(80).collect();
            let mut fault = Fault::new(FaultKind::UnknownKey, "unknown key").value(format!("{shown:?}"));
            if let Some(near) = (!self.is_full()).then(|| nearest(&shown, asked.iter().copied())).flatten() {
                fault = fault.remedy(format!("did you mean {near:?}?"));
            }
            self.report("", entry.offset, fault);
        }
    }

    /// Checks the version line `tenside = "kind/1"` that every document starts with.
    pub(crate) fn version(&self, expected: &'static str) {
        let fault = |value: Option<&str>| {
            let fault = Fault::new(FaultKind::Syntax, "not a document of this kind and version")
                .allowed(format!("tenside = {expected:?}"));
            if let Some(value) = value { fault.value(shown(value)) } else { fault }
        };
        match self.needed("tenside", |view| view.text("tenside")) {
            Some(found) if found != expected => self.fault("tenside", fault(Some(found))),
            _ => {}
        }
    }
}

#[cfg(test)]
#[path = "reader_tests.rs"]
mod tests;
