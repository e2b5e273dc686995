//! The last touches to a PDF file: bookmarks, language, and nothing in it that is not so or that
//! changes from one time to the next.

use super::PdfError;
use flate2::Compression;
use flate2::write::ZlibEncoder;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, StringFormat};
use std::io::Write;

/// A bookmark: its text, the sheet it leads to (from 0), and those under it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Bookmark {
    pub text: String,
    pub sheet: usize,
    pub under: Vec<Bookmark>,
}

/// Writes the file, whose pages these are.
pub(super) fn finish(
    mut document: Document,
    pages: &[ObjectId],
    bookmarks: &[Bookmark],
    dated: bool,
    mut out: &mut dyn Write,
) -> Result<(), PdfError> {
    clean_information(&mut document, dated)?;
    let outline = add_outline(&mut document, bookmarks, pages);
    let catalog = document.catalog_mut()?;
    catalog.set("Lang", Object::string_literal("en-GB"));
    if let Some(outline) = outline {
        catalog.set("Outlines", Object::Reference(outline));
        catalog.set("PageMode", Object::Name(b"UseOutlines".to_vec()));
    }
    let mut preferences = Dictionary::new();
    preferences.set("DisplayDocTitle", Object::Boolean(true));
    catalog.set("ViewerPreferences", Object::Dictionary(preferences));
    document.version = "1.7".to_owned();
    for object in document.objects.values_mut() {
        if let Object::Stream(stream) = object {
            compress(stream)?;
        }
    }
    document.trailer.remove(b"ID");
    let id = identity(&document);
    document.trailer.set("ID", vec![id.clone(), id]);
    document.save_to(&mut out).map_err(PdfError::Write)
}

/// How hard streams are compressed, of 9: more makes them a few hundredths smaller and takes twice
/// the time.
const LEVEL: u32 = 4;

/// Makes a stream smaller, unless it is so already or gains nothing by it.
pub(super) fn compress(stream: &mut Stream) -> Result<(), PdfError> {
    if !stream.allows_compression || stream.dict.has(b"Filter") {
        return Ok(());
    }
    let mut encoder = ZlibEncoder::new(Vec::new(), Compression::new(LEVEL));
    let written = encoder.write_all(&stream.content);
    let smaller = written.and_then(|()| encoder.finish());
    let smaller = smaller.map_err(PdfError::Write)?;
    if smaller.len() < stream.content.len() {
        stream.dict.set("Filter", "FlateDecode");
        stream.set_content(smaller);
    }
    Ok(())
}

/// The library claims a print standard that was not aimed at, and a date of 1970 where there is
/// none.
fn clean_information(document: &mut Document, dated: bool) -> Result<(), PdfError> {
    let information = document.trailer.get(b"Info")?.as_reference()?;
    let entries = document.get_object_mut(information)?.as_dict_mut()?;
    for key in [&b"GTS_PDFXVersion"[..], b"Identifier", b"Trapped"] {
        entries.remove(key);
    }
    if !dated {
        entries.remove(b"CreationDate");
        entries.remove(b"ModDate");
    }
    Ok(())
}

/// An identity that follows from the contents, so that the same job gives the same file.
fn identity(document: &Document) -> Object {
    let halves = [0, 1].map(|seed| {
        let contents = document.objects.values();
        let hashed = contents.fold(begun(seed), |so_far, object| match object {
            Object::Stream(stream) => hash(so_far, &stream.content),
            other => hash(so_far, format!("{other:?}").as_bytes()),
        });
        hashed.to_be_bytes()
    });
    Object::String(halves.concat(), StringFormat::Hexadecimal)
}

/// The Fowler–Noll–Vo hash, 1a, 64 bit: the standard library promises no hash that stays the same
/// from one release to the next.
fn hash(so_far: u64, bytes: &[u8]) -> u64 {
    let step = |hash: u64, byte: &u8| (hash ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3);
    bytes.iter().fold(so_far, step)
}

/// Where a hash begins.
fn begun(seed: u8) -> u64 {
    hash(0xcbf2_9ce4_8422_2325, &[seed])
}

/// Adds the bookmarks; the root's id, unless there are none.
fn add_outline(
    document: &mut Document,
    bookmarks: &[Bookmark],
    pages: &[ObjectId],
) -> Option<ObjectId> {
    if bookmarks.is_empty() {
        return None;
    }
    let root = document.new_object_id();
    let mut dictionary = Dictionary::new();
    dictionary.set("Type", Object::Name(b"Outlines".to_vec()));
    add_level(document, bookmarks, pages, root, &mut dictionary);
    document.set_object(root, dictionary);
    Some(root)
}

/// Adds the bookmarks of one level under `parent`, whose dictionary learns of them.
fn add_level(
    document: &mut Document,
    bookmarks: &[Bookmark],
    pages: &[ObjectId],
    parent: ObjectId,
    of_parent: &mut Dictionary,
) {
    let ids: Vec<ObjectId> = bookmarks.iter().map(|_| document.new_object_id()).collect();
    for (index, (bookmark, id)) in bookmarks.iter().zip(&ids).enumerate() {
        let mut entry = Dictionary::new();
        entry.set("Title", lopdf::text_string(&bookmark.text));
        entry.set("Parent", Object::Reference(parent));
        if let Some(page) = pages.get(bookmark.sheet) {
            let to = vec![Object::Reference(*page), Object::Name(b"Fit".to_vec())];
            entry.set("Dest", to);
        }
        let before = index.checked_sub(1).and_then(|at| ids.get(at));
        if let Some(before) = before {
            entry.set("Prev", Object::Reference(*before));
        }
        if let Some(after) = ids.get(index + 1) {
            entry.set("Next", Object::Reference(*after));
        }
        add_level(document, &bookmark.under, pages, *id, &mut entry);
        document.set_object(*id, entry);
    }
    if let (Some(first), Some(last)) = (ids.first(), ids.last()) {
        of_parent.set("First", Object::Reference(*first));
        of_parent.set("Last", Object::Reference(*last));
        let open = i64::try_from(ids.len()).unwrap_or(i64::MAX);
        of_parent.set("Count", Object::Integer(open));
    }
}
