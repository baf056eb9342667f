//! The page's security policy: nothing is loaded, nothing is sent, and only the page's own style and
//! script count, each named by its SHA-256 (Content Security Policy Level 3, W3C). So a line of a draft that
//! got through as markup by some mistake of ours would still run nothing.
//!
//! Styles and scripts are known when the program is built, so their hashes stand beside them as constants.
//! **To renew** them after a change of a style or a script run
//!
//! ```sh
//! cargo test --lib report::page::policy
//! ```
//!
//! and put what it prints where it says.

/// A style or a script of ours with the name that a policy gives it.
pub(in crate::report) struct Named {
    /// The text, exactly as it stands between the tags.
    pub text: &'static str,
    /// `sha256-` and the SHA-256 of the text in Base64. A test recomputes it.
    pub hash: &'static str,
}

/// The policy for a page with this one style and this one script.
pub(in crate::report) fn policy(style: &Named, script: &Named) -> String {
    with(&format!("script-src '{}'; ", script.hash), style)
}

/// The policy for a page with this one style and no script at all.
pub(in crate::report) fn without_script(style: &Named) -> String {
    with("", style)
}

fn with(script: &str, style: &Named) -> String {
    format!(
        "default-src 'none'; {script}style-src '{}'; base-uri 'none'; form-action 'none'; \
         require-trusted-types-for 'script'; trusted-types 'none'",
        style.hash,
    )
}

#[cfg(test)]
mod tests {
    use base64::Engine;
    use base64::engine::general_purpose::STANDARD;
    use sha2::{Digest, Sha256};

    use crate::report::{desk, explain, handout, page};

    /// `sha256-...`, as a policy names an element by the text in it.
    fn name_of(text: &str) -> String {
        format!("sha256-{}", STANDARD.encode(Sha256::digest(text)))
    }

    #[test]
    fn published_value() {
        // FIPS 180-2, appendix B.1: SHA-256 of "abc", here in Base64.
        let abc = "sha256-ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0=";
        assert_eq!(name_of("abc"), abc);
    }

    #[test]
    fn hashes_are_those_of_the_texts() {
        let all = [
            ("STYLE in src/report/page/mod.rs", page::STYLE),
            ("SCRIPT in src/report/page/mod.rs", page::SCRIPT),
            ("STYLE in src/report/handout/mod.rs", handout::STYLE),
            (
                "STYLE in src/report/handout/exercise.rs",
                handout::exercise::STYLE,
            ),
            ("STYLE in src/report/explain/page.rs", explain::page::STYLE),
            ("STYLE in src/report/desk/shell.rs", desk::STYLE),
            ("SCRIPT in src/report/desk/shell.rs", desk::SCRIPT),
        ];
        let stale: Vec<String> = all
            .iter()
            .map(|(place, named)| (place, named.hash, name_of(named.text)))
            .filter(|(_, hash, now)| hash != now)
            .map(|(place, _, now)| format!("the hash of {place} is now\n    {now}"))
            .collect();
        assert!(stale.is_empty(), "\n{}", stale.join("\n"));
    }
}
