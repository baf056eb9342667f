//! What a draft lists and cites grows: citations, its reference list, fields, its paragraphs and footnotes, findings.

use std::fmt::Write as _;
use std::fs::{self, File};
use std::io::{self, Write as _};
use std::path::Path;

use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

use super::{Series, bibliography, key, name, review, sentences};
use crate::prose::{Prose, Random};

pub const SERIES: fn() -> Vec<Series> = || {
    let check = |name, smallest, make| Series {
        name,
        smallest,
        make,
        command: &["check", "--jobs", "1", "drafts"],
    };
    let text = |name, smallest, make, command| Series {
        name,
        smallest,
        make,
        command,
    };
    vec![
        check("cited-unknown", 4000, unknown),
        check("cited-and-listed", 4000, cited),
        check("list-of-draft", 4000, own_list),
        check("fields-docx", 2000, fields),
        Series {
            name: "since",
            smallest: 500,
            make: since,
            command: &["check", "--jobs", "1", "drafts", "--since", "earlier"],
        },
        Series {
            name: "repeats",
            smallest: 200,
            make: repeats,
            command: &["check", "--jobs", "1", "--repeats", "drafts"],
        },
        text(
            "text-paragraphs",
            2000,
            text_paragraphs,
            &["text", "draft.md"],
        ),
        text(
            "text-footnotes",
            2000,
            text_footnotes,
            &["text", "draft.md"],
        ),
    ]
};

/// Citations that match no reference.
fn unknown(folder: &Path, size: usize) -> io::Result<()> {
    citing(folder, size, 0..100)
}

/// Citations of as many references.
fn cited(folder: &Path, size: usize) -> io::Result<()> {
    citing(folder, size, 1000..1000 + size)
}

fn citing(folder: &Path, size: usize, references: std::ops::Range<usize>) -> io::Result<()> {
    review(folder)?;
    let mut draft = String::new();
    for number in 1000..1000 + size {
        let (author, other) = (name(number), name(number * 3 + 1));
        let _ = write!(
            draft,
            "Of {other} it is said to be so ({author}, 2001).\n\n"
        );
    }
    fs::write(folder.join("references.bib"), bibliography(references))?;
    fs::write(folder.join("drafts/draft.md"), draft)
}

/// A reference list in the draft, half of which is cited.
fn own_list(folder: &Path, size: usize) -> io::Result<()> {
    citing(folder, size / 2, 0..100)?;
    let mut draft = fs::read_to_string(folder.join("drafts/draft.md"))?;
    draft.push_str("# References\n\n");
    for number in 1000..1000 + size {
        let (author, title) = (name(number), name(number * 7 + 3));
        let _ = write!(
            draft,
            "{author}, A. (2001). *{title} of the hill*. Quillet.\n\n"
        );
    }
    fs::write(folder.join("drafts/draft.md"), draft)
}

/// A Word file whose citations a reference manager stored in fields.
fn fields(folder: &Path, size: usize) -> io::Result<()> {
    review(folder)?;
    let mut body = String::new();
    for number in 0..size {
        let (key, author) = (key(number), name(number));
        let stored = format!(
            r#" ADDIN CSL_CITATION {{"citationItems":[{{"id":"{key}","itemData":{{"id":"{key}","type":"book","title":"{} of the hill","author":[{{"family":"{author}","given":"A."}}],"issued":{{"date-parts":[[2001]]}}}}}}]}}"#,
            name(number * 7 + 3)
        )
        .replace('"', "&quot;");
        let _ = write!(
            body,
            r#"<w:p><w:r><w:t xml:space="preserve">Of {} it is said to be so </w:t></w:r><w:r><w:fldChar w:fldCharType="begin"/></w:r><w:r><w:instrText>{stored}</w:instrText></w:r><w:r><w:fldChar w:fldCharType="separate"/></w:r><w:r><w:t>({author}, 2001)</w:t></w:r><w:r><w:fldChar w:fldCharType="end"/></w:r><w:r><w:t>.</w:t></w:r></w:p>"#,
            name(number * 3 + 1)
        );
    }
    docx(&folder.join("drafts/draft.docx"), &body)
}

