//! The bibliography as one HTML page that needs nothing beside it.

use std::io::{self, Write};

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::{Bibliography, BibliographyEntry, Paragraph, Styled, heading};
use crate::report::escape::on_page;
use crate::review::PartKind;

/// Hanging references; whose words a part holds is said by its heading and by its shape: the summary plain,
/// quotations behind a double rule, comments in a dashed frame.
const LOOK: &str = "
body { max-width: 42rem; margin: 2rem auto; padding: 0 1rem; font: 1.05rem/1.5 Georgia, serif; color: #1d1d1d; background: #fff }
h1 { font-size: 1.4rem; font-weight: normal; border-bottom: 1px solid; padding-bottom: .4rem }
article { margin: 2.2rem 0 }
.reference { padding-left: 2.5rem; text-indent: -2.5rem; overflow-wrap: anywhere }
section { margin: .8rem 0 .8rem 2.5rem }
h2 { font: italic 1rem Georgia, serif; margin: 0 0 .2rem }
section p, section ul, section blockquote { margin: .3rem 0 }
.quotations { border-left: 4px double; padding-left: .9rem }
.comments { border: 1px dashed; padding: .5rem .9rem }
@media (prefers-color-scheme: dark) { body { color: #e6e6e0; background: #1b1b1a } a { color: inherit } }
@media print { article { break-inside: avoid } }
";

/// Writes it.
///
/// # Errors
/// What the writer refuses.
pub fn write(bibliography: &Bibliography, out: &mut impl Write) -> io::Result<()> {
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="generator" content="ownwords";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (on_page(&bibliography.title)) }
                style { (PreEscaped(LOOK)) }
            }
            body {
                main {
                    h1 { (on_page(&bibliography.title)) }
                    @for entry in &bibliography.entries { (article(entry)) }
                }
            }
        }
    };
    out.write_all(page.into_string().as_bytes())?;
    writeln!(out)
}

fn article(entry: &BibliographyEntry) -> Markup {
    html! {
        article {
            p.reference { @for run in &entry.reference { (styled(run)) } }
            @for (part, paragraphs) in &entry.parts {
                section class=(class(*part)) {
                    h2 { (heading(*part)) }
                    @for paragraph in paragraphs { (set(paragraph)) }
                }
            }
        }
    }
}

fn class(part: PartKind) -> &'static str {
    part.name()
}

fn set(paragraph: &Paragraph) -> Markup {
    let text = on_page(&paragraph.text);
    match (paragraph.item, paragraph.quotation) {
        (true, _) => html! { ul { li { (text) } } },
        (false, true) => html! { blockquote { (text) } },
        (false, false) => html! { p { (text) } },
    }
}

fn styled(run: &Styled) -> Markup {
    let text = html! { (on_page(&run.text)) };
    let text = if run.italic {
        html! { i { (text) } }
    } else {
        text
    };
    let text = if run.bold {
        html! { b { (text) } }
    } else {
        text
    };
    let text = if run.raised {
        html! { sup { (text) } }
    } else {
        text
    };
    match &run.link {
        Some(url) if url.starts_with("http://") || url.starts_with("https://") => {
            html! { a href=(url) { (text) } }
        }
        _ => text,
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::sample;
    use super::*;

    #[test]
    fn everything_is_escaped_and_nothing_is_fetched() {
        let mut out = Vec::new();
        write(&sample(), &mut out).unwrap();
        let page = String::from_utf8(out).unwrap();
        assert!(page.contains("<i>Lamps &amp; &lt;moths&gt;</i>"), "{page}");
        assert!(page.contains("Moths &lt; lamps &amp; "), "{page}");
        for outside in ["<script", "src=", "<link", "url(", "@import"] {
            assert!(!page.contains(outside), "{outside}");
        }
        let parsed = scraper::Html::parse_document(&page);
        let count = |selector: &str| {
            parsed
                .select(&scraper::Selector::parse(selector).unwrap())
                .count()
        };
        assert_eq!(
            (
                count("article"),
                count("section"),
                count("section.quotations li")
            ),
            (1, 3, 1)
        );
    }

    #[test]
    fn only_web_addresses_become_links() {
        for (url, links) in [("https://x.example", true), ("javascript:alert(1)", false)] {
            let run = Styled {
                text: "x".to_owned(),
                link: Some(url.to_owned()),
                ..Styled::default()
            };
            assert_eq!(styled(&run).into_string().contains("href"), links);
        }
    }
}
