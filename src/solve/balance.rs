//! From a solved ladder to what is reported of it: currents at the feeds, losses, light.

use super::block::Rails;
use super::law::Law;
use super::network::{Joins, Network, Rung, cores};
use super::newton::{Load, Solved};
use super::strip::{ChannelState, FeedCurrents, Ladder, LadderFeed, Lit, State};
use crate::quantity::{Current, Power};
use uom::si::electric_current::ampere;
use uom::si::power::watt;

/// The state that `solved` describes.
pub(super) fn state(ladder: &Ladder, lit: Lit, network: &Network, solved: &Solved) -> State {
    let channels = channels(lit, network, solved.loads);
    let feeds = feed_currents(ladder, lit, network, solved);
    let source: f64 = feeds.iter().map(|[plus, ..]| plus).sum();
    let cable: f64 = ladder
        .feeds
        .iter()
        .zip(&feeds)
        .map(|(feed, amperes)| loss(cores(feed, lit), *amperes))
        .sum();
    let strip: f64 = channels
        .iter()
        .flat_map(|channel| channel.volts.iter().zip(&channel.amperes))
        .map(|(volts, amperes)| volts * amperes)
        .sum();
    State {
        lit,
        source_current: Current::new::<ampere>(source),
        source_power: Power::new::<watt>(network.supply * source),
        strip_power: Power::new::<watt>(strip + short_power(network, solved)),
        cable_loss: Power::new::<watt>(cable),
        rail_loss: Power::new::<watt>(rail_loss(ladder, network, solved, &feeds)),
        feeds: feeds
            .iter()
            .map(|[plus, first, second]| FeedCurrents {
                plus: Current::new::<ampere>(*plus),
                returns: [*first, *second]
                    .into_iter()
                    .take(lit.channels().len())
                    .map(Current::new::<ampere>)
                    .collect(),
            })
            .collect(),
        channels,
    }
}

fn channels(lit: Lit, network: &Network, loads: &[Load]) -> Vec<ChannelState> {
    let [first, second] = network.laws;
    let of_first = |load: &Load| (load.volts[0], first.at(load.volts[0]).0);
    let of_second = |load: &Load| (load.volts[1], second.at(load.volts[1]).0);
    let mut states = Vec::with_capacity(2);
    for (lane, &channel) in lit.channels().iter().enumerate() {
        let (volts, amperes): (Vec<f64>, Vec<f64>) = if lane == 0 {
            loads.iter().map(of_first).unzip()
        } else {
            loads.iter().map(of_second).unzip()
        };
        let (law, rated) = if lane == 0 {
            (first, network.rated[0])
        } else {
            (second, network.rated[1])
        };
        let light = |amperes: &f64| match law {
            Law::Converter { .. } => 1.0,
            _ => amperes / rated,
        };
        states.push(ChannelState {
            channel,
            light: amperes.iter().map(light).collect(),
            current: Current::new::<ampere>(amperes.iter().sum()),
            volts,
            amperes,
        });
    }
    states
}

fn loss([r, s, t]: Rails, [i, j, k]: Rails) -> f64 {
    r * i * i + s * j * j + t * k * k
}

/// Current in each core of each feed: volts lost over its resistance. A core without resistance
/// takes what the rails bring to its cut point, shared equally where several meet; on a rail
/// without resistance, what all segments bring.
fn feed_currents(ladder: &Ladder, lit: Lit, network: &Network, solved: &Solved) -> Vec<Rails> {
    let mut currents = vec![[0.0; 3]; ladder.feeds.len()];
    let shorts = network.rungs.iter().zip(solved.lost);
    let shorts = shorts.filter_map(|(rung, lost)| match rung.joins {
        Joins::Short(slope) => Some(of_load(&in_short(network, slope, *lost))),
        Joins::Feed(_) | Joins::Load => None,
    });
    let strings = solved.loads.iter().map(of_load);
    let total = strings.chain(shorts).fold([0.0; 3], add);
    let places = || network.rungs.iter().enumerate();
    let mut cuts: Option<(usize, usize)> = None;
    for (feed, current) in ladder.feeds.iter().zip(&mut currents) {
        let nth = match cuts {
            Some((cut, nth)) if cut == feed.cut => nth,
            Some((_, nth)) => nth + 1,
            None => 0,
        };
        cuts = Some((feed.cut, nth));
        let Some((rung, _)) = places().filter(|(_, rung)| rung.is_feed()).nth(nth) else {
            continue;
        };
        let lost = solved.lost.get(rung).copied().unwrap_or_default();
        let brought = brought(network, solved, rung);
        let ohms = cores(feed, lit);
        let sharing = sharing(ladder, lit, Some(feed.cut));
        let everywhere = sharing_all(ladder, lit);
        let rails = current.iter_mut().zip(ohms).zip(lost).zip(network.held);
        let sides = brought.into_iter().zip(total).zip(sharing).zip(everywhere);
        for ((((amperes, ohms), lost), held), (((here, all), at_cut), in_all)) in rails.zip(sides) {
            *amperes = match (ohms > 0.0, held) {
                (true, _) => lost / ohms,
                (false, true) => all / in_all,
                (false, false) => here / at_cut,
            };
        }
    }
    currents
}

