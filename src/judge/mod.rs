//! Rules: one file a rule in `rules/`, a table of them here; verdicts.
//!
//! Knows nothing of how verdicts look.

pub mod catalogue;
mod circuits;
mod cupboards;
pub mod cure;
mod feeds;
pub mod finding;
mod house;
mod items;
mod loops;
mod remedy;
pub mod rule;
mod rules;
mod settings;
mod shared_ways;
mod untold;
pub mod verdict;
mod views;

#[cfg(test)]
mod sample;

use finding::Finding;
use rayon::prelude::*;
use rule::{Evidence, Rule, Subject};
use std::collections::BTreeSet;
use verdict::{Outcome, Verdict};

/// Every rule, by subject, in the order in which they are judged and listed.
pub static RULES: &[&Rule] = &[
    &rules::strip_light_drop::RULE,
    &rules::strip_light_evenness::RULE,
    &rules::colour_shift_along::RULE,
    &rules::feed_voltage_drop::RULE,
    &rules::strip_end_minimum_volts::RULE,
    &rules::strip_run_length::RULE,
    &rules::strip_rail_current::RULE,
    &rules::common_rail_worst_case::RULE,
    &rules::connector_current::RULE,
    &rules::strip_overvoltage::RULE,
    &rules::strip_ambient::RULE,
    &rules::profile_heat::RULE,
    &rules::diffuser_pitch::RULE,
    &rules::bend_radius::RULE,
    &rules::connector_count::RULE,
    &rules::mixed_strip_in_view::RULE,
    &rules::feed_polarity_three_core::RULE,
    &rules::light_beats_volts::RULE,
    &rules::strip_ip::RULE,
    &rules::cut_increment::RULE,
    &rules::end_gap::RULE,
    &rules::reel_joint::RULE,
    &rules::driver_overload::RULE,
    &rules::driver_load_share::RULE,
    &rules::driver_least_load::RULE,
    &rules::driver_total_power_both_whites::RULE,
    &rules::driver_channel_current::RULE,
    &rules::driver_voltage_match::RULE,
    &rules::driver_channel_count::RULE,
    &rules::driver_common_polarity::RULE,
    &rules::driver_dim_range::RULE,
    &rules::driver_modulation::RULE,
    &rules::outputs_not_paralleled::RULE,
    &rules::driver_ambient::RULE,
    &rules::driver_space::RULE,
    &rules::driver_ventilation::RULE,
    &rules::driver_access::RULE,
    &rules::driver_distance::RULE,
    &rules::driver_selv::RULE,
    &rules::driver_wet_place::RULE,
    &rules::driver_class2::RULE,
    &rules::driver_not_class2_wiring::RULE,
    &rules::cable_ampacity::RULE,
    &rules::cable_termination::RULE,
    &rules::cable_overload_protected::RULE,
    &rules::cable_tail_step_down::RULE,
    &rules::cable_temperature::RULE,
    &rules::cable_length_fits::RULE,
    &rules::cable_size_unit::RULE,
    &rules::cable_segregation_selv::RULE,
    &rules::cable_in_insulation::RULE,
    &rules::cable_wet_sun::RULE,
    &rules::bus_gear_count::RULE,
    &rules::bus_device_count::RULE,
    &rules::bus_current::RULE,
    &rules::bus_supply_sum::RULE,
    &rules::bus_supply_present::RULE,
    &rules::bus_supply_polarity::RULE,
    &rules::bus_voltage_drop::RULE,
    &rules::bus_distance::RULE,
    &rules::bus_cable_least::RULE,
    &rules::bus_route::RULE,
    &rules::bus_no_ring::RULE,
    &rules::bus_not_selv::RULE,
    &rules::bus_class2_na::RULE,
    &rules::bus_groups_used::RULE,
    &rules::bus_scenes_used::RULE,
    &rules::bus_group_across_loops::RULE,
    &rules::bus_mixed_gear_type::RULE,
    &rules::bus_spare::RULE,
    &rules::bus_address_unique::RULE,
    &rules::bus_emergency_part::RULE,
    &rules::white_range::RULE,
    &rules::mirek_rounding::RULE,
    &rules::mix_off_locus::RULE,
    &rules::mix_flux::RULE,
    &rules::bin_per_room::RULE,
    &rules::white_balance_across_runs::RULE,
    &rules::least_dim_level::RULE,
    &rules::fade_short::RULE,
    &rules::circuit_load::RULE,
    &rules::breaker_spare::RULE,
    &rules::inrush_count::RULE,
    &rules::leakage_share::RULE,
    &rules::rcd_type::RULE,
    &rules::rcd_needed::RULE,
    &rules::circuit_drop::RULE,
    &rules::breaker_cable::RULE,
    &rules::circuit_isolation::RULE,
    &rules::one_phase_per_room::RULE,
    &rules::circuit_control_standby::RULE,
    &rules::voltage_range::RULE,
    &rules::price_missing::RULE,
    &rules::price_stale::RULE,
    &rules::price_currency::RULE,
    &rules::pack_size::RULE,
    &rules::smallest_order::RULE,
    &rules::lead_time::RULE,
    &rules::reel_waste::RULE,
    &rules::spares_set::RULE,
    &rules::tax_named::RULE,
    &rules::value_implausible::RULE,
    &rules::value_assumed::RULE,
    &rules::value_missing::RULE,
    &rules::region_mixed::RULE,
    &rules::revision_stable::RULE,
];

