//! `ownwords place --pairs`: many pairs at once. Lines are read in chunks, placed on all cores, and
//! printed in the order they came, so that hundreds of thousands of pairs need no more room than one
//! chunk. A line that can't be used is reported with its number and doesn't stop the others; what a line has to
//! hold is said once, after the last.

mod line;

use std::io::{self, BufRead, BufReader, Read as _, Write};
use std::path::Path;
use std::sync::Arc;

use rayon::prelude::*;
use serde_json::Value;

use super::args::OutArgs;
use super::output::{Form, Output};
use super::{Failure, Outcome};
use crate::findings::likeliest_source::MOST_WORDS;
use crate::findings::placing::{NamedText, PlacedRewrite};
use crate::findings::session::Session;
use crate::reading::Disk;
use crate::report::harmless;
use crate::report::place;
use crate::review::{Options, Review, Settings};
use crate::text::{MarkedText, Text};
use line::{Fault, Line, Task};

/// Lines of a chunk: enough to keep the cores busy.
const CHUNK_LINES: usize = 2048;

/// Bytes after which a chunk is closed although it has fewer lines.
const CHUNK_BYTES: usize = 16 << 20;

/// Longest line, in bytes: more than any passage and its rewrite. What comes behind is passed over as it is read, so
/// that input without an end of line needs no room.
const LINE_BYTES: usize = 16 << 20;

/// Places all pairs of a file, or of the standard input where the path is `-`. With a review, the sources
/// are looked for there.
pub(super) fn run(path: &Path, review: Option<&Path>, out: &OutArgs) -> Result<Outcome, Failure> {
    let standard = path.as_os_str() == "-";
    let place = if standard {
        "standard input".to_owned()
    } else {
        path.display().to_string()
    };
    let refused = |cause| Failure::Pairs {
        place: place.clone(),
        cause,
    };
    let disk = Arc::new(Disk::new());
    let input: Box<dyn BufRead> = if standard {
        Box::new(io::stdin().lock())
    } else {
        Box::new(BufReader::new(disk.open(path)?))
    };
    let opened = |root| Review::open_from(disk.clone(), root, &Options::default());
    let session = review.map(opened).transpose()?.map(Session::new);
    let review = session.as_ref().map(|session| &session.review);
    let mut output = Output::open(out, Form::Json, &disk, review)?;
    let mut lines = Lines { input, number: 0 };
    let task = match session {
        Some(_) => Task::Trace,
        None => Task::Place,
    };
    let mut left_out = 0_usize;
    loop {
        let chunk = lines.chunk().map_err(refused)?;
        if chunk.is_empty() {
            break;
        }
        let placed: Vec<Result<Vec<u8>, Fault>> = match &session {
            Some(session) => traced(&chunk, session),
            None => chunk.par_iter().map(Line::placed).collect(),
        };
        for line in placed {
            match line {
                Ok(bytes) => {
                    if let Err(cause) = output.writer().write_all(&bytes) {
                        output.finish(Err(cause))?;
                        return Ok(outcome(left_out));
                    }
                }
                Err(fault) => {
                    left_out += 1;
                    report(&format!("{place}: {fault}"));
                }
            }
        }
    }
    output.finish(Ok(()))?;
    if left_out > 0 {
        let lines = match left_out {
            1 => "1 line was".to_owned(),
            many => format!("{many} lines were"),
        };
        let example = task.example();
        report(&format!(
            "{place}: {lines} left out; a line has to hold an object such as {example}. Correct these lines and run this again."
        ));
    }
    Ok(outcome(left_out))
}

fn outcome(left_out: usize) -> Outcome {
    match left_out {
        0 => Outcome::Clear,
        _ => Outcome::InPart,
    }
}

fn report(said: &str) {
    // Where the standard error is closed, nobody is there to read it.
    let _ = writeln!(io::stderr(), "ownwords: {}", harmless(said));
}

/// The lines of the input with their numbers.
struct Lines {
    input: Box<dyn BufRead>,
    number: usize,
}

impl Lines {
    /// The next chunk without its empty lines; an empty chunk at the end of the input.
    fn chunk(&mut self) -> io::Result<Vec<Line>> {
        let mut chunk = Vec::new();
        let mut bytes = 0;
        while chunk.len() < CHUNK_LINES && bytes < CHUNK_BYTES {
            let mut content = Vec::new();
            let most = LINE_BYTES as u64;
            if (&mut self.input)
                .take(most)
                .read_until(b'\n', &mut content)?
                == 0
            {
                break;
            }
            self.number += 1;
            let is_cut = content.len() == LINE_BYTES && !content.ends_with(b"\n");
            if is_cut {
                self.skip_line()?;
                content.clear();
            }
            if self.number == 1 && content.starts_with(b"\xef\xbb\xbf") {
                content.drain(..3);
            }
            if !is_cut && content.iter().all(u8::is_ascii_whitespace) {
                continue;
            }
            bytes += content.len();
            chunk.push(Line {
                number: self.number,
                content,
                is_cut,
            });
        }
        Ok(chunk)
    }

