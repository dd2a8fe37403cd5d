//! The spindle speed: its limits, and the highest on the plate.

use super::floor::start_radius;
use super::list::{Given, Workings, given, worked};
use super::{Told, rule, taken};
use crate::cutting::{self, Duty};
use crate::holding;
use crate::planning::floor::floor_at;
use crate::planning::hold::mass;
use crate::planning::speed::{EVEN_KG_MM, balance_limits, chuck_limit, grip_speed, off_axis, swings};
use crate::task::{SPEED_SHARE, Task};

const PLATE: &str = "the shop: the lathe's plate";

pub fn speed(told: &Told, list: &mut Workings) {
    let (task, facing) = (told.task, &told.chosen.way.facing);
    by_key(task, list);
    let by_cutting = by_cutting_speed(told, list);
    let by_grip = by_grip(task, list);
    let marked = by_chuck(told, list);
    let marked = || marked.clone();
    let grip = || worked("n_g", grip_speed(task), &by_grip);
    let (uneven, balance) = by_balance(told, list);
    let balance_values = || balance.iter().map(|(symbol, rpm, key)| worked(symbol, *rpm, key));
    let limits: Vec<Given> = [by_cutting, marked(), grip()].into_iter().chain(balance_values()).collect();
    let row = if uneven { "most speed, uneven piece" } else { "most speed" };
    let most = list.add("most speed", facing.speed.most_rpm, row, limits);
    let over = &cutting::numbers().listed_tolerance;
    let listed = super::list::listed("n_i", task.lathe.speeds_rpm.clone(), PLATE);
    let first = [
        listed,
        given("q", over.value, over.source.clone()),
        worked("n_max", facing.speed.most_rpm, &most),
        marked(),
        grip(),
    ];
    let row = if uneven { "speed set, uneven piece" } else { "speed set" };
    list.add(SET, facing.speed.set_rpm, row, first.into_iter().chain(balance_values()).collect());
}

/// Key of the speed set.
pub const SET: &str = "speed set";

/// What the chuck allows: its mark, or less for what swings in jaws that move one by one.
fn by_chuck(told: &Told, list: &mut Workings) -> Given {
    let (task, facing) = (told.task, &told.chosen.way.facing);
    let source = taken(task, "highest speed of the chuck, which carries no mark", "the shop: the mark on the chuck");
    let (_, kg, unbalance) = mass(task, &facing.piece, &facing.lie, &facing.depth);
    let off_axis = off_axis(task, unbalance, kg);
    let (rpm, _) = chuck_limit(task, facing.interrupted, off_axis);
    if !swings(task, facing.interrupted, off_axis) || rpm == task.chuck.marked_rpm {
        return given("n_m", rpm, source);
    }
    if task.chuck.interrupted_rpm.is_some() {
        return given("n_m", rpm, "the shop: the chuck's highest speed for interrupted cuts and work off the axis");
    }
    let share = given("s", task.rules.independent_speed_share, taken(task, SPEED_SHARE, "table"));
    let mark = given("n_k", task.chuck.marked_rpm, source);
    worked("n_m", rpm, &list.add("speed of the chuck", rpm, "speed of the chuck, swinging", vec![share, mark]))
}

fn by_cutting_speed(told: &Told, list: &mut Workings) -> Given {
    let (task, facing) = (told.task, &told.chosen.way.facing);
    let tool = &task.tools[told.chosen.way.tool];
    let lowered = lowered(told, list);
    let (share, why) = share(task, tool.edge.tool, facing.interrupted);
    let allowed = list.add(
        "cutting speed allowed",
        facing.speed.table_m_min,
        "cutting speed allowed",
        vec![table_speed(told, lowered), given("s", share, why)],
    );
    let floor = floor_at(&facing.piece, task.faces[facing.lie.face].place, &facing.lie, facing.lie.floor_mm);
    let finished = (&floor, facing.lie.floor_mm, None);
    let radius = start_radius(task, told.chosen, finished, "start radius of the finished floor", list);
    let rpm = cutting::rpm_for(facing.speed.table_m_min, 2.0 * floor.start_radius_mm);
    let key = list.add(
        "speed by cutting speed",
        rpm,
        "speed by cutting speed",
        vec![worked("v", facing.speed.table_m_min, &allowed), worked("r_1", floor.start_radius_mm, &radius)],
    );
    worked("n_v", rpm, &key)
}

/// The share of the table's speed, and whose it is.
fn share(task: &Task, tool: crate::shop::ToolMaterial, interrupted: bool) -> (f64, String) {
    match task.wishes.speed_share_interrupted {
        Some(wish) if interrupted => (wish, "the job's wish for interrupted work".to_string()),
        _ => (cutting::speed_share(tool, Duty::Rough, interrupted), cutting::speed_share_source(tool).1.to_string()),
    }
}

/// A production speed is lowered for a manual lathe; the key of that working.
fn lowered(told: &Told, list: &mut Workings) -> Option<String> {
    let (task, tool) = (told.task, &told.task.tools[told.chosen.way.tool]);
    let row = cutting::published_speed(&task.material.name, tool.edge.tool)
        .filter(|row| row.production && !task.material.own)?;
    let share = given("q", cutting::light_lathe_share(), cutting::light_lathe_source());
    let published = given("v_p", row.speed_m_min, row.source.clone());
    Some(list.add("cutting speed of the table", tool.speed_m_min, "cutting speed of the table", vec![published, share]))
}

