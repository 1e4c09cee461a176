//! Yards on disk: finding them, walking them, reading them, and writing what a person agreed to. The only room that
//! touches the disk. Nothing outside a yard is read or written, and no link is followed.

mod by_load;
mod company;
mod drawn;
mod file;
mod find;
mod ignored;
mod open;
mod placed;
mod progress;
mod report;
mod run;
mod site;
mod started;
mod tidied;
mod trimmed;
mod walk;
mod walkaround;
mod write;

pub use drawn::{Drawn, draw};
pub use find::{Asked, PathError, Wanted, find};
pub use open::{Opened, open, open_telling};
pub use placed::{Placed, place};
pub use progress::{Progress, Step};
pub use report::{Reported, report};
pub use run::{Checked, Narrowed, check};
pub use site::{Site, SiteError};
pub use started::{StartError, start};
pub use tidied::{Tidied, tidied};
pub use trimmed::{Trimmed, Write, trim};
pub use walkaround::{Walkarounds, walkaround};
pub use write::WriteError;
