//! Zones on measured points, cones and slips against published data and closed forms.

use engine::accuracy::zone::*;
use engine::shape::{Point, Section};
use nalgebra::Vector3;

use crate::check::{Check, Near, row};

pub fn checks() -> Vec<Check> {
    [five_points(), grid(), cone_points(), perpendicular(), datums(), cones(), off_axis(), slips(), chips(), sizes()]
        .concat()
}

fn points(list: &[[f64; 3]]) -> Vec<Vector3<f64>> {
    list.iter().map(|&point| Vector3::from(point)).collect()
}

/// Slopes along x and y of a plane that is nearly level.
fn slopes(plane: Option<Plane>) -> [f64; 2] {
    plane.map_or([f64::NAN; 2], |plane| [-plane.normal.x / plane.normal.z, -plane.normal.y / plane.normal.z])
}

fn width(points: &[Vector3<f64>]) -> f64 {
    flatness(points).map_or(f64::NAN, |zone| zone.width_mm)
}

fn range_of_least_squares(points: &[Vector3<f64>]) -> f64 {
    least_squares(points).map_or(f64::NAN, |plane| plane.range_mm(points))
}

fn five_points() -> Vec<Check> {
    const SOURCE: &str = "five points from a public discussion of flatness (seen); answers by a general linear program";
    let five =
        points(&[[11.5, 7.0, 1.1], [18.5, 6.9, 1.03], [4.5, 13.0, 1.02], [25.5, 30.0, 1.03], [11.5, 37.5, 1.02]]);
    let strip = least_strip(&five);
    let [a, b] = strip.as_ref().map_or([f64::NAN; 2], |strip| strip.slopes);
    let upright = strip.map_or(f64::NAN, |strip| strip.width_mm);
    let [_, by_y] = slopes(least_squares(&five));
    vec![
        row(
            "Z-01",
            "five points: range about the plane of least squares",
            SOURCE,
            (0.0720973, range_of_least_squares(&five)),
            "mm",
            Near::Within(5.5e-8),
        ),
        row("Z-02", "its slope along y", SOURCE, (-1.254864e-3, by_y), "", Near::Within(1e-8)),
        row("Z-03", "minimum zone along z", SOURCE, (0.0672623, upright), "mm", Near::Within(5e-8)),
        row("Z-04", "minimum zone square to itself", SOURCE, (0.0672621, width(&five)), "mm", Near::Within(5e-8)),
        row("Z-05", "its slope along x", SOURCE, (-4.285714e-4, a), "", Near::Within(5e-11)),
        row("Z-06", "its slope along y", SOURCE, (-2.622951e-3, b), "", Near::Within(5e-10)),
    ]
}

fn grid() -> Vec<Check> {
    const SOURCE: &str = "nine heights 0 3 4 / 2 6 5 / 1 4 8 µm, pitch 25 mm; by a general linear program and by hand";
    let heights = [0.0, 3.0, 4.0, 2.0, 6.0, 5.0, 1.0, 4.0, 8.0];
    let nine: Vec<Vector3<f64>> = heights
        .iter()
        .enumerate()
        .map(|(at, height)| Vector3::new((at % 3) as f64 * 25.0, (at / 3) as f64 * 25.0, height * 1e-3))
        .collect();
    let [x, y] = slopes(least_squares(&nine));
    vec![
        row("Z-07", "3 by 3 grid: slope of least squares along x", SOURCE, (9.3333e-5, x), "", Near::Within(5e-10)),
        row("Z-08", "along y", SOURCE, (4.0e-5, y), "", Near::Within(5e-10)),
        row(
            "Z-09",
            "range about it",
            SOURCE,
            (3.666667, range_of_least_squares(&nine) * 1e3),
            "µm",
            Near::Within(5e-6),
        ),
        row("Z-10", "minimum zone", SOURCE, (3.5, width(&nine) * 1e3), "µm", Near::Within(5e-7)),
    ]
}

/// z = 1e-4 r on a 3 by 3 grid, pitch 25.
fn cone_grid() -> Vec<Vector3<f64>> {
    let places = (0..9).map(|at| (f64::from(at % 3 - 1) * 25.0, f64::from(at / 3 - 1) * 25.0));
    places.map(|(x, y)| Vector3::new(x, y, 1e-4 * f64::hypot(x, y))).collect()
}