/// The rule of that id.
#[must_use]
pub fn rule(id: &str) -> Option<&'static Rule> {
    RULES.iter().copied().find(|rule| rule.id == id)
}

/// Judges everything: each rule of the table, then the rules of the house.
#[must_use]
pub fn judge(evidence: &Evidence<'_>) -> Vec<Verdict> {
    let by_rule: Vec<Vec<Verdict>> = RULES.par_iter().map(|rule| apply(rule, evidence)).collect();
    let of_house = house::judge(evidence);
    let count = by_rule.iter().map(Vec::len).sum::<usize>() + of_house.len();
    // There are hundreds of thousands for ten thousand runs: as much room as they take, no more.
    let mut verdicts = Vec::with_capacity(count);
    verdicts.extend(by_rule.into_iter().flatten().chain(of_house));
    verdicts
}

/// How many checks of everything end in each way; what each of them says is not kept.
#[must_use]
pub fn counted(evidence: &Evidence<'_>) -> Counts {
    let by_rule = RULES.par_iter();
    let by_rule = by_rule.map(|rule| Counts::of(&apply(rule, evidence)));
    let of_house = Counts::of(&house::judge(evidence));
    by_rule.reduce(Counts::default, Counts::and).and(of_house)
}

/// What one rule says of everything that it is about.
fn apply(rule: &Rule, evidence: &Evidence<'_>) -> Vec<Verdict> {
    let region = evidence.project.region;
    let severity = rule.severity_in(region);
    let Some(source) = rule.source(region) else {
        let why = format!("no such limit in region {}", region.name());
        let finding = Finding::not_here(evidence.project.heading.title.clone(), why);
        return vec![finding.into_verdict(rule.id, severity, "")];
    };
    untold::once_each((rule.check)(evidence))
        .into_iter()
        .map(|finding| finding.into_verdict(rule.id, severity, source))
        .collect()
}

/// The cautions of the rules which have something to say about this job, in table order.
#[must_use]
pub fn cautions(verdicts: &[Verdict]) -> Vec<String> {
    let here = verdicts
        .iter()
        .filter(|verdict| !matches!(verdict.outcome, Outcome::NotHere { .. }));
    let touched: BTreeSet<&str> = here.map(|verdict| &*verdict.rule).collect();
    RULES
        .iter()
        .filter(|rule| touched.contains(rule.id))
        .filter_map(|rule| rule.caution)
        .map(str::to_owned)
        .collect()
}

/// How many verdicts ended in each way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Counts {
    /// Rule kept.
    pub holds: usize,
    /// Rule broken, of severity fault.
    pub broken_faults: usize,
    /// Rule broken, of severity caution.
    pub broken_cautions: usize,
    /// Rule broken, of severity note.
    pub broken_notes: usize,
    /// A figure is missing.
    pub cannot_tell: usize,
    /// Nothing to say here.
    pub not_here: usize,
}

impl Counts {
    /// Counts verdicts.
    #[must_use]
    pub fn of(verdicts: &[Verdict]) -> Counts {
        use crate::model::project::Severity;
        let mut counts = Counts::default();
        for verdict in verdicts {
            let count = match (&verdict.outcome, verdict.severity) {
                (Outcome::Holds, _) => &mut counts.holds,
                (Outcome::Broken, Severity::Fault) => &mut counts.broken_faults,
                (Outcome::Broken, Severity::Caution) => &mut counts.broken_cautions,
                (Outcome::Broken, Severity::Note) => &mut counts.broken_notes,
                (Outcome::CannotTell { .. }, _) => &mut counts.cannot_tell,
                (Outcome::NotHere { .. }, _) => &mut counts.not_here,
            };
            *count += 1;
        }
        counts
    }

    /// These and others.
    #[must_use]
    pub fn and(self, other: Counts) -> Counts {
        Counts {
            holds: self.holds + other.holds,
            broken_faults: self.broken_faults + other.broken_faults,
            broken_cautions: self.broken_cautions + other.broken_cautions,
            broken_notes: self.broken_notes + other.broken_notes,
            cannot_tell: self.cannot_tell + other.cannot_tell,
            not_here: self.not_here + other.not_here,
        }
    }

    /// Rules broken, of any severity.
    #[must_use]
    pub fn broken(self) -> usize {
        self.broken_faults + self.broken_cautions + self.broken_notes
    }
}

/// The subjects of the rules, in listing order.
pub static SUBJECTS: &[Subject] = &[
    Subject::Strip,
    Subject::Driver,
    Subject::Cable,
    Subject::Loop,
    Subject::Scene,
    Subject::Circuit,
    Subject::Price,
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    #[test]
    fn what_is_counted_is_what_the_verdicts_come_to() {
        let mut job = Sample::new();
        job.strip(0).detail.longest_section = None;
        job.driver().least_load = None;
        let evidence = job.evidence();
        let counts = counted(&evidence);
        assert_eq!(counts, Counts::of(&judge(&evidence)));
        assert!(counts.holds > 0 && counts.cannot_tell > 0 && counts.not_here > 0);
    }
}
