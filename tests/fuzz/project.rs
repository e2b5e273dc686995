//! Projects, beside the catalogues that they name.

use super::Target;
use feedpoint::load;

const CATALOGUES: &[(&str, &str)] = &[
    (
        "catalogue.yaml",
        include_str!("../../src/command/init/iec/catalogue.yaml"),
    ),
    (
        "trade.yaml",
        include_str!("../../catalogue-examples/trade.yaml"),
    ),
];

pub(super) const TARGET: Target = Target {
    name: "project",
    corpus: || {
        vec![
            include_str!("../../src/command/init/iec/project.yaml").to_owned(),
            include_str!("../../catalogue-examples/millrace-library.yaml").to_owned(),
        ]
    },
    read: |text| match load::project_from_texts("job.yaml", text, CATALOGUES) {
        Ok(loaded) => loaded.warnings.to_string(),
        Err(told) => told.to_string(),
    },
};
