//! The second shop against closed forms, before anything is compared with it. "Closed form" here: worked out on paper
//! or with a general library apart from any program of this repository.

use super::bench::{Chuck, Step, block, square_bar, wants};
use super::contact::{Clamped, Pose, Spring, Touch, turn_vector};
use super::dice::Dice;
use super::inspect::{angle_about, measure};
use super::jaw::{Height, Pad};
use super::make::{Method, make};
use super::noise::{Noises, Throw};
use super::recipe::{On, Recipe, Want};
use super::solid::{Face, Solid, V3, Which};

/// Side of the cube in the closed forms, mm.
const SIDE: f64 = 50.0;

fn chuck() -> Chuck {
    Chuck { width: 24.0, length: 60.0, jaw: 60e3, seat: 600e3, tap: 2000.0, clamp: 8000.0 }
}

/// A cube from a square bar, only the named pad of each set-up leading: every other jaw bears on a point.
fn led(steps: &[(Step, Option<usize>)], wants: Vec<Want>) -> Recipe {
    let plain: Vec<Step> = steps.iter().map(|(step, _)| *step).collect();
    let mut recipe = block(square_bar([SIDE; 3]), [SIDE; 3], &plain, &chuck(), wants);
    for (set_up, (_, leads)) in recipe.set_ups.iter_mut().zip(steps) {
        for (jaw, hold) in set_up.jaws.iter_mut().enumerate() {
            let Some(hold) = hold else { continue };
            if Some(jaw) != *leads {
                // A rod between the jaw and the work, at half the bite.
                hold.across = [0.0, 0.0];
                hold.along = [(hold.along[0] + hold.along[1]) / 2.0; 2];
            }
        }
    }
    recipe
}

/// The jaw on which a finished face lies in a set-up of a face.
fn jaw_with(recipe: &Recipe, set_up: usize, face: usize) -> Option<usize> {
    recipe.set_ups[set_up].jaws.iter().position(|hold| hold.as_ref().is_some_and(|hold| hold.on == On::Face(face)))
}

/// Steps such that the face named second is on jaw 1.
fn on_first_jaw(made: &[usize], cut: usize, face: usize) -> (Step, Option<usize>) {
    for turn in 0..4 {
        let steps: Vec<Step> = made.iter().map(|&cut| Step::cut(cut)).chain([Step::cut(cut).turned(turn)]).collect();
        let recipe = block(square_bar([SIDE; 3]), [SIDE; 3], &steps, &chuck(), Vec::new());
        if jaw_with(&recipe, made.len(), face) == Some(0) {
            return (Step::cut(cut).turned(turn), Some(0));
        }
    }
    panic!("face {face} is not beside face {cut}");
}

/// Measured zones of a want over pieces, mm.
fn zones(recipe: &Recipe, noises: &Noises, seed: u64, pieces: usize) -> Vec<Vec<f64>> {
    let mut dice = Dice::new(seed);
    let mut all = vec![Vec::new(); recipe.wants.len()];
    for _ in 0..pieces {
        let made = make(recipe, &noises.throw(recipe, &mut dice), Method::Real).expect("a piece");
        for (want, zones) in recipe.wants.iter().zip(&mut all) {
            zones.push(measure(&made.solid, want, false).expect("its faces").most);
        }
    }
    all
}

fn root_mean_square(values: &[f64]) -> f64 {
    (values.iter().map(|value| value * value).sum::<f64>() / values.len() as f64).sqrt()
}

fn at_share(values: &[f64], share: f64) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted[(share * sorted.len() as f64) as usize]
}

/// Jaw squareness and seats, mm.
fn tilts() -> Noises {
    let jaw = [2e-4, 0.0, 0.0, 0.0];
    Noises { known_tilt: jaw, regrip_tilt: 3e-4, seat_regrip: 1e-4, ..Noises::default() }
}

const PIECES: usize = 3000;

