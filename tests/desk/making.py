"""Files as a writer has them: a Word draft, PDFs, notes, a list of references. All texts are invented."""

import pathlib
import zipfile

COPIED = "The lane behind the mill stayed dark from eleven until five in both summers, and the bakers had long stopped complaining about it."
SECOND = "Nobody counted the moths that crossed the weir after midnight, since the counters went home with the last ferry of the evening."
OWN = "This chapter asks what a town gains when its lamps are put out for part of the night, and who notices that they are out."

TYPES = (
    '<?xml version="1.0" encoding="UTF-8"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
    '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="xml" ContentType="application/xml"/>'
    '<Override PartName="/word/document.xml" ContentType="application/vnd.openxmlformats-officedocument.wordprocessingml.document.main+xml"/></Types>'
)
RELATIONS = (
    '<?xml version="1.0" encoding="UTF-8"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
    '<Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="word/document.xml"/></Relationships>'
)


def word(path, paragraphs):
    """A Word document."""
    inside = "".join(f"<w:p><w:r><w:t xml:space=\"preserve\">{text}</w:t></w:r></w:p>" for text in paragraphs)
    document = (
        '<?xml version="1.0" encoding="UTF-8"?><w:document xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main">'
        f"<w:body>{inside}</w:body></w:document>"
    )
    with zipfile.ZipFile(path, "w") as package:
        package.writestr("[Content_Types].xml", TYPES)
        package.writestr("_rels/.rels", RELATIONS)
        package.writestr("word/document.xml", document)


def pdf(path, paragraphs):
    """A PDF of one page."""
    lines = []
    for paragraph in paragraphs:
        line = ""
        for one in paragraph.split():
            if len(line) + len(one) > 80:
                lines.append(line)
                line = ""
            line = f"{line} {one}".strip()
        lines += [line, ""]
    shown = "BT /F1 11 Tf 60 760 Td 14 TL " + " ".join(f"({line}) '" for line in lines) + " ET"
    objects = [
        "<< /Type /Catalog /Pages 2 0 R >>",
        "<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
        "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] /Contents 4 0 R /Resources << /Font << /F1 5 0 R >> >> >>",
        f"<< /Length {len(shown)} >>\nstream\n{shown}\nendstream",
        "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding >>",
    ]
    out, places = "%PDF-1.4\n", []
    for number, one in enumerate(objects, 1):
        places.append(len(out))
        out += f"{number} 0 obj\n{one}\nendobj\n"
    table = "".join(f"{place:010d} 00000 n \n" for place in places)
    out += f"xref\n0 6\n0000000000 65535 f \n{table}trailer << /Size 6 /Root 1 0 R >>\nstartxref\n{len(out)}\n%%EOF\n"
    pathlib.Path(path).write_bytes(out.encode("latin-1"))


def filler(number):
    return " ".join(f"Paper {number} says in its part {part} what the {part * 7 + number} wardens of the river wrote down." for part in range(1, 25))


def folder(at):
    """A writer's folder; returns its files."""
    at = pathlib.Path(at)
    at.mkdir(parents=True)
    word(at / "my chapter.docx", [OWN, f"In those years things were quiet. {COPIED} That is worth a thought.", f"Much was missed. {SECOND}"])
    pdf(at / "Vane 2011 mill lanes.pdf", ["Of lanes and mills.", COPIED, filler(1)])
    pdf(at / "Ostler 2014 weirs.pdf", ["Of weirs.", SECOND, filler(2)])
    for number, name in enumerate(["Brandt 2001 lamps", "Corde 2007 ferries", "Dunn 2016 wardens"], 3):
        pdf(at / f"{name}.pdf", [filler(number)])
    (at / "notes.md").write_text(f"# Vane (2011)\n\n## Summary\n\nOn lanes that were dark for years.\n\n## Quotations\n\n\"{COPIED}\" (p. 1)\n")
    (at / "library.bib").write_text(
        "@book{vane2011, author={Vane, Ada}, title={Mill lanes}, date={2011}}\n"
        "@book{ostler2014, author={Ostler, Bea}, title={Weirs}, date={2014}}\n")
    return sorted(at.iterdir())
