//! The mixtures that a design chooses from: components, vertices, and the way from a formula to the fractions of a
//! model.

use crate::brief::{Brief, BriefLine, Role, Split};
use crate::document::unknown_name;
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{Formula, Line};
use crate::number::{Exact, Ppm};
use crate::solve::{Region, Vertex};

/// The most vertices that a design goes through.
const MOST_VERTICES: usize = 20_000;

/// What a model calls a component: lines that stand in one ratio to each other everywhere.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Component {
    pub(super) name: String,
    pub(super) lines: Vec<usize>,
}

/// The mixtures.
pub(super) struct Space {
    pub(super) brief: Brief,
    pub(super) region: Region,
    pub(super) vertices: Vec<Vertex>,
    pub(super) fractions: Fractions,
    /// What the moving lines sum to, in percent.
    total: Exact,
}

/// What the fractions of a model are, for a formula with these lines.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Fractions {
    /// Those of the model.
    pub(super) components: Vec<Component>,
    /// What moves: the components' lines and those that follow from them.
    moving: Vec<usize>,
    /// Every line's name.
    lines: Vec<String>,
}

impl Space {
    /// Of a brief, with the components that the model is to have; all of them where nothing is said.
    pub(super) fn new(brief: Brief, chosen: Option<&[String]>) -> Result<Self, Error> {
        let region = Region::new(&brief)?;
        let vertices = region.vertices(MOST_VERTICES, brief.watched())?;
        if !vertices.complete {
            return Err(Fault::new(FaultKind::OutOfRange, "the brief allows too much for a design")
                .value(format!("more than {MOST_VERTICES} vertices"))
                .allowed(format!("up to {MOST_VERTICES} vertices"))
                .remedy("fix lines that are not to be varied, or vary one part of the formula alone (`within`)")
                .into());
        }
        let vertices = vertices.list;
        let first = &vertices[0].percents;
        let moving: Vec<usize> = (0..first.len())
            .filter(|line| vertices.iter().any(|vertex| vertex.percents[*line] != first[*line]))
            .collect();
        if moving.is_empty() {
            return Err(Fault::new(
                FaultKind::Contradiction,
                "the brief allows one formula alone, so that there is nothing to choose",
            )
            .at(format!("brief {:?}", brief.title()))
            .remedy("give lines ranges")
            .into());
        }
        let total = moving.iter().map(|line| &first[*line]).sum();
        let all = lumped(&brief, &vertices, &moving);
        let components = match chosen {
            None => {
                if all.len() != region.dimension() + 1 {
                    return Err(bound(&region, &all, &vertices));
                }
                all
            }
            Some(names) => named(&all, names, region.dimension() + 1)?,
        };
        let lines = brief.lines().iter().map(BriefLine::name).map(String::from).collect();
        Ok(Space { brief, region, vertices, fractions: Fractions { components, moving, lines }, total })
    }

    /// The fractions of the components at exact percentages.
    pub(super) fn parts(&self, percents: &[Exact]) -> Vec<f64> {
        let part = |component: &Component| {
            (component.lines.iter().map(|line| &percents[*line]).sum::<Exact>() / &self.total).to_f64()
        };
        self.fractions.components.iter().map(part).collect()
    }

    /// The same of floats.
    pub(super) fn parts_of_floats(&self, percents: &[f64]) -> Vec<f64> {
        let total = self.total.to_f64();
        self.fractions
            .components
            .iter()
            .map(|component| component.lines.iter().map(|line| percents[*line]).sum::<f64>() / total)
            .collect()
    }
}

impl Fractions {
    /// The fractions of a formula with these lines, whatever the others.
    pub(super) fn of_formula(&self, formula: &Formula) -> Result<Vec<f64>, Error> {
        self.of_amounts(|line| Ok(formula.line(line)?.percent().percent()))
            .map_err(|error| error.within(&format!("formula {:?}", formula.title())))
    }

    /// The fractions of so much of each line.
    pub(super) fn of_amounts(&self, amount: impl Fn(&str) -> Result<Exact, Error>) -> Result<Vec<f64>, Error> {
        let sum = |lines: &[usize]| lines.iter().map(|line| amount(&self.lines[*line])).sum::<Result<Exact, Error>>();
        let total = sum(&self.moving)?;
        let part = |component: &Component| {
            let part = sum(&component.lines)?.checked_div(&total).map(|part| part.to_f64());
            part.ok_or_else(|| {
                Fault::new(FaultKind::Contradiction, "there is nothing of what is varied").remedy("leave it out").into()
            })
        };
        self.components.iter().map(part).collect()
    }
}

