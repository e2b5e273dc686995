//! Is a fault that is put into a strip the one that its readings are put down to?
//!
//! Every fault is put at a random place into many random strips whose power, supply and cables
//! differ as they may, and read with meters that err as they may (all of it seeded). Where the
//! fault can be told apart from every other by what was read, it must be told first in 95 of 100
//! cases. The strips are invented; what a fault does is held against textbook figures at the end.

use feedpoint::quantity::resistance_per_length::ohms_per_metre;
use feedpoint::quantity::{Length, PowerPerLength, Resistance, Voltage};
use feedpoint::solve::diagnose::case::Differs;
use feedpoint::solve::diagnose::site::Difference;
use feedpoint::solve::diagnose::{
    Case, Core, FAULTS, Fault, Meters, Quantity, Reading, Site, Spot, apart, diagnose,
};
use feedpoint::solve::strip::{Ladder, LadderChannel, LadderFeed, Lit, StringLaw};
use std::collections::BTreeMap;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::length::meter;
use uom::si::linear_power_density::watt_per_meter;

/// Faults that can be told apart, of each kind, that are put in.
const TOLD: usize = 20;
/// Faults put in of each kind at most: many can't be told apart by any meter.
const MOST: usize = 400;
/// Standard deviations from which two faults can be told apart: at five, readings that err as they
/// may are nearer the wrong one in about 6 of 1000 cases (half of five, one-sided normal).
const TOLD_APART: f64 = 5.0;

/// How current follows voltage in the strips, in the order in which they are counted.
const LAWS: [&str; 3] = ["resistor", "regulated", "converter"];

/// SplitMix64 (Steele, Lea, Flood 2014): seeded, the same everywhere.
struct Chance(u64);

impl Chance {
    fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    fn about(&mut self, half: f64) -> f64 {
        self.between(-half, half)
    }

    fn below(&mut self, count: usize) -> usize {
        ((self.share() * count as f64) as usize).min(count - 1)
    }
}

const SPREAD: Differs = Differs {
    power: 0.10,
    supply: 0.01,
    length: 0.10,
    coldest: 0.85,
};

const METERS: Meters = Meters {
    volts: [0.005, 0.01],
    amperes: [0.02, 0.02],
    ohms: [0.05, 0.02],
};

fn ladder(chance: &mut Chance) -> Ladder {
    let channels = 1 + chance.below(2);
    let segments = 20 + chance.below(40);
    let rail = ohms_per_metre(chance.between(0.02, 0.08));
    let law = match chance.below(4) {
        0 => StringLaw::Regulated {
            starts_at: Voltage::new::<volt>(18.0),
            regulated_from: Voltage::new::<volt>(20.5),
        },
        1 => StringLaw::Converter,
        _ => StringLaw::Resistor {
            starts_at: Voltage::new::<volt>(chance.between(16.0, 19.0)),
        },
    };
    let channel = |chance: &mut Chance| LadderChannel {
        return_rail: rail,
        power: PowerPerLength::new::<watt_per_meter>(chance.between(7.0, 15.0)),
        flux: None,
        law,
    };
    let cuts = match chance.below(3) {
        0 => vec![0],
        1 => vec![0, segments],
        _ => vec![0, segments / 2, segments],
    };
    Ladder {
        supply: Voltage::new::<volt>(24.0),
        nominal: Voltage::new::<volt>(24.0),
        segment: Length::new::<meter>(0.1),
        segments,
        plus_rail: rail,
        channels: (0..channels).map(|_| channel(chance)).collect(),
        feeds: cuts
            .into_iter()
            .map(|cut| {
                let core = Resistance::new::<ohm>(chance.between(0.04, 0.15));
                LadderFeed {
                    cut,
                    plus: core,
                    returns: vec![core; channels],
                }
            })
            .collect(),
    }
}

