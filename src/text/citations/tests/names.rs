//! Names: narrative citations, groups, particles, initials; and brackets that take up a citation.

use super::check;

/// APA 7 sections 8.11 (narrative citations) and 8.17.
#[test]
fn narrative() {
    check(&[
        ("Lindqvist (2014) holds", "~Lindqvist|2014"),
        ("Lindqvist (2014, p. 3) holds", "~Lindqvist|2014|p. 3"),
        ("Lindqvist (2014: 45) holds", "~Lindqvist|2014|45"),
        ("Lindqvist (n.d.) holds", "~Lindqvist|n.d."),
        ("Lindqvist (in press) holds", "~Lindqvist|in press"),
        (
            "Lindqvist (2014, 2016) holds",
            "~Lindqvist|2014; Lindqvist|2016",
        ),
        (
            "Lindqvist (2019a, b) holds",
            "~Lindqvist|2019a; Lindqvist|2019b",
        ),
        (
            "Lindqvist and Okoro (2014, p. 3)",
            "~Lindqvist&Okoro|2014|p. 3",
        ),
        ("Lindqvist & Okoro (2014)", "~Lindqvist&Okoro|2014"),
        (
            "Lindqvist, Okoro, and Vane (2014)",
            "~Lindqvist&Okoro&Vane|2014",
        ),
        (
            "by Lindqvist, Okoro and Vane (2014)",
            "~Lindqvist&Okoro&Vane|2014",
        ),
        ("Lindqvist et al. (2014) hold", "~Lindqvist+|2014"),
        ("Lindqvist et al.’s (2014) study", "~Lindqvist+|2014"),
        ("Lindqvist and colleagues (2014)", "~Lindqvist+|2014"),
        ("Lindqvist's (2014) study", "~Lindqvist|2014"),
        ("Lindqvist’s (2014) study", "~Lindqvist|2014"),
        ("Harrows’ (2014) study", "~Harrows|2014"),
        ("A. Harrow (2019a) holds", "~A. Harrow|2019a"),
        ("as A. B. Harrow (2019) holds", "~A. B. Harrow|2019"),
        ("as J.-P. Harrow (2019) holds", "~J.-P. Harrow|2019"),
        ("as Ada B. Harrow (2019) holds", "~Ada B. Harrow|2019"),
        ("as Ada Harrow (2019) holds", "~Ada Harrow|2019"),
        (
            "in Ada Lindqvist’s Night Lamps (1998)",
            "~Ada Lindqvist|1998",
        ),
        (
            "the Women’s Lamp Institute (2014)",
            "~Women’s Lamp Institute|2014",
        ),
        ("the Lindqvist (2014) data", "~Lindqvist|2014"),
        ("In Lindqvist (2014) it is", "~Lindqvist|2014"),
        ("However, Lindqvist (2014) holds", "~Lindqvist|2014"),
        ("As Lindqvist (2014) holds", "~Lindqvist|2014"),
        (
            "Both Lindqvist and Okoro (2014) hold",
            "~Lindqvist&Okoro|2014",
        ),
        ("In Harrow, Lindqvist (2014) found", "~Lindqvist|2014"),
        (
            "In Sweden, Lindqvist and Okoro (2014) found",
            "~Lindqvist&Okoro|2014",
        ),
        (
            "In Sweden, Lindqvist et al. (2014) found",
            "~Lindqvist+|2014",
        ),
        ("Following Lindqvist (2014), we", "~Lindqvist|2014"),
        ("Recently Okoro (2015) held", "~Okoro|2015"),
        ("Dr. Lindqvist (2014) holds", "~Lindqvist|2014"),
        ("Professor Lindqvist (2014) holds", "~Lindqvist|2014"),
        ("It ends. Lindqvist (2014) holds", "~Lindqvist|2014"),
        (
            "Lindqvist (2014) and Okoro (2015) hold",
            "~Lindqvist|2014 / ~Okoro|2015",
        ),
        ("(see Lindqvist (2014) for more)", "~Lindqvist|2014"),
        ("(for a review, see Lindqvist [2014])", "~Lindqvist|2014"),
        ("Vane (1898/2014) holds", "~Vane|1898/2014=2014"),
        ("Vane ([1898] 2014) holds", "~Vane|[1898] 2014=2014"),
        (
            "Vane (1998, as cited in Okoro, 2014)",
            "~Vane|1998; as cited in>Okoro|2014",
        ),
        ("He et al. (2014) hold", "~He+|2014"),
    ]);
}

/// Common practice of author-date styles: the year after the quotation, the name before it. Without
/// a locator the year may as well be that of a work named in quotation marks.
#[test]
fn narrative_around_a_quotation() {
    check(&[
        (
            "Lindqvist holds that “lamps fail” (2014, p. 3).",
            "~Lindqvist|2014|p. 3",
        ),
        (
            "Lindqvist and Okoro write, “Lamps fail” (2014: 45).",
            "~Lindqvist&Okoro|2014|45",
        ),
        (
            "In Sweden, Lindqvist says: \"Lamps fail\" (2014, p. 3).",
            "~Lindqvist|2014|p. 3",
        ),
        ("Lindqvist wrote “Night Lamps” (2014).", ""),
        ("It says that “lamps fail” (2014, p. 3).", ""),
        ("Lindqvist came. It says “lamps fail” (2014, p. 3).", ""),
    ]);
}

