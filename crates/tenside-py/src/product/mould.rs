//! Presses and moulds, and bars and bottles of several sizes.

use indexmap::IndexMap;
use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use pyo3::{type_hint_identifier, type_hint_subscript, type_hint_union};
use tenside::Decimal;
use tenside::batch::{FaceShape, PortionSize};
use tenside::bounds::Quantity;
use tenside::error::{Fault, FaultKind};
use tenside::number::{Exact, Mass};

use crate::convert::column::batch_of;
use crate::convert::failure::{Failure, Outcome};
use crate::convert::input::{AMass, Number, exact};
use crate::convert::interval::Interval;
use crate::convert::output::Fraction;
use crate::convert::page::Page;
use crate::convert::table::Rows;
use crate::convert::word::Word;

record! {
    "tenside.batch",
    /// How many of one size a batch gives; masses in grams.
    Portioned of &tenside::batch::Portion, |row| {
        /// What the size is called.
        name: String = row.name.clone(),
        /// What one takes.
        mass: Fraction = grams(&row.mass),
        /// How many.
        count: u32 = row.count,
        /// What they take together.
        total: Fraction = grams(&row.total),
    }
}

/// A density in g/mL, or the lowest and the highest it can be.
struct Density(Exact, Exact);

impl<'a, 'py> FromPyObject<'a, 'py> for Density {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = type_hint_union!(
        Number::INPUT_TYPE,
        type_hint_subscript!(type_hint_identifier!("builtins", "tuple"), Number::INPUT_TYPE, Number::INPUT_TYPE)
    );

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        if let Ok((low, high)) = object.extract::<(Bound<'py, PyAny>, Bound<'py, PyAny>)>() {
            return Ok(Density(exact(&low)?, exact(&high)?));
        }
        let density = exact(&object)?;
        Ok(Density(density.clone(), density))
    }
}

/// A press or mould: its lower face in mm, `draft` by which its walls open upwards in degrees, and the `domes` of its
/// upper and lower face in mm.
///
/// >>> press = td.batch.Mould.round(57.15)
/// >>> [round(float(press.bar(mass="66 g", density=density).height.typical), 1) for density in (1, 1.1, 1.2)]
/// [25.7, 23.4, 21.4]
#[pyclass(frozen, eq, module = "tenside.batch")]
#[derive(Clone, PartialEq)]
pub(crate) struct Mould(pub(crate) tenside::batch::Mould);

value!(Mould, |it| it.words());

getters!(Mould {
    /// The shape of its face: "round", "oval", "rectangular".
    shape: Word<FaceShape> = |it| Word(it.shape());
    /// Length and width of the lower face, mm; the diameter twice of a round one.
    face: (Fraction, Fraction) = |it| (Fraction(it.face().0.into()), Fraction(it.face().1.into()));
    /// The radius of its corners, mm.
    corner: Fraction = |it| Fraction(it.corner().into());
    /// By how many degrees its walls open upwards.
    draft: Fraction = |it| Fraction(it.draft().into());
    /// The domes of the upper and the lower face, mm.
    domes: (Fraction, Fraction) = |it| (Fraction(it.domes().0.into()), Fraction(it.domes().1.into()));
});

fn millimetres(number: &Number) -> Outcome<Decimal> {
    number.decimal(Quantity::Length)
}

fn formed(mould: tenside::batch::Mould, draft: Option<Number>, domes: Option<(Number, Number)>) -> Outcome<Mould> {
    let mut mould = mould;
    if let Some(draft) = draft {
        mould = mould.with_draft(draft.0)?;
    }
    if let Some((upper, lower)) = domes {
        mould = mould.with_domes(upper.0, lower.0)?;
    }
    Ok(Mould(mould))
}

#[pymethods]
impl Mould {
    /// A round mould of that diameter, mm; `draft` and `domes` as of the class.
    ///
    /// >>> td.batch.Mould.round(57.15, draft=3)
    /// <Mould: round, 57.15 mm, draft of 3 degrees>
    #[staticmethod]
    #[pyo3(signature = (diameter, *, draft=None, domes=None))]
    fn round(diameter: Number, draft: Option<Number>, domes: Option<(Number, Number)>) -> Outcome<Self> {
        formed(tenside::batch::Mould::round(millimetres(&diameter)?)?, draft, domes)
    }

