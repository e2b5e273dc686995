//! How much cable it takes from the cupboard to a place on a run.

use crate::model::run::Run;
use crate::quantity::Length;
use crate::quantity::number::real;

/// The ways from a cupboard to a run.
#[derive(Debug, Clone, PartialEq)]
pub struct Reach {
    to_start: Option<Length>,
    to_end: Option<Length>,
    /// Whether cable may run beside the strip.
    pub along: bool,
    segment: Length,
    segments: usize,
}

impl Reach {
    /// The ways to a run of `segments`.
    #[must_use]
    pub fn new(run: &Run, segments: usize) -> Reach {
        Reach::of(
            run.to_start,
            run.to_end,
            run.reach_along,
            run.strip.cut,
            segments,
        )
    }

    pub(super) fn of(
        to_start: Option<Length>,
        to_end: Option<Length>,
        along: bool,
        segment: Length,
        segments: usize,
    ) -> Reach {
        Reach {
            to_start,
            to_end,
            along,
            segment,
            segments,
        }
    }

    /// Cable to a cut point by the shorter way. `None`: it can't be reached. An end that has no
    /// length of its own can't; a place in between can only when cable may run along.
    #[must_use]
    pub fn to(&self, cut: usize) -> Option<Length> {
        let own = if cut == 0 {
            self.to_start
        } else if cut == self.segments {
            self.to_end
        } else {
            None
        };
        let inside = cut > 0 && cut < self.segments;
        if self.along && (own.is_some() || inside) {
            self.shorter(cut)
        } else {
            own
        }
    }

    /// Cable to a cut point that was asked for, even where cable is not said to run along.
    #[must_use]
    pub fn to_asked(&self, cut: usize) -> Option<Length> {
        self.to(cut).or_else(|| self.shorter(cut))
    }

    fn shorter(&self, cut: usize) -> Option<Length> {
        let before = self.segment * real(cut);
        let after = self.segment * real(self.segments.saturating_sub(cut));
        let by_start = self.to_start.map(|way| way + before);
        let by_end = self.to_end.map(|way| way + after);
        match (by_start, by_end) {
            (Some(start), Some(end)) if end < start => Some(end),
            (Some(start), _) => Some(start),
            (None, end) => end,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use uom::si::length::meter;

    fn metres(cut: usize, ways: (Option<f64>, Option<f64>), along: bool) -> Option<f64> {
        let way = |value: Option<f64>| value.map(Length::new::<meter>);
        let segment = Length::new::<meter>(0.5);
        let reach = Reach::of(way(ways.0), way(ways.1), along, segment, 20);
        reach
            .to(cut)
            .map(|length| (length.get::<meter>() * 1e6).round() / 1e6)
    }

    #[test]
    fn the_shorter_way_round_counts() {
        // A run of 10 m, 4 m from its start and 6 m from its end.
        let ways = (Some(4.0), Some(6.0));
        assert_eq!(metres(0, ways, true), Some(4.0));
        assert_eq!(metres(20, ways, true), Some(6.0));
        assert_eq!(metres(10, ways, true), Some(9.0));
        assert_eq!(metres(18, ways, true), Some(7.0));
        assert_eq!(metres(20, (Some(4.0), Some(60.0)), true), Some(14.0));
    }

    #[test]
    fn what_no_cable_leads_to_is_not_reached() {
        assert_eq!(metres(10, (Some(4.0), Some(6.0)), false), None);
        assert_eq!(metres(20, (Some(4.0), None), false), None);
        assert_eq!(metres(20, (Some(4.0), None), true), None);
        assert_eq!(metres(19, (Some(4.0), None), true), Some(13.5));
        assert_eq!(metres(0, (None, Some(6.0)), true), None);
        assert_eq!(metres(1, (None, Some(6.0)), true), Some(15.5));
        assert_eq!(metres(20, (Some(4.0), Some(60.0)), false), Some(60.0));
    }
}
