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
/// Scales of the two views that are tried: a standard step halves the pictures, so that more would never be read.
const TRIED: usize = 3;

/// One scale for the two views of the chuck in every set-up, and some for the piece before and after: the same, the next
/// smaller one of the series, or between, since that picture takes the most paper and nothing is measured in it.
pub(crate) struct OneScale {
    scale: Scale,
    rooms: Vec<Views>,
    before_after: Vec<([f64; 2], Scale)>,
    /// Whether the piece comes out large enough to be read.
    readable: bool,
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
    let all = Scale::series().map(|scale| OneScale::new(scale, plan, first, room));
    let fitting = all.filter(|scale| !scale.rooms.is_empty() && !scale.before_after.is_empty());
    let tried = fitting.take(TRIED).enumerate();
    tried.take_while(|(at, scale)| *at == 0 || scale.readable).map(|(_, scale)| scale).collect()
}

impl OneScale {
    /// The drawings choose one scale for all set-ups of a plan, so that one of them tells for all.
    fn new(scale: Scale, plan: &Plan, one: &SetUp, room: &Room) -> OneScale {
        let rooms_mm =
            BEFORE_AFTER_SHARES.map(|share| [room.width_mm() * share, room.height_mm() * BEFORE_AFTER_HEIGHT]);
        let reaching = |wanted: Scale| {
            let reaches =
                |room_mm: &[f64; 2]| drawing::before_after_at_most(plan, one, *room_mm, wanted).scale == wanted;
            rooms_mm.into_iter().find(reaches).map(|room_mm| (room_mm, wanted))
        };
        let before_after: Vec<_> = scale.down_to_next().into_iter().filter_map(reaching).collect();
        let rooms = HEIGHTS.iter().filter(|_| !before_after.is_empty());
        let rooms = rooms.filter_map(|share| Views::reaching(scale, plan, one, room, share * room.height_mm()));
        let readable = widest_mm(plan) * scale.ratio() >= READABLE_MM;
        OneScale { scale, rooms: rooms.collect(), before_after, readable }
    }

    /// Every way of showing a set-up at this scale, the roomiest first, for each scale of the piece before and after.
    pub fn pictures(&self, set_up: &SetUp, plan: &Plan, album: &mut Album) -> Vec<Value> {
        let views = self.rooms.iter().map(|views| {
            let side = drawing::side_view_at_most(plan, set_up, [views.right_mm, views.high_mm], self.scale);
            let chuck = [views.left_mm, views.high_mm];
            json!({
                "left": views.left_mm,
                "right": views.right_mm,
                "chuck": album.take(&drawing::chuck_view_at_most(plan, set_up, chuck, self.scale)),
                "side": album.take(&side),
            })
        });
        let views: Vec<Value> = views.collect();
        let with = |&(room_mm, scale): &([f64; 2], Scale)| {
            let figure = album.take(&drawing::before_after_at_most(plan, set_up, room_mm, scale));
            json!({ "readable": self.readable, "ways": views, "before_after": figure })
        };
        self.before_after.iter().map(with).collect()
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
