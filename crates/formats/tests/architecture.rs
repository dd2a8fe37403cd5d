//! `ARCHITECTURE.md` is true: its map is complete, its arrows are the real ones, the absences are absent.
#![allow(missing_docs)]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn text(path: &str) -> String {
    fs::read_to_string(root().join(path)).unwrap_or_else(|why| panic!("{path}: {why}"))
}

/// Every file under a folder with this ending, as a path from the root.
fn files(folder: &str, ending: &str) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for entry in fs::read_dir(root().join(folder)).unwrap_or_else(|why| panic!("{folder}: {why}")) {
        let entry = entry.expect("an entry");
        let name = format!("{folder}/{}", entry.file_name().to_str().expect("a plain name"));
        if entry.file_type().expect("a kind").is_dir() {
            found.extend(files(&name, ending));
        } else if name.ends_with(ending) {
            found.insert(name);
        }
    }
    found
}

fn sources(of: &str) -> BTreeSet<String> {
    files(&format!("crates/{of}/src"), ".rs")
}

/// What stands between the backticks of a line, in order.
fn ticked(line: &str) -> impl Iterator<Item = &str> {
    line.split('`').skip(1).step_by(2)
}

/// Files that the map names: a heading with the folder, then a line for each file.
fn mapped() -> Vec<String> {
    let page = text("ARCHITECTURE.md");
    let (mut folder, mut named) = (String::new(), Vec::new());
    for line in page.lines() {
        if let Some(heading) = line.strip_prefix("### `crates/") {
            folder = format!("crates/{}", heading.trim_end_matches('`').trim_end_matches('/'));
        } else if line.starts_with("## ") {
            folder.clear();
        } else if !folder.is_empty() && line.starts_with("- `") {
            named.push(format!("{folder}/{}", ticked(line).next().expect("a name")));
        }
    }
    named
}

#[test]
fn the_map_names_every_source_file_once_and_no_other() {
    let named = mapped();
    let all: BTreeSet<String> =
        ["engine", "formats", "drawing", "sheet", "page", "cli"].into_iter().flat_map(sources).collect();
    assert!(all.len() > 100);
    let once: BTreeSet<String> = named.iter().cloned().collect();
    assert_eq!(once.len(), named.len(), "a file stands twice in the map");
    let missing: Vec<_> = all.difference(&once).collect();
    let gone: Vec<_> = once.difference(&all).collect();
    assert!(missing.is_empty() && gone.is_empty(), "not in the map: {missing:#?}\nin the map and gone: {gone:#?}");
}

#[test]
fn every_data_file_stands_in_the_table_of_data_and_no_other() {
    let page = text("ARCHITECTURE.md");
    let named: BTreeSet<String> = page
        .lines()
        .filter(|line| line.starts_with("| `") && line.contains(".toml` |"))
        .map(|line| format!("crates/engine/data/{}", ticked(line).next().expect("a name")))
        .collect();
    assert_eq!(named, files("crates/engine/data", ".toml"));
}

#[test]
fn every_path_that_the_pages_name_exists() {
    for page in ["ARCHITECTURE.md", "README.md", "docs/model.md", "docs/worked-example.md"] {
        let said = text(page);
        let paths = said.lines().flat_map(ticked).filter(|word| {
            let plain = !word.contains([' ', '*', '(', '=']);
            plain && ["crates/", "docs/", "examples/", ".ci/"].iter().any(|start| word.starts_with(start))
        });
        for path in paths.filter(|path| !path.contains("JOB") && !path.contains("MYSHOP")) {
            assert!(root().join(path).exists(), "{page} names {path}");
        }
    }
}

/// Rooms of the engine with what the table of arrows allows each.
fn allowed() -> Vec<(String, BTreeSet<String>)> {
    let page = text("ARCHITECTURE.md");
    let table = page.split("| room | uses |").nth(1).expect("the table of arrows");
    table
        .lines()
        .skip(2)
        .take_while(|line| line.starts_with('|'))
        .map(|line| {
            let cells: Vec<&str> = line.trim_matches('|').split('|').collect();
            let uses = cells[1].split(',').map(str::trim).filter(|room| !room.is_empty());
            (cells[0].trim().trim_matches('`').to_string(), uses.map(str::to_string).collect())
        })
        .collect()
}

/// The rooms that a text asks for by `crate::`.
fn asked_for(source: &str) -> BTreeSet<String> {
    source
        .split("crate::")
        .skip(1)
        .map(|rest| rest.chars().take_while(|c| c.is_ascii_lowercase() || *c == '_').collect::<String>())
        .filter(|room| !room.is_empty())
        .collect()
}

