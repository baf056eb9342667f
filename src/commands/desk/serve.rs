//! Serves the desk to the browser on this machine.
//!
//! Who may ask: a page of this address, and nobody else. The server listens on the loopback address; a request names the host it
//! believes to talk to, which a page of another name can't forge (DNS rebinding ends here); what changes something carries the
//! origin of its page; and all addresses begin with a random key. Anything else is refused before it is looked at.

use std::io;
use std::net::{TcpListener, TcpStream};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::Duration;

use serde_json::json;

use super::http::{self, Answered, Asked, decoded, encoded};
use crate::desk::{Answer, Changed, Desk, Failed, Hearer, Request};
use crate::report::desk::{Engine, policy, shell};

/// Bytes of a file that is put on the desk, and of a request.
const MOST_FILE: u64 = 200_000_000;
const MOST_REQUEST: u64 = 64_000_000;
/// Bytes of files that are held before they are put on the desk.
const MOST_HELD: usize = 1_000_000_000;
/// Connections at once: a browser opens six.
const MOST_AT_ONCE: usize = 64;
/// How long a connection may say nothing before it has asked for anything, and afterwards.
const HEAD_PATIENCE: Duration = Duration::from_secs(2);
const PATIENCE: Duration = Duration::from_secs(30);
/// How long the page waits for a change before it asks again.
const WAIT: Duration = Duration::from_secs(20);

/// What is being done, in words.
#[derive(Debug, Clone, Default)]
pub(super) struct Doing(Arc<Mutex<String>>);

impl Doing {
    /// Hears it.
    pub(super) fn hearer(&self) -> Hearer {
        let doing = self.clone();
        Box::new(move |what| what.clone_into(&mut held(&doing.0)))
    }
}

/// A desk that is served.
#[derive(Debug)]
pub(super) struct Served {
    desk: Mutex<Desk>,
    changed: Condvar,
    held: Mutex<Vec<(String, Vec<u8>)>>,
    doing: Doing,
    port: u16,
    key: String,
    busy: AtomicUsize,
}

/// A lock; what it guards is whole at any moment, even if a thread died over it.
fn held<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Served {
    /// A desk to be served at a port, under a new key.
    pub(super) fn new(desk: Desk, port: u16, doing: Doing) -> io::Result<Self> {
        let mut random = [0_u8; 16];
        getrandom::fill(&mut random).map_err(|why| io::Error::other(why.to_string()))?;
        Ok(Self {
            desk: Mutex::new(desk),
            changed: Condvar::new(),
            held: Mutex::default(),
            doing,
            port,
            key: random.iter().map(|byte| format!("{byte:02x}")).collect(),
            busy: AtomicUsize::new(0),
        })
    }

    /// Where it is to be seen.
    pub(super) fn address(&self) -> String {
        format!("http://127.0.0.1:{}/{}/", self.port, self.key)
    }

    /// Looks at files that have changed.
    pub(super) fn look_again(&self, changed: Changed) {
        held(&self.desk).look_again(changed);
        self.changed.notify_all();
    }

    /// Looks at decisions that may have changed.
    pub(super) fn look_at_decisions(&self) {
        if held(&self.desk).look_at_decisions() {
            self.changed.notify_all();
        }
    }

    /// Whether a request comes from the desk's own page, or opens it.
    fn is_own(&self, asked: &Asked) -> bool {
        let port = self.port;
        let names = [format!("127.0.0.1:{port}"), format!("localhost:{port}")];
        let host = asked.host.as_deref().unwrap_or_default();
        let origin = asked
            .origin
            .as_deref()
            .and_then(|origin| origin.strip_prefix("http://"));
        let is_same = origin.is_some_and(|origin| origin == host);
        let site = asked.site.as_deref();
        names.iter().any(|name| name == host)
            && match asked.method.as_str() {
                "POST" => is_same && matches!(site, None | Some("same-origin")),
                "GET" => {
                    asked.origin.is_none() && matches!(site, None | Some("none" | "same-origin"))
                }
                _ => false,
            }
    }

    fn answer(&self, asked: &Asked, stream: &mut TcpStream) -> io::Result<Answered> {
        let inside = asked
            .target
            .strip_prefix('/')
            .and_then(|target| target.strip_prefix(&*self.key));
        let Some(inside) = inside.filter(|_| self.is_own(asked)) else {
            return Ok(Answered::refused("403 Forbidden"));
        };
        if asked.method == "GET" {
            return Ok(match inside {
                "/" => self::page(),
                _ => Answered::refused("404 Not Found"),
            });
        }
        let (name, query) = inside.split_once('?').unwrap_or((inside, ""));
        let most = if name == "/hold" {
            MOST_FILE
        } else {
            MOST_REQUEST
        };
        let Some(body) = http::body(asked, stream, most)? else {
            return Ok(json_of(Err(Failed::from(io::Error::other(
                "this file is too large to be put on the desk",
            )))));
        };
        Ok(match name {
            "/ask" => json_of(self.ask(&body)),
            "/hold" => json_of(self.hold(decoded(query), body)),
            "/put" => json_of(self.put()),
            "/changes" => json_of(self.changes(query.parse().unwrap_or_default())),
            "/doing" => json_of(Ok(Answer::Json(json!(*held(&self.doing.0))))),
            _ => Answered::refused("404 Not Found"),
        })
    }

    fn ask(&self, body: &[u8]) -> Result<Answer, Failed> {
        let request: Request = serde_json::from_slice(body).map_err(io::Error::other)?;
        held(&self.desk).answer(request)
    }

    fn hold(&self, name: String, bytes: Vec<u8>) -> Result<Answer, Failed> {
        let mut all = held(&self.held);
        let there: usize = all.iter().map(|(_, bytes)| bytes.len()).sum();
        if there + bytes.len() > MOST_HELD {
            all.clear();
            return Err(io::Error::other(
                "these files are too many at once; put fewer of them down",
            )
            .into());
        }
        all.push((name, bytes));
        Ok(Answer::Json(json!({})))
    }

    fn put(&self) -> Result<Answer, Failed> {
        let files = std::mem::take(&mut *held(&self.held));
        let mut desk = held(&self.desk);
        if !desk.is_folder() {
            desk.put(files);
        }
        desk.answer(Request::Overview)
    }

    /// Waits until something has changed since a revision, or a while.
    fn changes(&self, since: u64) -> Result<Answer, Failed> {
        let desk = held(&self.desk);
        let is_same = |desk: &mut Desk| desk.revision() == since;
        let waited = self.changed.wait_timeout_while(desk, WAIT, is_same);
        let (mut desk, _) = waited.unwrap_or_else(PoisonError::into_inner);
        desk.answer(Request::Overview)
    }
}

