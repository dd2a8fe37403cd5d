//! One check, and the table of all.

/// How near our value must be to theirs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Near {
    /// Half a unit of the last digit printed by the source, absolute; or another stated bound.
    Within(f64),
    /// Relative to their value.
    Relative(f64),
}

/// A value of ours beside a value from outside.
#[derive(Debug, Clone)]
pub struct Check {
    /// Short and unique: "G-07".
    pub id: &'static str,
    /// What is compared, with the inputs.
    pub what: &'static str,
    /// Publication and place in it; "from memory" where the page was not before us.
    pub source: &'static str,
    /// Their value.
    pub theirs: f64,
    /// Our value.
    pub ours: f64,
    /// Unit of both.
    pub unit: &'static str,
    /// How near; the reason stands in the check's source text where it is wider than the print.
    pub near: Near,
}

/// A check, what stands outside and what the program gives side by side.
pub fn row(
    id: &'static str,
    what: &'static str,
    source: &'static str,
    (theirs, ours): (f64, f64),
    unit: &'static str,
    near: Near,
) -> Check {
    Check { id, what, source, theirs, ours, unit, near }
}

impl Check {
    /// Whether the two agree.
    pub fn agrees(&self) -> bool {
        let off = (self.ours - self.theirs).abs();
        match self.near {
            Near::Within(bound) => off <= bound,
            Near::Relative(share) => off <= share * self.theirs.abs(),
        }
    }

    /// A row of the table.
    pub fn row(&self) -> String {
        let near = match self.near {
            Near::Within(bound) => format!("{bound} {}", self.unit).trim_end().to_string(),
            Near::Relative(share) => format!("{} %", short(share * 100.0)),
        };
        format!(
            "| {} | {} | {} | {} {} | {} | {} | {} |",
            self.id,
            self.what,
            self.source,
            short(self.theirs),
            self.unit,
            short(self.ours),
            deviation(self.ours, self.theirs),
            near
        )
    }
}

/// Six significant digits, no trailing zeros.
fn short(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return format!("{value}");
    }
    let places = (5 - value.abs().log10().floor() as i32).clamp(0, 9) as usize;
    let text = format!("{value:.places$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_string() } else { text }
}

fn deviation(ours: f64, theirs: f64) -> String {
    if theirs == 0.0 {
        return format!("{:.1e}", ours);
    }
    let share = (ours - theirs) / theirs * 100.0;
    if share.abs() < 5e-5 { "0 %".to_string() } else { format!("{share:+.4} %") }
}

/// The whole table.
pub fn table(checks: &[Check]) -> String {
    let mut text = String::from(
        "# Checks against things outside the project\n\nWritten by the tests (`TURNWRIGHT_WRITE_DOCS=1 cargo test -p engine --test outside`), not by hand.\n\
         \"From memory\" marks a printed value that was recalled, not read from the page; \"closed form\" one that follows from a\n\
         textbook formula worked out apart from the program.\n\n| id | what | source | theirs | ours | deviation | must agree within |\n|---|---|---|---|---|---|---|\n",
    );
    for check in checks {
        text.push_str(&check.row());
        text.push('\n');
    }
    text.push_str(&format!("\n{} checks.\n", checks.len()));
    text
}

/// Compares a text with a file of the repository, or writes it when `TURNWRIGHT_WRITE_DOCS` is set.
pub fn compare_or_write(path: &str, text: &str) {
    if std::env::var_os("TURNWRIGHT_WRITE_DOCS").is_some() {
        std::fs::write(path, text).expect("the docs folder can be written");
        return;
    }
    let there = std::fs::read_to_string(path).unwrap_or_default();
    assert!(there == text, "{path} is stale: run TURNWRIGHT_WRITE_DOCS=1 cargo test -p engine --test outside");
}
