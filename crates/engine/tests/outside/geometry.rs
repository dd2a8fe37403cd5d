#![allow(clippy::approx_constant)] // values as printed

use std::f64::consts::{FRAC_PI_2, PI, SQRT_2};

use engine::job::BarForm;
use engine::part::Place;
use engine::quantity::{inch, mm};
use engine::shape::{Bar, Floor, Piece, Point, SecondMoments, Section, enclosing_circle};

use crate::check::{Check, Near};

const SEGMENT_TABLE: &str = "table of segments of circles for radius 1, Machinery's Handbook (from memory)";
const SECTION_TABLE: &str = "properties of sections, Machinery's Handbook and Roark's tables (from memory)";
const POLYGON_TABLE: &str = "regular polygons and inscribed squares, Machinery's Handbook (from memory)";
const SHARE_TABLE: &str = "closed form 1 - (4/pi) acos(a/(2 rho)), tabled to three places apart from the program";
const HUB: &str = "worked by hand apart from the program: hexagon 1.125 in from a bar 1.375 in, 1.860 in long; a / cos 30, a tan 30, Pythagoras";
const CLAMP: &str =
    "worked by hand apart from the program: square base of 48 mm, spindle axis 6.5 mm off its middle; Pythagoras";
const SCHOOL: &str = "worked example of a school mathematics page, 'Circular Sections': chord 21, height 6 (seen)";
const SCRAP: &str = "machinists' forum thread on a square block from round bar of 0.984 in (seen)";

pub fn checks() -> Vec<Check> {
    [segments(), moments(), polygons(), shares(), practice(), circles()].concat()
}

fn check(
    id: &'static str,
    what: &'static str,
    source: &'static str,
    theirs: f64,
    ours: f64,
    unit: &'static str,
    within: f64,
) -> Check {
    Check { id, what, source, theirs, ours, unit, near: Near::Within(within) }
}

/// Height, chord and area of the segment with that angle at the centre, radius 1, cut in some direction.
fn segment(degrees: f64) -> (f64, f64, f64) {
    let (round, towards, h) = (Section::round(1.0), 0.4, (degrees.to_radians() / 2.0).cos());
    let chord = round.chord(towards, h).map_or(f64::NAN, |(from, to)| to - from);
    let cap = round.clip(towards + PI, -h);
    (round.extent_mm(towards) + cap.extent_mm(towards + PI), chord, round.strip_area(towards, h, 2.0))
}

fn segments() -> Vec<Check> {
    let row =
        |id: &'static str, what: &'static str, theirs, ours| check(id, what, SEGMENT_TABLE, theirs, ours, "", 5e-5);
    let (thirty, forty_five, sixty) = (segment(30.0), segment(45.0), segment(60.0));
    let (ninety, hundred_twenty, hundred_fifty) = (segment(90.0), segment(120.0), segment(150.0));
    let school = Section::round(12.1875);
    let cap = school.clip(-FRAC_PI_2, -6.1875);
    let chord = school.chord(FRAC_PI_2, 6.1875).map_or(f64::NAN, |(from, to)| to - from);
    vec![
        row("G-01", "height of the 30 deg segment", 0.0341, thirty.0),
        row("G-02", "chord of the 30 deg segment", 0.5176, thirty.1),
        row("G-03", "area of the 30 deg segment", 0.0118, thirty.2),
        row("G-04", "height of the 45 deg segment", 0.0761, forty_five.0),
        row("G-05", "chord of the 45 deg segment", 0.7654, forty_five.1),
        row("G-06", "area of the 45 deg segment", 0.0391, forty_five.2),
        row("G-07", "height of the 60 deg segment", 0.1340, sixty.0),
        row("G-08", "area of the 60 deg segment", 0.0906, sixty.2),
        row("G-09", "height of the 90 deg segment", 0.2929, ninety.0),
        row("G-10", "chord of the 90 deg segment", 1.4142, ninety.1),
        row("G-11", "area of the 90 deg segment", 0.2854, ninety.2),
        row("G-12", "chord of the 120 deg segment", 1.7321, hundred_twenty.1),
        row("G-13", "area of the 120 deg segment", 0.6142, hundred_twenty.2),
        row("G-14", "chord of the 150 deg segment", 1.9319, hundred_fifty.1),
        row("G-15", "area of the 150 deg segment", 1.0590, hundred_fifty.2),
        check("G-16", "chord at 6.1875 of a round of radius 12.1875", SCHOOL, 21.0, chord, "mm", 5e-8),
        check("G-17", "area of that segment", SCHOOL, 89.254148, cap.area(), "mm2", 5e-7),
        check("G-18", "arc of that segment", SCHOOL, 25.308373, cap.perimeter_mm() - chord, "mm", 5e-7),
    ]
}

