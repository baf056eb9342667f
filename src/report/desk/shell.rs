//! The page that a browser opens: an empty desk with its screens, style and script. The engine is behind an address of this
//! machine, or stands in the page itself.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use crate::report::page::policy::Named;
use crate::report::page::values;

/// What the page asks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Engine<'e> {
    /// The program that serves the page.
    Served,
    /// The engine as WebAssembly, packed with gzip and written in Base64.
    Inside(&'e str),
}

pub(in crate::report) const STYLE: Named = Named {
    text: concat!(
        values!(),
        include_str!("../page/page.css"),
        include_str!("desk.css")
    ),
    hash: "sha256-R+KXRQrm+q7p+7GSZd2gc4gt6y2m/MoIvTBmb/0ddHI=",
};
pub(in crate::report) const SCRIPT: Named = Named {
    text: concat!(
        include_str!("../page/draw.js"),
        include_str!("engine.js"),
        include_str!("begin.js"),
        include_str!("findings.js"),
        include_str!("rewriting.js"),
        include_str!("class.js"),
        include_str!("desk.js"),
    ),
    hash: "sha256-uHsXa49lhOvNWV1PxLiXGHJsXrHF+E++6wdBXqQ33/4=",
};
/// The worker that runs the engine inside the page; it is started from the page's own text.
const WORKER: &str = include_str!("worker.js");

/// The page's security policy. With the engine inside nothing may be sent anywhere at all.
#[must_use]
pub fn policy(engine: Engine<'_>) -> String {
    let (script, connect) = match engine {
        Engine::Served => ("", "connect-src 'self'; "),
        Engine::Inside(_) => (
            " 'wasm-unsafe-eval'",
            "connect-src 'none'; worker-src blob:; ",
        ),
    };
    format!(
        "default-src 'none'; script-src '{}'{script}; style-src '{}'; {connect}base-uri 'none'; \
         form-action 'none'; require-trusted-types-for 'script'; trusted-types ownwords",
        SCRIPT.hash, STYLE.hash
    )
}

/// The page.
#[must_use]
pub fn shell(engine: Engine<'_>) -> String {
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta http-equiv="Content-Security-Policy" content=(policy(engine));
                meta name="generator" content="ownwords";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                meta name="referrer" content="no-referrer";
                title { "ownwords: your desk" }
                style { (PreEscaped(STYLE.text)) }
            }
            body {
                (body())
                @if let Engine::Inside(module) = engine {
                    script type="text/plain" id="worker" { (PreEscaped(WORKER)) }
                    script type="text/plain" id="module" { (PreEscaped(module)) }
                }
                script { (PreEscaped(SCRIPT.text)) }
            }
        }
    };
    page.into_string()
}

const SCREENS: [(&str, &str); 6] = [
    ("begin", "Files"),
    ("draft", "Draft"),
    ("notes", "Notes"),
    ("quotations", "Quotations"),
    ("class", "Class"),
    ("take", "Take away"),
];

fn body() -> Markup {
    html! {
        a.skip href="#main" { "Skip to the desk" }
        header.desk {
            p.name { "ownwords" }
            nav aria-label="The desk" {
                ul { @for (id, name) in SCREENS { li { a href={ "#" (id) } data-screen=(id) { (name) } } } }
            }
        }
        p id="says" role="status" aria-live="polite" {}
        p id="wrong" role="alert" hidden {}
        main id="main" tabindex="-1" {
            (begin()) (draft())
            (simple("notes", "Notes", "Your entries, each set against its source and the others."))
            (simple("quotations", "Quotations", "Every quotation in your notes and drafts: whose words, which page, exact or not, used where."))
            (class()) (take())
        }
        footer { p.made { "Everything stays on this machine: nothing is sent anywhere, and your files are not changed." } }
    }
}

fn begin() -> Markup {
    html! {
        section.screen id="begin" aria-labelledby="begin-name" {
            h1 id="begin-name" { "Put your work on the desk" }
            div.drop id="drop" {
                p { "Drop your draft here, with what you have read for it: sources (PDF, Word, text), your notes, your list of references (.bib, .ris, .json)." }
                div.buttons {
                    button.chief type="button" id="pick" { "Choose files" }
                    button type="button" id="pick-folder" { "Choose a folder" }
                    button type="button" id="demo" { "Look at an example first" }
                }
                input.v type="file" id="files" multiple tabindex="-1" aria-label="Files for the desk";
                input.v type="file" id="folder" webkitdirectory tabindex="-1" aria-label="A folder for the desk";
            }
            div id="on-desk" {}
        }
    }
}

fn draft() -> Markup {
    html! {
        section.screen id="draft" aria-labelledby="draft-name" hidden {
            h1 id="draft-name" tabindex="-1" { "Draft" }
            p.extent id="draft-extent" {}
            div id="chapters" {}
            div id="draft-tools" {}
            details.glance id="glance-box" { summary { "What matters most, and a map" } h2.v { "At a glance" } div id="glance" {} div id="map" {} }
            div.split {
                div.read { h2.v { "The draft, with what was found beside it" } div id="legend" {} h3.v { "Its text" } div.text id="text" {} }
                aside.panel id="panel" aria-label="The finding in full" hidden {}
            }
        }
    }
}

fn simple(id: &str, name: &str, what: &str) -> Markup {
    html! {
        section.screen id=(id) aria-labelledby={ (id) "-name" } hidden {
            h1 id={ (id) "-name" } tabindex="-1" { (name) }
            p { (what) }
            div.filled {}
        }
    }
}

fn class() -> Markup {
    html! {
        section.screen id="class" aria-labelledby="class-name" hidden {
            h1 id="class-name" tabindex="-1" { "Class: one passage, many rewrites" }
            details.class-in open { summary { "The passage, and rewrites to be put in" }
                label for="passage" { "The passage" }
                textarea id="passage" rows="4" {}
                label for="live" { "A rewrite, typed here: the marker moves as you type" }
                textarea id="live" rows="3" {}
                div.buttons {
                    button.chief type="button" id="add-live" { "Put it on the scale" }
                    button type="button" id="example" { "An example" }
                    button type="button" id="drop-rewrites" { "Add files of rewrites" }
                    input.v type="file" id="rewrites" multiple tabindex="-1" aria-label="Files of rewrites";
                }
                details { summary { "Paste many at once" }
                    label for="paste" { "Rewrites with an empty line between two" }
                    textarea id="paste" rows="6" {}
                    button type="button" id="add-paste" { "Put them on the scale" }
                }
            }
            div.stage id="stage" {}
        }
    }
}

fn take() -> Markup {
    html! {
        section.screen id="take" aria-labelledby="take-name" hidden {
            h1 id="take-name" tabindex="-1" { "Take away" }
            p { "Each is a file that your browser saves. Your own files stay as they are." }
            div.filled {}
        }
    }
}
