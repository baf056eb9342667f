//! What elements are to a reader of the page.

use scraper::node::Element;

use crate::text::BlockKind;

/// What an element does to the text around and inside it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Role {
    /// Nothing: it stands in the line.
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
    /// An item whose paragraphs are of a kind.
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
pub(super) fn role(element: &Element) -> Role {
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

/// Whether an ordered list numbers with figures, rather than with letters, Roman numerals or nothing.
fn has_figures(list: &Element) -> bool {
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
fn is_reference(element: &Element) -> bool {
    has(element, "role", "doc-biblioentry")
        || has(element, "epub:type", "biblioentry")
        || has(element, "class", "csl-entry")
}

/// Whether what an element holds is not part of the prose a reader sees.
pub(super) fn is_hidden(element: &Element) -> bool {
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

/// The page that begins at an element, by its title, label or content.
pub(super) fn page_label(element: &Element) -> Option<String> {
    let breaks = has(element, "role", "doc-pagebreak") || has(element, "epub:type", "pagebreak");
    let named = || {
        let label = element.attr("aria-label").or(element.attr("title"))?;
        let number = label.trim().trim_end_matches('.');
        // `Page 12`, ` 12. `
        Some(number.rsplit(' ').next().unwrap_or(number).to_owned())
    };
    let by_id = || {
        let id = element.id()?;
        let number = id.trim_start_matches(|c: char| c.is_alphabetic() || matches!(c, '-' | '_'));
        (!number.is_empty()).then(|| number.to_owned())
    };
    breaks.then(|| named().or_else(by_id).unwrap_or_default())
}

/// Whether one of the words of an attribute is this.
pub(super) fn has(element: &Element, attribute: &str, word: &str) -> bool {
    element
        .attr(attribute)
        .is_some_and(|value| value.split_ascii_whitespace().any(|one| one == word))
}
