use super::*;

/// Every format whose reader takes any bytes at once; PDF is tried beside its reader.
const EVERY: [Format; 10] = [
    Format::Plain,
    Format::Markdown,
    Format::Docx,
    Format::Odt,
    Format::Latex,
    Format::Html,
    Format::Epub,
    Format::Rtf,
    Format::Rst,
    Format::Org,
];

#[test]
fn endings_name_formats() {
    let format = |path: &str| Format::of(Path::new(path));
    assert_eq!(format("a/draft.TXT").unwrap(), Format::Plain);
    assert_eq!(format("a.b/draft").unwrap(), Format::Plain);
    assert_eq!(format("draft.markdown").unwrap(), Format::Markdown);
    let message = format("draft.xyz").unwrap_err().to_string();
    assert!(message.starts_with("draft.xyz: files ending in .xyz can't be read"));
    assert!(message.ends_with(SUPPORTED), "{message}");
}

#[test]
fn unreadable_files_are_named() {
    let files: Memory = [
        ("drafts/large.txt", vec![b'a'; 1_000_001]),
        ("drafts/small.txt", vec![b'a'; 1_000_000]),
        ("drafts/picture.txt", b"\x89PNG\0\0".to_vec()),
    ]
    .into_iter()
    .collect();
    let limits = Limits {
        file_mb: 1,
        ..Limits::default()
    };
    let message = |name: &str| match read(&files, Path::new(name), &limits) {
        Ok(_) => String::new(),
        Err(error) => error.to_string(),
    };
    assert!(message("drafts/large.txt").contains("2 MB is over the limit of 1 MB"));
    assert_eq!(message("drafts/small.txt"), "");
    assert!(message("drafts/picture.txt").contains("not a text file"));
    assert!(message("drafts/none.txt").contains("could not be read"));
    let folder = "drafts: this is a folder; name the files in it";
    assert_eq!(message("drafts"), folder);
}

/// What holds of every Text, whatever it was read from.
mod promises {
    use proptest::prelude::*;

    use super::*;
    use crate::text::{BlockKind, ByteRange, MarkedText, Origin};

    /// Markup, marks and line ends far more often than chance would have them.
    fn document() -> impl Strategy<Value = String> {
        let listed = [
            "\n",
            "\n",
            "\n\n",
            "\r\n",
            "\r",
            "    ",
            "\t",
            " ",
            " ",
            "# ",
            "===",
            "---",
            "- ",
            "1. ",
            "> ",
            ">",
            "```",
            "|a|b|\n|-|-|\n|c|d|",
            "[p. 3]",
            "[p. 4]\n",
            "\n[page xiv]\n",
            "[^1]",
            "[^1]: ",
            "*",
            "**",
            "_",
            "`",
            "[a](b)",
            "<http://a.b>",
            "&amp;",
            "&eacute;",
            "\\*",
            "<br>",
            "<div>",
            "<!--",
            "References",
            "“",
            "”",
            "\"",
            "'",
            "’",
            "(Harrow, 2014, p. 3)",
            ". ",
            "?",
            "light-\ning",
            "\u{FEFF}",
            "\u{AD}",
            "\u{A0}",
            "\x0C",
            "e\u{301}",
            "\u{85}",
            "光",
            "~~",
            "***",
        ];
        let piece = prop_oneof![
            3 => "[A-Za-z]{1,7}",
            6 => prop::sample::select(listed.to_vec()).prop_map(str::to_owned),
            1 => any::<char>().prop_map(String::from),
        ];
        prop::collection::vec(piece, 0..60).prop_map(|parts| parts.concat())
    }

    fn assert_sound(text: &Text) -> Result<(), TestCaseError> {
        let fits = |range: ByteRange| text.content().get(range.as_range()).is_some();
        let apart =
            |ranges: &[ByteRange]| ranges.windows(2).all(|two| two[0].end() <= two[1].start());
        let blocks: Vec<_> = text.blocks().iter().map(|block| block.range).collect();
        let marks: Vec<_> = text.pages().starts().iter().map(|page| page.mark).collect();
        let marked = MarkedText::new(text.clone());
        let sentences: Vec<_> = marked
            .sentences
            .iter()
            .map(|sentence| sentence.range)
            .collect();
        for ranges in [&blocks, &marks, &marked.words, &sentences] {
            prop_assert!(ranges.iter().all(|range| fits(*range)));
            prop_assert!(apart(ranges));
        }
        for block in &blocks {
            let slice = text.slice(*block);
            prop_assert!(!slice.is_empty() && slice.trim() == slice);
        }
        for word in &marked.words {
            prop_assert!(marks.iter().all(|mark| !mark.overlaps(*word)));
            prop_assert!(
                text.block_at(word.start())
                    .is_some_and(|b| b.kind != BlockKind::Code)
            );
        }
        for sentence in &marked.sentences {
            let block = text.blocks().get(sentence.block as usize);
            prop_assert!(block.is_some_and(|block| block.range.covers(sentence.range)));
        }
        let counted: usize = marked.sentences.iter().map(|s| s.words.len()).sum();
        prop_assert_eq!(counted, marked.words.len());
        for quotation in &marked.quotations {
            prop_assert!(fits(quotation.outer) && fits(quotation.inner));
        }
        Ok(())
    }

