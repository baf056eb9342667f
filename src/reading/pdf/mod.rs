//! PDF: characters at positions on sheets, from which the text has to be reconstructed.
//!
//! 1. [`unpack`], [`widths`] and [`bounds`] refuse files that would cost too much, before the cost is
//!    incurred.
//! 2. [`glyphs`] collects the characters of each sheet; [`words`] makes words of them; [`gibberish`] decides
//!    whether they are language.
//! 3. [`furniture`] removes running heads and page numbers, and finds the printed numbers; [`labels`] reads
//!    those that the file records.
//! 4. [`margin`] separates line numbers, [`columns`] finds the reading order, [`lines`] the lines, [`notes`]
//!    the footnotes, [`paragraphs`] the blocks.
//! 5. [`compose`] writes the Text.
//!
//! A PDF is read on a thread of its own with a deep stack, since drawings may be nested fifty deep.

mod bounds;
mod columns;
mod compose;
mod furniture;
mod gibberish;
mod glyphs;
mod labels;
mod lines;
mod margin;
mod notes;
mod paragraphs;
mod unpack;
mod widths;
mod words;

use std::sync::Arc;

use hayro_interpret::hayro_syntax::{DecryptionError, LoadPdfError, Pdf};
use hayro_interpret::kurbo::{Affine, Rect};
use hayro_interpret::{
    Context, InterpreterCache, InterpreterSettings, RenderContent, interpret_page,
};

use self::bounds::Bounds;
use self::glyphs::{Collector, Glyph, Turn};
use self::words::Word;
use super::{Limits, ReadFile, Unreadable};
use crate::text::Text;

/// Stack of the reading thread: some 50 nested drawings at up to 100 kB each without optimisation, and as
/// much again in reserve.
#[cfg(not(target_family = "wasm"))]
const STACK: usize = 64 * 1024 * 1024;

/// Reads a PDF.
///
/// # Errors
/// [`Unreadable`] where it is damaged, protected, too costly, holds no text, or only gibberish.
#[cfg(not(target_family = "wasm"))]
pub(super) fn read(bytes: Vec<u8>, limits: &Limits) -> Result<ReadFile, Unreadable> {
    let bounds = Bounds::of(limits);
    let thread = std::thread::Builder::new()
        .name("pdf".to_owned())
        .stack_size(STACK)
        .spawn(move || read_here(bytes, &bounds));
    let failed = |what: &str| Unreadable::Damaged(what.to_owned());
    thread
        .map_err(|_| failed("there is no memory left to read it with"))?
        .join()
        .map_err(|_| failed("its structure can't be followed"))?
}

/// The same where there is one thread, whose stack the module sets.
///
/// # Errors
/// As there.
#[cfg(target_family = "wasm")]
pub(super) fn read(bytes: Vec<u8>, limits: &Limits) -> Result<ReadFile, Unreadable> {
    read_here(bytes, &Bounds::of(limits))
}

fn read_here(bytes: Vec<u8>, bounds: &Bounds) -> Result<ReadFile, Unreadable> {
    // Some programs write a few lines before the beginning.
    let beginning = bytes.get(..bytes.len().min(1024)).unwrap_or_default();
    if memchr::memmem::find(beginning, b"%PDF-").is_none() {
        return Err(Unreadable::OtherFormat {
            expected: "PDF",
            found: "it does not begin as one".to_owned(),
        });
    }
    unpack::before_opening(&bytes, bounds)?;
    let pdf = Pdf::new(Arc::new(bytes)).map_err(not_opened)?;
    if pdf.pages().is_empty() {
        return Err(Unreadable::Damaged("it has no pages".to_owned()));
    }
    unpack::streams(&pdf, bounds)?;
    widths::check(&pdf)?;
    bounds::contents(&pdf, bounds)?;
    let (sheets, by_code) = language(draw(&pdf, bounds)?)?;
    let count = sheets.len();
    let (text, page_edges) = text(labels::of(&pdf), sheets);
    let mut remarks = Vec::new();
    let heads = page_edges
        .iter()
        .filter(|line| line.contains(char::is_alphabetic));
    let heads = heads.count();
    if heads > USUAL_HEADS * count {
        remarks.push(format!(
            "{heads} lines that repeat at the edges of its {count} pages were taken for running heads and left out; `ownwords text` on this file lists them"
        ));
    }
    if by_code {
        remarks.push(
            "the fonts don't name their characters; they were read by their codes, so check a few words"
                .to_owned(),
        );
    }
    Ok(ReadFile {
        text,
        remarks,
        carried: Vec::new(),
        page_edges,
    })
}

