//! Citations that stand in a bracket, family by family.

use super::check;

/// APA 7 sections 8.11 (form), 8.12 (several works), 8.13 (parts), 8.17 (numbers of authors); Chicago
/// 17 section 15.22 for the form without comma.
#[test]
fn author_and_year() {
    check(&[
        ("so (Lindqvist, 2014).", "Lindqvist|2014"),
        ("so (Lindqvist 2014).", "Lindqvist|2014"),
        ("so ( Lindqvist,\n2014 ).", "Lindqvist|2014"),
        ("(Lindqvist & Okoro, 2014)", "Lindqvist&Okoro|2014"),
        ("(Lindqvist and Okoro 2014)", "Lindqvist&Okoro|2014"),
        ("(Lindqvist und Okoro 2014)", "Lindqvist&Okoro|2014"),
        ("(Lindqvist et Okoro, 2014)", "Lindqvist&Okoro|2014"),
        ("(Lindqvist y Okoro, 2014)", "Lindqvist&Okoro|2014"),
        ("(Lindqvist og Okoro, 2014)", "Lindqvist&Okoro|2014"),
        (
            "(Lindqvist, Okoro, & Vane, 2014)",
            "Lindqvist&Okoro&Vane|2014",
        ),
        (
            "(Lindqvist, Okoro and Vane 2014)",
            "Lindqvist&Okoro&Vane|2014",
        ),
        (
            "(Lindqvist, Okoro, Vane, 2014)",
            "Lindqvist&Okoro&Vane|2014",
        ),
        ("(Lindqvist et al., 2014)", "Lindqvist+|2014"),
        ("(Lindqvist et al. 2014)", "Lindqvist+|2014"),
        ("(Lindqvist et al 2014)", "Lindqvist+|2014"),
        ("(Lindqvist, Okoro, et al., 2014)", "Lindqvist&Okoro+|2014"),
        ("(Lindqvist u. a. 2014)", "Lindqvist+|2014"),
        ("(Lindqvist et coll., 2014)", "Lindqvist+|2014"),
        ("(Lindqvist m.fl. 2014)", "Lindqvist+|2014"),
        (
            "(Lindqvist, 2014; Okoro & Vane, 2019)",
            "Lindqvist|2014; Okoro&Vane|2019",
        ),
        (
            "(Lindqvist, 2014; Okoro & Vane, 2019a, 2019b, pp. 3–4)",
            "Lindqvist|2014; Okoro&Vane|2019a; Okoro&Vane|2019b|pp. 3–4",
        ),
        ("(Lindqvist, 2014, 2016)", "Lindqvist|2014; Lindqvist|2016"),
        (
            "(Lindqvist 2014 and 2016)",
            "Lindqvist|2014; Lindqvist|2016",
        ),
        ("(Lindqvist 2014; 2016)", "Lindqvist|2014; Lindqvist|2016"),
        ("(Lindqvist 2019a, b)", "Lindqvist|2019a; Lindqvist|2019b"),
        (
            "(Lindqvist 2019a–c)",
            "Lindqvist|2019a; Lindqvist|2019b; Lindqvist|2019c",
        ),
        ("(Lindqvist 2014, Okoro 2015)", "Lindqvist|2014; Okoro|2015"),
        (
            "(Lindqvist 2014 and Okoro 2015)",
            "Lindqvist|2014; Okoro|2015",
        ),
        ("[Lindqvist, 2014]", "Lindqvist|2014"),
        (
            "[Lindqvist & Okoro, 2014, p. 3]",
            "Lindqvist&Okoro|2014|p. 3",
        ),
    ]);
}

/// APA 7 sections 8.15 (republished works), 8.19 (same author and year), 8.14 and 9.46 (no date, in
/// press).
#[test]
fn years() {
    check(&[
        ("(Lindqvist, 2019a)", "Lindqvist|2019a"),
        ("(Lindqvist, n.d.)", "Lindqvist|n.d."),
        ("(Lindqvist, n.d.-a)", "Lindqvist|n.d.-a"),
        ("(Lindqvist n.d., p. 3)", "Lindqvist|n.d.|p. 3"),
        ("(Lindqvist, o. J.)", "Lindqvist|o. J."),
        ("(Lindqvist, in press)", "Lindqvist|in press"),
        ("(Lindqvist, in press-b)", "Lindqvist|in press-b"),
        ("(Lindqvist, forthcoming)", "Lindqvist|forthcoming"),
        ("(Vane, 1898/2014)", "Vane|1898/2014=2014"),
        ("(Vane 2014/1998)", "Vane|2014/1998"),
        ("(Vane [1898] 2014, 45)", "Vane|[1898] 2014=2014|45"),
        ("(Vane 2014 [1898])", "Vane|2014 [1898]"),
        ("(Vane, ca. 1450)", "Vane|ca. 1450=1450"),
        ("(Vane, 1959–1963)", "Vane|1959–1963"),
        ("(Vane, 1920–1984)", ""),
        ("(Vane, 1204)", "Vane|1204"),
        ("(Vane 1204)", "page:Vane||1204"),
    ]);
}

