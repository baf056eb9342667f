//! Zip packages, in which word processors keep a document as parts (`word/document.xml`).
//!
//! A package may come from anywhere, so nothing in it is trusted:
//! 1. Only the parts that a reader asks for by name are unpacked, into memory and never onto the disk:
//!    absolute names, `..` and packages inside the package lead nowhere.
//! 2. Limits apply to the number of members, the size of a part and of all parts together, and how far a part
//!    may expand ([`Room`]).
//! 3. A part is read by [`Xml`](xml::Xml), which refuses declarations of entities and limits the depth.
//! 4. Anything that a document refers to outside its package is never followed.

mod write;
pub(crate) mod xml;

use std::io::{Cursor, Read};

use zip::ZipArchive;
use zip::result::ZipError;

use super::{Limits, Unreadable};

/// How many times its packed size a part may unpack to. Ordinary text packs to a tenth, very regular markup
/// to a hundredth. Our own choice.
pub(super) const RATIO: u64 = 400;

/// The size in bytes from which the ratio is checked.
pub(super) const RATIO_FROM: u64 = 80_000_000;

/// What a package may cost.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Room {
    /// Members of the package.
    pub members: usize,
    /// Bytes of one unpacked part.
    pub part_bytes: u64,
    /// Bytes of all unpacked parts together.
    pub all_bytes: u64,
    /// How many times its packed size a part may unpack to, from [`Room::ratio_from`] bytes on.
    pub ratio: u64,
    /// The size from which the ratio is checked.
    pub ratio_from: u64,
}

impl Room {
    /// The room within the limits.
    pub(crate) fn of(limits: &Limits) -> Self {
        let all_bytes = limits.unpacked_bytes();
        Self {
            members: limits.parts,
            part_bytes: all_bytes / 3 * 2,
            all_bytes,
            ratio: RATIO,
            ratio_from: RATIO_FROM,
        }
    }
}

/// The first bytes of a compound file: the old `.doc`, or a `.docx` locked with a password.
const COMPOUND_FILE: [u8; 8] = [0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1];

/// An opened package.
pub(crate) struct Package {
    archive: ZipArchive<Cursor<Vec<u8>>>,
    room: Room,
    /// Bytes unpacked so far.
    unpacked: u64,
}

impl Package {
    /// Opens a package. `expected` names the format for messages: `Word (.docx)`.
    pub(crate) fn open(
        bytes: Vec<u8>,
        expected: &'static str,
        room: Room,
    ) -> Result<Self, Unreadable> {
        let other = |found: &str| Unreadable::OtherFormat {
            expected,
            found: found.to_owned(),
        };
        if bytes.starts_with(&COMPOUND_FILE) {
            return Err(compound_file(&bytes, expected));
        }
        if !bytes.starts_with(b"PK") {
            let found = match bytes.as_slice() {
                [] => "it is empty",
                [b'%', b'P', b'D', b'F', ..] => "it is a PDF file",
                [b'{', b'\\', b'r', b't', b'f', ..] => "it is an RTF file",
                _ => "it is not a zip package",
            };
            return Err(other(found));
        }
        let archive = ZipArchive::new(Cursor::new(bytes)).map_err(damaged)?;
        if archive.len() > room.members {
            return Err(Unreadable::OverLimit {
                what: format!(
                    "the package holds {} members, more than {}",
                    archive.len(),
                    room.members
                ),
                setting: "max_package_parts",
            });
        }
        Ok(Self {
            archive,
            room,
            unpacked: 0,
        })
    }

    /// The names of the members that a part may have, in order of the package.
    pub(crate) fn names(&self) -> Vec<String> {
        let names = self.archive.file_names().filter_map(Result::ok);
        names
            .filter(|name| is_inside(name))
            .map(|name| name.into_owned())
            .collect()
    }

    /// The characters of a part; `None` where there is no such part.
    pub(crate) fn part(&mut self, name: &str) -> Result<Option<String>, Unreadable> {
        let Some(bytes) = self.bytes(name)? else {
            return Ok(None);
        };
        characters(bytes, name).map(Some)
    }

