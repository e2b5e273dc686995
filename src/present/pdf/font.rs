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

/// Characters whose glyphs are looked up beforehand: the letters of European languages, which
/// nearly all text is made of.
const USUAL: u32 = 0x250;

/// A face, whole, with the widths of usual characters; `None` where it lacks one.
struct Whole {
    font: ParsedFont,
    widths: Vec<Option<u16>>,
}

impl Whole {
    fn load(face: Face) -> Result<Whole, PdfError> {
        let font = parsed(face.bytes())?;
        let usual = (0..USUAL).map(|code| width(&font, char::from_u32(code)?));
        let widths = usual.collect();
        Ok(Whole { font, widths })
    }

    /// The width of a character's glyph in units of the font; `None` when it has none.
    fn width(&self, c: char) -> Option<u16> {
        let place = usize::try_from(u32::from(c)).ok();
        let usual = place.and_then(|place| self.widths.get(place));
        usual.map_or_else(|| width(&self.font, c), |known| *known)
    }
}

fn width(font: &ParsedFont, c: char) -> Option<u16> {
    font.get_glyph_width(glyph(font, c)?)
}

/// Both faces, whole.
pub(super) struct Fonts {
    regular: Whole,
    bold: Whole,
}

impl Fonts {
    pub(super) fn load() -> Result<Fonts, PdfError> {
        Ok(Fonts {
            regular: Whole::load(Face::Regular)?,
            bold: Whole::load(Face::Bold)?,
        })
    }

    fn face(&self, face: Face) -> &Whole {
        match face {
            Face::Regular => &self.regular,
            Face::Bold => &self.bold,
        }
    }

    /// Whether both faces have this character.
    pub(super) fn have(&self, c: char) -> bool {
        Face::ALL
            .iter()
            .all(|face| self.face(*face).width(c).is_some())
    }

    /// How wide text is, in points.
    pub(super) fn width(&self, face: Face, size: f64, text: &str) -> f64 {
        let whole = self.face(face);
        let widths = text.chars().filter_map(|c| whole.width(c));
        let units: f64 = widths.map(f64::from).sum();
        units / f64::from(whole.font.units_per_em) * size
    }

    /// A face with only the glyphs of `used`, for a file.
    pub(super) fn subset(&self, face: Face, used: &BTreeSet<char>) -> Result<PdfFont, PdfError> {
        // Glyph 0 stands for what is missing and must come first.
        let mut ids: BTreeSet<u16> = BTreeSet::from([0]);
        ids.extend(used.iter().filter_map(|c| glyph(&self.face(face).font, *c)));
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
