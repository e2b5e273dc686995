//! Light, volts and white of every segment along a run, from its solved states.

use super::MarkKind;
use crate::choose::sized::{Section, SizedRun};
use crate::model::strip::Strip;
use crate::present::measured::{kelvin, metres, volts};
use crate::quantity::number::{real, whole};
use crate::solve::colour::{Chromaticity, White, mix};
use crate::solve::strip::{ChannelState, Lit};

/// A channel along the run, a value for each segment.
#[derive(Debug, Clone, PartialEq)]
pub struct Track {
    /// Its name: `white`, or `warm` and `cool`.
    pub name: &'static str,
    /// Light in % of the strip's own.
    pub light: Vec<f64>,
    /// Volts across the segment.
    pub volts: Vec<f64>,
}

/// What happens along a run with all its channels on, as far as its driver has them on at once.
#[derive(Debug, Clone, PartialEq)]
pub struct Profile {
    /// Middle of each segment, in m from the run's start.
    pub at_m: Vec<f64>,
    /// Segments of each section, in order.
    pub sections: Vec<usize>,
    /// The channels.
    pub tracks: Vec<Track>,
    /// Colour temperature of both channels mixed at full, in K; empty for a single colour and
    /// where the whites are not known.
    pub white: Vec<f64>,
    /// Distance Duv of that white from the Planckian locus (CIE 1960 uv); empty where `white` is.
    pub duv: Vec<f64>,
    /// Places of interest, in order along the run.
    pub places: Vec<Place>,
}

/// A place of interest.
#[derive(Debug, Clone, PartialEq)]
pub struct Place {
    /// From the run's start, in m.
    pub at_m: f64,
    /// What is there.
    pub kind: MarkKind,
    /// Section, from 1.
    pub section: usize,
    /// Light of the darker channel, in %.
    pub light: f64,
    /// Volts of that channel's segment.
    pub segment_volts: f64,
    /// Volts there: at a feed those at the feed, least over all states; elsewhere the segment's.
    pub volts: f64,
    /// White there, in K.
    pub white: Option<f64>,
    /// Its distance Duv from the Planckian locus.
    pub duv: Option<f64>,
}

impl Profile {
    /// The profile of a run; `None` when a section has no working point.
    #[must_use]
    pub fn of(sized: &SizedRun) -> Option<Profile> {
        let names = sized.run.strip.channels.names();
        let tracks: Option<Vec<Track>> = names
            .iter()
            .enumerate()
            .map(|(channel, name)| track(&sized.sections, channel, name))
            .collect();
        let mut profile = Profile {
            at_m: middles(&sized.sections),
            sections: sized.sections.iter().map(|one| one.segments).collect(),
            tracks: tracks?,
            white: Vec::new(),
            duv: Vec::new(),
            places: Vec::new(),
        };
        let whites = whites(&sized.run.strip, &profile.tracks).unwrap_or_default();
        let whites = whites.into_iter();
        (profile.white, profile.duv) = whites.map(|it| (kelvin(it.temperature), it.duv)).unzip();
        profile.places = places(sized, &profile);
        Some(profile)
    }

    /// The darker channel's light in each segment.
    fn darker(&self, segment: usize) -> Option<(f64, f64)> {
        self.tracks
            .iter()
            .filter_map(|track| {
                let light = track.light.get(segment)?;
                Some((*light, *track.volts.get(segment)?))
            })
            .min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)))
    }
}

/// The state in which a channel is drawn: with the other one on, where that occurs.
fn drawn(section: &Section, channel: usize) -> Option<&ChannelState> {
    let alone = if channel == 1 { Lit::Cool } else { Lit::Warm };
    [Lit::On, Lit::Both, alone].iter().find_map(|lit| {
        let state = section.states.iter().find(|state| state.lit == *lit)?;
        state.channels.iter().find(|one| one.channel == channel)
    })
}

