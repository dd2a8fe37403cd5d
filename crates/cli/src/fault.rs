//! Faults in a file, shown at their line, without colour.

use std::fmt;
use std::ops::Range;

use miette::{Diagnostic, GraphicalReportHandler, GraphicalTheme, LabeledSpan, NamedSource, SourceCode};

use crate::input::Named;

/// Something wrong in a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shown {
    /// Name of the file; may be empty.
    pub file: String,
    /// Bytes of the file that it lies in, where it has a place.
    pub span: Option<Range<usize>>,
    /// What is wrong.
    pub says: String,
    /// What would be accepted; may be empty.
    pub accepts: String,
}

/// All faults of a file, one after the other, as text.
pub fn show(file: &Named, faults: &[&Shown]) -> String {
    let shown: Vec<String> = faults.iter().map(|fault| one(file, fault)).collect();
    let count = if faults.len() == 1 { "1 fault".to_string() } else { format!("{} faults", faults.len()) };
    format!("{}: {count}\n\n{}", plain(&file.name), shown.join("\n"))
}

fn one(file: &Named, fault: &Shown) -> String {
    let (text, fault) = in_short_lines(&file.text, within(fault, &file.text));
    let placed = Placed { source: NamedSource::new(plain(&file.name), plain(&text)), fault };
    let mut text = String::new();
    let handler = GraphicalReportHandler::new_themed(GraphicalTheme::none()).with_width(80).with_links(false);
    match handler.render_report(&mut text, &placed) {
        Ok(()) => text.replace(WHOLE_HYPHEN, "-"),
        // A span that the reporter cannot draw still leaves the words.
        Err(_) => format!("{placed}\n"),
    }
}

/// The same fault with a place that lies in the text, on whole characters.
fn within(fault: &Shown, text: &str) -> Shown {
    let span = fault.span.clone().filter(|span| span.start <= span.end && text.get(span.clone()).is_some());
    Shown { file: fault.file.clone(), span, says: whole(&fault.says), accepts: whole(&fault.accepts) }
}

/// Longest line that is shown whole, bytes; of a longer one, this much is shown before and after the place.
const LONGEST_LINE: usize = 300;
const SHOWN_BESIDE: usize = 60;

/// The text with the line of the fault cut short where it is too long to read, and the place in it.
fn in_short_lines(text: &str, mut fault: Shown) -> (String, Shown) {
    let Some(span) = fault.span.clone() else { return (text.to_string(), fault) };
    let start = text[..span.start].rfind('\n').map_or(0, |at| at + 1);
    let end = text[span.end..].find('\n').map_or(text.len(), |at| span.end + at);
    if end - start <= LONGEST_LINE {
        return (text.to_string(), fault);
    }
    let from = text.floor_char_boundary(span.start.saturating_sub(SHOWN_BESIDE).max(start));
    let till = text.floor_char_boundary((span.start + SHOWN_BESIDE).min(end));
    let (before, shown) = (&text[..start], &text[from..till]);
    let dots = "... ";
    let place = start + dots.len() + (span.start - from);
    fault.span = Some(place..place + (span.end.min(till) - span.start));
    (format!("{before}{dots}{shown} ...{}", &text[end..]), fault)
}

/// Stands for a hyphen while lines are broken, so that no name is torn: `low-carbon-steel` is one word.
const WHOLE_HYPHEN: char = '\u{e000}';

fn whole(text: &str) -> String {
    plain(text).replace('-', &WHOLE_HYPHEN.to_string())
}

/// Control characters would steer the terminal; each becomes as many harmless bytes, so that places stay.
fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for letter in text.chars() {
        if letter.is_control() && letter != '\n' && letter != '\t' {
            plain.extend(std::iter::repeat_n('?', letter.len_utf8()));
        } else {
            plain.push(letter);
        }
    }
    plain
}

#[derive(Debug)]
struct Placed {
    source: NamedSource<String>,
    fault: Shown,
}

impl fmt::Display for Placed {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.fault.says)
    }
}

impl std::error::Error for Placed {}

impl Diagnostic for Placed {
    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        let accepts = &self.fault.accepts;
        (!accepts.is_empty()).then(|| Box::new(accepts) as Box<dyn fmt::Display>)
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        self.fault.span.is_some().then_some(&self.source as &dyn SourceCode)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        let span = self.fault.span.clone()?;
        let label = LabeledSpan::new_with_span(Some("here".to_string()), span);
        Some(Box::new(std::iter::once(label)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file() -> Named {
        Named { name: "job.toml".to_string(), text: "title = \"Foot\"\nunits = \"furlong\"\n".to_string() }
    }

    fn fault(span: Option<Range<usize>>) -> Shown {
        Shown {
            file: String::new(),
            span,
            says: "units is \"furlong\"".to_string(),
            accepts: "\"mm\" or \"inch\"".to_string(),
        }
    }

    #[test]
    fn a_fault_shows_its_line_its_place_and_what_would_be_accepted() {
        let text = show(&file(), &[&fault(Some(24..31))]);
        for part in ["1 fault", "job.toml:2:10", "units = \"furlong\"", "\"mm\" or \"inch\""] {
            assert!(text.contains(part), "{part} in\n{text}");
        }
        assert!(text.is_ascii() && !text.contains('\u{1b}'));
    }

    #[test]
    fn a_fault_without_place_or_with_a_wrong_one_still_says_its_words() {
        for span in [None, Some(4000..4010), Some(30..500)] {
            assert!(show(&file(), &[&fault(span)]).contains("furlong"));
        }
        #[allow(clippy::reversed_empty_ranges)]
        let backwards = fault(Some(9..2));
        assert!(show(&file(), &[&backwards]).contains("furlong"));
    }

    #[test]
    fn of_a_long_line_only_what_stands_about_the_place_is_shown() {
        let file = Named { text: format!("units = \"{}furlong\"\nlength = 3\n", "é".repeat(5000)), ..file() };
        let place = file.text.find("furlong").expect("it is there");
        let text = show(&file, &[&fault(Some(place..place + 7))]);
        assert!(text.contains("furlong") && text.contains("job.toml:1") && text.len() < 2000, "{text}");
        assert!(show(&file, &[&fault(Some(8..file.text.len() - 12))]).len() < 2000);
    }

    #[test]
    fn no_name_is_torn_at_its_hyphen() {
        let accepts = ["low-alloy-steel-prehard"; 12].join(", ");
        let text = show(&file(), &[&Shown { accepts, ..fault(Some(24..31)) }]);
        assert_eq!(text.matches("low-alloy-steel-prehard").count(), 12, "{text}");
        assert!(text.is_ascii() && text.lines().all(|line| line.chars().count() <= 80), "{text}");
    }

    #[test]
    fn nothing_in_a_file_steers_the_terminal() {
        let file = Named {
            name: "a\u{1b}[2J.toml".to_string(),
            text: "title = \"\u{1b}[31m\u{9b}\"\nunits = 3\n".to_string(),
        };
        let text = show(&file, &[&Shown { span: Some(27..28), says: "\u{7}".to_string(), ..fault(None) }]);
        assert!(text.chars().all(|letter| letter == '\n' || !letter.is_control()), "{text:?}");
    }
}
