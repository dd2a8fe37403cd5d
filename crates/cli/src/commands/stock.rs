//! `turnwright stock JOB`: the bars that the shop can get, side by side.

use std::path::PathBuf;

use clap::Args;

use super::Answer;
use super::plan::Format;
use crate::{Refusal, input, output, planning, text};

/// Says what a good piece costs from each bar that the shop lists, and which is best.
#[derive(Debug, Args)]
pub struct Stock {
    /// The job, a TOML file; `-`: standard input.
    job: PathBuf,
    /// The shop: a TOML file, or a folder whose *.toml files are read together [default: built in].
    #[arg(long, value_name = "PATH")]
    shop: Option<PathBuf>,
    /// How the bars are written.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

impl Stock {
    /// Reads, plans each, answers; no where none will do.
    pub fn run(&self) -> Result<Answer, Refusal> {
        let job = input::read(&self.job)?;
        let shop = input::shop(self.shop.as_deref())?;
        let (choice, units) = planning::stock(&job, &shop)?;
        let written = match self.format {
            Format::Text => text::stock(&choice, units),
            Format::Json => planning::stock_to_json(&choice),
        };
        output::write(&written, None)?;
        Ok(if choice.best.is_some() { Answer::Yes } else { Answer::NotPossible })
    }
}
