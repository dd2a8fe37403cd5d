//! The plan shown in the README is the one that the program prints.
#![allow(missing_docs)]

use std::process::Command;

const BEGIN: &str = "<!-- plan: written by the tests, TURNWRIGHT_WRITE_DOCS=1 cargo test -p turnwright -->\n";
const END: &str = "<!-- end of plan -->\n";
const README: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../README.md");

/// The fourth set-up of the demonstration job, without its title's rules.
fn fourth_set_up() -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_turnwright")).arg("plan").output().expect("the program runs");
    let text = String::from_utf8(output.stdout).expect("a plan is UTF-8");
    let from = text.find("SET-UP 4 of 6").expect("the demonstration has six set-ups");
    let to = text[from..].find("SET-UP 5 of 6").expect("and a fifth one") + from;
    let lines = text[from..to].lines().filter(|line| !line.starts_with("---"));
    let shown: Vec<&str> = lines.collect();
    format!("```text\n{}\n```\n", shown.join("\n").trim_end())
}

#[test]
fn the_plan_in_the_readme_is_what_the_program_prints() {
    let readme = std::fs::read_to_string(README).expect("the README is there");
    let (before, rest) = readme.split_once(BEGIN).expect("the README marks where the plan begins");
    let (shown, after) = rest.split_once(END).expect("and where it ends");
    let printed = fourth_set_up();
    if std::env::var_os("TURNWRIGHT_WRITE_DOCS").is_some() {
        std::fs::write(README, format!("{before}{BEGIN}{printed}{END}{after}")).expect("the README can be written");
        return;
    }
    assert!(shown == printed, "the plan in the README is stale: TURNWRIGHT_WRITE_DOCS=1 cargo test -p turnwright");
}
