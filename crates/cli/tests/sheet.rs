//! `turnwright sheet` as a person meets it: exit codes, what goes where, a file that is whole or not there.
#![allow(missing_docs, clippy::unwrap_used)] // a test may fall over where it stands

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

/// Scenario of our own: a key for a mill's cogwheel.
const JOB: &str = r#"title = "Key for a cogwheel"
units = "mm"

[stock]
form = "flat"
width = 40
thickness = 30
length = 40
material = "low-carbon-steel"
surface = "drawn"

[part]
kind = "block"
width = 36
height = 30
length = 36
leave = ["D", "F"]
"#;

fn turnwright(arguments: &[&str], folder: &Path) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_turnwright"));
    command.args(arguments).current_dir(folder).output().expect("the binary runs")
}

fn folder_with(job: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("job.toml"), job).expect("a file");
    folder
}

fn err(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).expect("UTF-8")
}

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> =
        fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

#[test]
fn a_sheet_is_written_and_nothing_is_said() {
    let folder = folder_with(JOB);
    let output = turnwright(&["sheet", "job.toml", "-o", "job.pdf", "--date", "2031-03-05"], folder.path());
    assert_eq!((output.status.code(), err(&output).as_str(), output.stdout.len()), (Some(0), "", 0));
    let pdf = fs::read(folder.path().join("job.pdf")).unwrap();
    assert!(pdf.starts_with(b"%PDF-1.7") && pdf.trim_ascii_end().ends_with(b"%%EOF"));
    let again = turnwright(&["sheet", "job.toml", "-o", "again.pdf", "--date", "2031-03-05"], folder.path());
    assert_eq!(again.status.code(), Some(0));
    assert!(fs::read(folder.path().join("again.pdf")).unwrap() == pdf, "another run, other bytes");
}

#[test]
fn an_impossible_job_gives_its_page_and_exit_1() {
    let folder = folder_with(&JOB.replace("width = 36", "width = 41"));
    let output = turnwright(&["sheet", "job.toml", "-o", "job.pdf", "--paper", "letter"], folder.path());
    assert_eq!((output.status.code(), err(&output).as_str()), (Some(1), ""));
    assert!(fs::read(folder.path().join("job.pdf")).unwrap().starts_with(b"%PDF"));
}

#[test]
fn what_cannot_be_written_is_said_with_exit_2_and_nothing_is_left_half_written() {
    let folder = folder_with(JOB);
    fs::create_dir(folder.path().join("folder")).unwrap();
    for to in ["none/job.pdf", "folder", "job.toml"] {
        let output = turnwright(&["sheet", "job.toml", "-o", to], folder.path());
        assert_eq!((output.status.code(), output.stdout.len()), (Some(2), 0), "{to}");
        assert!(err(&output).starts_with(to), "{}", err(&output));
        assert!(!err(&output).contains("os error") && !err(&output).contains(".tmp"), "{}", err(&output));
    }
    assert_eq!(names(folder.path()), ["folder", "job.toml"]);
    assert_eq!(fs::read_to_string(folder.path().join("job.toml")).unwrap(), JOB);
}

#[test]
fn a_malformed_job_gives_its_line_and_no_sheet() {
    let folder = folder_with(&JOB.replace("\"mm\"", "\"furlong\""));
    let output = turnwright(&["sheet", "job.toml", "-o", "job.pdf"], folder.path());
    assert_eq!(output.status.code(), Some(2));
    assert!(err(&output).contains("job.toml:2:"), "{}", err(&output));
    assert_eq!(names(folder.path()), ["job.toml"]);
}

#[test]
fn lathes_are_taken_by_name_and_one_that_is_not_there_is_told_with_those_that_are() {
    let folder = folder_with(JOB);
    let named = ["sheet", "job.toml", "-o", "job.pdf", "--lathe", "school lathe", "--lathe", "toolroom lathe"];
    assert_eq!(turnwright(&named, folder.path()).status.code(), Some(0));
    let pdf = fs::read(folder.path().join("job.pdf")).unwrap();
    let every = ["sheet", "job.toml", "-o", "every.pdf", "--every-lathe"];
    assert_eq!(turnwright(&every, folder.path()).status.code(), Some(0));
    assert!(fs::read(folder.path().join("every.pdf")).unwrap() == pdf, "the built-in shop has these two lathes");
    let output = turnwright(&["sheet", "job.toml", "-o", "none.pdf", "--lathe", "rocket"], folder.path());
    assert_eq!(output.status.code(), Some(2));
    assert!(
        err(&output).contains("rocket") && err(&output).contains("school lathe, toolroom lathe"),
        "{}",
        err(&output)
    );
    assert_eq!(names(folder.path()), ["every.pdf", "job.pdf", "job.toml"]);
}

#[test]
fn letters_that_cannot_be_printed_are_told_on_standard_error() {
    let folder = folder_with(&JOB.replace("Key for a cogwheel", "Key 木 for a cogwheel"));
    let output = turnwright(&["sheet", "job.toml", "-o", "job.pdf"], folder.path());
    assert_eq!(output.status.code(), Some(0));
    assert!(err(&output).contains("lack 木 (U+6728)"), "{}", err(&output));
}

#[test]
fn a_sheet_needs_a_place_to_go() {
    let folder = folder_with(JOB);
    let output = turnwright(&["sheet", "job.toml"], folder.path());
    assert_eq!(output.status.code(), Some(2));
    assert!(err(&output).contains("--output"), "{}", err(&output));
}

#[test]
fn a_line_for_a_file_is_standard_output() {
    let folder = folder_with(JOB);
    let output = turnwright(&["sheet", "job.toml", "-o", "-"], folder.path());
    assert_eq!((output.status.code(), err(&output).as_str()), (Some(0), ""));
    assert!(output.stdout.starts_with(b"%PDF-1.7") && output.stdout.trim_ascii_end().ends_with(b"%%EOF"));
    let output = turnwright(&["plan", "job.toml", "-o", "-"], folder.path());
    assert!(output.status.code() == Some(0) && String::from_utf8(output.stdout).unwrap().contains("POSSIBLE:"));
    assert_eq!(names(folder.path()), ["job.toml"]);
}

/// `script` (util-linux) gives a command a screen to write to; without it the test fails and says what to type.
#[cfg(target_os = "linux")]
#[test]
fn a_pdf_is_not_written_to_a_screen() {
    let folder = folder_with(JOB);
    let command = format!("{} sheet job.toml -o -", env!("CARGO_BIN_EXE_turnwright"));
    let mut script = Command::new("script");
    script.args(["--quiet", "--return", "--command", &command, "/dev/null"]).current_dir(folder.path());
    let output = script.output().expect("type: sudo apt-get install -y bsdutils");
    let text = String::from_utf8_lossy(&output.stdout);
    assert_eq!(output.status.code(), Some(2), "{text}");
    assert!(text.contains("is this screen") && !text.contains("%PDF"), "{text}");
}
