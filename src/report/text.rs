//! What was read from a file: its blocks with lines, pages and sentences, its quotations, and its
//! citations with what each was taken to mean. For seeing why something was or was not found.

mod cited;
mod notes;

use std::collections::{BTreeMap, BTreeSet};
use std::io::{self, Write};

use super::english::{counted, listed};
use super::harmless;
use super::terminal::Look;
use super::terminal::sheet::Sheet;
use crate::reading::ReadFile;
use crate::text::{
    Block, BlockKind, ByteRange, Citation, CitationForm, MarkedText, Quotation, QuotationForm,
};

/// Columns before the text of a sentence.
const SENTENCE: usize = 11;

/// Writes the bare Text, byte for byte: the offsets of the JSON report count in it.
///
/// # Errors
/// What the writer refuses.
pub fn write_plain(file: &ReadFile, out: &mut impl Write) -> io::Result<()> {
    out.write_all(file.text.content().as_bytes())
}

/// Writes what was read and marked.
///
/// # Errors
/// What the writer refuses.
pub fn write(
    name: &str,
    marked: &MarkedText,
    (remarks, page_edges): (&[String], &[String]),
    look: &Look,
    out: &mut impl Write,
) -> io::Result<()> {
    let mut sheet = Sheet::new(out, look);
    head(&mut sheet, name, marked, remarks)?;
    let mut by_note = marked.text.note_calls().to_vec();
    by_note.sort_by_key(|call| (call.note, call.at));
    for (index, block) in marked.text.blocks().iter().enumerate() {
        sheet.blank()?;
        write_block(&mut sheet, marked, index, block)?;
        notes::write(&mut sheet, marked, block, &by_note)?;
    }
    write_page_edges(&mut sheet, page_edges)
}

/// What was left out at the edges of pages: each line once, with how often, in the order of the first ones.
fn write_page_edges<W: Write>(sheet: &mut Sheet<'_, W>, lines: &[String]) -> io::Result<()> {
    if lines.is_empty() {
        return Ok(());
    }
    sheet.blank()?;
    let count = counted(lines.len(), "line", "lines");
    let head = format!("left out: {count} taken for running heads and page numbers");
    sheet.heading(0, &head)?;
    let mut times: BTreeMap<&str, usize> = BTreeMap::new();
    for line in lines {
        *times.entry(line).or_default() += 1;
    }
    for line in lines {
        if let Some(times) = times.remove(line.as_str()) {
            let often = match times {
                1 => String::new(),
                times => format!(" ({times} times)"),
            };
            sheet.hanging(5, "   -", &format!("{}{often}", harmless(line)))?;
        }
    }
    Ok(())
}

fn head<W: Write>(
    sheet: &mut Sheet<'_, W>,
    name: &str,
    marked: &MarkedText,
    remarks: &[String],
) -> io::Result<()> {
    // A page may begin twice, its footnotes standing behind text of the next.
    let starts = marked.text.pages().starts().iter();
    let pages: BTreeSet<&str> = starts.map(|start| start.label.as_str()).collect();
    let sheets = marked.text.sheets().iter().map(|start| start.sheet).max();
    let pages = match (pages.len(), sheets) {
        (0, None) => "no page numbers".to_owned(),
        (0, Some(sheets)) => {
            let sheets = counted(sheets as usize, "sheet", "sheets");
            format!("{sheets} without page numbers")
        }
        (pages, _) => counted(pages, "page", "pages"),
    };
    let facts = [
        counted(marked.words.len(), "word", "words"),
        counted(marked.sentences.len(), "sentence", "sentences"),
        counted(marked.quotations.len(), "quotation", "quotations"),
        counted(marked.citations.len(), "citation", "citations"),
    ];
    let mut facts = facts.to_vec();
    if !marked.text.note_calls().is_empty() {
        let calls = marked.text.note_calls().len();
        facts.push(counted(calls, "call of a footnote", "calls of footnotes"));
    }
    facts.push(pages);
    sheet.heading(0, &format!("{}: {}", harmless(name), listed(&facts)))?;
    remarks
        .iter()
        .try_for_each(|remark| sheet.hanging(3, " -", &harmless(remark)))
}