fn sharing_all(ladder: &Ladder, lit: Lit) -> Rails {
    sharing(ladder, lit, None)
}

/// How many feeds (at one cut point, or in all) join each rail without resistance.
fn sharing(ladder: &Ladder, lit: Lit, cut: Option<usize>) -> Rails {
    ladder
        .feeds
        .iter()
        .filter(|feed| cut.is_none_or(|cut| feed.cut == cut))
        .map(|feed: &LadderFeed| cores(feed, lit).map(|ohms| f64::from(u8::from(ohms <= 0.0))))
        .fold([0.0; 3], add)
}

/// What one segment drives into plus rail and returns.
fn of_load(load: &Load) -> Rails {
    let [first, second] = load.amperes;
    [first + second, first, second]
}

fn add([a, b, c]: Rails, [d, e, f]: Rails) -> Rails {
    [a + d, b + e, c + f]
}

/// Current which the rails bring to a rung where nothing is lost, from both sides.
fn brought(network: &Network, solved: &Solved, rung: usize) -> Rails {
    let flow = |neighbour: Option<&Rails>, stretch: Option<&Rung>| {
        let (Some(lost), Some(stretch)) = (neighbour, stretch) else {
            return [0.0; 3];
        };
        let ([a, b, c], [x, y, z]) = (*lost, stretch.ohms);
        let over = |lost: f64, ohms: f64| if ohms > 0.0 { lost / ohms } else { 0.0 };
        [over(a, x), over(b, y), over(c, z)]
    };
    let left = rung.checked_sub(1).and_then(|left| solved.lost.get(left));
    add(
        flow(left, network.rungs.get(rung)),
        flow(solved.lost.get(rung + 1), network.rungs.get(rung + 1)),
    )
}

/// Loss in the rails: the current through each stretch is what the segments to its left drive in
/// less what the feeds there take out.
fn rail_loss(ladder: &Ladder, network: &Network, solved: &Solved, feeds: &[Rails]) -> f64 {
    let mut through = [0.0; 3];
    let mut total = 0.0;
    let mut loads = solved.loads.iter();
    let mut taken = ladder.feeds.iter().zip(feeds).peekable();
    let mut segment = 0_usize;
    for (rung, lost) in network.rungs.iter().zip(solved.lost.iter().copied()) {
        total += loss(rung.ohms, through);
        match &rung.joins {
            Joins::Load => {
                through = add(through, loads.next().map(of_load).unwrap_or_default());
                segment += 1;
            }
            Joins::Feed(_) => {
                while let Some((_, out)) = taken.next_if(|(feed, _)| feed.cut <= segment) {
                    through = add(through, out.map(|amperes| -amperes));
                }
            }
            Joins::Short(slope) => {
                through = add(through, of_load(&in_short(network, *slope, lost)))
            }
        }
    }
    total
}

/// What a short takes where so many volts are lost in the rails.
fn in_short(network: &Network, slope: [f64; 2], [plus, first, second]: Rails) -> Load {
    let volts = [first, second].map(|back| network.supply - plus - back);
    Load {
        volts,
        amperes: [slope[0] * volts[0], slope[1] * volts[1]],
    }
}

fn short_power(network: &Network, solved: &Solved) -> f64 {
    let rungs = network.rungs.iter().zip(solved.lost);
    rungs
        .map(|(rung, lost)| match rung.joins {
            Joins::Short(slope) => {
                let Load { volts, amperes } = in_short(network, slope, *lost);
                volts[0] * amperes[0] + volts[1] * amperes[1]
            }
            Joins::Feed(_) | Joins::Load => 0.0,
        })
        .sum()
}
