//! `turnwright check JOB`: does it read, and does it fit the shop's names?

use std::path::PathBuf;

use clap::Args;

use super::Answer;
use crate::{Refusal, input, output, planning};

/// Reads a job and says what is wrong with it; prints no plan.
#[derive(Debug, Args)]
pub struct Check {
    /// The job, a TOML file; `-`: standard input.
    job: PathBuf,
    /// The shop: a TOML file, or a folder whose *.toml files are read together [default: built in].
    #[arg(long, value_name = "PATH")]
    shop: Option<PathBuf>,
}

impl Check {
    /// Reads both and says so.
    pub fn run(&self) -> Result<Answer, Refusal> {
        let job = input::read(&self.job)?;
        let shop = input::shop(self.shop.as_deref())?;
        planning::check(&job, &shop)?;
        output::words(&format!("{}: reads well. Whether it can be done, `turnwright plan` says.", job.name));
        Ok(Answer::Yes)
    }
}
