//! The computation: which stretches of two texts share wording, and how close they are.

mod scale;

pub use scale::{Counterpart, Degree, Measures};
