//! Ways of feeding one strip and the light that each loses, cable by cable.

use super::longest::{Arrangement, Cores, Longest, light_drop, longest_run};
use super::strip_model::StripModel;
use crate::norms::limit::Limit;
use crate::quantity::number::{real, whole};
use crate::quantity::{Ratio, Voltage};

/// A way of feeding a strip.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Way {
    /// Its name: `start`, `both ends`, `3 points`.
    pub name: String,
    /// The cut points at which it feeds, rising.
    pub cuts: Vec<usize>,
}

/// What a way of feeding does to the light.
#[derive(Debug, Clone, PartialEq)]
pub struct Tried {
    /// The way.
    pub way: Way,
    /// Light lost at the darkest segment, over all states, of nominal light.
    pub drop: Ratio,
    /// Whether that keeps the limit.
    pub keeps: bool,
}

/// Most feed points tried.
const MOST_POINTS: usize = 8;

/// Ways of feeding `segments` segments, fewest feeds first: from the start, in the middle, at both
/// ends, and at points so spread that each feeds an equal stretch to either side.
#[must_use]
pub fn ways(segments: usize) -> Vec<Way> {
    let mut ways: Vec<Way> = [
        Arrangement::Start,
        Arrangement::Middle,
        Arrangement::BothEnds,
    ]
    .iter()
    .map(|arrangement| Way {
        name: arrangement.name().to_owned(),
        cuts: arrangement.cuts(segments),
    })
    .collect();
    for points in 2..=MOST_POINTS.min(segments) {
        let cuts = (0..points).map(|n| {
            let share = (2.0 * real(n) + 1.0) / (2.0 * real(points));
            whole(share * real(segments) + 0.5).unwrap_or(0)
        });
        ways.push(Way {
            name: format!("{points} points"),
            cuts: cuts.collect(),
        });
    }
    ways
}

/// Tries every way of feeding a strip through equal cables.
#[must_use]
pub fn tried(
    model: &StripModel,
    supply: Voltage,
    segments: usize,
    cores: &Cores,
    limit: &Limit<Ratio>,
) -> Vec<Tried> {
    ways(segments)
        .into_iter()
        .map(|way| {
            let drop = dropped(model, supply, segments, &way.cuts, cores);
            Tried {
                way,
                keeps: limit.allows(drop),
                drop,
            }
        })
        .collect()
}

/// Light lost when a strip is fed at `cuts` through equal cables.
#[must_use]
pub fn dropped(
    model: &StripModel,
    supply: Voltage,
    segments: usize,
    cuts: &[usize],
    cores: &Cores,
) -> Ratio {
    let feeds = cuts.iter().map(|cut| cores.feed(*cut)).collect();
    light_drop(&model.ladder(supply, segments, feeds))
}

/// The longest run of each arrangement through equal cables.
#[must_use]
pub fn longest_runs(
    model: &StripModel,
    supply: Voltage,
    cores: &Cores,
    limit: &Limit<Ratio>,
) -> Vec<(Arrangement, Longest)> {
    let build = |segments, feeds| model.ladder(supply, segments, feeds);
    Arrangement::ALL
        .iter()
        .map(|arrangement| (*arrangement, longest_run(build, *arrangement, cores, limit)))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::super::sample::pair;
    use super::*;
    use crate::model::strip::{LightSource, RailsKnown};
    use crate::norms::defaults;
    use crate::quantity::Resistance;
    use crate::quantity::resistance_per_length::ohms_per_metre;
    use uom::si::electric_potential::volt;
    use uom::si::electrical_resistance::ohm;

    #[test]
    fn points_are_spread_evenly() {
        let cuts: Vec<(String, Vec<usize>)> = ways(120)
            .into_iter()
            .map(|way| (way.name, way.cuts))
            .take(5)
            .collect();
        let expected = [
            ("start", vec![0]),
            ("middle", vec![60]),
            ("both ends", vec![0, 120]),
            ("2 points", vec![30, 90]),
            ("3 points", vec![20, 60, 100]),
        ];
        assert_eq!(cuts, expected.map(|(name, cuts)| (name.to_owned(), cuts)));
        assert_eq!(ways(1).len(), 3);
    }

    #[test]
    fn more_points_lose_less_light() {
        let each = ohms_per_metre(0.05);
        let rails = RailsKnown::Resistance {
            common: each,
            returns: vec![each; 2],
        };
        let model = StripModel::of(&pair(LightSource::Resistor, rails)).unwrap();
        let core = Resistance::new::<ohm>(0.05);
        let cores = Cores {
            plus: core,
            returns: vec![core; 2],
        };
        let supply = Voltage::new::<volt>(24.0);
        let all = tried(&model, supply, 240, &cores, &defaults::light_drop());
        for two in all.windows(2).skip(3) {
            assert!(two[1].drop < two[0].drop, "{two:?}");
        }
        let limit = defaults::light_drop();
        for tried in &all {
            assert_eq!(tried.keeps, limit.allows(tried.drop));
        }
        for (arrangement, longest) in longest_runs(&model, supply, &cores, &limit) {
            let Longest::Segments(most) = longest else {
                panic!("{arrangement:?}: {longest:?}");
            };
            let at = |segments| {
                dropped(
                    &model,
                    supply,
                    segments,
                    &arrangement.cuts(segments),
                    &cores,
                )
            };
            assert!(limit.allows(at(most)) && !limit.allows(at(most + 1)));
        }
    }
}
