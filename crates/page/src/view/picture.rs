//! Pictures in their frames, with the words that stand for them.

use drawing::{Dress, Figure, svg};
use maud::{Markup, PreEscaped, html};

/// A figure of the drawing room, ready made as SVG: escaped there.
pub fn picture(figure: &Figure, class: &str) -> Markup {
    html! {
        figure class=(class) {
            (drawn(figure))
            figcaption { (figure.title) }
        }
    }
}

/// A plot, the answer that it gives as its heading.
pub fn plot(figure: &Figure, class: &str) -> Markup {
    html! {
        figure class=(format!("plot {class}")) {
            figcaption { (figure.title) }
            (drawn(figure))
        }
    }
}

/// A figure under a heading of its own, drawn once for a wide screen and once for a narrow one: letters keep their size.
/// What is wider than the screen all the same is moved, not made small.
pub fn strip(wide: &Figure, slim: Figure) -> Markup {
    let region = |figure: &Figure, class: &str| {
        html! {
            div class=(format!("strip {class}")) tabindex="0" role="region" aria-label=(figure.title) { (drawn(figure)) }
        }
    };
    html! { (region(wide, "wide")) (region(&narrow(slim), "narrow")) }
}

/// The same figure for a narrow screen, under a name of its own.
pub fn narrow(figure: Figure) -> Figure {
    Figure { name: format!("{}-narrow", figure.name), ..figure }
}

/// Ready made as SVG, escaped there. A screen shows it at any size: its note of the scale, where it ends a line, is kept
/// for paper, on which it is as large as it says.
fn drawn(figure: &Figure) -> Markup {
    let made = svg(figure, Dress::Page);
    PreEscaped(made.split("</text>").map(noted).collect::<Vec<_>>().join("</text>"))
}

/// The text with the note of the scale that ends it, and the sign that parts it from the words before, marked as of paper.
fn noted(text: &str) -> String {
    const BEGINS: &str = "scale\u{a0}";
    const PARTS: &str = "; ";
    let Some(at) = text.rfind(BEGINS).filter(|&at| !text[at..].contains([';', '<'])) else { return text.to_string() };
    let at = if text[..at].ends_with(PARTS) { at - PARTS.len() } else { at };
    format!("{}<tspan class=\"at-scale\">{}</tspan>", &text[..at], &text[at..])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_scale_that_ends_a_line_is_of_paper() {
        let marked = "<text x=\"1\">first angle<tspan class=\"at-scale\">; scale\u{a0}1:1</tspan>";
        assert_eq!(noted("<text x=\"1\">first angle; scale\u{a0}1:1"), marked);
        assert_eq!(
            noted("<text x=\"1\">scale\u{a0}1:2"),
            "<text x=\"1\"><tspan class=\"at-scale\">scale\u{a0}1:2</tspan>"
        );
        for other in ["<text x=\"1\">the scale of hot rolling", "scale\u{a0}1:1</desc><text x=\"1\">A"] {
            assert_eq!(noted(other), other);
        }
    }
}
