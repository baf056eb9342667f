//! Commands that stand for characters: accents, letters, signs.

use unicode_normalization::UnicodeNormalization;

/// The combining character of an accent command.
pub(super) fn accent(name: &str) -> Option<char> {
    Some(match name {
        "`" => '\u{300}',
        "'" => '\u{301}',
        "^" => '\u{302}',
        "~" => '\u{303}',
        "=" => '\u{304}',
        "u" => '\u{306}',
        "." => '\u{307}',
        "\"" => '\u{308}',
        "r" => '\u{30A}',
        "H" => '\u{30B}',
        "v" => '\u{30C}',
        "d" => '\u{323}',
        "c" => '\u{327}',
        "k" => '\u{328}',
        "b" => '\u{331}',
        _ => return None,
    })
}

/// A letter with an accent, composed. The dotless letters occur only under accents.
pub(super) fn accented(base: &str, accent: char) -> String {
    let base = match base {
        "\\i" | "ı" => "i",
        "\\j" | "ȷ" => "j",
        other => other,
    };
    let mut chars = base.chars();
    let first = chars.next().unwrap_or('\u{A0}');
    [first, accent].into_iter().chain(chars).nfc().collect()
}

/// What a command without an argument prints; empty for one that prints nothing.
pub(super) fn sign(name: &str) -> Option<&'static str> {
    Some(match name {
        "&" => "&",
        "%" => "%",
        "$" => "$",
        "#" => "#",
        "_" => "_",
        "{" => "{",
        "}" => "}",
        " " | "\n" | "\t" | "space" | "quad" | "qquad" | "enspace" | "nobreakspace" => " ",
        "," | "thinspace" => "\u{202F}",
        "-" | "/" | "@" | "!" | ";" | ":" | ">" | "<" | "*" | "relax" | "protect" => "",
        "ss" => "ß",
        "SS" => "ẞ",
        "ae" => "æ",
        "AE" => "Æ",
        "oe" => "œ",
        "OE" => "Œ",
        "o" => "ø",
        "O" => "Ø",
        "aa" => "å",
        "AA" => "Å",
        "l" => "ł",
        "L" => "Ł",
        "i" => "ı",
        "j" => "ȷ",
        "dh" => "ð",
        "DH" => "Ð",
        "th" => "þ",
        "TH" => "Þ",
        "ng" => "ŋ",
        "dj" => "đ",
        "DJ" => "Đ",
        "ldots" | "dots" | "textellipsis" => "…",
        "textendash" => "–",
        "textemdash" => "—",
        "textquoteleft" | "lq" => "‘",
        "textquoteright" | "rq" => "’",
        "textquotedblleft" => "“",
        "textquotedblright" => "”",
        "guillemotleft" | "flqq" | "og" => "«",
        "guillemotright" | "frqq" | "fg" => "»",
        "guilsinglleft" | "flq" => "‹",
        "guilsinglright" | "frq" => "›",
        "quotedblbase" | "glqq" => "„",
        "grqq" => "“",
        "quotesinglbase" | "glq" => "‚",
        "grq" => "‘",
        "textquotedbl" => "\"",
        "S" | "textsection" => "§",
        "P" | "textparagraph" => "¶",
        "dag" | "textdagger" => "†",
        "ddag" | "textdaggerdbl" => "‡",
        "copyright" | "textcopyright" => "©",
        "textregistered" => "®",
        "texttrademark" => "™",
        "pounds" | "textsterling" => "£",
        "euro" | "texteuro" | "EUR" => "€",
        "textdegree" | "degree" => "°",
        "textbackslash" => "\\",
        "textasciitilde" => "~",
        "textasciicircum" => "^",
        "textunderscore" => "_",
        "textbar" => "|",
        "textless" => "<",
        "textgreater" => ">",
        "textbullet" => "•",
        "textperiodcentered" => "·",
        "textexclamdown" => "¡",
        "textquestiondown" => "¿",
        "textmu" => "µ",
        "texttimes" => "×",
        "LaTeX" => "LaTeX",
        "TeX" => "TeX",
        "LaTeXe" => "LaTeX2e",
        "BibTeX" => "BibTeX",
        "slash" => "/",
        _ => return None,
    })
}

/// Inline mathematics that is plain enough to read aloud (`n = 24`, `p < 0.05`), as characters; `None` for
/// anything beyond letters, numbers and a few signs.
pub(super) fn plain_math(math: &str) -> Option<String> {
    const SIGNS: [(&str, &str); 16] = [
        ("\\times", "×"),
        ("\\pm", "±"),
        ("\\approx", "≈"),
        ("\\leq", "≤"),
        ("\\geq", "≥"),
        ("\\le", "≤"),
        ("\\ge", "≥"),
        ("\\sim", "∼"),
        ("\\cdot", "⋅"),
        ("\\mu", "μ"),
        ("\\alpha", "α"),
        ("\\beta", "β"),
        ("^{\\circ}", "°"),
        ("^\\circ", "°"),
        ("\\%", "%"),
        ("\\,", " "),
    ];
    let mut plain = math.trim().to_owned();
    for (command, sign) in SIGNS {
        plain = plain.replace(command, sign);
    }
    let simple = plain.len() <= 80 && !plain.contains(['\\', '^', '_', '{', '}', '\n', '&', '$']);
    simple.then_some(plain)
}
