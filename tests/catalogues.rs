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

/// A price and a figure that the project replaces stand among the assumptions with their reasons,
/// whichever of two catalogues they are of, and the price counts.
#[test]
fn ok_what_a_project_replaces_in_either_catalogue_is_priced_and_told_with_its_reason() {
    let folder = tempfile::tempdir().expect("a folder");
    let read = |name: &str| std::fs::read_to_string(format!("src/command/init/iec/{name}"));
    let project = read("project.yaml").expect("the starter");
    let catalogue = read("catalogue.yaml").expect("its catalogue");
    let (strips, others) = catalogue
        .split_once("\ndrivers:\n")
        .expect("drivers after strips");
    let head = strips.split_once("\nstrips:\n").expect("strips first").0;
    let save = |name: &str, text: &str| {
        std::fs::write(folder.path().join(name), text).expect("written");
    };
    save("strips.yaml", strips);
    save("goods.yaml", &format!("{head}\ndrivers:\n{others}"));
    let project = project.replace("[catalogue.yaml]", "[strips.yaml, goods.yaml]");
    let quote = |overrides: &str| -> serde_json::Value {
        save("millrace-library.yaml", &format!("{project}{overrides}"));
        serde_json::from_str(&printed("quote", folder.path())).expect("JSON")
    };
    let told = |quote: &serde_json::Value| quote["assumptions"].to_string();
    let plain = quote("");
    assert!(!told(&plain).contains("in place of"), "{}", told(&plain));
    let replaced = quote(
        "overrides:\n  - {item: duo-75, set: {price: 1058.00}, because: quoted by telephone}\n  \
         - {item: pair-24-12, set: {light_starts_at: 16.5 V}, because: measured on the bench}\n",
    );
    for said in [
        "`price` is 1058.00, in place of 58.00: quoted by telephone",
        "`light_starts_at` is 16.5 V, in place of 16.4 V: measured on the bench",
        "goods.yaml",
        "strips.yaml",
    ] {
        assert!(
            told(&replaced).contains(said),
            "{said} in {}",
            told(&replaced)
        );
    }
    let net = |quote: &serde_json::Value| -> f64 {
        let amount = quote["totals"]["net"].as_str().expect("an amount");
        amount.parse().expect("a number")
    };
    assert_ne!(net(&plain), net(&replaced));
}
