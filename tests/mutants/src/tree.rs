//! The copy of the project in which every change stands, and the build that says which of them do not compile.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io;
use std::ops::Range;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use serde::Deserialize;

use crate::change::{self, Change, Genre};
use crate::render::{self, Stretch};

/// The copy.
pub(crate) struct Tree {
    root: PathBuf,
    copy: PathBuf,
    build: PathBuf,
}

/// What became of the changes when they were put in.
#[derive(Debug, Default)]
pub(crate) struct Placed {
    /// The compiler refuses them.
    pub(crate) refused: BTreeSet<usize>,
    /// They can be tried only by a build of their own.
    pub(crate) apart: BTreeSet<usize>,
}

/// A test program and where it wants to run.
#[derive(Debug, Clone)]
pub(crate) struct TestProgram {
    pub(crate) path: PathBuf,
    pub(crate) folder: PathBuf,
    pub(crate) name: String,
    /// It is one test as a whole and takes no words.
    pub(crate) whole: bool,
}

#[derive(Deserialize)]
struct Line {
    reason: String,
    message: Option<Message>,
    executable: Option<PathBuf>,
    manifest_path: Option<PathBuf>,
    target: Option<Target>,
    profile: Option<Profile>,
}

#[derive(Deserialize)]
struct Message {
    code: Option<Code>,
    level: String,
    spans: Vec<Span>,
    rendered: Option<String>,
}

#[derive(Deserialize)]
struct Code {
    code: String,
}

#[derive(Deserialize)]
struct Span {
    file_name: String,
    byte_start: usize,
    byte_end: usize,
    is_primary: bool,
}

#[derive(Deserialize)]
struct Target {
    name: String,
}

#[derive(Deserialize)]
struct Profile {
    test: bool,
}

/// An error of the compiler.
struct Complaint {
    file: String,
    range: Range<usize>,
    is_about_missing_arms: bool,
    text: String,
}

impl Tree {
    /// Copies every tracked file of the project at `root` below `folder`, leaving alone what has not changed.
    pub(crate) fn new(root: &Path, folder: &Path) -> io::Result<Self> {
        let tree = Tree { root: root.into(), copy: folder.join("copy"), build: folder.join("build") };
        let listed = Command::new("git").args(["ls-files", "-z"]).current_dir(root).output()?;
        for file in String::from_utf8_lossy(&listed.stdout).split('\0').filter(|file| !file.is_empty()) {
            if let Ok(content) = fs::read(root.join(file)) {
                tree.write(file, &content)?;
            }
        }
        let library = fs::read_to_string(root.join("crates/tenside/src/lib.rs"))?;
        tree.write("crates/tenside/src/lib.rs", format!("{library}\nmod mutation_switch;\n").as_bytes())?;
        tree.write("crates/tenside/src/mutation_switch.rs", include_bytes!("mutation_switch.rs"))?;
        Ok(tree)
    }

    fn write(&self, file: &str, content: &[u8]) -> io::Result<()> {
        let path = self.copy.join(file);
        if fs::read(&path).is_ok_and(|there| there == content) {
            return Ok(());
        }
        if let Some(folder) = path.parent() {
            fs::create_dir_all(folder)?;
        }
        fs::write(path, content)
    }

    /// Writes the changed files again and again, each time without what the compiler refused, until it refuses nothing.
    pub(crate) fn place(&self, all: &[Change]) -> io::Result<Placed> {
        let mut placed = Placed::default();
        loop {
            let mut stretches: BTreeMap<&str, Vec<Stretch>> = BTreeMap::new();
            for (file, numbers) in change::by_file(all) {
                let numbers: Vec<usize> = numbers.into_iter().filter(|number| !placed.refused.contains(number) && !placed.apart.contains(number)).collect();
                let text = fs::read_to_string(self.root.join(file))?;
                let rendered = render::render(&text, all, &numbers).map_err(|error| io::Error::other(format!("{file}: {error}")))?;
                self.write(file, rendered.text.as_bytes())?;
                placed.apart.extend(rendered.apart);
                placed.refused.extend(rendered.refused);
                stretches.insert(file, rendered.stretches);
            }
            let complaints = self.complaints()?;
            if complaints.is_empty() {
                return Ok(placed);
            }
            let before = placed.refused.len() + placed.apart.len();
            for complaint in &complaints {
                let range = &complaint.range;
                let stretches = stretches.get(complaint.file.as_str()).into_iter().flatten();
                let near = if complaint.is_about_missing_arms {
                    // It stands at the head of the `match`; an arm below it, asked whether it is there, no longer counts.
                    let is_arm = |&number: &usize| all[number].genre == Genre::MatchArm;
                    stretches.filter(|below| below.range.start > range.end && below.numbers.iter().all(is_arm)).min_by_key(|below| below.range.start)
                } else {
                    stretches.filter(|around| around.range.start <= range.start && range.end <= around.range.end).min_by_key(|around| around.range.len())
                };
                let Some(Stretch { numbers, .. }) = near else {
                    return Err(io::Error::other(format!("the copy does not build, and no change is near:\n{}", complaint.text)));
                };
                // A complaint about one change refuses it; one about a place says nothing of its changes, so they are built on their own.
                let alone = numbers.len() == 1 && !complaint.is_about_missing_arms && !all[numbers[0]].returns_an_opaque_type();
                if alone { placed.refused.extend(numbers) } else { placed.apart.extend(numbers) }
            }
            println!(
                "{} complaints of the compiler; {} changes refused, {} left for a build of their own",
                complaints.len(),
                placed.refused.len(),
                placed.apart.len()
            );
            if placed.refused.len() + placed.apart.len() == before {
                return Err(io::Error::other("the compiler complains again about what was taken out"));
            }
        }
    }