#[test]
fn the_rooms_of_the_engine_use_what_the_table_says_and_nothing_more() {
    let mut seen = BTreeSet::new();
    for (room, allowed) in allowed() {
        let inside = sources("engine").into_iter().filter(|file| {
            file.starts_with(&format!("crates/engine/src/{room}/")) || *file == format!("crates/engine/src/{room}.rs")
        });
        let mut asked: BTreeSet<String> = inside.flat_map(|file| asked_for(&text(&file))).collect();
        asked.remove(&room);
        assert_eq!(asked, allowed, "room {room}");
        seen.insert(room);
    }
    let lib = text("crates/engine/src/lib.rs");
    let rooms: BTreeSet<String> =
        lib.lines().filter_map(|line| line.strip_prefix("pub mod ")?.strip_suffix(';')).map(str::to_string).collect();
    assert_eq!(seen, rooms, "a room without a row, or a row without a room");
}

/// Names under a heading of a manifest.
fn dependencies(of: &str, heading: &str) -> BTreeSet<String> {
    let manifest: toml::Table = text(&format!("crates/{of}/Cargo.toml")).parse().expect("a manifest");
    let list = manifest.get(heading).and_then(toml::Value::as_table);
    list.map(|list| list.keys().cloned().collect()).unwrap_or_default()
}

#[test]
fn each_crate_uses_what_the_table_of_crates_says() {
    let page = text("ARCHITECTURE.md");
    for of in ["engine", "formats", "drawing", "sheet", "page", "cli"] {
        let row = page.lines().find(|line| line.starts_with(&format!("| `{of}` |"))).expect("a row for the crate");
        let cell = row.trim_matches('|').split('|').nth(2).expect("three cells");
        let said: BTreeSet<String> = cell.split(',').map(|name| name.trim().to_string()).collect();
        assert_eq!(dependencies(of, "dependencies"), said, "crate {of}");
    }
    let outer = ["formats", "turnwright"];
    assert!(dependencies("engine", "dev-dependencies").iter().all(|name| !outer.contains(&name.as_str())));
}

/// The code of a file without what follows `//` on a line.
fn code(file: &str) -> String {
    text(file).lines().map(|line| line.split("//").next().unwrap_or("")).collect::<Vec<_>>().join("\n")
}

#[test]
fn the_engine_has_no_files_network_clock_terminal_threads_or_chance() {
    let absent = ["std::fs", "std::net", "std::time", "std::env", "std::io", "std::process", "std::thread"];
    let prints = ["println!", "print!(", "dbg!(", "rand::", "SystemTime", "Instant::"];
    for file in sources("engine") {
        let code = code(&file);
        for word in absent.iter().chain(&prints) {
            assert!(!code.contains(word), "{file} has {word}");
        }
    }
    for file in sources("formats") {
        assert!(!code(&file).contains("std::fs"), "{file} opens files");
    }
}

#[test]
fn only_the_search_keeps_a_hash_map_and_never_goes_through_it() {
    for file in sources("engine") {
        let code = code(&file);
        let holds = code.contains("HashMap") || code.contains("HashSet");
        assert!(!holds || file.ends_with("planning/search.rs"), "{file} has a hash map");
    }
    let search = code("crates/engine/src/planning/search.rs");
    let maps: BTreeSet<&str> = search
        .lines()
        .filter(|line| line.contains(": HashMap<"))
        .filter_map(|line| line.trim().split(':').next())
        .collect();
    assert_eq!(maps, BTreeSet::from(["to_go"]));
    let ways_through = ["iter", "keys", "values", "drain", "into_iter", "retain"];
    for way in ways_through {
        assert!(!search.contains(&format!("to_go.{way}(")), "the search goes through its hash map by {way}");
    }
    assert!(!search.contains("in &self.to_go") && !search.contains("in self.to_go"));
}

#[test]
fn every_function_that_the_model_names_is_in_its_room() {
    let page = text("docs/model.md");
    let mut named = 0;
    for word in page.lines().flat_map(ticked) {
        let Some((room, function)) = word.split_once("::") else { continue };
        let plain = |name: &str| name.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_');
        if !plain(room) || !plain(function) {
            continue;
        }
        let inside =
            sources("engine").into_iter().filter(|file| file.starts_with(&format!("crates/engine/src/{room}/")));
        let wanted = [format!("fn {function}("), format!("fn {function}<")];
        let found = inside.into_iter().any(|file| wanted.iter().any(|wanted| text(&file).contains(wanted)));
        assert!(found, "docs/model.md names {word}");
        named += 1;
    }
    assert!(named > 60, "only {named} functions are named");
}
