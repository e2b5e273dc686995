//! A strip case's answer as JSON.

use super::answer::Answer;
use crate::model::assumption::Assumption;
use crate::present::json::Tolerance;
use crate::quantity::Ratio;
use crate::quantity::number::real;
use crate::solve::case::Laid;
use crate::solve::colour::White;
use crate::solve::longest::Longest;
use crate::solve::mix::{self, MixAlong};
use crate::solve::strip::{ChannelState, FeedCurrents, Ladder, Lit, State};
use serde_json::{Map, Value, json};
use uom::si::electric_current::ampere;
use uom::si::power::watt;
use uom::si::thermodynamic_temperature::kelvin;

/// All of an answer.
#[must_use]
pub fn of(answer: &Answer, cautions: &[String]) -> Value {
    let mut value = states(&answer.laid, &answer.states);
    let Some(object) = value.as_object_mut() else {
        return value;
    };
    let percent = |share: Ratio| 100.0 * share.value;
    let segment = answer.laid.ladder.segment.value;
    let tried = answer.tried.iter().map(|tried| {
        json!({
            "fed": tried.way.name,
            "at_m": tried.way.cuts.iter().map(|cut| segment * real(*cut)).collect::<Vec<_>>(),
            "light_drop_percent": percent(tried.drop),
            "keeps_limit": answer.laid.model.is_known().then_some(tried.keeps),
        })
    });
    let longest = answer.longest.iter().map(|(arrangement, longest)| {
        let segments = match longest {
            Longest::None => Some(0),
            Longest::Segments(segments) => Some(*segments),
            Longest::Unbounded => None,
        };
        json!({
            "fed": arrangement.name(),
            "segments": segments,
            "length_m": segments.map(|segments| segment * real(segments)),
        })
    });
    let by_cable = answer.by_cable.iter().map(|by| {
        let drops: Map<String, Value> = answer
            .cable_ways
            .iter()
            .zip(&by.drops)
            .map(|(way, drop)| (way.name.replace(' ', "_"), percent(*drop).into()))
            .collect();
        json!({"size": by.size.to_string(), "light_drop_percent": drops})
    });
    object.insert("light_drop_percent".to_owned(), percent(answer.drop).into());
    object.insert("known".to_owned(), answer.laid.model.is_known().into());
    object.insert(
        "limit_percent".to_owned(),
        percent(answer.limit.value).into(),
    );
    object.insert("tried".to_owned(), tried.collect());
    object.insert("longest".to_owned(), longest.collect());
    object.insert("by_cable".to_owned(), by_cable.collect());
    let within = answer.within.as_ref().map(Tolerance::of);
    object.insert("tolerance".to_owned(), json!(within));
    let assumed = answer.stood_in.iter().chain(&answer.assumptions);
    object.insert("assumptions".to_owned(), assumed.map(assumption).collect());
    object.insert("cautions".to_owned(), cautions.into());
    value
}

/// Every state of the strip.
#[must_use]
pub fn states(laid: &Laid, states: &[(Lit, Option<State>)]) -> Value {
    json!({
        "format": 1,
        "works": states.iter().all(|(_, state)| state.is_some()),
        "segments": laid.ladder.segments,
        "states": states.iter().map(|(lit, found)| state(laid, *lit, found.as_ref())).collect::<Vec<_>>(),
    })
}

fn assumption(assumption: &Assumption) -> Value {
    json!({
        "subject": assumption.subject,
        "statement": assumption.statement,
        "missing": assumption.missing,
        "supplied_by": assumption.supplied_by,
    })
}

/// The names of a strip's channels.
pub(super) fn names(ladder: &Ladder) -> &'static [&'static str] {
    if ladder.channels.len() == 1 {
        &["white"]
    } else {
        &["warm", "cool"]
    }
}

fn state(laid: &Laid, lit: Lit, found: Option<&State>) -> Value {
    let Some(found) = found else {
        return json!({"lit": lit.name(), "works": false, "feeds": [], "channels": [], "mix": null});
    };
    let ladder = &laid.ladder;
    let channels = found.channels.iter().map(|state| channel(ladder, state));
    json!({
        "lit": lit.name(),
        "works": true,
        "source_a": found.source_current.get::<ampere>(),
        "source_w": found.source_power.get::<watt>(),
        "strip_w": found.strip_power.get::<watt>(),
        "cable_loss_w": found.cable_loss.get::<watt>(),
        "rail_loss_w": found.rail_loss.get::<watt>(),
        "feeds": feeds(ladder, lit, found),
        "channels": channels.collect::<Vec<_>>(),
        "mix": along(laid, found).map_or(Value::Null, |along| mixed(&along)),
    })
}

fn feeds(ladder: &Ladder, lit: Lit, state: &State) -> Vec<Value> {
    let one = |cut: usize, feed: &FeedCurrents| {
        let names = lit
            .channels()
            .iter()
            .filter_map(|channel| names(ladder).get(*channel));
        let returns: Map<String, Value> = names
            .zip(&feed.returns)
            .map(|(name, current)| ((*name).to_owned(), current.get::<ampere>().into()))
            .collect();
        json!({
            "at_m": ladder.segment.value * real(cut),
            "plus_a": feed.plus.get::<ampere>(),
            "return_a": returns,
        })
    };
    let feeds = ladder.feeds.iter().zip(&state.feeds);
    feeds
        .map(|(feed, currents)| one(feed.cut, currents))
        .collect()
}

fn channel(ladder: &Ladder, state: &ChannelState) -> Value {
    let percent = |share: f64| 100.0 * share;
    json!({
        "channel": names(ladder).get(state.channel),
        "volts_least_v": state.least_volts(),
        "volts_most_v": state.most_volts(),
        "volts_end_v": state.end_volts(),
        "current_a": state.current.get::<ampere>(),
        "current_end_a": state.amperes.last(),
        "light_least_percent": percent(state.least_light()),
        "light_most_percent": percent(state.most_light()),
        "light_end_percent": percent(state.end_light()),
        "evenness_percent": state.evenness().map(percent),
        "dark_segments": state.dark_segments(),
    })
}

/// The mix along a strip with both channels on; `None` in other states, without light, and where
/// the channels' light is not known.
pub(super) fn along(laid: &Laid, state: &State) -> Option<MixAlong> {
    let [warm, cool] = state.channels.as_slice() else {
        return None;
    };
    mix::along(laid.pair.as_ref()?, &warm.light, &cool.light, [1.0, 1.0])
}

fn mixed(along: &MixAlong) -> Value {
    let white = |pick: fn(&mix::WhiteAlong) -> Option<White>| along.whites.as_ref().and_then(pick);
    let k = |white: Option<White>| white.map(|white| white.temperature.get::<kelvin>());
    let duv = |white: Option<White>| white.map(|white| white.duv);
    let warmest = white(|whites| whites.warmest);
    let coolest = white(|whites| whites.coolest);
    let nominal = white(|whites| whites.nominal);
    json!({
        "warm_share_least_percent": 100.0 * along.warm_least,
        "warm_share_most_percent": 100.0 * along.warm_most,
        "warm_share_nominal_percent": 100.0 * along.warm_nominal,
        "white_least_k": k(warmest),
        "white_most_k": k(coolest),
        "white_nominal_k": k(nominal),
        "white_least_duv": duv(warmest),
        "white_most_duv": duv(coolest),
        "white_nominal_duv": duv(nominal),
        "shift_steps": along.whites.map(|whites| whites.most_steps),
        "shift_ends_steps": along.whites.map(|whites| whites.ends_steps),
        "dark_segments": along.dark,
    })
}
