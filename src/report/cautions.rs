//! What a reader should bear in mind with every report. Said once here, printed where it is needed.

/// The cautions for the foot of a report.
pub(super) const CAUTIONS: [&str; 4] = [
    "A finding is a place to look at, not a judgement about a person.",
    "Close wording has innocent causes: fixed terms, learning a field's language, writing in a second language.",
    "The thresholds are common practice and our own measurements, not any institution's rule; what counts as misconduct is decided by people, under the institution's own policy.",
    "Only the stored sources and notes were compared, so a report without findings is no clearance.",
];

/// Those for rewrites of one passage, where no stored sources were compared.
pub(super) fn of_one_passage() -> &'static [&'static str] {
    let [wording @ .., _stored] = &CAUTIONS;
    wording
}
