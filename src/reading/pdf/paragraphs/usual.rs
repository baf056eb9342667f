//! What is usual in a document: the sizes of its type, the distance of its lines.

use super::same_size;
use crate::reading::pdf::lines::{self, Line};

/// The usual values of a document.
pub(in crate::reading::pdf) struct Usual {
    /// Size of the type of the text.
    pub size: f32,
    /// From baseline to baseline, in sizes of the type.
    pub(super) pitch: f32,
    /// Sizes of headings, the largest first.
    pub(super) headings: Vec<f32>,
}

impl Usual {
    /// The usual values of all lines of a document.
    pub(crate) fn of(sheets: &[Vec<Line>]) -> Self {
        let lines = || sheets.iter().flatten();
        let size = lines::usual(lines().flat_map(|line| &line.words));
        let mut pitches: Vec<f32> = sheets
            .iter()
            .flat_map(|lines| lines.windows(2))
            .filter_map(|pair| match pair {
                [one, other] if one.column == other.column && same_size(one, other) => {
                    let pitch = (other.y - one.y) / one.size;
                    (0.8..3.5).contains(&pitch).then_some(pitch)
                }
                _ => None,
            })
            .collect();
        pitches.sort_by(f32::total_cmp);
        // The lower quarter, since gaps between paragraphs are included.
        let pitch = pitches.get(pitches.len() / 4).copied().unwrap_or(1.2);
        let mut headings: Vec<f32> = lines()
            .filter(|line| line.size > 1.1 * size && line.text().chars().any(char::is_alphabetic))
            .map(|line| line.size)
            .collect();
        headings.sort_by(|one, other| other.total_cmp(one));
        headings.dedup_by(|one, other| (*one - *other).abs() < 0.04 * *other);
        Self {
            size,
            pitch,
            headings,
        }
    }

    /// The level of a heading in type of a size.
    pub(super) fn level(&self, size: f32) -> u8 {
        let larger = self
            .headings
            .iter()
            .filter(|heading| **heading > 1.02 * size)
            .count();
        u8::try_from(larger + 1).unwrap_or(6).min(6)
    }
}
