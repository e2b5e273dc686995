//! Runs that are seen together: those of one `view`, or else of one group in one room.

use super::rule::Evidence;
use crate::choose::sized::SizedRun;
use crate::model::run::Run;
use std::collections::HashMap;

/// A view with the runs in it, in project order.
pub struct View<'a> {
    /// What a verdict about it is of.
    pub subject: String,
    /// Its runs; never empty.
    pub runs: Vec<&'a SizedRun>,
}

/// Views with more than one run, in the order of their first runs.
pub fn of_several<'a>(evidence: &Evidence<'a>) -> Vec<View<'a>> {
    let mut views: Vec<View<'a>> = Vec::new();
    let mut places: HashMap<String, usize> = HashMap::new();
    for sized in &evidence.sizing.runs {
        let subject = subject(&sized.run);
        let known = places.get(&subject).and_then(|place| views.get_mut(*place));
        if let Some(view) = known {
            view.runs.push(sized);
            continue;
        }
        places.insert(subject.clone(), views.len());
        let runs = vec![sized];
        views.push(View { subject, runs });
    }
    views.retain(|view| view.runs.len() > 1);
    views
}

fn subject(run: &Run) -> String {
    match &run.detail.view {
        Some(view) => format!("view {view}"),
        None => format!("room {}, group {}", run.room.name, run.group.name),
    }
}
