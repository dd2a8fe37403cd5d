//! The commands, one file each.

mod check;
mod demo;
mod next;
mod plan;
mod serve;
mod sheet;
mod stock;

use clap::{Parser, Subcommand};

use crate::Refusal;

/// Plans a part for a manual lathe: how to hold it, what to set, what the dial reads.
///
/// Without a command the page opens in the browser, with a job to try it with.
#[derive(Debug, Parser)]
#[command(name = "turnwright", version, color = clap::ColorChoice::Never, term_width = 80)]
pub struct Arguments {
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Debug, Subcommand)]
enum Command {
    Plan(plan::Plan),
    Sheet(sheet::Sheet),
    Check(check::Check),
    Next(next::Next),
    Stock(stock::Stock),
    Serve(serve::Serve),
}

/// What a command answers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Answer {
    /// Planned, or reads well.
    Yes,
    /// The job cannot be done as asked.
    NotPossible,
}

/// Runs the command that was asked for.
pub fn run(arguments: Arguments) -> Result<Answer, Refusal> {
    match arguments.command {
        Some(Command::Plan(plan)) => plan.run(),
        Some(Command::Sheet(sheet)) => sheet.run(),
        Some(Command::Check(check)) => check.run(),
        Some(Command::Next(next)) => next.run(),
        Some(Command::Stock(stock)) => stock.run(),
        Some(Command::Serve(serve)) => serve.run(),
        None => serve::Serve::default().run(),
    }
}
