//! The kinds of value that YAML knows only by looking: a number or an expression, a file or a map, a mere mark.
//!
//! Each reads itself through a visitor of its own, so that the place of everything inside survives, and gives its
//! own JSON Schema.

use std::borrow::Cow;
use std::fmt;
use std::marker::PhantomData;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::value::MapAccessDeserializer;
use serde::de::{self, Deserialize, Deserializer, MapAccess, Visitor};

use crate::diag::{SourceId, Span};

/// A value and where it stands.
#[derive(Debug)]
pub(crate) struct Place<T>(pub(crate) serde_yaml::Spanned<T>);

impl<T> Place<T> {
    /// The value.
    pub(crate) fn value(&self) -> &T {
        &self.0.value
    }

    /// Where its first token stands; where an alias stands, for a value that is reached through one.
    pub(crate) fn span(&self, source: SourceId) -> Span {
        token(source, self.0.referenced)
    }
}

/// A token's place. Texts are far below 4 GiB, so the offsets always fit.
pub(crate) fn token(source: SourceId, location: serde_yaml::Location) -> Span {
    let span = location.span();
    let start = span.byte_offset().unwrap_or_default();
    let end = start.saturating_add(span.byte_len().unwrap_or_default());
    let cut = |at: u64| u32::try_from(at).unwrap_or(u32::MAX);
    Span { source, start: cut(start), end: cut(end) }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for Place<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        serde_yaml::Spanned::deserialize(deserializer).map(Place)
    }
}

/// A place is not seen in the schema.
impl<T: JsonSchema> JsonSchema for Place<T> {
    fn inline_schema() -> bool {
        T::inline_schema()
    }

    fn schema_name() -> Cow<'static, str> {
        T::schema_name()
    }

    fn schema_id() -> Cow<'static, str> {
        T::schema_id()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        T::json_schema(generator)
    }
}

/// A number, or the text of an expression.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Amount {
    /// A number, in the units of its file where it is a length.
    Number(f64),
    /// An expression.
    Text(String),
}

impl<'de> Deserialize<'de> for Amount {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct AmountVisitor;
        impl Visitor<'_> for AmountVisitor {
            type Value = Amount;

            fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
                formatter.write_str("a number or an expression")
            }

            fn visit_f64<E: de::Error>(self, number: f64) -> Result<Amount, E> {
                Ok(Amount::Number(number))
            }

            fn visit_i64<E: de::Error>(self, number: i64) -> Result<Amount, E> {
                Ok(Amount::Number(number as f64))
            }

            fn visit_u64<E: de::Error>(self, number: u64) -> Result<Amount, E> {
                Ok(Amount::Number(number as f64))
            }

            fn visit_str<E: de::Error>(self, text: &str) -> Result<Amount, E> {
                Ok(Amount::Text(text.to_owned()))
            }
        }
        deserializer.deserialize_any(AmountVisitor)
    }
}

impl JsonSchema for Amount {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "Amount".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": ["number", "string"] })
    }
}

/// A path to a file, or its content as a map.
#[derive(Debug)]
pub(crate) enum FileOr<T> {
    /// A path, relative to the design file.
    File(String),
    /// The content.
    Map(Box<T>),
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for FileOr<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct FileOrVisitor<T>(PhantomData<T>);
        impl<'de, T: Deserialize<'de>> Visitor<'de> for FileOrVisitor<T> {
            type Value = FileOr<T>;

            fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
                formatter.write_str("a file name or a map")
            }

            fn visit_str<E: de::Error>(self, path: &str) -> Result<FileOr<T>, E> {
                Ok(FileOr::File(path.to_owned()))
            }

            fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<FileOr<T>, A::Error> {
                T::deserialize(MapAccessDeserializer::new(map)).map(|value| FileOr::Map(Box::new(value)))
            }
        }
        deserializer.deserialize_any(FileOrVisitor(PhantomData))
    }
}

impl<T: JsonSchema> JsonSchema for FileOr<T> {
    fn schema_name() -> Cow<'static, str> {
        format!("FileOr{}", T::schema_name()).into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let map = generator.subschema_for::<T>();
        json_schema!({ "anyOf": [{ "type": "string" }, map] })
    }
}

/// A key that says all by being there: its value is nothing, or an empty map.
#[derive(Debug)]
pub(crate) struct Mark;

/// Reads a mark. `Option` alone would take a key without a value for a key that is not there.
pub(crate) fn mark<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<Place<Mark>>, D::Error> {
    Place::deserialize(deserializer).map(Some)
}

impl<'de> Deserialize<'de> for Mark {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct MarkVisitor;
        impl<'de> Visitor<'de> for MarkVisitor {
            type Value = Mark;

            fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
                formatter.write_str("nothing or {}")
            }

            fn visit_unit<E: de::Error>(self) -> Result<Mark, E> {
                Ok(Mark)
            }

            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Mark, A::Error> {
                match map.next_key::<String>()? {
                    None => Ok(Mark),
                    Some(_) => Err(de::Error::custom("takes no keys")),
                }
            }
        }
        deserializer.deserialize_any(MarkVisitor)
    }
}

impl JsonSchema for Mark {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "Mark".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": ["object", "null"], "maxProperties": 0, "additionalProperties": false })
    }
}

/// A map whose keys are the author's own names, in the order of the text.
#[derive(Debug)]
pub(crate) struct Entries<T>(pub(crate) Vec<(Place<String>, T)>);

impl<'de, T: Deserialize<'de>> Deserialize<'de> for Entries<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct EntriesVisitor<T>(PhantomData<T>);
        impl<'de, T: Deserialize<'de>> Visitor<'de> for EntriesVisitor<T> {
            type Value = Entries<T>;

            fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
                formatter.write_str("a map")
            }

            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Entries<T>, A::Error> {
                let mut entries = Vec::new();
                while let Some(entry) = map.next_entry()? {
                    entries.push(entry);
                }
                Ok(Entries(entries))
            }
        }
        deserializer.deserialize_map(EntriesVisitor(PhantomData))
    }
}

impl<T: JsonSchema> JsonSchema for Entries<T> {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        format!("Entries{}", T::schema_name()).into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let value = generator.subschema_for::<T>();
        json_schema!({ "type": "object", "additionalProperties": value })
    }
}
