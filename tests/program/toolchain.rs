//! The version of Rust that is asked for: no dependency wants a later one, and whatever names it names the same.
//! That the program's own code gets by with it is held by clippy (`incompatible_msrv`).

use std::fs;
use std::path::Path;
use std::process::Command;

use serde_json::Value;

/// `1.92` and `1.92.0` as numbers.
fn version(text: &str) -> Vec<u32> {
    let mut parts: Vec<u32> = text.split('.').map(|part| part.parse().unwrap()).collect();
    parts.resize(3, 0);
    parts
}

#[test]
fn no_dependency_asks_for_a_later_rust() {
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--locked"])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap();
    let told = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{told}");
    let metadata: Value = serde_json::from_slice(&output.stdout).unwrap();
    let packages = metadata["packages"].as_array().unwrap();
    assert!(packages.len() > 100, "{}", packages.len());
    let own = version(env!("CARGO_PKG_RUST_VERSION"));
    for package in packages {
        if let Some(asked) = package["rust_version"].as_str() {
            let name = &package["name"];
            assert!(
                version(asked) <= own,
                "{name} needs Rust {asked}: raise rust-version in Cargo.toml, or take an older {name}"
            );
        }
    }
}

#[test]
fn the_same_version_is_named_everywhere() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let wanted = format!("{} or later", env!("CARGO_PKG_RUST_VERSION"));
    for file in ["README.md", "tests/run"] {
        let content = fs::read_to_string(root.join(file)).unwrap();
        assert!(content.contains(&wanted), "{file} should say {wanted:?}");
    }
}
