//! `turnwright next JOB --face F --reads SIZE`: what to set for what it measures.

use std::path::PathBuf;

use clap::Args;
use engine::planning::Ask;

use super::Answer;
use crate::{Refusal, input, output, planning, text};

/// Says what to set for the last cut when you have measured: dial, what comes out, chances.
#[derive(Debug, Args)]
pub struct Next {
    /// The job, a TOML file; `-`: standard input.
    job: PathBuf,
    /// The face being cut, by its letter.
    #[arg(long, value_name = "FACE")]
    face: String,
    /// The size that the gauge shows, such as 36.21 or "1.4256 in"; give it again for each reading.
    #[arg(long, value_name = "SIZE", required = true)]
    reads: Vec<String>,
    /// The shop: a TOML file, or a folder whose *.toml files are read together [default: built in].
    #[arg(long, value_name = "PATH")]
    shop: Option<PathBuf>,
}

impl Next {
    /// Reads, plans, answers; where it is to be measured again, or is gone, the answer is no.
    pub fn run(&self) -> Result<Answer, Refusal> {
        let job = input::read(&self.job)?;
        let shop = input::shop(self.shop.as_deref())?;
        let answer = planning::next(&job, &shop, &self.reads, |reads_mm| Ask { face: self.face.clone(), reads_mm })?;
        output::write(&text::next(&answer), None)?;
        Ok(if answer.goes_on { Answer::Yes } else { Answer::NotPossible })
    }
}