fn moments() -> Vec<Check> {
    let row = |id: &'static str, what: &'static str, theirs, ours, within| {
        check(id, what, SECTION_TABLE, theirs, ours, "", within)
    };
    let half = Section::round(1.0).clip(-FRAC_PI_2, 0.0);
    let quarter = half.clip(PI, 0.0);
    let hexagon = regular(6);
    let triangle = Section::polygon(&[Point::new(0.0, 0.0), Point::new(1.0, 0.0), Point::new(0.5, 0.75_f64.sqrt())]);
    let segment = Section::round(1.0).clip(PI, -0.5);
    let (of_half, of_quarter): (SecondMoments, SecondMoments) = (half.second_moments(), quarter.second_moments());
    let high = |section: &Section| section.centroid().map_or(f64::NAN, |centre| centre.y);
    vec![
        row("G-19", "centroid of a half round, 4 r / (3 pi), r = 1", 0.4244, high(&half), 5e-5),
        row("G-20", "second moment of a half round about its own axis, 0.1098 r^4", 0.1098, of_half.about_x_mm4, 5e-5),
        row("G-21", "second moment of a half round across, pi r^4 / 8", 0.3927, of_half.about_y_mm4, 5e-5),
        row(
            "G-22",
            "second moment of a quarter round about its centroid, 0.0549 r^4",
            0.0549,
            of_quarter.about_x_mm4,
            5e-5,
        ),
        row(
            "G-23",
            "product of a quarter round about its centroid, -0.0165 r^4",
            -0.0165,
            of_quarter.product_mm4,
            5e-5,
        ),
        row(
            "G-24",
            "second moment of a hexagon, 0.0601 across flats^4",
            0.0601,
            hexagon.second_moments().about_x_mm4,
            5e-5,
        ),
        row(
            "G-25",
            "second moment of a hexagon is the same about any axis",
            0.0601,
            hexagon.turned(0.3).second_moments().about_y_mm4,
            5e-5,
        ),
        row(
            "G-26",
            "second moment of an octagon, 0.0547 across flats^4",
            0.0547,
            regular(8).second_moments().about_x_mm4,
            5e-5,
        ),
        row(
            "G-27",
            "second moment of an equilateral triangle, 0.0180 side^4",
            0.0180,
            triangle.second_moments().about_x_mm4,
            5e-5,
        ),
        row(
            "G-28",
            "second moment of a rectangle 3 by 2, b h^3 / 12",
            2.0,
            Section::rectangle(4.0, 7.0, -9.0, -7.0).second_moments().about_x_mm4,
            1e-12,
        ),
        check(
            "G-29",
            "centroid of a segment beyond half the radius, chord^3 / (12 A)",
            "closed form, textbook: A = pi/3 - sqrt(3)/4",
            3f64.powf(1.5) / (12.0 * (PI / 3.0 - 3f64.sqrt() / 4.0)),
            segment.centroid().map_or(f64::NAN, |centre| centre.x),
            "",
            1e-12,
        ),
    ]
}

/// Regular polygon, 1 across flats, a flat facing x.
fn regular(sides: u32) -> Section {
    let each: Vec<(f64, f64)> = (0..sides).map(|i| (2.0 * PI * f64::from(i) / f64::from(sides), 0.5)).collect();
    Section::from_sides(&each).unwrap_or_default()
}

/// Across flats of the largest regular polygon in a round of diameter 1.
fn largest_in_round(sides: u32) -> f64 {
    let at = |i: u32| 2.0 * PI * f64::from(i) / f64::from(sides);
    let corners: Vec<Point> = (0..sides).map(|i| Point::new(at(i).cos(), at(i).sin()) * 0.5).collect();
    2.0 * Section::polygon(&corners).extent_mm(at(1) / 2.0)
}

