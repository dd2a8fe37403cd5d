//! The same job gives the same plan to the last bit, whenever and wherever it is planned.

use super::{plan, planned, scene};

#[test]
fn twice_and_from_two_threads_at_once() {
    let jobs = [
        scene::six_faces(),
        scene::job(scene::round(50.0), 40.0, scene::regular(4, 33.0), 35.0),
        scene::job(scene::round(40.0), 50.0, scene::block(36.0, 34.0), 44.0),
    ];
    // The debug text tells every bit of every number apart, signs of nought included.
    let told = || jobs.iter().map(|job| format!("{:?}", plan(job))).collect::<Vec<_>>();
    let first = told();
    assert_eq!(told(), first);
    let (one, other) = std::thread::scope(|scope| {
        let (one, other) = (scope.spawn(told), scope.spawn(told));
        (one.join().unwrap(), other.join().unwrap())
    });
    assert_eq!(one, first);
    assert_eq!(other, first);
    assert_eq!(jobs.iter().map(|job| planned(&plan(job))).collect::<Vec<_>>(), [true, true, false]);
}
