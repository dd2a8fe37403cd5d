//! `turnwright plan JOB`: from a job file to a plan.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use engine::plan::Outcome;

use super::{Answer, demo};
use crate::{Refusal, input, output, planning, text};

/// Plans a job and prints the plan.
#[derive(Debug, Args)]
pub struct Plan {
    /// The job, a TOML file; `-`: standard input [default: the built-in demonstration job].
    job: Option<PathBuf>,
    /// The shop: a TOML file, or a folder whose *.toml files are read together [default: built in].
    #[arg(long, value_name = "PATH")]
    shop: Option<PathBuf>,
    /// How the plan is written.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
    /// Adds to the JSON what an outside program needs to recompute every hold.
    #[arg(long)]
    audit: bool,
    /// Writes the plan to a file instead of standard output.
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
}

/// How a plan is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// For people, 80 columns.
    Text,
    /// For programs: schema turnwright/plan/2.
    Json,
}

impl Plan {
    /// Reads, plans, writes.
    pub fn run(&self) -> Result<Answer, Refusal> {
        let job = self.job.as_deref().map_or_else(|| Ok(planning::demo_job()), input::read)?;
        let shop = input::shop(self.shop.as_deref())?;
        if let Some(output) = &self.output {
            output::apart(output, self.job.iter().chain(&self.shop), "plan")?;
        }
        let plan = planning::plan(&job, &shop)?;
        output::write(&self.written(&plan), self.output.as_deref())?;
        if self.audit && self.format == Format::Text {
            output::words("The audit is part of the JSON: add --format json.");
        }
        if self.job.is_none() {
            output::words(demo::NEXT);
        }
        Ok(answer(&plan))
    }

    fn written(&self, plan: &engine::plan::Plan) -> String {
        match self.format {
            Format::Text => text::plan(plan),
            Format::Json => planning::to_json(plan, self.audit),
        }
    }
}

/// Whether the plan is one, or the reasons why there is none.
pub fn answer(plan: &engine::plan::Plan) -> Answer {
    match plan.outcome {
        Outcome::Planned => Answer::Yes,
        Outcome::Impossible(_) => Answer::NotPossible,
    }
}
