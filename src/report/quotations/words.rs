//! What is said of one quotation, in plain words: the same in every report for people.

use crate::findings::SourcePlace;
use crate::findings::account::{Account, Credited, Fidelity, Item, PageCheck, Quoted};
use crate::findings::quoting::slips::{Slip, gravest};
use crate::report::english::listed;
use crate::text::QuotationForm;

/// `in the text`, `set off`.
pub(in crate::report) fn form(form: QuotationForm) -> &'static str {
    match form {
        QuotationForm::Inline => "in the text",
        QuotationForm::Block => "set off",
    }
}

/// `p. 113`, `pp. 113-114`; empty where the source shows no pages.
pub(in crate::report) fn pages(places: &[SourcePlace]) -> String {
    let each = places.iter().filter_map(|place| {
        let (first, last) = place.pages.as_ref()?;
        Some(crate::report::said::pages(first, last))
    });
    let mut each: Vec<String> = each.collect();
    each.dedup();
    listed(&each)
}

/// One sentence for each thing to say of a quotation: its words, then what is to be mended. The first says how
/// the words stand to the source.
pub(in crate::report) fn verdict(quoted: &Quoted) -> Vec<String> {
    let mut said = vec![fidelity(quoted)];
    let source = quoted.found.first().map(|place| place.name.as_str());
    match (quoted.credit, source) {
        (Credited::None, Some(name)) => {
            let pages = match pages(&quoted.found) {
                pages if pages.is_empty() => pages,
                pages => format!(", {pages}"),
            };
            said.push(format!("no citation: the words are from {name}{pages}"));
        }
        (Credited::None, None) => said.push("no citation: say whose words they are".to_owned()),
        (Credited::Elsewhere, Some(name)) => said.push(format!(
            "cited as {}, but the words are in {name}",
            listed(&quoted.cited)
        )),
        _ => {}
    }
    let found = pages(&quoted.found);
    let cited = quoted.locator.as_deref().unwrap_or_default();
    match quoted.page {
        PageCheck::Partly => said.push(format!("{cited} is only a part of it: cite {found}")),
        PageCheck::Wrong => said.push(format!("{cited} is cited, but the words are on {found}")),
        // Whoever adds the citation adds the page.
        PageCheck::Missing if quoted.credit == Credited::None => {}
        PageCheck::Missing if found.is_empty() => said.push("no page".to_owned()),
        PageCheck::Missing => said.push(format!("no page: the words are on {found}")),
        PageCheck::Right | PageCheck::Unknown => {}
    }
    said
}

fn fidelity(quoted: &Quoted) -> String {
    let by_way = if quoted.secondary {
        ", by way of another work"
    } else {
        ""
    };
    let said = match quoted.fidelity {
        Fidelity::Exact => "exact",
        Fidelity::Altered => match gravest(&quoted.differences) {
            Slip::Spelling => "another spelling",
            Slip::Corrected => "a misprint corrected without saying so",
            Slip::Mistyped => "a word mistyped",
            Slip::Words => "words changed",
        },
        Fidelity::Joined => "put together from several places",
        Fidelity::NotFound => "not in the stored text of the cited work",
        Fidelity::NotStored => "no text stored to compare with",
        Fidelity::Translated => "your own translation",
    };
    format!("{said}{by_way}")
}

/// A difference in words: `"bought" in the source, "ordered" here`.
pub(in crate::report) fn difference((ours, theirs): &(String, String)) -> String {
    match (ours.is_empty(), theirs.is_empty()) {
        (true, _) => format!("\"{theirs}\" of the source is left out"),
        (_, true) => format!("\"{ours}\" is put in"),
        _ => format!("\"{ours}\" here, \"{theirs}\" in the source"),
    }
}

/// Whether no draft has the words, with marks or without.
fn is_unused(item: &Item) -> bool {
    !item.is_used() && item.unmarked().next().is_none()
}

/// How many quotations there are of each sort.
#[derive(Debug, Default, Clone, Copy, serde::Serialize)]
pub(in crate::report) struct Counts {
    pub in_drafts: usize,
    pub in_notes: usize,
    pub exact: usize,
    pub altered: usize,
    pub joined: usize,
    pub not_found: usize,
    pub not_stored: usize,
    pub translated: usize,
    pub page_missing: usize,
    pub page_wrong: usize,
    pub page_partly: usize,
    pub without_credit: usize,
    pub credit_elsewhere: usize,
    pub to_mend: usize,
    pub noted_unused: usize,
    pub used_twice: usize,
    pub used_not_noted: usize,
    pub used_unmarked: usize,
}

impl Counts {
    /// Counts an account. The last four count items, the others quotations.
    pub(in crate::report) fn of(account: &Account) -> Self {
        let count =
            |is: &dyn Fn(&Quoted) -> bool| account.all().filter(|quoted| is(quoted)).count();
        let fidelity = |wanted| count(&|quoted| quoted.fidelity == wanted);
        let page = |wanted| count(&|quoted| quoted.page == wanted);
        let credit = |wanted| count(&|quoted| quoted.credit == wanted);
        let items = &account.items;
        Self {
            in_drafts: count(&Quoted::is_used),
            in_notes: count(&|quoted| !quoted.is_used()),
            exact: fidelity(Fidelity::Exact),
            altered: fidelity(Fidelity::Altered),
            joined: fidelity(Fidelity::Joined),
            not_found: fidelity(Fidelity::NotFound),
            not_stored: fidelity(Fidelity::NotStored),
            translated: fidelity(Fidelity::Translated),
            page_missing: count(&|quoted| {
                quoted.page == PageCheck::Missing && quoted.credit != Credited::None
            }),

            page_wrong: page(PageCheck::Wrong),
            page_partly: page(PageCheck::Partly),
            without_credit: credit(Credited::None),
            credit_elsewhere: credit(Credited::Elsewhere),
            to_mend: count(&Quoted::wants_mending),
            noted_unused: items.iter().filter(|item| is_unused(item)).count(),
            used_twice: items.iter().filter(|item| item.used_twice).count(),
            used_not_noted: items.iter().filter(|item| !item.is_noted()).count(),
            used_unmarked: items
                .iter()
                .filter(|item| item.unmarked().next().is_some())
                .count(),
        }
    }
}
