//! What stands on the desk, as HTML: the shell that a browser opens, and what is put into it piece by piece. The draft and its
//! findings come from the page report ([`super::page`]), so that the two are one design; here is the rest.
//!
//! 1. [`shell`] is the page itself, with style and script inside and a strict policy.
//! 2. [`context`] is the page of a source around a passage.
//! 3. [`notes`] and [`account`] are the entries of the notes, and all quotations.
//!
//! Text of the user's reaches the page through `maud`, which escapes it, or as text that the script puts in as text.

mod account;
mod context;
mod notes;
mod shell;

pub(crate) use account::account;
pub(crate) use context::context;
pub(crate) use notes::notes;
pub use shell::{Engine, policy, shell};
#[cfg(test)]
pub(in crate::report) use shell::{SCRIPT, STYLE};