    /// What `ask` makes of the copy with `change` alone in the text; nothing if it does not compile.
    pub(crate) fn alone<T>(&self, change: &Change, ask: impl FnOnce() -> io::Result<T>) -> io::Result<Option<T>> {
        let text = fs::read_to_string(self.root.join(&change.file))?;
        let mut changed = text.clone();
        changed.replace_range(change.bytes(&text), &change.replacement);
        let there = fs::read(self.copy.join(&change.file))?;
        self.write(&change.file, changed.as_bytes())?;
        let answer = if self.complaints()?.is_empty() { Some(ask()) } else { None };
        self.write(&change.file, &there)?;
        answer.transpose()
    }

    fn cargo(&self, words: &[&str]) -> Command {
        let mut cargo = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
        cargo.args(words).current_dir(&self.copy).env("CARGO_TARGET_DIR", &self.build).env("RUSTFLAGS", "--cap-lints allow");
        // Only so that the programs made of the examples in the documentation can be kept.
        cargo.env("RUSTC_BOOTSTRAP", "1");
        cargo
    }

    fn lines(&self, words: &[&str]) -> io::Result<Vec<Line>> {
        let output = self.cargo(words).arg("--message-format=json").stderr(Stdio::inherit()).output()?;
        let text = String::from_utf8_lossy(&output.stdout).into_owned();
        Ok(text.lines().filter_map(|line| serde_json::from_str(line).ok()).collect())
    }

    fn complaints(&self) -> io::Result<Vec<Complaint>> {
        let messages = self
            .lines(&["check", "--quiet", "--package", "tenside", "--lib"])?
            .into_iter()
            .filter(|line| line.reason == "compiler-message")
            .filter_map(|line| line.message);
        Ok(messages
            .filter(|message| message.level == "error")
            .filter_map(|message| {
                let span = message.spans.iter().find(|span| span.is_primary)?;
                Some(Complaint {
                    file: span.file_name.clone(),
                    range: span.byte_start..span.byte_end,
                    is_about_missing_arms: message.code.as_ref().is_some_and(|code| code.code == "E0004"),
                    text: message.rendered.clone().unwrap_or_default(),
                })
            })
            .collect())
    }

    /// Builds the tests in the files of the library.
    pub(crate) fn unit_tests(&self) -> io::Result<Vec<TestProgram>> {
        self.built(&["--package", "tenside", "--lib"])
    }

    /// Builds the tests of the library and of the whole.
    pub(crate) fn test_programs(&self) -> io::Result<Vec<TestProgram>> {
        self.built(&["--package", "tenside", "--package", "tenside-tests", "--lib", "--tests"])
    }

    fn built(&self, which: &[&str]) -> io::Result<Vec<TestProgram>> {
        let lines = self.lines(&[&["test", "--quiet", "--no-run"], which].concat())?;
        let programs: Vec<TestProgram> = lines
            .into_iter()
            .filter(|line| line.profile.as_ref().is_some_and(|profile| profile.test))
            .filter_map(|line| {
                Some(TestProgram { path: line.executable?, folder: line.manifest_path?.parent()?.into(), name: line.target?.name, whole: false })
            })
            .collect();
        if programs.is_empty() { Err(io::Error::other("the copy gave no test program")) } else { Ok(programs) }
    }

    /// Builds and runs the examples in the documentation and keeps the programs made of them; nothing if one fails.
    pub(crate) fn documentation(&self) -> io::Result<Option<Vec<TestProgram>>> {
        let kept = self.build.join("documentation");
        // Nothing is there before the first run.
        let _ = fs::remove_dir_all(&kept);
        let flags = format!("-Zunstable-options --persist-doctests {} --cap-lints allow", kept.display());
        let words = ["test", "--quiet", "--doc", "--package", "tenside"];
        let ran = self.cargo(&words).env("RUSTDOCFLAGS", flags).stdout(Stdio::null()).stderr(Stdio::null()).status()?;
        if !ran.success() {
            return Ok(None);
        }
        let mut programs = Vec::new();
        for entry in fs::read_dir(&kept)? {
            let path = entry?.path().join("rust_out");
            if path.exists() {
                programs.push(TestProgram { path, folder: self.copy.join("crates/tenside"), name: "documentation".into(), whole: true });
            }
        }
        Ok(Some(programs))
    }
}
