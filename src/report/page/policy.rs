//! The page's security policy: nothing is loaded, nothing is sent, and only the page's own style and
//! script count, each named by its SHA-256 (Content Security Policy Level 3, W3C). So a line of a draft that
//! got through as markup by some mistake of ours would still run nothing.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest, Sha256};

/// The policy for a page with this one style and this one script.
pub(in crate::report) fn policy(style: &str, script: &str) -> String {
    with(&format!("script-src '{}'; ", name_of(script)), style)
}

/// The policy for a page with this one style and no script at all.
pub(in crate::report) fn without_script(style: &str) -> String {
    with("", style)
}

fn with(script: &str, style: &str) -> String {
    format!(
        "default-src 'none'; {script}style-src '{}'; base-uri 'none'; form-action 'none'; \
         require-trusted-types-for 'script'; trusted-types 'none'",
        name_of(style),
    )
}

/// `sha256-...`, as a policy names an element by the text in it.
fn name_of(text: &str) -> String {
    format!("sha256-{}", STANDARD.encode(Sha256::digest(text)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn published_value() {
        // FIPS 180-2, appendix B.1: SHA-256 of "abc", here in Base64.
        let abc = "sha256-ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0=";
        assert_eq!(name_of("abc"), abc);
    }
}
