//! The characters of one sheet and where they stand, as the file draws them.
//!
//! 1. A [`Collector`] receives the drawing of a page and keeps only its glyphs.
//! 2. Coordinates are converted so that the page is upright, x increases to the right and y downwards, in
//!    points.
//! 3. Text that runs in another direction (a stamp along the margin, a table set sideways) is turned upright
//!    about the origin and kept separate by its [`Turn`].

use hayro_interpret::font::{Glyph as Drawn, GlyphRun};
use hayro_interpret::hayro_cmap::BfString;
use hayro_interpret::kurbo::{Affine, BezPath, Point, Rect};
use hayro_interpret::{
    BlendMode, ClipPath, Device, DrawMode, DrawProps, Image, ImageDrawProps, SoftMask,
};

/// What a glyph stands for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Shown {
    /// One character.
    Char(char),
    /// Several, as ligatures do.
    Chars(Box<str>),
    /// The font does not name it; the code that chose the glyph.
    Code(u32),
}

/// The direction of a line of text.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Turn {
    /// From left to right.
    Upright,
    /// From bottom to top.
    Up,
    /// From top to bottom.
    Down,
    /// Upside down.
    Over,
    /// Any other.
    Askew,
}

/// One glyph.
#[derive(Debug, Clone)]
pub(super) struct Glyph {
    pub shown: Shown,
    /// Left end of the baseline, in points.
    pub x: f32,
    /// The baseline, downwards from the top of the page.
    pub y: f32,
    /// Right end: where the next glyph of the word would stand.
    pub end: f32,
    /// Size of the type, in points.
    pub size: f32,
    pub bold: bool,
    pub turn: Turn,
    /// Drawn without ink, like the text behind a scan.
    pub invisible: bool,
}

/// Most glyphs of a sheet; one set in the smallest type has some 20,000.
pub(super) const MOST_GLYPHS: usize = 500_000;

/// Collects the glyphs of one page.
pub(super) struct Collector {
    pub glyphs: Vec<Glyph>,
    /// Whether the page draws pictures, as a scan does.
    pub pictures: bool,
    /// Whether there were more than [`MOST_GLYPHS`].
    pub overflow: bool,
    width: f32,
    height: f32,
}

impl Collector {
    /// A collector for a page of a size in points.
    pub(super) fn new(width: f32, height: f32) -> Self {
        Self {
            glyphs: Vec::new(),
            pictures: false,
            overflow: false,
            width,
            height,
        }
    }

    fn add(&mut self, drawn: &Drawn<'_>, place: Affine, bold: bool, invisible: bool) {
        let advance = match drawn {
            Drawn::Outline(glyph) => glyph.advance_width(),
            Drawn::Type3(glyph) => glyph.advance_width(),
        };
        let origin = place * Point::ZERO;
        // Glyphs are drawn in thousandths of the size of the type.
        let along = place * Point::new(1000.0, 0.0) - origin;
        let upwards = place * Point::new(0.0, 1000.0) - origin;
        let size = upwards.hypot();
        let numbers = [origin.x, origin.y, along.x, along.y, size];
        if !numbers.iter().all(|number| number.is_finite()) || !(0.5..=2000.0).contains(&size) {
            return;
        }
        if origin.x < -1.0
            || origin.y < -1.0
            || origin.x > f64::from(self.width) + 1.0
            || origin.y > f64::from(self.height) + 1.0
        {
            return;
        }
        let turn = turn(along.x, along.y);
        let (x, y) = match turn {
            Turn::Upright | Turn::Askew => (origin.x, origin.y),
            Turn::Up => (f64::from(self.height) - origin.y, origin.x),
            Turn::Down => (origin.y, f64::from(self.width) - origin.x),
            Turn::Over => (
                f64::from(self.width) - origin.x,
                f64::from(self.height) - origin.y,
            ),
        };
        let advance = f64::from(advance.unwrap_or(500.0)).clamp(0.0, 5000.0);
        let end = x + along.hypot() * advance / 1000.0;
        self.glyphs.push(Glyph {
            shown: shown(drawn),
            x: x as f32,
            y: y as f32,
            end: end as f32,
            size: size as f32,
            bold,
            turn,
            invisible,
        });
    }
}

