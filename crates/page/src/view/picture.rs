//! Pictures in their frames, with the words that stand for them.

use drawing::{Dress, Figure, svg};
use maud::{Markup, PreEscaped, html};

/// A figure of the drawing room, ready made as SVG: escaped there.
pub fn picture(figure: &Figure, class: &str) -> Markup {
    html! {
        figure class=(class) {
            (PreEscaped(svg(figure, Dress::Page)))
            figcaption { (figure.title) }
        }
    }
}

/// A figure under a heading of its own; where it is wider than the screen it is moved, not made small.
pub fn strip(figure: &Figure) -> Markup {
    html! {
        div.strip tabindex="0" role="region" aria-label=(figure.title) { (PreEscaped(svg(figure, Dress::Page))) }
    }
}
