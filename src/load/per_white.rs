//! A figure of a strip's channels: one for its only white, or one for warm and one for cool.

use super::desk::Desk;
use super::words::StripKind;
use super::written::{Reads, Span, Written};
use schemars::JsonSchema;
use serde::Deserialize;

/// One figure, or one for warm and one for cool white.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum PerWhite<T> {
    /// One figure.
    One(T),
    /// One for each white.
    Each(WarmAndCool<T>),
}

/// A figure for each white.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct WarmAndCool<T> {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// Of the warm channel.
    #[schemars(required)]
    warm: Option<T>,
    /// Of the cool channel.
    #[schemars(required)]
    cool: Option<T>,
}

impl<K> PerWhite<Written<K>> {
    /// Where it stands.
    pub fn place(&self) -> Span {
        match self {
            PerWhite::One(one) => one.at,
            PerWhite::Each(each) => each.place,
        }
    }
}

/// Whether one figure may stand for both whites.
#[derive(Clone, Copy, PartialEq)]
pub enum Alike {
    /// It would be unclear what it means.
    No,
    /// It holds for each.
    May,
}

/// The figures of the channels: of the warm (or only) one and of the cool one.
pub fn whites<K: Reads<Value: Copy>>(
    key: &Option<PerWhite<Written<K>>>,
    name: &str,
    kind: StripKind,
    alike: Alike,
    desk: &mut Desk,
) -> [Option<K::Value>; 2] {
    match (key, kind) {
        (None, _) => [None, None],
        (Some(PerWhite::One(one)), StripKind::SingleColour) => [desk.one(one), None],
        (Some(PerWhite::Each(each)), StripKind::SingleColour) => {
            let message =
                format!("a single colour strip has one `{name}`, not a warm and a cool one");
            desk.complain("per-white", message, each.place);
            [None, None]
        }
        (Some(PerWhite::One(one)), StripKind::TunableWhite) => {
            if alike == Alike::No {
                let message = format!(
                    "`{name}` of a tunable white strip is given for each white: \
                     `{{warm: …, cool: …}}`"
                );
                desk.complain("per-white", message, one.at);
            }
            let value = desk.one(one);
            [value, value]
        }
        (Some(PerWhite::Each(each)), StripKind::TunableWhite) => {
            [desk.read(&each.warm), desk.read(&each.cool)]
        }
    }
}
