//! The day of a decision.

use std::time::{SystemTime, UNIX_EPOCH};

/// Today by the system's clock as `YYYY-MM-DD`, in universal time: the same for two people who share a
/// review, and no list of time zones is needed. Near midnight it may be the day before or after one's own.
pub(super) fn today() -> String {
    let since = SystemTime::now().duration_since(UNIX_EPOCH);
    let days = since.map_or(0, |since| since.as_secs() / 86_400);
    date_of(days)
}

/// The date of a day counted from 1970-01-01, after Hinnant, "chrono-Compatible Low-Level Date Algorithms"
/// (civil_from_days, from memory). Years begin on 1 March there, so that a leap day comes last.
fn date_of(days: u64) -> String {
    let day = days + 719_468;
    let (era, of_era) = (day / 146_097, day % 146_097);
    let year_of_era = (of_era - of_era / 1460 + of_era / 36_524 - of_era / 146_096) / 365;
    let of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let month_from_march = (5 * of_year + 2) / 153;
    let day = of_year - (153 * month_from_march + 2) / 5 + 1;
    let month = if month_from_march < 10 {
        month_from_march + 3
    } else {
        month_from_march - 9
    };
    let year = year_of_era + era * 400 + u64::from(month <= 2);
    format!("{year:04}-{month:02}-{day:02}")
}

/// Checks that a text has the form of a day, for the command line.
pub(super) fn parse(text: &str) -> Result<String, String> {
    let digits = |part: &str, length: usize| {
        let right = part.len() == length && part.bytes().all(|byte| byte.is_ascii_digit());
        right.then(|| part.parse::<u32>().ok()).flatten()
    };
    let mut parts = text.split('-');
    let (year, month, day) = (parts.next(), parts.next(), parts.next());
    let month = month.and_then(|month| digits(month, 2));
    let day = day.and_then(|day| digits(day, 2));
    match (
        year.and_then(|year| digits(year, 4)),
        month,
        day,
        parts.next(),
    ) {
        (Some(_), Some(1..=12), Some(1..=31), None) => Ok(text.to_owned()),
        _ => Err("a day is written as 2026-03-02".to_owned()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_become_dates() {
        let table = [
            (0, "1970-01-01"),
            (30, "1970-01-31"),
            (31, "1970-02-01"),
            (58, "1970-02-28"),
            (59, "1970-03-01"),
            (11_016, "2000-02-29"),
            (11_017, "2000-03-01"),
            (20_454, "2026-01-01"),
            (47_540, "2100-02-28"),
            (47_541, "2100-03-01"),
        ];
        for (days, date) in table {
            assert_eq!(date_of(days), date, "{days}");
        }
    }

    #[test]
    fn only_days_are_days() {
        assert!(parse("2026-03-02").is_ok());
        for wrong in [
            "",
            "2026-3-2",
            "2026-13-01",
            "2026-00-01",
            "2026-01-32",
            "26-01-01",
            "2026-01-01-01",
            "today",
        ] {
            assert!(parse(wrong).is_err(), "{wrong}");
        }
    }
}