fn polygons() -> Vec<Check> {
    let row = |id: &'static str, what: &'static str, theirs, ours, within| {
        check(id, what, POLYGON_TABLE, theirs, ours, "", within)
    };
    let corners = |sides| regular(sides).enclosing_circle().map_or(f64::NAN, |circle| 2.0 * circle.radius_mm);
    vec![
        row("G-30", "largest square in a round, 0.7071 D", 0.7071, largest_in_round(4), 5e-5),
        row("G-31", "largest hexagon in a round, 0.8660 D", 0.8660, largest_in_round(6), 5e-5),
        row("G-32", "square across corners, 1.4142 across flats", 1.4142, corners(4), 5e-5),
        row("G-33", "hexagon across corners, 1.1547 across flats", 1.1547, corners(6), 5e-5),
        row("G-34", "octagon across corners, 1.0824 across flats", 1.0824, corners(8), 5e-5),
        row("G-35", "area of a hexagon, 0.8660 across flats^2", 0.8660, regular(6).area(), 5e-5),
        row("G-36", "area of an octagon, 0.8284 across flats^2", 0.8284, regular(8).area(), 5e-5),
    ]
}

fn shares() -> Vec<Check> {
    let square = Floor::new(Section::rectangle(-0.5, 0.5, -0.5, 0.5));
    let at = |radius: f64| square.share_at(radius).share;
    let row = |id: &'static str, what: &'static str, theirs, ours| check(id, what, SHARE_TABLE, theirs, ours, "", 5e-4);
    let swept = PI * square.start_radius_mm.powi(2);
    let oblong = Section::rectangle(-30.0, 30.0, -20.0, 20.0).share_inside(Point::zeros(), 32.0);
    let rectangle_form = 1.0 - 2.0 / PI * ((30.0_f64 / 32.0).acos() + (20.0_f64 / 32.0).acos());
    let vesica = Section::round(1.0).share_inside(Point::new(1.0, 0.0), 1.0);
    let rim = Floor::about(&Section::round(20.0), Point::new(0.0, 20.0));
    let mean_form = 2.0 * SQRT_2 * (1.0 + SQRT_2).ln() / PI;
    vec![
        row("G-37", "share in the metal, square a, circle of 0.50 a", 1.0, at(0.50)),
        row("G-38", "share in the metal, square a, circle of 0.52 a", 0.646, at(0.52)),
        row("G-39", "share in the metal, square a, circle of 0.55 a", 0.453, at(0.55)),
        row("G-40", "share in the metal, square a, circle of 0.60 a", 0.254, at(0.60)),
        row("G-41", "share in the metal, square a, circle of 0.65 a", 0.117, at(0.65)),
        row("G-42", "share in the metal, square a, circle of 0.70 a", 0.013, at(0.70)),
        row("G-43", "share in the metal, square a, circle through the corners", 0.0, at(SQRT_2 / 2.0)),
        row("G-44", "mean share over a pass, square, corner to centre", 0.794, square.mean_share()),
        check(
            "G-45",
            "the same mean, to twelve places",
            "closed form 2 sqrt(2) ln(1 + sqrt(2)) / pi, integrated by hand",
            mean_form,
            square.mean_share(),
            "",
            1e-12,
        ),
        check(
            "G-46",
            "floor of a square over the circle swept, 2 / pi",
            "closed form",
            2.0 / PI,
            square.area_mm2() / swept,
            "",
            1e-12,
        ),
        check(
            "G-47",
            "entries in a turn, square bar past its flats",
            "four corners strike in a turn: four times the speed in hits a minute (common practice)",
            4.0,
            f64::from(square.most_entries()),
            "",
            0.0,
        ),
        check(
            "G-48",
            "share in the metal, rectangle 60 by 40, circle of 32",
            "closed form 1 - (2/pi)(acos(a/2rho) + acos(b/2rho))",
            rectangle_form,
            oblong.share,
            "",
            1e-12,
        ),
        check(
            "G-49",
            "two equal circles through each other's centres: a third of each lies in the other",
            "Euclid, Elements I.1 (the equilateral triangle)",
            1.0 / 3.0,
            vesica.share,
            "",
            1e-12,
        ),
        check(
            "G-67",
            "mean share of a round face whose edge passes through the spindle axis",
            "closed form: (1/pi) times the integral of acos u from 0 to 1, which is 1",
            1.0 / PI,
            rim.mean_share(),
            "",
            1e-9,
        ),
    ]
}

