//! A session is opened once and asked by many: several threads, several drafts, and the same answer for each.

use std::sync::Arc;
use std::sync::mpsc::channel;
use std::time::Duration;

use ownwords::reading::{Format, from_bytes};
use ownwords::review::DraftFile;
use ownwords::{LaidDraft, Session};
use rayon::prelude::*;

use crate::common::demo;

/// Longest that all threads together may take, in a build without optimisation on a busy machine.
const SOON: Duration = Duration::from_secs(120);

fn chapters(session: &Session) -> Vec<DraftFile> {
    let names = ["chapter-1", "chapter-2", "chapter-3", "preface"];
    let read = |name: &str| {
        let path = demo().join("drafts").join(name).with_extension("md");
        let text = from_bytes(std::fs::read(&path).unwrap(), Format::Markdown).unwrap();
        session.review.draft_of(&path, text.text)
    };
    names.map(read).into()
}

#[test]
fn many_threads_may_ask_one_laid_draft_at_once() {
    let session = Session::open(&demo()).unwrap();
    let files = chapters(&session);
    let alone: Vec<_> = files
        .iter()
        .map(|file| session.lay(file).report())
        .collect();
    assert!(alone.iter().any(|report| !report.findings.is_empty()));
    let laid: Vec<LaidDraft> = files.iter().map(|file| session.lay(file)).collect();
    let (done, ended) = channel();
    let asked = Arc::new(laid);
    std::thread::spawn(move || {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(4).build();
        let all = 0..8 * asked.len();
        let reports: Vec<_> = pool.unwrap().install(|| {
            let each = all.into_par_iter();
            each.map(|at| asked[at % asked.len()].report()).collect()
        });
        done.send(reports).unwrap();
    });
    let reports = ended
        .recv_timeout(SOON)
        .expect("no thread waits for another");
    for (at, report) in reports.iter().enumerate() {
        assert!(*report == alone[at % alone.len()], "report {at} differs");
    }
}
