//! The binary as a person meets it: exit codes, and what goes where.
#![allow(missing_docs)]

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

/// Scenario of our own: a guide for a sluice gate that its bar holds.
const JOB: &str = r#"title = "Guide for a sluice gate"
units = "mm"

[stock]
form = "round"
diameter = 58
length = 50
material = "medium-carbon-steel"

[part]
kind = "block"
width = 36
height = 36
length = 44
"#;

fn turnwright(arguments: &[&str], folder: &Path) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_turnwright"));
    command.args(arguments).current_dir(folder).output().expect("the binary runs")
}

fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).expect("UTF-8")
}

fn err(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).expect("UTF-8")
}

fn folder_with(name: &str, text: &[u8]) -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join(name), text).expect("a file");
    folder
}

#[test]
fn a_job_that_can_be_done_is_planned_with_exit_0_and_no_words() {
    let folder = folder_with("job.toml", JOB.as_bytes());
    let output = turnwright(&["plan", "job.toml"], folder.path());
    assert_eq!((output.status.code(), err(&output).as_str()), (Some(0), ""));
    assert!(out(&output).contains("POSSIBLE:"));
}

#[test]
fn a_job_that_cannot_be_done_gives_its_reasons_on_standard_output_and_exit_1() {
    let job = JOB.replace("diameter = 58", "diameter = 40").replace("sluice gate", "sluice gate, impossible");
    let folder = folder_with("job.toml", job.as_bytes());
    let output = turnwright(&["plan", "job.toml"], folder.path());
    assert_eq!(output.status.code(), Some(1));
    assert!(out(&output).contains("NOT POSSIBLE") && out(&output).contains("Way out:"));
}

#[test]
fn a_malformed_job_gives_exit_2_its_line_on_standard_error_and_nothing_on_standard_output() {
    let folder = folder_with("job.toml", JOB.replace("\"mm\"", "\"furlong\"").as_bytes());
    for command in ["plan", "check"] {
        let output = turnwright(&[command, "job.toml"], folder.path());
        assert_eq!((output.status.code(), out(&output).as_str()), (Some(2), ""));
        assert!(err(&output).contains("job.toml:2:") && err(&output).contains("furlong"), "{}", err(&output));
    }
}

#[test]
fn what_cannot_be_read_gives_exit_2_and_nothing_on_standard_output() {
    let folder = folder_with("latin.toml", b"title = \"caf\xe9\"\n");
    fs::write(folder.path().join("empty.toml"), "").expect("a file");
    for name in ["latin.toml", "empty.toml", "missing.toml", "."] {
        let output = turnwright(&["plan", name], folder.path());
        assert_eq!((output.status.code(), out(&output).as_str()), (Some(2), ""), "{name}");
        assert!(err(&output).starts_with(name), "{}", err(&output));
    }
}

#[test]
fn a_wrong_argument_gives_exit_2_and_help_gives_exit_0() {
    let folder = tempfile::tempdir().expect("a folder");
    assert_eq!(turnwright(&["check"], folder.path()).status.code(), Some(2));
    assert_eq!(turnwright(&["plain", "job.toml"], folder.path()).status.code(), Some(2));
    let help = turnwright(&["--help"], folder.path());
    assert_eq!((help.status.code(), err(&help).as_str()), (Some(0), ""));
}

#[test]
fn without_a_job_the_built_in_one_is_planned_and_the_next_step_named() {
    let folder = tempfile::tempdir().expect("a folder");
    let output = turnwright(&["plan"], folder.path());
    assert_eq!(output.status.code(), Some(0));
    assert!(out(&output).contains("SET-UP 1 of"));
    assert!(err(&output).contains("turnwright plan JOB.toml"));
    assert!(err(&output).lines().all(|line| line.chars().count() <= 80));
}

#[test]
fn a_port_in_use_gives_exit_2_and_says_what_to_type() {
    let folder = tempfile::tempdir().expect("a folder");
    let taken = std::net::TcpListener::bind("127.0.0.1:0").expect("a free port");
    let port = taken.local_addr().expect("an address").port().to_string();
    let output = turnwright(&["serve", "--port", &port, "--no-open"], folder.path());
    assert_eq!((output.status.code(), out(&output).as_str()), (Some(2), ""));
    assert!(err(&output).contains(&format!("Port {port} is in use")), "{}", err(&output));
    assert!(err(&output).contains("turnwright serve --port"), "{}", err(&output));
}

