//! The words that distinguish a name from what merely looks like one. Each list is sorted, in small
//! letters; they are common practice, collected from the look-alikes in the tests.

/// Whether a word stands in one of the lists below, in whatever case.
pub(super) fn listed(list: &[&str], word: &str) -> bool {
    // The longest entry has fewer bytes; this keeps a huge word from being copied.
    if word.len() > 24 {
        return false;
    }
    let word = word.to_lowercase();
    list.binary_search(&word.as_str()).is_ok()
}

/// Months, their usual short forms, seasons and weekdays, and what stands before them: dates, not
/// authors unless in company (`May & Okoro`).
#[rustfmt::skip]
pub(super) const DATES: &[&str] = &[
    "apr", "april", "aug", "august", "autumn", "dec", "december", "early", "fall", "feb",
    "february", "friday", "jan", "january", "jul", "july", "jun", "june", "late", "mar", "march",
    "may", "mid", "monday", "nov", "november", "oct", "october", "saturday", "sep", "sept",
    "september", "spring", "summer", "sunday", "thursday", "tuesday", "wednesday", "winter",
];

/// Words that begin a sentence or a remark, and titles before a name. Never part of a personal name.
#[rustfmt::skip]
pub(super) const FUNCTION: &[&str] = &[
    "a", "about", "above", "according", "across", "adapted", "admittedly", "after", "again",
    "against", "all", "almost", "along", "already", "also", "although", "among", "an", "and",
    "another", "any", "are", "around", "as", "at", "author", "authors", "based", "because",
    "before", "behind", "being", "below", "beside", "besides", "between", "beyond", "both", "but",
    "by", "can", "cf", "cfr", "citing", "clearly", "compare", "compared", "consider", "contra",
    "contrary", "could", "despite", "did", "do", "does", "dr", "during", "each", "earlier",
    "editor", "editors", "either", "else", "especially", "even", "ever", "every", "few", "finally",
    "first", "following", "for", "from", "further", "furthermore", "given", "had", "has", "have",
    "having", "he", "hence", "her", "here", "his", "how", "however", "i", "if", "in", "indeed",
    "initially", "instead", "into", "is", "it", "its", "jfr", "just", "katso", "ks", "last",
    "lastly", "later", "less", "like", "likewise", "many", "meanwhile", "miss", "more", "moreover",
    "most", "mr", "mrs", "ms", "much", "my", "namely", "nearly", "neither", "never", "nevertheless",
    "next", "no", "nonetheless", "nor", "not", "notably", "note", "now", "of", "off", "often", "on",
    "once", "one", "only", "or", "originally", "other", "others", "otherwise", "our", "over",
    "pace", "particularly", "per", "perhaps", "previously", "prof", "professor", "quoted",
    "quoting", "rather", "recent", "recently", "regarding", "same", "second", "see", "seen",
    "several", "she", "should", "siehe", "similarly", "since", "sir", "so", "some", "still",
    "subsequently", "such", "than", "that", "the", "their", "them", "then", "there", "thereby",
    "therefore", "these", "they", "third", "this", "those", "though", "three", "through",
    "throughout", "thus", "to", "together", "too", "two", "under", "unlike", "until", "upon",
    "using", "vedi", "vgl", "via", "vid", "voir", "véase", "was", "we", "were", "what", "when",
    "whenever", "where", "whereas", "whether", "which", "while", "who", "whose", "why", "will",
    "with", "within", "without", "would", "yet", "you", "your", "zie",
];

/// Function words that are surnames too. They count as names where a comma and a year, or *et al.*,
/// follow.
pub(super) const SURNAMES_TOO: &[&str] = &["an", "do", "he", "more", "so", "still", "will", "you"];

/// Parts of documents: never an author.
#[rustfmt::skip]
pub(super) const PARTS: &[&str] = &[
    "annex", "app", "appendix", "apps", "chap", "chapter", "chapters", "clause", "col", "column",
    "diagram", "edition", "eq", "equation", "exhibit", "fig", "figs", "figure", "figures",
    "footnote", "image", "issue", "line", "lines", "map", "n", "no", "note", "notes", "nr",
    "number", "p", "pages", "panel", "para", "paragraph", "pp", "ref", "reference", "section",
    "sections", "subsection", "supplement", "tab", "table", "tables", "title", "vol", "volume",
];

/// Things that are numbered. Before a bare number they are not authors (`Day 14`, `Model 2014`), though some
/// are surnames too (`Page, 2014`).
#[rustfmt::skip]
pub(super) const COUNTED: &[&str] = &[
    "act", "age", "aged", "ages", "animal", "area", "article", "back", "band", "base", "batch",
    "bed", "bin", "block", "book", "box", "bus", "camera", "case", "category", "cell", "class",
    "cluster", "code", "condition", "count", "cycle", "day", "days", "decade", "district",
    "division", "era", "error", "event", "example", "exercise", "exp", "experiment", "factor",
    "file", "film", "floor", "form", "frame", "gate", "grade", "grid", "group", "height", "hour",
    "house", "hypothesis", "index", "interview", "item", "key", "lab", "lamp", "lane", "layer",
    "lesson", "letter", "level", "list", "lot", "mean", "median", "method", "mile", "minute",
    "model", "module", "moth", "night", "object", "option", "page", "part", "participant",
    "patient", "period", "phase", "photo", "picture", "plate", "plot", "point", "pole",
    "population", "post", "practice", "problem", "protocol", "psalm", "quadrat", "quarter",
    "question", "range", "rank", "region", "replicate", "resolution", "respondent", "result",
    "results", "road", "room", "round", "route", "row", "rule", "sample", "scale", "scene",
    "scheme", "score", "season", "segment", "series", "session", "set", "site", "sites", "size",
    "slide", "sonnet", "species", "stage", "station", "step", "stop", "stratum", "street", "study",
    "subject", "symbol", "task", "term", "test", "theme", "theorem", "time", "topic", "total",
    "track", "transect", "trap", "treatment", "trial", "tube", "type", "unit", "verse", "version",
    "visit", "ward", "wave", "week", "weeks", "window", "wing", "year", "years", "zone",
];

