//! A strip case from the command line.

use super::StripArgs;
use crate::command::Failure;
use crate::diagnostic::Place;
use crate::load::measure::{
    Ambient, CableSize, CutLength, Distance, Extent, LowVoltage, LumensPerLength, Share,
    WattsPerLength, White,
};
use crate::load::strip_case::{CaseCable, CaseCores, CaseFeed, RailOhms, StripCase, bare_strip};
use crate::load::words::{StripKind, Word};
use crate::load::written::Reads;
use crate::model::assumption::Assumption;
use crate::model::cable::Conductor;
use crate::model::strip::{Channel, Channels, LightSource, RailsKnown};
use crate::quantity::conductor::ConductorSize;
use crate::quantity::number::real;
use crate::quantity::{Length, Ratio, ResistancePerLength};
use crate::solve::case;
use crate::solve::longest::Arrangement;

/// A case and what was taken for granted because no flag said it.
#[derive(Debug)]
pub struct Flagged {
    /// The case.
    pub case: StripCase,
    /// What was taken for granted.
    pub stood_in: Vec<Assumption>,
}

/// Flags as they are read: those left out are noted with what stands in.
struct Reader<'a> {
    args: &'a StripArgs,
    stood_in: Vec<Assumption>,
}

/// The case that the flags describe.
///
/// # Errors
/// When a flag is missing or can't be read.
pub fn read(args: &StripArgs) -> Result<Flagged, Failure> {
    let mut reader = Reader {
        args,
        stood_in: Vec::new(),
    };
    let case = reader.case()?;
    Ok(Flagged {
        case,
        stood_in: reader.stood_in,
    })
}

impl Reader<'_> {
    fn case(&mut self) -> Result<StripCase, Failure> {
        let args = self.args;
        let nominal = self.or::<LowVoltage>("voltage", &args.voltage, "24 V")?;
        let supply = optional::<LowVoltage>("supply", &args.supply)?.unwrap_or(nominal);
        let cut = self.or::<CutLength>("cut", &args.cut, "50 mm")?;
        let length = match optional::<Extent>("length", &args.length)? {
            Some(length) => length,
            None if args.longest => cut,
            None => return Err(missing("length", "12 m")),
        };
        let kind = self.or::<Word<StripKind>>("kind", &args.kind, "single colour")?;
        let source = &args.light_source;
        let source = self.or::<Word<LightSource>>("light-source", source, "resistor")?;
        let channels = self.channels(kind)?;
        let rails = self.rails(channels.count())?;
        let cores = self.cable()?;
        let feeds = places(&args.feed, length, cut)?;
        let feeds = feeds.into_iter().map(|at| CaseFeed {
            at,
            cores: cores.clone(),
        });
        Ok(StripCase {
            supply,
            length,
            feeds: feeds.collect(),
            strip: bare_strip(nowhere(), channels, (nominal, cut), source, rails),
        })
    }

    fn channels(&mut self, kind: StripKind) -> Result<Channels, Failure> {
        let args = self.args;
        let power = two::<WattsPerLength>("power", &args.power)?;
        let flux = two::<LumensPerLength>("flux", &args.flux)?;
        let white = two::<White>("white", &args.white)?;
        let starts = two::<LowVoltage>("light-starts-at", &args.light_starts_at)?;
        let from = two::<LowVoltage>("regulated-from", &args.regulated_from)?;
        let [first, second] = power;
        let channel = |of: usize, power| Channel {
            power,
            flux: flux.get(of).copied().flatten(),
            white: white.get(of).copied().flatten(),
            light_starts_at: starts.get(of).copied().flatten(),
            regulated_from: from.get(of).copied().flatten(),
        };
        let missing = || missing("power", "14.4 W/m");
        let first = first.ok_or_else(missing)?;
        Ok(match kind {
            StripKind::SingleColour => Channels::SingleColour(channel(0, first)),
            StripKind::TunableWhite => Channels::TunableWhite {
                warm: channel(0, first),
                cool: channel(1, second.ok_or_else(missing)?),
            },
        })
    }

    /// `--rails` is plus and return together; each is taken for half of it.
    fn rails(&mut self, channels: usize) -> Result<RailsKnown, Failure> {
        let args = self.args;
        let whole = optional::<RailOhms>("rails", &args.rails)?;
        let common = optional::<RailOhms>("rail-common", &args.rail_common)?;
        let [first, second] = two::<RailOhms>("rail-return", &args.rail_return)?;
        let known = |common: ResistancePerLength, returns: [Option<ResistancePerLength>; 2]| {
            let returns = returns.into_iter().flatten().take(channels).collect();
            RailsKnown::Resistance { common, returns }
        };
        match (whole, common, first) {
            (None, None, None) => Ok(RailsKnown::Unknown),
            (Some(whole), None, None) => {
                self.assume("rail-common", "plus and return rails of equal resistance");
                Ok(known(0.5 * whole, [Some(0.5 * whole); 2]))
            }
            (None, Some(common), Some(_)) => Ok(known(common, [first, second])),
            _ => Err(Failure::saying(
                "give the rails either as `--rails` (plus and return together) or as \
                 `--rail-common` and `--rail-return`",
            )),
        }
    }

    fn cable(&mut self) -> Result<CaseCores, Failure> {
        let args = self.args;
        let length = self.or::<Distance>("cable-length", &args.cable_length, "0 m")?;
        let size = self.or::<CableSize>("cable-size", &args.cable_size, "1.5 mm²")?;
        let made = match size {
            ConductorSize::Metric(_) => "class 5",
            ConductorSize::Awg(_) => "stranded",
        };
        let conductor = self.or::<Word<Conductor>>("conductor", &args.conductor, made)?;
        let hot = &args.cable_temperature;
        let temperature = self.or::<Ambient>("cable-temperature", hot, "70 °C")?;
        Ok(CaseCores::Cable(CaseCable {
            length,
            size,
            return_size: size,
            conductor,
            temperature,
        }))
    }

    /// A flag's value, or what stands in for it.
    fn or<K: Reads>(
        &mut self,
        flag: &'static str,
        given: &Option<String>,
        otherwise: &str,
    ) -> Result<K::Value, Failure> {
        if given.is_none() {
            self.assume(flag, &format!("{} {otherwise}", flag.replace('-', " ")));
        }
        one::<K>(flag, given.as_deref().unwrap_or(otherwise))
    }

    fn assume(&mut self, flag: &str, statement: &str) {
        self.stood_in.push(Assumption {
            subject: "strip".to_owned(),
            statement: statement.to_owned(),
            missing: format!("`--{flag}`"),
            supplied_by: "the command line".to_owned(),
        });
    }
}

