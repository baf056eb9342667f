//! Wording that was changed on the way, but not by much, or not credited.

use super::{About, Kind, Weight};

pub(super) const CLOSE_PARAPHRASE: About = About {
    kind: Kind::CloseParaphrase,
    name: "close-paraphrase",
    short: "Much of the source's wording is kept",
    weight: Weight::Look,
    meaning: "The passage says what the source says, with a few words changed or swapped for synonyms while the \
        sentence keeps its frame. On the scale it is a near copy or a light revision. A citation credits the \
        idea; the sentence itself is still largely the source's.",
    mend: "Read the source once more, put it away, and say the point as you would explain it to a colleague; then fit it into your own line of thought. Where the source's wording is worth keeping, quote it with its page.",
    origin: "Our own calibration: the boundaries of the scale were set on modern prose rewritten by the published definitions of \
        the degrees, and on aligned translations of one source; `ownwords explain thresholds` lists them. Keck's (2006) published \
        categories are shown beside our degree.",
    example: "Source: \"Pollen is carried less far where the lamps stay lit until morning.\" Draft: Pollen is \
        transported less far where the lights stay on until morning (Harrow, 2019).",
};

pub(super) const UNCREDITED_PARAPHRASE: About = About {
    kind: Kind::UncreditedParaphrase,
    name: "uncredited-paraphrase",
    short: "A source's point in other words, without credit",
    weight: Weight::Look,
    meaning: "The passage follows a source so closely that it is clear where it comes from, though the wording is your own. No citation nearby points to that source.",
    mend: "Name the source where the passage begins, and again where a reader could lose track of it. The wording can stay.",
    origin: "Common practice: ideas and findings of others are credited whatever the wording. A citation counts as \
        nearby within credit_sentences (1) of the passage. How much a passage must share before its source is called clear was set on unrelated learned prose, which should have none.",
    example: "Source: \"Switching the lamps off after midnight brought the visits to campion back within two \
        summers.\" Draft: Two summers of dark after midnight were enough for visits to campion to return.",
};

pub(super) const CREDIT_ELSEWHERE: About = About {
    kind: Kind::CreditElsewhere,
    name: "credit-elsewhere",
    short: "The citation nearby names another source",
    weight: Weight::Act,
    meaning: "The passage comes from one source, but the citation beside it points only to another. Often two notes were merged; sometimes the wording reached you through a work that quotes the first one.",
    mend: "Check which of the two you read. Cite the one the wording comes from, or both; if you know the first \
        only through the second, say so (as cited in).",
    origin: "Common practice: a citation credits the sentence it stands at. A sentence without one counts as credited by those within credit_sentences (1) before or after.",
    example: "The wording stands in Harrow (2019), p. 14; the draft has: Moths that circle a lamp carry little \
        pollen (Okoro, 2021).",
};