fn track(sections: &[Section], channel: usize, name: &'static str) -> Option<Track> {
    let mut track = Track {
        name,
        light: Vec::new(),
        volts: Vec::new(),
    };
    for section in sections {
        let state = drawn(section, channel)?;
        track
            .light
            .extend(state.light.iter().map(|share| 100.0 * share));
        track.volts.extend(&state.volts);
    }
    Some(track)
}

fn middles(sections: &[Section]) -> Vec<f64> {
    let of_one = |section: &Section| {
        let (start, segment) = (metres(section.start), metres(section.ladder.segment));
        (0..section.segments)
            .map(|n| start + segment * (real(n) + 0.5))
            .collect::<Vec<_>>()
    };
    sections.iter().flat_map(of_one).collect()
}

/// The white of both channels mixed; `None` unless there are two and their whites and light are
/// known, and where a segment gives no white at all.
fn whites(strip: &Strip, tracks: &[Track]) -> Option<Vec<White>> {
    let channels = strip.channels.list();
    let ([warm, cool], [warm_track, cool_track]) = (channels.as_slice(), tracks) else {
        return None;
    };
    let flux = [warm.flux?.value, cool.flux?.value];
    let [warm, cool] = [warm.white?, cool.white?].map(Chromaticity::black_body);
    let lights = warm_track.light.iter().zip(&cool_track.light);
    lights
        .map(|(a, b)| {
            let (a, b) = (a * flux[0], b * flux[1]);
            mix(warm, cool, b / (a + b)).white()
        })
        .collect()
}

fn places(sized: &SizedRun, profile: &Profile) -> Vec<Place> {
    let mut places: Vec<Place> = Vec::new();
    let mut first = 0;
    for (index, section) in sized.sections.iter().enumerate() {
        for feed in &section.feeds {
            let before = (feed.at - section.start) / section.ladder.segment;
            let inside = whole(before.value + 0.5).unwrap_or(0);
            let segment = first + inside.min(section.segments.saturating_sub(1));
            let (at, section) = (metres(feed.at), index + 1);
            let place = place(profile, MarkKind::Feed, at, section, segment);
            places.extend(place.map(|place| Place {
                volts: volts(feed.volts),
                ..place
            }));
        }
        first += section.segments;
    }
    places.extend(darkest(profile));
    places.extend(end(sized, profile, &places));
    places.sort_by(|a, b| a.at_m.total_cmp(&b.at_m).then(a.kind.cmp(&b.kind)));
    places
}

fn place(
    profile: &Profile,
    kind: MarkKind,
    at_m: f64,
    section: usize,
    segment: usize,
) -> Option<Place> {
    let (light, volts) = profile.darker(segment)?;
    Some(Place {
        at_m,
        kind,
        section,
        light,
        segment_volts: volts,
        volts,
        white: profile.white.get(segment).copied(),
        duv: profile.duv.get(segment).copied(),
    })
}

/// The segment with the least volts, which is the darkest; the first of equals.
fn darkest(profile: &Profile) -> Option<Place> {
    let least = (0..profile.at_m.len())
        .filter_map(|segment| Some((segment, profile.darker(segment)?)))
        .min_by(|(_, a), (_, b)| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)))?;
    let (segment, _) = least;
    let at = *profile.at_m.get(segment)?;
    let section = section_of(profile, segment);
    place(profile, MarkKind::Darkest, at, section, segment)
}

fn section_of(profile: &Profile, segment: usize) -> usize {
    let mut end = 0;
    let before = profile.sections.iter().take_while(|segments| {
        end += **segments;
        end <= segment
    });
    before.count() + 1
}

/// The end, where neither a feed nor the darkest segment is.
fn end(sized: &SizedRun, profile: &Profile, places: &[Place]) -> Option<Place> {
    let at = metres(sized.length);
    let segment = profile.at_m.len().checked_sub(1)?;
    let reach = metres(sized.run.strip.cut);
    let taken = |place: &Place| (at - place.at_m).abs() < reach;
    if places.iter().any(taken) {
        return None;
    }
    place(profile, MarkKind::End, at, profile.sections.len(), segment)
}