fn table_speed(told: &Told, lowered: Option<String>) -> Given {
    let (task, tool) = (told.task, &told.task.tools[told.chosen.way.tool]);
    let own = || "the job's own value".to_string();
    let source =
        || cutting::published_speed(&task.material.name, tool.edge.tool).map_or_else(own, |row| row.source.clone());
    match lowered {
        Some(key) => worked("v_t", tool.speed_m_min, &key),
        None => given("v_t", tool.speed_m_min, if task.material.own { own() } else { source() }),
    }
}

fn by_grip(task: &Task, list: &mut Workings) -> String {
    let chuck = &task.chuck;
    list.add(
        "speed by grip",
        grip_speed(task),
        "speed by grip",
        vec![
            given("s", task.rules.grip_lost_share, rule("grip lost to turning")),
            low_share(task),
            nominal(task),
            jaw_mass(task),
            given("r_j", chuck.jaw_mass_radius_mm, holding::numbers().jaw_mass_radius_share.source.clone()),
        ],
    )
}

/// Share of the clamping force that is counted on.
pub fn low_share(task: &Task) -> Given {
    match task.chuck.key_band {
        Some(_) => worked("q", task.chuck.low_share, super::grip::SHARE),
        None => {
            given("q", task.chuck.low_share, taken(task, "share of the clamping force that is counted on", "the shop"))
        }
    }
}

/// Nominal clamping force.
pub fn nominal(task: &Task) -> Given {
    let what = "clamping force of a jaw, properly tightened";
    match task.chuck.key {
        Some(_) => worked("F_0", task.chuck.nominal_force_n, NOMINAL),
        None => given("F_0", task.chuck.nominal_force_n, taken(task, what, "the shop: the chuck's clamping force")),
    }
}

/// Key of the nominal force where it comes from the torque on the key.
const NOMINAL: &str = "nominal force of a jaw";

/// Key of the screw's lead angle.
pub const LEAD: &str = "lead angle of the screw";

/// From the torque on the key to the force of the jaw.
fn by_key(task: &Task, list: &mut Workings) {
    let Some((screw, torque_nm)) = task.chuck.key else { return };
    let shop = "the shop: the chuck's key and screw";
    let friction = || given("mu", screw.friction, shop);
    let diameter = || given("d_2", screw.pitch_diameter_mm, shop);
    let lead_deg = screw.lead_rad().to_degrees();
    let lead = list.add(LEAD, lead_deg, "lead angle of the screw", vec![given("P", screw.pitch_mm, shop), diameter()]);
    let rubbing_deg = screw.rubbing_rad().to_degrees();
    let half = &holding::numbers().thread_half_angle_deg;
    let rubbing = list.add(
        "angle of friction in the thread",
        rubbing_deg,
        "angle of friction in the thread",
        vec![friction(), given("beta", half.value, half.source.clone())],
    );
    list.add(
        NOMINAL,
        task.chuck.nominal_force_n,
        "force of a jaw by its key",
        vec![
            given("T", torque_nm, shop),
            diameter(),
            worked("phi", lead_deg, &lead),
            worked("rho'", rubbing_deg, &rubbing),
            friction(),
            given("r_c", screw.shoulder_radius_mm, shop),
        ],
    );
    super::grip::key_band(task, list);
}

/// Mass of a jaw.
pub fn jaw_mass(task: &Task) -> Given {
    given("m_j", task.chuck.jaw_mass_kg, taken(task, "mass of a jaw", "the shop"))
}

/// Limits of a piece whose mass lies off the axis: symbol, speed, key.
fn by_balance(told: &Told, list: &mut Workings) -> (bool, Vec<(&'static str, f64, String)>) {
    let (task, facing) = (told.task, &told.chosen.way.facing);
    let (centre, kg, unbalance) = mass(task, &facing.piece, &facing.lie, &facing.depth);
    let piece = "the piece as it is";
    let mass = list.add(
        "mass of the piece",
        kg,
        "mass of the piece",
        vec![
            given("rho", task.material.density_kg_m3, task.material.source_density.clone()),
            given("V", facing.piece.volume_mm3(), piece),
        ],
    );
    if unbalance <= EVEN_KG_MM {
        return (false, Vec::new());
    }
    let uneven = list.add(
        "unbalance",
        unbalance,
        "unbalance",
        vec![worked("m_w", kg, &mass), given("x", centre.x, piece), given("y", centre.y, piece)],
    );
    let limits: Vec<f64> = balance_limits(task, unbalance, kg).into_iter().map(|(rpm, _)| rpm).collect();
    let [grade_rpm, weight_rpm] = [limits[0], limits[1]];
    let numbers = holding::numbers();
    let grade = list.add(
        "speed by balance grade",
        grade_rpm,
        "speed by balance grade",
        vec![
            given("G", numbers.balance_grade_mm_s.value, numbers.balance_grade_mm_s.source.clone()),
            given(
                "m_r",
                task.lathe.rotor_mass_kg,
                taken(task, "mass of spindle and chuck, for the balance grade", "the shop"),
            ),
            worked("m_w", kg, &mass),
            worked("U", unbalance, &uneven),
        ],
    );
    let share = &numbers.unbalance_share_of_lathe;
    let weight = list.add(
        "speed by weight of the lathe",
        weight_rpm,
        "speed by weight of the lathe",
        vec![
            given("q", share.value, share.source.clone()),
            given("m_l", task.lathe.mass_kg, taken(task, "mass of the lathe, for what unbalance it bears", "the shop")),
            given("g", holding::GRAVITY_M_S2, "CGPM 1901, exact"),
            worked("U", unbalance, &uneven),
        ],
    );
    (true, vec![("n_b", grade_rpm, grade), ("n_w", weight_rpm, weight)])
}
