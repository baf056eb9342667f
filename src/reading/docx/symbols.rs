//! Characters of symbol fonts (`w:sym`), whose codes have a meaning only in their font.

/// The characters of the font Symbol from code 0x20 on; a blank where there is none that is used in prose. By
/// the encoding published for the PostScript font of that name (*PostScript Language Reference*, third
/// edition, appendix E.5, from memory).
const SYMBOL_LOW: &str = " !∀#∃%&∋()∗+,−./0123456789:;<=>?≅ΑΒΧΔΕΦΓΗΙϑΚΛΜΝΟΠΘΡΣΤΥςΩΞΨΖ[∴]⊥_ αβχδεφγηιϕκλμνοπθρστυϖωξψζ{|}∼";

/// From code 0xA0 on.
const SYMBOL_HIGH: &str = "€ϒ′≤⁄∞ƒ♣♦♥♠↔←↑→↓°±″≥×∝∂•÷≠≡≈…  ↵ℵℑℜ℘⊗⊕∅∩∪⊃⊇⊄⊂⊆∈∉∠∇®©™∏√⋅¬∧∨⇔⇐⇑⇒⇓◊〈   ∑";

/// The character of a code in a font; `None` where it is not a character of prose (a drawn sign).
pub(super) fn character(font: &str, code: u32) -> Option<char> {
    // Word moves the codes of symbol fonts into the private use area.
    let own = if (0xF020..=0xF0FF).contains(&code) {
        code - 0xF000
    } else {
        code
    };
    let font = font.to_ascii_lowercase();
    if font == "symbol" {
        let (list, first) = if own >= 0xA0 {
            (SYMBOL_HIGH, 0xA0)
        } else {
            (SYMBOL_LOW, 0x20)
        };
        let index = own.checked_sub(first)? as usize;
        return list.chars().nth(index).filter(|c| *c != ' ');
    }
    if font.starts_with("wingdings") || font.starts_with("webdings") {
        return match (font.as_str(), own) {
            ("wingdings", 0xFC) => Some('✓'),
            ("wingdings", 0xFB) => Some('✗'),
            ("wingdings", 0xE0) => Some('→'),
            ("wingdings", 0xDF) => Some('←'),
            ("wingdings", 0xA7) => Some('▪'),
            ("wingdings", 0x9F) => Some('•'),
            _ => None,
        };
    }
    char::from_u32(own).filter(|c| !c.is_control() && !('\u{E000}'..='\u{F8FF}').contains(c))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn symbols_by_case() {
        let cases = [
            ("Symbol", 0xF061, Some('α')),
            ("Symbol", 0x6D, Some('μ')),
            ("Symbol", 0xF0B3, Some('≥')),
            ("Symbol", 0xF0B4, Some('×')),
            ("Symbol", 0xF0B0, Some('°')),
            ("Symbol", 0xF0B1, Some('±')),
            ("Symbol", 0xF0AE, Some('→')),
            ("Symbol", 0xF057, Some('Ω')),
            ("Symbol", 0xF0E5, Some('∑')),
            ("Wingdings", 0xF0FC, Some('✓')),
            ("Wingdings", 0xF04A, None),
            ("Arial", 0xE9, Some('é')),
            ("Arial", 0xF0E9, Some('é')),
            ("Arial", 0xE123, None),
            ("Symbol", 0, None),
        ];
        for (font, code, expected) in cases {
            assert_eq!(character(font, code), expected, "{font} {code:X}");
        }
    }
}