/// Laws and events that carry a year in their name. With a comma a law may be a citation (APA 7
/// section 11.5, from memory); without one it is only a name.
#[rustfmt::skip]
pub(super) const EVENTS: &[&str] = &[
    "accord", "accords", "act", "acts", "agreement", "amendment", "battle", "bill", "championship",
    "championships", "code", "constitution", "convention", "crisis", "cup", "directive",
    "earthquake", "election", "elections", "festival", "flood", "floods", "games", "hurricane",
    "olympics", "order", "pact", "protocol", "regulation", "regulations", "revolution", "storm",
    "summit", "treaty", "war", "wars",
];

/// Nouns at the heart of a group's name.
#[rustfmt::skip]
pub(super) const GROUP_HEADS: &[&str] = &[
    "academy", "administration", "agency", "alliance", "association", "authority", "bank", "board",
    "bureau", "center", "centre", "church", "club", "college", "commission", "committee", "company",
    "congress", "consortium", "corporation", "council", "court", "department", "directorate",
    "faculty", "federation", "forum", "foundation", "friends", "fund", "government", "group",
    "house", "institut", "institute", "institution", "laboratory", "league", "library", "ministry",
    "museum", "network", "office", "organisation", "organization", "panel", "parliament",
    "partnership", "press", "program", "programme", "project", "registry", "school", "service",
    "services", "society", "survey", "trust", "union", "university",
];

/// Small words inside a group's name.
#[rustfmt::skip]
pub(super) const CONNECTIVES: &[&str] = &[
    "at", "de", "der", "des", "du", "for", "för", "für", "in", "of", "on", "pour", "the", "to",
    "von",
];

/// Small words inside or before a surname.
#[rustfmt::skip]
pub(super) const PARTICLES: &[&str] = &[
    "af", "al", "av", "bin", "bint", "d", "da", "das", "de", "del", "della", "den", "der", "di",
    "dos", "du", "el", "ibn", "la", "las", "le", "los", "st", "te", "ter", "van", "vom", "von",
    "zu", "zum", "zur",
];

/// *And* between names.
#[rustfmt::skip]
pub(super) const ANDS: &[&str] = &[
    "and", "e", "en", "et", "ja", "och", "og", "und", "y",
];

/// *Others* as the end of a list of names: `Lindqvist and colleagues`.
#[rustfmt::skip]
pub(super) const OTHERS: &[&str] = &[
    "Kollegen", "Mitarbeiter", "altri", "andere", "anderen", "andra", "andre", "associates",
    "autres", "co-authors", "co-workers", "coauthors", "col", "colaboradores", "colegas",
    "collaborateurs", "collaborators", "colleagues", "collega's", "colleghi", "collègues", "cols",
    "coworkers", "kolleger", "kollegor", "medarbejdere", "muut", "others", "otros", "outros",
];

/// Nouns for a piece of work that a year may follow: `Strand’s later trial (2020)`.
#[rustfmt::skip]
pub(super) const WORKS: &[&str] = &[
    "account", "analyses", "analysis", "argument", "article", "book", "chapter", "claim", "commentary",
    "concept", "count", "counts", "critique", "data", "definition", "discussion", "dissertation",
    "essay", "estimate", "estimates", "experiment", "experiments", "finding", "findings", "handbook",
    "history", "interviews", "meta-analysis", "model", "monograph", "observation", "observations",
    "overview", "paper", "papers", "proposal", "report", "research", "results", "review", "reviews",
    "studies", "study", "survey", "surveys", "synthesis", "theory", "thesis", "treatise", "trial",
    "trials", "typology", "volume", "work",
];

/// Words before a name that announce a citation.
#[rustfmt::skip]
pub(super) const CUES: &[&str] = &[
    "adapted", "after", "also", "argued", "but", "by", "cf", "cfr", "citado", "cited", "compare",
    "contra", "discussed", "e", "eg", "esp", "especially", "example", "following", "g", "i", "ie",
    "instance", "jf", "jfr", "katso", "ks", "nach", "notably", "pace", "particularly", "per", "qtd",
    "quoted", "reported", "reproduced", "review", "reviewed", "reviews", "see", "shown", "siehe",
    "similarly", "vedi", "ver", "vgl", "vid", "voir", "véase", "zie", "zit", "zitiert",
];

/// Words that may stand between cue words without saying anything by themselves.
#[rustfmt::skip]
pub(super) const LINKS: &[&str] = &[
    "a", "an", "and", "as", "bei", "dans", "details", "discussion", "en", "for", "from", "full",
    "further", "in", "more", "most", "of", "on", "or", "other", "others", "overview", "recent",
    "recently", "similar", "the", "to", "view", "views", "with", "work",
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_are_sorted_and_small() {
        let lists = [
            DATES,
            FUNCTION,
            SURNAMES_TOO,
            PARTS,
            COUNTED,
            EVENTS,
            GROUP_HEADS,
            CONNECTIVES,
            PARTICLES,
            ANDS,
            OTHERS,
            CUES,
            LINKS,
            WORKS,
        ];
        for list in lists {
            for pair in list.windows(2) {
                assert!(pair[0] < pair[1], "{} before {}", pair[0], pair[1]);
            }
            for word in list {
                assert!(
                    word.len() <= 24 && (list == OTHERS || *word == word.to_lowercase()),
                    "{word}"
                );
            }
        }
    }
}
