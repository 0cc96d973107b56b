//! How results of a catalogue are read back.

/// How a result is read back whose question may take long to ask again: a document of somebody else's can state a
/// search without end. `$remake` reads the question and asks it, watched.
macro_rules! read_back {
    (
        $(#[$meta:meta])*
        $result:ty, $question:expr, |$view:ident, $catalogue:ident, $watch:ident| $remake:expr
    ) => {
        impl $result {
            $(#[$meta])*
            ///
            /// It is believed where asking its question again gives just what it says; see
            /// [`ResultDocument`](crate::document::ResultDocument).
            ///
            /// # Errors
            /// Every fault of the question with line and column; else everything that is not what comes of it.
            pub fn read(
                text: &str,
                notation: $crate::document::Notation,
                catalogue: &$crate::catalogue::Catalogue,
            ) -> Result<Self, $crate::error::Error> {
                Self::read_watched(text, notation, catalogue, std::sync::Arc::new($crate::watch::Unwatched))
            }

            /// As [`read`](Self::read), ended early where the watch says so: a document of somebody else's may state a
            /// question that takes very long to ask again. What is read is not watched.
            ///
            /// # Errors
            /// As [`read`](Self::read), and `Stopped`.
            pub fn read_watched(
                text: &str,
                notation: $crate::document::Notation,
                $catalogue: &$crate::catalogue::Catalogue,
                $watch: std::sync::Arc<dyn $crate::watch::Watch>,
            ) -> Result<Self, $crate::error::Error> {
                $crate::document::restore(text, notation, $question, |$view| $remake)
            }
        }
    };
}
pub(crate) use read_back;
