//! How much work the attributes of a tag cost, counted in the markup before the parser reads it: the parser
//! compares each attribute with all those before it.

/// The current position within a tag.
#[derive(Debug, Clone, Copy, Default)]
enum Place {
    /// In no tag.
    #[default]
    Outside,
    /// At its first byte, after the `<`.
    Start,
    /// In its name.
    Name,
    /// Before the name of an attribute; after one where `named`.
    Between { named: bool },
    /// In the name of an attribute.
    Attribute,
    /// After a `=`.
    BeforeValue,
    /// In a value without quotation marks.
    Bare,
    /// In a value with quotation marks.
    Quoted(u8),
}

/// Counts the attributes of one tag after another (published: HTML Living Standard, 13.2.5).
#[derive(Debug, Default)]
pub(super) struct Attributes {
    place: Place,
    /// Of the current tag.
    count: u64,
}

impl Attributes {
    /// Notes that what is read next comes after a `<` that may begin a tag.
    pub(super) fn begin_tag(&mut self) {
        self.place = Place::Start;
        self.count = 0;
    }

    /// Reads on, and returns how many comparisons the attributes that begin here cost.
    pub(super) fn read(&mut self, markup: &str) -> u64 {
        let mut work = 0;
        for byte in markup.bytes() {
            if matches!(self.place, Place::Outside) {
                break;
            }
            let next = self.next(byte);
            let begins =
                matches!(next, Place::Attribute) && !matches!(self.place, Place::Attribute);
            if begins {
                work += self.count;
                self.count += 1;
            }
            self.place = next;
        }
        work
    }

    fn next(&self, byte: u8) -> Place {
        let blank = byte.is_ascii_whitespace();
        match (self.place, byte) {
            (Place::Outside, _) => Place::Outside,
            (Place::Start, b'/') => Place::Name,
            (Place::Start, _) if !byte.is_ascii_alphabetic() => Place::Outside,
            (Place::Quoted(open), _) if byte != open => self.place,
            (Place::Quoted(_), _) => Place::Between { named: false },
            (_, b'>') => Place::Outside,
            (Place::BeforeValue, b'"' | b'\'') => Place::Quoted(byte),
            (Place::BeforeValue, _) if blank => Place::BeforeValue,
            (Place::BeforeValue, _) => Place::Bare,
            (Place::Bare, _) if !blank => Place::Bare,
            (Place::Attribute | Place::Between { named: true }, b'=') => Place::BeforeValue,
            (Place::Attribute, _) if blank => Place::Between { named: true },
            (Place::Between { .. }, _) if blank => self.place,
            (_, b'/') => Place::Between { named: false },
            (_, _) if blank => Place::Between { named: false },
            (Place::Start | Place::Name, _) => Place::Name,
            (Place::Between { .. } | Place::Attribute, _) => Place::Attribute,
            (Place::Bare, _) => Place::Bare,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn attributes_by_case() {
        let cases = [
            ("p>", 0),
            ("p a b c>d e f", 3),
            ("p a=b c='d e f' g = \"h>i\" j>", 4),
            ("/p a/b/c/>", 3),
            ("p a=b/c d>", 2),
            ("p =a b>", 2),
            ("p a = b>", 1),
            ("! a b c>", 0),
            (" a b", 0),
            ("a\nb\tc", 2),
        ];
        for (markup, expected) in cases {
            for cut in 0..=markup.len() {
                let mut attributes = Attributes::default();
                attributes.begin_tag();
                let (first, rest) = markup.split_at(cut);
                let work = attributes.read(first) + attributes.read(rest);
                assert_eq!(attributes.count, expected, "{markup} at {cut}");
                assert_eq!(work, (0..expected).sum::<u64>(), "{markup} at {cut}");
            }
        }
    }
}
