//! Bytes to [`Text`], one file a format.
//!
//! 1. The ending names the format ([`Format`]).
//! 2. The size is checked before anything is read.
//! 3. [`decode`] turns bytes into characters, whatever their encoding.
//! 4. The reader of the format finds blocks; [`pages`] finds page marks and mends paragraphs they
//!    break; [`reference_list`] finds the document's own references.

mod assembly;
mod decode;
mod docx;
mod epub;
mod error;
mod flow;
mod folder;
mod html;
mod includes;
mod latex;
mod limits;
mod lines;
mod markdown;
mod odt;
mod org;
pub(crate) mod package;
mod pages;
mod pdf;
mod plain;
mod reference_list;
mod rst;
mod rtf;

use std::fs::File;
use std::io::Read;
use std::path::Path;

use includes::Includes;

pub use error::{ReadError, Unreadable};
pub use limits::Limits;

use crate::text::{FileLines, Text};

pub use folder::{Folder, folder};

/// A file as read, with what a reader of the report should know about how it was read.
#[derive(Debug, Clone)]
pub struct ReadFile {
    /// The document.
    pub text: Text,
    /// Remarks such as "read as Windows-1252"; shown in reports, never fatal.
    pub remarks: Vec<String>,
    /// References that the file carries with its citations, as word processors' fields do.
    pub carried: Vec<CarriedReference>,
}

/// A reference stored inside a document beside its citations.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CarriedReference {
    /// The key that the document's recorded citations use for it.
    pub key: String,
    /// The reference as one item of CSL JSON.
    pub csl_json: String,
}

/// The formats that can be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Format {
    /// Plain text.
    Plain,
    /// CommonMark with tables and footnotes; Pandoc's citations are left as they stand.
    Markdown,
    /// Word (ISO/IEC 29500).
    Docx,
    /// OpenDocument text (ISO/IEC 26300).
    Odt,
    /// PDF: sheets with characters at places.
    Pdf,
    /// LaTeX.
    Latex,
    /// HTML.
    Html,
    /// EPUB 2 and 3.
    Epub,
    /// Rich Text.
    Rtf,
    /// reStructuredText.
    Rst,
    /// Org.
    Org,
}

/// What [`ReadError::Unsupported`] names.
const SUPPORTED: &str = ".txt, .md, .docx, .odt, .pdf, .tex, .html, .epub, .rtf, .rst, .org";

/// The largest file that can be read at all, in megabytes: positions are 32 bits wide.
const POSITIONS_MB: u64 = 4000;

impl Format {
    /// The format a file's ending names; a file without an ending is plain text.
    ///
    /// # Errors
    /// [`ReadError::Unsupported`] for any other ending.
    pub fn of(path: &Path) -> Result<Self, ReadError> {
        let ending = path
            .extension()
            .map(|ending| ending.to_string_lossy().to_lowercase());
        match ending.as_deref() {
            None | Some("txt" | "text") => Ok(Self::Plain),
            Some("md" | "markdown") => Ok(Self::Markdown),
            Some("docx" | "docm") => Ok(Self::Docx),
            Some("odt") => Ok(Self::Odt),
            Some("pdf") => Ok(Self::Pdf),
            Some("tex" | "ltx" | "latex") => Ok(Self::Latex),
            Some("html" | "htm" | "xhtml") => Ok(Self::Html),
            Some("epub") => Ok(Self::Epub),
            Some("rtf") => Ok(Self::Rtf),
            Some("rst" | "rest") => Ok(Self::Rst),
            Some("org") => Ok(Self::Org),
            Some(other) => Err(ReadError::Unsupported {
                path: path.to_owned(),
                ending: format!(".{other}"),
                supported: SUPPORTED,
            }),
        }
    }
}

/// Reads one file by its ending.
///
/// # Errors
/// [`ReadError`] where the file can't be opened, is of an unknown or binary format, or costs more than the limits
/// allow.
pub fn read(path: &Path, limits: &Limits) -> Result<ReadFile, ReadError> {
    let format = Format::of(path)?;
    let limit_mb = limits.file_mb.min(POSITIONS_MB);
    let bytes = bytes(path, limit_mb)?;
    let includes = Includes::beside(path, limit_mb);
    from_place(bytes, format, &includes, limits).map_err(|why| ReadError::Content {
        path: path.to_owned(),
        why,
    })
}