fn case(chance: &mut Chance) -> Case {
    let ladder = ladder(chance);
    let mut other = self::ladder(chance);
    other.plus_rail = ladder.plus_rail;
    other.channels = ladder.channels.clone();
    for feed in &mut other.feeds {
        feed.returns = vec![feed.plus; ladder.channels.len()];
    }
    let cold = |feed: &LadderFeed| Some(2.0 * 0.85 * feed.plus.get::<ohm>());
    Case {
        before: (chance.below(2) == 0).then(|| other.clone()),
        after: Some(other),
        cold_loops: ladder.feeds.iter().map(cold).collect(),
        thinner: Some(1.61),
        spread: SPREAD,
        meters: METERS,
        ladder,
    }
}

/// All that the test sheet asks for, and the far end.
fn sheet(case: &Case) -> Vec<Quantity> {
    let mut all = vec![Quantity::Output];
    for feed in 0..case.ladder.feeds.len() {
        all.push(Quantity::ColdLoop { feed });
    }
    for &lit in case.states() {
        for feed in 0..case.ladder.feeds.len() {
            all.push(Quantity::FeedVolts { feed, lit });
            all.push(Quantity::FeedCurrent { feed, lit });
        }
        let segment = case.ladder.segments - 1;
        all.push(Quantity::SegmentVolts { segment, lit });
        let segment = case.ladder.segments / 3;
        all.push(Quantity::SegmentVolts { segment, lit });
    }
    all
}

fn shown(quantities: &[Quantity], values: Vec<f64>) -> Vec<Reading> {
    let both = quantities.iter().zip(values);
    both.map(|(&quantity, value)| Reading { quantity, value })
        .collect()
}

/// What meters show on a site that differs as it may.
fn measured(site: &Site, quantities: &[Quantity], chance: &mut Chance) -> Option<Vec<Reading>> {
    let lengths: Vec<f64> = (0..site.own_feeds)
        .map(|_| chance.about(SPREAD.length))
        .collect();
    let differs = Difference {
        power: chance.about(SPREAD.power),
        supply: chance.about(SPREAD.supply),
        lengths,
        cold: chance.about((1.0 - SPREAD.coldest) / (1.0 + SPREAD.coldest)),
    };
    let blank = shown(quantities, vec![0.0; quantities.len()]);
    let values = site.differing(&differs).read_all(&blank)?;
    let mut readings = shown(quantities, values);
    for reading in &mut readings {
        let half = METERS.deviation(reading.quantity, reading.value) * 3.0_f64.sqrt();
        reading.value += chance.about(half);
    }
    Some(readings)
}

/// Which cause one is, however its number comes out: joints in one core or another of a feed look
/// alike where only one channel is read, and a short is told with its likeliest place.
fn identity(fault: &Fault, spot: &Spot) -> (&'static str, Option<usize>, Option<bool>) {
    let place = (fault.key != "shorted").then_some(spot.feed).flatten();
    (fault.key, place, spot.at_end)
}

/// A thinner cable is a longer one with that number in all that a meter shows.
fn is_twin(one: &str, other: &str) -> bool {
    matches!((one, other), ("thinner", "longer") | ("longer", "thinner"))
}

fn numbers(case: &Case, fault: &Fault) -> Vec<f64> {
    let Some(number) = &fault.number else {
        return vec![1.0];
    };
    let [low, high] = (number.range)(case).map(f64::ln);
    (0..24)
        .map(|at| (low + (high - low) * f64::from(at) / 23.0).exp())
        .collect()
}

/// Whether readings on a site can be told from those on a sound one and on every other fault.
fn can_be_told(case: &Case, blank: &[Reading], truth: (&Fault, &Spot), site: &Site) -> bool {
    let far = |other: &Site| apart(case, blank, site, other).is_none_or(|it| it >= TOLD_APART);
    if !far(&Site::of(case)) {
        return false;
    }
    FAULTS.iter().all(|fault| {
        (fault.spots)(case, blank).iter().all(|spot| {
            identity(fault, spot) == identity(truth.0, truth.1)
                || (is_twin(fault.key, truth.0.key) && spot.feed == truth.1.feed)
                || numbers(case, fault)
                    .into_iter()
                    .all(|number| far(&fault.on(case, spot, number)))
        })
    })
}

