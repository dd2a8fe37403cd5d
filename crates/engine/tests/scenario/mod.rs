//! Random jobs and shops, each named by its seed: bars, parts, lathes, chucks, tools and gauges as they
//! stand in invented shops, with values left out as people leave them out.

mod bench;
pub mod dice;
mod work;

use dice::Dice;
use engine::job::Job;
use engine::shop::Shop;

/// A job and the shop that is to do it.
#[derive(Debug, Clone)]
pub struct Scenario {
    /// The job.
    pub job: Job,
    /// The shop.
    pub shop: Shop,
}

/// The scenario of this seed.
pub fn scenario(seed: u64) -> Scenario {
    let mut dice = Dice::new(seed);
    let job = work::job(&mut dice);
    let shop = bench::shop(&mut dice, &job);
    Scenario { job, shop }
}
