//! A load as a picture: plain data in, SVG out. One module draws for whoever shows a load; nothing here computes a figure.
//!
//! Drawings are plain: ink on white, told apart by patterns, dashes and marks, never by colour alone. What is drawn without
//! its size being given is dashed and named below. Long names are cut, and no text of a sheet can act as markup.

mod canvas;
mod figures;
mod loading;
mod places;
mod side;
mod texts;
mod top;

use std::collections::BTreeSet;

use canvas::Canvas;
use texts::{named, shortened};

use super::closing::{CAUTION, count};
use super::fingerprint::hash_of;
use super::verdict::Verdict;
use crate::figures::drawn::Notes;
use crate::finding::Level;
use crate::mend::Picture;

/// A view of a load.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum View {
    /// Truck, trailer and load from the side, with every axle's load, the centre of gravity, the tongue, and where the items
    /// may stand.
    Side,
    /// The deck from above, with anchors and tie-downs.
    Top,
    /// Each machine on its way up, where its underside comes nearest.
    Loading,
}

impl View {
    /// All of them, in the order in which they stand under one another.
    pub const ALL: [Self; 3] = [Self::Side, Self::Top, Self::Loading];

    /// What it is called.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Side => "side view",
            Self::Top => "top view",
            Self::Loading => "loading view",
        }
    }
}

/// How a picture is made.
#[derive(Clone, Debug)]
pub struct Look<'a> {
    /// What is drawn, one view under another.
    pub views: &'a [View],
    /// How wide, in px: texts keep their size, drawings are to scale.
    pub width: u32,
    /// Whether the name of the load stands over it.
    pub headed: bool,
    /// Whether the caution at the end is left out.
    pub quiet: bool,
}

/// The narrowest and the widest picture, in px.
pub const WIDTHS: (u32, u32) = (320, 4000);

/// A picture as a document of its own.
#[must_use]
pub fn svg(picture: &Picture, look: &Look<'_>) -> String {
    let width = f64::from(look.width.clamp(WIDTHS.0, WIDTHS.1));
    let leg = picture.leg.as_deref();
    let views: Vec<&str> = look.views.iter().map(|view| view.name()).collect();
    let views = views.join(", ");
    // Ids of a picture's own, so that several may stand in one page.
    let parts = [&picture.sheet, leg.unwrap_or(""), &views, &look.width.to_string()];
    let mut canvas = Canvas::new(width, format!("load-{:08x}", hash_of(&parts) >> 32));
    let mut title = format!("Load {}", named(&picture.sheet));
    if let Some(leg) = leg {
        title = format!("{title}, leg {}", named(leg));
    }
    if look.headed {
        canvas.heading(&title);
        canvas.print(&verdict(picture), true);
    }
    for view in look.views {
        match view {
            View::Side => side::draw(&mut canvas, picture),
            View::Top => top::draw(&mut canvas, picture),
            View::Loading => loading::draw(&mut canvas, picture),
        }
    }
    if !look.quiet {
        canvas.y += 12.0;
        canvas.print(CAUTION, true);
    }
    canvas.finish(&format!("{title}: {views}"))
}

/// What a check says of the load: `fails: 2 errors (overlap, tire-over), 1 warning (anchor-weak)`.
fn verdict(picture: &Picture) -> String {
    let told = Verdict::of(picture.open.iter().map(|(level, _)| *level)).told();
    let found = Level::ALL.into_iter().filter_map(|level| {
        let at_level = picture.open.iter().filter(|(one, _)| *one == level);
        let ids: BTreeSet<&str> = at_level.clone().map(|(_, rule)| &**rule).collect();
        let ids: Vec<String> = ids.into_iter().map(named).collect();
        (!ids.is_empty()).then(|| format!("{} ({})", count(at_level.count(), level.name()), few(&ids)))
    });
    let found: Vec<String> = found.collect();
    let colon = if found.is_empty() { "" } else { ": " };
    format!("This load {told}{colon}{}.", found.join(", "))
}

/// The letter of an item in all views: A, B, …, and its number after Z.
fn letter(at: usize) -> String {
    match u8::try_from(at).ok().filter(|at| *at < 26) {
        Some(at) => char::from(b'A' + at).to_string(),
        None => format!("{}", at + 1),
    }
}

/// What is not to scale and what is not drawn, as the lines under a drawing say it.
fn notes(canvas: &mut Canvas, always: &str, notes: &Notes) {
    let mut parts = Vec::new();
    if !always.is_empty() {
        parts.push(always.to_owned());
    }
    if !notes.assumed.is_empty() {
        parts.push(format!("{} not given", few(&notes.assumed)));
    }
    if !parts.is_empty() {
        canvas.print(&format!("Dashed, not to scale: {}.", parts.join("; ")), true);
    }
    if !notes.undrawn.is_empty() {
        canvas.print(&format!("Not drawn, for want of {}.", few(&notes.undrawn)), true);
    }
}

/// Among many, the first tell enough.
fn few(all: &[String]) -> String {
    let told: Vec<String> = all.iter().take(6).map(|one| shortened(one, 120)).collect();
    let more = all.len().saturating_sub(told.len());
    let more = if more > 0 { format!(", and {more} more") } else { String::new() };
    format!("{}{more}", told.join(", "))
}
