//! The names of part headings that are known without a setting: English first, then German, French,
//! Spanish, Italian, Dutch, Portuguese, Swedish and Polish, as people write over their notes. A list in
//! `ownwords.toml` takes the place of the one here. Case, accents and numbering make no difference.

/// Headings of what the source says.
pub(super) const SUMMARY: &[&str] = &[
    "Summary",
    "Abstract",
    "Synopsis",
    "What it says",
    "Main points",
    "Key points",
    "Zusammenfassung",
    "Inhalt",
    "Résumé",
    "Resumen",
    "Riassunto",
    "Sintesi",
    "Samenvatting",
    "Resumo",
    "Sammanfattning",
    "Streszczenie",
];

/// Headings of the words quoted from it.
pub(super) const QUOTATIONS: &[&str] = &[
    "Quotations",
    "Quotes",
    "Key quotes",
    "Excerpts",
    "Zitate",
    "Citations",
    "Citas",
    "Citazioni",
    "Citaten",
    "Citações",
    "Citat",
    "Cytaty",
];

/// Headings of the writer's own thoughts.
pub(super) const COMMENTS: &[&str] = &[
    "Comments",
    "My comments",
    "Notes",
    "My notes",
    "Thoughts",
    "My thoughts",
    "Reflections",
    "Evaluation",
    "Kommentar",
    "Kommentare",
    "Anmerkungen",
    "Gedanken",
    "Commentaires",
    "Remarques",
    "Comentarios",
    "Commenti",
    "Opmerkingen",
    "Comentários",
    "Kommentarer",
    "Komentarz",
];