/// Moving lines, those together that stand in one ratio at every vertex and so everywhere.
fn lumped(brief: &Brief, vertices: &[Vertex], moving: &[usize]) -> Vec<Component> {
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for line in moving {
        let fits = |group: &Vec<usize>| {
            let of = |vertex: &Vertex| (vertex.percents[group[0]].clone(), vertex.percents[*line].clone());
            let Some((known, own)) = vertices.iter().map(of).find(|(known, _)| !known.is_zero()) else { return false };
            vertices.iter().map(of).all(|(there, here)| there * &own == here * &known)
        };
        match groups.iter_mut().find(|group| fits(group)) {
            Some(group) => group.push(*line),
            None => groups.push(vec![*line]),
        }
    }
    let lines = brief.lines();
    let name = |group: &Vec<usize>| {
        let is_split = |split: &&Split| {
            split.parts().len() == group.len()
                && group.iter().all(|line| split.parts().iter().any(|(member, _)| member == lines[*line].name()))
        };
        let split =
            brief.splits().iter().find(is_split).filter(|split| lines.iter().all(|line| line.name() != split.name()));
        match split {
            Some(split) => split.name().to_string(),
            None => group.iter().map(|line| lines[*line].name()).collect::<Vec<_>>().join(" + "),
        }
    };
    groups.into_iter().map(|lines| Component { name: name(&lines), lines }).collect()
}

fn named(all: &[Component], names: &[String], needed: usize) -> Result<Vec<Component>, Error> {
    let mut components = Vec::new();
    for name in names.iter().take(all.len() + 1) {
        let found = all.iter().find(|component| component.name == *name);
        components.push(
            found
                .cloned()
                .ok_or_else(|| unknown_name("component", name, all.iter().map(|component| component.name.as_str())))?,
        );
    }
    if names.len() != needed {
        return Err(Fault::new(
            FaultKind::OutOfRange,
            "another number of components than the mixtures have directions, and one",
        )
        .value(names.len())
        .allowed(format!(
            "{needed} of {}",
            all.iter().map(|component| component.name.as_str()).collect::<Vec<_>>().join(", ")
        ))
        .into());
    }
    Ok(components)
}

/// The error of components that more binds than their sum.
fn bound(region: &Region, all: &[Component], vertices: &[Vertex]) -> Error {
    // What an equation weighs each component with; one that weighs all alike, or none, follows from their sum.
    let mean = |line: usize| vertices.iter().map(|vertex| &vertex.percents[line]).sum::<Exact>();
    let weight = |component: &Component, weights: &[Exact]| {
        let whole: Exact = component.lines.iter().map(|line| mean(*line)).sum();
        component.lines.iter().map(|line| &weights[*line] * mean(*line)).sum::<Exact>() / whole
    };
    let says_more = |weights: &[Exact]| {
        let of: Vec<Exact> = all.iter().map(|component| weight(component, weights)).collect();
        of.iter().any(|weight| *weight != of[0])
    };
    let mut words: Vec<&str> = Vec::new();
    for equation in &region.equations {
        if says_more(&equation.weights) && !words.contains(&equation.words.as_str()) {
            words.push(&equation.words);
        }
    }
    let names: Vec<&str> = all.iter().map(|component| component.name.as_str()).collect();
    Fault::new(
        FaultKind::Contradiction,
        "the components are bound to each other by more than their sum, so that a model of all of them has no one \
         solution",
    )
    .at(format!("components {}", names.join(", ")))
    .value(words.join("; "))
    .allowed(format!("{} independent components", region.dimension() + 1))
    .remedy(format!(
        "give what binds them a range, or name {} of them as `components`: the others follow",
        region.dimension() + 1
    ))
    .into()
}

/// A brief in which the members of a split alone are varied: at what they are together in its answer, everything else
/// as there; with that answer.
pub(super) fn within(brief: &Brief, name: &str) -> Result<(Brief, Formula), Error> {
    let split = brief.splits().iter().find(|split| split.name() == name);
    let split = split.ok_or_else(|| unknown_name("split", name, brief.splits().iter().map(Split::name)))?;
    let members: Vec<String> = split.parts().iter().map(|(member, _)| member.clone()).collect();
    let answer = brief.solve()?;
    let formula = answer.formula()?;
    let of_split = |line: &&Line| members.iter().any(|member| member == line.name());
    if formula.lines().iter().filter(of_split).all(|line| line.percent() == Ppm::ZERO) {
        return Err(Fault::new(
            FaultKind::Contradiction,
            "the brief's answer has nothing of the split, so that there is nothing to share out",
        )
        .at(format!("split {name:?}"))
        .remedy("ask for some of it: a target, or an objective")
        .into());
    }
    let held = |line: &str| !members.iter().any(|member| member == line);
    let mut narrowed = brief.clone().with_objective(None);
    for split in brief.splits() {
        let parts = || split.parts().iter().map(|(member, _)| member.as_str());
        if split.name() == name || parts().all(held) {
            // Kept as a group, since measures may speak of it.
            narrowed = narrowed.drop_split(split.name())?.group(split.name(), &parts().collect::<Vec<_>>())?;
        }
    }
    for line in formula.lines().iter().filter(|line| held(line.name())).map(|line: &Line| (line.name(), line.percent()))
    {
        narrowed = narrowed.change_line(line.0, Role::Fixed(line.1))?;
    }
    let qs: Vec<String> = narrowed
        .lines()
        .iter()
        .filter(|line| line.role() == &Role::Qs)
        .map(BriefLine::name)
        .map(String::from)
        .collect();
    for line in qs {
        narrowed = narrowed.change_line(&line, Role::Free)?;
    }
    Ok((narrowed, formula.clone()))
}
