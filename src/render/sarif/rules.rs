//! What a rule says of itself, for a program that shows it beside its results.

use super::message::told;
use super::wire::{Configuration, Descriptor, Message};
use crate::render::markdown::plain;
use crate::render::meaning::{paragraphs, source};
use crate::render::place::shown;
use crate::rules::Rule;

/// A rule with its title, its explanation and its level; only its id where nothing more is known of it.
pub(super) fn descriptor(id: &str, rule: Option<&Rule>) -> Descriptor {
    Descriptor {
        id: shown(id).into_owned(),
        short_description: rule.map(|rule| told(&rule.title)),
        help: rule.map(help),
        default_configuration: rule.map(|rule| Configuration { level: rule.level.name() }),
    }
}

/// The rule's `why`, as text and as Markdown without any HTML (3.11.4.2), and where its bound comes from.
fn help(rule: &Rule) -> Message {
    let source = format!("Source: {}.", source(rule));
    let texts = || paragraphs(rule).into_iter().chain([source.clone()]);
    Message {
        text: texts().map(|text| told(&text).text).collect::<Vec<_>>().join("\n\n"),
        markdown: Some(texts().map(|text| plain(&text)).collect::<Vec<_>>().join("\n\n")),
    }
}
