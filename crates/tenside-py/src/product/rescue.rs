//! What to add to a bowl in which something went wrong.

use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use pyo3::type_hint_union;
use tenside::batch::{Bowl, Means, Verdict};

use crate::brief::Brief;
use crate::convert::column::batch_of;
use crate::convert::failure::{Failure, Outcome};
use crate::convert::input::{AMass, MassByName};
use crate::convert::output::Fraction;
use crate::convert::page::Page;
use crate::convert::running::watched;
use crate::convert::table::Rows;
use crate::convert::word::Word;
use crate::formula::Formula;
use crate::material::catalogue::Catalogue;
use crate::product::batch::grams;
use crate::product::made::Made;
use crate::solve::answer::Answer;
use crate::solve::conflict::Conflict;

record! {
    "tenside.batch",
    /// So much of a line to add, in grams.
    Addition of &tenside::batch::Addition, |added| {
        /// The line of the brief.
        line: String = added.line.clone(),
        /// The exact mass.
        exact: Fraction = grams(&added.exact),
        /// The mass to weigh: whole divisions where a readability was stated.
        mass: Fraction = grams(&added.mass),
    }
}

record! {
    "tenside.batch",
    /// What a rescue does not bring back.
    Shortfall of &tenside::batch::Shortfall, |missed| {
        /// The range, split or requirement, in words.
        asked: String = missed.asked.clone(),
        /// Its value then, for typical compositions; None where it is not known.
        value: Option<Fraction> = missed.value.clone().map(Fraction),
        /// The limit that it should keep.
        limit: Fraction = Fraction(missed.limit.clone()),
        /// The unit of both.
        unit: String = missed.unit.clone(),
        /// True if the exact additions meet it and their rounding alone does not, or if what was made meets it within
        /// half a division of each line's scale.
        is_rounding: bool = missed.is_rounding,
    }
}

/// What to add to a bowl in which something went wrong; a page in a notebook.
///
/// >>> brief = td.Brief("Plain bar", td.Catalogue.starter()).fix("sci-powder", 60).between("cetyl-alcohol", 10, 15).qs("kaolin")
/// >>> rescue = brief.rescue({"sci-powder": "132 g", "cetyl-alcohol": "30 g", "kaolin": "50 g"}, readability="0.1 g")
/// >>> rescue.verdict, [(added.line, float(added.mass)) for added in rescue.additions], float(rescue.total)
/// ('rescued', [('kaolin', 8.0)], 220.0)
#[pyclass(frozen, eq, module = "tenside.batch")]
#[derive(Clone, PartialEq)]
pub(crate) struct Rescue(pub(crate) tenside::batch::Rescue);

value!(Rescue, |it| (it.target().title(), it.sentence()));

arrow!(Rescue, |it, _py| batch_of(it.additions())?);

document!(Rescue, |it| &it.0, back watched by tenside::batch::Rescue);

shown!(Rescue, |it| it.0.page());

getters!(Rescue {
    /// "rescued", "as-near-as-can-be" where bowl or stock are too small, "throw-away" where no addition brings
    /// everything back.
    verdict: Word<Verdict> = |it| Word(it.verdict());
    /// What to add, in the order of the brief.
    additions: Rows<Addition> = |it| it.additions().iter().map(Addition::from).collect();
    /// The mass of everything then, as weighed; None where only throwing away is left.
    total: Option<Fraction> = |it| it.answer().map(|_| grams(it.total()));
    /// What is not met then.
    shortfalls: Rows<Shortfall> = |it| it.shortfalls().iter().map(Shortfall::from).collect();
    /// The total that would bring everything back, where bowl or stock are too small for it.
    needed: Option<Fraction> = |it| it.needed().map(grams);
    /// So much of the bowl can be brought back with what there is, if the rest of it is thrown away first; there may be
    /// ways to keep more.
    keep: Option<Fraction> = |it| it.keep().map(grams);
    /// The proved answer: what is in the bowl and what is added as lines of one formula.
    answer: Option<Answer> = |it| it.answer().cloned().map(Answer);
    /// Why no addition brings everything back.
    conflict: Option<Conflict> = |it| it.conflict().cloned().map(Conflict);
    /// In a sentence.
    sentence: String = |it| it.sentence();
    /// What to add and what is not met.
    page: Page = |it| Page(it.page());
});

#[pymethods]
impl Rescue {
    fn __repr__(&self) -> String {
        format!("<Rescue: {}>", self.0.sentence())
    }
}

/// What is in a bowl: masses by line, or a batch as it was made.
#[allow(clippy::large_enum_variant, reason = "taken apart at once")]
pub(crate) enum ABowl {
    Made(Made),
    Masses(MassByName),
}

impl<'a, 'py> FromPyObject<'a, 'py> for ABowl {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = type_hint_union!(Made::INPUT_TYPE, MassByName::INPUT_TYPE);

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        // A mass that cannot be is said in its own words, not in those of a choice of types.
        match object.cast::<Made>() {
            Ok(made) => Ok(ABowl::Made(made.get().clone())),
            Err(_) => Ok(ABowl::Masses(object.extract()?)),
        }
    }
}

