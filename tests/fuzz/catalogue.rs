//! Catalogues, each read as the only one of a project that is good without it.

use super::Target;
use feedpoint::load;

const PROJECT: &str = "format: 1\nproject: {title: Spoilt}\ncatalogues: [goods.yaml]\nruns: []\n";

pub(super) const TARGET: Target = Target {
    name: "catalogue",
    corpus: || {
        vec![
            include_str!("../../src/command/init/iec/catalogue.yaml").to_owned(),
            include_str!("../data/catalogue.yaml").to_owned(),
            include_str!("../../catalogue-examples/trade.yaml").to_owned(),
        ]
    },
    read: |text| match load::project_from_texts("job.yaml", PROJECT, &[("goods.yaml", text)]) {
        Ok(loaded) => loaded.warnings.to_string(),
        Err(told) => told.to_string(),
    },
};
