//! A page: a title, marks, and what stands below, laid out as text, Markdown or HTML.

use serde::{Deserialize, Serialize};

use super::{Table, markdown_paragraph, markdown_text, wrapped};

/// A part of a page.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[non_exhaustive]
pub enum Part {
    /// A heading.
    Heading(String),
    /// A paragraph.
    Text(String),
    /// A list.
    List(Vec<String>),
    /// A table.
    Table(Table),
}

/// A page of parts.
///
/// ```
/// use tenside::render::{Page, Part};
/// let page = Page::new("Harbour <swim> bar").mark("DRAFT").with(Part::Text("All lines sum to 100 %.".to_string()));
/// assert_eq!(page.text(40), "Harbour <swim> bar\n==================\nDRAFT\n\nAll lines sum to 100 %.\n");
/// # #[cfg(feature = "html")]
/// assert!(page.html().contains("Harbour &#60;swim&#62; bar"));
/// ```
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Page {
    /// The title.
    pub title: String,
    /// Marks that stand right under the title: DRAFT and why.
    pub marks: Vec<String>,
    /// What stands below.
    pub parts: Vec<Part>,
}

impl Page {
    /// An empty page.
    #[must_use]
    pub fn new(title: &str) -> Self {
        Page { title: title.to_string(), ..Page::default() }
    }

    /// With a mark under the title.
    #[must_use]
    pub fn mark(mut self, mark: &str) -> Self {
        self.marks.push(mark.to_string());
        self
    }

    /// With one more part.
    #[must_use]
    pub fn with(mut self, part: Part) -> Self {
        self.parts.push(part);
        self
    }

    /// With a heading and a part, unless the part is empty.
    #[must_use]
    pub fn section(self, heading: &str, part: Part) -> Self {
        let empty = match &part {
            Part::List(items) => items.is_empty(),
            Part::Table(table) => table.rows.is_empty(),
            Part::Heading(text) | Part::Text(text) => text.is_empty(),
        };
        if empty { self } else { self.with(Part::Heading(heading.to_string())).with(part) }
    }

    /// As plain text of at most `width` columns.
    #[must_use]
    pub fn text(&self, width: usize) -> String {
        let lines = |content: &str, first: &str, rest: &str| -> String {
            let wrapped = wrapped(content, width.saturating_sub(first.len()).max(2)).into_iter().enumerate();
            wrapped.map(|(index, line)| format!("{}{line}\n", if index == 0 { first } else { rest })).collect()
        };
        let mut text = lines(&self.title, "", "");
        text.push_str(&"=".repeat(super::display_width(&self.title).clamp(1, width.max(1))));
        text.push('\n');
        for mark in &self.marks {
            text.push_str(&lines(mark, "", ""));
        }
        for part in &self.parts {
            text.push('\n');
            match part {
                Part::Heading(heading) => text.push_str(&lines(&heading.to_uppercase(), "", "")),
                Part::Text(paragraph) => text.push_str(&lines(paragraph, "", "")),
                Part::List(items) => items.iter().for_each(|item| text.push_str(&lines(item, "- ", "  "))),
                Part::Table(table) => text.push_str(&table.text(width)),
            }
        }
        text
    }

    /// As Markdown, markup in names escaped.
    #[must_use]
    pub fn markdown(&self) -> String {
        let mut text = format!("# {}\n", markdown_text(&self.title));
        for mark in &self.marks {
            text.push_str(&format!("\n**{}**\n", markdown_text(mark)));
        }
        for part in &self.parts {
            text.push('\n');
            match part {
                Part::Heading(heading) => text.push_str(&format!("## {}\n", markdown_text(heading))),
                Part::Text(paragraph) => text.push_str(&format!("{}\n", markdown_paragraph(paragraph))),
                Part::List(items) => {
                    items.iter().for_each(|item| text.push_str(&format!("- {}\n", markdown_paragraph(item))))
                }
                Part::Table(table) => text.push_str(&table.markdown()),
            }
        }
        text
    }
}