#[test]
fn a_block_made_on_its_seat_is_out_as_the_closed_forms_say() {
    // Jaw bias b, jaw scatter s, seat scatter σ, side L: square 2-1 L √(b²+s²), square 4-3 L √(b²+s²+2σ²), parallel 2-3
    // over both axes: mean 2 L σ √(2/π).
    let seated = |cut| (Step::cut(cut).seated(), None);
    let steps = [(Step::cut(0), None), on_first_jaw(&[0], 2, 0), seated(4), seated(1)];
    let within = 1.0;
    let asked = vec![
        Want::Square { face: 2, datum: 0, within },
        Want::Square { face: 1, datum: 4, within },
        Want::Parallel { face: 4, datum: 2, within },
    ];
    let seen = zones(&led(&steps, asked), &tilts(), 11, PIECES);
    // Four standard errors of a root mean square, of a mean and (by the density there) of a quantile.
    let near = |ours: f64, theirs: f64| (ours - theirs).abs() < 4.0 * theirs / (2.0 * PIECES as f64).sqrt();
    assert!(near(root_mean_square(&seen[0]), 0.018_027_756), "{}", root_mean_square(&seen[0]));
    assert!(near(root_mean_square(&seen[1]), 0.019_364_917), "{}", root_mean_square(&seen[1]));
    let mean = seen[2].iter().sum::<f64>() / PIECES as f64;
    assert!(near(mean, 0.007_978_846), "{mean}");
    // Quantiles by 400 000 throws of the closed form.
    assert!((at_share(&seen[0], 0.95) - 0.034_75).abs() < 0.002, "{}", at_share(&seen[0], 0.95));
    assert!((at_share(&seen[2], 0.95) - 0.015_81).abs() < 0.001, "{}", at_share(&seen[2], 0.95));
}

#[test]
fn going_round_a_block_on_one_jaw_adds_its_bias_up() {
    // Third to first: L √(4b²+2s²); the closing corner: L √(9b²+3s²).
    let steps =
        [(Step::cut(0), None), on_first_jaw(&[0], 2, 0), on_first_jaw(&[0, 2], 1, 2), on_first_jaw(&[0, 2, 1], 4, 1)];
    let within = 1.0;
    let asked = vec![Want::Parallel { face: 1, datum: 0, within }, Want::Square { face: 4, datum: 0, within }];
    let seen = zones(&led(&steps, asked), &tilts(), 12, PIECES);
    let near = |ours: f64, theirs: f64| (ours - theirs).abs() < 4.0 * theirs / (2.0 * PIECES as f64).sqrt();
    assert!(near(root_mean_square(&seen[0]), 0.029_154_759), "{}", root_mean_square(&seen[0]));
    assert!(near(root_mean_square(&seen[1]), 0.039_686_270), "{}", root_mean_square(&seen[1]));
    assert!((at_share(&seen[1], 0.95) - 0.072_72).abs() < 0.004, "{}", at_share(&seen[1], 0.95));
}

/// A throw without errors.
fn clean(recipe: &Recipe) -> Throw {
    Noises::default().throw(recipe, &mut Dice::new(1))
}

#[test]
fn two_faces_cut_on_the_same_jaw_taper_by_twice_its_tilt() {
    // Squareness with nothing but a micrometer: taper 2 β h, β 2e-4, h 50: 0.020.
    let steps = [(Step::cut(0), None), on_first_jaw(&[0], 2, 0), on_first_jaw(&[0, 2], 4, 0), (Step::cut(1), None)];
    let size = Want::Size { one: 2, other: 4, least: SIDE - 1.0, most: SIDE + 1.0 };
    let recipe = led(&steps, vec![size]);
    let mut throw = clean(&recipe);
    throw.jaw[0][0] = 2e-4;
    let made = make(&recipe, &throw, Method::Real).expect("a piece");
    let measured = measure(&made.solid, &size, false).expect("both faces");
    assert!((measured.most - measured.least - 0.020).abs() < 2e-6, "{measured:?}");
    assert!((measured.most + measured.least - 2.0 * SIDE).abs() < 1e-6, "true in the middle: {measured:?}");
}

