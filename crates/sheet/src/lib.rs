//! Plan and figures to PDF: the sheet that stands beside the lathe.

mod caution;
mod content;
mod dial;
mod figures;
mod forecast;
mod hands;
mod inspection;
mod letters;
mod overview;
mod passes;
mod press;
mod reading_tables;
mod reasons;
mod scales;
mod set_up;
mod setting;
mod working;

use engine::plan::Plan;

pub use setting::{Paper, Setting};

/// Why there is no sheet.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum SheetError {
    /// A sheet of nothing.
    #[error("no plan was given: a sheet needs one at least")]
    NoPlan,
    /// The typesetter could not do it; a fault of ours.
    #[error("the sheet could not be typeset: {0}")]
    Typesetting(String),
}

/// A sheet, and what to tell of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sheet {
    /// The PDF.
    pub pdf: Vec<u8>,
    /// Whether it keeps PDF/UA-1; if not it is tagged all the same.
    pub accessible: bool,
    /// What whoever prints it should know, in sentences; mostly empty.
    pub remarks: Vec<String>,
}

/// The sheet of one job, as PDF; several plans are its variants, one for each lathe.
///
/// The same plans and setting give the same bytes.
///
/// # Errors
/// Without a plan; and where the typesetter fails, which is a fault of this crate.
pub fn pdf(plans: &[Plan], setting: &Setting) -> Result<Vec<u8>, SheetError> {
    sheet(plans, setting).map(|sheet| sheet.pdf)
}

/// Letters of a plan that its sheet could not print, told in a sentence before it is made; `None`: all can be printed.
pub fn lacking(plan: &Plan) -> Option<String> {
    let setting = Setting { paper: Paper::A4, date: None, without_working: true };
    letters::told(&content::files(std::slice::from_ref(plan), &setting).1)
}

/// The same with what to tell of it: letters that could not be printed, a script that cannot be tagged in full.
///
/// # Errors
/// As [`pdf`].
pub fn sheet(plans: &[Plan], setting: &Setting) -> Result<Sheet, SheetError> {
    if plans.is_empty() {
        return Err(SheetError::NoPlan);
    }
    let (files, lacking) = content::files(plans, setting);
    let printed = press::print(files)?;
    let mut remarks: Vec<String> = letters::told(&lacking).into_iter().collect();
    if !printed.accessible {
        remarks
            .push(format!("The sheet is tagged, but does not keep PDF/UA-1 in full: {}.", printed.remarks.join("; ")));
    }
    Ok(Sheet { pdf: printed.pdf, accessible: printed.accessible, remarks })
}