/// APA 7 sections 8.11 (prefixes such as *see*) and 8.6 (secondary sources).
#[test]
fn prefixes() {
    check(&[
        ("(see Lindqvist, 2014)", "see>Lindqvist|2014"),
        ("(See Lindqvist, 2014)", "See>Lindqvist|2014"),
        ("(see also Lindqvist, 2014)", "see also>Lindqvist|2014"),
        ("(cf. Lindqvist, 2014)", "cf.>Lindqvist|2014"),
        ("(e.g., Lindqvist, 2014)", "e.g.>Lindqvist|2014"),
        ("(see, e.g., Lindqvist, 2014)", "see, e.g.>Lindqvist|2014"),
        (
            "(for example Lindqvist, 2014)",
            "for example>Lindqvist|2014",
        ),
        (
            "(for a review, see Lindqvist, 2014)",
            "for a review, see>Lindqvist|2014",
        ),
        ("(but see Lindqvist, 2014)", "but see>Lindqvist|2014"),
        (
            "(Vane, 1998, as cited in Lindqvist, 2014)",
            "Vane|1998; as cited in>Lindqvist|2014",
        ),
        (
            "(quoted in Lindqvist, 2014, p. 3)",
            "quoted in>Lindqvist|2014|p. 3",
        ),
        (
            "(Lindqvist, 2014; see also Okoro, 2015; Vane, 2016)",
            "Lindqvist|2014; see also>Okoro|2015; Vane|2016",
        ),
        (
            "(a table of lamps; see Lindqvist, 2014)",
            "see>Lindqvist|2014",
        ),
        ("(n = 40; Lindqvist, 2014)", "Lindqvist|2014"),
        ("(built for Lindqvist et al., 2014)", "Lindqvist+|2014"),
        ("(Lindqvist, 2014, emphasis added)", "Lindqvist|2014"),
        (
            "(Lindqvist, 2014, p. 3; emphasis in original)",
            "Lindqvist|2014|p. 3",
        ),
    ]);
}

/// APA 7 sections 8.13 and 8.25 to 8.28; Chicago 17 section 15.23 for `2014, 45` and `2:345`.
#[test]
fn locators() {
    check(&[
        ("(Lindqvist, 2014, p. 12)", "Lindqvist|2014|p. 12"),
        ("(Lindqvist, 2014, p.12)", "Lindqvist|2014|p.12"),
        ("(Lindqvist, 2014, pp. 12–14)", "Lindqvist|2014|pp. 12–14"),
        ("(Lindqvist 2014 p. 12)", "Lindqvist|2014|p. 12"),
        ("(Lindqvist 2014: 45)", "Lindqvist|2014|45"),
        ("(Lindqvist 2014:45-47)", "Lindqvist|2014|45-47"),
        ("(Lindqvist 2014, 45)", "Lindqvist|2014|45"),
        ("(Lindqvist 2014, 45, 52–3)", "Lindqvist|2014|45, 52–3"),
        ("(Lindqvist 2014, 2:345)", "Lindqvist|2014|2:345"),
        ("(Lindqvist 2014, 1503–1510)", "Lindqvist|2014|1503–1510"),
        ("(Lindqvist, 2014, para. 4)", "Lindqvist|2014|para. 4"),
        ("(Lindqvist, 2014, ¶ 4)", "Lindqvist|2014|¶ 4"),
        ("(Lindqvist, 2014, chap. 3)", "Lindqvist|2014|chap. 3"),
        (
            "(Lindqvist, 2014, ch. 3, p. 5)",
            "Lindqvist|2014|ch. 3, p. 5",
        ),
        ("(Lindqvist, 2014, sec. 2)", "Lindqvist|2014|sec. 2"),
        ("(Lindqvist, 2014, § 2)", "Lindqvist|2014|§ 2"),
        ("(Lindqvist, 2014, Table 2)", "Lindqvist|2014|Table 2"),
        ("(Lindqvist, 2014, Fig. 3)", "Lindqvist|2014|Fig. 3"),
        ("(Lindqvist 2014, n. 4)", "Lindqvist|2014|n. 4"),
        ("(Lindqvist 2014, 45n4)", "Lindqvist|2014|45n4"),
        ("(Lindqvist 2014, S. 12 f.)", "Lindqvist|2014|S. 12 f."),
        ("(Lindqvist, 2014, 0:24)", "Lindqvist|2014|0:24"),
        ("(Lindqvist 2014 at 45)", "Lindqvist|2014|45"),
        (
            "(Lindqvist, 2014, p. 3, 2015, p. 4)",
            "Lindqvist|2014|p. 3; Lindqvist|2015|p. 4",
        ),
        (
            "(Lindqvist 2014: 45; Okoro 2015: 3)",
            "Lindqvist|2014|45; Okoro|2015|3",
        ),
    ]);
}

