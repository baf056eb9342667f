//! BibTeX and BibLaTeX files.
//!
//! 1. [`split`](split::split) cuts the file into entries; one that never closes loses only itself.
//! 2. The `biblatex` crate parses each entry alone, and each field we need alone, so that bad LaTeX in
//!    an abstract costs nothing. `@string` definitions are put in by us beforehand: the crate follows a
//!    definition that names itself without end.
//! 3. Fields that an entry lacks come from its `xdata` and `crossref` parents.

mod annotation;
mod fields;
mod more;
mod split;

use std::collections::BTreeMap;

use biblatex::{RawBibliography, RawChunk};

use super::csl_items::More;
use super::files::{FileRead, Found, Problem};
use fields::Fields;
use split::Piece;

/// Deepest nesting of braces that is read: far beyond what any title needs, and low enough that the
/// parser, which calls itself for every level, can't run out of stack.
const DEEPEST: usize = 50;

/// Reads a BibTeX or BibLaTeX file.
pub(super) fn read(source: &str) -> FileRead {
    read_fields(source, &[], |_| More::default())
}

/// Reads a file with everything that formatting its references needs.
pub(super) fn read_all(source: &str) -> FileRead {
    read_fields(source, more::MORE, more::of)
}

/// Reads a file: the fields that a reference is made of, and `others` beside them.
fn read_fields(source: &str, others: &[&str], more: fn(&Fields) -> More) -> FileRead {
    // The pieces come in order, so that each line end is counted once.
    let (mut counted, mut line) = (0, 1);
    let mut line_of = |position: usize| {
        let between = source.as_bytes().get(counted..position);
        line += memchr::memchr_iter(b'\n', between.unwrap_or_default()).count();
        counted = counted.max(position);
        line
    };
    let mut strings = BTreeMap::new();
    let mut entries: Vec<(usize, Fields)> = Vec::new();
    let mut annotations = Vec::new();
    let mut problems = Vec::new();
    for piece in split::split(source) {
        let line = line_of(piece.start);
        match one(&piece, &mut strings, others) {
            Ok(Some((fields, reported))) => {
                annotations.extend(annotation::of(&fields.key, line, reported));
                entries.push((line, fields));
            }
            Ok(None) => {}
            Err(why) => problems.push(Problem { line, why }),
        }
    }
    let parents: BTreeMap<String, Fields> = entries
        .iter()
        .map(|(_, fields)| (fields.key.to_lowercase(), fields.clone()))
        .collect();
    let mut found = Vec::new();
    for (line, mut fields) in entries {
        if fields.kind == "xdata" {
            continue;
        }
        fields.inherit(&parents);
        found.push(Found {
            reference: fields.reference(),
            line,
            more: more(&fields),
        });
    }
    FileRead {
        found,
        annotations,
        problems,
    }
}

/// The fields of one entry, and its notes and abstract as they stand; nothing for comments, preambles and string definitions, which go into
/// `strings`.
fn one(
    piece: &Piece<'_>,
    strings: &mut BTreeMap<String, String>,
    others: &[&str],
) -> Result<Option<(Fields, Vec<annotation::Annotating>)>, String> {
    let kind = piece.kind.to_ascii_lowercase();
    if matches!(kind.as_str(), "comment" | "preamble") {
        return Ok(None);
    }
    let Some(body) = piece.body else {
        return Err(format!(
            "the @{kind} that begins here is never closed and was left out; look for a missing brace"
        ));
    };
    if split::depth(body) > DEEPEST {
        return Err(format!(
            "the @{kind} that begins here nests braces more than {DEEPEST} deep and was left out; take out braces"
        ));
    }
    // written anew with braces: the parser knows no entries in parentheses
    let text = format!("@{kind}{{{body}}}");
    let raw = RawBibliography::parse(&text).map_err(|error| {
        let key = body.split([',', '\n']).next().unwrap_or_default().trim();
        let near = text.get(error.span.start..).unwrap_or_default();
        let near: String = near.lines().next().unwrap_or_default().chars().take(30).collect();
        format!(
            "the entry {key:?} could not be read and was left out ({}, before {near:?}); look for a missing comma, brace or quotation mark",
            error.kind
        )
    })?;
    for pair in &raw.abbreviations {
        let value = expand(&pair.value.v, strings);
        strings.insert(pair.key.v.to_lowercase(), value);
    }
    let Some(entry) = raw.entries.first() else {
        return Ok(None);
    };
    let key = entry.v.key.v;
    if key.is_empty() {
        return Err(format!(
            "this @{kind} has no key and was left out; write one after the opening brace"
        ));
    }
    let values = entry
        .v
        .fields
        .iter()
        .map(|pair| (pair.key.v.to_lowercase(), expand(&pair.value.v, strings)));
    let line = |position: usize| {
        let before = text.as_bytes().get(..position).unwrap_or_default();
        memchr::memchr_iter(b'\n', before).count()
    };
    let reported = entry.v.fields.iter().filter_map(|pair| {
        let value = || expand(&pair.value.v, strings);
        annotation::Annotating::of(pair.key.v, line(pair.key.span.start), value)
    });
    let reported = reported.collect();
    Ok(Some((Fields::new(key, kind, values, others), reported)))
}

