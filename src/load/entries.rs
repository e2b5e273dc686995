//! A mapping's entries once it is closed: no key twice, merges (`<<: *anchor`) filled in.

use super::node::{Content, Entry, Node};
use crate::diagnostic::{Diagnostic, Diagnostics, Source};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// The entries in file order, then what merges bring that is lacking. A key given twice, or a
/// merge of something else than mappings, is complained of.
pub fn closed(
    entries: Vec<Entry>,
    source: &Arc<Source>,
    complaints: &mut Diagnostics,
) -> Vec<Entry> {
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    let mut kept = Vec::with_capacity(entries.len());
    let mut merged = Vec::new();
    for entry in entries {
        if entry.key == "<<" {
            merged.push(entry.value);
            continue;
        }
        match seen.get(&entry.key) {
            Some(first) => {
                let line = source.place(*first).line;
                let message = format!("`{}` is given twice", entry.key);
                let twice = Diagnostic::error("duplicate-key", message);
                let twice = twice.at(source, entry.key_span);
                complaints.push(twice.label(format!("first given in line {line}")));
            }
            None => {
                seen.insert(entry.key.clone(), entry.key_span.start);
                kept.push(entry);
            }
        }
    }
    if merged.is_empty() {
        return kept;
    }
    let mut keys: BTreeSet<String> = seen.into_keys().collect();
    for node in merged {
        if let Err(odd) = merge(&node, &mut kept, &mut keys) {
            let fault = Diagnostic::error("merge", "`<<` merges a mapping");
            complaints.push(fault.at(source, odd.span.clone()));
        }
    }
    kept
}

/// Adds the entries of a merged mapping, or of each in a list, whose keys are lacking. An error is
/// the node that is neither.
fn merge<'a>(
    node: &'a Node,
    kept: &mut Vec<Entry>,
    keys: &mut BTreeSet<String>,
) -> Result<(), &'a Node> {
    match &node.content {
        Content::Mapping(entries) => {
            let lacking = entries
                .iter()
                .filter(|entry| keys.insert(entry.key.clone()));
            kept.extend(lacking.cloned());
            Ok(())
        }
        Content::List(items) => items.iter().try_for_each(|item| merge(item, kept, keys)),
        Content::Scalar { .. } => Err(node),
    }
}
