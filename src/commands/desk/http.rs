//! As much of HTTP/1.1 as the desk's own page needs: one request a connection, its body of a stated length, within limits.

use std::io::{self, Read, Write};
use std::time::{Duration, Instant};

/// Bytes of a request's head.
const HEAD: usize = 16 * 1024;

/// Bytes of a body that are read although it is refused.
const MOST_REFUSED: u64 = 2_000_000_000;

/// How long a head may take in all: whoever has a request to make makes it at once.
const HEAD_TIME: Duration = Duration::from_secs(5);

/// A request.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Asked {
    /// `GET`, `POST`.
    pub method: String,
    /// The address without the host.
    pub target: String,
    /// Its `Host`.
    pub host: Option<String>,
    /// Its `Origin`.
    pub origin: Option<String>,
    /// Its `Sec-Fetch-Site`.
    pub site: Option<String>,
    /// The length of its body.
    pub length: u64,
    /// What of the body came with the head.
    pub begun: Vec<u8>,
}

/// Reads the head of a request; `None` where it is none, or too long.
pub(super) fn head(stream: &mut impl Read) -> io::Result<Option<Asked>> {
    let mut bytes = Vec::new();
    let mut some = [0; 4096];
    let begun = Instant::now();
    loop {
        if begun.elapsed() > HEAD_TIME {
            return Ok(None);
        }
        let read = stream.read(&mut some)?;
        bytes.extend_from_slice(some.get(..read).unwrap_or_default());
        match parsed(&bytes) {
            Parsed::Whole(asked) => return Ok(Some(*asked)),
            Parsed::Begun if read > 0 && bytes.len() < HEAD => {}
            _ => return Ok(None),
        }
    }
}

enum Parsed {
    Whole(Box<Asked>),
    Begun,
    Wrong,
}

fn parsed(bytes: &[u8]) -> Parsed {
    let mut headers = [httparse::EMPTY_HEADER; 64];
    let mut request = httparse::Request::new(&mut headers);
    let length = match request.parse(bytes) {
        Ok(httparse::Status::Complete(length)) => length,
        Ok(httparse::Status::Partial) => return Parsed::Begun,
        Err(_) => return Parsed::Wrong,
    };
    // A header that stands there twice could be read in two ways.
    let one = |name: &str| -> Result<Option<String>, ()> {
        let mut all = request
            .headers
            .iter()
            .filter(|header| header.name.eq_ignore_ascii_case(name));
        let first = all.next();
        if all.next().is_some() {
            return Err(());
        }
        first
            .map(|header| {
                str::from_utf8(header.value)
                    .map(str::to_owned)
                    .map_err(|_| ())
            })
            .transpose()
    };
    let fields = (|| {
        let body = match one("Content-Length")? {
            Some(number) => number.parse().map_err(|_| ())?,
            None => 0,
        };
        if one("Transfer-Encoding")?.is_some() {
            return Err(());
        }
        Ok::<_, ()>((one("Host")?, one("Origin")?, one("Sec-Fetch-Site")?, body))
    })();
    let (Ok((host, origin, site, body)), Some(method), Some(target)) =
        (fields, request.method, request.path)
    else {
        return Parsed::Wrong;
    };
    Parsed::Whole(Box::new(Asked {
        method: method.to_owned(),
        target: target.to_owned(),
        host,
        origin,
        site,
        length: body,
        begun: bytes.get(length..).unwrap_or_default().to_vec(),
    }))
}

/// Reads the body of a request, of at most so many bytes.
pub(super) fn body(
    asked: &Asked,
    stream: &mut impl Read,
    most: u64,
) -> io::Result<Option<Vec<u8>>> {
    if asked.length > most {
        // Read all the same, within reason: a browser hears no answer while it is still sending.
        let rest = asked.length.min(MOST_REFUSED);
        io::copy(&mut stream.take(rest), &mut io::sink())?;
        return Ok(None);
    }
    let mut body = asked.begun.clone();
    let rest = asked.length.saturating_sub(body.len() as u64);
    stream.take(rest).read_to_end(&mut body)?;
    Ok((body.len() as u64 == asked.length).then_some(body))
}

