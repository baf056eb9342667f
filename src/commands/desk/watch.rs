//! Watches the files of a review. They are looked at by their time and length a few times a second: that works on every system,
//! in folders of a network and with programs that save by renaming, and costs some thousand looks a second at most.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::thread;
use std::time::{Duration, Instant, SystemTime};

use super::serve::Served;
use crate::desk::Changed;
use crate::review::DECISIONS_FILE;

/// Between two looks, where these cost next to nothing.
const EVERY: Duration = Duration::from_millis(250);
/// Files that are looked at.
const MOST_FILES: usize = 20_000;

/// Files with their time and length.
pub(super) type Seen = BTreeMap<PathBuf, (Option<SystemTime>, u64)>;

/// Watches a review as long as the program runs. `known` are its files from before they were read, so that nothing that is
/// saved meanwhile is missed.
pub(super) fn watch(root: PathBuf, mut known: Seen, served: &Arc<Served>) {
    let served = Arc::clone(served);
    thread::spawn(move || {
        loop {
            let from = Instant::now();
            thread::sleep(EVERY);
            let mut now = look(&root);
            if now != known {
                // A file is read when it was at rest for a look: a program may still be writing it.
                now = at_rest(&root, now);
                tell(&served, &root, &known, &now);
                known = now;
            }
            // Never more than a fifth of the time.
            let cost = from.elapsed().saturating_sub(EVERY);
            thread::sleep(cost.saturating_mul(4).min(Duration::from_secs(5)));
        }
    });
}

fn at_rest(root: &Path, mut now: Seen) -> Seen {
    for _ in 0..40 {
        thread::sleep(Duration::from_millis(80));
        let later = look(root);
        if later == now {
            break;
        }
        now = later;
    }
    now
}

fn tell(served: &Served, root: &Path, before: &Seen, now: &Seen) {
    let differ = |one: &Seen, other: &Seen| -> Vec<PathBuf> {
        let all = one.iter();
        all.filter(|(path, seen)| other.get(*path) != Some(seen))
            .map(|(path, _)| path.clone())
            .collect()
    };
    let mut changed = differ(now, before);
    changed.extend(differ(before, now));
    let decisions = root.join(DECISIONS_FILE);
    if changed.iter().all(|path| *path == decisions) {
        served.look_at_decisions();
        return;
    }
    let drafts = root.join("drafts");
    let others = changed.iter().filter(|path| **path != decisions);
    served.look_again(match others.clone().all(|path| path.starts_with(&drafts)) {
        true => Changed::Drafts,
        false => Changed::Review,
    });
}

/// The files of a folder and those below, without what is hidden.
pub(super) fn look(root: &Path) -> Seen {
    let mut seen = Seen::new();
    let mut folders = vec![(root.to_owned(), 0)];
    while let Some((folder, depth)) = folders.pop() {
        let Ok(entries) = fs::read_dir(&folder) else {
            continue;
        };
        for entry in entries.flatten() {
            let name = entry.file_name();
            let name = name.to_string_lossy();
            if name.starts_with('.') || name.starts_with("~$") || seen.len() >= MOST_FILES {
                continue;
            }
            let path = entry.path();
            match fs::metadata(&path) {
                Ok(about) if about.is_dir() && depth < 8 => folders.push((path, depth + 1)),
                Ok(about) if about.is_file() => {
                    seen.insert(path, (about.modified().ok(), about.len()));
                }
                _ => {}
            }
        }
    }
    seen
}
