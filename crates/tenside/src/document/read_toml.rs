//! TOML into the tree.

use std::borrow::Cow;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::depth::{DEEPEST, too_deep_message};
use super::tree::{Entry, Node, Value};

/// The tree, or what is wrong and at which byte.
pub(crate) fn parse(text: &str) -> Result<Node<'_>, (String, usize)> {
    match DeTable::parse(text) {
        Ok(table) => Ok(Node { offset: 0, value: Value::Table(entries(table.into_inner(), 0)?) }),
        Err(error) => Err((error.message().to_string(), error.span().map_or(0, |span| span.start))),
    }
}

fn entries(table: DeTable<'_>, depth: usize) -> Result<Vec<Entry<'_>>, (String, usize)> {
    let entry = |(key, value): (Spanned<_>, _)| {
        Ok(Entry { offset: key.span().start, key: key.into_inner(), node: node(value, depth + 1)? })
    };
    table.into_iter().map(entry).collect()
}

fn node(value: Spanned<DeValue<'_>>, depth: usize) -> Result<Node<'_>, (String, usize)> {
    let offset = value.span().start;
    // Dotted keys nest without a bracket that could have been counted.
    if depth > DEEPEST {
        return Err((too_deep_message(), offset));
    }
    let value = match value.into_inner() {
        DeValue::String(text) => Value::Text(text),
        // The text of a number may hold underscores; other radixes have no place in a recipe and fail as numbers later.
        DeValue::Integer(integer) if integer.radix() == 10 => {
            Value::Number(Cow::Owned(integer.as_str().replace('_', "")))
        }
        DeValue::Integer(integer) => Value::Number(Cow::Owned(format!("number of radix {}", integer.radix()))),
        DeValue::Float(float) => Value::Number(Cow::Owned(float.as_str().replace('_', ""))),
        DeValue::Boolean(value) => Value::Bool(value),
        DeValue::Datetime(date) => Value::Text(Cow::Owned(date.to_string())),
        DeValue::Array(list) => {
            Value::List(list.into_iter().map(|value| node(value, depth + 1)).collect::<Result<_, _>>()?)
        }
        DeValue::Table(table) => Value::Table(entries(table, depth)?),
    };
    Ok(Node { offset, value })
}
