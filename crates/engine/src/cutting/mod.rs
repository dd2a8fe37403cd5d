//! Cutting: chip, force, power, speed, feed, roughness, life of the edge.
//!
//! Plain numbers in mm, N, MPa, rad, rpm, m/min, minutes; symbols after ISO 3002. This room knows the
//! work's metal and the edge; it does not know the piece's shape, the jaws or the lathe.

mod chip;
mod elastic;
mod finish;
mod force;
mod life;
mod material;
mod number;
mod power;
mod rotation;
mod roughness;
mod speed;
mod step;

pub use chip::{Chip, Edge, chip, nose_limit_mm};
pub use elastic::{Elastic, elastic};
pub use finish::least_finish_mm;
pub use force::{Level, force, kienzle_mpa, normal_force_share, rake_factor, speed_factor};
pub use life::{
    Taylor, edge_share, life_for_clearance, life_minutes, speed_for_least_cost, speed_for_life, speed_for_most_output,
    taylor, taylor_through,
};
pub use material::{Family, Material, Speeds, material, materials};
pub use number::{Numbers, Sourced, numbers, tool_force_factor};
pub use power::{power_w, removal_mm3_per_min, torque_nm};
pub use rotation::{facing_minutes, facing_minutes_at_speed, feed_mm_per_rev, pass_minutes, rpm_for, speed_m_min};
pub use roughness::{
    Finish, brammertz_rt_um, feed_for_ra, feed_for_ra_at, finest_useful_feed_mm, least_chip_um, ra_um, real_over_ideal,
    real_over_ideal_default, rt_sharp_um, rt_um,
};
pub use speed::{
    Duty, PublishedSpeed, light_lathe_share, light_lathe_source, published_speed, speed_share, speed_share_source,
    table_speed,
};
pub use step::{evenly_stepped, next_listed, next_lower};
