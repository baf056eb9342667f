//! How much the streams of a file unpack into, found out without keeping more than is allowed.
//!
//! The library unpacks a stream whole. So every stream that is long enough to unpack into more than is
//! allowed is unpacked here first, filter by filter, and abandoned at that size. Deflate makes at most 1,032
//! bytes of one, so most streams need no check. Before the file is opened at all, the same is done for the
//! streams that opening unpacks: cross-reference tables and collections of objects ([`before_opening`]).

use std::io::Read;

use hayro_interpret::hayro_syntax::Pdf;
use hayro_interpret::hayro_syntax::object::{Array, Dict, Name, Object};
use memchr::memmem;

use super::bounds::{Bounds, unpacks};
use crate::reading::Unreadable;

/// The filters whose output can be longer than their input.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Filter {
    FlateDecode,
    LzwDecode,
    RunLengthDecode,
    Ascii85Decode,
    AsciiHexDecode,
    Crypt,
    /// A picture's filter, or an unknown one.
    Other,
}

/// A collection of objects in an encrypted file can't be unpacked before the file is opened. Such collections
/// have some thousand bytes.
const ENCRYPTED_COLLECTION: usize = 1_000_000;

/// Checks what opening the file unpacks.
///
/// # Errors
/// [`Unreadable::OverLimit`] where one stream unpacks into too much.
pub(super) fn before_opening(bytes: &[u8], bounds: &Bounds) -> Result<(), Unreadable> {
    let encrypted = memmem::find(bytes, b"/Encrypt").is_some();
    for start in memmem::find_iter(bytes, b"stream") {
        let before = bytes.get(..start).unwrap_or_default();
        // `endstream` ends a stream.
        if before.ends_with(b"end") {
            continue;
        }
        let near = before.get(start.saturating_sub(1000)..).unwrap_or_default();
        let dictionary = near
            .get(memmem::rfind(near, b"obj").unwrap_or(0)..)
            .unwrap_or_default();
        let named = |name: &[u8]| memmem::find(dictionary, name).is_some();
        let is_collection = named(b"ObjStm");
        if !is_collection && !named(b"XRef") {
            continue;
        }
        let rest = bytes.get(start + b"stream".len()..).unwrap_or_default();
        let rest = rest.strip_prefix(b"\r").unwrap_or(rest);
        let rest = rest.strip_prefix(b"\n").unwrap_or(rest);
        let end = memmem::find(rest, b"endstream").unwrap_or(rest.len());
        let packed = rest.get(..end).unwrap_or_default();
        let times = memmem::find_iter(dictionary, b"FlateDecode").count();
        let filters = vec![Filter::FlateDecode; times.clamp(1, 4)];
        if unpacks_beyond(packed, &filters, bounds.stream)
            || (encrypted && is_collection && packed.len() > ENCRYPTED_COLLECTION)
        {
            return Err(excessive(bounds));
        }
    }
    Ok(())
}

/// Checks all streams of an opened file.
///
/// # Errors
/// [`Unreadable::OverLimit`] where one unpacks into too much.
pub(super) fn streams(pdf: &Pdf, bounds: &Bounds) -> Result<(), Unreadable> {
    for object in pdf.objects() {
        let Object::Stream(stream) = object else {
            continue;
        };
        let filters = filters(stream.dict());
        let packed = stream.raw_data();
        if unpacks_beyond(&packed, &filters, bounds.stream) {
            return Err(excessive(bounds));
        }
    }
    Ok(())
}

fn filters(dict: &Dict<'_>) -> Vec<Filter> {
    let of = |name: &Name<'_>| match name.as_ref() {
        b"FlateDecode" | b"Fl" => Filter::FlateDecode,
        b"LZWDecode" | b"LZW" => Filter::LzwDecode,
        b"RunLengthDecode" | b"RL" => Filter::RunLengthDecode,
        b"ASCII85Decode" | b"A85" => Filter::Ascii85Decode,
        b"ASCIIHexDecode" | b"AHx" => Filter::AsciiHexDecode,
        b"Crypt" => Filter::Crypt,
        _ => Filter::Other,
    };
    for key in [b"Filter".as_slice(), b"F"] {
        if let Some(name) = dict.get::<Name<'_>>(key) {
            return vec![of(&name)];
        }
        if let Some(names) = dict.get::<Array<'_>>(key) {
            return names.iter::<Name<'_>>().map(|name| of(&name)).collect();
        }
    }
    Vec::new()
}

