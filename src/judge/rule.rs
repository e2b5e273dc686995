//! What a rule is, and what it is judged from.

use super::finding::Finding;
use crate::allocate::allocated::Allocation;
use crate::choose::sized::Sizing;
use crate::model::project::{Project, Severity};
use crate::norms::region::Region;
use crate::price::priced::Quote;

/// Everything a rule may look at.
#[derive(Debug, Clone, Copy)]
pub struct Evidence<'a> {
    /// The project.
    pub project: &'a Project,
    /// Runs, drivers, feed cables.
    pub sizing: &'a Sizing,
    /// Loops and circuits.
    pub allocation: &'a Allocation,
    /// Materials and totals.
    pub quote: &'a Quote,
}

/// What a rule is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Subject {
    /// Strip and its light.
    Strip,
    /// Drivers.
    Driver,
    /// Cable on the strip side.
    Cable,
    /// Control bus loops.
    Loop,
    /// Colour and scenes.
    Scene,
    /// Mains circuits.
    Circuit,
    /// Prices and data.
    Price,
}

impl Subject {
    /// The heading under which its rules are listed.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Subject::Strip => "Strip",
            Subject::Driver => "Driver",
            Subject::Cable => "Cable on the strip side",
            Subject::Loop => "Control bus loop",
            Subject::Scene => "Colour and scene",
            Subject::Circuit => "Mains circuit",
            Subject::Price => "Price and data",
        }
    }
}

/// A rule in full: what `explain` prints and what `check` runs.
#[derive(Debug)]
pub struct Rule {
    /// Its id; the name of its file with hyphens.
    pub id: &'static str,
    /// What it is about.
    pub subject: Subject,
    /// What it states, in one sentence.
    pub statement: &'static str,
    /// How the figure is found.
    pub formula: &'static str,
    /// The limit and its source in each region; a region that is not listed has no such limit.
    pub sources: &'static [(Region, &'static str)],
    /// How bad it is when broken.
    pub severity: Severity,
    /// Regions where it is worse or milder than that.
    pub severities: &'static [(Region, Severity)],
    /// What cures it, in general.
    pub remedy: &'static str,
    /// What every reader of a job that it touches is told.
    pub caution: Option<&'static str>,
    /// What it finds, one finding for each subject. `NotHere` findings may be left out.
    pub check: fn(&Evidence<'_>) -> Vec<Finding>,
}

impl Rule {
    /// How bad breaking it is in a region.
    #[must_use]
    pub fn severity_in(&self, region: Region) -> Severity {
        let own = self.severities.iter().find(|(place, _)| *place == region);
        own.map_or(self.severity, |(_, severity)| *severity)
    }

    /// The limit's source in a region; `None` when the region has no such limit.
    #[must_use]
    pub fn source(&self, region: Region) -> Option<&'static str> {
        self.sources
            .iter()
            .find(|(place, _)| *place == region)
            .map(|(_, source)| *source)
    }
}

/// The same source in every region.
#[must_use]
pub const fn everywhere(source: &'static str) -> [(Region, &'static str); 3] {
    [
        (Region::Iec, source),
        (Region::NorthAmerica, source),
        (Region::AusNz, source),
    ]
}