/// Running heads of a page that are nothing to speak of: one above the text, one below.
const USUAL_HEADS: usize = 2;

fn not_opened(error: LoadPdfError) -> Unreadable {
    match error {
        LoadPdfError::Decryption(
            DecryptionError::PasswordProtected | DecryptionError::UnsupportedAlgorithm,
        ) => Unreadable::Protected,
        LoadPdfError::Decryption(_) => {
            Unreadable::Damaged("its record of the encryption makes no sense".to_owned())
        }
        LoadPdfError::Invalid => {
            Unreadable::Damaged("its table of contents or its pages can't be found".to_owned())
        }
    }
}

/// The content drawn on all sheets.
struct Drawn {
    sheets: Vec<Sheet>,
    /// The same sheets with unnamed glyphs read by their codes, where there are such glyphs.
    coded: Vec<Option<Sheet>>,
    /// Sheets with pictures and no glyphs.
    scans: usize,
}

fn draw(pdf: &Pdf, bounds: &Bounds) -> Result<Drawn, Unreadable> {
    let settings = InterpreterSettings {
        // Comments and form fields are not the author's text.
        render_content: RenderContent::PAGE,
        ..InterpreterSettings::default()
    };
    let cache = InterpreterCache::new();
    let mut drawing = bounds::Drawing::default();
    let mut drawn = Drawn {
        sheets: Vec::with_capacity(pdf.pages().len()),
        coded: Vec::with_capacity(pdf.pages().len()),
        scans: 0,
    };
    let mut glyphs = 0;
    for page in pdf.pages().iter() {
        drawing.check(page, bounds)?;
        let (width, height) = page.render_dimensions();
        let mut collector = Collector::new(width, height);
        let mut context = Context::new(
            Affine::new(page.initial_transform(true).as_coeffs()),
            Rect::new(0.0, 0.0, f64::from(width), f64::from(height)),
            &cache,
            pdf.xref(),
            settings.clone(),
        );
        interpret_page(page, &mut context, &mut collector);
        glyphs += collector.glyphs.len();
        if collector.overflow {
            return Err(Unreadable::Excessive(
                "one of its pages draws more characters than a book has".to_owned(),
            ));
        }
        if glyphs > bounds.characters {
            return Err(Unreadable::OverLimit {
                what: format!("it draws more than {} characters", bounds.characters),
                setting: "max_pdf_characters",
            });
        }
        drawn.scans += usize::from(collector.glyphs.is_empty() && collector.pictures);
        let nameless = |glyph: &Glyph| matches!(glyph.shown, glyphs::Shown::Code(_));
        let coded = collector.glyphs.iter().any(nameless);
        drawn.sheets.push(sheet(&collector.glyphs, false));
        let coded = coded.then(|| sheet(&collector.glyphs, true));
        drawn.coded.push(coded);
    }
    Ok(drawn)
}

/// The words of a sheet, by direction, the upright ones first.
type Sheet = Vec<(Turn, Vec<Word>)>;

fn sheet(glyphs: &[Glyph], by_code: bool) -> Sheet {
    let mut turns: Vec<Turn> = glyphs.iter().map(|glyph| glyph.turn).collect();
    turns.sort();
    turns.dedup();
    turns
        .into_iter()
        .map(|turn| {
            let wanted = words::wanted(glyphs, turn);
            (turn, words::words(words::compose_accents(wanted), by_code))
        })
        .collect()
}

