//! The command `draylint`.

use std::process::ExitCode;

fn main() -> ExitCode {
    draylint::cli::main()
}
