//! The explorer in JupyterLab in a real Chromium, which is the machine's own: nothing of a browser is downloaded.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::{env, iter};

use crate::environment::Environment;
use crate::failure::{Failure, Outcome};
use crate::{project, wheel};

/// Where it is, if it is not on the search path.
const VARIABLE: &str = "CHROMIUM";
const NAMES: &[&str] = &["chromium", "chromium-browser"];
/// Where the pictures go.
const PICTURES: &str = "target/browser";

pub(crate) fn run() -> Outcome {
    let chromium = find(env::var_os(VARIABLE).as_deref(), env::var_os("PATH").as_deref())?;
    let environment = Environment::for_browser()?;
    wheel::install(&environment)?;
    environment.python().argument("tests/browser/explore.py").argument(chromium).argument(project::at(PICTURES)).run()
}

/// The Chromium that the variable names, else the first on the search path.
fn find(stated: Option<&OsStr>, path: Option<&OsStr>) -> Outcome<PathBuf> {
    if let Some(stated) = stated.map(Path::new) {
        let sentence = || {
            format!(
                "{VARIABLE} says {}, which is no file; name the program, or leave the variable out",
                stated.display()
            )
        };
        return if stated.is_file() { Ok(stated.to_path_buf()) } else { Err(Failure::new(sentence())) };
    }
    let folders = path.into_iter().flat_map(env::split_paths);
    let mut places =
        folders.flat_map(|folder| NAMES.iter().zip(iter::repeat(folder)).map(|(name, folder)| folder.join(name)));
    places.find(|place| place.is_file()).ok_or_else(|| {
        Failure::new(format!(
            "no Chromium was found on the search path as {}; install it (on Debian: apt-get install chromium), or say \
             where it is in the variable {VARIABLE}",
            NAMES.join(" or ")
        ))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_program_is_found_by_the_variable_or_on_the_path_or_missed_in_words() {
        let program = env::current_exe().unwrap();
        assert_eq!(find(Some(program.as_os_str()), None).unwrap(), program);
        assert!(find(Some(OsStr::new("no such file")), None).unwrap_err().to_string().contains("which is no file"));
        let empty = env::join_paths([project::at("crates"), project::at("tests")]).unwrap();
        assert!(find(None, Some(&empty)).unwrap_err().to_string().contains("no Chromium was found"));
    }
}
