//! Groups: the content between two braces, and the settings that apply there.

use encoding_rs::Encoding;

/// The content of a group's braces.
#[derive(Clone, Default)]
pub(super) struct Group {
    /// Its text is left out.
    pub(super) skipped: bool,
    /// It is part of the table of fonts or styles, which is read separately.
    pub(super) table: Option<Table>,
    pub(super) hidden: bool,
    pub(super) deleted: bool,
    /// Characters after a `\u` that replace it in old readers.
    pub(super) unicode_skip: usize,
    pub(super) skip_known: bool,
    pub(super) encoding: Option<&'static Encoding>,
    /// The font or style that is being described.
    pub(super) number: i32,
    pub(super) name: String,
}

impl Group {
    /// A group inside this one, with the same settings but a name of its own.
    pub(super) fn inner(&self) -> Self {
        Self {
            skipped: self.skipped,
            table: self.table,
            hidden: self.hidden,
            deleted: self.deleted,
            unicode_skip: self.unicode_skip,
            skip_known: self.skip_known,
            encoding: self.encoding,
            number: self.number,
            name: String::new(),
        }
    }

    pub(super) fn is_shown(&self) -> bool {
        !self.skipped && !self.hidden && !self.deleted && self.table.is_none()
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Table {
    Fonts,
    Styles,
}

/// Groups that hold no prose.
pub(super) fn is_left_out(word: &[u8]) -> bool {
    matches!(
        word,
        b"colortbl"
            | b"info"
            | b"pict"
            | b"object"
            | b"header"
            | b"headerl"
            | b"headerr"
            | b"headerf"
            | b"footer"
            | b"footerl"
            | b"footerr"
            | b"footerf"
            | b"listtext"
            | b"pntext"
            | b"fldinst"
            | b"datafield"
            | b"xe"
            | b"tc"
            | b"annotation"
            | b"atnid"
            | b"atnauthor"
            | b"bkmkstart"
            | b"bkmkend"
            | b"ftnsep"
            | b"ftnsepc"
            | b"aftnsep"
            | b"aftnsepc"
            | b"nonshppict"
            | b"themedata"
            | b"filetbl"
            | b"revtbl"
            | b"listtable"
            | b"listoverridetable"
            | b"rsidtbl"
            | b"generator"
    )
}
