//! The scale as a line: the names of the degrees side by side, and below them a line on which a
//! marker stands where the passage stands. The degree it falls in is set in brackets, so that the
//! place can be read without counting columns.
//!
//! Each degree is as wide as its name. Within its degree the marker stands in proportion, so the line
//! is true to the order but not to the length of the degrees; the number beside it is exact.

use std::io::{self, Write};

use super::sheet::{INDENT, Sheet};
use super::style::Ink;
use crate::overlap::Degree;

/// A thing placed on the scale.
#[derive(Debug, Clone)]
pub(in crate::report) struct Marker {
    /// What stands on the line, one character or a short number.
    pub(in crate::report) sign: String,
    /// The degree it belongs to.
    pub(in crate::report) degree: Degree,
    /// Its position, 0 to 1.
    pub(in crate::report) position: f64,
}

/// Below this width the names of two words take two lines.
const WIDE: usize = 80;

/// Writes the scale with one marker, the bracketed degree and the position at the line's end.
pub(in crate::report) fn write_one<W: Write>(
    sheet: &mut Sheet<'_, W>,
    degree: Degree,
    position: f64,
) -> io::Result<()> {
    let ruler = Ruler::new(sheet.look.width());
    ruler.write_names(sheet, Some(degree))?;
    let column = ruler.column(degree, position);
    let line = ruler.line();
    // The line is ASCII, so columns are bytes; `column` lies inside it by construction.
    let before = line.get(..column).unwrap_or_default();
    let after = line.get(column + 1..).unwrap_or_default();
    let marker = sheet.look.paint(Ink::Marker, "^");
    sheet.line(&format!(
        "{:INDENT$}{before}{marker}{after} {position:.2}",
        ""
    ))
}

/// Writes the scale with several markers below the line, in as many rows as they need not to touch.
pub(in crate::report) fn write_many<W: Write>(
    sheet: &mut Sheet<'_, W>,
    markers: &[Marker],
) -> io::Result<()> {
    let ruler = Ruler::new(sheet.look.width());
    ruler.write_names(sheet, None)?;
    sheet.line(&format!("{:INDENT$}{}", "", ruler.line()))?;
    for row in ruler.rows(markers) {
        let row = sheet.look.paint(Ink::Marker, &row);
        sheet.line(&format!("{:INDENT$}{row}", ""))?;
    }
    Ok(())
}

/// The line with its degrees laid out for a width.
struct Ruler {
    /// For each degree the lines of its name, all of one width.
    names: Vec<(Degree, Vec<String>)>,
}

impl Ruler {
    fn new(width: usize) -> Self {
        let lines_of = |degree: Degree| -> Vec<String> {
            let name = degree.name();
            if width >= WIDE {
                return vec![name.to_owned()];
            }
            match (name.split_once(' '), degree) {
                (Some((first, second)), _) => vec![first.to_owned(), second.to_owned()],
                (None, Degree::Restructured) => vec!["re-".to_owned(), "structured".to_owned()],
                (None, _) => vec![name.to_owned(), String::new()],
            }
        };
        let names = Degree::ALL.map(|degree| {
            let lines = lines_of(degree);
            let width = lines.iter().map(String::len).max().unwrap_or_default();
            let padded = lines.iter().map(|line| format!("{line:<width$}"));
            (degree, padded.collect())
        });
        Self {
            names: names.into(),
        }
    }

    /// Columns of a degree: its name and a space or bracket on both sides.
    fn width(lines: &[String]) -> usize {
        lines.first().map_or(0, String::len) + 2
    }

    fn write_names<W: Write>(
        &self,
        sheet: &mut Sheet<'_, W>,
        held: Option<Degree>,
    ) -> io::Result<()> {
        let rows = self.names.first().map_or(0, |(_, lines)| lines.len());
        for row in 0..rows {
            let names = self.names.iter().map(|(degree, lines)| {
                let name = lines.get(row).map_or("", String::as_str);
                if held == Some(*degree) {
                    sheet.look.paint(Ink::Marker, &format!("[{name}]"))
                } else {
                    format!(" {name} ")
                }
            });
            let names = names.collect::<Vec<_>>().join("|");
            sheet.line(&format!("{:INDENT$}{names}", ""))?;
        }
        Ok(())
    }

    fn line(&self) -> String {
        let parts = self
            .names
            .iter()
            .map(|(_, lines)| "-".repeat(Self::width(lines)));
        parts.collect::<Vec<_>>().join("+")
    }

