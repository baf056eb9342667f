//! PDF files made by hand: objects one after the other, with a table of their places.

use std::io::Write as _;

/// A file under construction. Object 1 is the catalog and 2 the tree of pages.
pub struct Pdf {
    objects: Vec<Vec<u8>>,
    pages: Vec<usize>,
    /// Entries of the catalog beside the usual ones.
    pub catalog: String,
    /// Entries of the trailer beside the usual ones.
    pub trailer: String,
}

impl Pdf {
    pub fn new() -> Self {
        Self {
            objects: vec![Vec::new(), Vec::new()],
            pages: Vec::new(),
            catalog: String::new(),
            trailer: String::new(),
        }
    }

    /// Adds an object; gives its number.
    pub fn object(&mut self, body: impl Into<Vec<u8>>) -> usize {
        self.objects.push(body.into());
        self.objects.len()
    }

    /// Adds a stream with the entries of its dictionary.
    pub fn stream(&mut self, entries: &str, data: &[u8]) -> usize {
        let mut body = format!("<< {entries} /Length {} >>\nstream\n", data.len()).into_bytes();
        body.extend_from_slice(data);
        body.extend_from_slice(b"\nendstream");
        self.object(body)
    }

    /// Adds a page with resources and content (an object's number).
    pub fn page(&mut self, resources: &str, content: usize) {
        let page = self.object(format!(
            "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 420 595] /Resources << {resources} >> /Contents {content} 0 R >>"
        ));
        self.pages.push(page);
    }

    /// Adds a page of lines in a font that needs no file, from the top down.
    pub fn text_page(&mut self, lines: &[&str]) {
        let content = self.stream("", text(lines).as_bytes());
        self.page(FONT, content);
    }

    /// The file.
    pub fn bytes(&self) -> Vec<u8> {
        let mut objects = self.objects.clone();
        objects[0] = format!("<< /Type /Catalog /Pages 2 0 R {} >>", self.catalog).into_bytes();
        let kids: Vec<String> = self
            .pages
            .iter()
            .map(|page| format!("{page} 0 R"))
            .collect();
        objects[1] = format!(
            "<< /Type /Pages /Count {} /Kids [{}] >>",
            kids.len(),
            kids.join(" ")
        )
        .into_bytes();
        let mut file = b"%PDF-1.7\n".to_vec();
        let mut places = Vec::new();
        for (index, object) in objects.iter().enumerate() {
            places.push(file.len());
            writeln!(file, "{} 0 obj", index + 1).unwrap();
            file.extend_from_slice(object);
            file.extend_from_slice(b"\nendobj\n");
        }
        let table = file.len();
        write!(file, "xref\n0 {}\n0000000000 65535 f \n", places.len() + 1).unwrap();
        for place in &places {
            writeln!(file, "{place:010} 00000 n ").unwrap();
        }
        write!(
            file,
            "trailer\n<< /Size {} /Root 1 0 R {} >>\nstartxref\n{table}\n%%EOF\n",
            places.len() + 1,
            self.trailer
        )
        .unwrap();
        file
    }
}

/// Resources with one font, named `F`.
pub const FONT: &str = "/Font << /F << /Type /Font /Subtype /Type1 /BaseFont /Times-Roman /Encoding /WinAnsiEncoding >> >>";

/// Drawing instructions for lines of text, 14 points apart; an empty line leaves a gap.
pub fn text(lines: &[&str]) -> String {
    let mut content = String::from("BT /F 11 Tf 14 TL 40 540 Td\n");
    for line in lines {
        let escaped = line
            .replace('\\', "\\\\")
            .replace('(', "\\(")
            .replace(')', "\\)");
        content.push_str(&format!("({escaped}) Tj T*\n"));
    }
    content.push_str("ET\n");
    content
}

/// Data packed with deflate.
pub fn deflated(data: &mut dyn std::io::Read) -> Vec<u8> {
    let mut packer = flate2::write::ZlibEncoder::new(Vec::new(), flate2::Compression::fast());
    std::io::copy(data, &mut packer).unwrap();
    packer.finish().unwrap()
}
