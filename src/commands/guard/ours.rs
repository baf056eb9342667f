//! Looks at both ends of a file to tell whether it is a report of ours.

use std::fs::File;
use std::io::{self, Read, Seek, SeekFrom};
use std::path::Path;

use crate::report::ours::{ENDS, is_report};

/// Whether a regular file is surely a report of ours. One that can't be read is none.
pub(super) fn is_ours(path: &Path) -> bool {
    ends(path).is_ok_and(|(beginning, end)| is_report(&beginning, &end))
}

fn ends(path: &Path) -> io::Result<(Vec<u8>, Vec<u8>)> {
    let mut file = File::open(path)?;
    let most = ENDS as u64;
    let mut beginning = Vec::with_capacity(ENDS);
    (&mut file).take(most).read_to_end(&mut beginning)?;
    let size = file.metadata()?.len();
    file.seek(SeekFrom::Start(size.saturating_sub(most)))?;
    let mut end = Vec::with_capacity(ENDS);
    file.take(most).read_to_end(&mut end)?;
    Ok((beginning, end))
}
