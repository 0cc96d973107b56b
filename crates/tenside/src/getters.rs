//! What can be read of a value, said by the fields that hold it.

/// What can be read of a value, each by the field of that name.
macro_rules! getters {
    ($of:ty {}) => {};
    ($of:ty { $(#[$meta:meta])* $field:ident: &$type:ty, $($rest:tt)* }) => {
        impl $of {
            $(#[$meta])*
            #[must_use]
            pub fn $field(&self) -> &$type {
                &self.$field
            }
        }
        getters!($of { $($rest)* });
    };
    ($of:ty { $(#[$meta:meta])* $field:ident: Option<&$type:ty>, $($rest:tt)* }) => {
        impl $of {
            $(#[$meta])*
            #[must_use]
            pub fn $field(&self) -> Option<&$type> {
                self.$field.as_ref()
            }
        }
        getters!($of { $($rest)* });
    };
    ($of:ty { $(#[$meta:meta])* $field:ident: $type:ty, $($rest:tt)* }) => {
        impl $of {
            $(#[$meta])*
            #[must_use]
            pub fn $field(&self) -> $type {
                self.$field
            }
        }
        getters!($of { $($rest)* });
    };
}
