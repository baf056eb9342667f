//! What is to be said of the degrees of the scale and of its measures, with one invented passage in
//! five wordings.

use crate::overlap::Degree;

/// What is to be said of a degree.
pub(super) struct DegreeAbout {
    /// One line, no full stop.
    pub(super) short: &'static str,
    /// A short paragraph.
    pub(super) meaning: &'static str,
    /// What a writer may do.
    pub(super) mend: &'static str,
    /// The example passage at this degree.
    pub(super) example: &'static str,
}

/// The passage of which the examples are rewrites.
pub(super) const PASSAGE: &str = "Pollen is carried less far where the lamps stay lit until morning, \
    since the moths that would carry it circle below the lamps.";

/// The measures, each in a line.
pub(super) const MEASURES: [(&str, &str); 8] = [
    (
        "words",
        "words of the passage, without marked quotations and citations",
    ),
    (
        "string share",
        "share of those words that stand in shared strings of two words or more with at least one content word",
    ),
    ("longest string", "words of the longest shared string"),
    (
        "content words",
        "words that carry the meaning: not articles, prepositions, auxiliaries and the like",
    ),
    (
        "kept content",
        "share of content words with a counterpart in the source: the same word, another form of it, a synonym, a misspelling",
    ),
    ("swapped", "content words whose counterpart is a synonym"),
    (
        "order",
        "the most counterparts of content words that keep their order, as a share of all of them",
    ),
    (
        "unique share",
        "share of words in links with the passage that stand nowhere else in the whole source; known only where the whole source is stored",
    ),
];

/// How the position follows from the measures; the formula itself stands in `overlap::scale`.
pub(super) const FORMULA: [&str; 3] = [
    "kept     = kept content, a synonym counting half",
    "in order = kept * (1 + order) / 2",
    "position = 1 - (string share + in order) / 2",
];

/// What is to be said of a degree.
pub(super) fn about(degree: Degree) -> DegreeAbout {
    match degree {
        Degree::Verbatim => DegreeAbout {
            short: "word for word the source",
            meaning: "All but a word or so stands in the source, in the same order.",
            mend: "Put quotation marks around it and give the page, or write the point again in your own sentence.",
            example: "Pollen is carried less far where the lamps stay lit until morning, since the moths that \
                would carry it circle below the lamps.",
        },
        Degree::NearCopy => DegreeAbout {
            short: "a few words changed, the sentence is the source's",
            meaning: "Spelling, an ending or a few words differ; a reader with the source at hand sees the same sentence.",
            mend: "Treat it as a copy: quote it, or put the source away and write the point again.",
            example: "Pollen gets carried less far where lamps stay lit until the morning, since moths that would \
                carry it circle below the lamps.",
        },
        Degree::LightRevision => DegreeAbout {
            short: "many words changed, the sentence's frame kept",
            meaning: "Words are swapped for synonyms or moved about, while the sentence still goes the source's way.",
            mend: "Ask what the point does in your own argument, begin there, and let the sentence go its own way. \
                Keep the citation.",
            example: "Pollen is transported less far where the lights stay on until morning, because the moths that \
                would transport it circle under the lights.",
        },
        Degree::HeavyRevision => DegreeAbout {
            short: "mostly your own wording, traces of the source's",
            meaning: "The sentence is built anew; what is shared are terms and a phrase here and there, as in two \
                translations of the same text.",
            mend: "Nothing in the wording, as a rule. Make sure that the source is named.",
            example: "Lamps that are left lit until morning hold the moths in circles, so that plants nearby \
                have their pollen carried over shorter distances.",
        },
        Degree::Restructured => DegreeAbout {
            short: "your own sentences on the source's point",
            meaning: "Nothing but single terms is shared. Where the point still comes from the source, it is credited \
                all the same.",
            mend: "Nothing in the wording. Name the source of the point.",
            example: "All-night lighting shortens the reach of night pollination, because it holds the pollinators \
                in one place.",
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::overlap::place;
    use crate::text::{MarkedText, Text};

    #[test]
    fn every_example_stands_at_its_degree() {
        let source = MarkedText::source(Text::paragraph(PASSAGE));
        for degree in Degree::ALL {
            let rewrite = MarkedText::new(Text::paragraph(about(degree).example));
            let measures = place(&source, &rewrite, 4).measures;
            assert_eq!(
                measures.degree(),
                degree,
                "{:.2} {measures:?}",
                measures.position()
            );
        }
    }
}
