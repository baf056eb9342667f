//! The library as a module of WebAssembly, just large enough for a test: files are put in, a draft is checked, and
//! its report for programs is taken out.
//!
//! 1. [`room`] makes room for a path or for bytes, which the caller fills;
//! 2. [`put`] takes a file in, from two such rooms;
//! 3. [`check`] checks the drafts among the files, and [`answer`] says where the report or the error stands.

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

use ownwords::Session;
use ownwords::reading::Memory;
use ownwords::report::json;
use ownwords::review::{Options, Review};

static FILES: Mutex<Memory> = Mutex::new(Memory::new());
static ANSWER: Mutex<Vec<u8>> = Mutex::new(Vec::new());

/// Makes room for so many bytes. [`put`] takes it back.
#[unsafe(no_mangle)]
pub extern "C" fn room(length: usize) -> *mut u8 {
    Box::leak(vec![0; length].into_boxed_slice()).as_mut_ptr()
}

/// Takes a file in.
///
/// # Safety
/// Both pairs are a place that [`room`] gave and its length, and neither is used again.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn put(path: *mut u8, path_length: usize, bytes: *mut u8, length: usize) {
    // SAFETY: what the caller holds to is what `room` leaked.
    let taken = |at: *mut u8, length: usize| unsafe {
        Box::from_raw(std::ptr::slice_from_raw_parts_mut(at, length)).into_vec()
    };
    let path = String::from_utf8_lossy(&taken(path, path_length)).into_owned();
    let mut files = FILES.lock().unwrap_or_else(PoisonError::into_inner);
    files.insert(path, taken(bytes, length));
}

/// Checks the drafts in the folder `drafts` and keeps the report as the answer, or why there is none; gives back the
/// length of the report, or 0.
#[unsafe(no_mangle)]
pub extern "C" fn check() -> usize {
    let files = FILES.lock().unwrap_or_else(PoisonError::into_inner).clone();
    let report = checked(files);
    let mut answer = ANSWER.lock().unwrap_or_else(PoisonError::into_inner);
    match report {
        Ok(report) => {
            *answer = report;
            answer.len()
        }
        Err(why) => {
            *answer = format!("{why}\0").into_bytes();
            0
        }
    }
}

/// Where the answer stands; that of an error ends with a zero.
#[unsafe(no_mangle)]
pub extern "C" fn answer() -> *const u8 {
    ANSWER
        .lock()
        .unwrap_or_else(PoisonError::into_inner)
        .as_ptr()
}

fn checked(files: Memory) -> Result<Vec<u8>, Box<dyn std::error::Error>> {
    let review = Review::open_from(Arc::new(files), Path::new("."), &Options::default())?;
    let session = Session::new(review);
    let found = session.review.drafts();
    let drafts: Vec<PathBuf> = found.ok_or("there is no folder of drafts")?.files;
    let report = session.check(&drafts)?;
    let mut written = Vec::new();
    json::write(&report, &mut written)?;
    Ok(written)
}
