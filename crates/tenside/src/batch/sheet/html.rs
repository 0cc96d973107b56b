//! The sheet as a page of HTML; the template engine escapes every value.

use askama::Template;

use super::view::SheetView;

#[derive(Template)]
#[template(path = "batch_sheet.html")]
struct SheetTemplate<'a> {
    view: &'a SheetView,
}

pub(super) fn write(view: &SheetView) -> String {
    // A template over strings in memory cannot fail; should it ever, an empty page shows it without a panic.
    SheetTemplate { view }.render().unwrap_or_default()
}
