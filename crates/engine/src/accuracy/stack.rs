//! Chains of tolerances: how far a resultant may be off when several dimensions make it.
//!
//! A link is a dimension with its sensitivity S (how much the resultant moves with it, 1 or −1 along one line) and its
//! tolerance plus and minus T. Worst case Σ |S| T; root sum square √Σ (S T)², for independent links of like spread
//! (Chase, tolerance allocation; Wade, tolerance charts; both from memory).

/// One dimension of a chain.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Link {
    /// How much the resultant moves with it: the partial derivative.
    pub sensitivity: f64,
    /// Plus and minus, not negative, in the link's own unit.
    pub plus_minus: f64,
}

impl Link {
    fn part(&self) -> f64 {
        (self.sensitivity * self.plus_minus).abs()
    }
}

/// Worst case: all links at their limits against us.
pub fn worst_case(links: &[Link]) -> f64 {
    links.iter().map(Link::part).sum()
}

/// Root sum square: as likely as each link's own tolerance where they are independent and like distributed.
pub fn root_sum_square(links: &[Link]) -> f64 {
    links.iter().map(|link| link.part().powi(2)).sum::<f64>().sqrt()
}

/// Root sum square times an inflation, 1.5 after Bender (1962, from memory), for spreads that are worse than normal.
pub fn inflated(links: &[Link], times: f64) -> f64 {
    times * root_sum_square(links)
}

/// Mean shift: of each tolerance a share, 0 to 1, is taken by a bias that adds up, the rest by scatter (Scholz 1995).
pub fn mean_shift(links: &[(Link, f64)]) -> f64 {
    let bias: f64 = links.iter().map(|(link, share)| share * link.part()).sum();
    let scatter: f64 = links.iter().map(|(link, share)| ((1.0 - share) * link.part()).powi(2)).sum();
    bias + scatter.sqrt()
}

/// By what the free links' tolerances may be multiplied so that the worst case meets `target`; `None`: the fixed ones
/// alone pass it, or nothing is free.
pub fn free_scale_worst_case(target: f64, fixed: &[Link], free: &[Link]) -> Option<f64> {
    scale(target - worst_case(fixed), worst_case(free))
}

/// The same for the root sum square.
pub fn free_scale_root_sum_square(target: f64, fixed: &[Link], free: &[Link]) -> Option<f64> {
    let left = target.powi(2) - root_sum_square(fixed).powi(2);
    scale(left, root_sum_square(free).powi(2)).map(f64::sqrt)
}

fn scale(left: f64, free: f64) -> Option<f64> {
    (left >= 0.0 && free > 0.0).then(|| left / free)
}

/// A dimension that an operation makes: from one surface to another along a line, with its tolerance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dimension {
    /// Surface that it is counted from.
    pub from: usize,
    /// Surface that it leads to, farther along the line by `size`.
    pub to: usize,
    /// Nominal; negative where `to` lies before `from`.
    pub size: f64,
    /// Plus and minus.
    pub plus_minus: f64,
}

/// The resultant from one surface to another along the tree of dimensions (Wade's tolerance chart): nominal, and the
/// links on the way. `None`: no way leads there. Dimensions that close a ring are a second way; the shorter counts.
pub fn path(dimensions: &[Dimension], from: usize, to: usize) -> Option<(f64, Vec<Link>)> {
    let mut reached = vec![(from, 0.0, Vec::new())];
    let mut at = 0;
    while at < reached.len() {
        let (here, nominal, links) = reached[at].clone();
        if here == to {
            return Some((nominal, links));
        }
        for dimension in dimensions {
            let (next, sign) = match here {
                here if here == dimension.from => (dimension.to, 1.0),
                here if here == dimension.to => (dimension.from, -1.0),
                _ => continue,
            };
            if reached.iter().all(|(surface, ..)| *surface != next) {
                let link = Link { sensitivity: sign, plus_minus: dimension.plus_minus };
                let links = links.iter().copied().chain([link]).collect();
                reached.push((next, nominal + sign * dimension.size, links));
            }
        }
        at += 1;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    fn links() -> [Link; 3] {
        [(1.0, 0.1), (-1.0, 0.2), (0.5, 0.2)].map(|(sensitivity, plus_minus)| Link { sensitivity, plus_minus })
    }

    #[test]
    fn all_bias_is_the_worst_case_and_none_is_the_root() {
        let with = |share: f64| links().map(|link| (link, share));
        assert!((mean_shift(&with(1.0)) - worst_case(&links())).abs() < 1e-15);
        assert!((mean_shift(&with(0.0)) - root_sum_square(&links())).abs() < 1e-15);
        assert_eq!(inflated(&links(), 1.5), 1.5 * root_sum_square(&links()));
    }

    #[test]
    fn nothing_free_or_nothing_left_has_no_scale() {
        assert_eq!(free_scale_worst_case(0.1, &links(), &links()), None);
        assert_eq!(free_scale_root_sum_square(1.0, &links(), &[]), None);
        assert_eq!(free_scale_worst_case(0.8, &links(), &links()), Some((0.8 - 0.4) / 0.4));
    }

    #[test]
    fn a_way_is_found_against_the_arrows_or_not_at_all() {
        let made = [(0, 1, 10.0), (2, 1, 4.0)].map(|(from, to, size)| Dimension { from, to, size, plus_minus: 0.1 });
        let (nominal, links) = path(&made, 0, 2).expect("a way");
        assert_eq!((nominal, links.len(), links[1].sensitivity), (6.0, 2, -1.0));
        assert!(path(&made, 0, 3).is_none());
        assert_eq!(path(&made, 1, 1), Some((0.0, Vec::new())));
    }
}
