//! Does a project take its goods from several catalogues as it does from one?

use std::path::Path;
use std::process::Command;

/// What a command prints about the demo in `folder` as JSON.
fn printed(command: &str, folder: &Path) -> String {
    let out = Command::new(env!("CARGO_BIN_EXE_feedpoint"))
        .args([command, "millrace-library.yaml", "--format", "json"])
        .current_dir(folder)
        .output()
        .expect("the program runs");
    assert!(
        out.status.success(),
        "{command}: {}",
        String::from_utf8_lossy(&out.stderr)
    );
    String::from_utf8(out.stdout).expect("text")
}

#[test]
fn ok_strips_in_one_catalogue_and_the_rest_in_another_size_and_price_the_same() {
    let demo = std::fs::read_to_string("catalogue-examples/millrace-library.yaml").expect("demo");
    let trade = std::fs::read_to_string("catalogue-examples/trade.yaml").expect("its catalogue");
    let (strips, others) = trade
        .split_once("\ndrivers:\n")
        .expect("drivers after strips");
    let (head, _) = strips.split_once("\nstrips:\n").expect("strips first");
    let folder = tempfile::tempdir().expect("a folder");
    let write = |folder: &str, name: &str, text: &str, base: &Path| {
        let folder = base.join(folder);
        std::fs::create_dir_all(&folder).expect("a folder");
        std::fs::write(folder.join(name), text).expect("written");
    };
    let two = demo.replace(
        "catalogues: [trade.yaml]",
        "catalogues: [goods.yaml, strips.yaml]",
    );
    assert_ne!(two, demo);
    write("one", "millrace-library.yaml", &demo, folder.path());
    write("one", "trade.yaml", &trade, folder.path());
    write("two", "millrace-library.yaml", &two, folder.path());
    write("two", "strips.yaml", strips, folder.path());
    let goods = format!("{head}\ndrivers:\n{others}");
    write("two", "goods.yaml", &goods, folder.path());
    for command in ["size", "loops", "quote"] {
        let one = printed(command, &folder.path().join("one"));
        assert!(one.len() > 1000, "{one}");
        assert_eq!(
            one,
            printed(command, &folder.path().join("two")),
            "{command}"
        );
    }
}
