//! Zones: how far measured points, or planes, are from what is asked of them (ISO 1101, ISO 5459, ISO 14405-1; from
//! memory). Lengths in mm, slopes and tilts in mm per mm. Everything here is exact for the input given; how well points
//! stand for a face is not asked.

mod common;
mod cone;
mod datum;
mod flatness;
mod orientation;
mod patch;
mod plane;
mod seat;
mod slip;
mod strip;
mod wedges;

pub use common::{Pair, common_area, sizes_mm};
pub use cone::{Cone, hollow_of_disc, hollow_of_travel};
pub use datum::datum_plane;
pub use flatness::{Flatness, flatness};
pub use orientation::{SquareZone, angle_off_rad, off_square_mm, parallel_mm, square_zone};
pub use patch::{Lean, lean};
pub use plane::{Plane, least_squares};
pub use seat::{chip_tilt, over_mm};
pub use slip::{slip_tilt, slip_tilts};
pub use strip::{Strip, least_strip};
