//! Sheets of paper and the sizes of type on them. All measures are points of 1/72 inch, from the
//! sheet's upper left corner downwards.

use crate::norms::region::Region;

/// A size of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// ISO 216 A4.
    A4,
    /// 8½ × 11 inches.
    Letter,
}

/// A sheet as it is held.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Page {
    pub width: f64,
    pub height: f64,
}

impl Paper {
    /// The paper of a region.
    #[must_use]
    pub fn of(region: Region) -> Paper {
        match region {
            Region::NorthAmerica => Paper::Letter,
            Region::Iec | Region::AusNz => Paper::A4,
        }
    }

    pub(super) fn upright(self) -> Page {
        let (width, height) = match self {
            Paper::A4 => (595.28, 841.89),
            Paper::Letter => (612.0, 792.0),
        };
        Page { width, height }
    }

    pub(super) fn across(self) -> Page {
        let upright = self.upright();
        Page {
            width: upright.height,
            height: upright.width,
        }
    }
}

impl Page {
    /// Width between the margins.
    pub(super) fn room(self) -> f64 {
        self.width - 2.0 * SIDE
    }
}

/// Margin at each side: wide enough to punch.
pub(super) const SIDE: f64 = 42.0;
/// Margin above the title block.
pub(super) const TOP: f64 = 30.0;
/// Margin below everything.
pub(super) const BOTTOM: f64 = 28.0;

/// Type of a document's title.
pub(super) const TITLE: f64 = 14.0;
/// Type of a part's heading.
pub(super) const HEADING: f64 = 10.0;
/// Type of paragraphs.
pub(super) const BODY: f64 = 8.5;
/// Type of notes under a table.
pub(super) const NOTE: f64 = 7.5;
/// Type of the cautions in their frame.
pub(super) const CAUTION: f64 = 6.8;
/// Type of the title block's labels.
pub(super) const LABEL: f64 = 6.5;
/// Type of tables, the largest that fits; the last is used whether it fits or not.
pub(super) const TABLE: [f64; 4] = [8.0, 7.5, 7.0, 6.5];

/// Distance between two lines of type.
pub(super) fn leading(size: f64) -> f64 {
    size * 1.25
}