fn cone_points() -> Vec<Check> {
    const SOURCE: &str = "closed form: slope x half side x root 2, symmetric, so both references agree";
    let nine = cone_grid();
    vec![
        row(
            "Z-11",
            "cone 1e-4 on a 50 mm square, nine points: minimum zone",
            SOURCE,
            (3.535534, width(&nine) * 1e3),
            "µm",
            Near::Within(5e-7),
        ),
        row(
            "Z-12",
            "range about the plane of least squares",
            SOURCE,
            (3.535534, range_of_least_squares(&nine) * 1e3),
            "µm",
            Near::Within(5e-7),
        ),
    ]
}

fn perpendicular() -> Vec<Check> {
    const SOURCE: &str = "four datum and five face points; zone by one-parameter search in a general library";
    let datum = points(&[[0.0, 0.0, 0.0], [50.0, 0.0, 0.004], [0.0, 50.0, -0.002], [50.0, 50.0, 0.002]]);
    let face =
        points(&[[0.0, 5.0, 5.0], [0.003, 45.0, 5.0], [0.010, 5.0, 45.0], [0.015, 45.0, 45.0], [0.006, 25.0, 25.0]]);
    let plane = datum_plane(&datum, &Vector3::z()).unwrap_or(Plane { normal: Vector3::z(), distance_mm: f64::NAN });
    let [x, y] = slopes(Some(plane));
    let zone = square_zone(&face, &plane.normal);
    // Counted from x as it lies in the datum plane.
    let x_there = (Vector3::x() - plane.normal * plane.normal.x).normalize();
    let y_there = plane.normal.cross(&x_there);
    let turn = zone.map_or(f64::NAN, |zone| zone.normal.dot(&y_there) / zone.normal.dot(&x_there));
    let leaning = least_squares(&face).map_or(Vector3::zeros(), |plane| plane.facing(&Vector3::x()).normal);
    let off = angle_off_rad(&leaning, &plane.normal, std::f64::consts::FRAC_PI_2);
    vec![
        row("Z-13", "datum plane's slope along x", SOURCE, (8e-5, x), "", Near::Within(1e-12)),
        row("Z-14", "datum plane's slope along y", SOURCE, (-4e-5, y), "", Near::Within(1e-12)),
        row(
            "Z-15",
            "perpendicularity zone",
            SOURCE,
            (0.0152001, zone.map_or(f64::NAN, |zone| zone.width_mm)),
            "mm",
            Near::Within(5.5e-8),
        ),
        row(
            "Z-16",
            "turn of that zone about the datum's normal",
            SOURCE,
            (-7.5003e-5, turn),
            "rad",
            Near::Within(2e-9),
        ),
        row(
            "Z-17",
            "angle of the faces by least squares, off 90 deg",
            SOURCE,
            (3.5500e-4, off.abs()),
            "rad",
            Near::Within(5e-9),
        ),
        row(
            "Z-18",
            "over 50 mm",
            SOURCE,
            (0.0177502, off_square_mm(&leaning, &plane.normal, 50.0)),
            "mm",
            Near::Within(5.5e-8),
        ),
    ]
}

fn datums() -> Vec<Check> {
    const SOURCE: &str = "ISO 5459, a plate outside the material; from memory, numbers in closed form";
    let hollow = cone_grid();
    let rim = datum_plane(&hollow, &Vector3::z());
    let crown: Vec<Vector3<f64>> = hollow.iter().map(|point| Vector3::new(point.x, point.y, -point.z)).collect();
    let top = datum_plane(&crown, &Vector3::z());
    let rocking = 1e-4 * 50.0 * 1e3;
    let leaning: Vec<Vector3<f64>> = crown.iter().map(|point| point + Vector3::z() * (1e-4 * point.x)).collect();
    let seen = Plane { normal: Vector3::z(), distance_mm: 0.0 };
    vec![
        row(
            "Z-19",
            "a plate on the hollow cone lies on its corners, above the middle",
            SOURCE,
            (3.535534, rim.map_or(f64::NAN, |plane| plane.distance_mm * 1e3)),
            "µm",
            Near::Within(5e-7),
        ),
        row(
            "Z-20",
            "a plate on the crowned one, balanced, touches the middle",
            SOURCE,
            (0.0, top.map_or(f64::NAN, |plane| plane.distance_mm * 1e3)),
            "µm",
            Near::Within(1e-9),
        ),
        row(
            "Z-21",
            "rocked onto its flank it is out of parallel over 50 mm by",
            "closed form: slope x length",
            (5.0, rocking),
            "µm",
            Near::Within(1e-9),
        ),
        row(
            "Z-22",
            "and the far corner then lies lower than the plate by",
            "closed form: slope x half side x (1 + root 2)",
            (6.035534, parallel_mm(&leaning, &seen) * 1e3),
            "µm",
            Near::Within(5e-7),
        ),
    ]
}

