//! The README is kept: what it shows is what happens, and what it names is there.

mod kept;

use std::collections::BTreeSet;

use kept::{document, keep, paths_are_there, root, run, settle};

#[test]
fn what_the_readme_shows_is_what_happens() {
    let readme = document("README.md");
    let yard = tempfile::tempdir().unwrap();
    let kept = keep(&readme, yard.path(), &|_| None);
    // A README without markers would pass in silence.
    assert!(kept.files >= 4 && kept.outputs >= 3 && kept.rules >= 1 && kept.made == 0);
    settle("README.md", &readme, &kept.text);
}

#[test]
fn the_readme_names_the_commands_that_there_are() {
    let help = run(&root(), &["--help"]).out;
    let list = help.split("Commands:\n").nth(1).unwrap().split("\n\n").next().unwrap();
    // A command stands two spaces in; what it does goes on further in.
    let there = list.lines().filter(|line| !line.starts_with("   ")).filter_map(|line| line.split_whitespace().next());
    let readme = document("README.md");
    let named = readme.lines().filter_map(|line| line.strip_prefix("| `draylint ")?.split([' ', '`']).next());
    let there: BTreeSet<&str> = there.collect();
    assert_eq!(there, named.collect::<BTreeSet<_>>());
    let page = document("book/src/commands.md");
    let sections: BTreeSet<&str> = page.lines().filter_map(|line| line.strip_prefix("## ")).collect();
    assert_eq!(there.difference(&sections).collect::<Vec<_>>(), [&""; 0], "commands without a section in the book");
    for name in there {
        assert!(page.contains(&format!("<!-- output: draylint {name} --help | exit 0 -->")), "the help of {name}");
    }
}

#[test]
fn paths_that_the_documents_name_are_there() {
    for name in ["README.md", "DEVELOPERS.md"] {
        let text = document(name);
        let seen = paths_are_there(name, &text, links(&text));
        assert!(seen > 2, "{name} names {seen} paths");
    }
}

/// Where the links of a document lead.
fn links(text: &str) -> impl Iterator<Item = String> {
    text.split("](").skip(1).filter_map(|rest| Some(rest.split(')').next()?.to_owned()))
}