    fn assert_pieces_stand_in(file: &[u8], text: &Text) -> Result<(), TestCaseError> {
        let Origin::Pieces { pieces, .. } = text.origin() else {
            return Ok(());
        };
        for piece in pieces {
            let start = piece.file_start as usize;
            let in_file = file.get(start..start + piece.text.len());
            prop_assert_eq!(in_file, Some(text.slice(piece.text).as_bytes()));
        }
        for two in pieces.windows(2) {
            prop_assert!(two[0].text.end() <= two[1].text.start());
            prop_assert!(two[0].file_start < two[1].file_start);
        }
        Ok(())
    }

    /// Inputs on which a rule that looks around without bound would take the square of their length:
    /// minutes instead of a fraction of a second.
    #[test]
    fn long_inputs_take_no_more_than_their_length() {
        let parts = [
            "a",
            " ",
            "\n",
            "“",
            "\"a",
            "a\" ",
            "s' ",
            "5\" ",
            "«“",
            "[",
            "[p. 1",
            "a[p.3]",
            "[p. 3] a ",
            "a\n\n[p. 3]\n\n",
            ". ",
            "! ",
            "!\n",
            "… ",
            "(. ",
            "A. ",
            ". (",
            "? Aa bb",
            "é-\n",
            "a-\n",
            "e\u{301}",
            "> ",
            "- a\n",
            "    a\n\n",
            "*a",
            "_",
            "<",
            "|",
            "[^1]",
            "“\n\n",
        ];
        for part in parts {
            for format in [Format::Plain, Format::Markdown] {
                let started = std::time::Instant::now();
                let content = format!("References\n\n{}", part.repeat(300_000 / part.len()));
                let read = from_bytes(content.into_bytes(), format).expect("this is text");
                let marked = MarkedText::new(read.text);
                assert!(marked.words.len() <= 300_000);
                assert!(started.elapsed().as_secs() < 20, "{part:?} as {format:?}");
            }
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig {
            cases: 1500,
            failure_persistence: None,
            ..ProptestConfig::default()
        })]

        #[test]
        fn plain_text_is_the_file(content in document()) {
            let read = from_bytes(content.clone().into_bytes(), Format::Plain);
            if let Ok(read) = read {
                let bare = content.strip_prefix('\u{FEFF}').unwrap_or(&content);
                let expected = match read.text.origin() {
                    // Plain text in UTF-8 is changed only where no line ends with a line feed.
                    Origin::Decoded { .. } if bare.contains('\r') => bare.replace('\r', "\n"),
                    Origin::Decoded { .. } => bare.replace('\u{85}', "\n"),
                    _ => bare.to_owned(),
                };
                prop_assert_eq!(read.text.content(), expected);
                assert_sound(&read.text)?;
            }
        }

        #[test]
        fn markdown_leads_back_to_the_file(content in document()) {
            if let Ok(read) = from_bytes(content.clone().into_bytes(), Format::Markdown) {
                assert_sound(&read.text)?;
                assert_pieces_stand_in(content.as_bytes(), &read.text)?;
            }
        }

        #[test]
        fn any_bytes_are_read(bytes in prop::collection::vec(any::<u8>(), 0..200), format in prop::bool::ANY) {
            let format = if format { Format::Plain } else { Format::Markdown };
            if let Ok(read) = from_bytes(bytes, format) {
                assert_sound(&read.text)?;
            }
        }

        #[test]
        fn any_bytes_but_control_characters(
            bytes in prop::collection::vec(prop_oneof![32..=126_u8, 160..=255_u8, Just(10)], 0..200),
        ) {
            for format in EVERY {
                if let Ok(read) = from_bytes(bytes.clone(), format) {
                    assert_sound(&read.text)?;
                }
            }
        }
    }
}
