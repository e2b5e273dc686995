//! The network to the right of a place when both channels are lit: plus rail and two returns.

use super::block::{Block, Held, Line, Rails, Step, through};

/// Admittance `[[a, d, e], [d, b, f], [e, f, c]]` and currents `s`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Three {
    a: f64,
    b: f64,
    c: f64,
    d: f64,
    e: f64,
    f: f64,
    s: Rails,
}

type Square = [Rails; 3];

impl Three {
    fn hold(&mut self, held: Held) {
        if held[0] {
            (self.a, self.d, self.e, self.s[0]) = (0.0, 0.0, 0.0, 0.0);
        }
        if held[1] {
            (self.b, self.d, self.f, self.s[1]) = (0.0, 0.0, 0.0, 0.0);
        }
        if held[2] {
            (self.c, self.e, self.f, self.s[2]) = (0.0, 0.0, 0.0, 0.0);
        }
    }

    /// `Y·p`, of which the upper triangle is enough: it is symmetric.
    fn times(&self, p: &Square, s: Rails) -> Three {
        let Three {
            a, b, c, d, e, f, ..
        } = *self;
        Three {
            a: a * p[0][0] + d * p[1][0] + e * p[2][0],
            d: a * p[0][1] + d * p[1][1] + e * p[2][1],
            e: a * p[0][2] + d * p[1][2] + e * p[2][2],
            b: d * p[0][1] + b * p[1][1] + f * p[2][1],
            f: d * p[0][2] + b * p[1][2] + f * p[2][2],
            c: e * p[0][2] + f * p[1][2] + c * p[2][2],
            s,
        }
    }
}

/// The inverse of a matrix whose leading minors must all be positive.
fn invert(m: &Square) -> Option<Square> {
    let [[m00, m01, m02], [m10, m11, m12], [m20, m21, m22]] = *m;
    let c00 = m11 * m22 - m12 * m21;
    let c10 = m12 * m20 - m10 * m22;
    let c20 = m10 * m21 - m11 * m20;
    let c22 = m00 * m11 - m01 * m10;
    let determinant = m00 * c00 + m01 * c10 + m02 * c20;
    if !(m00 > 0.0 && c22 > 0.0 && determinant > 0.0) {
        return None;
    }
    let k = 1.0 / determinant;
    Some([
        [
            c00 * k,
            (m02 * m21 - m01 * m22) * k,
            (m01 * m12 - m02 * m11) * k,
        ],
        [
            c10 * k,
            (m00 * m22 - m02 * m20) * k,
            (m02 * m10 - m00 * m12) * k,
        ],
        [c20 * k, (m01 * m20 - m00 * m21) * k, c22 * k],
    ])
}

/// `pᵀ·s`.
fn transposed(p: &Square, s: Rails) -> Rails {
    [
        p[0][0] * s[0] + p[1][0] * s[1] + p[2][0] * s[2],
        p[0][1] * s[0] + p[1][1] * s[1] + p[2][1] * s[2],
        p[0][2] * s[0] + p[1][2] * s[1] + p[2][2] * s[2],
    ]
}

/// `p·s`.
fn product(p: &Square, s: Rails) -> Rails {
    [
        p[0][0] * s[0] + p[0][1] * s[1] + p[0][2] * s[2],
        p[1][0] * s[0] + p[1][1] * s[1] + p[1][2] * s[2],
        p[2][0] * s[0] + p[2][1] * s[1] + p[2][2] * s[2],
    ]
}

impl Block for Three {
    type Step = StepThree;

    fn open_end() -> Self {
        Three {
            a: 0.0,
            b: 0.0,
            c: 0.0,
            d: 0.0,
            e: 0.0,
            f: 0.0,
            s: [0.0; 3],
        }
    }

    fn join_feed(&mut self, conductance: Rails) {
        self.a += conductance[0];
        self.b += conductance[1];
        self.c += conductance[2];
    }

    fn join_load(&mut self, line: &Line) {
        let ([g, h], [i, j]) = (line.slope, line.constant);
        self.a += g + h;
        self.b += g;
        self.c += h;
        self.d += g;
        self.e += h;
        self.s[0] += i + j;
        self.s[1] += i;
        self.s[2] += j;
    }

    fn cross(mut self, ohms: Rails, held: Held) -> Option<(Self, StepThree)> {
        self.hold(held);
        let Three {
            a,
            b,
            c,
            d,
            e,
            f,
            s,
        } = self;
        let [x, y, z] = ohms;
        let mut p = invert(&[
            [1.0 + x * a, x * d, x * e],
            [y * d, 1.0 + y * b, y * f],
            [z * e, z * f, 1.0 + z * c],
        ])?;
        let mut left = self.times(&p, transposed(&p, s));
        if held[0] {
            (p[0][0], left.a) = (0.0, through(x));
        }
        if held[1] {
            (p[1][1], left.b) = (0.0, through(y));
        }
        if held[2] {
            (p[2][2], left.c) = (0.0, through(z));
        }
        let lift = [x * s[0], y * s[1], z * s[2]];
        Some((left, StepThree { p, lift }))
    }

    fn settle(mut self, held: Held) -> Option<Rails> {
        self.hold(held);
        let a = if held[0] { 1.0 } else { self.a };
        let b = if held[1] { 1.0 } else { self.b };
        let c = if held[2] { 1.0 } else { self.c };
        let Three { d, e, f, s, .. } = self;
        let inverse = invert(&[[a, d, e], [d, b, f], [e, f, c]])?;
        Some(product(&inverse, s))
    }
}

/// `w = p·(w_left + lift)`.
#[derive(Debug, Clone, Copy)]
pub(super) struct StepThree {
    p: Square,
    lift: Rails,
}

impl Step for StepThree {
    fn apply(&self, left: Rails) -> Rails {
        let lifted = [
            left[0] + self.lift[0],
            left[1] + self.lift[1],
            left[2] + self.lift[2],
        ];
        product(&self.p, lifted)
    }
}
