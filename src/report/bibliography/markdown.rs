//! The bibliography as Markdown: a heading of level two an entry, its parts below headings of level three.
//! Markdown knows no hanging indent; the reference stands as the heading's paragraph.

use std::io::{self, Write};

use super::{Bibliography, Paragraph, Styled, heading};
use crate::report::escape::{harmless, in_markdown};

/// Writes it.
///
/// # Errors
/// What the writer refuses.
pub fn write(bibliography: &Bibliography, out: &mut impl Write) -> io::Result<()> {
    writeln!(out, "# {}", in_markdown(&bibliography.title))?;
    for entry in &bibliography.entries {
        writeln!(out, "\n---\n\n{}", reference(&entry.reference))?;
        for (part, paragraphs) in &entry.parts {
            writeln!(out, "\n**{}**", heading(*part))?;
            let mut after_item = false;
            for paragraph in paragraphs {
                if !(paragraph.item && after_item) {
                    writeln!(out)?;
                }
                after_item = paragraph.item;
                writeln!(out, "{}", line(paragraph))?;
            }
        }
    }
    Ok(())
}

fn line(paragraph: &Paragraph) -> String {
    let text = in_markdown(&paragraph.text);
    match (paragraph.item, paragraph.quotation) {
        (true, _) => format!("- {text}"),
        (false, true) => format!("> {text}"),
        (false, false) => text,
    }
}

fn reference(styled: &[Styled]) -> String {
    let run = |run: &Styled| {
        let mark = match (run.italic, run.bold) {
            (true, true) => "***",
            (true, false) => "*",
            (false, true) => "**",
            (false, false) => "",
        };
        // Marks of emphasis hold only where they touch a character.
        let core = run.text.trim();
        let Some(at) = run.text.find(core).filter(|_| !core.is_empty()) else {
            return in_markdown(&run.text);
        };
        let (before, rest) = run.text.split_at(at);
        let (core, behind) = rest.split_at(core.len());
        let (before, behind) = (harmless(before), harmless(behind));
        format!("{before}{mark}{}{mark}{behind}", in_markdown(core))
    };
    styled.iter().map(run).collect()
}

#[cfg(test)]
mod tests {
    use super::super::tests::sample;
    use super::*;

    #[test]
    fn as_written() {
        let mut out = Vec::new();
        write(&sample(), &mut out).unwrap();
        let expected = r#"# Annotated bibliography

---

Harrow, A. (2019). *Lamps \& \<moths\>*. Annals\_of\_\*stars\*, 1. \#x

**Summary**

Moths \< lamps \& "dark".

**Quotations**

- “they circle” (p. 14)

> Set off at length.

**My comments**

1\. Compare \*Okoro\*.
"#;
        assert_eq!(String::from_utf8(out).unwrap(), expected);
    }

    #[test]
    fn any_text_comes_back_as_it_was() {
        use pulldown_cmark::{Event, Parser};
        for text in [
            "a * b",
            "1. x",
            "12) x",
            "# x",
            "- x",
            "<b>&amp;</b>",
            "[x](y)",
            "a_b_c `x`",
            "~~x~~",
            "\\*",
        ] {
            let written = in_markdown(text);
            let back: String = Parser::new(&written)
                .filter_map(|event| match event {
                    Event::Text(text) => Some(text.to_string()),
                    _ => None,
                })
                .collect();
            assert_eq!(back, text, "{written}");
        }
    }
}
