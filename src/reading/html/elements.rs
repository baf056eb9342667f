//! What elements mean to a reader of the page.

use super::tree::{Element, NodeRef};
use crate::reading::pages;
use crate::text::BlockKind;

/// What an element does to the text around and inside it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Role {
    /// Nothing: it is part of the line.
    Inline,
    /// Ends the line.
    LineBreak,
    /// Ends the paragraph before it and inside it.
    Block,
    /// A heading of a level.
    Heading(u8),
    /// A block quotation.
    Quotation,
    /// Words in quotation marks that the browser adds.
    QuotationInline,
    /// An item, with the kind of its paragraphs.
    Item(BlockKind),
    /// A list.
    List {
        /// Whether the browser numbers its items with figures.
        ordered: bool,
    },
    /// Preformatted text.
    Code,
    /// A table.
    Table,
    /// A row of it.
    Row,
    /// A cell of it.
    Cell,
}

/// The role of an element by its name, its ARIA role and its class.
pub(super) fn role(element: &Element<'_>) -> Role {
    if is_reference(element) {
        return Role::Item(BlockKind::ReferenceListItem);
    }
    // The number of an entry and what follows it, which stand in one line.
    if has(element, "class", "csl-left-margin") || has(element, "class", "csl-right-inline") {
        return Role::Inline;
    }
    match element.name() {
        "h1" => Role::Heading(1),
        "h2" => Role::Heading(2),
        "h3" => Role::Heading(3),
        "h4" => Role::Heading(4),
        "h5" => Role::Heading(5),
        "h6" => Role::Heading(6),
        "br" | "hr" => Role::LineBreak,
        "blockquote" => Role::Quotation,
        "q" => Role::QuotationInline,
        "li" | "dd" | "dt" => Role::Item(BlockKind::ListItem),
        "ol" => Role::List {
            ordered: has_figures(element),
        },
        "ul" | "dl" | "menu" => Role::List { ordered: false },
        "pre" | "textarea" | "listing" | "xmp" => Role::Code,
        "table" => Role::Table,
        "tr" => Role::Row,
        "td" | "th" => Role::Cell,
        "p" | "div" | "section" | "article" | "main" | "aside" | "header" | "footer" | "figure"
        | "figcaption" | "address" | "details" | "summary" | "fieldset" | "body" | "center"
        | "form" | "hgroup" | "caption" => Role::Block,
        _ => Role::Inline,
    }
}

/// Whether an ordered list is numbered with figures, rather than with letters, Roman numerals or nothing.
fn has_figures(list: &Element<'_>) -> bool {
    let style = list.attr("style").unwrap_or_default().replace(' ', "");
    let named = style
        .split(';')
        .filter_map(|rule| rule.split_once(':'))
        .filter(|(name, _)| matches!(*name, "list-style" | "list-style-type"))
        .map(|(_, value)| value.starts_with("decimal"))
        .next_back();
    named.unwrap_or_else(|| list.attr("type").is_none_or(|kind| kind == "1"))
}

/// Whether an element is an entry of a list of references.
fn is_reference(element: &Element<'_>) -> bool {
    has(element, "role", "doc-biblioentry")
        || has(element, "epub:type", "biblioentry")
        || has(element, "class", "csl-entry")
}

/// Whether the content of an element is not part of the prose that a reader sees.
pub(super) fn is_hidden(element: &Element<'_>) -> bool {
    let by_name = matches!(
        element.name(),
        "head"
            | "script"
            | "style"
            | "template"
            | "nav"
            | "svg"
            | "math"
            | "object"
            | "iframe"
            | "select"
            | "button"
            | "audio"
            | "video"
            | "canvas"
            | "del"
            | "noframes"
            | "noscript"
            | "rp"
            | "rt"
    );
    by_name
        || element.attr("hidden").is_some()
        || element
            .attr("style")
            .is_some_and(|style| style.replace(' ', "").contains("display:none"))
        || has(element, "role", "navigation")
        || has(element, "role", "doc-backlink")
}

/// A page break.
pub(super) struct PageBreak {
    /// The page that begins; empty where the break names none.
    pub label: String,
    /// Whether the element holds prose besides the page's number. HTML has no `<span/>`: what follows such a
    /// tag is inside it.
    pub has_prose: bool,
}

/// The page that begins at an element, by its title, label or identifier, or else by the number it holds.
pub(super) fn page_break(node: NodeRef<'_>) -> Option<PageBreak> {
    let element = &node.element()?;
    if !has(element, "role", "doc-pagebreak") && !has(element, "epub:type", "pagebreak") {
        return None;
    }
    // `Page 12`, ` 12. `
    let last = |label: &str| {
        let number = label.trim().trim_end_matches('.');
        number.rsplit(' ').next().unwrap_or(number).to_owned()
    };
    let named = element.attr("aria-label").or(element.attr("title"));
    let by_id = || {
        let id = element.attr("id")?;
        let number = id.trim_start_matches(|c: char| c.is_alphabetic() || matches!(c, '-' | '_'));
        (!number.is_empty()).then(|| number.to_owned())
    };
    let shown = super::notes::content(node);
    let alone = last(shown.trim_end_matches([']', ')']));
    let is_number = |label: &str| label.len() <= 10 && pages::page_number(label).is_some();
    let label = named.map(last).or_else(by_id);
    let label = label.or_else(|| is_number(&alone).then(|| alone.clone()));
    let label = label.unwrap_or_default();
    let has_prose = !shown.is_empty() && alone != label;
    Some(PageBreak { label, has_prose })
}

/// Whether `word` is one of the words of an attribute.
pub(super) fn has(element: &Element<'_>, attribute: &str, word: &str) -> bool {
    element
        .attr(attribute)
        .is_some_and(|value| value.split_ascii_whitespace().any(|one| one == word))
}
