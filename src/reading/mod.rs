//! Bytes to [`Text`]: one file for each format.
//!
//! 1. The ending names the format ([`Format`]).
//! 2. [`Files`] gives the bytes, from the disk or from memory, within a limit.
//! 3. `decode` turns bytes into characters, whatever their encoding.
//! 4. The reader of the format finds blocks; `pages` finds page marks and joins paragraphs that they break;
//!    `reference_list` finds the document's own references.

mod assembly;
mod builder;
mod costs;
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
mod markup_limit;
mod odt;
mod org;
pub(crate) mod package;
mod pages;
#[cfg(feature = "pdf")]
mod pdf;
mod plain;
mod reference_list;
mod rst;
mod rtf;
mod storage;

use std::path::Path;

use includes::Includes;

pub use error::{ReadError, Unreadable};
pub use folder::{Folder, folder};
pub use limits::Limits;
#[cfg(feature = "disk")]
pub use storage::Disk;
pub use storage::{FileKind, Files, Listed, Listing, Memory};

use crate::text::Text;

/// A file as read, with remarks on how it was read.
#[derive(Debug, Clone)]
pub struct ReadFile {
    /// The document.
    pub text: Text,
    /// Remarks such as "read as Windows-1252"; shown in reports, never fatal.
    pub remarks: Vec<String>,
    /// References that the file stores with its citations, as word processors' fields do.
    pub carried: Vec<CarriedReference>,
    /// Lines at the edges of pages that were taken for running heads and page numbers, so that they are no part of the
    /// text; in order of the pages. Formats that keep these apart by themselves have none.
    pub page_edges: Vec<String>,
}

/// A reference stored in a document together with its citations.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CarriedReference {
    /// The key that the document's recorded citations use for it.
    pub key: String,
    /// The reference as one item of CSL JSON.
    pub csl_json: String,
}

/// The formats that can be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Format {
    /// Plain text.
    Plain,
    /// CommonMark with tables and footnotes. Pandoc's citations are left as they are.
    Markdown,
    /// Word (ISO/IEC 29500).
    Docx,
    /// OpenDocument text (ISO/IEC 26300).
    Odt,
    /// PDF: pages with characters at positions.
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

/// The endings that [`ReadError::Unsupported`] names.
const SUPPORTED: &str = ".txt, .md, .docx, .odt, .pdf, .tex, .html, .epub, .rtf, .rst, .org";

/// The largest file that can be read at all, in megabytes: positions are 32 bits wide.
const POSITIONS_MB: u64 = 4000;

impl Format {
    /// The format that a file's ending names; a file without an ending is plain text.
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

/// Reads one file by its ending, and the files that it includes.
///
/// # Errors
/// [`ReadError`] where the file can't be opened, is of an unknown or binary format, or costs more than the limits
/// allow.
pub fn read(files: &dyn Files, path: &Path, limits: &Limits) -> Result<ReadFile, ReadError> {
    let format = Format::of(path)?;
    let limit_mb = limits.file_mb.min(POSITIONS_MB);
    let bytes = files.read(path, limit_mb)?;
    let includes = Includes::beside(files, path, limit_mb, limits.text_marks);
    from_place(bytes, format, &includes, limits).map_err(|why| ReadError::Content {
        path: path.to_owned(),
        why,
    })
}

/// Reads the bytes of a file in a known format, within the usual limits. Files that it includes are not read,
/// since its place is not known.
///
/// # Errors
/// [`Unreadable`] where the bytes are not what the format requires.
pub fn from_bytes(bytes: Vec<u8>, format: Format) -> Result<ReadFile, Unreadable> {
    from_bytes_within(bytes, format, &Limits::default())
}

/// The same within other limits. Those on the file itself are not checked.
///
/// # Errors
/// [`Unreadable`] where the bytes are not what the format requires, or cost more than the limits allow.
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
    includes: &Includes<'_>,
    limits: &Limits,
) -> Result<ReadFile, Unreadable> {
    match format {
        Format::Docx => docx::read(bytes, limits),
        Format::Odt => odt::read(bytes, limits),
        #[cfg(feature = "pdf")]
        Format::Pdf => pdf::read(bytes, limits),
        #[cfg(not(feature = "pdf"))]
        Format::Pdf => Err(Unreadable::NotBuiltIn("PDF")),
        Format::Epub => epub::read(bytes, limits),
        Format::Rtf => rtf::read(&bytes).map(|text| ReadFile {
            text,
            remarks: Vec::new(),
            carried: Vec::new(),
            page_edges: Vec::new(),
        }),
        _ => characters(bytes, format, includes, limits),
    }
}

/// Reads a format that consists of characters only.
fn characters(
    bytes: Vec<u8>,
    format: Format,
    includes: &Includes<'_>,
    limits: &Limits,
) -> Result<ReadFile, Unreadable> {
    if memchr::memchr_iter(b'\n', &bytes).count() > limits.text_marks {
        return Err(markup_limit::too_many(limits));
    }
    let named = (format == Format::Html)
        .then(|| html::encoding(&bytes))
        .flatten();
    let decoded = decode::decode_as(bytes, named).ok_or(Unreadable::Binary)?;
    markup_limit::check(&decoded.content, format, limits)?;
    let lines = decoded.lines();
    let decode::Decoded {
        content,
        origin,
        remark,
    } = decoded;
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
            remarks.extend(includes.remark());
            text
        }
        Format::Html => html::read(&content, limits)?,
        Format::Rst => rst::read(&content, &origin),
        Format::Org => org::read(&content, &origin),
        _ => plain::read(content, origin),
    };
    Ok(ReadFile {
        text: text.with_file_lines(lines),
        remarks,
        carried: Vec::new(),
        page_edges: Vec::new(),
    })
}

#[cfg(test)]
mod tests;
