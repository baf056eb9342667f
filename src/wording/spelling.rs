//! British to American spelling.
//!
//! A source may write `colour` and `organise`, a draft `color` and `organize`; the wording is the same. Every stem
//! goes through American spelling first, so the direction is for the machine alone and never shown. A list
//! (`data/spelling.txt`) holds whole words and parts of words; three rules cover the regular endings:
//!
//! - `-ise`, `-isation` and their like become `-ize`, unless the word is spelled with s everywhere (`advise`);
//! - `-yse` becomes `-yze`;
//! - `-lled`, `-lling`, `-ller` lose an l after verbs that American spelling does not double (`travelled`).
//!
//! A change that is no real American word (`trellises` had to be listed) would still be harmless where both texts
//! undergo it; it hurts only when it makes two different words one.

use std::borrow::Cow;
use std::collections::{HashMap, HashSet};
use std::sync::LazyLock;

use aho_corasick::{AhoCorasick, AhoCorasickKind, MatchKind};

struct Rules {
    /// Finds any British part; `american` has its replacement under the same number.
    parts: Option<AhoCorasick>,
    american: Vec<&'static str>,
    words: HashMap<&'static str, &'static str>,
    /// Verbs with a single l in American inflected forms.
    double: HashSet<&'static str>,
    /// Words in -ise and -yse that keep their s.
    keep: HashSet<&'static str>,
}

static RULES: LazyLock<Rules> = LazyLock::new(|| read_rules(include_str!("data/spelling.txt")));

fn read_rules(text: &'static str) -> Rules {
    let (mut british, mut american) = (Vec::new(), Vec::new());
    let (mut words, mut double, mut keep) = (HashMap::new(), HashSet::new(), HashSet::new());
    for line in text.lines().filter(|line| !line.starts_with('#')) {
        let mut fields = line.split_whitespace();
        let kind = fields.next();
        match kind {
            Some("double") => double.extend(fields),
            Some("keep") => keep.extend(fields),
            _ => {
                if let (Some(from), Some(to)) = (fields.next(), fields.next()) {
                    if kind == Some("word") {
                        words.insert(from, to);
                    } else {
                        british.push(from);
                        american.push(to);
                    }
                }
            }
        }
    }
    // Words are short and many: the fastest automaton to run, though not the smallest.
    let builder = AhoCorasick::builder()
        .kind(Some(AhoCorasickKind::DFA))
        .match_kind(MatchKind::LeftmostLongest)
        .clone();
    let parts = builder.build(&british).ok();
    Rules {
        parts,
        american,
        words,
        double,
        keep,
    }
}

/// The American spelling of a word in normal form; the word itself when it has no other spelling.
pub(crate) fn american(normal: &str) -> Cow<'_, str> {
    if let Some(american) = RULES.words.get(normal) {
        return Cow::Borrowed(american);
    }
    let word = respell_parts(normal);
    match respell_ending(&word) {
        Some(changed) => Cow::Owned(changed),
        None => word,
    }
}

fn respell_parts(word: &str) -> Cow<'_, str> {
    match &RULES.parts {
        Some(parts) if parts.is_match(word) => Cow::Owned(parts.replace_all(word, &RULES.american)),
        _ => Cow::Borrowed(word),
    }
}

const ISE: [&str; 10] = [
    "isational",
    "isations",
    "isation",
    "isable",
    "isers",
    "ising",
    "ised",
    "iser",
    "ises",
    "ise",
];
const YSE: [&str; 6] = ["ysing", "ysers", "ysed", "yser", "yses", "yse"];
const LED: [&str; 5] = ["lings", "ling", "lers", "led", "ler"];
const PREFIXES: [&str; 8] = ["", "un", "re", "dis", "mis", "over", "pre", "out"];

fn respell_ending(word: &str) -> Option<String> {
    // All the endings end in one of these; most words end here.
    if !matches!(
        word.as_bytes().last(),
        Some(b'e' | b's' | b'd' | b'g' | b'r' | b'l' | b'n')
    ) {
        return None;
    }
    let last = word.rsplit('-').next().unwrap_or(word);
    let with = |base: &str, middle: &str, rest: &str| {
        let head = word.len() - last.len() + base.len();
        // `base` is a prefix of `last`, which is a suffix of `word`: `head` is a boundary inside it.
        word.get(..head).map(|head| [head, middle, rest].concat())
    };
    for ending in ISE {
        if let Some(base) = last.strip_suffix(ending) {
            if base.chars().count() < 3 || keeps_s(base) {
                return None;
            }
            return with(base, "iz", ending.get(2..).unwrap_or(""));
        }
    }
    for ending in YSE {
        if let Some(base) = last
            .strip_suffix(ending)
            .filter(|base| base.chars().count() >= 4)
        {
            return with(base, "yz", ending.get(2..).unwrap_or(""));
        }
    }
    for ending in LED {
        if let Some(base) = last
            .strip_suffix(ending)
            .filter(|base| RULES.double.contains(base))
        {
            return with(base, "", ending.get(1..).unwrap_or(""));
        }
    }
    None
}

