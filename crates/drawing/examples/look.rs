//! Writes every picture of every example job into a folder, to look at: `cargo run -p drawing --example look DIR`; with
//! `page` behind it dressed for the page, with `small` on as little paper as a crowded sheet gives.

use std::path::Path;

use drawing::{Dress, Figure, Projection, svg};
use engine::plan::Plan;
use engine::quantity::Units;

/// Paper for the chuck, the side, before and after, mm.
const LARGE: [[f64; 2]; 3] = [[110.0, 130.0], [110.0, 130.0], [160.0, 90.0]];
/// The same on a crowded sheet.
const SMALL: [[f64; 2]; 3] = [[73.0, 75.0], [93.0, 75.0], [73.0, 45.0]];

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let folder = std::env::args().nth(1).ok_or("a folder to write into")?;
    let dress = if std::env::args().any(|word| word == "page") { Dress::Page } else { Dress::Paper };
    let small = std::env::args().any(|word| word == "small");
    let rooms = if small { SMALL } else { LARGE };
    for entry in std::fs::read_dir("examples")? {
        let path = entry?.path();
        if path.extension().is_none_or(|end| end != "toml") {
            continue;
        }
        let name = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        let text = std::fs::read_to_string(&path)?;
        let mut job = formats::job::read(&text, "job").map_err(|_| "a job that does not read")?.job;
        let shop = formats::shop::read(formats::builtin::shop_text(), "shop").map_err(|_| "the shop")?.shop;
        for units in [Units::Mm, Units::Inch] {
            job.units = units;
            let plan = engine::plan(&job, &shop).map_err(|_| "a job that does not fit")?;
            let file = Path::new(&folder).join(format!("{name}-{}.html", units.name()));
            std::fs::write(file, sheet(&plan, dress, rooms))?;
        }
    }
    Ok(())
}

fn sheet(plan: &Plan, dress: Dress, [chuck, side, piece]: [[f64; 2]; 3]) -> String {
    let mut figures: Vec<Figure> = vec![
        drawing::part_drawing(plan, Projection::usual(plan.units), [130.0, 120.0]),
        drawing::bar_and_part(plan, [70.0, 90.0]),
        drawing::order_strip(plan, [200.0, 120.0]),
    ];
    for set_up in &plan.set_ups {
        figures.push(drawing::chuck_view(plan, set_up, chuck));
        figures.push(drawing::side_view(plan, set_up, side));
        figures.push(drawing::before_after(plan, set_up, piece));
        figures.extend(drawing::turn_plot(set_up, [45.0, 70.0]));
        figures.extend(drawing::jaw_forces(plan, set_up, [76.0, 100.0]));
        figures.extend(drawing::surface_map(set_up, plan.units, [45.0, 70.0]));
    }
    let qualities = plan.forecast.iter().flat_map(|forecast| forecast.doubtful().0);
    for (at, quality) in qualities.enumerate() {
        figures.extend(drawing::spread(quality, at, plan.units, 90.0));
        figures.extend(drawing::causes(quality, at, 90.0));
    }
    let pictures: Vec<String> = figures.iter().map(|figure| svg(figure, dress)).collect();
    format!(
        "<meta charset=\"utf-8\"><style>svg{{margin:3mm;outline:1px dotted #ccc}}{}</style>{}",
        drawing::PAGE_STYLE,
        pictures.join("\n")
    )
}