/// The least Word file with a body.
fn docx(path: &Path, body: &str) -> io::Result<()> {
    let mut zip = ZipWriter::new(File::create(path)?);
    let stored = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
    let document = format!(
        r#"<?xml version="1.0"?><w:document xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"><w:body>{body}</w:body></w:document>"#
    );
    let parts = [
        (
            "[Content_Types].xml",
            r#"<?xml version="1.0"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Override PartName="/word/document.xml" ContentType="application/vnd.openxmlformats-officedocument.wordprocessingml.document.main+xml"/></Types>"#,
        ),
        (
            "_rels/.rels",
            r#"<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="word/document.xml"/></Relationships>"#,
        ),
        ("word/document.xml", &document),
    ];
    for (name, content) in parts {
        zip.start_file(name, stored)?;
        zip.write_all(content.as_bytes())?;
    }
    zip.finish()?;
    Ok(())
}

/// Findings now and before: a third of the copies is mended, a third is there still, a third is new.
fn since(folder: &Path, size: usize) -> io::Result<()> {
    review(folder)?;
    fs::create_dir_all(folder.join("earlier"))?;
    let prose = Prose::new();
    let mut random = Random::new(1);
    let source = sentences(&prose, &mut random, 200 + size * 40);
    let (mut now, mut before) = (String::new(), String::new());
    for (number, copied) in source.iter().take(size).enumerate() {
        let own = prose.sentence(&mut random);
        if number % 3 != 0 {
            let _ = write!(now, "{own} {copied}\n\n");
        }
        if number % 3 != 1 {
            let _ = write!(before, "{own} {copied}\n\n");
        }
    }
    // Several sources, so that what is measured is the comparison of versions.
    for (number, part) in source.chunks(50).enumerate() {
        fs::write(
            folder.join(format!("sources/{}.txt", key(number))),
            part.join(" "),
        )?;
    }
    fs::write(
        folder.join("references.bib"),
        bibliography(0..source.len() / 50 + 1),
    )?;
    fs::write(folder.join("earlier/draft.md"), before)?;
    fs::write(folder.join("drafts/draft.md"), now)
}

/// Drafts that each take over a sentence from the one before.
fn repeats(folder: &Path, size: usize) -> io::Result<()> {
    review(folder)?;
    let prose = Prose::new();
    let mut random = Random::new(1);
    let mut taken = String::new();
    for number in 0..size {
        let own = sentences(&prose, &mut random, 300);
        let draft = format!("{}\n\n{taken}\n", own.join(" "));
        fs::write(folder.join(format!("drafts/{number:05}.md")), draft)?;
        taken.clone_from(&own[2]);
    }
    Ok(())
}

fn text_paragraphs(folder: &Path, size: usize) -> io::Result<()> {
    let prose = Prose::new();
    let mut random = Random::new(1);
    let mut draft = String::new();
    for number in 0..size {
        let _ = write!(
            draft,
            "{} So says \"{}\" ({}, 2001).\n\n",
            prose.sentence(&mut random),
            prose.sentence(&mut random),
            name(number)
        );
    }
    fs::write(folder.join("draft.md"), draft)
}

fn text_footnotes(folder: &Path, size: usize) -> io::Result<()> {
    let prose = Prose::new();
    let mut random = Random::new(1);
    let (mut draft, mut notes) = (String::new(), String::new());
    for number in 0..size {
        let _ = write!(draft, "{}[^{number}]\n\n", prose.sentence(&mut random));
        let _ = write!(
            notes,
            "[^{number}]: A. {}, *{} of the hill* (Quillet, 2001), p. 3.\n\n",
            name(number / 2),
            name(number / 2 * 7 + 3)
        );
    }
    fs::write(folder.join("draft.md"), draft + &notes)
}