fn square(side: f64) -> Vec<Point> {
    let half = side / 2.0;
    [[-half, -half], [half, -half], [half, half], [-half, half]].map(|[x, y]| Point::new(x, y)).to_vec()
}

fn cone(side: f64, hollow: f64, off_mm: f64) -> Cone {
    Cone::new(&square(side), Point::new(-off_mm, 0.0), hollow).expect("a square has an area")
}

fn cones() -> Vec<Check> {
    const SOURCE: &str = "closed form, slope x half side x root 2: table of the research notes";
    let corner = |side: f64, hollow: f64| cone(side, hollow, 0.0).corner_heights_mm()[0] * 1e3;
    let flat = |side: f64, hollow: f64| cone(side, hollow, 0.0).flatness_mm() * 1e3;
    let (travel, disc) = (hollow_of_travel(0.02, 300.0), hollow_of_disc(0.02, 300.0));
    vec![
        row("Z-23", "0.02 over 300 of travel as a slope", SOURCE, (6.667e-5, travel), "", Near::Within(5e-9)),
        row("Z-24", "0.02 over a disc of 300 as a slope", SOURCE, (1.333e-4, disc), "", Near::Within(5e-8)),
        row(
            "Z-25",
            "corners of a 25 mm square, 0.01 over 300",
            SOURCE,
            (0.589, corner(25.0, 0.01 / 300.0)),
            "µm",
            Near::Within(0.0005),
        ),
        row(
            "Z-26",
            "corners of a 50 mm square, 0.02 over a disc of 300",
            SOURCE,
            (4.714, corner(50.0, disc)),
            "µm",
            Near::Within(0.0005),
        ),
        row("Z-27", "flatness of that face", SOURCE, (4.714, flat(50.0, disc)), "µm", Near::Within(0.0005)),
        row(
            "Z-28",
            "flatness of a 75 mm square, slope 2.5e-4",
            SOURCE,
            (13.258, flat(75.0, 2.5e-4)),
            "µm",
            Near::Within(0.0005),
        ),
        row(
            "Z-29",
            "flatness of a 100 mm square, slope 4.5e-4",
            SOURCE,
            (31.820, flat(100.0, 4.5e-4)),
            "µm",
            Near::Within(0.0005),
        ),
        row(
            "Z-30",
            "flatness of a crowned cone is the same",
            SOURCE,
            (31.820, flat(100.0, -4.5e-4)),
            "µm",
            Near::Within(0.0005),
        ),
    ]
}

fn off_axis() -> Vec<Check> {
    const SOURCE: &str = "tilt of a 50 mm square whose middle lies off the spindle axis; python apart from the program, one integral by hand";
    const SMALL: &str = "closed form for small offsets: (root 2 + ln(1 + root 2))/2 e/a";
    let tilt = |off: f64| cone(50.0, 1.0, off).mean_tilt()[0];
    let seat = cone(50.0, 1.0, 1e-3).seat_tilt()[0] / (1e-3 / 25.0);
    let disc: Vec<Point> =
        (0..2000).map(|at| engine::shape::direction(f64::from(at) * std::f64::consts::TAU / 2000.0) * 30.0).collect();
    let disc = Cone::new(&disc, Point::new(-1e-3, 0.0), 1.0).map_or(f64::NAN, |cone| cone.mean_tilt()[0]);
    vec![
        row("Z-31", "off by 1 mm, tilt over slope", SOURCE, (0.04588912, tilt(1.0)), "", Near::Within(5e-9)),
        row("Z-32", "off by 2 mm", SOURCE, (0.09164257, tilt(2.0)), "", Near::Within(5e-9)),
        row("Z-33", "off by 5 mm", SOURCE, (0.22674027, tilt(5.0)), "", Near::Within(5e-9)),
        row("Z-34", "off by 10 mm", SOURCE, (0.43681780, tilt(10.0)), "", Near::Within(5e-9)),
        row("Z-35", "off by 25 mm", SOURCE, (0.83382845, tilt(25.0)), "", Near::Within(5e-9)),
        row(
            "Z-36",
            "coefficient at small offsets",
            SMALL,
            (1.14779357, tilt(1e-4) / (1e-4 / 25.0)),
            "",
            Near::Within(1e-7),
        ),
        row(
            "Z-37",
            "tilt of the corners alone, over e/a",
            "closed form: 1/root 2",
            (std::f64::consts::FRAC_1_SQRT_2, seat),
            "",
            Near::Within(1e-7),
        ),
        row(
            "Z-38",
            "a disc of radius 30 instead, over 4 e/(3 R)",
            "closed form; a polygon of 2000 sides",
            (1.0, disc / (4e-3 / 90.0)),
            "",
            Near::Within(1e-5),
        ),
    ]
}

