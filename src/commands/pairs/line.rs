//! One line of pairs: what it has to hold, and why it can't be used.

use serde::Deserialize;
use serde_json::Value;
use serde_json::error::Category;

/// One line of the input.
pub(super) struct Line {
    /// From 1.
    pub number: usize,
    pub content: Vec<u8>,
    /// Whether it was too long to be read; then it has no content.
    pub is_cut: bool,
}

/// What the lines of a run are for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Task {
    /// Each rewrite is set against the source of its line.
    Place,
    /// The source of each rewrite is looked for in a review.
    Trace,
}

impl Task {
    /// A line that can be used.
    pub(super) fn example(self) -> &'static str {
        match self {
            Self::Place => {
                r#"{"id": 1, "source": "Lamps hold moths.", "rewrite": "Moths stay at lamps."}"#
            }
            Self::Trace => r#"{"id": 1, "rewrite": "Moths stay at lamps."}"#,
        }
    }
}

/// What a line holds; other fields are passed over, since sets of pairs carry labels of their own.
#[derive(Deserialize)]
struct Fields {
    #[serde(default)]
    id: Value,
    #[serde(default)]
    source: Value,
    #[serde(default)]
    rewrite: Value,
}

/// What was asked of a line.
pub(super) struct Pair {
    /// A string or a number.
    pub id: Value,
    /// Empty where the source is looked for.
    pub source: String,
    pub rewrite: String,
}

/// Why a line can't be used.
#[derive(Debug, thiserror::Error)]
#[error("line {number}: {problem}")]
pub(super) struct Fault {
    number: usize,
    problem: String,
}

impl Line {
    pub(super) fn fault(&self, problem: impl Into<String>) -> Fault {
        Fault {
            number: self.number,
            problem: problem.into(),
        }
    }

    /// What the line holds, if it holds all that is needed.
    pub(super) fn pair(&self, task: Task) -> Result<Pair, Fault> {
        if self.is_cut {
            return Err(
                self.fault("this is longer than 16 MiB; a line holds one passage and its rewrite")
            );
        }
        // Bare lists would pass for objects.
        if self.content.trim_ascii_start().first() != Some(&b'{') {
            return Err(self.fault("this is no JSON object"));
        }
        let fields: Fields =
            serde_json::from_slice(&self.content).map_err(|error| self.unreadable(&error))?;
        let mut problems = Vec::new();
        match fields.id {
            Value::String(_) | Value::Number(_) => {}
            Value::Null => problems.push("\"id\" is missing"),
            _ => problems.push("\"id\" is neither a text nor a number"),
        }
        let source = match (task, fields.source) {
            (Task::Trace, _) => String::new(),
            (Task::Place, Value::String(source)) => source,
            (Task::Place, Value::Null) => {
                problems.push("\"source\" is missing");
                String::new()
            }
            (Task::Place, _) => {
                problems.push("\"source\" is no text");
                String::new()
            }
        };
        let rewrite = match fields.rewrite {
            Value::String(rewrite) => rewrite,
            Value::Null => {
                problems.push("\"rewrite\" is missing");
                String::new()
            }
            _ => {
                problems.push("\"rewrite\" is no text");
                String::new()
            }
        };
        if !problems.is_empty() {
            return Err(self.fault(problems.join(", ")));
        }
        Ok(Pair {
            id: fields.id,
            source,
            rewrite,
        })
    }

    /// Why a line is no object of JSON, without the words of the reader of JSON.
    fn unreadable(&self, error: &serde_json::Error) -> Fault {
        if std::str::from_utf8(&self.content).is_err() {
            return self.fault("this is not UTF-8");
        }
        self.fault(match error.classify() {
            Category::Eof => "the object is not closed; each stands on one line".to_owned(),
            // All fields are taken as they come, so only one that comes twice is refused.
            Category::Data => "a field is given twice here".to_owned(),
            Category::Syntax | Category::Io => {
                format!("this is not JSON from column {} on", error.column())
            }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(number: usize, content: Vec<u8>) -> Line {
        Line {
            number,
            content,
            is_cut: false,
        }
    }

    #[test]
    fn bad_lines_say_what_is_wrong() {
        let table: [(&[u8], &str); 12] = [
            (b"nonsense", "this is no JSON object"),
            (b"[1, \"a\", \"b\"]", "this is no JSON object"),
            (b"{\"id\": 1,", "the object is not closed"),
            (b"{\"id\": 1 \"source\"", "this is not JSON from column 10"),
            (
                b"{\"id\": 1} {\"id\": 2}",
                "this is not JSON from column 11",
            ),
            (b"{\"id\": 1, \"id\": 2}", "a field is given twice here"),
            (
                b"{}",
                "\"id\" is missing, \"source\" is missing, \"rewrite\" is missing",
            ),
            (b"{\"id\":1,\"source\":\"a\"}", "\"rewrite\" is missing"),
            (
                b"{\"id\":[],\"source\":\"a\",\"rewrite\":\"b\"}",
                "\"id\" is neither",
            ),
            (
                b"{\"id\":1,\"source\":2,\"rewrite\":\"b\"}",
                "\"source\" is no text",
            ),
            (
                b"{\"id\":1,\"source\":\"a\",\"rewrite\":[]}",
                "\"rewrite\" is no text",
            ),
            (
                b"{\"id\":1,\"source\":\"\xff\",\"rewrite\":\"b\"}",
                "this is not UTF-8",
            ),
        ];
        for (content, wanted) in table {
            let content = content.to_vec();
            let said = line(7, content)
                .pair(Task::Place)
                .err()
                .unwrap()
                .to_string();
            assert!(said.starts_with(&format!("line 7: {wanted}")), "{said}");
        }
    }

    #[test]
    fn what_is_shown_as_an_example_can_be_used() {
        for task in [Task::Place, Task::Trace] {
            let content = task.example().as_bytes().to_vec();
            assert!(line(1, content).pair(task).is_ok());
        }
    }
}
