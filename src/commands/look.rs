//! Where a report will be read, and so how it may look: width and colours.

use std::env;
use std::io::{self, IsTerminal};

use super::args::{OutArgs, When};
use crate::report::{Colours, Look};

/// Columns where the output is no terminal, and no width is known.
const USUAL_COLUMNS: usize = 80;

/// The look for the output of this run.
pub(super) fn look(when: When, out: &OutArgs) -> Look {
    let terminal = out.out.is_none() && io::stdout().is_terminal();
    let columns = terminal
        .then(|| terminal_size::terminal_size_of(io::stdout()))
        .flatten()
        .map_or(USUAL_COLUMNS, |(width, _)| usize::from(width.0));
    Look::new(columns, colours(when, terminal, no_colour()))
}

fn colours(when: When, terminal: bool, no_colour: bool) -> Colours {
    match when {
        When::Always => Colours::On,
        When::Auto if terminal && !no_colour => Colours::On,
        When::Auto | When::Never => Colours::Off,
    }
}

/// Whether the environment asks for no colours: `NO_COLOR` set to anything, or a terminal that has none.
fn no_colour() -> bool {
    let is_set = env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
    is_set || env::var_os("TERM").is_some_and(|term| term == "dumb")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_typed_outranks_the_environment() {
        let table = [
            (When::Auto, true, false, Colours::On),
            (When::Auto, true, true, Colours::Off),
            (When::Auto, false, false, Colours::Off),
            (When::Always, false, true, Colours::On),
            (When::Never, true, false, Colours::Off),
        ];
        for (when, terminal, no_colour, wanted) in table {
            assert_eq!(colours(when, terminal, no_colour), wanted, "{when:?}");
        }
    }
}