#[derive(Default, Debug)]
struct Tally {
    put: usize,
    /// Of those that can be told apart, how many were in strips of each law.
    laws: [usize; 3],
    told_apart: usize,
    first: usize,
    wrong: Vec<String>,
}

fn put(fault: &'static Fault, seed: u64, tally: &mut Tally) {
    let chance = &mut Chance(seed);
    let case = case(chance);
    let quantities = sheet(&case);
    let blank = shown(&quantities, vec![0.0; quantities.len()]);
    let spots = (fault.spots)(&case, &blank);
    if spots.is_empty() {
        return;
    }
    let spot = spots[chance.below(spots.len())];
    let numbers = numbers(&case, fault);
    let number = numbers[chance.below(numbers.len())];
    let site = fault.on(&case, &spot, number);
    let Some(readings) = measured(&site, &quantities, chance) else {
        return;
    };
    tally.put += 1;
    if !can_be_told(&case, &blank, (fault, &spot), &site) {
        return;
    }
    tally.told_apart += 1;
    let law = match case.ladder.channels[0].law {
        StringLaw::Resistor { .. } => 0,
        StringLaw::Regulated { .. } => 1,
        StringLaw::Converter => 2,
    };
    tally.laws[law] += 1;
    let found = diagnose(&case, &readings).expect("a diagnosis");
    let right = |cause: &feedpoint::solve::diagnose::Cause| {
        identity(cause.fault, &cause.spot) == identity(fault, &spot)
    };
    let twin = |cause: &feedpoint::solve::diagnose::Cause| {
        is_twin(cause.fault.key, fault.key) && cause.spot.feed == spot.feed
    };
    // Of twins both are told, and neither by any reading from the other.
    let first =
        right(&found.causes[0]) || (twin(&found.causes[0]) && found.first().iter().any(right));
    if first {
        tally.first += 1;
    } else {
        let told = &found.causes[0];
        tally.wrong.push(format!(
            "seed {seed}: {number:.3} at {spot:?}, told {} {:?} at {:?}, misfit {:.1}",
            told.fault.key, told.number, told.spot, told.misfit
        ));
    }
}

#[test]
fn a_fault_that_can_be_told_apart_is_told_first() {
    let mut tallies: BTreeMap<&str, Tally> = BTreeMap::new();
    for (kind, fault) in FAULTS.into_iter().enumerate() {
        let tally = tallies.entry(fault.key).or_default();
        let mut seed = 1000 * (kind as u64 + 1);
        while tally.told_apart < TOLD && tally.put < MOST {
            seed += 1;
            put(fault, seed, tally);
        }
    }
    for (key, tally) in &tallies {
        println!(
            "{key}: put {}, can be told apart {}, told first {}",
            tally.put, tally.told_apart, tally.first
        );
        for wrong in &tally.wrong {
            println!("  {wrong}");
        }
    }
    for (key, tally) in &tallies {
        assert!(tally.told_apart == TOLD, "{key}: {tally:#?}");
        let share = 100 * tally.first;
        assert!(share >= 95 * tally.told_apart, "{key}: {tally:#?}");
        for (law, count) in LAWS.iter().zip(tally.laws) {
            assert!(count > 0, "{key} was in no strip that is {law}: {tally:#?}");
        }
    }
}

fn fault(key: &str) -> &'static Fault {
    FAULTS
        .into_iter()
        .find(|fault| fault.key == key)
        .expect("a fault of that key")
}

