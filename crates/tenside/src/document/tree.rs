//! The tree both notations are read into.

use std::borrow::Cow;

/// Something at a place of the text.
#[derive(Debug)]
pub(crate) struct Node<'a> {
    /// Byte offset at which it starts.
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
    pub(crate) fn kind(&self) -> &'static str {
        match self {
            Value::Text(_) => "text",
            Value::Number(_) => "a number",
            Value::Bool(_) => "true or false",
            Value::List(_) => "a list",
            Value::Table(_) => "a table",
            Value::Null => "null",
        }
    }
}
