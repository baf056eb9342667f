//! The left and right edge of a column's lines.

use crate::reading::pdf::lines::Line;

/// The left and right edge of a column's lines.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Margins {
    pub left: f32,
    pub right: f32,
}

impl Margins {
    /// With the right edge of the widest of the columns that begin at the same place and are hardly wider.
    /// Where lines end unevenly, a few lines are not enough to show it.
    pub(super) fn widened(self, every: &[Self]) -> Self {
        let most = self.right + 0.1 * (self.right - self.left);
        let alike = every
            .iter()
            .filter(|other| (other.left - self.left).abs() < 3.0 && other.right <= most);
        Self {
            right: alike.map(|other| other.right).fold(self.right, f32::max),
            ..self
        }
    }
}

/// The left edge that several lines share, and the end of the second-longest line. One line may be too long
/// for its column, and where lines end unevenly only the longest show where the column ends.
pub(super) fn margins(lines: &[Line]) -> Margins {
    let least = (lines.len() / 8).max(1);
    let mut lefts: Vec<f32> = lines.iter().map(|line| line.x).collect();
    lefts.sort_by(f32::total_cmp);
    let kept = |edge: &f32| {
        lefts
            .iter()
            .filter(|other| (**other - *edge).abs() <= 2.0)
            .count()
            >= least
    };
    let left = lefts
        .iter()
        .copied()
        .find(|edge| kept(edge))
        .unwrap_or_default();
    let mut rights: Vec<f32> = lines.iter().map(|line| line.end).collect();
    rights.sort_by(|one, other| other.total_cmp(one));
    let longest = usize::from(rights.len() > 4);
    let right = rights.get(longest).copied().unwrap_or_default();
    Margins { left, right }
}
