//! Lines of at most 80 columns.

/// Columns of a page.
pub const WIDTH: usize = 80;
/// Where the text of an entry begins.
const INDENT: usize = 11;
/// Where the text of an answer begins.
const LABEL: usize = 14;

/// A text that grows line by line and never past its width.
pub struct Page {
    text: String,
}

impl Page {
    /// Nothing on it yet.
    pub fn new() -> Self {
        Page { text: String::new() }
    }

    /// A line as it stands; one that is too long is broken.
    pub fn line(&mut self, text: &str) {
        let text = plain(text);
        if text.chars().count() <= WIDTH { self.push(text.trim_end()) } else { self.hang("", &text, 0) }
    }

    /// An empty line, never two together.
    pub fn blank(&mut self) {
        if !self.text.is_empty() && !self.text.ends_with("\n\n") {
            self.text.push('\n');
        }
    }

    /// A line across the page.
    pub fn rule(&mut self, of: char) {
        self.push(&of.to_string().repeat(WIDTH));
    }

    /// Left and right ends of one line; two lines where they do not fit.
    pub fn ends(&mut self, left: &str, right: &str) {
        let (left, right) = (plain(left), plain(right));
        let used = left.chars().count() + right.chars().count();
        if used < WIDTH {
            self.push(&format!("{left}{}{right}", " ".repeat(WIDTH - used)));
        } else {
            self.line(&left);
            self.line(&right);
        }
    }

    /// A label at the left, its text beside it; an empty label carries on.
    pub fn entry(&mut self, label: &str, text: &str) {
        self.hang(&plain(label), &plain(text), INDENT);
    }

    /// A wider label at the left, its text beside it.
    pub fn label(&mut self, label: &str, text: &str) {
        self.hang(&plain(label), &plain(text), LABEL);
    }

    /// A mark, then text hanging beside it.
    pub fn item(&mut self, mark: &str, text: &str) {
        let mark = plain(mark);
        let indent = mark.chars().count() + 1;
        self.hang(&mark, &plain(text), indent);
    }

    /// The text.
    pub fn finish(self) -> String {
        format!("{}\n", self.text.trim_end())
    }

    /// First line begins with the mark, the others with as much space.
    fn hang(&mut self, mark: &str, text: &str, indent: usize) {
        let indent = indent.min(WIDTH / 2);
        let mut start = format!("{:indent$}", cut(mark, indent));
        for row in rows(text, WIDTH - indent) {
            self.push(format!("{start}{row}").trim_end());
            start = " ".repeat(indent);
        }
    }

    fn push(&mut self, line: &str) {
        self.text.push_str(line);
        self.text.push('\n');
    }
}

/// Names and titles come from files: nothing in them may steer the terminal or break a line.
fn plain(text: &str) -> String {
    text.chars().map(|letter| if letter.is_control() { ' ' } else { letter }).collect()
}

fn cut(text: &str, width: usize) -> String {
    text.chars().take(width).collect()
}

/// Breaks at spaces, and inside a word only where it is longer than a row.
fn rows(text: &str, width: usize) -> Vec<String> {
    let mut rows = Vec::new();
    let mut row = String::new();
    for word in text.split_whitespace().flat_map(|word| pieces(word, width)) {
        let used = row.chars().count();
        if used > 0 && used + 1 + word.chars().count() > width {
            rows.push(std::mem::take(&mut row));
        }
        if !row.is_empty() {
            row.push(' ');
        }
        row.push_str(&word);
    }
    rows.push(row);
    rows
}

fn pieces(word: &str, width: usize) -> Vec<String> {
    let letters: Vec<char> = word.chars().collect();
    letters.chunks(width).map(|piece| piece.iter().collect()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_wider_than_the_page() {
        let mut page = Page::new();
        let long = "a".repeat(300);
        page.line(&long);
        page.entry("label", &format!("{long} and {long}"));
        page.item(&"9".repeat(90), "text");
        page.ends(&long, "right");
        assert!(page.finish().lines().all(|line| line.chars().count() <= WIDTH));
    }

    #[test]
    fn no_word_is_lost_in_breaking() {
        let words: Vec<String> = (0..60).map(|at| "x".repeat(at % 13 + 1)).collect();
        assert_eq!(rows(&words.join(" "), 30).join(" "), words.join(" "));
    }

    #[test]
    fn a_title_cannot_steer_the_terminal() {
        let mut page = Page::new();
        page.line("Foot\u{1b}[2J\nof a frame");
        assert_eq!(page.finish(), "Foot [2J of a frame\n");
    }
}
