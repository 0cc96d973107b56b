//! JSON into the tree.

use jsonc_parser::ast;
use jsonc_parser::common::Ranged;
use jsonc_parser::{CollectOptions, ParseOptions, parse_to_ast};

use super::tree::{Entry, Node, Value};

/// The tree, or what is wrong and at which byte.
pub(crate) fn parse(text: &str) -> Result<Node<'_>, (String, usize)> {
    // RFC 8259 only: no comments, no trailing commas, no other leniency.
    let options = ParseOptions {
        allow_comments: false,
        allow_loose_object_property_names: false,
        allow_trailing_commas: false,
        allow_missing_commas: false,
        allow_single_quoted_strings: false,
        allow_hexadecimal_numbers: false,
        allow_unary_plus_numbers: false,
        allow_bare_decimal_point_numbers: false,
        allow_extended_string_escapes: false,
        allow_non_finite_numbers: false,
    };
    let parsed = parse_to_ast(text, &CollectOptions::default(), &options)
        .map_err(|error| (error.kind().to_string(), error.range().start))?;
    match parsed.value {
        Some(value) => node(value),
        None => Err(("the document is empty".to_string(), 0)),
    }
}

fn node(value: ast::Value<'_>) -> Result<Node<'_>, (String, usize)> {
    let offset = value.range().start;
    let value = match value {
        ast::Value::StringLit(text) => Value::Text(text.value),
        ast::Value::NumberLit(number) => Value::Number(number.value.into()),
        ast::Value::BooleanLit(boolean) => Value::Bool(boolean.value),
        ast::Value::NullKeyword(_) => Value::Null,
        ast::Value::Array(list) => Value::List(list.elements.into_iter().map(node).collect::<Result<_, _>>()?),
        ast::Value::Object(object) => {
            let mut entries: Vec<Entry<'_>> = Vec::with_capacity(object.properties.len());
            let mut seen = std::collections::HashSet::new();
            for property in object.properties {
                let offset = property.range.start;
                let key = property.name.into_string();
                if !seen.insert(key.clone()) {
                    return Err((format!("the key {key:?} stands twice"), offset));
                }
                entries.push(Entry { key: key.into(), offset, node: node(property.value)? });
            }
            Value::Table(entries)
        }
    };
    Ok(Node { offset, value })
}
