//! The columns that a take-off can have: for each key of a run, the words by which headings name it.

/// How a cell of a column is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A name, or any text on one line.
    Name,
    /// A length above nothing.
    Length,
    /// A length that may be nothing; `n/a` where there is no way for cable.
    Distance,
    /// Yes or no.
    Flag,
    /// A temperature.
    Temperature,
    /// How a run is fed.
    Feed,
    /// As the project file writes it.
    Own,
    /// How many runs alike the row stands for.
    Count,
}

/// A column that a run is made from.
#[derive(Debug)]
pub struct Field {
    /// The key of the project file.
    pub key: &'static str,
    /// How its cells are read.
    pub kind: Kind,
    /// Headings that name it, in lower case without units and punctuation, `|` between them; its
    /// key is one too.
    words: &'static str,
}

impl Field {
    /// The headings that name it.
    pub fn words(&self) -> impl Iterator<Item = &'static str> {
        self.words.split('|').filter(|word| !word.is_empty())
    }
}

/// The key of the column that says how many runs alike a row stands for; no key of the project
/// file.
pub const COUNT: &str = "count";

/// Every column, in the order in which a run's keys are written.
pub const FIELDS: &[Field] = &[
    field(
        "run",
        Kind::Name,
        "run name|run no|run number|run id|run ref|run reference|name|ref|reference|tag|mark|\
         item|item no|item number|line|line no|position|pos|led run|strip run|tape run|\
         luminaire ref",
    ),
    field(
        "room",
        Kind::Name,
        "area|area room|room area|room name|space|location|zone|where|room location|\
         area name|room no",
    ),
    field(
        "strip",
        Kind::Name,
        "strip type|strip kind|strip id|strip ref|strip wanted|strip kind wanted|led strip|\
         led strip type|tape|tape type|led tape|led tape type|led type|product|type|fitting|\
         fitting type|luminaire|luminaire type|led|spec|ribbon|led ribbon",
    ),
    field(
        "length",
        Kind::Length,
        "len|lgth|lg|l|run length|strip length|tape length|length of run|length of strip|\
         led length|total length|measured length|length measured|linear length|lin m|lfd m|\
         lm|running length|run len|metres|meters|feet|metreage|footage|measure",
    ),
    field(
        "group",
        Kind::Name,
        "control group|dimming group|lighting group|circuit group|channel group|\
         controls wanted|controls|control|control zone|dims with|scene group|group name",
    ),
    field(
        "cupboard",
        Kind::Name,
        "driver cupboard|driver location|driver place|driver position|psu location|\
         psu position|power supply location|fed from|from|cabinet|driver cabinet|closet|\
         driver closet|enclosure|driver enclosure|riser|riser cupboard|\
         remote driver location|transformer location",
    ),
    field(
        "to_start",
        Kind::Distance,
        "cable to start|feed cable to start|route to start|cable route to start|\
         distance to start|start cable|cable start|lead length|feed length|feed cable length|\
         feed cable|cable length|cable run|home run|homerun|distance to driver|\
         driver distance|dist to driver|distance from driver|driver to strip|tail|lead|\
         cable to near end|near end cable",
    ),
    field(
        "to_end",
        Kind::Distance,
        "cable to end|feed cable to end|route to end|cable route to end|distance to end|\
         end cable|cable end|cable to far end|far end cable|to far end|far end",
    ),
    field(
        "reach_along",
        Kind::Flag,
        "middle reachable|reach middle|cable beside strip|cable along strip|cable alongside|\
         reachable along|middle accessible|mid feed possible|mid feed ok|centre reachable|\
         center reachable",
    ),
    field(
        "feed",
        Kind::Feed,
        "feed point|feed points|fed at|feed at|feed end|feed position|feeding|fed|feeds|\
         power feed",
    ),
    field(
        "cable",
        Kind::Name,
        "cable type|cable id|cable size|wire|wire type|wire size",
    ),
    field(
        "driver",
        Kind::Name,
        "driver type|driver id|driver ref|psu|psu type|power supply|transformer|led driver",
    ),
    field(
        "profile",
        Kind::Name,
        "extrusion|channel|profile type|profile id|aluminium profile|aluminum profile|\
         aluminium channel|aluminum channel|mounting profile|housing",
    ),
    field(
        "accessible",
        Kind::Flag,
        "access|can be reached|reachable|access later|accessible after|access once built|\
         accessible once built|maintenance access",
    ),
    field(
        "wet",
        Kind::Flag,
        "wet location|wet area|damp|wet place|wet damp|damp wet|outdoor wet|exposed to water",
    ),
    field(
        "ambient",
        Kind::Temperature,
        "ambient temperature|ambient temp|temperature|temp|room temperature",
    ),
    field(
        "in_insulation",
        Kind::Own,
        "in thermal insulation|cable in insulation|insulated stretch",
    ),
    field("exposed_to", Kind::Own, "exposure|exposed to"),
    field("bends", Kind::Own, ""),
    field(
        "view",
        Kind::Name,
        "seen with|seen together with|line of sight",
    ),
    field("bin", Kind::Name, "colour bin|color bin|bin code|batch bin"),
    field("limits", Kind::Own, "own limits"),
    field(
        COUNT,
        Kind::Count,
        "qty|quantity|no off|number off|off|nr|number of runs|how many|times|pcs|pieces|\
         no of|x",
    ),
];

