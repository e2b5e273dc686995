//! What belongs together by name, laid out once: rules and documents ask it of every row, and looked
//! for one by one the drivers of ten thousand runs take longer than everything else.

use super::places::Places;
use super::sized::{FeedCable, SizedDriver, SizedFeed, SizedRun, Sizing};
use crate::model::by_name::{add, at};

fn laid_out(sizing: &Sizing) -> Places {
    let mut places = Places::default();
    for (place, sized) in sizing.runs.iter().enumerate() {
        places.runs.entry(sized.run.name.clone()).or_insert(place);
    }
    for (place, driver) in sizing.drivers.iter().enumerate() {
        let number = driver.number.clone();
        places.drivers.entry(number).or_insert(place);
        for run in &driver.runs {
            add(&mut places.drivers_of_run, run, place);
        }
        add(&mut places.drivers_of_group, &driver.group.name, place);
    }
    for (place, cable) in sizing.cables.iter().enumerate() {
        add(&mut places.cables_of_run, &cable.run, place);
        for number in std::iter::once(&cable.driver).chain(&cable.beside) {
            add(&mut places.cables_of_driver, number, place);
        }
    }
    places
}

impl Sizing {
    fn places(&self) -> &Places {
        self.by_name.places(|| laid_out(self))
    }

    /// The run of a name.
    #[must_use]
    pub fn run(&self, name: &str) -> Option<&SizedRun> {
        self.runs.get(*self.places().runs.get(name)?)
    }

    /// The driver of a number.
    #[must_use]
    pub fn driver(&self, number: &str) -> Option<&SizedDriver> {
        self.drivers.get(*self.places().drivers.get(number)?)
    }

    /// The runs that a driver feeds, in project order.
    pub fn runs_on<'a>(&'a self, driver: &'a SizedDriver) -> impl Iterator<Item = &'a SizedRun> {
        driver.runs.iter().filter_map(|name| self.run(name))
    }

    /// The drivers that feed a run, by number.
    pub fn feeding(&self, run: &SizedRun) -> impl Iterator<Item = &SizedDriver> + use<'_> {
        at(&self.drivers, &self.places().drivers_of_run, &run.run.name)
    }

    /// The drivers that serve a group, by number.
    pub fn serving(&self, group: &str) -> impl Iterator<Item = &SizedDriver> + use<'_> {
        at(&self.drivers, &self.places().drivers_of_group, group)
    }

    /// The feed cables of a run, by number.
    pub fn cables_to(&self, run: &SizedRun) -> impl Iterator<Item = &FeedCable> + use<'_> {
        at(&self.cables, &self.places().cables_of_run, &run.run.name)
    }

    /// The feed cables of the run that one goes to, itself among them, by number.
    pub fn cables_beside(&self, cable: &FeedCable) -> impl Iterator<Item = &FeedCable> + use<'_> {
        at(&self.cables, &self.places().cables_of_run, &cable.run)
    }

    /// The cable of a feed of a run's section, sections counted from 1.
    #[must_use]
    pub fn cable_to(&self, run: &SizedRun, section: usize, feed: &SizedFeed) -> Option<&FeedCable> {
        self.cables_to(run)
            .find(|cable| cable.section == section && cable.at == feed.at)
    }

    /// The feed cables that start at a driver, by number; of two units that feed one strip, at
    /// either.
    pub fn cables_of(&self, driver: &SizedDriver) -> impl Iterator<Item = &FeedCable> + use<'_> {
        at(
            &self.cables,
            &self.places().cables_of_driver,
            &driver.number,
        )
    }
}
