//! What reading may cost, as one table: for each kind of file what is counted, and how much of it is read. Each figure is
//! the one that the readers themselves go by.

use super::Limits;
use super::{html, includes, package, rtf};

impl Limits {
    /// Most memory that reading one file may take, in megabytes. The limits bound it, whatever the file holds; files
    /// made to take more are kept as tests.
    pub const MEMORY_MB: u64 = 1000;

    /// Most seconds that reading one file may take on an ordinary computer.
    pub const SECONDS: u64 = 10;

    /// Kinds of files, and what one of them may cost.
    pub(crate) fn costs(&self) -> Vec<(&'static str, String)> {
        let unpacked = self.unpacked_mb;
        let [parts, pages, characters] = [self.parts, self.pages, self.characters].map(grouped);
        let [nodes, marks, files] = [self.html_nodes, self.text_marks, self.files].map(grouped);
        let [open, rtf_deep] = [html::MOST_OPEN, rtf::DEEPEST].map(grouped);
        vec![
            (
                "every file",
                format!(
                    "{} MB with the files that it includes; read in {} MB of memory and {} seconds",
                    self.file_mb,
                    grouped(Self::MEMORY_MB),
                    Self::SECONDS
                ),
            ),
            (
                ".txt .md .org .rst",
                format!("{marks} line ends and signs of markup"),
            ),
            (
                ".tex",
                format!(
                    "{marks} line ends and signs of markup; {} names of files to include",
                    grouped(includes::MOST_NAMES)
                ),
            ),
            (
                ".html",
                format!(
                    "{nodes} elements, attributes and stretches of text; {open} open at once; {marks} line ends"
                ),
            ),
            (
                ".epub",
                format!("{nodes} of these in all chapters, {open} open at once; and as .docx"),
            ),
            (
                ".docx .odt",
                format!(
                    "{parts} parts; unpacked {unpacked} MB, one part {} MB and {} times its packed size (from {} MB on); elements {} deep",
                    unpacked * 2 / 3,
                    package::RATIO,
                    package::RATIO_FROM / 1_000_000,
                    package::xml::DEPTH
                ),
            ),
            (".rtf", format!("groups {rtf_deep} deep")),
            (
                ".pdf",
                format!(
                    "{pages} pages; {characters} characters; unpacked, one stream {third} MB and all pages {third} MB",
                    third = unpacked / 3
                ),
            ),
            ("a folder", format!("{files} files and folders")),
        ]
    }
}

/// A number with its digits in groups of three.
fn grouped(number: impl ToString) -> String {
    let digits = number.to_string();
    let mut grouped = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            grouped.push(',');
        }
        grouped.push(digit);
    }
    grouped
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::package::tests::zipped;
    use crate::reading::{Format, from_bytes, from_bytes_within};

    /// What of a table differs from the usual one.
    fn changed(change: fn(&mut Limits)) -> Vec<&'static str> {
        let mut limits = Limits::USUAL;
        change(&mut limits);
        let both = limits.costs().into_iter().zip(Limits::USUAL.costs());
        both.filter(|(now, usual)| now != usual)
            .map(|(now, _)| now.0)
            .collect()
    }

    #[test]
    fn every_limit_stands_in_the_table() {
        let texts = [".txt .md .org .rst", ".tex", ".html"];
        assert_eq!(changed(|limits| limits.file_mb = 7), ["every file"]);
        assert_eq!(changed(|limits| limits.text_marks = 7), texts);
        assert_eq!(changed(|limits| limits.html_nodes = 7), [".html", ".epub"]);
        assert_eq!(changed(|limits| limits.parts = 7), [".docx .odt"]);
        assert_eq!(
            changed(|limits| limits.unpacked_mb = 9),
            [".docx .odt", ".pdf"]
        );
        assert_eq!(changed(|limits| limits.pages = 7), [".pdf"]);
        assert_eq!(changed(|limits| limits.characters = 7), [".pdf"]);
        assert_eq!(changed(|limits| limits.files = 7), ["a folder"]);
    }

    /// The deepest that is read, and what is deeper by so much.
    #[track_caller]
    fn assert_deepest(format: Format, most: usize, by: usize, made: impl Fn(usize) -> Vec<u8>) {
        assert!(from_bytes(made(most), format).is_ok(), "{format:?}, {most}");
        assert!(
            from_bytes(made(most + by), format).is_err(),
            "{format:?}, {most} and {by}"
        );
    }

    #[test]
    fn as_deep_as_the_table_says() {
        // The open elements of a page are counted once in so many tags; around the text of a document there are some.
        assert_deepest(Format::Html, html::MOST_OPEN - 20, 40, |deep| {
            "<div>".repeat(deep).into_bytes()
        });
        assert_deepest(Format::Rtf, rtf::DEEPEST - 10, 20, |deep| {
            format!("{{\\rtf1 {}a{}}}", "{".repeat(deep), "}".repeat(deep)).into_bytes()
        });
        assert_deepest(Format::Odt, package::xml::DEPTH - 10, 20, |deep| {
            let inside = format!(
                "{}a{}",
                "<text:section>".repeat(deep),
                "</text:section>".repeat(deep)
            );
            let content = format!(
                "<office:document-content xmlns:office=\"urn:oasis:names:tc:opendocument:xmlns:office:1.0\" xmlns:text=\"urn:oasis:names:tc:opendocument:xmlns:text:1.0\"><office:body><office:text>{inside}</office:text></office:body></office:document-content>"
            );
            let kind = b"application/vnd.oasis.opendocument.text";
            zipped(&[("mimetype", kind), ("content.xml", content.as_bytes())])
        });
    }

    #[test]
    fn as_much_as_the_table_says() {
        let read = |format: Format, content: String, change: fn(&mut Limits)| {
            let mut limits = Limits::USUAL;
            change(&mut limits);
            from_bytes_within(content.into_bytes(), format, &limits).is_ok()
        };
        let lines = |count: usize| "a\n".repeat(count);
        for format in [
            Format::Plain,
            Format::Html,
            Format::Latex,
            Format::Org,
            Format::Rst,
        ] {
            assert!(
                read(format, lines(50), |limits| limits.text_marks = 50),
                "{format:?}"
            );
            assert!(
                !read(format, lines(51), |limits| limits.text_marks = 50),
                "{format:?}"
            );
        }
        assert!(!read(Format::Html, "<p>a".repeat(51), |limits| limits
            .html_nodes =
            50));
    }
}
