//! How findings speak: calm, short, in plain trade words, with few digits.

use draylint::finding::Finding;
use draylint::mend::Trial;
use draylint::rules::RuleSet;

use crate::texts::{FIXTURES, RULES};

/// The longest message. One that lists the rules it concerns may be longer.
const LONGEST: usize = 160;

/// Words that help may begin with: what a person can do.
const VERBS: [&str; 36] = [
    "add", "bring", "check", "chock", "close", "correct", "define", "delete", "drive", "end", "fit", "find", "fold",
    "give", "go", "hang", "have", "join", "keep", "lay", "load", "lower", "measure", "mend", "move", "name", "put",
    "read", "run", "save", "set", "split", "take", "use", "weigh", "write",
];

/// All findings of all examples and fixtures.
fn findings() -> Vec<Finding> {
    let (_, sources) = RuleSet::builtin_faults();
    let mut trial = Trial::new(sources);
    let mut all = Vec::new();
    for rule in RULES.rules() {
        for example in &rule.examples {
            all.extend(trial.run(&RULES, rule, example).findings);
        }
    }
    all.extend(FIXTURES.iter().flat_map(|texts| texts.judged().findings));
    all
}

/// The parts of a text outside of quotes: what a sheet wrote is quoted as it stands.
fn unquoted(text: &str) -> String {
    let mut quote = None;
    text.chars()
        .filter(|c| {
            let inside = quote.is_some();
            if quote == Some(*c) {
                quote = None;
            } else if !inside && matches!(c, '"' | '`') {
                quote = Some(*c);
            }
            !inside && quote.is_none()
        })
        .collect()
}

/// How many digits of a number count: zeros that only hold places do not.
fn significant(number: &str) -> usize {
    let digits: String = number.chars().filter(char::is_ascii_digit).collect();
    let counted = digits.trim_start_matches('0');
    if number.contains('.') { counted.len() } else { counted.trim_end_matches('0').len() }
}

fn numbers(text: &str) -> impl Iterator<Item = &str> {
    let pieces = text.split(|c: char| !(c.is_ascii_digit() || c == ',' || c == '.'));
    pieces.map(|piece| piece.trim_matches([',', '.'])).filter(|piece| piece.chars().any(|c| c.is_ascii_digit()))
}

fn faults(finding: &Finding) -> Vec<String> {
    let mut faults = Vec::new();
    let labels = std::iter::once(&finding.primary).chain(&finding.labels).map(|label| &*label.text);
    let texts = [Some(&*finding.message), finding.help.as_deref(), finding.source.as_deref()];
    for text in texts.into_iter().flatten().chain(labels) {
        let plain = unquoted(text);
        let mut fault = |is: bool, what: &str| {
            if is {
                faults.push(format!("{what}: {text}"));
            }
        };
        fault(plain.contains('!'), "exclaims");
        fault(plain.to_lowercase().split(|c: char| !c.is_alphabetic()).any(|word| word == "please"), "begs");
        fault(plain.chars().any(|c| matches!(u32::from(c), 0x2600..=0x27BF | 0x1F000..=0x1FAFF)), "has pictures");
        fault(plain.ends_with('.') && !plain.ends_with("…."), "ends with a full stop");
        fault(plain.contains("  ") && !text.contains('"') && !text.contains('`'), "has a double blank");
        fault(numbers(&plain).any(|number| significant(number) > 6), "has too many digits");
        fault(plain.contains("NaN") || plain.contains("inf "), "has no number");
    }
    let first = finding.message.chars().next();
    if !first.is_some_and(|c| c.is_lowercase() || c.is_ascii_digit() || matches!(c, '"' | '`' | '/' | '-' | '.' | '('))
    {
        let named = finding.message.starts_with("KDL ") || finding.message.starts_with("U+");
        if !named {
            faults.push(format!("begins with a capital: {}", finding.message));
        }
    }
    let lists = matches!(&*finding.rule, "cannot-tell" | "rating-missing");
    // The names in quotes are the user's, as long as they like.
    if unquoted(&finding.message).chars().count() > LONGEST && !lists {
        faults.push(format!("is long: {}", finding.message));
    }
    if let Some(help) = &finding.help {
        let word = help.split(|c: char| !c.is_alphabetic()).next().unwrap_or("");
        if !VERBS.contains(&word) {
            faults.push(format!("help is no order: {help}"));
        }
    }
    if RULES.get(&finding.rule).is_some_and(|rule| !rule.asks().is_empty()) && finding.source.is_none() {
        faults.push(format!("names no source: {}", finding.message));
    }
    faults.iter().map(|fault| format!("{} {fault}", finding.rule)).collect()
}

#[test]
fn findings_speak_calmly_and_briefly() {
    let findings = findings();
    assert!(findings.len() > 150, "{}", findings.len());
    let mut faults: Vec<String> = findings.iter().flat_map(faults).collect();
    faults.sort();
    faults.dedup();
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

#[test]
fn rules_speak_calmly_and_briefly() {
    let mut faults = Vec::new();
    for rule in RULES.rules() {
        let title = &*rule.title;
        if title.ends_with('.') || title.contains('!') || title.chars().count() > 80 {
            faults.push(format!("{}: title: {title}", rule.id));
        }
        if !title.chars().next().is_some_and(char::is_lowercase) {
            faults.push(format!("{}: title: {title}", rule.id));
        }
        if rule.why.contains('!') || rule.why.split_whitespace().count() < 20 {
            faults.push(format!("{}: why", rule.id));
        }
        for param in &rule.params {
            if param.doc.is_empty() || param.doc.ends_with('.') {
                faults.push(format!("{}: doc of {}: {}", rule.id, param.name, param.doc));
            }
        }
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

#[test]
fn digits_that_count_are_counted() {
    for (number, count) in [("13,200", 3), ("2.3125", 5), ("0.04", 1), ("1234567", 7), ("0", 0), ("9.80", 3)] {
        assert_eq!(significant(number), count, "{number}");
    }
    assert_eq!(numbers("9.8 % of 13,200 lb, at").collect::<Vec<_>>(), ["9.8", "13,200"]);
    assert_eq!(unquoted("a \"b!\" c `d!` e"), "a  c  e");
}
