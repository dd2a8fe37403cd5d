//! Work materials: the table, and materials that a job brings itself.

use std::sync::OnceLock;

use serde::Deserialize;

use super::number::numbers;
use super::speed::table_speeds;
use crate::job::{OwnMaterial, Surface};
use crate::quantity::Plain;
use crate::shop::ToolMaterial;

/// A work material.
#[derive(Debug, Clone, PartialEq)]
pub struct Material {
    /// Key in job files: lower case, words joined by hyphens.
    pub name: String,
    /// Name in words, with common grades.
    pub label: String,
    /// What kind of metal it is.
    pub family: Family,
    /// Likely specific cutting force k_c1.1, MPa.
    pub kc11_mpa: f64,
    /// Likely exponent m_c.
    pub mc: f64,
    /// Rake for which the likely values hold, degrees.
    pub rake_deg: f64,
    /// Where the likely values come from.
    pub source: String,
    /// Specific cutting force k_c1.1 of the higher table, MPa.
    pub kc11_high_mpa: f64,
    /// Exponent m_c of the higher table.
    pub mc_high: f64,
    /// Rake for which the higher values hold, degrees.
    pub high_rake_deg: f64,
    /// Where the higher values come from.
    pub source_high: String,
    /// Density, kg/m³.
    pub density_kg_m3: f64,
    /// Where the density comes from.
    pub source_density: String,
    /// Yield strength, MPa; `None`: the job gives none.
    pub yield_mpa: Option<f64>,
    /// Where the strength comes from.
    pub source_yield: String,
    /// Friction in the jaws over that of steel.
    pub friction_share: f64,
    /// Where the friction share comes from.
    pub source_friction: String,
    /// Thinnest cut that the material itself takes, mm; the edge asks its own.
    pub least_finish_mm: f64,
    /// Where the thinnest cut comes from.
    pub source_finish: String,
    /// Cutting speeds on a manual lathe.
    pub speeds: Speeds,
    /// What to mind; empty: nothing.
    pub note: String,
    /// Brought by the job: no correction that was not asked for is applied.
    pub own: bool,
}

/// Cutting speed for each tool material, m/min; `None`: not known.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Speeds {
    /// High-speed steel, m/min.
    pub hss_m_min: Option<f64>,
    /// Uncoated carbide, m/min.
    pub carbide_uncoated_m_min: Option<f64>,
    /// Coated carbide, m/min.
    pub carbide_coated_m_min: Option<f64>,
}

impl Speeds {
    /// The speed for a tool material, m/min.
    pub fn of(&self, tool: ToolMaterial) -> Option<f64> {
        match tool {
            ToolMaterial::Hss => self.hss_m_min,
            ToolMaterial::CarbideUncoated => self.carbide_uncoated_m_min,
            ToolMaterial::CarbideCoated => self.carbide_coated_m_min,
        }
    }

    /// Each tool material asked in turn.
    pub(super) fn each(speed_of: impl Fn(ToolMaterial) -> Option<f64>) -> Speeds {
        Speeds {
            hss_m_min: speed_of(ToolMaterial::Hss),
            carbide_uncoated_m_min: speed_of(ToolMaterial::CarbideUncoated),
            carbide_coated_m_min: speed_of(ToolMaterial::CarbideCoated),
        }
    }
}

/// Kind of metal.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub enum Family {
    /// Carbon, alloy and tool steel.
    #[serde(rename = "steel")]
    Steel,
    /// Stainless steel.
    #[serde(rename = "stainless")]
    Stainless,
    /// Grey and nodular iron.
    #[serde(rename = "cast iron")]
    CastIron,
    /// Aluminium alloys.
    #[serde(rename = "aluminium")]
    Aluminium,
    /// Copper, brass, bronze.
    #[serde(rename = "copper alloy")]
    CopperAlloy,
    /// Titanium alloys.
    #[serde(rename = "titanium")]
    Titanium,
    /// Plastics.
    #[serde(rename = "plastic")]
    Plastic,
    /// Values brought by the job.
    #[serde(skip)]
    Own,
}

impl Material {
    /// A material of the job's own: likely and higher values are the same, no correction is applied.
    pub fn own(given: &OwnMaterial) -> Material {
        let speed_of = |tool| given.speeds.iter().find(|(of, _)| *of == tool).map(|(_, speed)| speed.plain());
        let says = || "the job's own value".to_string();
        Material {
            name: given.name.clone(),
            label: given.name.clone(),
            family: Family::Own,
            kc11_mpa: given.kc11.plain(),
            mc: given.mc,
            rake_deg: 0.0,
            source: says(),
            kc11_high_mpa: given.kc11.plain(),
            mc_high: given.mc,
            high_rake_deg: 0.0,
            source_high: says(),
            density_kg_m3: given.density.plain(),
            source_density: says(),
            yield_mpa: given.yield_strength.map(Plain::plain),
            source_yield: says(),
            friction_share: 1.0,
            source_friction: "own material: friction as for steel, since the job gives no other".to_string(),
            least_finish_mm: 0.0,
            source_finish: "own material: the edge decides".to_string(),
            speeds: Speeds::each(speed_of),
            note: String::new(),
            own: true,
        }
    }

    /// Whether it is steel of any kind; an own material counts as steel by its density.
    pub fn is_steel(&self) -> bool {
        let band = &numbers().steel_density_kg_m3;
        match self.family {
            Family::Steel | Family::Stainless => true,
            Family::Own => (band.least..=band.most).contains(&self.density_kg_m3),
            _ => false,
        }
    }

    /// Skin of a bar of it when the job says nothing: hot-rolled steel, cast iron as cast, else drawn.
    pub fn default_surface(&self) -> Surface {
        match self.family {
            Family::CastIron => Surface::Cast,
            _ if self.is_steel() => Surface::HotRolled,
            _ => Surface::Drawn,
        }
    }
}

