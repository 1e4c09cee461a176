//! What `.gitignore` files keep out.

use std::path::{Path, PathBuf};

use ignore::Match;
use ignore::gitignore::{Gitignore, GitignoreBuilder};

/// The `.gitignore` files that count where a walk stands: those of the folders above the yard, up to the top of its
/// repository, and those of the folders that the walk is in.
pub(super) struct Ignored {
    /// The depth of the folder each stands in, and its lines; the innermost last.
    files: Vec<(usize, Gitignore)>,
}

impl Ignored {
    /// At the root of a yard.
    pub(super) fn at(root: &Path) -> Self {
        let repository = root.ancestors().find(|folder| folder.join(".git").exists());
        let above: Vec<PathBuf> = match repository {
            Some(top) => {
                let folders = root.ancestors().skip(1).take_while(|folder| folder.starts_with(top));
                folders.map(Path::to_path_buf).collect()
            }
            None => Vec::new(),
        };
        let mut all = Self { files: Vec::new() };
        for folder in above.iter().rev() {
            all.enter(0, folder);
        }
        all.enter(0, root);
        all
    }

    /// Takes the `.gitignore` of a folder that stands this deep in the yard.
    pub(super) fn enter(&mut self, depth: usize, folder: &Path) {
        let file = folder.join(".gitignore");
        if !file.is_file() {
            return;
        }
        let mut lines = GitignoreBuilder::new(folder);
        // A line that is no pattern is passed over, as git does.
        let _ = lines.add(file);
        if let Ok(lines) = lines.build() {
            self.files.push((depth, lines));
        }
    }

    /// Whether a path that stands this deep in the yard is kept out. Forgets the folders that the walk has left.
    pub(super) fn keeps_out(&mut self, depth: usize, path: &Path, folder: bool) -> bool {
        while self.files.last().is_some_and(|(of, _)| *of > 0 && *of >= depth) {
            self.files.pop();
        }
        for (_, lines) in self.files.iter().rev() {
            match lines.matched(path, folder) {
                Match::Ignore(_) => return true,
                Match::Whitelist(_) => return false,
                Match::None => {}
            }
        }
        false
    }
}
