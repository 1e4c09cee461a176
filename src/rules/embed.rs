//! Build script: lists the files of the rules folder, so that the folder itself is the registry of built-in rules.

#![expect(clippy::print_stdout, reason = "this is how a build script speaks to cargo")]

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

fn main() -> io::Result<()> {
    println!("cargo::rerun-if-changed=rules");
    println!("cargo::rerun-if-changed=src/rules/embed.rs");
    let root = PathBuf::from(env::var_os("CARGO_MANIFEST_DIR").ok_or(io::ErrorKind::NotFound)?);
    let mut files = Vec::new();
    collect(&root.join("rules"), &mut files)?;
    files.sort();
    let mut list = String::from("&[\n");
    for file in files {
        let name = file.strip_prefix(&root).unwrap_or(&file).to_string_lossy().replace('\\', "/");
        // Writing to a String cannot fail.
        let _ = writeln!(list, "    ({name:?}, include_str!({:?})),", file.display().to_string());
    }
    list.push_str("]\n");
    let out = PathBuf::from(env::var_os("OUT_DIR").ok_or(io::ErrorKind::NotFound)?);
    fs::write(out.join("rule_files.rs"), list)
}

fn collect(folder: &Path, files: &mut Vec<PathBuf>) -> io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.is_dir() {
            collect(&path, files)?;
        } else if path.extension().is_some_and(|ending| ending == "kdl") {
            files.push(path);
        }
    }
    Ok(())
}
