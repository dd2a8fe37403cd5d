//! `turnwright` alone: the built-in job, so that the first thing seen is a plan.

use super::{Answer, plan};
use crate::{Refusal, input, output, planning, text};

const NEXT: &str = "\
This was the built-in demonstration job in the built-in school shop. Next:
  turnwright plan JOB.toml                    a job of your own (see examples/)
  turnwright plan JOB.toml --shop SHOP.toml   with your own lathe and chuck
  turnwright plan JOB.toml --format json      for another program
  turnwright check JOB.toml                   only reads it";

/// Plans the demonstration job as text.
pub fn run() -> Result<Answer, Refusal> {
    let plan = planning::plan(&planning::demo_job(), &input::shop(None)?)?;
    output::write(&text::plan(&plan), None)?;
    output::words(NEXT);
    Ok(plan::answer(&plan))
}
