//! The network to the right of a place when one channel is lit: plus rail and one return.

use super::block::{Block, Held, Line, Rails, Step, through};

/// Admittance `[[a, b], [b, c]]` and currents `s`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Two {
    a: f64,
    b: f64,
    c: f64,
    s: [f64; 2],
}

impl Two {
    fn hold(&mut self, held: Held) {
        if held[0] {
            (self.a, self.b, self.s[0]) = (0.0, 0.0, 0.0);
        }
        if held[1] {
            (self.c, self.b, self.s[1]) = (0.0, 0.0, 0.0);
        }
    }
}

impl Block for Two {
    type Step = StepTwo;

    fn open_end() -> Self {
        Two {
            a: 0.0,
            b: 0.0,
            c: 0.0,
            s: [0.0; 2],
        }
    }

    fn join_feed(&mut self, conductance: Rails) {
        self.a += conductance[0];
        self.c += conductance[1];
    }

    fn join_load(&mut self, line: &Line) {
        self.a += line.slope[0];
        self.b += line.slope[0];
        self.c += line.slope[0];
        self.s[0] += line.constant[0];
        self.s[1] += line.constant[0];
    }

    fn cross(mut self, ohms: Rails, held: Held) -> Option<(Self, StepTwo)> {
        self.hold(held);
        let Two { a, b, c, s } = self;
        let [x, y, _] = ohms;
        let minor = a * c - b * b;
        let (first, second) = (1.0 + x * a, 1.0 + y * c);
        let determinant = 1.0 + x * a + y * c + x * y * minor;
        if !(first > 0.0 && determinant > 0.0) {
            return None;
        }
        let k = 1.0 / determinant;
        let mut p = [[second * k, -x * b * k], [-y * b * k, first * k]];
        let mut left = Two {
            a: (a + y * minor) * k,
            b: b * k,
            c: (c + x * minor) * k,
            s: [
                p[0][0] * s[0] + p[1][0] * s[1],
                p[0][1] * s[0] + p[1][1] * s[1],
            ],
        };
        if held[0] {
            (p[0][0], left.a) = (0.0, through(x));
        }
        if held[1] {
            (p[1][1], left.c) = (0.0, through(y));
        }
        let lift = [x * s[0], y * s[1]];
        Some((left, StepTwo { p, lift }))
    }

    fn settle(mut self, held: Held) -> Option<Rails> {
        self.hold(held);
        let a = if held[0] { 1.0 } else { self.a };
        let c = if held[1] { 1.0 } else { self.c };
        let determinant = a * c - self.b * self.b;
        let [s, t] = self.s;
        (a > 0.0 && determinant > 0.0).then(|| {
            [
                (c * s - self.b * t) / determinant,
                (a * t - self.b * s) / determinant,
                0.0,
            ]
        })
    }
}

/// `w = p·(w_left + lift)`.
#[derive(Debug, Clone, Copy)]
pub(super) struct StepTwo {
    p: [[f64; 2]; 2],
    lift: [f64; 2],
}

impl Step for StepTwo {
    fn apply(&self, left: Rails) -> Rails {
        let (v, w) = (left[0] + self.lift[0], left[1] + self.lift[1]);
        [
            self.p[0][0] * v + self.p[0][1] * w,
            self.p[1][0] * v + self.p[1][1] * w,
            0.0,
        ]
    }
}
