//! Base64 (RFC 4648, section 4), in which some tags of content controls hold their citation.

/// The bytes that a text encodes; `None` where it is not Base64. Padding may be left out.
pub(in crate::reading) fn decode(text: &str) -> Option<Vec<u8>> {
    let digits = text.trim_end_matches('=').as_bytes();
    let mut bytes = Vec::with_capacity(digits.len() * 3 / 4);
    for group in digits.chunks(4) {
        let mut bits = 0_u32;
        for digit in group {
            bits = bits << 6 | u32::from(value(*digit)?);
        }
        let missing = 4 - group.len();
        let [_, first, second, third] = (bits << (6 * missing)).to_be_bytes();
        match missing {
            0 => bytes.extend([first, second, third]),
            1 => bytes.extend([first, second]),
            2 => bytes.push(first),
            _ => return None,
        }
    }
    Some(bytes)
}

fn value(digit: u8) -> Option<u8> {
    match digit {
        b'A'..=b'Z' => Some(digit - b'A'),
        b'a'..=b'z' => Some(digit - b'a' + 26),
        b'0'..=b'9' => Some(digit - b'0' + 52),
        b'+' | b'-' => Some(62),
        b'/' | b'_' => Some(63),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_test_vectors_of_the_standard() {
        // RFC 4648, section 10
        let cases = [
            ("", ""),
            ("Zg==", "f"),
            ("Zm8=", "fo"),
            ("Zm9v", "foo"),
            ("Zm9vYg==", "foob"),
            ("Zm9vYmE=", "fooba"),
            ("Zm9vYmFy", "foobar"),
        ];
        for (text, bytes) in cases {
            assert_eq!(decode(text).as_deref(), Some(bytes.as_bytes()), "{text}");
        }
        assert_eq!(decode("Z"), None);
        assert_eq!(decode("Zg é"), None);
    }
}
