//! The report for programs: one JSON document under a contract, which `check.schema.json` beside this
//! folder spells out and the tests enforce.
//!
//! Field names and nesting never change within a version; fields may be added. Shares and positions are
//! rounded to four decimals so that the same input gives the same bytes everywhere. The document is
//! written as the report is walked, so a large one is never held twice.

mod forms;
pub mod notes;
mod places;
mod since;
mod trail;

use std::io::{self, Write};

pub(super) use forms::{LeftOutForm, MeasuresForm, rounded, shown};
pub(super) use places::{SharedForm, SourceForm};

use crate::findings::CheckReport;
use forms::DocumentForm;

/// JSON Schema (2020-12) of what [`write()`] prints.
pub const CHECK_SCHEMA: &str = include_str!("../check.schema.json");

/// JSON Schema (2020-12) of each line that [`super::place`] prints as JSON.
pub const PLACE_SCHEMA: &str = include_str!("../place.schema.json");

/// The name of the format, in its field `format`.
pub const FORMAT: &str = "ownwords-check";

/// The version of the contract, in its field `version`.
pub const VERSION: u32 = 1;

/// Writes a report as JSON, with a line feed at the end.
///
/// # Errors
/// What the writer refuses.
pub fn write(report: &CheckReport, out: &mut impl Write) -> io::Result<()> {
    serde_json::to_writer_pretty(&mut *out, &DocumentForm::of(report))?;
    writeln!(out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::findings::{Kind, Weight};
    use crate::overlap::Degree;
    use crate::report::samples;
    use serde_json::{Value, json};

    fn printed(report: &CheckReport) -> Value {
        let mut out = Vec::new();
        write(report, &mut out).unwrap();
        serde_json::from_slice(&out).unwrap()
    }

    #[track_caller]
    fn assert_valid(schema: &str, value: &Value) {
        let schema: Value = serde_json::from_str(schema).unwrap();
        let validator = jsonschema::validator_for(&schema).unwrap();
        let faults: Vec<String> = validator
            .iter_errors(value)
            .map(|fault| format!("{} at {}", fault, fault.instance_path()))
            .collect();
        assert!(faults.is_empty(), "{faults:#?}");
    }

    /// Whether the schema finds fault with a report that was changed.
    fn refused(change: impl Fn(&mut Value)) -> bool {
        let schema: Value = serde_json::from_str(CHECK_SCHEMA).unwrap();
        let mut value = printed(&samples::report());
        change(&mut value);
        !jsonschema::validator_for(&schema).unwrap().is_valid(&value)
    }

    #[test]
    fn reports_keep_the_contract() {
        assert_valid(CHECK_SCHEMA, &printed(&samples::report()));
        let empty = CheckReport {
            drafts: Vec::new(),
            left_out: Vec::new(),
            ..samples::report()
        };
        assert_valid(CHECK_SCHEMA, &printed(&empty));
    }

    #[test]
    fn the_schema_can_say_no() {
        assert!(refused(|value| value["score"] = json!(12)));
        assert!(refused(|value| value["version"] = json!(2)));
        let changes: [(&str, Value); 6] = [
            ("kind", json!("copied")),
            ("weight", json!("bad")),
            ("degree", json!("near-copy")),
            ("position", json!(1.2)),
            ("source", json!({})),
            ("verdict", json!("guilty")),
        ];
        for (field, wrong) in changes {
            let refused = refused(|value| {
                value["drafts"][0]["findings"][0][field] = wrong.clone();
            });
            assert!(refused, "{field} {wrong} went through");
        }
        for field in ["id", "draft", "measures", "settled", "advice"] {
            let refused = refused(|value| {
                let finding = value["drafts"][0]["findings"][0].as_object_mut().unwrap();
                finding.remove(field);
            });
            assert!(refused, "{field} was not missed");
        }
    }

    #[test]
    fn the_schema_lists_exactly_the_registry() {
        let schema: Value = serde_json::from_str(CHECK_SCHEMA).unwrap();
        let names = |field: &str| schema["$defs"][field]["enum"].clone();
        assert_eq!(names("kind"), json!(Kind::ALL.map(Kind::name)));
        assert_eq!(names("weight"), json!(Weight::ALL.map(Weight::name)));
        assert_eq!(names("degree"), json!(Degree::ALL.map(Degree::name)));
        let place: Value = serde_json::from_str(PLACE_SCHEMA).unwrap();
        assert_eq!(place["$defs"]["degree"], schema["$defs"]["degree"]);
        assert_eq!(place["$defs"]["measures"], schema["$defs"]["measures"]);
        assert_eq!(place["$defs"]["shared"], schema["$defs"]["shared"]);
    }

    #[test]
    fn a_finding_says_what_it_holds() {
        let value = printed(&samples::report());
        let finding = &value["drafts"][0]["findings"][0];
        assert_eq!(finding["kind"], "close-paraphrase");
        assert_eq!(finding["draft"]["start"], 1200);
        assert_eq!(finding["draft"]["page"], "7");
        assert_eq!(finding["source"]["page"], "14");
        assert_eq!(finding["source"]["last_page"], "15");
        assert_eq!(finding["note"]["from_source"]["position"], 0.0123);
        assert_eq!(finding["measures"]["string_share"], 0.6129);
        assert_eq!(finding["credit"]["state"], "credited");
        assert_eq!(finding["shared"][1]["by"], "synonym");
        assert_eq!(
            value["drafts"][0]["findings"][3]["settled"]["on"],
            "2026-03-02"
        );
        assert_eq!(value["left_out"][0]["what"], "sources/lindqvist2014.txt");
    }

    #[test]
    fn numbers_are_rounded() {
        let table = [
            (1.0 / 3.0, 0.3333),
            (0.00004, 0.0),
            (0.99996, 1.0),
            (0.5, 0.5),
        ];
        for (number, shown) in table {
            assert!((rounded(number) - shown).abs() < f64::EPSILON, "{number}");
        }
        assert!(rounded(-0.000_01).is_sign_positive());
    }
}
