//! Does `feedpoint check --watch` tell what each save changes, go on through a file that can't be
//! read, and end when it is interrupted?

use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

/// How long the program may take for one answer on a machine that is busy; a test waits no longer
/// than it must.
const PATIENCE: Duration = Duration::from_secs(120);

/// Lines of both streams as they come, standard errors' marked.
fn lines(child: &mut Child) -> Receiver<String> {
    let (send, receive) = channel();
    let streams: [(&str, Box<dyn std::io::Read + Send>); 2] = [
        ("", Box::new(child.stdout.take().expect("its output"))),
        ("! ", Box::new(child.stderr.take().expect("its messages"))),
    ];
    for (mark, stream) in streams {
        let send = send.clone();
        std::thread::spawn(move || {
            for line in BufReader::new(stream).lines().map_while(Result::ok) {
                if send.send(format!("{mark}{line}")).is_err() {
                    return;
                }
            }
        });
    }
    receive
}

/// Waits for a line that holds `text`.
fn wait_for(lines: &Receiver<String>, text: &str) -> Vec<String> {
    wait_for_each(lines, &[text])
}

/// Waits until each of `texts` was in some line: between the two streams there is no order.
fn wait_for_each(lines: &Receiver<String>, texts: &[&str]) -> Vec<String> {
    let until = Instant::now() + PATIENCE;
    let mut seen = Vec::new();
    loop {
        let left = until.saturating_duration_since(Instant::now());
        match lines.recv_timeout(left) {
            Ok(line) => seen.push(line),
            Err(error) => panic!("{error} while waiting for {texts:?}: {seen:#?}"),
        }
        let told = |text: &&str| seen.iter().any(|line| line.contains(*text));
        if texts.iter().all(told) {
            return seen;
        }
    }
}

#[cfg(unix)]
#[test]
fn each_save_is_told_until_it_is_interrupted() {
    let folder = tempfile::tempdir().expect("a folder");
    let starter = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/command/init/iec");
    let read = |name: &str| std::fs::read_to_string(starter.join(name)).expect(name);
    let (project, catalogue) = (read("project.yaml"), read("catalogue.yaml"));
    let save = |name: &str, text: &str| {
        std::fs::write(folder.path().join(name), text).expect("written");
    };
    save("project.yaml", &project);
    save("catalogue.yaml", &catalogue);
    let mut child = Command::new(env!("CARGO_BIN_EXE_feedpoint"))
        .args(["check", "project.yaml", "--watch"])
        .current_dir(folder.path())
        .env("LC_ALL", "C.UTF-8")
        .env_remove("COLUMNS")
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program runs");
    let lines = lines(&mut child);
    wait_for_each(&lines, &["watching 2 files", "0 broken"]);

    // Strip of IP20 in a wet place.
    let broken = project.replacen("wet: no", "wet: yes", 1);
    assert_ne!(broken, project);
    save("project.yaml", &broken);
    wait_for(&lines, "newly broken");

    save("project.yaml", "format: 1\nruns: [\n");
    let seen = wait_for(&lines, "waiting for the next save");
    assert!(
        seen.iter().any(|line| line.contains("! error")),
        "{seen:#?}"
    );

    save("project.yaml", &project);
    wait_for(&lines, "can be checked again: 0 broken");
    wait_for(&lines, "no longer asked");

    // A catalogue counts as well.
    save(
        "catalogue.yaml",
        &catalogue.replace("    least_load: 5 %\n", ""),
    );
    wait_for(&lines, "newly untold");

    let interrupted = Command::new("kill")
        .args(["-INT", &child.id().to_string()])
        .status();
    assert!(interrupted.expect("kill").success());
    wait_for(&lines, "stopped");
    let status = child.wait().expect("an end");
    assert_eq!(status.code(), Some(0), "nothing was broken at the last");
}

#[test]
fn standard_input_and_other_formats_are_not_watched() {
    for flags in [
        &["-", "--watch"][..],
        &["a.yaml", "--watch", "--format", "json"],
    ] {
        let output = Command::new(env!("CARGO_BIN_EXE_feedpoint"))
            .arg("check")
            .args(flags)
            .stdin(Stdio::null())
            .output()
            .expect("the program runs");
        assert_eq!(output.status.code(), Some(2), "{flags:?}");
        assert!(!output.stderr.is_empty());
    }
}