    /// The column of a position; one outside its degree is held at the degree's edge.
    fn column(&self, degree: Degree, position: f64) -> usize {
        let mut start = 0;
        for (other, lines) in &self.names {
            let width = Self::width(lines);
            if *other == degree {
                return start + step_within(degree.span(), position, width);
            }
            start += width + 1;
        }
        start
    }

    fn rows(&self, markers: &[Marker]) -> Vec<String> {
        let mut rows: Vec<String> = Vec::new();
        for marker in markers {
            let column = self.column(marker.degree, marker.position);
            let end = column + marker.sign.len();
            let place = format!("{:column$}{}", "", marker.sign);
            // Every row is ASCII: byte positions are columns.
            let free = |row: &&mut String| {
                let from = column.saturating_sub(1).min(row.len());
                let to = (end + 1).min(row.len());
                row.get(from..to).is_some_and(|part| part.trim().is_empty())
            };
            match rows.iter_mut().find(free) {
                Some(row) => {
                    let tail = row.get(end..).unwrap_or_default().to_owned();
                    row.truncate(column);
                    *row = format!("{row:<column$}{}{tail}", marker.sign);
                }
                None => rows.push(place),
            }
        }
        rows
    }
}

/// How many columns into its degree a position stands.
#[allow(
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "widths are below 20, and the float is held between 0 and the width"
)]
fn step_within((from, to): (f64, f64), position: f64, width: usize) -> usize {
    let share = ((position - from) / (to - from)).clamp(0.0, 1.0);
    let last = width.saturating_sub(1);
    ((share * width as f64).floor() as usize).min(last)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::{Colours, Look};

    fn printed(width: usize, write: impl Fn(&mut Sheet<'_, Vec<u8>>) -> io::Result<()>) -> String {
        let look = Look::new(width, Colours::Off);
        let mut out = Vec::new();
        write(&mut Sheet::new(&mut out, &look)).unwrap();
        String::from_utf8(out).unwrap()
    }

    /// A little before the middle of a degree, wherever its boundaries are.
    fn inside(degree: Degree) -> f64 {
        let (from, to) = degree.span();
        from + 0.3 * (to - from)
    }

    #[test]
    fn the_marker_stands_under_its_degree() {
        let shown = printed(80, |sheet| {
            write_one(sheet, Degree::LightRevision, inside(Degree::LightRevision))
        });
        let position = inside(Degree::LightRevision);
        let expected = format!(
            "    verbatim | near copy |[light revision]| heavy revision | restructured\n   \
             ----------+-----------+----^-----------+----------------+-------------- {position:.2}\n"
        );
        assert_eq!(shown, expected);
    }

    #[test]
    fn narrow_scales_set_names_on_two_lines() {
        let shown = printed(60, |sheet| write_one(sheet, Degree::Verbatim, 0.0));
        let expected = "   [verbatim]| near | light    | heavy    | re-\n   \
                        [        ]| copy | revision | revision | structured\n   \
                        ^---------+------+----------+----------+------------ 0.00\n";
        assert_eq!(shown, expected);
    }

    #[test]
    fn the_marker_never_leaves_its_degree_nor_the_line_the_width() {
        for width in 60..=100 {
            let ruler = Ruler::new(width);
            let mut last = 0;
            for degree in Degree::ALL {
                for position in [
                    f64::NEG_INFINITY,
                    0.0,
                    0.3,
                    inside(degree),
                    1.0,
                    7.0,
                    f64::NAN,
                ] {
                    let name = printed(width, |sheet| {
                        write_one(sheet, degree, position.clamp(0.0, 1.0))
                    });
                    assert!(name.lines().all(|line| line.len() <= width), "{name}");
                    assert!(ruler.column(degree, position) >= last);
                }
                last = ruler.column(degree, 1.0) + 1;
            }
            assert_eq!(last, ruler.line().len());
        }
    }

    #[test]
    fn markers_that_would_touch_go_below_each_other() {
        let marker = |sign: &str, degree| Marker {
            sign: sign.to_owned(),
            degree,
            position: inside(degree),
        };
        let markers = [
            marker("1", Degree::NearCopy),
            marker("2", Degree::Restructured),
            marker("3", Degree::NearCopy),
            marker("4", Degree::Verbatim),
        ];
        let shown = printed(80, |sheet| write_many(sheet, &markers));
        let rows: Vec<&str> = shown.lines().skip(2).collect();
        assert_eq!(
            rows,
            [
                "      4          1                                              2",
                "                 3"
            ]
        );
    }
}
