//! The command `draylint`.

fn main() {}