fn slips() -> Vec<Check> {
    const SOURCE: &str = "least-squares plane of A cos theta over a square: 1.14779 A/a, derived by hand";
    let over = |side: f64, phase: f64| {
        let [x, y] = slip_tilt(&square(side), Point::zeros(), 0.005, phase);
        x.hypot(y) * side
    };
    vec![
        row(
            "Z-39",
            "slip of 0.010 full movement, 50 mm square: out over its side",
            SOURCE,
            (0.0114779, over(50.0, 0.0)),
            "mm",
            Near::Within(5.5e-8),
        ),
        row("Z-40", "of a 100 mm square the same", SOURCE, (0.0114779, over(100.0, 0.0)), "mm", Near::Within(5.5e-8)),
        row(
            "Z-41",
            "towards a corner the same",
            SOURCE,
            (0.0114779, over(50.0, std::f64::consts::FRAC_PI_4)),
            "mm",
            Near::Within(5.5e-8),
        ),
        row(
            "Z-42",
            "slip of 0.005 full movement",
            "research notes, printed to 0.1 µm",
            (5.7, over(50.0, 1.0) / 2.0 * 1e3),
            "µm",
            Near::Within(0.05),
        ),
    ]
}

fn chips() -> Vec<Check> {
    const SOURCE: &str = "similar triangles, by hand";
    let chip = |thickness, base| over_mm(chip_tilt(thickness, base), 50.0);
    vec![
        row(
            "Z-43",
            "chip of 0.02 in a bite of 20, over 50 mm",
            SOURCE,
            (0.050, chip(0.02, 20.0)),
            "mm",
            Near::Within(1e-9),
        ),
        row("Z-44", "the same under a seat of 50", SOURCE, (0.020, chip(0.02, 50.0)), "mm", Near::Within(1e-9)),
        row("Z-45", "chip of 0.1 in a bite of 20", SOURCE, (0.25, chip(0.1, 20.0)), "mm", Near::Within(1e-9)),
    ]
}

fn sizes() -> Vec<Check> {
    const SOURCE: &str = "closed form: both faces hollow, 2 x slope x half side x root 2";
    let hollow = hollow_of_disc(0.02, 300.0);
    let pair = Pair { at_origin_mm: 36.0, slopes: [0.0; 2], hollow, axes: [Point::zeros(); 2] };
    let area = Section::rectangle(-25.0, 25.0, -25.0, 25.0);
    let (least, most) = sizes_mm(&pair, &area).unwrap_or((f64::NAN, f64::NAN));
    let beta = 2e-4;
    let taper = Pair { hollow: 0.0, slopes: [2.0 * beta, 0.0], ..pair };
    let (thin, thick) = sizes_mm(&taper, &area).unwrap_or((f64::NAN, f64::NAN));
    vec![
        row(
            "Z-46",
            "two hollow faces of 50 mm: micrometer at corners less at the middle",
            SOURCE,
            (9.43, (most - least) * 1e3),
            "µm",
            Near::Within(0.005),
        ),
        row(
            "Z-47",
            "two flats that both lean by 2e-4 the same way taper over 50 mm by",
            "closed form: 2 beta h",
            (0.020, thick - thin),
            "mm",
            Near::Within(1e-9),
        ),
    ]
}
