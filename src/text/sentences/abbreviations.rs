//! Short forms whose full stop need not end a sentence, and how far each reaches.

/// What has to follow for the full stop of a short form not to end the sentence.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Reach {
    /// Not a short form.
    None,
    /// Never an end: `Dr.`, `e.g.`, `cf.`
    Always,
    /// No end before a number or a label: `Fig. 3`, `p. xiv`, `App. B`.
    Number,
    /// An end only before a capital letter: `etc.`, `et al.`, `Jan.`
    SmallLetter,
    /// An end only before a word that often begins a sentence, since names follow: `U.S. Forest`,
    /// `J. Harrow`, `3rd ed. Night Press`.
    Name,
}

/// The reach of the token before a full stop, written without it.
pub(super) fn reach(token: &str) -> Reach {
    let mut letters = token.chars();
    if let (Some(letter), None) = (letters.next(), letters.next()) {
        return match letter {
            _ if letter.is_uppercase() => Reach::Name,
            _ if letter.is_lowercase() => Reach::Number,
            _ => Reach::None,
        };
    }
    if token.len() > 8 || !token.starts_with(char::is_alphabetic) {
        return Reach::None;
    }
    let capital = token.starts_with(char::is_uppercase);
    match token.to_lowercase().as_str() {
        "dr" | "mr" | "mrs" | "ms" | "prof" | "messrs" | "mme" | "mlle" => Reach::Always,
        "rev" | "hon" | "gen" | "col" | "capt" | "lt" | "sgt" | "sen" | "gov" if capital => {
            Reach::Always
        }
        "e.g" | "i.e" | "eg" | "ie" | "cf" | "vs" | "viz" | "approx" | "esp" | "incl" | "excl"
        | "resp" | "q.v" | "s.v" | "i.a" | "a.k.a" | "ca" => Reach::Always,
        "pp" | "fig" | "figs" | "eq" | "eqs" | "no" | "nos" | "nr" | "vol" | "vols" | "ch"
        | "chs" | "chap" | "chaps" | "sec" | "secs" | "sect" | "sects" | "para" | "paras"
        | "nn" | "ll" | "vv" | "pl" | "pls" | "pt" | "pts" | "ref" | "refs" | "bk" | "fol"
        | "ser" | "suppl" | "fl" => Reach::Number,
        "art" | "arts" | "app" | "tab" | "tabs" | "ex" | "exs" | "par" if capital => Reach::Number,
        "etc" | "al" | "jr" | "sr" | "ibid" | "id" | "cit" | "seq" | "ff" | "sp" | "spp" | "cv"
        | "a.m" | "p.m" | "jan" | "feb" | "apr" | "jun" | "jul" | "aug" | "sept" | "oct"
        | "nov" | "dec" => Reach::SmallLetter,
        "mar" | "sep" if capital => Reach::SmallLetter,
        "op" | "loc" => Reach::Always,
        "st" | "mt" | "ed" | "eds" | "trans" | "repr" | "dept" | "univ" | "assoc" | "inc"
        | "ltd" | "corp" | "bros" | "ph.d" | "m.sc" | "b.sc" | "d.phil" => Reach::Name,
        "co" if capital => Reach::Name,
        _ if is_dotted(token) => Reach::Name,
        _ => Reach::None,
    }
}

/// Single letters with full stops between: `U.S`, `J.R`, `b.c.e`.
fn is_dotted(token: &str) -> bool {
    token.contains('.')
        && token
            .split('.')
            .all(|part| part.chars().count() == 1 && part.starts_with(char::is_alphabetic))
}

/// Whether the text after a short form begins with a number or a label: `3`, `IV`, `S2`, `B`.
/// `A` and `I` are words as well, and so is `no`.
pub(super) fn is_number(next: &str, token: &str) -> bool {
    let label = first_word(next);
    if label.starts_with(|c: char| c.is_ascii_digit()) {
        return true;
    }
    let roman = label.chars().all(|c| "IVXLCDM".contains(c));
    let letter = label.starts_with(|c: char| c.is_ascii_uppercase())
        && label.chars().skip(1).all(|c| c.is_ascii_digit());
    let also_word = label == "A" || label == "I";
    token.chars().count() > 1
        && !token.eq_ignore_ascii_case("no")
        && !also_word
        && !label.is_empty()
        && (roman || letter)
}

/// The letters and digits a text begins with; empty where a full stop follows (`A. Harrow`).
fn first_word(text: &str) -> &str {
    let end = text
        .find(|c: char| !c.is_alphanumeric())
        .unwrap_or(text.len());
    text.get(..end).unwrap_or_default()
}

/// Whether a text begins with a word that often begins a sentence and is seldom part of a name.
pub(super) fn starts_sentence(text: &str) -> bool {
    let word = first_word(text);
    let behind = text.get(word.len()..).unwrap_or_default();
    !behind.starts_with('.') && STARTERS.split(' ').any(|starter| starter == word)
}

/// Function words and connectives of English. Our own choice.
const STARTERS: &str = "A After Again Against All Also Although Among An And Another Any Are As At Because \
    Before Below Besides Between Both But By Can Compared Consequently Conversely Could \
    Despite Did Do Does During Each Even Every Few Finally First For From Further \
    Furthermore Given Had Has Have He Hence Her Here His How However I If In Indeed Instead \
    Is It Its Later Like Many May Meanwhile More Moreover Most Much My Neither Nevertheless \
    Next No Nonetheless Nor Not Now Of On Once One Only Or Other Others Our Over Overall \
    Perhaps Rather Second Several She Should Similarly Since So Some Still Such That The \
    Their Then There Therefore These They Third This Those Though Thus To Under Unlike Until \
    Was We Were What When Where Whether Which While";

/// Whether a word is a verb of saying in a form that ends a reporting clause.
pub(super) fn is_verb_of_saying(word: &str) -> bool {
    const VERBS: &str = "add added adds answered answers argue argued argues ask asked asks concluded concludes \
        cried exclaimed exclaims noted notes observed observes remarked remarks replied replies \
        said says wonder wondered wonders wrote";
    VERBS.split(' ').any(|verb| verb == word)
}
