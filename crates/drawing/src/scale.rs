//! Scales of drawings after ISO 5455.

/// A scale: so many units on paper for so many of the real thing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Scale {
    /// On paper.
    pub paper: u32,
    /// Of the real thing.
    pub real: u32,
}

impl Default for Scale {
    fn default() -> Self {
        Scale { paper: 1, real: 1 }
    }
}

/// The series of ISO 5455:1979, table, from the largest to the smallest, and a few decades on for what fits nowhere.
const SERIES: [(u32, u32); 19] = [
    (50, 1),
    (20, 1),
    (10, 1),
    (5, 1),
    (2, 1),
    (1, 1),
    (1, 2),
    (1, 5),
    (1, 10),
    (1, 20),
    (1, 50),
    (1, 100),
    (1, 200),
    (1, 500),
    (1, 1_000),
    (1, 2_000),
    (1, 5_000),
    (1, 10_000),
    (1, 1_000_000),
];

/// Scales between those of the series, which ISO 5455:1979 leaves to exceptional cases (from memory): for pictures from
/// which nothing is measured.
const BETWEEN: [(u32, u32); 9] = [(4, 1), (3, 1), (3, 2), (2, 3), (1, 3), (1, 4), (1, 6), (1, 8), (1, 15)];

impl Scale {
    /// The largest of the series.
    pub const LARGEST: Scale = Scale { paper: SERIES[0].0, real: SERIES[0].1 };

    /// The series, from the largest to the smallest.
    pub fn series() -> impl Iterator<Item = Scale> {
        SERIES.into_iter().map(|(paper, real)| Scale { paper, real })
    }

    /// This one where it fits, else the largest of the series that fits and is smaller, else the smallest of all.
    pub fn largest_up_to(most: Scale, mut fits: impl FnMut(f64) -> bool) -> Scale {
        if fits(most.ratio()) {
            return most;
        }
        Scale::largest(|ratio| ratio < most.ratio() && fits(ratio))
    }

    /// This one of the series, those between, and the next smaller one of the series.
    pub fn down_to_next(self) -> Vec<Scale> {
        let next = SERIES.into_iter().find(|&(paper, real)| Scale { paper, real }.ratio() < self.ratio());
        let least = next.map_or(0.0, |(paper, real)| Scale { paper, real }.ratio());
        let mut all: Vec<Scale> =
            SERIES.into_iter().chain(BETWEEN).map(|(paper, real)| Scale { paper, real }).collect();
        all.retain(|scale| (least..=self.ratio()).contains(&scale.ratio()));
        all.sort_by(|one, other| other.ratio().total_cmp(&one.ratio()));
        all
    }

    /// mm on paper for one mm of the real thing.
    pub fn ratio(self) -> f64 {
        f64::from(self.paper) / f64::from(self.real)
    }

    /// As it is written: "1:2".
    pub fn name(self) -> String {
        format!("{}:{}", self.paper, self.real)
    }

    /// The largest that fits of the series and of those between, else the smallest of all.
    pub fn largest_of_all(mut fits: impl FnMut(f64) -> bool) -> Scale {
        let mut all: Vec<Scale> =
            SERIES.into_iter().chain(BETWEEN).map(|(paper, real)| Scale { paper, real }).collect();
        all.sort_by(|one, other| other.ratio().total_cmp(&one.ratio()));
        all.into_iter().find(|scale| fits(scale.ratio())).unwrap_or_else(|| Scale::largest(|_| false))
    }

    /// The largest of the series that fits, else the smallest of all.
    pub fn largest(mut fits: impl FnMut(f64) -> bool) -> Scale {
        let all = SERIES.map(|(paper, real)| Scale { paper, real });
        all.into_iter().find(|scale| fits(scale.ratio())).unwrap_or(all[SERIES.len() - 1])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_series_is_that_of_the_standard() {
        // ISO 5455:1979 recommends 50:1, 20:1, 10:1, 5:1, 2:1, 1:1, 1:2, 1:5, 1:10 ... 1:10 000 (from memory).
        assert_eq!(Scale::largest(|ratio| ratio * 30.0 <= 70.0).name(), "2:1");
        assert_eq!(Scale::largest(|ratio| ratio * 80.0 <= 70.0).name(), "1:2");
        assert_eq!(Scale::largest(|ratio| ratio * 200.0 <= 45.0).name(), "1:5");
        assert!(SERIES.windows(2).all(|pair| Scale { paper: pair[0].0, real: pair[0].1 }.ratio()
            > Scale { paper: pair[1].0, real: pair[1].1 }.ratio()));
        assert_eq!(Scale::largest(|_| false).name(), "1:1000000");
    }

    #[test]
    fn a_picture_that_is_not_measured_may_fill_its_room_better() {
        assert_eq!(Scale::largest_of_all(|ratio| ratio * 80.0 <= 70.0).name(), "2:3");
        assert_eq!(Scale::largest_of_all(|ratio| ratio * 80.0 <= 39.0).name(), "1:3");
        assert_eq!(Scale::largest_of_all(|ratio| ratio * 80.0 <= 40.0).name(), "1:2");
        assert_eq!(Scale::largest_of_all(|_| false).name(), "1:1000000");
        let names = |paper, real| Scale { paper, real }.down_to_next().into_iter().map(Scale::name).collect::<Vec<_>>();
        assert_eq!(names(1, 2), ["1:2", "1:3", "1:4", "1:5"]);
        assert_eq!(names(20, 1), ["20:1", "10:1"]);
        assert_eq!(names(1, 1_000_000), ["1:1000000"]);
        let third = Scale { paper: 1, real: 3 };
        assert_eq!(Scale::largest_up_to(third, |ratio| ratio * 80.0 <= 39.0), third);
        assert_eq!(Scale::largest_up_to(third, |ratio| ratio * 80.0 <= 20.0).name(), "1:5");
    }
}