fn nowhere() -> Place {
    Place {
        file: "command line".into(),
        line: 1,
        column: 1,
    }
}

fn one<K: Reads>(flag: &str, text: &str) -> Result<K::Value, Failure> {
    K::read(text.trim()).map_err(|unread| Failure::saying(format!("--{flag}: {}", unread.message)))
}

fn missing(flag: &str, example: &str) -> Failure {
    Failure::saying(format!(
        "`--{flag}` is missing: give a case with `--file`, or the strip by flags, as in \
         `--{flag} \"{example}\"`"
    ))
}

fn optional<K: Reads>(flag: &str, given: &Option<String>) -> Result<Option<K::Value>, Failure> {
    given
        .as_deref()
        .map(|text| one::<K>(flag, text))
        .transpose()
}

/// The figures of the first and of the second channel.
type Figures<K> = [Option<<K as Reads>::Value>; 2];

/// One figure for every channel, or two parted by a comma: of the warm and of the cool channel.
fn two<K: Reads<Value: Copy>>(flag: &str, given: &Option<String>) -> Result<Figures<K>, Failure> {
    match given
        .as_deref()
        .map(|text| text.split_once(',').ok_or(text))
    {
        None => Ok([None, None]),
        Some(Err(text)) => one::<K>(flag, text).map(|one| [Some(one); 2]),
        Some(Ok((warm, cool))) => Ok([Some(one::<K>(flag, warm)?), Some(one::<K>(flag, cool)?)]),
    }
}

/// `start`, `end`, `both ends`, `middle` or `at 0 m, 6 m`.
fn places(given: &Option<String>, length: Length, cut: Length) -> Result<Vec<Length>, Failure> {
    let text = given.as_deref().unwrap_or("start");
    let segments = case::segments(length, cut);
    let of = |arrangement: Arrangement| {
        let cuts = arrangement.cuts(segments).into_iter();
        cuts.map(|n| cut * real(n)).collect()
    };
    match text {
        "start" => Ok(of(Arrangement::Start)),
        "both ends" => Ok(of(Arrangement::BothEnds)),
        "middle" => Ok(of(Arrangement::Middle)),
        "end" => Ok(vec![cut * real(segments)]),
        _ => {
            let list = text.strip_prefix("at ").ok_or_else(|| {
                Failure::saying(format!(
                    "--feed: `{text}` is not a way of feeding: it is start, end, both ends, \
                     middle, or places as in `at 0 m, 6 m`"
                ))
            })?;
            list.split(',')
                .map(|place| one::<Distance>("feed", place))
                .collect()
        }
    }
}

/// The light drop limit.
///
/// # Errors
/// When the flag can't be read or is no share.
pub fn limit(args: &StripArgs) -> Result<Option<Ratio>, Failure> {
    let limit = optional::<Share>("limit", &args.limit)?;
    if limit.is_some_and(|limit| limit.value >= 1.0) {
        return Err(Failure::saying("`--limit` must be less than 100 %"));
    }
    Ok(limit)
}
