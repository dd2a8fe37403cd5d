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
        figure.plot class=(class) {
            figcaption { (figure.title) }
            (drawn(figure))
        }
    }
}

/// A figure under a heading of its own; where it is wider than the screen it is moved, not made small.
pub fn strip(figure: &Figure) -> Markup {
    html! {
        div.strip tabindex="0" role="region" aria-label=(figure.title) { (drawn(figure)) }
    }
}

/// Ready made as SVG, escaped there. A screen shows it at any size: its note of the scale, where it ends a line, is kept
/// for paper, on which it is as large as it says.
fn drawn(figure: &Figure) -> Markup {
    const BEGINS: &str = "scale\u{a0}";
    let made = svg(figure, Dress::Page);
    let noted = made.split("</text>").map(|text| match text.rfind(BEGINS) {
        Some(at) if !text[at..].contains([';', '<']) => {
            let at = if text[..at].ends_with("; ") { at - 2 } else { at };
            format!("{}<tspan class=\"at-scale\">{}</tspan>", &text[..at], &text[at..])
        }
        _ => text.to_string(),
    });
    PreEscaped(noted.collect::<Vec<_>>().join("</text>"))
}
