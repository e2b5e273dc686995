//! How the sample job is fed.

use super::catalogue::Goods;
use super::{a, celsius, dec, m, pc, v};
use feedpoint::choose::sized::{
    FeedCable, OutputUse, PackingProof, Reasons, RunFigures, Section, SizedDriver, SizedFeed,
    SizedRun, Sizing, StateFigures, Unmet,
};
use feedpoint::model::assumption::Assumption;
use feedpoint::model::cable::Cable;
use feedpoint::model::project::Project;
use feedpoint::norms::limit::Source;
use feedpoint::quantity::{Power, PowerPerLength, Resistance, ResistancePerLength};
use feedpoint::solve::strip::{Ladder, LadderChannel, Lit, StringLaw};
use std::sync::Arc;
use uom::si::electrical_resistance::ohm;
use uom::si::linear_power_density::watt_per_meter;
use uom::si::power::watt;

fn w(watts: f64) -> Power {
    Power::new::<watt>(watts)
}

pub fn assumption() -> Assumption {
    Assumption {
        subject: "strip white-24".to_owned(),
        statement: "rails of 0.120 Ω/m, the poorest that is common".to_owned(),
        missing: "`rails` in strip `white-24`".to_owned(),
        supplied_by: "the datasheet, or a bench reading".to_owned(),
    }
}

pub fn sizing(project: &Project, goods: &Goods) -> Sizing {
    Sizing {
        runs: vec![
            hall(project, goods),
            shelf(project, goods),
            stair(project, goods),
        ],
        drivers: drivers(project, goods),
        cables: cables(project, goods),
        assumptions: vec![assumption()],
        proofs: vec![PackingProof {
            subject: "cupboard-b, group stacks".to_owned(),
            cost: Some(dec("91.90")),
            optimal: false,
            bound: Some(dec("91.10")),
        }],
        ..Sizing::default()
    }
}

fn ladder(segments: usize) -> Ladder {
    let rail = ResistancePerLength {
        dimension: Default::default(),
        units: Default::default(),
        value: 0.03,
    };
    Ladder {
        supply: v(24.0),
        nominal: v(24.0),
        segment: m(0.05),
        segments,
        plus_rail: rail,
        channels: vec![LadderChannel {
            return_rail: rail,
            power: PowerPerLength::new::<watt_per_meter>(9.6),
            flux: None,
            law: StringLaw::Resistor { starts_at: v(16.5) },
        }],
        feeds: Vec::new(),
    }
}

struct Piece<'a> {
    start: f64,
    length: f64,
    segments: usize,
    feeds: &'a [(f64, f64)],
    cable: &'a Arc<Cable>,
    watts: f64,
    amperes: &'a [f64],
    driver: &'a str,
}

fn section(piece: Piece) -> Section {
    let feed = |(at, cable_length): &(f64, f64)| SizedFeed {
        at: m(*at),
        cable_length: m(*cable_length),
        core: Resistance::new::<ohm>(0.055),
        current: a(3.214),
        volts: v(23.41),
    };
    Section {
        start: m(piece.start),
        segments: piece.segments,
        length: m(piece.length),
        feeds: piece.feeds.iter().map(feed).collect(),
        cable: Arc::clone(piece.cable),
        ladder: ladder(piece.segments).into(),
        states: Vec::new().into(),
        power: w(piece.watts),
        channel_currents: piece.amperes.iter().map(|it| a(*it)).collect(),
        driver: piece.driver.to_owned(),
        beside: None,
        output: 1,
        joints: 0,
    }
}

fn figures(volts: f64, light: f64, shift: Option<f64>, works: bool) -> RunFigures {
    RunFigures {
        volts_least: v(volts),
        feed_drop: v(24.0 - volts),
        feed_drop_share: pc((24.0 - volts) / 0.24),
        light_least: pc(light),
        light_most: pc(98.7),
        evenness: pc(light / 0.987),
        darkest_at: m(9.175),
        colour_shift: shift,
        dark_segments: 0,
        works,
    }
}

fn state(lit: Lit, volts: f64, light: f64) -> StateFigures {
    StateFigures {
        lit,
        volts_least: v(volts),
        darkest_at: m(9.175),
        feed_drop: v(24.0 - volts),
        light_least: pc(light),
        light_most: pc(98.7),
        dark_segments: 0,
        current: a(7.2),
    }
}

fn reasons(arrangement: &str) -> Reasons {
    Reasons {
        arrangement: arrangement.to_owned(),
        cost: Some(dec("184.35")),
        runner_up: Some(("3 feeds".to_owned(), dec("201.10"))),
        deciding_limit: Some("one end: light drop 31.2 % (limit 10 %)".to_owned()),
        released: None,
    }
}

