//! Environments: what stands between `\begin{name}` and `\end{name}`.

use super::commands::{self, Environment};
use super::reader::Reader;
use super::scan;
use crate::text::BlockKind;

/// How deep environments may be nested.
const DEEPEST: usize = 200;

/// An environment that is open.
pub(super) struct Open {
    name: String,
    pub(super) what: Environment,
    /// A citation that is printed at its end.
    cite: Option<String>,
}

impl Open {
    /// The kind of its paragraphs, if it says so.
    pub(super) fn kind(&self) -> Option<BlockKind> {
        commands::kind(self.what)
    }
}

impl Reader<'_> {
    pub(super) fn begin(&mut self, text: &str, at: usize, base: Option<usize>) -> usize {
        let Some((range, mut at)) = scan::group(text, at) else {
            return at;
        };
        let name = text.get(range).unwrap_or_default();
        let (what, groups) = commands::environment(name);
        if matches!(what, Environment::Hidden | Environment::Code)
            && let Some(end) = self.whole(text, at, name, what, base)
        {
            return end;
        }
        let mut cite = None;
        if what == Environment::Quotation {
            (cite, at) = display_cite(text, at, name);
        } else {
            at = scan::skip_options(text, at);
            for _ in 0..groups {
                at = scan::group(text, at).map_or(at, |(_, end)| end);
            }
        }
        if self.environments.len() >= DEEPEST {
            return at;
        }
        self.environments.push(Open {
            name: name.to_owned(),
            what,
            cite,
        });
        match what {
            Environment::Quotation => self.out.enter_quotation(),
            Environment::Table | Environment::References => self.paragraph(),
            Environment::Plain if !matches!(name, "document") => self.paragraph(),
            _ => {}
        }
        at
    }

    pub(super) fn end(&mut self, text: &str, at: usize, base: Option<usize>) -> usize {
        let Some((range, at)) = scan::group(text, at) else {
            return at;
        };
        let name = text.get(range).unwrap_or_default();
        let Some(open) = self.environments.iter().rposition(|open| open.name == name) else {
            return at;
        };
        // Environments that were never ended end with the one around them.
        while self.environments.len() > open {
            let Some(closed) = self.environments.pop() else {
                break;
            };
            if let Some(cite) = &closed.cite {
                self.out.flow(" ", None);
                self.run(cite, base.and(None));
            }
            match closed.what {
                Environment::Quotation => self.out.leave_quotation(),
                Environment::Table => self.out.end_block(),
                _ => {}
            }
        }
        self.paragraph();
        at
    }

    /// An environment that is taken whole, up to its end; `None` where it has no end.
    fn whole(
        &mut self,
        text: &str,
        at: usize,
        name: &str,
        what: Environment,
        base: Option<usize>,
    ) -> Option<usize> {
        if self.endless.contains(name) {
            return None;
        }
        let close = format!("\\end{{{name}}}");
        let Some(length) = text.get(at..).and_then(|rest| rest.find(&close)) else {
            self.endless.insert(name.to_owned());
            return None;
        };
        if what == Environment::Code {
            let start = scan::skip_options(text, at).min(at + length);
            self.out.block(BlockKind::Code);
            self.out.verbatim(
                text.get(start..at + length).unwrap_or_default(),
                base.map(|base| base + start),
            );
            self.paragraph();
        }
        Some(at + length + close.len())
    }

    pub(super) fn item(&mut self, text: &str, at: usize, base: Option<usize>) -> usize {
        if self.innermost() != Some(Environment::List) {
            // Lists that the document defines itself.
            self.out.block(BlockKind::ListItem);
        } else {
            self.paragraph();
        }
        let Some((label, end)) = scan::option(text, at) else {
            return scan::skip_blank(text, at);
        };
        let base = base.map(|base| base + label.start);
        self.run(text.get(label).unwrap_or_default(), base);
        if self.out.has_text() {
            self.out.flow(" ", None);
        }
        end
    }
}

/// The citation of a quotation environment, as LaTeX, and the position after it:
/// `\begin{displayquote}[cite]`, `\begin{displaycquote}[pre][post]{key}`.
fn display_cite(text: &str, mut at: usize, name: &str) -> (Option<String>, usize) {
    let slice = |range: std::ops::Range<usize>| text.get(range).unwrap_or_default().to_owned();
    match name.trim_end_matches('*') {
        "displaycquote" => {
            let start = at;
            at = scan::skip_options(text, at);
            let Some((_, end)) = scan::group(text, at) else {
                return (None, at);
            };
            let cite = format!("\\parencite{}", slice(start..end));
            (Some(cite), scan::skip_options(text, end))
        }
        "displayquote" | "foreigndisplayquote" => {
            if name.starts_with("foreign") {
                at = scan::group(text, at).map_or(at, |(_, end)| end);
            }
            match scan::option(text, at) {
                Some((cite, end)) => (Some(slice(cite)), scan::skip_options(text, end)),
                None => (None, at),
            }
        }
        _ => (None, scan::skip_options(text, at)),
    }
}
