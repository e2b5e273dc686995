//! What belongs together by name, laid out once for a rule: looked for one by one, the drivers of ten
//! thousand runs take a rule longer than everything else.

use crate::choose::sized::{FeedCable, SizedDriver, SizedRun, Sizing};
use std::collections::HashMap;

/// Runs, drivers and feed cables by the names that others call them by.
pub struct Together<'a> {
    runs: HashMap<&'a str, &'a SizedRun>,
    drivers: HashMap<&'a str, &'a SizedDriver>,
    drivers_of_run: HashMap<&'a str, Vec<&'a SizedDriver>>,
    cables_of_driver: HashMap<&'a str, Vec<&'a FeedCable>>,
    first_cable: HashMap<&'a str, &'a FeedCable>,
}

impl<'a> Together<'a> {
    /// Those of a job.
    pub fn of(sizing: &'a Sizing) -> Together<'a> {
        let runs = sizing.runs.iter();
        let drivers = sizing.drivers.iter();
        let mut drivers_of_run: HashMap<&str, Vec<&SizedDriver>> = HashMap::new();
        for driver in &sizing.drivers {
            for run in &driver.runs {
                drivers_of_run.entry(run).or_default().push(driver);
            }
        }
        let mut cables_of_driver: HashMap<&str, Vec<&FeedCable>> = HashMap::new();
        let mut first_cable: HashMap<&str, &FeedCable> = HashMap::new();
        for cable in &sizing.cables {
            first_cable.entry(&cable.run).or_insert(cable);
            for number in std::iter::once(&cable.driver).chain(&cable.beside) {
                cables_of_driver.entry(number).or_default().push(cable);
            }
        }
        Together {
            runs: runs.map(|it| (it.run.name.as_str(), it)).collect(),
            drivers: drivers.map(|it| (it.number.as_str(), it)).collect(),
            drivers_of_run,
            cables_of_driver,
            first_cable,
        }
    }

    /// The run of a name.
    pub fn run(&self, name: &str) -> Option<&'a SizedRun> {
        self.runs.get(name).copied()
    }

    /// The driver of a number.
    pub fn driver(&self, number: &str) -> Option<&'a SizedDriver> {
        self.drivers.get(number).copied()
    }

    /// The runs that a driver feeds, in project order.
    pub fn runs_on<'b>(
        &'b self,
        driver: &'b SizedDriver,
    ) -> impl Iterator<Item = &'a SizedRun> + 'b {
        driver.runs.iter().filter_map(|name| self.run(name))
    }

    /// The drivers that feed a run, by number.
    pub fn feeding(&self, run: &SizedRun) -> &[&'a SizedDriver] {
        let drivers = self.drivers_of_run.get(run.run.name.as_str());
        drivers.map_or(&[], Vec::as_slice)
    }

    /// The first of the feed cables of a run.
    pub fn first_cable(&self, run: &SizedRun) -> Option<&'a FeedCable> {
        self.first_cable.get(run.run.name.as_str()).copied()
    }

    /// The feed cables that start at a driver, by number.
    pub fn cables_of(&self, driver: &SizedDriver) -> &[&'a FeedCable] {
        let cables = self.cables_of_driver.get(driver.number.as_str());
        cables.map_or(&[], Vec::as_slice)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    fn names<'a>(runs: impl Iterator<Item = &'a SizedRun>) -> Vec<&'a str> {
        runs.map(|sized| sized.run.name.as_str()).collect()
    }

    #[test]
    fn what_is_found_by_name_is_what_is_found_by_looking_at_each() {
        let sample = Sample::new();
        let sizing = &sample.sizing;
        let together = Together::of(sizing);
        assert!(!sizing.drivers.is_empty() && !sizing.cables.is_empty());
        for driver in &sizing.drivers {
            let fed = |it: &&SizedRun| driver.runs.contains(&it.run.name);
            let runs = sizing.runs.iter().filter(fed);
            assert_eq!(names(together.runs_on(driver)), names(runs));
            let from = |it: &&FeedCable| it.starts_at(driver);
            let cables: Vec<&FeedCable> = sizing.cables.iter().filter(from).collect();
            assert_eq!(together.cables_of(driver), cables);
            assert_eq!(together.driver(&driver.number), Some(driver));
        }
        for sized in &sizing.runs {
            let feeds = |it: &&SizedDriver| it.runs.contains(&sized.run.name);
            let drivers: Vec<&SizedDriver> = sizing.drivers.iter().filter(feeds).collect();
            assert_eq!(together.feeding(sized), drivers);
            let of_run = |it: &&FeedCable| it.run == sized.run.name;
            let first = sizing.cables.iter().find(of_run);
            assert_eq!(together.first_cable(sized), first);
        }
        assert_eq!(together.driver("none"), None);
    }
}
