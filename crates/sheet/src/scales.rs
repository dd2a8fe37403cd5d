//! The scales that the pictures of all set-ups of a job can have in common, and how much paper they take at each.

use drawing::Scale;
use engine::plan::{Plan, SetUp};
use serde_json::{Value, json};

use crate::figures::Album;
use crate::setting::Room;

/// Between two pictures side by side, mm.
pub(crate) const BETWEEN_MM: f64 = 4.0;
/// Heights for the views of the chuck, as shares of the text's height, the roomiest first: with less room they say
/// less, at the same scale.
const HEIGHTS: [f64; 6] = [0.42, 0.37, 0.33, 0.3, 0.27, 0.24];
/// Widths for the view from the side, as shares of the text's width, the one that suits most jobs first.
const RIGHT_SHARES: [f64; 5] = [0.56, 0.6, 0.5, 0.65, 0.44];
/// Widths for the piece before and after, as shares of the text's width, the narrowest first: facts stand beside it.
const BEFORE_AFTER_SHARES: [f64; 5] = [0.32, 0.38, 0.45, 0.55, 0.68];
/// Most height of that picture, as a share of the text's height.
const BEFORE_AFTER_HEIGHT: f64 = 0.26;
/// A piece less wide than this on paper cannot be read, mm.
const READABLE_MM: f64 = 18.0;
/// Scales that are tried: a standard step halves the pictures, so that more would never be read.
const TRIED: usize = 4;

/// One scale for the two views of the chuck in every set-up, and one for the piece before and after: the same, or the
/// next smaller one of the series, since that picture takes the most paper and says the least.
pub(crate) struct OneScale {
    scale: Scale,
    before_after: Scale,
    rooms: Vec<Views>,
    before_after_mm: [f64; 2],
    /// Whether the piece comes out large enough to be read.
    pub readable: bool,
}

/// Room for the two views of the chuck.
struct Views {
    left_mm: f64,
    right_mm: f64,
    high_mm: f64,
}

/// The scales that fit the width of the paper, the largest first; the smallest of those that can be read stands among
/// them, and at least one.
pub(crate) fn scales(plan: &Plan, room: &Room) -> Vec<OneScale> {
    let Some(first) = plan.set_ups.first() else { return Vec::new() };
    let pairs = Scale::series().zip(Scale::series().skip(1));
    let pairs = pairs.flat_map(|(scale, smaller)| [(scale, scale), (scale, smaller)]);
    let fitting = pairs.map(|(scale, before_after)| OneScale::new(scale, before_after, plan, first, room));
    fitting.filter(|scale| !scale.rooms.is_empty()).take(TRIED).collect()
}

impl OneScale {
    /// The drawings choose one scale for all set-ups of a plan, so that one of them tells for all.
    fn new(scale: Scale, before_after: Scale, plan: &Plan, one: &SetUp, room: &Room) -> OneScale {
        let rooms_mm =
            BEFORE_AFTER_SHARES.map(|share| [room.width_mm() * share, room.height_mm() * BEFORE_AFTER_HEIGHT]);
        let reaches =
            |room_mm: &[f64; 2]| drawing::before_after_at_most(plan, one, *room_mm, before_after).scale == before_after;
        let before_after_mm = rooms_mm.into_iter().find(reaches);
        let rooms = HEIGHTS.iter().filter(|_| before_after_mm.is_some());
        let rooms = rooms.filter_map(|share| Views::reaching(scale, plan, one, room, share * room.height_mm()));
        let readable = widest_mm(plan) * scale.ratio() >= READABLE_MM;
        let before_after_mm = before_after_mm.unwrap_or_default();
        OneScale { scale, before_after, rooms: rooms.collect(), before_after_mm, readable }
    }

    /// Every way of showing a set-up at this scale, the roomiest first.
    pub fn pictures(&self, set_up: &SetUp, plan: &Plan, album: &mut Album) -> Value {
        let before_after = drawing::before_after_at_most(plan, set_up, self.before_after_mm, self.before_after);
        let before_after = album.take(&before_after);
        let ways = self.rooms.iter().map(|views| {
            let side = drawing::side_view_at_most(plan, set_up, [views.right_mm, views.high_mm], self.scale);
            let chuck = [views.left_mm, views.high_mm];
            json!({
                "left": views.left_mm,
                "right": views.right_mm,
                "chuck": album.take(&drawing::chuck_view_at_most(plan, set_up, chuck, self.scale)),
                "side": album.take(&side),
                "before_after": before_after,
            })
        });
        json!({ "readable": self.readable, "ways": ways.collect::<Vec<_>>() })
    }
}

impl Views {
    /// The first division of the width at which both views reach the scale in this height.
    fn reaching(scale: Scale, plan: &Plan, one: &SetUp, room: &Room, high_mm: f64) -> Option<Views> {
        let width_mm = room.width_mm() - BETWEEN_MM;
        let divided = RIGHT_SHARES.iter().map(|share| {
            let right_mm = width_mm * share;
            Views { left_mm: width_mm - right_mm, right_mm, high_mm }
        });
        let reaches = |views: &Views| {
            drawing::side_view_at_most(plan, one, [views.right_mm, high_mm], scale).scale == scale
                && drawing::chuck_view_at_most(plan, one, [views.left_mm, high_mm], scale).scale == scale
        };
        divided.into_iter().find(reaches)
    }
}

/// The greatest width of the part across the bar, mm.
fn widest_mm(plan: &Plan) -> f64 {
    plan.stock.least_round_mm.max(0.0)
}
