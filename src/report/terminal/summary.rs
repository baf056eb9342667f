//! The end of a report: which sources the findings lead to, what was not compared, and what to bear in
//! mind. What there is to do by weight and kind stands at the beginning ([`super::glance`]).

use std::collections::BTreeMap;
use std::io::{self, Write};

use super::sheet::{INDENT, Sheet};
use crate::findings::{CheckReport, Finding, Weight};
use crate::paths::portable;
use crate::report::cautions::CAUTIONS;
use crate::report::english::{counted, grouped};
use crate::report::{harmless, said};
use crate::review::LeftOut;

/// Columns before the name of a source: a number of four digits.
const COUNTED: usize = 9;

/// Writes the end of a report.
pub(super) fn write<W: Write>(
    sheet: &mut Sheet<'_, W>,
    report: &CheckReport,
    show_explained: bool,
) -> io::Result<()> {
    together(sheet, report)?;
    by_source(sheet, report.drafts.iter().flat_map(said::open))?;
    sheet.heading(0, "What was compared")?;
    sheet.paragraph(INDENT, &said::compared(report))?;
    explained(sheet, report, show_explained)?;
    left_out(sheet, &report.left_out)?;
    cautions(sheet, &CAUTIONS)
}

/// Writes what to bear in mind.
pub(in crate::report) fn cautions<W: Write>(
    sheet: &mut Sheet<'_, W>,
    cautions: &[&str],
) -> io::Result<()> {
    sheet.blank()?;
    sheet.heading(0, "Please bear in mind")?;
    cautions
        .iter()
        .try_for_each(|caution| sheet.hanging(INDENT, " -", caution))
}

/// Several drafts at a glance: what each of them asks for.
fn together<W: Write>(sheet: &mut Sheet<'_, W>, report: &CheckReport) -> io::Result<()> {
    if report.drafts.len() < 2 {
        return Ok(());
    }
    sheet.heading(0, "All drafts together")?;
    for draft in &report.drafts {
        let of_weight = |weight: Weight| {
            let count = super::open(draft).filter(|f| f.weight == weight).count();
            (count > 0).then(|| format!("{} {}", grouped(count), weight.request()))
        };
        let asked: Vec<String> = Weight::ALL.into_iter().filter_map(of_weight).collect();
        let asked = if asked.is_empty() {
            "nothing to look at".to_owned()
        } else {
            asked.join(", ")
        };
        let path = portable(&draft.path);
        let count = grouped(super::open(draft).count());
        let lead = format!("{count:>width$}", width = COUNTED - 2);
        sheet.hanging(COUNTED, &lead, &format!("{}: {asked}", harmless(&path)))?;
    }
    sheet.blank()
}

fn by_source<'f, W: Write>(
    sheet: &mut Sheet<'_, W>,
    open: impl Iterator<Item = &'f Finding>,
) -> io::Result<()> {
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    for source in open.filter_map(|finding| finding.source.as_ref()) {
        let mut name = source.name.clone();
        if !name.contains(source.key.as_str()) {
            name.push_str(&format!(" [{}]", source.key));
        }
        *counts.entry(name).or_default() += 1;
    }
    if counts.is_empty() {
        return Ok(());
    }
    let mut counts: Vec<(String, usize)> = counts.into_iter().collect();
    // Where most is to be done first; the stable sort keeps equals in order of their names.
    counts.sort_by_key(|&(_, count)| std::cmp::Reverse(count));
    sheet.heading(0, "Findings by source")?;
    for (name, count) in counts {
        let lead = format!("{:>width$}", grouped(count), width = COUNTED - 2);
        sheet.hanging(COUNTED, &lead, &harmless(&name))?;
    }
    sheet.blank()
}

fn explained<W: Write>(
    sheet: &mut Sheet<'_, W>,
    report: &CheckReport,
    shown: bool,
) -> io::Result<()> {
    let count = report
        .drafts
        .iter()
        .map(|draft| draft.explained.len())
        .sum();
    if count == 0 || shown {
        return Ok(());
    }
    let places = counted(count, "overlap was", "overlaps were");
    let text = format!(
        "{places} taken for fixed wording, titles, names or your own notes and left aside; --show-explained lists them."
    );
    sheet.paragraph(INDENT, &text)
}

/// Writes what was left out, if anything was.
pub(super) fn left_out<W: Write>(sheet: &mut Sheet<'_, W>, left_out: &[LeftOut]) -> io::Result<()> {
    if left_out.is_empty() {
        return Ok(());
    }
    sheet.blank()?;
    sheet.heading(0, "Left out, or read in a way you should know about")?;
    left_out.iter().try_for_each(|item| {
        let text = format!(
            "{}: {}",
            harmless(&item.what),
            harmless(&item.why.to_string())
        );
        sheet.hanging(INDENT, " -", &text)
    })
}