    /// The bytes of a part.
    fn bytes(&mut self, name: &str) -> Result<Option<Vec<u8>>, Unreadable> {
        let name = name.trim_start_matches('/');
        let Some(index) = self
            .archive
            .index_for_name(name)
            .filter(|_| is_inside(name))
        else {
            return Ok(None);
        };
        let about = self.archive.by_index_raw(index).map_err(damaged)?;
        if about.encrypted() {
            return Err(Unreadable::Protected);
        }
        let packed = about.compressed_size();
        drop(about);
        let left = self.room.all_bytes.saturating_sub(self.unpacked);
        let swollen = packed
            .saturating_mul(self.room.ratio)
            .max(self.room.ratio_from);
        let limit = left.min(self.room.part_bytes).min(swollen);
        let part = self.archive.by_index(index).map_err(damaged)?;
        // The size that the package states for a part is not trusted, so the bytes are counted.
        let mut bytes = Vec::new();
        part.take(limit.saturating_add(1))
            .read_to_end(&mut bytes)
            .map_err(|cause| Unreadable::Damaged(format!("{name} can't be unpacked: {cause}")))?;
        if bytes.len() as u64 > limit {
            let what =
                format!("{name} in the package unpacks from {packed} bytes to more than {limit}");
            return Err(if limit == swollen {
                Unreadable::Excessive(what)
            } else {
                let setting = "max_unpacked_mb";
                Unreadable::OverLimit { what, setting }
            });
        }
        self.unpacked += bytes.len() as u64;
        Ok(Some(bytes))
    }
}

/// Whether a name leads to a place inside the package.
fn is_inside(name: &str) -> bool {
    let plain = |step: &str| !step.is_empty() && step != "." && step != "..";
    !name.contains(['\\', ':', '\0']) && name.split('/').all(plain)
}

/// The name of the part that a relationship of another part refers to: relative to the folder of that part,
/// or from the package's root. `None` where it leads out of the package.
pub(crate) fn target(from: &str, written: &str) -> Option<String> {
    let mut steps: Vec<&str> = match written.strip_prefix('/') {
        Some(_) => Vec::new(),
        None => from.split('/').collect(),
    };
    if !written.starts_with('/') {
        steps.pop();
    }
    for step in written.split('/') {
        match step {
            "" | "." => {}
            ".." => {
                steps.pop()?;
            }
            step => steps.push(step),
        }
    }
    let name = steps.join("/");
    is_inside(&name).then_some(name)
}

fn damaged(cause: ZipError) -> Unreadable {
    match cause {
        ZipError::UnsupportedArchive(why) if why == ZipError::PASSWORD_REQUIRED => {
            Unreadable::Protected
        }
        cause => Unreadable::Damaged(format!("the zip package can't be opened: {cause}")),
    }
}

/// Why a compound file is refused. A package locked with a password is kept in a stream of this name.
fn compound_file(bytes: &[u8], expected: &'static str) -> Unreadable {
    let locked: Vec<u8> = "EncryptedPackage"
        .encode_utf16()
        .flat_map(u16::to_le_bytes)
        .collect();
    if memchr::memmem::find(bytes, &locked).is_some() {
        Unreadable::Protected
    } else {
        Unreadable::OtherFormat {
            expected,
            found: "it is in the format of an older word processor (.doc)".to_owned(),
        }
    }
}

/// The characters of a part: UTF-8, or UTF-16 with a byte-order mark, as XML allows.
fn characters(bytes: Vec<u8>, name: &str) -> Result<String, Unreadable> {
    let encoding = match bytes.as_slice() {
        [0xFF, 0xFE, ..] => Some(encoding_rs::UTF_16LE),
        [0xFE, 0xFF, ..] => Some(encoding_rs::UTF_16BE),
        _ => None,
    };
    if let Some(encoding) = encoding {
        return Ok(encoding.decode(&bytes).0.into_owned());
    }
    String::from_utf8(bytes)
        .map_err(|_| Unreadable::Damaged(format!("{name} holds bytes that are not UTF-8")))
}

#[cfg(test)]
pub(crate) mod tests;
