//! Tables and paragraphs as plain text, Markdown and HTML. Whoever shows something builds a [`Table`] of strings; here
//! it is laid out and escaped.

#[cfg(feature = "html")]
mod html;
mod markdown;
mod page;
mod table;
mod text;

#[cfg(feature = "html")]
pub use html::framed;
pub use markdown::{markdown_paragraph, markdown_text};
pub use page::{Page, Part};
pub use table::{Alignment, Table};
pub(crate) use text::so_many;
pub use text::{display_width, wrapped};
