//! The two faces that documents are set in: their widths, which characters they have, and what of
//! them is put into a file.

use super::PdfError;
use allsorts::binary::read::ReadScope;
use allsorts::font_data::FontData;
use allsorts::subset::{CmapTarget, SubsetProfile, subset};
use printpdf::{FontId, ParsedFont, PdfFont};
use std::collections::BTreeSet;

/// A face.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Face {
    Regular,
    Bold,
}

impl Face {
    pub(super) const ALL: [Face; 2] = [Face::Regular, Face::Bold];

    fn bytes(self) -> &'static [u8] {
        match self {
            Face::Regular => include_bytes!("font/LiberationSans-Regular.ttf"),
            Face::Bold => include_bytes!("font/LiberationSans-Bold.ttf"),
        }
    }

    /// Its name in a file. The six letters say that it is a subset.
    pub(super) fn id(self) -> FontId {
        let name = match self {
            Face::Regular => "FPREGU+LiberationSans",
            Face::Bold => "FPBOLD+LiberationSans-Bold",
        };
        FontId(name.to_owned())
    }
}

/// Both faces, whole.
pub(super) struct Fonts {
    regular: ParsedFont,
    bold: ParsedFont,
}

impl Fonts {
    pub(super) fn load() -> Result<Fonts, PdfError> {
        Ok(Fonts {
            regular: parsed(Face::Regular.bytes())?,
            bold: parsed(Face::Bold.bytes())?,
        })
    }

    fn face(&self, face: Face) -> &ParsedFont {
        match face {
            Face::Regular => &self.regular,
            Face::Bold => &self.bold,
        }
    }

    /// Whether both faces have this character.
    pub(super) fn have(&self, c: char) -> bool {
        Face::ALL
            .iter()
            .all(|face| glyph(self.face(*face), c).is_some())
    }

    /// How wide text is, in points.
    pub(super) fn width(&self, face: Face, size: f64, text: &str) -> f64 {
        let font = self.face(face);
        let units: f64 = text
            .chars()
            .filter_map(|c| glyph(font, c).and_then(|id| font.get_glyph_width(id)))
            .map(f64::from)
            .sum();
        units / f64::from(font.units_per_em) * size
    }

    /// A face with only the glyphs of `used`, for a file.
    pub(super) fn subset(&self, face: Face, used: &BTreeSet<char>) -> Result<PdfFont, PdfError> {
        // Glyph 0 stands for what is missing and must come first.
        let mut ids: BTreeSet<u16> = BTreeSet::from([0]);
        ids.extend(used.iter().filter_map(|c| glyph(self.face(face), *c)));
        let ids: Vec<u16> = ids.into_iter().collect();
        let data = ReadScope::new(face.bytes())
            .read::<FontData>()
            .map_err(|_| PdfError::Font)?;
        let provider = data.table_provider(0).map_err(|_| PdfError::Font)?;
        let bytes = subset(&provider, &ids, &SubsetProfile::Pdf, CmapTarget::Unicode)
            .map_err(|_| PdfError::Font)?;
        Ok(PdfFont::new(parsed(&bytes)?))
    }
}

fn parsed(bytes: &[u8]) -> Result<ParsedFont, PdfError> {
    ParsedFont::from_bytes(bytes, 0, &mut Vec::new()).ok_or(PdfError::Font)
}

fn glyph(font: &ParsedFont, c: char) -> Option<u16> {
    font.lookup_glyph_index(u32::from(c)).filter(|id| *id != 0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_trades_signs_are_in_both_faces() {
        let fonts = Fonts::load().unwrap();
        for c in "ΩµμΔ²³°×≤≥–—−±½€£·′″…□ßéŁ√".chars() {
            assert!(fonts.have(c), "{c} U+{:04X}", u32::from(c));
        }
    }

    #[test]
    fn digits_are_of_one_width_so_that_figures_align() {
        let fonts = Fonts::load().unwrap();
        for face in Face::ALL {
            let one = fonts.width(face, 10.0, "1");
            for digit in "0123456789".chars() {
                assert_eq!(fonts.width(face, 10.0, &digit.to_string()), one);
            }
        }
    }
}
