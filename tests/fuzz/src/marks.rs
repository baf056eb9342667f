//! Citations and quotations in running text.

use ownwords::text::{MarkedText, Text};

use crate::sound;

/// A paragraph: the bytes themselves, as far as they are text.
pub fn marks(data: &[u8]) {
    let content = String::from_utf8_lossy(data);
    sound::marks(&MarkedText::new(Text::paragraph(&content)));
}
