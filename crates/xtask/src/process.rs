//! Other programs: started in the top folder, their lines passed on, their failures told as sentences.

use std::ffi::OsStr;
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command, ExitStatus, Stdio};
use std::sync::LazyLock;

use crate::failure::{Failure, Outcome};
use crate::project;

/// Whether crates are compiled whole: preparing them for changes takes a first build longer, and is worth it only where
/// somebody has begun to change them.
static WHOLE: LazyLock<bool> = LazyLock::new(|| {
    let mut kept = std::fs::read_dir(project::at("target/debug/incremental")).into_iter().flatten().flatten();
    !kept.any(|folder| folder.file_name().to_string_lossy().starts_with("tenside"))
});

/// One call of another program.
pub(crate) struct Program {
    command: Command,
    shown: String,
    way_out: &'static str,
}

impl Program {
    pub(crate) fn new(name: impl AsRef<OsStr>) -> Self {
        let mut command = Command::new(name.as_ref());
        command.current_dir(project::root()).stdin(Stdio::null());
        if *WHOLE {
            command.env("CARGO_INCREMENTAL", "0");
        }
        let shown = Path::new(name.as_ref()).file_stem().unwrap_or_default().to_string_lossy().into_owned();
        Program { command, shown, way_out: "install it or put it on the search path" }
    }

    /// Cargo, the same one that runs this.
    pub(crate) fn cargo(words: &[&str]) -> Self {
        Program::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into())).arguments(words)
    }

    pub(crate) fn argument(mut self, word: impl AsRef<OsStr>) -> Self {
        self.shown.push(' ');
        self.shown.push_str(&word.as_ref().to_string_lossy());
        self.command.arg(word);
        self
    }

    pub(crate) fn arguments(self, words: &[&str]) -> Self {
        words.iter().fold(self, |program, word| program.argument(word))
    }

    pub(crate) fn variable(mut self, name: &str, value: impl AsRef<OsStr>) -> Self {
        self.command.env(name, value);
        self
    }

    pub(crate) fn without_variable(mut self, name: &str) -> Self {
        self.command.env_remove(name);
        self
    }

    /// Compiles crates of the workspace with clippy's compiler, a warning being a failure, instead of going over all of
    /// them a second time. What is compiled so is kept apart from what cargo compiles by itself.
    pub(crate) fn linting(self) -> Self {
        // As `cargo clippy -- -D warnings` tells it.
        let arguments = "-D__CLIPPY_HACKERY__warnings__CLIPPY_HACKERY__";
        self.variable("RUSTC_WORKSPACE_WRAPPER", "clippy-driver").variable("CLIPPY_ARGS", arguments)
    }

    /// What to do if it cannot be started.
    pub(crate) fn way_out(mut self, sentence: &'static str) -> Self {
        self.way_out = sentence;
        self
    }

    /// Runs it; its lines go where ours go.
    pub(crate) fn run(mut self) -> Outcome {
        let status = self.command.status();
        self.judge(status)
    }

    /// Runs it, passes its standard output on line by line, and gives it back too.
    pub(crate) fn run_and_read(self) -> Outcome<String> {
        self.run_and_read_with(|| ())
    }

    /// As [`run_and_read`](Self::run_and_read), with something to be done as soon as there is a line.
    pub(crate) fn run_and_read_with(mut self, speaks: impl FnOnce()) -> Outcome<String> {
        let mut speaks = Some(speaks);
        let mut read = |command: &mut Command| -> std::io::Result<(ExitStatus, String)> {
            let mut child = command.stdout(Stdio::piped()).spawn()?;
            let mut text = String::new();
            if let Some(output) = child.stdout.take() {
                for line in BufReader::new(output).split(b'\n') {
                    let line = String::from_utf8_lossy(&line?).into_owned();
                    if let Some(speaks) = speaks.take() {
                        speaks();
                    }
                    writeln!(std::io::stdout(), "{line}")?;
                    text.push_str(&line);
                    text.push('\n');
                }
            }
            Ok((child.wait()?, text))
        };
        let (status, text) = match read(&mut self.command) {
            Ok((status, text)) => (Ok(status), text),
            Err(error) => (Err(error), String::new()),
        };
        self.judge(status).map(|()| text)
    }

    /// Runs it in silence and gives back its standard output.
    pub(crate) fn read(mut self) -> Outcome<String> {
        let output = self.command.stderr(Stdio::inherit()).output();
        let (status, text) = match output {
            Ok(output) => (Ok(output.status), String::from_utf8_lossy(&output.stdout).into_owned()),
            Err(error) => (Err(error), String::new()),
        };
        self.judge(status).map(|()| text)
    }

    /// Runs it in silence; nothing if it cannot be started or fails.
    pub(crate) fn try_read(mut self) -> Option<String> {
        let output = self.command.output().ok()?;
        output.status.success().then(|| String::from_utf8_lossy(&output.stdout).into_owned())
    }

    /// Runs it with everything it prints in one file, and gives back that text and whether it succeeded.
    pub(crate) fn run_into(mut self, file: &Path) -> Outcome<(bool, String)> {
        let run = |command: &mut Command| -> std::io::Result<(bool, String)> {
            let log = std::fs::File::create(file)?;
            let status = command.stdout(log.try_clone()?).stderr(log).status()?;
            Ok((status.success(), String::from_utf8_lossy(&std::fs::read(file)?).into_owned()))
        };
        run(&mut self.command).map_err(|error| self.not_started(&error))
    }

    fn judge(&self, status: std::io::Result<ExitStatus>) -> Outcome {
        match status {
            Ok(status) if status.success() => Ok(()),
            Ok(status) => {
                Err(Failure::new(format!("`{}` ended with {status}; its own lines above say why", self.shown)))
            }
            Err(error) => Err(self.not_started(&error)),
        }
    }

    fn not_started(&self, error: &std::io::Error) -> Failure {
        Failure::new(format!("`{}` could not be run ({error}); {}", self.shown, self.way_out))
    }
}
