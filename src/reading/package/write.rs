//! A package written again with some parts changed. All others are copied packed, byte for byte, in their
//! order.

use std::collections::BTreeMap;
use std::io::{Cursor, Write as _};

use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

use super::{Package, damaged};
use crate::reading::Unreadable;

impl Package {
    /// The package with the given parts in place of those of the same name, and new ones at the end. The
    /// times of members stay the same; new members have the earliest time that a package can record, so that
    /// the same input gives the same bytes.
    pub(crate) fn with(
        mut self,
        mut parts: BTreeMap<String, String>,
    ) -> Result<Vec<u8>, Unreadable> {
        let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
        let packed = SimpleFileOptions::default().compression_method(CompressionMethod::Deflated);
        for index in 0..self.archive.len() {
            let member = self.archive.by_index_raw(index).map_err(damaged)?;
            let name = member.name().map_err(damaged)?.into_owned();
            match parts.remove(&name) {
                Some(content) => {
                    let time = member.last_modified().unwrap_or_default();
                    let options = packed.last_modified_time(time);
                    writer.start_file(&name, options).map_err(damaged)?;
                    writer
                        .write_all(content.as_bytes())
                        .map_err(|cause| damaged(cause.into()))?;
                }
                None => writer.raw_copy_file(member).map_err(damaged)?,
            }
        }
        for (name, content) in parts {
            let options = packed.last_modified_time(DateTime::default());
            writer.start_file(&name, options).map_err(damaged)?;
            writer
                .write_all(content.as_bytes())
                .map_err(|cause| damaged(cause.into()))?;
        }
        Ok(writer.finish().map_err(damaged)?.into_inner())
    }
}
