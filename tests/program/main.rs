//! All tests of the program from outside, as one program: each file would be linked by itself otherwise.
//! They run the built command as a user does, or call the library's public interface. A file a subject;
//! what they share is in [`common`].

mod common;
mod credit;

mod bad_input;
mod bibliography;
mod cases;
mod citation_rules;
mod commands;
mod demo;
mod edges;
mod fidelity;
mod file_lines;
mod footnotes;
mod forms;
mod golden;
mod guarantee;
mod hostile;
mod included;
mod kills;
mod kinds;
mod margin;
mod memory;
mod near_misses;
mod not_findings;
mod notes;
mod office;
#[cfg(unix)]
mod only_files;
mod out;
mod page;
mod passage_ends;
mod pdf;
mod place_review;
mod quotations;
mod references;
mod repeats;
mod safe_output;
mod schema;
mod session;
mod settle;
mod settling_generated;
mod silence;
mod since;
mod stopped;
mod system;
mod tables;
mod toolchain;
mod width;

// Needs pandoc and LibreOffice: `cargo test --features reference-readers`, as `tests/run` does.
#[cfg(feature = "reference-readers")]
mod reference_readers;