/// 24 V, light from 18 V, 0.06 Ω/m a rail, 100 mm segments, fed through 0.1 Ω cores.
fn plain(metres: usize, watts_per_metre: &[f64], cuts: &[usize]) -> Case {
    let rail = ohms_per_metre(0.06);
    let core = Resistance::new::<ohm>(0.1);
    let channel = |watts: &f64| LadderChannel {
        return_rail: rail,
        power: PowerPerLength::new::<watt_per_meter>(*watts),
        flux: None,
        law: StringLaw::Resistor {
            starts_at: Voltage::new::<volt>(18.0),
        },
    };
    let feed = |cut: &usize| LadderFeed {
        cut: *cut,
        plus: core,
        returns: vec![core; watts_per_metre.len()],
    };
    Case {
        ladder: Ladder {
            supply: Voltage::new::<volt>(24.0),
            nominal: Voltage::new::<volt>(24.0),
            segment: Length::new::<meter>(0.1),
            segments: 10 * metres,
            plus_rail: rail,
            channels: watts_per_metre.iter().map(channel).collect(),
            feeds: cuts.iter().map(feed).collect(),
        },
        before: None,
        after: None,
        cold_loops: vec![Some(0.2); cuts.len()],
        thinner: Some(1.6),
        spread: Differs {
            coldest: 1.0,
            ..SPREAD
        },
        meters: METERS,
    }
}

fn read(site: &Site, quantity: Quantity) -> f64 {
    let reading = Reading {
        quantity,
        value: 0.0,
    };
    site.read_all(&[reading]).expect("a working point")[0]
}

fn volts_at(feed: usize, lit: Lit) -> Quantity {
    Quantity::FeedVolts { feed, lit }
}

fn current_of(feed: usize, lit: Lit) -> Quantity {
    Quantity::FeedCurrent { feed, lit }
}

/// u(0) = (Vs − v₀)/(1 + Rc·(g/k)·tanh kL): ladder theory of a uniform line with leakage, as
/// textbooks of transmission lines have it; the joint adds to Rc.
#[test]
fn a_joint_adds_to_the_resistance_of_the_feed() {
    let case = plain(5, &[14.4], &[0]);
    let site = fault("joint").on(&case, &Spot::in_core(0, Core::Plus), 0.5);
    let g = 14.4 / 24.0 / 6.0;
    let k = (0.12_f64 * g).sqrt();
    let expected = 18.0 + 6.0 / (1.0 + (0.2 + 0.5) * (g / k) * (k * 5.0).tanh());
    let found = read(&site, volts_at(0, Lit::On));
    assert!((found - expected).abs() < 2e-3, "{found} for {expected}");
}

/// A strip fed at both ends of whose second feed neither core carries anything is fed at the first:
/// its far end has (Vs − v₀)/(cosh kL + Rc·(g/k)·sinh kL) over v₀, by the same theory. With plus
/// alone open its return still helps.
#[test]
fn a_strip_with_a_feed_open_is_fed_by_the_other() {
    let case = plain(5, &[14.4], &[0, 50]);
    let g = 14.4 / 24.0 / 6.0;
    let k = (0.12_f64 * g).sqrt();
    let (sinh, cosh) = ((5.0 * k).sinh(), (5.0 * k).cosh());
    let expected = 18.0 + 6.0 / (cosh + 0.2 * (g / k) * sinh);
    let open = fault("feed-open").on(&case, &Spot::at(1), 1.0);
    let helped = read(&open, volts_at(1, Lit::On));
    assert!(read(&open, current_of(1, Lit::On)).abs() < 1e-6);
    let mut both = open;
    let spot = Spot::in_core(1, Core::Return(0));
    (fault("return-open").inflict)(&mut both, &case, &spot, 1.0);
    let found = read(&both, volts_at(1, Lit::On));
    assert!((found - expected).abs() < 2e-3, "{found} for {expected}");
    assert!(helped > found + 0.1, "{helped} against {found}");
}

