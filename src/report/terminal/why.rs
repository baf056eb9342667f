//! The measures behind a degree, said so that a person can recount them.

use crate::overlap::support::LEAST_CONTENT;
use crate::overlap::{Degree, Measures, Placement};
use crate::report::english::{capitalised, counted, grouped, halves, part_of};

/// The measures as two or three sentences.
pub(in crate::report) fn sentences(measures: &Measures) -> String {
    let mut said = vec![strings(measures), content(measures), sequence(measures)];
    // What is verbatim has no need of a coarser scale beside it.
    if measures.degree() != Degree::Verbatim {
        said.extend(measures.unique_share.map(keck));
    }
    said.retain(|sentence| !sentence.is_empty());
    said.join(" ")
}

/// Why a passage stands at its degree, in one sentence.
pub(in crate::report) fn reason(placement: &Placement) -> String {
    let (degree, measures) = (placement.degree(), &placement.measures);
    if measures.words == 0 {
        return "All its words stand in quotation marks or citations, so there is no wording of its own to place."
            .to_owned();
    }
    let in_strings = part_of(measures.string_share, measures.words);
    let kept = part_of(measures.kept_content, measures.content_words);
    let whole = counted(measures.words, "word", "words");
    let content = counted(measures.content_words, "content word", "content words");
    let mostly = measures.string_share >= 0.5;
    let stand = if in_strings == measures.words {
        format!("all its {whole} stand in strings of the passage")
    } else {
        format!("{in_strings} of its {whole} stand in strings of the passage")
    };
    let strings = match in_strings {
        0 => "no words stand in shared strings",
        _ => "the strings are short",
    };
    let have = if kept == 1 { "has" } else { "have" };
    let because = match measures.swapped {
        0 if mostly => stand,
        1 if mostly => format!("1 word is swapped for a synonym, but {stand}"),
        some if mostly => format!("{some} words are swapped for synonyms, but {stand}"),
        _ if measures.kept_content >= 0.5 => {
            let order = order(measures.order).trim_start_matches("; ");
            format!(
                "{strings}, but {kept} of its {content} {have} a counterpart in the passage, \
                 {order}"
            )
        }
        _ if measures.sequence >= 0.5 => format!(
            "{strings}, but {} of its {whole} are kept in sequence, most of them small words",
            halves(measures.kept_in_sequence())
        ),
        _ if kept == 0 => format!(
            "none of its {content} has a counterpart in the passage, and {in_strings} of its {whole} stand in \
             shared strings"
        ),
        _ => format!(
            "only {kept} of its {content} {have} a counterpart in the passage, and {in_strings} of its \
             {whole} stand in shared strings"
        ),
    };
    let limits = limits(placement);
    format!("{}: {because}.{limits}", capitalised(degree.name()))
}

/// What the degree can't say of a passage of few words, or of one that shares next to nothing.
fn limits(placement: &Placement) -> &'static str {
    if placement.measures.content_words < LEAST_CONTENT {
        " It has so few content words of its own that the degree says little."
    } else if !placement.shares_telling {
        " The two share no telling wording: what somebody else wrote on the same topic would stand here too, so the place \
         does not show that the one was made from the other."
    } else {
        ""
    }
}

fn strings(measures: &Measures) -> String {
    let in_strings = part_of(measures.string_share, measures.words);
    if in_strings == 0 {
        let words = counted(measures.words, "word", "words");
        return format!("None of {words} stands in a string shared with the source.");
    }
    let whole = counted(measures.words, "word", "words");
    let stand = if in_strings == 1 { "stands" } else { "stand" };
    format!(
        "{in_strings} of {whole} {stand} in shared strings; the longest has {}.",
        grouped(measures.longest_string),
    )
}

fn content(measures: &Measures) -> String {
    if measures.content_words == 0 {
        return String::new();
    }
    let kept = part_of(measures.kept_content, measures.content_words);
    let whole = counted(measures.content_words, "content word", "content words");
    if kept == 0 {
        return format!("None of {whole} has a counterpart there.");
    }
    let swapped = match measures.swapped {
        0 => String::new(),
        1 => ", 1 of them as a synonym".to_owned(),
        some => format!(", {some} of them as synonyms"),
    };
    let order = if kept > 1 { order(measures.order) } else { "" };
    format!("{kept} of {whole} kept{swapped}{order}.")
}

fn sequence(measures: &Measures) -> String {
    // What stands in one string has nothing to add.
    if measures.stretch == 0 || measures.words == 0 || measures.longest_string == measures.words {
        return String::new();
    }
    format!(
        "{} kept in sequence, of {} here and {} there.",
        halves(measures.kept_in_sequence()),
        grouped(measures.words),
        grouped(measures.stretch)
    )
}

/// How much of the source's order is left. The steps only choose the words; they decide nothing.
fn order(order: f64) -> &'static str {
    if order >= 1.0 {
        "; in the same order"
    } else if order >= 0.85 {
        "; in nearly the same order"
    } else if order >= 0.6 {
        "; partly in another order"
    } else {
        "; in another order"
    }
}

