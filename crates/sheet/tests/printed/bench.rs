//! Plans of the examples, their sheets, and what poppler says of a PDF. A missing poppler fails.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use engine::plan::Plan;
use sheet::{Paper, Setting, Sheet};

/// A sheet with what was printed and what poppler reads.
pub struct Copy {
    pub name: String,
    pub plan: Plan,
    pub paper: Paper,
    pub sheet: Sheet,
    /// Text of each page, as it lies on the paper.
    pub laid: Vec<String>,
    /// Text of each page, as it is read.
    pub read: Vec<String>,
}

impl Copy {
    /// Pages, from 1, whose title block calls them so.
    pub fn pages_of(&self, kind: &str) -> Vec<usize> {
        let ends = |text: &String| text.trim_end().lines().last().is_some_and(|line| flat(line).contains(kind));
        self.laid.iter().enumerate().filter(|(_, text)| ends(text)).map(|(at, _)| at + 1).collect()
    }

    /// What stands on those pages, in one line, in both ways of reading.
    pub fn words_of(&self, pages: &[usize]) -> String {
        let of = |texts: &[String]| pages.iter().map(|page| texts[page - 1].as_str()).collect::<Vec<_>>().join(" ");
        flat(&format!("{} {}", of(&self.read), of(&self.laid)))
    }

    /// What stands on those pages as it is read, in one line.
    pub fn read_of(&self, pages: &[usize]) -> String {
        flat(&pages.iter().map(|page| self.read[page - 1].as_str()).collect::<Vec<_>>().join(" "))
    }

    /// For messages.
    pub fn called(&self) -> String {
        format!("{} on {:?}", self.name, self.paper)
    }
}

pub const DATE: &str = "2031-03-05";

/// The jobs of `examples/`.
pub const EXAMPLES: [&str; 8] = [
    "bar-too-thin",
    "bell-frame-shoe",
    "greenhouse-latch",
    "guide-block",
    "mast-lamp-clamp",
    "sundial-foot",
    "water-wheel-keep",
    "weather-vane-hub",
];

/// The folder with the jobs.
pub fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples")
}

/// The plan of an example.
pub fn example(name: &str) -> Plan {
    plan(&fs::read_to_string(folder().join(format!("{name}.toml"))).unwrap())
}

/// One set-up of an example and no working, for tests of what does not hang on either.
pub fn short(name: &str) -> Plan {
    let mut plan = example(name);
    plan.set_ups.truncate(1);
    plan.set_ups.iter_mut().for_each(|set_up| set_up.workings.clear());
    plan.workings.clear();
    plan
}

/// The plan of a job with the built-in shop.
pub fn plan(job: &str) -> Plan {
    let job = formats::job::read(job, "job").unwrap_or_else(|faults| panic!("{faults:?}"));
    let shop = formats::shop::read_together(&[(formats::builtin::shop_text(), "shop")]).unwrap();
    engine::plan(&job.job, &shop.shop).unwrap_or_else(|problems| panic!("{problems:?}"))
}

/// Prints a plan and reads it back.
pub fn copy(name: &str, plan: Plan, paper: Paper) -> Copy {
    let setting = Setting { paper, date: Some(DATE.to_string()), without_working: false };
    let sheet = sheet::sheet(std::slice::from_ref(&plan), &setting).unwrap();
    let (laid, read) = (text(&sheet.pdf, &["-layout"]), text(&sheet.pdf, &[]));
    Copy { name: name.to_string(), plan, paper, sheet, laid, read }
}

/// The text of each page.
pub fn text(pdf: &[u8], options: &[&str]) -> Vec<String> {
    let all = String::from_utf8(poppler("pdftotext", pdf, options, &["-"])).expect("pdftotext writes UTF-8");
    let mut pages: Vec<String> = all.split('\u{c}').map(str::to_string).collect();
    assert_eq!(pages.pop().as_deref(), Some(""), "a page ends with a form feed");
    pages
}

/// What a tool of poppler writes to its standard output.
pub fn poppler(tool: &str, pdf: &[u8], before: &[&str], after: &[&str]) -> Vec<u8> {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("sheet.pdf");
    fs::write(&path, pdf).unwrap();
    let output = Command::new(tool).args(before).arg(&path).args(after).output();
    let output = output.unwrap_or_else(|why| panic!("{tool}: {why}; apt-get install poppler-utils"));
    assert!(output.status.success(), "{tool}: {}", String::from_utf8_lossy(&output.stderr));
    output.stdout
}

/// One line, one space between words, no signs that only say where a line may break.
pub fn flat(text: &str) -> String {
    let text: String = text.chars().filter(|&letter| letter != '\u{200b}').collect();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A word where it stands, mm from the page's upper left corner.
#[derive(Debug, Clone, PartialEq)]
pub struct Word {
    pub page: usize,
    pub says: String,
    pub frame_mm: [f64; 4],
}

/// Every word of a PDF with its place.
pub fn placed(pdf: &[u8]) -> Vec<Word> {
    const MM_PER_POINT: f64 = 25.4 / 72.0;
    let html = String::from_utf8(poppler("pdftotext", pdf, &["-bbox"], &["-"])).unwrap();
    let (mut page, mut words) = (0, Vec::new());
    for line in html.lines().map(str::trim) {
        page += usize::from(line.starts_with("<page "));
        let Some(rest) = line.strip_prefix("<word ") else { continue };
        let number = |key: &str| -> f64 {
            let from = rest.find(&format!("{key}=\"")).unwrap() + key.len() + 2;
            rest[from..].split('"').next().unwrap().parse::<f64>().unwrap() * MM_PER_POINT
        };
        let says =
            rest.split('>').nth(1).unwrap().split('<').next().unwrap().replace("&apos;", "'").replace("&amp;", "&");
        words.push(Word { page, says, frame_mm: ["xMin", "yMin", "xMax", "yMax"].map(number) });
    }
    words
}