    /// An oval mould of those axes, `length` and `width`, mm; `draft` and `domes` as of the class.
    ///
    /// >>> td.batch.Mould.oval(80, 55)
    /// <Mould: oval, 80 x 55 mm>
    #[staticmethod]
    #[pyo3(signature = (length, width, *, draft=None, domes=None))]
    fn oval(length: Number, width: Number, draft: Option<Number>, domes: Option<(Number, Number)>) -> Outcome<Self> {
        formed(tenside::batch::Mould::oval(millimetres(&length)?, millimetres(&width)?)?, draft, domes)
    }

    /// A rectangular mould of those sides, `length` and `width`, mm, with corners rounded at the radius `corner`;
    /// `draft` and `domes` as of the class.
    ///
    /// >>> td.batch.Mould.rectangular(80, 55, corner=8, domes=(3, 3))
    /// <Mould: rectangular, 80 x 55 mm, corners of 8 mm, upper face domed by 3 mm, lower face domed by 3 mm>
    #[staticmethod]
    #[pyo3(signature = (length, width, *, corner=None, draft=None, domes=None))]
    fn rectangular(
        length: Number,
        width: Number,
        corner: Option<Number>,
        draft: Option<Number>,
        domes: Option<(Number, Number)>,
    ) -> Outcome<Self> {
        let corner = corner.map_or(Ok(Decimal::ZERO), |corner| corner.decimal(Quantity::Dome))?;
        formed(tenside::batch::Mould::rectangular(millimetres(&length)?, millimetres(&width)?, corner)?, draft, domes)
    }

    /// The volume in mL of a bar of that height over all, mm.
    ///
    /// >>> round(td.batch.Mould.round(57.15).volume(25), 2)
    /// 64.13
    fn volume(&self, height: Number) -> Outcome<f64> {
        Ok(self.0.volume(height.0.to_f64())?)
    }

    /// A bar of it: of `mass`, `density` in g/mL (one, or the lowest and the highest) and `height` over all in mm two
    /// are given, and the third follows.
    ///
    /// >>> press = td.batch.Mould.round(57.15)
    /// >>> press.bar(mass="67 g", height=23.7).density.text(3)
    /// '1.102'
    /// >>> press.bar(mass="66 g", density=("1.05", "1.15")).height.text(2)
    /// '23.39 (22.37 to 24.51)'
    #[pyo3(signature = (*, mass=None, density=None, height=None))]
    fn bar(&self, mass: Option<AMass>, density: Option<Density>, height: Option<Number>) -> Outcome<MouldedBar> {
        Ok(MouldedBar(match (mass, density, height) {
            (Some(mass), Some(Density(low, high)), None) => {
                tenside::batch::MouldedBar::of_mass(&self.0, mass.0, low, high)?
            }
            (None, Some(Density(low, high)), Some(height)) => {
                tenside::batch::MouldedBar::of_height(&self.0, height.0, low, high)?
            }
            (Some(mass), None, Some(height)) => tenside::batch::MouldedBar::trial(&self.0, mass.0, height.0)?,
            _ => {
                let fault = Fault::new(FaultKind::Missing, "of mass, density and height just two must be given");
                return Err(fault.allowed("mass= and density=, height= and density=, or mass= and height=").into());
            }
        }))
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> Outcome<Reduced<'py>> {
        let class = py.get_type::<Mould>();
        let (draft, domes) = (self.draft(), self.domes());
        let (length, width) = self.face();
        Ok((class.getattr("_of")?, (self.shape(), length, width, self.corner(), draft, domes.0, domes.1)))
    }

    #[classmethod]
    #[allow(clippy::too_many_arguments, reason = "what a mould is pickled as")]
    fn _of(
        _class: &Bound<'_, pyo3::types::PyType>,
        shape: Word<FaceShape>,
        length: Number,
        width: Number,
        corner: Number,
        draft: Number,
        dome: Number,
        dome_below: Number,
    ) -> Outcome<Self> {
        let (draft, domes) = (Some(draft), Some((dome, dome_below)));
        match shape.0 {
            FaceShape::Round => Mould::round(length, draft, domes),
            FaceShape::Oval => Mould::oval(length, width, draft, domes),
            _ => Mould::rectangular(length, width, Some(corner), draft, domes),
        }
    }

    fn __repr__(&self) -> String {
        format!("<Mould: {}>", self.0.words())
    }
}

type Reduced<'py> = (Bound<'py, PyAny>, (Word<FaceShape>, Fraction, Fraction, Fraction, Fraction, Fraction, Fraction));

/// A bar from a mould: mass in grams, density in g/mL, height over all in mm, each with the ends that a range of the
/// density gives.
///
/// >>> bar = td.batch.Mould.round(57.15).bar(mass="67 g", height=15)
/// >>> bar.question.startswith("a density of 1.74 g/mL is unusual")
/// True
#[pyclass(frozen, eq, module = "tenside.batch")]
#[derive(Clone, PartialEq)]
pub(crate) struct MouldedBar(pub(crate) tenside::batch::MouldedBar);

