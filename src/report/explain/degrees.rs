//! What is to be said of the degrees of the scale, with one invented passage in five wordings.

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

/// What is to be said of a degree.
pub(super) fn about(degree: Degree) -> DegreeAbout {
    match degree {
        Degree::Verbatim => DegreeAbout {
            short: "word for word the source",
            meaning: "Every word stands in the source, in one unbroken string. Where words are left out or put in, it is a near copy, even if all that is left is the source's.",
            mend: "Put quotation marks around it and give the page, or write the point again in your own sentence.",
            example: "Pollen is carried less far where the lamps stay lit until morning, since the moths that \
                would carry it circle below the lamps.",
        },
        Degree::NearCopy => DegreeAbout {
            short: "a few words changed, the sentence is the source's",
            meaning: "Spelling, an ending or a few words differ, or some are left out; a reader with the source at hand sees the same sentence.",
            mend: "Treat it as a copy: quote it, or put the source away and write the point again.",
            example: "Pollen gets carried less far where lamps stay lit until the morning, since moths that would \
                carry it circle below the lamps.",
        },
        Degree::LightRevision => DegreeAbout {
            short: "many words changed, the sentence's frame kept",
            meaning: "Words are swapped for synonyms or forms are changed, while the sentences are still the source's in the source's order, as in two translations of the same text.",
            mend: "Ask what the point does in your own argument, begin there, and build the sentence from that. Keep the citation.",
            example: "Pollen is transported less far where the lights stay on until morning, because the moths that \
                would transport it circle under the lights.",
        },
        Degree::HeavyRevision => DegreeAbout {
            short: "mostly your own wording, traces of the source's",
            meaning: "Sentences are split, merged and reordered; many of the source's words are still there, at other places.",
            mend: "As a rule nothing in the wording. Make sure that the source is named.",
            example: "Moths carry pollen. Wherever lamps are lit through to the morning, these moths just circle, and \
                the pollen does not come far.",
        },
        Degree::Restructured => DegreeAbout {
            short: "your own sentences on the source's point",
            meaning: "Only single terms are shared. Where the point still comes from the source, it is credited all the same.",
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
    use std::sync::Arc;

    #[test]
    fn every_example_stands_at_its_degree() {
        let source: Arc<_> = MarkedText::source(Text::paragraph(PASSAGE)).into();
        for degree in Degree::ALL {
            let rewrite: Arc<_> = MarkedText::new(Text::paragraph(about(degree).example)).into();
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
