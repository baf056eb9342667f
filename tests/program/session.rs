//! A session is opened once and asked by many: several threads, several drafts, and the same answer for each.

use std::path::Path;
use std::sync::Arc;
use std::sync::mpsc::channel;
use std::time::Duration;

use ownwords::reading::Memory;
use ownwords::review::{DraftFile, Options, Review};
use ownwords::text::Text;
use ownwords::{LaidDraft, Session};
use rayon::prelude::*;

/// Longest that all threads together may take, in a build without optimisation on a busy machine.
const SOON: Duration = Duration::from_secs(120);

/// How often each draft is asked.
const EACH: usize = 6;

/// Invented prose of so many sentences, another for each number.
fn prose(number: usize, sentences: usize) -> String {
    let sentence = |at: usize| {
        let word = |place: usize| format!("word{}", (number * 31 + at * 17 + place * 7) % 900);
        let words: Vec<String> = (0..12).map(word).collect();
        format!("The {}. ", words.join(" the "))
    };
    (0..sentences).map(sentence).collect()
}

/// So many sources that the threads share the work on each draft, and drafts that borrow from them.
fn opened() -> (Arc<Session>, Vec<DraftFile>) {
    let source = |number: usize| (format!("sources/invented{number}.txt"), prose(number, 20));
    let files: Memory = (0..200).map(source).collect();
    let review = Review::open_from(Arc::new(files), Path::new("."), &Options::default());
    let session = Session::new(review.unwrap());
    let draft = |number: usize| {
        let text = Text::paragraph(&prose(number * 13, 8));
        session.review.draft_of(Path::new("draft.md"), text)
    };
    let drafts = (0..12).map(draft).collect();
    (session, drafts)
}

#[test]
fn many_threads_get_the_answer_that_one_gets() {
    let (session, files) = opened();
    let alone: Vec<_> = files
        .iter()
        .map(|file| session.lay(file).report())
        .collect();
    assert!(alone.iter().all(|report| !report.findings.is_empty()));
    let asked: Vec<LaidDraft> = files.iter().map(|file| session.lay(file)).collect();
    let (done, ended) = channel();
    std::thread::spawn(move || {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(4).build();
        let reports: Vec<_> = pool.unwrap().install(|| {
            let each = (0..EACH * asked.len()).into_par_iter();
            // Neighbours ask the same draft at the same time.
            each.map(|at| asked[at / EACH].report()).collect()
        });
        // Nobody listens any longer where it took too long.
        let _ = done.send(reports);
    });
    let reports = ended
        .recv_timeout(SOON)
        .expect("all threads come to an end");
    for (at, report) in reports.iter().enumerate() {
        assert!(*report == alone[at / EACH], "report {at} differs");
    }
}
