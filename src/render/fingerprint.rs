//! A name for a finding that stays when unrelated lines move.
//!
//! FNV-1a, 64 bits (offset basis `cbf29ce484222325`, prime `100000001b3`; Fowler, Noll, Vo; draft-eastlake-fnv-19),
//! over these parts, each followed by a byte `ff`, which no UTF-8 text holds: the rule's id, the sheet, the leg, the
//! file's name, the line on which the primary span starts, the text of the primary span, the figure's name, and an
//! ordinal. An absent part is empty. Line and span are taken as words: white space is one blank wherever it stands, and
//! the first 1,024 bytes count, so that a change of layout or a very long line makes no difference. The message is left
//! out, because its numbers move with every weighing. The ordinal, a decimal number, counts from 0 the findings of one
//! report whose other parts are alike, in the order of the report.

use std::collections::HashMap;

use super::place::within;
use crate::finding::{Finding, Report};
use crate::text::Sources;

/// How much of a line counts, in bytes of its words.
const MOST: usize = 1024;

/// The fingerprint of each finding of a report, in its order: 16 hexadecimal digits.
#[must_use]
pub fn fingerprints(report: &Report<'_>) -> Vec<String> {
    let mut seen: HashMap<u64, u32> = HashMap::new();
    report
        .findings
        .iter()
        .map(|finding| {
            let mut hash = of(report.sources, finding);
            let ordinal = seen.entry(hash.0).or_insert(0);
            hash.part(&ordinal.to_string());
            *ordinal = ordinal.saturating_add(1);
            format!("{:016x}", hash.0)
        })
        .collect()
}

fn of(sources: &Sources, finding: &Finding) -> Fnv {
    let mut hash = Fnv(0xcbf2_9ce4_8422_2325);
    hash.part(&finding.rule);
    hash.part(finding.sheet.as_deref().unwrap_or(""));
    hash.part(finding.leg.as_deref().unwrap_or(""));
    let source = sources.get(finding.primary.span.file);
    hash.part(source.map_or("", |source| &source.name));
    if let Some(source) = source {
        let span = within(source, finding.primary.span);
        let line = source.line(source.line_of(span.start));
        hash.words(source.text.get(line).unwrap_or(""));
        hash.words(source.text.get(span).unwrap_or(""));
    }
    hash.part(finding.figure.as_ref().map_or("", |figure| &figure.name));
    hash
}

/// The hash of some parts by themselves: a short name for them.
pub(super) fn hash_of(parts: &[&str]) -> u64 {
    let mut hash = Fnv(0xcbf2_9ce4_8422_2325);
    for part in parts {
        hash.part(part);
    }
    hash.0
}

struct Fnv(u64);

impl Fnv {
    fn bytes(&mut self, bytes: &[u8]) {
        for byte in bytes {
            self.0 = (self.0 ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3);
        }
    }

    fn part(&mut self, text: &str) {
        self.bytes(text.as_bytes());
        self.bytes(&[0xff]);
    }

    fn words(&mut self, text: &str) {
        let mut left = MOST;
        for word in text.split_whitespace() {
            let word = word.as_bytes();
            let word = word.get(..left.min(word.len())).unwrap_or(word);
            self.bytes(word);
            self.bytes(b" ");
            left = left.saturating_sub(word.len());
            if left == 0 {
                break;
            }
        }
        self.bytes(&[0xff]);
    }
}

#[cfg(test)]
mod tests {
    use super::Fnv;

    /// Published test vectors (draft-eastlake-fnv-19, as a project that implements it quotes them; secondary).
    #[test]
    fn it_is_fnv_1a() {
        for (text, hash) in
            [("", 0xcbf2_9ce4_8422_2325), ("a", 0xaf63_dc4c_8601_ec8c), ("foobar", 0x8594_4171_f739_67e8)]
        {
            let mut fnv = Fnv(0xcbf2_9ce4_8422_2325);
            fnv.bytes(text.as_bytes());
            assert_eq!(fnv.0, hash, "{text}");
        }
    }
}
