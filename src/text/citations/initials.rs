//! Initials before or behind a surname: `A. B. Harrow`, `J.-P. Harrow`, `Harrow, A. B.`

use super::tokens::{Kind, Token};

/// `Harrow, A. B.`: the tokens up to the surname, and the initials. `None` where initials stand with
/// no surname before them.
pub(super) fn without_initials_behind<'t, 'a>(
    content: &'a str,
    tokens: &'t [Token<'a>],
) -> Option<(&'t [Token<'a>], Option<&'a str>)> {
    let start = initials_start(tokens, tokens.len());
    let (before, initials) = tokens.split_at_checked(start)?;
    let ([first, ..], Some(last)) = (initials, initials.last()) else {
        return Some((tokens, None));
    };
    match before {
        [names @ .., comma] if comma.kind == Kind::Comma => {
            Some((names, content.get(first.start..last.end)))
        }
        _ => None,
    }
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
