//! Page numbers of word processors' files that are not those of the work: an article typed off or pasted into
//! Word has pages of its own, from 1 on, while its reference says that it stands on pages 113 to 129. A
//! quotation's page would be held against the wrong count, so such numbers are not used.

use super::Reference;
use crate::text::{MarkedText, Origin, Pages};

/// The text without page numbers that can't be those of its reference, and what is to be reported then.
pub(super) fn without_own_pages(
    text: MarkedText,
    reference: Option<&Reference>,
    range: impl Fn(&Reference) -> Option<(u32, u32)>,
) -> (MarkedText, Option<String>) {
    let Some((reference, (from, to))) =
        reference.and_then(|reference| Some((reference, range(reference)?)))
    else {
        return (text, None);
    };
    let starts = text.text.pages().starts();
    let laid_out = matches!(text.text.origin(), Origin::Package { .. })
        && starts.iter().all(|start| start.mark.is_empty());
    let numbers: Option<Vec<u32>> = starts.iter().map(|start| start.label.number()).collect();
    let Some(numbers) = numbers.filter(|numbers| laid_out && !numbers.is_empty()) else {
        return (text, None);
    };
    if numbers.iter().any(|number| (from..=to).contains(number)) {
        return (text, None);
    }
    let remark = format!(
        "its page numbers are the file's own, not pages {from} to {to} of {}, so they were not used; put marks such as [p. {from}] where its pages begin",
        reference.name()
    );
    let without = MarkedText {
        text: text.text.clone().with_pages(Pages::default()),
        ..text
    };
    (without, Some(remark))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::references::tests::reference;
    use crate::text::{ByteRange, PageLabel, PageStart, Text};

    #[test]
    fn pages_beside_the_reference_are_dropped_from_packages_only() {
        let package = Origin::Package {
            parts: Vec::new(),
            pieces: Vec::new(),
            calls: Vec::new(),
        };
        let known = reference("k", "Harrow, A.", Some(2014), "Lamps");
        for (label, origin, kept) in [
            ("1", package.clone(), false),
            ("113", package.clone(), true),
            ("iv", package, true),
            ("1", Origin::Recoded, true),
        ] {
            let start = PageStart {
                label: PageLabel::new(label),
                mark: ByteRange::of(0, 0),
            };
            let text = Text::new(
                "Lamps".to_owned(),
                Vec::new(),
                Pages::new(vec![start]),
                origin,
            );
            let range = |_: &Reference| Some((113, 129));
            let (text, reported) = without_own_pages(MarkedText::source(text), Some(&known), range);
            assert_eq!(!text.text.pages().is_empty(), kept, "{label}");
            assert_eq!(reported.is_none(), kept, "{label}");
        }
    }
}
