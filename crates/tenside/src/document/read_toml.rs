//! TOML into the tree.

use std::borrow::Cow;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::tree::{Entry, Node, Value};

/// The tree, or what is wrong and at which byte.
pub(crate) fn parse(text: &str) -> Result<Node<'_>, (String, usize)> {
    match DeTable::parse(text) {
        Ok(table) => Ok(Node { offset: 0, value: Value::Table(entries(table.into_inner())) }),
        Err(error) => Err((error.message().to_string(), error.span().map_or(0, |span| span.start))),
    }
}

fn entries(table: DeTable<'_>) -> Vec<Entry<'_>> {
    table.into_iter().map(|(key, value)| Entry { offset: key.span().start, key: key.into_inner(), node: node(value) }).collect()
}

fn node(value: Spanned<DeValue<'_>>) -> Node<'_> {
    let offset = value.span().start;
    let value = match value.into_inner() {
        DeValue::String(text) => Value::Text(text),
        // The text of a number may hold underscores; other radixes have no place in a recipe and fail as numbers later.
        DeValue::Integer(integer) if integer.radix() == 10 => Value::Number(Cow::Owned(integer.as_str().replace('_', ""))),
        DeValue::Integer(integer) => Value::Number(Cow::Owned(format!("number of radix {}", integer.radix()))),
        DeValue::Float(float) => Value::Number(Cow::Owned(float.as_str().replace('_', ""))),
        DeValue::Boolean(value) => Value::Bool(value),
        DeValue::Datetime(date) => Value::Text(Cow::Owned(date.to_string())),
        DeValue::Array(list) => Value::List(list.into_iter().map(node).collect()),
        DeValue::Table(table) => Value::Table(entries(table)),
    };
    Node { offset, value }
}
