//! `draylint draw`: one load as SVG on standard output.

use std::fmt::Write as _;

use super::args::{Common, View, What};
use super::progress::shown;
use super::run::{FAILED, Outcome, asked, found, options, with_rule_faults};
use super::terminal;
use crate::finding::{Finding, Level};
use crate::render::TextRenderer;
use crate::render::svg::{self, Look};
use crate::text::visible;
use crate::yard;

/// So many loads are named where it is not clear which one is meant.
const NAMED: usize = 20;

/// Draws the one load that is asked for. A load that cannot be computed gives no picture: what a check finds in it is told,
/// and the run ends as that check would.
pub(super) fn draw(what: &What, views: &[View], width: u32, common: &Common) -> Result<Outcome, String> {
    let (paths, narrowed) = asked(what);
    let drawn = shown(common, |progress| yard::draw(&paths, &narrowed, &options(common), progress));
    let drawn = drawn.map_err(|why| why.to_string())?;
    found(what, drawn.loads.is_empty(), drawn.near.as_deref())?;
    match drawn.loads.as_slice() {
        [] => {
            return Ok(Outcome { told: "no loads here: there is nothing to draw\n".to_owned(), ..Outcome::default() });
        }
        [_] => {}
        several => return Ok(which_of(several)),
    }
    if let Some(picture) = &drawn.picture {
        let named = |view: svg::View| {
            views.is_empty()
                || views.iter().any(|asked| match asked {
                    View::Side => view == svg::View::Side,
                    View::Top => view == svg::View::Top,
                    View::Loading => view == svg::View::Loading,
                })
        };
        let views: Vec<svg::View> = svg::View::ALL.into_iter().filter(|view| named(*view)).collect();
        let text = svg::svg(picture, &Look { views: &views, width, headed: true, quiet: common.quiet });
        return Ok(with_rule_faults(text, &drawn.sources, &drawn.rule_faults, common));
    }
    let mut findings: Vec<Finding> = drawn.findings;
    findings.retain(|finding| finding.level == Level::Error && finding.waived.is_none());
    let mut told = TextRenderer::new(terminal::style_of_errors(common.color)).findings(&drawn.sources, &findings);
    told.push_str("nothing is drawn, for this load cannot be computed\n");
    let status = if drawn.rule_faults.is_empty() { 1 } else { FAILED };
    Ok(Outcome { told, status, ..Outcome::default() })
}

/// That one load is to be named, and which there are.
fn which_of(loads: &[(String, Option<String>)]) -> Outcome {
    let shown = |name: &str| visible(name, true).into_owned();
    let mut told = format!(
        "draylint: {} loads here, and one is drawn at a time: name it with --sheet, and --leg where it has legs\n",
        loads.len()
    );
    for (sheet, leg) in loads.iter().take(NAMED) {
        let leg = leg.as_ref().map(|leg| format!(" --leg \"{}\"", shown(leg))).unwrap_or_default();
        // Writing to a String cannot fail.
        let _ = writeln!(told, "  --sheet \"{}\"{leg}", shown(sheet));
    }
    if loads.len() > NAMED {
        let _ = writeln!(told, "  and {} more", loads.len() - NAMED);
    }
    Outcome { told, status: FAILED, ..Outcome::default() }
}
