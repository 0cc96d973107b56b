//! The tree every notation is read into.

use std::borrow::Cow;

/// Something at a place of the text.
#[derive(Debug)]
pub(crate) struct Node<'a> {
    /// Where it starts: a byte of the text, or the number of the cell.
    pub(crate) offset: usize,
    /// What it is.
    pub(crate) value: Value<'a>,
}

/// What stands there. Numbers keep the text as written, so that no digit is lost.
#[derive(Debug)]
pub(crate) enum Value<'a> {
    Text(Cow<'a, str>),
    Number(Cow<'a, str>),
    Bool(bool),
    List(Vec<Node<'a>>),
    Table(Vec<Entry<'a>>),
    Null,
    /// A cell with nothing in it: as good as absent, but with a place.
    Empty,
}

impl Node<'_> {
    /// A cell with nothing in it?
    pub(crate) fn is_empty(&self) -> bool {
        matches!(self.value, Value::Empty)
    }
}

/// A key with its value.
#[derive(Debug)]
pub(crate) struct Entry<'a> {
    pub(crate) key: Cow<'a, str>,
    pub(crate) offset: usize,
    pub(crate) node: Node<'a>,
}

impl Value<'_> {
    /// What it is, for messages.
    pub(crate) fn described(&self) -> String {
        match self {
            Value::Text(text) => format!("the text {}", super::shown(text)),
            Value::Number(text) => {
                format!("the number {}", text.chars().take(super::LONGEST_SHOWN).collect::<String>())
            }
            Value::Bool(value) => value.to_string(),
            Value::List(_) => "a list".to_string(),
            Value::Table(_) => "a table".to_string(),
            Value::Null => "null".to_string(),
            Value::Empty => "nothing".to_string(),
        }
    }
}
