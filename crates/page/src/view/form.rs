//! The job as fields: what the text says, to be filled in without writing it.

use engine::cutting;
use engine::shop::Shop;
use maud::{Markup, html};

use super::control::{Choice, Sheet};
use crate::asked::{SEVERAL, Texts};
use crate::fault::Placed;
use crate::planned::Planned;
use crate::written::Written;

/// The fields; `None`: the text does not read as TOML.
pub fn fields(texts: &Texts, planned: &Planned, faults: &[Placed]) -> Option<Markup> {
    let job = Written::read(&texts.job)?;
    let sheet = Sheet { job: &job, faults };
    let unit = if sheet.shown("units") == "inch" { "in" } else { "mm" };
    Some(html! {
        (sheet.typed("title", "What it is called", ""))
        (sheet.chosen("units", "Bare numbers are", &[Choice::new("mm", "millimetres"), Choice::new("inch", "inches")]))
        fieldset { legend { "Part" } (part(&sheet, unit)) }
        fieldset { legend { "Bar" } (stock(&sheet, unit, planned.shop.as_ref())) }
        @if let Some(shop) = &planned.shop { fieldset { legend { "Made with" } (things(&sheet, shop)) } }
        (wishes(&sheet, unit))
        (order(&sheet))
    })
}

fn stock(sheet: &Sheet<'_>, unit: &str, shop: Option<&Shop>) -> Markup {
    let listed = shop.is_some_and(|shop| !shop.stock.is_empty());
    let any = (listed || sheet.shown("stock.form") == "any").then(|| Choice::new("any", "any that the shop lists"));
    let forms: Vec<Choice> = ["round", "square", "hexagon", "flat"].map(Choice::word).into_iter().chain(any).collect();
    let sizes: &[(&str, &str)] = match sheet.shown("stock.form").as_str() {
        "square" | "hexagon" => &[("stock.across", "Across flats")],
        "flat" => &[("stock.width", "Width"), ("stock.thickness", "Thickness")],
        "any" => &[],
        _ => &[("stock.diameter", "Diameter")],
    };
    html! {
        (sheet.chosen("stock.form", "Form", &forms))
        @for (key, label) in sizes { (sheet.typed(key, label, unit)) }
        (sheet.typed("stock.length", "Length as sawn", unit))
        (sheet.chosen("stock.material", "Material", &materials(sheet)))
        (sheet.chosen("stock.surface", "Skin", &skins()))
        @if listed { (compare()) }
    }
}

/// What else the shop has is worked out only where it is asked for: it takes a dozen plans.
fn compare() -> Markup {
    html! {
        div.compare {
            p.buttons {
                button #compare.script-only type="button" { "Compare the shop's bars" }
                button.plain-only type="submit" formaction="/stock/page" formtarget="_blank" { "Compare the shop's bars" }
            }
            div #bars.kept {}
        }
    }
}

fn materials(sheet: &Sheet<'_>) -> Vec<Choice> {
    let own = sheet.shown("material.name");
    let own = (!own.is_empty()).then(|| Choice::new(&own, &format!("{own} (own, in the text)")));
    let left_out = sheet.job.has("material").then(|| Choice::new("", "own, in the text"));
    let rows = cutting::materials().iter().map(|row| Choice::new(&row.name, &row.label));
    left_out.into_iter().chain(own).chain(rows).collect()
}

fn skins() -> Vec<Choice> {
    let words = ["hot-rolled", "drawn", "turned", "ground", "cast"].into_iter().map(Choice::word);
    std::iter::once(Choice::new("", "as is usual for the material")).chain(words).collect()
}

