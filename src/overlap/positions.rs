//! What the stages of the comparison count: words of a stream, sentences of a stream, words of a list that is
//! aligned. A stream leaves out some words of its text, and a list leaves out some words of its stream, so
//! the same word has a different number in each. The types keep these numbers apart.

use crate::text::range::range;

range!(
    /// A stretch of the words of a [`Stream`](super::stream::Stream).
    StreamRange,
    "words"
);
range!(
    /// A stretch of the sentences of a [`Stream`](super::stream::Stream).
    SentenceRange,
    "sentences"
);
range!(
    /// A stretch of a list of words that is aligned with another: the words of a passage outside quotation marks, or
    /// those of the source's stretch, from its first on.
    ListRange,
    "words"
);
