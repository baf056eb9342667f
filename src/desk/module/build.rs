//! Gives the module a deep stack: drawings in a PDF may be nested fifty deep.

fn main() {
    println!("cargo::rerun-if-changed=build.rs");
    println!("cargo::rustc-cdylib-link-arg=-zstack-size=67108864");
}
