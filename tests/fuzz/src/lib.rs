//! Fuzz targets: every reader, what a review is made of, and a whole small check, on bytes that nobody wrote.
//!
//! 1. `targets/` holds a binary for each function here; libFuzzer calls it with bytes that it makes from the seeds in
//!    `seeds/` and the words in `words/`.
//! 2. [`packages`] makes of such bytes what a reader would not refuse at once: a package, a PDF, a review.
//! 3. [`sound`] holds what was read to what is promised of it, [`reports`] what is written.
//!
//! A promise that is not kept ends the run with a panic, and libFuzzer keeps the bytes. It also watches time and memory.

mod margin;
mod marks;
mod packages;
mod reading;
mod reports;
mod review;
mod sound;

pub use margin::margin;
pub use marks::marks;
pub use reading::{docx, epub, html, latex, markdown, odt, org, pdf, plain, rst, rtf};
pub use review::{bibtex, check, csl_json, decisions, entries, ris, settings};