/// APA 7 sections 8.20 (namesakes: initials) and 9.7 to 9.8 (particles, suffixes).
#[test]
fn personal_names() {
    check(&[
        ("(van der Berg, 2014)", "van der Berg|2014"),
        ("(de Souza & al-Amin, 2014)", "de Souza&al-Amin|2014"),
        ("(O'Neil, 2014; O’Hara, 2015)", "O'Neil|2014; O’Hara|2015"),
        ("(d’Arco, 2014)", "d’Arco|2014"),
        ("(MacHarrow, 2014)", "MacHarrow|2014"),
        ("(Okoro-Vane, 2014)", "Okoro-Vane|2014"),
        ("(Ödegård & Çelik, 2014)", "Ödegård&Çelik|2014"),
        ("(St. Harrow, 2014)", "St. Harrow|2014"),
        ("(A. Harrow, 2019)", "A. Harrow|2019"),
        (
            "(A. Harrow & B. C. Okoro, 2019)",
            "A. Harrow&B. C. Okoro|2019",
        ),
        ("(Harrow, A., 2019)", "A. Harrow|2019"),
        ("(Harrow, A., & Okoro, B., 2019)", "A. Harrow&B. Okoro|2019"),
        ("(Harrow Jr., 2019)", "Harrow|2019"),
        ("(Harrow, Jr., 2019)", "Harrow|2019"),
        (
            "(Maria de Souza and Okoro, 2014)",
            "Maria de Souza&Okoro|2014",
        ),
        ("(He, 2014)", "He|2014"),
        ("(May & Okoro, 2014)", "May&Okoro|2014"),
        ("(E. May, 2014)", "E. May|2014"),
        ("May et al. (2014) hold", "~May+|2014"),
        ("(Page, 2014; Day & Lane, 2015)", "Page|2014; Day&Lane|2015"),
        ("as Page (2014) holds", "~Page|2014"),
        ("(王, 2014)", "王|2014"),
        ("van der Berg (2014) holds", "~van der Berg|2014"),
        ("as al-Amin (2014) holds", "~al-Amin|2014"),
    ]);
}

/// APA 7 sections 8.21 (groups and their short forms), 8.14 (works without author).
#[test]
fn groups_and_titles() {
    check(&[
        (
            "(Department of Transport, 2018)",
            "Department of Transport|2018",
        ),
        (
            "(National Lamp Survey [NLS], 2019)",
            "National Lamp Survey|2019",
        ),
        ("(NLS, 2019)", "NLS|2019"),
        ("(The Lamp Trust, 2018)", "Lamp Trust|2018"),
        (
            "(Office of the Lamp Registrar, 2018)",
            "Office of the Lamp Registrar|2018",
        ),
        (
            "(Department of Light and Roads, 2018)",
            "Department of Light and Roads|2018",
        ),
        (
            "(National Light and Roads Authority, 2018)",
            "National Light and Roads Authority|2018",
        ),
        (
            "(Lindqvist and Harrow Institute, 2018)",
            "Lindqvist&Harrow Institute|2018",
        ),
        (
            "the Department of Transport (2018)",
            "~Department of Transport|2018",
        ),
        (
            "the National Lamp Survey (2019)",
            "~National Lamp Survey|2019",
        ),
        (
            "the National Lamp Survey (NLS, 2019)",
            "~National Lamp Survey|2019",
        ),
        ("the old survey (NLS, 2019)", "NLS|2019"),
        ("in the view of Lindqvist (2014)", "~Lindqvist|2014"),
        ("the View of Lindqvist (2014)", "~Lindqvist|2014"),
        ("(“Night Lamps,” 2019)", "Night Lamps|2019"),
        ("(\"Night Lamps\", 2019)", "Night Lamps|2019"),
        ("(Lighting Act, 2003)", "Lighting Act|2003"),
    ]);
}

/// APA 7 sections 8.25 and 8.27: the page after the quotation, the names before it. *Ibid.*: common
/// practice.
#[test]
fn taken_up_later() {
    check(&[
        (
            "Lindqvist (2014) holds that “lamps fail” (p. 3).",
            "~Lindqvist|2014 / Lindqvist|2014|p. 3",
        ),
        (
            "Lindqvist (2014) holds so. It says “lamps fail” (pp. 3–4).",
            "~Lindqvist|2014 / Lindqvist|2014|pp. 3–4",
        ),
        (
            "Lindqvist (2014) holds so. All is dark. It says “lamps fail” (p. 3).",
            "~Lindqvist|2014",
        ),
        (
            "Lindqvist (2014) holds: “Lamps fail. Moths come. None stay.” (p. 3)",
            "~Lindqvist|2014 / Lindqvist|2014|p. 3",
        ),
        (
            "Lindqvist (2014) holds that lamps fail (para. 3).",
            "~Lindqvist|2014 / Lindqvist|2014|para. 3",
        ),
        (
            "Lindqvist (2014) holds that “lamps fail” (14).",
            "~Lindqvist|2014 / Lindqvist|2014|14",
        ),
        ("Lindqvist (2014) counted lamps (14).", "~Lindqvist|2014"),
        (
            "Lindqvist (2014) holds that “lamps fail” (1998).",
            "~Lindqvist|2014",
        ),
        (
            "Lindqvist (2014) counted lamps (Table 3).",
            "~Lindqvist|2014",
        ),
        ("Lindqvist (2014) is of use (see p. 12).", "~Lindqvist|2014"),
        ("It holds that “lamps fail” (p. 3).", ""),
        (
            "so (Lindqvist, 2014). More (ibid., p. 4), and (ibid.).",
            "Lindqvist|2014 / Lindqvist|2014|p. 4 / Lindqvist|2014|p. 4",
        ),
        (
            "@harrow2019a holds that “lamps fail” (p. 3).",
            "~key:harrow2019a / key:harrow2019a||p. 3",
        ),
    ]);
}
