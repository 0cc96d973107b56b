//! A change as cargo-mutants lists it: a place in a file and what stands there instead.

use std::collections::HashMap;
use std::io;
use std::ops::Range;

use serde::Deserialize;

/// One change, numbered by its place in the list.
#[derive(Debug, Clone, Deserialize)]
pub(crate) struct Change {
    pub(crate) file: String,
    pub(crate) genre: Genre,
    pub(crate) name: String,
    pub(crate) replacement: String,
    span: Span,
    function: Option<Function>,
}

/// What kind of place is changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize)]
pub(crate) enum Genre {
    /// A whole function returns a value of its type at once.
    FnValue,
    BinaryOperator,
    UnaryOperator,
    MatchArm,
    MatchArmGuard,
    StructField,
}

#[derive(Debug, Clone, Deserialize)]
struct Function {
    return_type: String,
}

#[derive(Debug, Clone, Deserialize)]
struct Span {
    start: Position,
    end: Position,
}

/// Both counted from one, the column in characters.
#[derive(Debug, Clone, Deserialize)]
struct Position {
    line: usize,
    column: usize,
}

impl Change {
    /// The bytes of `text` that are changed.
    pub(crate) fn bytes(&self, text: &str) -> Range<usize> {
        offset(text, &self.span.start)..offset(text, &self.span.end)
    }

    /// Whether the value returned cannot stand in a function beside another of a different type, although alone it might.
    pub(crate) fn returns_an_opaque_type(&self) -> bool {
        self.genre == Genre::FnValue && self.function.as_ref().is_some_and(|function| function.return_type.contains("impl "))
    }

    /// What the change is, without the place, which moves with every edit above it: file, change, line of code.
    fn label(&self, text: &str) -> String {
        let what = self.name.splitn(4, ':').last().map_or(self.name.as_str(), str::trim);
        let file = self.file.rsplit_once("/src/").map_or(self.file.as_str(), |(_, file)| file);
        let code = text.lines().nth(self.span.start.line - 1).unwrap_or_default().trim();
        format!("{file}: {what}: {code}")
    }
}

/// A label for each change that lasts as long as its line of code; equal ones are counted.
pub(crate) fn labels(all: &[Change], text_of: impl Fn(&str) -> io::Result<String>) -> io::Result<Vec<String>> {
    let mut labels = vec![String::new(); all.len()];
    for (file, numbers) in by_file(all) {
        let text = text_of(file)?;
        let mut seen: HashMap<String, usize> = HashMap::new();
        for number in numbers {
            let label = all[number].label(&text);
            let times = seen.entry(label.clone()).or_default();
            *times += 1;
            labels[number] = if *times == 1 { label } else { format!("{label} ({times})") };
        }
    }
    Ok(labels)
}

fn offset(text: &str, position: &Position) -> usize {
    let line: usize = text.split_inclusive('\n').take(position.line - 1).map(str::len).sum();
    let rest = &text[line..];
    line + rest.char_indices().nth(position.column - 1).map_or(rest.len(), |(at, _)| at)
}

/// The changes of every file, as places in `all`.
pub(crate) fn by_file(all: &[Change]) -> HashMap<&str, Vec<usize>> {
    let mut files: HashMap<&str, Vec<usize>> = HashMap::new();
    for (number, change) in all.iter().enumerate() {
        files.entry(&change.file).or_default().push(number);
    }
    files
}
