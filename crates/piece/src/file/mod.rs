//! The form of the files people write, as types; the JSON Schema follows from them.

pub mod art;
pub mod finish;
pub mod hours;
pub mod motif;
mod named;
pub mod order;
pub mod part;
pub mod piece;
pub(crate) mod places;
pub(crate) mod scalars;
pub mod sellers;
pub mod settings;
pub mod stock;
pub mod stones;
pub mod strength;
pub mod ware;
pub mod way;
pub mod zone;

pub use named::Named;

use schemars::generate::SchemaSettings;
use schemars::transform::{Transform, transform_subschemas};
use schemars::{JsonSchema, Schema};
use serde_json::Value;

/// JSON Schema (draft 2020-12) of a piece file.
pub fn piece_schema() -> Value {
    schema_of::<piece::PieceFile>()
}

/// JSON Schema (draft 2020-12) of a settings file.
pub fn settings_schema() -> Value {
    schema_of::<settings::SettingsFile>()
}

/// JSON Schema (draft 2020-12) of an hours file.
pub fn hours_schema() -> Value {
    schema_of::<hours::BookFile>()
}

/// JSON Schema (draft 2020-12) of an order file.
pub fn order_schema() -> Value {
    schema_of::<order::AgreedFile>()
}

/// JSON Schema (draft 2020-12) of a stock file.
pub fn stock_schema() -> Value {
    schema_of::<stock::StockFile>()
}

/// JSON Schema (draft 2020-12) of a sellers file.
pub fn sellers_schema() -> Value {
    schema_of::<sellers::SellersFile>()
}

fn schema_of<T: JsonSchema>() -> Value {
    let generator = SchemaSettings::draft2020_12().with_transform(LeaveOutNull).into_generator();
    generator.into_root_schema_for::<T>().to_value()
}

/// TOML has no null: a value that may be missing is left out, so null is no allowed value.
#[derive(Debug, Clone)]
struct LeaveOutNull;

impl Transform for LeaveOutNull {
    fn transform(&mut self, schema: &mut Schema) {
        transform_subschemas(self, schema);
        let Some(object) = schema.as_object_mut() else { return };
        if object.get("default") == Some(&Value::Null) {
            object.remove("default");
        }
        if let Some(Value::Array(types)) = object.get_mut("type") {
            types.retain(|one| one != "null");
            if let [only] = types.as_slice() {
                let only = only.clone();
                object.insert("type".to_owned(), only);
            }
        }
        if let Some(Value::Array(branches)) = object.get_mut("anyOf") {
            branches.retain(|branch| branch.get("type").and_then(Value::as_str) != Some("null"));
            if let [Value::Object(only)] = branches.as_slice() {
                let only = only.clone();
                object.remove("anyOf");
                for (key, value) in only {
                    object.entry(key).or_insert(value);
                }
            }
        }
    }
}
