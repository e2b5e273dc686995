//! Is the web page whole in itself, harmless, and as full as the documents?

use crate::sample;

use feedpoint::norms::region::Region;
use feedpoint::present::document::{self, Cell, Document, Part, RowKind, Showing};
use feedpoint::present::drawing::{layout, run};
use feedpoint::present::{html, pdf};
use roxmltree::{Node, ParsingOptions};

fn page_of(documents: &[Document]) -> String {
    html::write("Millrace <Library>", documents, pdf::Paper::A4)
}

/// The page is also well-formed XML, so that any reader of either can take it.
fn with_page(page: &str, look: impl FnOnce(Node)) {
    let options = ParsingOptions {
        allow_dtd: true,
        ..ParsingOptions::default()
    };
    let parsed = roxmltree::Document::parse_with_options(page, options).expect("well-formed");
    look(parsed.root_element());
}

fn with_a_drawing() -> Vec<Document> {
    let job = sample::job();
    let mut documents = document::all(&job);
    let sheet = layout::bare(&run::drawing(&job, &job.sizing.runs[0]));
    documents[0]
        .parts
        .push(Part::drawing("drawing", "A drawing", sheet));
    documents
}

fn named<'a>(node: Node<'a, 'a>, name: &str) -> Vec<Node<'a, 'a>> {
    let name = name.to_owned();
    node.descendants()
        .filter(|it| it.tag_name().name() == name)
        .collect()
}

fn text_of(node: Node) -> String {
    let texts = node.descendants().filter(Node::is_text);
    texts.filter_map(|it| it.text()).collect()
}

#[test]
fn nothing_is_fetched_and_nothing_runs() {
    let page = page_of(&with_a_drawing());
    with_page(&page, |root| {
        for node in root.descendants().filter(Node::is_element) {
            let name = node.tag_name().name();
            let active = [
                "script", "link", "iframe", "object", "embed", "img", "base", "form",
            ];
            assert!(!active.contains(&name), "{name}");
            for attribute in node.attributes() {
                let (key, value) = (attribute.name(), attribute.value());
                assert!(!key.starts_with("on") && key != "src", "{name} {key}");
                assert!(key != "href" || value.starts_with('#'), "{value}");
            }
        }
        let style = text_of(named(root, "style")[0]);
        assert!(!style.contains("url(") && !style.contains("@import"));
        assert!(!named(root, "svg").is_empty());
    });
    assert!(page.contains("default-src 'none'"));
}

#[test]
fn every_cell_stands_in_its_row_with_the_name_of_its_column() {
    let documents = document::all(&sample::job());
    let page = page_of(&documents);
    with_page(&page, |root| {
        let written: Vec<Node> = named(root, "table");
        let tables = documents.iter().flat_map(|document| &document.parts);
        let tables: Vec<_> = tables
            .filter_map(|part| part.table.as_ref())
            .filter(|table| !table.rows.is_empty())
            .collect();
        assert_eq!(written.len(), tables.len());
        let mut cells = 0;
        for (node, table) in written.into_iter().zip(tables) {
            let body = named(node, "tbody")[0];
            let rows: Vec<Node> = named(body, "tr");
            assert_eq!(rows.len(), table.rows.len());
            for (tr, row) in rows.into_iter().zip(&table.rows) {
                if row.kind == RowKind::Group {
                    continue;
                }
                let found: Vec<Node> = tr.children().filter(Node::is_element).collect();
                let shown = table.columns.iter().zip(&row.cells);
                let shown: Vec<_> = shown
                    .filter(|(column, _)| column.showing != Showing::DataOnly)
                    .collect();
                assert_eq!(found.len(), shown.len());
                for (at, (td, (column, cell))) in found.into_iter().zip(shown).enumerate() {
                    let text = text_of(td);
                    match cell {
                        Cell::Figure(figure) => {
                            assert!(text.starts_with(&figure.number()), "{text}");
                        }
                        Cell::Unknown(_) => assert!(text.starts_with('?'), "{text}"),
                        Cell::Verdict(word) => assert_eq!(text, *word),
                        Cell::Blank | Cell::Empty => assert_eq!(text, ""),
                        Cell::Text(_) | Cell::Money(_) | Cell::Decimal(_) => {
                            assert!(!text.is_empty());
                        }
                    }
                    let label = td.attribute("data-of").unwrap_or_default();
                    assert!(at == 0 || label.starts_with(&column.heading), "{label}");
                    cells += 1;
                }
            }
        }
        assert!(cells > 300, "only {cells} cells");
    });
}

#[test]
fn text_of_files_stays_text() {
    let page = page_of(&document::all(&sample::job()));
    assert!(page.contains("<title>Millrace &lt;Library&gt;</title>"));
    let sent = page.chars().find(|c| c.is_control() && *c != '\n');
    assert_eq!(sent, None);
    assert!(!page.contains('\u{202e}'));
    assert!(page.contains(sample::RIGHT_TO_LEFT));
    assert!(page.contains(&sample::long_name()));
}

#[test]
fn every_document_can_be_reached_and_carries_its_cautions() {
    let documents = document::all(&sample::job());
    let page = page_of(&documents);
    with_page(&page, |root| {
        let links = named(root, "a");
        assert_eq!(links.len(), documents.len());
        for (article, document) in named(root, "article").into_iter().zip(&documents) {
            assert_eq!(article.attribute("id"), Some(document.name));
            let link = format!("#{}", document.name);
            let leads = |link_node: &&Node| link_node.attribute("href") == Some(link.as_str());
            assert!(links.iter().any(|node| leads(&node)), "{link}");
            let cautioned = text_of(article).contains("prove dead");
            assert_eq!(
                cautioned,
                !document.cautions.is_empty(),
                "{}",
                document.name
            );
        }
    });
}

#[test]
fn it_is_the_same_each_time_and_of_the_regions_paper() {
    let page = |region: Region| {
        let documents = document::all(&sample::job_in(region));
        html::write("t", &documents, pdf::Paper::of(region))
    };
    assert_eq!(page(Region::Iec), page(Region::Iec));
    assert!(page(Region::Iec).contains("size: A4"));
    assert!(page(Region::NorthAmerica).contains("size: letter"));
}