fn write_block<W: Write>(
    sheet: &mut Sheet<'_, W>,
    marked: &MarkedText,
    index: usize,
    block: &Block,
) -> io::Result<()> {
    let line = marked.text.plain_line(block.range.start());
    let level = match block.kind {
        BlockKind::Heading { level } => format!(" of level {level}"),
        _ => String::new(),
    };
    let words = counted(marked.words_in(block.range).len(), "word", "words");
    let head = format!(
        "line {line}: {}{level}{}, {words}",
        block.kind.name(),
        pages_of(marked, block.range)
    );
    sheet.heading(0, &harmless(&head))?;
    sentences(sheet, marked, index, block)?;
    for quotation in starting_in(&marked.quotations, block.range, |quotation| quotation.outer) {
        write_quotation(sheet, marked, quotation)?;
    }
    for citation in starting_in(&marked.citations, block.range, |citation| citation.range) {
        write_citation(sheet, marked, citation)?;
    }
    Ok(())
}

fn pages_of(marked: &MarkedText, range: ByteRange) -> String {
    match marked.text.pages().of(range) {
        None => marked
            .text
            .sheet_at(range.start())
            .map(|sheet| format!(", sheet {sheet}"))
            .unwrap_or_default(),
        Some((first, last)) if first == last => format!(", page {first}"),
        Some((first, last)) => format!(", pages {first}-{last}"),
    }
}

/// The items that begin in a range; they stand in order of their start.
fn starting_in<T>(items: &[T], range: ByteRange, place: impl Fn(&T) -> ByteRange) -> &[T] {
    let from = items.partition_point(|item| place(item).start() < range.start());
    let to = items.partition_point(|item| place(item).start() < range.end());
    items.get(from..to).unwrap_or_default()
}

fn sentences<W: Write>(
    sheet: &mut Sheet<'_, W>,
    marked: &MarkedText,
    index: usize,
    block: &Block,
) -> io::Result<()> {
    let from = marked
        .sentences
        .partition_point(|sentence| (sentence.block as usize) < index);
    let own: Vec<ByteRange> = marked
        .sentences
        .iter()
        .skip(from)
        .take_while(|sentence| sentence.block as usize == index)
        .map(|sentence| sentence.range)
        .collect();
    if own.is_empty() {
        return sheet.paragraph(SENTENCE, &shown(marked, block.range));
    }
    for (number, range) in own.into_iter().enumerate() {
        let lead = format!("{:>9}", number + 1);
        sheet.hanging(SENTENCE, &lead, &shown(marked, range))?;
    }
    Ok(())
}

/// A stretch of the Text on one line, harmless for a terminal.
fn shown(marked: &MarkedText, range: ByteRange) -> String {
    let words = marked.text.slice(range).split_whitespace();
    harmless(&words.collect::<Vec<_>>().join(" ")).into_owned()
}

fn write_quotation<W: Write>(
    sheet: &mut Sheet<'_, W>,
    marked: &MarkedText,
    quotation: &Quotation,
) -> io::Result<()> {
    let form = match (quotation.form, quotation.depth) {
        (QuotationForm::Block, _) => "set off as a block",
        (QuotationForm::Inline, 0) => "in the text",
        (QuotationForm::Inline, _) => "inside another",
    };
    let words = counted(marked.words_in(quotation.inner).len(), "word", "words");
    let text = shown(marked, quotation.outer);
    sheet.labelled("quoted", &format!("{text} ({form}, {words})"))
}