#[test]
fn a_chip_in_a_short_jaw_is_magnified_by_the_length_of_the_flat() {
    // Chip 0.02 at the edge of a bite of 20, side 50: 0.050.
    let steps = [(Step::cut(0), None), on_first_jaw(&[0], 2, 0), (Step::cut(1), None)];
    let want = Want::Square { face: 2, datum: 0, within: 1.0 };
    let mut recipe = led(&steps, vec![want]);
    let hold = recipe.set_ups[1].jaws[0].as_mut().expect("a jaw");
    hold.along = [-20.0, 0.0];
    for other in [1, 2, 3] {
        recipe.set_ups[1].jaws[other].as_mut().expect("a jaw").along = [-10.0, -10.0];
    }
    let mut throw = clean(&recipe);
    throw.fresh[1].dirt[0] = [0.0, 0.0, 0.02, 0.02];
    let made = make(&recipe, &throw, Method::Real).expect("a piece");
    let zone = measure(&made.solid, &want, false).expect("both faces").most;
    assert!((zone - 0.050).abs() < 2e-6, "{zone}");
}

#[test]
fn the_four_angles_round_a_block_close() {
    let steps: Vec<Step> = [0, 2, 3, 4, 5, 1].iter().map(|&cut| Step::cut(cut)).collect();
    let recipe = block(square_bar([SIDE; 3]), [SIDE; 3], &steps, &chuck(), wants([SIDE; 3], 1.0, 1.0, 1.0));
    let noises = Noises { jaw_tilt: [1e-3; 4], jaw_yaw: [1e-3; 4], regrip_tilt: 1e-3, dirt: 0.01, ..Noises::default() };
    let mut dice = Dice::new(3);
    for _ in 0..50 {
        let made = make(&recipe, &noises.throw(&recipe, &mut dice), Method::Real).expect("a piece");
        let errors: Vec<f64> = [(2, 3), (3, 4), (4, 5), (5, 2)]
            .iter()
            .map(|&(from, to)| {
                angle_about(&made.solid, from, to, &V3::z()).expect("both") - std::f64::consts::FRAC_PI_2
            })
            .collect();
        assert!(
            errors.iter().sum::<f64>().abs() < 1e-12 && errors.iter().any(|error| error.abs() > 1e-5),
            "{errors:?}"
        );
    }
}

#[test]
fn a_jaw_left_alone_brings_the_same_error_every_time() {
    // Going round on a jaw that is never moved: its whole tilt adds up, 3 L √(b²+s²).
    let mut steps =
        [(Step::cut(0), None), on_first_jaw(&[0], 2, 0), on_first_jaw(&[0, 2], 1, 2), on_first_jaw(&[0, 2, 1], 4, 1)];
    for step in &mut steps[2..] {
        step.0.kept[0] = true;
    }
    let seen = zones(&led(&steps, vec![Want::Square { face: 4, datum: 0, within: 1.0 }]), &tilts(), 13, PIECES);
    let (ours, theirs) = (root_mean_square(&seen[0]), 3.0 * SIDE * 2e-4_f64.hypot(3e-4));
    assert!((ours - theirs).abs() < 4.0 * theirs / (2.0 * PIECES as f64).sqrt(), "{ours} {theirs}");
}

#[test]
fn what_only_the_eye_sets_is_out_by_the_error_of_the_eye_from_the_face_that_it_looks_at() {
    // Two parallel faces, the second set by eye after the first: zone L (|e₁| + |e₂|), mean 2 L e √(2/π), and not √2
    // times that, which it would be if the eye looked at the drawing.
    let mut recipe = led(&[(Step::cut(2), None), (Step::cut(4), None)], vec![]);
    recipe.wants = vec![Want::Parallel { face: 4, datum: 2, within: 1.0 }];
    assert_eq!(recipe.set_ups[1].eye_by, Some(2));
    let noises = Noises { eye: 1e-3, ..Noises::default() };
    let seen = zones(&recipe, &noises, 14, PIECES);
    // Over what the bar has there: 54 along it, 53 across.
    let theirs = (54.0 + 53.0) * 1e-3 * (2.0 / std::f64::consts::PI).sqrt();
    let ours = seen[0].iter().sum::<f64>() / PIECES as f64;
    assert!((ours - theirs).abs() < 4.0 * theirs * 0.54 / (PIECES as f64).sqrt(), "{ours} {theirs}");
}

