//! Everything the rules can be told, in one place.

/// Where the core is.
pub(super) const CORE: &str = "crates/tenside/src";

/// What a room may use of its own floor.
#[derive(Clone, Copy)]
pub(super) enum Neighbours {
    /// All of it.
    All,
    /// The rooms named before it.
    Earlier,
    /// Nothing.
    None,
}

/// The floors from the ground up. A room uses rooms of lower floors, and of its own as far as it says.
pub(super) const FLOORS: &[(Neighbours, &[&str])] = &[
    (Neighbours::All, &["error", "bounds", "number", "document", "render", "watch", "memo", "getters"]),
    (Neighbours::Earlier, &["substance"]),
    (Neighbours::Earlier, &["material"]),
    (Neighbours::Earlier, &["catalogue"]),
    (Neighbours::Earlier, &["reading", "formula"]),
    (Neighbours::Earlier, &["measure", "rule"]),
    (Neighbours::Earlier, &["brief", "solve"]),
    (Neighbours::None, &["ph", "review", "label", "batch", "exposure", "cost", "trial"]),
    (Neighbours::Earlier, &["sweep"]),
];

/// Doors to the whole house: they may use every room, and no room uses them.
pub(super) const DOORS: &[&str] = &["lib"];

/// Names at the crate's root that every room may use.
pub(super) const SHARED: &[&str] = &["Error"];

/// The crates in which no files use each other in a circle.
pub(super) const WITHOUT_CIRCLES: &[&str] =
    &["crates/tenside-lp/src", CORE, "crates/tenside-py/src", "crates/xtask/src"];

/// The most lines a file of code has.
pub(super) const LONGEST_FILE: usize = 600;

/// What may be embedded: each crate with its features, and the most packages it depends on without them.
pub(super) const EMBEDDED: &[(&str, &[&str], usize)] = &[
    ("tenside-lp", &["rust_decimal", "serde"], 20),
    ("tenside", &["history", "html", "schema", "statistics", "sweep", "trial"], 40),
];

/// What the top folder holds besides dotfiles.
pub(super) const TOP_LEVEL: &[&str] = &[
    "Cargo.toml",
    "Cargo.lock",
    "pyproject.toml",
    "README.md",
    "DEVELOPERS.md",
    "LICENSE-MIT",
    "LICENSE-APACHE",
    "crates",
    "python",
    "tests",
    "notebooks",
    "benches",
];

/// The dotfiles it holds.
pub(super) const DOTFILES: &[&str] = &[".cargo", ".ci", ".gitattributes", ".gitignore", ".rustfmt.toml"];

/// Lock files: they are written by tools and may name places.
pub(super) const LOCK_FILES: &[&str] = &["Cargo.lock", "tests/python/requirements.txt", "tests/wheel/requirements.txt"];
