//! `turnwright sheet JOB -o FILE.pdf`: from a job file to the sheet that stands beside the lathe.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use sheet::Setting;

use super::{Answer, plan};
use crate::planning::Lathes;
use crate::{Refusal, input, output, planning};

/// Plans a job and writes its sheet as PDF: overview, set-ups, working, inspection report.
#[derive(Debug, Args)]
pub struct Sheet {
    /// The job, a TOML file; `-`: standard input.
    job: PathBuf,
    /// Where the sheet goes; `-`: standard output, for another program.
    #[arg(short, long, value_name = "FILE.pdf")]
    output: PathBuf,
    /// The paper.
    #[arg(long, value_enum, default_value_t = Paper::A4)]
    paper: Paper,
    /// The shop: a TOML file, or a folder whose *.toml files are read together [default: built in].
    #[arg(long, value_name = "PATH")]
    shop: Option<PathBuf>,
    /// Plans for this lathe of the shop; repeated: one variant for each, in one file.
    #[arg(long, value_name = "NAME", conflicts_with = "every_lathe")]
    lathe: Vec<String>,
    /// Plans for every lathe of the shop; one that cannot do it gets a page that says why.
    #[arg(long)]
    every_lathe: bool,
    /// Leaves out the working: overview, set-ups and inspection report only.
    #[arg(long)]
    without_working: bool,
    /// Date of issue, as it shall stand on the sheet [default: room to write it].
    #[arg(long, value_name = "TEXT")]
    date: Option<String>,
}

/// Paper that a sheet is printed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Paper {
    /// 210 mm by 297 mm.
    A4,
    /// 8.5 in by 11 in.
    Letter,
}

impl Sheet {
    /// Reads, plans, prints.
    pub fn run(&self) -> Result<Answer, Refusal> {
        let job = input::read(&self.job)?;
        let shop = input::shop(self.shop.as_deref())?;
        output::apart(&self.output, std::iter::once(&self.job).chain(&self.shop), "sheet")?;
        let plans = planning::plans(&job, &shop, &self.lathes())?;
        let sheet = sheet::sheet(&plans, &self.setting()).map_err(|why| Refusal(format!("{}: {why}.", job.name)))?;
        output::write_pdf(&sheet.pdf, &self.output)?;
        for remark in &sheet.remarks {
            output::words(remark);
        }
        Ok(answer(&plans))
    }

    fn lathes(&self) -> Lathes {
        match (self.every_lathe, self.lathe.is_empty()) {
            (true, _) => Lathes::Every,
            (false, true) => Lathes::Own,
            (false, false) => Lathes::Named(self.lathe.clone()),
        }
    }

    fn setting(&self) -> Setting {
        let paper = match self.paper {
            Paper::A4 => sheet::Paper::A4,
            Paper::Letter => sheet::Paper::Letter,
        };
        Setting { paper, date: self.date.clone(), without_working: self.without_working }
    }
}

/// One lathe that can do it is enough.
fn answer(plans: &[engine::plan::Plan]) -> Answer {
    let possible = plans.iter().any(|one| plan::answer(one) == Answer::Yes);
    if possible { Answer::Yes } else { Answer::NotPossible }
}