/// The LaTeX text of a value: its pieces joined, strings put in. A name that stands for no string (a
/// month, a journal's abbreviation that the style defines) stands for itself.
fn expand(value: &[biblatex::Spanned<RawChunk<'_>>], strings: &BTreeMap<String, String>) -> String {
    let piece = |chunk: &biblatex::Spanned<RawChunk<'_>>| match chunk.v {
        RawChunk::Normal(text) => text.to_owned(),
        RawChunk::Abbreviation(name) => strings
            .get(&name.to_lowercase())
            .map_or_else(|| name.to_owned(), String::clone),
    };
    // a string may double itself at every step (`@string{a = a # a}`): no honest value is this long
    let mut text: String = value.iter().map(piece).collect();
    if let Some((end, _)) = text.char_indices().nth(LONGEST) {
        text.truncate(end);
    }
    text
}

/// Longest value of a field in characters; above it the value is cut.
const LONGEST: usize = 20_000;

#[cfg(test)]
mod tests {
    use super::super::{Reference, ReferenceKind};
    use super::*;

    fn references(source: &str) -> Vec<Reference> {
        read(source)
            .found
            .into_iter()
            .map(|found| found.reference)
            .collect()
    }

    fn families(reference: &Reference) -> Vec<&str> {
        reference
            .authors
            .iter()
            .map(|person| person.family.as_str())
            .collect()
    }

    #[test]
    fn an_article_is_read() {
        let found = references(
            "@Article{harrow2019a,\n  author = {Harrow, Anna and van der Berg, Jo and {National Lighting Survey}},\n  \
             title = {Moths {\\'a} la {\\\"o}ffentlichen \\emph{Lampe}: 100~\\% glow},\n  journal = \"Night \" # \"Ecology\",\n  \
             year = 2019, pages = {113--129},\n}",
        );
        let [article] = found.as_slice() else {
            panic!("{found:?}")
        };
        assert_eq!(article.key.as_str(), "harrow2019a");
        assert_eq!(article.kind, ReferenceKind::Article);
        assert_eq!(
            families(article),
            ["Harrow", "van der Berg", "National Lighting Survey"]
        );
        assert_eq!(article.authors[2].given, "");
        assert_eq!(article.title, "Moths á la öffentlichen Lampe: 100 % glow");
        assert_eq!(article.container.as_deref(), Some("Night Ecology"));
        assert_eq!((article.year, article.suffix), (Some(2019), Some('a')));
        assert_eq!(article.pages, Some(("113".into(), "129".into())));
    }

    #[test]
    fn names_come_out_as_characters() {
        let cases = [
            ("M{\\\"u}ller, Ida", "Müller", "Ida"),
            ("Ida M\\\"uller", "Müller", "Ida"),
            ("{\\L}ukas, \\'Elise", "Łukas", "Élise"),
            ("Jo {van der Berg}", "van der Berg", "Jo"),
            ("Jo van der Berg", "van der Berg", "Jo"),
            ("S{\\o}rensen, {\\AA}sa", "Sørensen", "Åsa"),
            ("{{Parks and Gardens Board}}", "Parks and Gardens Board", ""),
            ("{Parks and Gardens Board}", "Parks and Gardens Board", ""),
            ("O'Brien, Pat", "O'Brien", "Pat"),
            (
                "family=Berg, given=Jo, prefix=van der",
                "van der Berg",
                "Jo",
            ),
        ];
        for (written, family, given) in cases {
            let found = references(&format!("@misc{{k, author = {{{written}}}}}"));
            let author = &found[0].authors[0];
            assert_eq!(
                (author.family.as_str(), author.given.as_str()),
                (family, given),
                "{written}"
            );
        }
    }