/// An answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Answered {
    /// `200 OK`.
    pub status: &'static str,
    /// The type of its body.
    pub kind: &'static str,
    /// Further headers, a line each.
    pub headers: Vec<String>,
    /// Its body.
    pub body: Vec<u8>,
}

impl Answered {
    /// An answer without a body to speak of.
    pub(super) fn refused(status: &'static str) -> Self {
        Self {
            status,
            kind: "text/plain",
            headers: Vec::new(),
            body: status.as_bytes().to_vec(),
        }
    }

    /// Writes it. Nothing of it may be kept, framed, or taken for something else.
    pub(super) fn write(&self, stream: &mut impl Write) -> io::Result<()> {
        let mut head = format!(
            "HTTP/1.1 {}\r\nContent-Type: {}; charset=utf-8\r\nContent-Length: {}\r\nConnection: close\r\n\
             Cache-Control: no-store\r\nX-Content-Type-Options: nosniff\r\nX-Frame-Options: DENY\r\n\
             Referrer-Policy: no-referrer\r\nCross-Origin-Resource-Policy: same-origin\r\nCross-Origin-Opener-Policy: same-origin\r\n",
            self.status,
            self.kind,
            self.body.len()
        );
        for header in &self.headers {
            head.push_str(header);
            head.push_str("\r\n");
        }
        head.push_str("\r\n");
        stream.write_all(head.as_bytes())?;
        stream.write_all(&self.body)?;
        stream.flush()
    }
}

/// Text in the form of a part of an address (RFC 3986: unreserved characters stay).
pub(super) fn encoded(text: &str) -> String {
    let mut out = String::new();
    for byte in text.bytes() {
        match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' => {
                out.push(char::from(byte))
            }
            _ => out.push_str(&format!("%{byte:02X}")),
        }
    }
    out
}

/// The text that [`encoded`] was made of.
pub(super) fn decoded(text: &str) -> String {
    let bytes = text.as_bytes();
    let mut out = Vec::new();
    let mut at = 0;
    while let Some(byte) = bytes.get(at) {
        let number = text
            .get(at + 1..at + 3)
            .and_then(|two| u8::from_str_radix(two, 16).ok());
        match (byte, number) {
            (b'%', Some(number)) => {
                out.push(number);
                at += 3;
            }
            (byte, _) => {
                out.push(*byte);
                at += 1;
            }
        }
    }
    String::from_utf8_lossy(&out).into_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(text: &str) -> Option<Asked> {
        head(&mut text.as_bytes()).unwrap()
    }

    #[test]
    fn heads_are_read_and_odd_ones_refused() {
        let whole =
            asked("POST /key/ask HTTP/1.1\r\nHost: 127.0.0.1:7\r\nContent-Length: 3\r\n\r\nabc")
                .unwrap();
        assert_eq!(
            (whole.method.as_str(), whole.target.as_str(), whole.length),
            ("POST", "/key/ask", 3)
        );
        assert_eq!(body(&whole, &mut io::empty(), 9).unwrap().unwrap(), b"abc");
        assert_eq!(body(&whole, &mut io::empty(), 2).unwrap(), None);
        for odd in [
            "",
            "GET / HTTP/1.1\r\nHost: a\r\n",
            "GET / HTTP/1.1\r\nHost: a\r\nHost: b\r\n\r\n",
            "POST / HTTP/1.1\r\nContent-Length: 3\r\nContent-Length: 4\r\n\r\nabc",
            "POST / HTTP/1.1\r\nContent-Length: -3\r\n\r\nabc",
            "POST / HTTP/1.1\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n",
            "nonsense\r\n\r\n",
        ] {
            assert_eq!(asked(odd), None, "{odd}");
        }
        let long = format!("GET / HTTP/1.1\r\nX: {}\r\n\r\n", "x".repeat(20_000));
        assert_eq!(asked(&long), None);
    }

    #[test]
    fn names_go_there_and_back() {
        for name in ["a b/ü%41.pdf", "100%", "%zz", "\r\nX: y"] {
            assert_eq!(decoded(&encoded(name)), name);
            assert!(encoded(name).is_ascii() && !encoded(name).contains(['\r', '\n']));
        }
    }
}
