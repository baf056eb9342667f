//! Values of settings: what a setting takes, a value as it stands in a file, and the field that it goes into.

use std::fmt;
use std::path::PathBuf;

/// What a setting takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// A whole number within a range.
    Number {
        /// Smallest.
        from: u64,
        /// Largest.
        to: u64,
    },
    /// A list of texts.
    List,
    /// The name of a folder.
    Folder,
}

impl Shape {
    /// In words, for messages and explanations.
    #[must_use]
    pub fn describe(self) -> String {
        match self {
            Self::Number { from, to } => format!("a whole number from {from} to {to}"),
            Self::List => "a list of texts such as [\"one\", \"two\"]".to_owned(),
            Self::Folder => "the name of a folder in \"quotation marks\"".to_owned(),
        }
    }
}

/// A value of a setting. It is printed as it stands in `ownwords.toml`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Value {
    /// A whole number.
    Number(u64),
    /// A list of texts.
    List(Vec<String>),
    /// The name of a folder.
    Folder(PathBuf),
}

impl Value {
    /// What it is, in words, for messages.
    pub(super) fn describe(&self) -> &'static str {
        match self {
            Self::Number(_) => "a whole number",
            Self::List(_) => "a list of texts",
            Self::Folder(_) => "a text",
        }
    }
}

impl fmt::Display for Value {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Number(number) => write!(out, "{number}"),
            Self::List(texts) => {
                let texts: Vec<String> = texts.iter().map(|text| quoted(text)).collect();
                write!(out, "[{}]", texts.join(", "))
            }
            Self::Folder(path) => out.write_str(&quoted(&path.to_string_lossy())),
        }
    }
}

/// A text as TOML has it: a string of JSON is one of TOML too, but for one control that JSON leaves as it is.
fn quoted(text: &str) -> String {
    let quoted = serde_json::Value::from(text).to_string();
    quoted.replace('\u{7f}', "\\u007f")
}

/// A value that is written down in the table of settings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Given {
    /// A whole number.
    Number(u64),
    /// A list of texts.
    List(&'static [&'static str]),
    /// The name of a folder.
    Folder(&'static str),
}

impl From<Given> for Value {
    fn from(given: Given) -> Self {
        match given {
            Given::Number(number) => Self::Number(number),
            Given::List(texts) => Self::List(texts.iter().map(|&text| text.to_owned()).collect()),
            Given::Folder(name) => Self::Folder(PathBuf::from(name)),
        }
    }
}

/// A field of the settings, as their table sees it: values go in and come out again.
pub trait Field {
    /// Takes a value over. One of another shape than the field's changes nothing; the shape is checked before.
    fn put(&mut self, value: Value);

    /// The value that it holds; `None` where the setting is off.
    fn value(&self) -> Option<Value>;
}

/// Fields that hold a number. The range in the table fits every one of them; should it ever not, the largest number
/// that the field can hold stands in.
macro_rules! number_field {
    ($($number:ty),*) => {$(
        impl Field for $number {
            fn put(&mut self, value: Value) {
                if let Value::Number(number) = value {
                    *self = <$number>::try_from(number).unwrap_or(<$number>::MAX);
                }
            }

            fn value(&self) -> Option<Value> {
                u64::try_from(*self).ok().map(Value::Number)
            }
        }
    )*};
}

number_field!(u8, u64, usize);

impl<F: Field + Default> Field for Option<F> {
    fn put(&mut self, value: Value) {
        self.get_or_insert_default().put(value);
    }

    fn value(&self) -> Option<Value> {
        self.as_ref().and_then(Field::value)
    }
}

impl Field for Vec<String> {
    fn put(&mut self, value: Value) {
        if let Value::List(texts) = value {
            *self = texts;
        }
    }

    fn value(&self) -> Option<Value> {
        Some(Value::List(self.clone()))
    }
}

/// Files that are looked for by themselves as long as none is named.
impl Field for Vec<PathBuf> {
    fn put(&mut self, value: Value) {
        if let Value::List(names) = value {
            *self = names.into_iter().map(PathBuf::from).collect();
        }
    }

    fn value(&self) -> Option<Value> {
        let names = self.iter().map(|path| path.to_string_lossy().into_owned());
        (!self.is_empty()).then(|| Value::List(names.collect()))
    }
}

impl Field for PathBuf {
    fn put(&mut self, value: Value) {
        if let Value::Folder(name) = value {
            *self = name;
        }
    }

    fn value(&self) -> Option<Value> {
        Some(Value::Folder(self.clone()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_are_printed_as_they_stand_in_the_file() {
        let list =
            |texts: &[&str]| Value::List(texts.iter().map(|&text| text.to_owned()).collect());
        let cases = [
            (Value::Number(15), "15"),
            (list(&[]), "[]"),
            (
                list(&["part-night lighting", "a \"term\""]),
                r#"["part-night lighting", "a \"term\""]"#,
            ),
            (Value::Folder(PathBuf::from("sources")), r#""sources""#),
            (list(&["\u{1b}\u{7f}"]), r#"["\u001b\u007f"]"#),
        ];
        for (value, printed) in cases {
            assert_eq!(value.to_string(), printed);
            let parsed: toml::Table = format!("it = {value}").parse().unwrap();
            assert!(parsed.contains_key("it"), "{value} is no TOML");
        }
    }

    #[test]
    fn a_value_of_another_shape_changes_no_field() {
        let mut words: usize = 7;
        words.put(Value::List(Vec::new()));
        assert_eq!(words, 7);
        let mut folder = PathBuf::from("notes");
        folder.put(Value::Number(1));
        assert_eq!(folder, PathBuf::from("notes"));
    }
}
