//! ownwords compares a draft with the writer's own stored sources and notes.

pub mod findings;
pub mod overlap;
pub mod reading;
pub mod review;
pub mod text;
