//! A room uses only rooms below it.

use super::files::File;
use super::finding::Finding;
use super::paths::paths;
use super::tables::{CORE, DOORS, FLOORS, Neighbours, SHARED};
use super::tokens::tokens;

pub(super) fn check(files: &[File]) -> Vec<Finding> {
    files.iter().filter(|file| file.has_ending("rs")).flat_map(check_file).collect()
}

fn check_file(file: &File) -> Vec<Finding> {
    let Some(module) = file.below(CORE).map(module) else { return Vec::new() };
    let room = module[0].as_str();
    if DOORS.contains(&room) {
        return Vec::new();
    }
    let Some(here) = position(room) else {
        return vec![Finding::new(
            &file.path,
            1,
            format!("the room {room} stands on no floor; add it to FLOORS in crates/xtask/src/tidy/tables.rs"),
        )];
    };
    let mut findings = Vec::new();
    for path in paths(&tokens(&file.text)) {
        let Some(used) = room_used(&path.segments, module.len()) else { continue };
        if used == room || SHARED.contains(&used) {
            continue;
        }
        let sentence = match position(used) {
            Some(there) if may_use(here, there) => continue,
            Some(_) => {
                format!("the room {room} uses {used}, which is not below it; pass a value in, or move the code up")
            }
            None => format!("the room {room} uses {used} through the crate's root; name the room it comes from"),
        };
        findings.push(Finding::new(&file.path, path.line, sentence));
    }
    findings
}

/// The module path of a file: `number/mod.rs` is `number`, `number/exact.rs` is `number`, `exact`.
fn module(below: &str) -> Vec<String> {
    let path = below.trim_end_matches(".rs").trim_end_matches("/mod");
    path.split('/').map(String::from).collect()
}

/// The room that a path names, by `crate::` or by climbing all the way out of a module `depth` deep.
fn room_used(segments: &[String], depth: usize) -> Option<&str> {
    if segments[0] == "crate" {
        return segments.get(1).map(String::as_str);
    }
    let climbs = segments.iter().take_while(|segment| *segment == "super").count();
    let used = segments.get(climbs)?;
    (climbs > 0 && climbs >= depth && position(used).is_some()).then_some(used)
}

/// The floor of a room and its place on it.
fn position(room: &str) -> Option<(usize, usize)> {
    FLOORS
        .iter()
        .enumerate()
        .find_map(|(floor, (_, rooms))| Some((floor, rooms.iter().position(|name| *name == room)?)))
}

fn may_use(here: (usize, usize), there: (usize, usize)) -> bool {
    let on_own_floor = match FLOORS[here.0].0 {
        Neighbours::All => true,
        Neighbours::Earlier => there.1 < here.1,
        Neighbours::None => false,
    };
    there.0 < here.0 || there.0 == here.0 && on_own_floor
}

#[cfg(test)]
mod tests {
    use super::*;

    fn findings(place: &str, text: &str) -> usize {
        check(&[File::new(&format!("{CORE}/{place}"), text)]).len()
    }

    #[test]
    fn what_lies_below_may_be_used() {
        assert_eq!(
            findings("solve/mod.rs", "use crate::{brief::Brief, error::Error, number::Exact}; use super::engine;"),
            0
        );
        assert_eq!(
            findings(
                "number/exact.rs",
                "use crate::bounds::Quantity; use super::Ppm; use crate::number::Date; use crate::Error;"
            ),
            0
        );
        assert_eq!(findings("lib.rs", "pub use crate::sweep::Table;"), 0);
        assert_eq!(findings("material/mod.rs", "//! See [`crate::sweep`].\nconst TEXT: &str = \"crate::sweep\";"), 0);
    }

    #[test]
    fn what_lies_above_or_beside_may_not() {
        assert_eq!(findings("brief/mod.rs", "use crate::solve::Answer;"), 1);
        assert_eq!(findings("label/mod.rs", "fn f() -> crate::review::Finding { todo() }"), 1);
        assert_eq!(findings("material/lot.rs", "use crate::{number::Exact, formula::{Formula, Line}};"), 2);
        assert_eq!(findings("number/exact.rs", "use super::super::measure::Row;"), 1);
        assert_eq!(findings("bounds.rs", "use super::catalogue::Catalogue;"), 1);
    }

    #[test]
    fn a_room_without_floor_and_a_way_round_are_named() {
        assert_eq!(findings("cellar/mod.rs", ""), 1);
        assert_eq!(findings("material/mod.rs", "use crate::Formula;"), 1);
        assert_eq!(findings("material/mod.rs", "use crate::prelude::*;"), 1);
    }
}
