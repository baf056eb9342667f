use proptest::prelude::*;

use super::*;
use crate::reading::Disk;

fn decision(id: &str, place: &str, because: &str) -> Decision {
    Decision {
        id: id.to_owned(),
        place: place.to_owned(),
        kind: "unmarked-copy".to_owned(),
        draft: "drafts/chapter.md".to_owned(),
        on: "2026-03-02".to_owned(),
        because: because.to_owned(),
        text: "Moths stay at lamps ...".to_owned(),
    }
}

fn path() -> &'static Path {
    Path::new("decisions.toml")
}

fn added(content: &str, decisions: &[Decision]) -> String {
    edit::add(path(), content, decisions).unwrap()
}

#[test]
fn a_new_file_as_written() {
    let two = [
        decision("uc-2", "00000000", "a \"term\"\nof art"),
        decision("cp-1", "11111111", "agreed"),
    ];
    let content = added("", &two);
    let expected = r#"# Findings that were looked at and settled, written by `ownwords settle`. One block a decision, sorted.
# A reason may be changed by hand; `ownwords settle --undo ID` takes a decision back.
scheme = "ownwords-finding-1"

[cp-1.11111111]
kind = "unmarked-copy"
draft = "drafts/chapter.md"
on = "2026-03-02"
because = "agreed"
text = "Moths stay at lamps ..."

[uc-2.00000000]
kind = "unmarked-copy"
draft = "drafts/chapter.md"
on = "2026-03-02"
because = "a \"term\"\nof art"
text = "Moths stay at lamps ..."
"#;
    assert_eq!(content, expected);
    assert_eq!(
        file::parse(path(), &content).unwrap(),
        Decisions::new(two.to_vec())
    );
}

#[test]
fn hand_written_remarks_and_layout_stay() {
    let content = added(
        "",
        &[decision("aa-1", "0", "x"), decision("cc-1", "0", "x")],
    );
    let content = content.replace("[cc-1.0]", "# Ask Ilse about this one.\n[ cc-1 . '0' ]");
    let with = added(&content, &[decision("bb-1", "0", "y")]);
    let at = |part: &str| {
        with.find(part)
            .unwrap_or_else(|| panic!("{part} is gone: {with}"))
    };
    assert!(at("[aa-1.0]") < at("[bb-1.0]"));
    assert!(at("[bb-1.0]") < at("# Ask Ilse"));
    assert!(at("# Ask Ilse") < at("[ cc-1 . '0' ]"));
    let without = edit::remove(path(), &with, &["bb-1.0".to_owned()]).unwrap();
    assert_eq!(without, content);
}

#[test]
fn what_is_broken_is_reported_with_its_line() {
    let good = added("", &[decision("uc-1", "0", "x")]);
    let block = &good[good.find("[uc-1").unwrap()..];
    let line_of = |part: &str| 1 + good[..good.find(part).unwrap()].matches('\n').count();
    let table = [
        (
            good.replace("because =", "becuase ="),
            line_of("because"),
            "no field \"becuase\"",
        ),
        (
            good.replace("on = \"2026-03-02\"\n", ""),
            line_of("[uc-1"),
            "no field \"on\"",
        ),
        (
            good.replace("on = \"2026-03-02\"", "on = 2026-03-02"),
            line_of("on ="),
            "on takes a text",
        ),
        (
            good.replace("because = \"x\"", "because = \"x"),
            line_of("because"),
            "mend the line",
        ),
        (
            good.replace("[uc-1.0]", "<<<<<<< mine\n[uc-1.0]"),
            line_of("[uc-1"),
            "unfinished merge",
        ),
        (
            good.replace("on =", "=======\non ="),
            line_of("on ="),
            "unfinished merge",
        ),
        (format!("{good}\n{block}"), 12, "duplicate key"),
        (
            good.replace("finding-1", "finding-9"),
            line_of("scheme"),
            "ownwords-finding-9",
        ),
        (good.replace("scheme =", "# scheme ="), 1, "is missing"),
        (
            good.replace("[uc-1.0]", "[uc-1]"),
            line_of("kind"),
            "no field of a decision",
        ),
        (format!("words = 7\n{good}"), 1, "neither a decision"),
    ];
    for (content, line, problem) in table {
        let error = file::parse(path(), &content)
            .expect_err(&content)
            .to_string();
        assert!(
            error.starts_with(&format!("decisions.toml, line {line}: ")),
            "{error}\n{content}"
        );
        assert!(error.contains(problem), "{error}");
    }
}

#[test]
fn a_broken_file_is_never_written_to() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join(DECISIONS_FILE);
    for broken in [
        "<<<<<<< mine\n",
        "[uc-1.0]\n",
        "\u{0}",
        "scheme = \"other\"\n",
    ] {
        std::fs::write(&file, broken).unwrap();
        let changed = change(folder.path(), |_| {
            Ok::<_, DecisionsError>((vec![decision("uc-2", "0", "x")], Vec::new()))
        });
        assert!(changed.is_err(), "{broken:?}");
        assert_eq!(std::fs::read_to_string(&file).unwrap(), broken);
    }
    // A layout that leaves no room for a block of its own.
    let inline = "scheme = \"ownwords-finding-1\"\nuc-1 = { 0 = { kind = \"k\", draft = \"d\", on = \"o\", because = \"b\", text = \"t\" }, \
        1 = { kind = \"k\", draft = \"d\", on = \"o\", because = \"b\", text = \"t\" } }\n";
    std::fs::write(&file, inline).unwrap();
    let undone = change(folder.path(), |_| {
        Ok::<_, DecisionsError>((Vec::new(), vec!["uc-1.0".to_owned()]))
    });
    assert!(
        undone
            .unwrap_err()
            .to_string()
            .contains("can't be changed safely")
    );
    assert_eq!(std::fs::read_to_string(&file).unwrap(), inline);
}