/// MLA 9 sections 6.3 to 6.9 (author and page, short titles, several works).
#[test]
fn author_and_page() {
    check(&[
        ("so (Lindqvist 14).", "page:Lindqvist||14"),
        ("(Lindqvist 14–16)", "page:Lindqvist||14–16"),
        ("(Lindqvist and Okoro 14-16)", "page:Lindqvist&Okoro||14-16"),
        ("(Lindqvist et al. 14)", "page:Lindqvist+||14"),
        ("(Lindqvist 14, 23)", "page:Lindqvist||14, 23"),
        (
            "(Lindqvist, “Night Lamps” 14)",
            "page:Lindqvist, Night Lamps||14",
        ),
        (
            "(Lindqvist, Night Lamps 14)",
            "page:Lindqvist, Night Lamps||14",
        ),
        ("(“Night Lamps” 14)", "page:Night Lamps||14"),
        ("(Lindqvist 14; Okoro 3)", "page:Lindqvist||14; Okoro||3"),
        ("(see Lindqvist 14)", "page:see>Lindqvist||14"),
        ("(qtd. in Lindqvist 14)", "page:qtd. in>Lindqvist||14"),
        ("(van der Berg 14)", "page:van der Berg||14"),
        ("(A. Harrow 14)", "page:A. Harrow||14"),
        ("(Lindqvist, p. 14)", "page:Lindqvist||p. 14"),
        ("(Lindqvist, pp. 14–16)", "page:Lindqvist||pp. 14–16"),
        ("(Lindqvist, para. 4)", "page:Lindqvist||para. 4"),
    ]);
}

/// Common practice of numbered styles (Vancouver, IEEE).
#[test]
fn numbers() {
    check(&[
        ("so [12].", "num:12"),
        ("so [3-5].", "num:3; 4; 5"),
        ("so [3–5].", "num:3; 4; 5"),
        ("so [3, 7, 9–11].", "num:3; 7; 9; 10; 11"),
        ("so [3;7].", "num:3; 7"),
        ("so [12, p. 4].", "num:12||p. 4"),
        ("so [3, 12, pp. 4–5].", "num:3; 12||pp. 4–5"),
        ("so [12: 45].", "num:12||45"),
        ("lamps[12] and moths[13]", "num:12 / num:13"),
    ]);
}

/// Pandoc user's guide, "Citation syntax".
#[test]
fn keys() {
    check(&[
        ("so [@harrow2019a].", "key:harrow2019a"),
        ("so [@harrow2019a, p. 12].", "key:harrow2019a||p. 12"),
        ("so [@harrow2019a 12].", "key:harrow2019a||12"),
        (
            "so [@o\u{308}de\u{301}n2019].",
            "key:o\u{308}de\u{301}n2019",
        ),
        ("so [see @a, pp. 3-4; @b].", "key:see>a||pp. 3-4; b"),
        (
            "so [see also @a; cf. @b, chap. 2].",
            "key:see also>a; cf.>b||chap. 2",
        ),
        ("Harrow holds [-@a, 12].", "key:a||12"),
        ("so [@a, p. 3; emphasis added].", "key:a||p. 3"),
        ("so [@{key with:odd}, p. 3].", "key:key with:odd||p. 3"),
        ("so [@a{ii, iv}, on lamps].", "key:a||ii, iv"),
        ("so [@a, {pp. 3} as ever].", "key:a||pp. 3"),
        ("@harrow2019a holds", "~key:harrow2019a"),
        ("@harrow2019a [p. 12] holds", "~key:harrow2019a||p. 12"),
        (
            "@harrow2019a [12, my italics] holds",
            "~key:harrow2019a||12",
        ),
        ("as @{key with:odd} holds", "~key:key with:odd"),
        (
            "as @harrow2019a, @okoro_b.",
            "~key:harrow2019a / ~key:okoro_b",
        ),
        ("as @harrow:lamps.2 holds.", "~key:harrow:lamps.2"),
        ("as (see @a) holds", "~key:a"),
        ("as -@a [p. 3] holds", "~key:a||p. 3"),
        ("write to a@b.org or x.y@b.org", ""),
        ("see @fig-lamps and @tbl:sites", ""),
        ("lamps @ 40 lux, @, @@", ""),
        ("@a--b", "~key:a"),
    ]);
}