impl ABowl {
    /// Names that are no lines are looked up in the catalogue: the wrong drum.
    fn bowl<'a>(
        self,
        lines: impl Fn(&str) -> bool,
        catalogue: impl Fn(&str) -> Result<&'a std::sync::Arc<tenside::material::Material>, tenside::Error>,
    ) -> Outcome<Bowl> {
        let masses = match self {
            ABowl::Made(made) => return Ok(made.0.bowl()),
            ABowl::Masses(masses) => masses.0,
        };
        let mut bowl = Bowl::new();
        for (line, mass) in masses {
            bowl = if lines(&line) {
                bowl.with(&line, mass)?
            } else {
                bowl.with_material(&line, catalogue(&line)?, mass)?
            };
        }
        Ok(bowl)
    }
}

fn means(most: Option<AMass>, stock: Option<MassByName>, readability: Option<AMass>) -> Outcome<Means> {
    let mut means = Means::new();
    if let Some(most) = most {
        means = means.at_most(most.0);
    }
    for (line, left) in stock.map_or_else(Vec::new, |stock| stock.0) {
        means = means.stock(&line, left)?;
    }
    Ok(match readability {
        Some(division) => means.on_a_scale_of(division.0),
        None => means,
    })
}

#[pymethods]
impl Made {
    /// What this batch, as it was made, misses of a `brief`, for typical compositions: ranges of lines, splits and
    /// requirements, and what it holds that the brief has no line for. What if 5 g of water are kneaded in?
    ///
    /// >>> brief = td.Brief("Bar", td.Catalogue.starter()).fix("sci-powder", 90).between("water", 5, 10)
    /// >>> batch = brief.solve().formula.batch(mass="100 g", readability="0.1 g")
    /// >>> [missed.asked for missed in batch.as_made(added={"water": "5 g"}).missed(brief)]
    /// ['line sci-powder fixed at 90 %', 'line water between 5 and 10 %']
    fn missed(&self, brief: &Brief) -> Outcome<Rows<Shortfall>> {
        Ok(self.0.missed(&brief.0)?.iter().map(Shortfall::from).collect())
    }
}

#[pymethods]
impl Brief {
    /// What to add to a `bowl` so that all of it meets this brief: the least total that does; where bowl or stock are
    /// too small for that, what comes nearest, with what is not met.
    ///
    /// `bowl` is what is in it, mixed: masses by line (a name that is no line is a raw material of the brief's
    /// catalogue: the wrong drum), or a batch as made. `most` is what the bowl can hold, `stock` what is left of lines,
    /// `readability` what the scale for additions counts in.
    ///
    /// Raises Missing for an empty bowl, Contradiction for more in it than it holds, Unsupported for a brief with
    /// choices.
    ///
    /// >>> brief = td.Brief("Wash", td.Catalogue.starter()).free("capb-30").qs("water").target(td.measure.active_matter, 12)
    /// >>> brief.rescue({"capb-30": "60 g", "water": "40 g"}).total
    /// Fraction(150, 1)
    /// >>> brief.rescue({"capb-30": "60 g", "water": "40 g"}, most="120 g").sentence
    /// 'Bowl or stock are too small to bring everything back; that takes 150.0 g in all. As near as can be: add 20 g of water; not met: active matter at 12 % (is 15.0000, should be 12.0000 %). Or keep 80.0 g of the mix, throw the rest away, and bring that back.'
    #[pyo3(signature = (bowl, *, most=None, stock=None, readability=None))]
    fn rescue(
        &self,
        py: Python<'_>,
        bowl: ABowl,
        most: Option<AMass>,
        stock: Option<MassByName>,
        readability: Option<AMass>,
    ) -> Outcome<Rescue> {
        let is_line = |name: &str| self.0.lines().iter().any(|line| line.name() == name);
        let bowl = bowl.bowl(is_line, |name| self.0.catalogue().material(name))?;
        let means = means(most, stock, readability)?;
        Ok(Rescue(watched(py, None, |watch| self.0.clone().watched_by(watch).rescue(&bowl, &means))?))
    }
}

#[pymethods]
impl Formula {
    /// What to add to a `bowl` so that all of it is this formula again, every percentage exactly: a larger batch.
    /// `most`, `stock` and `readability` are as for `Brief.rescue`; a name in the bowl that is no line is a raw
    /// material of the `catalogue`, by default the starter catalogue.
    ///
    /// >>> bar = td.Formula("Plain bar", {"sci-powder": 60, "cetyl-alcohol": 15, "kaolin": 25}, td.Catalogue.starter())
    /// >>> rescue = bar.rescue({"sci-powder": "132 g", "cetyl-alcohol": "30 g", "kaolin": "50 g"})
    /// >>> rescue.total, [(added.line, added.mass) for added in rescue.additions]
    /// (Fraction(220, 1), [('cetyl-alcohol', Fraction(3, 1)), ('kaolin', Fraction(5, 1))])
    #[pyo3(signature = (bowl, *, most=None, stock=None, readability=None, catalogue=None))]
    fn rescue(
        &self,
        py: Python<'_>,
        bowl: ABowl,
        most: Option<AMass>,
        stock: Option<MassByName>,
        readability: Option<AMass>,
        catalogue: Option<&Catalogue>,
    ) -> Outcome<Rescue> {
        let catalogue = Catalogue::or_starter(catalogue);
        let bowl = bowl.bowl(|name| self.0.line(name).is_ok(), |name| catalogue.0.material(name))?;
        let means = means(most, stock, readability)?;
        Ok(Rescue(py.detach(|| self.0.rescue(&bowl, &means))?))
    }
}