/// Ohm's law: with hardly any light, a short of 10 Ω in the middle of the last of 50 segments draws
/// 24 V / (cores 0.2 Ω + 4.95 m of both rails + 10 Ω).
#[test]
fn a_short_draws_what_ohms_law_says() {
    let case = plain(5, &[1e-6], &[0]);
    let spot = Spot {
        segment: Some((49, 0)),
        ..Spot::default()
    };
    let site = fault("shorted").on(&case, &spot, 10.0);
    let expected = 24.0 / (0.2 + 4.95 * 0.12 + 10.0);
    let found = read(&site, current_of(0, Lit::On));
    assert!((found - expected).abs() < 1e-5, "{found} for {expected}");
}

/// Two halves, each fed at its outer end, joined: one strip fed at both ends, with its least in the
/// middle; by symmetry no current crosses, so each half is as it was.
#[test]
fn joining_equal_halves_changes_nothing_and_unequal_ones_share() {
    let mut case = plain(5, &[14.4], &[0]);
    let mut after = plain(5, &[14.4], &[50]).ladder;
    case.after = Some(after.clone());
    let spot = Spot {
        at_end: Some(true),
        ..Spot::default()
    };
    let alone = read(&Site::of(&case), volts_at(0, Lit::On));
    let joined = read(&fault("joined").on(&case, &spot, 1.0), volts_at(0, Lit::On));
    assert!((alone - joined).abs() < 1e-9, "{joined} for {alone}");
    after.feeds[0].plus = Resistance::new::<ohm>(0.6);
    case.after = Some(after);
    let shared = read(&fault("joined").on(&case, &spot, 1.0), volts_at(0, Lit::On));
    assert!(shared < alone - 0.01, "{shared} for {alone}");
}

/// With the returns swapped, warm alone lights the cool rail: its pads for warm have no volts, and
/// the current is what cool draws on a sound strip.
#[test]
fn swapped_returns_light_the_other_white() {
    let case = plain(5, &[14.4, 9.6], &[0]);
    let site = fault("swapped").on(&case, &Spot::at(0), 1.0);
    assert_eq!(read(&site, volts_at(0, Lit::Warm)), 0.0);
    let sound = read(&Site::of(&case), current_of(0, Lit::Cool));
    let found = read(&site, current_of(0, Lit::Warm));
    assert!((found - sound).abs() < 1e-12, "{found} for {sound}");
}

/// A thinner and a longer cable read alike on the strip and dead: both are told.
#[test]
fn what_no_reading_tells_apart_is_told_together() {
    let case = plain(5, &[14.4], &[0]);
    let quantities = sheet(&case);
    let blank = shown(&quantities, vec![0.0; quantities.len()]);
    let site = fault("thinner").on(&case, &Spot::at(0), 1.0);
    let values = site.read_all(&blank).expect("a working point");
    let found = diagnose(&case, &shown(&quantities, values)).expect("a diagnosis");
    let keys: Vec<_> = found.first().iter().map(|it| it.fault.key).collect();
    assert_eq!(keys[..2], ["thinner", "longer"]);
    assert!((found.causes[1].number.expect("fitted") - 1.6).abs() < 0.02);
    assert_eq!(found.further, None);
}

/// A joint and a longer cable read alike on the strip; the cable tested dead tells them apart.
#[test]
fn the_further_reading_is_one_that_tells_the_causes_apart() {
    let case = plain(5, &[14.4], &[0]);
    let quantities = [
        Quantity::Output,
        volts_at(0, Lit::On),
        current_of(0, Lit::On),
    ];
    let blank = shown(&quantities, vec![0.0; 3]);
    let site = fault("joint").on(&case, &Spot::in_core(0, Core::Plus), 0.5);
    let values = site.read_all(&blank).expect("a working point");
    let found = diagnose(&case, &shown(&quantities, values)).expect("a diagnosis");
    let keys: Vec<_> = found.first().iter().map(|it| it.fault.key).collect();
    assert!(
        keys.contains(&"joint") && keys.contains(&"longer"),
        "{keys:?}"
    );
    let further = found.further.expect("a further reading");
    assert_eq!(further.quantity, Quantity::ColdLoop { feed: 0 });
    assert!((further.first - further.second).abs() > 0.2, "{further:?}");
}
