//! Rows of the engine's data tables, read here anew: numbers of the world that the rules need.

use std::sync::OnceLock;

use engine::shop::ToolMaterial;

fn table(text: &str) -> toml::Table {
    toml::from_str(text).expect("the tables are read by the engine's own tests")
}

fn number(value: &toml::Value) -> f64 {
    value.as_float().or(value.as_integer().map(|whole| whole as f64)).expect("a number")
}

/// A row of `defaults.toml`.
pub fn default(name: &str) -> f64 {
    static TABLE: OnceLock<toml::Table> = OnceLock::new();
    let rows = TABLE.get_or_init(|| table(include_str!("../../data/defaults.toml")))["row"].as_array().expect("rows");
    let row = rows.iter().find(|row| row["name"].as_str() == Some(name)).expect("a default of that name");
    number(&row["value"])
}

/// A number of `holding.toml`.
pub fn holding(name: &str) -> f64 {
    static TABLE: OnceLock<toml::Table> = OnceLock::new();
    number(&TABLE.get_or_init(|| table(include_str!("../../data/holding.toml")))[name]["value"])
}

fn cutting() -> &'static toml::Table {
    static TABLE: OnceLock<toml::Table> = OnceLock::new();
    TABLE.get_or_init(|| table(include_str!("../../data/cutting.toml")))
}

/// A number of `cutting.toml`.
pub fn of_cutting(name: &str) -> f64 {
    number(&cutting()[name]["value"])
}

/// Real over ideal roughness of ductile or brittle work at a cutting speed, m/min: straight lines between the rows.
pub fn real_over_ideal(work: &str, speed: f64) -> f64 {
    let rows = cutting()["roughness_ratio"].as_array().expect("rows");
    let rows = rows.iter().filter(|row| row["work"].as_str() == Some(work));
    let points: Vec<(f64, f64)> = rows.map(|row| (number(&row["speed_m_min"]), number(&row["ratio"]))).collect();
    let slower = points.iter().rev().find(|point| point.0 <= speed).unwrap_or(&points[0]);
    let quicker = points.iter().find(|point| point.0 >= speed).unwrap_or(&points[points.len() - 1]);
    if quicker.0 <= slower.0 {
        return slower.1;
    }
    slower.1 + (quicker.1 - slower.1) * (speed - slower.0) / (quicker.0 - slower.0)
}

fn speeds() -> &'static toml::Table {
    static TABLE: OnceLock<toml::Table> = OnceLock::new();
    TABLE.get_or_init(|| table(include_str!("../../data/speeds.toml")))
}

/// Thinnest cut that an edge takes, mm.
pub fn least_finish(tool: ToolMaterial) -> f64 {
    let rows = cutting()["edge"].as_array().expect("rows");
    let row = rows.iter().find(|row| row["tool"].as_str() == Some(tool.name())).expect("a row for every tool material");
    number(&row["least_finish_mm"])
}

/// Cutting speed for a light lathe, m/min.
pub fn speed(material: &str, tool: ToolMaterial) -> Option<f64> {
    let rows = speeds()["speed"].as_array().expect("rows");
    let row = rows
        .iter()
        .find(|row| row["material"].as_str() == Some(material) && row["tool"].as_str() == Some(tool.name()))?;
    let production = row["production"].as_bool() == Some(true);
    Some(number(&row["speed_m_min"]) * if production { number(&speeds()["light_lathe_share"]["value"]) } else { 1.0 })
}

/// Share of the table speed in an interrupted cut.
pub fn interrupted_share(tool: ToolMaterial) -> f64 {
    let rows = speeds()["share"].as_array().expect("rows");
    number(&rows.iter().find(|row| row["tool"].as_str() == Some(tool.name())).expect("a row")["interrupted"])
}