/// The material table, sorted by name.
pub fn materials() -> &'static [Material] {
    static MATERIALS: OnceLock<Vec<Material>> = OnceLock::new();
    MATERIALS.get_or_init(|| {
        let table: Table = toml::from_str(include_str!("../../data/materials.toml"))
            .expect("the table is compiled in and read by the tests of this file");
        table.material.into_iter().map(Material::from).collect()
    })
}

/// The row of that name.
pub fn material(name: &str) -> Option<&'static Material> {
    materials().iter().find(|row| row.name == name)
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    material: Vec<Row>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    name: String,
    label: String,
    family: Family,
    kc11_mpa: f64,
    mc: f64,
    rake_deg: f64,
    source: String,
    kc11_high_mpa: f64,
    mc_high: f64,
    high_rake_deg: f64,
    source_high: String,
    density_kg_m3: f64,
    source_density: String,
    yield_mpa: f64,
    source_yield: String,
    friction_share: f64,
    source_friction: String,
    least_finish_mm: f64,
    source_finish: String,
    note: String,
}

impl From<Row> for Material {
    fn from(row: Row) -> Material {
        Material {
            speeds: table_speeds(&row.name),
            name: row.name,
            label: row.label,
            family: row.family,
            kc11_mpa: row.kc11_mpa,
            mc: row.mc,
            rake_deg: row.rake_deg,
            source: row.source,
            kc11_high_mpa: row.kc11_high_mpa,
            mc_high: row.mc_high,
            high_rake_deg: row.high_rake_deg,
            source_high: row.source_high,
            density_kg_m3: row.density_kg_m3,
            source_density: row.source_density,
            yield_mpa: Some(row.yield_mpa),
            source_yield: row.source_yield,
            friction_share: row.friction_share,
            source_friction: row.source_friction,
            least_finish_mm: row.least_finish_mm,
            source_finish: row.source_finish,
            note: row.note,
            own: false,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cutting::{Edge, Level, force};
    use crate::quantity::{kg_per_m3, m_per_min, mpa};

    #[test]
    fn the_table_is_sorted_and_unique() {
        assert!(materials().len() >= 18);
        assert!(materials().windows(2).all(|pair| pair[0].name < pair[1].name));
    }

    #[test]
    fn names_are_keys_and_every_value_has_a_source() {
        for row in materials() {
            assert!(row.name.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-'), "{}", row.name);
            for source in [
                &row.source,
                &row.source_high,
                &row.source_density,
                &row.source_yield,
                &row.source_friction,
                &row.source_finish,
            ] {
                assert!(source.len() > 10, "{}: {source:?}", row.name);
            }
            assert!(!row.label.is_empty() && !row.own);
        }
    }

    #[test]
    fn values_are_in_range() {
        for row in materials() {
            let metal = row.family != Family::Plastic;
            for (kc, mc) in [(row.kc11_mpa, row.mc), (row.kc11_high_mpa, row.mc_high)] {
                assert!((if metal { 500.0..=3000.0 } else { 50.0..=200.0 }).contains(&kc), "{}", row.name);
                assert!((0.1..=0.35).contains(&mc), "{}", row.name);
            }
            assert!((1000.0..=9000.0).contains(&row.density_kg_m3), "{}", row.name);
            assert!(row.yield_mpa.is_some_and(|it| (50.0..=1000.0).contains(&it)), "{}", row.name);
            assert!((0.5..=1.0).contains(&row.friction_share), "{}", row.name);
            assert!((0.0..=0.3).contains(&row.least_finish_mm), "{}", row.name);
        }
    }

    #[test]
    fn every_row_has_a_speed_for_every_tool_and_carbide_is_the_quicker() {
        for row in materials() {
            let [hss, plain, coated] = ToolMaterial::ALL.map(|tool| row.speeds.of(tool).unwrap());
            assert!((5.0..=120.0).contains(&hss), "{} {hss}", row.name);
            assert!(hss < plain && plain <= coated && coated <= 400.0, "{} {plain} {coated}", row.name);
        }
    }

    #[test]
    fn skins_follow_the_metal() {
        assert_eq!(material("low-carbon-steel").unwrap().default_surface(), Surface::HotRolled);
        assert_eq!(material("grey-cast-iron").unwrap().default_surface(), Surface::Cast);
        assert_eq!(material("brass").unwrap().default_surface(), Surface::Drawn);
        assert!(material("unobtainium").is_none());
    }

    #[test]
    fn an_own_material_is_taken_as_it_is_given() {
        let given = OwnMaterial {
            name: "bell bronze".into(),
            kc11: mpa(1100.0),
            mc: 0.25,
            density: kg_per_m3(8700.0),
            yield_strength: None,
            speeds: vec![(ToolMaterial::Hss, m_per_min(30.0))],
        };
        let own = Material::own(&given);
        assert!(own.own && !own.is_steel() && own.yield_mpa.is_none());
        assert!((own.speeds.of(ToolMaterial::Hss).unwrap() - 30.0).abs() < 1e-9);
        assert_eq!(own.speeds.of(ToolMaterial::CarbideCoated), None);
        let edge =
            Edge { kappa_rad: std::f64::consts::FRAC_PI_2, nose_mm: 0.0, rake_rad: 0.2, tool: ToolMaterial::Hss };
        let (likely, safe) = (force(&own, &edge, 2.0, 0.2, Level::Likely), force(&own, &edge, 2.0, 0.2, Level::Safe));
        assert_eq!(likely, safe);
        assert!((likely.cutting - 1100.0 * 0.2f64.powf(-0.25) * 0.4).abs() < 1e-6);
    }
}