fn excessive(bounds: &Bounds) -> Unreadable {
    unpacks("a part of the file unpacks into", bounds.stream)
}

/// The most bytes that a filter makes of one; pictures are never unpacked.
fn ratio(filter: Filter) -> u64 {
    match filter {
        Filter::FlateDecode => 1032,
        // A code of nine bits or more stands for up to 4,096 bytes.
        Filter::LzwDecode => 4096 * 8 / 9,
        Filter::RunLengthDecode => 64,
        Filter::Ascii85Decode => 4,
        _ => 1,
    }
}

fn unpacks_beyond(packed: &[u8], filters: &[Filter], limit: u64) -> bool {
    let most = filters
        .iter()
        .map(|filter| ratio(*filter))
        .fold(packed.len() as u64, u64::saturating_mul);
    if most <= limit {
        return false;
    }
    let mut data = std::borrow::Cow::Borrowed(packed);
    for filter in filters {
        let unpacked = match filter {
            Filter::FlateDecode => inflated(&data, limit),
            Filter::LzwDecode => lzw(&data, limit),
            Filter::RunLengthDecode => run_length(&data, limit),
            Filter::Ascii85Decode => ascii_85(&data),
            Filter::AsciiHexDecode => ascii_hex(&data),
            Filter::Crypt => continue,
            Filter::Other => return false,
        };
        if unpacked.len() as u64 > limit {
            return true;
        }
        data = std::borrow::Cow::Owned(unpacked);
    }
    false
}

/// Inflated up to the limit and one byte more. Where the data breaks off here, it does so in the library too.
fn inflated(packed: &[u8], limit: u64) -> Vec<u8> {
    let mut unpacked = Vec::new();
    let zlib = flate2::read::ZlibDecoder::new(packed);
    let _ = zlib.take(limit + 1).read_to_end(&mut unpacked);
    if unpacked.is_empty() {
        let bare = flate2::read::DeflateDecoder::new(packed);
        let _ = bare.take(limit + 1).read_to_end(&mut unpacked);
    }
    unpacked
}

/// LZW as defined by PDF (codes of 9 to 12 bits, 256 clears, 257 ends), up to the limit.
fn lzw(packed: &[u8], limit: u64) -> Vec<u8> {
    let mut unpacked: Vec<u8> = Vec::new();
    // Each code beyond 257 stands for an earlier stretch of the output.
    let mut table: Vec<(usize, usize)> = Vec::new();
    let (mut bits, mut held, mut width) = (0_u32, 0_u32, 9_u32);
    let mut last: Option<(usize, usize)> = None;
    for byte in packed {
        bits = (bits << 8) | u32::from(*byte);
        held += 8;
        if held < width {
            continue;
        }
        held -= width;
        let code = (bits >> held) & ((1 << width) - 1);
        bits &= (1 << held) - 1;
        if code == 257 || unpacked.len() as u64 > limit {
            break;
        }
        if code == 256 {
            table.clear();
            width = 9;
            last = None;
            continue;
        }
        let start = unpacked.len();
        match (
            u8::try_from(code),
            table.get((code as usize).wrapping_sub(258)),
            last,
        ) {
            (Ok(byte), _, _) => unpacked.push(byte),
            (_, Some((from, to)), _) => unpacked.extend_from_within(*from..*to),
            (_, None, Some((from, to))) => {
                unpacked.extend_from_within(from..to);
                unpacked.extend_from_within(from..=from);
            }
            (_, None, None) => break,
        }
        if let Some((from, to)) = last
            && table.len() < 4096 - 258
        {
            // The previous stretch with the first byte of the current one, which follows it directly.
            table.push((from, to + 1));
        }
        last = Some((start, unpacked.len()));
        width = match table.len() + 258 + 1 {
            ..512 => 9,
            512..1024 => 10,
            1024..2048 => 11,
            _ => 12,
        };
    }
    unpacked
}