fn keeps_s(base: &str) -> bool {
    let lemma = [base, "ise"].concat();
    let listed = |prefix| {
        lemma
            .strip_prefix(prefix)
            .is_some_and(|rest| RULES.keep.contains(rest))
    };
    lemma.ends_with("wise") || PREFIXES.into_iter().any(listed)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn british_spelling_becomes_american() {
        assert_eq!(american("behavioural"), "behavioral");
        assert_eq!(american("organisation"), "organization");
        assert_eq!(american("surprise"), "surprise");
    }

    const PAIRS: [(&str, &str); 72] = [
        ("colour", "color"),
        ("colours", "colors"),
        ("colourful", "colorful"),
        ("discoloured", "discolored"),
        ("behaviour", "behavior"),
        ("behavioural", "behavioral"),
        ("favourable", "favorable"),
        ("neighbourhood", "neighborhood"),
        ("labour", "labor"),
        ("organise", "organize"),
        ("organised", "organized"),
        ("organising", "organizing"),
        ("organisation", "organization"),
        ("organisational", "organizational"),
        ("hypothesised", "hypothesized"),
        ("realise", "realize"),
        ("ionising", "ionizing"),
        ("recognisable", "recognizable"),
        ("summarises", "summarizes"),
        ("analyse", "analyze"),
        ("analysed", "analyzed"),
        ("analysing", "analyzing"),
        ("paralysed", "paralyzed"),
        ("centre", "center"),
        ("centres", "centers"),
        ("centred", "centered"),
        ("epicentre", "epicenter"),
        ("theatre", "theater"),
        ("kilometres", "kilometers"),
        ("litre", "liter"),
        ("fibre", "fiber"),
        ("manoeuvring", "maneuvering"),
        ("travelled", "traveled"),
        ("travelling", "traveling"),
        ("traveller", "traveler"),
        ("modelling", "modeling"),
        ("labelled", "labeled"),
        ("signalling", "signaling"),
        ("cancelled", "canceled"),
        ("grey", "gray"),
        ("greyish", "grayish"),
        ("defence", "defense"),
        ("offences", "offenses"),
        ("licence", "license"),
        ("practised", "practiced"),
        ("programme", "program"),
        ("programmes", "programs"),
        ("fulfil", "fulfill"),
        ("fulfilment", "fulfillment"),
        ("enrolment", "enrollment"),
        ("skilful", "skillful"),
        ("sceptic", "skeptic"),
        ("sceptical", "skeptical"),
        ("scepticism", "skepticism"),
        ("mould", "mold"),
        ("ploughed", "plowed"),
        ("catalogue", "catalog"),
        ("catalogued", "cataloged"),
        ("analogue", "analog"),
        ("paediatric", "pediatric"),
        ("oestrogen", "estrogen"),
        ("foetal", "fetal"),
        ("anaemia", "anemia"),
        ("haemoglobin", "hemoglobin"),
        ("archaeology", "archeology"),
        ("aluminium", "aluminum"),
        ("tyre", "tire"),
        ("sulphur", "sulfur"),
        ("sulphate", "sulfate"),
        ("artefacts", "artifacts"),
        ("judgement", "judgment"),
        ("ageing", "aging"),
    ];

    #[test]
    fn british_becomes_american_and_american_stays() {
        for (british, american_word) in PAIRS {
            assert_eq!(american(british), american_word);
            assert_eq!(american(american_word), american_word);
        }
    }

    #[test]
    fn words_spelled_alike_everywhere_stay() {
        let same = [
            "advise",
            "advised",
            "adviser",
            "advisable",
            "exercise",
            "exercises",
            "promise",
            "promising",
            "rise",
            "rising",
            "arising",
            "surprise",
            "surprisingly",
            "unsurprising",
            "wise",
            "likewise",
            "otherwise",
            "comprise",
            "compromise",
            "revised",
            "supervise",
            "televised",
            "enterprise",
            "franchise",
            "disguise",
            "precise",
            "imprecise",
            "expertise",
            "noise",
            "raise",
            "praise",
            "premises",
            "crises",
            "trellises",
            "programmed",
            "programmer",
            "hour",
            "contour",
            "four",
            "pour",
            "tour",
            "acre",
            "massacre",
            "geyser",
            "called",
            "filling",
            "smaller",
            "controlled",
            "excelled",
            "symmetry",
            "geometry",
            "academic",
            "poem",
            "phoenix",
            "greyhound",
            "sombrero",
            "dialogue",
            "science",
            "fence",
            "",
            "é",
            "ise",
            "-ise",
        ];
        for word in same {
            assert_eq!(american(word), word);
        }
    }

    #[test]
    fn the_change_is_done_in_one_step() {
        for line in include_str!("data/spelling.txt").lines() {
            let mut fields = line.split_whitespace();
            if matches!(fields.next(), Some("part" | "word")) {
                for word in fields {
                    let once = american(word).into_owned();
                    assert_eq!(american(&once), once, "{word}");
                }
            }
        }
    }
}