fn part(sheet: &Sheet<'_>, unit: &str) -> Markup {
    let kinds = [Choice::new("block", "block, six faces"), Choice::new("prism", "prism, more or fewer sides")];
    let by_sides = sheet.job.has("part.sides");
    html! {
        (sheet.chosen("part.kind", "Form", &kinds))
        @if sheet.shown("part.kind") == "prism" {
            @if by_sides {
                p #field-part-sides { "Its sides are listed one by one in the text." }
            } @else {
                (sheet.typed("part.regular.sides", "Number of sides", ""))
                (sheet.sized("part.regular.across_flats", "Across flats", unit))
            }
        } @else {
            (sheet.sized("part.width", "Width, C to E", unit))
            (sheet.sized("part.height", "Height, D to F", unit))
        }
        (sheet.sized("part.length", "Length, A to B", unit))
        div.pair {
            (sheet.typed("part.square", "Square within", unit))
            (sheet.typed("part.parallel", "Parallel within", unit))
            (sheet.typed("part.flat", "Flat within", unit))
            (sheet.typed("part.roughness", "Roughness", ""))
            (sheet.typed("part.angles", "Angles within, either way", "deg"))
            (sheet.typed("part.position", "Middle in its place within", unit))
        }
        (sheet.typed("part.general", "General tolerances of ISO 2768, as m or mK", ""))
        details #lie open[lies_off(sheet)] {
            summary { "How it lies in the bar, faces left alone" }
            div.pair {
                (sheet.typed("part.offset[0]", "Off the middle, towards C", unit))
                (sheet.typed("part.offset[1]", "Off the middle, towards D", unit))
                (sheet.typed("part.turn", "Turned", "deg"))
                (sheet.typed("part.leave", "Faces left as the bar is, as D, F", ""))
            }
        }
    }
}

fn lies_off(sheet: &Sheet<'_>) -> bool {
    ["part.offset", "part.turn", "part.leave"].iter().any(|key| sheet.job.has(key))
}

/// What of the shop is used.
fn things(sheet: &Sheet<'_>, shop: &Shop) -> Markup {
    let lathes: Vec<&str> = shop.lathes.iter().map(|lathe| lathe.name.as_str()).collect();
    let chucks: Vec<&str> = shop.chucks.iter().map(|chuck| chuck.name.as_str()).collect();
    let faces = |does: &[String]| does.iter().any(|what| what == "facing");
    let tools: Vec<&str> = shop.tools.iter().filter(|tool| faces(&tool.does)).map(|tool| tool.name.as_str()).collect();
    let mut tools = from_shop(&tools);
    if sheet.shown("use.tools") == SEVERAL {
        tools.push(Choice::new(SEVERAL, "several, in the text"));
    }
    html! {
        p.of { "Shop: " strong { (shop.name) } }
        (sheet.chosen("use.lathe", "Lathe", &from_shop(&lathes)))
        (sheet.chosen("use.chuck", "Chuck", &from_shop(&chucks)))
        (sheet.chosen("use.tools", "Tool", &tools))
    }
}

/// The names of the shop, the first of which is taken where the job names none.
fn from_shop(names: &[&str]) -> Vec<Choice> {
    let first = names.first().map(|name| Choice::new("", &format!("the shop's first: {name}")));
    first.into_iter().chain(names.iter().map(|name| Choice::word(name))).collect()
}

fn wishes(sheet: &Sheet<'_>, unit: &str) -> Markup {
    html! {
        details #wishes open[sheet.job.has("cutting")] {
            summary { "Wishes about cutting" }
            div.pair {
                (sheet.typed("cutting.deepest_cut", "Deepest cut", unit))
                (sheet.typed("cutting.finishing_cut", "Finishing cut", unit))
                (sheet.typed("cutting.clean_up", "Taken off a sawn end", unit))
                (sheet.typed("cutting.speed_share_interrupted", "Share of the table speed where interrupted, as 0.7 or 70 %", ""))
            }
        }
    }
}

fn order(sheet: &Sheet<'_>) -> Markup {
    let best = [
        Choice::new("", "as usual"),
        Choice::new("balanced", "fewest minutes for a good piece"),
        Choice::new("quickest", "fewest minutes"),
        Choice::new("truest", "most good pieces"),
    ];
    html! {
        details #order-wishes open[sheet.job.has("order")] {
            summary { "Wishes about the order" }
            (sheet.chosen("order.seek", "The best order takes", &best))
            (sheet.typed("order.first", "Faces to be cut first, in this order, as B, A", ""))
            (sheet.typed("order.seated", "Faces to be cut on a seat, as C", ""))
        }
    }
}
