//! Commands that the document defines itself: `\newcommand`, `\def` and the like, with arguments.

use std::collections::HashMap;

use super::scan;

/// The largest text that one use of a command may expand to, in bytes.
const LONGEST: usize = 100_000;

/// Most bytes that all uses together may write beyond the first million, however long the document is.
const MOST: usize = 50_000_000;

/// Most bytes of parameters between the name of a command and its body.
const LONGEST_PARAMETERS: usize = 1000;

/// A command that the document defines.
#[derive(Debug, Clone)]
pub(super) struct Macro {
    arguments: usize,
    default: Option<String>,
    body: String,
}

/// All such commands, and how many bytes their uses may still write, which stops a command that calls itself.
#[derive(Debug)]
pub(super) struct Macros {
    known: HashMap<String, Macro>,
    budget: usize,
}

impl Macros {
    /// No commands yet. Uses may write several times the document's length.
    pub(super) fn new(document: usize) -> Self {
        Self {
            known: HashMap::new(),
            budget: 1_000_000 + document.saturating_mul(4).min(MOST),
        }
    }

    /// Where a command defines others, reads the definition after it and returns the position after that.
    pub(super) fn define(&mut self, command: &str, text: &str, at: usize) -> Option<usize> {
        match command {
            "newcommand" | "renewcommand" | "providecommand" | "DeclareRobustCommand" => {
                self.new_command(text, at)
            }
            "def" | "gdef" | "edef" | "xdef" => self.def(text, at),
            "newenvironment" | "renewenvironment" => {
                let mut at = scan::group(text, at)?.1;
                at = scan::skip_options(text, at);
                at = scan::group(text, at)?.1;
                Some(scan::group(text, at)?.1)
            }
            _ => None,
        }
    }

    fn new_command(&mut self, text: &str, at: usize) -> Option<usize> {
        let at = if text.get(at..)?.starts_with('*') {
            at + 1
        } else {
            at
        };
        let (name, mut at) = scan::argument(text, at)?;
        let name = text.get(name)?.trim().trim_start_matches('\\').to_owned();
        let (mut arguments, mut default) = (0, None);
        if let Some((number, end)) = scan::option(text, at) {
            arguments = text.get(number)?.trim().parse().ok()?;
            at = end;
            if let Some((value, end)) = scan::option(text, at) {
                default = Some(text.get(value)?.to_owned());
                at = end;
            }
        }
        let (body, end) = scan::group(text, at)?;
        let body = text.get(body)?.to_owned();
        self.known.insert(
            name,
            Macro {
                arguments,
                default,
                body,
            },
        );
        Some(end)
    }

    fn def(&mut self, text: &str, at: usize) -> Option<usize> {
        let at = scan::skip_blank(text, at);
        (text.as_bytes().get(at) == Some(&b'\\')).then_some(())?;
        let (name, at) = scan::name(text, at + 1);
        // The parameters come between the name and the body.
        let behind = text.as_bytes().get(at..)?;
        let near = behind.get(..behind.len().min(LONGEST_PARAMETERS))?;
        let open = at + memchr::memchr(b'{', near)?;
        let arguments = text.get(at..open)?.matches('#').count();
        let (body, end) = scan::group(text, open)?;
        let body = text.get(body)?.to_owned();
        self.known.insert(
            name.to_owned(),
            Macro {
                arguments,
                default: None,
                body,
            },
        );
        Some(end)
    }

    /// What a use of a command expands to, and the position after the use; `None` where the document defines
    /// no such command, or where its uses have written too much.
    pub(super) fn expand(&mut self, name: &str, text: &str, at: usize) -> Option<(String, usize)> {
        let known = self.known.get(name)?;
        let mut at = at;
        let mut arguments: Vec<&str> = Vec::new();
        let start = at;
        if let Some(default) = &known.default {
            match scan::option(text, at) {
                Some((range, end)) => {
                    arguments.push(text.get(range)?);
                    at = end;
                }
                None => arguments.push(default),
            }
        }
        while arguments.len() < known.arguments.min(9) {
            let Some((range, end)) = scan::argument(text, at) else {
                break;
            };
            arguments.push(text.get(range)?);
            at = end;
        }
        // Reading the arguments costs something too, even where nothing comes of it.
        self.budget = self.budget.checked_sub(at - start + 1)?;
        if at - start > LONGEST {
            return None;
        }
        let written = substitute(&known.body, &arguments);
        self.budget = self.budget.checked_sub(written.len())?;
        (written.len() <= LONGEST).then_some((written, at))
    }
}

fn substitute(body: &str, arguments: &[&str]) -> String {
    let mut written = String::with_capacity(body.len());
    let mut rest = body;
    while let Some(at) = rest.find('#') {
        written.push_str(rest.get(..at).unwrap_or_default());
        rest = rest.get(at + 1..).unwrap_or_default();
        let number = rest.chars().next().and_then(|c| c.to_digit(10));
        match number {
            Some(number) => {
                let index = (number as usize).wrapping_sub(1);
                written.push_str(arguments.get(index).copied().unwrap_or_default());
                rest = rest.get(1..).unwrap_or_default();
            }
            None => written.push('#'),
        }
        if written.len() > LONGEST {
            break;
        }
    }
    written.push_str(rest);
    written
}