fn run_length(packed: &[u8], limit: u64) -> Vec<u8> {
    let mut unpacked = Vec::new();
    let mut rest = packed;
    while let [length, behind @ ..] = rest {
        if *length == 128 || unpacked.len() as u64 > limit {
            break;
        }
        if *length < 128 {
            let copied = usize::from(*length) + 1;
            unpacked.extend_from_slice(behind.get(..copied).unwrap_or(behind));
            rest = behind.get(copied..).unwrap_or_default();
        } else {
            let Some(byte) = behind.first() else { break };
            let times = 257 - usize::from(*length);
            unpacked.extend(std::iter::repeat_n(*byte, times));
            rest = behind.get(1..).unwrap_or_default();
        }
    }
    unpacked
}

fn ascii_85(packed: &[u8]) -> Vec<u8> {
    let mut unpacked = Vec::new();
    let mut group: Vec<u32> = Vec::with_capacity(5);
    let mut close = |group: &mut Vec<u32>, digits: usize| {
        group.resize(5, 84);
        let value = group.iter().fold(0_u32, |sum, digit| {
            sum.wrapping_mul(85).wrapping_add(*digit)
        });
        group.clear();
        unpacked.extend(value.to_be_bytes().iter().take(digits.saturating_sub(1)));
    };
    for byte in packed {
        match byte {
            b'~' => break,
            b'z' if group.is_empty() => {
                group.extend([0; 5]);
                close(&mut group, 5);
            }
            b'!'..=b'u' => {
                group.push(u32::from(byte - b'!'));
                if group.len() == 5 {
                    close(&mut group, 5);
                }
            }
            _ => {}
        }
    }
    if !group.is_empty() {
        let digits = group.len();
        close(&mut group, digits);
    }
    unpacked
}

fn ascii_hex(packed: &[u8]) -> Vec<u8> {
    let digits = packed
        .iter()
        .take_while(|byte| **byte != b'>')
        .filter_map(|byte| char::from(*byte).to_digit(16));
    let digits: Vec<u32> = digits.collect();
    digits
        .chunks(2)
        .map(|pair| match pair {
            // Two digits of four bits each fit into a byte.
            [high, low] => (high * 16 + low) as u8,
            [high] => (high * 16) as u8,
            _ => 0,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const LIMIT: u64 = 2_000_000;

    #[test]
    fn filters_unpack_as_published() {
        // Published examples: ISO 32000-2, 7.4.4.2 (LZW); the rest by hand.
        let lzw_bytes = [0x80, 0x0B, 0x60, 0x50, 0x22, 0x0C, 0x0C, 0x85, 0x01];
        assert_eq!(
            lzw(&lzw_bytes, LIMIT),
            [45, 45, 45, 45, 45, 65, 45, 45, 45, 66]
        );
        assert_eq!(
            run_length(&[2, b'a', b'b', b'c', 254, b'x', 128, 9], LIMIT),
            b"abcxxx"
        );
        assert_eq!(ascii_85(b"9jqo^Bl\nbD-~>"), b"Man is d");
        assert_eq!(ascii_85(b"z~>"), [0; 4]);
        assert_eq!(ascii_hex(b"4C 61 6D7>ff"), b"Lamp");
    }

    #[test]
    fn bombs_are_known_by_their_length() {
        let mut packer = flate2::write::ZlibEncoder::new(Vec::new(), flate2::Compression::best());
        std::io::copy(&mut std::io::repeat(b' ').take(LIMIT + 2), &mut packer).unwrap();
        let bomb = packer.finish().unwrap();
        assert!(unpacks_beyond(&bomb, &[Filter::FlateDecode], LIMIT));
        let harmless = b"not packed at all".repeat(20_000);
        assert!(!unpacks_beyond(&harmless, &[Filter::FlateDecode], LIMIT));
        assert!(!unpacks_beyond(&bomb, &[], LIMIT));
    }
}
