//! A finding in less than sixty words: what it is, where the wording is from, how close it is, and what
//! would mend it.

use crate::findings::Finding;
use crate::report::harmless;

/// The most words of a comment.
pub(super) const MOST_WORDS: usize = 59;

/// The paragraphs of a finding's comment.
pub(super) fn paragraphs(finding: &Finding) -> Vec<String> {
    let about = finding.kind.about();
    let head = format!("{} ({}).", about.short, finding.weight.request());
    let mut said = vec![shortened(&harmless(&head), MOST_WORDS)];
    let mut evidence = Vec::new();
    if let Some(source) = &finding.source {
        let pages = match &source.pages {
            None => String::new(),
            Some((first, last)) if first == last => format!(", p. {first}"),
            Some((first, last)) => format!(", pp. {first}-{last}"),
        };
        // A title in place of an author may be long.
        let name = shortened(&source.name, 12);
        evidence.push(format!("From {name}{pages}."));
    }
    if let Some(degree) = finding.degree {
        let longest = finding
            .measures
            .as_ref()
            .map_or(0, |found| found.longest_string);
        let row = match longest {
            0 | 1 => String::new(),
            // The advice on a copy says it too.
            words
                if finding
                    .advice
                    .starts_with(&format!("{words} words in a row")) =>
            {
                String::new()
            }
            words => format!(": {words} words in a row are the same"),
        };
        evidence.push(format!("{}{row}.", capital(degree.name())));
    }
    if !evidence.is_empty() {
        said.push(harmless(&evidence.join(" ")).into_owned());
    }
    let used: usize = said.iter().map(|text| count(text)).sum();
    let advice = harmless(&finding.advice);
    said.push(shortened(&advice, MOST_WORDS.saturating_sub(used)));
    said.retain(|text| !text.is_empty());
    said
}

/// Words as a reader counts them.
pub(super) fn count(text: &str) -> usize {
    text.split_whitespace().count()
}

/// As many whole sentences as fit, or where not even one does, as many words.
fn shortened(text: &str, most: usize) -> String {
    if count(text) <= most {
        return text.to_owned();
    }
    let mut fits = "";
    for (at, sign) in text.match_indices(['.', '!', '?']) {
        let end = at + sign.len();
        let (sentence, rest) = text.split_at(end);
        // `p. 3` is no end of a sentence.
        let next = rest.trim_start().chars().next();
        let ends = next.is_none_or(|c| c.is_uppercase() || matches!(c, '“' | '"'));
        if rest.starts_with(char::is_whitespace) && ends && count(sentence) <= most {
            fits = sentence;
        }
    }
    if !fits.is_empty() {
        return fits.to_owned();
    }
    let words: Vec<&str> = text.split_whitespace().take(most).collect();
    match words.is_empty() {
        true => String::new(),
        false => format!("{}…", words.join(" ")),
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(char::to_uppercase);
    first.into_iter().flatten().chain(letters).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_are_cut_at_sentences_if_they_can_be() {
        let text = "Put it in marks. Name the page, p. 3 or so. Or say it anew";
        assert_eq!(shortened(text, 20), text);
        assert_eq!(
            shortened(text, 11),
            "Put it in marks. Name the page, p. 3 or so."
        );
        assert_eq!(shortened(text, 10), "Put it in marks.");
        assert_eq!(shortened(text, 5), "Put it in marks.");
        assert_eq!(shortened(text, 2), "Put it…");
        assert_eq!(shortened(text, 0), "");
        assert_eq!(shortened("é", 1), "é");
    }
}
