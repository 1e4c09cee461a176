//! The coefficients of lashing that are shipped in the rules folder.

use std::sync::LazyLock;

use super::read_number;
use crate::physics::en12195::{Criteria, Criterion};
use crate::syntax::{Node, Value, parse, with_stack};
use crate::text::FileId;
use crate::units::{Angle, Share};

/// The coefficients as text, each with its source and status.
pub const EN_12195_1: &str = include_str!("../../rules/en-12195-1.kdl");

static CRITERIA: LazyLock<Option<Criteria>> = LazyLock::new(|| {
    let document = with_stack(|| parse(FileId(u32::MAX), EN_12195_1).document);
    document.and_then(|document| read(&document.nodes))
});

/// The coefficients of EN 12195-1:2010. A test holds that the file is understood, so that they are there.
#[must_use]
pub fn lashing_criteria() -> Option<&'static Criteria> {
    CRITERIA.as_ref()
}

fn read(nodes: &[Node]) -> Option<Criteria> {
    let direction = |word: &str| {
        let node = nodes.iter().find(|node| *node.name.text == *"direction" && names(node, word))?;
        Some(Criterion { slide: share(node, "slide")?, tilt: share(node, "tilt")?, safety: share(node, "safety")? })
    };
    let node = |word: &str| nodes.iter().find(|node| *node.name.text == *word);
    let over = node("over-the-top")?;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a small whole number of our own file")]
    let least = number(over, "least")? as u32;
    Some(Criteria {
        forward: direction("forward")?,
        rearward: direction("rearward")?,
        sideways: direction("sideways")?,
        direct_friction: share(node("direct")?, "friction")?,
        tilt_capacity: share(node("tilting")?, "capacity")?,
        least,
        flat: Angle::new(number(over, "flat")?),
    })
}

fn names(node: &Node, word: &str) -> bool {
    node.arguments().any(|entry| matches!(&entry.value, Value::Text(text) if **text == *word))
}

fn share(node: &Node, word: &str) -> Option<Share> {
    number(node, word).map(Share::new)
}

fn number(node: &Node, word: &str) -> Option<f64> {
    let (_, entry) = node.properties().find(|(key, _)| *key.text == *word)?;
    read_number(entry).ok().map(|(value, ..)| value)
}

#[cfg(test)]
mod tests {
    use super::lashing_criteria;

    #[test]
    fn the_file_is_understood() {
        let criteria = lashing_criteria().expect("all of it");
        let shares = [criteria.forward, criteria.rearward, criteria.sideways]
            .map(|one| (one.slide.si(), one.tilt.si(), one.safety.si()));
        assert_eq!(shares, [(0.8, 0.8, 1.25), (0.5, 0.5, 1.1), (0.5, 0.6, 1.1)]);
        assert_eq!((criteria.direct_friction.si(), criteria.tilt_capacity.si()), (0.75, 0.5));
        assert_eq!((criteria.least, criteria.flat.si()), (2, 30.0));
    }
}