    /// Reads up to the end of the line and keeps nothing of it.
    fn skip_line(&mut self) -> io::Result<()> {
        loop {
            let read = self.input.fill_buf()?;
            let end = memchr::memchr(b'\n', read);
            let length = read.len();
            self.input.consume(end.map_or(length, |end| end + 1));
            if end.is_some() || length == 0 {
                return Ok(());
            }
        }
    }
}

/// The lines of JSON that answer to a chunk whose sources are looked for.
fn traced(chunk: &[Line], session: &Session) -> Vec<Result<Vec<u8>, Fault>> {
    let mut rewrites = Vec::new();
    // The id of each line without a fault, and the number of its rewrite.
    let asked: Vec<Result<(Value, usize), Fault>> = chunk
        .iter()
        .map(|line| {
            let (id, rewrite) = line.to_be_traced()?;
            let name = String::new();
            rewrites.push(NamedText {
                name,
                text: rewrite,
            });
            Ok((id, rewrites.len() - 1))
        })
        .collect();
    let traced = session.trace(rewrites);
    asked
        .into_iter()
        .zip(chunk)
        .map(|(asked, line)| {
            let (id, number) = asked?;
            let mut bytes = Vec::new();
            place::write_traced_pair(&id, &traced[number], &mut bytes)
                .map_err(|error| line.fault(error.to_string()))?;
            Ok(bytes)
        })
        .collect()
}

impl Line {
    /// The id and the rewrite of a line whose source is looked for.
    fn to_be_traced(&self) -> Result<(Value, Arc<MarkedText>), Fault> {
        let pair = self.pair(Task::Trace)?;
        let rewrite = MarkedText::new(Text::paragraph(&pair.rewrite));
        let problem = match rewrite.words.len() {
            0 => "the rewrite holds no words".to_owned(),
            words if words > MOST_WORDS => {
                format!("{words} words are more than one passage ({MOST_WORDS} at most)")
            }
            _ => return Ok((pair.id, Arc::new(rewrite))),
        };
        Err(self.fault(problem))
    }

    /// The line of JSON that answers to this one.
    fn placed(&self) -> Result<Vec<u8>, Fault> {
        let pair = self.pair(Task::Place)?;
        let source = Arc::new(MarkedText::source(Text::paragraph(&pair.source)));
        let rewrite = NamedText {
            name: String::new(),
            text: Arc::new(MarkedText::new(Text::paragraph(&pair.rewrite))),
        };
        for (name, text) in [("source", &source), ("rewrite", &rewrite.text)] {
            if text.words.is_empty() {
                return Err(self.fault(format!("the {name} holds no words")));
            }
        }
        let placed = PlacedRewrite::new(&source, rewrite, &Settings::default());
        let mut bytes = Vec::new();
        place::write_pair(&pair.id, &placed.placement, &mut bytes)
            .map_err(|error| self.fault(error.to_string()))?;
        Ok(bytes)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn chunks(content: &[u8]) -> Vec<(usize, String)> {
        let mut lines = Lines {
            input: Box::new(io::Cursor::new(content.to_vec())),
            number: 0,
        };
        let mut all = Vec::new();
        loop {
            let chunk = lines.chunk().unwrap();
            if chunk.is_empty() {
                return all;
            }
            let text = |line: Line| (line.number, String::from_utf8(line.content).unwrap());
            all.extend(chunk.into_iter().map(text));
        }
    }

    #[test]
    fn lines_keep_their_numbers() {
        let lines = chunks(b"\xef\xbb\xbfa\n\n  \r\nb\r\nc");
        assert_eq!(
            lines,
            [
                (1, "a\n".to_owned()),
                (4, "b\r\n".to_owned()),
                (5, "c".to_owned())
            ]
        );
        let many = "x\n".repeat(CHUNK_LINES * 2 + 5);
        assert_eq!(chunks(many.as_bytes()).len(), CHUNK_LINES * 2 + 5);
    }

    #[test]
    fn endless_lines_are_passed_over() {
        for (length, cut) in [
            (LINE_BYTES - 1, false),
            (LINE_BYTES, true),
            (LINE_BYTES * 2, true),
        ] {
            let content = [&b"x".repeat(length)[..], b"\nnext"].concat();
            let mut lines = Lines {
                input: Box::new(io::Cursor::new(content)),
                number: 0,
            };
            let mut all = lines.chunk().unwrap();
            all.extend(lines.chunk().unwrap());
            let [long, next] = all.as_slice() else {
                panic!("{} lines", all.len())
            };
            assert_eq!((long.is_cut, next.is_cut), (cut, false), "{length}");
            assert_eq!((next.number, next.content.as_slice()), (2, &b"next"[..]));
            let said = long.placed().unwrap_err().to_string();
            assert_eq!(said.contains("longer than 16 MiB"), cut, "{said}");
        }
    }

    #[test]
    fn texts_without_words_are_reported() {
        for (content, wanted) in [
            (r#"{"id":1,"source":"a","rewrite":" ... "}"#, "the rewrite"),
            (r#"{"id":1,"source":"","rewrite":"a"}"#, "the source"),
        ] {
            let content = content.as_bytes().to_vec();
            let line = Line {
                number: 7,
                content,
                is_cut: false,
            };
            let said = line.placed().unwrap_err().to_string();
            assert_eq!(said, format!("line 7: {wanted} holds no words"));
        }
    }
}