/// The category of Keck (2006) by the share of words in unique links. Her boundaries (50 %, 20 %,
/// 1 %) are quoted from memory, and the sentence says so. It also says that hers is another scale, since
/// two of the names are nearly ours.
fn keck(unique_share: f64) -> String {
    let category = if unique_share >= 0.5 {
        "near copy"
    } else if unique_share >= 0.2 {
        "minimal revision"
    } else if unique_share >= 0.01 {
        "moderate revision"
    } else {
        "substantial revision"
    };
    let percent = part_of(unique_share, 100);
    format!("Unique links: {percent} % of words, Keck's {category} (2006, from memory).")
}

#[cfg(test)]
mod tests {
    use super::*;

    const MEASURES: Measures = Measures {
        words: 40,
        string_share: 0.775,
        longest_string: 12,
        content_words: 10,
        kept_content: 0.9,
        swapped: 2,
        order: 1.0,
        sequence: 2.0 * 33.5 / (40.0 + 38.0),
        stretch: 38,
        unique_share: None,
    };

    #[test]
    fn measures_read_as_sentences() {
        assert_eq!(
            sentences(&MEASURES),
            "31 of 40 words stand in shared strings; the longest has 12. 9 of 10 content words \
             kept, 2 of them as synonyms; in the same order. 33½ kept in sequence, of 40 here and 38 there."
        );
        let little = Measures {
            words: 9,
            string_share: 0.0,
            longest_string: 0,
            content_words: 5,
            kept_content: 0.2,
            swapped: 1,
            order: 1.0,
            sequence: 2.0 * 0.5 / (9.0 + 1.0),
            stretch: 1,
            unique_share: Some(0.0),
        };
        assert_eq!(
            sentences(&little),
            "None of 9 words stands in a string shared with the source. 1 of 5 content words kept, 1 \
             of them as a synonym. ½ kept in sequence, of 9 here and 1 there. Unique links: 0 % of words, Keck's substantial revision (2006, from memory)."
        );
    }

    #[test]
    fn the_reason_names_what_weighs_most() {
        let with = |string_share, kept_content, swapped| Measures {
            string_share,
            kept_content,
            swapped,
            ..MEASURES
        };
        let table = [
            (
                with(0.9, 0.9, 0),
                "36 of its 40 words stand in strings of the passage.",
            ),
            (
                with(0.5, 0.9, 1),
                "1 word is swapped for a synonym, but 20 of its 40 words stand in strings of the passage.",
            ),
            (
                with(0.2, 0.8, 4),
                "the strings are short, but 8 of its 10 content words have a \
                 counterpart in the passage, in the same order.",
            ),
            (
                Measures {
                    sequence: 2.0 * 25.5 / (40.0 + 38.0),
                    ..with(0.1, 0.2, 0)
                },
                "the strings are short, but 25½ of its 40 words are kept in sequence, most of them \
                 small words.",
            ),
            (
                Measures {
                    sequence: 0.3,
                    ..with(0.1, 0.2, 0)
                },
                "only 2 of its 10 content words have a counterpart in the passage, and 4 of \
                 its 40 words stand in shared strings.",
            ),
        ];
        for (measures, said) in table {
            let placement = Placement {
                measures,
                shared: Vec::new(),
                shares_telling: true,
            };
            let of_degree = format!("{}: {said}", capitalised(measures.degree().name()));
            assert_eq!(reason(&placement), of_degree);
        }
    }

    #[test]
    fn the_reason_says_where_a_degree_says_little() {
        let said = |content_words, shares_telling| {
            let placement = Placement {
                measures: Measures {
                    content_words,
                    ..MEASURES
                },
                shared: Vec::new(),
                shares_telling,
            };
            reason(&placement)
        };
        assert!(said(4, true).contains("says little"));
        let far = said(10, false);
        assert!(far.starts_with("Restructured: ") && far.contains("no telling wording"));
        let plain = said(10, true);
        assert_eq!(plain.matches('.').count(), 1, "{plain}");
    }

    #[test]
    fn keck_categories_begin_at_their_boundaries() {
        let table = [
            (0.5, "near copy"),
            (0.499, "minimal"),
            (0.2, "minimal"),
            (0.199, "moderate"),
            (0.01, "moderate"),
            (0.009, "substantial"),
        ];
        for (share, category) in table {
            assert!(keck(share).contains(category), "{share}: {}", keck(share));
        }
    }

    #[test]
    fn a_verbatim_passage_is_not_set_beside_another_scale() {
        let verbatim = Measures {
            string_share: 1.0,
            longest_string: 40,
            kept_content: 1.0,
            swapped: 0,
            sequence: 1.0,
            stretch: 40,
            unique_share: Some(1.0),
            ..MEASURES
        };
        assert_eq!(verbatim.degree(), Degree::Verbatim);
        assert!(!sentences(&verbatim).contains("Keck"));
    }

    #[test]
    fn a_passage_without_words_is_no_trouble() {
        let empty = Measures {
            words: 0,
            string_share: f64::NAN,
            content_words: 0,
            ..MEASURES
        };
        assert_eq!(
            sentences(&empty),
            "None of 0 words stands in a string shared with the source."
        );
    }
}
