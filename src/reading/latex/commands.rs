//! What is known of commands: which take arguments that are not prose, which are headings or environments of
//! a kind. A command that is not known is dropped and its arguments are read as prose, which suits
//! `\emph{...}` and the like.

use crate::text::BlockKind;

/// Arguments of a command that are not prose: how many groups after it are left out (options always are).
pub(super) fn left_out(name: &str) -> Option<usize> {
    // Manuals and editions define their own commands for the index: `\indexperson`, `\IndexPlace`.
    let index = ["index", "Index"]
        .iter()
        .any(|index| name.starts_with(index));
    if index && !name.ends_with("name") {
        return Some(1);
    }
    Some(match name {
        "label"
        | "ref"
        | "pageref"
        | "autoref"
        | "cref"
        | "Cref"
        | "eqref"
        | "nameref"
        | "vref"
        | "index"
        | "glossary"
        | "nocite"
        | "includegraphics"
        | "graphicspath"
        | "vspace"
        | "hspace"
        | "pagestyle"
        | "thispagestyle"
        | "pagenumbering"
        | "bibliographystyle"
        | "bibliography"
        | "addbibresource"
        | "usepackage"
        | "RequirePackage"
        | "documentclass"
        | "hypersetup"
        | "setcounter"
        | "stepcounter"
        | "refstepcounter"
        | "setstretch"
        | "linespread"
        | "selectlanguage"
        | "hyphenation"
        | "todo"
        | "marginpar"
        | "marginnote"
        | "phantom"
        | "hphantom"
        | "vphantom"
        | "includeonly"
        | "input@path"
        | "theoremstyle"
        | "geometry"
        | "captionsetup"
        | "lstset"
        | "tikzset"
        | "usetikzlibrary"
        | "sisetup"
        | "DeclareLanguageMapping"
        | "foreignlanguage"
        | "textcolor"
        | "color"
        | "colorbox"
        | "href"
        | "parbox"
        | "raisebox"
        | "rotatebox"
        | "scalebox"
        | "makebox"
        | "framebox"
        | "hypertarget"
        | "hyperlink"
        | "hyperref"
        | "date"
        | "vskip"
        | "hskip"
        | "cline"
        | "cmidrule"
        | "rule"
        | "fontsize" => 1,
        "setlength"
        | "addtolength"
        | "setmainfont"
        | "definecolor"
        | "newcounter"
        | "DeclareMathOperator"
        | "addcontentsline"
        | "multicolumn"
        | "multirow"
        | "resizebox"
        | "fcolorbox"
        | "newtheorem"
        | "markboth"
        | "addtocounter"
        | "numberwithin" => 2,
        "titleformat" | "titlespacing" => 4,
        _ => return None,
    })
}

/// The level of a heading. Sections have level 1 in a document without chapters.
pub(super) fn heading(name: &str, chapters: bool) -> Option<u8> {
    let level = match name {
        "part" | "chapter" => return Some(1),
        "section" => 1,
        "subsection" => 2,
        "subsubsection" => 3,
        "paragraph" => 4,
        "subparagraph" => 5,
        _ => return None,
    };
    Some(level + u8::from(chapters))
}

/// What an environment is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Environment {
    /// Left out whole: mathematics, drawings, comments.
    Hidden,
    /// Program code, unchanged.
    Code,
    /// Words set off as a quotation.
    Quotation,
    /// A list; its items begin with `\item`.
    List,
    /// The list of references; its entries begin with `\bibitem`.
    References,
    /// Rows and cells.
    Table,
    /// Prose like any other.
    Plain,
}

/// What an environment of this name is, and how many groups after `\begin{name}` are not prose.
pub(super) fn environment(name: &str) -> (Environment, usize) {
    match name.trim_end_matches('*') {
        "equation" | "align" | "alignat" | "flalign" | "gather" | "multline" | "eqnarray"
        | "math" | "displaymath" | "tikzpicture" | "pgfpicture" | "picture" | "comment"
        | "dmath" | "algorithm" | "algorithmic" | "filecontents" | "forest" | "CCSXML" => {
            (Environment::Hidden, 0)
        }
        "verbatim" | "Verbatim" | "lstlisting" | "alltt" | "minted" => (Environment::Code, 0),
        "quote"
        | "quotation"
        | "verse"
        | "displayquote"
        | "displaycquote"
        | "foreigndisplayquote" => (Environment::Quotation, 0),
        "itemize" | "enumerate" | "description" | "compactitem" | "compactenum" => {
            (Environment::List, 0)
        }
        "thebibliography" => (Environment::References, 1),
        "tabular" | "longtable" | "supertabular" => (Environment::Table, 1),
        "tabularx" | "tabulary" => (Environment::Table, 2),
        "minipage" | "multicols" | "wrapfigure" | "spacing" | "adjustwidth" | "list" => {
            (Environment::Plain, 1)
        }
        _ => (Environment::Plain, 0),
    }
}

/// The kind of a paragraph inside an environment.
pub(super) fn kind(environment: Environment) -> Option<BlockKind> {
    match environment {
        Environment::List => Some(BlockKind::ListItem),
        Environment::References => Some(BlockKind::ReferenceListItem),
        Environment::Table => Some(BlockKind::Table),
        _ => None,
    }
}
