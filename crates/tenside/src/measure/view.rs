//! A line as measures see it.

use std::sync::Arc;

use crate::formula::Line;
use crate::material::Material;

/// A line as a measure sees it, of a formula or of a brief.
#[derive(Clone, Copy)]
pub(crate) struct LineView<'a> {
    pub(crate) name: &'a str,
    pub(crate) material: &'a Arc<Material>,
    pub(crate) phase: &'a str,
    pub(crate) groups: &'a [String],
}

impl<'a> LineView<'a> {
    pub(crate) fn of(line: &'a Line) -> Self {
        LineView { name: line.name(), material: line.material(), phase: line.phase(), groups: line.groups() }
    }
}
