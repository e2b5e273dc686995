//! Every uncut section can be made from the reels that are sold.

use crate::choose::limits;
use crate::choose::sized::SizedRun;
use crate::judge::finding::Finding;
use crate::judge::remedy;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::quantity::Length;

/// Every uncut section can be made from the reels that are sold.
pub static RULE: Rule = Rule {
    id: "reel-joint",
    subject: Subject::Strip,
    statement: "a section is no longer than the longest reel, unless its strip may be joined",
    formula: "length of the longest section against the longest reel, where `joints: yes` is not said",
    sources: &everywhere("reel lengths of the catalogue; datasheet on joints"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "a longer reel; sections; `joints: yes` where the maker allows joints",
    caution: Some("a soldered joint shows in the light’s pitch: keep it off sight lines"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    evidence.sizing.runs.iter().map(of_run).collect()
}

fn of_run(sized: &SizedRun) -> Finding {
    let subject = format!("run {}", sized.run.name);
    let strip = &sized.run.strip;
    if strip.reels.is_empty() {
        let missing = format!("`reels` in strip `{}` (the supplier)", strip.offer.id);
        return Finding::cannot_tell(subject, missing).at(&strip.offer.place);
    }
    let lengths = sized.sections.iter().map(|section| section.length);
    let longest = lengths.reduce(Length::max).unwrap_or(sized.length);
    let Some(checked) = limits::in_one_piece(strip, longest) else {
        return Finding::plain(subject, true);
    };
    Finding::checked(subject, &checked)
        .at(&sized.run.feed_place)
        .remedy(|| {
            let sections = format!(
                "sections of at most {}, or `joints: yes` in strip `{}` if its maker allows joints",
                checked.limit, strip.offer.id
            );
            remedy::unless_auto(sized, "set `feed: auto`, or ", &sections)
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        let length = job.sizing.runs[0].sections[0].length;
        job.strip(0).reels.truncate(1);
        job.strip(0).reels[0].length = length * 0.99;
        assert_eq!(job.worst(&RULE), "broken");
        job.strip(0).joints = true;
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        let length = job.sizing.runs[0].sections[0].length;
        job.strip(0).reels.truncate(1);
        job.strip(0).reels[0].length = length;
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = Sample::new();
        job.strip(0).reels.clear();
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}
