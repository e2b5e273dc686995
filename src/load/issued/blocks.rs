//! The blocks of an issued record.

use crate::load::format::FormatNumber;
use crate::load::measure::{Distance, Extent};
use crate::load::plain::{Count, Currency, Day, Flag, Name, Price, Text};
use crate::load::written::{Reads, Unread, Written};
use schemars::{JsonSchema, Schema, json_schema};
use serde::Deserialize;

/// A whole number from 0.
#[derive(Debug)]
pub(super) struct Whole;

impl Reads for Whole {
    type Value = usize;
    const NAME: &'static str = "Whole";

    fn what() -> String {
        "a whole number".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({"type": "integer", "minimum": 0, "maximum": 1_000_000})
    }

    fn read(text: &str) -> Result<usize, Unread> {
        let number = text.parse::<usize>().ok();
        number.filter(|number| *number <= 1_000_000).ok_or_else(|| {
            let message = format!("`{text}` is not a whole number from 0 to 1000000");
            Unread::new("not-a-count", message)
        })
    }
}

/// Declares the blocks of a record, every key of which is needed unless it is an `Option`.
macro_rules! blocks {
    ($($(#[$note:meta])* $name:ident { $($(#[$key:meta])* $field:ident: $kind:ty,)* })*) => {$(
        $(#[$note])*
        #[derive(Debug, Deserialize, JsonSchema)]
        #[schemars(deny_unknown_fields)]
        pub(super) struct $name {
            $($(#[$key])* pub $field: $kind,)*
        }
    )*};
}

blocks! {
    /// An issued record. The program writes it; nothing in it is to be changed by hand.
    RecordFile {
        /// The format of this file.
        #[expect(dead_code, reason = "checked before the rest is read; here for the schema")]
        format: Written<FormatNumber>,
        /// What was issued.
        issued: HeadBlock,
        /// Runs as they were fed.
        #[serde(default)]
        runs: Vec<RunBlock>,
        /// Drivers.
        #[serde(default)]
        drivers: Vec<DriverBlock>,
        /// Feed cables.
        #[serde(default)]
        cables: Vec<CableBlock>,
        /// Loops.
        #[serde(default)]
        loops: Vec<LoopBlock>,
        /// Circuits.
        #[serde(default)]
        circuits: Vec<CircuitBlock>,
        /// What it came to.
        prices: PricesBlock,
        /// Digests of the above.
        #[expect(dead_code, reason = "held against the text before the rest is read")]
        guard: GuardBlock,
    }
    /// What was issued.
    HeadBlock {
        /// Title of the project.
        project: Written<Text>,
        /// Reference of the project.
        reference: Option<Written<Text>>,
        /// The revision.
        revision: Written<Text>,
        /// The project's date.
        date: Option<Written<Day>>,
        /// Which issue of the project this is, from 1.
        number: Written<Count>,
        /// Digest of the project file and its catalogues.
        inputs: Written<Text>,
        /// Broken rules of severity fault.
        faults: Written<Whole>,
        /// Highest numbers given.
        highest: HighestBlock,
    }
    /// Highest numbers given, by kind.
    HighestBlock {
        /// Of drivers.
        drivers: Written<Whole>,
        /// Of feed cables.
        cables: Written<Whole>,
        /// Of loops.
        loops: Written<Whole>,
        /// Of controllers.
        controllers: Written<Whole>,
        /// Of circuits.
        circuits: Written<Whole>,
    }
    /// A run.
    RunBlock {
        /// Its name.
        run: Written<Name>,
        /// Its room.
        room: Written<Name>,
        /// Its strip.
        strip: Written<Name>,
        /// Its group.
        group: Written<Name>,
        /// Its length.
        length: Written<Extent>,
        /// Its cupboard.
        cupboard: Written<Name>,
        /// The arrangement.
        feed: Written<Text>,
        /// Its sections.
        sections: Vec<SectionBlock>,
    }
    /// A section of a run.
    SectionBlock {
        /// Where it begins.
        start: Written<Distance>,
        /// Its length.
        length: Written<Extent>,
        /// Its cable's item.
        cable: Written<Name>,
        /// Its driver; left out when there is none.
        driver: Option<Written<Name>>,
        /// The unit on its cool channel, where two stand in for one driver.
        beside: Option<Written<Name>>,
        /// Output of that driver.
        output: Written<Whole>,
        /// Places of its feeds.
        feeds: Vec<Written<Distance>>,
    }
    /// A driver.
    DriverBlock {
        /// Its number.
        driver: Written<Name>,
        /// Its item.
        item: Written<Name>,
        /// Its cupboard.
        cupboard: Written<Name>,
        /// Its group.
        group: Written<Name>,
    }
    /// A feed cable.
    CableBlock {
        /// Its number.
        cable: Written<Name>,
        /// The driver it comes from; left out when there is none.
        driver: Option<Written<Name>>,
        /// The run it feeds.
        run: Written<Name>,
        /// Section of that run.
        section: Written<Count>,
        /// Feed of that section.
        feed: Written<Count>,
        /// Its item.
        item: Written<Name>,
        /// Its length.
        length: Written<Distance>,
    }
    /// A loop.
    LoopBlock {
        /// Its name.
        #[serde(rename = "loop")]
        name: Written<Name>,
        /// Its controller.
        controller: Option<Written<Name>>,
        /// That controller's item.
        controller_item: Option<Written<Name>>,
        /// Its port on the controller.
        port: Written<Count>,
        /// Item of its supply.
        supply: Option<Written<Name>>,
        /// Where it begins.
        at: Written<Name>,
        /// Item of its cable.
        cable: Option<Written<Name>>,
        /// Its groups.
        #[serde(default)]
        groups: Vec<NumberBlock>,
        /// Its scenes.
        #[serde(default)]
        scenes: Vec<NumberBlock>,
        /// Its members.
        #[serde(default)]
        members: Vec<MemberBlock>,
    }
    /// A group's or scene's number.
    NumberBlock {
        /// The number.
        number: Written<Whole>,
        /// Its name.
        name: Written<Name>,
    }
    /// A member of a loop.
    MemberBlock {
        /// Its name.
        device: Written<Text>,
        /// Whether it is a control device.
        #[serde(default)]
        control_device: Option<Written<Flag>>,
        /// Its addresses.
        #[serde(default)]
        addresses: Vec<Written<Whole>>,
    }
    /// A circuit.
    CircuitBlock {
        /// Its name.
        circuit: Written<Name>,
        /// Its panel.
        panel: Option<Written<Name>>,
        /// Its breaker.
        breaker: Written<Name>,
        /// Its phase.
        phase: Written<Count>,
        /// Item of its cable.
        cable: Option<Written<Name>>,
        /// Its drivers.
        #[serde(default)]
        drivers: Vec<Written<Name>>,
        /// Its controllers and supplies.
        #[serde(default)]
        supplies: Vec<Written<Text>>,
    }
    /// What it came to.
    PricesBlock {
        /// Currency.
        currency: Written<Currency>,
        /// Net total.
        net: Written<Price>,
        /// Lines.
        #[serde(default)]
        lines: Vec<LineBlock>,
    }
    /// A priced line.
    LineBlock {
        /// Item or work.
        item: Written<Text>,
        /// Description.
        description: Written<Text>,
        /// How much.
        quantity: Written<Price>,
        /// Price.
        price: Option<Written<Price>>,
    }
    /// Digests of what stands above.
    GuardBlock {
        /// Of the whole.
        #[expect(dead_code, reason = "held against the text before the rest is read")]
        contents: Written<Text>,
        /// Of each line.
        #[expect(dead_code, reason = "held against the text before the rest is read")]
        lines: Vec<Written<Text>>,
    }
}
