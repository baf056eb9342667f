//! What reading may cost. A file may come from anywhere, and a small one may unpack into more than any
//! computer holds, so every cost is bounded before it is incurred. All limits are far above what documents
//! need. They are our own choice, and a review's settings may set others.

/// The limits within which a file is read and a folder is searched.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub struct Limits {
    /// Largest file, in megabytes (10^6 bytes), together with the files that it includes. Setting
    /// `max_file_mb`, default 100.
    pub file_mb: u64,
    /// Most that a packed file may unpack into, in megabytes. All parts of a package together may unpack into
    /// all of it, one part into two thirds. In a PDF one stream, and the pages together, may each unpack into
    /// a third, the drawings that the pages use into all of it, and drawing one page may run through a sixth.
    /// Setting `max_unpacked_mb`, default 600.
    pub unpacked_mb: u64,
    /// Most parts of a package (.docx, .odt, .epub). Setting `max_package_parts`, default 20,000.
    pub parts: usize,
    /// Most pages of a PDF. Setting `max_pdf_pages`, default 20,000.
    pub pages: usize,
    /// Most characters that a PDF may draw. Setting `max_pdf_characters`, default 10,000,000: ten long books.
    pub characters: usize,
    /// Most elements, attributes and stretches of text that an HTML page, or all chapters of an EPUB, may make. Setting
    /// `max_html_nodes`, default 4,000,000: a hundred long books.
    pub html_nodes: usize,
    /// Most line ends and signs of markup in a text file (.txt, .md, .tex, .rst, .org; in .html line ends only). Setting
    /// `max_text_marks`, default 6,000,000: a hundred long books.
    pub text_marks: usize,
    /// Most files and folders that one folder may hold, with everything below it. Setting `max_files`, default 100,000.
    pub files: usize,
}

impl Default for Limits {
    fn default() -> Self {
        Self::USUAL
    }
}

impl Limits {
    /// The default limits.
    pub const USUAL: Self = Self {
        file_mb: 100,
        unpacked_mb: 600,
        parts: 20_000,
        pages: 20_000,
        characters: 10_000_000,
        html_nodes: 4_000_000,
        text_marks: 6_000_000,
        files: 100_000,
    };
}

impl Limits {
    /// Bytes into which a packed file may unpack.
    pub(super) fn unpacked_bytes(&self) -> u64 {
        self.unpacked_mb.saturating_mul(1_000_000)
    }
}