#[test]
fn many_at_once_lose_nothing() {
    let folder = tempfile::tempdir().unwrap();
    std::thread::scope(|scope| {
        for number in 0..24 {
            let root = folder.path();
            scope.spawn(move || {
                let new = decision(&format!("uc-{number:02}"), "0", "x");
                let add = || {
                    change(root, |_| {
                        Ok::<_, DecisionsError>((vec![new.clone()], Vec::new()))
                    })
                };
                // On a slow disk somebody may be asked to try again: that is no loss.
                let is_reported =
                    |tried: &Result<_, _>| !matches!(tried, Err(DecisionsError::Busy { .. }));
                let tried = std::iter::repeat_with(add).take(30).find(is_reported);
                tried
                    .expect("the folder comes free in five minutes")
                    .unwrap();
            });
        }
    });
    assert_eq!(
        Decisions::open(&Disk::new(), folder.path(), 1)
            .unwrap()
            .all()
            .len(),
        24
    );
    let names: Vec<_> = std::fs::read_dir(folder.path())
        .unwrap()
        .map(|e| e.unwrap().file_name())
        .collect();
    assert_eq!(names, [DECISIONS_FILE], "something was left behind");
}

#[test]
fn a_leftover_of_a_killed_run_does_no_harm() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join(".decisions.toml.new"), "half of a de").unwrap();
    let add = |id: &str| {
        let new = decision(id, "0", "x");
        change(folder.path(), |_| {
            Ok::<_, DecisionsError>((vec![new], Vec::new()))
        })
        .unwrap()
    };
    assert_eq!(add("uc-1").all().len(), 1);
    assert_eq!(add("uc-2").all().len(), 2);
}

fn names() -> impl Strategy<Value = Vec<(String, String)>> {
    let name = || ("[a-d]{2}-[0-9]{1,2}", "[0-9a-f]{1,2}");
    proptest::collection::btree_set(name(), 0..12).prop_map(|names| names.into_iter().collect())
}

proptest! {
    #[test]
    fn adding_and_taking_out_keep_the_rest(
        names in names(),
        texts in proptest::collection::vec("\\PC*|.*|[\"\\\\\n\t#=\\[\\]]{0,6}", 12),
        out in proptest::collection::vec(any::<bool>(), 12),
        order in any::<u64>(),
    ) {
        let mut all: Vec<Decision> = names
            .iter()
            .zip(&texts)
            .map(|((id, place), text)| decision(id, place, text))
            .collect();
        let sorted = Decisions::new(all.clone());
        if !all.is_empty() {
            let middle = usize::try_from(order).unwrap_or(0) % all.len();
            all.rotate_left(middle);
        }
        let content = all.iter().fold(String::new(), |content, one| added(&content, std::slice::from_ref(one)));
        prop_assert_eq!(&file::parse(path(), &content).unwrap(), &sorted);
        // In one go, in any order: the same bytes.
        prop_assert!(sorted.all().is_empty() || added("", sorted.all()) == content);
        let going: Vec<String> =
            sorted.all().iter().zip(&out).filter(|(_, out)| **out).map(|(d, _)| d.name()).collect();
        let left = edit::remove(path(), &content, &going).unwrap();
        let kept: Vec<Decision> =
            sorted.all().iter().filter(|d| !going.contains(&d.name())).cloned().collect();
        prop_assert_eq!(file::parse(path(), &left).unwrap(), Decisions::new(kept));
    }

    #[test]
    fn the_quick_reader_reads_nothing_but_what_the_whole_one_reads(
        names in names(),
        text in "\\PC{0,9}",
        junk in "(\\PC{0,3}|[\"\\[\\]=#.\n ]{0,4})",
        at in any::<usize>(),
    ) {
        let all: Vec<Decision> = names.iter().map(|(id, place)| decision(id, place, &text)).collect();
        let mut content = added("", &all);
        let boundaries: Vec<usize> = content.char_indices().map(|(at, _)| at).collect();
        content.insert_str(boundaries[at % boundaries.len()], &junk);
        if let Some(quick) = file::plain(&content) {
            let whole = file::whole(path(), &content);
            prop_assert!(whole.is_ok(), "{:?}\n{}", whole, content);
            prop_assert_eq!(quick, whole.unwrap());
        }
    }
}

#[test]
fn the_quick_reader_reads_what_is_written() {
    let content = added(
        "",
        &[decision("uc-1", "0", "x"), decision("uc-1", "1", "é = ü")],
    );
    assert!(file::plain(&content).is_some());
    assert!(file::plain(&content.replace('\n', "\r\n")).is_some());
}
