//! The engine of the desk as a module of WebAssembly, for the page that carries it inside.
//!
//! 1. [`room`] makes room for bytes, which the caller fills.
//! 2. [`hold`] takes a file in, and [`put`] puts all that are held on the desk.
//! 3. [`ask`] answers a request. The answer is JSON at [`answer`]; a file to be saved stands at [`file`].
//!
//! It is a crate of its own since what crosses the border is raw memory: two functions here take it over, and nothing of the
//! library does.

use std::sync::{Mutex, MutexGuard, PoisonError};

use ownwords::desk::{Answer, Desk, Request};
use serde_json::{Value, json};

#[link(wasm_import_module = "desk")]
unsafe extern "C" {
    /// Is told what is being done.
    fn say(at: *const u8, length: usize);
}

/// What stands between two calls.
struct Stand {
    desk: Option<Desk>,
    held: Vec<(String, Vec<u8>)>,
    answer: Vec<u8>,
    file: Vec<u8>,
}

static STAND: Mutex<Stand> = Mutex::new(Stand {
    desk: None,
    held: Vec::new(),
    answer: Vec::new(),
    file: Vec::new(),
});

fn stand() -> MutexGuard<'static, Stand> {
    // There is one thread.
    STAND.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Stand {
    fn desk(&mut self) -> &mut Desk {
        self.desk.get_or_insert_with(|| {
            // SAFETY: the place and the length of a text that outlives the call.
            Desk::empty(Box::new(|what| unsafe {
                say(what.as_ptr(), what.len());
            }))
        })
    }

    fn keep(&mut self, answer: &Value) {
        self.answer = answer.to_string().into_bytes();
    }

    fn ask(&mut self, request: &[u8]) {
        self.file = Vec::new();
        let answer = match serde_json::from_slice::<Request>(request) {
            Ok(request) => self.desk().answer(request),
            Err(why) => return self.keep(&json!({ "error": why.to_string() })),
        };
        match answer {
            Ok(Answer::Json(json)) => self.keep(&json),
            Ok(Answer::File(taken)) => {
                self.file = taken.bytes;
                self.keep(&json!({ "name": taken.name, "kind": taken.kind }));
            }
            Err(why) => self.keep(&json!({ "error": why.to_string() })),
        }
    }
}

/// Takes back what [`room`] gave.
///
/// # Safety
/// A place that [`room`] gave and its length, not used again.
unsafe fn taken(at: *mut u8, length: usize) -> Vec<u8> {
    // SAFETY: what the caller holds to is what `room` leaked.
    unsafe { Box::from_raw(std::ptr::slice_from_raw_parts_mut(at, length)).into_vec() }
}

/// Makes room for so many bytes.
#[unsafe(no_mangle)]
pub extern "C" fn room(length: usize) -> *mut u8 {
    Box::leak(vec![0; length].into_boxed_slice()).as_mut_ptr()
}

/// Takes a file in.
///
/// # Safety
/// Both pairs are a place that [`room`] gave and its length, and neither is used again.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn hold(name: *mut u8, name_length: usize, bytes: *mut u8, length: usize) {
    // SAFETY: the caller holds to the same.
    let (name, bytes) = unsafe { (taken(name, name_length), taken(bytes, length)) };
    let name = String::from_utf8_lossy(&name).into_owned();
    stand().held.push((name, bytes));
}

/// Puts what is held on the desk; the answer is what is on it then.
#[unsafe(no_mangle)]
pub extern "C" fn put() {
    let mut stand = stand();
    let held = std::mem::take(&mut stand.held);
    stand.desk().put(held);
    stand.ask(br#"{"ask":"overview"}"#);
}

/// Answers a request.
///
/// # Safety
/// A place that [`room`] gave and its length, not used again.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn ask(request: *mut u8, length: usize) {
    // SAFETY: the caller holds to the same.
    let request = unsafe { taken(request, length) };
    stand().ask(&request);
}

/// Where the answer stands.
#[unsafe(no_mangle)]
pub extern "C" fn answer() -> *const u8 {
    stand().answer.as_ptr()
}

/// Its length.
#[unsafe(no_mangle)]
pub extern "C" fn answer_length() -> usize {
    stand().answer.len()
}

/// Where the file stands.
#[unsafe(no_mangle)]
pub extern "C" fn file() -> *const u8 {
    stand().file.as_ptr()
}

/// Its length; 0 where the answer is no file.
#[unsafe(no_mangle)]
pub extern "C" fn file_length() -> usize {
    stand().file.len()
}