#[test]
fn parallels_that_do_not_match_tilt_the_work_by_their_difference_over_their_distance() {
    // Difference 0.01, middles 30 apart, side 50: 50 · 0.01/30.
    let mut recipe = led(&[(Step::cut(2), None), (Step::cut(4).seated(), None)], vec![]);
    let seat = recipe.set_ups[1].seat.as_mut().expect("a seat");
    seat.pads = vec![[-20.0, -10.0, -20.0, 20.0], [10.0, 20.0, -20.0, 20.0]];
    let mut throw = clean(&recipe);
    throw.fresh[1].parallels = 0.01;
    let made = make(&recipe, &throw, Method::Real).expect("a piece");
    let lean = made.solid.face(Which::Finished(4)).expect("it").normal.cross(&V3::x()).norm();
    // Narrow pads keep a little of their own way: the strip's width squared over the distance squared.
    let free = 0.01 / 30.0;
    let stiff = free * 900.0 / (900.0 + 4.0 * 100.0 / 12.0);
    assert!((lean - stiff).abs() < 3e-7, "{lean} {free} {stiff}");
}

#[test]
fn a_face_is_square_to_the_spindle_in_the_pose_in_which_it_was_cut() {
    let steps = [(Step::cut(0), None), on_first_jaw(&[0], 2, 0)];
    let recipe = led(&steps, vec![]);
    let noises = Noises { eye: 2e-3, jaw_yaw: [1e-3; 4], ..tilts() };
    let made = make(&recipe, &noises.throw(&recipe, &mut Dice::new(8)), Method::Real).expect("a piece");
    for (set_up, pose) in recipe.set_ups.iter().zip(&made.poses) {
        let normal = made.solid.face(Which::Finished(set_up.cut)).expect("it").normal;
        let in_frame = V3::from_iterator(set_up.axes.iter().map(|axis| axis.dot(&normal)));
        assert!((pose.turn * in_frame - V3::z()).norm() < 1e-12);
    }
}

/// Six single springs with these points and directions into the locators.
fn six(points: [[f64; 3]; 6], inward: [[f64; 3]; 6], proud: [f64; 6]) -> Clamped {
    let springs = (0..6)
        .map(|at| {
            let (at_mm, normal) = (V3::from(points[at]), V3::from(inward[at]));
            let touch = Touch::Plane { normal: -normal, offset: -normal.dot(&at_mm) };
            Spring { at: at_mm, out: -normal, screw: None, proud: proud[at], stiffness: 1e8, touch }
        })
        .collect();
    let push = |at: [f64; 3], force: [f64; 3]| (V3::from(at), V3::from(force));
    let loads = vec![
        push([25.0, 20.0, 25.0], [0.0, 0.0, -900.0]),
        push([25.0, 25.0, 10.0], [0.0, -600.0, 0.0]),
        push([25.0, 25.0, 10.0], [-300.0, 0.0, 0.0]),
    ];
    Clamped { springs, screws: [None, None], loads, moment: V3::zeros(), eye: Pose::drawn() }
}

#[test]
fn six_contacts_with_a_chip_under_one_stand_as_the_six_equations_say() {
    // q = t (−0.00666667, −0.00333333, 0.03), w (−3.33333e-4, 6.66667e-4, 0), by a general library.
    let points = [[10., 10., 0.], [40., 10., 0.], [25., 40., 0.], [10., 0., 10.], [40., 0., 10.], [0., 25., 10.]];
    let (z, y, x) = ([0., 0., 1.], [0., 1., 0.], [1., 0., 0.]);
    let inward = [z, z, z, y, y, x];
    // A hundredth of the chip, so that finite turns do not show.
    let pose = |proud: f64| {
        let clamped = six(points, inward, [proud, 0.0, 0.0, 0.0, 0.0, 0.0]);
        clamped.settle(&clamped.linear().expect("springs")).expect("a pose").0
    };
    let (with, without) = (pose(0.0002), pose(0.0));
    let turn = turn_vector(&(with.turn * without.turn.inverse())) * 100.0;
    let shift = (with.shift - without.shift) * 100.0;
    assert!((turn - V3::new(-3.333_33e-4, 6.666_67e-4, 0.0)).norm() < 1e-7, "{turn}");
    assert!((shift - V3::new(-0.006_666_67, -0.003_333_33, 0.03)).norm() < 2e-6, "{shift}");
    // The top cut in this pose, seen from the part: −0.030 at its origin, +0.020 at the far corner.
    let cut = |at: [f64; 3]| -100.0 * (with.place(&V3::from(at)) - without.place(&V3::from(at))).z;
    assert!((cut([0.0, 0.0, 50.0]) + 0.03).abs() < 1e-5 && (cut([50.0, 50.0, 50.0]) - 0.02).abs() < 1e-5);
    // And x = 50 cut in the same set-up leans as much the other way: square to the top whatever the chip.
    let axis = |machine: V3| with.turn.inverse() * machine;
    assert!(axis(V3::z()).dot(&axis(V3::x())).abs() < 1e-15);
}