/// The words of all sheets, by the names of the characters, or else by their codes (then `true`).
fn language(drawn: Drawn) -> Result<(Vec<Sheet>, bool), Unreadable> {
    let looks = |sheets: &[Sheet]| {
        let words = sheets.iter().flatten().flat_map(|(_, words)| words);
        gibberish::Looks::of(words)
    };
    let named = drawn.sheets;
    if named.iter().flatten().all(|(_, words)| words.is_empty()) {
        return Err(if drawn.scans > 0 {
            Unreadable::Pictures
        } else {
            Unreadable::Damaged("its pages are empty".to_owned())
        });
    }
    let named_looks = looks(&named);
    if !named_looks.is_gibberish() {
        return Ok((named, false));
    }
    let coded = drawn.coded.into_iter().zip(named);
    let coded: Vec<Sheet> = coded.map(|(coded, named)| coded.unwrap_or(named)).collect();
    if named_looks.is_unnamed() && looks(&coded).is_english() {
        return Ok((coded, true));
    }
    Err(Unreadable::Gibberish)
}

/// The Text of the words of all sheets, and the lines that were taken for running heads and page numbers. `recorded`
/// are the page labels that the file records.
fn text(recorded: Option<Vec<Option<String>>>, sheets: Vec<Sheet>) -> (Text, Vec<String>) {
    let count = sheets.len();
    let mut upright = Vec::with_capacity(count);
    let mut turned: Vec<Sheet> = Vec::with_capacity(count);
    for mut sheet in sheets {
        // A table set sideways may be all there is. In that case its direction counts as upright.
        sheet.sort_by_key(|(turn, words)| (std::cmp::Reverse(words.len()), *turn));
        let mut sheet = sheet.into_iter();
        upright.push(sheet.next().map(|(_, words)| words).unwrap_or_default());
        turned.push(sheet.collect());
    }
    let cleared = furniture::clear(upright);
    let labels = page_labels(recorded, &cleared);
    let mut sheets = cleared.sheets;
    let numbers: Vec<Vec<Word>> = sheets.iter_mut().map(margin::take_numbers).collect();
    let mut lines: Vec<Vec<lines::Line>> = sheets.into_iter().map(lines::lines).collect();
    let body = paragraphs::Usual::of(&lines).size;
    let mut notes = Vec::with_capacity(count);
    let mut goes_on = false;
    for lines in &mut lines {
        let found = notes::take(lines, body, goes_on);
        goes_on = !found.is_empty();
        notes.push(found);
    }
    for ((lines, turned), numbers) in lines.iter_mut().zip(turned).zip(numbers) {
        let turned = turned.into_iter().map(|(_, words)| words);
        for words in turned.chain([one_line(numbers)]) {
            let behind = lines.last().map_or(0, |line| line.column + 1);
            let more = lines::lines(words).into_iter().map(|line| lines::Line {
                column: line.column + behind,
                ..line
            });
            lines.extend(more);
        }
    }
    let usual = paragraphs::Usual::of(&lines);
    let parts = compose::Parts {
        paragraphs: paragraphs::paragraphs(&lines, &usual),
        notes,
        labels,
    };
    (compose::compose(&parts), cleared.dropped)
}

/// Words placed one after another on the first one's line.
fn one_line(words: Vec<Word>) -> Vec<Word> {
    let Some(first) = words.first().cloned() else {
        return words;
    };
    let mut at = first.x;
    words
        .into_iter()
        .map(|word| {
            let x = at;
            let end = x + word.end - word.x;
            at = end + 0.5 * first.size;
            Word {
                x,
                end,
                y: first.y,
                ..word
            }
        })
        .collect()
}

/// The printed page numbers: those printed on most sheets, or else those that the file records.
fn page_labels(
    recorded: Option<Vec<Option<String>>>,
    cleared: &furniture::Cleared,
) -> Vec<Option<String>> {
    let printed = &cleared.numbers;
    match recorded {
        Some(recorded) => {
            let disagree = printed
                .iter()
                .zip(&recorded)
                .filter(|(printed, recorded)| printed.is_some() && printed != recorded)
                .count();
            let clear = 10 * cleared.seen >= 6 * printed.len() && 2 * disagree > cleared.seen;
            if clear { printed.clone() } else { recorded }
        }
        None => printed.clone(),
    }
}

#[cfg(test)]
mod tests;
