//! Pages of HTML as documents of their own: each holds all it needs, asks nothing of any network, and says so in its policy,
//! which also keeps anything a name in a sheet might say from being run.

use std::fmt::Write as _;

use base64::Engine as _;
use base64::prelude::BASE64_STANDARD;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use sha2::{Digest as _, Sha256};

/// What all pages look like; a text of ours, so that it is set as it stands.
const STYLE: &str = include_str!("document.css");

/// Characters at the foot of a page.
const LONGEST: usize = 90;

/// A page with its title, what it looks like beside what all pages have, and the only script that it may run.
pub(super) fn document(title: &str, styles: &[&str], script: Option<&str>, body: &Markup) -> String {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta http-equiv="Content-Security-Policy" content=(policy(script));
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="referrer" content="no-referrer";
                title { (title) }
                // An icon that is asked of no one.
                link rel="icon" href="data:,";
                style { (PreEscaped(STYLE)) (PreEscaped(foot("", title))) @for style in styles { (PreEscaped(style)) } }
            }
            body {
                (body)
                @if let Some(script) = script { script { (PreEscaped(script)) } }
            }
        }
    }
    .into_string()
        + "\n"
}

/// At the foot of each sheet of paper what it is of and which one, so that loose sheets are not mistaken for others'. With a
/// name only of what is set on pages of that name (CSS Paged Media Level 3).
pub(super) fn foot(page: &str, text: &str) -> String {
    // Every character by its number, so that none can end the text or the style (CSS Syntax Level 3, 4.3.7).
    let text = text.chars().take(LONGEST).fold(String::new(), |mut text, c| {
        // Writing to a String cannot fail.
        let _ = write!(text, "\\{:x} ", u32::from(c));
        text
    });
    format!(
        "@page {page} {{ font: 8pt system-ui, sans-serif; @bottom-left {{ content: \"{text}\"; }} \
         @bottom-right {{ content: counter(page) \" of \" counter(pages); }} }}\n"
    )
}

/// What a page may load and run: its own style, and a script only if it is to the letter the one that was meant (Content
/// Security Policy Level 3, hash sources).
fn policy(script: Option<&str>) -> String {
    let script =
        script.map(|script| format!("script-src 'sha256-{}'; ", BASE64_STANDARD.encode(Sha256::digest(script))));
    format!(
        "default-src 'none'; {}style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'",
        script.unwrap_or_default()
    )
}
