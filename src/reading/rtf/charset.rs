//! Code pages of RTF, and its control words for characters.

use encoding_rs::{
    BIG5, EUC_KR, Encoding, GBK, MACINTOSH, SHIFT_JIS, WINDOWS_874, WINDOWS_1250, WINDOWS_1251,
    WINDOWS_1252, WINDOWS_1253, WINDOWS_1254, WINDOWS_1255, WINDOWS_1256, WINDOWS_1257,
    WINDOWS_1258,
};

/// The encoding of a code page number (`\ansicpg1252`).
pub(super) fn of_code_page(number: i32) -> Option<&'static Encoding> {
    Some(match number {
        874 => WINDOWS_874,
        932 => SHIFT_JIS,
        936 => GBK,
        949 => EUC_KR,
        950 => BIG5,
        1250 => WINDOWS_1250,
        1251 => WINDOWS_1251,
        1252 => WINDOWS_1252,
        1253 => WINDOWS_1253,
        1254 => WINDOWS_1254,
        1255 => WINDOWS_1255,
        1256 => WINDOWS_1256,
        1257 => WINDOWS_1257,
        1258 => WINDOWS_1258,
        10000 => MACINTOSH,
        65001 => encoding_rs::UTF_8,
        _ => return None,
    })
}

/// The encoding of a font's character set (`\fcharset204`).
pub(super) fn of_font(number: i32) -> Option<&'static Encoding> {
    of_code_page(match number {
        77 => 10000,
        128 => 932,
        129 => 949,
        134 => 936,
        136 => 950,
        161 => 1253,
        162 => 1254,
        163 => 1258,
        177 => 1255,
        178 => 1256,
        186 => 1257,
        204 => 1251,
        222 => 874,
        238 => 1250,
        _ => return None,
    })
}

/// The character that a control word stands for.
pub(super) fn sign_of(word: &[u8]) -> Option<&'static str> {
    Some(match word {
        b"lquote" => "‘",
        b"rquote" => "’",
        b"ldblquote" => "“",
        b"rdblquote" => "”",
        b"endash" => "–",
        b"emdash" => "—",
        b"bullet" => "•",
        b"emspace" | b"enspace" | b"qmspace" => " ",
        _ => return None,
    })
}
