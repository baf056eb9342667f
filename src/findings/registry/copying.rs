//! Wording that stands in a source word for word.

use super::{About, Kind, Weight};

pub(super) const UNMARKED_COPY: About = About {
    kind: Kind::UnmarkedCopy,
    name: "unmarked-copy",
    short: "Words of a source without quotation marks",
    weight: Weight::Act,
    meaning: "The draft has a run of words exactly as the source has it, and nothing shows that it is a quotation. A citation after it gives credit for the idea, but a reader still takes the wording for yours. Headings, lists of references, fixed terms of the field, titles and names don't count.",
    mend: "Either put the words in quotation marks and give the page, or close the source and write the point \
        again in your own sentence. Then compare once more. Either way the source needs its citation.",
    origin: "Our own calibration: chance. In 164,000 words of learned prose set against a million words by other \
        writers, runs of 6 shared words came 6 times, of 7 words 0.4 times and of 9 words never in 10,000 words; \
        so 7 words in a row count unless run_words says otherwise. Fewer count where the words are rare enough.",
    example: "Source: \"lamps that burn all night hold moths in a circle of light they cannot leave\". Draft: Along \
        the lane, lamps that burn all night hold moths in a circle of light (Harrow, 2019). The citation is there, \
        the quotation marks are not.",
};

pub(super) const LOST_QUOTATION_MARKS: About = About {
    kind: Kind::LostQuotationMarks,
    name: "lost-quotation-marks",
    short: "A quotation from your notes lost its marks",
    weight: Weight::Act,
    meaning: "In your notes these words stand in quotation marks; in the draft the marks are gone. This is how copied wording most often gets into careful work: it was marked once, and the marks were lost on the way.",
    mend: "Put the quotation marks back and take the page from the note, or write the point again in your own words and keep the citation.",
    origin: "Common practice: words marked as a quotation in the writer's own notes are known to be another's, so \
        no long run is needed; strings shorter than quotation_words (4) count as terms.",
    example: "Note: \"the moths arrive dusted and leave clean\" (p. 14). Draft: In the dark hours the moths arrive \
        dusted and leave clean (Harrow, 2019).",
};
