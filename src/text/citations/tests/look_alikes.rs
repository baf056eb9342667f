//! Brackets that are no citations. Common practice: each is a form seen in learned prose.

use super::check;

#[track_caller]
fn none(texts: &[&str]) {
    let cases: Vec<_> = texts.iter().map(|text| (*text, "")).collect();
    check(&cases);
}

#[test]
fn years_that_date_something_else() {
    none(&[
        "the 2014 survey",
        "it burnt (2014)",
        "It burnt down (2014).",
        "This (2014) was the year",
        "lamps (in 2014) failed",
        "lamps (n = 2014) failed",
        "lamps (since 2014) failed",
        "lamps (March 2014) failed",
        "lamps (12 March 2014) failed",
        "lamps (early March, 2014) failed",
        "lamps (April–May 2014) failed",
        "lamps (summer 2014) failed",
        "lamps (Summer 2014) failed",
        "lamps (Friday, 2014)",
        "lamps (March and April 2014)",
        "between March and April (2014)",
        "lamps (Late May, 2014)",
        "lamps (Lindqvist, March 2014)",
        "lamps (Model 2014)",
        "lamps (May-June 2014)",
        "the reign (1999-2004)",
        "Harrow (1920–1984) was a painter",
        "the Harrow Ministry (1999–2004)",
        "lamps (total 2,014) failed",
        "lamps (2014 of them) failed",
        "Lindqvist (2014 of them)",
        "the Harrow lamps (2014 to 2016)",
        "Sweden (2014, 12 sites)",
        "the war (World War II, 1945)",
        "World War II (1945) ended",
        "the Harrow Agreement (2015) says",
        "the law (Lighting Act 2003)",
        "the law (Act 2003, s. 12)",
        "the law (Lighting Act 2003, s. 12)",
        "May (2014) was mild",
        "in March (2014) it was",
        "lamps (held in Stockholm, 2014)",
        "lamps (opened at Harrow, 2014)",
        "lamps (in Stockholm, 2014)",
        "a book (London: Harrow Press, 2014)",
        "a book (London: Harrow Press, 2014, p. 3)",
        "personal word (M. Lindqvist, personal communication, March 3, 2014)",
        "Lindqvist (2099a3)",
        "Lindqvist (3014)",
        "lamps (Figure 2, 2014)",
        "lamps (Figure, 2014)",
        "Table (2014)",
    ]);
}

#[test]
fn numbers_that_are_no_pages() {
    none(&[
        "(14)",
        "Lindqvist (14) counted",
        "(see p. 12)",
        "(p. 12)",
        "(pp. 3–4)",
        "(Table 14)",
        "(Figure 3)",
        "(Fig. 3)",
        "(see Table 14)",
        "(Chapter 2)",
        "(Room 12)",
        "(May 14)",
        "(Friday May 14)",
        "(Section 14)",
        "(Site 3)",
        "(Group 2)",
        "(Plot 7)",
        "(Lamp 14)",
        "(Day 3; Day 7)",
        "(Lindqvist 14 lamps)",
        "(Lindqvist 14%)",
        "(the Lindqvist 14)",
        "(ISO 9001)",
        "(NLS 14)",
        "(Lindqvist, 14)",
        "(lamp 14)",
        "(Day and Night 14)",
        "(Lindqvist 12345)",
        "(Lighting Act, p. 3)",
        "(a great many lamps of Harrow 14)",
    ]);
}

#[test]
fn square_brackets_that_are_no_numbers() {
    none(&[
        "lamps [sic] fail",
        "“[T]he lamps [...] fail”",
        "lamps […] fail",
        "[p. 113]",
        "in [2019] lamps",
        "in May [2019] lamps",
        "“last Harrow [2014] burnt”",
        "lamps [12 of them] fail",
        "lamps [0, 1] fail",
        "lamps [007] fail",
        "95% CI [12, 14]",
        "lamps [1.2, 3.4]",
        "lamps [5-3]",
        "lamps [1-999]",
        "a note[^1]",
        "lamps [12%]",
        "lamps [emphasis added]",
        "lamps [Harrow, who came in 2014, says]",
        "lamps []",
        "lamps [",
        "lamps (",
        ")(][",
    ]);
}