const fn field(key: &'static str, kind: Kind, words: &'static str) -> Field {
    Field { key, kind, words }
}

/// The field that a heading names, units and punctuation taken off.
#[must_use]
pub fn named(heading: &str) -> Option<&'static Field> {
    let plain = plain(heading);
    FIELDS
        .iter()
        .find(|field| plain == plain_key(field.key) || field.words().any(|word| word == plain))
}

/// The field of a key.
#[must_use]
pub fn of_key(key: &str) -> Option<&'static Field> {
    FIELDS.iter().find(|field| field.key == key)
}

fn plain_key(key: &str) -> String {
    key.replace('_', " ")
}

/// A heading in lower case, with one space wherever punctuation or spaces stood.
#[must_use]
pub fn plain(heading: &str) -> String {
    let words = heading.split(|c: char| !c.is_alphanumeric());
    let words: Vec<String> = words
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect();
    words.join(" ")
}

/// A unit that a heading gives to its column.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FieldUnit {
    /// As the project file writes it.
    pub sign: &'static str,
    /// Of which kind of column it is the unit.
    pub temperature: bool,
}

/// Units of bare numbers: as written in headings, and as the project file writes them.
const UNITS: [(&[&str], FieldUnit); 6] = [
    (
        &[
            "m", "metre", "metres", "meter", "meters", "mtr", "mtrs", "lm", "lin m", "rm",
        ],
        length("m"),
    ),
    (&["cm", "centimetres", "centimeters"], length("cm")),
    (&["mm", "millimetres", "millimeters"], length("mm")),
    (&["ft", "feet", "foot", "lf", "lin ft", "'"], length("ft")),
    (&["in", "inch", "inches", "ins", "\""], length("in")),
    (
        &["°c", "degc", "deg c", "c", "celsius"],
        FieldUnit {
            sign: "°C",
            temperature: true,
        },
    ),
];

const FAHRENHEIT: (&[&str], FieldUnit) = (
    &["°f", "degf", "deg f", "f", "fahrenheit"],
    FieldUnit {
        sign: "°F",
        temperature: true,
    },
);

const fn length(sign: &'static str) -> FieldUnit {
    FieldUnit {
        sign,
        temperature: false,
    }
}

/// The unit that a word names.
#[must_use]
pub fn unit(word: &str) -> Option<FieldUnit> {
    let word = word.trim().trim_end_matches('.').to_lowercase();
    let units = UNITS.iter().chain(std::iter::once(&FAHRENHEIT));
    let mut units = units.filter(|(words, _)| words.contains(&word.as_str()));
    units.next().map(|(_, unit)| *unit)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeMap;

    #[test]
    fn ok_every_key_of_a_run_has_its_column() {
        let schema = crate::load::schema::project();
        let run = &schema["$defs"]["RunBlock"]["properties"];
        let keys: Vec<_> = run
            .as_object()
            .expect("keys")
            .keys()
            .map(String::as_str)
            .collect();
        assert!(keys.len() > 15, "{keys:?}");
        let missing: Vec<_> = keys.iter().filter(|key| of_key(key).is_none()).collect();
        assert!(missing.is_empty(), "no column for {missing:?}");
        let known = |field: &&Field| !keys.contains(&field.key) && field.key != COUNT;
        let strange: Vec<_> = FIELDS.iter().filter(known).collect();
        assert!(strange.is_empty(), "no key of a run: {strange:?}");
    }

    #[test]
    fn ok_no_word_names_two_columns_and_each_is_as_headings_are_compared() {
        let mut seen = BTreeMap::new();
        for field in FIELDS {
            for word in field.words() {
                assert_eq!(plain(word), word);
                assert_eq!(seen.insert(word, field.key), None, "{word}");
                assert!(
                    of_key(word).is_none_or(|own| own.key == field.key),
                    "{word}"
                );
            }
        }
    }
}
