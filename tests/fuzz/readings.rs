//! Readings, as a file and as a test sheet that was filled in.

use super::Target;
use feedpoint::load::readings::readings_from_text;
use feedpoint::pipeline;
use feedpoint::present::csv;
use feedpoint::present::document;
use feedpoint::present::job::Job;
use feedpoint::present::readings::readable;
use std::cell::LazyCell;

thread_local! {
    static JOB: LazyCell<Job> = LazyCell::new(|| {
        let demo = "catalogue-examples/millrace-library.yaml";
        pipeline::job(demo, true).expect("the example").0
    });
}

/// How a test sheet begins.
const SHEET: &str = "number,test,";

pub(super) const TARGET: Target = Target {
    name: "readings",
    corpus: || {
        let sheet = JOB.with(|job| document::named("test-sheet", job).expect("a test sheet"));
        let sheet = csv::files(&sheet).expect("files").remove(0).text;
        let lines = sheet.lines().take(12).collect::<Vec<_>>().join("\n");
        vec![
            include_str!("../../catalogue-examples/millrace-readings.yaml").to_owned(),
            lines.replace(",,,,", ",0.01,yes,,"),
        ]
    },
    read: |text| {
        let name = if text.starts_with(SHEET) {
            "sheet.csv"
        } else {
            "readings.yaml"
        };
        JOB.with(|job| match readings_from_text(name, text, &readable(job)) {
            Ok((given, warnings)) => format!("{} read\n{warnings}", given.len()),
            Err(told) => told.to_string(),
        })
    },
};
