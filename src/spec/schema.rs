//! JSON Schemas of the design, vehicle and workshop files, made from the structs that read them.

use std::sync::LazyLock;

use schemars::generate::SchemaSettings;
use schemars::transform::{RecursiveTransform, Transform};
use schemars::{JsonSchema, Schema};
use serde_json::{Value, json};

use super::raw;

/// The schemas, made once.
pub(crate) static DESIGN: LazyLock<Value> = LazyLock::new(make::<raw::Spec>);
/// Of a vehicle file.
pub(crate) static VEHICLE: LazyLock<Value> = LazyLock::new(make::<raw::Vehicle>);
/// Of a workshop's stock file.
pub(crate) static STOCK: LazyLock<Value> = LazyLock::new(make::<raw::StockList>);
/// Of a workshop file.
pub(crate) static WORKSHOP: LazyLock<Value> = LazyLock::new(make::<raw::Workshop>);

fn make<T: JsonSchema>() -> Value {
    let generator = SchemaSettings::draft2020_12().for_deserialize().into_generator();
    let mut schema = generator.into_root_schema_for::<T>();
    RecursiveTransform(without_null).transform(&mut schema);
    schema.to_value()
}

/// An optional key may be left out; a key without a value is a slip. So nothing but a mark may be null, though
/// the generator allows it for every optional key.
fn without_null(schema: &mut Schema) {
    if schema.get("maxProperties").is_some() {
        return;
    }
    let null = json!("null");
    if let Some(Value::Array(types)) = schema.get_mut("type") {
        types.retain(|kind| *kind != null);
        if let [only] = types.as_slice() {
            let only = only.clone();
            schema.insert("type".to_owned(), only);
        }
    }
    if let Some(Value::Array(choices)) = schema.get_mut("anyOf") {
        choices.retain(|choice| choice.get("type") != Some(&null));
        if let [Value::Object(only)] = choices.as_slice() {
            let only = only.clone();
            schema.remove("anyOf");
            for (key, value) in only {
                schema.ensure_object().entry(key).or_insert(value);
            }
        }
    }
}