/// Reads the bytes of a file in a known format, within the usual limits. Files that it names are not read, since its
/// place is not known.
///
/// # Errors
/// [`Unreadable`] where the bytes are not what the format asks for.
pub fn from_bytes(bytes: Vec<u8>, format: Format) -> Result<ReadFile, Unreadable> {
    from_bytes_within(bytes, format, &Limits::default())
}

/// The same within other limits. Those on the file itself are not looked at.
///
/// # Errors
/// [`Unreadable`] where the bytes are not what the format asks for, or cost more than the limits allow.
pub fn from_bytes_within(
    bytes: Vec<u8>,
    format: Format,
    limits: &Limits,
) -> Result<ReadFile, Unreadable> {
    from_place(bytes, format, &Includes::none(), limits)
}

fn from_place(
    bytes: Vec<u8>,
    format: Format,
    includes: &Includes,
    limits: &Limits,
) -> Result<ReadFile, Unreadable> {
    match format {
        Format::Docx => docx::read(bytes, limits),
        Format::Odt => odt::read(bytes, limits),
        Format::Pdf => pdf::read(bytes, limits),
        Format::Epub => epub::read(bytes, limits),
        Format::Rtf => rtf::read(&bytes).map(|text| ReadFile {
            text,
            remarks: Vec::new(),
            carried: Vec::new(),
        }),
        _ => characters(bytes, format, includes),
    }
}

/// Reads a format that is characters from end to end.
fn characters(bytes: Vec<u8>, format: Format, includes: &Includes) -> Result<ReadFile, Unreadable> {
    let lines = FileLines::of(&bytes);
    let named = (format == Format::Html)
        .then(|| html::encoding(&bytes))
        .flatten();
    let decode::Decoded {
        content,
        origin,
        remark,
    } = decode::decode_as(bytes, named).ok_or(Unreadable::Binary)?;
    let mut remarks: Vec<String> = remark.into_iter().collect();
    let text = match format {
        Format::Markdown => {
            let (text, html) = markdown::read(&content, &origin);
            if html {
                remarks.push("HTML blocks in the Markdown were left out".to_owned());
            }
            text
        }
        Format::Latex => {
            let (text, missing) = latex::read(&content, &origin, &|name| includes.load(name));
            remarks.extend(missing);
            text
        }
        Format::Html => html::read(&content)?,
        Format::Rst => rst::read(&content, &origin),
        Format::Org => org::read(&content, &origin),
        _ => plain::read(content, origin),
    };
    Ok(ReadFile {
        text: text.with_file_lines(lines),
        remarks,
        carried: Vec::new(),
    })
}

fn bytes(path: &Path, limit_mb: u64) -> Result<Vec<u8>, ReadError> {
    let refused = |cause| ReadError::Io {
        path: path.to_owned(),
        cause,
    };
    let too_large = |size: u64| ReadError::TooLarge {
        path: path.to_owned(),
        size_mb: size.div_ceil(1_000_000),
        limit_mb,
    };
    let limit = limit_mb.saturating_mul(1_000_000);
    let file = File::open(path).map_err(refused)?;
    let about = file.metadata().map_err(refused)?;
    if about.is_dir() {
        return Err(ReadError::Folder {
            path: path.to_owned(),
        });
    }
    if about.len() > limit {
        return Err(too_large(about.len()));
    }
    // A pipe tells no size, and a file may grow while it is read.
    let mut bytes = Vec::with_capacity(usize::try_from(about.len()).unwrap_or_default());
    file.take(limit.saturating_add(1))
        .read_to_end(&mut bytes)
        .map_err(refused)?;
    match bytes.len() as u64 {
        size if size > limit => Err(too_large(size)),
        _ => Ok(bytes),
    }
}

#[cfg(test)]
mod tests;
