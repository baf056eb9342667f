//! One layer of settings: what a file or the command line asks for.

use std::collections::BTreeMap;

use super::table::{self, AboutSetting};
use super::value::{Shape, Value};
use super::{Place, SettingsError};

/// Values for some of the settings, by name; a setting without one stays as the layer below has it.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Options {
    values: BTreeMap<String, Value>,
}

impl Options {
    /// These options and a value for the setting of a name. It is checked when the settings are made.
    #[must_use]
    pub fn with(mut self, name: &str, value: Value) -> Self {
        self.values.insert(name.to_owned(), value);
        self
    }

    /// Lays a later layer over this one: where it has a value, that value wins. Lists are replaced, not
    /// joined, so that a later layer can also make one shorter.
    pub fn update(&mut self, later: Self) {
        self.values.extend(later.values);
    }

    /// Every setting with its value, in the order of the names.
    ///
    /// # Errors
    /// [`SettingsError`] for the first name that is no setting's and the first value that doesn't fit.
    pub(super) fn checked(
        self,
        place: &Place,
    ) -> Result<Vec<(&'static AboutSetting, Value)>, SettingsError> {
        let checked = self.values.into_iter().map(|(name, value)| {
            let about = table::named(&name, place)?;
            fits(about, &value, place)?;
            Ok((about, value))
        });
        checked.collect()
    }
}

/// Whether a value has the shape and range of its setting.
pub(super) fn fits(
    about: &AboutSetting,
    value: &Value,
    place: &Place,
) -> Result<(), SettingsError> {
    match (about.shape, value) {
        (Shape::Number { from, to }, Value::Number(number)) => {
            if (from..=to).contains(number) {
                return Ok(());
            }
            Err(out_of_range(about, (from, to), number.to_string(), place))
        }
        (Shape::List, Value::List(_)) | (Shape::Folder, Value::Folder(_)) => Ok(()),
        (_, value) => Err(another_shape(about, value.describe(), place)),
    }
}

/// A number outside the range of its setting.
pub(super) fn out_of_range(
    about: &AboutSetting,
    (from, to): (u64, u64),
    value: String,
    place: &Place,
) -> SettingsError {
    SettingsError::OutOfRange {
        place: place.clone(),
        name: about.name.to_owned(),
        value,
        from,
        to,
    }
}

/// A value of another shape than the setting takes.
pub(super) fn another_shape(about: &AboutSetting, found: &str, place: &Place) -> SettingsError {
    SettingsError::Shape {
        place: place.clone(),
        name: about.name.to_owned(),
        wanted: about.shape.describe(),
        found: found.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::Settings;
    use super::*;
    use proptest::prelude::*;

    fn layer() -> impl Strategy<Value = Options> {
        let value = prop_oneof![
            (0u64..50).prop_map(super::Value::Number),
            proptest::collection::vec("[a-z]{1,5}", 0..3).prop_map(super::Value::List),
            "[a-z]{1,5}".prop_map(|name| super::Value::Folder(name.into())),
        ];
        let names = Settings::table().iter().map(|about| about.name);
        let name = proptest::sample::select(names.collect::<Vec<_>>());
        proptest::collection::vec((name, value), 0..6).prop_map(|wishes| {
            wishes
                .into_iter()
                .fold(Options::default(), |layer, (name, value)| {
                    layer.with(name, value)
                })
        })
    }

    fn over(mut under: Options, later: Options) -> Options {
        under.update(later);
        under
    }

    proptest! {
        #[test]
        fn layers_associate(a in layer(), b in layer(), c in layer()) {
            let left = over(over(a.clone(), b.clone()), c.clone());
            prop_assert_eq!(left, over(a, over(b, c)));
        }

        #[test]
        fn the_empty_layer_changes_nothing(a in layer()) {
            prop_assert_eq!(over(a.clone(), Options::default()), a.clone());
            prop_assert_eq!(over(Options::default(), a.clone()), a);
        }

        #[test]
        fn the_later_wish_wins(a in layer(), b in layer()) {
            let both = over(a.clone(), b.clone());
            for about in Settings::table() {
                let value = |layer: &Options| layer.values.get(about.name).cloned();
                prop_assert_eq!(value(&both), value(&b).or(value(&a)), "{}", about.name);
            }
        }

        #[test]
        fn a_value_that_fits_arrives_and_another_is_refused(a in layer()) {
            let fit = a.values.iter().all(|(name, value)| {
                let about = table::named(name, &Place::CommandLine).unwrap();
                fits(about, value, &Place::CommandLine).is_ok()
            });
            match Settings::of(a.clone()) {
                Ok(settings) => {
                    prop_assert!(fit);
                    for about in Settings::table() {
                        let usual = about.value(&Settings::default());
                        let given = a.values.get(about.name).cloned();
                        // Without a file named, references are looked for, as by default.
                        let given = given.filter(|value| about.name != "references" || *value != super::Value::List(Vec::new()));
                        prop_assert_eq!(about.value(&settings), given.or(usual), "{}", about.name);
                    }
                }
                Err(_) => prop_assert!(!fit),
            }
        }
    }

    #[test]
    fn a_name_that_is_no_setting_is_refused() {
        let options = Options::default().with("run_wrods", super::Value::Number(7));
        let message = Settings::of(options).unwrap_err().to_string();
        assert!(message.contains("did you mean run_words?"), "{message}");
    }
}
