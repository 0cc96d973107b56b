//! Premixes put together from rows that name their parts.

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use indexmap::IndexMap;

use super::kind::unknown_material;
use crate::document::unknown_name;
use crate::error::{Error, Fault, FaultKind};
use crate::material::{Lot, Material, MaterialRow};
use crate::number::Ppm;

/// Puts the parts into premixes, wherever in the document they stand; a premix that contains itself is refused. Parts
/// among `named` without a row are at fault already.
pub(super) fn resolve(
    rows: Vec<MaterialRow>,
    named: &HashSet<String>,
    lots: &IndexMap<String, Arc<Lot>>,
    report: &mut dyn FnMut(usize, Fault),
) -> IndexMap<String, Arc<Material>> {
    let index: HashMap<&str, usize> = rows.iter().enumerate().map(|(place, row)| (row.material.id(), place)).collect();
    let mut resolver = Resolver {
        rows: &rows,
        index: &index,
        named,
        lots,
        report,
        states: vec![State::Open; rows.len()],
        reported: 0,
    };
    for place in 0..rows.len() {
        resolver.resolve(place);
    }
    let done = resolver.states.into_iter().filter_map(|state| match state {
        State::Done(material) => Some((material.id().to_string(), material)),
        _ => None,
    });
    done.collect()
}

/// The most steps of a loop that a message shows.
const LONGEST_LOOP: usize = 12;

/// After so many unknown parts no nearest name is looked for any more; as many faults are listed.
const MOST_NEAREST: usize = 1000;

#[derive(Clone)]
enum State {
    Open,
    /// On the way down from a premix that holds it.
    OnPath,
    Done(Arc<Material>),
    Failed,
}

/// The material as the lot that a premix names.
fn of_lot(
    material: &Arc<Material>,
    lot: Option<&str>,
    lots: &IndexMap<String, Arc<Lot>>,
) -> Result<Arc<Material>, Error> {
    let Some(name) = lot else { return Ok(Arc::clone(material)) };
    let lot = lots.get(name).ok_or_else(|| unknown_name("lot", name, lots.keys().map(String::as_str)))?;
    Ok(Arc::new(material.with_lot(lot)?.0))
}

struct Resolver<'r> {
    rows: &'r [MaterialRow],
    index: &'r HashMap<&'r str, usize>,
    named: &'r HashSet<String>,
    lots: &'r IndexMap<String, Arc<Lot>>,
    report: &'r mut dyn FnMut(usize, Fault),
    states: Vec<State>,
    reported: usize,
}

/// A premix being put together.
struct Step {
    place: usize,
    parts: Vec<(Arc<Material>, Ppm)>,
}

impl Resolver<'_> {
    /// Depth-first without recursion, so that a chain of a million premixes cannot overflow the stack.
    fn resolve(&mut self, start: usize) {
        if !matches!(self.states[start], State::Open) {
            return;
        }
        let mut path = vec![self.enter(start)];
        while let Some(step) = path.last_mut() {
            let row = &self.rows[step.place];
            let Some(part) = row.premix.get(step.parts.len()) else {
                let step = path.pop();
                step.into_iter().for_each(|step| self.finish(step));
                continue;
            };
            let Some(&inner) = self.index.get(part.material.as_str()) else {
                let place = step.place;
                path.pop();
                self.unknown(place, &part.material);
                continue;
            };
            match &self.states[inner] {
                State::Done(material) => match of_lot(material, part.lot.as_deref(), self.lots) {
                    Ok(material) => step.parts.push((material, part.share)),
                    Err(error) => {
                        let place = step.place;
                        path.pop();
                        error.into_faults().into_iter().for_each(|fault| self.fail(place, fault));
                    }
                },
                State::Open => {
                    let step = self.enter(inner);
                    path.push(step);
                }
                State::OnPath => {
                    let place = step.place;
                    let chain = path
                        .iter()
                        .skip_while(|step| step.place != inner)
                        .map(|step| self.rows[step.place].material.id());
                    let mut chain: Vec<&str> = chain.take(LONGEST_LOOP).collect();
                    if chain.last() != Some(&self.rows[place].material.id()) {
                        chain.extend(["...", self.rows[place].material.id()]);
                    }
                    chain.push(self.rows[inner].material.id());
                    let fault = Fault::new(FaultKind::Loop, "a premix contains itself")
                        .value(chain.join(" > "))
                        .remedy("take one of them out");
                    path.pop();
                    self.fail(place, fault);
                }
                State::Failed => {
                    // Reported at the part.
                    self.states[step.place] = State::Failed;
                    path.pop();
                }
            }
        }
    }

    fn enter(&mut self, place: usize) -> Step {
        self.states[place] = State::OnPath;
        Step { place, parts: Vec::with_capacity(self.rows[place].premix.len()) }
    }

    fn finish(&mut self, step: Step) {
        let row = &self.rows[step.place];
        let material = row.material.clone();
        let built = if row.premix.is_empty() { Ok(material) } else { material.with_premix(step.parts) };
        match built {
            Ok(material) => self.states[step.place] = State::Done(Arc::new(material)),
            Err(error) => error.into_faults().into_iter().for_each(|fault| self.fail(step.place, fault)),
        }
    }

    fn unknown(&mut self, place: usize, part: &str) {
        if self.named.contains(part) {
            self.states[place] = State::Failed;
            return;
        }
        let known = self.index.keys().copied().take(if self.reported < MOST_NEAREST { usize::MAX } else { 0 });
        self.reported += 1;
        self.fail(place, unknown_material("raw material", part, known));
    }

    fn fail(&mut self, place: usize, fault: Fault) {
        self.states[place] = State::Failed;
        let row = &self.rows[place];
        (self.report)(row.mark, fault.at(format!("material {:?}, premix", row.material.id())));
    }
}