fn practice() -> Vec<Check> {
    let hub = Bar::from(&BarForm::Hexagon { across: inch(1.125) });
    let bar = Bar::from(&BarForm::Round { diameter: inch(1.375) }).piece(inches(1.860));
    let flat = hub.section.chord(0.0, inches(1.125) / 2.0).map_or(f64::NAN, |(from, to)| (to - from) / 25.4);
    let lying = bar.floor(Place::Side(0.0), 0.0, Point::zeros());
    let to_come_off = bar.reach_mm(Place::Side(0.0)) - hub.section.extent_mm(0.0);
    let clamp = Piece::new(Section::rectangle(-24.0, 24.0, -24.0, 24.0), -21.0, 21.0);
    let offset = clamp.floor(Place::Front, 21.0, Point::new(6.5, 0.0));
    let scrap = largest_in_round(4) * 0.984;
    vec![
        check(
            "G-50",
            "across corners of the hexagon",
            HUB,
            1.2990,
            2.0 * hub.circumscribed_radius_mm / 25.4,
            "in",
            5e-5,
        ),
        check("G-51", "width of one flat", HUB, 0.6495, flat, "in", 5e-5),
        check("G-52", "to come off each flat", HUB, 0.125, to_come_off / 25.4, "in", 1e-9),
        check(
            "G-53",
            "swing of the bar, 1.860 long, lying across",
            HUB,
            2.313,
            2.0 * lying.start_radius_mm / 25.4,
            "in",
            5e-4,
        ),
        check("G-54", "largest hexagon that a 1.250 bar gives", HUB, 1.0825, 1.25 * largest_in_round(6), "in", 5e-5),
        check("G-55", "largest hexagon that a 1.300 bar gives", HUB, 1.1258, 1.3 * largest_in_round(6), "in", 5e-5),
        check("G-56", "farthest corner from the axis", CLAMP, 38.8, offset.start_radius_mm, "mm", 0.05),
        check("G-57", "swing", CLAMP, 77.6, 2.0 * offset.start_radius_mm, "mm", 0.05),
        check("G-58", "mass of the base, 42 long, grey iron 7.2", CLAMP, 0.70, clamp.mass_kg(7200.0), "kg", 5e-3),
        check("G-59", "side of the square", SCRAP, 0.696, scrap, "in", 5e-4),
        check("G-60", "depth of each face", SCRAP, 0.144, (0.984 - scrap) / 2.0, "in", 5e-4),
    ]
}

fn inches(value: f64) -> f64 {
    use engine::quantity::Plain;
    mm(25.4 * value).plain()
}

fn circles() -> Vec<Check> {
    let wiki = "public programming-task collection, smallest enclosing circle, second example (from memory, checked by hand: four points at 5 from (1, 1))";
    let radius = |points: &[(f64, f64)]| {
        let points: Vec<Point> = points.iter().map(|&(x, y)| Point::new(x, y)).collect();
        enclosing_circle(&points).map_or((f64::NAN, f64::NAN), |circle| (circle.radius_mm, circle.centre.x))
    };
    let five = radius(&[(5.0, -2.0), (-3.0, -2.0), (-2.0, 5.0), (1.0, 6.0), (0.0, 2.0)]);
    vec![
        check("G-61", "smallest circle of (5,-2) (-3,-2) (-2,5) (1,6) (0,2): radius", wiki, 5.0, five.0, "", 1e-12),
        check("G-62", "the same: x of its centre", wiki, 1.0, five.1, "", 1e-12),
        check(
            "G-63",
            "smallest circle of the triangle 13, 14, 15: R = abc / (4 area) = 65/8",
            "closed form; Heron's triangle",
            8.125,
            radius(&[(0.0, 0.0), (14.0, 0.0), (5.0, 12.0)]).0,
            "",
            1e-12,
        ),
        check(
            "G-64",
            "smallest circle of the right triangle 3, 4, 5: half the longest side",
            "Thales' theorem, Euclid III.31",
            2.5,
            radius(&[(0.0, 0.0), (3.0, 0.0), (0.0, 4.0)]).0,
            "",
            1e-12,
        ),
        check(
            "G-65",
            "smallest circle of an obtuse triangle: half the longest side",
            "closed form: the third corner lies inside",
            5.0,
            radius(&[(-5.0, 0.0), (5.0, 0.0), (1.0, 2.0)]).0,
            "",
            1e-12,
        ),
        check(
            "G-66",
            "three points in a line: half the distance of the outer two",
            "closed form",
            1.0,
            radius(&[(0.0, 0.0), (-1.0, 0.0), (1.0, 0.0)]).0,
            "",
            1e-12,
        ),
    ]
}
