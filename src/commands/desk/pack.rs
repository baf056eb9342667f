//! `ownwords.html`: the desk with its engine inside, one file.

use std::fs;
use std::io::Write as _;
use std::path::Path;

use flate2::Compression;
use flate2::write::GzEncoder;

use super::super::Failure;
use crate::report::desk::{Engine, shell};

/// Writes the page with the module inside.
pub(super) fn write(module: &Path, out: &Path) -> Result<(), Failure> {
    let refused = |cause| Failure::Serve { cause };
    let bytes = fs::read(module).map_err(refused)?;
    let mut packed = GzEncoder::new(Vec::new(), Compression::best());
    packed.write_all(&bytes).map_err(refused)?;
    let packed = base64(&packed.finish().map_err(refused)?);
    fs::write(out, shell(Engine::Inside(&packed))).map_err(refused)
}

/// Bytes in Base64 (RFC 4648, section 4).
fn base64(bytes: &[u8]) -> String {
    const SIGNS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let at = |place: usize| u32::from(three.get(place).copied().unwrap_or_default());
        let joined = at(0) << 16 | at(1) << 8 | at(2);
        for place in 0..4 {
            let sign = (joined >> (18 - 6 * place)) & 63;
            let sign = SIGNS.get(sign as usize).copied().unwrap_or(b'A');
            text.push(if place > three.len() {
                '='
            } else {
                char::from(sign)
            });
        }
    }
    text
}

#[cfg(test)]
mod tests {
    #[test]
    fn base64_of_the_standard() {
        // RFC 4648, section 10.
        for (bytes, text) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(super::base64(bytes.as_bytes()), text);
        }
    }
}
