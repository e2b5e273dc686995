//! Take-offs as workbooks: bytes, written as lines of hexadecimal digits so that they are spoilt like
//! a text.

use super::Target;
use super::take_off::told;
use rust_xlsxwriter::Workbook;

pub(super) const TARGET: Target = Target {
    name: "workbook",
    corpus: || {
        let mut book = Workbook::new();
        let sheet = book.add_worksheet();
        for (column, heading) in (0..).zip(["run", "room", "length (m)", "strip"]) {
            sheet.write(0, column, heading).expect("a cell");
        }
        for row in 1..5 {
            sheet.write(row, 0, format!("cove {row}")).expect("a cell");
            sheet.write(row, 1, "Archive").expect("a cell");
            sheet.write(row, 2, 1.5 * f64::from(row)).expect("a cell");
        }
        vec![hexadecimal(&book.save_to_buffer().expect("a workbook"))]
    },
    read: |text| told(&bytes(text), "take-off.xlsx"),
};

fn hexadecimal(bytes: &[u8]) -> String {
    let lines = bytes.chunks(32).map(|line| {
        let digits = line.iter().map(|byte| format!("{byte:02x}"));
        digits.collect::<Vec<_>>().join(" ")
    });
    lines.collect::<Vec<_>>().join("\n")
}

/// The bytes again; what is not two digits is left out.
fn bytes(text: &str) -> Vec<u8> {
    let words = text.split_whitespace();
    words
        .filter_map(|word| u8::from_str_radix(word, 16).ok())
        .collect()
}