/// The direction of a baseline whose y increases downwards.
fn turn(x: f64, y: f64) -> Turn {
    let steep = 0.2 * x.hypot(y);
    if x > 0.0 && y.abs() <= steep {
        Turn::Upright
    } else if x < 0.0 && y.abs() <= steep {
        Turn::Over
    } else if y < 0.0 && x.abs() <= steep {
        Turn::Up
    } else if y > 0.0 && x.abs() <= steep {
        Turn::Down
    } else {
        Turn::Askew
    }
}

fn shown(drawn: &Drawn<'_>) -> Shown {
    let code = drawn.char_code();
    match drawn.as_unicode() {
        // Old bitmap fonts name their characters `a84` and the like, which are names of ornaments elsewhere.
        Some(BfString::Char('\u{2460}'..='\u{27BF}')) if matches!(drawn, Drawn::Type3(_)) => {
            Shown::Code(code)
        }
        Some(BfString::Char(c)) => of_char(c, code),
        Some(BfString::String(text)) => {
            let mut chars = text.chars();
            match (chars.next(), chars.next()) {
                (None, _) => Shown::Code(code),
                (Some(c), None) => of_char(c, code),
                _ => Shown::Chars(text.into()),
            }
        }
        None => Shown::Code(code),
    }
}

fn of_char(c: char, code: u32) -> Shown {
    let ligature = match c {
        'ﬀ' => "ff",
        'ﬁ' => "fi",
        'ﬂ' => "fl",
        'ﬃ' => "ffi",
        'ﬄ' => "ffl",
        'ﬅ' | 'ﬆ' => "st",
        // Control characters have no meaning here, and private ones have one only in their font.
        '\u{0}'..='\u{8}' | '\u{B}'..='\u{1F}' | '\u{7F}'..='\u{9F}' => return Shown::Code(code),
        '\u{E000}'..='\u{F8FF}' | '\u{FFFD}' | '\u{F0000}'.. => return Shown::Code(code),
        _ => return Shown::Char(c),
    };
    Shown::Chars(ligature.into())
}

impl<'a> Device<'a> for Collector {
    fn draw_path(&mut self, _: &BezPath, _: DrawProps<'a>, _: &DrawMode) {}

    fn push_clip_path(&mut self, _: &ClipPath) {}

    fn push_clip_rect(&mut self, _: &Rect) {}

    fn push_transparency_group(&mut self, _: f32, _: Option<SoftMask<'a>>, _: BlendMode) {}

    fn draw_glyph_run(
        &mut self,
        run: &GlyphRun<'_, 'a>,
        props: DrawProps<'a>,
        draw_mode: &DrawMode,
    ) {
        let invisible = matches!(draw_mode, DrawMode::Invisible);
        let bold = match run.glyphs().first().map(|glyph| &**glyph) {
            Some(Drawn::Outline(glyph)) => glyph
                .font_data()
                .and_then(|font| font.weight)
                .is_some_and(|weight| weight >= 600),
            _ => false,
        };
        for glyph in run.glyphs() {
            if self.glyphs.len() >= MOST_GLYPHS {
                self.overflow = true;
                return;
            }
            self.add(glyph, props.transform * glyph.transform(), bold, invisible);
        }
    }

    fn draw_image(&mut self, _: Image<'a, '_>, _: ImageDrawProps<'a>) {
        self.pictures = true;
    }

    fn pop_clip(&mut self) {}

    fn pop_transparency_group(&mut self) {}

    fn draw_rect(&mut self, _: &Rect, _: DrawProps<'a>, _: &DrawMode) {}
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn directions_by_case() {
        // On a page whose y counts downwards.
        for (x, y, expected) in [
            (1.0, 0.0, Turn::Upright),
            (1.0, 0.1, Turn::Upright),
            (0.0, -1.0, Turn::Up),
            (0.0, 1.0, Turn::Down),
            (-1.0, 0.0, Turn::Over),
            (1.0, -1.0, Turn::Askew),
        ] {
            assert_eq!(turn(x, y), expected, "{x} {y}");
        }
    }
}