fn hall(project: &Project, goods: &Goods) -> SizedRun {
    SizedRun {
        run: Arc::clone(&project.runs[0]),
        cupboard: Arc::clone(&project.site.points[1]),
        segments: 368,
        length: m(18.4),
        sections: vec![
            section(Piece {
                start: 0.0,
                length: 9.2,
                segments: 184,
                feeds: &[(0.0, 6.0), (9.2, 15.2)],
                cable: &goods.feed_three,
                watts: 86.4,
                amperes: &[3.6, 3.6],
                driver: "D-01",
            }),
            section(Piece {
                start: 9.2,
                length: 9.2,
                segments: 184,
                feeds: &[(18.4, 21.0)],
                cable: &goods.feed_three,
                watts: 86.1,
                amperes: &[3.59, 3.59],
                driver: "D-02",
            }),
        ],
        states: vec![
            state(Lit::Warm, 23.2, 94.1),
            state(Lit::Cool, 23.1, 93.8),
            state(Lit::Both, 22.61, 91.34),
        ],
        figures: figures(22.61, 91.34, Some(1.72), true),
        reasons: reasons("2 sections"),
        unmet: None,
        cable_temperature: celsius(40.0),
        light_assumed: None,
    }
}

fn shelf(project: &Project, goods: &Goods) -> SizedRun {
    SizedRun {
        run: Arc::clone(&project.runs[1]),
        cupboard: Arc::clone(&project.site.points[2]),
        segments: 144,
        length: m(7.2),
        sections: vec![section(Piece {
            start: 0.0,
            length: 7.2,
            segments: 144,
            feeds: &[(0.0, 6.0), (7.2, 21.0)],
            cable: &goods.feed_two,
            watts: 51.3,
            amperes: &[2.14],
            driver: "D-03",
        })],
        states: vec![state(Lit::On, 23.02, 86.93)],
        figures: figures(23.02, 86.93, None, true),
        reasons: reasons("both ends"),
        unmet: None,
        cable_temperature: celsius(30.0),
        light_assumed: Some(assumption()),
    }
}

fn stair(project: &Project, goods: &Goods) -> SizedRun {
    let mut reasons = reasons("start");
    reasons.cost = None;
    reasons.runner_up = None;
    SizedRun {
        run: Arc::clone(&project.runs[2]),
        cupboard: Arc::clone(&project.site.points[2]),
        segments: 600,
        length: m(30.0),
        sections: vec![section(Piece {
            start: 0.0,
            length: 30.0,
            segments: 600,
            feeds: &[(0.0, 6.0)],
            cable: &goods.feed_two,
            watts: 0.0,
            amperes: &[0.0],
            driver: "",
        })],
        states: vec![state(Lit::On, f64::NAN, f64::NAN)],
        figures: figures(f64::NAN, f64::NAN, None, false),
        reasons,
        unmet: Some(Unmet {
            also: Vec::new(),
            limit: "driver output current".to_owned(),
            by: "18.0 A (limit 5.0 A)".to_owned(),
            cure: "reach its middle, or take a strip of less power".to_owned(),
        }),
        cable_temperature: celsius(30.0),
        light_assumed: Some(assumption()),
    }
}

fn drivers(project: &Project, goods: &Goods) -> Vec<SizedDriver> {
    let points = &project.site.points;
    let driver = |number: &str, pair: bool, section: usize, load: f64, usable: f64| SizedDriver {
        number: number.to_owned(),
        item: Arc::clone(if pair {
            &goods.pair_120
        } else {
            &goods.single_60
        }),
        cupboard: Arc::clone(&points[if pair { 1 } else { 2 }]),
        group: Arc::clone(&project.groups[if pair { 0 } else { 1 }]),
        outputs: vec![OutputUse {
            output: 1,
            channel_currents: if pair {
                vec![a(3.6), a(3.6)]
            } else {
                vec![a(2.14)]
            },
            sections: vec![(project.runs[if pair { 0 } else { 1 }].name.clone(), section)],
        }],
        load: w(load),
        usable: w(usable),
        load_share: pc(load / usable * 100.0),
        runs: vec![project.runs[if pair { 0 } else { 1 }].name.clone()],
        rooms: vec![Arc::clone(&points[if pair { 3 } else { 4 }])],
        half: None,
    };
    vec![
        driver("D-01", true, 1, 86.4, 120.0),
        driver("D-02", true, 2, 86.1, 120.0),
        driver("D-03", false, 1, 51.3, 60.0),
    ]
}

fn cables(project: &Project, goods: &Goods) -> Vec<FeedCable> {
    let cable = |n: usize, driver: &str, run: usize, section, at, length, known: bool| FeedCable {
        number: format!("F-{n:03}"),
        driver: driver.to_owned(),
        beside: None,
        run: project.runs[run].name.clone(),
        section,
        at: m(at),
        item: Arc::clone(if run == 0 {
            &goods.feed_three
        } else {
            &goods.feed_two
        }),
        length: m(length),
        current: a(3.214),
        ampacity: known.then(|| a(18.5)),
        ampacity_source: known.then_some(Source::Datasheet),
        drop: v(0.354),
    };
    vec![
        cable(1, "D-01", 0, 1, 0.0, 6.0, true),
        cable(2, "D-01", 0, 1, 9.2, 15.2, true),
        cable(3, "D-02", 0, 2, 18.4, 21.0, true),
        cable(4, "D-03", 1, 1, 0.0, 6.0, false),
        cable(5, "D-03", 1, 1, 7.2, 21.0, false),
        cable(6, "", 2, 1, 0.0, 6.0, false),
    ]
}