fn page() -> Answered {
    Answered {
        status: "200 OK",
        kind: "text/html",
        headers: vec![format!(
            "Content-Security-Policy: {}; frame-ancestors 'none'",
            policy(Engine::Served)
        )],
        body: shell(Engine::Served).into_bytes(),
    }
}

fn json_of(answer: Result<Answer, Failed>) -> Answered {
    let json = |value: serde_json::Value| Answered {
        status: "200 OK",
        kind: "application/json",
        headers: Vec::new(),
        body: value.to_string().into_bytes(),
    };
    match answer {
        Ok(Answer::Json(value)) => json(value),
        Ok(Answer::File(taken)) => Answered {
            status: "200 OK",
            kind: taken.kind,
            headers: vec![format!("X-Name: {}", encoded(&taken.name))],
            body: taken.bytes,
        },
        Err(why) => json(json!({ "error": why.to_string() })),
    }
}

/// Answers until the program is stopped.
pub(super) fn serve(listener: &TcpListener, served: &Arc<Served>) {
    for stream in listener.incoming().flatten() {
        let served = Arc::clone(served);
        let slot = Slot::take(&served);
        if slot.is_one_too_many() {
            continue;
        }
        thread::spawn(move || {
            // A browser that went away needs no answer.
            let _ = connection(&slot.0, stream);
        });
    }
}

/// A connection that is counted as long as it lasts, however it ends.
struct Slot(Arc<Served>);

impl Slot {
    fn take(served: &Arc<Served>) -> Self {
        served.busy.fetch_add(1, Ordering::Relaxed);
        Self(Arc::clone(served))
    }

    fn is_one_too_many(&self) -> bool {
        self.0.busy.load(Ordering::Relaxed) > MOST_AT_ONCE
    }
}

impl Drop for Slot {
    fn drop(&mut self) {
        self.0.busy.fetch_sub(1, Ordering::Relaxed);
    }
}

fn connection(served: &Served, mut stream: TcpStream) -> io::Result<()> {
    stream.set_read_timeout(Some(HEAD_PATIENCE))?;
    stream.set_write_timeout(Some(PATIENCE))?;
    let Some(asked) = http::head(&mut stream)? else {
        return Answered::refused("400 Bad Request").write(&mut stream);
    };
    stream.set_read_timeout(Some(PATIENCE))?;
    served.answer(&asked, &mut stream)?.write(&mut stream)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(method: &str, host: &str, origin: Option<&str>, site: Option<&str>) -> Asked {
        Asked {
            method: method.to_owned(),
            target: String::new(),
            host: Some(host.to_owned()),
            origin: origin.map(str::to_owned),
            site: site.map(str::to_owned),
            length: 0,
            begun: Vec::new(),
        }
    }

    #[test]
    fn only_the_page_itself_may_ask() {
        let doing = Doing::default();
        let served = Served::new(Desk::empty(doing.hearer()), 7, doing).unwrap();
        let own = "127.0.0.1:7";
        let page = Some("http://127.0.0.1:7");
        for (asked, expected) in [
            (asked("GET", own, None, None), true),
            (asked("GET", "localhost:7", None, Some("none")), true),
            (asked("POST", own, page, Some("same-origin")), true),
            (asked("GET", "elsewhere.example:7", None, None), false),
            (asked("GET", "127.0.0.1:8", None, None), false),
            (asked("GET", own, None, Some("cross-site")), false),
            (asked("GET", own, page, None), false),
            (asked("POST", own, None, None), false),
            (asked("POST", own, Some("null"), None), false),
            (
                asked("POST", own, Some("http://elsewhere.example"), None),
                false,
            ),
            (asked("POST", own, Some("http://localhost:7"), None), false),
            (asked("POST", own, page, Some("cross-site")), false),
            (asked("PUT", own, page, None), false),
        ] {
            assert_eq!(served.is_own(&asked), expected, "{asked:?}");
        }
    }
}
