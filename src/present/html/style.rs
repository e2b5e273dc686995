//! The style sheet: black on white, readable in sunlight and on paper, no meaning in colour.

use crate::present::pdf::Paper;
use crate::quantity::number::real;

/// Halves of a digit by which a number can be set in to align its point.
pub(super) const MOST_SET_IN: usize = 18;

/// For the whole file; `paper` is what it is printed on.
pub(super) fn sheet(paper: Paper) -> String {
    let size = match paper {
        Paper::A4 => "A4",
        Paper::Letter => "letter",
    };
    let mut sheet = EVERYWHERE.to_owned();
    for halves in 1..=MOST_SET_IN {
        let digits = 0.5 * real(halves);
        sheet.push_str(&format!(
            ".i{halves} {{ padding-right: calc(.5rem + {digits}ch) }}\n"
        ));
    }
    sheet.push_str(NARROW);
    sheet.push_str(&PRINTED.replace("SIZE", size));
    sheet
}

const EVERYWHERE: &str = "\
:root { color-scheme: light }
* { box-sizing: border-box }
body { margin: 0 auto; max-width: 80rem; padding: 0 1rem 3rem; font: 16px/1.4 sans-serif; \
color: #000; background: #fff; overflow-wrap: break-word }
header { border-bottom: 3px solid #000; padding: .5rem 0 }
h1 { font-size: 1.5rem; margin: .25rem 0 }
h2 { font-size: 1.3rem; margin: 2.5rem 0 0; border-top: 3px solid #000; padding-top: .4rem }
h3 { font-size: 1.05rem; margin: 1.4rem 0 .3rem }
p { margin: .4rem 0 }
dl { display: flex; flex-wrap: wrap; gap: .2rem 1.6rem; margin: .3rem 0 }
dt { font-size: .8rem }
dd { margin: 0; font-weight: bold }
nav ol { columns: 16rem; padding-left: 1.6rem }
nav li { padding: .25rem 0 }
a { color: #000 }
.block { font-size: .85rem; margin: 0 }
.note { font-size: .85rem; padding-left: 1.2rem; text-indent: -1.2rem }
section { overflow-x: auto }
table { border-collapse: collapse; font-variant-numeric: tabular-nums; font-size: .88rem; \
width: 100% }
th, td { padding: .25rem .5rem; text-align: left; vertical-align: top }
thead th { vertical-align: bottom; border-bottom: 2px solid #000 }
tbody th { font-weight: normal }
tbody tr { border-top: 1px solid #bbb }
.n { text-align: right }
tr.group th { font-weight: bold; padding-top: .8rem }
tr.total { border-top: 2px solid #000 }
tr.total th, tr.total td, .look { font-weight: bold }
.blank { min-width: 5rem }
figure { margin: .5rem 0; overflow-x: auto }
svg { display: block; width: 100%; min-width: 44rem; height: auto }
aside { border: 2px solid #000; margin: 1.2rem 0; padding: .2rem .8rem .5rem; font-size: .9rem }
aside h3 { margin: .3rem 0 }
aside ul { margin: 0; padding-left: 1.1rem }
";

const NARROW: &str = "\
@media screen { .paper { display: none } }
@media screen and (max-width: 60rem) {
thead { position: absolute; left: -99rem }
table, tbody, tr { display: block; width: 100% }
tbody tr { border: 1px solid #000; margin: .6rem 0; padding: .3rem .5rem }
tbody tr.group { border: 0; margin: 1rem 0 0; padding: 0 }
tbody tr.group th { font-size: 1.1rem; padding: 0 }
tbody th, tbody td { display: block; padding: .1rem 0; text-align: left }
tbody th { font-weight: bold; font-size: 1.05rem }
tbody td { display: flex; justify-content: space-between; gap: 1rem; border-top: 1px dotted #bbb }
tbody td::before { content: attr(data-of); flex: 0 0 auto; max-width: 50% }
tbody td:empty, tbody th:empty { display: none }
tbody td { text-align: right }
}
";

const PRINTED: &str = "\
@media print {
@page { size: SIZE; margin: 14mm 12mm }
body { font-size: 9pt; max-width: none; padding: 0 }
nav { display: none }
article { break-before: page }
h2 { margin-top: 0 }
h3 { break-after: avoid }
thead { display: table-header-group }
tr, aside, figure { break-inside: avoid }
table { font-size: 7.5pt }
th, td { padding: .15rem .3rem }
.blank { border-bottom: 1px solid #000 }
svg { min-width: 0 }
section, figure { overflow: visible }
}
";
