//! A yard: settings, definitions and sheets.

use std::sync::Arc;

use super::{
    Attachment, Carrier, Conditions, DeckCondition, Entry, Friction, LoadRef, Loading, Machine, Material, Owner, Sheet,
    Slot, Surface, Tiedown, Touching, Trailer, Truck,
};
use crate::finding::Level;
use crate::text::Span;
use crate::units::{Kind, System};

/// Everything a yard's files say.
#[derive(Clone, Debug, Default)]
pub struct Yard {
    /// What `yard.kdl` says.
    pub settings: Settings,
    /// The trucks, in order of file and place.
    pub trucks: Vec<Truck>,
    /// The trailers.
    pub trailers: Vec<Trailer>,
    /// The machines.
    pub machines: Vec<Machine>,
    /// The attachments.
    pub attachments: Vec<Attachment>,
    /// The materials, the built-in ones last.
    pub materials: Vec<Material>,
    /// How well one thing grips another, the built-in pairs last.
    pub frictions: Vec<Friction>,
    /// The tie-downs.
    pub tiedowns: Vec<Tiedown>,
    /// The sheets.
    pub sheets: Vec<Sheet>,
}

impl Yard {
    /// The loads of all sheets, in order.
    pub fn loads(&self) -> impl Iterator<Item = LoadRef> {
        self.sheets.iter().enumerate().flat_map(|(sheet, one)| {
            let legs = one.legs.len();
            let whole = (legs == 0).then_some(LoadRef { sheet, leg: None });
            whole.into_iter().chain((0..legs).map(move |leg| LoadRef { sheet, leg: Some(leg) }))
        })
    }

    /// How well one thing grips another in this state of the deck; none where neither the yard nor anything published
    /// tells.
    #[must_use]
    pub fn friction(&self, what: Touching, on: Surface, deck: DeckCondition) -> Option<&Friction> {
        self.frictions.iter().find(|one| one.pair() == Some((what, on, deck)))
    }

    /// The sheet in whose text a span lies. The sheets stand in order of file and place.
    #[must_use]
    pub fn sheet_at(&self, span: Span) -> Option<usize> {
        let after = self.sheets.partition_point(|sheet| sheet.span <= span);
        // A span that starts with its sheet may be ordered before it.
        let near = [after, after.saturating_sub(1)];
        near.into_iter().find(|at| self.sheets.get(*at).is_some_and(|sheet| sheet.span.holds(span)))
    }
}

/// What `yard.kdl` says.
#[derive(Clone, Debug, Default)]
pub struct Settings {
    /// The yard's name.
    pub name: Option<Entry<Arc<str>>>,
    /// Its node.
    pub owner: Option<Owner>,
    /// Published rule sets that apply; empty means the default, `us`.
    pub follow: Vec<Entry<Arc<str>>>,
    /// Units in which figures are shown.
    pub units: Slot<System>,
    /// Folders of company rules, as written.
    pub rules_from: Vec<Entry<Arc<str>>>,
    /// Moved parameters and levels of rules.
    pub set: Vec<RuleSetting>,
    /// Folders whose sheets must be sealed.
    pub require_seal: Vec<SealDuty>,
    /// The state, for road rules that differ.
    pub state: Slot<Arc<str>>,
    /// Who carries every load.
    pub carrier: Option<Carrier>,
    /// Conditions for every load.
    pub conditions: Conditions,
    /// How every load is put aboard.
    pub loading: Loading,
}

/// One `set` node.
#[derive(Clone, Debug)]
pub struct RuleSetting {
    /// The rule.
    pub rule: Entry<Arc<str>>,
    /// Its node.
    pub owner: Owner,
    /// Parameters moved: name, and the number in SI with its kind (none for a plain number).
    pub params: Vec<(Entry<Arc<str>>, f64, Option<Kind>)>,
    /// The level it is given.
    pub level: Option<Entry<Level>>,
    /// Whether it is turned off.
    pub off: Option<Entry<bool>>,
}

/// One `require-seal` node.
#[derive(Clone, Debug)]
pub struct SealDuty {
    /// The folder, as written.
    pub under: Entry<Arc<str>>,
    /// Where it stands.
    pub at: Span,
}