fn write_citation<W: Write>(
    sheet: &mut Sheet<'_, W>,
    marked: &MarkedText,
    citation: &Citation,
) -> io::Result<()> {
    let form = match citation.form {
        CitationForm::AuthorYear => "author and year",
        CitationForm::AuthorPage => "author and page",
        CitationForm::Numbered => "by number",
        CitationForm::Key => "by key",
        CitationForm::Note => "author and title",
    };
    let narrative = if citation.narrative {
        ", in the sentence"
    } else {
        ""
    };
    let cites: Vec<String> = citation.cites.iter().map(cited::meaning).collect();
    let text = format!(
        "{} ({form}{narrative}): {}",
        shown(marked, citation.range),
        harmless(&cites.join("; "))
    );
    sheet.labelled("cites", &text)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::Colours;
    use crate::text::{
        Cite, CiteTarget, Locator, LocatorUnit, Origin, PageLabel, PageStart, Pages, Sentence,
        Text, WordRange, Year,
    };

    const CONTENT: &str = "Night lights\n\nMoths circle. They “never leave” (see Harrow & Okoro, 2019a, pp. 3, 7–9).\n";

    fn range(words: &str) -> ByteRange {
        let start = CONTENT.find(words).unwrap();
        ByteRange::of(start, start + words.len())
    }

    /// Marked by hand, so that the test stands on its own.
    fn sample() -> MarkedText {
        let paragraph = "Moths circle. They “never leave” (see Harrow & Okoro, 2019a, pp. 3, 7–9).";
        let block = |kind, range| Block { kind, range };
        let blocks = vec![
            block(BlockKind::Heading { level: 1 }, range("Night lights")),
            block(BlockKind::Paragraph, range(paragraph)),
        ];
        let pages = Pages::new(vec![PageStart {
            label: PageLabel::new("12"),
            mark: ByteRange::of(0, 0),
        }]);
        let text = Text::new(
            CONTENT.to_owned(),
            blocks,
            pages,
            Origin::Same { skipped: 0 },
        );
        let sentence = |words, block| Sentence {
            range: range(words),
            words: WordRange::of(0, 0),
            block,
        };
        let own = |word: &str| word.to_owned();
        let cite = Cite {
            range: range("Harrow & Okoro, 2019a, pp. 3, 7–9"),
            target: CiteTarget::Author {
                names: vec![own("Harrow"), own("Okoro")],
                initials: vec![own("A."), own("")],
                et_al: false,
                year: Some(Year {
                    number: Some(2019),
                    suffix: Some('a'),
                    written: own("2019a"),
                }),
            },
            prefix: Some(own("see ")),
            locator: Some(Locator {
                unit: LocatorUnit::Page,
                stretches: vec![(own("3"), own("3")), (own("7"), own("9"))],
                written: own("pp. 3, 7–9"),
            }),
        };
        MarkedText {
            words: vec![range("never"), range("leave")],
            sentences: vec![
                sentence("Night lights", 0),
                sentence("Moths circle.", 1),
                sentence(
                    "They “never leave” (see Harrow & Okoro, 2019a, pp. 3, 7–9).",
                    1,
                ),
            ],
            quotations: vec![Quotation {
                form: QuotationForm::Inline,
                outer: range("“never leave”"),
                inner: range("never leave"),
                depth: 0,
            }],
            citations: vec![Citation {
                form: CitationForm::AuthorYear,
                range: range("(see Harrow & Okoro, 2019a, pp. 3, 7–9)"),
                aside: range("(see Harrow & Okoro, 2019a, pp. 3, 7–9)"),
                narrative: false,
                cites: vec![cite],
            }],
            text,
        }
    }

    #[test]
    fn blocks_sentences_quotations_and_citations_are_reported() {
        let mut out = Vec::new();
        let remarks = ["read as Windows-1252".to_owned()];
        let look = Look::new(80, Colours::Off);
        let edges = ["12 Night \u{7}lights", "13", "12 Night \u{7}lights"].map(str::to_owned);
        let left_out = (&remarks[..], &edges[..]);
        write("draft\u{7}.md", &sample(), left_out, &look, &mut out).unwrap();
        let expected = "\
draft\\u{7}.md: 2 words, 3 sentences, 1 quotation, 1 citation and 1 page
 - read as Windows-1252

line 1: heading of level 1, page 12, 0 words
        1  Night lights

line 3: paragraph, page 12, 2 words
        1  Moths circle.
        2  They “never leave” (see Harrow & Okoro, 2019a, pp. 3, 7–9).
   quoted  “never leave” (in the text, 2 words)
   cites   (see Harrow & Okoro, 2019a, pp. 3, 7–9) (author and year): \"see\" A.
           Harrow and Okoro, 2019a, pages 3, 7-9

left out: 3 lines taken for running heads and page numbers
   - 12 Night \\u{7}lights (2 times)
   - 13
";
        assert_eq!(String::from_utf8(out).unwrap(), expected);
    }

    #[test]
    fn the_plain_text_is_printed_byte_for_byte() {
        let content = "\tas it is \u{1b}\r\n";
        let file = ReadFile {
            text: Text::paragraph(content),
            remarks: Vec::new(),
            carried: Vec::new(),
            page_edges: Vec::new(),
        };
        let mut out = Vec::new();
        write_plain(&file, &mut out).unwrap();
        assert_eq!(out, content.as_bytes());
    }
}
