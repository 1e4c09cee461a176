//! `draylint report`: a folder of pages.

use std::fmt::Write as _;
use std::path::Path;

use super::args::{Common, What};
use super::progress::shown;
use super::run::{Outcome, asked, found, options, with_rule_faults};
use super::terminal;
use crate::mend::SheetReport;
use crate::render::caution;
use crate::render::report::{Index, Row, SheetPage, index, sheet, tally};
use crate::text::visible;
use crate::yard::{self, Site, SiteError};

/// Writes a page for each sheet as soon as it is made, then the index, and puts the folder in place.
pub(super) fn report(what: &What, out: &Path, common: &Common) -> Result<Outcome, String> {
    let (paths, narrowed) = asked(what);
    // A path that leads nowhere is told before anything is made.
    yard::find(&paths).map_err(|why| why.to_string())?;
    let site = Site::begin(out).map_err(|why| why.to_string())?;
    let options = options(common);
    let page = |one: SheetReport<'_>| -> Result<Vec<Row>, SiteError> {
        let SheetPage { name, text, rows } = sheet(&one, &options.today, common.quiet);
        site.put(&name, &text).map(|()| rows)
    };
    let made = shown(common, |progress| yard::report(&paths, &narrowed, &options, progress, page));
    let made = made.map_err(|why| why.to_string())?;
    found(what, made.sheets.is_empty(), made.near.as_deref())?;
    let pages = made.sheets.len();
    let rows: Result<Vec<Vec<Row>>, SiteError> = made.sheets.into_iter().collect();
    let rows = rows.map_err(|why| why.to_string())?.concat();
    let (apart, rule_faults) = (&*made.apart, &*made.rule_faults);
    let told =
        Index { sources: &made.sources, rows: &rows, apart, rule_faults, day: &options.today, quiet: common.quiet };
    site.put("index.html", &index(&told)).and_then(|()| site.finish()).map_err(|why| why.to_string())?;
    let mut text = String::new();
    if !common.quiet {
        let home = out.join("index.html").display().to_string();
        let pages = if pages == 1 { "1 page".to_owned() } else { format!("{pages} pages") };
        // Writing to a String cannot fail.
        let _ = write!(
            text,
            "made {} and {pages} of sheets\n{}\n{}",
            visible(&home, true),
            tally(&rows),
            caution(terminal::style(common.color))
        );
    }
    Ok(with_rule_faults(text, &made.sources, &made.rule_faults, common))
}
