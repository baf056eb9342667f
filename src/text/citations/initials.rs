//! Initials before or after a surname: `A. B. Harrow`, `J.-P. Harrow`, `Harrow, A. B.`, `Harrow AB`.

use super::tokens::{Kind, Token};
use super::vocabulary::{COUNTED, FUNCTION, GROUP_HEADS, PARTS, listed};
use crate::text::locator::is_roman;

/// `Harrow, A. B.`: the tokens up to the surname, and the initials. `None` where initials stand with
/// no surname before them.
pub(super) fn without_initials_behind<'t, 'a>(
    content: &'a str,
    tokens: &'t [Token<'a>],
) -> Option<(&'t [Token<'a>], Option<String>)> {
    if let Some((names, initials)) = without_bare_initials(tokens) {
        return Some((names, Some(initials)));
    }
    let start = initials_start(tokens, tokens.len());
    let (before, initials) = tokens.split_at_checked(start)?;
    let ([first, ..], Some(last)) = (initials, initials.last()) else {
        return Some((tokens, None));
    };
    match before {
        [names @ .., comma] if comma.kind == Kind::Comma => {
            let written = content.get(first.start..last.end)?;
            Some((names, Some(super::chunk::one_line(written))))
        }
        _ => None,
    }
}

/// Capitals after a name that are not initials: places and forms of companies.
const NO_INITIALS: [&str; 14] = [
    "AG", "BV", "EU", "EV", "LLC", "LTD", "NV", "NZ", "PLC", "SA", "UK", "UN", "US", "USA",
];

/// `Harrow AB`, the form of the Vancouver style: the tokens up to the surname, and the initials with
/// full stops. Only a lone surname has them: `Harbour Research UK` is a group.
fn without_bare_initials<'t, 'a>(tokens: &'t [Token<'a>]) -> Option<(&'t [Token<'a>], String)> {
    let (initials, names) = tokens.split_last()?;
    let (surname, before) = names.split_last()?;
    let capitals = (1..=3).contains(&initials.text.len())
        && initials.text.bytes().all(|byte| byte.is_ascii_uppercase());
    let is_surname = surname.kind == Kind::Word
        && surname.is_capitalised()
        && surname.text.chars().filter(|c| c.is_lowercase()).count() >= 2
        && !listed(FUNCTION, surname.text)
        && !listed(PARTS, surname.text)
        && !listed(COUNTED, surname.text)
        && !listed(GROUP_HEADS, surname.text);
    let lone = before.last().is_none_or(|token| {
        token.kind != Kind::Word || !token.is_capitalised() || listed(FUNCTION, token.text)
    });
    let roman = initials.text.len() > 1 && is_roman(initials.text);
    let fits = capitals && is_surname && lone && !roman && !NO_INITIALS.contains(&initials.text);
    fits.then(|| {
        let dotted: Vec<String> = initials.text.chars().map(|c| format!("{c}.")).collect();
        (names, dotted.join(" "))
    })
}

/// Where the initials begin that end before `end`; `end` itself where there are none.
pub(super) fn initials_start(tokens: &[Token<'_>], end: usize) -> usize {
    let mut start = end;
    while let Some([letter, dot]) = start
        .checked_sub(2)
        .and_then(|from| tokens.get(from..start))
        && dot.kind == Kind::Dot
        && letter.kind == Kind::Word
        && letter.is_capitalised()
        && letter.text.chars().nth(1).is_none()
        && end - start < 12
    {
        start -= 2;
        let hyphen = start
            .checked_sub(1)
            .and_then(|index| tokens.get(index))
            .is_some_and(|token| token.kind == Kind::Dash && token.end == letter.start);
        if hyphen && start >= 3 {
            start -= 1;
        }
    }
    start
}
