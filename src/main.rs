//! The `feedpoint` command.

fn main() {}
