//! The account of quotations for people ([`terminal`]), for programs ([`json`]) and for tables ([`spreadsheet`]).

mod item;
pub mod json;
pub mod spreadsheet;
pub mod terminal;
pub(in crate::report) mod words;

/// JSON Schema (2020-12) of what [`json::write`] prints.
pub const QUOTATIONS_SCHEMA: &str = include_str!("../quotations.schema.json");

#[cfg(test)]
mod tests;
