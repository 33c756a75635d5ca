//! Any answer as an indented outline, for those that need no form of their own.

use super::text;
use serde_json::Value;

/// The outline of an object.
pub fn outline(value: &Value) -> String {
    let mut said = String::new();
    put(value, 0, &mut said);
    said
}

fn put(value: &Value, depth: usize, said: &mut String) {
    let indent = "  ".repeat(depth);
    match value {
        Value::Object(fields) => {
            for (name, field) in fields {
                let name = name.replace('_', " ");
                if is_branch(field) {
                    *said += &format!("{indent}{name}\n");
                    put(field, depth + 1, said);
                } else {
                    *said += &format!("{indent}{name}: {}\n", leaf(field));
                }
            }
        }
        Value::Array(elements) => {
            for element in elements {
                if is_branch(element) {
                    let mut inner = String::new();
                    put(element, depth + 1, &mut inner);
                    *said += &format!("{indent}- {}", inner.trim_start());
                } else {
                    *said += &format!("{indent}- {}\n", leaf(element));
                }
            }
        }
        scalar => *said += &format!("{indent}{}\n", leaf(scalar)),
    }
}

/// True for what needs lines of its own.
fn is_branch(value: &Value) -> bool {
    match value {
        Value::Object(fields) => !fields.is_empty(),
        Value::Array(elements) => !elements.is_empty(),
        _ => false,
    }
}

fn leaf(value: &Value) -> String {
    match value {
        Value::Null => "not recorded".to_owned(),
        Value::Array(_) | Value::Object(_) => "none".to_owned(),
        scalar => text(scalar),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn branches_are_indented_and_null_is_not_recorded() {
        let value = json!({ "a": null, "b_c": [1, { "d": "x", "e": [] }], "f": true });
        assert_eq!(outline(&value), "a: not recorded\nb c\n  - 1\n  - d: x\n    e: none\nf: true\n");
    }
}
