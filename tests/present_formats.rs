//! Do the formats say what the job says?

mod sample;

use feedpoint::present::document;
use feedpoint::present::terminal::{Look, write};

fn plain(width: usize) -> Look {
    Look {
        width,
        colour: false,
        ascii: false,
    }
}

#[test]
fn look() {
    let job = sample::job();
    print!("{}", write(&document::all(&job), plain(80)));
}
