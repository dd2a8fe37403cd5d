//! Numbers behind the planner's rules, read once from the table of defaults.

use super::defaults::number;

/// Numbers behind the rules.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rules {
    /// Tool starts this far outside the farthest corner, mm.
    pub approach_mm: f64,
    /// Least skin off a sawn end, mm.
    pub clean_up_mm: f64,
    /// Cut plane above the jaw fronts, mm.
    pub clearance_mm: f64,
    /// Further margin of the stick-out, mm.
    pub margin_mm: f64,
    /// Finishing cut, mm.
    pub finishing_cut_mm: f64,
    /// Feed of a finishing cut where the drawing asks for no roughness, mm per revolution.
    pub finish_feed_mm: f64,
    /// Coarsest feed of a finishing cut, mm per revolution.
    pub coarsest_finish_feed_mm: f64,
    /// Share of the counted force that the jaws' turning may take.
    pub grip_lost_share: f64,
    /// What the classical hand checks must carry of a cut.
    pub hand_check: f64,
    /// Hand feed when roughing, mm per revolution.
    pub hand_feed_rough_mm: f64,
    /// Share of the tool's coarsest feed that an interrupted rough cut takes.
    pub interrupted_feed_share: f64,
    /// No bite under this, mm.
    pub least_bite_mm: f64,
    /// No work rests on less of a jaw's ledge, in from its edge, mm.
    pub least_on_ledge_mm: f64,
    /// No flank of a vee bears on less of a flat, mm.
    pub least_on_flank_mm: f64,
    /// Metal behind the groove of a vee that a plan advises, mm.
    pub advised_behind_groove_mm: f64,
    /// Modulus of a vee, MPa.
    pub vee_modulus_mpa: f64,
    /// Nor under this share of the gripped size ...
    pub least_bite_of_size: f64,
    /// ... or this share of the length along the spindle, whichever is less.
    pub least_bite_of_length: f64,
    /// Jaws reach beyond the widest line by this, mm.
    pub past_widest_mm: f64,
    /// No rough cut is deeper than so many times its feed, but to get under a skin.
    pub most_depth_over_feed: f64,
    /// For a rough cut deeper than so many times its feed no coarser feed is given up.
    pub usual_depth_over_feed: f64,
    /// A rough cut whose depth machine or grip hold below so many times its feed is better fed finer.
    pub least_depth_over_feed: f64,
    /// Share of the mark of a chuck with independent jaws for interrupted cuts and work off its axis.
    pub independent_speed_share: f64,
    /// From this far of its middle of mass off the spindle axis a piece is told as out of balance, mm.
    pub off_axis_mm: f64,
    /// No more stands out than so many times the gripped size.
    pub overhang: f64,
    /// Free ring round a bar that goes into the hole of the chuck, mm.
    pub hole_room_mm: f64,
    /// Share of the room of the finished corners in the bar that the first face of a pair may use.
    pub first_face_share: f64,
    /// How far off the depth may come out that is set in the jaws by hand, mm.
    pub set_by_hand_mm: f64,
    /// Stick-out to spare at both ends of its window where a packing leaves it; less is told at the check.
    pub spare_stick_out_mm: f64,
    /// Play of a parallel between the jaws, mm.
    pub parallels_play_mm: f64,
    /// Modulus of soft packing, MPa.
    pub packing_modulus_mpa: f64,
    /// Usual thickness of soft packing, mm.
    pub packing_thickness_mm: f64,
    /// Peak power over the motor's for a part of a turn.
    pub peak_over_motor: f64,
    /// A gauge reads to this share of the band.
    pub reading_share: f64,
    /// What is seated rests this far beyond the hole in the chuck face, mm.
    pub seat_beyond_hole_mm: f64,
    /// A jaw that need move less than this is left alone, mm.
    pub jaw_stands_mm: f64,
    /// Minutes of cuts within this share count as equal.
    pub like_cutting_minutes: f64,
    /// Minutes of plans within this share count as equal.
    pub like_plan_minutes: f64,
    /// Limits no wider than so many marks are not met by dial numbers alone.
    pub trusted_marks: f64,
    /// First cut under a skin, mm.
    pub under_skin_mm: f64,
}

impl Rules {
    /// Reads them from the table.
    pub fn from_table() -> Self {
        Rules {
            approach_mm: number("approach"),
            clean_up_mm: number("clean-up of a sawn end"),
            clearance_mm: number("clearance of tool and jaws"),
            margin_mm: number("margin of stick-out"),
            finishing_cut_mm: number("finishing cut"),
            finish_feed_mm: number("finishing feed"),
            coarsest_finish_feed_mm: number("finishing feed, coarsest"),
            grip_lost_share: number("grip lost to turning"),
            hand_check: number("hand check"),
            hand_feed_rough_mm: number("hand feed, rough"),
            interrupted_feed_share: number("interrupted feed share"),
            least_bite_mm: number("least bite"),
            least_on_ledge_mm: number("least on a ledge"),
            least_on_flank_mm: number("least on a vee's flank"),
            advised_behind_groove_mm: number("advised vee, behind the groove"),
            vee_modulus_mpa: number("vee modulus"),
            least_bite_of_size: number("least bite, share of gripped size"),
            least_bite_of_length: number("least bite, share of length"),
            past_widest_mm: number("past the widest line"),
            most_depth_over_feed: number("most depth over feed"),
            usual_depth_over_feed: number("usual depth over feed"),
            least_depth_over_feed: number("least depth over feed"),
            independent_speed_share: number("speed share, independent jaws"),
            off_axis_mm: number("off the axis"),
            overhang: number("overhang"),
            hole_room_mm: number("room in the hole"),
            first_face_share: number("first face, share of the room"),
            set_by_hand_mm: number("set by hand"),
            spare_stick_out_mm: number("spare stick-out"),
            parallels_play_mm: number("play of parallels"),
            packing_modulus_mpa: number("packing modulus"),
            packing_thickness_mm: number("packing thickness"),
            peak_over_motor: number("peak over motor power"),
            reading_share: number("reading share of the band"),
            seat_beyond_hole_mm: number("seat beyond the hole"),
            jaw_stands_mm: number("jaw stands"),
            like_cutting_minutes: number("like minutes, cuts"),
            like_plan_minutes: number("like minutes, plans"),
            trusted_marks: number("trusted marks"),
            under_skin_mm: number("under the skin"),
        }
    }
}
