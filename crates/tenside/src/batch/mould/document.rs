//! Moulded bars and portions as documents, and back. Masses are in grams, lengths in mm, densities in g/mL.

use super::{FaceShape, Given, Mould, MouldedBar, Portion, PortionSize, Portions};
use crate::bounds::Quantity;
use crate::document::{IntervalDocument, Notation, Number, TableView, form, forms, restore};
use crate::error::{Error, Fault, FaultKind};

form! {
    /// A press or mould.
    MouldDocument of Mould, |it| {
        /// The shape of its face.
        shape: FaceShape = it.shape(),
        /// The length of its lower face; the diameter of a round one.
        length: Number = it.face().0.into(),
        /// Its width.
        width: Number = it.face().1.into(),
        /// The radius of its corners.
        corner: Number = it.corner().into(),
        /// By how many degrees its walls open upwards.
        draft: Number = it.draft().into(),
        /// The dome of its upper face.
        dome: Number = it.domes().0.into(),
        /// The dome of its lower face.
        dome_below: Number = it.domes().1.into(),
    }
}

fn read_mould(view: &TableView<'_>) -> Option<Mould> {
    let shape = view.needed("shape", |view| view.choice::<FaceShape>("shape"));
    let length = view.needed("length", |view| view.decimal("length", Quantity::Length));
    let (width, corner) =
        (view.decimal("width", Quantity::Length), view.decimal("corner", Quantity::Dome).unwrap_or_default());
    let draft = view.decimal("draft", Quantity::Draft).unwrap_or_default();
    let domes = (
        view.decimal("dome", Quantity::Dome).unwrap_or_default(),
        view.decimal("dome_below", Quantity::Dome).unwrap_or_default(),
    );
    let (length, width) = (length?, width.or(length)?);
    let mould = match shape? {
        FaceShape::Round => Mould::round(length),
        FaceShape::Oval => Mould::oval(length, width),
        FaceShape::Rectangular => Mould::rectangular(length, width, corner),
    };
    let mould = view.accept("length", mould)?;
    let mould = view.accept("draft", mould.with_draft(draft))?;
    view.accept("dome", mould.with_domes(domes.0, domes.1))
}

form! {
    /// A bar from a mould: of mass, density and height two are given.
    MouldedBarDocument of MouldedBar as "moulded-bar/1", |it, _materials| {
        /// The mould.
        mould: MouldDocument,
        /// The mass that was given.
        #[serde(skip_serializing_if = "Option::is_none")]
        given_mass: Option<Number> = match &it.given {
            Given::MassAndDensity { mass, .. } | Given::MassAndHeight { mass, .. } => Some(mass.into()),
            Given::HeightAndDensity { .. } => None,
        },
        /// The height that was given.
        #[serde(skip_serializing_if = "Option::is_none")]
        given_height: Option<Number> = match &it.given {
            Given::HeightAndDensity { height, .. } | Given::MassAndHeight { height, .. } => Some(height.into()),
            Given::MassAndDensity { .. } => None,
        },
        /// The lowest density that was given.
        #[serde(skip_serializing_if = "Option::is_none")]
        lowest_density: Option<Number> = match &it.given {
            Given::HeightAndDensity { low, .. } | Given::MassAndDensity { low, .. } => Some(low.into()),
            Given::MassAndHeight { .. } => None,
        },
        /// The highest density that was given.
        #[serde(skip_serializing_if = "Option::is_none")]
        highest_density: Option<Number> = match &it.given {
            Given::HeightAndDensity { high, .. } | Given::MassAndDensity { high, .. } => Some(high.into()),
            Given::MassAndHeight { .. } => None,
        },
        /// Its mass.
        mass: IntervalDocument,
        /// Its density.
        density: IntervalDocument,
        /// Its height over all.
        height: IntervalDocument,
        /// What to ask.
        question: Option<String>,
    }
}

impl MouldedBar {
    /// Reads a bar back. It is believed where working it out again gives just what it says; see
    /// [`crate::document::ResultDocument`].
    ///
    /// # Errors
    /// Every fault of mould, mass, density and height; else everything that is not what comes of them.
    pub fn read(text: &str, notation: Notation) -> Result<Self, Error> {
        restore(text, notation, &["mould", "given_mass", "given_height", "lowest_density", "highest_density"], |view| {
            let mould = view.needed("mould", |view| view.table("mould", read_mould));
            let (mass, height) = (view.grams("given_mass"), view.exact("given_height", Some(Quantity::Length)));
            let density = |key| view.exact(key, Some(Quantity::Density));
            let (low, high) = (density("lowest_density"), density("highest_density"));
            let mould = mould?;
            match (mass, height, low.zip(high)) {
                (Some(mass), None, Some((low, high))) => {
                    view.accept("given_mass", MouldedBar::of_mass(&mould, mass, low, high))
                }
                (None, Some(height), Some((low, high))) => {
                    view.accept("given_height", MouldedBar::of_height(&mould, height, low, high))
                }
                (Some(mass), Some(height), None) => view.accept("given_mass", MouldedBar::trial(&mould, mass, height)),
                _ => {
                    let fault = Fault::new(FaultKind::Missing, "of mass, height and density just two must be given");
                    view.fault("", fault.allowed("given_mass, given_height, lowest_density with highest_density"));
                    None
                }
            }
        })
    }
}

form! {
    /// One size.
    PortionSizeDocument of PortionSize, |it| {
        /// What it is called.
        name: String,
        /// What one takes.
        mass: Number,
        /// How many are made, where that is decided.
        #[serde(skip_serializing_if = "Option::is_none")]
        count: Option<u32>,
    }
}

form! {
    /// How many of one size a batch gives.
    PortionDocument of Portion, |it| {
        /// What the size is called.
        name: String,
        /// What one takes.
        mass: Number,
        /// How many.
        count: u32,
        /// What they take together.
        total: Number,
    }
}

form! {
    /// A batch divided into bars or bottles.
    PortionsDocument of Portions as "portions/1", |it, _materials| {
        /// What was divided.
        mass: Number,
        /// The sizes as they were asked for.
        sizes: Vec<PortionSizeDocument> = forms(it.sizes()),
        /// How many of each size.
        rows: Vec<PortionDocument> = forms(it.rows()),
        /// What is left over.
        left_over: Number,
    }
}

impl Portions {
    /// Reads a division back, as [`MouldedBar::read`] does.
    ///
    /// # Errors
    /// Every fault of mass and sizes; else everything that is not what comes of them.
    pub fn read(text: &str, notation: Notation) -> Result<Self, Error> {
        restore(text, notation, &["mass", "sizes"], |view| {
            let mass = view.needed("mass", |view| view.grams("mass"));
            let sizes = view.tables("sizes", |view| {
                let (name, mass) =
                    (view.needed("name", |view| view.name("name")), view.needed("mass", |view| view.grams("mass")));
                let count = view.whole("count");
                view.accept("mass", PortionSize::of_mass(&name?, mass?, count))
            });
            view.accept("sizes", Portions::new(mass?, &sizes))
        })
    }
}
