//! Turnwright at the terminal: data to standard output, words to standard error.
//!
//! Exit codes: 0 planned, 1 not possible (the plan with its reasons is printed), 2 something that could
//! not be read or written (nothing is printed on standard output).

mod commands;
mod fault;
mod input;
mod output;
mod planning;
mod text;

use std::process::ExitCode;

use clap::Parser;
use commands::{Answer, Arguments};

/// Why nothing came out, in words for standard error.
#[derive(Debug, PartialEq, Eq)]
struct Refusal(String);

fn main() -> ExitCode {
    match Arguments::try_parse() {
        Ok(arguments) => finish(commands::run(arguments)),
        Err(usage) => finish_usage(&usage),
    }
}

fn finish(result: Result<Answer, Refusal>) -> ExitCode {
    match result {
        Ok(Answer::Yes) => ExitCode::SUCCESS,
        Ok(Answer::NotPossible) => ExitCode::from(1),
        Err(Refusal(words)) => {
            output::words(&words);
            ExitCode::from(2)
        }
    }
}

/// Help and version are answers; a wrong argument is not.
fn finish_usage(usage: &clap::Error) -> ExitCode {
    // Nothing can be said where standard error itself is gone.
    let _ = usage.print();
    if usage.use_stderr() { ExitCode::from(2) } else { ExitCode::SUCCESS }
}