shown!(MouldedBar, |it| it.0.page());
value!(MouldedBar, |it| it.mould().words());

document!(MouldedBar, |it| &it.0, back alone by tenside::batch::MouldedBar);

getters!(MouldedBar {
    /// The mould.
    mould: Mould = |it| Mould(it.mould().clone());
    /// Its mass.
    mass: Interval = |it| Interval(it.mass().clone());
    /// Its density.
    density: Interval = |it| Interval(it.density().clone());
    /// Its height over all.
    height: Interval = |it| Interval(it.height().clone());
    /// What to ask where the density is not that of a pressed bar; else None.
    question: Option<String> = |it| it.question();
    /// Mass, density and height on one page.
    page: Page = |it| Page(it.page());
});

#[pymethods]
impl MouldedBar {
    fn __repr__(&self) -> String {
        format!("<MouldedBar of {} g, {} mm>", self.0.mass().text(2), self.0.height().text(1))
    }
}

/// So much `mass` divided into bars (`sizes`, by name what one takes) and bottles (`bottles`, by name how many mL, of a
/// product of that `density` in g/mL): those whose number is decided (`counts`) first, then as many as the rest gives
/// of the one size that has none. Exact; masses in grams.
///
/// >>> portions = td.batch.Portions("1 kg", {"large": "100 g", "small": "60 g"}, counts={"large": 3})
/// >>> [(row.name, row.count) for row in portions.rows], portions.left_over
/// ([('large', 3), ('small', 11)], Fraction(40, 1))
/// >>> td.batch.Portions("5 kg", bottles={"bottle": 250}, density=1.02).rows[0].count
/// 19
#[pyclass(frozen, eq, module = "tenside.batch")]
#[derive(Clone, PartialEq)]
pub(crate) struct Portions(pub(crate) tenside::batch::Portions);

shown!(Portions, |it| it.0.page());
value!(Portions, |it| it.mass());
arrow!(Portions, |it, _py| batch_of(it.rows())?);

document!(Portions, |it| &it.0, back alone by tenside::batch::Portions);

getters!(Portions {
    /// What was divided.
    mass: Fraction = |it| grams(it.mass());
    /// How many of each size.
    rows: Rows<Portioned> = |it| it.rows().iter().map(Portioned::from).collect();
    /// What is left over.
    left_over: Fraction = |it| grams(it.left_over());
    /// How many of each size, and what is left over, on one page.
    page: Page = |it| Page(it.page());
});

#[pymethods]
impl Portions {
    #[new]
    #[pyo3(signature = (mass, sizes=None, *, bottles=None, density=None, counts=None))]
    fn new(
        mass: AMass,
        sizes: Option<IndexMap<String, AMass>>,
        bottles: Option<IndexMap<String, Number>>,
        density: Option<Number>,
        counts: Option<IndexMap<String, u32>>,
    ) -> Outcome<Self> {
        let (sizes, bottles, counts) =
            (sizes.unwrap_or_default(), bottles.unwrap_or_default(), counts.unwrap_or_default());
        if let Some(name) = counts.keys().find(|name| !sizes.contains_key(*name) && !bottles.contains_key(*name)) {
            let known: Vec<&str> = sizes.keys().chain(bottles.keys()).map(String::as_str).collect();
            let fault = Fault::new(FaultKind::UnknownName, "a number of a size that is not there")
                .at("counts")
                .value(format!("{name:?}"));
            return Err(fault.allowed(known.join(", ")).into());
        }
        let count = |name: &str| counts.get(name).copied();
        let mut all = sizes
            .into_iter()
            .map(|(name, mass)| PortionSize::of_mass(&name, mass.0, count(&name)))
            .collect::<Result<Vec<_>, _>>()?;
        if !bottles.is_empty() {
            let missing = || Fault::new(FaultKind::Missing, "bottles without a density").allowed("density= in g/mL");
            let density = density.ok_or_else(missing)?;
            for (name, millilitres) in bottles {
                all.push(PortionSize::of_volume(&name, &millilitres.0, &density.0, count(&name))?);
            }
        }
        Ok(Portions(tenside::batch::Portions::new(mass.0, &all)?))
    }

    fn __repr__(&self) -> String {
        format!("<Portions of {}>", self.0.mass())
    }
}

fn grams(mass: &Mass) -> Fraction {
    Fraction(mass.grams().clone())
}