#[test]
fn a_pad_loaded_beside_its_middle_third_lifts_as_footings_do() {
    // Rigid footing on springs that only push, width B, load Q beyond B/6 from the middle: greatest pressure
    // 4 Q / (3 L (B − 2 e)) over the length 3 (B/2 − e): any textbook of soil mechanics, from memory.
    let (width, length, load, off) = (40.0, 30.0, 3000.0, 12.0);
    let pad = Pad {
        middle: V3::zeros(),
        out: -V3::z(),
        u: V3::x(),
        v: V3::y(),
        half: [width / 2.0, length / 2.0],
        screw: None,
        stiffness: 2e5,
        height: Height::default(),
        hole_radius: 0.0,
        cells: 200,
    };
    let touch = Touch::Plane { normal: -V3::z(), offset: 0.0 };
    let springs: Vec<Spring> = pad
        .bed()
        .iter()
        .map(|spot| Spring {
            at: spot.at,
            out: pad.out,
            screw: None,
            proud: 0.0,
            stiffness: pad.stiffness * spot.share,
            touch,
        })
        .collect();
    let loads = vec![(V3::new(off, 0.0, 0.0), V3::new(0.0, 0.0, -load))];
    let clamped = Clamped { springs, screws: [None, None], loads, moment: V3::zeros(), eye: Pose::drawn() };
    let pose = clamped.settle(&clamped.linear().expect("springs")).expect("a pose").0;
    let touched = 3.0 * (width / 2.0 - off);
    assert!((clamped.touching(&pose) - touched / width).abs() < 0.01, "{}", clamped.touching(&pose));
    let greatest = 4.0 * load / (3.0 * length * (width - 2.0 * off));
    let deepest = -pose.place(&V3::new(width / 2.0, 0.0, 0.0)).z;
    let pressure = deepest * pad.stiffness / (width * length);
    assert!((pressure / greatest - 1.0).abs() < 0.002, "{pressure} {greatest}");
}

#[test]
fn a_hollow_face_rests_on_its_corners() {
    // Four corners of a centred cone carry it: the pose is untilted, and it stands γ L/√2 off its mean plane's apex.
    let cone = 1e-3;
    let mut solid = Solid { faces: Vec::new(), round: None };
    let hills = super::solid::Hills { axis: V3::zeros(), x: V3::x(), y: V3::y(), cone, slip: [0.0; 2] };
    solid.faces.push((Which::Finished(0), Face { normal: -V3::z(), offset: 0.0, hills: Some(hills) }));
    let face = solid.face(Which::Finished(0)).expect("it").clone();
    let pad = Pad {
        middle: V3::zeros(),
        out: -V3::z(),
        u: V3::x(),
        v: V3::y(),
        half: [20.0, 20.0],
        screw: None,
        stiffness: 1e9,
        height: Height::default(),
        hole_radius: 0.0,
        cells: 20,
    };
    let touch = Touch::Plane { normal: -V3::z(), offset: 0.0 };
    let spring = |spot: &super::jaw::Spot| Spring {
        at: spot.at,
        out: pad.out,
        screw: None,
        proud: face.height(&spot.at),
        stiffness: pad.stiffness * spot.share,
        touch,
    };
    let springs: Vec<Spring> = pad.bed().iter().map(spring).collect();
    let loads = vec![(V3::new(0.5, -0.5, 0.0), V3::new(0.0, 0.0, -100.0))];
    let clamped = Clamped { springs, screws: [None, None], loads, moment: V3::zeros(), eye: Pose::drawn() };
    let pose = clamped.settle(&clamped.linear().expect("springs")).expect("a pose").0;
    let corner = cone * 20.0 * 2.0_f64.sqrt();
    assert!(pose.turned().norm() < 2e-5 && (pose.shift.z - corner).abs() < 0.002, "{:?} {corner}", pose);
    assert!(clamped.touching(&pose) < 0.05);
}
