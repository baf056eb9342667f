//! How the report looks on this terminal: its width, and whether colours may be used. Colours only
//! ever repeat what characters say already.

use anstyle::{AnsiColor, Style};

use crate::findings::Weight;
use crate::overlap::Counterpart;

/// Whether escape codes for colours may be printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Colours {
    /// Plain characters only.
    #[default]
    Off,
    /// Colours beside the characters.
    On,
}

/// What a report needs to know of the place where it will be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Look {
    width: usize,
    colours: Colours,
    whole: bool,
}

impl Look {
    /// Narrower, the scale does not fit.
    pub const NARROWEST: usize = 60;
    /// Wider, lines of prose are hard to read.
    pub const WIDEST: usize = 100;

    /// A look for a terminal of that many columns; the report keeps between
    /// [`NARROWEST`](Self::NARROWEST) and [`WIDEST`](Self::WIDEST).
    #[must_use]
    pub fn new(columns: usize, colours: Colours) -> Self {
        Self {
            width: columns.clamp(Self::NARROWEST, Self::WIDEST),
            colours,
            whole: false,
        }
    }

    /// The same look with long wordings shown in whole, or cut.
    #[must_use]
    pub fn in_whole(self, whole: bool) -> Self {
        Self { whole, ..self }
    }

    /// Whether long wordings are shown in whole.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        self.whole
    }

    /// Columns that may be used.
    #[must_use]
    pub fn width(&self) -> usize {
        self.width
    }

    /// The text in a style, or as it is where colours are off.
    pub(in crate::report) fn paint(&self, ink: Ink, text: &str) -> String {
        if self.colours == Colours::Off || text.is_empty() {
            return text.to_owned();
        }
        let style = ink.style();
        format!("{style}{text}{style:#}")
    }
}

/// What a stretch of the report is, from which its colour follows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::report) enum Ink {
    /// The head of a finding or a section.
    Head,
    /// The labels in the left column, and what matters less.
    Quiet,
    /// A weight of `act`.
    Act,
    /// Words that answer to words of the other text.
    Shared(Counterpart),
    /// The marker on the scale.
    Marker,
}

impl Ink {
    /// How a weight's request is set.
    pub(in crate::report) fn of(weight: Weight) -> Self {
        match weight {
            Weight::Act => Self::Act,
            Weight::Look => Self::Head,
            Weight::Know => Self::Quiet,
        }
    }

    fn style(self) -> Style {
        let coloured = |colour: AnsiColor| Style::new().fg_color(Some(colour.into()));
        match self {
            Self::Head => Style::new().bold(),
            Self::Quiet => Style::new().dimmed(),
            Self::Act => coloured(AnsiColor::Red).bold(),
            Self::Shared(Counterpart::String) => coloured(AnsiColor::Yellow),
            Self::Shared(Counterpart::Form | Counterpart::Stem | Counterpart::Misspelling) => {
                coloured(AnsiColor::Cyan)
            }
            Self::Shared(Counterpart::Synonym) => coloured(AnsiColor::Magenta),
            Self::Marker => coloured(AnsiColor::Green).bold(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_width_stays_readable() {
        let width = |columns| Look::new(columns, Colours::Off).width();
        assert_eq!([width(0), width(72), width(400)], [60, 72, 100]);
    }

    #[test]
    fn without_colours_no_escape_codes() {
        let plain = Look::new(80, Colours::Off).paint(Ink::Act, "mend");
        assert_eq!(plain, "mend");
        let painted = Look::new(80, Colours::On).paint(Ink::Act, "mend");
        assert!(painted.starts_with('\u{1b}') && painted.ends_with("\u{1b}[0m"));
    }
}