    #[test]
    fn years_and_letters_are_found_wherever_they_stand() {
        let cases = [
            ("k", "year = 2019", "2019"),
            ("k", "year = {2019b}", "2019b"),
            ("k", "date = {2019-05-02}", "2019"),
            ("k", "date = {2019/2021}", "2019"),
            ("k", "date = {2019}, extradate = {2}", "2019b"),
            ("k", "year = {2019}, yearsuffix = {c}", "2019c"),
            ("k", "year = {in press}", "n.d."),
            ("k2019d", "year = {2019}", "2019d"),
            ("k2019d", "year = {2018}", "2018"),
            ("k", "title = {No year}", "n.d."),
        ];
        for (key, fields, dated) in cases {
            let found = references(&format!("@misc{{{key}, {fields}}}"));
            assert_eq!(found[0].dated(), dated, "{key} {fields}");
        }
    }

    #[test]
    fn strings_and_parents_are_put_in() {
        let found = references(
            "@string{ne = {Night Ecology}}\n@STRING(long = NE # { Letters})\n\
             @article{a, journal = Long, year = 2001, month = jan}\n\
             @collection{whole, editor = {Okoro, Ben}, title = {After dark}, year = 2014}\n\
             @incollection{part, author = {Harrow, Anna}, title = {Moths}, crossref = {Whole}}\n\
             @xdata{shared, year = 1999}\n@misc{m, xdata = {shared}}\n",
        );
        assert_eq!(
            found
                .iter()
                .map(|work| work.key.as_str())
                .collect::<Vec<_>>(),
            ["a", "whole", "part", "m"]
        );
        assert_eq!(found[0].container.as_deref(), Some("Night Ecology Letters"));
        assert_eq!(families(&found[1]), ["Okoro"]);
        assert_eq!(found[2].container.as_deref(), Some("After dark"));
        assert_eq!(
            (found[2].year, found[2].kind),
            (Some(2014), ReferenceKind::Chapter)
        );
        assert_eq!(families(&found[2]), ["Harrow"]);
        assert_eq!(found[3].year, Some(1999));
    }

    #[test]
    fn a_bad_entry_loses_only_itself() {
        let source = "@article{good, year = 2001}\n\n@article{bad, year = 2001 title = {x}}\n\
                      @book{, title = {no key}}\n@book{open, title = {x}\n@misc{last, year = 2002}\n";
        let read = read(source);
        let keys: Vec<_> = read
            .found
            .iter()
            .map(|found| (found.reference.key.as_str(), found.line))
            .collect();
        assert_eq!(keys, [("good", 1), ("last", 6)]);
        let reported: Vec<_> = read.problems.iter().map(|problem| problem.line).collect();
        assert_eq!(reported, [3, 4, 5]);
        assert!(
            read.problems[0].why.contains("\"bad\""),
            "{}",
            read.problems[0].why
        );
    }

    #[test]
    fn hostile_files_come_to_an_end() {
        let deep = format!(
            "@misc{{k, title = {}x{}}}",
            "{".repeat(100_000),
            "}".repeat(100_000)
        );
        assert_eq!(read(&deep).problems.len(), 1);
        let commands = format!(
            "@misc{{k, title = {{{}x{}}}}}",
            "\\a{".repeat(40),
            "}".repeat(40)
        );
        assert_eq!(read(&commands).found.len(), 1);
        assert_eq!(read("@string{a = a}\n@misc{k, title = a}").found.len(), 1);
        let doubling = format!(
            "@string{{a = {{x}}}}\n{}@misc{{k, title = a}}",
            "@string{a = a # a}\n".repeat(60)
        );
        assert_eq!(read(&doubling).found.len(), 1);
        assert_eq!(
            read("@misc{a, crossref = {b}}\n@misc{b, crossref = {a}}")
                .found
                .len(),
            2
        );
    }

    proptest::proptest! {
        #[test]
        fn any_text_is_read_without_panic(source in "\\PC*|(@[a-z]{1,7}[{(][a-z0-9]{0,4},? ?|[a-z]{3,6} = |[{}\"#,\\\\$~=é%\n-]|author = \\{|date = \\{|pages = \\{|title = \\{|[A-Za-z0-9 ]{1,6}){0,30}") {
            let _ = read(&source);
        }
    }
}
