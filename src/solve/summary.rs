//! A state in short: its darkest, brightest and last segment.

use super::strip::{ChannelState, State};

impl ChannelState {
    /// Light of the darkest segment, as a share of nominal.
    #[must_use]
    pub fn least_light(&self) -> f64 {
        least(&self.light)
    }

    /// Light of the brightest segment, as a share of nominal.
    #[must_use]
    pub fn most_light(&self) -> f64 {
        most(&self.light)
    }

    /// Darkest over brightest segment; `None` when all is dark.
    #[must_use]
    pub fn evenness(&self) -> Option<f64> {
        let brightest = self.most_light();
        (brightest > 0.0).then(|| self.least_light() / brightest)
    }

    /// Segments that give no light.
    #[must_use]
    pub fn dark_segments(&self) -> usize {
        self.light.iter().filter(|light| **light <= 0.0).count()
    }

    /// Least volts across a string.
    #[must_use]
    pub fn least_volts(&self) -> f64 {
        least(&self.volts)
    }

    /// Most volts across a string.
    #[must_use]
    pub fn most_volts(&self) -> f64 {
        most(&self.volts)
    }

    /// Volts across the last segment's string.
    #[must_use]
    pub fn end_volts(&self) -> f64 {
        self.volts.last().copied().unwrap_or(f64::NAN)
    }

    /// Light of the last segment, as a share of nominal.
    #[must_use]
    pub fn end_light(&self) -> f64 {
        self.light.last().copied().unwrap_or(f64::NAN)
    }
}

fn least(values: &[f64]) -> f64 {
    values.iter().copied().fold(f64::INFINITY, f64::min)
}

fn most(values: &[f64]) -> f64 {
    values.iter().copied().fold(f64::NEG_INFINITY, f64::max)
}

impl State {
    /// Light of the darkest segment of any lit channel, as a share of nominal.
    #[must_use]
    pub fn darkest(&self) -> f64 {
        self.over_channels(ChannelState::least_light)
    }

    /// Volts across the last segment, of the lit channel that has fewer.
    #[must_use]
    pub fn end_volts(&self) -> f64 {
        self.over_channels(ChannelState::end_volts)
    }

    /// Least volts across any string.
    #[must_use]
    pub fn least_volts(&self) -> f64 {
        self.over_channels(ChannelState::least_volts)
    }

    fn over_channels(&self, of: fn(&ChannelState) -> f64) -> f64 {
        self.channels.iter().map(of).fold(f64::INFINITY, f64::min)
    }
}
