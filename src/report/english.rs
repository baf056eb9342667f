//! Small matters of English that every report needs: numbers, plurals, lists.

/// A number with a comma between thousands: `12,400`.
pub(super) fn grouped(number: usize) -> String {
    let digits = number.to_string();
    let mut shown = String::with_capacity(digits.len() + digits.len() / 3);
    for (index, digit) in digits.chars().enumerate() {
        if index > 0 && (digits.len() - index).is_multiple_of(3) {
            shown.push(',');
        }
        shown.push(digit);
    }
    shown
}

/// A counted thing: `1 word`, `12,400 words`. `many` is the plural.
pub(super) fn counted(number: usize, one: &str, many: &str) -> String {
    let noun = if number == 1 { one } else { many };
    format!("{} {noun}", grouped(number))
}

/// A number of halves: `1,033½`, `½`, `33`.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "counts of words are far below 2^52, and the float is not negative"
)]
pub(super) fn halves(number: f64) -> String {
    let whole = number.floor();
    let shown = grouped(whole.max(0.0) as usize);
    match (whole == number, whole == 0.0) {
        (true, _) => shown,
        (false, true) => "½".to_owned(),
        (false, false) => format!("{shown}½"),
    }
}

/// The number that a share (0 to 1) of a whole stands for, so that a reader can recount it.
#[allow(
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "word counts are far below 2^52, and the float is held between 0 and the whole"
)]
pub(super) fn part_of(share: f64, whole: usize) -> usize {
    let whole_float = whole as f64;
    (share * whole_float).round().clamp(0.0, whole_float) as usize
}

/// Things in a row: `a`, `a and b`, `a, b and c`.
pub(super) fn listed(things: &[String]) -> String {
    match things {
        [] => String::new(),
        [only] => only.clone(),
        [firsts @ .., last] => format!("{} and {last}", firsts.join(", ")),
    }
}

/// A text with its first letter as a capital.
pub(super) fn capitalised(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_grouped_by_three() {
        let table = [
            (0, "0"),
            (999, "999"),
            (1000, "1,000"),
            (1_234_567, "1,234,567"),
        ];
        for (number, shown) in table {
            assert_eq!(grouped(number), shown);
        }
    }

    #[test]
    fn plurals_and_lists() {
        assert_eq!(counted(1, "entry", "entries"), "1 entry");
        assert_eq!(counted(0, "entry", "entries"), "0 entries");
        let list =
            |things: &[&str]| listed(&things.iter().map(|t| (*t).to_owned()).collect::<Vec<_>>());
        assert_eq!(list(&[]), "");
        assert_eq!(list(&["a"]), "a");
        assert_eq!(list(&["a", "b"]), "a and b");
        assert_eq!(list(&["a", "b", "c"]), "a, b and c");
    }

    #[test]
    fn shares_become_counts_again() {
        assert_eq!(part_of(31.0 / 40.0, 40), 31);
        assert_eq!(part_of(1.0 / 3.0, 3), 1);
        assert_eq!(part_of(1.5, 4), 4);
        assert_eq!(part_of(f64::NAN, 4), 0);
        assert_eq!(part_of(-0.2, 4), 0);
    }

    #[test]
    fn capitals() {
        assert_eq!(capitalised("near copy"), "Near copy");
        assert_eq!(capitalised("ähnlich"), "Ähnlich");
        assert_eq!(capitalised(""), "");
    }
}