/// The page while it is served, ended when dropped.
struct Served(std::process::Child);

impl Drop for Served {
    fn drop(&mut self) {
        // One that has ended already needs no end.
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

#[test]
fn the_page_is_served_on_this_machine_and_a_missing_browser_is_no_fault() {
    use std::io::{BufRead, BufReader, Read, Write};
    let folder = tempfile::tempdir().expect("a folder");
    let mut command = Command::new(env!("CARGO_BIN_EXE_turnwright"));
    // Nothing on the path: no program that could open a browser is found.
    command.args(["serve", "--port", "0"]).env("PATH", folder.path()).stderr(std::process::Stdio::piped());
    let mut served = Served(command.spawn().expect("the binary runs"));
    let mut lines = BufReader::new(served.0.stderr.take().expect("standard error")).lines();
    let said = [lines.next(), lines.next()].map(|line| line.expect("a line").expect("UTF-8"));
    assert!(said[1].contains("No browser could be opened here"), "{said:?}");
    let address = said[0].split("http://").nth(1).and_then(|rest| rest.split('/').next()).expect("an address");
    assert!(address.starts_with("127.0.0.1:"));
    let mut socket = std::net::TcpStream::connect(address).expect("it listens");
    write!(socket, "GET / HTTP/1.1\r\nHost: {address}\r\nConnection: close\r\n\r\n").expect("asked");
    let mut page = String::new();
    socket.read_to_string(&mut page).expect("an answer");
    assert!(page.starts_with("HTTP/1.1 200") && page.contains("Set-up 1 of"), "{}", &page[..200]);
}

#[test]
fn a_plan_in_a_file_is_the_plan_on_standard_output() {
    let folder = folder_with("job.toml", JOB.as_bytes());
    let printed = turnwright(&["plan", "job.toml"], folder.path());
    let written = turnwright(&["plan", "job.toml", "-o", "plan.txt"], folder.path());
    assert_eq!((written.status.code(), out(&written).as_str()), (Some(0), ""));
    assert_eq!(fs::read_to_string(folder.path().join("plan.txt")).expect("the plan"), out(&printed));
}

#[test]
fn a_plan_never_takes_the_place_of_its_job() {
    let folder = folder_with("job.toml", JOB.as_bytes());
    let output = turnwright(&["plan", "job.toml", "-o", "./job.toml"], folder.path());
    assert_eq!((output.status.code(), out(&output).as_str()), (Some(2), ""));
    assert!(err(&output).contains("was just read"), "{}", err(&output));
    assert_eq!(fs::read_to_string(folder.path().join("job.toml")).expect("the job"), JOB);
}

#[test]
fn a_material_under_another_name_is_answered_with_the_nearest() {
    let job = JOB.replace("medium-carbon-steel", "austenitic-stainless");
    let folder = folder_with("job.toml", job.as_bytes());
    let output = turnwright(&["check", "job.toml"], folder.path());
    assert_eq!(output.status.code(), Some(2));
    assert!(err(&output).contains("job.toml:8:"), "{}", err(&output));
    let words = err(&output).split_whitespace().filter(|word| *word != "|").collect::<Vec<_>>().join(" ");
    assert!(words.contains("did you mean `stainless-austenitic`?"), "{words}");
}

#[test]
fn the_json_is_json_and_says_its_schema() {
    let folder = folder_with("job.toml", JOB.as_bytes());
    for audit in [&["--format", "json"][..], &["--format", "json", "--audit"][..]] {
        let output = turnwright(&[&["plan", "job.toml"][..], audit].concat(), folder.path());
        let json: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
        assert_eq!(json["schema"], "turnwright/plan/2");
    }
}

#[test]
fn no_line_of_a_plan_is_wider_than_80_columns() {
    let folder = folder_with("job.toml", JOB.as_bytes());
    fs::write(folder.path().join("inch.toml"), inch_job()).expect("a file");
    for job in ["job.toml", "inch.toml"] {
        let text = out(&turnwright(&["plan", job], folder.path()));
        assert!(!text.is_empty());
        assert!(text.lines().all(|line| line.chars().count() <= 80), "{job}");
    }
}

fn inch_job() -> String {
    let sizes = [("\"mm\"", "\"inch\""), ("58", "2.25"), ("50", "2"), ("= 36", "= 1.375"), ("44", "1.75")];
    sizes.iter().fold(JOB.to_string(), |job, (mm, inch)| job.replace(mm, inch))
}

#[test]
fn every_example_keeps_to_80_columns_and_shows_every_dial_number_where_it_is_needed() {
    let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let mut planned = 0;
    for entry in fs::read_dir(&examples).expect("examples") {
        let path = entry.expect("an entry").path();
        if path.extension().is_none_or(|ending| ending != "toml") {
            continue;
        }
        let job = path.to_str().expect("UTF-8");
        let text = out(&turnwright(&["plan", job], &examples));
        let json = turnwright(&["plan", job, "--format", "json"], &examples);
        let json: serde_json::Value = serde_json::from_slice(&json.stdout).expect("JSON");
        assert!(text.lines().all(|line| line.chars().count() <= 80), "{job}");
        for (set_up, part) in json["set_ups"].as_array().expect("set-ups").iter().zip(text.split("\nSET-UP ").skip(1)) {
            for pass in set_up["passes"].as_array().expect("passes") {
                let dial = pass["dial"].as_str().expect("a dial");
                assert!(part.matches(dial).count() >= 2, "{job}: {dial} in the table and in its place");
            }
        }
        planned += 1;
    }
    assert!(planned > 0, "no example was found");
}

#[test]
fn a_table_of_passes_fits_where_they_are_fed_by_hand() {
    let shop = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/shops/home-inch.toml");
    let output = Command::new(env!("CARGO_BIN_EXE_turnwright")).args(["plan", "--shop", shop]).output().unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    let heads: Vec<usize> = text.match_indices("pass  [").map(|(at, _)| at).collect();
    assert!(heads.len() > 1 && text.lines().all(|line| line.chars().count() <= 80), "{text}");
    // Every pass keeps its row whole: dial, four numbers, kind, and the sign that is explained below.
    let rows = text.lines().filter(|line| line.ends_with("rough *") && line.contains(" ]  "));
    assert!(rows.count() > 1 && text.contains("* fed by hand"), "{text}");
}

#[test]
fn a_job_is_read_from_standard_input() {
    use std::io::Write;
    let job = include_str!("../../../examples/bell-frame-shoe.toml");
    let mut child = Command::new(env!("CARGO_BIN_EXE_turnwright"))
        .args(["plan", "-"])
        .stdin(std::process::Stdio::piped())
        .stdout(std::process::Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(job.as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    assert!(String::from_utf8(output.stdout).unwrap().contains("SET-UP 1 of "));
}

/// Jaws that bite 3 mm, packing with a friction of 0.1: refused, with what jaws it takes. With jaws that are long enough and
/// hardly any force: refused for the grip, with changes that were tried.
#[test]
fn a_hold_made_bad_on_purpose_is_refused_with_what_mends_it() {
    let worse = |changes: &[(&str, &str)]| {
        let mut shop = formats::builtin::shop_text().to_string();
        for (this, other) in changes {
            assert!(shop.contains(this), "the built-in shop is written otherwise: {this}");
            shop = shop.replacen(this, other, 1);
        }
        let folder = folder_with("job.toml", JOB.as_bytes());
        fs::write(folder.path().join("shop.toml"), shop).expect("a file");
        let output = turnwright(&["plan", "job.toml", "--shop", "shop.toml"], folder.path());
        assert_eq!(output.status.code(), Some(1));
        out(&output).split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let friction = ("friction = 0.12\nyield", "friction = 0.1\nyield");
    let short = worse(&[("length  = 48 ", "length  = 3 "), friction]);
    assert!(short.contains("NOT POSSIBLE") && short.contains("are 3.00 mm long"), "{short}");
    assert!(short.contains("Way out: a chuck whose jaws are"), "{short}");
    let slack = worse(&[("clamping_force = \"16 kN\"", "clamping_force = \"0.4 kN\""), friction]);
    assert!(slack.contains("times the cut against") && slack.contains("tried"), "{slack}");
}

#[test]
fn bars_that_the_shop_lists_stand_side_by_side_and_the_best_is_planned() {
    let open = JOB.replace("form = \"round\"\ndiameter = 58\nlength = 50\n", "form = \"any\"\n");
    let folder = folder_with("open.toml", open.as_bytes());
    fs::write(folder.path().join("given.toml"), JOB).expect("a file");
    let output = turnwright(&["stock", "open.toml"], folder.path());
    let said = out(&output);
    assert_eq!((output.status.code(), err(&output).as_str()), (Some(0), ""));
    assert!(said.contains("minutes for a good piece") && said.contains("Will not do:"), "{said}");
    assert!(said.lines().all(|line| line.chars().count() <= 80), "{said}");
    let best = said.lines().find(|line| line.contains("minutes for a good piece")).expect("the best bar");
    let best = best.split(':').next().expect("a bar").to_lowercase();

    let plan = out(&turnwright(&["plan", "open.toml"], folder.path()));
    let bar = best.replacen(' ', " bar ", 1);
    assert!(plan.contains("POSSIBLE:") && plan.contains(&bar), "{bar} in {plan}");
    assert!(plan.contains("BARS that the shop lists"), "{plan}");
    let json = out(&turnwright(&["plan", "open.toml", "--format", "json"], folder.path()));
    let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    assert_eq!(json["stock_choice"]["bars"][0]["bar"], best);
    let alone = out(&turnwright(&["stock", "open.toml", "--format", "json"], folder.path()));
    let alone: serde_json::Value = serde_json::from_str(&alone).expect("JSON");
    assert_eq!(alone, json["stock_choice"]);

    // A job that gives its bar is compared, and its plan stays without the bars.
    let output = turnwright(&["stock", "given.toml"], folder.path());
    assert!(output.status.success() && out(&output).contains("the job's own"), "{}", out(&output));
    let plan = out(&turnwright(&["plan", "given.toml"], folder.path()));
    assert!(!plan.contains("BARS that the shop lists"), "{plan}");

    // In inches and with skins of two kinds the names are longest: the table keeps its columns.
    let inch =
        JOB.replace("diameter = 58", "surface = \"drawn\"\ndiameter = \"58 mm\"").replace("length = 50", "length = 2");
    let inch = inch.replace("\"mm\"", "\"inch\"").replace("= 36", "= 1.4").replace("length = 44", "length = 1.75");
    fs::write(folder.path().join("inch.toml"), inch).expect("a file");
    let output = turnwright(&["stock", "inch.toml"], folder.path());
    let said = out(&output);
    assert!(said.contains("round 60 mm, hot-rolled") && said.contains("* round 58 mm, drawn"), "{said}");
    let head = said.lines().position(|line| line.trim_start().starts_with("Bar  ")).expect("a head");
    let wide = |line: &str| line.chars().count();
    let lines: Vec<&str> = said.lines().skip(head).take_while(|line| !line.is_empty()).collect();
    assert!(lines.len() > 4 && lines.iter().all(|line| wide(line) == wide(lines[0])), "{said}");

    let next = turnwright(&["next", "open.toml", "--face", "E", "--reads", "36.2"], folder.path());
    assert!(next.status.code() == Some(0) && !out(&next).is_empty(), "{}", err(&next));
}

#[test]
fn a_bar_that_no_list_has_is_said_with_the_ways_out() {
    let open = JOB.replace("diameter = 58\nlength = 50\n", "diameter = \"any\"\n");
    let folder = folder_with("open.toml", open.replace("width = 36", "width = 90").as_bytes());
    let output = turnwright(&["stock", "open.toml"], folder.path());
    assert_eq!(output.status.code(), Some(1));
    assert!(out(&output).contains("too thin"), "{}", out(&output));
    let plan = turnwright(&["plan", "open.toml"], folder.path());
    assert_eq!(plan.status.code(), Some(1));
    assert!(out(&plan).contains("NOT POSSIBLE") && out(&plan).contains("a round bar of"), "{}", out(&plan));
    fs::write(folder.path().join("open.toml"), open.replace("medium-carbon-steel", "brass")).expect("a file");
    let output = turnwright(&["plan", "open.toml"], folder.path());
    assert_eq!((output.status.code(), out(&output).as_str()), (Some(2), ""));
    assert!(err(&output).contains("lists no round bar of brass"), "{}", err(&output));
}
